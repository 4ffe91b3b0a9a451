"""Measures of a cross-section: where words, lines and the view from above lie at a scale of paper.

All is laid out before anything is drawn, in millimetres of the burner, so that a scale can be chosen by what fits and
a test can see that no words meet. Heights stand in one column at the left, each at the end of its line; what is cut
stands in one column at the right; widths lie below.
"""

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING, NamedTuple

from burnsim.model.description import geometry
from burnsim.model.parameters.shelter import inner_radius
from burnsim.plots.letters import pushed_apart, text_width
from burnsim.units import measure
from burnsim.units.drills import inches, number_drill

if TYPE_CHECKING:
    from burnsim.model.description.burner import Burner
    from burnsim.model.description.conditions import Pot
    from burnsim.model.description.setup import Setup

MM = 1e3
LETTERS = 6.5  # [points]
EM = LETTERS * 25.4 / 72.0  # [mm of paper]
SCALES = (0.2, 0.5, 1.0, 2.0, 2.5, 3.0, 4.0, 5.0, 10.0, 20.0, 50.0)
"""Millimetres of the burner in one of paper; ISO 5455 recommends 1 : 2, 1 : 5, 1 : 10 and 2 : 1, 5 : 1."""
BARS = {"si": (1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0), "us": (6.35, 12.7, 25.4, 50.8, 101.6)}
PAD = 1.0  # round all that is drawn [mm of paper]
OUT = 1.2  # of a side jet's line over the wall, seen from above [mm of paper]
BAR = 14.0  # length of the scale bar, about [mm of paper]
DEAR = 1.6  # factor of the scale beyond which the view from above is not worth its room
UNDER = 1.0  # of words under the pot's bottom, from their middle [em]
KNOB = 5.0  # height of the lid's knob [mm]

Frame = tuple[float, float, float, float]
Spot = tuple[float, float]


class Note(NamedTuple):
    """A line of words at a spot, its `align` ("left", "middle" or "right") there; `upright` reads from the right."""

    text: str
    x: float
    y: float
    align: str = "middle"
    upright: bool = False

    def box(self, scale: float) -> Frame:
        """Left, right, low and high of its letters [mm]."""
        long, tall = text_width(self.text, EM * scale), 0.5 * EM * scale
        before = {"left": 0.0, "middle": 0.5, "right": 1.0}[self.align] * long
        if self.upright:
            return self.x - tall, self.x + tall, self.y - before, self.y - before + long
        return self.x - before, self.x - before + long, self.y - tall, self.y + tall


class Stroke(NamedTuple):
    """A thin line; `heads` at "both" ends, at its "end", or at "none"."""

    points: tuple[Spot, ...]
    heads: str = "none"


class Layout(NamedTuple):
    """What is written at a scale, and the frame (left, right, low, high) that holds it and the bodies [mm]."""

    scale: float
    notes: tuple[Note, ...]
    strokes: tuple[Stroke, ...]
    above: Spot | None  # centre of the view from above
    frame: Frame


def length(value: float, units: str) -> str:
    """A length [m] in a drawing's words: millimetres without a unit, or inches as a rule shows them.

    >>> from burnsim.units import plain
    >>> length(0.045, "si"), plain(length(0.04445, "us"))
    ('45', '1 3/4 in')
    """
    measure("length", units)
    return f"{value * MM:.4g}" if units == "si" else inches(value)


def bore(diameter: float, units: str) -> str:
    """A hole's diameter [m], and in US units the number of its drill if that is right to 2 %."""
    drill = number_drill(diameter) if units == "us" else None
    close = drill is not None and abs(drill.diameter / diameter - 1.0) < 0.02
    return (f"{drill.name}, " if drill is not None and close else "") + f"Ø\N{NO-BREAK SPACE}{length(diameter, units)}"


class Wall(NamedTuple):
    """The windscreen's inside [mm]."""

    radius: float
    top: float


