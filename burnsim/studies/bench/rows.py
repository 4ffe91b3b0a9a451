"""Readings of a bench log: rows of time, water temperature, mass and notes, as people type them and loggers write."""

import csv
import io
import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from itertools import groupby, islice
from statistics import fmean, median
from typing import NamedTuple

from burnsim.errors import InputError
from burnsim.io.text_file import check_label
from burnsim.studies.bench.clock import DAY, OF_DAY, STOPWATCH, kind_of_times, read_clock, split_date
from burnsim.studies.bench.columns import COLDEST, DIMENSION, HOTTEST, MISSING, NUMBER, Column, find_units, lay_out
from burnsim.units import parse

MOST_ROWS = 1_000_000
MOST_TYPED = 500  # rows; a longer log was written by a logger
LOOKED_AT = 60  # lines among which the names of the columns are
SAMPLE = 1000  # rows from which the kind of the times and the units are told
KEPT = ("time", "date", "water", "mass", "note")
DECIMAL = re.compile(r"(\d),(\d)")
EVENTS = {
    "bloom": ("bloom", "blooms", "bloomed", "jets lit", "jets light", "jets alight"),
    "boil": ("boil", "boils", "boiled", "boiling", "rolling boil", "full boil"),
    "burnout": ("burn-out", "burnout", "burnt out", "burned out", "flame out", "flames out", "out", "went out"),
    "spill": ("spill", "spills", "spilled", "spilt"),
}
"""Notes that are taken for milestones; any other note is kept and not interpreted."""


class Reading(NamedTuple):
    """One row of a log."""

    line: int  # in the file
    time: float  # on the log's clock, later from the match [s]
    water: float | None  # [K]
    mass: float | None  # on the scale [kg]
    note: str

    def event(self) -> str | None:
        """The milestone that the note states, if it states one."""
        plain = self.note.strip().strip(".!").casefold()
        return next((name for name, words in EVENTS.items() if plain in words), None)


class Rows(NamedTuple):
    """The readings of a log, and how its times were read."""

    readings: Iterator[Reading]  # in the order of the file, read as they are asked for; at least one
    size: int  # how many rows the file has
    times: str  # unit of bare numbers and of "12:30", see `burnsim.studies.bench.clock.read_clock`
    days: Mapping[str, int]  # number of each date, the first being 0; empty where rows bear none
    last: float  # time of the last row where rows bear dates [s]
    remarks: list[str]  # what was read in a way that deserves a look; grows while the readings are read


def read_rows(
    text: str,
    name: str,
    first_line: int,
    units: Mapping[str, str],
    match: object | None = None,
    stated: Mapping[str, object] | None = None,
) -> Rows | None:
    """Read the rows of a log; None where there is not one.

    Rows are parted by commas, semicolons or tabs; a first row of names is optional; "#" begins a comment. `units` are
    those of bare numbers where the first row does not say, `match` is the clock's reading when the match was struck,
    `stated` the name or number of the column of a kind. An `InputError` names file and line, what stands there and
    what to do; some of it comes when the readings are read.
    """
    head = list(islice(_lines(text, first_line), LOOKED_AT))
    if not head:
        return None
    separator = _separator([raw for _, raw in head])
    remarks: list[str] = []
    plain = [(number, _plain_cells(raw, separator)) for number, raw in head]
    columns, above = lay_out(plain, units, stated or {}, name, remarks)
    count = sum(1 for _ in _lines(text, first_line)) - above
    if count < 1:
        return None
    if count > MOST_ROWS:
        problem = f"has {count} rows; allowed up to {MOST_ROWS}"
        raise InputError(name, None, problem, "keep one row a second")

    apart = 1 + count // SAMPLE
    rows, again = (islice(_lines(text, first_line), above, None) for _ in (0, 1))
    split = ((number, _cells(raw, separator)) for number, raw in rows)
    sample = [
        (number, _plain_cells(raw, separator))
        for k, (number, raw) in enumerate(again)
        if k % apart == 0 or k == count - 1
    ]
    find_units(columns, sample, name, remarks)
    kind, days = _clock(columns, sample, match, name, remarks)
    typed = count <= MOST_TYPED
    columns = [Column("time", kind) if column.kind == "time" else column for column in columns]
    read = _reader(columns, separator, days, typed, name)
    last = read(*sample[-1]).time if days else 0.0
    return Rows(_readings(split, read, typed, remarks), count, kind, days, last, remarks)


