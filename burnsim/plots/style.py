"""What all pictures share: new axes, lines and areas that can be told apart in black and white."""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from importlib import import_module
from typing import TYPE_CHECKING, Any, NamedTuple

from burnsim.plots.letters import FAMILY, known_to_matplotlib

if TYPE_CHECKING:
    from matplotlib.artist import Artist
    from matplotlib.axes import Axes
    from matplotlib.contour import ContourSet

INK, PALE, FAINT = "0.1", "0.45", "0.75"
BLUE, VERMILION, GREEN, ORANGE, SKY = "#0072B2", "#D55E00", "#009E73", "#E69F00", "#56B4E9"
"""Colours that the colour-blind can tell apart: M. Okabe, K. Ito 2008, Color Universal Design. Each comes with a line
style or a hatching of its own, so that nothing hangs on colour."""

SPIRIT_FILL, WATER_FILL, WICK_FILL, FLAME_FILL = "#cfe6f5", "#e4eef2", "#e6dcc8", "#fff3d6"


STYLE = {
    "font.family": [FAMILY, "DejaVu Sans"],
    "mathtext.fontset": "custom",
    "mathtext.rm": FAMILY,
    "pdf.fonttype": 42,
}
"""Settings of matplotlib that all pictures share; letters go into PDF as TrueType, only those that are shown."""


@contextmanager
def in_style() -> Iterator[None]:
    """Draw in the house's style: `with in_style():` or, over a picture's function, `@in_style()`.

    The user's own settings hold again afterwards.
    """
    from matplotlib import rc_context

    known_to_matplotlib()
    with rc_context(STYLE):
        yield


class Look(NamedTuple):
    """Colour and hatching of an area."""

    colour: str
    hatch: str


def new_axes(ax: "Axes | None", width: float = 7.0, height: float = 4.4) -> "Axes":
    """The axes that were given, or new ones of a size [in]."""
    if ax is not None:
        return ax
    from matplotlib import pyplot

    made: Axes = pyplot.subplots(figsize=(width, height), layout="constrained")[1]
    keep_letters(made)
    return made


def new_pair(ax: "Sequence[Axes] | None", width: float, height: float, *, sharex: bool = False) -> "tuple[Axes, Axes]":
    """The two axes that were given, or new ones, one above the other, on a figure of a size [in]."""
    if ax is None:
        from matplotlib import pyplot

        ax = pyplot.subplots(2, 1, figsize=(width, height), layout="constrained", sharex=sharex)[1]
        for one in ax:
            keep_letters(one)
    upper, lower = ax
    return upper, lower


def keep_letters(ax: "Axes") -> None:
    """Let figures of ticks that are made later, while saving, have the letters that hold now."""
    from matplotlib import rcParams

    ax.tick_params(labelfontfamily=rcParams["font.family"])


EDGE = 0.04
"""Share of the axes beside its frame where a contour's number would be cut [-]."""


def label_contours(ax: "Axes", drawn: "ContourSet", figures: int) -> None:
    """Write the numbers of contours on their lines, but for those that the frame would cut.

    Parameters
    ----------
    ax : axes
    drawn : the contours
    figures : significant
    """
    for number in ax.clabel(drawn, fontsize="small", fmt=lambda value: f"{value:.{figures}g}"):
        place = ax.transLimits.transform(ax.transScale.transform(number.get_position()))
        if not all(EDGE <= share <= 1.0 - EDGE for share in place):
            number.set_visible(False)


def quiet(ax: "Axes") -> None:
    """Take off the frame's upper and right side."""
    for side in ("top", "right"):
        ax.spines[side].set_visible(False)


def legend_below(ax: "Axes", lines: "Sequence[Artist]", columns: int) -> None:
    """Put the legend of some artists below the label of the horizontal axis, in as many columns as there is room for.

    Parameters
    ----------
    ax : axes; how high they are does not count
    lines : what to name
    columns : at most
    """
    from matplotlib import rcParams
    from matplotlib.font_manager import FontProperties
    from matplotlib.transforms import ScaledTranslation

    letters = FontProperties(size="small").get_size_in_points()
    longest = max((len(str(line.get_label())) for line in lines), default=0)
    room = 72.0 * ax.figure.bbox.width / ax.figure.dpi
    columns = max(min(columns, int(room / (letters * (0.55 * longest + 4.5)))), 1)

    down = -(2.7 * float(rcParams["font.size"]) + 9.0) / 72.0  # figures of the ticks, the label, gaps [in]
    moved = ax.transAxes + ScaledTranslation(0.0, down, ax.figure.dpi_scale_trans)
    ax.legend(
        lines, [str(line.get_label()) for line in lines], loc="upper center", bbox_to_anchor=(0.5, 0.0),
        bbox_transform=moved, borderaxespad=0.0, ncols=columns, frameon=False, fontsize="small",
    )  # fmt: skip


PICTURES = {
    "Setup": ("drawing.cross_section", "section"),
    "Burn": ("curves", "burn"),
    "FillLimits": ("filling", "fill_levels"),
    "SpillMap": ("filling", "spill_map"),
    "FuelComparison": ("spirits", "fuels"),
    "Distillation": ("spirits", "distillation"),
    "StartMap": ("starting", "start_map"),
    "Prediction": ("learning", "prediction"),
    "Search": ("searches", "search"),
    "Calibration": ("learning", "calibration"),
    "BenchResult": ("learning", "bench"),
}
"""Module and function, by the name of the result's class."""


def draw(result: object, ax: Any = None, units: str = "si") -> Any:
    """Draw a result.

    Parameters
    ----------
    result : of a burn or a study
    ax : axes to draw on, two of them for a picture with two panels; default none: new ones
    units : "si" or "us"

    Returns
    -------
    Axes, or a tuple of two
        That it was drawn on.
    """
    module, function = PICTURES[type(result).__name__]
    return getattr(import_module(f"burnsim.plots.{module}"), function)(result, ax, units=units)
