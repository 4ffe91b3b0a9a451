"""Strict reading of the data files of fuels, blends, metals and wicks.

A number is a table of its own: `{ value = 0.79, unit = "g/cm3", source = "...", status = "library" }`. Whatever is
unknown, missing, of the wrong type or out of range is an `InputError` that names the file, the field, its value, what
is allowed and what to do.
"""

import os
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any, NamedTuple

from burnsim.constants import ZERO_CELSIUS
from burnsim.errors import InputError, check_whole, is_number, unknown
from burnsim.io.text_file import read_toml

DATA = Path(__file__).parent / "data"
"""Data files that the package carries."""

STATUSES: Mapping[str, str] = {
    "published": "read in the source",
    "library": "as a general-purpose library carries the source",
    "measured": "by who wrote the file",
    "estimated": "by the method that the source names",
    "memory": "of the source, unverified",
    "practice": "common practice, no source",
}
"""How sure a number is."""

UNITS: Mapping[str, Mapping[str, tuple[float, float]]] = {  # SI unit: its relatives, with size and zero in it
    "-": {"-": (1.0, 0.0), "%": (0.01, 0.0)},
    "K": {"K": (1.0, 0.0), "degC": (1.0, ZERO_CELSIUS)},
    "Pa": {"Pa": (1.0, 0.0), "hPa": (1e2, 0.0), "kPa": (1e3, 0.0), "MPa": (1e6, 0.0), "bar": (1e5, 0.0)},
    "kg/mol": {"kg/mol": (1.0, 0.0), "g/mol": (1e-3, 0.0)},
    "kg/m3": {"kg/m3": (1.0, 0.0), "g/cm3": (1e3, 0.0), "g/ml": (1e3, 0.0)},
    "J/mol": {"J/mol": (1.0, 0.0), "kJ/mol": (1e3, 0.0)},
    "J/kg": {"J/kg": (1.0, 0.0), "kJ/kg": (1e3, 0.0)},
    "J/mol/K": {"J/mol/K": (1.0, 0.0)},
    "J/kg/K": {"J/kg/K": (1.0, 0.0), "kJ/kg/K": (1e3, 0.0)},
    "Pa s": {"Pa s": (1.0, 0.0), "mPa s": (1e-3, 0.0), "uPa s": (1e-6, 0.0)},
    "N/m": {"N/m": (1.0, 0.0), "mN/m": (1e-3, 0.0)},
    "W/m/K": {"W/m/K": (1.0, 0.0), "mW/m/K": (1e-3, 0.0)},
    "m/s": {"m/s": (1.0, 0.0), "cm/s": (0.01, 0.0)},
    "m": {"m": (1.0, 0.0), "mm": (1e-3, 0.0), "um": (1e-6, 0.0)},
}


class Table(NamedTuple):
    """One table of a data file, and where it stands."""

    file: str
    path: str
    content: Mapping[str, object]

    def field(self, key: str) -> str:
        """Name of a field in errors: the file, and the dotted path in it."""
        return f"{self.file}: {self.path}.{key}" if self.path else f"{self.file}: {key}"


class Number(NamedTuple):
    """A number in SI, and where it comes from."""

    value: float
    source: str
    status: str


def is_path(given: str) -> bool:
    """Whether a text names a data file of one's own, and no ready thing.

    >>> is_path("materials/bronze.toml"), is_path("ethanol 95")
    (True, False)
    """
    return given.strip().lower().endswith(".toml")


def read_data(path: str | os.PathLike[str], what: str = "data file") -> Table:
    """Read a data file as one table; what stands in it is not looked at yet."""
    content = read_toml(path, what, 'write key = "value" lines under [tables]')
    return Table(Path(path).name, "", content)


def refuse_unknown(table: Table, known: Sequence[str]) -> None:
    """Refuse a key that is not one of those known, with the nearest."""
    for key, value in table.content.items():
        if key not in known:
            raise unknown(table.field(key), value, known, "is not a known key", "leave it out", word=key)


def needed(table: Table, key: str, remedy: str) -> object:
    """Look up what must be there."""
    if key not in table.content:
        raise InputError(table.field(key), None, "is missing", remedy)
    return table.content[key]


def sub_table(table: Table, key: str, remedy: str, bare: str = "") -> Table:
    """Look up a table in a table, which must be there; `bare` says what a value that stands in its place lacks."""
    content = needed(table, key, remedy)
    if not isinstance(content, Mapping):
        wrong = (bare, remedy) if bare else ("is not a table", f"write it under [{key}]")
        raise InputError(table.field(key), content, *wrong)
    return Table(table.file, f"{table.path}.{key}" if table.path else key, content)


def find_table(table: Table, *keys: str) -> Table | None:
    """Look up a table in a table, or in one that is in it, and so on; None if one of them is not there."""
    for key in keys:
        if key not in table.content:
            return None
        table = sub_table(table, key, "")
    return table


