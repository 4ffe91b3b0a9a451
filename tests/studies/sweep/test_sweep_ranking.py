"""What a sweep says of its best designs, which way is better, what part of it is asked for, and a row as a design."""

import ast
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import xarray as xr
from matplotlib.figure import Figure

import burnsim
from burnsim import Charge, InputError, Notches, Pot, Setup, plots, sweeps, vary
from burnsim.report.designs.sweep import describe
from burnsim.solve.results import verdicts
from burnsim.studies.sweep.columns import COLUMNS
from burnsim.studies.sweep.ranking import HIGH, LOW, UNFIT
from burnsim.units import plain
from tests.burners import PALM
from tests.substances.test_own_materials import SCRATCH

COUNT, DIAMETER, VOLUME = "burner.jets.count", "burner.jets.diameter", "charge.volume"
WEEKEND = burnsim.load(Path(__file__).parents[3] / "examples" / "weekend_double_wall.toml")


@pytest.fixture(scope="module")
def found() -> xr.Dataset:
    """A real sweep, small: three counts and two widths of jets, water that soon boils."""
    quick = burnsim.vary(WEEKEND, {"pot.water": "0.1 l", "charge.volume": "12 ml"})
    return burnsim.sweep(quick, {COUNT: [20, 26, 32], DIAMETER: ["0.8 mm", "1 mm"]}, workers=1)


def made_up(found: xr.Dataset) -> xr.Dataset:
    """The same with results to compare: they rise along the rows, and all designs work."""
    found = found.copy(deep=True)
    for name in ("boil", "efficiency", "power_median", "boil_fuel"):
        found[name].values[...] = np.arange(6.0).reshape(3, 2) + 1.0
    found["status"].values[...] = "solved"
    found["verdicts"].values[...] = ""
    return found


def test_every_way_that_is_known_is_of_a_column() -> None:
    names = {column.name for column in COLUMNS if not column.is_text}
    assert {*HIGH, *LOW} <= names
    assert not set(HIGH) & set(LOW)


def test_best_is_least_fuel_and_most_efficiency(found: xr.Dataset) -> None:
    made = made_up(found)
    assert sweeps.rank(made, "boil_fuel", 1)[0].value == 1.0
    assert sweeps.rank(made, "efficiency", 1)[0].value == 6.0
    assert [row.value for row in sweeps.rank(made, "boil", 2, highest=True)] == [6.0, 5.0]
    with pytest.raises(InputError, match="highest=True"):
        sweeps.rank(made, "power_median")
    assert sweeps.rank(made, "power_median", 1, highest=True)[0].value == 6.0


def test_a_best_design_at_the_edge_of_what_was_tried_says_so(found: xr.Dataset) -> None:
    made = made_up(found)
    assert sweeps.rank(made, "boil", 1)[0].edge == (COUNT, DIAMETER)
    made["boil"].values[1, 1] = 0.5
    assert sweeps.rank(made, "boil", 1)[0].edge == (DIAMETER,)
    one_width = sweeps.select(made, {DIAMETER: "1 mm"})
    assert sweeps.rank(one_width, "boil", 1)[0].edge == ()


def test_the_mask_keeps_what_works(found: xr.Dataset) -> None:
    made = made_up(found)
    made["verdicts"].values[0, 0] = "spills; fire at the foot"
    made["status"].values[2, 1] = "failed"
    mask = sweeps.ok(made)
    assert mask.dims == made.boil.dims
    assert (~mask).values.nonzero() == (pytest.approx([0, 2]), pytest.approx([0, 1]))
    assert float(made.boil.where(mask).min()) == 2.0


