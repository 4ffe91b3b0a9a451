"""Quantities as people write them ("30 ml", "2 3/8 in", "64 degF", "#65 drill") to SI floats.

Number and unit are split here and the unit is looked up among the words that people write, so that no text is
read as something surprising. Fluid ounces, cups, pints, quarts and gallons are US customary; British ones are
written "imp pint". A unit means what it says: "oz" is a mass and "fl oz" a volume. A plain number is SI.
Conversion factors and arithmetic are exact fractions, so that "0.9 mm" is the float 0.0009.
"""

import re
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache
from math import isfinite
from numbers import Real
from typing import Any
from unicodedata import decomposition, normalize

from burnsim.errors import InputError, nearest, unknown
from burnsim.units.table import DIMENSIONS, ZEROS

DRILLS = """
2280 2210 2130 2090 2055 2040 2010 1990 1960 1935 1910 1890 1850 1820 1800 1770 1730 1695 1660 1610
1590 1570 1540 1520 1495 1470 1440 1405 1360 1285 1200 1160 1130 1110 1100 1065 1040 1015 0995 0980
0960 0935 0890 0860 0820 0810 0785 0760 0730 0700 0670 0635 0595 0550 0520 0465 0430 0420 0410 0400
0390 0380 0370 0360 0350 0330 0320 0310 0292 0280 0260 0250 0240 0225 0210 0200 0180 0160 0145 0135
"""
"""Number drills 1 to 80, in 1/10000 inch; ASME B94.11M, from memory, unverified. Sheet gauges differ."""

_ZERO = Fraction(0)
Size = tuple[Fraction, Fraction]  # how large a unit is, and where its zero lies [SI]

_NUMBER = re.compile(
    r"(?P<sign>[+-]?)(?:(?:(?P<whole>\d+)[ -])?(?P<over>\d+)/(?P<under>\d+)"
    r"|(?P<plain>(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?))(?![\d.,/])"
)
_DRILL = re.compile(r"(?:(?:drill )?(?:#|no\.?|number) ?(\d+)(?: drill)?(?: bit)?|drill (\d+))", re.IGNORECASE)
_PAIRS = re.compile(r"(?:\d+(?:\.\d+)? ?[a-z]+ ?){2,}", re.IGNORECASE)
ALIKE = {"\u2044": "/", "\u2215": "/", "\u2212": "-", "\u2032\u2032": '"', "\u201d": '"', "\u00b0": "deg "}
"""What stands for signs that people write: fraction bars, the minus, marks of inches, and degrees."""
_GAUGES = ("ga", "gauge", "gage", "swg", "awg")


def parse(text: object, dimension: str, field: str = "value") -> float:
    """Read a quantity as a person writes it.

    Parameters
    ----------
    text : number and unit; whole numbers, decimals with a point, powers ("1e-3") and fractions ("2 3/8",
        "1/2", "1½"). A float is SI already; a quantity of pint, with `magnitude` and `to`, is converted. Only a
        "fraction" or a "number" may be a text without a unit. A "time" may have parts ("5 min 12 s"); a "length" may
        be a number drill ("#65 drill").
    dimension : a key of `DIMENSIONS`.
    field : what the value is for; errors name it.

    Returns
    -------
    The quantity in SI: m, m3, kg, K, s, m/s, Pa, W, kg/s, m2, rad, or a plain number.

    Raises
    ------
    InputError
        For a unit that is unknown or measures something else, a number that cannot be read or is not finite,
        a flag, an empty text, a temperature below absolute zero; it shows a right value.

    >>> parse("30 ml", "volume"), parse("2 3/8 in", "length"), parse("0.9 mm", "length")
    (3e-05, 0.060325, 0.0009)
    >>> round(parse("1 fl oz", "volume") * 1e6, 2), round(parse("64 degF", "temperature"), 2)
    (29.57, 290.93)
    >>> parse("#65 drill", "length"), parse("5 min 12 s", "time"), parse("95 %", "fraction")
    (0.000889, 312.0, 0.95)
    >>> parse("30 mm", "volume", "charge.volume")
    Traceback (most recent call last):
    burnsim.errors.InputError: charge.volume = '30 mm' is a length, not a volume: write it like '30 ml'
    """
    if dimension not in DIMENSIONS:
        raise unknown("dimension", dimension, DIMENSIONS)
    if isinstance(text, str):
        number: Any = _read(text, dimension, field)
    elif is_quantity(text):
        number = _converted(text, dimension, field)
    elif isinstance(text, Real) and not isinstance(text, bool):
        number = text
    else:
        problem = f"is neither a number nor a text with a unit; wanted: {dimension}"
        raise InputError(field, text, problem, _hint(dimension))
    try:
        result = float(number)
    except OverflowError:
        result = float("inf")
    if not isfinite(result):
        raise InputError(field, text, f"is not a finite {dimension}", _hint(dimension))
    if dimension == "temperature" and result < 0.0:
        raise InputError(field, text, "is below absolute zero, -273.15 degC", _hint(dimension))
    return result


