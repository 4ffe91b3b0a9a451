"""Results as plain values: tables of keys, each with the attribute that it tells, and one rule for what they hold."""

import math
from collections.abc import Iterable, Mapping
from dataclasses import fields, is_dataclass
from operator import attrgetter
from typing import Any

from burnsim.substances.blend import Blend

OTHERS = {"ml": 1e6, "mm": 1e3, "mm2": 1e6, "g": 1e3, "deg": 180.0 / math.pi}
"""How many of a unit make one of SI's, by the last word of a key; all other keys are in SI."""


def keyed(record: object, attributes: Mapping[str, str]) -> dict[str, object]:
    """Values of a record by keys that carry their units, each from the attribute [SI] at a dotted path.

    >>> from fractions import Fraction
    >>> keyed(Fraction(1, 4), {"upper_ml": "numerator", "lower": "denominator"})
    {'upper_ml': 1000000.0, 'lower': 4}
    """
    found: dict[str, object] = {}
    for key, path in attributes.items():
        value: Any = attrgetter(path)(record)
        factor = OTHERS.get(key.rpartition("_")[2])
        found[key] = value if value is None or factor is None else value * factor
    return found


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
