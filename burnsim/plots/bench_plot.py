"""Pictures of bench logs: readings of the water, and the power into it with its band."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from burnsim.measures import measure

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from burnsim.studies.bench.analysis import BenchResult

MARKERS = "os^Dv<>p"
LINES = ("-", "--", "-.", ":", (0, (8, 2)), (0, (3, 1, 1, 1, 1, 1)))
TWO_SIDED_90 = 1.645


def plot_bench(results: Sequence["BenchResult"], axes: Sequence["Axes"], *, units: str = "si") -> Sequence["Axes"]:
    """Draw readings into one pair of axes, and power with its 90 % band into another.

    Parameters
    ----------
    results : of `analyse`, one a log
    axes : two, one for the temperature and one for the power
    units : "si" or "us"

    Returns
    -------
    sequence of Axes
        The two that were given.
    """
    upper, lower = axes
    degrees = measure("temperature", units)
    for k, result in enumerate(results):
        shade = str(0.6 * k / max(len(results), 2))
        time, reading = result.log.water()
        upper.plot(
            time / 60.0,
            degrees.of(reading),
            MARKERS[k % len(MARKERS)],
            color=shade,
            markersize=4,
            fillstyle="none",
            label=result.log.name,
        )
        for mark in ("bloom", "boil", "burnout"):
            when = getattr(result.log, mark).time
            if when is not None:
                upper.axvline(when / 60.0, color=shade, linewidth=0.8, linestyle=(0, (1, 2)))
                if k == 0:
                    upper.annotate(
                        mark.replace("burnout", "burn-out"),
                        (when / 60.0, 0.03),
                        xycoords=("data", "axes fraction"),
                        rotation=90,
                        ha="right",
                        va="bottom",
                        fontsize="small",
                        bbox={"boxstyle": "square,pad=0.1", "facecolor": "white", "edgecolor": "none"},
                    )
        if result.power is not None:
            curve = result.power
            style = LINES[k % len(LINES)]
            lower.plot(curve.time / 60.0, curve.slope, color=shade, linestyle=style, label=result.log.name)
            lower.fill_between(
                curve.time / 60.0,
                curve.slope - TWO_SIDED_90 * curve.slope_error,
                curve.slope + TWO_SIDED_90 * curve.slope_error,
                color=shade,
                alpha=0.2,
                linewidth=0,
            )
    if results:
        upper.axhline(degrees.of(results[0].boiling_point), color="0.5", linewidth=0.8)
        tops = [float(np.max(result.power.slope)) for result in results if result.power is not None]
        if tops:
            lower.set_ylim(0.0, 1.4 * max(tops))
            lower.legend(frameon=False, fontsize="small", loc="lower right")
    upper.set_ylabel(f"water [{degrees.unit}]")
    upper.legend(frameon=False, fontsize="small")
    lower.set_ylabel("power into the water [W]")
    lower.set_xlabel("time from the match [min]")
    return axes
