"""Bench logs: what people type is read right, what makes no sense is refused with its line, no file is altered."""

import hashlib
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import burnsim
from burnsim import InputError
from burnsim.studies.bench.clock import read_clock
from burnsim.studies.bench.design import apply_conditions
from burnsim.studies.bench.log import parse_bench_log, read_bench_log

EXAMPLES = Path(__file__).parents[3] / "examples"
HEAD = """name = "porch"
[charge]
fuel = "ethanol 95"
volume = "1 fl oz"
[pot]
water = "0.5 l"
---
"""


def water_of(rows: str, head: str = HEAD) -> list[tuple[float, float | None]]:
    log = parse_bench_log(head + rows)
    return [(row.time, None if row.water is None else round(row.water - 273.15, 6)) for row in log.readings]


@pytest.mark.parametrize(
    "rows",
    [
        "time [s], water [degC]\n0, 15\n90, 20.5\n",
        "time [min], water [degC]\n0, 15\n1.5, 20.5\n",
        "Time (mm:ss),Temp (degF)\n0:00,59\n1:30,68.9\n",
        "clock;temperature [degC]\n0:00:00;15\n0:01:30;20,5\n",
        "t\tT_C\n0 s\t15\n1 min 30 s\t20.5\n".replace("T_C", "temp C"),
        "0 s, 59 degF\n\n# a comment\n90 s, 20.5 degC   # typed later\n",
        'time [s], water [K]\n"0", "288.15"\n90, 293.65\n',
        "\r\ntime [s], water [degC], note\r\n0, 15\r\n90, 20.5, windy, cold\r\n",
    ],
)
def test_the_same_readings_written_in_many_ways(rows: str) -> None:
    assert water_of(rows.replace("\r\n", "\n")) == [(0.0, 15.0), (90.0, 20.5)]


@pytest.mark.parametrize("gap", ["", "-", "?", "n/a", "NaN"])
def test_missing_readings_are_missing(gap: str) -> None:
    assert water_of(f"time [s], water [degC], note\n0, 15\n30, {gap}, looked away\n60, 17") == [
        (0.0, 15.0),
        (30.0, None),
        (60.0, 17.0),
    ]


def test_clock_offset_and_midnight() -> None:
    head = HEAD.replace("---", '[clock]\nmatch = "23:59:30"\n[seen]\nboil = "0:09:30"\n---')
    log = parse_bench_log(head + "time, water [degC]\n23:59:40, 15\n0:00:30, 16")
    assert [row.time for row in log.readings] == [10.0, 60.0]
    assert log.boil.time == 600.0


def test_times_of_day_without_a_match_are_refused() -> None:
    with pytest.raises(InputError, match=r"line 8.*clock.*match"):
        parse_bench_log(HEAD + "14:03:00, 15 degC\n14:04:00, 16 degC")
    with pytest.raises(InputError, match="before the match"):
        parse_bench_log(HEAD.replace("---", '[clock]\nmatch = "2:00"\n---') + "1:00, 15 degC\n3:00, 16 degC")


def test_milestones_from_notes_and_from_the_head() -> None:
    log = parse_bench_log(HEAD + "time, water [degC], note\n0:00, 15\n0:42, , Bloom!\n8:00, 99, boils hard\n8:10,,boil")
    assert (log.bloom.time, log.bloom.line) == (42.0, 10)
    assert log.boil.time == 490.0  # "boils hard" is not a word of the list: it is kept, not interpreted
    assert log.burnout.happened is None
    never = parse_bench_log(HEAD.replace("---", '[seen]\nboil = "never"\nbloom = "0:40"\n---') + "0 s, 15 degC, x")
    assert never.boil.happened is False
    assert never.boil.time is None
    both = parse_bench_log(HEAD.replace("---", '[seen]\nbloom = "0:40"\n---') + "1:00, 15 degC, bloom")
    assert both.bloom.time == 40.0
    assert "60 s" in both.remarks[0]


def test_conditions_beside_the_rows(tmp_path: Path) -> None:
    (tmp_path / "one.csv").write_text("time [s], water [degC]\n0, 15\n", encoding="utf-8")
    (tmp_path / "one.toml").write_text('[charge]\nfuel = "methanol"\nvolume = "37 ml"\n', encoding="utf-8")
    log = read_bench_log(tmp_path / "one.csv")
    assert log.conditions.fuel_volume == pytest.approx(37e-6)


