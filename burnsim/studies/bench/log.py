"""Bench logs: what was measured on a real burn, read from one text file that is never altered.

The file begins with the conditions (TOML), then a line `---`, then the readings (rows of time and water temperature).
Without such a line, the whole file is rows, and the conditions stand in a TOML file of the same name beside it.
"""

import os
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from burnsim.errors import InputError
from burnsim.io.text_file import check_label, one_kind_of_line_ends, read_text
from burnsim.studies.bench.clock import read_clock, since
from burnsim.studies.bench.conditions import MILESTONES, Conditions, Header, read_header
from burnsim.studies.bench.rows import Reading, read_rows

RULE = "---"
LATE = 1800.0  # a first reading so long after the match is a time of day [s]
APART = 3.0  # two statements of one milestone that differ by more are worth a remark [s]

Vector = NDArray[np.float64]


class Sighting(NamedTuple):
    """What a log says of a milestone: when it was seen, that it was not, or nothing."""

    time: float | None  # from the match [s]
    happened: bool | None  # None: the log does not say
    line: int | None  # of the note that states it; None: it stands under [seen]


NOT_NOTED = Sighting(None, None, None)


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
        kept = [(row.time, row.water) for row in self.readings if row.water is not None]
        return _columns(kept)

    def weighed(self) -> tuple[Vector, Vector]:
        """Times [s] and readings of the scale [kg] of the rows that have one, each of shape (n,)."""
        kept = [(row.time, row.mass) for row in self.readings if row.mass is not None]
        return _columns(kept)


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
    text = read_text(path, "bench log")
    source = os.fspath(path)
    check_label(Path(source).stem, "name of the file")
    return parse_bench_log(text, source)


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
    head, rows, first = _halves(one_kind_of_line_ends(text), source)
    header = read_header(head[0], head[1], head[2])
    found = read_rows(rows, name, first, header.texts, header.match)
    start = 0.0 if header.match is None else read_clock(header.match, found.times, f"{name}: clock.match")
    readings = _from_match(found.readings, header.match is not None, start, name)
    remarks = [found.remark] if found.remark else []
    unit = found.times or header.texts.get("time_unit", "")
    seen = {mark: _sighting(mark, header, readings, (start, unit), name, remarks) for mark in MILESTONES}
    _check_order(seen, name)
    return BenchLog(
        header.texts.get("name", Path(source).stem),
        header.texts.get("build", ""),
        header.texts.get("note", ""),
        header.texts.get("date", ""),
        source,
        header.conditions,
        readings,
        seen["bloom"],
        seen["boil"],
        seen["burnout"],
        seen["spill"],
        tuple(remarks),
        header.places,
    )


def _halves(text: str, source: str) -> tuple[tuple[str, str, int], str, int]:
    """Head (with its file's name and first line), rows, and the number of their first line."""
    name = Path(source).name
    lines = text.split("\n")
    first = 1 if lines[0].strip() == RULE else 0  # a rule before the head too is allowed
    rule = next((k for k, line in enumerate(lines[first:], first) if line.strip() == RULE), None)
    if rule is not None:
        return ("\n".join(lines[first:rule]), name, first + 1), "\n".join(lines[rule + 1 :]), rule + 2
    if Path(source).suffix.casefold() == ".toml":
        raise InputError("file", source, "has no readings", "put a line --- below the conditions, then the readings")
    beside = Path(source).with_suffix(".toml")
    if beside.is_file():
        return (read_text(beside, "file of conditions"), beside.name, 1), text, 1
    return ("", name, 1), text, 1


def _from_match(readings: tuple[Reading, ...], stated: bool, start: float, name: str) -> tuple[Reading, ...]:
    """Count times from the match; past midnight the clock goes on."""
    if not stated and readings[0].time > LATE:
        raise InputError(
            f"{name}, line {readings[0].line}: time",
            readings[0].time,
            "is a time of day, or half an hour after the match",
            'say when the match was struck: [clock] match = "14:03:20"',
        )
    moved: list[Reading] = []
    for row in readings:
        time = since(row.time, start)
        if time < 0.0:
            raise InputError(
                f"{name}, line {row.line}: time", row.time, "is before the match", "check it, and clock.match"
            )
        if moved and time < moved[-1].time:
            raise InputError(
                f"{name}, line {row.line}: time", row.time, "goes back behind the row above", "check both, or mark it #"
            )
        moved.append(row._replace(time=time))
    return tuple(moved)


def _sighting(
    mark: str, header: Header, readings: tuple[Reading, ...], clock: tuple[float, str], name: str, remarks: list[str]
) -> Sighting:
    noted = next((row for row in readings if row.event() == mark), None)
    if mark not in header.seen:
        return NOT_NOTED if noted is None else Sighting(noted.time, True, noted.line)
    raw = header.seen[mark]
    if raw is False or (isinstance(raw, str) and raw.strip().casefold() in ("never", "no", "none")):
        if noted is not None:
            raise InputError(f"{name}, line {noted.line}: note", noted.note, f"but seen.{mark} says never", "keep one")
        return Sighting(None, False, None)
    if raw is True:
        return Sighting(None if noted is None else noted.time, True, None if noted is None else noted.line)
    time = since(read_clock(raw, clock[1], f"{name}: seen.{mark}"), clock[0])
    if time < 0.0:
        raise InputError(f"{name}: seen.{mark}", raw, "is before the match", "check it, and clock.match")
    if noted is not None and abs(noted.time - time) > APART:
        remarks.append(
            f"{mark}: [seen] says {time:.0f} s and the note in line {noted.line} {noted.time:.0f} s; the first is used"
        )
    return Sighting(time, True, None)


def _check_order(seen: dict[str, Sighting], name: str) -> None:
    for earlier, later in (("bloom", "burnout"), ("boil", "burnout")):
        first, second = seen[earlier].time, seen[later].time
        if first is not None and second is not None and second < first:
            raise InputError(f"{name}: {later}", second, f"is before {earlier} at {first:.0f} s", "check both times")


def _columns(pairs: list[tuple[float, float]]) -> tuple[Vector, Vector]:
    table = np.array(pairs, dtype=np.float64).reshape(-1, 2)
    return table[:, 0].copy(), table[:, 1].copy()