def screen_of(setup: "Setup") -> Wall | None:
    """Where the windscreen stands; None without one."""
    screen = setup.screen
    if screen is None:
        return None
    return Wall(inner_radius(screen, setup) * MM, (screen.height - setup.burner.wall_thickness) * MM)


def lay_out(setup: "Setup", units: str, room: Spot, scale: float | None = None) -> Layout:
    """Lay the measures out at the largest scale at which all fits, or at a given one.

    The view from above is left out where the drawing would shrink too much for it. The room is width and height of the
    paper [mm], the scale millimetres of the burner in one of paper.
    """
    scales = SCALES if scale is None else (scale,)
    plain = _first_that_fits(setup, units, room, scales, (None,))
    viewed = _first_that_fits(setup, units, room, scales, ("beside", "below"))
    return viewed if viewed.scale <= DEAR * plain.scale else plain


def _first_that_fits(
    setup: "Setup", units: str, room: Spot, scales: tuple[float, ...], views: tuple[str | None, ...]
) -> Layout:
    """The largest drawing that fits; the last that was tried if none does."""
    layout = None
    for one in scales:
        for view in views:
            layout = _at_scale(setup, units, one, view)
            left, right, low, high = layout.frame
            if (right - left) / one <= room[0] and (high - low) / one <= room[1]:
                return layout
    assert layout is not None  # there is a scale at least
    return layout


def scale_text(scale: float) -> str:
    """A scale in a drawing's words.

    >>> scale_text(2.0) == "1\N{NO-BREAK SPACE}:\N{NO-BREAK SPACE}2", scale_text(0.5)[0]
    (True, '2')
    """
    one, other = (1.0, scale) if scale >= 1.0 else (1.0 / scale, 1.0)
    return f"{one:g}\N{NO-BREAK SPACE}:\N{NO-BREAK SPACE}{other:g}"


class _Paper:
    """What is laid out so far at a scale, round the outermost spots of the bodies."""

    def __init__(self, burner: "Burner", scale: float) -> None:
        self.scale, self.em = scale, EM * scale
        self.half, self.top = burner.outer_diameter / 2.0 * MM, burner.height * MM
        self.foot = -burner.wall_thickness * MM
        self.notes: list[Note] = []
        self.strokes: list[Stroke] = []
        self.bodies: list[Spot] = []

    def add(self, written: Iterable[Note | Stroke]) -> None:
        """Take words and lines in."""
        for one in written:
            if isinstance(one, Note):
                self.notes.append(one)
            else:
                self.strokes.append(one)

    def frame(self) -> Frame:
        """What holds all of it, and a margin."""
        boxes = [note.box(self.scale) for note in self.notes]
        boxes += [(x, x, y, y) for x, y in [*self.bodies, *(spot for one in self.strokes for spot in one.points)]]
        left, right, low, high = zip(*boxes, strict=True)
        pad = PAD * self.scale
        return min(left) - pad, max(right) + pad, min(low) - pad, max(high) + pad


def _at_scale(setup: "Setup", units: str, scale: float, view: str | None) -> Layout:
    """The measures of the bodies, below them the scale bar, and then the view from above, if any, with its key."""
    paper = _Paper(setup.burner, scale)
    _add_measures(paper, setup, units)
    _add_bar(paper, units)
    above = _add_view(paper, setup.burner, units, view)
    return Layout(scale, tuple(paper.notes), tuple(paper.strokes), above, paper.frame())


