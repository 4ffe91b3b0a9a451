"""Pictures of answers that are one number or a few: what was tried for it, and how it compares."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from burnsim.plots.labels import entitle, legend_below, name_rows
from burnsim.plots.style import BAR, BLUE, FAINT, GREEN, INK, ORANGE, PALE, SKY, VERMILION, new_axes, picture
from burnsim.report.fill import relief_text
from burnsim.report.fuels import least_charge_text
from burnsim.report.start import primer_text
from burnsim.solve.results.spill import MECHANISMS
from burnsim.studies.fuels.water_limit import WETTEST
from burnsim.units import format_time, measure, written
from burnsim.units.writing import shown

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from burnsim.studies.calibrate.next_burn import NextBurns
    from burnsim.studies.fill.card import PourCard
    from burnsim.studies.fill.relief import Relief
    from burnsim.studies.fill.spill_odds import SpillOdds
    from burnsim.studies.fuels.charge import LeastCharge
    from burnsim.studies.fuels.water_limit import WaterLimit
    from burnsim.studies.start.primer import Primer

FAILS: dict[str, Any] = {"marker": "x", "color": VERMILION, "linestyle": "none", "label": "does not"}
DOES: dict[str, Any] = {"marker": "o", "color": BLUE, "linestyle": "none"}
LINES = ("-", "--", ":", "-.")


@picture
def least_charge(found: "LeastCharge", ax: "Axes | None" = None, *, units: str = "si") -> "Axes":
    """Draw the boil over every charge that was tried; a cross stands where the water does not boil.

    Parameters
    ----------
    found : of `burnsim.fuels.find_least_charge`
    ax : axes to draw on [minutes over ml or fl oz]; default none: new ones
    units : "si" or "us"
    """
    ax = new_axes(ax)
    volume = measure("volume", units)
    boils = [(volume.of(tried), boil / 60.0) for tried, boil in found.tried if boil is not None]
    if boils:
        ax.plot(*zip(*boils, strict=True), **{**DOES, "linestyle": "-"}, label="boils the water")
    fails = [volume.of(tried) for tried, boil in found.tried if boil is None]
    _answer(ax, fails, found.volume, units)
    ax.set_ylim(0.0, max([1.1 * minutes for _, minutes in boils], default=1.0))
    ax.set_xlabel(f"charge [{volume.unit}]")
    ax.set_ylabel("water boils [min]")
    entitle(ax, "", least_charge_text(found, units).partition("\n")[0].rstrip("."))
    return ax


@picture
def primer(found: "Primer", ax: "Axes | None" = None, *, units: str = "si") -> "Axes":
    """Draw which of the primers that were tried start the jets.

    Parameters
    ----------
    found : of `burnsim.find_primer`
    ax : axes to draw on [ml or fl oz]; default none: new ones
    units : "si" or "us"
    """
    ax = new_axes(ax, 7.0, 2.4)
    volume = measure("volume", units)
    starts = [volume.of(tried) for tried, does in found.tried if does]
    ax.plot(starts, [1.0] * len(starts), **DOES, label="starts the jets")
    _answer(ax, [volume.of(tried) for tried, does in found.tried if not does], found.volume, units)
    ax.set_yticks([])
    ax.set_ylim(-0.5, 1.5)
    ax.set_xlabel(f"primer [{volume.unit}]")
    entitle(ax, "", primer_text(found, units).partition("\n")[0].rstrip("."))
    return ax


def _answer(ax: "Axes", fails: Sequence[float], least: float | None, units: str) -> None:
    """Crosses for what fails, a line at the least that does, and what all of it means."""
    ax.plot(fails, [0.0] * len(fails), **FAILS, clip_on=False, zorder=3)
    if least is not None:
        ax.axvline(measure("volume", units).of(least), color=INK, linewidth=0.8, label="least that does")
    ax.set_xlim(left=0.0)
    legend_below(ax, 3)


@picture
def relief(found: "Relief", ax: "Axes | None" = None, *, units: str = "si") -> "Axes":
    """Draw the notches that the load needs, cut down from the rim, to scale.

    Parameters
    ----------
    found : of `burnsim.find_relief`
    ax : axes to draw on [mm or in]; default none: new ones
    units : "si" or "us"
    """
    ax = new_axes(ax, 7.0, 2.6)
    length = measure("length", units)
    rows: list[tuple[str, int, float, float]] = []
    if found.area:
        side = (found.area / 3.0) ** 0.5
        rows.append(("square", 3, side, side))
    if found.notches:
        rows.append(("filed", found.notches, found.width, found.depth))
    step = 2.0 * max([found.depth, *(row[3] for row in rows)])
    reach = max([found.width, *(row[1] * 2.0 * row[2] for row in rows)])
    for k, (_, count, width, depth) in enumerate(rows or [("", 0, 0.0, 0.0)]):
        across, up = [0.0], [-k * step]
        for n in range(count):
            left = (2 * n + 0.5) * width
            across += [left, left, left + width, left + width]
            up += [-k * step, -k * step - depth, -k * step - depth, -k * step]
        across.append(reach)
        up.append(-k * step)
        edge = [length.of(value) for value in across]
        foot = [length.of(-k * step - 0.8 * step)] * len(edge)
        ax.fill_between(edge, foot, [length.of(value) for value in up], color=FAINT, edgecolor=INK, linewidth=0.8)
    ax.set_aspect("equal")
    ax.set_yticks([length.of(-(k + 0.4) * step) for k in range(len(rows))], [row[0] for row in rows])
    ax.set_xlabel(f"along the rim [{length.unit}]")
    entitle(ax, written(found.load, "volume", units), relief_text(found, units))
    return ax


@picture
def spill_odds(found: "SpillOdds", ax: "Axes | None" = None, *, units: str = "si") -> "Axes":
    """Draw in which share of the burns it spills, with its 95 % interval, and what led the spills.

    Parameters
    ----------
    found : of `burnsim.fill.estimate_spill_odds`
    ax : axes to draw on [%]; default none: new ones
    units : "si" or "us"; shares have none
    """
    measure("fraction", units)
    leads = sorted(found.leads.items(), key=lambda one: -one[1])
    ax = new_axes(ax, 7.0, 1.8 + 0.4 * len(leads))
    total = 100.0 * found.probability
    ax.barh(0.0, total, height=0.6, color=SKY, **BAR)
    ends = [[max(total - 100.0 * found.low, 0.0)], [max(100.0 * found.high - total, 0.0)]]
    ax.errorbar([total], [0.0], xerr=ends, color=INK, capsize=4.0)
    for k, (_, count) in enumerate(leads, 1):
        ax.barh(k, 100.0 * count / found.samples, height=0.6, color=ORANGE, hatch="//", **BAR)
    names = ["spills", *(f"of these, {MECHANISMS[lead]}" for lead, _ in leads)]
    dark = found.samples - found.telling
    if dark:
        ax.barh(len(names), 100.0 * dark / found.samples, height=0.6, color=FAINT, hatch="...", **BAR)
        names.append("goes out or never lights: not known")
    name_rows(ax, names)
    longest = max(found.high, dark / found.samples)
    ax.set_xlim(0.0, min(max(1.15 * 100.0 * longest, 1.0), 100.0))
    ax.set_xlabel("share of the burns [%]")
    told = f"spills in {total:.1f} % of {found.samples} burns"
    if dark:
        told = f"{told}; {dark} prove nothing" if found.telling else f"none of {found.samples} burns tells if it spills"
    entitle(ax, "", told)
    return ax


@picture
def water_limit(found: "WaterLimit", ax: "Axes | None" = None, *, units: str = "si") -> "Axes":
    """Draw up to which share of water a spirit lights, burns out and boils.

    Parameters
    ----------
    found : one of `burnsim.fuels.find_water_limits`
    ax : axes to draw on [%], by volumes before mixing; default none: new ones
    units : "si" or "us"; shares have none
    """
    measure("fraction", units)
    ax = new_axes(ax, 7.0, 2.4)
    asked = (("blooms", "blooms"), ("lasts", "burns its charge out"), ("boils", "boils the water"))
    known: dict[str, float | None] = {name: getattr(found, name) for name, _ in asked}
    rows = [(words, known[name]) for name, words in asked if known[name] is not None or name in found.reasons]
    for k, (_, share) in enumerate(rows):
        if share is None:
            ax.plot([100.0 * found.water], [k], **FAILS)
        else:
            ax.barh(k, 100.0 * (share - found.water), left=100.0 * found.water, height=0.6, color=SKY, **BAR)
    name_rows(ax, [words for words, _ in rows])
    ax.set_xlim(0.0, 100.0 * WETTEST)
    ax.set_xlabel("water before mixing [% by volume]")
    shares = [share for _, share in rows if share is not None]
    most = 100.0 * min(shares, default=0.0)
    fails = len(shares) < len(rows)
    entitle(ax, found.fuel.name, "fails as it is" if fails else f"works with up to {most:.0f} % of water")
    return ax


@picture
def pour_card(card: "PourCard", ax: "Axes | None" = None, *, units: str = "si") -> "Axes":
    """Draw the charge that boils the water in each place, and the largest safe load on each slope.

    Parameters
    ----------
    card : of `burnsim.fill.make_pour_card`
    ax : axes to draw on [ml or fl oz]; default none: new ones. A place is a row.
    units : "si" or "us"
    """
    ax = new_axes(ax, 7.0, 1.6 + 0.45 * len(card.places))
    volume = measure("volume", units)
    rows = range(len(card.places))
    for parts, off, height, colour, hatch, words in (
        ([place.charge for place in card.places], -0.1, 0.4, SKY, "", "boils the water"),
        ([place.primer for place in card.places], 0.25, 0.2, ORANGE, "//", "on the wick besides"),
    ):
        lengths = [volume.of(part or 0.0) for part in parts]
        ax.barh([k + off for k in rows], lengths, height=height, color=colour, hatch=hatch, label=words, **BAR)
    for n, tilt in enumerate(card.tilts):
        known = [(k, volume.of(most)) for k in rows if (most := card.places[k].most(n)) is not None]
        slope = "level" if tilt <= 0.0 else shown(tilt, "angle", units, 3)
        if known:
            ax.vlines([most for _, most in known], [k - 0.42 for k, _ in known], [k + 0.42 for k, _ in known],
                      color=(VERMILION, PALE, GREEN)[n % 3], linestyle=LINES[n % 4], linewidth=2.0,
                      label=f"most, {slope}")  # fmt: skip
    names = [
        f"{place.setup.charge.fuel.name}, {written(place.setup.site.air_temperature, 'temperature', units)}, "
        f"{written(place.setup.site.altitude, 'altitude', units)}"
        for place in card.places
    ]
    name_rows(ax, names)
    ax.set_xlim(left=0.0)
    ax.set_xlabel(f"spirit [{volume.unit}]")
    legend_below(ax, 3)
    entitle(ax, card.setup.name or "burner", "what boils the water, and the most that is known to be safe")
    return ax


@picture
def next_burns(found: "NextBurns", ax: "Axes | None" = None, *, units: str = "si") -> "Axes":
    """Draw how much of the answer's band each bench burn, and each pair of them, is expected to leave.

    Parameters
    ----------
    found : of `burnsim.calibration.propose_burns`
    ax : axes to draw on [%]; default none: new ones
    units : "si" or "us"; shares have none
    """
    measure("fraction", units)
    rows = [*found.single, *found.pairs]
    ax = new_axes(ax, 7.0, 1.4 + 0.35 * len(rows))
    for k, one in enumerate(rows):
        look = (SKY, "") if len(one.burns) == 1 else (ORANGE, "//")
        ax.barh(k, 100.0 * one.shrinkage, height=0.65, color=look[0], hatch=look[1], **BAR)
    name_rows(ax, [" + ".join(one.burns) for one in rows])
    ax.set_xlim(0.0, 100.0)
    ax.set_xlabel("band of the answer that is left [%]")
    low, high = (format_time(found.middle * share) for share in found.band)
    answer = found.answer.replace("burnout", "burn-out")
    entitle(ax, found.setup.name or "burner", f"which burn next tells most of the {answer}, now {low} to {high}")
    return ax
