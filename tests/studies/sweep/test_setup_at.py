"""From a row of a sweep back to its design: burnt, varied, saved."""

from pathlib import Path

import pytest

import burnsim
from burnsim import Charge, InputError, Notches, Setup, sweeps, vary
from tests.burners import PALM

BASE = Setup(PALM, Charge("methanol", "2 ml", "1 ml"), name="palm")
RECIPE = {"name": "own", "basis": "mass", "ethanol": 0.9, "water": 0.1}
VALUES = {
    "burner.jets.count": [20, 24],
    "charge.fuel": ["methanol", RECIPE],
    "burner.relief": [None, Notches(3, "3 mm", "1 mm")],
}


@pytest.mark.parametrize("ending", [None, "nc", "csv"])
def test_every_row_gives_its_design_back(ending: str | None, tmp_path: Path) -> None:
    found = burnsim.sweep(BASE, VALUES, workers=1, out=None if ending is None else tmp_path / f"it.{ending}")
    if ending is not None:
        found = sweeps.load(tmp_path / f"it.{ending}")
    designs = [sweeps.get_setup(found, k) for k in range(8)]
    assert designs[0] == vary(BASE, {path: values[0] for path, values in VALUES.items()})
    assert designs[-1] == vary(BASE, {path: values[-1] for path, values in VALUES.items()})
    assert len({(one.burner.jets, one.charge.fuel, one.burner.relief) for one in designs}) == 8
    chosen = found.isel({"burner.jets.count": 1, "charge.fuel": 1, "burner.relief": 0})
    assert sweeps.get_setup(found, chosen) == designs[6]
    with pytest.raises(InputError, match="is left open"):
        sweeps.get_setup(found, found.isel({"burner.jets.count": 1}))
    with pytest.raises(InputError, match="allowed from 0 to 7"):
        sweeps.get_setup(found, 8)


def test_the_best_can_be_varied_and_saved(tmp_path: Path) -> None:
    found = burnsim.sweep(BASE, {"charge.volume": (1e-6, 3e-6)}, mode="sobol", samples=4, workers=1)
    best = sweeps.rank(found, "duration", highest=False, count=2)
    assert best[0].value == float(found["duration"].min())
    best[0].setup.save(tmp_path / "best.toml")
    assert burnsim.load(tmp_path / "best.toml") == best[0].setup
    again = burnsim.burn(vary(best[0].setup, {"name": "best"}))
    assert again.duration == pytest.approx(best[0].value, rel=0.02)
