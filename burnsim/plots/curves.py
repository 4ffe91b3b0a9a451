"""The picture of a burn: temperatures, power by flame and fuel left over one time, with the milestones."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from burnsim.errors import InputError
from burnsim.plots.labels import entitle, extent, label_ends, label_side, letter, whole_minutes
from burnsim.plots.letters import text_width
from burnsim.plots.style import BLUE, GROUND, INK, ORANGE, PALE, SKY, SPIRIT_FILL, VERMILION, picture, stacked
from burnsim.report.burn import poured
from burnsim.solve.results.series import hidden_series
from burnsim.studies.start.grid import warnings_of
from burnsim.units import format_time, measure, written
from burnsim.units.table import Measure

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from burnsim.solve import Burn

Vector = NDArray[np.float64]
Row = tuple[str, str, str, str, float]  # a series, its words, the style of its line, its colour and its width [pt]
TEMPERATURES: tuple[Row, ...] = (
    ("water_temperature", "water", "-", INK, 2.0),
    ("gallery_temperature", "gallery fuel", "--", BLUE, 1.2),
    ("well_temperature", "well fuel", ":", VERMILION, 1.4),
)
MARKS = {
    "bloom": "bloom", "boil": "boil", "primer_out": "primer out", "spill": "spill", "quench": "quench",
    "burnout": "burn-out",
}  # fmt: skip
FLAMES = (
    ("jet_power", "jets", ORANGE, ""),
    ("well_power", "well", SKY, "..."),
    ("wick_power", "wick", VERMILION, "///"),
)
"""Flames whose power is stacked, from the foot up: the steady ones below."""
SPIKE = 1.25  # times the power after the primer: a peak above this is cut off, and told
RATIOS = (1.5, 1.1, 0.6)  # heights of the panels of a burn
OF_A_BURN = "course"  # begins the names of a burn's curves in a file


@picture
def burn(burn: "Burn", ax: "Axes | None" = None, *, units: str = "si") -> "Axes":
    """Draw a burn on three panels over one time: temperatures with the milestones, power by flame, fuel left.

    Parameters
    ----------
    burn : of `burnsim.burn`
    ax : axes to draw on; default none: new ones. They become the panel of the temperatures [degC or degF over minutes];
        those of the power [W] and of the fuel left [ml or fl oz] are added below it, all in the place that the axes
        had. A peak of the primer that is far above the rest is cut off, and its height told.
    units : "si" or "us"

    Raises
    ------
    InputError
        For axes that already hold a burn.
    """
    degrees = measure("temperature", units)
    if ax is not None and any(str(line.get_gid()).startswith(OF_A_BURN) for line in ax.get_lines()):
        raise InputError(
            "ax", burn.setup.name or "burn", "would be drawn over another burn",
            "give each burn axes of its own, as pyplot.subplots(1, 2) makes them",
        )  # fmt: skip
    ax, power, fuel = stacked(ax, RATIOS, 7.0, 5.6)
    minutes = np.asarray(burn.time) / 60.0
    ends = plot_series(burn, ax, TEMPERATURES, degrees, OF_A_BURN)
    label_side(ax, "temperature", degrees.unit)
    ax.margins(y=0.08)
    for panel in (ax, power, fuel):
        whole_minutes(panel, float(minutes[-1]))
    label_ends(ax, ends)
    _power_by_flame(burn, power, minutes)
    _fuel_left(burn, fuel, minutes, units)
    fuel.set_xlabel("time [min]")
    above = mark_milestones(burn, ax, (power, fuel))
    ax.figure.align_ylabels([ax, power, fuel])
    entitle(ax, burn.setup.name or "burn", in_short(burn, units), above=above)
    return ax


def plot_series(
    burn: "Burn", ax: "Axes", rows: Sequence[Row], unit: Measure, group: str = ""
) -> list[tuple[float, str, str]]:
    """Draw the series that mean something for a burn; returns for `label_ends` where each ends, its name, its colour.

    Names of a group are kept with the lines, so that a file can tell them.
    """
    ends = []
    for name, label, style, colour, width in rows:
        values = np.asarray(unit.of(burn.series(name)))
        if name not in hidden_series(burn.setup) and np.isfinite(values).any():
            burner = burn.setup.burner
            words = label if burner.has_gallery else label.removeprefix("well ")
            words = words if burner.has_well else words.replace("gallery", "chamber")
            ax.plot(np.asarray(burn.time) / 60.0, values, color=colour, linestyle=style, linewidth=width, label=words,
                    gid=f"{group}-{name}" if group else None)  # fmt: skip
            ends.append((float(values[np.isfinite(values)][-1]), words, colour))
    return ends


def in_short(burn: "Burn", units: str = "si") -> str:
    """What came of a burn, in half a sentence, and what it warns of besides."""
    warned = ", ".join(warnings_of(burn))
    return _reached(burn, units) + (f"; warned of: {warned}" if warned else "")


def _reached(burn: "Burn", units: str) -> str:
    marks, setup = burn.milestones, burn.setup
    if marks.boil.time is not None:
        used = written(poured(burn, marks.boil.fuel) or 0.0, "volume", units)
        return f"boils in {format_time(marks.boil.time)} on {used}"
    if marks.burnout.time is None and not burn.series("power").any():
        return "does not light"
    if setup.burner.jets is not None and marks.bloom.time is None:
        return "its jets never light"
    if setup.pot is not None and burn.water_max is not None:
        return f"does not boil; the water reaches {written(burn.water_max, 'temperature', units)}"
    return f"burns for {format_time(float(burn.time[-1]))}"


def _fuel_left(burn: "Burn", ax: "Axes", minutes: Vector, units: str) -> None:
    volumes = measure("volume", units)
    left = np.asarray(volumes.of((poured(burn, 1.0) or 0.0) * np.asarray(burn.series("fuel_left"))))
    ax.fill_between(minutes, left, color=SPIRIT_FILL, linewidth=0.0)
    ax.plot(minutes, left, color=BLUE, linewidth=1.4, label="fuel left")
    label_side(ax, "fuel left", volumes.unit)
    ax.set_ylim(0.0, 1.08 * float(left.max()))


def _power_by_flame(burn: "Burn", ax: "Axes", minutes: Vector) -> None:
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


def mark_milestones(burn: "Burn", ax: "Axes", below: "tuple[Axes, ...]" = ()) -> float:
    """Draw a line at each milestone through all panels, and write its name and time above the first.

    Returns the height that the names take above the axes [points], to keep a title clear of. Limits are set before.
    """
    times = [(getattr(burn.milestones, name).time, label) for name, label in MARKS.items()]
    marks = sorted((time / 60.0, f"{label} {format_time(time)}") for time, label in times if time is not None)
    size, last = letter("small"), max(ax.get_xlim()[1], 1e-9)
    share = 1.0 / extent(ax, 12.0)[0]
    line: dict[str, Any] = {"color": PALE, "linewidth": 0.8, "linestyle": (0, (1, 2))}
    arrow = line | {"arrowstyle": "-", "shrinkA": 0.0, "shrinkB": 0.0}
    for when, _ in marks:
        for panel in (ax, *below):
            panel.axvline(when, label="_milestone", zorder=0.8 if panel is ax else 3.0, **line)
    rows = _in_rows([when / last for when, _ in marks], [share * (text_width(text, size) + size) for _, text in marks])
    for (when, text), (row, side) in zip(marks, rows, strict=True):
        height = 3.0 + 1.35 * size * row
        ax.annotate(
            text, (when, 1.0), xycoords=ax.get_xaxis_transform(), xytext=(0.0, height), textcoords="offset points",
            ha=side, va="bottom", fontsize="small", bbox=GROUND, annotation_clip=False,
            arrowprops=arrow | {"relpos": (float(side == "right"), 0.0)},
        )  # fmt: skip
    return 1.35 * size * (1 + max((row for row, _ in rows), default=-1))


def _in_rows(places: list[float], widths: list[float]) -> list[tuple[int, str]]:
    """Rows for words that begin at places along a line, so that none covers another or the line that leads to it.

    A word runs to the right of its place, and only where the line ends before it, to the left. Of two that are too
    close, the left one goes up, where words run to the right; where they run to the left, the right one does.
    """
    found: dict[int, tuple[int, str]] = {}
    taken: list[tuple[int, float, float]] = []

    def free(low: float, high: float) -> int:
        return 1 + max((row for row, a, b in taken if a < high and low < b), default=-1)

    every = sorted(range(len(places)), key=lambda k: places[k])
    ahead = [k for k in reversed(every) if places[k] + widths[k] <= 1.02]
    for k in [*(k for k in every if k not in ahead), *ahead]:
        low, side = (places[k], "left") if k in ahead else (places[k] - widths[k], "right")
        found[k] = (free(low, low + widths[k]), side)
        taken.append((found[k][0], low, low + widths[k]))
    return [found[k] for k in range(len(places))]
