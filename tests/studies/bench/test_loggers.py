"""Files of thermocouple loggers and kitchen scales as they come, and what is made of their many rows."""

import subprocess
import sys
import time
import tracemalloc
from pathlib import Path

import numpy as np
import pytest

import burnsim
from burnsim import InputError
from burnsim.studies.bench.analysis import analyse
from burnsim.studies.bench.log import BenchLog, parse_bench_log, read_bench_log
from burnsim.studies.bench.rows import LONGEST_STEP, STEP, Reading, thin

HEAD = 'pot.water = 0.5 l\nclock.match = 14:03:00\nseen.boil = "9 min 20 s"\n---\n'
EXPECTED = [(0.0, 15.0), (10.0, 15.5), (20.0, 16.0)]
SEMICOLONS = """\
Export of a logger;;
Serial number;0815;
Interval [s];10;

Date/Time;Channel 1;Battery
;°C;%
28.11.2026 14:03:00;15,0;98
28.11.2026 14:03:10;15,5;98
28.11.2026 14:03:20;16,0;98
"""
QUOTED = """\
"Plot title: pot"
"#","Date Time, GMT+01:00","Temp, °F"
1,11/28/26 02:03:00 PM,59.0
2,11/28/26 02:03:10 PM,59.9
3,11/28/26 02:03:20 PM,60.8
"""
TWO_COLUMNS = """\
No.,Date,Time,T1_C,T2_C
1,2026-11-28,14:03:00,15.0,21
2,2026-11-28,14:03:10,15.5,21
3,2026-11-28,14:03:20,16.0,21
"""
ISO = "timestamp\tthermocouple (degC)\n" + "".join(
    f"2026-11-28T14:03:{s:02d}+01:00\t{15.0 + s / 20.0}\n" for s in (0, 10, 20)
)


def readings(log: BenchLog) -> list[tuple[float, float]]:
    return [(row.time, round((row.water or 0.0) - 273.15, 6)) for row in log.readings]


@pytest.mark.parametrize(
    ("text", "head"),
    [(SEMICOLONS, HEAD), (QUOTED, HEAD), (ISO, HEAD), (TWO_COLUMNS, "columns.water = T1_C\n" + HEAD),
     (TWO_COLUMNS, "columns.water = 4\n" + HEAD)],
)  # fmt: skip
def test_a_loggers_file_is_read_as_it_comes(text: str, head: str) -> None:
    log = parse_bench_log(head + text)
    assert readings(log) == EXPECTED
    assert log.boil.time == 560.0


@pytest.mark.parametrize("coded", ["utf-8", "utf-8-sig", "utf-16", "latin-1"])
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_letters_and_line_ends_of_any_instrument(coded: str, end: str, tmp_path: Path) -> None:
    (tmp_path / "pot.csv").write_bytes(SEMICOLONS.replace("\n", end).encode(coded))
    (tmp_path / "pot.toml").write_text(HEAD.removesuffix("---\n"), encoding="utf-8")
    assert readings(read_bench_log(tmp_path / "pot.csv")) == EXPECTED


def test_what_was_assumed_of_a_file_is_told() -> None:
    assert set(parse_bench_log(HEAD + SEMICOLONS).remarks) == {
        "column 'Channel 1 [°C]' is read as the water",
        "passed over: column 'Battery [%]'",
        "3 lines above the columns were passed over",
    }


def test_two_channels_are_asked_about() -> None:
    with pytest.raises(InputError, match=r"T1_C, T2_C' may each be the water: .*columns.water = \"T1_C\""):
        parse_bench_log(HEAD + TWO_COLUMNS)
    with pytest.raises(InputError, match=r"columns.water = 'T3' is none of the columns No., Date"):
        parse_bench_log("columns.water = T3\n" + HEAD + TWO_COLUMNS)