def _readings(
    rows: Iterator[tuple[int, list[str]]], read: Callable[[int, list[str]], Reading], typed: bool, remarks: list[str]
) -> Iterator[Reading]:
    """Read row by row; what a logger's sensor cannot have meant is left out, what a person wrote is refused."""
    odd: list[int] = []
    for number, cells in rows:
        try:
            yield read(number, cells)
        except Unlikely:
            if typed:
                raise
            odd.append(number)
    if odd:
        remarks.append(f"{len(odd)} readings that cannot be were left out, the first in line {odd[0]}")


class Unlikely(InputError):
    """A reading that can be read, and cannot be."""


def _lines(text: str, first_line: int) -> Iterator[tuple[int, str]]:
    """Lines that hold something, with their numbers, without their comments."""
    for number, raw in enumerate(io.StringIO(text), first_line):
        line = re.split(r"(?:^|\s)#", raw, maxsplit=1)[0] if "#" in raw else raw
        if line.strip(" \t,;\n"):
            yield number, line.rstrip("\n")


def _separator(rows: list[str]) -> str:
    """What parts the cells of most rows; lines above the columns do not count where there are rows."""
    rows = [row for row in rows if re.match(r'[\s"]*[\d+-]', row)] or rows
    for candidate in (";", "\t"):
        if sum(candidate in row for row in rows) > len(rows) // 2:
            return candidate
    return ","


def _cells(raw: str, separator: str) -> list[str]:
    parted = raw.split(separator)
    if '"' in raw:
        with suppress(csv.Error, StopIteration):
            parted = next(csv.reader([raw], delimiter=separator, skipinitialspace=True))
    cells = [cell.strip().strip('"').strip() for cell in parted]
    while len(cells) > 1 and not cells[-1]:
        cells.pop()
    return cells


def _plain_cells(raw: str, separator: str) -> list[str]:
    """Cells with decimal points: where commas do not part the cells, one between figures is a decimal comma."""
    cells = _cells(raw, separator)
    return cells if separator == "," else [DECIMAL.sub(r"\1.\2", cell) for cell in cells]


def _clock(
    columns: list[Column], sample: list[tuple[int, list[str]]], match: object | None, name: str, remarks: list[str]
) -> tuple[str, dict[str, int]]:
    """What "12:30" is in this log, and the days that it has."""
    kinds = [column.kind for column in columns]
    place = kinds.index("time")
    beside = kinds.index("date") if "date" in kinds else None
    days: dict[str, int] = {}
    times = []
    for _, cells in sample:
        if len(cells) <= place:
            continue
        date, time = split_date(cells[place])
        date = cells[beside] if beside is not None and len(cells) > beside else date
        if date:
            days.setdefault(date, len(days))
        times.append(time)
    if days:
        return OF_DAY, days
    kind, remark = kind_of_times(times, columns[place].unit, match, f"{name}, line {sample[0][0]}: time")
    remarks += [remark] if remark else []
    return kind, days


def _reader(
    columns: list[Column], separator: str, days: dict[str, int], typed: bool, name: str
) -> Callable[[int, list[str]], Reading]:
    """A function that reads the cells of one row."""
    kinds = [column.kind for column in columns]
    units = {column.kind: column.unit for column in columns}
    scales = {kind: _scale(unit, kind) for kind, unit in units.items() if kind in DIMENSION}
    places = {kind: kinds.index(kind) for kind in KEPT if kind in kinds}

    def measured(kind: str, cell: str, number: int) -> float | None:
        if cell.casefold() in MISSING:
            return None
        scale = scales[kind]
        if NUMBER.fullmatch(cell):
            if scale is None:
                example = "water [degC]' or 'water [degF]" if kind == "water" else "mass [g]"
                problem = "has no unit, and its column has none"
                raise InputError(f"{name}, line {number}: {kind}", cell, problem, f"name the column '{example}'")
            return scale[0] + scale[1] * float(cell)
        return parse(cell, DIMENSION[kind], f"{name}, line {number}: {kind}")

    def clock(cell: str, date: str, number: int) -> float:
        scale = scales["time"]
        if scale is not None and NUMBER.fullmatch(cell) and cell[0] not in "+-":
            return scale[0] + scale[1] * float(cell)
        inside, cell = split_date(cell)
        date = date or inside
        day = DAY * days.setdefault(date, len(days)) if date else 0.0
        return day + read_clock(cell, units["time"], f"{name}, line {number}: time")

    def read(number: int, cells: list[str]) -> Reading:
        if len(cells) > len(columns):
            cells = _joined(cells, kinds, separator, f"{name}, line {number}")
        told = {kind: cells[place] for kind, place in places.items() if place < len(cells)}
        if told.get("time", "").casefold() in MISSING:
            remedy = "give the time of each row, or mark it with #"
            raise InputError(f"{name}, line {number}", separator.join(cells), "has no time", remedy)
        note = told.get("note", "")
        if note:
            _check_note(note, told, separator, f"{name}, line {number}: note")
        if separator != ",":
            told = {kind: DECIMAL.sub(r"\1.\2", cell) for kind, cell in told.items()}
        time = clock(told["time"], told.get("date", ""), number)
        water = measured("water", told["water"], number) if "water" in told else None
        mass = measured("mass", told["mass"], number) if "mass" in told else None
        if water is not None and not COLDEST <= water <= HOTTEST:
            raise Unlikely(
                f"{name}, line {number}: water", told["water"],
                "cannot be the temperature of water in a pot; allowed -2 degC to 110 degC",
                "check the number and its unit, or mark the row with #",
            )  # fmt: skip
        if mass is not None and mass <= 0.0 and typed:  # a logger's scale may have been set to 0 with the burner on it
            remedy = "check the number, or leave it empty"
            raise InputError(f"{name}, line {number}: mass", told["mass"], "is not above 0", remedy)
        return Reading(number, time, water, mass, note)

    return read


