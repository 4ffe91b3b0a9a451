"""Readings of a bench log: rows of time, water temperature, mass and notes, as people type them."""

import re
from collections.abc import Mapping
from typing import NamedTuple

from burnsim.errors import InputError
from burnsim.io.text_file import check_label
from burnsim.studies.bench.clock import OF_DAY, STOPWATCH, TIME_UNITS, kind_of_times, read_clock
from burnsim.units import parse

COLDEST, HOTTEST = 271.15, 383.15  # what a thermometer in a pot of water can show [K]
MOST_ROWS = 50_000  # four a second for three hours
MISSING = frozenset({"", "-", "--", "?", "na", "n/a", "nan", "none", "missing", "x"})
KINDS = {
    "time": ("time", "t", "clock", "stopwatch", "elapsed", "when"),
    "water": ("water", "temperature", "temp", "watertemperature", "thermometer", "tw"),
    "mass": ("mass", "weight", "scale", "burner", "fuel"),
    "note": ("note", "notes", "remark", "remarks", "event", "comment", "seen"),
}
BARE_UNITS = ("c", "f", "k", "degc", "degf", "s", "sec", "min", "g", "kg")
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


class Column(NamedTuple):
    """What a column holds, and in what unit a bare number in it is."""

    kind: str
    unit: str


class Rows(NamedTuple):
    """The readings of a log, and how its times were read."""

    readings: tuple[Reading, ...]  # in the order of the file; at least one
    times: str  # unit of bare numbers and of "12:30", see `burnsim.studies.bench.clock.read_clock`
    remark: str  # on what was left open; "" if nothing was


def read_rows(text: str, name: str, first_line: int, units: Mapping[str, str], match: object | None = None) -> Rows:
    """Read the rows of a log.

    Parameters
    ----------
    text : rows parted by commas, semicolons or tabs; a first row of names is optional; "#" begins a comment
    name : of the file, for errors
    first_line : number of the first line of `text` in its file
    units : units of bare numbers where the first row does not say: `time_unit`, `temperature_unit`, `mass_unit`
    match : the clock's reading when the match was struck; None if it is not stated

    Returns
    -------
    Rows

    Raises
    ------
    InputError
        Names file and line, what stands there and what to do.
    """
    lines = [(first_line + k, _uncommented(raw)) for k, raw in enumerate(text.split("\n"))]
    lines = [(number, raw) for number, raw in lines if raw.strip(" \t,;")]
    if not lines:
        raise InputError(name, None, "has no readings", "write rows of time and water temperature below the line ---")
    separator = _separator([raw for _, raw in lines])
    columns = _columns(_cells(lines[0][1], separator), units, f"{name}, line {lines[0][0]}")
    if columns is None:
        columns = [
            Column("time", units.get("time_unit", "")),
            Column("water", units.get("temperature_unit", "")),
            Column("note", ""),
        ]
    else:
        lines = lines[1:]
    if not lines:
        raise InputError(name, None, "has no readings", "write rows of time and water temperature")
    if len(lines) > MOST_ROWS:
        problem = f"has {len(lines)} rows; allowed up to {MOST_ROWS}"
        raise InputError(name, None, problem, "keep one row a second")
    split = [(number, _cells(raw, separator)) for number, raw in lines]
    place = next(k for k, column in enumerate(columns) if column.kind == "time")
    times = [_decimal(cells[place], separator) for _, cells in split if len(cells) > place]
    where = f"{name}, line {split[0][0]}: time"
    kind, remark = kind_of_times(times, columns[place].unit, match, where)
    columns[place] = Column("time", kind)
    return Rows(tuple(_reading(number, cells, columns, separator, name) for number, cells in split), kind, remark)


def _uncommented(raw: str) -> str:
    return re.split(r"(?:^|\s)#", raw, maxsplit=1)[0]


def _separator(rows: list[str]) -> str:
    for candidate in (";", "\t"):
        if sum(candidate in row for row in rows) > len(rows) // 2:
            return candidate
    return ","


def _cells(raw: str, separator: str) -> list[str]:
    cells = [cell.strip().strip('"').strip() for cell in raw.split(separator)]
    while len(cells) > 1 and not cells[-1]:
        cells.pop()
    return cells


