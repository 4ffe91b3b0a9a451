"""Vapour pressures and bubble points against CoolProp, and what trial values beyond the range give."""

import pytest

from burnsim.substances.blend import blend, fuel_record
from burnsim.substances.catalogue import SUBSTANCES
from burnsim.substances.equilibrium import (
    COLDEST,
    HOTTEST,
    activity_coefficients,
    bubble_temperature,
    partial_pressures,
    vapour_pressure,
)

PURE = ["methanol", "ethanol", "water"]


def saturated(key: str, given: str, value: float, name: str) -> float:
    """A property of saturated liquid; the library takes seconds to load, so not every process that collects does it."""
    from CoolProp.CoolProp import PropsSI

    return float(PropsSI(key, given, value, "Q", 0, name))


@pytest.mark.parametrize("name", PURE)
@pytest.mark.parametrize("temperature", [280.0, 310.0, 340.0, 370.0])
def test_vapour_pressure_by_library(name: str, temperature: float) -> None:
    library = saturated("P", "T", temperature, name)
    assert vapour_pressure(SUBSTANCES[name].ln_vapour_pressure, temperature) == pytest.approx(library, rel=0.02)


@pytest.mark.parametrize("name", ["methanol", "ethanol"])
@pytest.mark.parametrize("pressure", [5e4, 7e4, 101325.0])
def test_bubble_temperature_by_library(name: str, pressure: float) -> None:
    library = saturated("T", "P", pressure, name)
    assert bubble_temperature((1.0,), pressure, fuel_record(blend(name))) == pytest.approx(library, abs=0.5)


@pytest.mark.parametrize("name", ["methanol", "ethanol 95", "2-propanol 70"])
def test_trial_temperatures_are_held_inside_their_bounds(name: str) -> None:
    record = fuel_record(blend(name))
    x = blend(name).mole_fractions
    for beyond, bound in ((20.0, COLDEST), (-5.0, COLDEST), (2000.0, HOTTEST)):
        assert vapour_pressure(record.ln_vapour_pressure[0], beyond) == vapour_pressure(
            record.ln_vapour_pressure[0], bound
        )
        assert partial_pressures(x, beyond, record) == partial_pressures(x, bound, record)


@pytest.mark.parametrize("name", ["methanol", "ethanol 95"])
def test_pressures_that_no_temperature_gives_end_at_the_bounds(name: str) -> None:
    """The search turns to halving where its tangent leaves the bracket, and ends."""
    record, x = fuel_record(blend(name)), blend(name).mole_fractions
    assert bubble_temperature(x, 1e-6, record) == pytest.approx(COLDEST, abs=0.01)
    assert bubble_temperature(x, 1e12, record) == pytest.approx(HOTTEST, abs=0.01)


@pytest.mark.parametrize("name", ["ethanol 95", "methylated spirit", "2-propanol 70"])
def test_pure_ends_of_a_blend_are_ideal(name: str) -> None:
    """ln gamma of the only component present is 0, whatever the others would do in it."""
    spirit = blend(name)
    record = fuel_record(spirit)
    n = len(spirit.components)
    for k in range(n):
        x = tuple(1.0 if i == k else 0.0 for i in range(n))
        gamma = activity_coefficients(x, 330.0, record)
        assert gamma[k] == pytest.approx(1.0, rel=1e-9)
        assert all(value > 0.0 for value in gamma)
