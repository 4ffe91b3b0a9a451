"""The curves of a burn as comma-separated values."""

import csv
import math
from typing import TYPE_CHECKING, TextIO

from burnsim.plots import hidden_series

if TYPE_CHECKING:
    from burnsim.solve import Burn

COLUMNS = (
    ("water_temperature", "K"),
    ("gallery_temperature", "K"),
    ("well_temperature", "K"),
    ("rim_temperature", "K"),
    ("power", "W"),
    ("jet_power", "W"),
    ("wick_power", "W"),
    ("well_power", "W"),
    ("fuel_left", "kg"),
)
"""Series written, with their units."""


def write_series(burn: "Burn", stream: TextIO) -> None:
    """Write one line a moment: time [s], then each series with its unit in the heading.

    Series that mean nothing for the burner, and values that are not finite, stay out.

    Parameters
    ----------
    burn
        A finished burn.
    stream
        Text file open for writing, with `newline=""`.
    """
    hidden = hidden_series(burn)
    columns = [(name, unit) for name, unit in COLUMNS if name not in hidden]
    values = [burn.series(name) for name, _ in columns]
    writer = csv.writer(stream)
    writer.writerow(["time_s", *(f"{name}_{unit}" for name, unit in columns)])
    for k, time in enumerate(burn.time):
        writer.writerow([f"{float(time):.6g}", *(_cell(float(series[k])) for series in values)])


def _cell(value: float) -> str:
    return f"{value:.7g}" if math.isfinite(value) else ""
