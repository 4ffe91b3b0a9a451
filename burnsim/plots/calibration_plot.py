"""Pictures of a calibration: milestones before and after, and residuals of the water's temperature over time."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from burnsim.measures import measure
from burnsim.studies.calibrate.posterior import NORMAL_90

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from burnsim.studies.calibrate.fit import Calibration

MARKERS = "os^Dv<>p"


def plot_calibration(found: "Calibration", axes: Sequence["Axes"], *, units: str = "si") -> Sequence["Axes"]:
    """Draw milestones of the model beside those of the bench, and how far the readings of the water lie off it.

    Parameters
    ----------
    found : of `calibrate`
    axes : two: milestones in standard deviations, residuals of the readings [K]
    units : "si" or "us"

    Returns
    -------
    sequence of Axes
        The two that were given.
    """
    upper, lower = axes
    apart = measure("difference", units)
    marks = [row for row in found.residuals if row.what != "water" and row.size > 0.0]
    places = list(range(len(marks)))
    upper.axvspan(-NORMAL_90, NORMAL_90, color="0.92", label="nine in ten fall here")
    upper.axvline(0.0, color="0.5", linewidth=0.8)
    upper.plot([row.before for row in marks], places, "o", color="0.1", fillstyle="none", label="before")
    upper.plot([row.after for row in marks], places, "s", color="0.1", label="after")
    for place, row in zip(places, marks, strict=True):
        upper.annotate(
            f"{row.after * row.size:+.0f} s", (row.after, place), xytext=(0, 7), textcoords="offset points",
            ha="center", fontsize="x-small",
        )  # fmt: skip
    upper.set_yticks(
        places, [f"{row.log}, {row.what.replace('burnout', 'burn-out')}" for row in marks], fontsize="small"
    )
    upper.set_ylim(len(marks) - 0.4, -0.9)
    upper.set_xlabel("model less bench, in standard deviations of the measurement")
    upper.legend(frameon=False, fontsize="small", loc="center left", bbox_to_anchor=(1.0, 0.5))
    logs = list(dict.fromkeys(row.log for row in found.residuals))
    for k, log in enumerate(logs):
        rows = [row for row in found.residuals if row.log == log and row.what == "water"]
        if not rows:
            continue
        minutes = [row.time / 60.0 for row in rows]
        before = [apart.of(row.before * row.size) for row in rows]
        after = [apart.of(row.after * row.size) for row in rows]
        marker = MARKERS[k % len(MARKERS)]
        lower.plot(
            minutes, before, marker, color="0.65", fillstyle="none", markersize=4,
            label=f"{log}, before",
        )  # fmt: skip
        lower.plot(
            minutes,
            after,
            marker,
            color="0.1",
            markersize=4,
            label=f"{log}, after",
        )
    lower.axhline(0.0, color="0.5", linewidth=0.8)
    lower.set_xlabel("time from the match [min]")
    lower.set_ylabel(f"water, model less bench [{apart.unit}]")
    if logs:
        lower.legend(frameon=False, fontsize="small", ncols=2)
    if found.bad:
        upper.set_title("a BAD fit: do not trust it")
    return axes
