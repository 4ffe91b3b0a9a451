"""Checks across the fields of a description: what cannot be built or poured is an error.

A burner that merely does not work (never blooms, does not boil, spills at once) is a result, and passes.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from burnsim.constants import ZERO_CELSIUS
from burnsim.errors import InputError
from burnsim.model.description import geometry
from burnsim.model.description.fields import shown, written
from burnsim.model.description.kinds import TRAITS
from burnsim.substances.air import pressure_at_altitude
from burnsim.substances.water import boiling_point

if TYPE_CHECKING:
    from burnsim.model.description.burner import Burner, FeedSlots, Jets, Notches
    from burnsim.model.description.setup import Pot, Setup


LEAST_WELL = 2e-3
"""Narrowest well that counts as one [m]."""


def check_burner(burner: Burner) -> None:
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
            "burner.wick.height",
            written(burner.wick.height, "length"),
            f"is taller than the burner; allowed up to {_mm(burner.height)}",
            "make the band lower",
        )


def check_pot(pot: Pot) -> None:
    """Raise `InputError` for a pot smaller than its own wall, or for more water than it holds."""
    if 2.0 * pot.wall_thickness >= pot.diameter or pot.wall_thickness >= pot.height:
        least = min(pot.diameter / 2.0, pot.height)
        raise InputError(
            "pot.wall_thickness",
            written(pot.wall_thickness, "length"),
            f"leaves no room inside the pot; allowed below {_mm(least)}",
            "make the wall thinner or the pot larger",
        )
    brim = geometry.pot_capacity(pot)
    if pot.water > brim:
        raise InputError(
            "pot.water",
            written(pot.water, "volume"),
            f"is more than the pot holds; allowed up to {shown(brim, 'volume')}",
            "use less water or a larger pot",
        )


def check_setup(setup: Setup) -> None:
    """Raise `InputError` where burner, charge, pot and site do not go together."""
    _check_charge(setup)
    if setup.pot is not None:
        _check_water(setup.pot, setup)
        _check_rest(setup.pot, setup.burner)


def _mm(value: float) -> str:
    return shown(value, "length")


def _check_kind(burner: Burner) -> None:
    for name in ("gallery_gap", "jets", "feed_slots", "relief"):
        value = getattr(burner, name)
        field = f"burner.{name}"
        if value is None and name in TRAITS[burner.kind].needs:
            raise InputError(
                field,
                None,
                f"is missing: a {burner.kind} burner needs it",
                f"give {field}, or use another kind",
            )
        if value is not None and name in TRAITS[burner.kind].refuses:
            raise InputError(
                field,
                written(value, "length") if isinstance(value, float) else value,
                f"does not belong to a burner of kind {burner.kind!r}; allowed: none",
                f"leave {field} out, or use another kind",
            )


def _check_walls(burner: Burner) -> None:
    room = geometry.inner_diameter(burner)
    if burner.gallery_gap is not None:
        widest = (room - 2.0 * burner.wall_thickness - LEAST_WELL) / 2.0
        if burner.gallery_gap > widest:
            raise InputError(
                "burner.gallery_gap",
                written(burner.gallery_gap, "length"),
                f"leaves no room for a well inside the inner wall; allowed up to {_mm(widest)}",
                "make the gap narrower, the walls thinner or the burner wider",
            )
    elif room < LEAST_WELL:
        raise InputError(
            "burner.wall_thickness",
            written(burner.wall_thickness, "length"),
            f"leaves no room inside; allowed up to {_mm((burner.outer_diameter - LEAST_WELL) / 2.0)}",
            "make the walls thinner or the burner wider",
        )
    if burner.wall_thickness >= burner.height:
        raise InputError(
            "burner.wall_thickness",
            written(burner.wall_thickness, "length"),
            f"is as thick as the burner is high; allowed below {_mm(burner.height)}",
            "make the walls thinner",
        )
    if 2.0 * burner.rim_width > burner.outer_diameter:
        raise InputError(
            "burner.rim_width",
            written(burner.rim_width, "length"),
            f"is wider than the burner itself; allowed up to {_mm(burner.outer_diameter / 2.0)}",
            "give the width of the flat on which a pot rests",
        )


def _check_jets(burner: Burner, jets: Jets) -> None:
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


def _check_side_jets(burner: Burner, jets: Jets) -> None:
    radius = jets.diameter / 2.0
    if jets.ring_diameter is not None:
        raise InputError(
            "burner.jets.ring_diameter",
            written(jets.ring_diameter, "length"),
            "is for top jets; side jets lie in the outer wall",
            'leave it out, or set burner.jets.direction = "top"',
        )
    highest = burner.height - radius - (jets.rows - 1) * geometry.ROW_SPACING * jets.diameter
    span = f"allowed from {_mm(radius)} to {_mm(highest)}"
    if jets.height is None:
        raise InputError(
            "burner.jets.height", None, f"is missing: side jets need it; {span}", "give burner.jets.height"
        )
    if jets.height < radius:
        raise InputError(
            "burner.jets.height", written(jets.height, "length"), f"puts jets below the floor; {span}", "raise the jets"
        )
    if jets.height > highest:
        raise InputError(
            "burner.jets.height",
            written(jets.height, "length"),
            f"puts jets above the rim; {span}",
            "lower the jets or make the burner taller",
        )


def _check_top_jets(burner: Burner, jets: Jets) -> None:
    if jets.height is not None and not math.isclose(jets.height, burner.height, rel_tol=1e-6):
        raise InputError(
            "burner.jets.height",
            written(jets.height, "length"),
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
            written(max(rings), "length"),
            f"puts jets outside the top of the chamber; allowed from {_mm(innermost + inward)} to {_mm(outermost)}",
            "move the ring, or use narrower jets or fewer rows",
        )


def _check_slots(burner: Burner, slots: FeedSlots) -> None:
    if slots.height >= burner.height:
        raise InputError(
            "burner.feed_slots.height",
            written(slots.height, "length"),
            f"is taller than the inner wall; allowed below {_mm(burner.height)}",
            "make the slots lower",
        )
    around = math.pi * geometry.inner_wall_diameter(burner)
    if slots.count * slots.width >= around:
        raise InputError(
            "burner.feed_slots.width",
            written(slots.width, "length"),
            f"leaves no wall between {slots.count} slots; allowed below {_mm(around / slots.count)}",
            "use fewer or narrower slots",
        )


def _check_relief(burner: Burner, relief: Notches) -> None:
    if relief.depth >= burner.height:
        raise InputError(
            "burner.relief.depth",
            written(relief.depth, "length"),
            f"is deeper than the burner is high; allowed below {_mm(burner.height)}",
            "make the notches shallower",
        )
    around = math.pi * burner.outer_diameter
    if relief.count * relief.width >= around:
        raise InputError(
            "burner.relief.width",
            written(relief.width, "length"),
            f"leaves no rim between {relief.count} notches; allowed below {_mm(around / relief.count)}",
            "use fewer or narrower notches",
        )


def _check_charge(setup: Setup) -> None:
    holds = geometry.capacity(setup.burner)
    if setup.charge.volume > holds:
        raise InputError(
            "charge.volume",
            written(setup.charge.volume, "volume"),
            f"is more than the burner holds; allowed up to {shown(holds, 'volume')}",
            "load less fuel or draw a larger burner",
        )
    if setup.charge.primer > 0.0 and setup.burner.wick is None:
        raise InputError(
            "charge.primer",
            written(setup.charge.primer, "volume"),
            "has no wick to go on; allowed without a wick: 0 ml",
            "describe burner.wick, or leave the primer out",
        )


def _check_water(pot: Pot, setup: Setup) -> None:
    boils = boiling_point(pressure_at_altitude(setup.site.altitude))
    given = pot.water_temperature is not None
    start = pot.water_temperature if pot.water_temperature is not None else setup.site.air_temperature
    if ZERO_CELSIUS <= start <= boils:
        return
    what = "is below freezing" if start < ZERO_CELSIUS else "is above the boiling point at the site"
    raise InputError(
        "pot.water_temperature",
        written(start, "temperature"),
        f"{what}; allowed from 0 degC to {shown(boils, 'temperature')}",
        "give liquid water" if given else "it was taken from the air: give pot.water_temperature",
    )


def _check_rest(pot: Pot, burner: Burner) -> None:
    if pot.rest == "stand":
        return
    well = geometry.well_diameter(burner)
    if pot.diameter <= well:
        raise InputError(
            "pot.diameter",
            written(pot.diameter, "length"),
            f"would drop into the well; allowed above {_mm(well)}",
            'use a wider pot, or pot.rest = "stand"',
        )
    if pot.rest == "full ring" and burner.jets is not None and burner.jets.direction == "top":
        raise InputError(
            "pot.rest",
            pot.rest,
            "closes the top jets, which lie under the pot; allowed with top jets: 'bumps', 'stand'",
            'use pot.rest = "bumps" or "stand", or side jets',
        )