def _add_measures(paper: _Paper, setup: "Setup", units: str) -> None:
    """Measures of burner, pot and windscreen."""
    burner, pot, screen = setup.burner, setup.pot, screen_of(setup)
    em, half, top, foot = paper.em, paper.half, paper.top, paper.foot
    wick = burner.wick.thickness * MM if burner.wick else 0.0
    ceiling = top + 2.0 * em  # of the words beside the burner
    if pot is not None:
        ceiling = min(ceiling, max(top + pot.above_rim * MM - UNDER * em, 0.5 * top))
    paper.add(_heights(burner, units, em, min(ceiling, top)))
    paper.add(_cuts(setup, units, em, ceiling))
    paper.add(_widths(burner, units, em, min([foot, *(note.box(paper.scale)[2] for note in paper.notes)])))
    paper.bodies += [(-half - wick, foot), (half + wick, top)]
    if pot is not None:
        radius, bottom = pot.diameter / 2.0 * MM, top + pot.above_rim * MM
        brim = bottom + pot.height * MM
        lid = brim + (KNOB if pot.lid else 0.0)
        paper.bodies += [(-radius - 1.5, foot), (radius + 1.5, lid)]
        paper.add(_pot(pot, (radius, bottom, brim, lid), screen, units, em))
    if screen is not None:
        paper.bodies += [(-screen.radius, foot), (screen.radius, screen.top)]
        left = min(note.box(paper.scale)[0] for note in paper.notes)
        paper.add(_screen(setup, screen, units, em, foot, left))


def _add_bar(paper: _Paper, units: str) -> None:
    """The scale bar, at the left and below all else."""
    (left, _, low, _), em = paper.frame(), paper.em
    bar = min(BARS[units], key=lambda one: abs(one - BAR * paper.scale))
    y = min(low + 0.3 * em, paper.foot - 3.0 * em) - (2.6 * em if left + bar + em > -paper.half else 0.0)
    paper.add([Stroke(((left, y), (left + bar, y)))])
    paper.add(Stroke(((x, y), (x, y + 0.5 * em))) for x in (left, left + bar))
    paper.add([Note(f"{bar:g} mm" if units == "si" else f"{inches(bar / MM)}", left, y + 1.1 * em, "left")])


def _add_view(paper: _Paper, burner: "Burner", units: str, view: str | None) -> Spot | None:
    """Room for the view from above, "below" the rest or "beside" it, and its key; without a view the key alone."""
    em, half = paper.em, paper.half
    key = view_key(burner, units, dashed=view is not None)
    left, right, low, _ = paper.frame()
    above, start, y = None, left + PAD * paper.scale, low
    if key and view is not None:
        above = (0.0, low - 3.0 * em - half) if view == "below" else (right + 2.0 * em + half, paper.foot + half)
        x, y = above
        reach = half + OUT * paper.scale
        paper.bodies += [(x - reach, y - reach), (x + reach, y + reach)]
        paper.add([Note("from above", x, y + half + 1.1 * em)])
        widest = max(text_width(line, em) for line in key)
        start, y = (min(x - half, x - 0.5 * widest) if view == "below" else x - half), y - half
    paper.add(Note(line, start, y - (1.4 + 1.3 * k) * em, "left") for k, line in enumerate(key))
    return above


def _heights(burner: "Burner", units: str, em: float, ceiling: float) -> Iterator[Note | Stroke]:
    """Heights above the floor, each at the end of its line, at the left."""
    half = burner.outer_diameter / 2.0 * MM
    band = burner.wick.thickness * MM if burner.wick else 0.0
    rows = [(0.0, "floor"), (burner.height, "rim at")]
    jets = burner.jets
    if jets is not None and jets.direction == "side":
        heights = geometry.jet_heights(burner)
        rows += [(heights[0], "lowest jets at" if jets.rows > 1 else "jets at")]
        rows += [(heights[-1], "highest jets at")] if jets.rows > 1 else []
    rows.sort()
    x = -half - band - 2.6 * em
    wanted = [max(height * MM, 0.6 * em) for height, _ in rows]
    places = pushed_apart(wanted, 1.2 * em, max(ceiling, 1.2 * em * (len(rows) - 1)))
    for (height, what), y in zip(rows, places, strict=True):
        at = height * MM
        beside_wick = burner.wick is not None and height <= burner.wick.height
        start = -half - (band if beside_wick else 0.0) - 0.3 * em
        yield Stroke(((start, at), (x + 1.6 * em, at), (x + 0.3 * em, y)))
        yield Note(f"{what} {length(height, units) if height else '0'}", x, y, "right")


