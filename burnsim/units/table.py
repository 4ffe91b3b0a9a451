"""The one table of units: what can be measured, the words that people write, and the units in which they read.

Fluid ounces, cups, pints, quarts and gallons are US customary; British ones are written "imp pint". A unit means what
it says: "oz" is a mass and "fl oz" a volume.
"""

from fractions import Fraction
from math import pi
from typing import TYPE_CHECKING, NamedTuple, overload

from burnsim.constants import ATMOSPHERE, GRAVITY, ZERO_CELSIUS
from burnsim.errors import unknown

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

SYSTEMS = ("si", "us")
INCH = 0.0254
FLUID_OUNCE = 29.5735295625e-6  # US customary [m3], exact (NIST Handbook 44)
INCH_OF_WATER = 249.08891  # at 4 degC [Pa] (NIST SP 811, appendix B)
FOOT = 0.3048
MILE = 5280.0 * FOOT
OUNCE = 28.349523125e-3  # avoirdupois [kg], exact
DEGREE = pi / 180.0


class Measure(NamedTuple):
    """A unit in which people read: its sign, its size in SI, its zero in SI, and the usual decimals: -1 is tens."""

    unit: str
    size: float = 1.0
    zero: float = 0.0
    decimals: int = 1

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


class Dimension(NamedTuple):
    """What can be measured.

    `words` has, by the name that pint gives it, each unit's size in SI and the words that mean it; `read` the units in
    which people read it, "si" with its habits (°C, ml, mm) and that of the United States.
    """

    si: str
    example: str
    words: dict[str, tuple[Fraction, str]]  # words are parted by ";"
    read: tuple[Measure, Measure]
    bare: bool = False  # whether a text may do without a unit


_INCH, _POUND = Fraction("0.0254"), Fraction("0.45359237")  # exact
_GALLON, _IMPERIAL = 231 * _INCH**3, Fraction("4.54609e-3")  # US: NIST Handbook 44; UK: Weights and Measures Act 1985
_GRAVITY = Fraction(str(GRAVITY))
_MERCURY = Fraction("133322.387415")  # a metre of it at 0 degC, conventional (NIST SP 811)