def test_slices_answer_as_the_whole_does(found: xr.Dataset) -> None:
    made = made_up(found)
    for part in (made.isel({COUNT: 0}), made.isel({COUNT: [0]}), made.isel({COUNT: 0, DIAMETER: 0})):
        [best, *_] = sweeps.rank(part, "boil")
        assert (best.fields[COUNT], best.fields[DIAMETER], best.value) == (20, pytest.approx(0.8e-3), 1.0)
        assert (best.setup.burner.jets.count, best.setup.burner.jets.diameter) == (20, pytest.approx(0.8e-3))
        assert sweeps.ok(part).all()
        assert not sweeps.has_verdict(part, "spills").any()


def test_parts_are_picked_as_people_write(found: xr.Dataset) -> None:
    one = sweeps.select(found, {DIAMETER: "0.8 mm", COUNT: 26})
    assert one.boil.item() == found.boil.values[1, 0]
    assert sweeps.select(found, {DIAMETER: 0.8e-3}).boil.dims == (COUNT,)
    assert sweeps.select(found, {COUNT: [20, 32]}).boil.shape == (2, 2)
    with pytest.raises(InputError, match=r"0.9 mm.*allowed: 0.8 mm, 1 mm"):
        sweeps.select(found, {DIAMETER: "0.9 mm"})
    with pytest.raises(InputError, match=r"was not varied.*did you mean 'burner.jets.diameter'"):
        sweeps.select(found, {"burner.jets.diametre": "0.8 mm"})
    with pytest.raises(InputError, match="whole number"):
        sweeps.select(found, {COUNT: "twenty"})


def test_rows_of_a_list_are_picked_too(found: xr.Dataset) -> None:
    rows = found.stack(design=(COUNT, DIAMETER)).reset_index("design")
    assert sweeps.select(rows, {DIAMETER: "1 mm"}).sizes == {"design": 3}
    assert sweeps.select(rows, {DIAMETER: "1 mm", COUNT: 26}).boil.item() == found.boil.values[1, 1]


def test_fuel_is_told_by_mass_and_as_poured(found: xr.Dataset) -> None:
    density = burnsim.fuels.describe_spirit(WEEKEND.charge.fuel).density
    assert (found.boil_volume * density).values == pytest.approx(found.boil_fuel.values, rel=1e-3)
    assert found.boil_volume.attrs["units"] == "m3"


def test_a_sweep_of_what_cannot_be_built_says_why() -> None:
    with pytest.warns(UserWarning, match=r"none of the 2 designs.*0.8 is a bare number and so in SI, 800 mm"):
        found = burnsim.sweep(WEEKEND, {DIAMETER: [0.8, 0.9]}, workers=1)
    assert (found.status == "impossible").all()
    assert sweeps.rank(found, "boil") == []


def test_the_list_of_codes_is_that_of_the_verdicts() -> None:
    """Read from the text: every code that the file gives a verdict, and no other."""
    tree = ast.parse(Path(verdicts.__file__).read_text(encoding="utf-8"))
    given = {
        node.args[0].value
        for node in ast.walk(tree)
        if isinstance(node, ast.Call)
        and getattr(node.func, "id", "") in ("Verdict", "_told")
        and isinstance(node.args[0], ast.Constant)
    }
    assert given == set(verdicts.CODES)
    assert set(UNFIT) <= given


def test_ten_to_the_ninth_designs_are_refused_before_any_is_made() -> None:
    with pytest.raises(InputError) as error:
        burnsim.sweep(
            WEEKEND,
            {COUNT: range(1, 1001), VOLUME: np.linspace(1e-6, 1e-5, 1000), DIAMETER: np.linspace(5e-4, 1e-3, 1000)},
        )
    assert "hours of one core" in plain(str(error.value))
    assert "GB" in plain(str(error.value))


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
    base = replace(BASE, pot=Pot(0.14, 0.09, 0.3e-3, rest="bumps", gap=1.5e-3))
    found = burnsim.sweep(base, {"charge.volume": (5e-6, 9e-6)}, mode="sobol", samples=4, workers=1)
    best = sweeps.rank(found, "duration", highest=False, count=2)
    assert best[0].value == float(found["duration"].min())
    best[0].setup.save(tmp_path / "best.toml")
    assert burnsim.load(tmp_path / "best.toml") == best[0].setup
    again = burnsim.burn(vary(best[0].setup, {"name": "best"}))
    assert again.duration == pytest.approx(best[0].value, rel=0.02)


