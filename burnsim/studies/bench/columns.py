"""What the columns of a bench log hold: from their names, from what the head says, or from what stands in them."""

import re
from collections.abc import Mapping, Sequence
from typing import NamedTuple

from burnsim.errors import InputError
from burnsim.studies.bench.clock import HALF, LONGEST_BURN, OF_DAY, STOPWATCH, TIME_UNITS, split_date
from burnsim.units import parse
from burnsim.units.writing import spelt

COLDEST, HOTTEST = 271.15, 383.15  # what a thermometer in a pot of water can show [K]
MISSING = frozenset(
    {"", "-", "--", "---", "?", "na", "n/a", "#n/a", "nan", "none", "missing", "x", "ol", "err", "error", "open"}
)
KINDS = {
    "time": ("time", "t", "clock", "stopwatch", "elapsed", "elapsedtime", "when", "datetime", "timestamp"),
    "date": ("date", "day"),
    "water": ("water", "temperature", "temp", "watertemperature", "watertemp", "thermometer", "thermocouple", "tw"),
    "mass": ("mass", "weight", "scale", "burner", "fuel", "burnermass", "fuelmass"),
    "note": ("note", "notes", "remark", "remarks", "event", "comment", "seen"),
}
DIMENSION = {"time": "time", "water": "temperature", "mass": "mass"}
STATED = {"time": "time_unit", "water": "temperature_unit", "mass": "mass_unit"}
BARE_UNITS = ("c", "f", "k", "degc", "degf", "°c", "°f", "s", "sec", "min", "ms", "g", "kg", "oz", "lb")
NUMBER = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)")
CLOCK = re.compile(r"\d+:\d\d(:\d\d)?")
SHORTEST, LONGEST = 60.0, 5400.0  # of a log whose bare times are read without a unit [s]
ADD = "add a first row of names, such as 'time [mm:ss], water [degC], note'"


class Column(NamedTuple):
    """What a column holds, and in what unit a bare number in it is."""

    kind: str  # of `KINDS`; "" for one that is passed over
    unit: str


Lines = Sequence[tuple[int, list[str]]]  # numbers of lines in the file, with their cells


def lay_out(
    lines: Lines, units: Mapping[str, str], stated: Mapping[str, object], name: str, remarks: list[str]
) -> tuple[list[Column], int]:
    """Find the columns by their names among the first lines of a file, or by what stands in them.

    They come with the number of lines above the first reading. `units` are those of bare numbers where the names do not
    say, `stated` the name or number of the column of a kind, as the head says; `remarks` take what deserves a look.
    """
    if all(len(cells) == 1 for _, cells in lines):
        number, cells = lines[0]
        problem = "is one cell, as are all"
        raise InputError(f"{name}, line {number}", cells[0], problem, "part time and reading by a comma: 0:00, 15.5")
    first = _first_reading(lines)
    place = _line_of_names(lines, first, stated)
    if place is None:
        passed = above = first or 0
        columns = _guessed(lines[above:], units, stated, name, remarks)
    else:
        number, cells = lines[place]
        below = _units_alone(lines[place + 1][1] if place + 1 < len(lines) else [])
        if below:
            cells = [f"{cell} [{unit}]" if unit else cell for cell, unit in zip(cells, (*below, *cells), strict=False)]
        passed, above = place, place + 1 + bool(below)
        columns = _named(cells, units, stated, f"{name}, line {number}", remarks)
    if passed > 1:
        remarks.append(f"{passed} lines above the columns were passed over")
    return columns, above


def _first_reading(lines: Lines) -> int | None:
    """Index of the line that holds the first reading; None if none does.

    It is the first of two readings in a row, if there are such, so that a number among a logger's remarks is none; a
    line of one cell does not begin them.
    """
    reading = [_is_reading(cells) for _, cells in lines]
    pairs = (k for k, (_, cells) in enumerate(lines) if len(cells) > 1 and all(reading[k : k + 2]))
    return next(pairs, reading.index(True) if True in reading else None)


def _line_of_names(lines: Lines, first: int | None, stated: Mapping[str, object]) -> int | None:
    """Index of the line that names the columns; None if none does.

    It is the last above the first reading that names the time. Else it is the line right above that reading, if it has
    several cells. In a file without readings it is the first line.
    """
    said = {word.casefold() for word in stated.values() if isinstance(word, str)}
    for k in reversed(range(len(lines) if first is None else first)):
        if any(_kind(cell) in ("time", "date") or cell.casefold() in said for cell in lines[k][1]):
            return k
    if first is None:
        return 0
    return first - 1 if first and sum(1 for cell in lines[first - 1][1] if cell) > 1 else None