def test_reading_alters_no_file(tmp_path: Path) -> None:
    file = tmp_path / "log.csv"
    file.write_bytes((HEAD + "0 s, 15 degC\r\n").encode())
    before = hashlib.sha256(file.read_bytes()).digest(), file.stat().st_mtime_ns
    read_bench_log(file)
    assert (hashlib.sha256(file.read_bytes()).digest(), file.stat().st_mtime_ns) == before
    assert [path.name for path in tmp_path.iterdir()] == ["log.csv"]


@pytest.mark.parametrize(
    ("rows", "line", "says"),
    [
        ("time [s], water [degC]\n0, 15\n30, 512", 10, "cannot be the temperature of water"),
        ("time [s], water [degC], mass\n0, 15, 300", 9, "has no unit"),
        ("0, 15 degC", 8, "without a unit"),
        ("time [s], water [degC]\n60, 15\n30, 16", 10, "goes back"),
        ("time [s], water [degC]\n0, 15\n, 16", 10, "has no time"),
        ("time [s], water [degC]\n0, 15,5", 9, "decimal point"),
        ("time, water [degC]\n1:75, 15", 9, "more than 59"),
        ("time [s], water [degC], water [degC]\n0, 15, 16", 8, "two for water"),
        ("time [s], moisture [%]\n0, 15", 8, "not known"),
        ("time [s], mass [g]\n0, -3", 9, "not above 0"),
        ("time [ml], water [degC]\n0, 15", 8, "not a time"),
        ("time [s], water [degC]\nsoon, 15", 9, "time"),
    ],
)
def test_nonsense_is_refused_with_its_line(rows: str, line: int, says: str) -> None:
    with pytest.raises(InputError, match=rf"line {line}\b.*{says}"):
        parse_bench_log(HEAD + rows, "log.csv")


@pytest.mark.parametrize(
    ("head", "says"),
    [
        ('[charge]\nvolume = "30 ml"\nvolum = "3 ml"\n', r"line 3: charge.volum.*'volume'"),
        ('[charge]\nvolume = "30 mm"\n', r"line 2.*length, not a volume"),
        ("[charge]\nvolume = 30\n", r"line 2.*no unit"),
        ('[pot]\nwater = "500 l"\n', "out of range"),
        ('[pot]\nwater_mass = "500 g"\nwater_left_mass = "600 g"\n', "more than there was"),
        ('[charge]\nvolume = "30 ml"\nleft = "40 ml"\n', "line 3: charge.left = '40 ml' is more than there was, 30"),
        ('[seen]\nboil = "8:00"\nburnout = "7:00"\n', "before boil"),
        ('[seen]\nboyl = "8:00"\n', r"'boil'"),
        ('[charge]\nfuel = "methnol"\n', "methanol"),
        ('nmae = "x"\n', "'name'"),
        ("[charge\n", "cannot be read"),
    ],
)
def test_bad_conditions_are_refused(head: str, says: str) -> None:
    with pytest.raises(InputError, match=says):
        parse_bench_log(head + "---\n0 s, 15 degC", "log.csv")


@pytest.mark.parametrize(
    ("told", "litres"),
    [
        ("2 cups", 2 * 0.2365882365),
        ('"2 cups"', 2 * 0.2365882365),
        ("1 1/2 pt", 1.5 * 0.473176473),
        ("1 imp pint", 0.56826125),
        ("17 fl oz", 17 * 0.0295735295625),
        ("0,5 l", 0.5),
        ("500 ml  # of the tap", 0.5),
    ],
)
def test_water_as_people_measure_it(told: str, litres: float) -> None:
    """Cup, pint and fluid ounce: NIST Handbook 44, appendix C; imperial pint: UK Weights and Measures Act 1985."""
    log = parse_bench_log(f"[pot]\nwater = {told}\n---\n0 s, 15 degC")
    assert log.conditions.water_volume == pytest.approx(1e-3 * litres, rel=1e-9)


def test_the_head_needs_no_quotes() -> None:
    log = parse_bench_log(
        "name = porch, no. 3\ncharge.fuel = ethanol 95\npot.lid = false\nsite.humidity = 40 %\n"
        "clock.match = 14:05\nseen.boil = 2:15 pm\nseen.burnout = never\n---\n14:06, 15 degC\n14:20, 99 degC"
    )
    assert (log.name, log.conditions.lid, log.conditions.humidity) == ("porch, no. 3", False, 0.4)
    assert (log.boil.time, log.burnout.happened) == (600.0, False)


