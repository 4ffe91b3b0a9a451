"""The picture of a prediction: the water's temperature as bands, and when the milestones may fall."""

from typing import TYPE_CHECKING

import numpy as np

from burnsim.measures import measure
from burnsim.plots.bands import plot_bands
from burnsim.plots.style import PALE

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from burnsim.studies.bench.log import BenchLog
    from burnsim.studies.predict.prediction import Prediction

LEAST_RUNNING = 0.5  # share of the burns that must still run where the bands are drawn
SOME_ENDED = 0.9
ROWS = {"burnout": ("burn-out", 0.05), "boil": ("boil", 0.14), "bloom": ("bloom", 0.23)}


def plot_prediction(found: "Prediction", ax: "Axes", log: "BenchLog | None" = None, *, units: str = "si") -> "Axes":
    """Draw bands of the water's temperature, and below them each milestone's 90 % band with its median.

    The bands are those of the burns that still run; where the first tenth of them have ended, a line says so, and where
    half have, the bands end.

    Parameters
    ----------
    found : of `predict`
    ax : axes to draw on [minutes, degC or degF]
    log : readings to draw beside it, default none
    units : "si" or "us"

    Returns
    -------
    Axes
    """
    degrees = measure("temperature", units)
    time, quantiles = found.water_quantiles(running=LEAST_RUNNING)
    measured = None
    if log is not None:
        when, what = log.water()
        measured = (when, degrees.of(what))
    ended = ""
    if len(time):
        plot_bands(time, degrees.of(quantiles), ax, measured=measured, label=f"water [{degrees.unit}]")
        ax.set_ylim(degrees.of(min(float(np.min(quantiles)), 288.15) - 32.0), None)
        ended = _ends(found, ax)
    for name, (label, height) in ROWS.items():
        three = found.quantiles(name, (0.05, 0.5, 0.95))
        if not three:
            continue
        low, middle, high = (one.value / 60.0 for one in three)
        across = ax.get_xaxis_transform()
        ax.plot([low, high], [height, height], color="0.1", linewidth=1.2, marker="|", markersize=8, transform=across)
        ax.plot([middle], [height], color="0.1", marker="o", markersize=5, transform=across)
        chance = found.happens(name)
        told = label if chance.value > 0.995 else f"{label}, in {100 * chance.value:.0f} %"
        ax.annotate(
            told, (high, height), xycoords=across, textcoords="offset points", xytext=(8, 0), va="center",
            fontsize="small",
        )  # fmt: skip
    ax.set_xlim(left=0.0)
    ax.set_yticks([tick for tick in ax.get_yticks() if 0.0 <= tick <= ax.get_ylim()[1]])
    ax.set_xlabel("time [min]" + (f"\n{ended}" if ended else ""))
    ax.set_title(f"{found.setup.name or 'burner'}:\n{found.n} burns over what is not known")
    return ax


def _ends(found: "Prediction", ax: "Axes") -> str:
    """Mark where the bands stop to be those of all burns; returns in words what is marked and why they end."""
    running = found.still_running()
    drawn = found.time[running >= LEAST_RUNNING]
    thinned = found.time[running < SOME_ENDED]
    if not len(drawn) or not len(thinned):
        return ""
    if thinned[0] > drawn[-1]:
        return "The bands end where most burns have ended."
    some = 100.0 * (1.0 - float(running[running < SOME_ENDED][0]))
    ax.axvline(thinned[0] / 60.0, color=PALE, linewidth=0.9, linestyle=(0, (1, 2)), label="_some have ended")
    until = "" if drawn[-1] >= found.time[-1] else ", until half have"
    return f"Dotted line: {some:.0f} % of the burns have ended;\nbands of the rest{until}."
