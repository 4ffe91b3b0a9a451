"""Sweeps with the real engine: the same as burns one by one; and to files and back."""

import json
import re
import warnings
from pathlib import Path

import numpy as np
import pandas as pd
import pytest
import xarray as xr
from burners import PALM
from hypothesis import given
from hypothesis import strategies as st

from burnsim import Charge, InputError, Pot, Setup, burn, sweep, vary
from burnsim.solve.run import DEFAULT_RTOL
from burnsim.studies.sweep.files import load_sweep, save_sweep, slabs
from burnsim.studies.sweep.ranking import has_verdict
from burnsim.units import plain

COUNT, DIAMETER, FUEL, WATER = "burner.jets.count", "burner.jets.diameter", "charge.fuel", "pot.water_temperature"
VALUES = {COUNT: [20, 200], DIAMETER: ["0.9 mm", 1e-3], FUEL: ["methanol", "ethanol 95"]}


POT = Pot("14 cm", "8 cm", "0.2 l", rest="bumps", gap="1.5 mm")
BASE = Setup(PALM, Charge("methanol", "12 ml", "3 ml"), POT, name="test burner, 1½ cups")


@pytest.fixture(scope="module")
def found() -> xr.Dataset:
    return sweep(BASE, VALUES)


def assert_same(one: xr.Dataset, other: xr.Dataset) -> None:
    """Values, missing ones, coordinates, their order, attributes and types of all."""
    xr.testing.assert_identical(one, other)
    assert list(one.data_vars) == list(other.data_vars)
    assert list(one.coords) == list(other.coords)
    assert {name: one[name].dtype for name in one.variables} == {name: other[name].dtype for name in other.variables}
    assert list(one.sizes.items()) == list(other.sizes.items())


def test_rows_are_those_burns(found: xr.Dataset) -> None:
    assert found.boil.dims == (COUNT, DIAMETER, FUEL)
    for diameter, fuel in ((0.9e-3, "methanol"), (1e-3, "ethanol 95")):
        one = burn(vary(BASE, {COUNT: 20, DIAMETER: diameter, FUEL: fuel}))
        row = found.sel({COUNT: 20, DIAMETER: diameter, FUEL: fuel})
        assert row.status.item() == "solved"
        assert row.verdicts.item() == "; ".join(verdict.code for verdict in one.verdicts)
        assert row.ended.item() == one.ended
        for name, mark in one.milestones._asdict().items():
            assert row[f"{name}_reason"].item() == mark.reason
            assert (mark.time is None) == np.isnan(row[name].item()) == bool(mark.reason)
            if mark.time is not None:
                assert row[name].item() == pytest.approx(mark.time, abs=0.1)
        assert row.water_max.item() == pytest.approx(one.water_max, abs=0.1)
        assert row.fuel_charged.item() == pytest.approx(one.mass.charged)
        assert row.boil_margin.item() == pytest.approx(one.water_max - one.parameters.pot.boiling_point, abs=0.1)
        assert row.spill_margin.item() == pytest.approx(one.parameters.jets.lower_edge - one.froth_max, abs=1e-4)
        assert row.pressure_margin.item() == pytest.approx(
            2000.0 - max(one.gallery_pressure_max, one.well_pressure_max), abs=1.0
        )


def test_an_impossible_design_is_a_row_with_its_reason(found: xr.Dataset) -> None:
    row = found.sel({COUNT: 200, DIAMETER: 1e-3, FUEL: "methanol"})
    with pytest.raises(InputError) as refused:
        vary(BASE, {COUNT: 200, DIAMETER: 1e-3})
    assert row.status.item() == "impossible"
    assert row.reason.item() == row.boil_reason.item() == plain(str(refused.value))
    assert np.isnan(row.boil.item())
    assert np.isnan(row.mass_residual.item())
    assert not has_verdict(found, "no boil").sel({COUNT: 200, DIAMETER: 1e-3}).any()


def test_verdicts_can_be_asked_for() -> None:
    one = sweep(BASE, {"charge.volume": ["2 ml"]})
    codes = one.verdicts.item().split("; ")
    assert "no boil" in codes
    assert has_verdict(one, "no boil").all()
    with pytest.raises(InputError, match="did you mean 'no boil'"):
        has_verdict(one, "no boill")
    assert one.boil_margin.item() < 0.0


def test_coordinates_are_si_and_say_so(found: xr.Dataset) -> None:
    assert found[DIAMETER].values.tolist() == [0.9e-3, 1e-3]
    assert found[DIAMETER].attrs == {"units": "m", "long_name": "diameter of a jet"}
    assert found[COUNT].dtype == np.int64
    assert found[FUEL].values.tolist() == ["methanol", "ethanol 95"]
    for name, variable in found.data_vars.items():
        assert variable.attrs["long_name"], name
        assert ("units" in variable.attrs) == (variable.dtype != object), name


def test_attributes_hold_what_it_takes_to_do_it_again(found: xr.Dataset) -> None:
    assert found.attrs["rtol"] == DEFAULT_RTOL
    assert found.attrs["source"].startswith("burnsim ")
    again = Setup.from_dict(json.loads(found.attrs["base"]))
    assert again == BASE


@pytest.mark.parametrize("suffix", [".nc", ".csv"])
def test_files_read_back_identical(found: xr.Dataset, tmp_path: Path, suffix: str) -> None:
    path = tmp_path / f"sweep{suffix}"
    save_sweep(found, path)
    assert [file.name for file in tmp_path.iterdir()] == [path.name]
    assert_same(load_sweep(path), found)