def is_quantity(value: object) -> bool:
    """Whether a value is a quantity with a unit, as pint makes them."""
    return hasattr(value, "magnitude") and hasattr(value, "to")


def weighed(value: object) -> float | None:
    """Mass that a text or a quantity states [kg]; None if it states none, or ounces, which may be weighed or fluid.

    >>> weighed("25 g"), weighed("30 ml"), weighed("1 oz")
    (0.025, None, None)
    """
    if isinstance(value, str) and re.search(r"oz|ounce", value, re.IGNORECASE):
        return None
    if not isinstance(value, str) and not is_quantity(value):
        return None
    try:
        return parse(value, "mass")
    except InputError:
        return None


def _converted(quantity: Any, dimension: str, field: str) -> float:
    """A quantity of pint in SI."""
    try:
        return float(quantity.to(DIMENSIONS[dimension].si).magnitude)
    except (TypeError, ValueError) as error:  # pint's error about dimensions is a TypeError
        several = getattr(quantity.magnitude, "size", 1) != 1
        problem = "holds more than one value" if several else f"is not {_an(dimension)}"
        raise InputError(field, str(quantity), problem, _hint(dimension)) from error


def _hint(dimension: str) -> str:
    return f"write it like {DIMENSIONS[dimension].example!r}"


def _an(dimension: str) -> str:
    return f"an {dimension}" if dimension[0] == "a" else f"a {dimension}"


def _tidy(text: str) -> str:
    """Make one spelling of what looks alike: spaces, minus signs, quotes, degrees, raised figures."""
    if text.isascii():
        return re.sub(r"^([+-]) ", r"\1", " ".join(text.split()))
    parts = []
    for letter in text:
        plain = normalize("NFKC", letter)
        raised = plain.isdigit() and decomposition(letter).startswith("<super>")
        parts.append("^" + plain if raised else " " + plain if "\u2044" in plain[1:] else plain)  # "1½" is "1 1/2"
    plain = "".join(parts)
    for sign, letters in ALIKE.items():
        plain = plain.replace(sign, letters)
    return re.sub(r"^([+-]) ", r"\1", " ".join(plain.split()))


def _read(raw: str, dimension: str, field: str) -> Fraction:
    """Read a text; the value comes back in SI."""
    if len(raw) > 80:
        raise InputError(field, raw, "is longer than 80 characters", _hint(dimension))
    text = _tidy(raw)
    if not text:
        raise InputError(field, raw, f"is empty; wanted: {dimension}", _hint(dimension))
    drill = _DRILL.fullmatch(text)
    if drill:
        return _drilled(int(drill.group(1) or drill.group(2)), raw, dimension, field)
    if dimension == "time" and _PAIRS.fullmatch(text):
        parts = re.findall(r"(\d+(?:\.\d+)?) ?([a-zA-Z]+)", text)
        return sum((_sized(Fraction(n), unit, raw, dimension, field) for n, unit in parts), _ZERO)
    match = _NUMBER.match(text)
    if match is None:
        if re.match(r"[+-]?(nan|inf)", text, re.IGNORECASE):
            raise InputError(field, raw, f"is not a finite {dimension}", _hint(dimension))
        comma = re.match(r"[+-]?\d+,\d", text)
        problem = "has a comma in its number" if comma else "does not begin with a number that can be read"
        hint = "write a decimal point and no thousands separator" if comma else _hint(dimension)
        raise InputError(field, raw, problem, hint)
    unit = text[match.end() :].strip()
    if re.match(r"[\d+*/,.^-]", unit):
        raise InputError(field, raw, "has a number that cannot be read", _hint(dimension))
    return _sized(_value(match, raw, dimension, field), unit, raw, dimension, field)


