"""Values of a dataset in the units of a person, with the words for an axis."""

from collections.abc import Mapping
from math import pi
from typing import Any

import numpy as np
from numpy.typing import NDArray

from burnsim.studies.sweep.plan import spec_at
from burnsim.substances.blend import Blend
from burnsim.units import DIMENSIONS, measure
from burnsim.units.drills import drill_name, ruled
from burnsim.units.table import DIMENSION_OF, Measure
from burnsim.units.writing import NBSP, shown

DIFFERENCES = ("margin", "difference", "superheat", "subcooling")  # in the name of what has no zero
SHARED = ("count", "height", "width", "diameter", "material", "thickness", "depth", "rows")
"""Names of fields that several parts have."""
FIGURES = {"bloom": "time to bloom", "boil": "time to boil", "burnout": "time to burn-out",
           "boil_fuel": "fuel burnt by the boil"}  # fmt: skip
"""Figures of a burn that have other words than their names."""


def readable(
    values: NDArray[Any], name: str, attrs: Mapping[str, Any], units: str = "si"
) -> tuple[NDArray[np.float64], str]:
    """Values of a variable or of the field at a dotted path in a person's units, and the label of their axis.

    The values are in SI, of any shape; its attributes are those of a dataset, "units" [SI] and "long_name" among them.

    >>> values, label = readable(np.array([0.001]), "burner.jets.diameter", {"units": "m", "long_name": "jet diameter"})
    >>> round(float(values[0]), 6), label
    (1.0, 'jet diameter [mm]')
    """
    number = np.asarray(values, dtype=np.float64)
    si = str(attrs.get("units", ""))
    words = str(attrs.get("long_name") or name.replace("_", " "))
    if si == "s" and np.nanmax(np.abs(number), initial=0.0) > 120.0:
        return number / 60.0, f"{words} [min]"
    if si == "rad":
        return number * 180.0 / pi, f"{words} [°]"
    if si == "1" and name.rpartition(".")[2] in {"efficiency", "efficiency_to_boil", "heat_fed_back", "humidity"}:
        return 100.0 * number, f"{words} [%]"
    dimension = DIMENSION_OF.get(si)
    if dimension == "length" and name.endswith("altitude"):
        dimension = "altitude"
    if dimension == "velocity" and name.endswith("wind"):
        dimension = "wind speed"
    if dimension is None or (si == "K" and any(word in name for word in DIFFERENCES)):
        return number, f"{words} [{si}]" if si and si != "1" else words
    unit = measure(dimension, units)
    return unit.of(number), f"{words} [{unit.unit}]"


def unit_of(dimension: str, units: str, density: float | None) -> Measure:
    """The unit of a figure; of a mass of fuel, where its density is given [kg/m3], that of the volume poured."""
    if dimension != "mass" or density is None:
        return measure(dimension, units)
    volume = measure("volume", units)
    return volume._replace(size=volume.size * density)


def value_text(path: str, value: object, units: str = "si") -> str:
    """Write the value of the field at a path [SI] in two or three digits, as a picture has room for.

    >>> from burnsim.units import plain
    >>> [plain(value_text("burner.jets.diameter", 0.85173e-3, units)) for units in ("si", "us")]
    ['0.85 mm', '0.0335 in']
    >>> plain(value_text("burner.jets.diameter", 1.5875e-3, "us")), plain(value_text("pot.gap", 1.5875e-3, "us"))
    ('1/16 in', '1/16 in')
    >>> plain(value_text("charge.volume", 38.456e-6)), value_text("burner.jets.count", 24)
    ('38.5 ml', '24')
    """
    spec = spec_at(path)
    if not isinstance(value, float) or spec.dimension not in DIMENSIONS:
        return value.name if isinstance(value, Blend) else str(value)
    if not np.isfinite(value):
        return "none"
    if units == "us" and spec.dimension == "length":
        name = drill_name(value) if path == "burner.jets.diameter" else ""
        return f"{name}{NBSP}drill" if name else ruled(value, 3)
    small = abs(measure(spec.dimension, units).of(value)) < 1.0
    return shown(value, spec.dimension, units, 2 if small else 3)


def field_name(path: str) -> str:
    """The last words of a path, as many as tell it from others.

    >>> field_name("burner.jets.count"), field_name("charge.fuel")
    ('jets count', 'fuel')
    """
    parts = path.replace("_", " ").split(".")
    return " ".join(parts[-2:]) if parts[-1] in SHARED and len(parts) > 2 else parts[-1]


def figure_name(name: str) -> str:
    """A figure of a burn in words.

    >>> figure_name("boil"), figure_name("power_median")
    ('time to boil', 'power median')
    """
    return FIGURES.get(name, name.replace("_", " "))
