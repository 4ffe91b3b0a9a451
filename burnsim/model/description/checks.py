"""Checks across the fields of a burner: what cannot be built is an error.

A burner that merely does not work (never blooms, does not boil, spills at once) is a result, and passes.
"""

import math

from burnsim.errors import InputError
from burnsim.model.description import geometry
from burnsim.model.description.fields import quoted
from burnsim.model.description.kinds import TRAITS, Shape
from burnsim.model.description.parts import FeedSlots, Jets, Notches
from burnsim.units.writing import spelt

LEAST_WELL = 2e-3
"""Narrowest well that counts as one [m]."""


def check_burner(burner: Shape) -> None:
    """Raise `InputError` for a burner that cannot be built."""
    _check_kind(burner)
    _check_walls(burner)
    if burner.jets is not None:
        _check_jets(burner, burner.jets)
    if burner.feed_slots is not None:
        _check_slots(burner, burner.feed_slots)
    if burner.relief is not None:
        _check_relief(burner, burner.relief)
    if burner.wick is not None and burner.wick.height > burner.height:
        problem = f"is taller than the burner; allowed up to {_mm(burner.height)}"
        raise _wrong("wick.height", burner.wick.height, problem, "make the band lower")


def _mm(value: float) -> str:
    return spelt(value, "length")


def _wrong(name: str, length: float, problem: str, remedy: str) -> InputError:
    """The error for a length of a burner."""
    return InputError(f"burner.{name}", quoted(length, "length"), problem, remedy)


def _check_kind(burner: Shape) -> None:
    for name in ("gallery_gap", "jets", "feed_slots", "relief"):
        value, field = getattr(burner, name), f"burner.{name}"
        if value is None and name in TRAITS[burner.kind].needs:
            problem = f"is missing: a {burner.kind} burner needs it"
            raise InputError(field, None, problem, f"give {field}, or use another kind")
        if value is not None and name in TRAITS[burner.kind].refuses:
            shown = quoted(value, "length") if isinstance(value, float) else None
            problem = f"does not belong to a burner of kind {burner.kind!r}; allowed: none"
            raise InputError(field, shown, problem, f"leave {field} out, or use another kind")


def _check_walls(burner: Shape) -> None:
    room = geometry.inner_diameter(burner)
    if burner.gallery_gap is not None:
        widest = (room - 2.0 * burner.wall_thickness - LEAST_WELL) / 2.0
        if burner.gallery_gap > widest:
            problem = f"leaves no room for a well inside the inner wall; allowed up to {_mm(widest)}"
            remedy = "make the gap narrower, the walls thinner or the burner wider"
            raise _wrong("gallery_gap", burner.gallery_gap, problem, remedy)
    elif room < LEAST_WELL:
        problem = f"leaves no room inside; allowed up to {_mm((burner.outer_diameter - LEAST_WELL) / 2.0)}"
        raise _wrong("wall_thickness", burner.wall_thickness, problem, "make the walls thinner or the burner wider")
    if burner.wall_thickness >= burner.height:
        problem = f"is as thick as the burner is high; allowed below {_mm(burner.height)}"
        raise _wrong("wall_thickness", burner.wall_thickness, problem, "make the walls thinner")
    if 2.0 * burner.rim_width > burner.outer_diameter:
        problem = f"is wider than the burner itself; allowed up to {_mm(burner.outer_diameter / 2.0)}"
        raise _wrong("rim_width", burner.rim_width, problem, "give the width of the flat on which a pot rests")


def _check_jets(burner: Shape, jets: Jets) -> None:
    if jets.count % jets.rows:
        problem = f"does not share out evenly over {jets.rows} rows; allowed: multiples of {jets.rows}"
        raise InputError("burner.jets.count", jets.count, problem, "change the count or the rows")
    if jets.direction == "side":
        _check_side_jets(burner, jets)
    else:
        _check_top_jets(burner, jets)
    pitch = geometry.jet_pitch(burner)
    if pitch <= jets.diameter:
        ring = min(geometry.jet_rings(burner))
        ratio = jets.diameter / ring
        most = 1 if ratio >= 1.0 else max(int(math.pi / math.asin(ratio) - 1e-9), 1)
        problem = (
            f"makes jets of {_mm(jets.diameter)} overlap round a ring of {_mm(ring)} "
            f"(centres {_mm(pitch)} apart); allowed up to {most * jets.rows}"
        )
        raise InputError("burner.jets.count", jets.count, problem, "use fewer or narrower jets, or more rows")


def _check_side_jets(burner: Shape, jets: Jets) -> None:
    radius = jets.diameter / 2.0
    if jets.ring_diameter is not None:
        problem = "is for top jets; side jets lie in the outer wall"
        remedy = 'leave it out, or set burner.jets.direction = "top"'
        raise _wrong("jets.ring_diameter", jets.ring_diameter, problem, remedy)
    highest = geometry.highest_side_jets(burner.height, jets)
    span = f"allowed from {_mm(radius)} to {_mm(highest)}"
    if jets.height is None:
        problem = f"is missing: side jets need it; {span}"
        raise InputError("burner.jets.height", None, problem, "give burner.jets.height")
    if jets.height < radius:
        raise _wrong("jets.height", jets.height, f"puts jets below the floor; {span}", "raise the jets")
    if jets.height > highest:
        remedy = "lower the jets or make the burner taller"
        raise _wrong("jets.height", jets.height, f"puts jets above the rim; {span}", remedy)


def _check_top_jets(burner: Shape, jets: Jets) -> None:
    if jets.height is not None and not math.isclose(jets.height, burner.height, rel_tol=1e-6):
        problem = f"is not the height of the burner, where top jets lie; allowed: {_mm(burner.height)}"
        raise _wrong("jets.height", jets.height, problem, "leave the height of top jets out")
    rings = geometry.jet_rings(burner)
    outermost = geometry.inner_diameter(burner) - jets.diameter
    innermost = geometry.inner_wall_diameter(burner) + jets.diameter
    if max(rings) > outermost or min(rings) < innermost:
        least = innermost + 2.0 * (jets.rows - 1) * geometry.ROW_SPACING * jets.diameter
        problem = f"puts jets outside the top of the chamber; allowed from {_mm(least)} to {_mm(outermost)}"
        raise _wrong("jets.ring_diameter", max(rings), problem, "move the ring, or use narrower jets or fewer rows")


def _check_slots(burner: Shape, slots: FeedSlots) -> None:
    if slots.height >= burner.height:
        problem = f"is taller than the inner wall; allowed below {_mm(burner.height)}"
        raise _wrong("feed_slots.height", slots.height, problem, "make the slots lower")
    around = math.pi * geometry.inner_wall_diameter(burner)
    if slots.count * slots.width >= around:
        problem = f"leaves no wall between {slots.count} slots; allowed below {_mm(around / slots.count)}"
        raise _wrong("feed_slots.width", slots.width, problem, "use fewer or narrower slots")


def _check_relief(burner: Shape, relief: Notches) -> None:
    if relief.depth >= burner.height:
        problem = f"is deeper than the burner is high; allowed below {_mm(burner.height)}"
        raise _wrong("relief.depth", relief.depth, problem, "make the notches shallower")
    around = math.pi * burner.outer_diameter
    if relief.count * relief.width >= around:
        problem = f"leaves no rim between {relief.count} notches; allowed below {_mm(around / relief.count)}"
        raise _wrong("relief.width", relief.width, problem, "use fewer or narrower notches")
