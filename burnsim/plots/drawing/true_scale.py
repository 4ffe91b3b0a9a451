"""Draw a layout of measures, and keep axes at a scale of paper whatever the figure's layout does with them."""

from typing import TYPE_CHECKING, Any

from burnsim.plots.drawing.dimensions import LETTERS, Frame, Layout, Spot
from burnsim.plots.style import INK, PALE

if TYPE_CHECKING:
    from matplotlib.axes import Axes

INCH = 25.4  # [mm]
EDGE = 2.5  # of paper round a drawing [mm]
TITLE = 6.0  # of paper for a line of a title [mm]
CLEAR = {"boxstyle": "square,pad=0.08", "facecolor": "white", "edgecolor": "none"}
OVER = 6  # order of words: above every line, which stops at their white ground


def room_of(ax: "Axes", title_lines: int = 1) -> Spot:
    """Width and height of the paper that axes have for a drawing under a title [mm]."""
    wide, high = (INCH * one for one in _size(ax))
    spec: Any = ax.get_subplotspec()
    if spec is None:
        place = ax.get_position(original=True)
        wide, high = wide * place.width, high * place.height
    else:
        wide *= len(spec.colspan) / spec.get_gridspec().ncols
        high *= len(spec.rowspan) / spec.get_gridspec().nrows
    return wide - 2.0 * EDGE, high - 2.0 * EDGE - TITLE * title_lines


def _size(ax: "Axes") -> Spot:
    """Size of the whole figure [in]."""
    wide, high = ax.figure.bbox.width / ax.figure.dpi, ax.figure.bbox.height / ax.figure.dpi
    return float(wide), float(high)


def fix_scale(ax: "Axes", frame: Frame, scale: float) -> None:
    """Show a frame at a scale, millimetres of what is drawn in one of paper, in the middle of the axes' place."""
    from matplotlib.transforms import Bbox

    left, right, low, high = frame
    ax.set_xlim(left, right)
    ax.set_ylim(low, high)
    ax.set_aspect("auto")

    def place(axes: Any, _: object) -> Any:
        whole = axes.get_position(original=True)
        wide, tall = _size(axes)
        own = ((right - left) / scale / INCH / wide, (high - low) / scale / INCH / tall)
        x, y = (whole.x0 + whole.x1 - own[0]) / 2.0, (whole.y0 + whole.y1 - own[1]) / 2.0
        return Bbox.from_bounds(x, y, *own)

    ax.set_axes_locator(place)


def write(ax: "Axes", layout: Layout) -> None:
    """Draw the words and lines of a layout on axes of millimetres."""
    for stroke in layout.strokes:
        if stroke.heads == "none":
            xs, ys = zip(*stroke.points, strict=True)
            ax.plot(xs, ys, color=PALE, linewidth=0.45, label="_extension", zorder=3.5)
            continue
        arrow = {"arrowstyle": "<|-|>" if stroke.heads == "both" else "-|>", "linewidth": 0.5, "color": INK}
        arrow |= {"shrinkA": 0.0, "shrinkB": 0.0, "mutation_scale": 5.0}
        ax.annotate("", stroke.points[1], xytext=stroke.points[0], arrowprops=arrow, zorder=4)
    for note in layout.notes:
        ax.text(
            note.x, note.y, note.text, fontsize=LETTERS, ha={"middle": "center"}.get(note.align, note.align),
            va="center", rotation=90 if note.upright else 0, color=INK, bbox=CLEAR, zorder=OVER,
        )  # fmt: skip
