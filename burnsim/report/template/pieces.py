"""The pieces of a template: strips to wrap round the walls, a lid, the wick, and the words that go with them.

Heights on the paper count from the table on which the cup stands; in a design they count from the inside of the floor.
The paper therefore shows them higher by the thickness of the floor.
"""

from collections.abc import Iterator
from itertools import pairwise
from math import pi

from burnsim.errors import InputError
from burnsim.model.description import geometry
from burnsim.model.description.burner import Burner
from burnsim.model.description.parts import Wick
from burnsim.model.description.setup import Setup
from burnsim.plots.letters import pushed_apart, text_width
from burnsim.report.template.drawing import (
    CUT,
    FOLD,
    MARK,
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
from burnsim.report.template.holes import MM, mm, side_jets, top_jets
from burnsim.units.writing import with_unit

TAB = 8.0  # overlap beyond the wrap, to tape down [mm]
ASIDE = 40.0  # room for the heights beside a strip [mm]
PAD = 5.0  # paper round a lid's edge [mm]
SHORT = 26.0  # height of a strip that has no room for all words on its tab [mm]
LINE = 3.6  # least distance of two lines of words [mm]
LETTERS = 1.1  # of a label's letters above the height that it tells [mm]
HOOK = 1.5  # mark of a bump [mm]
BAR = 100.0  # scale bar [mm]
THICKEST_PAPER = 1.0  # [mm]


def template_pieces(setup: Setup, paper: float = 0.0) -> tuple[Piece, ...]:
    """Draw every piece of a design's template, in millimetres; the scale bar comes first.

    The wraps are longer by pi times the thickness of the paper [m], which bends about its middle: at 0 they are the
    outer circumference itself. An `InputError` for paper thicker than 1 mm.
    """
    if not 0.0 <= paper * MM <= THICKEST_PAPER:
        problem = "is out of range; allowed from 0 mm to 1 mm"
        raise InputError("paper", f"{paper * MM:g} mm", problem, "measure ten sheets")
    burner = setup.burner
    bumps = setup.pot.bumps if setup.pot is not None and setup.pot.rest == "bumps" else 0
    pieces = [scale_piece(), outer_strip(burner, paper * MM, bumps)]
    if burner.has_inner_wall:
        pieces.append(inner_strip(burner, paper * MM))
    if not burner.has_well or (burner.jets is not None and burner.jets.direction == "top"):
        pieces.append(lid(burner))
    if burner.wick is not None:
        pieces.append(wick_band(burner, burner.wick))
    return tuple(pieces)


def scale_piece() -> Piece:
    """Bars of 100 mm along and 50 mm up, and of 4 inches, to hold a ruler to."""
    items: list[Item] = [Line(MARK, ((0.0, 0.0), (BAR, 0.0))), Line(MARK, ((0.0, 0.0), (0.0, 50.0)))]
    for k in range(11):
        items.append(Line(MARK, ((10.0 * k, 0.0), (10.0 * k, 3.0 if k % 5 else 5.0))))
    for k in range(1, 6):
        items.append(Line(MARK, ((0.0, 10.0 * k), (5.0 if k == 5 else 3.0, 10.0 * k))))
    items.append(Line(MARK, ((0.0, 10.0), (101.6, 10.0))))
    for k in range(5):
        items.append(Line(MARK, ((25.4 * k, 10.0), (25.4 * k, 13.0))))
    items += [
        Label(30.0, 5.2, mm(0.1, 0), 2.6, "middle"),
        Label(63.5, 14.0, with_unit("4", "in"), 2.6, "middle"),
        Label(7.0, 48.5, mm(0.05, 0)),
        Label(7.0, 40.0, "Hold a ruler to these bars before you cut.", 3.0),
        Label(7.0, 35.5, f"If one is off by more than {mm(0.5e-3, 1)}, print again at {with_unit('100', '%')}"),
        Label(7.0, 31.5, "(actual size, no fitting to the page)."),
    ]
    return Piece("scale", ("Scale",), 102.0, 52.0, tuple(items))


def outer_strip(burner: Burner, paper: float, bumps: int = 0) -> Piece:
    """The strip that wraps the outer wall; so many bumps for the pot are marked at its rim."""
    floor = burner.wall_thickness * MM
    around = (burner.outer_diameter * MM + paper) * pi
    top = burner.height * MM + floor
    rows = [(top, "cut the wall to"), (0.0, "table")]
    items: list[Item] = []
    jets = burner.jets
    if jets is not None and jets.direction == "side":
        items += side_jets(burner, jets, around, floor)
        heights = geometry.jet_heights(burner)
        rows += [
            (height * MM + floor, "centres of jets" + (f", row {k}" if jets.rows > 1 else ""))
            for k, height in enumerate(heights, 1)
        ]
    items += [*_notches(burner, around, top), *_bumps(burner, bumps, around, top)]
    if burner.relief is not None:
        rows.append((top - burner.relief.depth * MM, "foot of notches"))
    if burner.wick is not None:
        height = burner.wick.height * MM
        items.append(Line(MARK, ((0.0, height), (around, height)), dashed=True))
        rows.append((height, "wick up to"))
    return _strip(burner, "outer", around, top, _wrap(burner.outer_diameter, around), items, rows)


def inner_strip(burner: Burner, paper: float) -> Piece:
    """The strip that wraps the inner wall of a double-wall burner, on the side of the gallery."""
    diameter = geometry.inner_wall_diameter(burner) * MM
    around = (diameter + paper) * pi
    top = burner.height * MM
    rows = [(top, "cut the wall to"), (0.0, "floor, inside")]
    items: list[Item] = []
    slots = burner.feed_slots
    if slots is not None:
        items += _cuts(around, slots.count, slots.width, 0.0, slots.height * MM)
        rows.append((slots.height * MM, "top of feed slots"))
    items += _notches(burner, around, top)
    if burner.relief is not None:
        rows.append((top - burner.relief.depth * MM, "foot of notches"))
    flat = with_unit(f"{(diameter - burner.wall_thickness * MM) * pi:.2f}", "mm")
    title = f"{_wrap(diameter / MM, around)}; from flat sheet: {flat} and the lap"
    return _strip(burner, "inner", around, top, title, items, rows)


def lid(burner: Burner) -> Piece:
    """The lid: its edge, its top jets, and the opening of the well or the place of the filler."""
    jets = burner.jets
    size = burner.outer_diameter * MM
    middle = size / 2.0 + PAD
    items: list[Item] = [Circle(CUT, middle, middle, size), *cross(middle, middle, 4.0)]
    title = [f"Lid, Ø {mm(burner.outer_diameter)}"]
    well = geometry.well_diameter(burner)
    if well > 0.0:
        items.append(Circle(CUT, middle, middle, well * MM))
        title.append(f"opening of the well Ø {mm(well)}")
    else:
        lines = ((7.0, "filler hole:"), (9.8, "to fit"), (12.6, "your plug"))
        items += [Label(middle, middle - y, text, 2.2, "middle") for y, text in lines]
    if jets is not None and jets.direction == "top":
        items += top_jets(burner, jets, middle)
        rings = ", ".join(f"{ring * MM:.2f}" for ring in geometry.jet_rings(burner))
        title.append(with_unit(f"jets on Ø {rings}", "mm"))
    return Piece("lid", tuple(title), size + 2.0 * PAD, size + 2.0 * PAD, tuple(items))


def wick_band(burner: Burner, wick: Wick) -> Piece:
    """The primer wick, its ends butted."""
    long, high = (burner.outer_diameter + wick.thickness) * MM * pi, wick.height * MM
    title = (
        with_unit(f"Primer wick, {long:.1f}\N{NO-BREAK SPACE}×\N{NO-BREAK SPACE}{high:.1f}", "mm"),
        f"absorbent {mm(wick.thickness)} thick, ends butted",
    )
    return Piece("wick", title, long, high, (rectangle(CUT, 0.0, 0.0, long, high),))


def _wrap(diameter: float, around: float) -> str:
    tab = with_unit(f"{TAB:.0f}", "mm")
    return f"wraps Ø {mm(diameter)}: {with_unit(f'{around:.2f}', 'mm')} and a tab of {tab} to tape down"


def _strip(
    burner: Burner, wall: str, around: float, top: float, title: str, items: list[Item], rows: list[tuple[float, str]]
) -> Piece:
    """A strip of a wall: its edges, its tab, what is drawn on it, the heights beside it, and which way is up."""
    high = max(top, LINE * len(rows))
    start = "start lies on this line" if top > SHORT else "start"
    edges = (
        rectangle(CUT, 0.0, 0.0, around + TAB, top),
        Line(FOLD, ((around, 0.0), (around, top))),
        Label(around + 5.0, max(top / 2.0, 1.0), start, 2.4, "middle", 90.0),
    )
    text = f"↑ rim up, printed side out: {wall} wall"
    if burner.has_inner_wall:
        text += "; align the start (left edge) of both walls"
    below, above = max(pairwise(sorted(height for height, _ in rows)), key=lambda pair: pair[1] - pair[0])
    size = min(2.8, 0.25 * (above - below), (around - 6.0) / text_width(text, 1.0))
    up = Label(4.0, (below + above) / 2.0 - 0.33 * size, text, size)  # in the widest band that nothing else is drawn in
    drawn = (*edges, *items, *_heights(rows, around + TAB, high), up)
    return Piece(f"{wall}-wall", (f"{wall.capitalize()} wall", title), around + TAB + ASIDE, high, drawn)


def _notches(burner: Burner, around: float, top: float) -> list[Item]:
    relief = burner.relief
    if relief is None:
        return []
    return _cuts(around, relief.count, relief.width, top, top - relief.depth * MM)


def _cuts(around: float, count: int, width: float, edge: float, end: float) -> list[Item]:
    """So many cuts of a width [m], spread along a strip, from its edge to where they end [mm]."""
    half = width * MM / 2.0
    return [
        Line(CUT, ((x - half, edge), (x - half, end), (x + half, end), (x + half, edge))) for x in spread(around, count)
    ]


def _bumps(burner: Burner, count: int, around: float, top: float) -> Iterator[Item]:
    """A hook under each place of the rim where a bump goes, as far from the notches as it can be."""
    if count == 0:
        return
    notches = spread(around, burner.relief.count) if burner.relief is not None else ()
    marks = max(
        (spread(around, count, phase) for phase in (0.5, 0.25, 0.75)),
        key=lambda some: min((abs(x - notch) for x in some for notch in notches), default=0.0),
    )
    jets = burner.jets
    side = jets is not None and jets.direction == "side"
    free = (burner.height - max(geometry.jet_heights(burner))) * MM if side else 0.5 * top
    size = min(HOOK, 0.25 * free)
    for x in marks:
        yield Line(MARK, ((x - 0.6 * size, top - size), (x, top), (x + 0.6 * size, top - size)))
        if size == HOOK:
            yield Label(x, top - 2.0 * size, "bump", 1.8, "middle")


def _heights(rows: list[tuple[float, str]], edge: float, high: float) -> Iterator[Item]:
    """Heights beside a strip, each with a leader; words that would touch are pushed apart, none above the piece."""
    ordered = sorted(rows)
    places = pushed_apart([height for height, _ in ordered], LINE, high - LETTERS)
    for (height, what), y in zip(ordered, places, strict=True):
        yield Line(TEXT, ((edge + 0.5, height), (edge + 2.5, height), (edge + 4.5, y), (edge + 5.5, y)))
        yield Label(edge + 6.5, y - 0.9, f"{height:.2f} {what}" if height > 0.0 else f"0 {what}")
