"""A burn as data: an instant, tables with units, milestones by name, a file and back."""

import json
from dataclasses import fields
from pathlib import Path

import numpy as np
import pytest
from burners import burnt

import burnsim
from burnsim import SERIES, Burn, Charge, InputError, Pot, Setup
from tests.burners import PALM

POT = Pot("14 cm", "9 cm", "100 ml", water_temperature="20 degC", rest="bumps")
SETUP = Setup(PALM, Charge("methylated spirit", "8 ml", "3 ml"), POT, name="palm")


@pytest.fixture(scope="module")
def burn() -> Burn:
    return burnt(SETUP)


def test_milestones_are_attributes(burn: Burn) -> None:
    for name in burn.milestones._fields:
        assert getattr(burn, name) == getattr(burn.milestones, name)
    assert burn.bloom.time is not None


def test_an_instant_has_every_series(burn: Burn) -> None:
    there = burn.at("1 min 0 s")
    assert set(there) == set(SERIES) - {"time"}
    assert there["power"] == burn.at(60.0)["power"] > 0.0
    assert there["water_temperature"] == burn.flows(60.0).pot_temperature
    with pytest.raises(InputError, match="outside the burn"):
        burn.at("5 h")


def test_series_have_units_at_the_top_and_time_is_one(burn: Burn) -> None:
    assert SERIES["power"].unit == "W"
    assert burn.series("time") is burn.time


def test_the_table_has_even_times_and_units(burn: Burn) -> None:
    plain, even, us = burn.to_dataframe(), burn.to_dataframe(every="10 s"), burn.to_dataframe(every=10.0, units="us")
    np.testing.assert_array_equal(plain.index, burn.time)
    np.testing.assert_array_equal(plain["power"], burn.series("power"))
    assert list(even.index[:3]) == [0.0, 10.0, 20.0]
    assert even.index[-1] <= burn.time[-1] < even.index[-1] + 10.0
    assert (even.attrs["units"]["water_temperature"], us.attrs["units"]["water_temperature"]) == ("K", "degF")
    np.testing.assert_allclose(us["water_temperature"], even["water_temperature"] * 1.8 - 459.67)
    assert burn.to_dataframe(every=60.0, units="si").attrs["units"]["gallery_level"] == "mm"
    assert even.loc[20.0, "power"] == burn.at(20.0)["power"]
    for bad in (0.0, -1.0, 1e-9):
        with pytest.raises(InputError, match="makes no table"):
            burn.to_dataframe(every=bad)


def test_the_dataset_has_units_and_the_design(burn: Burn) -> None:
    found = burn.to_xarray(every=10.0)
    assert found["power"].attrs == {"units": "W", "long_name": "heat released by all flames"}
    assert found["time"].attrs["units"] == "s"
    assert found.attrs["bloom_s"] == burn.bloom.time
    assert Setup.from_dict(json.loads(found.attrs["design"])) == SETUP


def test_a_saved_burn_is_the_same_number_for_number(burn: Burn, tmp_path: Path) -> None:
    burn.save(tmp_path / "it.npz")
    again = Burn.load(tmp_path / "it.npz")
    for field in fields(Burn):
        if field.name not in ("course", "time"):
            assert getattr(again, field.name) == getattr(burn, field.name), field.name
    np.testing.assert_array_equal(again.time, burn.time)
    assert again.course.events == burn.course.events
    for time in np.linspace(0.0, burn.time[-1], 37).tolist():
        assert again.flows(time) == burn.flows(time)
    assert again.summary("us") == burn.summary("us")
    assert again.to_dict() == burn.to_dict()


def test_a_burn_of_another_version_is_refused(burn: Burn, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "it.npz"
    monkeypatch.setattr(burnsim, "__version__", "0.0.1")
    burn.save(path)
    monkeypatch.undo()
    with pytest.raises(InputError, match=r"was written by burnsim 0\.0\.1, and this is .*: burn its design again"):
        Burn.load(path)


def test_what_is_no_burn_is_refused(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="cannot be read"):
        Burn.load(tmp_path / "none.npz")
    (tmp_path / "text.npz").write_text("no burn", encoding="utf-8")
    np.savez(tmp_path / "other.npz", head=np.frombuffer(b'{"format": 3}', dtype=np.uint8))
    for name in ("text", "other"):
        with pytest.raises(InputError, match="is not a saved burn"):
            Burn.load(tmp_path / f"{name}.npz")
    evil = {
        "format": "burnsim burn 1",
        "version": burnsim.__version__,
        "burn": {"setup": {"kind": "os:system", "of": {}}},
    }
    np.savez(tmp_path / "evil.npz", head=np.frombuffer(json.dumps(evil).encode(), dtype=np.uint8))
    with pytest.raises(InputError, match="no record of this package"):
        Burn.load(tmp_path / "evil.npz")
