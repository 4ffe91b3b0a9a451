"""The jets of a template: holes with cross-hairs and numbers, and how far they are apart."""

from collections.abc import Iterator
from math import cos, pi, radians, sin

from burnsim.model.description import geometry
from burnsim.model.description.burner import Burner
from burnsim.model.description.parts import Jets
from burnsim.plots.letters import text_width
from burnsim.report.template.drawing import DRILL, MARK, Circle, Item, Label, Line, cross, spread
from burnsim.units.drills import sized
from burnsim.units.writing import with_unit

MM = 1e3  # millimetres in a metre
ARM = 1.6  # of a cross-hair with room about it [mm]
SHARE = 0.42  # of the way to the nearest neighbour, at most
LARGEST, LEAST = 2.0, 1.1  # letters of a number [mm]
BESIDE = 0.4  # between a cross-hair and its number [mm]
FIGURE_HEIGHT = 0.65  # of a number over its em


def arm(burner: Burner, jets: Jets) -> float:
    """Half the length of a jet's cross-hair [mm], so that it stays clear of its neighbours and of their row."""
    near = geometry.jet_pitch(burner) * MM
    if jets.rows > 1:
        near = min(near, geometry.ROW_SPACING * jets.diameter * MM)
    return min(max(jets.diameter * MM, ARM), SHARE * near)


def side_jets(burner: Burner, jets: Jets, around: float, floor: float) -> Iterator[Item]:
    """Holes of side jets on a strip, numbered from its start; rows above each other are staggered by half a pitch."""
    each, cross_arm = jets.count // jets.rows, arm(burner, jets)
    room = around / each / min(jets.rows, 2) - 2.0 * cross_arm - 2.0 * BESIDE
    size, stride = letters(room, str(jets.count))
    for row, height in enumerate(geometry.jet_heights(burner)):
        y = height * MM + floor
        if jets.rows == 1:
            yield Line(MARK, ((0.0, y), (around, y)), dashed=True)
        for k, x in enumerate(spread(around, each, phase(jets, row))):
            yield Circle(DRILL, x, y, jets.diameter * MM)
            yield from cross(x, y, cross_arm)
            number = row * each + k + 1
            if k % stride == 0:
                yield _number(x, y, str(number), size, cross_arm, around, alone=jets.rows == 1)


def _number(x: float, y: float, text: str, size: float, cross_arm: float, around: float, *, alone: bool) -> Label:
    """A number above its hole; beside it where rows lie close, on the side that does not leave the wrap."""
    if alone:
        return Label(x, y + cross_arm + BESIDE, text, size, "middle")
    aside, foot = cross_arm + BESIDE, y - 0.5 * FIGURE_HEIGHT * size
    if x + aside + text_width(text, size) < around:
        return Label(x + aside, foot, text, size)
    return Label(x - aside, foot, text, size, "right")


def top_jets(burner: Burner, jets: Jets, middle: float) -> Iterator[Item]:
    """Holes of top jets on a lid about its middle, numbered anticlockwise from the right.

    Numbers of the outermost row stand outside it, of the innermost inside, of any between on the way to the next hole;
    none lies across a cut.
    """
    each, cross_arm = jets.count // jets.rows, arm(burner, jets)
    edge, well = burner.outer_diameter / 2.0 * MM, geometry.well_diameter(burner) / 2.0 * MM
    for row, ring in enumerate(geometry.jet_rings(burner)):
        radius = ring / 2.0 * MM
        turn = 2.0 * pi / each
        between = 0 < row < jets.rows - 1
        room = radius * turn - 2.0 * BESIDE - (2.0 * cross_arm if between else 0.0)
        size, stride = letters(room, str(jets.count))
        away = cross_arm + BESIDE + 0.5 * text_width(str(jets.count), size)
        inside = radius - away if row == jets.rows - 1 else radius
        if row == jets.rows - 1 and radius - 2.0 * away + cross_arm < well:
            inside = min(inside, well - away + cross_arm)
        outside = radius + away if radius + 2.0 * away - cross_arm < edge else edge + away - cross_arm
        if jets.rows == 1 and outside > edge:
            outside = inside
        yield Circle(MARK, middle, middle, 2.0 * radius)
        for k in range(each):
            angle = turn * (k + 0.5 * (row % 2))
            x, y = middle + radius * cos(angle), middle + radius * sin(angle)
            yield Circle(DRILL, x, y, jets.diameter * MM)
            yield from cross(x, y, cross_arm)
            if k % stride == 0:
                far = outside if row == 0 else inside
                at = angle + (0.5 * turn if between else 0.0)
                yield Label(
                    middle + far * cos(at), middle + far * sin(at) - 0.5 * FIGURE_HEIGHT * size,
                    str(row * each + k + 1), size, "middle",
                )  # fmt: skip


def letters(room: float, longest: str) -> tuple[float, int]:
    """Size of numbers [mm], and of how many holes one is numbered where not all have room.

    >>> letters(10.0, "26"), letters(1.0, "100")
    ((2.0, 1), (1.1, 5))
    """
    size = room / text_width(longest, 1.0)
    return (min(size, LARGEST), 1) if size >= LEAST else (LEAST, 5)


def phase(jets: Jets, row: int) -> float:
    """Distance of a row's first jet from the start, in pitches."""
    return 0.5 if jets.rows == 1 else (0.25, 0.75)[row % 2]


def spacing(burner: Burner, units: str = "si") -> tuple[str, ...]:
    """How far jets are apart: along the arc as paper measures it, straight as a rule does, and as an angle.

    A line for the side, one for each ring on top.
    """
    jets = burner.jets
    if jets is None or jets.count // jets.rows < 2:
        return ()
    angle = 360.0 / (jets.count // jets.rows)
    rings = geometry.jet_rings(burner)
    lines = []
    for ring in rings if jets.direction == "top" else rings[:1]:
        arc, chord = ring / 2.0 * radians(angle), ring * sin(radians(angle) / 2.0)
        where = f" on Ø\N{NO-BREAK SPACE}{sized(ring, units)}" if jets.direction == "top" else ""
        lines.append(
            f"Centres{where}: {sized(arc, units)} apart along the {'ring' if where else 'paper'} (arc), "
            f"{sized(chord, units)} straight (chord), {angle:.4g}°"
        )
    if jets.rows > 1:
        apart = sized(geometry.ROW_SPACING * jets.diameter, units)
        lines[-1] += f"; rows {apart} apart, every other one shifted by half a spacing"
    return tuple(lines)


def mm(value: float, decimals: int = 2) -> str:
    """A length [m] in millimetres, kept with its unit.

    >>> mm(0.062) == "62.00\N{NO-BREAK SPACE}mm"
    True
    """
    return with_unit(f"{value * MM:.{decimals}f}", "mm")
