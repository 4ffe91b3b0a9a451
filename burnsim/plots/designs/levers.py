"""The picture of what to change: a bar for each step."""

from typing import TYPE_CHECKING

from burnsim.model.at_site import poured_density
from burnsim.plots.labels import entitle, name_rows
from burnsim.plots.scales import unit_of
from burnsim.plots.style import BLUE, FAINT, INK, PALE, VERMILION, new_axes, picture
from burnsim.report.designs.figures import TITLES, apart, change_told, differs
from burnsim.report.designs.levers import AIMS, TOLD, percent, step_text
from burnsim.studies.levers.levers import FIRES, OBJECTIVES
from burnsim.studies.levers.steps import FAILS
from burnsim.studies.predict.prediction import codes_of
from burnsim.units.table import Measure

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from burnsim.studies.levers import Levers
    from burnsim.studies.levers.levers import Step

MOST_BARS = 16
THICK = 0.62  # of a bar; one step of the axis is 1
ROOM = 0.35  # beside the longest bar, for what is written there, as a share of its length


@picture
def levers(found: "Levers", ax: "Axes | None" = None, *, units: str = "si") -> "Axes":
    """Draw what each step does to the objective: a bar for its median, a line for the middle 90 % of the draws.

    Parameters
    ----------
    found : of `burnsim.find_levers`
    ax : axes to draw on; default none: new ones. The best step comes on top.
    units : "si" or "us"
    """
    objective = OBJECTIVES[found.objective]
    volume = poured_density(found.setup)
    name = found.setup.name or "burner"
    shown = [
        one for one in found.steps if differs(objective.figure, one.changes[found.objective].typical, units, volume)
    ]
    if not shown and FAILS & codes_of(found.own):
        return _draw_works(found, ax, units, name)
    scale = _scale(found.objective, volume, units)
    shown = sorted(shown, key=lambda one: -abs(one.gain(found.objective) or 0.0))[:MOST_BARS]
    shown.sort(key=lambda one: -(one.gain(found.objective) or 0.0))
    ax = _rows(ax, shown, units)
    for k, one in enumerate(shown):
        words = change_told(objective.figure, one.changes[found.objective].typical, units, volume)
        _bar(ax, k, one, found.objective, scale, words)
    ends = [scale.of(end) for one in shown for end in _ends(one, found.objective)]
    low, high = min([*ends, 0.0]), max([*ends, 0.0])
    pad = ROOM * max(high - low, 1e-9) if ends else 1.0
    ax.axvline(0.0, color=INK, linewidth=0.8)
    ax.set_xlim(low - pad, high + pad)
    better = "left" if objective.lower else "right"
    ax.set_xlabel(f"{TITLES[objective.figure]}, change [{scale.unit}]; {better} is better")
    if not shown:
        ax.text(0.5, 0.5, "no step changes it that can be told", transform=ax.transAxes, ha="center", color=PALE)
    entitle(ax, name, f"one step of each field, for {AIMS[found.objective]}")
    return ax


def _rows(ax: "Axes | None", shown: "list[Step]", units: str) -> "Axes":
    """Axes with a row for each step."""
    ax = new_axes(ax, 7.4, 1.3 + 0.32 * max(len(shown), 3))
    name_rows(ax, [step_text(one, units) for one in shown])
    ax.tick_params(axis="y", length=0.0)
    ax.spines["left"].set_visible(False)
    return ax


def _draw_works(found: "Levers", ax: "Axes | None", units: str, name: str) -> "Axes":
    """Where no figure can be set beside the design's, as it fails: in how many draws it works after each step."""
    every = sorted((*found.ways, *found.steps), key=lambda one: -one.works)
    shown = [one for one in every if one.works > found.works + TOLD][:MOST_BARS]
    ax = _rows(ax, shown, units)
    for k, one in enumerate(shown):
        fire = bool(FIRES & set(one.gained))
        ax.barh([k], [100.0 * one.works], height=THICK, facecolor=FAINT if fire else BLUE, edgecolor=FAINT)
        words = percent(one.works) + (f", but {', '.join(sorted(FIRES & set(one.gained)))}" if fire else "")
        ax.annotate(
            words, (100.0 * one.works, k), xytext=(5.0, 0.0), textcoords="offset points", va="center", fontsize="small",
        )  # fmt: skip
    if not shown:
        ax.text(0.5, 0.5, "no step mends it", transform=ax.transAxes, ha="center", color=PALE)
    ax.axvline(100.0 * found.works, color=INK, linewidth=0.8, linestyle=":")
    ax.set_xlim(0.0, 100.0 * (1.0 + ROOM))
    ax.set_xticks(range(0, 101, 20))
    ax.set_xlabel(f"works, in % of the draws; dotted: the design as it is, {percent(found.works)}")
    entitle(ax, name, "what one step of each field mends")
    return ax


def _bar(ax: "Axes", place: int, one: "Step", objective: str, scale: Measure, words: str) -> None:
    """A bar with its band and its figure; one whose sign is not sure is pale."""
    change = one.changes[objective]
    middle = scale.of(change.typical or 0.0)
    better = (one.gain(objective) or 0.0) > 0.0
    colour, hatch = (BLUE, "") if better else (VERMILION, "////")
    if not change.sure:
        colour, hatch = FAINT, ""
    ax.barh([place], [middle], height=THICK, facecolor=colour if better or not change.sure else "white",
            edgecolor=colour, hatch=hatch, linewidth=0.8)  # fmt: skip
    ends = [scale.of(end) for end in _ends(one, objective)]
    ax.plot(ends, [place, place], color=INK, linewidth=1.0, marker="|", markersize=5)
    right = middle > 0.0
    ax.annotate(
        words, (max(*ends, middle) if right else min(*ends, middle), place), xytext=(5.0 if right else -5.0, 0.0),
        textcoords="offset points", ha="left" if right else "right", va="center", fontsize="small",
    )  # fmt: skip


def _ends(one: "Step", objective: str) -> list[float]:
    change = one.changes[objective]
    return [end.value for end in (change.low, change.high) if end is not None]


def _scale(objective: str, volume: float, units: str) -> Measure:
    """The unit of the differences; that of zero does not count."""
    dimension = apart(OBJECTIVES[objective].figure)
    if dimension == "time":
        return Measure("s")
    if dimension == "fraction":
        return Measure("points", 0.01)
    return unit_of(dimension, units, volume)