def test_a_file_begins_before_the_match_and_passes_midnight() -> None:
    rows = (
        "date, time, temp C\n28.11.2026, 23:57, 14\n28.11.2026, 23:59, 15\n29.11.2026, 0:03, 16\n29.11.2026, 9:00, 14"
    )
    log = parse_bench_log("clock.match = 23:58\n---\n" + rows)
    assert readings(log) == [(60.0, 15.0), (300.0, 16.0)]
    assert log.remarks == (
        "left out: 1 row before the match",
        "left out: 1 row more than three hours after it",
    )
    dated = parse_bench_log('clock.match = "29.11.2026 0:02"\n---\n' + rows)
    assert readings(dated) == [(60.0, 16.0)]
    with pytest.raises(InputError, match=r"comes on several days of the file: 28\.11\.2026, 29\.11\.2026"):
        parse_bench_log("clock.match = 0:02\n---\n" + rows.replace("23:57", "0:01"))


def test_a_file_of_times_of_day_asks_for_the_match() -> None:
    with pytest.raises(InputError, match=r"14 h 3 min 0 s' is a time of day.*clock.match.*pot.toml beside"):
        parse_bench_log(SEMICOLONS, "pot.csv")


def test_a_scale_set_to_zero_with_the_burner_on_it() -> None:
    rows = "".join(f"{k},{-0.02 * k:.1f}\n" for k in range(1200))
    log = parse_bench_log("elapsed (s),weight (g)\n" + rows)
    found = analyse(log)
    assert found.fuel_rate is not None
    assert found.fuel_rate.slope[5:-5] == pytest.approx(20e-6, rel=0.05)


def rising(number: int, noise: float, seed: int = 0) -> str:
    """Ten minutes at 15 degC, a rise by 0.15 K/s to 97 degC, then the boil: at so many readings of three hours."""
    random = np.random.default_rng(seed)
    at = np.linspace(0.0, 10_000.0, number)
    water = np.clip(15.0 + 0.15 * (at - 600.0), 15.0, 97.0) + noise * random.standard_normal(number)
    return "time [s],temp [degC]\n" + "\n".join(f"{t:.2f},{w:.2f}" for t, w in zip(at.tolist(), water, strict=True))


def test_a_hundred_thousand_rows_take_seconds_and_little_memory(tmp_path: Path) -> None:
    (tmp_path / "long.csv").write_text(rising(100_000, 0.05), encoding="utf-8")
    began = time.process_time()
    log = read_bench_log(tmp_path / "long.csv")
    found = analyse(log)
    assert time.process_time() - began < 10.0  # about 2 s
    assert len(log.readings) < 1000
    assert found.rate.value == pytest.approx(0.15, rel=0.01)
    few, many = (_peak(rising(count, 0.05)) for count in (4_000, 40_000))
    assert many - few < 5 * 36_000 * ROW  # copies of the text, the widest with four bytes a letter; nothing a row


ROW = 15  # letters


def _peak(text: str) -> float:
    tracemalloc.start()
    parse_bench_log(text)
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    return peak


def test_thinning_keeps_corners_and_tells_what_is_steady_twice_a_minute() -> None:
    log = parse_bench_log(rising(100_000, 0.0))
    at, water = log.water()
    true = 273.15 + np.clip(15.0 + 0.15 * (at - 600.0), 15.0, 97.0)
    assert np.abs(water - true).max() < 0.15 * STEP
    assert np.diff(at).max() <= LONGEST_STEP + STEP
    steady = (at > 60.0) & (at < 540.0)
    assert steady.sum() == pytest.approx(480.0 / LONGEST_STEP, abs=2)


def test_thinning_keeps_notes_and_is_not_moved_by_a_loose_contact() -> None:
    rows = [Reading(k, 0.1 * k, 300.0 if k % 20 else 345.0, None, "bloom" if k == 333 else "") for k in range(1000)]
    kept = list(thin(rows, 0.3, 0.5e-3))
    assert {row.water for row in kept} == {300.0}
    assert [row.time for row in kept if row.note] == [pytest.approx(33.3)]


