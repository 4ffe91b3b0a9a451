"""Results as plain values: tables of keys, each with the attribute that it tells, and one rule for what they hold."""

import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import fields, is_dataclass
from typing import Any

from burnsim.substances.blend import Blend

OTHERS = {"ml": 1e6, "mm": 1e3, "mm2": 1e6, "g": 1e3, "deg": 180.0 / math.pi}
"""How many of a unit make one of SI's, by the last word of a key; all other keys are in SI."""


Keys = Mapping[str, str | Callable[[Any], object] | tuple[str, Any]]
"""By each key the dotted path of an attribute [SI], which is None where a part of it is; a function of the record; or a
path, with the keys of the record or of the records there."""


def named(names: str) -> dict[str, str]:
    """Keys that are called as their attributes.

    >>> named("upper lower")
    {'upper': 'upper', 'lower': 'lower'}
    """
    return {name: name for name in names.split()}


def keyed(record: object, keys: Keys) -> dict[str, object]:
    """Values of a record by keys that carry their units.

    >>> from fractions import Fraction
    >>> lower = {"lower": "denominator"}
    >>> keyed(Fraction(1, 4), {"upper_ml": "numerator", "twice": lambda one: 2 * one, "whole": ("real", lower)})
    {'upper_ml': 1000000.0, 'twice': Fraction(1, 2), 'whole': {'lower': 4}}
    """
    found: dict[str, object] = {}
    for key, of in keys.items():
        if isinstance(of, tuple):
            found[key] = _each(_at(record, of[0]), of[1])
        else:
            value = of(record) if callable(of) else _at(record, of)
            factor = OTHERS.get(key.rpartition("_")[2])
            found[key] = value if factor is None else _times(value, factor)
    return found


def _at(record: Any, path: str) -> Any:
    for name in path.split("."):
        record = None if record is None else getattr(record, name)
    return record


def _each(found: Any, keys: Keys) -> object:
    """A record by its keys, or each of several; None as it is."""
    if isinstance(found, tuple | list) and not hasattr(found, "_fields"):
        return [_each(one, keys) for one in found]
    return None if found is None else keyed(found, keys)


def _times(value: Any, factor: float) -> object:
    """A number, or all of several; None as it is."""
    if hasattr(value, "_asdict"):
        value = value._asdict()
    if isinstance(value, Mapping):
        return {key: _times(one, factor) for key, one in value.items()}
    if isinstance(value, tuple | list):
        return [_times(one, factor) for one in value]
    return None if value is None else value * factor


def plain_values(value: Any) -> Any:
    """A value ready for JSON: records are dicts, arrays and sets lists, a blend its name; what is not a number is None.

    >>> plain_values({"boil_s": math.nan, "levels": (0.05, 0.95)})
    {'boil_s': None, 'levels': [0.05, 0.95]}
    """
    if isinstance(value, float):
        return None if math.isnan(value) else value
    if isinstance(value, Blend):
        return value.name
    if hasattr(value, "tolist"):  # of numpy
        return plain_values(value.tolist())
    if hasattr(value, "_asdict"):
        value = value._asdict()
    elif is_dataclass(value):
        value = {field.name: getattr(value, field.name) for field in fields(value)}
    if isinstance(value, Mapping):
        return {key: plain_values(one) for key, one in value.items()}
    return [plain_values(one) for one in value] if isinstance(value, Iterable) and not isinstance(value, str) else value
