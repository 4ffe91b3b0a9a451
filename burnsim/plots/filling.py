"""Levels of the fuel: to scale in the burner, against the head, over a burn, and as a map of the margin."""

import math
from typing import TYPE_CHECKING

import numpy as np

from burnsim.constants import GRAVITY
from burnsim.errors import InputError
from burnsim.model.at_site import fuel_boils, poured_density
from burnsim.model.description import geometry
from burnsim.model.description.vary import vary
from burnsim.plots.curves import Row, mark_milestones, plot_series
from burnsim.plots.drawing.cross_section import fill, section
from burnsim.plots.labels import (
    add_bar,
    entitle,
    extent,
    label_ends,
    label_side,
    legend_below,
    letter,
    spread,
    whole_minutes,
)
from burnsim.plots.letters import text_width
from burnsim.plots.style import BLUE, INK, PALE, VERMILION, new_axes, picture, stacked
from burnsim.report.fill import at_most, relief_size
from burnsim.studies.fill.cold import cold_capillarity, cold_fill, cold_fill_at
from burnsim.substances.blend import density
from burnsim.units import measure, written
from burnsim.units.table import INCH, INCH_OF_WATER
from burnsim.units.writing import NBSP

if TYPE_CHECKING:
    from matplotlib.artist import Artist
    from matplotlib.axes import Axes
    from numpy.typing import NDArray

    from burnsim.model.description.burner import Burner
    from burnsim.model.description.setup import Setup
    from burnsim.solve import Burn
    from burnsim.studies.fill.cold import ColdFill
    from burnsim.studies.fill.margins import SpillMap
    from burnsim.studies.fill.record import FillLimits, Limit

MM = 1e3
STEPS = {"si": (100.0, "100 Pa"), "us": (0.5 * INCH_OF_WATER, "0.5 inH2O")}
AXIS = (0, (12, 2, 2, 2))  # the chain line of a drawing's axis
Mark = tuple[float, str, str]  # a level [m], its words, and the style of its line
APART = 0.6  # half of the gap between the two halves of a picture [mm]


def tightest(limits: "FillLimits") -> "Limit":
    """The lowest limit over a whole burn; the cold one if a burn gives none."""
    burning = (limits.burning_vented, limits.burning_sealed, limits.burning_sealed_warm)
    found = [limit for limit in burning if limit is not None and limit.volume is not None]
    return min(found, key=lambda limit: limit.volume or 0.0) if found else limits.cold_tilted


