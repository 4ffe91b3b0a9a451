"""The pieces of a template: strips to wrap round the walls, a lid, the wick, and the words that go with them.

Heights on the paper count from the table on which the cup stands; in a design they count from the inside of the floor.
The paper therefore shows them higher by the thickness of the floor.
"""

from math import cos, pi, sin
from typing import TYPE_CHECKING

from burnsim.errors import InputError
from burnsim.model.description import geometry
from burnsim.report.template.drawing import (
    CUT,
    DRILL,
    FOLD,
    GUIDE,
    SCALE,
    TEXT,
    Circle,
    Item,
    Label,
    Line,
    Piece,
    cross,
    rectangle,
    spread,
)
from burnsim.report.template.drills import drill_advice

if TYPE_CHECKING:
    from burnsim.model.description.burner import Burner
    from burnsim.model.description.setup import Setup

MM = 1e3  # millimetres in a metre
TAB = 8.0  # overlap beyond the wrap, to tape down [mm]
ASIDE = 40.0  # room for the heights beside a strip [mm]
LINE = 3.6  # least distance of two lines of words [mm]
LETTERS = 1.1  # of a label's letters above the height that it tells [mm]
BAR = 100.0  # scale bar [mm]
THICKEST_PAPER = 1.0  # [mm]


def template_pieces(setup: "Setup", paper: float = 0.0) -> tuple[Piece, ...]:
    """Draw every piece of a design's template.

    Parameters
    ----------
    setup : the design
    paper : thickness of the paper [m]; the wrap is longer by pi times it, since paper bends about its middle. Default
        0: the wrap is the outer circumference itself.

    Returns
    -------
    tuple of Piece
        Measures in millimetres. The scale bar comes first.

    Raises
    ------
    InputError
        If the paper is thicker than 1 mm, or thinner than nothing.
    """
    if not 0.0 <= paper * MM <= THICKEST_PAPER:
        raise InputError(
            "paper", f"{paper * MM:g} mm", "is out of range; allowed from 0 mm to 1 mm", "measure ten sheets"
        )
    burner = setup.burner
    pieces = [scale_piece(), outer_strip(burner, paper * MM)]
    if burner.has_inner_wall:
        pieces.append(inner_strip(burner, paper * MM))
    if burner.jets is not None and burner.jets.direction == "top":
        pieces.append(lid(burner))
    if burner.wick is not None:
        pieces.append(wick_band(burner))
    return tuple(pieces)


def scale_piece() -> Piece:
    """Bars of 100 mm along and 50 mm up, and of 4 inches, to hold a ruler to."""
    items: list[Item] = [Line(SCALE, ((0.0, 0.0), (BAR, 0.0))), Line(SCALE, ((0.0, 0.0), (0.0, 50.0)))]
    for k in range(11):
        items.append(Line(SCALE, ((10.0 * k, 0.0), (10.0 * k, 3.0 if k % 5 else 5.0))))
    for k in range(1, 6):
        items.append(Line(SCALE, ((0.0, 10.0 * k), (5.0 if k == 5 else 3.0, 10.0 * k))))
    items.append(Line(SCALE, ((0.0, 10.0), (101.6, 10.0))))
    for k in range(5):
        items.append(Line(SCALE, ((25.4 * k, 10.0), (25.4 * k, 13.0))))
    items += [
        Label(30.0, 5.2, "100 mm", 2.6, "middle"),
        Label(63.5, 14.0, "4 in", 2.6, "middle"),
        Label(7.0, 48.5, "50 mm"),
        Label(7.0, 40.0, "Hold a ruler to these bars before you cut.", 3.0),
        Label(7.0, 35.5, "If one is off by more than 0.5 mm, print again at 100 %"),
        Label(7.0, 31.5, "(actual size, no fitting to the page)."),
    ]
    return Piece("scale", "Scale", 102.0, 52.0, tuple(items))


