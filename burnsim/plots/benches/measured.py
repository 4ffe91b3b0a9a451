"""A measured curve over the prediction with its band, and under it how far it lies off."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from burnsim.plots.labels import entitle
from burnsim.plots.learning import prediction
from burnsim.plots.style import INK, PALE, VERMILION, in_style, new_pair
from burnsim.units import measure

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from burnsim.studies.bench.log import BenchLog
    from burnsim.studies.predict.prediction import Prediction

RUNNING = 0.5  # share of the burns that must still run where readings are compared
ENDS = (0.05, 0.5, 0.95)


@in_style()
def measured(
    log: "BenchLog", found: "Prediction", ax: Sequence["Axes"] | None = None, *, units: str = "si"
) -> tuple["Axes", "Axes"]:
    """Draw the readings of a log over what was predicted of its burn, and below it what is left between them.

    Crosses on the panel below the readings are milestones as seen, each upon the bands that were predicted of it. The
    lower axes hold each reading less the median of the prediction, and the band of the next burn about that median,
    which should hold nine readings in ten.

    Parameters
    ----------
    log
        Of one burn.
    found
        Of `predict`, for the conditions of the log: `predict(burnsim.bench.setup_of(log, design))`.
    ax
        Two axes, for temperatures [degC or degF, over minutes] and differences [K or degF]; default none: new ones.
    units
        "si" or "us".

    Returns
    -------
    tuple of Axes
        The two.
    """
    upper, lower = new_pair(ax, 7.5, 6.5, sharex=True)
    prediction(found, upper, log=log, units=units)
    entitle(upper, log.name, f"over {found.n} predicted burns")
    apart = measure("temperature difference", units)
    time, quantiles = found.water_quantiles(ENDS, RUNNING, "next")
    if len(time):
        low, middle, high = quantiles
        lower.fill_between(
            time / 60.0, apart.of(low - middle), apart.of(high - middle), facecolor="0.9", edgecolor=PALE, hatch="...",
            linewidth=0.5, label="90\u00a0% of next burns",
        )  # fmt: skip
        when, what = log.water()
        inside = (when >= time[0]) & (when <= time[-1])
        off = what[inside] - np.interp(when[inside], time, middle)
        lower.plot(
            when[inside] / 60.0, apart.of(off), linestyle="", marker="o", markersize=4.0, markerfacecolor="white",
            markeredgecolor=VERMILION, label="measured",
        )  # fmt: skip
    lower.axhline(0.0, color=INK, linewidth=0.8)
    lower.set_ylabel(f"measured less median [{apart.unit}]")
    lower.set_xlabel("time [min]")
    return upper, lower
