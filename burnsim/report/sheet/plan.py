"""The content of a plan: what to cut, drill and file, in which order, with which tools; all figures are the design's.

Advice on workmanship is common practice, no source.
"""

import os
from collections.abc import Iterator
from math import pi

from burnsim import plots
from burnsim.model.description import geometry
from burnsim.model.description.burner import Burner
from burnsim.model.description.files import Design, as_setup
from burnsim.model.description.setup import Setup
from burnsim.model.description.vary import vary
from burnsim.report.cautions import cautions, is_glass
from burnsim.report.fields import on_wick
from burnsim.report.fill import at_most
from burnsim.report.paper import PAGES, whereto
from burnsim.report.sheet.blocks import Block, Bullets, Heading, Pair, Picture, Sheet, Table, Words
from burnsim.report.sheet.write import save_pages
from burnsim.report.template.holes import spacing
from burnsim.studies.fill.limit import at_rest
from burnsim.units import written
from burnsim.units.drills import drill_advice, sized

WORKSHOP = (
    "Cut sheet is sharp and swarf flies: wear gloves and goggles, clamp the work, file every edge.",
    "Use bare metal: zinc, paint, print and plastic linings give off poisonous fumes when they are heated.",
    "Nothing may be glued or soft-soldered near the flames: joints get hotter than glue or solder can bear.",
)
GLASSWORK = "Glass is not pricked, snipped or filed: have it cut, drilled and ground wet, with diamond tools."
"""Cautions of the workshop; common practice, no source."""
FIRST = 0.25  # share of the charge for a first burn, which is to show leaks; common practice, no source


def save_plan(setup: Design, path: str | os.PathLike[str], *, units: str = "si", paper: str = "a4") -> None:
    """Write a page to build a design from: drawing, cut list, heights, holes, tools, order of work and cautions.

    Parameters
    ----------
    setup : the design
    path : where to; ends in .pdf or .html (one file that holds everything)
    units : "si" or "us"
    paper : "a4" or "letter", for PDF

    Raises
    ------
    InputError
        For another ending, paper or system of units.
    """
    setup = as_setup(setup)
    target, size = whereto(path, PAGES, paper)
    save_pages(make_plan(setup, units), target, size)


def make_plan(setup: Setup, units: str = "si") -> Sheet:
    """Put a plan together."""
    burner = setup.burner
    alone = vary(setup, {"pot": None})
    drawing = Picture(
        "section", f"Cross-section of {setup.name or 'the burner'} to scale, with its measures",
        lambda ax: plots.section(alone, ax, dimensions=True, units=units), 7.2, 3.1, (3.4, 3.6),
    )  # fmt: skip
    cuts = Heading("Cut list"), Table(("piece", "size", "from"), tuple(_pieces(burner, units)), (0.9, 1.9, 1.3))
    levels = Table(("", "from the table", "inside"), tuple(_heights(burner, units)), (1.3, 1.0, 0.8))
    work = Heading("Order of work"), Bullets(tuple(_steps(setup, units)), numbered=True)
    tools = Heading("Tools"), Bullets(tuple(_tools(burner, units)))
    care = Bullets((*WORKSHOP, *([GLASSWORK] if is_glass(burner.metal) else []), *cautions([setup])))
    blocks: tuple[Block, ...] = (
        drawing,
        Pair(cuts, (Heading("Heights"), levels), 0.62),
        *_holes(burner, units),
        Pair((*work, *tools), (Heading("Cautions"), care)),
        Words(
            "All figures are those of the design file, which was not burnt for this page: read what burnsim burn warns "
            "of before you build, and what burnsim fill allows before you pour the whole charge. Measure walls and "
            "holes as built and put them into it before you trust a prediction.",
            small=True,
        ),
    )
    name = setup.name or "burner"
    subtitle = f"{burner.kind}, {burner.metal}, walls {sized(burner.wall_thickness, units)}"
    return Sheet(f"{name}: plan", subtitle, blocks, "no permission, local codes come first")


def _across(value: float, units: str) -> str:
    return f"Ø\N{NO-BREAK SPACE}{sized(value, units)}"


def _pieces(burner: Burner, units: str) -> Iterator[tuple[str, str, str]]:
    """Each piece, its size and what it is cut from."""
    thick = burner.wall_thickness
    metal = f"{burner.metal}, {sized(thick, units)}"
    outer, inner = _across(burner.outer_diameter, units), geometry.inner_wall_diameter(burner)
    yield "cup", f"{outer} × {sized(burner.height + thick, units)} high", f"a cup of {metal}"
    if burner.has_inner_wall:
        flat = f"flat {sized(pi * (inner - thick), units)} and the lap"
        size = f"{_across(inner, units)} × {sized(burner.height, units)}; {flat}"
        yield "inner wall", size, f"a cup or sheet of {metal}"
    if not burner.has_well:
        yield "lid", outer, f"sheet of {metal}"
    elif burner.has_inner_wall:
        what = "lid" if burner.jets and burner.jets.direction == "top" else "cover"
        size = f"ring {outer}, opening {_across(geometry.well_diameter(burner), units)}"
        yield f"{what} of the gallery", size, f"sheet of {metal}, or the rims of both cups"
    wick = burner.wick
    if wick is not None:
        around = pi * (burner.outer_diameter + wick.thickness)
        size = f"{sized(around, units)} × {sized(wick.height, units)}"
        yield "primer wick", size, f"absorbent, {sized(wick.thickness, units)} thick"


