"""Bands of a prediction in the words of a sheet."""

from typing import TYPE_CHECKING

from burnsim.units import format_time, written

if TYPE_CHECKING:
    from burnsim.studies.predict.prediction import Prediction

TIMES = ("bloom", "boil", "burnout", "spill")
DIMENSIONS = {"power_median": "power", "water_max": "temperature", "gallery_pressure_max": "pressure"}
ENDS = (0.05, 0.95)
SURE = 0.995  # a share that is told as always


def band_text(found: "Prediction", name: str, units: str) -> str:
    """Central 90 % of a figure, and in how many burns it has a value if not in all.

    Parameters
    ----------
    found : a prediction
    name : of one of its figures; empty for none
    units : "si" or "us"
    """
    if not name:
        return ""
    share = found.happens(name).value
    ends = found.quantiles(name, ENDS)
    if not ends:
        return "in none of the burns"
    low, high = (one.value for one in ends)
    if name in TIMES:
        text = _span(format_time(low), format_time(high))
    elif name in DIMENSIONS:
        text = _span(*(written(end, DIMENSIONS[name], units) for end in (low, high)))
    else:
        text = _span(*(written(end, "fraction", decimals=0) for end in (low, high)))
    return text if share >= SURE else f"{text}, in {100.0 * share:.0f} % of the burns"


def _span(low: str, high: str) -> str:
    """Two ends in words; one if they read the same."""
    return low if low == high else f"{low} to {high}"
