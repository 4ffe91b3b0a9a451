"""Surface tension: limits and balances of force."""

import math

import pytest
from scipy.integrate import quad
from scipy.optimize import brentq

from burnsim.closures.capillarity import (
    capillary_rise,
    darcy_supply,
    evaporating_contact_angle,
    gap_rise,
    hold_off_pressure,
    meniscus_height,
    wick_permeability,
)
from burnsim.constants import GRAVITY

SIGMA, RHO, MU = 0.0224, 789.4, 1.2e-3


def test_rise_balances_weight_and_pull_along_the_rim():
    radius = 40e-6
    weight = RHO * GRAVITY * capillary_rise(SIGMA, 0.9, RHO, radius) * math.pi * radius**2
    assert weight == pytest.approx(SIGMA * 0.9 * 2.0 * math.pi * radius)


def test_gap_lifts_as_high_as_a_tube_of_twice_the_bore():
    assert gap_rise(SIGMA, 1.0, RHO, 1e-3) == pytest.approx(capillary_rise(SIGMA, 1.0, RHO, 1e-3))


def test_liquid_that_does_not_wet_is_pushed_down():
    assert capillary_rise(SIGMA, -1.0, RHO, 1e-4) < 0.0


def test_hold_off_balances_pressure_and_surface():
    d = 0.8e-3
    assert hold_off_pressure(SIGMA, d) * math.pi / 4.0 * d**2 == pytest.approx(SIGMA * math.pi * d)


def test_wick_of_one_pore_is_poiseuille():
    """Flow through one tube by Poiseuille's law, pi r^4 dp/(8 mu L), against the bundle with porosity 1."""
    r, length = 60e-6, 1e-3
    drive = 2.0 * SIGMA / r - RHO * GRAVITY * length
    poiseuille = math.pi * r**4 * drive / (8.0 * MU * length) * RHO
    supply = darcy_supply(wick_permeability(1.0, r), SIGMA, r, MU, length, RHO, 1.0)
    assert supply * math.pi * r**2 == pytest.approx(poiseuille)


def test_wick_stops_at_the_capillary_rise():
    r = 60e-6
    top = capillary_rise(SIGMA, 1.0, RHO, r)
    k = wick_permeability(0.8, r)
    assert darcy_supply(k, SIGMA, r, MU, 1.01 * top, RHO, 1.0) == 0.0
    assert darcy_supply(k, SIGMA, r, MU, 0.99 * top, RHO, 1.0) > 0.0


def test_wick_fades_as_it_dries():
    arguments = (3.6e-10, SIGMA, 60e-6, MU, 0.012, RHO)
    assert darcy_supply(*arguments, 0.5) == pytest.approx(darcy_supply(*arguments, 1.0) / 8.0)
    assert darcy_supply(*arguments, -0.1) == 0.0
    assert darcy_supply(*arguments, 2.0) == darcy_supply(*arguments, 1.0)


@pytest.mark.parametrize("angle", [0.0, 0.5])
@pytest.mark.parametrize("half", [1e-3, 2.25e-3, 5e-3, 20e-3])
def test_liquid_between_two_walls_has_the_shape_of_young_and_laplace(angle, half):
    """The whole equation, by its first integral: cos of the slope's angle falls with the square of the height.

    With heights above the level outside over the capillary length, cos(phi) = 1 - (y^2 - y0^2)/2, y0 in the middle.
    """
    length = math.sqrt(SIGMA / (RHO * GRAVITY))

    def edge(middle):
        return math.sqrt(middle**2 + 2.0 * (1.0 - math.sin(angle)))

    def width(middle):
        """Integral of dx/dy = cot(phi), with y = y0 + s^2, which takes the pole out of it."""

        def along(s):
            y = middle + s * s
            fall = y * y - middle * middle
            return 2.0 * (1.0 - 0.5 * fall) / math.sqrt((y + middle) * (1.0 - 0.25 * fall))

        return quad(along, 0.0, math.sqrt(edge(middle) - middle), limit=200)[0]

    middle = brentq(lambda y: width(y) * length - half, 1e-12, 20.0, xtol=1e-14)
    mean = math.cos(angle) * length / half  # what the walls lift weighs as much as they pull
    exact = length * (edge(middle) - mean)
    assert meniscus_height(SIGMA, angle, RHO, half) == pytest.approx(exact, rel=0.08)


def test_an_edge_that_does_not_evaporate_wets_and_a_hotter_wall_pushes_it_back():
    spirit = (337.7, 1.1e6, 0.032, 101325.0, 749.0, 3.3e-4, 0.0189)
    assert evaporating_contact_angle(0.0, *spirit) == 0.0
    assert evaporating_contact_angle(16.0, *spirit) == pytest.approx(2.0 * evaporating_contact_angle(1.0, *spirit))
