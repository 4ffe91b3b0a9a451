"""Quantities and texts as people read them, in SI with its habits or in the units of the United States.

A number and its unit are kept together by a no-break space, and signs are the real ones (°C, mm², −). Where a stream
cannot show them, `ascii_signs` writes what everybody understands instead.
"""

import codecs
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from math import ceil, floor, isfinite
from typing import NamedTuple

from burnsim.errors import InputError
from burnsim.units.table import measure

NBSP = "\N{NO-BREAK SPACE}"
MINUS = "\N{MINUS SIGN}"
ASCII = {
    NBSP: " ", MINUS: "-", "°": "deg", "²": "2", "³": "3", "×": "x", "±": "+-", "\N{EN DASH}": "-", "\N{EM DASH}": "-",
}  # fmt: skip
"""What stands for a sign where it cannot be shown."""
ARROW = {"\N{RIGHTWARDS ARROW}": "->"}  # the same in a stream alone


def plain(text: str) -> str:
    """A text with ASCII in place of signs.

    >>> plain("20\u00a0°C, 3\u00a0×\u00a04\u00a0mm²")
    '20 degC, 3 x 4 mm2'
    """
    for sign, letters in ASCII.items():
        text = text.replace(sign, letters)
    return text


def ascii_signs(error: UnicodeError) -> tuple[str, int]:
    """Error handler of a stream: signs that it cannot show become ASCII, all else an escape."""
    if not isinstance(error, UnicodeEncodeError):
        raise error
    lost = error.object[error.start : error.end]
    known = ASCII | ARROW
    return "".join(known.get(sign, sign.encode("ascii", "backslashreplace").decode()) for sign in lost), error.end


codecs.register_error("burnsim", ascii_signs)


def with_unit(number: str, unit: str) -> str:
    """A number and its unit, kept together; an angle's sign stands close.

    >>> with_unit("-3", "K") == "\N{MINUS SIGN}3\N{NO-BREAK SPACE}K", with_unit("5", "°")
    (True, '5°')
    >>> with_unit("-0.0", "K")  # no sign where nothing is left
    '0.0\N{NO-BREAK SPACE}K'
    """
    if number.startswith("-") and not number.strip("-0."):
        number = number[1:]
    number = number.replace("-", MINUS)
    return number + unit if unit in ("", "°") else number + NBSP + unit.replace(" ", NBSP)


DIGITS_LEFT = 9  # decimals of a temperature that rounding leaves when a scale's zero is taken off
PLENTY = 1000.0  # a number from which on decimals say nothing


def written(value: float, dimension: str, system: str = "si", decimals: int | None = None, toward: int = 0) -> str:
    """Write an SI value in the unit of a system, with decimals as suit the unit, none from 1000 on, unless told.

    What is needed at least is rounded up (`toward` = 1), and what is allowed at most down (-1).

    >>> [plain(written(30e-6, "volume", system)) for system in ("si", "us")]
    ['30.0 ml', '1.01 fl oz']
    >>> plain(written(285.15, "temperature", "us")), plain(written(3000.0, "altitude", "us"))
    ('54 degF', '9840 ft')
    >>> plain(written(16452.9, "pressure"))
    '16453 Pa'
    >>> [plain(written(0.724e-6, "volume", toward=k)) for k in (-1, 0, 1)]
    ['0.7 ml', '0.7 ml', '0.8 ml']
    """
    unit = measure(dimension, system)
    if decimals is None:
        decimals = unit.decimals if abs(unit.of(value)) < PLENTY else min(unit.decimals, 0)
    number = rounded(unit.of(value), decimals, toward)
    return with_unit(f"{number if decimals >= 0 else round(number, decimals):.{max(decimals, 0)}f}", unit.unit)


def rounded(value: float, decimals: int, toward: int) -> float:
    """A value at a number of decimals, at or below it (-1) or at or above it (1); with 0, as it is.

    >>> rounded(12.627, 1, 1), rounded(52.38, 1, -1), rounded(0.3 * 3.0, 1, 1)
    (12.7, 52.3, 0.9)
    """
    if not toward or not isfinite(value):
        return value
    return (ceil if toward > 0 else floor)(value * 10.0**decimals - toward * 1e-6) / 10.0**decimals