_LENGTH = {
    "millimeter": (Fraction("1e-3"), "mm;MM;millimetre;millimetres;millimeter;millimeters"),
    "centimeter": (Fraction("1e-2"), "cm;CM;centimetre;centimetres;centimeter;centimeters"),
    "meter": (Fraction(1), "m;metre;metres;meter;meters"),
    "kilometer": (Fraction(1000), "km;kilometre;kilometres;kilometer;kilometers"),
    "micrometer": (Fraction("1e-6"), "um;μm;micron;microns;micrometre;micrometres;micrometer;micrometers"),
    "inch": (_INCH, 'in;IN;inch;inches;"'),
    "foot": (12 * _INCH, "ft;FT;foot;feet"),
    "yard": (36 * _INCH, "yd;yard;yards"),
    "thou": (_INCH / 1000, "thou;mil;mils"),
}
_VOLUME = {
    "milliliter": (Fraction("1e-6"), "ml;mL;ML;millilitre;millilitres;milliliter;milliliters"),
    "centiliter": (Fraction("1e-5"), "cl;cL;centilitre;centilitres;centiliter;centiliters"),
    "deciliter": (Fraction("1e-4"), "dl;dL;decilitre;decilitres;deciliter;deciliters"),
    "liter": (Fraction("1e-3"), "l;L;litre;litres;liter;liters"),
    "millimeter**3": (Fraction("1e-9"), "mm3;cubic millimetre;cubic millimetres;cubic millimeters"),
    "centimeter**3": (Fraction("1e-6"), "cm3;cc;ccm;cubic centimetre;cubic centimetres;cubic centimeters"),
    "meter**3": (Fraction(1), "m3;cubic metre;cubic metres;cubic meters"),
    "inch**3": (_INCH**3, "in3;cu in;cubic inch;cubic inches"),
    "fluid_ounce": (_GALLON / 128, "fl oz;floz;FL OZ;fluid ounce;fluid ounces;US fl oz;US fluid ounce;US fluid ounces"),
    "cup": (_GALLON / 16, "cup;cups;US cup;US cups"),
    "pint": (_GALLON / 8, "pt;pint;pints;US pint;US pints"),
    "quart": (_GALLON / 4, "qt;quart;quarts;US quart;US quarts"),
    "gallon": (_GALLON, "gal;gallon;gallons;US gallon;US gallons"),
    "tablespoon": (_GALLON / 256, "tbsp;tablespoon;tablespoons"),
    "teaspoon": (_GALLON / 768, "tsp;teaspoon;teaspoons"),
    "imperial_fluid_ounce": (_IMPERIAL / 160, "imp fl oz;imperial fl oz;imperial fluid ounce;imperial fluid ounces"),
    "imperial_pint": (_IMPERIAL / 8, "imp pint;imp pints;imperial pint;imperial pints"),
    "imperial_gallon": (_IMPERIAL, "imp gal;imp gallon;imperial gallon;imperial gallons"),
}
_MASS = {
    "gram": (Fraction("1e-3"), "g;gram;grams;gramme;grammes"),
    "kilogram": (Fraction(1), "kg;KG;kilogram;kilograms;kilo;kilos"),
    "milligram": (Fraction("1e-6"), "mg;milligram;milligrams"),
    "ounce": (_POUND / 16, "oz;OZ;ounce;ounces"),
    "pound": (_POUND, "lb;LB;lbs;pound;pounds"),
}
_TEMPERATURE = {
    "kelvin": (Fraction(1), "K;kelvin;kelvins;deg K"),
    "degree_Celsius": (Fraction(1), "degC;deg C;C;celsius;degree celsius;degrees celsius;degrees C;centigrade"),
    "degree_Fahrenheit": (Fraction(5, 9), "degF;deg F;F;fahrenheit;degree fahrenheit;degrees fahrenheit;degrees F"),
}
_DIFFERENCE = {
    "kelvin": _TEMPERATURE["kelvin"],
    "delta_degree_Celsius": _TEMPERATURE["degree_Celsius"],
    "delta_degree_Fahrenheit": _TEMPERATURE["degree_Fahrenheit"],
}
_TIME = {
    "second": (Fraction(1), "s;sec;secs;second;seconds"),
    "minute": (Fraction(60), "min;mins;minute;minutes"),
    "hour": (Fraction(3600), "h;hr;hrs;hour;hours"),
    "millisecond": (Fraction("1e-3"), "ms;millisecond;milliseconds"),
}
_SPEED = {
    "meter/second": (Fraction(1), "m/s;mps;metre/second;metres/second;meters/second"),
    "centimeter/second": (Fraction("1e-2"), "cm/s"),
    "millimeter/second": (Fraction("1e-3"), "mm/s"),
    "kilometer/hour": (Fraction(1000, 3600), "km/h;kph;kmh;km/hr;kilometres/hour;kilometers/hour"),
    "mile/hour": (63360 * _INCH / 3600, "mph;mi/h;miles/hour"),
    "foot/second": (12 * _INCH, "ft/s;fps;feet/second"),
    "knot": (Fraction(1852, 3600), "kn;kt;knot;knots"),
}
_PRESSURE = {
    "pascal": (Fraction(1), "Pa;pascal;pascals"),
    "hectopascal": (Fraction(100), "hPa;hectopascal;hectopascals"),
    "kilopascal": (Fraction(1000), "kPa;kilopascal;kilopascals"),
    "millibar": (Fraction(100), "mbar;millibar;millibars"),
    "bar": (Fraction(100000), "bar;bars"),
    "atmosphere": (Fraction(str(ATMOSPHERE)), "atm;atmosphere;atmospheres"),
    "psi": (_POUND * _GRAVITY / _INCH**2, "psi;lb/in2"),
    "millimeter_Hg": (_MERCURY / 1000, "mmHg;mm Hg"),
    "inch_Hg": (_MERCURY * _INCH, "inHg;in Hg"),
    "centimeter_H2O": (10 * _GRAVITY, "cmH2O;cm H2O"),
    "inch_H2O": (1000 * _GRAVITY * _INCH, "inH2O;in H2O;inch of water;inches of water"),
}
_POWER = {
    "watt": (Fraction(1), "W;watt;watts"),
    "kilowatt": (Fraction(1000), "kW;KW;kilowatt;kilowatts"),
    "british_thermal_unit/hour": (Fraction("1055.056") / 3600, "BTU/h;BTU/hr"),  # of the International Table
}
_MASS_FLOW = {
    "kilogram/second": (Fraction(1), "kg/s"),
    "gram/second": (Fraction("1e-3"), "g/s"),
    "milligram/second": (Fraction("1e-6"), "mg/s"),
    "gram/minute": (Fraction(1, 60000), "g/min"),
    "kilogram/hour": (Fraction(1, 3600), "kg/h;kg/hr"),
    "gram/hour": (Fraction(1, 3600000), "g/h;g/hr"),
    "pound/hour": (_POUND / 3600, "lb/h;lb/hr"),
}
_AREA = {
    "millimeter**2": (Fraction("1e-6"), "mm2;sq mm;square millimetre;square millimetres;square millimeters"),
    "centimeter**2": (Fraction("1e-4"), "cm2;sq cm;square centimetre;square centimetres;square centimeters"),
    "meter**2": (Fraction(1), "m2;sq m;square metre;square metres;square meters"),
    "inch**2": (_INCH**2, "in2;sq in;square inch;square inches"),
}
_ANGLE = {"degree": (Fraction(DEGREE), "deg;degree;degrees"), "radian": (Fraction(1), "rad;radian;radians")}
_SHARE = {"percent": (Fraction("0.01"), "%;percent;per cent;pct")}