def _cuts(setup: "Setup", units: str, em: float, ceiling: float) -> Iterator[Note | Stroke]:
    """What is cut into the walls or put round them and the gap under the pot, at the right; slots in the well."""
    burner = setup.burner
    half, top = burner.outer_diameter / 2.0 * MM, burner.height * MM
    jets, slots, relief, wick, pot = burner.jets, burner.feed_slots, burner.relief, burner.wick, setup.pot
    thick = wick.thickness * MM if wick else 0.0
    marks: list[tuple[Spot, str]] = []
    if wick is not None:
        text = f"wick {length(wick.height, units)} × {length(wick.thickness, units)}"
        marks.append(((half + thick, 0.5 * wick.height * MM), text))
    if jets is not None and jets.direction == "side":
        heights = geometry.jet_heights(burner)
        apart = length(geometry.ROW_SPACING * jets.diameter, units)
        rows = f", {jets.rows} rows {apart} apart" if jets.rows > 1 else ""
        marks.append(((half, heights[-1] * MM), f"{jets.count} jets {bore(jets.diameter, units)}{rows}"))
    if relief is not None:
        size = f"{length(relief.width, units)} × {length(relief.depth, units)} deep"
        marks.append(((half, top - 0.5 * relief.depth * MM), f"{relief.count} notches {size}"))
    if pot is not None and pot.above_rim > 0.0:
        gap, x = pot.above_rim * MM, half + 1.3 * em
        yield Stroke(((half + 0.3 * em, top), (x + 0.5 * em, top)))
        if gap > 2.0 * em:
            yield Stroke(((x, top), (x, top + gap)), "both")
        marks.append(((x, top + 0.5 * gap), f"rim to pot {length(pot.above_rim, units)}"))
    x = half + thick + 3.4 * em
    places = pushed_apart([one[1] for one, _ in marks], 1.3 * em, ceiling)
    for (spot, text), y in zip(marks, places, strict=True):
        yield Stroke((spot, (x - 0.3 * em, y)))
        yield Note(text, x, y, "left")
    if slots is not None:
        well = geometry.well_diameter(burner) / 2.0 * MM
        text = f"{slots.count} slots {length(slots.width, units)} × {length(slots.height, units)}"
        y = max(0.5 * slots.height * MM, 0.8 * em)
        note = Note(text, -0.15 * well, y)
        left, right, *_ = note.box(em / EM)
        if left > 0.3 * em - well and right + 1.5 * em < well:  # else the view from above tells it
            yield note
            yield Stroke(((right + 0.2 * em, y), (well, 0.5 * slots.height * MM)))


def _pot(
    pot: "Pot", size: tuple[float, float, float, float], screen: Wall | None, units: str, em: float
) -> Iterator[Note | Stroke]:
    """Width of the pot above it, and its height at its right; `size` is radius, bottom, brim and lid [mm]."""
    radius, bottom, brim, lid = size
    y = lid + 1.4 * em
    yield Stroke(((-radius, y), (radius, y)), "both")
    yield from (Stroke(((x, brim + 0.3 * em), (x, y + 0.5 * em))) for x in (-radius, radius))
    yield Note(f"pot Ø\N{NO-BREAK SPACE}{length(pot.diameter, units)}", 0.0, y + 0.75 * em)
    x = radius + 2.2 * em
    if screen is not None and abs(screen.radius - x - 0.4 * em) < 2.0 * em:
        x = screen.radius + 1.4 * em  # clear of it
    yield from (Stroke(((radius + 0.3 * em, y), (x + 0.5 * em, y))) for y in (bottom, brim))
    yield Stroke(((x, bottom), (x, brim)), "both")
    tall = Note(f"pot {length(pot.height, units)} high", x + 0.8 * em, (bottom + brim) / 2.0, "middle", upright=True)
    if text_width(tall.text, em) > brim - bottom:
        tall = tall._replace(align="left", upright=False)
    yield tall


