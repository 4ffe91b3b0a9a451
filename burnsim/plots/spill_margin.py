"""Map of the spill margin: how far the froth stays below the jets, over load and area of the relief."""

import math
from typing import TYPE_CHECKING

import numpy as np

from burnsim.measures import INCH, measure
from burnsim.plots.style import INK, new_axes

if TYPE_CHECKING:
    from matplotlib.artist import Artist
    from matplotlib.axes import Axes
    from numpy.typing import NDArray

    from burnsim.studies.fill.spill_map import SpillMap

STEPS = {
    "si": (0.0, 1e-3, 2e-3, 3e-3, 5e-3, 7.5e-3, 10e-3, 15e-3, 20e-3, 25e-3, 30e-3, 40e-3, 60e-3, 1.0),
    "us": tuple([INCH * step for step in (0.0, 0.05, 0.1, 0.15, 0.2, 0.3, 0.4, 0.6, 0.8, 1.0, 1.2, 1.6, 2.4, 40.0)]),
}
"""Clearances between which a shade lies, in each system of units [m]."""


def plot_spill_map(found: "SpillMap", ax: "Axes | None" = None, *, units: str = "si") -> "Axes":
    """Draw the least clearance through the burn over load, a strip for each relief; where it spills is hatched.

    The hatch begins at the load that was found to just spill, and holds for every load above it; a strip claims nothing
    between two reliefs. The heavy dashed line is the largest load that keeps the margin. A ring marks a burn that never
    lit or went out before it could spill: what is drawn there proves nothing.

    Parameters
    ----------
    found
        Of `burnsim.studies.fill.spill_map.spill_map`.
    ax
        Axes to draw on; default none: new ones. The lowest strip, "none", is a plain rim.
    units
        "si" or "us".

    Returns
    -------
    Axes
    """
    from matplotlib.patches import Patch

    ax = new_axes(ax, 6.8, 4.8)
    volumes, areas = measure("volume", units), measure("area", units)
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
        keys.append(Patch(facecolor="none", edgecolor=INK, linestyle="--", label="most that keeps the margin"))
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
    ax.set_yticks(y, ["none" if area <= 0.0 else f"{areas.of(area):.3g}" for area in found.areas])
    ax.set_xlabel(f"load [{volumes.unit}]")
    ax.set_ylabel(f"relief, three square notches [{areas.unit}]")
    tilt = found.setup.site.tilt
    slope = f", on a slope of {math.degrees(tilt):.3g} deg" if tilt > 0.0 else ""
    pot = "a pot that hardly cools the rim" if found.warm else "the pot"
    ax.set_title(f"{found.setup.name or 'burner'}: {pot}, flat on the rim{slope}", fontsize="medium")
    if keys:
        ax.legend(
            handles=keys, loc="upper center", bbox_to_anchor=(0.5, -0.14), ncols=3, frameon=False, fontsize="small"
        )
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
    top = np.max(strips, where=np.isfinite(strips), initial=STEPS[units][0])
    count = max(2, sum(step < top for step in STEPS[units]) + 1)
    bounds = np.asarray(heights.of(np.array(STEPS[units][:count])), dtype=float)
    rows = np.arange(len(found.areas) + 1) - 0.5
    shades = ax.pcolormesh(
        volumes.of(fine), rows, heights.of(strips), cmap="cividis", norm=BoundaryNorm(bounds, 256), alpha=0.85,
        rasterized=True,
    )  # fmt: skip
    ax.figure.colorbar(
        shades, ax=ax, label=f"least clearance below the jets [{heights.unit}]", format="%.3g", ticks=bounds
    )


def _stairs(
    ax: "Axes", edges: "NDArray[np.float64]", y: "NDArray[np.float64]", width: float, style: str, label: str
) -> None:
    """A line through one load for each strip, upright within it."""
    ends = np.column_stack([y - 0.5, y + 0.5]).ravel()
    ax.plot(np.repeat(edges, 2), ends, color=INK, linewidth=width, linestyle=style, label=label)
