"""Pictures of spirits compared, and of a charge that distils."""

from typing import TYPE_CHECKING

from burnsim.plots.labels import clipped, entitle, label_ends, name_rows, whole_minutes
from burnsim.plots.style import BAR, BLUE, GREEN, INK, ORANGE, SPIRIT_FILL, VERMILION, new_axes, picture, stacked
from burnsim.report.fields import water_text
from burnsim.units import format_time, measure, written

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from burnsim.studies.fuels.comparison import FuelComparison, FuelRow
    from burnsim.studies.fuels.distillation import Distillation

THICK = 0.62  # of a bar; one step of the axis is 1
ROOM = 1.5  # how far the axis reaches beyond the longest bar, for what is written there
LONGEST = 30  # letters of a spirit's name
MOST_WARNED = 3  # verdicts that are told beside a bar


@picture
def fuels(comparison: "FuelComparison", ax: "Axes | None" = None, *, units: str = "si") -> "Axes":
    """Draw how much of each spirit boils the water, as poured; beside each bar its mass, the time and the power.

    Below that stands what the burn warns of; its bar is hatched.

    Parameters
    ----------
    comparison : of `burnsim.compare_fuels`
    ax : axes to draw on [ml or fl oz]; default none: new ones. The first spirit comes on top.
    units : "si" (ml and g) or "us" (fl oz and oz)
    """
    rows = comparison.rows
    ax = new_axes(ax, 7.0, 1.4 + 0.5 * len(rows))
    volume = measure("volume", units)
    poured = [volume.of(row.used_volume or 0.0) for row in rows]
    # what each burn warns of, the most serious first; that fuel is left follows from the rest
    warned = [[code for code in row.verdicts if code != "fuel left"] if row.burn else [] for row in rows]
    hatches = ["//" if codes else "" for codes in warned]
    ax.barh(range(len(rows)), poured, height=THICK, color=SPIRIT_FILL, hatch=hatches, label=volume.unit, **BAR)
    longest = max([*poured, volume.of(1e-6)])
    for k, (row, codes) in enumerate(zip(rows, warned, strict=True)):
        ax.annotate(_beside(row, codes, units), (poured[k], k), xytext=(6, 0), textcoords="offset points", va="center",
                    fontsize="small")  # fmt: skip
    name_rows(ax, [clipped(row.spirit.fuel.name, LONGEST) for row in rows])
    ax.set_xlim(0.0, ROOM * longest)
    ax.set_xlabel(f"spirit gone by the boil [{volume.unit}]")
    pot = comparison.setup.pot
    boiling = [row for row in rows if row.boil is not None and row.used_volume]
    best = min(boiling, key=lambda row: row.used_volume or 0.0, default=None)
    water = "the water" if pot is None else f"{water_text(pot.water, units)} of water"
    least = "none boils the water" if best is None else f"it takes least of {best.spirit.fuel.name} to boil {water}"
    entitle(ax, comparison.setup.name or "spirits", least)
    return ax


@picture
def distillation(distillation: "Distillation", ax: "Axes | None" = None, *, units: str = "si") -> "Axes":
    """Draw the water in the liquid and in its vapour as a charge burns away, with the power below.

    Parameters
    ----------
    distillation : of `burnsim.fuels.distil`
    ax : axes to draw on [mass % over minutes]; default none: new ones. A panel of the power [W] is added below it, in
        the place that the axes had.
    units : "si" or "us"; shares, minutes and watts are the same in both
    """
    measure("power", units)
    ax, lower = stacked(ax, (1.6, 1.0), 7.0, 4.8)
    minutes = distillation.time / 60.0
    names = distillation.components
    ends = []
    for k, name in enumerate(names):
        if len(names) == 2 and name != "water":
            continue  # the other share says it all
        colour = BLUE if name == "water" else (INK, VERMILION, GREEN)[k % 3]
        for what, values, style in (("liquid", distillation.liquid, "-"), ("vapour", distillation.vapour, "--")):
            share = 100.0 * values[:, k]
            ax.plot(minutes, share, color=colour, linestyle=style, label=f"{name}, {what}")
            ends.append((float(share[-1]), f"{name}, {what}", INK if colour == GREEN else colour))
    ax.set_ylabel("share of the mass [%]")
    ax.set_ylim(0.0, 100.0)
    lower.plot(minutes, distillation.power, color=INK, linewidth=1.2, label="power")
    lower.fill_between(minutes, distillation.power, color=ORANGE, linewidth=0.0)
    lower.set_ylabel("power [W]")
    lower.set_ylim(bottom=0.0)
    lower.set_xlabel("time [min]")
    for panel in (ax, lower):
        whole_minutes(panel, float(minutes[-1]))
    label_ends(ax, ends)
    ax.figure.align_ylabels([ax, lower])
    if "water" in names:
        water = 100.0 * distillation.liquid[:, names.index("water")]
        entitle(ax, "", f"water in what is left rises from {water[0]:.0f}\u00a0% to {water[-1]:.0f}\u00a0% of the mass")
    return ax


def _beside(row: "FuelRow", warned: list[str], units: str) -> str:
    if row.burn is None and row.boil is None:
        return "the run failed"
    if row.boil is None and "never lit" in warned:
        return "never lit"
    if row.boil is None:
        why = ", ".join([code for code in warned if code != "no boil"][:MOST_WARNED])
        return f"no boil: {why}" if why else "no boil"
    parts = [written(row.used_volume or 0.0, "volume", units), written(row.used or 0.0, "mass", units)]
    parts.append(format_time(row.boil))
    told = ", ".join([*parts, *([] if row.power is None else [written(row.power, "power")])])
    return f"{told}\nwarned of: {', '.join(warned[:MOST_WARNED])}" if warned else told
