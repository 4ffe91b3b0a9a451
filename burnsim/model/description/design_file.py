"""A description as the text of a design file, which reads back equal: quantities as people write them, remarks beside.

Every field that is given is written, its default too, so that the file tells all; factors of 1 are left out.
"""

import contextlib
import json
from collections.abc import Iterator
from dataclasses import fields
from itertools import product
from typing import TYPE_CHECKING, Any

from burnsim.errors import InputError
from burnsim.io.text_file import toml_key
from burnsim.model.description.factors import Factors
from burnsim.model.description.fields import Spec, dotted, spec_of
from burnsim.model.description.tables import fuel_table
from burnsim.substances.blend import Blend
from burnsim.substances.metals import RANGES, Metal, metal_table
from burnsim.units import DIMENSIONS, measure, parse, plain
from burnsim.units.table import SYSTEMS
from burnsim.units.writing import shown

if TYPE_CHECKING:
    from _typeshed import DataclassInstance

HEAD = "# A design for burnsim. Quantities are texts with a unit; a number without a unit is SI.\n"
REMARK, WIDEST = 33, 120  # column at which remarks begin, and longest line that has one
IN_A_LINE = 8  # numbers of a list
DIGITS = (5, 7, 9, 12, 15, 17)  # as few as tell a quantity exactly


def design_text(design: "DataclassInstance", units: str = "si") -> str:
    """The text of a design file, in units "si" or "us"."""
    measure("length", units)
    return HEAD + "\n".join(_lines(design, "", units)) + "\n"


def _lines(record: "DataclassInstance", path: str, units: str) -> Iterator[str]:
    """The lines of a table: its own fields first, its parts below them."""
    parts: list[tuple[str, Spec, DataclassInstance | dict[str, object] | None]] = []
    for field in fields(record):
        spec, value = spec_of(field), getattr(record, field.name)
        if isinstance(value, Metal):
            value = metal_table(value)
        elif isinstance(value, Blend) and value.own:
            value = fuel_table(value)
        if spec.part not in (None, Blend) or isinstance(value, dict):
            parts.append((dotted(path, field.name), spec, value))
        elif value is not None and not (isinstance(record, Factors) and value == field.default):
            yield _line(field.name, _value(value, spec, units), spec)
    for name, spec, part in parts:
        if part is None:
            yield f"\n# no [{name}]: {spec.doc}"
        elif part == Factors():
            yield f"\n# no [{name}]: each is 1, see burnsim.BANDS"
        else:
            yield f"\n{f'[{name}]':<{REMARK}}# {spec.doc}"
            if not isinstance(part, dict):
                yield from _lines(part, name, units)
            else:
                yield from _metal(part) if spec.part is None else _own_fuel(part, name)


def _metal(table: dict[str, object]) -> Iterator[str]:
    """The lines of a metal of the user's own: its numbers in SI, so that its file is not needed any more."""
    for key, value in table.items():
        line = f"{key} = {_text(value) if isinstance(value, str) else repr(value)}"
        yield f"{line:<{REMARK - 1}} # {RANGES[key][0]}" if key in RANGES else line


def _own_fuel(table: dict[str, object], path: str) -> Iterator[str]:
    """The lines of a fuel with substances of the user's own: its shares, then all that their files say."""
    for key, value in table.items():
        if key != "own":
            yield f"{toml_key(key)} = {_inline(value)}"
    yield from _data(table["own"], f"{path}.own")


def _data(table: Any, path: str) -> Iterator[str]:
    """The lines of the tables in a table, all in their order: a hash of them marks what was fitted to them.

    A table that holds tables gets a head of its own, with all that follows it, if no value follows that is no table:
    such a value would belong to the head. All else stands in a line.
    """
    for key, part in table.items():
        name, items = f"{path}.{toml_key(key)}", list(part.items())
        bare = max((k for k, (_, value) in enumerate(items) if not isinstance(value, dict)), default=-1)
        behind = range(bare + 1, len(items))
        first = next((k for k in behind if any(isinstance(one, dict) for one in items[k][1].values())), len(items))
        if first > 0:
            yield f"\n[{name}]"
        for one, value in items[:first]:
            yield f"{toml_key(one)} = {_inline(value)}"
        yield from _data(dict(items[first:]), name)


def _inline(value: object) -> str:
    """A value or a table in a line; lists go on new lines, since a line of TOML may hold two hundred dots."""
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{toml_key(key)} = {_inline(one)}" for key, one in value.items()) + " }"
    if isinstance(value, list):
        rows = [", ".join(map(_inline, value[k : k + IN_A_LINE])) for k in range(0, len(value), IN_A_LINE)]
        return "[" + ",\n    ".join(rows) + "]"
    if isinstance(value, str):
        return _text(value)
    return repr(value).lower() if isinstance(value, bool) else repr(value)


def _line(key: str, value: str, spec: Spec) -> str:
    choices = ": " + ", ".join(json.dumps(one) for one in spec.choices) if spec.choices else ""
    line = f"{f'{key} = {value}':<{REMARK - 1}} # {spec.doc}{choices}"
    return line if len(line) <= WIDEST else f"{key} = {value}"


def _value(value: object, spec: Spec, units: str) -> str:
    if isinstance(value, Blend):
        return _inline(fuel_table(value))
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, float):
        return _quantity(value, spec.dimension, units)
    return _text(value) if isinstance(value, str) else repr(value)


def _quantity(value: float, dimension: str, units: str) -> str:
    """A quantity with as few digits as read back to the same float, in the other system where that takes fewer."""
    if not DIMENSIONS[dimension].bare:
        for digits, system in product(DIGITS, (units, *SYSTEMS)):
            text = plain(shown(value, dimension, system, digits)).replace("deg", " deg").replace("  ", " ")
            with contextlib.suppress(InputError):  # rounded below absolute zero
                if parse(text, dimension) == value:
                    return _text(text)
    return repr(value)  # a bare number is SI


def _text(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)
