"""Surface tension: limits and balances of force."""

import math

import pytest

from burnsim.closures.capillarity import capillary_rise, darcy_supply, gap_rise, hold_off_pressure, wick_permeability
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
