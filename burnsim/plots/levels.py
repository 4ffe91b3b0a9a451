"""Pressures and levels in the burner over time."""

from typing import TYPE_CHECKING

import numpy as np

from burnsim.measures import measure
from burnsim.plots.burn_plot import hidden_series, in_room, mark_milestones
from burnsim.plots.style import BLUE, INK, PALE, VERMILION, legend_below, new_axes

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from burnsim.solve import Burn

LEVELS = (
    ("gallery_level", "liquid in the gallery", "-", BLUE, 1.6),
    ("froth_level", "froth in the gallery", ":", BLUE, 1.3),
    ("well_level", "liquid in the well", "--", INK, 1.3),
)
PRESSURES: tuple[tuple[str, str, str, str, float], ...] = (
    ("gallery_pressure", "pressure in the gallery", "-.", VERMILION, 1.3),
    ("well_pressure", "pressure in the well", "--", PALE, 1.6),
)

ROOM = 1.15  # over the line of the jets, for its words


def plot_levels(burn: "Burn", ax: "Axes | None" = None, *, units: str = "si") -> "Axes":
    """Draw levels and gauge pressures of gallery and well over time; a line marks where the jets begin.

    On a tilted stand the line is the mean level that reaches the lowest jet.

    Parameters
    ----------
    burn
        A finished burn.
    ax
        Axes to draw on [mm or in, over minutes]; default none: new ones. Pressures go on a twin axis at the
        right [Pa or inH2O].
    units
        "si" or "us".

    Returns
    -------
    Axes
        The axes of the levels.
    """
    ax = new_axes(ax)
    lengths, pressures = measure("length", units), measure("pressure", units)
    minutes = np.asarray(burn.time) / 60.0
    hidden = hidden_series(burn)
    for name, label, style, colour, width in LEVELS:
        if name not in hidden:
            values = lengths.of(burn.series(name))
            ax.plot(minutes, values, linestyle=style, color=colour, linewidth=width, label=in_room(label, burn))
    ax.set_xlabel("time [min]")
    ax.set_ylabel(f"level above the floor [{lengths.unit}]")
    jets = burn.setup.burner.jets
    if jets is not None:
        edge = lengths.of(burn.parameters.jets.lower_edge)
        ax.axhline(edge, color=PALE, linewidth=0.8, label="_jets")
        ax.set_ylim(top=max(ax.get_ylim()[1], ROOM * edge))
        words = "jets begin" if burn.setup.site.tilt <= 0.0 else "reaches the lowest jet on this tilt"
        ax.annotate(words, (0.8, edge), xycoords=("axes fraction", "data"), ha="right", va="bottom",
                    fontsize="small", color=PALE)  # fmt: skip
    ax.set_ylim(bottom=0.0)
    ax.margins(x=0.01)
    twin = ax.twinx()
    for name, label, style, colour, width in PRESSURES:
        closed = burn.parameters.well.present > 0.0 and burn.parameters.vent.open <= 0.0
        if name in hidden or (name == "well_pressure" and not closed):
            continue
        values = pressures.of(burn.series(name))
        [line] = twin.plot(minutes, values, linestyle=style, color=colour, linewidth=width, label=in_room(label, burn))
        if name == "well_pressure":  # told from the well's level without colour
            line.set_marker("x")
            line.set_markevery(0.08)
            line.set_markersize(4.0)
    if twin.get_lines():
        twin.set_ylabel(f"gauge pressure [{pressures.unit}]")
    else:
        twin.set_yticks([])
    twin.set_ylim(bottom=0.0)
    ax.set_zorder(twin.get_zorder() + 1)
    ax.patch.set_visible(False)
    above = mark_milestones(burn, ax)
    lines = [line for line in (*ax.get_lines(), *twin.get_lines()) if not str(line.get_label()).startswith("_")]
    legend_below(ax, lines, 3)
    ax.set_title(f"{burn.setup.name or 'burn'}: levels and pressures", pad=6.0 + above)
    return ax