def test_a_design_among_the_best_tells_what_it_is_warned_of(found: xr.Dataset) -> None:
    made = made_up(found)
    assert "warned of" not in describe(made)
    made["verdicts"].values[0, 1] = "flare; flames past the pot"
    lines = [line for line in describe(made).splitlines() if line.endswith("flare, flames past the pot")]
    assert len(lines) == 2  # the second to boil, and the second by fuel
    assert "warned of" not in plots.sweep(made, "boil", Figure().subplots()).get_title()
    made["verdicts"].values[0, 0] = "smothered"
    assert "; warned of: smothered" in " ".join(plots.sweep(made, "boil", Figure().subplots()).get_title().split())


BRONZE = """\
kind = "metal"
name = "bronze"
density = { value = 8800, unit = "kg/m3", source = "made up", status = "memory" }
conductivity = { value = 54, unit = "W/m/K", source = "made up", status = "memory" }
heat_capacity = { value = 420, unit = "J/kg/K", source = "made up", status = "memory" }
emissivity = { value = 0.25, source = "made up", status = "memory" }
melting_point = { value = 880, unit = "degC", source = "made up", status = "memory" }
"""


@pytest.mark.parametrize("path", ["burner.metal", "pot.metal"])
def test_an_edited_material_is_another_sweep(path: str, tmp_path: Path) -> None:
    file, out = tmp_path / "bronze.toml", tmp_path / "sweep.nc"
    file.write_text(BRONZE)
    quick = {"pot.water": "20 ml", "charge.volume": "2 ml", "charge.primer": "1 ml"}

    def sweep() -> xr.Dataset:
        base = burnsim.vary(WEEKEND, {**quick, path: str(file)})
        return burnsim.sweep(base, {COUNT: [20, 26]}, workers=1, out=out, resume=False)

    with sweep() as first:
        assert sweeps.get_setup(first, 0).burner.jets.count == 20
    file.write_text(BRONZE.replace("54", "154"))
    with sweep() as second:
        assert first.attrs["fingerprint"] != second.attrs["fingerprint"]
    file.unlink()  # the numbers that were burnt are kept
    for found, conductivity in ((first, 54.0), (second, 154.0)):
        setup = sweeps.get_setup(found, 0)
        assert (setup.burner if path == "burner.metal" else setup.pot).metal.conductivity == conductivity


def test_a_fuel_is_kept_as_it_was_burnt(tmp_path: Path) -> None:
    file, out = tmp_path / "scratch.toml", tmp_path / "sweep.nc"
    file.write_text(SCRATCH)
    quick = {"pot.water": "20 ml", "charge.volume": "2 ml", "charge.primer": "1 ml", "charge.fuel": str(file)}
    base = burnsim.vary(WEEKEND, quick)
    prints = []
    for axes in ({COUNT: [20]}, {"charge.fuel": ["ethanol", str(file)]}):
        with burnsim.sweep(base, axes, workers=1, out=out, resume=False) as found:
            prints.append(found.attrs["fingerprint"])
    file.write_text(SCRATCH.replace("value = 46.07,", "value = 46.08,"))
    edited = burnsim.vary(WEEKEND, quick)
    for k, axes in enumerate(({COUNT: [20]}, {"charge.fuel": ["ethanol", str(file)]})):
        other = base if k else edited
        assert burnsim.sweep(other, axes, workers=1).attrs["fingerprint"] != prints[k]
    file.unlink()
    with sweeps.load(out) as found:
        assert sweeps.get_setup(found, 1).charge.fuel == base.charge.fuel
        assert sweeps.get_setup(found, 1).charge.fuel != edited.charge.fuel
