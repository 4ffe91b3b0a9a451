"""Bench logs: what was measured on a real burn, read from one text file that is never altered.

The file begins with the conditions (TOML), then a line `---`, then the readings (rows of time and water temperature).
Without such a line, the whole file is rows, and the conditions stand in a TOML file of the same name beside it.
"""

import os
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Literal, NamedTuple

import numpy as np

from burnsim.errors import InputError
from burnsim.io.text_file import check_label, one_kind_of_line_ends, read_text
from burnsim.studies.arrays import Vector
from burnsim.studies.bench.clock import DAY, LONGEST_BURN, OF_DAY, kind_of_times, read_clock, since, split_date
from burnsim.studies.bench.conditions import MILESTONES, Conditions, Header, read_header
from burnsim.studies.bench.rows import EVENTS, MOST_TYPED, Reading, Rows, read_rows, thin
from burnsim.units import format_time, plain

RULE = "---"
MOST_HEAD = 2000  # lines
LARGEST_LOG = 60_000_000  # a million rows [bytes]
LATE = 1800.0  # a first reading so long after the match is a time of day [s]
APART = 3.0  # two statements of one milestone that differ by more are worth a remark [s]


class Sighting(NamedTuple):
    """What a log says of a milestone: when it was seen, that it was not, or nothing."""

    time: float | None  # from the match [s]
    happened: bool | None  # None: the log does not say
    line: int | None  # of the note that states it; None: it stands under [seen]


class Measured(NamedTuple):
    """A value of one row."""

    line: int  # in the file
    time: float  # from the match [s]
    value: float


@dataclass(frozen=True)
class BenchLog:
    """What was measured on one real burn.

    Attributes
    ----------
    name, build, note, date : as stated, empty otherwise; logs of one build are repeats of each other
    source : the file
    conditions : what was measured once
    readings : rows with their times from the match, in the order of time
    bloom, boil, burnout, spill : milestones as seen
    remarks : what was read in a way that deserves a look
    places : file, line and key of each condition that is stated, by its field of `Conditions`
    """

    name: str
    build: str
    note: str
    date: str
    source: str
    conditions: Conditions
    readings: tuple[Reading, ...]
    bloom: Sighting
    boil: Sighting
    burnout: Sighting
    spill: Sighting
    remarks: tuple[str, ...]
    places: Mapping[str, str]

    def water(self) -> tuple[Vector, Vector]:
        """Times [s] and water temperatures [K] of the rows that have one, each of shape (n,)."""
        return _columns(self.measured("water"))

    def weighed(self) -> tuple[Vector, Vector]:
        """Times [s] and readings of the scale [kg] of the rows that have one, each of shape (n,)."""
        return _columns(self.measured("mass"))

    def measured(self, what: Literal["water", "mass"]) -> list[Measured]:
        """The rows that have a temperature of the water [K], or a reading of the scale [kg]."""
        rows = ((row.line, row.time, getattr(row, what)) for row in self.readings)
        return [Measured(*row) for row in rows if row[2] is not None]


def read_bench_log(path: str | os.PathLike[str]) -> BenchLog:
    """Read a bench log; the file is never altered.

    Parameters
    ----------
    path : text file: TOML conditions, a line `---`, then rows of time and water temperature. Times are written "12:30"
        (minutes and seconds, or the time of day; what is neither for sure is refused), "1:02:03", "2:05 pm", "312 s" or
        as bare numbers in the unit of the column's name; temperatures "64 degF" or as bare numbers likewise.
        Empty lines, "#" comments and missing readings ("", "-", "?") are passed over. A note such as "bloom" or "boils"
        states a milestone, as does [seen]. `clock.match` is the clock's reading when the match was struck, 0 if left
        out.

    Raises
    ------
    InputError
        Names file, line, what stands there and what to do.
    """
    text = read_text(path, "bench log", LARGEST_LOG, foreign=True)
    source = os.fspath(path)
    check_label(Path(source).stem, "name of the file")
    return parse_bench_log(text, source)


def read_logs(logs: "Sequence[BenchLog | str | os.PathLike[str]]") -> list[BenchLog]:
    """Bench logs, those given as files read; an `InputError` for what is no list of them."""
    if isinstance(logs, str | os.PathLike | BenchLog) or not isinstance(logs, Sequence):
        raise InputError("logs", logs, "is not a list", "give a list of logs")
    return [one if isinstance(one, BenchLog) else read_bench_log(one) for one in logs]


