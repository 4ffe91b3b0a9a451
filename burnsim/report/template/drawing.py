"""What a template is drawn with: lines, circles and words on layers, in millimetres, x to the right and y up."""

from typing import NamedTuple

CUT, DRILL, MARK, FOLD, TEXT = "cut", "drill", "mark", "fold", "text"
LAYERS = (CUT, DRILL, MARK, FOLD, TEXT)
"""What each line is for: cut along it, drill it, a help to the eye that nothing may cut, where paper meets paper, words
and their leaders."""

Point = tuple[float, float]


class Line(NamedTuple):
    """A polyline."""

    layer: str
    points: tuple[Point, ...]
    closed: bool = False
    dashed: bool = False


class Circle(NamedTuple):
    """A circle about a centre."""

    layer: str
    x: float
    y: float
    diameter: float


class Label(NamedTuple):
    """A line of words; `align` is "left", "middle" or "right", `size` the height of its letters' em."""

    x: float
    y: float
    text: str
    size: float = 2.6
    align: str = "left"
    turn: float = 0.0  # anticlockwise [deg]


Item = Line | Circle | Label


class Piece(NamedTuple):
    """One piece of paper; its drawing lies between (0, 0) and (width, height). The first line of its title is bold."""

    name: str
    title: tuple[str, ...]
    width: float
    height: float
    items: tuple[Item, ...]


def rectangle(layer: str, left: float, bottom: float, right: float, top: float) -> Line:
    """A closed rectangle.

    >>> rectangle("cut", 0.0, 0.0, 2.0, 1.0).points
    ((0.0, 0.0), (2.0, 0.0), (2.0, 1.0), (0.0, 1.0))
    """
    return Line(layer, ((left, bottom), (right, bottom), (right, top), (left, top)), closed=True)


def cross(x: float, y: float, arm: float) -> tuple[Line, Line]:
    """A cross-hair of two lines."""
    return Line(MARK, ((x - arm, y), (x + arm, y))), Line(MARK, ((x, y - arm), (x, y + arm)))


def moved(item: Item, right: float, up: float) -> Item:
    """The same item somewhere else."""
    if isinstance(item, Line):
        return item._replace(points=tuple((x + right, y + up) for x, y in item.points))
    return item._replace(x=item.x + right, y=item.y + up)


def spread(around: float, count: int, phase: float = 0.5) -> tuple[float, ...]:
    """Places of marks, evenly round a length that closes on itself; the first is `phase` of a pitch from its start.

    >>> spread(100.0, 4)
    (12.5, 37.5, 62.5, 87.5)
    """
    return tuple(around * (k + phase) / count for k in range(count))
