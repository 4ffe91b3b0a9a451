"""Map of the spill margin: how far the froth stays below the jets, over load and area of the relief."""

from typing import TYPE_CHECKING

import numpy as np

from burnsim.measures import INCH, measure
from burnsim.plots.style import INK, label_contours, new_axes

if TYPE_CHECKING:
    from matplotlib.artist import Artist
    from matplotlib.axes import Axes

    from burnsim.studies.fill.spill_map import SpillMap

LINES = {
    "si": (1e-3, 3e-3, 5e-3, 10e-3, 15e-3, 20e-3, 25e-3, 30e-3, 40e-3, 60e-3),
    "us": tuple([INCH * line for line in (0.05, 0.1, 0.2, 0.4, 0.6, 0.8, 1.0, 1.2, 1.6, 2.4)]),
}
"""Clearances with a contour in each system of units [m]."""


def plot_spill_map(found: "SpillMap", ax: "Axes | None" = None, *, head: float = 3e-3, units: str = "si") -> "Axes":
    """Draw the least clearance through the burn as contours over load and relief; where it spills is hatched.

    A ring marks a burn that never lit or went out before it could spill: what is drawn there proves nothing.

    Parameters
    ----------
    found
        Of `burnsim.studies.fill.spill_map.spill_map`.
    ax
        Axes to draw on; default none: new ones. The lowest row, "none", is a plain rim.
    head
        Margin asked for [m]: its contour is drawn heavy.
    units
        "si" or "us".

    Returns
    -------
    Axes
    """
    from matplotlib.patches import Patch

    ax = new_axes(ax, 6.8, 4.8)
    volumes, heights, areas = (measure(dimension, units) for dimension in ("volume", "length", "area"))
    x = np.asarray(volumes.of(found.loads), dtype=float)
    y = np.arange(len(found.areas), dtype=float)
    values = np.asarray(found.clearance, dtype=float)
    solved = np.isfinite(values)
    shown = np.where(solved, values, 0.0)
    spills = shown <= 0.0
    shades = ax.contourf(x, y, heights.of(np.maximum(shown, 0.0)), levels=14, cmap="cividis", alpha=0.85)
    ax.figure.colorbar(shades, ax=ax, label=f"least clearance below the jets [{heights.unit}]")
    top = float(shown.max())
    lines = sorted({line for line in LINES[units] if line < top and abs(line - head) > 1e-9})
    if lines and not spills.all():
        drawn = ax.contour(x, y, heights.of(shown), levels=heights.of(np.array(lines)), colors="white", linewidths=0.9)
        label_contours(ax, drawn, 3)
    keys: list[Artist] = []
    if spills.any():
        ax.contourf(x, y, np.where(spills, -1.0, 1.0) if spills.all() else shown, levels=[-1e9, 0.0], colors=["0.93"],
                    hatches=["\\\\"])  # fmt: skip
        keys.append(Patch(facecolor="0.93", edgecolor=INK, hatch="\\\\", label="spills"))
        ax.contour(x, y, shown, levels=[0.0], colors=INK, linewidths=0.9)
    if 0.0 < head < top:
        ax.contour(x, y, shown, levels=[head], colors=INK, linewidths=2.0, linestyles="--")
        keys.append(
            Patch(facecolor="none", edgecolor=INK, linestyle="--", label=f"{heights.of(head):.3g} {heights.unit} kept")
        )
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
    ax.set_yticks(y, ["none" if area <= 0.0 else f"{areas.of(area):.3g}" for area in found.areas])
    ax.set_xlabel(f"load [{volumes.unit}]")
    ax.set_ylabel(f"relief, three square notches [{areas.unit}]")
    pot = "a pot that hardly cools the rim" if found.warm else "the pot"
    ax.set_title(f"{found.setup.name or 'burner'}: {pot}, flat on the rim", fontsize="medium")
    if keys:
        ax.legend(
            handles=keys, loc="upper center", bbox_to_anchor=(0.5, -0.14), ncols=3, frameon=False, fontsize="small"
        )
    return ax
