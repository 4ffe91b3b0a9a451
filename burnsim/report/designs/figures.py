"""Figures of a burn and their differences, as a person reads them."""

from typing import NamedTuple

from burnsim.units import format_time, measure
from burnsim.units.writing import MINUS, with_unit


class Figure(NamedTuple):
    """How a figure is told: its title, the dimension of its value and that of a difference, decimals in each system."""

    title: str
    dimension: str
    apart: str
    decimals: tuple[int, int] = (1, 2)


FIGURES: dict[str, Figure] = {
    "bloom": Figure("jets light (bloom)", "time", "time"),
    "boil": Figure("water boils", "time", "time"),
    "burnout": Figure("last flame out", "time", "time"),
    "boil_fuel": Figure("fuel burnt by the boil", "mass", "mass"),
    "efficiency_to_boil": Figure("efficiency to boil", "fraction", "fraction", (1, 1)),
    "efficiency": Figure("efficiency, whole", "fraction", "fraction", (1, 1)),
    "power_median": Figure("power, median", "power", "power", (0, 0)),
    "power_max": Figure("power, highest", "power", "power", (0, 0)),
    "water_max": Figure("hottest water", "temperature", "temperature difference", (1, 1)),
    "spill_margin": Figure("froth below the jets", "length", "length", (1, 3)),
    "gallery_pressure_max": Figure("highest pressure, jets", "pressure", "pressure", (1, 3)),
}
NOTHING = "\N{EN DASH}"


def figure_told(name: str, value: float | None, units: str = "si", density: float | None = None) -> str:
    """A figure [SI] with its unit; a mass of fuel as a volume where its density is given [kg/m3].

    >>> from burnsim.units import plain
    >>> plain(figure_told("boil_fuel", 0.0158)), plain(figure_told("boil_fuel", 0.0158, density=790.0))
    ('15.8 g', '20.0 ml')
    """
    if value is None:
        return NOTHING
    return _told(name, FIGURES[name].dimension, value, units, density)


def change_told(name: str, value: float | None, units: str = "si", density: float | None = None) -> str:
    """A difference of two figures [SI] with its sign and unit, as `figure_told` tells either.

    >>> from burnsim.units import plain
    >>> plain(change_told("boil", -72.0)), plain(change_told("water_max", 1.5)), plain(change_told("efficiency", 0.012))
    ('-1 min 12 s', '+1.5 K', '+1.2 points')
    """
    if value is None:
        return NOTHING
    text = _told(name, FIGURES[name].apart, abs(value), units, density)
    if FIGURES[name].dimension == "fraction":
        text = text.removesuffix("%") + "points"
    if not any(letter in "123456789" for letter in text):
        return text
    return (MINUS if value < 0.0 else "+") + text


def differs(name: str, gap: float | None, units: str = "si", density: float | None = None) -> bool:
    """Whether a difference shows in the digits in which `change_told` tells it.

    >>> differs("boil", 0.7), differs("boil", -0.3), differs("boil", None)
    (True, False, False)
    """
    return gap is not None and change_told(name, gap, units, density)[0] in f"+{MINUS}"


def _told(name: str, dimension: str, value: float, units: str, density: float | None) -> str:
    if dimension == "time":
        return format_time(value)
    if dimension == "mass" and density is not None:
        dimension, value = "volume", value / density
    unit = measure(dimension, units)
    return with_unit(f"{unit.of(value):.{FIGURES[name].decimals[units == 'us']}f}", unit.unit)