def _columns(cells: list[str], units: Mapping[str, str], where: str) -> list[Column] | None:
    """Read the names of the columns; None if the row holds none."""
    if re.match(r"[\d.+-]", cells[0]):
        return None
    columns = []
    for cell in cells:
        head, unit = _parted(cell)
        kind = next((kind for kind, words in KINDS.items() if head in words), None)
        if kind is None:
            allowed = ", ".join(words[0] for words in KINDS.values())
            raise InputError(f"{where}: column", cell, f"is not known; allowed: {allowed}", "rename or remove it")
        stated = {"time": "time_unit", "water": "temperature_unit", "mass": "mass_unit"}.get(kind, "")
        unit = unit or units.get(stated, "")
        if unit and kind == "time":
            unit = TIME_UNITS.get(unit.casefold(), unit)
        if unit and unit not in (STOPWATCH, OF_DAY) and kind != "note":
            parse(
                f"1 {unit}", {"time": "time", "water": "temperature", "mass": "mass"}[kind], f"{where}: column {cell}"
            )
        columns.append(Column(kind, unit))
    kinds = [column.kind for column in columns]
    for kind in ("time", "water", "mass"):
        if kinds.count(kind) > 1:
            raise InputError(f"{where}: columns", ", ".join(cells), f"name two for {kind}", "keep one of them")
    if "time" not in kinds:
        raise InputError(f"{where}: columns", ", ".join(cells), "name none for the time", "name one of them 'time [s]'")
    return columns


def _parted(cell: str) -> tuple[str, str]:
    """Name and unit of a column: "Water temp (degF)" or "water_C"."""
    bracket = re.search(r"[\[(](.*?)[\])]", cell)
    bare = (cell[: bracket.start()] if bracket else cell).strip().casefold()
    unit = bracket.group(1).strip() if bracket else ""
    words = re.split(r"[\s_]+", bare)
    if not bracket and len(words) > 1 and words[-1] in BARE_UNITS:
        unit = re.split(r"[\s_]+", cell.strip())[-1]  # with its capitals
        words = words[:-1]
    plain = "".join(words)
    aliases = {"watertemp": "water", "watertemperature": "water", "burnermass": "mass", "fuelmass": "mass"}
    return aliases.get(plain, plain), unit


def _reading(number: int, cells: list[str], columns: list[Column], separator: str, name: str) -> Reading:
    where = f"{name}, line {number}"
    kinds = [column.kind for column in columns]
    if len(cells) > len(columns):
        if kinds[-1] == "note":
            kept = len(columns) - 1
            cells = [*cells[:kept], f"{separator} ".join(cells[kept:])]
        else:
            raise InputError(
                where,
                separator.join(cells),
                f"has {len(cells)} cells; there are {len(columns)} columns",
                "write a decimal point, not a comma, or part the cells by semicolons",
            )
    values = dict(zip(kinds, cells, strict=False))
    unit = {column.kind: column.unit for column in columns}
    if values.get("time", "").casefold() in MISSING:
        raise InputError(where, separator.join(cells), "has no time", "give the time of each row, or mark it with #")
    note = values.get("note", "")
    whole = [kind for kind in ("water", "mass") if re.fullmatch(r"[+-]?\d+", values.get(kind, ""))]
    if separator == "," and whole and re.fullmatch(r"[+-]?\d+(\.\d*)?(,.*)?", note):
        raise InputError(
            f"{where}: note", note, "begins with a number: a comma in this row may be a decimal comma",
            "write a decimal point, or part the cells by semicolons; a note begins with a letter",
        )  # fmt: skip
    check_label(note, f"{where}: note")
    raw = {kind: _decimal(values.get(kind, ""), separator) for kind in ("time", "water", "mass")}
    time = read_clock(raw["time"], unit["time"], f"{where}: time")
    water = _measured(raw["water"], unit.get("water", ""), "temperature", f"{where}: water")
    mass = _measured(raw["mass"], unit.get("mass", ""), "mass", f"{where}: mass")
    if water is not None and not COLDEST <= water <= HOTTEST:
        raise InputError(
            f"{where}: water", raw["water"], "cannot be the temperature of water in a pot; allowed -2 degC to 110 degC",
            "check the number and its unit, or mark the row with #",
        )  # fmt: skip
    if mass is not None and mass <= 0.0:
        raise InputError(f"{where}: mass", raw["mass"], "is not above 0", "check the number, or leave it empty")
    return Reading(number, time, water, mass, note)


def _decimal(cell: str, separator: str) -> str:
    """A decimal comma is a comma that does not part the cells."""
    return re.sub(r"(\d),(\d)", r"\1.\2", cell) if separator != "," else cell


def _measured(cell: str, unit: str, dimension: str, where: str) -> float | None:
    if cell.casefold() in MISSING:
        return None
    if re.fullmatch(r"[+-]?(\d+\.?\d*|\.\d+)", cell):
        if not unit:
            example = "water [degC]' or 'water [degF]" if dimension == "temperature" else "mass [g]"
            raise InputError(where, cell, "has no unit", f"name the column '{example}'")
        cell = f"{cell} {unit}"
    return parse(cell, dimension, where)
