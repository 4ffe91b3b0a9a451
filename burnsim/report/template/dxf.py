"""A template as a DXF drawing in millimetres, one layer for each kind of line.

A laser cuts the layers CUT and DRILL; cross-hairs, guides and scale bars lie on MARK.
"""

from collections.abc import Sequence
from io import StringIO

from burnsim.report.template.drawing import (
    CUT,
    DRILL,
    FOLD,
    LAYERS,
    MARK,
    TEXT,
    Circle,
    Item,
    Line,
    Piece,
    moved,
)
from burnsim.report.template.pages import LEADING, TITLE, title_height

GAP = 12.0  # between pieces [mm]
COLOURS = {CUT: 1, DRILL: 6, MARK: 8, FOLD: 5, TEXT: 3}
TYPES = {FOLD: "DASHDOT"}
LETTER = 0.7  # height of a capital over the em


def dxf_template(name: str, lines: Sequence[str], pieces: Sequence[Piece]) -> str:
    """Write the pieces above each other, the first at the top, from the origin down; x and y in millimetres."""
    import ezdxf
    from ezdxf.enums import TextEntityAlignment

    aligned = {
        "left": TextEntityAlignment.LEFT,
        "middle": TextEntityAlignment.CENTER,
        "right": TextEntityAlignment.RIGHT,
    }
    drawing = ezdxf.new("R2010", setup=["linetypes"], units=4)  # millimetres
    drawing.header["$MEASUREMENT"] = 1
    for layer in LAYERS:
        drawing.layers.add(layer.upper(), color=COLOURS[layer], linetype=TYPES.get(layer, "CONTINUOUS"))
    space = drawing.modelspace()

    def words(text: str, x: float, y: float, size: float, align: str = "left", turn: float = 0.0) -> None:
        entity = space.add_text(
            text, height=LETTER * size, rotation=turn, dxfattribs={"layer": TEXT.upper(), "style": "STANDARD"}
        )
        entity.set_placement((x, y), align=aligned[align])

    def draw(item: Item) -> None:
        if isinstance(item, Circle):
            space.add_circle((item.x, item.y), item.diameter / 2.0, dxfattribs={"layer": item.layer.upper()})
        elif isinstance(item, Line):
            own = {"layer": item.layer.upper()} | ({"linetype": "DASHED"} if item.dashed else {})
            space.add_lwpolyline(item.points, close=item.closed, dxfattribs=own)
        else:
            words(item.text, item.x, item.y, item.size, item.align, item.turn)

    head = 8.0 + 4.2 * len(lines)
    words(f"{name}, millimetres", 0.0, head - 4.0, 4.5)
    for k, line in enumerate(lines):
        words(line, 0.0, head - 10.0 - 4.2 * k, 2.8)
    top = 0.0
    for piece in pieces:
        foot = top - title_height(piece) - piece.height
        for k, line in enumerate(piece.title):
            words(line, 0.0, top - LEADING * (k + 1) + 0.6, TITLE)
        for item in piece.items:
            draw(moved(item, 0.0, foot))
        top = foot - GAP
    stream = StringIO()
    drawing.write(stream)
    return stream.getvalue()