@pytest.mark.parametrize(
    ("old", "now"),
    [
        ('fuel.volume = "30 ml"', "charge.volume"),
        ('fuel.blend = "ethanol"', "charge.fuel"),
        ('water.volume = "0.5 l"', "pot.water"),
        ('water.temperature = "12 degC"', "pot.water_temperature"),
        ('water.left_mass = "400 g"', "pot.water_left_mass"),
    ],
)
def test_old_words_are_refused_with_those_of_a_design_file(old: str, now: str) -> None:
    with pytest.raises(InputError, match=rf"line 1: {old.partition(' ')[0]}.*is called {now}, as in a des"):
        parse_bench_log(old + "\n---\n0 s, 15 degC")


def test_a_thousands_comma_is_asked_about() -> None:
    with pytest.raises(InputError, match=r"may be 1\.500 ml or 1500 ml"):
        parse_bench_log('pot.water = "1,500 ml"\n---\n0 s, 15 degC')


def test_a_file_without_readings_is_refused(tmp_path: Path) -> None:
    for text in ("", HEAD, HEAD + "time [s], water [degC]\n"):
        with pytest.raises(InputError, match="no readings"):
            parse_bench_log(text)
    (tmp_path / "log.csv").write_bytes(b"\xff\xfe\x00")
    with pytest.raises(InputError, match="UTF-8"):
        read_bench_log(tmp_path / "log.csv")
    with pytest.raises(InputError, match="does not exist"):
        read_bench_log(tmp_path / "none.csv")


def test_clock_readings() -> None:
    assert read_clock("1:02:03.5", "", "t") == 3723.5
    for bad in ("-5 s", "1:2:3:4", "12:", "25 h", True, "nan"):
        with pytest.raises(InputError):
            read_clock(bad, "s", "t")


@given(st.text(alphabet=st.sampled_from(list("0123456789:.,;-# \t\n[]=\"'degCFsminwatertmfulvo?")), max_size=300))
@settings(max_examples=150)
def test_whatever_is_typed_is_read_or_refused(text: str) -> None:
    try:
        log = parse_bench_log(text)
    except InputError:
        return
    times = [row.time for row in log.readings]
    assert times == sorted(times)
    assert all(row.water is None or 271.0 < row.water < 384.0 for row in log.readings)


@given(
    st.lists(st.tuples(st.integers(0, 1700), st.floats(1.0, 99.0)), min_size=1, max_size=40),
    st.sampled_from(["s", "min", "clock"]),
    st.sampled_from(["degC", "degF", "K"]),
)
@settings(max_examples=60)
def test_readings_come_back_as_they_were_typed(pairs: list[tuple[int, float]], clock: str, unit: str) -> None:
    pairs.sort(key=lambda pair: pair[0])
    rows = []
    for time, celsius in pairs:
        told = f"{time // 60}:{time % 60:02d}" if clock == "clock" else f"{time / (60.0 if clock == 'min' else 1.0)!r}"
        value = {"degC": celsius, "degF": 1.8 * celsius + 32.0, "K": celsius + 273.15}[unit]
        rows.append(f"{told}, {value:.6f}")
    name = "mm:ss" if clock == "clock" else clock
    log = parse_bench_log(f"time [{name}], water [{unit}]\n" + "\n".join(rows))
    assert [row.time for row in log.readings] == pytest.approx([float(time) for time, _ in pairs], abs=1e-6)
    assert [row.water for row in log.readings] == pytest.approx([c + 273.15 for _, c in pairs], abs=1e-5)


@pytest.mark.parametrize(
    ("match", "times"),
    [
        ("14:05", ("14:06", "14:10", "14:17")),
        ("2:05 pm", ("2:06 pm", "2:10 pm", "2:17 pm")),
        ("14:05", ("2:06 PM", "2:10pm", "2:17 p.m.")),
        ("14:05:00", ("14:06", "14:10", "14:17")),
        ("14:05", ("14:06:00", "14:10:00", "14:17:00")),
        ("23:58", ("23:59", "0:03", "0:10")),
        ("11:58 am", ("11:59 am", "12:03 pm", "12:10 pm")),
        ("0:30", ("1:30", "5:30", "12:30")),  # a stopwatch that ran already
    ],
)
def test_times_of_day_and_of_a_stopwatch(match: str, times: tuple[str, ...]) -> None:
    head = HEAD.replace("---", f'[clock]\nmatch = "{match}"\n---')
    rows = "".join(f"{time}, {15 + k}\n" for k, time in enumerate(times))
    assert [time for time, _ in water_of("time, water [degC]\n" + rows, head)] == [60.0, 300.0, 720.0]


