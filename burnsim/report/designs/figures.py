"""Figures of a burn and their differences, as a person reads them."""

from burnsim.studies.predict.prediction import FIGURES
from burnsim.units import format_time, measure, written
from burnsim.units.writing import MINUS, NBSP

TITLES = {
    "bloom": "jets light (bloom)", "boil": "water boils", "burnout": "last flame out", "spill": "spill",
    "quench": "jets go out", "boil_fuel": "fuel burnt by the boil", "efficiency_to_boil": "efficiency to boil",
    "efficiency": "efficiency, whole", "power_median": "power, median", "power_max": "power, highest",
    "water_max": "hottest water", "spill_margin": "froth below the jets", "boil_margin": "water above boiling",
    "fuel_margin": "fuel left at the boil", "gallery_pressure_max": "highest pressure, jets",
    "well_pressure_max": "highest pressure, well", "heat_fed_back": "fed back to the fuel",
}  # fmt: skip
NOTHING = "\N{EN DASH}"


def figure_told(name: str, value: float | None, units: str = "si", density: float | None = None) -> str:
    """A figure [SI] with its unit; a mass of fuel as a volume where its density is given [kg/m3].

    >>> from burnsim.units import plain
    >>> plain(figure_told("boil_fuel", 0.0158)), plain(figure_told("boil_fuel", 0.0158, density=790.0))
    ('15.8 g', '20.0 ml')
    """
    return NOTHING if value is None else _told(FIGURES[name], value, units, density)


def apart(name: str) -> str:
    """The dimension of a difference of two figures."""
    return "temperature difference" if FIGURES[name] == "temperature" else FIGURES[name]


def amount_told(name: str, value: float, units: str = "si", density: float | None = None) -> str:
    """How far two figures are apart [SI], without a sign; fluid ounces, which are coarse, to thousandths.

    >>> from burnsim.units import plain
    >>> plain(amount_told("water_max", 1.5)), plain(amount_told("efficiency", 0.012))
    ('1.5 K', '1.2 points')
    >>> plain(amount_told("boil_fuel", 0.2e-3, "us", 790.0))
    '0.009 fl oz'
    """
    text = _told(apart(name), abs(value), units, density, finer=units == "us")
    return text.removesuffix("%") + "points" if FIGURES[name] == "fraction" else text


def change_told(name: str, value: float | None, units: str = "si", density: float | None = None) -> str:
    """A difference of two figures [SI] with its sign and unit, as `figure_told` tells either.

    >>> from burnsim.units import plain
    >>> plain(change_told("boil", -72.0)), plain(change_told("water_max", 1.5)), plain(change_told("efficiency", 0.012))
    ('-1 min 12 s', '+1.5 K', '+1.2 points')
    >>> plain(change_told("gallery_pressure_max", -0.05, "us"))
    '0.000 inH2O'
    """
    if value is None:
        return NOTHING
    text = amount_told(name, value, units, density)
    if not any(letter in "123456789" for letter in text.partition(NBSP)[0]):
        return text
    return (MINUS if value < 0.0 else "+") + text


def differs(name: str, gap: float | None, units: str = "si", density: float | None = None) -> bool:
    """Whether a difference shows in the digits in which `change_told` tells it.

    >>> differs("boil", 0.7), differs("boil", -0.3), differs("boil", None)
    (True, False, False)
    """
    return gap is not None and change_told(name, gap, units, density)[0] in f"+{MINUS}"


def decimals(dimension: str, units: str) -> int:
    """Decimals of a figure: those that suit its unit, and one of a temperature."""
    return 1 if dimension == "temperature" else measure(dimension, units).decimals


def _told(dimension: str, value: float, units: str, density: float | None, finer: bool = False) -> str:
    if dimension == "time":
        return format_time(value)
    if dimension == "mass" and density is not None:
        dimension, value = "volume", value / density
    return written(value, dimension, units, decimals(dimension, units) + (finer and dimension == "volume"))
