"""Where the heat of a burn goes: bands from the charge to each place, as wide as the heat, closed to the ledger."""

from typing import TYPE_CHECKING, NamedTuple

from burnsim.plots.style import FAINT, INK, ORANGE, PALE, SKY, VERMILION, new_axes

if TYPE_CHECKING:
    from matplotlib.axes import Axes

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

    Parameters
    ----------
    ledger : of a burn
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


def plot_ledger(ledger: "EnergyLedger", ax: "Axes | None" = None, *, title: str = "Where the heat goes") -> "Axes":
    """Draw where the heat of the charge went, as bands from left to right.

    Parameters
    ----------
    ledger
        `burn.energy`.
    ax
        Axes to draw on; default none: new ones. Heights are shares of what was charged.
    title
        Of the picture.

    Returns
    -------
    Axes
    """
    from matplotlib.patches import PathPatch, Rectangle
    from matplotlib.path import Path

    ax = new_axes(ax, 7.0, 4.2)
    whole = abs(ledger.charged)
    bands = ledger_bands(ledger)
    ax.add_patch(Rectangle((0.0, 0.0), 0.04, 1.0, facecolor=VERMILION, edgecolor=INK, linewidth=0.6, label="_charged"))
    ax.text(-0.015, 0.5, f"charge\n{whole / 1e3:.0f} kJ", ha="right", va="center", fontsize="medium")
    small, taken = [], []
    last = 2.0
    for band in bands:
        share = band.joules / ledger.charged
        if band.joules < 0.0:
            taken.append(band)
            continue
        if band.width <= SMALLEST:
            if band.joules != 0.0:
                small.append(band)
            continue
        a, b, c, d = band.start, band.start - band.width, band.end - band.width, band.end
        corners = [(0.04, a), (0.35, a), (0.35, d), (0.64, d), (0.64, c), (0.35, c), (0.35, b), (0.04, b), (0.04, a)]
        codes = [Path.MOVETO, *[Path.CURVE4] * 3, Path.LINETO, *[Path.CURVE4] * 3, Path.CLOSEPOLY]
        ax.add_patch(
            PathPatch(Path(corners, codes), facecolor=band.place.colour, edgecolor=INK, linewidth=0.5,
                      hatch=band.place.hatch, label=f"_{band.place.field}", gid=band.place.field)
        )  # fmt: skip
        middle = 0.5 * (c + d)
        y = min(middle, last - WORDS)
        last = y
        ax.plot([0.645, 0.66, 0.675], [middle, y, y], color=PALE, linewidth=0.6, label="_leader")
        ax.text(0.685, y, f"{band.place.words}  {band.joules / 1e3:.1f} kJ  {100.0 * share:.1f} %", va="center",
                fontsize="small")  # fmt: skip
    notes = []
    if taken:
        words = ", ".join(f"{band.place.words} {band.joules / 1e3:.1f} kJ" for band in taken)
        notes.append(f"taken up from elsewhere: {words}")
    if small:
        notes.append("below 0.01 %: " + ", ".join(band.place.words for band in small))
    notes.append(f"unaccounted: {abs(ledger.residual):.0e} of the charge")
    foot = min([0.0, last - WORDS, *(band.end - band.width for band in bands)])
    ax.text(0.0, foot - 0.06, "; ".join(notes), fontsize="small", color=PALE, va="top")
    ax.set_xlim(-0.2, 1.16)
    ax.set_ylim(foot - 0.12, 1.04)
    ax.set_axis_off()
    ax.set_title(title)
    return ax