def find_units(columns: list[Column], sample: Lines, name: str, remarks: list[str]) -> None:
    """Find the unit of bare numbers where only one makes sense of the sample: nobody's water is at 200 degC."""
    for place, (kind, unit) in enumerate(columns):
        bare = [(line, cells[place]) for line, cells in sample if len(cells) > place and NUMBER.fullmatch(cells[place])]
        if unit or not bare or kind not in ("time", "water"):
            continue
        values = [float(cell) for _, cell in bare]
        found = _time_unit(values, f"{name}, line {bare[0][0]}") if kind == "time" else _degrees(values, bare[0], name)
        if found:
            columns[place] = Column(kind, found)
            remarks.append(f"{kind} without a unit is read as {found}: nothing else makes sense of the readings")


def _is_reading(cells: list[str]) -> bool:
    first = next((cell for cell in cells if cell), "")
    return re.match(r"[+-]?\.?\d", first) is not None or any(CLOCK.fullmatch(cell) for cell in cells)


def _kind(cell: str) -> str:
    head = _parted(cell)[0]
    return next((kind for kind, words in KINDS.items() if head in words), "")


def _parted(cell: str) -> tuple[str, str]:
    """Name and unit of a column.

    >>> [_parted(cell) for cell in ("Water temp (degF)", "water_C", "Temp, °C", "Date/Time", "T1°C")]
    [('watertemp', 'degF'), ('water', 'C'), ('temp', '°C'), ('datetime', ''), ('t1', '°C')]
    """
    bracket = re.search(r"[\[(](.*?)[\])]", cell)
    bare, _, rest = (cell[: bracket.start()] if bracket else cell).partition(",")
    unit = bracket.group(1).strip() if bracket else rest.strip()
    words = [word for word in re.split(r"[\s_/]+", bare.strip().replace("°", " °")) if word]
    if not unit and len(words) > 1 and words[-1].casefold() in BARE_UNITS:
        unit = words.pop()  # with its capitals
    return "".join(words).casefold(), unit


def _measures(unit: str) -> str:
    """What a unit measures: "time", "water" or "mass"; "" for none of them."""
    for kind, dimension in DIMENSION.items():
        try:
            parse(f"1 {unit}", dimension)
        except InputError:
            continue
        return kind
    return ""


def _units_alone(cells: list[str]) -> list[str]:
    """Units of a line that holds nothing else."""
    units = [cell.strip("[]() ") for cell in cells]
    named = [unit for unit in units if unit]
    known = all(_measures(unit) or unit.casefold() in TIME_UNITS or unit == "%" for unit in named)
    return units if named and known and not any(unit[0].isdigit() for unit in named) else []


def _named(
    cells: list[str], units: Mapping[str, str], stated: Mapping[str, object], where: str, remarks: list[str]
) -> list[Column]:
    """Columns by their names."""
    kinds = [_kind(cell) for cell in cells]
    for kind, word in stated.items():
        place = _place(word, cells, f"{where}: columns.{kind}")
        kinds = ["" if one == kind else one for one in kinds]
        kinds[place] = kind
    found = [_parted(cell)[1] for cell in cells]
    for kind in ("water", "mass"):
        if kind not in kinds and (like := _like(kind, cells, kinds, found, where)) is not None:
            kinds[like] = kind
            remarks.append(f"column {cells[like]!r} is read as the {kind}")
    unknown = [cell for cell, kind in zip(cells, kinds, strict=True) if cell and not kind]
    if unknown and not {"water", "mass"} & set(kinds):
        problem = f"is not known; allowed: {', '.join(KINDS)}"
        raise InputError(f"{where}: column", unknown[0], problem, _say("water", unknown[0]))
    if unknown:
        remarks.append("passed over: column " + ", ".join(repr(cell) for cell in unknown))
    for kind in DIMENSION:
        if kinds.count(kind) > 1:
            problem = f"name two for {kind}"
            raise InputError(f"{where}: columns", ", ".join(cells), problem, _say(kind, cells[kinds.index(kind)]))
    if "time" not in kinds and "date" in kinds:
        kinds[kinds.index("date")] = "time"
    if "time" not in kinds:
        raise InputError(f"{where}: columns", ", ".join(cells), "name none for the time", "name one of them 'time [s]'")
    return [_column(*column, units, where) for column in zip(cells, kinds, found, strict=True)]


def _like(kind: str, cells: list[str], kinds: list[str], units: list[str], where: str) -> int | None:
    """The one column whose kind is not known and whose unit is of a kind; None where there is none."""
    like = [k for k, unit in enumerate(units) if not kinds[k] and unit and _measures(unit) == kind]
    if len(like) > 1:
        several = ", ".join(cells[k] for k in like)
        raise InputError(f"{where}: columns", several, f"may each be the {kind}", _say(kind, cells[like[0]]))
    return like[0] if like else None


def _say(kind: str, cell: str) -> str:
    return f'say in the head which column it is: columns.{kind} = "{cell}", or its number'