def _scale(unit: str, kind: str) -> tuple[float, float] | None:
    """Zero and size of a unit in SI; None for no unit and for times of a clock."""
    if unit in ("", STOPWATCH, OF_DAY):
        return None
    zero = parse(f"0 {unit}", DIMENSION[kind])
    return zero, parse(f"1 {unit}", DIMENSION[kind]) - zero


def _joined(cells: list[str], kinds: list[str], separator: str, where: str) -> list[str]:
    """A note at the end may hold what parts the cells."""
    if kinds[-1] != "note":
        raise InputError(
            where, separator.join(cells), f"has {len(cells)} cells; there are {len(kinds)} columns",
            "write a decimal point, not a comma, or part the cells by semicolons",
        )  # fmt: skip
    kept = len(kinds) - 1
    return [*cells[:kept], f"{separator} ".join(cells[kept:])]


def _check_note(note: str, told: Mapping[str, str], separator: str, where: str) -> None:
    whole = any(re.fullmatch(r"[+-]?\d+", told.get(kind, "")) for kind in ("water", "mass"))
    if separator == "," and whole and re.fullmatch(r"[+-]?\d+(\.\d*)?(,.*)?", note):
        remedy = "write a decimal point, or part the cells by semicolons; a note begins with a letter"
        raise InputError(where, note, "begins with a number: a comma in this row may be a decimal comma", remedy)
    check_label(note, where)


STEP = 2.0  # readings closer than this are taken together, as their median [s]
LONGEST_STEP = 30.0  # what does not change is told at least so often [s]


def thin(readings: Iterable[Reading], temperature: float, mass: float) -> Iterator[Reading]:
    """Take readings together while they say the same.

    Readings within 2 s of each other become one: their median, which a loose contact does not move. Of these, such as
    stay within the error of one reading of the first of them become one: their mean, at the mean of their times, for
    30 s at most. A row with a note stays as it is. So what changes keeps its shape to within 2 s, and what does not is
    told twice a minute. Readings come in the order of time; `temperature` [K] and `mass` [kg] are the errors of one.
    """
    run: list[Reading] = []
    for _, group in groupby(readings, lambda row: (row.time // STEP, row.line if row.note else 0)):
        reading = _one(list(group), median)
        fits = (
            run
            and not reading.note
            and not run[-1].note
            and reading.time - run[0].time < LONGEST_STEP
            and _near(reading.water, run[0].water, temperature)
            and _near(reading.mass, run[0].mass, mass)
        )
        if run and not fits:
            yield _one(run, fmean)
            run = []
        run.append(reading)
    if run:
        yield _one(run, fmean)


def _near(value: float | None, first: float | None, error: float) -> bool:
    return value is first if value is None or first is None else abs(value - first) <= error


def _one(rows: Sequence[Reading], middle: Callable[[Sequence[float]], float]) -> Reading:
    """One reading for several, at the mean of their times, on the line of the first."""
    if len(rows) == 1:
        return rows[0]
    water = [row.water for row in rows if row.water is not None]
    mass = [row.mass for row in rows if row.mass is not None]
    return Reading(
        line=rows[0].line, time=fmean([row.time for row in rows]), water=middle(water) if water else None,
        mass=middle(mass) if mass else None, note="",
    )  # fmt: skip