@picture
def fill_levels(limits: "FillLimits", ax: "Axes | None" = None, *, units: str = "si") -> "Axes":
    """Draw the burner's cross-section, to scale, with the levels of its tightest limit over a burn.

    Parameters
    ----------
    limits : of `burnsim.find_fill_limit`. At the left stands the load that is safe in each of them, as poured, cold; at
        the right the load that just spills, as it begins to: its cold level, hot level and froth; or, where none spills
        as it burns, the cold one that runs over. A dashed line is the surface of the cold tilted load that spills.
        Where the site is tilted, a line besides that of the jets is the mean level that reaches the lowest of them.
    ax : axes to draw on [mm]; default none: new ones
    units : "si" or "us", of the words beside
    """
    ax = new_axes(ax, 7.0, 4.6)
    setup, burner = limits.setup, limits.setup.burner
    bare = {"pot": None, "screen": None, "charge.primer": 0.0, "charge.volume": 0.1e-6}
    section(vary(setup, bare), ax=ax, units=units)
    rest = None if limits.safe is None else cold_fill_at(setup, limits.safe, setup.site.tilt)
    if rest is not None:
        _fill_both(ax, burner, -1.0, rest, "safe load")
    limit, marks = _spilling(ax, limits, units)
    marks += _edges(setup, units)
    half, inner = burner.outer_diameter / 2.0 * MM, geometry.inner_wall_diameter(burner) / 2.0 * MM
    left = _safe_words(limits, rest, units)
    wide, scale = _frame(ax, half, [*left, *(text for _, text, _ in marks)])
    places = spread([level * MM for level, _, _ in marks], 1.35 * letter("small") * scale)
    for (level, text, style), place in zip(marks, places, strict=True):
        start = 0.0 if style == ":" else inner
        ax.plot([start, half + 3.0], [level * MM] * 2, color=VERMILION if style == "--" else BLUE, linestyle=style,
                linewidth=1.1, label=f"_{text}", zorder=4)  # fmt: skip
        ax.annotate(text, (half + 3.0, level * MM), (half + 7.0, place), fontsize="small", va="center",
                    arrowprops={"arrowstyle": "-", "color": PALE, "linewidth": 0.6})  # fmt: skip
    level = 0.5 * burner.height if rest is None else rest.gallery
    if rest is not None:
        ax.plot([-half - 3.0, -inner], [level * MM] * 2, color=BLUE, linewidth=1.1, label="_safe", zorder=4)
    low = level * MM < 0.7 * letter("small") * scale * len(left)  # or the lines would cross that of the ground
    beside = (-half - 4.0, 0.5 if low else level * MM)
    ax.annotate("\n".join(left), beside, fontsize="small", va="bottom" if low else "center", ha="right")
    _tilted(ax, limits)
    top = burner.height * MM + 2.0 * scale
    told = ""
    if limit.spills is not None:
        why = limit.reason if limit.levels is None else limit.levels.lead
        told = f"{written(limit.spills, 'volume', units)} just spills:\n{why}"
    _halves(ax, top, "" if rest is None else "safe, as poured", told)
    ax.set_xlim(-wide, wide)
    ax.set_ylim(-4.0, top + 3.5 * letter("small") * scale)
    safe = "no load is known to be safe" if limits.safe is None else f"{at_most(limits.safe, units)} is safe"
    entitle(ax, setup.name or "burner", safe)
    return ax


def _spilling(ax: "Axes", limits: "FillLimits", units: str) -> "tuple[Limit, list[Mark]]":
    """Fill the right half with the load that just spills, or runs over cold; the limit that it shows, and its marks."""
    burner, limit = limits.setup.burner, tightest(limits)
    found = limit.levels
    if found is None or limit.spills is None:
        rest = cold_fill(limits.setup, limits.tilt)
        _fill_both(ax, burner, 1.0, rest, "cold")
        level = rest.gallery if burner.jets is not None else rest.well
        return limits.cold_tilted, [(level, f"cold, {_height(level, units)}", "-")]
    hot = found.froth - found.swell
    in_jets = "gallery" if burner.jets is not None else "well"
    _fill(ax, burner, in_jets, 1.0, 0.0, hot, "hot")
    _fill(ax, burner, in_jets, 1.0, hot, found.froth, "froth", "ooo")
    if burner.has_inner_wall:
        _fill(ax, burner, "well", 1.0, 0.0, found.well, "hot")
    marks = [
        (found.cold, f"cold and even, {_height(found.cold, units)}", ":"),
        (hot, f"hot, {_height(hot, units)}", "-"),
    ]
    if found.swell > 0.05e-3:
        marks.append((found.froth, f"froth, {_height(found.froth, units)}", "-."))
    return limit, marks


def _edges(setup: "Setup", units: str) -> list[Mark]:
    """Marks of what a level may not reach."""
    burner, tilt = setup.burner, setup.site.tilt
    edge = geometry.lowest_jet_edge(burner) if burner.jets is not None else geometry.lip_height(burner)
    marks = [(edge, f"{'jets' if burner.jets else 'rim'}, {_height(edge, units)}", "--")]
    if burner.jets is not None and tilt > 0.0:
        reached = geometry.spill_level(burner, tilt)
        marks.append((reached, f"reaches them tilted, {_height(reached, units)}", "--"))
    return marks


def _frame(ax: "Axes", half: float, words: list[str]) -> tuple[float, float]:
    """Half of the width that the drawing and the words beside it take [mm], and its scale [mm/point]."""
    room = extent(ax, 2.0)[0]
    beside = min(max(text_width(line, letter("small")) for text in words for line in text.split("\n")), 0.35 * room)
    wide = (half + 9.0) * room / (room - 2.0 * beside)
    return wide, 2.0 * wide / room


