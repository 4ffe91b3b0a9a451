"""A measured curve over the prediction with its band, and under it how far it lies off."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from burnsim.plots.learning import ROWS, prediction
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

    Crosses at the foot of the upper axes are milestones as seen, each beside the band that was predicted of it. The
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
    upper.set_title(f"{log.name}, over {found.n} predicted burns")
    label = "seen"
    for name, (_, height) in ROWS.items():
        seen = getattr(log, name).time
        if seen is not None:
            upper.plot(
                [seen / 60.0], [height], marker="X", markersize=8, markerfacecolor=VERMILION, markeredgecolor="white",
                linestyle="", transform=upper.get_xaxis_transform(), label=label, zorder=5,
            )  # fmt: skip
            label = "_seen"
    upper.legend(frameon=False, fontsize="small")
    apart = measure("temperature difference", units)
    time, quantiles = found.water_quantiles(ENDS, RUNNING, "next")
    if len(time):
        low, middle, high = quantiles
        lower.fill_between(
            time / 60.0, apart.of(low - middle), apart.of(high - middle), facecolor="0.9", edgecolor=PALE, hatch="...",
            linewidth=0.5, label="90 % of next burns",
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
    lower.set_xlabel(upper.get_xlabel())
    upper.set_xlabel("")
    lower.margins(x=0.01)
    return upper, lower