def test_the_column_says_what_its_times_are() -> None:
    head = HEAD.replace("---", '[clock]\nmatch = "0:30"\n[seen]\nboil = "2:30"\n---')
    for unit, factor in (("min:sec", 1.0), ("mm:ss", 1.0), ("hh:mm", 60.0)):
        log = parse_bench_log(head + f"time [{unit}], water [degC]\n0:45, 15\n1:30, 16")
        assert [row.time for row in log.readings] == [15.0 * factor, 60.0 * factor]
        assert log.boil.time == 120.0 * factor


def test_a_guess_at_the_times_is_told() -> None:
    head = HEAD.replace("---", '[clock]\nmatch = "14:05"\n---')
    log = parse_bench_log(head + "time, water [degC]\n14:06, 15\n14:10, 16\n14:17, 30")
    assert log.remarks == (
        "times such as 14:06 are read as hours and minutes: as minutes and seconds the readings would end 12 s after "
        "the match",
    )


@pytest.mark.parametrize(
    ("head", "rows", "said"),
    [
        (HEAD, "14:05, 15\n14:07, 20\n14:15, 60", "all readings would lie within 10 s"),
        (HEAD.replace("---", '[clock]\nmatch = "0:30"\n---'), "0:45, 15\n2:15, 20", "may be minutes and seconds or"),
        (HEAD, "2:05 pm, 15\n2:10 pm, 20", "is a time of day"),
        (HEAD, "13:05 pm, 15", "is no hour of half a day"),
    ],
)
def test_times_that_may_be_either_are_refused_with_the_other_reading(head: str, rows: str, said: str) -> None:
    with pytest.raises(InputError, match=said):
        parse_bench_log(head + "time, water [degC]\n" + rows)


@pytest.mark.parametrize(
    ("key", "twin"),
    [("charge.volume", "charge.mass"), ("charge.left", "charge.left_mass"), ("pot.water", "pot.water_mass")],
)
def test_what_was_weighed_is_sent_to_its_own_key(key: str, twin: str) -> None:
    with pytest.raises(InputError, match=f"is a mass, not a volume.*or {twin} = '20 g' if it was weighed"):
        parse_bench_log(f"{key} = 20 g\n---\ntime [min], water [degC]\n0, 15\n")


def test_a_note_that_only_speaks_of_a_milestone_is_told() -> None:
    rows = "time [min], water [degC], note\n0, 15\n1, 20, jets lit at last\n2, 25, flames went out as I moved it\n"
    log = parse_bench_log(HEAD + rows)
    assert [one.split(":")[0] for one in log.remarks if "is not taken for a milestone" in one] == ["line 10", "line 11"]
    assert log.bloom.happened is log.burnout.happened is None
    stated = parse_bench_log(HEAD.replace("---", "[seen]\nbloom = 0:50\nburnout = 2:00\n---") + rows)
    assert stated.remarks == ()


def test_a_decimal_comma_among_commas_is_no_note() -> None:
    for rows in ("1, 20,5\n2, 25,0", "1, 20,5, boil"):
        with pytest.raises(InputError, match="a decimal comma"):
            parse_bench_log(HEAD + "time [min], water [degC], note\n" + rows)
    assert water_of("time [min]; water [degC]; note\n0; 15,0\n1,5; 20,5; boil") == [(0.0, 15.0), (90.0, 20.5)]


def test_a_design_in_place_of_a_log_is_recognised() -> None:
    design = Path(__file__).parents[3] / "examples" / "weekend_double_wall.toml"
    with pytest.raises(InputError, match="give the log, and the design as --design"):
        read_bench_log(design)


@pytest.mark.parametrize("rows", ["time [mm:ss], water [degC]\n0:00, 12\n3:00, 40", "0:00; 12,5\n3:00; 40,1"])
def test_a_log_without_its_line_is_told_where_it_goes(rows: str) -> None:
    with pytest.raises(InputError, match=r"has no line --- between its head and its rows: .* above line 3"):
        parse_bench_log(f"charge.volume = 37 ml\npot.water = 0.6 l\n{rows}\n")


def test_a_log_that_its_design_cannot_burn_may_be_of_another_design() -> None:
    """Primer that was poured cannot go on an open cup, which has no wick: the log is not to be blamed alone."""
    log = parse_bench_log("charge.primer = 3 ml\n---\ntime [mm:ss], water [degC]\n0:00, 12\n3:00, 40\n", "monday.csv")
    with pytest.raises(InputError, match=r"monday.csv, line 1: charge.primer .* if garden open cup is not what was"):
        apply_conditions(burnsim.load(EXAMPLES / "garden_open_cup.toml"), log)
