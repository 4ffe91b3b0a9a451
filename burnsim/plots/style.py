"""What all pictures share: new axes, lines and areas that can be told apart in black and white."""

from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from matplotlib.axes import Axes

INK, PALE, FAINT = "0.1", "0.45", "0.75"
BLUE, VERMILION, GREEN, ORANGE, SKY = "#0072B2", "#D55E00", "#009E73", "#E69F00", "#56B4E9"
"""Colours that the colour-blind can tell apart: M. Okabe, K. Ito 2008, Color Universal Design. Each comes with a line
style or a hatching of its own, so that nothing hangs on colour."""

SPIRIT_FILL, WATER_FILL, WICK_FILL, FLAME_FILL = "#cfe6f5", "#e4eef2", "#e6dcc8", "#fff3d6"


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
    return made


def quiet(ax: "Axes") -> None:
    """Take off the frame's upper and right side."""
    for side in ("top", "right"):
        ax.spines[side].set_visible(False)
