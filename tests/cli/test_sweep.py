"""`burnsim sweep`: its grammar, what it prints, and the files it leaves."""

import gc
import json
import os
import re
import signal
import subprocess
import sys
import time
from pathlib import Path

import numpy as np
import pytest
from burners import ENVIRONMENT

from burnsim import InputError, load, sweep
from burnsim.cli import main
from burnsim.cli.vary_option import read_vary
from burnsim.solve.run import DEFAULT_RTOL
from burnsim.studies.sweep.files import load_sweep
from burnsim.units import format_time, plain

ROOT = Path(__file__).parents[2]
DESIGN = """
name = "little cup"
[burner]
kind = "open cup"
outer_diameter = "60 mm"
height = "25 mm"
[charge]
fuel = "ethanol"
volume = "4 ml"
[pot]
diameter = "12 cm"
height = "8 cm"
water = "50 ml"
rest = "stand"
gap = "30 mm"
"""


@pytest.fixture
def design(tmp_path: Path) -> Path:
    path = tmp_path / "cup.toml"
    path.write_text(DESIGN)
    return path


@pytest.mark.parametrize(
    ("text", "path", "values"),
    [
        ("burner.jets.count=12:16:2", "burner.jets.count", [12, 14, 16]),
        ("burner.jets.count = 12:15:2", "burner.jets.count", [12, 14]),
        ("burner.jets.count=12:14", "burner.jets.count", [12, 13, 14]),
        ("burner.jets.count=16:12:-2", "burner.jets.count", [16, 14, 12]),
        ("burner.jets.count=12, 20", "burner.jets.count", [12, 20]),
        ("burner.jets.diameter=0.5mm:1.2mm:8", "burner.jets.diameter", [k * 1e-4 for k in range(5, 13)]),
        ("burner.jets.diameter=0.8mm,#65 drill", "burner.jets.diameter", ["0.8mm", "#65 drill"]),
        ("site.air_temperature=-10degC:20degC:4", "site.air_temperature", [263.15, 273.15, 283.15, 293.15]),
        ("factors.entrainment=0.5:1.5:3", "factors.entrainment", [0.5, 1.0, 1.5]),
        ("charge.fuel=methanol,ethanol 95", "charge.fuel", ["methanol", "ethanol 95"]),
        ("pot.lid=true,no", "pot.lid", [True, False]),
        ("pot=none", "pot", [None]),
    ],
)
def test_grammar(text: str, path: str, values: list[object]) -> None:
    found = read_vary([text], False)
    assert list(found) == [path]
    if isinstance(values[0], float):
        assert found[path] == pytest.approx(values, rel=1e-12)
    else:
        assert found[path] == values


def test_sampled_ranges() -> None:
    texts = ["burner.jets.count=12:48", "burner.jets.diameter=0.5mm:1.2mm", "charge.fuel=methanol,ethanol"]
    assert read_vary(texts, True) == {
        "burner.jets.count": [12, 48],
        "burner.jets.diameter": [pytest.approx(0.5e-3), pytest.approx(1.2e-3)],
        "charge.fuel": ["methanol", "ethanol"],
    }


@pytest.mark.parametrize(
    ("texts", "sampled", "hint"),
    [
        (["burner.jets.count"], False, "is not PATH=VALUES"),
        (["burner.jets.cout=1"], False, "did you mean 'burner.jets.count'"),
        (["pot.lid=true", "pot.lid=false"], False, "a second time"),
        (["burner.jets.count=12:48:0"], False, "does not lead"),
        (["burner.jets.count=48:12:2"], False, "does not lead"),
        (["burner.jets.count=12:4.5:2"], False, "not a whole number"),
        (["burner.jets.diameter=0.5mm:1.2mm"], False, "is not LOW:HIGH:COUNT"),
        (["burner.jets.diameter=0.5mm:1.2mm:0.1mm"], False, "not a count of values"),
        (["burner.jets.diameter=0.5:1.2:8"], False, "has no unit"),
        (["burner.jets.diameter=1.2mm:0.5mm:8"], False, "does not rise"),
        (["burner.jets.count=1:10000000"], False, "more than"),
        (["pot.lid=maybe"], False, "neither true nor false"),
        (["charge.fuel=methanol,"], False, "empty value"),
        (["burner.jets.count=12:48:2"], True, "is not LOW:HIGH"),
        (["burner.jets.count=12,14,16"], True, "is not a range"),
    ],
)
def test_what_cannot_be_read_is_refused(texts: list[str], sampled: bool, hint: str) -> None:
    with pytest.raises(InputError, match=re.escape(hint)):
        read_vary(texts, sampled)


def test_what_no_design_can_have_is_refused_in_the_units_that_were_written(design: Path) -> None:
    """It is no bare number, whatever became of its unit since."""
    with pytest.raises(InputError, match=r"reaches -23.333 degC; site.air_temperature is allowed from -23 degC"):
        read_vary(["site.air_temperature=-10degF,50degF"], False)
    with pytest.raises(InputError, match=r"reaches 100\.5 mm"):
        read_vary(["burner.jets.diameter=1mm:20cm:3"], False)
    assert read_vary(["charge.volume=20 g,25 ml"], False) == {"charge.volume": ["20 g", "25 ml"]}


