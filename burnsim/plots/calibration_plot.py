"""Pictures of a calibration: milestones before and after, and residuals of the water's temperature over time."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from burnsim.plots.bands import plot_residuals

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from burnsim.studies.calibrate import Calibration

MARKERS = "os^Dv<>p"


def plot_calibration(found: "Calibration", axes: Sequence["Axes"]) -> Sequence["Axes"]:
    """Draw milestones of the model beside those of the bench, and how far the readings of the water lie off it.

    Parameters
    ----------
    found : of `calibrate`
    axes : two: milestones [%], residuals of the readings [K]
    """
    upper, lower = axes
    marks = [row for row in found.residuals if row.what != "water" and row.size > 0.0 and row.time > 0.0]
    if marks:
        plot_residuals(
            [f"{row.log}, {row.what}" for row in marks],
            [row.before * row.size / row.time for row in marks],
            [row.after * row.size / row.time for row in marks],
            [row.size / row.time for row in marks],
            upper,
        )
        upper.set_xlabel("model above bench [%]")
    logs = list(dict.fromkeys(row.log for row in found.residuals))
    for k, log in enumerate(logs):
        rows = [row for row in found.residuals if row.log == log and row.what == "water"]
        if not rows:
            continue
        minutes = [row.time / 60.0 for row in rows]
        marker = MARKERS[k % len(MARKERS)]
        lower.plot(
            minutes, [row.before * row.size for row in rows], marker, color="0.65", fillstyle="none", markersize=4,
            label=f"{log}, before",
        )  # fmt: skip
        lower.plot(
            minutes, [row.after * row.size for row in rows], marker, color="0.1", markersize=4, label=f"{log}, after"
        )
    lower.axhline(0.0, color="0.5", linewidth=0.8)
    lower.set_xlabel("time from the match [min]")
    lower.set_ylabel("water, model less bench [K]")
    if logs:
        lower.legend(frameon=False, fontsize="small", ncols=2)
    if found.bad:
        upper.set_title("a BAD fit: do not trust it")
    return axes
