"""A measured curve over the prediction with its band, and under it how far it lies off."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from burnsim.plots.labels import entitle
from burnsim.plots.quantiles import LEVELS, bands
from burnsim.plots.style import INK, MEASURED, PALE, SEEN, in_style, new_pair
from burnsim.units import measure

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from burnsim.studies.bench.log import BenchLog
    from burnsim.studies.predict.prediction import Prediction

RUNNING = 0.5  # share of the burns that must still run where readings are compared
ROWS = {"bloom": "bloom", "boil": "boil", "burnout": "burn-out"}
COLD, FOOT = 288.15, 44.0  # where the temperatures end below, and room under it for the milestones [K]


@in_style()
def measured(
    log: "BenchLog", found: "Prediction", ax: Sequence["Axes"] | None = None, *, units: str = "si"
) -> tuple["Axes", "Axes"]:
    """Draw the readings of a log over what was predicted of its burn, and below it what is left between them.

    At the foot of the upper axes are the bands of the next burn's milestones (90 %, and the median), with a cross where
    each was seen. The
    lower axes hold each reading less the median of the prediction, and the band of the next burn about that median,
    which should hold nine readings in ten.

    Parameters
    ----------
    log : of one burn
    found : of `predict`, for the conditions of the log: `predict(burnsim.bench.apply_conditions(setup, log))`
    ax : two axes, for temperatures [degC or degF, over minutes] and differences [K or degF]; default none: new ones
    units : "si" or "us"

    Returns
    -------
    tuple of Axes
        The two.
    """
    upper, lower = new_pair(ax, 7.5, 6.5, sharex=True)
    degrees = measure("temperature", units)
    apart = measure("temperature difference", units)
    time, quantiles = found.water_quantiles(LEVELS, RUNNING, "next")
    when, what = log.water()
    if len(time):
        bands(time, degrees.of(quantiles), upper, label=f"water [{degrees.unit}]", measured=(when, degrees.of(what)))
        upper.set_ylim(bottom=degrees.of(min(float(np.min(quantiles)), COLD) - FOOT))
        low, middle, high = quantiles[0], quantiles[len(LEVELS) // 2], quantiles[-1]
        lower.fill_between(
            time / 60.0, apart.of(low - middle), apart.of(high - middle), facecolor="0.9", edgecolor=PALE, hatch="...",
            linewidth=0.5, label="90\u00a0% of next burns",
        )  # fmt: skip
        inside = (when >= time[0]) & (when <= time[-1])
        off = what[inside] - np.interp(when[inside], time, middle)
        lower.plot(when[inside] / 60.0, apart.of(off), label="measured", **MEASURED)
    last = max(_milestones(log, found, upper), float(time[-1]) / 60.0 if len(time) else 0.0)
    entitle(upper, log.name, f"over {found.n} predicted burns")
    upper.set_xlabel("")
    upper.set_xlim(0.0, 1.02 * last or None)
    upper.set_yticks([tick for tick in upper.get_yticks() if 0.0 <= tick <= upper.get_ylim()[1]])
    upper.legend()
    lower.axhline(0.0, color=INK, linewidth=0.8)
    lower.set_ylabel(f"measured less median [{apart.unit}]")
    lower.set_xlabel("time [min]")
    return upper, lower


def _milestones(log: "BenchLog", found: "Prediction", ax: "Axes") -> float:
    """Bands of the next burn's milestones at the foot of the axes, with their medians, and what was seen.

    Returns where the last of them ends [min].
    """
    last = 0.0
    across = ax.get_xaxis_transform()
    for k, (name, told) in enumerate(ROWS.items()):
        height = 0.26 - 0.09 * k
        seen, three = getattr(log, name).time, found.quantiles(name, (0.05, 0.5, 0.95), "next")
        if three:
            low, middle, high = (one.value / 60.0 for one in three)
            ax.plot([low, high], [height] * 2, color=INK, linewidth=1.2, marker="|", markersize=8, transform=across)
            ax.plot([middle], [height], color=INK, marker="o", markersize=5, linestyle="", transform=across)
        if seen is not None:
            label = "_seen" if "seen" in ax.get_legend_handles_labels()[1] else "seen"
            ax.plot([seen / 60.0], [height], transform=across, label=label, **SEEN)
        if three or seen is not None:
            right = max(three[-1].value if three else 0.0, seen or 0.0) / 60.0
            last = max(last, right)
            ax.annotate(
                told, (right, height), xycoords=across, textcoords="offset points", xytext=(8, 0), va="center",
                fontsize="small",
            )  # fmt: skip
    return last
