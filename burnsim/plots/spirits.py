"""Pictures of spirits compared, and of a charge that distils."""

from typing import TYPE_CHECKING

from burnsim.plots.style import BLUE, INK, SPIRIT_FILL, VERMILION, new_axes, quiet
from burnsim.report.fields import water_text
from burnsim.units import measure

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from burnsim.studies.fuels.comparison import FuelComparison, FuelRow
    from burnsim.studies.fuels.distil import Distillation

THICK = 0.38  # of a bar; two bars share one step of the axis
ROOM = 1.45  # how far the axis reaches beyond the longest bar, for what is written there


def fuels(comparison: "FuelComparison", ax: "Axes | None" = None, *, units: str = "si") -> "Axes":
    """Draw what each spirit takes to boil the water, by mass and by volume, with the time and power beside it.

    Parameters
    ----------
    comparison
        Spirits side by side.
    ax
        Axes to draw on; default none: new ones. The first spirit comes on top.
    units
        "si" (g and ml) or "us" (oz and fl oz).

    Returns
    -------
    Axes
    """
    ax = new_axes(ax)
    rows = comparison.rows
    mass, volume = measure("mass", units), measure("volume", units)
    heavy = [mass.of(row.used or 0.0) for row in rows]
    poured = [volume.of(row.used_volume or 0.0) for row in rows]
    places = range(len(rows))
    above, below = [k - THICK / 2 for k in places], [k + THICK / 2 for k in places]
    ax.barh(above, poured, height=THICK, color=SPIRIT_FILL, edgecolor=INK, hatch="///", label=volume.unit)
    ax.barh(below, heavy, height=THICK, color=BLUE, edgecolor=INK, label=mass.unit)
    longest = max([*poured, *heavy, volume.of(1e-6)])
    for k, row in enumerate(rows):
        ax.annotate(
            _beside(row),
            (max(poured[k], heavy[k]), k),
            xytext=(6, 0),
            textcoords="offset points",
            va="center",
            fontsize="small",
        )
    ax.set_yticks(list(places), [_short(row) for row in rows])
    ax.set_ylim(len(rows) - 0.4, -0.6)
    ax.set_xlim(0.0, ROOM * longest)
    ax.set_xlabel(f"spirit gone by the boil [{volume.unit}, {mass.unit}]")
    ax.legend(loc="upper center", bbox_to_anchor=(0.5, -0.13), ncols=2, frameon=False)
    pot = comparison.setup.pot
    water = "" if pot is None else f", {water_text(pot.water, units)} of water"
    quiet(ax)
    ax.set_title(f"{comparison.setup.name or 'spirits'}{water}")
    return ax


def distillation(distillation: "Distillation", ax: "Axes | None" = None, *, units: str = "si") -> "Axes":
    """Draw the water in the liquid and in its vapour as a charge burns away, with the power at the right.

    Parameters
    ----------
    distillation
        Composition over a burn.
    ax
        Axes to draw on [mass % over minutes]; default none: new ones. Power goes on a twin axis at the right [W].
    units
        "si" or "us"; shares, minutes and watts are the same in both.

    Returns
    -------
    Axes
        The axes of the composition.
    """
    measure("power", units)
    ax = new_axes(ax)
    minutes = distillation.time / 60.0
    names = distillation.components
    for k, name in enumerate(names):
        if len(names) == 2 and name != "water":
            continue  # the other share says it all
        style = "-" if name == "water" else (0, (2 + 2 * k, 1.5))
        colour = BLUE if name == "water" else INK
        ax.plot(minutes, 100.0 * distillation.liquid[:, k], color=colour, linestyle=style, label=f"{name}, liquid")
        ax.plot(
            minutes,
            100.0 * distillation.vapour[:, k],
            color=colour,
            linestyle=style,
            marker="o",
            markevery=0.08,
            markersize=3,
            linewidth=0.8,
            label=f"{name}, vapour",
        )
    ax.set_xlabel("time [min]")
    ax.set_ylabel("share of the mass [%]")
    ax.set_ylim(0.0, 100.0)
    watts = ax.twinx()
    watts.plot(minutes, distillation.power, color=VERMILION, linestyle="-.", label="power")
    watts.set_ylabel("power [W]", color=VERMILION)
    watts.set_ylim(bottom=0.0)
    lines = [*ax.get_lines(), *watts.get_lines()]
    ax.legend(
        lines,
        [str(line.get_label()) for line in lines],
        loc="upper center",
        bbox_to_anchor=(0.5, -0.13),
        ncols=3,
        frameon=False,
    )
    return ax


def _beside(row: "FuelRow") -> str:
    """What is written beside the bars of a spirit."""
    if row.burn is None:
        return "the run failed"
    if row.boil is None:
        warned = [code for code in row.verdicts if code != "fuel left"]
        return "no boil" if not warned else warned[0]
    text = f"{row.boil / 60.0:.1f} min"
    return text if row.power is None else f"{text}, {row.power:.0f} W"


def _short(row: "FuelRow") -> str:
    name = row.spirit.fuel.name
    return name if len(name) <= 24 else name[:21] + "..."
