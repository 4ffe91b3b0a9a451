"""Flash points of watery spirits, beside the records of published values; azeotropes by distilling."""

import pytest
from validation_records.blends import NFPA

from burnsim.studies.fuels.distillation import boil_away
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


@pytest.mark.parametrize("percent", [5, 10, 20, 50, 80])
def test_steam_and_warmth_hardly_move_the_limit(percent: int) -> None:
    """White's rule: at the lower limit all flames have one temperature (Zlochower 2012, J. Loss Prev. Process Ind. 25).

    Steam over a watery spirit cools them, the warmth of the mixture heats them. Taken together, by Cantera's
    equilibrium, the flash point stays within 0.5 K of that of a fixed limit.
    """
    import cantera

    from burnsim.studies.fuels.spirit import closed_cup
    from burnsim.substances.blend import fuel_record
    from burnsim.substances.equilibrium import partial_pressures

    names = ("C2H5OH", "H2O", "N2", "O2", "Ar", "CO2", "CO", "OH", "O", "H", "H2", "NO")
    gas = cantera.Solution(
        thermo="ideal-gas", species=[s for s in cantera.Species.list_from_file("nasa_gas.yaml") if s.name in names]
    )

    def flame(fuel: Blend, T: float) -> float:
        parts = [p / 101325.0 for p in partial_pressures(fuel.mole_fractions, T, fuel_record(fuel))]
        air = 1.0 - sum(parts)
        steam = parts[1] if len(parts) > 1 else 0.0
        gas.TPX = T, 101325.0, {"C2H5OH": parts[0], "H2O": steam, "N2": 0.7906 * air, "O2": 0.2094 * air}
        gas.equilibrate("HP")
        return float(gas.T)

    limit = flame(blend("ethanol"), KELVIN + 13.0)
    watery = by_mass("ethanol", percent)
    flash = closed_cup(watery)
    assert flash is not None
    assert flame(watery, flash - 0.5) < limit < flame(watery, flash + 0.5)


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