def _heights(burner: Burner, units: str) -> Iterator[tuple[str, str, str]]:
    """Heights from the table outside and from the floor inside, the highest first."""
    floor = burner.wall_thickness
    rows = [("rim", burner.height)]
    if burner.relief is not None:
        rows.append(("foot of notches", burner.height - burner.relief.depth))
    if burner.jets is not None and burner.jets.direction == "side":
        heights = geometry.jet_heights(burner)
        rows += [("jets" + (f", row {k}" if len(heights) > 1 else ""), one) for k, one in enumerate(heights, 1)]
    if burner.feed_slots is not None:
        rows.append(("top of slots", burner.feed_slots.height))
    if burner.wick is not None:
        rows.append(("top of the wick", burner.wick.height - floor))
    for what, height in sorted(rows, key=lambda row: -row[1]):
        yield what, sized(height + floor, units), "" if "wick" in what else sized(height, units)


def _holes(burner: Burner, units: str) -> Iterator[Block]:
    """Holes, slots and notches with their number, size, tool and place."""
    jets, slots, relief = burner.jets, burner.feed_slots, burner.relief
    rows = []
    if jets is not None:
        where = "; ".join(line.removeprefix("Centres").lstrip(" :") for line in spacing(burner, units))
        what, drills = f"{jets.direction} jets", drill_advice(jets.diameter, units)
        rows.append((what, str(jets.count), _across(jets.diameter, units), drills, where))
    if slots is not None:
        size = f"{sized(slots.width, units)} × {sized(slots.height, units)}"
        rows.append(("feed slots", str(slots.count), size, "snips or file", "evenly round the foot of the inner wall"))
    if relief is not None:
        size = f"{sized(relief.width, units)} × {sized(relief.depth, units)} deep"
        both = "both walls, one behind the other" if burner.has_inner_wall else "the wall"
        rows.append(("notches", str(relief.count), size, "file", f"evenly round the rim, in {both}"))
    if not burner.has_well:
        rows.append(("filler", "1", "to fit its plug", "drill", "middle of the lid"))
    if rows:
        yield Heading("Holes, slots and notches")
        yield Table(("what", "count", "size", "tool", "where"), tuple(rows), (0.8, 0.45, 1.1, 1.9, 2.6))


def _steps(setup: Setup, units: str) -> Iterator[str]:
    burner = setup.burner
    jets, slots, relief, wick, pot = burner.jets, burner.feed_slots, burner.relief, burner.wick, setup.pot
    yield "Print the template at full size and hold a ruler to its bar."
    yield f"Cut the cup to {sized(burner.height + burner.wall_thickness, units)} from the table."
    if jets is not None:
        place = "Wrap the outer strip" if jets.direction == "side" else "Lay the template on the lid"
        yield f"{place}; prick, drill and deburr {jets.count} jets of {_across(jets.diameter, units)}."
    if burner.has_inner_wall and slots is not None:
        yield f"Cut the inner wall and its {slots.count} slots; close its lap tightly."
    if relief is not None:
        both = "both walls, their start lines aligned" if burner.has_inner_wall else "the rim"
        yield f"File {relief.count} notches into {both}."
    if burner.has_inner_wall and burner.gallery_gap is not None:
        gap = sized(burner.gallery_gap, units)
        yield f"Set the inner wall in the middle, its foot on the floor: {gap} clear all round."
        where = "at the rim, round the notches too" if relief is not None else "at the rim"
        yield f"Close the gallery {where}: vapour may leave by the jets alone."
    if not burner.has_well:
        yield "Drill the filler, fit its plug, and join the lid to the cup tightly."
    if wick is not None:
        over = " Lower than drawn, or it lies over the jets." if geometry.wick_covers_jets(burner) else ""
        yield f"Tie the wick round the foot, {sized(wick.height, units)} high, its ends butted.{over}"
    level, where = geometry.lowest_jet_edge(burner), "the lowest jets" if burner.has_gallery else "the rim"
    if (lip := geometry.lip_height(burner)) < level:
        level, where = lip, "the notches"
    holds = written(geometry.capacity(burner) * level / burner.height, "volume", units, 0 if units == "si" else 1)
    yield f"Pour in water: about {holds} reach {where}. Nothing may seep out below. Dry all."
    if pot is not None and pot.rest == "bumps":
        yield f"Raise {pot.bumps} bumps of {sized(pot.above_rim, units)} on the rim for the pot."
    elif pot is not None and pot.rest == "stand":
        yield f"Make or set a stand that holds the pot {sized(pot.above_rim, units)} above the rim."
    yield _first_burn(setup, units)


def _first_burn(setup: Setup, units: str) -> str:
    """How much to load at first: a share of the charge, and no more than stays in the burner, and on the wick.

    A page to build from tells nothing of what a burn does with the whole charge: leaks and spills show on little too.
    """
    charge, limit = setup.charge, at_rest(setup, setup.site.tilt).volume or 0.0
    load = f"{at_most(min(FIRST * charge.volume, limit), units)} of {charge.fuel.name}"
    if charge.primer > 0.0:
        primer = min(charge.primer, geometry.wick_capacity(setup.burner)) if setup.burner.wick else charge.primer
        load += f", {on_wick(primer, units, toward=-1)} more on the wick"
    text = f"First burn in the open, without a pot, on a fire-proof ground, on little fuel: {load} at most."
    if charge.volume > limit:
        own = written(charge.volume, "volume", units)
        text += f" Not the {own} of the design: so much runs out before the match, or nearly."
    return text


def _tools(burner: Burner, units: str) -> Iterator[str]:
    yield "Steel rule, scriber, compasses, tape; snips or a sharp knife; fine file and abrasive paper."
    if burner.jets is not None:
        advice = drill_advice(burner.jets.diameter, units).removeprefix("drill ")
        yield f"Awl or pin, pin vice, drill {advice}; wood to back the wall."
    if burner.has_inner_wall:
        yield f"Round bar or bottle to bend over, about {_across(geometry.well_diameter(burner), units)}."
    yield "Syringe or small measure, water, scale."
