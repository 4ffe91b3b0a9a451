"""The value of a varied field as a person writes it."""

from burnsim.measures import in_system, written
from burnsim.model.fields import SHOWN, shown
from burnsim.studies.sweep_plan import spec_at
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
    if units == "us" and spec.dimension == "length" and spec.unit != "m":
        return written(value, "length", units, 4)
    return in_system(shown(float(f"{value:.4g}"), spec.dimension, spec.unit), units)
