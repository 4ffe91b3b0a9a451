"""Hostile bench logs, factors files and sweep files: refused in one line that says why, whatever they hold."""

import json
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

import burnsim
from burnsim.errors import InputError
from burnsim.studies.bench.log import parse_bench_log
from burnsim.studies.calibrate.factors_file import load_factors, save_factors
from burnsim.studies.calibrate.posterior import posterior_of
from burnsim.studies.sweep.files import MARK
from burnsim.units import plain

LOG = """\
charge.volume = "30 ml"
charge.fuel = "methanol"
pot.water = "0.5 l"
site.air_temperature = "20 degC"
---
time [min], water [degC], note
0, 15.2
1:30, 21.5, bloom
4, 48
8:10, 95, boils
12:05, 97, out
"""
PIECES = st.sampled_from(
    [
        "\n",
        ",",
        ";",
        "\t",
        ":",
        "---",
        "---\n",
        "#",
        "-",
        "?",
        "nan",
        "inf",
        "1e999",
        "-1",
        "99:99",
        "24:00:00",
        "[",
        "]",
        "time",
        "water [furlong]",
        "°C",
        '"',
        "\x00",
        "\ufeff",
        "٣",
        "½",
        "=",
        "9" * 50,
        "boils",
        "bloom",
        "never",
        "true",
        "[seen]\n",
        "a.b.c = 1\n",
    ]
)


def tried(reader: Any, what: Any) -> tuple[Any, InputError | None]:
    """What a reader makes of something, or how it refuses it."""
    try:
        return reader(what), None
    except InputError as error:
        return None, error


BOMBS = {
    "nothing": "",
    "only a rule": "---\n",
    "a head alone": 'pot.water = "0.5 l"\n---\n',
    "lists in lists": "a = " + "[" * 100_000 + "\n---\n0, 1\n",
    "keys in keys": ".".join(["a"] * 100_000) + " = 1\n---\n0, 1\n",
    "a huge number": "a = " + "9" * 100_000 + "\n---\n0, 1\n",
    "a long row": LOG + "1" + ", 1" * 200_000,
    "a long field": LOG + "13, " + "9" * 500_000,
    "a quote without end": LOG + '13, "' + "x\n" * 100_000,
    "zeros": "\0" * 10_000,
    "many rules": "---\n" * 10_000,
    "time runs back": LOG + "2, 50\n",
}


@pytest.mark.parametrize("name", BOMBS)
def test_bombs_as_bench_logs(name: str, ask: Any, folder: Path) -> None:
    path = folder / "log.csv"
    path.write_text(BOMBS[name], encoding="utf-8")
    ask("bench", str(path))


@settings(max_examples=200, suppress_health_check=list(HealthCheck), derandomize=True)
@given(data=st.data())
def test_damaged_bench_logs(data: st.DataObject) -> None:
    text = LOG
    for _ in range(data.draw(st.integers(1, 4))):
        place = data.draw(st.integers(0, len(text)))
        cut = data.draw(st.sampled_from([0, 0, 1, 5, 30]))
        text = text[:place] + data.draw(PIECES) + text[place + cut :]
    log, refusal = tried(parse_bench_log, text)
    assert "\n" not in str(refusal)
    if log is None:
        return
    assert all(np.isfinite(row.time) for row in log.readings)
    assert all(row.water is None or np.isfinite(row.water) for row in log.readings)


@pytest.fixture(scope="module")
def factors(folder: Path) -> str:
    path = folder / "factors.toml"
    save_factors(posterior_of(["entrainment", "discharge"], [0.1, -0.02], np.diag([0.04, 0.01])), path)
    return path.read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("version = 1", "version = 2", "version 1 is read here"),
        ("version = 1", 'version = "1"', "version 1 is read here"),
        ("version = 1", "", "version 1 is read here"),
        ('format = "burnsim factors"', "", "is not a factors file"),
        ('"entrainment"', '"entrainmnt"', "entrainment"),
        ('"entrainment", ', "", "go together"),
        ("mean = [", "mean = [nan, ", "go together"),
        ("covariance = [", "covariance = 3\nother = [", "does not hold"),
    ],
)
def test_damaged_factors(old: str, new: str, words: str, factors: str, folder: Path) -> None:
    assert old in factors
    path = folder / "damaged.toml"
    path.write_text(factors.replace(old, new, 1), encoding="utf-8")
    with pytest.raises(InputError, match=words):
        load_factors(path)


@settings(max_examples=150, suppress_health_check=list(HealthCheck), derandomize=True)
@given(data=st.data())
def test_torn_factors(data: st.DataObject, factors: str, folder: Path) -> None:
    place = data.draw(st.integers(0, len(factors)))
    text = factors[:place] + data.draw(PIECES) + factors[place + data.draw(st.integers(0, 20)) :]
    path = folder / "torn.toml"
    path.write_text(text, encoding="utf-8")
    found, refusal = tried(load_factors, path)
    assert "\n" not in str(refusal)
    if found is None:
        return
    assert np.all(np.isfinite(found.mean))
    assert np.all(np.linalg.eigvalsh(np.array(found.covariance)) >= -1e-12)


HEAD = {
    "dims": ["a"],
    "shape": [2],
    "attrs": {},
    "coordinates": [{"name": "a", "dim": "a", "dtype": "float64", "attrs": {}}],
    "columns": [{"name": "boil", "dtype": "float64", "attrs": {}}],
}


def sweep_text(**changes: Any) -> str:
    lines = [f"# {json.dumps({key: value})}" for key, value in {**HEAD, **changes}.items()]
    return "\n".join([MARK, *lines, "a,boil", "1.0,2.0", "2.0,3.0", ""])


SWEEPS: dict[str, str] = {
    "nothing": "",
    "another version": sweep_text().replace(MARK, "# burnsim sweep 999"),
    "no mark": sweep_text().replace(MARK, "# some table"),
    "huge shape": sweep_text(shape=[10**12]),
    "negative shape": sweep_text(shape=[-2]),
    "no shape": sweep_text(shape="x"),
    "shape of two": sweep_text(shape=[2, 2]),
    "no dims": sweep_text(dims=None),
    "unknown numbers": sweep_text(columns=[{"name": "boil", "dtype": "float65", "attrs": {}}]),
    "no columns": sweep_text(columns=3),
    "another column": sweep_text(columns=[{"name": "bloom", "dtype": "float64", "attrs": {}}]),
    "letters for a number": sweep_text().replace("2.0,3.0", "2.0,three"),
    "a row too few": sweep_text().replace("2.0,3.0\n", ""),
    "a row too many": sweep_text() + "4.0,5.0\n",
    "half a row": sweep_text().replace("2.0,3.0\n", "2.0\n"),
    "half a head": sweep_text().replace('"shape"', '"shape'),
    "zeros": "\0" * 5000,
}


@pytest.mark.parametrize("name", SWEEPS)
def test_damaged_sweeps(name: str, folder: Path) -> None:
    path = folder / "sweep.csv"
    path.write_text(SWEEPS[name], encoding="utf-8")
    with pytest.raises(InputError) as caught:
        burnsim.sweeps.load(path)
    assert "\n" not in plain(str(caught.value))


@pytest.mark.parametrize("data", [b"", b"\x89HDF\r\n\x1a\n" + bytes(3000), b"CDF\x01" + bytes(100), b"x" * 3000])
def test_damaged_netcdf(data: bytes, folder: Path) -> None:
    path = folder / "sweep.nc"
    path.write_bytes(data)
    with pytest.raises(InputError):
        burnsim.sweeps.load(path)