@pytest.mark.filterwarnings("ignore:none of the 4 designs can be built")
@pytest.mark.parametrize("suffix", [".nc", ".csv"])
def test_columns_and_gaps_of_every_kind_read_back(tmp_path: Path, suffix: str) -> None:
    values = {WATER: [None, "20 degC"], "pot.lid": [True, False], COUNT: [500], FUEL: ["ethanol"]}
    dataset = sweep(BASE, values, mode="grid")
    dataset["cheap"] = (dataset.fuel_charged.dims, np.array([True, False, True, True]).reshape(2, 2, 1, 1))
    dataset["rank"] = (dataset.fuel_charged.dims, np.array([3, -1, 0, 2**40]).reshape(2, 2, 1, 1), {"units": "1"})
    dataset["note"] = (dataset.fuel_charged.dims, np.array(['a "b", #', "", "½\n", "x"], object).reshape(2, 2, 1, 1))
    dataset.attrs["answer"] = 42
    path = tmp_path / f"sweep{suffix}"
    save_sweep(dataset, path)
    assert_same(load_sweep(path), dataset)


@pytest.mark.filterwarnings("ignore:none of the 20 designs can be built")
@pytest.mark.parametrize("suffix", [".nc", ".csv"])
def test_samples_read_back(tmp_path: Path, suffix: str) -> None:
    values = {COUNT: (401, 500), DIAMETER: ("0.5 mm", "1.2 mm"), FUEL: ["methanol", "ethanol"]}  # none can be built
    path = tmp_path / f"sweep{suffix}"
    stored = sweep(BASE, values, mode="sobol", samples=20, seed=7, out=path, workers=1)
    assert_same(stored.load(), sweep(BASE, values, mode="sobol", samples=20, seed=7, workers=1))
    assert stored.sizes == {"design": 20}
    assert stored[DIAMETER].dims == ("design",)
    assert stored.attrs["seed"] == 7
    assert (stored.status == "impossible").all()


def test_a_table_for_any_program(found: xr.Dataset, tmp_path: Path) -> None:
    path = tmp_path / "sweep.csv"
    save_sweep(found, path)
    table = pd.read_csv(path, comment="#")
    np.testing.assert_allclose(table["boil"], found.boil.values.ravel(), rtol=4e-16)  # older pandas miss the last bit
    np.testing.assert_array_equal(table[FUEL], ["methanol", "ethanol 95"] * 4)


def test_netcdf_opens_without_us(found: xr.Dataset, tmp_path: Path) -> None:
    path = tmp_path / "sweep.nc"
    save_sweep(found, path)
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        with xr.open_dataset(path, engine="h5netcdf") as opened:
            assert_same(opened.load(), found)


def test_what_is_no_sweep_is_refused(found: xr.Dataset, tmp_path: Path) -> None:
    with pytest.raises(InputError, match=r"neither \.nc"):
        save_sweep(found, tmp_path / "sweep.xlsx")
    with pytest.raises(InputError, match="has no folder"):
        save_sweep(found, tmp_path / "no" / "sweep.nc")
    with pytest.raises(InputError, match="does not exist"):
        load_sweep(tmp_path / "sweep.nc")
    with pytest.raises(InputError, match="is not a column of a sweep"):
        save_sweep(found.assign(mean=found.boil.mean(FUEL)), tmp_path / "sweep.nc")
    (tmp_path / "sweep.csv").write_text("a,b\n1,2\n")
    with pytest.raises(InputError, match="is not a sweep"):
        load_sweep(tmp_path / "sweep.csv")
    save_sweep(found, tmp_path / "cut.csv")
    whole = (tmp_path / "cut.csv").read_text().splitlines(keepends=True)
    (tmp_path / "cut.csv").write_text("".join(whole[:-1]))
    with pytest.raises(InputError, match="has 7 rows instead of 8"):
        load_sweep(tmp_path / "cut.csv")
    told = re.sub(r'"shape": \[[^\]]*\]', f'"shape": {[10**6] * len(found.sizes)}', "".join(whole))
    (tmp_path / "long.csv").write_text(told)
    with pytest.raises(InputError, match="is too short for 1000"):  # before any memory is taken for them
        load_sweep(tmp_path / "long.csv")
    save_sweep(found, tmp_path / "whole.csv")
    texts = load_sweep(tmp_path / "whole.csv")["status"].values.ravel()
    assert len({id(text) for text in texts}) == len(set(texts))  # a text that comes again is kept once
    (tmp_path / "cut.nc").write_bytes(b"no such thing")
    with pytest.raises(InputError, match="is not a sweep"):
        load_sweep(tmp_path / "cut.nc")


@given(shape=st.lists(st.integers(1, 5), min_size=1, max_size=4), data=st.data())
def test_slabs_cover_a_stretch_of_rows_once_and_in_order(shape: list[int], data: st.DataObject) -> None:
    size = int(np.prod(shape))
    start = data.draw(st.integers(0, size))
    stop = data.draw(st.integers(start, size))
    grid = np.full(shape, -1)
    last = 0
    for box, first, end in slabs(tuple(shape), start, stop):
        assert first == last < end
        assert (grid[box] == -1).all()
        grid[box] = np.arange(start + first, start + end).reshape(grid[box].shape)
        last = end
    assert last == stop - start
    wanted = np.full(size, -1)
    wanted[start:stop] = np.arange(start, stop)
    np.testing.assert_array_equal(grid.ravel(), wanted)