def _screen(setup: "Setup", screen: Wall, units: str, em: float, foot: float, left: float) -> Iterator[Note | Stroke]:
    """Height and clearance of the windscreen, at the left of it and of all other words."""
    assert setup.screen is not None
    x = min(-screen.radius - 2.0 * em, left - em)
    clear = length(setup.screen.clearance, units)
    high = f"screen {length(setup.screen.height, units)} high"
    text = f"{high}, {clear} from the {'burner' if setup.pot is None else 'pot'}"
    middle = (foot + screen.top) / 2.0
    if text_width(text, em) > screen.top - foot:
        for k, line in enumerate(text.split(", ")):
            yield Note(line, x - 0.6 * em, middle + (0.65 - 1.3 * k) * em, "right")
    else:
        yield Note(text, x - 0.8 * em, middle, "middle", upright=True)
    yield from (Stroke(((-screen.radius - 0.3 * em, y), (x - 0.5 * em, y))) for y in (foot, screen.top))
    yield Stroke(((x, foot), (x, screen.top)), "both")


def _widths(burner: "Burner", units: str, em: float, below: float) -> Iterator[Note | Stroke]:
    """Widths below the floor and below a height, the narrowest first."""
    half, foot = burner.outer_diameter / 2.0 * MM, -burner.wall_thickness * MM
    inner = geometry.inner_wall_diameter(burner) / 2.0 * MM
    jets = burner.jets
    y = below - 2.0 * em
    if burner.gallery_gap is not None and inner > 0.0:
        outer = inner + burner.gallery_gap * MM
        for x, tail in ((inner, inner - 1.8 * em), (outer, outer + 1.8 * em)):
            yield Stroke(((tail, y), (x, y)), "end")
            yield Stroke(((x, foot - 0.4 * em), (x, y - 0.5 * em)))
        yield Note(f"gallery {length(burner.gallery_gap, units)} wide", outer + 2.1 * em, y, "left")
        y -= 2.0 * em
    widths = [(inner, "inner wall")] if inner > 0.0 else []
    if jets is not None and jets.direction == "top":
        widths += [(ring / 2.0 * MM, "ring of jets") for ring in reversed(geometry.jet_rings(burner))]
    for reach, what in [*widths, (half, "outside")]:
        yield Stroke(((-reach, y), (reach, y)), "both")
        yield from (Stroke(((x, foot - 0.4 * em), (x, y - 0.5 * em))) for x in (-reach, reach))
        yield Note(f"{what} Ø\N{NO-BREAK SPACE}{length(2.0 * reach / MM, units)}", 0.0, y + 0.75 * em)
        y -= 2.0 * em


def view_key(burner: "Burner", units: str, *, dashed: bool = True) -> tuple[str, ...]:
    """What the view from above shows, a line each; empty where it would show nothing but a wall."""
    jets, slots, relief = burner.jets, burner.feed_slots, burner.relief
    lines = []
    if jets is not None:
        lines.append(f"{jets.count} jets {bore(jets.diameter, units)}")
        if jets.count > jets.rows:
            lines[0] += f", {360.0 * jets.rows / jets.count:.4g}° apart"
        if jets.rows > 1:
            lines.append(f"in {jets.rows} rows, staggered")
    if relief is not None:
        lines.append(f"{relief.count} notches, through {'both walls' if burner.has_inner_wall else 'the wall'}")
    if slots is not None:
        size = f"{length(slots.width, units)} × {length(slots.height, units)}"
        lines.append(f"{slots.count} slots {size} at the foot" + (" (dashed)" if dashed else ""))
    if not burner.has_well:
        lines.append("filler in the middle, to fit its plug")
    return tuple(lines)