@pytest.mark.parametrize(
    ("rows", "unit"),
    [
        ("0:00, 15\n2:00, 30\n9:30, 97", ""),
        ("0, 15\n120, 30\n570, 97", ""),
        ("0, 15\n2, 30\n9.5, 97", ""),
        ("0:00, 59, lit\n2:00, 86\n9:30, 206.6, boil", ""),
        ("15 degC; 0:00\n30 degC; 2:00\n97 degC; 9:30", ""),
        ("time, water\n0, 15\n2, 30\n9.5, 97", ""),
    ],
)
def test_columns_without_names_are_read_where_they_are_evident(rows: str, unit: str) -> None:
    assert readings(parse_bench_log(rows)) == [(0.0, 15.0), (120.0, 30.0), (570.0, 97.0)]


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        ("0:00, 40\n2:00, 60\n9:30, 97", r"line 1: water = '40 to 97' may be degC, or degF \(4.4444 degC to 36.11"),
        ("0, 15\n30, 30\n75, 97", "line 1: time = '0 to 75' may be seconds or minutes"),
        (
            "0:00, 15, 400\n2:00, 30, 395\n9:30, 97, 380",
            "what the third holds is not evident: add a first row of names",
        ),
        ("0:00 15\n2:00 30", "line 1 = '0:00 15' is one cell, as are all: part time and reading by a comma"),
        ("0:00, 0:00, 15\n2:00, 2:00, 97", "two of them may be the time: add a first row"),
    ],
)
def test_columns_that_are_not_evident_are_refused_with_the_row_to_add(rows: str, said: str) -> None:
    with pytest.raises(InputError, match=said):
        parse_bench_log(rows)


@pytest.mark.parametrize(
    ("text", "boil"),
    [
        ("seen.bloom = 0:42\nseen.boil = 9:20\n", 560.0),
        ("clock.match = 14:05\nseen.bloom = 14:06\nseen.boil = 14:15\n---\n", 600.0),
        ("pot.water = 0.5 l\n---\ntime, note\n0:42, bloom\n9:20, boil\n", 560.0),
        ("0:42, bloom\n9:20, boil\n15:00, out", 560.0),
        ("bloom, 0:42\nboil, 9:20", 560.0),
    ],
)
def test_a_log_of_milestones_alone(text: str, boil: float) -> None:
    log = parse_bench_log(text)
    assert log.boil.time == boil
    assert len(log.water()[0]) == 0
    assert analyse(log).power is None


LOGS = Path(__file__).parents[3] / "examples" / "logs"


@pytest.mark.parametrize("path", sorted(LOGS.glob("*.csv")), ids=lambda path: path.stem)
def test_example_logs_say_that_they_are_synthetic_and_are_not_doubted(path: Path) -> None:
    log = read_bench_log(path)
    assert "synthetic" in log.note
    head = path.with_suffix(".toml") if path.with_suffix(".toml").exists() else path
    assert head.read_text(encoding="utf-8").startswith("# SYNTHETIC: ")
    found = analyse(log, burnsim.load(LOGS.parent / "weekend_double_wall.toml"))
    assert not [one for one in found.remarks if one.startswith(("line", "burn-out"))]
    assert log.bloom.time is not None


def test_the_writer_of_the_example_logs_writes_such_logs(tmp_path: Path) -> None:
    """Not the same numbers: they move with the model."""
    subprocess.run([sys.executable, str(LOGS / "write_logs.py"), str(tmp_path)], check=True)
    for path in sorted(LOGS.glob("*.csv")):
        old, new = read_bench_log(path), read_bench_log(tmp_path / path.name)
        assert new.conditions == old.conditions
        assert (new.boil.happened, new.bloom.happened) == (old.boil.happened, old.bloom.happened)
