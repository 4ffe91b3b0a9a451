"""The one table of units: what can be measured, the words that people write, and the units in which they read.

Fluid ounces, cups, pints, quarts and gallons are US customary; British ones are written "imp pint". A unit means what
it says: "oz" is a mass and "fl oz" a volume.
"""

from math import pi
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
DEGREE = pi / 180.0


class Measure(NamedTuple):
    """A unit in which people read: its sign, its size in SI, its zero in SI, and the usual decimals."""

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

    `words` has, for each of pint's units, the words that mean it; `read` the units in which people read it, "si" with
    its habits (°C, ml, mm) and that of the United States.
    """

    si: str
    example: str
    words: dict[str, str]  # words are parted by ";"
    read: tuple[Measure, Measure]
    bare: bool = False  # whether a text may do without a unit


_LENGTH = {
    "millimeter": "mm;MM;millimetre;millimetres;millimeter;millimeters",
    "centimeter": "cm;CM;centimetre;centimetres;centimeter;centimeters",
    "meter": "m;metre;metres;meter;meters",
    "kilometer": "km;kilometre;kilometres;kilometer;kilometers",
    "micrometer": "um;μm;micron;microns;micrometre;micrometres;micrometer;micrometers",
    "inch": 'in;IN;inch;inches;"',
    "foot": "ft;FT;foot;feet",
    "yard": "yd;yard;yards",
    "thou": "thou;mil;mils",
}
_VOLUME = {
    "milliliter": "ml;mL;ML;millilitre;millilitres;milliliter;milliliters",
    "centiliter": "cl;cL;centilitre;centilitres;centiliter;centiliters",
    "deciliter": "dl;dL;decilitre;decilitres;deciliter;deciliters",
    "liter": "l;L;litre;litres;liter;liters",
    "millimeter**3": "mm3;cubic millimetre;cubic millimetres;cubic millimeters",
    "centimeter**3": "cm3;cc;ccm;cubic centimetre;cubic centimetres;cubic centimeters",
    "meter**3": "m3;cubic metre;cubic metres;cubic meters",
    "inch**3": "in3;cu in;cubic inch;cubic inches",
    "fluid_ounce": "fl oz;floz;FL OZ;fluid ounce;fluid ounces;US fl oz;US fluid ounce;US fluid ounces",
    "cup": "cup;cups;US cup;US cups",
    "pint": "pt;pint;pints;US pint;US pints",
    "quart": "qt;quart;quarts;US quart;US quarts",
    "gallon": "gal;gallon;gallons;US gallon;US gallons",
    "tablespoon": "tbsp;tablespoon;tablespoons",
    "teaspoon": "tsp;teaspoon;teaspoons",
    "imperial_fluid_ounce": "imp fl oz;imperial fl oz;imperial fluid ounce;imperial fluid ounces",
    "imperial_pint": "imp pint;imp pints;imperial pint;imperial pints",
    "imperial_gallon": "imp gal;imp gallon;imperial gallon;imperial gallons",
}
_MASS = {
    "gram": "g;gram;grams;gramme;grammes",
    "kilogram": "kg;KG;kilogram;kilograms;kilo;kilos",
    "milligram": "mg;milligram;milligrams",
    "ounce": "oz;OZ;ounce;ounces",
    "pound": "lb;LB;lbs;pound;pounds",
}
_TEMPERATURE = {
    "kelvin": "K;kelvin;kelvins;deg K",
    "degree_Celsius": "degC;deg C;C;celsius;degree celsius;degrees celsius;degrees C;centigrade",
    "degree_Fahrenheit": "degF;deg F;F;fahrenheit;degree fahrenheit;degrees fahrenheit;degrees F",
}
_DIFFERENCE = {
    "kelvin": _TEMPERATURE["kelvin"],
    "delta_degree_Celsius": _TEMPERATURE["degree_Celsius"],
    "delta_degree_Fahrenheit": _TEMPERATURE["degree_Fahrenheit"],
}
_TIME = {
    "second": "s;sec;secs;second;seconds",
    "minute": "min;mins;minute;minutes",
    "hour": "h;hr;hrs;hour;hours",
    "millisecond": "ms;millisecond;milliseconds",
}
_SPEED = {
    "meter/second": "m/s;mps;metre/second;metres/second;meters/second",
    "centimeter/second": "cm/s",
    "millimeter/second": "mm/s",
    "kilometer/hour": "km/h;kph;kmh;km/hr;kilometres/hour;kilometers/hour",
    "mile/hour": "mph;mi/h;miles/hour",
    "foot/second": "ft/s;fps;feet/second",
    "knot": "kn;kt;knot;knots",
}
_PRESSURE = {
    "pascal": "Pa;pascal;pascals",
    "hectopascal": "hPa;hectopascal;hectopascals",
    "kilopascal": "kPa;kilopascal;kilopascals",
    "millibar": "mbar;millibar;millibars",
    "bar": "bar;bars",
    "atmosphere": "atm;atmosphere;atmospheres",
    "psi": "psi;lb/in2",
    "millimeter_Hg": "mmHg;mm Hg",
    "inch_Hg": "inHg;in Hg",
    "centimeter_H2O": "cmH2O;cm H2O",
    "inch_H2O": "inH2O;in H2O;inch of water;inches of water",
}
_POWER = {
    "watt": "W;watt;watts",
    "kilowatt": "kW;KW;kilowatt;kilowatts",
    "british_thermal_unit/hour": "BTU/h;BTU/hr",
}
_MASS_FLOW = {
    "kilogram/second": "kg/s",
    "gram/second": "g/s",
    "milligram/second": "mg/s",
    "gram/minute": "g/min",
    "kilogram/hour": "kg/h;kg/hr",
    "gram/hour": "g/h;g/hr",
    "pound/hour": "lb/h;lb/hr",
}
_AREA = {
    "millimeter**2": "mm2;sq mm;square millimetre;square millimetres;square millimeters",
    "centimeter**2": "cm2;sq cm;square centimetre;square centimetres;square centimeters",
    "meter**2": "m2;sq m;square metre;square metres;square meters",
    "inch**2": "in2;sq in;square inch;square inches",
}
_ANGLE = {"degree": "deg;degree;degrees", "radian": "rad;radian;radians"}
_SHARE = {"percent": "%;percent;per cent;pct"}

_CELSIUS = Measure("°C", 1.0, ZERO_CELSIUS, 0)
_FAHRENHEIT = Measure("°F", 5.0 / 9.0, ZERO_CELSIUS - 32.0 * 5.0 / 9.0, 0)
_SHARES = (Measure("%", 0.01), Measure("%", 0.01))
_SPEEDS = (Measure("m/s"), Measure("ft/s", FOOT))
_PLAIN = (Measure("", decimals=3), Measure("", decimals=3))

DIMENSIONS: dict[str, Dimension] = {
    "length": Dimension("meter", "0.9 mm", _LENGTH, (Measure("mm", 1e-3), Measure("in", INCH, decimals=3))),
    "altitude": Dimension("meter", "1500 m", _LENGTH, (Measure("m", decimals=0), Measure("ft", FOOT, decimals=0))),
    "volume": Dimension("meter**3", "30 ml", _VOLUME, (Measure("ml", 1e-6), Measure("fl oz", FLUID_OUNCE, decimals=2))),
    "mass": Dimension("kilogram", "250 g", _MASS, (Measure("g", 1e-3), Measure("oz", OUNCE, decimals=2))),
    "temperature": Dimension("kelvin", "20 degC", _TEMPERATURE, (_CELSIUS, _FAHRENHEIT)),
    "temperature difference": Dimension("kelvin", "5 K", _DIFFERENCE, (Measure("K"), Measure("°F", 5.0 / 9.0))),
    "time": Dimension("second", "5 min", _TIME, (Measure("min", 60.0), Measure("min", 60.0))),
    "velocity": Dimension("meter/second", "2 m/s", _SPEED, _SPEEDS),
    "pressure": Dimension(
        "pascal", "1013 hPa", _PRESSURE, (Measure("Pa"), Measure("inH2O", INCH_OF_WATER, decimals=3))
    ),
    "fraction": Dimension("dimensionless", "95 %", _SHARE, _SHARES, bare=True),
    "power": Dimension("watt", "500 W", _POWER, (Measure("W", decimals=0), Measure("W", decimals=0))),
    "mass flow": Dimension("kilogram/second", "20 mg/s", _MASS_FLOW, (Measure("mg/s", 1e-6), Measure("mg/s", 1e-6))),
    "area": Dimension("meter**2", "12 cm2", _AREA, (Measure("mm²", 1e-6), Measure("in²", INCH**2, decimals=5))),
    "angle": Dimension("radian", "5 deg", _ANGLE, (Measure("°", DEGREE), Measure("°", DEGREE))),
    "number": Dimension("dimensionless", "1.5", _SHARE, _PLAIN, bare=True),
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
        guess = nearest(str(system), SYSTEMS)
        hint = f"did you mean {guess!r}?" if guess else "choose one of them"
        raise InputError("units", system, "is not known; allowed: 'si', 'us'", hint)
    return MEASURES[system][dimension]