def _value(match: re.Match[str], raw: str, dimension: str, field: str) -> Fraction:
    """Turn the matched number into an exact fraction."""
    if match["plain"] is not None:
        number = Decimal(match["plain"])
        if abs(number.adjusted()) > 400 and number != 0:
            raise InputError(field, raw, f"is not a reasonable {dimension}", _hint(dimension))
        size = Fraction(number)
    else:
        under = int(match["under"])
        if under == 0:
            raise InputError(field, raw, "divides by zero", _hint(dimension))
        size = int(match["whole"] or 0) + Fraction(int(match["over"]), under)
    return -size if match["sign"] == "-" else size


def _sized(number: Fraction, unit: str, raw: str, dimension: str, field: str) -> Fraction:
    """Multiply a number by its unit, given as written."""
    if not unit:
        if DIMENSIONS[dimension].bare:
            return number
        raise InputError(field, raw, f"has no unit; wanted: {dimension}", _hint(dimension))
    scale = _lookup(unit, _words(dimension))
    if scale is not None:
        return number * scale[0] + scale[1]
    if _plain(unit).casefold() in _GAUGES:
        problem = "is a gauge number, and gauges differ from metal to metal"
        raise InputError(field, raw, problem, "give millimetres or inches")
    other = next((d for d in DIMENSIONS if _lookup(unit, _words(d)) is not None), None)
    if other is not None:
        fluid = dimension == "volume" and _lookup(unit, _words("mass")) == _words("mass")["oz"]
        hint = "write 'fl oz' for a US fluid ounce" if fluid else _hint(dimension)
        raise InputError(field, raw, f"is {_an(other)}, not {_an(dimension)}", hint)
    guess = nearest(_plain(unit), _words(dimension))
    hint = f"did you mean {guess!r}? " if guess else ""
    raise InputError(field, raw, f"has an unknown unit {unit!r}; wanted: {dimension}", hint + _hint(dimension))


def _drilled(number: int, raw: str, dimension: str, field: str) -> Fraction:
    """Diameter of a number drill [m]."""
    if dimension != "length":
        raise InputError(field, raw, f"is a drill number, a length, not {_an(dimension)}", _hint(dimension))
    sizes = DRILLS.split()
    if not 1 <= number <= len(sizes):
        raise InputError(field, raw, "is not a drill number; allowed #1 to #80", "write it like '#65 drill'")
    return Fraction(int(sizes[number - 1]) * 254, 10**8)


def _plain(unit: str) -> str:
    """Return a unit without dots, carets and spaces that make no difference."""
    unit = unit.replace(".", "").replace("**", "").replace("^", "").replace(" per ", "/")
    return " ".join(re.sub(r" ?/ ?", "/", unit).split())


def _lookup(unit: str, words: dict[str, Size]) -> Size | None:
    """Find the size of a unit, as written; capitals count in words of one or two letters only."""
    plain = _plain(unit)
    if plain in words:
        return words[plain]
    if len(plain) < 3:
        return None
    return {word.casefold(): size for word, size in words.items() if len(word) > 2}.get(plain.casefold())


@lru_cache(maxsize=32)
def _words(dimension: str) -> dict[str, Size]:
    """Size and zero in SI of the unit that each word means."""
    listed = DIMENSIONS[dimension].words.items()
    return {word: (size, ZEROS.get(name, _ZERO)) for name, (size, words) in listed for word in words.split(";")}