def outer_strip(burner: "Burner", paper: float) -> Piece:
    """The strip that wraps the outer wall."""
    floor = burner.wall_thickness * MM
    around = (burner.outer_diameter * MM + paper) * pi
    top = burner.height * MM + floor
    rows: list[tuple[float, str]] = [(top, "cut the wall to"), (0.0, "table")]
    items: list[Item] = [*_outline(around, top)]
    jets = burner.jets
    if jets is not None and jets.direction == "side":
        items += side_jets(burner, around, floor)
        rows += [(height * MM + floor, "centres of jets") for height in geometry.jet_heights(burner)]
    items += _notches(burner, around, top)
    if burner.relief is not None:
        rows.append((top - burner.relief.depth * MM, "foot of notches"))
    if burner.wick is not None:
        height = burner.wick.height * MM
        items.append(Line(GUIDE, ((0.0, height), (around, height))))
        rows.append((height, "wick up to"))
    high = max(top, LINE * len(rows))
    items += _heights(rows, around + TAB, high)
    title = f"Outer wall: wraps {burner.outer_diameter * MM:.2f} mm, wrap {around:.2f} mm + {TAB:.0f} mm to tape down"
    return Piece("outer-wall", title, around + TAB + ASIDE, high, tuple(items))


def inner_strip(burner: "Burner", paper: float) -> Piece:
    """The strip that wraps the inner wall of a double-wall burner, on the side of the gallery."""
    diameter = geometry.inner_wall_diameter(burner) * MM
    around = (diameter + paper) * pi
    top = burner.height * MM
    rows: list[tuple[float, str]] = [(top, "cut the wall to"), (0.0, "floor, inside")]
    items: list[Item] = [*_outline(around, top)]
    slots = burner.feed_slots
    if slots is not None:
        half, height = slots.width * MM / 2.0, slots.height * MM
        for x in spread(around, slots.count):
            items.append(Line(CUT, ((x - half, 0.0), (x - half, height), (x + half, height), (x + half, 0.0))))
        rows.append((height, "top of feed slots"))
    items += _notches(burner, around, top)
    if burner.relief is not None:
        rows.append((top - burner.relief.depth * MM, "foot of notches"))
    high = max(top, LINE * len(rows))
    items += _heights(rows, around + TAB, high)
    bent = (diameter - burner.wall_thickness * MM) * pi
    title = (
        f"Inner wall: wraps {diameter:.2f} mm, wrap {around:.2f} mm + {TAB:.0f} mm to tape down; from flat sheet: "
        f"{bent:.2f} mm and the lap"
    )
    return Piece("inner-wall", title, around + TAB + ASIDE, high, tuple(items))


def side_jets(burner: "Burner", around: float, floor: float) -> list[Item]:
    """Holes of side jets on a strip; rows that lie above each other are staggered by half a pitch."""
    jets = burner.jets
    if jets is None:
        return []
    items: list[Item] = []
    each = jets.count // jets.rows
    arm = max(jets.diameter * MM, 1.6)
    for row, height in enumerate(geometry.jet_heights(burner)):
        y = height * MM + floor
        items.append(Line(GUIDE, ((0.0, y), (around, y))))
        phase = 0.5 if jets.rows == 1 else (0.25, 0.75)[row % 2]
        for x in spread(around, each, phase):
            items.append(Circle(DRILL, x, y, jets.diameter * MM))
            items += cross(DRILL, x, y, arm)
    return items


def lid(burner: "Burner") -> Piece:
    """The lid with its top jets."""
    jets = burner.jets
    size = burner.outer_diameter * MM
    middle = size / 2.0
    items: list[Item] = [Circle(CUT, middle, middle, size), *cross(GUIDE, middle, middle, 4.0)]
    inside = geometry.inner_wall_diameter(burner) * MM
    if inside > 0.0:
        items.append(Circle(GUIDE, middle, middle, inside))
    if jets is not None:
        each = jets.count // jets.rows
        arm = max(jets.diameter * MM, 1.6)
        for row, ring in enumerate(geometry.jet_rings(burner)):
            items.append(Circle(GUIDE, middle, middle, ring * MM))
            for k in range(each):
                angle = 2.0 * pi * (k + 0.5 * (row % 2)) / each
                x, y = middle + ring * MM / 2.0 * cos(angle), middle + ring * MM / 2.0 * sin(angle)
                items.append(Circle(DRILL, x, y, jets.diameter * MM))
                items += cross(DRILL, x, y, arm)
    rings = ", ".join(f"{ring * MM:.2f}" for ring in geometry.jet_rings(burner))
    return Piece("lid", f"Lid, {size:.2f} mm across, jets on a circle of {rings} mm", size, size, tuple(items))