def _halves(ax: "Axes", top: float, left: str, right: str) -> None:
    """Part the two halves by the axis of the burner, and say above each what it shows: two states, not one."""
    from matplotlib.patches import Rectangle

    ax.add_patch(Rectangle((-APART, 0.1), 2.0 * APART, top - 0.2, facecolor="white", label="_between", zorder=3.0))
    ax.plot([0.0, 0.0], [-3.0, top + 4.0], color=PALE, linewidth=0.8,
            linestyle=AXIS, label="_axis", zorder=3.1)  # fmt: skip
    for text, x, side in ((left, -2.0 * APART, "right"), (right, 2.0 * APART, "left")):
        if text:
            ax.annotate(text, (x, top), fontsize="small", va="bottom", ha=side)


def _safe_words(limits: "FillLimits", rest: "ColdFill | None", units: str) -> list[str]:
    """Lines that name the safe load, whose levels are those at rest; where burns went out above it, they say so."""
    dark = next((one for one in (limits.burning_vented, limits.sealed) if one.dark and one.proven == limits.safe), None)
    unproven = [] if dark is None else ["more is unproven:", str(dark.dark)]
    if rest is None:
        return ["no load is", "known to be safe", *unproven]
    return [f"{at_most(limits.safe, units)} is safe,", f"cold: {_height(rest.gallery, units)}", *unproven]


@picture
def head(limits: "FillLimits", ax: "Axes | None" = None, *, units: str = "si") -> "Axes":
    """Draw how high a pressure in the well lifts the gallery: two hot loads, the jets, and what dry jets hold back.

    Parameters
    ----------
    limits : of `burnsim.find_fill_limit`, for a double wall
    ax : axes to draw on [mm over Pa]; default none: new ones
    units : "si" or "us"

    Raises
    ------
    InputError
        For a burner without gallery and well.

    Notes
    -----
    At rest: level = (V + A_well (lift + p/(rho g)))/(A_gallery + A_well), until the well is empty. A line ends where
    dry jets hold nothing back any more: there the load runs out.
    """
    if not limits.setup.burner.has_inner_wall:
        kind = limits.setup.burner.kind
        raise InputError("burner.kind", kind, "has no well beside a gallery", "draw the head of a double wall")
    ax = new_axes(ax, 4.0, 4.4)
    setup, limit = limits.setup, tightest(limits)
    burner, fuel = setup.burner, setup.charge.fuel
    heights, pressures = measure("length", units), measure("pressure", units)
    hot_density = density(fuel, fuel_boils(setup))
    weight = hot_density * GRAVITY
    gallery, well = geometry.gallery_area(burner), geometry.well_area(burner)
    edge = geometry.spill_level(burner, setup.site.tilt)
    lift, hold = cold_capillarity(setup)
    across = np.linspace(0.0, max(1.6 * edge * weight, 100.0), 200)
    loads = {setup.charge.volume: ("this load", "-", INK)}
    if limits.safe is not None:
        loads[limits.safe] = ("safe load", "--", BLUE)
    if limit.spills is not None:
        loads[limit.spills] = ("spills", "-.", VERMILION)
    for load, (name, style, colour) in sorted(loads.items()):
        hot = load * poured_density(setup) / hot_density
        level = np.minimum((hot + well * (lift + across / weight)) / (gallery + well), hot / gallery)
        over = level > min(edge + hold, burner.height)
        level[over] = np.nan
        amount = at_most(load, units) if load == limits.safe else written(load, "volume", units)
        ax.plot(pressures.of(across), heights.of(level), linestyle=style, color=colour,
                label=f"{name}, {amount}{', runs out' if over[0] else ''}")  # fmt: skip
    jets = "_jets" if setup.site.tilt <= 0.0 else "reaches the lowest jet on this tilt"
    ax.axhline(heights.of(edge), color=VERMILION, linewidth=0.9, linestyle="--", label=jets)
    ax.axhspan(heights.of(edge), heights.of(edge + hold), facecolor="none", edgecolor=PALE, hatch="...", linewidth=0.0,
               label="held back by dry jets")  # fmt: skip
    ax.set_xlabel(f"well over gallery [{pressures.unit}]")
    ax.set_ylabel(f"level in the gallery, hot [{heights.unit}]")
    ax.set_xlim(left=0.0, right=float(pressures.of(across[-1])))
    ax.set_ylim(0.0, float(heights.of(1.35 * burner.height)))
    legend_below(ax, 1)
    step, amount = STEPS[units]
    parted, risen = step / weight, step / weight * well / (gallery + well)
    entitle(ax, "", f"{amount}: levels {_height(parted, units)} apart, gallery {_height(risen, units)} higher")
    return ax