def test_a_sweep_over_loads_says_that_it_proves_none_safe(design: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for vary, told in (("charge.volume=3ml,4ml", True), ("pot.gap=25mm,30mm", False)):
        assert main(["sweep", str(design), "--vary", vary, "--workers", "1"]) == 0
        assert ("burnsim fill tells how much" in capsys.readouterr().out) is told


def test_a_sweep_prints_what_came_of_it_and_saves_it(design: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out, picture = design.with_name("sweep.nc"), design.with_name("sweep.png")
    options = ["--vary", "charge.volume=3ml:6ml:2", "--vary", "pot.water=30 ml, 40 ml, 2 l", "--workers", "1"]
    assert main(["sweep", str(design), *options, "--out", str(out), "--plot", str(picture)]) == 0
    said = capsys.readouterr()
    assert "6/6 designs" in said.err
    assert "is more than the pot holds" in said.out
    assert "Alcohol flames are nearly invisible" in said.out
    assert picture.read_bytes().startswith(b"\x89PNG")
    assert sorted(path.name for path in design.parent.iterdir()) == ["cup.toml", "sweep.nc", "sweep.png"]
    with load_sweep(out) as found:
        assert found.sizes == {"charge.volume": 2, "pot.water": 3}
        assert (found.status.isel({"pot.water": 2}) == "impossible").all()
        expected = sweep(load(design), {"charge.volume": [3e-6, 6e-6], "pot.water": [30e-6, 40e-6]}, workers=1)
        np.testing.assert_array_equal(found.water_max.values[:, :2], expected.water_max.values)
        quickest = float(found.boil.min())
    assert format_time(quickest) in said.out


@pytest.mark.filterwarnings("ignore:none of the")
def test_a_damaged_file_is_refused_without_another_word(design: Path) -> None:
    """What a reader that gives up complains of later, when it is thrown away, fails the test as well."""
    out = design.with_name("sweep.nc")
    sweep(load(design), {"charge.volume": ["900 ml"]}, workers=1, out=out).close()
    head, mark, rest = out.read_bytes().partition(b"OHDR")  # where HDF5 says what the whole file holds
    out.write_bytes(head + mark + rest[:4] + b"?" + rest[5:])
    with pytest.raises(InputError, match="is not a sweep"):
        load_sweep(out)
    gc.collect()


def test_a_pipe_is_not_replaced_by_a_sweep(design: Path, capsys: pytest.CaptureFixture[str]) -> None:
    pipe = design.with_name("pipe.csv")
    os.mkfifo(pipe)
    assert main(["sweep", str(design), "--vary", "charge.volume=900ml", "--out", str(pipe)]) == 2
    assert "is no plain file" in capsys.readouterr().err
    assert pipe.is_fifo()


def test_json(design: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sweep", str(design), "--vary", "charge.volume=3ml,900ml,2l", "--paired", "--json"]) == 0
    told = json.loads(plain(capsys.readouterr().out))
    assert (told["designs"], told["solved"], told["impossible"], told["failed"]) == (3, 1, 2, 0)
    assert told["rtol"] == DEFAULT_RTOL


@pytest.mark.filterwarnings("ignore:none of the")
def test_samples_to_a_table(design: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = design.with_name("sweep.csv")
    options = ["--vary", "charge.volume=700ml:800ml", "--vary", "charge.fuel=methanol,ethanol", "--samples", "8"]
    assert main(["sweep", str(design), *options, "--seed", "3", "--out", str(out)]) == 0
    found = load_sweep(out)
    assert found.sizes == {"design": 8}
    assert (found.status == "impossible").all()
    assert set(found["charge.fuel"].values) == {"methanol", "ethanol"}
    assert found.attrs["seed"] == 3
    assert "No design boils the water" in plain(capsys.readouterr().out)


@pytest.mark.parametrize(
    ("options", "hint"),
    [
        (["--vary", "charge.volum=3ml"], "did you mean 'charge.volume'"),
        (["--vary", "charge.fuel=etanol"], "did you mean 'ethanol'"),
        (["--vary", "charge.volume=3ml", "--out", "sweep.xlsx"], "neither .nc"),
        (["--vary", "charge.volume=3ml", "--plot", "sweep.png", "--show", "boill"], "did you mean 'boil'"),
        (["--vary", "charge.volume=3ml", "--show", "boill"], "did you mean 'boil'"),
        (["--vary", "charge.volume=3ml", "--show", "boil"], "add --plot map.png"),
        (["--vary", "burner.jets.count=3,4"], "has no burner.jets"),
        (["--vary", "charge.volume=3ml", "--workers", "0"], "whole number from 1"),
    ],
)
def test_bad_input(design: Path, options: list[str], hint: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sweep", str(design), *options]) == 2
    said = capsys.readouterr()
    assert hint in said.err
    assert said.out == ""


def test_ctrl_c_says_how_to_go_on(design: Path) -> None:
    out = design.with_name("sweep.nc")
    command = [sys.executable, "-m", "burnsim", "sweep", str(design), "--out", str(out), "--workers", "1"]
    command += ["--vary", "charge.volume=40ml:60ml:15"]  # too few to be compiled, and slow without machine code
    slow = {**ENVIRONMENT, "BURNSIM_CACHE": str(design.with_name("cache"))}
    process = subprocess.Popen(command, cwd=ROOT, env=slow, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
    parts = out.with_name("sweep.nc.parts")
    patience = time.monotonic() + 120.0
    while not list(parts.glob("*.npz")) and process.poll() is None and time.monotonic() < patience:
        time.sleep(0.02)
    os.kill(process.pid, signal.SIGINT)
    shown, said = process.communicate(timeout=60)
    assert process.returncode == 1
    assert shown == ""
    assert f"designs are kept in {parts}" in said
    assert "Traceback" not in said
    assert list(parts.glob("*.npz"))
