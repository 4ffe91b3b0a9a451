"""Long logs, odd line ends, decimal commas and fraction slashes: read, or refused, alike wherever they stand."""

import os
import time
import tracemalloc
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest

import burnsim
from burnsim.errors import InputError
from burnsim.studies.bench import rows
from burnsim.studies.bench.analysis import analyse
from burnsim.studies.bench.log import parse_bench_log, read_bench_log
from burnsim.studies.bench.smooth import MOST_POINTS, smooth
from burnsim.studies.sweep.plan import make_plan
from burnsim.units import parse

ROOT = Path(__file__).parents[2]
DESIGN = (ROOT / "examples" / "garden_open_cup.toml").read_text(encoding="utf-8")
HEAD = 'pot.water = "0.5 l"\ncharge.fuel = "methanol"\n---\n'


def long_log(count: int) -> str:
    lines = [f"{1200 * k / count:.3f}, {15.0 + 80.0 * k / count:.2f}," for k in range(count)]
    return HEAD + "time [s], water [degC], note\n" + "\n".join(lines) + "\n"


def test_a_log_of_too_many_rows_is_refused_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(rows, "MOST_ROWS", 150_000)
    text = long_log(200_000)
    tracemalloc.start()
    began = time.perf_counter()
    with pytest.raises(InputError, match="200000 rows; allowed up to 150000"):
        parse_bench_log(text)
    assert time.perf_counter() - began < 20.0
    assert tracemalloc.get_traced_memory()[1] < 200e6
    tracemalloc.stop()


def test_the_longest_log_is_worked_out_in_little_memory() -> None:
    log = parse_bench_log(long_log(10_000))
    tracemalloc.start()
    found = analyse(log)
    assert tracemalloc.get_traced_memory()[1] < 50e6
    tracemalloc.stop()
    assert found.rate.value == pytest.approx(80.0 / 1200.0, rel=1e-3)
    assert found.power is not None
    assert len(found.power.time) <= MOST_POINTS


def test_a_long_log_says_what_a_short_one_of_the_same_burn_does() -> None:
    """Readings without noise along a parabola: the fit is exact in either case."""
    for count in (MOST_POINTS, 7 * MOST_POINTS + 3):
        times = np.linspace(0.0, 600.0, count)
        curve = smooth(times, 290.0 + 0.1 * times, 0.1)
        assert curve is not None
        np.testing.assert_allclose(curve.slope, 0.1, rtol=1e-6)
    few, many = (
        smooth(t, 290.0 + 0.1 * t + np.random.default_rng(1).normal(0.0, 0.2, len(t)), 0.05)
        for t in (np.linspace(0.0, 600.0, MOST_POINTS), np.linspace(0.0, 600.0, 16 * MOST_POINTS))
    )
    assert few is not None
    assert many is not None
    assert many.noise == pytest.approx(few.noise / 4.0, rel=0.3)  # of means of 16 readings


SHORT = 'pot.water = "0.5 l"\n---\ntime [min], water [degC], note\n0, 15.2,\n4, 48, bloom\n8, 95, boils\n'


@pytest.mark.parametrize("end", ["\r", "\r\n", "\n"])
def test_line_ends_of_any_system(end: str, tmp_path: Path) -> None:
    expected = parse_bench_log(SHORT).readings
    assert parse_bench_log(SHORT.replace("\n", end)).readings == expected
    (tmp_path / "a.csv").write_bytes(b"\xef\xbb\xbf" + SHORT.replace("\n", end).encode())
    assert read_bench_log(tmp_path / "a.csv").readings == expected
    (tmp_path / "a.toml").write_bytes(DESIGN.replace("\n", end).encode())
    assert burnsim.load(tmp_path / "a.toml") == burnsim.load(ROOT / "examples" / "garden_open_cup.toml")


def as_design(text: str) -> float:
    table = {
        "burner": {"kind": "open cup", "outer_diameter": "60 mm", "height": text},
        "charge": {"fuel": "methanol", "volume": "2 ml"},
    }
    return burnsim.Setup.from_dict(table).burner.height


def as_sweep(text: str) -> float:
    base = burnsim.load(ROOT / "examples" / "garden_open_cup.toml")
    (axis,) = make_plan(base, {"burner.height": [text]}, "grid", None, 0).axes
    return float(axis.values[0])


def as_option(text: str) -> float:
    return parse(text, "length", "--head")


def as_log(text: str) -> float:
    """In the head of a log, as the volume of a cube of that height."""
    head = parse_bench_log(SHORT.replace('"0.5 l"', f'"{text.removesuffix("in").strip()} l"')).conditions
    assert head.water_volume is not None
    return head.water_volume / 0.001 * 0.0254


@pytest.mark.parametrize("read", [as_design, as_sweep, as_option, as_log])
@pytest.mark.parametrize("text", ["1\u20442 in", "1/2 in", "½ in", "1\u22152 in", "1／2 in", "0.5 in", "0 1\u20442 in"])
def test_a_half_is_a_half_everywhere(text: str, read: Callable[[str], float]) -> None:
    assert read(text) == pytest.approx(0.0127, rel=1e-12)


