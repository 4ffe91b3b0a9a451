"""Ctrl-C in Python: the exception tells what is kept, and where."""

from collections.abc import Callable
from pathlib import Path

import pytest

import burnsim

CUP = burnsim.Setup.from_dict(
    {
        "burner": {"kind": "open cup", "outer_diameter": "60 mm", "height": "30 mm"},
        "charge": {"fuel": "ethanol", "volume": "0.5 ml"},
    }
)
VOLUMES = {"charge.volume": ["0.5 ml", "0.6 ml", "0.7 ml", "0.8 ml"]}


def stop_at(designs: int) -> Callable[[int, int], None]:
    def report(done: int, total: int) -> None:
        if done >= designs:
            raise KeyboardInterrupt

    return report


def test_a_stopped_sweep_tells_where_its_work_is_kept(tmp_path: Path) -> None:
    out = tmp_path / "cup.nc"
    with pytest.raises(KeyboardInterrupt, match=r"2 of 4 designs are kept in .*cup\.nc\.parts; .* goes on from there"):
        burnsim.sweep(CUP, VOLUMES, out=out, chunk=1, workers=1, progress=stop_at(2))
    assert (tmp_path / "cup.nc.parts").is_dir()
    assert burnsim.sweep(CUP, VOLUMES, out=out, workers=1, progress=False).sizes == {"charge.volume": 4}


def test_a_stopped_sweep_without_a_file_tells_how_to_keep_it() -> None:
    with pytest.raises(KeyboardInterrupt, match="nothing is kept: give out= a file"):
        burnsim.sweep(CUP, VOLUMES, chunk=1, workers=1, progress=stop_at(2))


def test_any_other_study_tells_that_nothing_is_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    def stopped(*given: object, **named: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("burnsim.studies.burn_many.burn_many", stopped)
    with pytest.raises(KeyboardInterrupt, match="nothing is kept of a study that is stopped"):
        burnsim.predict(CUP, n=8, workers=1)
