"""The picture of designs side by side: all their curves on shared axes."""

from typing import TYPE_CHECKING

import numpy as np

from burnsim.plots.labels import entitle, label_ends, label_side, whole_minutes
from burnsim.plots.style import BLUE, GREEN, INK, ORANGE, PALE, VERMILION, picture, stacked
from burnsim.report.burn import poured
from burnsim.report.designs.compare import letters
from burnsim.report.designs.figures import change_told
from burnsim.studies.start.grid import warnings_of
from burnsim.units import measure

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from burnsim.studies.compare import DesignComparison

LOOKS = ((INK, "-"), (VERMILION, "--"), (BLUE, "-."), (GREEN, ":"), (ORANGE, (0, (6, 1.5))), (PALE, (0, (3, 1, 1, 1))))
"""Colour and line of each design, in their order; the lines tell them apart in grey."""
MARKERS = ("o", "s", "^", "D", "v", "P")
RATIOS = (1.6, 1.0, 0.9)
PEAK = 1.25  # times the power after the primer: what is above is cut off


@picture
def compare(found: "DesignComparison", ax: "Axes | None" = None, *, units: str = "si") -> "Axes":
    """Draw the curves of all designs on shared axes: the water's temperature, the power, the fuel left.

    The boil of each is marked on its curve; readings of bench logs are points.

    Parameters
    ----------
    found : of `burnsim.compare`
    ax : axes to draw on [degC or degF, over minutes]; default none: new ones. Panels of the power [W] and of the fuel
        left [ml or fl oz] are added below, all in the place that the axes had.
    units : "si" or "us"
    """
    degrees, volumes = measure("temperature", units), measure("volume", units)
    water, power, fuel = stacked(ax, RATIOS, 7.4, 6.2)
    last = max(float(burn.time[-1]) for burn in found.burns) / 60.0
    ends, fuel_ends, ceiling = [], [], 1.0
    for mark, burn, log, (colour, line), dot in zip(
        letters(found), found.burns, found.logs, LOOKS, MARKERS, strict=False
    ):
        minutes = np.asarray(burn.time) / 60.0
        if burn.setup.pot is not None:
            warm = np.asarray(degrees.of(burn.series("water_temperature")))
            water.plot(minutes, warm, color=colour, linestyle=line, linewidth=1.6, label=mark)
            ends.append((float(warm[-1]), mark, colour))
            boil = burn.milestones.boil.time
            if boil is not None:
                top = float(np.interp(boil / 60.0, minutes, warm))
                water.plot([boil / 60.0], [top], dot, color=colour, markersize=6, markerfacecolor="white")
        if log is not None:
            when, reading = log.water()
            water.plot(when / 60.0, degrees.of(reading), dot, color=colour, markersize=3.5, label=f"{mark}, bench")
        watts = np.asarray(burn.series("power"))
        power.plot(minutes, watts, color=colour, linestyle=line, linewidth=1.3, label=mark)
        primer = burn.milestones.primer_out.time or 0.0
        after = watts[minutes > primer / 60.0 + 0.05]
        ceiling = max(ceiling, PEAK * float(after.max()) if after.size else float(watts.max()))
        left = np.asarray(burn.series("fuel_left"))
        share = (poured(burn, 1.0) or 0.0) * left
        fuel.plot(minutes, np.asarray(volumes.of(share)), color=colour, linestyle=line, linewidth=1.3, label=mark)
        fuel_ends.append((float(volumes.of(float(share[-1]))), mark, colour))
    label_side(water, "water", degrees.unit)
    label_side(power, "power", "W")
    peak = max(float(np.max(burn.series("power"))) for burn in found.burns)
    if peak > 1.05 * ceiling:
        power.annotate(
            f"peaks, up to {peak:.0f} W, are cut off", (1.0, 1.0), xycoords="axes fraction", ha="right",
            va="top", fontsize="small", color=PALE,
        )  # fmt: skip
    power.set_ylim(0.0, 1.05 * ceiling)
    label_side(fuel, "fuel left", volumes.unit)
    fuel.set_ylim(bottom=0.0)
    fuel.set_xlabel("time [min]")
    for panel in (water, power, fuel):
        whole_minutes(panel, last)
    water.margins(y=0.08)
    label_ends(water, ends)
    names = [f"{mark}: {name}" for mark, name in zip(letters(found), found.names, strict=True)]
    fuel.legend(power.get_legend_handles_labels()[0], names, loc="upper right")
    water.figure.align_ylabels([water, power, fuel])
    entitle(water, "", _in_short(found))
    return water


def _in_short(found: "DesignComparison") -> str:
    """What differs most, in a sentence, and what each design warns of."""
    warned = [
        f"{mark} warned of: {', '.join(codes)}"
        for mark, burn in zip(letters(found), found.burns, strict=True)
        if (codes := warnings_of(burn))
    ]
    return "; ".join([_difference(found), *warned])


def _difference(found: "DesignComparison") -> str:
    if len(found.burns) == 2 and found.against[0].changes:
        [boil] = [one for one in found.against[0].causes if one.figure == "boil"]
        if boil.whole is not None:
            pair = found.against[0].paired.get("boil")
            sure = "" if pair is None else ", more than what is unknown" if pair.sure else ", less than what is unknown"
            way = "later" if boil.whole > 0.0 else "sooner"
            told = f"B boils {change_told('boil', boil.whole).lstrip('+-−')} {way} than A{sure}"
            if pair is None or not pair.happening_differs:
                return told
            one, two = pair.both + pair.first_only, pair.both + pair.second_only
            return f"{told}; but A boils in {one} of {pair.draws} draws, B in {two}"
    side, pots = f"{len(found.burns)} designs side by side", zip(letters(found), found.burns, strict=True)
    never = [mark for mark, burn in pots if burn.setup.pot is not None and burn.milestones.boil.time is None]
    return side if not never else f"{side}: {', '.join(never)} {'does' if len(never) == 1 else 'do'} not boil the water"
