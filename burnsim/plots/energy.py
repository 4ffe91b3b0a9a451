"""Where the heat of a burn goes: as bands from the charge to each place, and as flows at one instant."""

from typing import TYPE_CHECKING, NamedTuple

from burnsim.plots.labels import entitle, extent, letter
from burnsim.plots.letters import wrapped
from burnsim.plots.style import FAINT, INK, ORANGE, PALE, SKY, VERMILION, new_axes, picture
from burnsim.units import format_time, parse, written
from burnsim.units.writing import with_unit

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from burnsim.model.balances.flows import Flows
    from burnsim.solve import Burn, Outcome
    from burnsim.solve.results.ledger import EnergyLedger


class Place(NamedTuple):
    """A place to which heat goes: its field in the ledger, words, colour and hatching."""

    field: str
    words: str
    colour: str
    hatch: str


PLACES = (
    Place("water", "water, warmed", SKY, ""),
    Place("steam", "steam", SKY, "///"),
    Place("pot_metal", "pot, warmed", SKY, "..."),
    Place("pot_loss", "lost from the pot", ORANGE, ""),
    Place("flue", "flue gas", ORANGE, "\\\\\\"),
    Place("radiated", "radiated away", ORANGE, "xxx"),
    Place("burner_loss", "lost from the burner", ORANGE, "---"),
    Place("burner", "burner, warmed", FAINT, ""),
    Place("fuel_water", "water in the fuel", FAINT, "**"),
    Place("unburnt", "unburnt vapour", FAINT, "+++"),
    Place("spilled", "spilled", FAINT, "ooo"),
    Place("left", "fuel left", FAINT, "||"),
)
"""All parts of the energy ledger but what was charged, from the top down: the pot's, the losses, the rest."""

SMALLEST = 1e-4  # share of the charge below which a band is not drawn but named
GAP = 0.035  # between bands on the right, as a share of the charge
WORDS = 0.062  # least distance of two lines of words, as a share of the charge


class Band(NamedTuple):
    """A drawn band: which place, joules, and where it sits at the left and at the right (tops, as shares)."""

    place: Place
    joules: float
    start: float
    end: float
    width: float


def ledger_bands(ledger: "EnergyLedger") -> tuple[Band, ...]:
    """Bands of a ledger, from the top down; a negative part (heat taken up) has its band come from the left too.

    The joules of all bands, those not drawn for their size included, add up to the charge less the residual.
    """
    whole = abs(ledger.charged)
    bands = []
    start = end = 1.0
    for place in PLACES:
        joules = float(getattr(ledger, place.field))
        width = abs(joules) / whole
        bands.append(Band(place, joules, start, end, width))
        if joules > 0.0:
            start -= width
        if width > SMALLEST:
            end -= width + GAP
    return tuple(bands)


@picture
def ledger(
    burn: "Outcome", ax: "Axes | None" = None, *, title: str | None = None, residual: bool = True, units: str = "si"
) -> "Axes":
    """Draw where the heat of the charge went, as bands from left to right.

    Parameters
    ----------
    burn : of `burnsim.burn`, or what came of one
    ax : axes to draw on; default none: new ones. Heights are shares of what was charged.
    title : of the picture; default none: its result
    residual : whether to tell what the ledger leaves unaccounted
    units : "si" or "us"; heat is told in kilojoules in either
    """
    from matplotlib.patches import PathPatch, Rectangle
    from matplotlib.path import Path

    ax = new_axes(ax, 7.0, 4.2)
    ledger = burn.energy
    whole = abs(ledger.charged)
    bands = ledger_bands(ledger)
    ax.add_patch(Rectangle((0.0, 0.0), 0.04, 1.0, facecolor=VERMILION, edgecolor=INK, linewidth=0.6, label="_charged"))
    ax.text(-0.015, 0.5, f"charge\n{whole / 1e3:.0f}\u00a0kJ", ha="right", va="center", fontsize="medium")
    taken = [band for band in bands if band.joules < 0.0]
    small = [band for band in bands if band.joules > 0.0 and band.width <= SMALLEST]
    last = 2.0
    for band in bands:
        if band.joules <= 0.0 or band.width <= SMALLEST:
            continue
        a, b, c, d = band.start, band.start - band.width, band.end - band.width, band.end
        corners = [(0.04, a), (0.35, a), (0.35, d), (0.64, d), (0.64, c), (0.35, c), (0.35, b), (0.04, b), (0.04, a)]
        codes = [Path.MOVETO, *[Path.CURVE4] * 3, Path.LINETO, *[Path.CURVE4] * 3, Path.CLOSEPOLY]
        ax.add_patch(
            PathPatch(Path(corners, codes), facecolor=band.place.colour, edgecolor=INK, linewidth=0.5,
                      hatch=band.place.hatch, label=f"_{band.place.field}", gid=band.place.field)
        )  # fmt: skip
        middle = 0.5 * (c + d)
        last = min(middle, last - WORDS)
        ax.plot([0.645, 0.66, 0.675], [middle, last, last], color=PALE, linewidth=0.6, label="_leader")
        share = band.joules / ledger.charged
        words = f"{band.place.words}  {band.joules / 1e3:.1f}\u00a0kJ  {100.0 * share:.1f}\u00a0%"
        ax.text(0.685, last, words, va="center", fontsize="small")
    notes = []
    if taken:
        words = ", ".join(f"{band.place.words} {with_unit(f'{band.joules / 1e3:.1f}', 'kJ')}" for band in taken)
        notes.append(f"taken up from elsewhere: {words}")
    if small:
        notes.append("below 0.01 %: " + ", ".join(band.place.words for band in small))
    if residual:
        notes.append(f"unaccounted: {abs(ledger.residual):.0e} of the charge")
    foot = min([0.0, last - WORDS, *(band.end - band.width for band in bands)])
    lines = [line for note in notes for line in wrapped(note, 0.95 * extent(ax, 0.0)[0], letter("small"))]
    high = extent(ax)[1]
    below = 1.3 * letter("small") * len(lines) / high * (1.04 - foot)
    ax.text(-0.2, foot - 0.05, "\n".join(lines), fontsize="small", color=PALE, va="top")
    ax.set_xlim(-0.2, 1.16)
    ax.set_ylim(foot - 0.06 - below, 1.04)
    ax.set_axis_off()
    if title is not None:
        entitle(ax, "", title)
    else:
        useful = 100.0 * ledger.water / ledger.charged
        entitle(ax, burn.setup.name, f"{useful:.0f}\u00a0% of the heat warms the water")
    return ax