def _height(value: float, units: str) -> str:
    return written(value, "length", units)


def _fill_both(ax: "Axes", burner: "Burner", side: float, rest: "ColdFill", what: str) -> None:
    """Fill one half of gallery and well to their levels at rest."""
    for room, level in (("gallery", rest.gallery), ("well", rest.well)):
        _fill(ax, burner, room, side, 0.0, level, what)


def _fill(
    ax: "Axes", burner: "Burner", room: str, side: float, low: float, high: float, what: str, hatch: str = ""
) -> None:
    """Fill one half of a room between two levels [m]."""
    inner, outer = 0.0, geometry.well_diameter(burner) / 2.0
    if room == "gallery":
        inner, outer = geometry.inner_wall_diameter(burner) / 2.0, geometry.inner_diameter(burner) / 2.0
    left, right = (inner, outer) if side > 0.0 else (-outer, -inner)
    if outer > inner:
        up = (low * MM, min(high, burner.height) * MM)
        fill(ax, (left * MM, right * MM), up, f"{what} {room}", hatch=hatch, width=0.5, zorder=2.2)


def _tilted(ax: "Axes", limits: "FillLimits") -> None:
    """The plane of the cold load that spills on the tilted stand, the deep side at the right."""
    burner = limits.setup.burner
    if limits.tilt <= 0.0:
        return
    level = cold_fill(limits.setup, limits.tilt).gallery
    reach = geometry.inner_diameter(burner) / 2.0
    slope = math.tan(limits.tilt)
    rise = reach * slope
    left, right = max(-reach, -level / slope), min(reach, (burner.height - level) / slope)
    ax.plot([left * MM, right * MM], [(level + left * slope) * MM, (level + right * slope) * MM], color=PALE,
            linewidth=1.0, linestyle=(0, (5, 2)), label="_tilted", zorder=4)  # fmt: skip
    ax.annotate(f"{math.degrees(limits.tilt):.3g}°", (-0.3 * reach * MM, (level - 0.3 * rise) * MM), (0.0, 2.0),
                textcoords="offset points", fontsize="small", color=PALE, va="bottom", ha="right")  # fmt: skip


SHADES = {
    "si": (0.0, 1e-3, 2e-3, 3e-3, 5e-3, 7.5e-3, 10e-3, 15e-3, 20e-3, 25e-3, 30e-3, 40e-3, 60e-3, 1.0),
    "us": tuple([INCH * step for step in (0.0, 0.05, 0.1, 0.15, 0.2, 0.3, 0.4, 0.6, 0.8, 1.0, 1.2, 1.6, 2.4, 40.0)]),
}
"""Clearances between which a shade lies, in each system of units [m]."""


