"""Measures written to a cross-section, with arrows between extension lines."""

from typing import TYPE_CHECKING

from burnsim.model.description import geometry
from burnsim.plots.style import INK, PALE
from burnsim.units import measure

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from burnsim.model.description.burner import Burner
    from burnsim.model.description.conditions import Pot
    from burnsim.model.description.setup import Setup

MM = 1e3
CLEAR = {"boxstyle": "square,pad=0.1", "facecolor": "white", "edgecolor": "none"}
OVER = 6  # order of words: above every line, which stops at their white ground
STEP = 13.0  # between lines of dimensions [mm]
Frame = tuple[float, float, float, float]


def length(value: float, units: str) -> str:
    """A length [mm] in a drawing's words.

    >>> length(45.0, "si"), length(45.0, "us")
    ('45', '1.772 in')
    """
    unit = measure("length", units)
    if units == "si":
        return f"{value:.4g}"
    return f"{unit.of(value / MM):.3f} {unit.unit}"


def write_dimensions(ax: "Axes", setup: "Setup", units: str, frame: Frame) -> Frame:
    """Write the measures of burner and pot; returns the frame (left, right, low, high) [mm] that holds them.

    Heights run up the left side, widths below, the pot's measures above and to the right.
    """
    burner = setup.burner
    half, top, foot = burner.outer_diameter / 2.0 * MM, burner.height * MM, -burner.wall_thickness * MM
    left, right, low, high = frame
    wick = burner.wick
    heights = [("floor to rim", top)]
    jets = burner.jets
    if jets is not None and jets.direction == "side":
        heights += [("jets", height * MM) for height in geometry.jet_heights(burner)[:1]]
    if wick is not None:
        heights.append(("wick", wick.height * MM))
    x = -half - (wick.thickness * MM if wick else 0.0) - 7.0
    for what, height in sorted(heights, key=lambda pair: pair[1]):
        _upright(ax, x, 0.0 if what != "wick" else foot, height if what != "wick" else foot + height,
                 f"{what} {length(height, units)}", -half)  # fmt: skip
        x -= STEP
    left = min(left, x - 2.0)
    y = foot - 9.0
    widths = []
    if burner.has_inner_wall:
        inner = geometry.inner_wall_diameter(burner) / 2.0 * MM
        widths.append((-inner, inner, f"inner wall {length(2.0 * inner, units)} outside"))
    if jets is not None and jets.direction == "top":
        ring = max(geometry.jet_rings(burner)) / 2.0 * MM
        widths.append((-ring, ring, f"ring of jets {length(2.0 * ring, units)}"))
    widths.append((-half, half, f"outside {length(2.0 * half, units)}"))
    for a, b, text in widths:
        _level(ax, y, a, b, text, 0.0)
        y -= STEP * 0.75
    low = min(low, y - 1.0)
    if setup.pot is not None:
        right, high = _pot(ax, setup.pot, top, half, units, right)
    _holes(ax, burner, half, top, units)
    return left, max(right, half + 50.0), low, high


def _pot(ax: "Axes", pot: "Pot", top: float, half: float, units: str, right: float) -> tuple[float, float]:
    """The pot's measures; returns the frame's right and upper edge."""
    above = pot.above_rim * MM
    radius, bottom = pot.diameter / 2.0 * MM, top + above
    brim = bottom + pot.height * MM
    _level(ax, brim + 11.0, -radius, radius, f"pot {length(2.0 * radius, units)}", brim)
    _upright(ax, radius + 8.0, bottom, brim, f"pot {length(brim - bottom, units)}", radius)
    if above > 0.0:
        x = radius + 8.0
        if above > STEP:
            _upright(ax, x, top, bottom, f"gap {length(above, units)}", half)
        else:
            ax.text(x, top - 1.0, f"gap {length(above, units)}", fontsize="x-small", ha="center", va="top", color=INK,
                    bbox=CLEAR, zorder=OVER)  # fmt: skip
        for height in (top, bottom):
            ax.plot([half, radius + 10.0], [height, height], color=PALE, linewidth=0.4, label="_extension")
    return max(right, radius + 8.0 + STEP), brim + 20.0


def _holes(ax: "Axes", burner: "Burner", half: float, top: float, units: str) -> None:
    """What is cut into the walls, to the right of the burner."""
    jets = burner.jets
    if jets is not None:
        bore = length(jets.diameter * MM, units)
        text = f"{jets.count} jets, {bore}" + (f"\nin {jets.rows} rows" if jets.rows > 1 else "")
        side = jets.direction == "side"
        place = (half, geometry.jet_heights(burner)[0] * MM) if side else (max(geometry.jet_rings(burner)) / 2e-3, top)
        ax.annotate(
            text, place, xytext=(half + 22.0, 0.55 * top), fontsize="x-small", va="center",
            arrowprops={"arrowstyle": "-", "linewidth": 0.6, "color": INK}, bbox=CLEAR, zorder=OVER,
        )  # fmt: skip
    slots = burner.feed_slots
    if slots is not None and burner.gallery_gap is not None:
        inner = geometry.inner_wall_diameter(burner) / 2.0 * MM
        ax.annotate(
            f"{slots.count} slots {length(slots.width * MM, units)} x {length(slots.height * MM, units)}",
            (inner, slots.height * MM / 2.0), xytext=(half + 22.0, 0.1 * top), fontsize="x-small", va="center",
            arrowprops={"arrowstyle": "-", "linewidth": 0.6, "color": INK}, bbox=CLEAR, zorder=OVER,
        )  # fmt: skip
        ax.annotate(
            f"gap {length(burner.gallery_gap * MM, units)}", (inner + burner.gallery_gap * MM / 2.0, 0.72 * top),
            xytext=(half + 22.0, 0.33 * top), fontsize="x-small", va="center",
            arrowprops={"arrowstyle": "-", "linewidth": 0.6, "color": INK}, bbox=CLEAR, zorder=OVER,
        )  # fmt: skip


def _arrow(ax: "Axes", one: tuple[float, float], other: tuple[float, float]) -> None:
    ax.annotate(
        "", one, xytext=other, arrowprops={"arrowstyle": "<->", "linewidth": 0.6, "color": INK, "shrinkA": 0.0,
                                           "shrinkB": 0.0, "mutation_scale": 7.0},
    )  # fmt: skip


def _upright(ax: "Axes", x: float, low: float, high: float, text: str, edge: float) -> None:
    reach = x - 2.0 if x < edge else x + 2.0
    for y in (low, high):
        ax.plot([edge, reach], [y, y], color=PALE, linewidth=0.4, label="_extension")
    _arrow(ax, (x, low), (x, high))
    ax.text(x - 1.2, (low + high) / 2.0, text, fontsize="x-small", rotation=90, ha="right", va="center",
            color=INK, bbox=CLEAR, zorder=OVER)  # fmt: skip


def _level(ax: "Axes", y: float, left: float, right: float, text: str, edge: float) -> None:
    reach = y - 2.0 if y < edge else y + 2.0
    for x in (left, right):
        ax.plot([x, x], [edge, reach], color=PALE, linewidth=0.4, label="_extension")
    _arrow(ax, (left, y), (right, y))
    ax.text((left + right) / 2.0, y + 0.8, text, fontsize="x-small", ha="center", va="bottom", color=INK,
            bbox=CLEAR, zorder=OVER)  # fmt: skip
