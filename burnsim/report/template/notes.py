"""The words of a template: what to know at the bench about what is drawn, and about nothing else."""

from collections.abc import Iterator

from burnsim.model.description.setup import Setup
from burnsim.report.template.holes import mm, spacing
from burnsim.units.drills import drill_advice, inches


def heading(setup: Setup) -> str:
    """Name of the design and of the paper."""
    return f"{setup.name or 'burner'}: {'drilling' if setup.burner.jets is not None else 'cutting'} template"


def notes(setup: Setup) -> Iterator[str]:
    """What to know at the bench about a design, a sentence or two a line."""
    burner, pot = setup.burner, setup.pot
    jets, slots, relief = burner.jets, burner.feed_slots, burner.relief
    yield (
        f"{burner.kind}, {burner.metal}: Ø {mm(burner.outer_diameter)} ({inches(burner.outer_diameter)}) outside, "
        f"{mm(burner.height)} ({inches(burner.height)}) floor to rim, walls {mm(burner.wall_thickness)}."
    )
    if jets is not None:
        rows = f" in {jets.rows} rows" if jets.rows > 1 else ""
        several = "jet" if jets.count == 1 else "jets"
        yield f"{jets.count} {jets.direction} {several}{rows}, Ø {mm(jets.diameter)}: {drill_advice(jets.diameter)}."
        yield from (f"{line}." for line in spacing(burner))
    if slots is not None:
        size = f"{mm(slots.width)} wide, {mm(slots.height)} high"
        yield f"{slots.count} feed slots at the foot of the inner wall, {size}."
    if relief is not None:
        yield f"{relief.count} notches at the rim, {mm(relief.width)} wide, {mm(relief.depth)} deep."
    if not burner.has_well:
        yield "Filler hole in the middle of the lid: drill it to fit your plug."
    if burner.wick is not None:
        yield "Primer wick: cut the absorbent to the size of its piece."
    if pot is not None and pot.rest == "bumps":
        yield f"{pot.bumps} bumps of {mm(pot.above_rim)} on the rim for the pot, at the hooks of the outer strip."
    told = (
        "Wrap a strip round its wall printed side out and rim up, its lower edge on the table, the tab under its start."
    )
    if burner.has_inner_wall:
        meet = ", so that the notches meet" if relief is not None else ""
        told += f" Mark on each wall where its strip starts and align both start lines{meet}."
    yield told
    if jets is not None:
        yield "Prick each numbered cross, then drill. File burrs: a burr narrows a hole."
    elif relief is not None:
        yield "Cut the wall along the upper edge and the notches. File burrs."
    else:
        yield "Cut the wall along the upper edge. File burrs."
    yield f"Heights on the outer wall count from the table: the floor's {mm(burner.wall_thickness)} are in them."
