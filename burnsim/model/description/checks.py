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
        raise InputError(
            "burner.wick.height", quoted(burner.wick.height, "length"),
            f"is taller than the burner; allowed up to {_mm(burner.height)}", "make the band lower",
        )  # fmt: skip


def _mm(value: float) -> str:
    return spelt(value, "length")


def _check_kind(burner: Shape) -> None:
    for name in ("gallery_gap", "jets", "feed_slots", "relief"):
        value = getattr(burner, name)
        field = f"burner.{name}"
        if value is None and name in TRAITS[burner.kind].needs:
            raise InputError(
                field, None, f"is missing: a {burner.kind} burner needs it", f"give {field}, or use another kind",
            )  # fmt: skip
        if value is not None and name in TRAITS[burner.kind].refuses:
            raise InputError(
                field,
                quoted(value, "length") if isinstance(value, float) else None,
                f"does not belong to a burner of kind {burner.kind!r}; allowed: none",
                f"leave {field} out, or use another kind",
            )


def _check_walls(burner: Shape) -> None:
    room = geometry.inner_diameter(burner)
    if burner.gallery_gap is not None:
        widest = (room - 2.0 * burner.wall_thickness - LEAST_WELL) / 2.0
        if burner.gallery_gap > widest:
            raise InputError(
                "burner.gallery_gap",
                quoted(burner.gallery_gap, "length"),
                f"leaves no room for a well inside the inner wall; allowed up to {_mm(widest)}",
                "make the gap narrower, the walls thinner or the burner wider",
            )
    elif room < LEAST_WELL:
        raise InputError(
            "burner.wall_thickness",
            quoted(burner.wall_thickness, "length"),
            f"leaves no room inside; allowed up to {_mm((burner.outer_diameter - LEAST_WELL) / 2.0)}",
            "make the walls thinner or the burner wider",
        )
    if burner.wall_thickness >= burner.height:
        raise InputError(
            "burner.wall_thickness", quoted(burner.wall_thickness, "length"),
            f"is as thick as the burner is high; allowed below {_mm(burner.height)}", "make the walls thinner",
        )  # fmt: skip
    if 2.0 * burner.rim_width > burner.outer_diameter:
        raise InputError(
            "burner.rim_width",
            quoted(burner.rim_width, "length"),
            f"is wider than the burner itself; allowed up to {_mm(burner.outer_diameter / 2.0)}",
            "give the width of the flat on which a pot rests",
        )


def _check_jets(burner: Shape, jets: Jets) -> None:
    if jets.count % jets.rows:
        raise InputError(
            "burner.jets.count",
            jets.count,
            f"does not share out evenly over {jets.rows} rows; allowed: multiples of {jets.rows}",
            "change the count or the rows",
        )
    if jets.direction == "side":
        _check_side_jets(burner, jets)
    else:
        _check_top_jets(burner, jets)
    pitch = geometry.jet_pitch(burner)
    if pitch <= jets.diameter:
        ring = min(geometry.jet_rings(burner))
        ratio = jets.diameter / ring
        most = 1 if ratio >= 1.0 else max(int(math.pi / math.asin(ratio) - 1e-9), 1)
        raise InputError(
            "burner.jets.count",
            jets.count,
            f"makes jets of {_mm(jets.diameter)} overlap round a ring of {_mm(ring)} "
            f"(centres {_mm(pitch)} apart); allowed up to {most * jets.rows}",
            "use fewer or narrower jets, or more rows",
        )


def _check_side_jets(burner: Shape, jets: Jets) -> None:
    radius = jets.diameter / 2.0
    if jets.ring_diameter is not None:
        raise InputError(
            "burner.jets.ring_diameter", quoted(jets.ring_diameter, "length"),
            "is for top jets; side jets lie in the outer wall", 'leave it out, or set burner.jets.direction = "top"',
        )  # fmt: skip
    highest = burner.height - radius - (jets.rows - 1) * geometry.ROW_SPACING * jets.diameter
    span = f"allowed from {_mm(radius)} to {_mm(highest)}"
    if jets.height is None:
        raise InputError(
            "burner.jets.height", None, f"is missing: side jets need it; {span}", "give burner.jets.height"
        )
    if jets.height < radius:
        raise InputError(
            "burner.jets.height", quoted(jets.height, "length"), f"puts jets below the floor; {span}", "raise the jets"
        )
    if jets.height > highest:
        raise InputError(
            "burner.jets.height", quoted(jets.height, "length"), f"puts jets above the rim; {span}",
            "lower the jets or make the burner taller",
        )  # fmt: skip


def _check_top_jets(burner: Shape, jets: Jets) -> None:
    if jets.height is not None and not math.isclose(jets.height, burner.height, rel_tol=1e-6):
        raise InputError(
            "burner.jets.height",
            quoted(jets.height, "length"),
            f"is not the height of the burner, where top jets lie; allowed: {_mm(burner.height)}",
            "leave the height of top jets out",
        )
    rings = geometry.jet_rings(burner)
    outermost = geometry.inner_diameter(burner) - jets.diameter
    innermost = geometry.inner_wall_diameter(burner) + jets.diameter
    if max(rings) > outermost or min(rings) < innermost:
        inward = 2.0 * (jets.rows - 1) * geometry.ROW_SPACING * jets.diameter
        raise InputError(
            "burner.jets.ring_diameter",
            quoted(max(rings), "length"),
            f"puts jets outside the top of the chamber; allowed from {_mm(innermost + inward)} to {_mm(outermost)}",
            "move the ring, or use narrower jets or fewer rows",
        )


def _check_slots(burner: Shape, slots: FeedSlots) -> None:
    if slots.height >= burner.height:
        raise InputError(
            "burner.feed_slots.height", quoted(slots.height, "length"),
            f"is taller than the inner wall; allowed below {_mm(burner.height)}", "make the slots lower",
        )  # fmt: skip
    around = math.pi * geometry.inner_wall_diameter(burner)
    if slots.count * slots.width >= around:
        raise InputError(
            "burner.feed_slots.width",
            quoted(slots.width, "length"),
            f"leaves no wall between {slots.count} slots; allowed below {_mm(around / slots.count)}",
            "use fewer or narrower slots",
        )


def _check_relief(burner: Shape, relief: Notches) -> None:
    if relief.depth >= burner.height:
        raise InputError(
            "burner.relief.depth", quoted(relief.depth, "length"),
            f"is deeper than the burner is high; allowed below {_mm(burner.height)}", "make the notches shallower",
        )  # fmt: skip
    around = math.pi * burner.outer_diameter
    if relief.count * relief.width >= around:
        raise InputError(
            "burner.relief.width",
            quoted(relief.width, "length"),
            f"leaves no rim between {relief.count} notches; allowed below {_mm(around / relief.count)}",
            "use fewer or narrower notches",
        )