_ICE = Fraction(str(ZERO_CELSIUS))
ZEROS = {"degree_Celsius": _ICE, "degree_Fahrenheit": _ICE - Fraction(160, 9)}
"""What is 0 in a unit, in SI; of all others it is 0."""

_CELSIUS = Measure("°C", 1.0, ZERO_CELSIUS, 0)
_FAHRENHEIT = Measure("°F", 5.0 / 9.0, ZERO_CELSIUS - 32.0 * 5.0 / 9.0, 0)
_SPEEDS = (Measure("m/s"), Measure("ft/s", FOOT))
_WINDS = (Measure("m/s"), Measure("mph", MILE / 3600.0))

DIMENSIONS: dict[str, Dimension] = {
    "length": Dimension("meter", "0.9 mm", _LENGTH, (Measure("mm", 1e-3), Measure("in", INCH, decimals=3))),
    "altitude": Dimension("meter", "1500 m", _LENGTH, (Measure("m", decimals=0), Measure("ft", FOOT, decimals=-1))),
    "volume": Dimension("meter**3", "30 ml", _VOLUME, (Measure("ml", 1e-6), Measure("fl oz", FLUID_OUNCE, decimals=2))),
    "mass": Dimension("kilogram", "250 g", _MASS, (Measure("g", 1e-3), Measure("oz", OUNCE, decimals=3))),
    "temperature": Dimension("kelvin", "20 degC", _TEMPERATURE, (_CELSIUS, _FAHRENHEIT)),
    "temperature difference": Dimension("kelvin", "5 K", _DIFFERENCE, (Measure("K"), Measure("°F", 5.0 / 9.0))),
    "time": Dimension("second", "5 min", _TIME, (Measure("min", 60.0),) * 2),
    "velocity": Dimension("meter/second", "2 m/s", _SPEED, _SPEEDS),
    "wind speed": Dimension("meter/second", "2 m/s", _SPEED, _WINDS),
    "pressure": Dimension(
        "pascal", "1013 hPa", _PRESSURE, (Measure("Pa"), Measure("inH2O", INCH_OF_WATER, decimals=3))
    ),
    "fraction": Dimension("dimensionless", "95 %", _SHARE, (Measure("%", 0.01),) * 2, bare=True),
    "power": Dimension("watt", "500 W", _POWER, (Measure("W", decimals=0),) * 2),
    "mass flow": Dimension("kilogram/second", "20 mg/s", _MASS_FLOW, (Measure("mg/s", 1e-6),) * 2),
    "area": Dimension("meter**2", "12 cm2", _AREA, (Measure("mm²", 1e-6), Measure("in²", INCH**2, decimals=5))),
    "angle": Dimension("radian", "5 deg", _ANGLE, (Measure("°", DEGREE),) * 2),
    "number": Dimension("dimensionless", "1.5", _SHARE, (Measure("", decimals=3),) * 2, bare=True),
}
"""What `parse` can read and `written` can write. Each dimension's SI unit is that of the float that stands for it."""

MEASURES: dict[str, dict[str, Measure]] = {
    system: {name: one.read[k] for name, one in DIMENSIONS.items()} for k, system in enumerate(SYSTEMS)
}
"""Unit of every dimension in each system."""

DIMENSION_OF = {
    "m": "length", "m3": "volume", "m^3": "volume", "m2": "area", "kg": "mass", "K": "temperature", "s": "time",
    "m/s": "velocity", "Pa": "pressure", "W": "power", "kg/s": "mass flow", "rad": "angle",
}  # fmt: skip
"""The dimension that a unit in SI stands for, as the attributes of a dataset name it."""


def measure(dimension: str, system: str = "si") -> Measure:
    """The unit of a dimension, a key of `DIMENSIONS`, in a system, "si" or "us"; an `InputError` for another."""
    if system not in MEASURES:
        raise unknown("units", system, SYSTEMS, show=repr)
    return MEASURES[system][dimension]
