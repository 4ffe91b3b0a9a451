"""The ledgers, and the lines of the note that a burner has."""

from functools import cache
from pathlib import Path

import pytest
from burners import burnt

import burnsim
from burnsim.model.description.vary import vary
from burnsim.solve.results.result import Burn
from burnsim.substances.blend import blend
from burnsim.units import plain

EXAMPLES = Path(__file__).parents[2] / "examples"
DOUBLE = burnsim.load(EXAMPLES / "weekend_double_wall.toml")


@cache
def run(fuel: str, volume: str = "37 ml") -> Burn:
    return burnt(vary(DOUBLE, {"charge.fuel": fuel, "charge.volume": volume}))


@pytest.mark.parametrize("fuel", ["methanol", "ethanol 95", "2-propanol 70"])
def test_no_row_of_the_fuel_is_negative_and_all_close(fuel: str) -> None:
    ledger = run(fuel).energy
    assert abs(ledger.residual) < 1e-9
    for name in ("charged", "fuel_water", "left", "spilled", "unburnt", "flue"):
        assert getattr(ledger, name) >= 0.0, name


def test_spill_counts_water_for_nothing_too() -> None:
    result = run("2-propanol 70", "125 ml")
    assert result.mass.spilled > 1e-3
    assert result.energy.spilled > 0.0
    assert abs(result.energy.residual) < 1e-9


def test_charged_is_what_the_alcohol_brings() -> None:
    """0.95 x 40 ml x 789.4 kg/m3 x 26.82 MJ/kg (CoolProp, formation enthalpies in `chemicals`).

    The volumes are those before mixing; the mixture is measured, and it has shrunk by up to 1.5 %.
    """
    expected = 0.95 * 40e-6 * 789.4 * 26.82e6
    assert expected <= run("ethanol 95").energy.charged <= 1.015 * expected


def test_water_of_the_spirit_costs_its_latent_heat() -> None:
    """44.0 kJ/mol at 25 degC (steam tables)."""
    result = run("ethanol 95")
    first, _ = result.state(0.0)
    last, _ = result.state(float(result.time[-1]))
    k = blend("ethanol 95").components.index("water")

    def water(state: object) -> float:
        share = result.parameters.wick.fractions[k]
        return float(state.gallery[k] + state.well[k] + state.wick * share)  # type: ignore[attr-defined]

    assert result.energy.fuel_water == pytest.approx((water(first) - water(last)) * 44.0e3, rel=0.01)


def test_the_note_has_no_lines_for_what_a_burner_has_not() -> None:
    cup = plain(burnt(burnsim.load(EXAMPLES / "garden_open_cup.toml")).summary())
    assert "primer out" not in cup
    assert "bloom" not in cup
    well = plain(burnt(burnsim.load(EXAMPLES / "porch_open_well.toml")).summary())
    assert "primer out" not in well
    assert "jets light (bloom)" in well
    double = plain(run("methanol").summary())
    assert "primer out" in double
    assert "jets light (bloom)" in double