def parse_bench_log(text: str, source: str = "log") -> BenchLog:
    """Read a bench log from a text; see `read_bench_log`.

    Parameters
    ----------
    text : as in a file
    source : what to call it in errors

    >>> text = 'pot.water = "0.5 l"\\n---\\ntime [min], water [degF], note\\n0, 59\\n2:30, 75.2, bloom'
    >>> log = parse_bench_log(text)
    >>> round(log.readings[1].water, 2), log.bloom.time
    (297.15, 150.0)
    """
    name = Path(source).name
    head, rows, first_row = _halves(one_kind_of_line_ends(text), source)
    header = read_header(*head)
    found = read_rows(rows, name, first_row, header.texts, header.match, header.columns)
    if found is None:  # a log of milestones only
        texts = [raw for raw in header.seen.values() if isinstance(raw, str) and ":" in raw]
        kind = kind_of_times(sorted(texts, key=len), "", header.match, f"{name}: seen")[0] if texts else ""
        found = Rows(readings=iter(()), size=0, times=kind, days={}, last=0.0, remarks=[])
    unit, given = found.times or header.texts.get("time_unit", ""), header.conditions
    start = _match(header.match, unit, found, name)
    moved, thinned = _from_match(found, header.match is not None, start, name), found.size > MOST_TYPED
    readings = tuple(thin(moved, given.u_reading, given.u_mass) if thinned else moved)
    remarks = list(found.remarks)
    if thinned:
        remarks.append(f"{found.size} rows were thinned to {len(readings)} readings")
    clock = (start % DAY if found.days else start, unit)
    seen = {mark: _sighting(mark, header, readings, clock, name, remarks) for mark in MILESTONES}
    remarks += _missed(seen, readings)
    measured = any(row.water is not None or row.mass is not None for row in readings)
    if not measured and all(one.happened is None for one in seen.values()):
        raise InputError(name, None, "has no readings", "write rows of time and water temperature below the line ---")
    for earlier, later in (("bloom", "burnout"), ("boil", "burnout")):
        first, second = seen[earlier].time, seen[later].time
        if first is not None and second is not None and second < first:
            raise InputError(f"{name}: {later}", second, f"is before {earlier} at {first:.0f} s", "check both times")
    build, note, date = (header.texts.get(key, "") for key in ("build", "note", "date"))
    return BenchLog(
        name=header.texts.get("name", Path(source).stem), build=build, note=note, date=date, source=source,
        conditions=header.conditions, readings=readings, bloom=seen["bloom"], boil=seen["boil"],
        burnout=seen["burnout"], spill=seen["spill"], remarks=tuple(remarks), places=header.places,
    )  # fmt: skip


_ROW = re.compile(r"\s*(\"?time\b[^=]*$|\d[\d:.]*\s*[,;\t])", re.IGNORECASE)
"""How the rows of a log begin: with the names of its columns, or with a time."""


def _halves(text: str, source: str) -> tuple[tuple[str, str, int], str, int]:
    """Head (with its file's name and first line), rows, and the number of their first line."""
    name = Path(source).name
    lines = text.split("\n", MOST_HEAD)
    first = 1 if lines[0].strip() == RULE else 0  # a rule before the head too is allowed
    rule = next((k for k, line in enumerate(lines[first:], first) if line.strip() == RULE), None)
    if rule is not None:
        return ("\n".join(lines[first:rule]), name, first + 1), "\n".join(lines[rule + 1 :]), rule + 2
    begin = next((line for line in lines if line.strip() and not line.lstrip().startswith("#")), "")
    typed = Path(source).suffix.casefold() == ".toml"
    if typed or re.match(r"\s*(\[[\w.]+\]|[\w.]+\s*=)", begin):
        row = None if typed else next((k for k, line in enumerate(lines, 1) if _ROW.match(line)), None)
        if row is not None:
            remedy = f"write --- on a line of its own above line {row}"
            raise InputError(name, None, "has no line --- between its head and its rows", remedy)
        return (text, name, 1), "", len(lines) + 1
    beside = Path(source).with_suffix(".toml")
    if beside.is_file():
        return (read_text(beside, "file of conditions"), beside.name, 1), text, 1
    return ("", name, 1), text, 1


