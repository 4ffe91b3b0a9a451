"""The curves of a burn as comma-separated values."""

import csv
import math
from typing import TYPE_CHECKING, TextIO

from burnsim.plots.curves import hidden_series
from burnsim.solve.results.series import SERIES

if TYPE_CHECKING:
    from burnsim.solve import Burn


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
    names = [name for name in SERIES if name not in hidden]
    headings = [name if SERIES[name].unit == "1" else f"{name}_{SERIES[name].unit}" for name in names]
    values = [burn.series(name) for name in names]
    writer = csv.writer(stream)
    writer.writerow(["time_s", *headings])
    for k, time in enumerate(burn.time):
        writer.writerow([f"{float(time):.6g}", *(_cell(float(series[k])) for series in values)])


def _cell(value: float) -> str:
    return f"{value:.7g}" if math.isfinite(value) else ""
