"""Flash points of watery spirits, beside the records of published values; azeotropes by distilling."""

import pytest
from validation_records.blends import NFPA

from burnsim.studies.fuels.distil import boil_away
from burnsim.substances.blend import Blend, blend

KELVIN = 273.15


def by_mass(name: str, percent: float) -> Blend:
    return blend({name: percent / 100.0, "water": 1.0 - percent / 100.0}, "mass")


def test_ideal_mixing_would_fail() -> None:
    """The activity coefficients matter: by Raoult's law alone 20 % of ethanol would flash some 20 K warmer."""
    from burnsim.closures.flammability import NEVER, flash_temperature
    from burnsim.substances.blend import fuel_record
    from burnsim.substances.equilibrium import vapour_pressure

    fuel = by_mass("ethanol", 20)
    curve = fuel_record(fuel).ln_vapour_pressure[0]
    limit = vapour_pressure(curve, KELVIN + 13.0) / 101325.0
    ideal = flash_temperature(
        lambda T: (fuel.mole_fractions[0] * vapour_pressure(curve, T), 0.0), (limit, NEVER), 101325.0
    )
    assert ideal is not None
    assert ideal - KELVIN > NFPA[20] + 15.0


@pytest.mark.parametrize(
    ("name", "percent", "celsius", "accept"),
    # Evans (1916), as quoted by handbooks; CRC and Lange's Handbook (from memory, unverified)
    [("ethanol", 95.6, 78.17, 0.3), ("2-propanol", 87.8, 80.4, 0.6)],
)
def test_a_still_keeps_the_azeotrope(name: str, percent: float, celsius: float, accept: float) -> None:
    """The published azeotrope boils where it should, and nine tenths of it boil away before its strength moves by much.

    What is left drifts away from an azeotrope that boils lowest: a published strength that is off by its own margin may
    be off by five times as much at the end.
    """
    course = boil_away(by_mass(name, percent), last=0.9)
    assert course[0].temperature - KELVIN == pytest.approx(celsius, abs=0.3)
    masses = [46.069 if name == "ethanol" else 60.096, 18.015]
    last = course[-1].liquid
    assert 100.0 * last[0] * masses[0] / (last[0] * masses[0] + last[1] * masses[1]) == pytest.approx(
        percent, abs=5 * accept
    )
