"""The picture of a prediction: the water's temperature as bands, and when the milestones may fall."""

from typing import TYPE_CHECKING

import numpy as np

from burnsim.plots.bands import plot_bands

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from burnsim.studies.bench_log import BenchLog
    from burnsim.studies.predict import Prediction

ROWS = {"burnout": ("burn-out", 0.05), "boil": ("boil", 0.14), "bloom": ("bloom", 0.23)}


def plot_prediction(found: "Prediction", ax: "Axes", log: "BenchLog | None" = None) -> "Axes":
    """Draw bands of the water's temperature, and below them each milestone's 90 % band with its median.

    Parameters
    ----------
    found : of `predict`
    ax : axes to draw on [minutes, degC]
    log : readings to draw beside it, default none
    """
    time, quantiles = found.water_quantiles()
    measured = None
    if log is not None:
        when, what = log.water()
        measured = (when, what - 273.15)
    if len(time):
        plot_bands(time, quantiles - 273.15, ax, measured=measured)
        ax.set_ylim(min(float(np.min(quantiles)) - 273.15, 15.0) - 32.0, None)
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
    ax.set_xlabel("time [min]")
    ax.set_title(f"{found.setup.name or 'burner'}: {found.n} burns over what is not known")
    return ax
