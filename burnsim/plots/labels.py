"""Words in pictures: titles, names at the ends of curves, ticks and legends, each where it finds room."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from burnsim.plots.letters import text_width, wrapped

if TYPE_CHECKING:
    import numpy as np
    from matplotlib.artist import Artist
    from matplotlib.axes import Axes
    from matplotlib.cm import ScalarMappable
    from matplotlib.colorbar import Colorbar
    from matplotlib.contour import ContourSet
    from matplotlib.figure import Figure, SubFigure
    from matplotlib.text import Text
    from numpy.typing import NDArray


def letter(size: str | float = "medium") -> float:
    """Size of letters [points]."""
    from matplotlib.font_manager import FontProperties

    return float(FontProperties(size=size).get_size_in_points())


def extent(ax: "Axes", beside: float = 6.0) -> tuple[float, float]:
    """Width and height that axes will come to have once what stands around them has been given room [points].

    Guessed from their share of the figure, for what is drawn comes before the layout; `beside` is the room for what
    stands left and right of them, in letters.
    """
    from matplotlib import rcParams

    box, figure = ax.get_position(original=True), ax.figure.bbox
    shares = [
        share / (float(rcParams[f"figure.subplot.{high}"]) - float(rcParams[f"figure.subplot.{low}"]))
        for share, low, high in ((box.width, "left", "right"), (box.height, "bottom", "top"))
    ]
    wide, high = (
        72.0 * size / ax.figure.dpi * share for size, share in zip((figure.width, figure.height), shares, strict=True)
    )
    return max(wide - beside * letter(), 0.3 * wide), max(high - 4.0 * letter(), 0.5 * high)


MOST_NAME = 48  # letters of a name in a title


def clipped(name: str, most: int) -> str:
    """A name, or as much of it as has room in so many letters, with an ellipsis.

    >>> clipped("a long name", 7)
    'a long…'
    """
    return name if len(name) <= most else name[: most - 1].rstrip() + "…"


def entitle(ax: "Axes", name: str, result: str = "", *, above: float = 0.0) -> None:
    """Write the title: whose picture it is (a long name is shortened), and what came of it, in lines that fit the axes.

    Room is left for what stands `above` the axes [points].
    """
    from matplotlib import rcParams

    name = clipped(name, MOST_NAME)
    text = f"{name}: {result}" if name and result else name or result
    lines = wrapped(text, extent(ax)[0], letter(rcParams["axes.titlesize"])) if text else []
    ax.set_title("\n".join(lines), loc="center", pad=6.0 + above, fontfamily=rcParams["font.family"])


def label_ends(ax: "Axes", ends: "Sequence[tuple[float, str, str]]") -> None:
    """Write names of curves at their ends, right of the axes, whose limits are set, one clear of the other.

    An end is the height of a curve [data], its name and its colour.
    """
    low, high = ax.get_ylim()
    step = 1.25 * letter("small") / extent(ax)[1]
    rising = sorted(ends, key=lambda end: end[0])
    wanted = [min(max((height - low) / (high - low), 0.0), 1.0) for height, _, _ in rising]
    for place, (_, name, colour) in zip(spread(wanted, step), rising, strict=True):
        ax.annotate(
            name, (1.0, place), xycoords="axes fraction", xytext=(5.0, 0.0), textcoords="offset points",
            color=colour, fontsize="small", va="center", annotation_clip=False,
        )  # fmt: skip


def name_rows(ax: "Axes", names: "Sequence[str]") -> None:
    """Name the rows of a picture, of which the first stands on top; one row has the height of 1."""
    ax.set_yticks(range(len(names)), names, fontsize="small")
    ax.set_ylim(max(len(names), 1) - 0.4, -0.6)


def label_side(ax: "Axes", words: str, unit: str) -> None:
    """Write what lies up along the axes, with its unit; where they are too low, its first word, or the unit alone."""
    box = ax.get_position(original=True)
    high = 72.0 * ax.figure.bbox.height / ax.figure.dpi * box.height
    texts = (f"{some} [{unit}]" for some in (words, words.split(maxsplit=1)[0]))
    ax.set_ylabel(next((text for text in texts if text_width(text, letter()) <= 0.9 * high), unit))


def spread(places: Sequence[float], step: float) -> list[float]:
    """Places, moved as little as it takes for two of them to lie a step apart.

    >>> spread([0.0, 1.2, 1.0], 0.5)
    [0.0, 1.35, 0.85]
    """

    def middle(group: list[int]) -> float:
        return sum([places[k] for k in group]) / len(group)

    groups: list[list[int]] = []  # of those that touch, which are moved together
    for k in sorted(range(len(places)), key=places.__getitem__):
        group = [k]
        while groups and middle(group) - middle(groups[-1]) < 0.5 * step * (len(groups[-1]) + len(group)) - 1e-12:
            group = groups.pop() + group
        groups.append(group)
    moved = {k: middle(group) + step * (n - 0.5 * (len(group) - 1)) for group in groups for n, k in enumerate(group)}
    return [round(moved[k], 12) for k in range(len(places))]


def whole_minutes(ax: "Axes", last: float) -> None:
    """Ticks at whole minutes, or at tenths where there are not two of them, from the match to a last one [min]."""
    from matplotlib.ticker import MaxNLocator

    ax.set_xlim(0.0, max(last, 0.1))
    room = max(int(extent(ax)[0] / (3.2 * letter())), 2)
    nbins, whole = min(room, 12), last >= 2.0
    ax.xaxis.set_major_locator(MaxNLocator(nbins=nbins, integer=whole, min_n_ticks=1, steps=[1, 2, 5, 10]))


def thinned(ax: "Axes", ends: "NDArray[np.float64]", places: "NDArray[np.float64]", words: Sequence[str]) -> list[str]:
    """Words of ticks at rising places along, with nothing in place of those that would touch the one before.

    The axes show what lies between the first and the last of the ends.
    """
    share, size = extent(ax)[0] / (ends[-1] - ends[0]), letter()
    shown, free = [], float("-inf")
    for place, word in zip((places - ends[0]) * share, words, strict=True):
        half = 0.5 * text_width(word, size)
        clear = place - half >= free
        shown.append(word if clear else "")
        free = place + half + 0.5 * size if clear else free
    return shown


def add_bar(
    figure: "Figure | SubFigure", shades: "ScalarMappable", ax: "Axes | Sequence[Axes]", label: str
) -> "Colorbar":
    """Set a bar of colours beside axes, or several that share them, its label in lines that fit."""
    from matplotlib import rcParams

    first = ax[0] if isinstance(ax, Sequence) else ax
    bar = figure.colorbar(shades, ax=ax)
    bar.ax.tick_params(labelfontfamily=rcParams["font.family"])
    bar.set_label("\n".join(wrapped(label, extent(first)[1], letter())), fontfamily=rcParams["font.family"])
    bar.outline.set_linewidth(0.6)
    return bar


EDGE = 0.04  # share of the axes beside its frame where a contour's number would be cut [-]


def label_contours(ax: "Axes", drawn: "ContourSet", figures: int) -> "list[Text]":
    """Write the numbers of contours on their lines, but for those that the frame or another number would cut.

    Returns those that are seen.
    """
    import numpy as np

    size, kept = np.array(extent(ax)), []
    room = np.array([2.2, 1.5]) * letter("small") / size
    places: list[object] = []
    for number in ax.clabel(drawn, fontsize="small", fmt=lambda value: f"{value:.{figures}g}"):
        place = ax.transLimits.transform(ax.transScale.transform(number.get_position()))
        crowded = any((np.abs(place - other) < room).all() for other in places)
        if crowded or not all(EDGE <= share <= 1.0 - EDGE for share in place):
            number.set_visible(False)
            continue
        places.append(place)
        kept.append(number)
    return kept


def legend_below(ax: "Axes", columns: int, keys: "Sequence[Artist] | None" = None) -> None:
    """Put a legend below the label of the horizontal axis, in as many columns as find room.

    It tells the keys, by default all artists of the axes whose names do not begin with an underscore.
    """
    from matplotlib import rcParams
    from matplotlib.transforms import ScaledTranslation

    lines = ax.get_legend_handles_labels()[0] if keys is None else keys
    longest = max((len(str(line.get_label())) for line in lines), default=0)
    room = 72.0 * ax.figure.bbox.width / ax.figure.dpi
    columns = max(min(columns, int(room / (letter("small") * (0.55 * longest + 4.5)))), 1)
    down = -(2.7 * float(rcParams["font.size"]) + 9.0) / 72.0  # figures of the ticks, the label, gaps [in]
    moved = ax.transAxes + ScaledTranslation(0.0, down, ax.figure.dpi_scale_trans)
    ax.legend(
        handles=lines, loc="upper center", bbox_to_anchor=(0.5, 0.0), bbox_transform=moved, borderaxespad=0.0,
        ncols=columns,
    )  # fmt: skip
