"""What was understood of a design, in the units that a person uses."""

from collections.abc import Iterator
from dataclasses import fields
from typing import TYPE_CHECKING

from burnsim.model import geometry
from burnsim.model.fields import SHOWN, shown, spec_of
from burnsim.substances.blend import Blend

if TYPE_CHECKING:
    from _typeshed import DataclassInstance

    from burnsim.model.description import Setup


def understood(setup: "Setup") -> str:
    """Write out every field of a setup, and what follows from the geometry.

    Parameters
    ----------
    setup
        A checked setup.

    Returns
    -------
    str
        Lines of text.
    """
    lines = [f"Design: {setup.name or '(no name)'}", *_lines(setup, ""), "", *_derived(setup)]
    return "\n".join(lines)


def _lines(record: "DataclassInstance", prefix: str) -> Iterator[str]:
    nested: list[tuple[str, DataclassInstance]] = []
    for field in fields(record):
        spec = spec_of(field)
        value = getattr(record, field.name)
        path = f"{prefix}.{field.name}" if prefix else field.name
        if path == "name":
            continue
        if isinstance(value, Blend):
            recipe = f" ({value.recipe})" if value.recipe != value.name else ""
            yield f"  {field.name:<18} {value.name}{recipe}"
        elif spec.part is not None:
            if value is None:
                yield f"  {field.name:<18} none"
            else:
                nested.append((path, value))
        elif value is None:
            yield f"  {field.name:<18} not given"
        elif spec.dimension in SHOWN:
            yield f"  {field.name:<18} {shown(value, spec.dimension, spec.unit)}"
        elif isinstance(value, bool):
            yield f"  {field.name:<18} {'yes' if value else 'no'}"
        else:
            yield f"  {field.name:<18} {value}"
    for path, value in nested:
        yield ""
        yield f"[{path}]"
        yield from _lines(value, path)


def _derived(setup: "Setup") -> Iterator[str]:
    burner = setup.burner
    yield "Follows from the drawing"
    yield f"  holds to the rim   {shown(geometry.capacity(burner), 'volume')}"
    if burner.jets is not None:
        yield f"  holds to the jets  {shown(geometry.capacity_below_jets(burner), 'volume')}"
        yield f"  area of the jets   {geometry.jet_area(burner) * 1e6:.4g} mm2"
        pitch = geometry.jet_pitch(burner)
        if pitch < float("inf"):
            yield f"  pitch of the jets  {shown(pitch, 'length')}"
    if burner.feed_slots is not None:
        yield f"  area of the slots  {geometry.slot_area(burner) * 1e6:.4g} mm2"
    if burner.relief is not None:
        yield f"  area of the relief {geometry.notch_area(burner) * 1e6:.4g} mm2"
    if burner.wick is not None:
        yield f"  wick soaks up      {shown(geometry.wick_capacity(burner), 'volume')}"
    if setup.pot is not None:
        yield f"  pot holds          {shown(geometry.pot_capacity(setup.pot), 'volume')}"
