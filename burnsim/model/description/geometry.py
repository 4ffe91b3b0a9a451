"""Lengths, areas and volumes that follow from a burner or a pot on paper.

Heights count from the inside of the floor. A sealed chamber is one compartment, its gallery, over the whole
floor; an open cup is one compartment, its well.
"""

import math
from statistics import fmean

from burnsim.closures.exchange import ring_path
from burnsim.closures.tilt import tilted_annulus_volume
from burnsim.model.description.kinds import Shape
from burnsim.model.description.parts import Jets

ROW_SPACING = 2.0
"""Distance between neighbouring rows of jets, in jet diameters."""


def disc(diameter: float) -> float:
    """Area of a disc [m2] of a diameter [m].

    >>> round(disc(2.0), 6)
    3.141593
    """
    return math.pi / 4.0 * diameter**2


def inner_diameter(burner: Shape) -> float:
    """Inside diameter of the outer wall [m]."""
    return burner.outer_diameter - 2.0 * burner.wall_thickness


def inner_wall_diameter(burner: Shape) -> float:
    """Outside diameter of the inner wall of a double-wall burner [m]; 0 for the other kinds."""
    if not burner.has_inner_wall or burner.gallery_gap is None:
        return 0.0
    return inner_diameter(burner) - 2.0 * burner.gallery_gap


def well_diameter(burner: Shape) -> float:
    """Inside diameter of the well [m]; 0 for a sealed chamber."""
    if burner.has_inner_wall:
        return inner_wall_diameter(burner) - 2.0 * burner.wall_thickness
    return inner_diameter(burner) if burner.has_well else 0.0


def gallery_area(burner: Shape) -> float:
    """Free floor area of the gallery [m2]; 0 for an open cup."""
    if not burner.has_gallery:
        return 0.0
    return disc(inner_diameter(burner)) - disc(inner_wall_diameter(burner))


def well_area(burner: Shape) -> float:
    """Free floor area of the well [m2]; 0 for a sealed chamber."""
    return disc(well_diameter(burner))


def capacity(burner: Shape) -> float:
    """Volume that the burner holds, filled level with its rim [m3]."""
    return (gallery_area(burner) + well_area(burner)) * burner.height


def capacity_below_jets(burner: Shape) -> float:
    """Volume held when filled level with the lowest edge of the jets [m3]; to the rim if there are none."""
    return (gallery_area(burner) + well_area(burner)) * lowest_jet_edge(burner)


def lowest_jet_edge(burner: Shape) -> float:
    """Height of the lowest edge of the jets above the floor [m]; that of the rim for top jets or none."""
    jets = burner.jets
    if jets is None or jets.direction == "top" or jets.height is None:
        return burner.height
    return jets.height - jets.diameter / 2.0


def jet_reach(burner: Shape) -> float:
    """Distance of the outermost edge of the jets from the axis, inside [m]; of the outer wall's if there are none."""
    jets = burner.jets
    if jets is None or jets.direction == "side":
        return 0.5 * inner_diameter(burner)
    return 0.5 * (max(jet_rings(burner)) + jets.diameter)


def gallery_volume(burner: Shape, level: float, tilt: float) -> float:
    """Volume that the gallery holds [m3] up to a level on the axis [m], the burner tilted [rad]."""
    outer, inner = 0.5 * inner_diameter(burner), 0.5 * inner_wall_diameter(burner)
    return tilted_annulus_volume(outer, inner, level, math.tan(tilt), burner.height)


def well_volume(burner: Shape, level: float, tilt: float) -> float:
    """Volume that the well holds [m3] up to a level on the axis [m], the burner tilted [rad]."""
    return tilted_annulus_volume(0.5 * well_diameter(burner), 0.0, level, math.tan(tilt), burner.height)


def spill_level(burner: Shape, tilt: float) -> float:
    """Mean level of the gallery at which its surface reaches the lowest jet edge, on the low side if tilted [m].

    Jets are taken to lie anywhere round their ring, so one of them at the lowest place. Upright, the level is that of
    `lowest_jet_edge`.
    """
    edge = lowest_jet_edge(burner)
    if tilt <= 0.0 or not burner.has_gallery:
        return edge
    on_axis = edge - jet_reach(burner) * math.tan(tilt)
    return gallery_volume(burner, on_axis, tilt) / gallery_area(burner)


def lip_height(burner: Shape) -> float:
    """Height of the lowest place of the well's rim above the floor [m]: that of the notches, if there are any."""
    return burner.height - (burner.relief.depth if burner.relief else 0.0)