def _column(cell: str, kind: str, unit: str, units: Mapping[str, str], where: str) -> Column:
    if kind not in DIMENSION:
        return Column(kind, "")
    unit = unit or units.get(STATED[kind], "")
    if kind == "time":
        unit = "" if re.match(r"(?i)(gmt|utc|local)", unit) else TIME_UNITS.get(unit.casefold(), unit)
    if unit and unit not in (STOPWATCH, OF_DAY):
        parse(f"1 {unit}", DIMENSION[kind], f"{where}: column {cell}")
    return Column(kind, unit)


def _place(word: object, cells: list[str], where: str) -> int:
    """Which column the head means by a name or a number from 1."""
    if isinstance(word, int) and not isinstance(word, bool) and 1 <= word <= len(cells):
        return word - 1
    if isinstance(word, str):
        for k, cell in enumerate(cells):
            if word.casefold().strip() in (cell.casefold(), _parted(cell)[0]):
                return k
    raise InputError(where, word, "is none of the columns " + ", ".join(cells), "copy its name, or give its number")


def _guessed(
    lines: Lines, units: Mapping[str, str], stated: Mapping[str, object], name: str, remarks: list[str]
) -> list[Column]:
    """Columns that have no names, from what stands in them."""
    where, shown = f"{name}, line {lines[0][0]}", ", ".join(lines[0][1])
    kinds = _held(lines)
    for kind, word in stated.items():
        kinds[_place(word, [str(k + 1) for k in range(len(kinds))], f"{where}: columns.{kind}")] = kind
    assumed = "number" in kinds
    for kind in ("time", "water"):
        if kind not in kinds and "number" in kinds:
            kinds[kinds.index("number")] = kind
    if "number" in kinds:
        rank = ["first", "second", "third", "fourth", "fifth"][min(kinds.index("number"), 4)]
        raise InputError(f"{where}: columns", shown, f"have no names: what the {rank} holds is not evident", ADD)
    doubled = next((kind for kind in DIMENSION if kinds.count(kind) > 1), None)
    if doubled or "time" not in kinds:
        problem = f"have no names: two of them may be the {doubled}" if doubled else "hold no times"
        raise InputError(f"{where}: columns", shown, problem, ADD)
    if assumed:
        remarks.append("the columns have no names; they are read as " + ", ".join(kinds))
    columns = [_column("", kind, "", units, where) for kind in kinds]
    return columns if "note" in kinds else [*columns, Column("note", "")]


def _held(lines: Lines) -> list[str]:
    """What the cells of each column are, a kind or "number"; a column of differing cells is a note.

    A note behind the first column is the last one told: cells behind it may be parts of it.
    """
    kinds: list[str] = []
    for place in range(max(len(cells) for _, cells in lines)):
        column = [cells[place] for _, cells in lines if len(cells) > place]
        found = {_written(cell) for cell in column if cell.casefold() not in MISSING}
        found = found - {"number"} or found
        kinds.append(found.pop() if len(found) == 1 else "note")
        if kinds[-1] == "note" and place:
            break
    return kinds


def _written(cell: str) -> str:
    """What a cell of a column without a name holds: a kind, or "number"."""
    if NUMBER.fullmatch(cell):
        return "number"
    if re.match(r"\d+:\d", cell) or HALF.search(cell) or split_date(cell)[0]:
        return "time"
    unit = re.match(r"[+-]?[\d.]+\s*([A-Za-z°][\w°]*(?: [CFK]\b)?)", cell)
    return (_measures(unit[1]) if unit else "") or "note"


def _time_unit(values: Sequence[float], where: str) -> str:
    """Unit of bare times, in which the log is neither over in a moment nor longer than a burn."""
    if len(values) < 3:
        return ""
    span = values[-1] - values[0]
    fitting = [unit for unit, size in (("s", 1.0), ("min", 60.0)) if SHORTEST <= span * size <= LONGEST]
    if len(fitting) > 1:
        remedy = "name the column 'time [s]' or 'time [min]'"
        raise InputError(f"{where}: time", f"{values[0]:g} to {values[-1]:g}", "may be seconds or minutes", remedy)
    return fitting[0] if fitting and values[-1] <= LONGEST_BURN else ""


def _degrees(values: Sequence[float], first: tuple[int, str], name: str) -> str:
    """Unit of bare temperatures, in which all could be those of water."""
    low, high = min(values), max(values)
    fitting = [
        unit
        for unit in ("degC", "degF")
        if all(COLDEST <= parse(f"{value!r} {unit}", "temperature") <= HOTTEST for value in (low, high))
    ]
    if len(fitting) > 1:
        cold, hot = (spelt(parse(f"{value!r} degF", "temperature"), "temperature") for value in (low, high))
        raise InputError(
            f"{name}, line {first[0]}: water", f"{low:g} to {high:g}", f"may be degC, or degF ({cold} to {hot})",
            "name the column 'water [degC]' or 'water [degF]'",
        )  # fmt: skip
    return fitting[0] if fitting else ""
