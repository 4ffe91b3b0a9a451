"""Whole numbers and axes as a person writes them on the command line: "512", "-15degC:25degC:5", "0 m, 1500 m"."""

import math
import re
from fractions import Fraction

from burnsim.errors import InputError
from burnsim.model.description.fields import allowed
from burnsim.units import parse, plain, written
from burnsim.units.writing import spelt

EXAMPLES = {"temperature": "-15degC:25degC:5", "length": "0m:4000m:1000, or 1500m", "angle": "0deg,5deg"}
BARE = {"angle": "deg"}  # unit of a number without one on an axis; of all others it must be told
LONGEST = 200  # most values on one axis

_QUANTITY = re.compile(r"\s*([-+]?(?:\d+\.?\d*|\.\d+))\s*(.*?)\s*\Z")


def whole(text: str, option: str, low: int = 0, high: int | None = None) -> int:
    """Read a whole number from `low` to `high`, both included, for an option that errors name.

    >>> whole("512", "--burns")
    512
    """
    number = int(text) if text.strip().isdecimal() else None
    if number is None or number < low or (high is not None and number > high):
        least = f"from {low}" if high is None else f"from {low} to {high}"
        raise InputError(option, text, f"is not a whole number {least}", f"write it like {option} 512")
    return number


def bounded(text: str, dimension: str, option: str, example: str, high: float = math.inf, bare: str = "") -> float:
    """Read a quantity [SI] from 0 to `high` for an option that errors name; `bare` is the unit of a number without.

    >>> bounded("5 mm", "length", "--head", "3 mm", 0.1)
    0.005
    """
    value = parse(f"{text} {bare}" if bare and text[-1:].isdigit() else text, dimension, option)
    if not 0.0 <= value <= high:
        span = f"from 0 to {plain(written(high, dimension, decimals=0))}" if high < math.inf else "from 0"
        raise InputError(option, text, f"is out of range; allowed {span}", f"write it like {option} '{example}'")
    return value


def span(text: str, dimension: str, option: str, field: str | None = None) -> tuple[float, ...]:
    """Read the values [SI] of an axis: "first:last:step" with one unit, or "0 m, 1500 m, 3000 m".

    The last is included if a step meets it. Errors name the option: for what cannot be read, a step that leads nowhere,
    more than 200 values, or one that the field of a design refuses.

    >>> [round(value - 273.15, 2) for value in span("-10degC:5degC:5", "temperature", "--ambient")]
    [-10.0, -5.0, 0.0, 5.0]
    >>> span("0m, 1500 m", "length", "--altitude")
    (0.0, 1500.0)
    >>> span("0, 5", "angle", "--tilt") == span("0deg:5deg:5", "angle", "--tilt")
    True
    """
    values = _values(text, dimension, option)
    if field is not None:
        from burnsim.studies.sweep.plan import spec_at

        spec = spec_at(field)
        for value in values:
            if not spec.low <= value <= spec.high:
                told = spelt(value, spec.dimension)
                raise InputError(
                    option, text, f"reaches {told}; {field} is {allowed(spec)}", "leave out what lies beyond"
                )
    return values


def _values(text: str, dimension: str, option: str) -> tuple[float, ...]:
    parts = text.split(":")
    if len(parts) == 1:
        return tuple(_read(part.strip(), dimension, option) for part in text.split(","))
    if len(parts) != 3:
        raise InputError(option, text, "is neither first:last:step nor a list", f"write it like {EXAMPLES[dimension]}")
    (first, unit), (last, other), (step, third) = (_split(part, text, option) for part in parts)
    unit = unit or other or BARE.get(dimension, "")
    if other not in ("", unit) or third not in ("", unit):
        raise InputError(option, text, "has more than one unit", "write all three in the same unit")
    for value in (first, last):
        _read(f"{float(value)} {unit}".strip(), dimension, option)
    if step == 0:
        raise InputError(option, text, "has a step of 0", "give a step above 0")
    if (last - first) / step < 0:
        ends = parts[:2] if step < 0 else parts[1::-1]
        turned = ":".join(part.strip() for part in (*ends, parts[2].replace("-", "")))
        raise InputError(option, text, "has a step that leads away from its last value", f"write {turned}")
    count = int((last - first) / step) + 1
    if count > LONGEST:
        raise InputError(option, text, f"has {count} values; allowed up to {LONGEST}", "use a longer step")
    return tuple(parse(f"{float(first + k * step)!r} {unit}".strip(), dimension, option) for k in range(count))


def _read(part: str, dimension: str, option: str) -> float:
    """One value; if it has no unit, the remedy is an axis and not the length of a hole."""
    bare = BARE.get(dimension, "") if part[-1:].isdigit() else ""
    try:
        return parse(f"{part} {bare}".strip(), dimension, option)
    except InputError as error:
        raise InputError(option, error.value, error.problem, f"write it like {EXAMPLES[dimension]}") from None


def _split(part: str, text: str, option: str) -> tuple[Fraction, str]:
    found = _QUANTITY.match(part.replace("\N{MINUS SIGN}", "-"))
    if found is None:
        problem = f"has {part.strip()!r}, which is not a quantity"
        raise InputError(option, text, problem, "write it like -15degC:25degC:5")
    return Fraction(found[1]), found[2]