def wick_covers_jets(burner: Shape) -> bool:
    """Whether the band round the foot, which stands on the table, reaches up over the lowest of the side jets."""
    jets, wick = burner.jets, burner.wick
    if jets is None or wick is None or jets.direction != "side":
        return False
    return wick.height > lowest_jet_edge(burner) + burner.wall_thickness


def notches_reach_jets(burner: Shape) -> bool:
    """Whether the notches reach down to the lowest edge of side jets, or below: liquid runs out there first."""
    jets = burner.jets
    if jets is None or burner.relief is None or jets.direction != "side":
        return False
    return lip_height(burner) <= lowest_jet_edge(burner)


def overflow_level(burner: Shape, tilt: float) -> float:
    """Mean level of the well at which it runs over its lip, on the low side if tilted [m]."""
    lip = lip_height(burner)
    area = well_area(burner)
    if tilt <= 0.0 or area <= 0.0:
        return lip
    return well_volume(burner, lip - 0.5 * well_diameter(burner) * math.tan(tilt), tilt) / area


def jet_heights(burner: Shape) -> tuple[float, ...]:
    """Height of the centres of each row of jets above the floor [m], lowest first; empty without jets."""
    jets = burner.jets
    if jets is None:
        return ()
    if jets.direction == "top" or jets.height is None:
        return (burner.height,) * jets.rows
    return tuple(jets.height + row * ROW_SPACING * jets.diameter for row in range(jets.rows))


def highest_side_jets(height: float, jets: Jets) -> float:
    """Height of the lowest row of side jets [m] with which the highest just lies below a rim at a height [m]."""
    return height - 0.5 * jets.diameter - (jets.rows - 1) * ROW_SPACING * jets.diameter


def jet_rings(burner: Shape) -> tuple[float, ...]:
    """Diameter of the circle on which each row of jets lies [m], outermost first; empty without jets."""
    jets = burner.jets
    if jets is None:
        return ()
    if jets.direction == "side":
        return (burner.outer_diameter,) * jets.rows
    if jets.ring_diameter is not None:
        outermost = jets.ring_diameter
    elif burner.has_inner_wall and burner.gallery_gap is not None:
        middle = inner_diameter(burner) - burner.gallery_gap
        outermost = middle + (jets.rows - 1) * ROW_SPACING * jets.diameter
    else:
        outermost = 0.75 * burner.outer_diameter
    return tuple(outermost - 2.0 * row * ROW_SPACING * jets.diameter for row in range(jets.rows))


def plate_paths(burner: Shape) -> tuple[float, float]:
    """Way of the jets' heat through the top plate to the outer and to the inner wall, as lengths of those walls [m].

    Jets in the top heat their ring, between the two walls. Those in the side heat the plate's outer edge. A burner
    without a plate, or without an inner wall, has no way there: 0.
    """
    rings = jet_rings(burner)
    if not rings:
        return 0.0, 0.0
    circle, edge = 0.5 * fmean(rings), 0.5 * burner.outer_diameter
    inner = 0.5 * inner_wall_diameter(burner)
    return ring_path(circle, edge), ring_path(circle, inner) if inner > 0.0 else 0.0


def jet_pitch(burner: Shape) -> float:
    """Smallest straight distance between the centres of neighbours in a row [m]; infinite for one jet."""
    jets = burner.jets
    if jets is None or jets.count // jets.rows < 2:
        return math.inf
    return min(jet_rings(burner)) * math.sin(math.pi * jets.rows / jets.count)


def jet_area(burner: Shape) -> float:
    """Area of all jets together [m2]; 0 without jets."""
    return burner.jets.count * disc(burner.jets.diameter) if burner.jets else 0.0


def slot_area(burner: Shape) -> float:
    """Area of all feed slots together [m2]; 0 without slots."""
    slots = burner.feed_slots
    return slots.count * slots.width * slots.height if slots else 0.0


def notch_area(burner: Shape) -> float:
    """Area of all relief notches together [m2]; 0 without notches."""
    relief = burner.relief
    return relief.count * relief.width * relief.depth if relief else 0.0


def wick_capacity(burner: Shape) -> float:
    """Volume of spirit that the primer wick soaks up [m3]; 0 without a wick."""
    wick = burner.wick
    if wick is None:
        return 0.0
    return math.pi * (burner.outer_diameter + wick.thickness) * wick.thickness * wick.height * wick.porosity


def pot_capacity(diameter: float, height: float, wall_thickness: float) -> float:
    """Volume of a pot of given outside measures [m] to its brim [m3]."""
    return disc(diameter - 2.0 * wall_thickness) * (height - wall_thickness)
