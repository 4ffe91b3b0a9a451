"""The burner seen from above: walls, jets, notches, and slots at the foot, where the template puts them."""

from math import pi
from typing import TYPE_CHECKING

import numpy as np

from burnsim.model.description import geometry
from burnsim.plots.drawing.dimensions import OUT
from burnsim.plots.style import INK, PALE

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from burnsim.model.description.burner import Burner
    from burnsim.model.description.parts import Jets

MM = 1e3


def draw_from_above(ax: "Axes", burner: "Burner", centre: tuple[float, float], scale: float) -> None:
    """Draw the view about a centre [mm]; angles count anticlockwise from the right, where the template's strips start.

    The scale is millimetres of the burner in one of paper.
    """
    outer, inner = burner.outer_diameter / 2.0 * MM, geometry.inner_wall_diameter(burner) / 2.0 * MM
    walls = [outer, inner] if inner > 0.0 else [outer]
    for radius in walls:
        _arc(ax, centre, radius, 0.0, 2.0 * pi, INK, 1.2, "_wall from above")
    x, y = centre
    for one in ((x - 2.0 * scale, x + 2.0 * scale), (y, y)), ((x, x), (y - 2.0 * scale, y + 2.0 * scale)):
        ax.plot(*one, color=PALE, linewidth=0.5, label="_centre")
    relief, slots, jets = burner.relief, burner.feed_slots, burner.jets
    if relief is not None:
        for k in range(relief.count):
            for radius in walls:
                middle, half = 2.0 * pi * (k + 0.5) / relief.count, relief.width * MM / 2.0 / radius
                _arc(ax, centre, radius, middle - half, middle + half, "white", 2.6, "_notch from above")
    if slots is not None:
        for k in range(slots.count):
            middle, half = 2.0 * pi * (k + 0.5) / slots.count, slots.width * MM / 2.0 / inner
            _arc(ax, centre, inner - 0.8 * scale, middle - half, middle + half, INK, 0.9, "_slot from above",
                 (0, (2, 1)))  # fmt: skip
    if jets is not None:
        _jets(ax, burner, jets, centre, scale)


def _jets(ax: "Axes", burner: "Burner", jets: "Jets", centre: tuple[float, float], scale: float) -> None:
    """Top jets as holes, side jets as short lines through the wall."""
    from matplotlib.patches import Circle

    (x, y), outer = centre, burner.outer_diameter / 2.0 * MM
    each = jets.count // jets.rows
    for row, ring in enumerate(geometry.jet_rings(burner)):
        shift = 0.5 * (row % 2) if jets.direction == "top" else 0.5 if jets.rows == 1 else (0.25, 0.75)[row % 2]
        angles = 2.0 * pi * (np.arange(each) + shift) / each
        if jets.direction == "top":
            for angle in angles:
                spot = (x + ring * MM / 2.0 * np.cos(angle), y + ring * MM / 2.0 * np.sin(angle))
                hole = Circle(spot, jets.diameter * MM / 2.0, facecolor=INK, linewidth=0.0, label="_jet from above")
                ax.add_patch(hole)
        else:
            for angle in angles:
                reach = np.array([outer - 0.8 * scale, outer + OUT * scale])
                ax.plot(x + reach * np.cos(angle), y + reach * np.sin(angle), color=INK, linewidth=0.7,
                        label="_jet from above")  # fmt: skip


def _arc(
    ax: "Axes", centre: tuple[float, float], radius: float, start: float, end: float, colour: str, width: float,
    label: str, style: "str | tuple[int, tuple[int, int]]" = "-",
) -> None:  # fmt: skip
    turn = np.linspace(start, end, max(int(60.0 * (end - start) / pi), 8))
    ax.plot(centre[0] + radius * np.cos(turn), centre[1] + radius * np.sin(turn), color=colour, linewidth=width,
            linestyle=style, label=label, solid_capstyle="butt")  # fmt: skip