def _match(match: object | None, unit: str, found: Rows, name: str) -> float:
    """The clock's reading when the match was struck [s]; with dates, from the midnight before the first row."""
    if match is None:
        return 0.0
    where = f"{name}: clock.match"
    date, clock = split_date(str(match))
    start = read_clock(clock, unit, where)
    if not found.days:
        return start
    if date:
        return start + DAY * found.days.get(date, -1)
    inside = [start + DAY * day for day in range(len(found.days)) if start + DAY * day <= found.last]
    if len(inside) > 1:
        days = ", ".join(list(found.days)[:3])
        raise InputError(where, match, f"comes on several days of the file: {days}", "write the date before it")
    return inside[0] if inside else start - DAY


def _from_match(found: Rows, stated: bool, start: float, name: str) -> Iterator[Reading]:
    """Count times from the match; past midnight the clock goes on. What a logger wrote before or long after is left."""
    strict = found.size <= MOST_TYPED and not found.days
    before, late, last = 0, 0, 0.0
    for k, row in enumerate(found.readings):
        time = row.time - start if found.days else since(row.time, start)
        if not stated and row.time > LATE and k == 0:
            raise InputError(
                f"{name}, line {row.line}: time", plain(format_time(row.time)),
                "is a time of day, or half an hour after the match",
                'say when the match was struck: clock.match = "14:03:20", in the head or in '
                f"{Path(name).stem}.toml beside the file",
            )  # fmt: skip
        if time < 0.0 and strict:
            problem = "is before the match"
            raise InputError(f"{name}, line {row.line}: time", row.time, problem, "check it, and clock.match")
        if time < 0.0 or (time > LONGEST_BURN and not strict):
            before, late = before + (time < 0.0), late + (time > 0.0)
            continue
        if time < last:
            problem = "goes back behind the row above"
            raise InputError(f"{name}, line {row.line}: time", row.time, problem, "check both, or mark it #")
        last = time
        yield row._replace(time=time)
    for count, when in ((before, "before the match"), (late, "more than three hours after it")):
        if count:
            found.remarks.append(f"left out: {count} row{'s' * (count > 1)} {when}")


def _sighting(
    mark: str, header: Header, readings: tuple[Reading, ...], clock: tuple[float, str], name: str, remarks: list[str]
) -> Sighting:
    noted, raw = next((row for row in readings if row.event() == mark), None), header.seen.get(mark)
    if raw is None or raw is True:
        return Sighting(None, raw, None) if noted is None else Sighting(noted.time, True, noted.line)
    if raw is False or str(raw).strip().casefold() in ("never", "no", "none"):
        if noted is not None:
            raise InputError(f"{name}, line {noted.line}: note", noted.note, f"but seen.{mark} says never", "keep one")
        return Sighting(None, False, None)
    time = read_clock(split_date(str(raw))[1], clock[1], f"{name}: seen.{mark}")
    if ":" in str(raw) or clock[1] != OF_DAY:  # "9 min 20 s" is no time of day
        time = since(time, clock[0])
    if time < 0.0:
        problem = "is before the match"
        raise InputError(f"{name}: seen.{mark}", raw, problem, "check it, and clock.match; or write '560 s' after it")
    if noted is not None and abs(noted.time - time) > APART:
        remarks.append(
            f"{mark}: [seen] says {time:.0f} s and the note in line {noted.line} {noted.time:.0f} s; the first is used"
        )
    return Sighting(time, True, None)


def _missed(seen: Mapping[str, Sighting], readings: tuple[Reading, ...]) -> Iterator[str]:
    """Notes that speak of a milestone which the log does not state, in more words than are taken for it."""
    for mark, words in EVENTS.items():
        spoken = re.compile(rf"\b({'|'.join(words)})\b")
        for row in readings:
            if seen[mark].happened is None and row.event() is None and spoken.search(row.note.casefold()):
                yield (
                    f"line {row.line}: the note {row.note!r} is not taken for a milestone; "
                    f"if it states one, write seen.{mark} in the head"
                )
                break


def _columns(rows: list[Measured]) -> tuple[Vector, Vector]:
    return np.array([row.time for row in rows]), np.array([row.value for row in rows])
