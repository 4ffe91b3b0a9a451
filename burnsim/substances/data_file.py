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


class Number(NamedTuple):
    """A number in SI, and where it comes from."""

    value: float
    source: str
    status: str


class Table(NamedTuple):
    """One table of a data file, and where it stands.

    What it must hold and does not, or not in its form, is an `InputError`.
    """

    file: str
    path: str
    content: Mapping[str, object]

    def field(self, key: str) -> str:
        """Name of a field in errors: the file, and the dotted path in it."""
        return f"{self.file}: {self.path}.{key}" if self.path else f"{self.file}: {key}"

    def refuse_unknown(self, known: Sequence[str]) -> None:
        """Refuse a key that is not one of those known, with the nearest."""
        for key, value in self.content.items():
            if key not in known:
                raise unknown(self.field(key), value, known, "is not a known key", "leave it out", word=key)

    def required(self, key: str, remedy: str = "give it") -> object:
        """Look up what must be there."""
        if key not in self.content:
            raise InputError(self.field(key), None, "is missing", remedy)
        return self.content[key]

    def sub_table(self, key: str, remedy: str, bare: str = "") -> "Table":
        """Look up a table in it, which must be there; `bare` says what a value that stands in its place lacks."""
        content = self.required(key, remedy)
        if not isinstance(content, Mapping):
            wrong = (bare, remedy) if bare else ("is not a table", f"write it under [{key}]")
            raise InputError(self.field(key), content, *wrong)
        return Table(self.file, f"{self.path}.{key}" if self.path else key, content)

    def find_table(self, *keys: str) -> "Table | None":
        """Look up a table in it, or in a table that is in it, and so on; None if one of them is not there."""
        table = self
        for key in keys:
            if key not in table.content:
                return None
            table = table.sub_table(key, "")
        return table

    def text(self, key: str, remedy: str, *, among: Sequence[str] = ()) -> str:
        """Look up a text that is not empty, and one of those allowed if any are given."""
        value = self.required(key, remedy)
        if not isinstance(value, str) or not value.strip():
            raise InputError(self.field(key), value, "is not a text", remedy)
        if among and value not in among:
            raise unknown(self.field(key), value, among, otherwise=remedy)
        return value

    def texts(self, key: str) -> tuple[str, ...]:
        """Look up a list of texts; empty if it is not there."""
        value = self.content.get(key, [])
        if not isinstance(value, list) or not all(isinstance(one, str) and one.strip() for one in value):
            raise InputError(self.field(key), value, "is not a list of texts", 'write ["one", "another"]')
        return tuple(value)

    def source_and_status(self) -> tuple[str, str]:
        """Where what stands in it comes from, and how sure that is."""
        source = self.text("source", "say where the number comes from: author, year, table")
        status = self.text("status", f"write one of {', '.join(STATUSES)}", among=tuple(STATUSES))
        return source, status

    def whole_number(self, key: str, low: int, high: int) -> int:
        """Look up a whole number; `low` if it is not there."""
        value: Any = self.content.get(key, low)
        check_whole(self.field(key), value, low, high, "count them")
        return int(value)

    def number(self, key: str, unit: str, low: float, high: float, *also: str) -> Number:
        """Look up a number with its unit, source and status.

        It comes in the SI unit, in which its range is given too; the file may use a relative of that (see `UNITS`).
        Further keys may stand beside it.
        """
        form = f'write {key} = {{ value = ..., unit = "{unit}", source = "...", status = "..." }}'
        part = self.sub_table(key, form, "lacks its unit, source and status")
        part.refuse_unknown(("value", "unit", "source", "status", *also))
        size, zero = part._unit("unit", unit)
        return Number(part._si("value", part.required("value"), size, zero, unit, low, high), *part.source_and_status())

    def bare_number(self, key: str, low: float, high: float, unit: str = "-") -> float:
        """Look up a number without unit, source and status, which is in SI."""
        return self._si(key, self.required(key), 1.0, 0.0, unit, low, high)

    def number_like(self, key: str, read: Callable[[str, object], float]) -> float:
        """Look up a number in a form that `read` knows."""
        try:
            return read(key, self.required(key))
        except InputError as error:
            raise InputError(self.field(key), error.value, error.problem, error.remedy) from None

    def column(self, key: str, unit: str, low: float, high: float, *, units: str = "unit") -> tuple[float, ...]:
        """Look up a list of numbers, which are in the unit that another key names; each in SI and in range."""
        values = self.required(key, f"give {key} = [...]")
        if not isinstance(values, list) or not values:
            raise InputError(self.field(key), values, "is not a list of numbers", "write [1.0, 2.0, ...]")
        size, zero = self._unit(units, unit)
        return tuple(self._si(key, value, size, zero, unit, low, high) for value in values)

    def coefficients(self, key: str, count: int) -> tuple[float, ...]:
        """Look up a row of fitted coefficients."""
        values = self.required(key, "run burnsim.substances.fitting.generate")
        if not isinstance(values, list) or len(values) != count:
            raise InputError(self.field(key), values, f"is not a row of {count} numbers", "leave out [fitted]")
        return tuple(self._si(key, value, 1.0, 0.0, "-", -1e12, 1e12) for value in values)

    def _unit(self, key: str, unit: str) -> tuple[float, float]:
        """Size and zero in SI of the unit that a key names, a relative of an SI unit."""
        if unit == "-" and key not in self.content:
            return 1.0, 0.0
        known = UNITS[unit]
        return known[self.text(key, f"write one of {', '.join(known)}", among=tuple(known))]

    def _si(self, key: str, value: object, size: float, zero: float, unit: str, low: float, high: float) -> float:
        """One value in SI, checked."""
        allowed = f"allowed from {low:g} to {high:g}" + ("" if unit == "-" else f" {unit}")
        if not is_number(value):
            raise InputError(self.field(key), value, f"is not a number; {allowed}", "write it bare")
        si = (float(value) * size if size >= 1.0 else float(value) / round(1.0 / size)) + zero  # 50 um are 5e-05 m
        if not low <= si <= high:
            what = "is out of range" if (size, zero) == (1.0, 0.0) else f"is {si:g} {unit}, which is out of range"
            raise InputError(self.field(key), value, f"{what}; {allowed}", "check the value and its unit")
        return si


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