@picture
def spill_map(found: "SpillMap", ax: "Axes | None" = None, *, units: str = "si") -> "Axes":
    """Draw the least clearance through the burn over load, a strip for each relief; where it spills is hatched.

    The hatch begins at the load that was found to just spill, and holds for every load above it; a strip claims nothing
    between two reliefs. The heavy dashed line is the largest load known to keep the margin. A ring marks a burn that
    never lit or went out before it could spill: what is drawn there proves nothing.

    Parameters
    ----------
    found : of `burnsim.fill.map_spills`
    ax : axes to draw on; default none: new ones. The lowest strip, "none", is a plain rim.
    units : "si" or "us"
    """
    from matplotlib.patches import Patch

    ax = new_axes(ax, 6.8, 4.8)
    volumes = measure("volume", units)
    x = np.asarray(volumes.of(found.loads), dtype=float)
    y = np.arange(len(found.areas), dtype=float)
    _shade(ax, found, units)
    keys: list[Artist] = []
    spills = np.asarray(volumes.of(found.spills), dtype=float)
    edges = np.where(np.isfinite(spills), spills, x[-1])
    if (edges < x[-1]).any():
        ax.barh(y, x[-1] - edges, 1.0, left=edges, facecolor="0.93", edgecolor=INK, hatch="\\\\", linewidth=0.0,
                label="_spills")  # fmt: skip
        keys.append(Patch(facecolor="0.93", edgecolor=INK, hatch="\\\\", label="spills"))
        _stairs(ax, edges, y, 0.9, "-", "_just spills")
    if found.margin.head > 0.0 or found.margin.share > 0.0:
        kept = np.asarray(volumes.of(found.keeps), dtype=float)
        _stairs(ax, np.where(np.isfinite(kept), kept, x[0]), y, 2.0, "--", "_margin kept")
        keys.append(
            Patch(facecolor="none", edgecolor=INK, linestyle="--", label="most that is known to keep the margin")
        )
    solved = np.isfinite(found.clearance)
    if not solved.all():
        rows, columns = np.nonzero(~solved)
        ax.plot(x[columns], y[rows], linestyle="", marker="x", color=INK, label="_not solved")
        keys.append(Patch(facecolor="none", edgecolor="none", label="x  not solved"))
    if found.dark is not None and found.dark.any():
        rows, columns = np.nonzero(found.dark)
        rings = ax.plot(x[columns], y[rows], linestyle="", marker="o", markersize=6.0, markerfacecolor="white",
                        markeredgecolor=INK, label="goes out or never lights: proves nothing")  # fmt: skip
        keys.extend(rings)
    grid = np.meshgrid(x, y)
    ax.plot(grid[0].ravel(), grid[1].ravel(), linestyle="", marker=".", markersize=1.8, color=INK, label="_burns")
    ax.set_xlim(x[0], x[-1])
    ax.set_ylim(-0.5, len(y) - 0.5)
    what, unit = ("of this area in all", "area") if units == "si" else ("of this side", "length")
    sizes = [relief_size(float(area), units).partition(NBSP)[0] for area in found.areas]
    ax.set_yticks(y, [f"{float(size):g}" if units == "si" and size != "none" else size for size in sizes])
    ax.set_xlabel(f"load [{volumes.unit}]")
    ax.set_ylabel(f"relief, three square notches {what} [{measure(unit, units).unit}]")
    tilt = found.setup.site.tilt
    slope = f", on a slope of {math.degrees(tilt):.3g}°" if tilt > 0.0 else ""
    pot = "a pot that hardly cools the rim" if found.warm else "the pot"
    entitle(ax, found.setup.name or "burner", f"{pot}, flat on the rim{slope}")
    if keys:
        legend_below(ax, 3, keys)
    return ax


def _shade(ax: "Axes", found: "SpillMap", units: str) -> None:
    """Shade each strip by its clearance, up to the load that just spills; between burns along straight lines."""
    from matplotlib.colors import BoundaryNorm

    heights, volumes = measure("length", units), measure("volume", units)
    fine = np.linspace(found.loads[0], found.loads[-1], 401)
    middle = 0.5 * (fine[1:] + fine[:-1])
    strips = np.full((len(found.areas), len(middle)), np.nan)
    for row, (clearance, spills) in enumerate(zip(found.clearance, found.spills, strict=True)):
        dry = np.isfinite(clearance) & (clearance > 0.0) & ~(found.loads >= spills)
        loads, rooms = found.loads[dry], clearance[dry]
        if not len(loads):
            continue
        if np.isfinite(spills):  # the froth reaches the edge there; what it does between is drawn no higher
            loads, rooms = np.append(loads, spills), np.append(rooms, 0.0)
        strips[row] = np.where(middle <= loads[-1], np.interp(middle, loads, rooms), np.nan)
    top = np.max(strips, where=np.isfinite(strips), initial=SHADES[units][0])
    count = max(2, sum(step < top for step in SHADES[units]) + 1)
    bounds = np.asarray(heights.of(np.array(SHADES[units][:count])), dtype=float)
    rows = np.arange(len(found.areas) + 1) - 0.5
    shades = ax.pcolormesh(
        volumes.of(fine), rows, heights.of(strips), cmap="cividis", norm=BoundaryNorm(bounds, 256), alpha=0.85,
        rasterized=True,
    )  # fmt: skip
    bar = add_bar(ax.figure, shades, ax, f"least clearance below the jets [{heights.unit}]")
    bar.set_ticks(list(bounds), labels=[f"{bound:.3g}" for bound in bounds])