def text(table: Table, key: str, remedy: str, *, among: Sequence[str] = ()) -> str:
    """Look up a text that is not empty, and one of those allowed if any are given."""
    value = needed(table, key, remedy)
    if not isinstance(value, str) or not value.strip():
        raise InputError(table.field(key), value, "is not a text", remedy)
    if among and value not in among:
        raise unknown(table.field(key), value, among, otherwise=remedy)
    return value


def texts(table: Table, key: str) -> tuple[str, ...]:
    """Look up a list of texts; empty if it is not there."""
    value = table.content.get(key, [])
    if not isinstance(value, list) or not all(isinstance(one, str) and one.strip() for one in value):
        raise InputError(table.field(key), value, "is not a list of texts", 'write ["one", "another"]')
    return tuple(value)


def whole(table: Table, key: str, low: int, high: int) -> int:
    """Look up a whole number; `low` if it is not there."""
    value: Any = table.content.get(key, low)
    check_whole(table.field(key), value, low, high, "count them")
    return int(value)


def number(table: Table, key: str, unit: str, low: float, high: float, *also: str) -> Number:
    """Look up a number with its unit, source and status.

    It comes in the SI unit, in which its range is given too; the file may use a relative of that (see `UNITS`). Further
    keys may stand beside it. An `InputError` if it is missing, not a number, out of range, or without one of the three.
    """
    form = f'write {key} = {{ value = ..., unit = "{unit}", source = "...", status = "..." }}'
    part = sub_table(table, key, form, "lacks its unit, source and status")
    refuse_unknown(part, ("value", "unit", "source", "status", *also))
    size, zero = _unit(part, "unit", unit)
    return Number(scaled(part, "value", needed(part, "value", "give it"), size, zero, unit, low, high), *said(part))


def column(table: Table, key: str, unit: str, low: float, high: float, *, units: str = "unit") -> tuple[float, ...]:
    """Look up a list of numbers, which are in the unit that another key names; each in SI and in range."""
    values = needed(table, key, f"give {key} = [...]")
    if not isinstance(values, list) or not values:
        raise InputError(table.field(key), values, "is not a list of numbers", "write [1.0, 2.0, ...]")
    size, zero = _unit(table, units, unit)
    return tuple(scaled(table, key, value, size, zero, unit, low, high) for value in values)


def said(table: Table) -> tuple[str, str]:
    """Source and status of what stands in a table."""
    source = text(table, "source", "say where the number comes from: author, year, table")
    status = text(table, "status", f"write one of {', '.join(STATUSES)}", among=tuple(STATUSES))
    return source, status


def number_like(table: Table, key: str, read: Callable[[str, object], float]) -> float:
    """Look up a number in a form that `read` knows; its error names the file and the field."""
    value = needed(table, key, "give it")
    try:
        return read(key, value)
    except InputError as error:
        raise InputError(table.field(key), error.value, error.problem, error.remedy) from None


def plain(table: Table, key: str, low: float, high: float) -> float:
    """Look up a bare number without unit."""
    return scaled(table, key, needed(table, key, "give it"), 1.0, 0.0, "-", low, high)


def scaled(
    table: Table, key: str, value: object, size: float, zero: float, unit: str, low: float, high: float
) -> float:
    """One value in SI, checked."""
    if not is_number(value):
        raise InputError(table.field(key), value, f"is not a number; {_allowed(low, high, unit)}", "write it bare")
    si = (float(value) * size if size >= 1.0 else float(value) / round(1.0 / size)) + zero  # 50 um are 5e-05 m
    if not low <= si <= high:
        what = "is out of range" if (size, zero) == (1.0, 0.0) else f"is {si:g} {unit}, which is out of range"
        raise InputError(
            table.field(key), value, f"{what}; {_allowed(low, high, unit)}", "check the value and its unit"
        )
    return si


def row(table: Table, key: str, size: int) -> tuple[float, ...]:
    """Look up a row of so many fitted coefficients."""
    values = needed(table, key, "run burnsim.substances.fitting.generate")
    if not isinstance(values, list) or len(values) != size:
        raise InputError(table.field(key), values, f"is not a row of {size} numbers", "leave out [fitted]")
    return tuple(scaled(table, key, value, 1.0, 0.0, "-", -1e12, 1e12) for value in values)


def _allowed(low: float, high: float, unit: str) -> str:
    return f"allowed from {low:g} to {high:g}" + ("" if unit == "-" else f" {unit}")


def _unit(table: Table, key: str, unit: str) -> tuple[float, float]:
    if unit == "-" and key not in table.content:
        return 1.0, 0.0
    known = UNITS[unit]
    return known[text(table, key, f"write one of {', '.join(known)}", among=tuple(known))]