class Flow(NamedTuple):
    """One flow of heat: where, in words, and how much [W]."""

    group: str
    words: str
    watts: float


LOOKS = {
    "flames": (VERMILION, ""),
    "to the burner": (ORANGE, "///"),
    "to the pot": (SKY, "..."),
    "away": (FAINT, "\\\\\\"),
}
LEAST = 0.05  # flows below this are left out [W]


def heat_flows(flows: "Flows") -> tuple[Flow, ...]:
    """The flows of heat of an instant, grouped; those that are nought left out."""
    fire, walls, pot = flows.fire, flows.walls, flows.pot
    found = (
        Flow("flames", "jets", fire.jet_power),
        Flow("flames", "wick", fire.wick_power),
        Flow("flames", "well or vents", fire.vent_power),
        Flow("to the burner", "jets' flames to rim and wall", fire.jets_to_rim),
        Flow("to the burner", "wick's flame to rim and wall", fire.wick_to_rim + walls.wick_to_wall),
        Flow("to the burner", "wick's flame to liquid", walls.wick_to_liquid),
        Flow("to the burner", "well's flame to liquid", flows.pool.heat),
        Flow("to the burner", "well's flame to rim", fire.edge_to_rim),
        Flow(
            "to the burner",
            "walls to liquid",
            walls.outer_foot + walls.gallery_inner + walls.well_inner - flows.gas.from_feet,
        ),
        Flow("to the burner", "top plate to liquid", walls.underside),
        Flow("to the pot", "gas to bottom", pot.bottom),
        Flow("to the pot", "gas to side wall", pot.wall),
        Flow("to the pot", "radiation", pot.radiation),
        Flow("to the pot", "rim to pot", pot.contact),
        Flow("to the pot", "dew on the pot", pot.dew_heat),
        Flow("to the pot", "well's vapour, condensed", flows.gas.reflux),
        Flow("away", "flue gas", pot.flue),
        Flow("away", "radiation past the pot", pot.radiation_lost),
        Flow(
            "away", "from the burner's walls", walls.gallery_loss + walls.well_loss + walls.collar_loss + walls.rim_loss
        ),
        Flow("away", "from the pot, dry", pot.loss),
        Flow("away", "steam", pot.steam_heat),
        Flow("away", "unburnt vapour", fire.unburnt_heat),
    )
    return tuple(flow for flow in found if abs(flow.watts) >= LEAST)


def watts_text(watts: float) -> str:
    """Watts in three figures, and in plain ones.

    >>> watts_text(1120.4) == "1120\N{NO-BREAK SPACE}W", watts_text(-8.317) == "\N{MINUS SIGN}8.32\N{NO-BREAK SPACE}W"
    (True, True)
    """
    return with_unit(f"{watts:.0f}" if abs(watts) >= 100.0 else f"{watts:.3g}", "W")


@picture
def flows(burn: "Burn", ax: "Axes | None" = None, *, at: float | str, units: str = "si") -> "Axes":
    """Draw every flow of heat at an instant as a bar.

    Parameters
    ----------
    burn : of `burnsim.burn`
    ax : axes to draw on [W]; default none: new ones
    at : time from the match [s], or a text: "1 min".
    units : "si" or "us", for the temperatures in its title
    """
    ax = new_axes(ax, 7.0, 5.0)
    at = parse(at, "time", "at")
    flows = burn.flows(at)
    found = heat_flows(flows)
    y, ticks, words = 0.0, [], []
    most = max((abs(flow.watts) for flow in found), default=1.0)
    before = ""
    for flow in found:
        if flow.group != before:
            y += 0.6 if before else 0.0
            ax.text(0.99, y - 0.1, flow.group, transform=ax.get_yaxis_transform(), fontsize="small", color=PALE,
                    ha="right", va="center", style="italic")  # fmt: skip
            before = flow.group
        colour, hatch = LOOKS[flow.group]
        ax.barh(y, flow.watts, height=0.7, color=colour, edgecolor=INK, linewidth=0.6, hatch=hatch)
        ax.text(max(flow.watts, 0.0) + 0.01 * most, y, watts_text(flow.watts), va="center", fontsize="small")
        ticks.append(y)
        words.append(flow.words)
        y += 1.0
    ax.set_yticks(ticks, words, fontsize="small")
    ax.set_ylim(max(y, 1.0) - 0.4, -0.6)
    ax.set_xlim(right=1.3 * most)
    ax.axvline(0.0, color=INK, linewidth=0.8)
    ax.set_xlabel("heat [W]")
    result = f"{format_time(at)} after the match"
    if burn.setup.pot is not None:
        result += f" the water has {written(flows.pot_temperature, 'temperature', units)}"
    entitle(ax, burn.setup.name or "burn", result)
    return ax