def _stairs(
    ax: "Axes", edges: "NDArray[np.float64]", y: "NDArray[np.float64]", width: float, style: str, label: str
) -> None:
    """A line through one load for each strip, upright within it."""
    ends = np.column_stack([y - 0.5, y + 0.5]).ravel()
    ax.plot(np.repeat(edges, 2), ends, color=INK, linewidth=width, linestyle=style, label=label)


LEVELS: tuple[Row, ...] = (
    ("gallery_level", "gallery", "-", BLUE, 1.6),
    ("froth_level", "gallery froth", ":", BLUE, 1.3),
    ("well_level", "well", "--", INK, 1.3),
)
PRESSURES: tuple[Row, ...] = (
    ("gallery_pressure", "gallery", "-", BLUE, 1.6),
    ("well_pressure", "well", "--", INK, 1.3),
)
ROOM = 1.2  # over the line of the jets, for its words


@picture
def levels(burn: "Burn", ax: "Axes | None" = None, *, units: str = "si") -> "Axes":
    """Draw levels, and below them the gauge pressures of gallery and well over time; a line marks where the jets begin.

    On a tilted stand the line is the mean level that reaches the lowest jet.

    Parameters
    ----------
    burn : of `burnsim.burn`
    ax : axes to draw on; default none: new ones. They become the panel of the levels [mm or in, over minutes]; that of
        the pressures [Pa or inH2O] is added below it, in the place that the axes had.
    units : "si" or "us"
    """
    lengths, pressures = measure("length", units), measure("pressure", units)
    ax, lower = stacked(ax, (1.6, 1.0), 7.0, 5.0)
    closed = burn.parameters.well.present > 0.0 and burn.parameters.vent.open <= 0.0
    jets, edge = burn.setup.burner.jets, float(lengths.of(burn.parameters.jets.lower_edge))
    shown = PRESSURES if closed else PRESSURES[:1]  # an open well has none
    for panel, rows, unit in ((ax, LEVELS, lengths), (lower, shown, pressures)):
        ends = plot_series(burn, panel, rows, unit)
        whole_minutes(panel, float(burn.time[-1]) / 60.0)
        if panel is ax and jets is not None:
            panel.set_ylim(top=max(panel.get_ylim()[1], ROOM * edge))
        panel.set_ylim(0.0, max(panel.get_ylim()[1], 1e-6))
        if not ends:
            panel.annotate("no closed room, no pressure", (0.5, 0.5), xycoords="axes fraction", ha="center",
                           fontsize="small", color=PALE)  # fmt: skip
        label_ends(panel, ends)
    label_side(ax, "level above the floor", lengths.unit)
    label_side(lower, "gauge pressure", pressures.unit)
    lower.set_xlabel("time [min]")
    result = f"froth up to {written(burn.froth_max, 'length', units)}" if jets is not None else ""
    if jets is not None:
        words = "jets begin" if burn.setup.site.tilt <= 0.0 else "reaches the lowest jet on this tilt"
        ax.axhline(edge, color=VERMILION, linestyle="--", linewidth=0.9, label="_jets")
        ax.annotate(words, (0.99, edge), xycoords=("axes fraction", "data"), xytext=(0.0, 2.0), ha="right", va="bottom",
                    textcoords="offset points", fontsize="small", color=VERMILION)  # fmt: skip
        result += f"; the jets begin at {written(burn.parameters.jets.lower_edge, 'length', units)}"
    ax.figure.align_ylabels([ax, lower])
    above = mark_milestones(burn, ax, (lower,))
    entitle(ax, burn.setup.name or "burner", result, above=above)
    return ax
