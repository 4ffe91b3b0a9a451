"""Units in which a person reads results: SI (degC, ml, mm) or those of the United States (degF, fl oz, in)."""

import re
from typing import TYPE_CHECKING, NamedTuple, overload

from burnsim.constants import ZERO_CELSIUS
from burnsim.errors import InputError, nearest

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

SYSTEMS = ("si", "us")
INCH = 0.0254
FLUID_OUNCE = 29.5735295625e-6  # US customary [m3], exact (NIST Handbook 44)
INCH_OF_WATER = 249.08891  # at 4 degC [Pa] (NIST SP 811, appendix B)
FOOT = 0.3048
OUNCE = 28.349523125e-3  # avoirdupois [kg], exact


class Measure(NamedTuple):
    """A unit: how it is written, its size in SI and its zero in SI."""

    unit: str
    size: float
    zero: float = 0.0

    @overload
    def of(self, value: float) -> float: ...

    @overload
    def of(self, value: "NDArray[np.float64]") -> "NDArray[np.float64]": ...

    def of(self, value: "float | NDArray[np.float64]") -> "float | NDArray[np.float64]":
        """A value in SI, in this unit; arrays pass too.

        >>> round(MEASURES["us"]["temperature"].of(373.15), 6)
        212.0
        """
        return (value - self.zero) / self.size


MEASURES: dict[str, dict[str, Measure]] = {
    "si": {
        "temperature": Measure("degC", 1.0, ZERO_CELSIUS),
        "difference": Measure("K", 1.0),
        "volume": Measure("ml", 1e-6),
        "length": Measure("mm", 1e-3),
        "area": Measure("mm2", 1e-6),
        "altitude": Measure("m", 1.0),
        "pressure": Measure("Pa", 1.0),
        "velocity": Measure("m/s", 1.0),
        "mass": Measure("g", 1e-3),
        "power": Measure("W", 1.0),
        "time": Measure("min", 60.0),
    },
    "us": {
        "temperature": Measure("degF", 5.0 / 9.0, ZERO_CELSIUS - 32.0 * 5.0 / 9.0),
        "difference": Measure("degF", 5.0 / 9.0),
        "volume": Measure("fl oz", FLUID_OUNCE),
        "length": Measure("in", INCH),
        "area": Measure("in2", INCH**2),
        "altitude": Measure("ft", FOOT),
        "pressure": Measure("inH2O", INCH_OF_WATER),
        "velocity": Measure("ft/s", FOOT),
        "mass": Measure("oz", OUNCE),
        "power": Measure("W", 1.0),
        "time": Measure("min", 60.0),
    },
}
"""Unit of every dimension in each system; a difference is one of temperatures."""

_WORDS = {  # as texts of the library write it: size in SI, zero, dimension, format in the US unit
    "degC": (1.0, ZERO_CELSIUS, "temperature", ".0f"),
    "ml": (1e-6, 0.0, "volume", ".2f"),
    "l": (1e-3, 0.0, "volume", ".1f"),
    "mm": (1e-3, 0.0, "length", ".2f"),
    "mm2": (1e-6, 0.0, "area", ".3g"),
    "m": (1.0, 0.0, "altitude", ".0f"),
    "Pa": (1.0, 0.0, "pressure", ".3f"),
    "m/s": (1.0, 0.0, "velocity", ".1f"),
}
BOTH = re.compile(r"\d+\.\d ml \((\d+\.\d\d fl oz)\)")
"""An amount as `in_both` writes it."""
_QUANTITY = re.compile(
    r"(?<![\w.])(?P<pad> *)(?P<number>-?\d+(?:\.\d+)?) (?P<unit>degC|ml|mm2|mm|m/s|m|l|Pa)(?![\w/2-9])"
)


def measure(dimension: str, system: str = "si") -> Measure:
    """The unit of a dimension in a system of units.

    Parameters
    ----------
    dimension : a key of `MEASURES["si"]`
    system : "si" or "us"

    Raises
    ------
    InputError
        If there is no such system.
    """
    if system not in MEASURES:
        guess = nearest(str(system), SYSTEMS)
        hint = f"did you mean {guess!r}?" if guess else "choose one of them"
        raise InputError("units", system, "is not known; allowed: 'si', 'us'", hint)
    return MEASURES[system][dimension]


def written(value: float, dimension: str, system: str = "si", figures: int | None = None) -> str:
    """Write an SI value in the unit of a system.

    Parameters
    ----------
    value : [SI]
    dimension : a key of `MEASURES["si"]`
    system : "si" or "us"
    figures : after the point; default none: as many as suit the unit

    >>> written(30e-6, "volume"), written(30e-6, "volume", "us"), written(285.15, "temperature", "us")
    ('30.0 ml', '1.01 fl oz', '54 degF')
    """
    unit = measure(dimension, system)
    usual = {"degC": 0, "ml": 1, "mm": 1, "m": 0, "Pa": 1, "W": 0}.get(unit.unit, _US_FIGURES.get(unit.unit, 1))
    return f"{unit.of(value):.{usual if figures is None else figures}f} {unit.unit}"


_US_FIGURES = {"degF": 0, "fl oz": 2, "in": 3, "ft": 0, "inH2O": 3, "ft/s": 1, "oz": 2, "min": 1, "m/s": 1, "g": 1}


def in_system(text: str, system: str) -> str:
    """Rewrite the quantities of a text in the units of a system; "si" leaves it as it is.

    Parameters
    ----------
    text : as the library writes it, in SI
    system : "si" or "us"

    >>> in_system("37.0 ml of methanol; air 20 degC, froth 13.5 mm, 547 W", "us")
    '1.25 fl oz of methanol; air 68 degF, froth 0.53 in, 547 W'
    >>> in_system("48.6 ml (1.64 fl oz) with notches of 0.45 mm2", "us")
    '1.64 fl oz with notches of 0.000698 in2'
    """
    measure("length", system)
    if system == "si":
        return text
    text = BOTH.sub(r"\1", text)

    def rewritten(match: "re.Match[str]") -> str:
        size, zero, dimension, form = _WORDS[match["unit"]]
        unit = measure(dimension, system)
        number = f"{unit.of(float(match['number']) * size + zero):{form}}"
        pad = match["pad"]
        new = f"{number} {unit.unit}"
        grown = len(new) - len(match["number"]) - 1 - len(match["unit"])
        if len(pad) > 1:  # in a column: keep the end of the number where it was
            pad = " " * max(len(pad) - (len(number) - len(match["number"])), 1) if grown else pad
        return f"{pad}{new}"

    return _QUANTITY.sub(rewritten, text)


def in_both(volume: float) -> str:
    """Write an amount in millilitres and in fluid ounces; `in_system` keeps the second for "us".

    Parameters
    ----------
    volume : [m3]

    >>> in_both(48.6e-6)
    '48.6 ml (1.64 fl oz)'
    """
    return f"{volume * 1e6:.1f} ml ({volume / FLUID_OUNCE:.2f} fl oz)"


def in_si_only(text: str) -> str:
    """A text without the fluid ounces that stand in brackets behind an amount in millilitres.

    Parameters
    ----------
    text : as the library writes it

    >>> in_si_only("48.6 ml (1.64 fl oz) is safe")
    '48.6 ml is safe'
    """
    return BOTH.sub(lambda found: found[0].partition(" (")[0], text)
