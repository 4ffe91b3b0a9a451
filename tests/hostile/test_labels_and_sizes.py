"""Names that steer terminals, inputs that never end, plans that cannot be meant, and two sweeps with one result."""

import os
import subprocess
import sys
import time
import tracemalloc
from pathlib import Path
from typing import Any

import numpy as np
import pytest

import burnsim
from burnsim.errors import InputError
from burnsim.io.text_file import check_label, parse_toml, read_text
from burnsim.studies.bench.log import parse_bench_log
from burnsim.studies.predict.prediction import predict
from burnsim.studies.sweep.files import guarded
from burnsim.studies.sweep.plan import make_plan
from burnsim.studies.sweep.store import FolderStore
from burnsim.units import plain

CUP = {
    "burner": {"kind": "open cup", "outer_diameter": "60 mm", "height": "30 mm"},
    "charge": {"fuel": "methanol", "volume": "2 ml"},
}
STEERING = ["\x1b[2Jgone", "two\nlines", "nul\x00", "bell\x07", "turned \u202egnp.exe", "line\u2028end", "x" * 5000]


@pytest.mark.parametrize("name", STEERING)
def test_a_name_that_steers_is_refused_by_its_field(name: str) -> None:
    with pytest.raises(InputError) as refused:
        burnsim.Setup.from_dict({**CUP, "name": name})
    assert refused.value.field == "name"
    assert plain(str(refused.value)).isprintable()


@pytest.mark.parametrize("name", STEERING[:-1])
def test_so_is_one_in_a_bench_log(name: str) -> None:
    quoted = "".join(f"\\u{ord(c):04x}" if not c.isprintable() else c for c in name)
    with pytest.raises(InputError, match="control character"):
        parse_bench_log(f'name = "{quoted}"\n---\ntime [min], water [degC]\n0, 15\n5, 60\n')


@pytest.mark.parametrize("name", ["Zoë's cup, 1½ in", "杯 no. 3", "two — or three", "100 % steel (old)"])
def test_a_name_of_any_language_passes(name: str) -> None:
    check_label(name, "name")


@pytest.mark.parametrize("text", ["=1+1", "+49", "-x", "@SUM(A1)", "'quoted", "\t=1", "methanol", "", "a=b"])
def test_no_cell_is_a_formula_and_none_is_changed(text: str) -> None:
    cell = guarded(text)
    assert not cell.startswith(("=", "+", "-", "@", "\t", "\r"))
    assert cell.removeprefix("'") == text


def test_a_pipe_is_refused_and_not_waited_for(tmp_path: Path) -> None:
    pipe = tmp_path / "design.toml"
    os.mkfifo(pipe)
    began = time.perf_counter()
    with pytest.raises(InputError, match="pipe or a device"):
        burnsim.load(pipe)
    assert time.perf_counter() - began < 5.0


def test_a_device_is_refused() -> None:
    with pytest.raises(InputError, match="pipe or a device"):
        read_text("/dev/zero")


@pytest.mark.parametrize("length", [50, 150])
def test_thousands_of_long_keys_cost_nothing(length: int) -> None:
    text = "\n".join(".".join(f"k{i}_{j}" for j in range(length)) + " = 1" for i in range(2300))
    tracemalloc.start()
    with pytest.raises(ValueError, match="dotted keys"):
        parse_toml(text)
    assert tracemalloc.get_traced_memory()[1] < 20e6
    tracemalloc.stop()


def test_numbers_with_points_are_no_long_keys() -> None:
    rows = ",\n".join("[" + ", ".join(["1.25"] * 12) + "]" for _ in range(2000))
    assert len(parse_toml(f"table = [\n{rows}\n]")["table"]) == 2000


PLANS: list[tuple[dict[str, Any], dict[str, Any], str]] = [
    ({"charge.volume": (1e-6, 4e-6)}, {"mode": "sobol", "samples": 10**9}, "samples"),
    ({"charge.volume": np.linspace(1e-6, 4e-6, 40_000), "site.wind": np.linspace(0, 1, 40_000)}, {}, "values"),
    ({"burner.wick": range(10**9)}, {}, "burner.wick"),
]


@pytest.mark.parametrize(("values", "how", "field"), PLANS)
def test_a_plan_that_cannot_be_meant_is_refused_with_its_size(
    values: dict[str, Any], how: dict[str, Any], field: str
) -> None:
    base = burnsim.Setup.from_dict(CUP)
    tracemalloc.start()
    with pytest.raises(InputError, match=r"hours of one core .* GB") as refused:
        make_plan(base, values, **how)
    assert tracemalloc.get_traced_memory()[1] < 500e6
    tracemalloc.stop()
    assert refused.value.field == field


def test_too_many_draws_are_refused() -> None:
    setup = burnsim.Setup.from_dict(CUP)
    with pytest.raises(InputError, match="allowed 8 to"):
        predict(setup, n=10**9)
    with pytest.raises(InputError, match="allowed 10 to"):
        burnsim.fill.estimate_spill_odds(setup, 10**9)


def test_two_sweeps_cannot_share_a_result(tmp_path: Path) -> None:
    folder = tmp_path / "jets.nc.parts"
    first, second = FolderStore(folder), FolderStore(folder)
    first.open("one", resume=True)
    with pytest.raises(InputError, match="being written by another sweep"):
        second.open("one", resume=True)
    with pytest.raises(InputError, match="being written by another sweep"):
        second.open("one", resume=False)
    first.release()
    second.open("one", resume=True)
    second.remove()
    assert not folder.exists()


def test_a_sweep_that_was_killed_leaves_no_lock(tmp_path: Path) -> None:
    folder = tmp_path / "jets.nc.parts"
    text = (
        "import os, sys\nfrom pathlib import Path\nfrom burnsim.studies.sweep.store import FolderStore\n"
        "FolderStore(Path(sys.argv[1])).open('one', resume=True)\nos._exit(9)\n"
    )
    killed = subprocess.run([sys.executable, "-c", text, str(folder)], check=False)
    assert killed.returncode == 9
    FolderStore(folder).open("one", resume=True)


def test_a_full_disk_within_a_sweep_is_told_as_that(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(FolderStore, "keep", full)
    with pytest.raises(InputError, match="No space left on device") as refused:
        burnsim.sweep(burnsim.Setup.from_dict(CUP), {"charge.volume": ["2 ml"]}, out=tmp_path / "a.nc", workers=1)
    assert "None" not in plain(str(refused.value))


def test_what_is_written_to_stdout_takes_its_turn(tmp_path: Path) -> None:
    seen = tmp_path / "seen.txt"
    text = (
        "import sys\nfrom burnsim.io.text_file import whole_file\nprint('before')\n"
        "with whole_file('/dev/stdout') as place:\n    place.write_text('between\\n')\nprint('after')\n"
    )
    with seen.open("w") as stream:
        subprocess.run([sys.executable, "-c", text], stdout=stream, check=True)
    assert seen.read_text().split() == ["before", "between", "after"]
