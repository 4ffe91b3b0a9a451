"""What was understood of a design, in the units that a person uses."""

from collections.abc import Iterator, Mapping
from dataclasses import fields
from typing import TYPE_CHECKING

from burnsim.model.description import geometry
from burnsim.model.description.fields import Spec, spec_of
from burnsim.model.description.setup import Setup
from burnsim.report.fields import DRILLED, LEFT_OUT
from burnsim.substances.blend import Blend
from burnsim.units import DIMENSIONS
from burnsim.units.drills import drill_name, ruled
from burnsim.units.writing import shown

if TYPE_CHECKING:
    from _typeshed import DataclassInstance


RUNS_OFF = 1.05  # times what the wick soaks up, above which some of the primer runs off


def understood(setup: Setup, units: str = "si") -> str:
    """Write out every field of a setup, and what follows from the geometry."""
    idle = _idle(setup)
    lines = [f"Design: {setup.name or '(no name)'}", *_lines(setup, "", units, idle), "", *_derived(setup, units)]
    return "\n".join(lines)


def _idle(setup: Setup) -> dict[str, str]:
    """What stands for a field that counts for nothing in this setup, by its path."""
    if setup.pot is None or setup.pot.rest == "bumps":
        return {}
    idle = {
        "pot.bumps": f"not used: the pot stands on {'the whole rim' if setup.pot.rest == 'full ring' else 'a stand'}"
    }
    if setup.pot.rest == "full ring":
        idle["pot.gap"] = "not used: the pot stands flat on the rim"
    return idle


def _lines(record: "DataclassInstance", prefix: str, units: str, idle: Mapping[str, str]) -> Iterator[str]:
    nested: list[tuple[str, DataclassInstance]] = []
    for field in fields(record):
        spec = spec_of(field)
        value = getattr(record, field.name)
        path = f"{prefix}.{field.name}" if prefix else field.name
        if spec.part is not None and value is not None and not isinstance(value, Blend):
            nested.append((path, value))
        elif path != "name":
            said = LEFT_OUT.get(path, "not given") if value is None and spec.part is None else _said(value, spec, units)
            if path == DRILLED and (drill := drill_name(value)):
                said += f", a {drill} drill"
            yield f"  {field.name:<18} {idle.get(path, said)}"
    for path, value in nested:
        yield ""
        yield f"[{path}]"
        yield from _lines(value, path, units, idle)


def _said(value: object, spec: Spec, units: str) -> str:
    if isinstance(value, Blend):
        return value.name if value.recipe == value.name else f"{value.name} ({value.recipe})"
    if value is None:
        return "none"
    if isinstance(value, float) and spec.dimension in DIMENSIONS:
        return _shown(value, spec.dimension, units)
    return str({True: "yes", False: "no"}[value] if isinstance(value, bool) else value)


def _derived(setup: Setup, units: str) -> Iterator[str]:
    burner = setup.burner
    yield "Follows from the drawing"
    found = [("holds to the rim", geometry.capacity(burner), "volume")]
    if burner.jets is not None:
        found.append(("holds to the jets", geometry.capacity_below_jets(burner), "volume"))
        found.append(("area of the jets", geometry.jet_area(burner), "area"))
        pitch = geometry.jet_pitch(burner)
        if pitch < float("inf"):
            found.append(("pitch of the jets", pitch, "length"))
    if burner.feed_slots is not None:
        found.append(("area of the slots", geometry.slot_area(burner), "area"))
    if burner.relief is not None:
        found.append(("area of the relief", geometry.notch_area(burner), "area"))
    if burner.wick is not None:
        found.append(("wick soaks up", geometry.wick_capacity(burner), "volume"))
    if setup.pot is not None:
        holds = geometry.pot_capacity(setup.pot.diameter, setup.pot.height, setup.pot.wall_thickness)
        found.append(("pot holds", holds, "volume"))
    for what, value, dimension in found:
        yield f"  {what:<18} {_shown(value, dimension, units)}"
    if burner.wick is not None and setup.charge.primer > RUNS_OFF * geometry.wick_capacity(burner):
        yield "  too much primer    the wick does not hold it: what is above runs off and burns round the foot"
    if geometry.wick_covers_jets(burner):
        yield "  wick too high      the band lies over the jets and closes them: make it lower, or the jets higher"
    if setup.pot is not None and setup.pot.rest == "bumps" and setup.pot.too_tall_for_bumps:
        yield "  bumps too tall     a rim is hardly raised by so much: lower the gap, or stand the pot on a stand"
    if geometry.notches_reach_jets(burner):
        yield "  notches too deep   they reach down to the jets: liquid runs out there first, and they meet the holes"
    if burner.jets is not None and setup.charge.volume > geometry.capacity_below_jets(burner):
        yield "  too much fuel      the charge reaches the jets: what is above them runs out before the match"


def _shown(value: float, dimension: str, units: str) -> str:
    if units == "us" and dimension == "length":
        return ruled(value, 4)
    return shown(value, dimension, units, 5 if units == "si" else 4)
