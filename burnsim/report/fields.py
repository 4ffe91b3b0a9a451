"""The value of a field as a person writes it."""

from burnsim.measures import MEASURES, measure
from burnsim.model.description.fields import SHOWN, shown
from burnsim.studies.sweep.plan import spec_at
from burnsim.substances.blend import Blend


def field_text(path: str, value: object, units: str = "si") -> str:
    """Write the value of a field.

    Parameters
    ----------
    path : of the field, dotted
    value : [SI]
    units : "si" or "us"

    >>> field_text("burner.jets.diameter", 0.95e-3), field_text("burner.jets.count", 24)
    ('0.95 mm', '24')
    >>> field_text("burner.jets.diameter", 0.95e-3, "us"), field_text("site.altitude", 1500.0, "us")
    ('0.0374 in', '4921 ft')
    """
    if isinstance(value, Blend):
        return value.name
    spec = spec_at(path)
    if not isinstance(value, float) or spec.dimension not in SHOWN:
        return str(value)
    return quantity_text(float(f"{value:.4g}"), spec.dimension, spec.unit, units)


def quantity_text(value: float, dimension: str, unit: str = "", units: str = "si") -> str:
    """Write a quantity.

    Parameters
    ----------
    value : [SI]
    dimension : a key of `burnsim.model.description.fields.SHOWN` or of `burnsim.measures.MEASURES`
    unit : in which the field is read instead of its dimension's, "m" for one that is high
    units : "si" or "us"

    >>> quantity_text(0.1e-3, "length", units="us"), quantity_text(0.1e-3, "length")
    ('0.003937 in', '0.1 mm')
    """
    if units == "si" and dimension in SHOWN:
        return shown(value, dimension, unit)
    if unit == "m":
        dimension = "altitude"
    if dimension not in MEASURES["us"]:
        return shown(value, dimension, unit)
    one = measure(dimension, units)
    return f"{one.of(value):.4g} {one.unit}"
