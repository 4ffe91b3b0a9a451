"""Counterflow of two fluids in one opening."""

from math import sqrt

import pytest
from scipy.integrate import quad

from burnsim.closures.counterflow import GRAVITY, counterflow_speed, exchange_flow, exchange_number
from burnsim.closures.orifice import pressure_drop


def test_without_friction_it_is_bernoulli_over_half_the_opening() -> None:
    """Both streams, each the mean over its half of Cd sqrt(2 g dr z/r), by quadrature."""
    height, density, apart, discharge = 0.4, 900.0, 25.0, 0.65
    half = quad(lambda z: discharge * sqrt(2.0 * GRAVITY * apart * z / density), 0.0, 0.5 * height)[0]
    found = counterflow_speed(apart, height, density, 0.0, height, discharge**-2, 0.0)
    assert found == pytest.approx(2.0 * half / height, rel=1e-9)


def test_it_is_of_the_order_published_for_openings_in_partitions() -> None:
    """Nusselt over Prandtl is C/3 sqrt(Gr) with C of 0.6 to 1: Brown and Solvason 1962, from memory."""
    height, nu, apart, density = 0.2, 1.5e-5, 0.04, 1.2
    grashof = GRAVITY * apart / density * height**3 / nu**2
    one_way = 0.5 * counterflow_speed(apart, height, density, 0.0, height, 0.61**-2, 0.0)
    assert 0.2 <= one_way * height / nu / sqrt(grashof) <= 1.0 / 3.0


def test_friction_holds_it_back_and_rules_in_the_end() -> None:
    """In treacle the losses are in proportion to the speed: so is the flow to the difference."""
    slow, twice = (counterflow_speed(apart, 2e-3, 800.0, 1.0, 2.7e-3, 2.7, 60.0) for apart in (20.0, 40.0))
    free = counterflow_speed(20.0, 2e-3, 800.0, 0.0, 2.7e-3, 2.7, 60.0)
    assert slow < 0.01 * free
    assert twice == pytest.approx(2.0 * slow, rel=1e-3)
    assert pressure_drop(slow, 800.0, 1.0, 2.7e-3, 2.7, 60.0) == pytest.approx(2.0 / 9.0 * GRAVITY * 2e-3 * 20.0)


def test_sign_does_not_matter_and_equals_rest() -> None:
    args = (2e-3, 800.0, 1e-3, 2.7e-3, 2.7, 60.0)
    assert counterflow_speed(-30.0, *args) == counterflow_speed(30.0, *args) > 0.0
    assert counterflow_speed(0.0, *args) == 0.0


@pytest.mark.parametrize(
    ("slenderness", "number"),
    [(0.01, 0.055), (0.25, 0.147 * 0.5), (0.36, 0.147 * 0.6), (6.0, 0.32 * 6.0**-1.5), (10.0, 0.32 * 10.0**-1.5)],
)
def test_the_exchange_number_meets_the_laws_of_its_regimes(slenderness, number):
    """M. Epstein 1988, J. Heat Transfer 110, 885: plate, neck and long duct; all from memory, unverified."""
    assert exchange_number(slenderness) == pytest.approx(number, rel=0.05)


def test_fluids_of_nearly_equal_density_exchange_as_brine_and_water_do():
    """Volume each way, over sqrt(g' D^5), is the number that was measured."""
    diameter, length, heavy, light = 0.05, 0.3, 1.001, 0.999  # so deep that the lip hinders nothing
    volume = exchange_flow(diameter, length, heavy, light, 1.0) / heavy
    reduced = GRAVITY * (heavy - light) / 1.0
    assert volume / (reduced * diameter**5) ** 0.5 == pytest.approx(exchange_number(length / diameter), rel=2e-3)


def test_gas_that_takes_more_room_holds_more_back():
    """Hot gas leaves six times as wide as the air that feeds it; and nothing passes without a difference or a wall."""
    flows = [exchange_flow(0.05, 0.02, 1.2, light, 1.15) / (1.2 - light) ** 0.5 for light in (1.1, 0.6, 0.3, 0.2)]
    assert flows == sorted(flows, reverse=True)
    assert exchange_flow(0.05, 0.02, 1.2, 0.3, 1.3) < exchange_flow(0.05, 0.02, 1.2, 0.3, 1.0)
    assert exchange_flow(0.05, 0.0, 1.2, 0.3, 1.15) == 0.0
    assert exchange_flow(0.05, 0.02, 1.2, 1.2, 1.15) == 0.0