def shown(value: float, dimension: str, system: str = "si", digits: int = 5) -> str:
    """Write an SI value in the unit of a system, with all digits that it has, up to five; a share stays a bare number.

    >>> [plain(text) for text in (shown(0.0045, "length"), shown(3.7e-05, "volume"), shown(293.15, "temperature"))]
    ['4.5 mm', '37 ml', '20 degC']
    >>> plain(shown(1500.0, "altitude")), plain(shown(0.1e-3, "length", "us", 4))
    ('1500 m', '0.003937 in')
    >>> plain(shown((0.0 + 459.67) / 1.8, "temperature", "us"))  # what is left of a difference of large numbers is none
    '0 degF'
    """
    if not isfinite(value):
        return str(value)
    unit = measure(dimension, system)
    bare = dimension in ("fraction", "number")
    number = value if bare else unit.of(value)
    if dimension == "temperature":
        number = round(number, DIGITS_LEFT)
    text = f"{number:.{digits}g}"
    if "e+" in text:
        text = f"{number:.0f}"
    return with_unit(text, "" if bare else unit.unit)


SPELLING: ContextVar[str] = ContextVar("spelling", default="si")  # system of the units in which errors spell quantities


@contextmanager
def spelling(system: str) -> Iterator[None]:
    """Have errors spell quantities in a system of units, as a command does that was asked for one.

    >>> with spelling("us"):
    ...     spelt(0.0045, "length")
    '0.17717 in'
    """
    before = SPELLING.set(system)
    try:
        yield
    finally:
        SPELLING.reset(before)


def spelt(value: float, dimension: str) -> str:
    """A value in SI as a design file would have it: errors speak so, that it can be copied back.

    >>> spelt(0.0045, "length"), spelt(272.15, "temperature"), spelt(0.5, "fraction")
    ('4.5 mm', '-1 degC', '0.5')
    """
    return plain(shown(value, dimension, SPELLING.get()))


class Quantity(NamedTuple):
    """A value in SI on its way into a text."""

    value: float
    dimension: str
    decimals: int | None = None  # None: as many as suit the unit
    digits: int | None = None  # significant ones, in place of decimals

    def told(self, system: str = "si") -> str:
        """Written in a system of units."""
        if self.digits is not None:
            return shown(self.value, self.dimension, system, self.digits)
        decimals = self.decimals
        if decimals is not None and system != "si":
            decimals = max(decimals + measure(self.dimension, system).decimals - measure(self.dimension).decimals, 0)
        return written(self.value, self.dimension, system, decimals)


class Text(str):
    """A sentence with its quantities: a plain string in SI, which can be told again in other units.

    >>> text = Text("froth rose to {}", Quantity(13.5e-3, "length"))
    >>> plain(text), plain(text.told("us"))
    ('froth rose to 13.5 mm', 'froth rose to 0.531 in')
    """

    __slots__ = ("parts", "template")
    template: str
    parts: tuple[object, ...]

    def __new__(cls, template: str, *parts: object) -> "Text":
        """Fill a template, with {} for each part: a quantity, another text, or anything that has a string."""
        text = super().__new__(cls, _filled(template, parts, "si"))
        text.template, text.parts = template, parts
        return text

    def __reduce__(self) -> tuple[object, ...]:
        """As made, for other processes."""
        return Text, (self.template, *self.parts)

    def told(self, system: str = "si") -> str:
        """The sentence in a system of units, "si" or "us"."""
        return _filled(self.template, self.parts, system)


def told(text: str, system: str = "si") -> str:
    """A text in a system of units; one without quantities stays as it is."""
    measure("length", system)
    return text.told(system) if isinstance(text, Text) else text


def joined(separator: str, texts: "list[str] | tuple[str, ...]") -> Text:
    """Texts one behind the other, which can still be told in other units."""
    return Text(separator.replace("{", "{{").replace("}", "}}").join("{}" for _ in texts), *texts)


def _filled(template: str, parts: tuple[object, ...], system: str) -> str:
    return template.format(*(part.told(system) if isinstance(part, Quantity | Text) else part for part in parts))


def format_time(seconds: float) -> str:
    """Write a time in hours, minutes and whole seconds, with no-break spaces, so that no line ends inside it.

    >>> [plain(format_time(seconds)) for seconds in (312.2, 59.6, 3605.0, 0.0)]
    ['5 min 12 s', '1 min 0 s', '1 h 0 min 5 s', '0 s']
    """
    if not isfinite(seconds):
        raise InputError("seconds", seconds, "is not a finite time", "give seconds")
    sign = MINUS if round(seconds) < 0 else ""
    minutes, rest = divmod(abs(round(seconds)), 60)
    hours, minutes = divmod(minutes, 60)
    parts = [f"{hours}{NBSP}h"] if hours else []
    parts += [f"{minutes}{NBSP}min"] if hours or minutes else []
    return sign + NBSP.join([*parts, f"{rest}{NBSP}s"])
