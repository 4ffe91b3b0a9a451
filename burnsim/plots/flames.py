"""The panel of a burn that shows its power, flame by flame."""

from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from burnsim.plots.labels import extent, label_side, letter
from burnsim.plots.letters import text_width
from burnsim.plots.style import GROUND, INK, ORANGE, PALE, SKY, VERMILION
from burnsim.solve.results.series import hidden_series
from burnsim.units import written

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from burnsim.solve import Burn

Vector = NDArray[np.float64]

FLAMES = (
    ("jet_power", "jets", ORANGE, ""),
    ("well_power", "well", SKY, "..."),
    ("wick_power", "wick", VERMILION, "///"),
)
"""Flames whose power is stacked, from the foot up: the steady ones below."""
SPIKE = 1.25  # times the power after the primer: a peak above this is cut off, and told


def power_by_flame(burn: "Burn", ax: "Axes", minutes: Vector) -> None:
    """Stack the power of the flames; what the primer's peak has above the rest is cut off and told."""
    hidden = hidden_series(burn.setup)
    total = np.asarray(burn.series("power"))
    foot = np.zeros_like(total)
    layers = []
    for name, label, colour, hatch in FLAMES:
        watts = np.asarray(burn.series(name))
        if (name in hidden and burn.setup.burner.has_gallery) or not (watts > 0.005 * max(total.max(), 1.0)).any():
            continue
        words = "cup" if label == "well" and not burn.setup.burner.has_gallery else label
        ax.fill_between(minutes, foot, foot + watts, facecolor=colour, edgecolor=INK, hatch=hatch, linewidth=0.4,
                        label=words)  # fmt: skip
        layers.append((words, foot, watts))
        foot = foot + watts
    ax.plot(minutes, total, color=INK, linewidth=1.2, label="power")
    top = float(total.max())
    primer = burn.milestones.primer_out.time
    after = total[minutes > (primer or 0.0) / 60.0 + 0.05] if primer is not None else total
    steady = float(after.max()) if after.size else top
    cut = top > SPIKE * steady > 0.0
    ceiling = SPIKE * (steady if cut else top)
    ax.set_ylim(0.0, max(1.2 * ceiling, 1.0))
    if cut:
        when = minutes[int(total.argmax())]
        ax.annotate(
            f"to {written(top, 'power')}", (when, 1.0), xycoords=ax.get_xaxis_transform(), xytext=(6.0, -1.0),
            textcoords="offset points", fontsize="small", va="top", bbox=GROUND,
        )  # fmt: skip
    _name_flames(ax, minutes, layers, cut, (burn.milestones.bloom.time or 0.0) / 60.0)
    label_side(ax, "power", "W")


def _name_flames(
    ax: "Axes", minutes: Vector, layers: list[tuple[str, Vector, Vector]], cut: bool, bloom: float
) -> None:
    """Write the name of each flame into its area, or, where that is too thin, beside the axes with a line to it.

    After the bloom [min] if there is room: before, the vapour of the jets burns in the wick's flame.
    """
    high = ax.get_ylim()[1]
    wide, tall = extent(ax)
    size = letter("small")
    ends = []
    for label, foot, watts in layers:
        room = 1.6 * size / tall * high
        half = 0.5 * (text_width(label, size) + size) / wide * float(minutes[-1])
        inside = [k for k in range(len(minutes)) if half < minutes[k] < minutes[-1] - half]
        heights = {k: _least(minutes, watts, foot, float(minutes[k]), half, high) for k in inside}
        fits = [k for k in inside if heights[k] > room]
        if fits:
            k = max([k for k in fits if minutes[k] - half >= bloom] or fits, key=heights.__getitem__)
            top = min(foot[k] + watts[k], high)
            ax.text(minutes[k], 0.5 * (foot[k] + top), label, fontsize="small", ha="center", va="center",
                    bbox=GROUND | {"alpha": 0.85})  # fmt: skip
        else:
            ends.append((label, foot, watts))
    leader = {"arrowstyle": "-", "color": PALE, "linewidth": 0.6, "shrinkA": 0.0, "shrinkB": 0.0}
    for number, (label, foot, watts) in enumerate(ends):
        k = int(np.argmax(np.minimum(watts, high - foot)))
        middle = min(foot[k] + 0.5 * watts[k], 0.8 * high)
        aside = 1 if minutes[k] < 0.6 * minutes[-1] else -1
        place = minutes[k] + aside * 0.06 * minutes[-1], (0.98 - 0.17 * (number + cut)) * high
        ax.annotate(
            label, (minutes[k], middle), place,
            fontsize="small", va="top", ha="left" if aside > 0 else "right", bbox=GROUND, arrowprops=leader,
        )  # fmt: skip


def _least(minutes: Vector, watts: Vector, foot: Vector, at: float, half: float, high: float) -> float:
    """Least height of an area about an instant, as far as the axes show it [W]."""
    near = np.linspace(at - half, at + half, 7)
    low = np.interp(near, minutes, foot)
    return float((np.minimum(low + np.interp(near, minutes, watts), high) - low).min())
