"""Outlines of flames in a cross-section: where the model puts them, in millimetres."""

from math import pi
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from numpy.typing import NDArray

from burnsim.closures.flame import pool_flame_height, wall_flame_height
from burnsim.model.description import geometry

if TYPE_CHECKING:
    from burnsim.model.balances.flows import Flows
    from burnsim.solve import Burn

Path = NDArray[np.float64]  # corners, shape (n, 2) [mm]
MM = 1e3
POINTS = 60
SLENDER = 0.22  # width of a drawn jet flame over its length; the drawing's, not the model's
FILM = 2.0  # thickness at which a flame is drawn along a wall or a pot [mm]
MIRROR = np.array([-1.0, 1.0])  # turns corners on one side of the axis into those on the other


class Outline(NamedTuple):
    """One flame: a closed outline, and which it is."""

    what: str  # "jet", "wick" or "well"
    corners: Path


class Roof(NamedTuple):
    """The pot's bottom above a flame."""

    height: float  # [mm]
    radius: float  # [mm]


def flame_outlines(burn: "Burn", time: float, roof: Roof | None) -> tuple[Outline, ...]:
    """Outlines of the flames that stand at an instant, on both sides of the axis.

    Length and sideways reach of the jets' flames, heights of the wick's and the well's are the model's; their width is
    the drawing's. A flame that meets the pot, of which the roof is the bottom, turns outward along it and up its wall.
    """
    flows = burn.flows(time)
    burner = burn.setup.burner
    found: list[Outline] = []
    if flows.regime.wick > 0.0 and flows.fire.wick_power > 0.0 and burner.wick is not None:
        height = flows.wick.tip * MM
        foot, x = 0.5 * burner.wick.height * MM, (burner.outer_diameter / 2.0 + burner.wick.thickness / 2.0) * MM
        spine = bent_spine(np.array([[x, foot], [x + 0.5, foot + height]]), height, roof)
        found += _both_sides("wick", ribbon(spine, burner.wick.thickness * MM + FILM))
    if flows.regime.jets > 0.0 and burner.jets is not None:
        for spine in jet_spines(burn, flows, roof):
            found += _both_sides("jet", ribbon(spine, SLENDER * flows.fire.flame_length * MM))
    if flows.fire.vent_power > 1.0:
        found += well_flame(burn, flows, roof)
    return tuple(found)


def jet_spines(burn: "Burn", flows: "Flows", roof: Roof | None) -> list[Path]:
    """Middle lines of the right-hand jets' flames, one a row."""
    burner = burn.setup.burner
    jets = burner.jets
    if jets is None:
        return []
    length, reach = flows.fire.flame_length * MM, flows.fire.flame_reach * MM
    spines = []
    for height, ring in zip(geometry.jet_heights(burner), geometry.jet_rings(burner), strict=True):
        x, y = ring / 2.0 * MM, height * MM
        if jets.direction == "top":
            free = np.array([[x, y], [x, y + length]])
        else:
            rise = max(length**2 - reach**2, 0.0) ** 0.5
            across = np.linspace(0.0, 1.0, POINTS)
            free = np.column_stack((x + reach * across, y + rise * across**2))  # the parcel's parabola
        spines.append(bent_spine(free, length, roof))
    return spines


def bent_spine(free: Path, length: float, roof: Roof | None) -> Path:
    """A flame's middle line: as it would be, or turned outward under a pot and up its wall, with the same length."""
    ceiling = np.inf if roof is None else roof.height - FILM / 2.0
    if roof is None or free[-1, 1] <= ceiling:
        return free
    fine = np.array([np.interp(np.linspace(0.0, 1.0, POINTS), np.linspace(0.0, 1.0, len(free)), c) for c in free.T]).T
    below = fine[fine[:, 1] <= ceiling]
    if not len(below) or below[-1, 0] >= roof.radius:
        return free
    start = below[-1]
    left = max(length - float(np.hypot(*np.diff(below, axis=0).T).sum()), 0.0)
    edge = roof.radius + FILM / 2.0
    along = min(left, edge - start[0])
    corners = [*below, np.array([start[0] + along, ceiling])]
    if left > along:
        corners.append(np.array([edge, ceiling + left - along]))
    return np.array(corners)


def ribbon(spine: Path, width: float) -> Path:
    """A pointed leaf about a middle line, widest at a third of its length."""
    steps = np.hypot(*np.diff(spine, axis=0).T)
    along = np.concatenate(([0.0], np.cumsum(steps)))
    total = max(float(along[-1]), 1e-9)
    at = np.linspace(0.0, total, POINTS)
    x, y = np.interp(at, along, spine[:, 0]), np.interp(at, along, spine[:, 1])
    slope = np.column_stack((np.gradient(x), np.gradient(y)))
    size = np.maximum(np.hypot(slope[:, 0], slope[:, 1]), 1e-12)
    share = at / total
    half = 0.5 * min(width, total) * (share**0.5) * (1.0 - share) * 2.598  # its greatest is 1, at a third
    right = np.column_stack((x - slope[:, 1] / size * half, y + slope[:, 0] / size * half))
    left = np.column_stack((x + slope[:, 1] / size * half, y - slope[:, 0] / size * half))
    return np.vstack((right, left[::-1]))


def well_flame(burn: "Burn", flows: "Flows", roof: Roof | None) -> list[Outline]:
    """The flame over an open well, or the flames at its notches under a pot."""
    burner = burn.setup.burner
    radius = geometry.well_diameter(burner) / 2.0 * MM
    rim = burner.height * MM
    if burn.parameters.vent.open <= 0.0 or (roof is not None and roof.height - rim < FILM):
        x = burner.outer_diameter / 2.0 * MM
        length = wall_flame_height(flows.fire.vent_power / (pi * burner.outer_diameter)) * MM
        y = rim if roof is None else min(rim, roof.height - FILM / 2.0)
        return _both_sides("well", ribbon(bent_spine(np.array([[x, y], [x, y + length]]), length, roof), FILM))
    height = pool_flame_height(flows.fire.vent_power, 2.0 * radius / MM) * MM
    up = np.linspace(0.0, 1.0, POINTS)
    side = radius * (1.0 - up**1.5)
    if roof is not None and rim + height > roof.height:
        room = roof.height - rim
        spread = min(0.4 * radius + height - room, max(roof.radius, radius))  # drawn to the pot's edge at most
        side = radius * (1.0 - 0.6 * up) + (spread - 0.4 * radius) * up**6
        height = room
    right = np.column_stack((side, rim + height * up))
    return [Outline("well", np.vstack((right, right[::-1] * MIRROR)))]


def _both_sides(what: str, right: Path) -> list[Outline]:
    return [Outline(what, right), Outline(what, right * MIRROR)]