def wick_band(burner: "Burner") -> Piece:
    """The primer wick, its ends butted."""
    wick = burner.wick
    if wick is None:
        raise InputError("burner.wick", None, "is missing", "describe burner.wick")
    long, high = (burner.outer_diameter + wick.thickness) * MM * pi, wick.height * MM
    title = f"Primer wick: absorbent {wick.thickness * MM:.2f} mm thick, {long:.1f} mm x {high:.1f} mm, ends butted"
    return Piece("wick", title, long, high, (rectangle(CUT, 0.0, 0.0, long, high),))


def notes(setup: "Setup") -> tuple[str, ...]:
    """What to know at the bench about a design, a sentence a line."""
    burner = setup.burner
    lines = [
        f"{burner.kind}, {burner.metal}, {burner.outer_diameter * MM:.2f} mm ({burner.outer_diameter / 0.0254:.3f} in) "
        f"outside, {burner.height * MM:.2f} mm floor to rim, walls {burner.wall_thickness * MM:.2f} mm",
    ]
    jets = burner.jets
    if jets is not None:
        rows = f" in {jets.rows} rows" if jets.rows > 1 else ""
        lines.append(
            f"{jets.count} {jets.direction} jets{rows} of {jets.diameter * MM:.2f} mm: {drill_advice(jets.diameter)}; "
            f"centres {geometry.jet_pitch(burner) * MM:.2f} mm apart, straight"
            if jets.count > jets.rows
            else f"{jets.count} {jets.direction} jet(s) of {jets.diameter * MM:.2f} mm: {drill_advice(jets.diameter)}"
        )
    slots = burner.feed_slots
    if slots is not None:
        lines.append(
            f"{slots.count} feed slots, {slots.width * MM:.2f} mm wide and {slots.height * MM:.2f} mm high, "
            "at the foot of the inner wall"
        )
    relief = burner.relief
    if relief is not None:
        lines.append(
            f"{relief.count} notches at the rim, {relief.width * MM:.2f} mm wide, {relief.depth * MM:.2f} mm deep"
        )
    if burner.wick is not None:
        lines.append(wick_band(burner).title)
    lines.append(
        "Wrap a strip with its lower edge on the table, its start on the line, the tab under it. Prick each cross."
    )
    lines.append("Heights count from the table; the floor's thickness is in them. File burrs: a burr narrows a hole.")
    return tuple(lines)


def _outline(around: float, top: float) -> tuple[Item, ...]:
    """Edges of a strip: the start, the tab and the line on which the start comes to lie."""
    middle = max(top / 2.0, 1.0)
    return (
        rectangle(CUT, 0.0, 0.0, around + TAB, top),
        Line(FOLD, ((around, 0.0), (around, top))),
        Label(around + 5.0, middle, "start lies on this line", min(2.4, top / 12.0), "middle", 90.0),
    )


def _notches(burner: "Burner", around: float, top: float) -> list[Item]:
    relief = burner.relief
    if relief is None:
        return []
    half, foot = relief.width * MM / 2.0, top - relief.depth * MM
    items: list[Item] = []
    for x in spread(around, relief.count):
        items.append(Line(CUT, ((x - half, top), (x - half, foot), (x + half, foot), (x + half, top))))
    return items


def _heights(rows: list[tuple[float, str]], edge: float, high: float) -> list[Item]:
    """Heights beside a strip, each with a leader; words that would touch are pushed apart, none above the piece."""
    ordered = sorted(rows)
    places: list[float] = []
    for height, _ in ordered:
        places.append(max(height, places[-1] + LINE) if places else height)
    ceiling = high - LETTERS
    for k in range(len(places) - 1, -1, -1):
        places[k] = min(places[k], ceiling)
        ceiling = places[k] - LINE
    items: list[Item] = []
    for (height, what), y in zip(ordered, places, strict=True):
        items.append(Line(TEXT, ((edge + 0.5, height), (edge + 2.5, height), (edge + 4.5, y), (edge + 5.5, y))))
        items.append(Label(edge + 6.5, y - 0.9, f"{height:.2f} {what}" if height > 0.0 else f"0 {what}"))
    return items
