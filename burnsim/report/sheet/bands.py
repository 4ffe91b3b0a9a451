"""Bands of a prediction in the words of a sheet."""

from typing import TYPE_CHECKING

from burnsim.substances.blend import density
from burnsim.units import format_time, written

if TYPE_CHECKING:
    from burnsim.studies.predict.prediction import Prediction

TIMES = ("bloom", "boil", "burnout", "spill")
DIMENSIONS = {"power_median": "power", "water_max": "temperature", "gallery_pressure_max": "pressure"}
ENDS = (0.05, 0.95)
SURE = 0.995  # a share that is told as always


def band_text(found: "Prediction", name: str, units: str) -> str:
    """Central 90 % of a figure in the next burn of this build, and in how many burns it has a value if not in all."""
    if not name:
        return ""
    share = found.happens(name).value
    ends = found.quantiles(name, ENDS, of="next")
    if not ends:
        return "in none of the burns"
    low, high = (_text(found, name, one.value, units) for one in ends)
    text = low if low == high else f"{low} to {high}"
    return text if share >= SURE else f"{text}, in {100.0 * share:.0f}\u00a0% of the burns"


def _text(found: "Prediction", name: str, value: float, units: str) -> str:
    """A value of a figure."""
    if name in TIMES:
        return format_time(value)
    if name == "boil_fuel":  # a mass; told as the volume that was poured
        charge = found.setup.charge
        poured = density(charge.fuel, charge.temperature or found.setup.site.air_temperature)
        return written(value / poured, "volume", units)
    if name in DIMENSIONS:
        return written(value, DIMENSIONS[name], units)
    return written(value, "fraction", decimals=0)