@pytest.mark.parametrize("read", [as_design, as_sweep, as_option])
def test_a_decimal_comma_is_for_logs_alone(read: Callable[[str], float]) -> None:
    assert as_log("0,5 in") == pytest.approx(0.0127)
    with pytest.raises(InputError):
        read("0,5 in")


@pytest.mark.parametrize("read", [as_design, as_sweep, as_option, as_log])
@pytest.mark.parametrize("text", ["1.000,5 in", "1,000.5 in", "1'000 in", "½½ in", "1/0 in", "1//2 in"])
def test_what_is_no_number_here_is_one_nowhere(text: str, read: Callable[[str], float]) -> None:
    with pytest.raises(InputError):
        read(text)


DECIMAL_COMMAS = [
    ("time [min], water [degC], note", "1,5, 21"),
    ("time [min], water [degC], note", "1,5, 21.5, bloom"),
    ("time [min], water [degC], note", "1:30, 21,5"),
    ("time [min], water [degC], note", "1:30, 21,5, bloom"),
    ("time [min], water [degC], mass [g], note", "1:30, 21,5, 300"),
    ("time [min], water [degC], mass [g], note", "1:30, 21,5, 300.5, bloom"),
    ("time [min], water [degC], mass [g], note", "1:30, 21.5, 300,5"),
    ("time [min], water [degC]", "1:30, 21,5"),
]


@pytest.mark.parametrize(("names", "row"), DECIMAL_COMMAS)
def test_a_decimal_comma_among_commas_is_refused(names: str, row: str) -> None:
    with pytest.raises(InputError, match="decimal"):
        parse_bench_log(f"{HEAD}{names}\n0:00, 15.0\n{row}\n8:00, 60.0\n")
    read = parse_bench_log(f"{HEAD}{names}\n0:00, 15.0\n{row}\n8:00, 60.0\n".replace(", ", "; ")).readings
    assert [one.time for one in read] == [0.0, 90.0, 480.0]


@pytest.mark.parametrize("note", ["2 jets out", "bloom, 3 of 24 out", "no. 4", "", "1st jet"])
def test_a_note_may_hold_numbers(note: str) -> None:
    read = parse_bench_log(f"{HEAD}time [min], water [degC], note\n0:00, 15\n1:30, 21, {note}\n8:00, 60\n").readings
    assert read[1].note == note


@pytest.mark.parametrize("note", ["\x1b[2Jgone", "turned \u202egnp", "nul\x00", "x" * 300])
def test_a_note_that_steers_is_refused_by_its_line(note: str) -> None:
    with pytest.raises(InputError, match=r"line 6: note"):
        parse_bench_log(f"{HEAD}time [min], water [degC], note\n0:00, 15\n1:30, 21, {note}\n8:00, 60\n")


@pytest.mark.parametrize("word", ["\x1b[2J.toml", "a\nb.toml", "\u202e.toml"])
def test_a_file_whose_name_steers_is_refused(word: str, ask: Any, folder: Path) -> None:
    for name in (word, word.replace("toml", "csv")):
        (folder / name).write_text(DESIGN if name.endswith("toml") else SHORT, encoding="utf-8")
    for words in (["burn", word], ["check", word], ["bench", word.replace("toml", "csv")]):
        answer = ask(*words)
        assert answer.code == 2
        assert "control character" in answer.err
        assert "\x1b" not in answer.err
    with pytest.raises(InputError, match="control character"):
        read_bench_log(folder / word.replace("toml", "csv"))


@pytest.mark.parametrize("odds", ["1e9", "1000000000", "9", "ten", "-1", "1_0"])
def test_odds_of_too_many_burns_are_refused_before_the_first(odds: str, ask: Any) -> None:
    began = time.perf_counter()
    answer = ask("fill", str(ROOT / "examples" / "garden_open_cup.toml"), "--odds", odds)
    assert answer.code == 2
    assert "from 10 to 100000" in answer.err
    assert time.perf_counter() - began < 5.0


def test_a_name_of_a_file_may_be_too_long(ask: Any) -> None:
    design = str(ROOT / "examples" / "garden_open_cup.toml")
    for words in (["burn", "a" * 300 + ".toml"], ["burn", design, "--series", "a" * 300 + ".csv"]):
        answer = ask(*words)
        assert answer.code == 2
        assert "too long" in answer.err


def test_a_pipe_is_no_sweep(folder: Path) -> None:
    os.mkfifo(folder / "pipe.csv")
    with pytest.raises(InputError, match="is no plain file"):
        burnsim.sweeps.load(folder / "pipe.csv")


def test_a_sweep_cannot_ask_for_a_million_workers(ask: Any) -> None:
    words = ["--vary", "site.wind=0 m/s:1 m/s:4", "--workers", "1000000"]
    answer = ask("sweep", str(ROOT / "examples" / "garden_open_cup.toml"), *words)
    assert answer.code == 2
    assert "from 1 to 1024" in answer.err
