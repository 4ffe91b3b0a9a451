"""Picture of where a burner starts."""

from typing import TYPE_CHECKING

from burnsim.plots.labels import entitle, legend_below
from burnsim.plots.style import FAINT, GROUND, ORANGE, PALE, SKY, VERMILION, new_axes, picture
from burnsim.report.fields import on_wick, warned_text
from burnsim.report.start import air_text, start_word
from burnsim.studies.start.grid import BLOOMS, FAILED, GOES_OUT, MORE_PRIMER, NEVER_BLOOMS, NEVER_LIGHTS
from burnsim.units import measure, written

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from burnsim.studies.start.grid import StartCell, StartMap

LOOKS = {
    BLOOMS: ("white", "", "starts"),
    MORE_PRIMER: (SKY, "..", "starts with more primer"),
    GOES_OUT: (ORANGE, "//", "lights and goes out"),
    NEVER_BLOOMS: (VERMILION, "xx", "jets never light"),
    NEVER_LIGHTS: (PALE, "", "does not light"),
    FAILED: (FAINT, "++", "run failed"),
}
"""Colour, hatching and words of every verdict."""


@picture
def start_map(result: "StartMap", ax: "Axes | None" = None, *, units: str = "si") -> "Axes":
    """Draw a map of places: whether the burner starts there, and in what time and on how much the water boils.

    Parameters
    ----------
    result : of `burnsim.map_starts`
    ax : axes to draw on [m over degC]; default none: new ones
    units : "si" or "us"
    """
    from matplotlib.patches import Patch, Rectangle

    ax = new_axes(ax)
    degrees, up = measure("temperature", units), measure("altitude", units)
    columns, rows = len(result.air_temperatures), len(result.altitudes)
    size = max(min(9.0, 62.0 / columns), 4.0)
    own = result.setup.charge.primer
    for i, row in enumerate(result.cells):
        for j, cell in enumerate(row):
            colour, hatch, _ = LOOKS[cell.verdict]
            box = Rectangle((j - 0.5, i - 0.5), 1.0, 1.0, facecolor=colour, edgecolor="0.3", hatch=hatch)
            ax.add_patch(box)
            ax.text(j, i, _lines(cell, own, units), ha="center", va="center", fontsize=size, bbox=GROUND)
    ax.set_xlim(-0.5, columns - 0.5)
    ax.set_ylim(-0.5, rows - 0.5)
    ax.set_xticks(range(columns), [air_text(kelvin, units) for kelvin in result.air_temperatures])
    ax.set_yticks(range(rows), [f"{up.of(altitude):.0f}" for altitude in result.altitudes])
    ax.set_xlabel(f"air [{degrees.unit}]")
    ax.set_ylabel(f"altitude [{up.unit}]")
    for side in ("top", "right"):
        ax.spines[side].set_visible(True)
    cells = [cell for row in result.cells for cell in row]
    patches = [
        Patch(facecolor=colour, edgecolor="0.3", hatch=hatch, label=words)
        for verdict, (colour, hatch, words) in LOOKS.items()
        if any(cell.verdict == verdict for cell in cells)
    ]
    if any(cell.boil is not None for cell in cells):
        unit = measure("volume", units).unit
        patches.append(Patch(facecolor="none", edgecolor="none", label=f"min, {unit}: until the water boils"))
    if any(cell.below_flash and cell.match is not None for cell in cells):
        patches.append(Patch(facecolor="none", edgecolor="none", label="* vapour too thin to burn: hold the match"))
    if warned := warned_text([cell.warned for cell in cells]):
        patches.append(Patch(facecolor="none", edgecolor="none", label=f"warned of: {warned}"))
    legend_below(ax, 3, patches)
    starts = sum(cell.verdict == BLOOMS for cell in cells)
    with_primer = f"{result.setup.charge.fuel.name}, {on_wick(own, units)} of primer"
    told = f"starts in {starts} of {len(cells)} places"
    if more := sum(cell.verdict == MORE_PRIMER for cell in cells):
        told += f" as it is, in {more} with more primer"
    entitle(ax, result.setup.name or "burner", f"{told}; {with_primer}")
    return ax


def _lines(cell: "StartCell", own: float, units: str) -> str:
    lines = [start_word(cell, own, units).rstrip()]
    if cell.boil is not None and cell.used is not None:
        lines += [f"{cell.boil / 60.0:.1f} min", written(cell.used, "volume", units, 0 if units == "si" else 2)]
    elif cell.verdict in (BLOOMS, MORE_PRIMER) and cell.bloom is not None:
        lines.append("no boil")
    return "\n".join(lines)
