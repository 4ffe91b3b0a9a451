"""A template as PDF pages at true size, with searchable words, that asks the viewer not to scale it."""

from io import BytesIO
from typing import TYPE_CHECKING, Any

from burnsim.report.paper import BOLD, REGULAR, register_fonts
from burnsim.report.template.drawing import CUT, DRILL, FOLD, GUIDE, SCALE, TEXT, Circle, Item, Line, Piece, moved
from burnsim.report.template.pages import JOIN, MARGIN, Sheet, Tile, paginate

if TYPE_CHECKING:
    from collections.abc import Sequence

POINT = 72.0 / 25.4  # points in a millimetre
HEAD, LEADING = 9.0, 4.4  # name on the first page, lines of words under it [mm]
BLEED = 1.8  # of lines and words over the edge of a piece [mm]
SMALL = 2.7  # words at the foot [mm]
STROKES: dict[str, tuple[float, tuple[float, ...]]] = {
    CUT: (0.3, ()),
    DRILL: (0.15, ()),
    GUIDE: (0.12, (1.6, 1.0)),
    FOLD: (0.22, (4.0, 1.0, 0.8, 1.0)),
    TEXT: (0.12, ()),
    SCALE: (0.28, ()),
}
"""Width of each layer's lines and their dashes [mm]."""


def pdf_template(name: str, lines: "Sequence[str]", pieces: "Sequence[Piece]", sheet: Sheet) -> bytes:
    """Lay the pieces out on landscape pages.

    Parameters
    ----------
    name : of the design
    lines : words at the top of the first page
    pieces : what to draw
    sheet : size of the pages
    """
    from reportlab.pdfgen.canvas import Canvas

    register_fonts()
    stream = BytesIO()
    canvas = Canvas(stream, pagesize=(sheet.width * POINT, sheet.height * POINT), invariant=1)
    canvas.setTitle(f"{name}: drilling template")
    canvas.setAuthor("burnsim")
    canvas.setViewerPreference("PrintScaling", "None")
    bars = next((piece for piece in pieces if piece.name == "scale"), None)
    beside = bars.width + 6.0 if bars else 0.0
    words = _wrapped(lines, sheet.room[0] - beside)
    head = max(HEAD + LEADING * len(words), bars.height if bars else 0.0) + 2.0
    drawn = [piece for piece in pieces if piece.name != "scale"]
    tiles = paginate(drawn, sheet, head)
    plain = paginate([piece for piece in drawn if piece.name != "wick"], sheet, head)
    if (
        plain[-1].page < tiles[-1].page
    ):  # a wick is a plain rectangle, whose measures stand in the words: no page for it
        tiles = plain
    last = max(tile.page for tile in tiles)
    for page in range(last + 1):
        if page == 0:
            _head(canvas, name, words, sheet)
            if bars is not None:
                left, bottom = sheet.width - MARGIN - bars.width, sheet.height - MARGIN - bars.height
                for item in bars.items:
                    _item(canvas, moved(item, left, bottom))
        for tile in tiles:
            if tile.page == page:
                _tile(canvas, tile)
        _foot(canvas, f"{name}, page {page + 1} of {last + 1}, {sheet.name}", sheet)
        canvas.showPage()
    canvas.save()
    return stream.getvalue()


def _wrapped(lines: "Sequence[str]", room: float) -> list[str]:
    from reportlab.lib.utils import simpleSplit

    return [part for line in lines for part in simpleSplit(line, REGULAR, 2.9 * POINT, room * POINT)]


def _head(canvas: Any, name: str, words: list[str], sheet: Sheet) -> None:
    top = sheet.height - MARGIN
    _words(canvas, MARGIN, top - 4.5, f"{name}: drilling template", 4.8, font=BOLD)
    for k, line in enumerate(words):
        _words(canvas, MARGIN, top - HEAD - LEADING * k - 1.0, line, 2.9)


def _foot(canvas: Any, text: str, sheet: Sheet) -> None:
    """A bar of 100 mm on every page, for pages may be printed one by one; a long name stands above its words."""
    from reportlab.pdfbase.pdfmetrics import stringWidth

    y = MARGIN + 2.0
    _line(canvas, Line(SCALE, ((MARGIN, y), (MARGIN + 100.0, y))))
    for k in range(11):
        _line(canvas, Line(SCALE, ((MARGIN + 10.0 * k, y), (MARGIN + 10.0 * k, y + (1.5 if k % 5 else 3.0)))))
    beside = "100 mm: check it with a ruler; print at 100 %, not fitted to the page"
    _words(canvas, MARGIN + 103.0, y, beside, SMALL)
    taken = sum(stringWidth(one, REGULAR, SMALL) for one in (beside, text))  # [mm], as is the size
    free = sheet.width - 2.0 * MARGIN - 103.0 - 4.0
    _words(canvas, sheet.width - MARGIN, y + (0.0 if taken <= free else 1.5 * SMALL), text, SMALL, "right")


def _tile(canvas: Any, tile: Tile) -> None:
    part = tile.columns * tile.rows
    which = f" (part {tile.row * tile.columns + tile.column + 1} of {part}: lay join on join)"
    title = tile.piece.title + (which if part > 1 else "")
    _words(canvas, tile.left, tile.bottom + tile.height + 1.8, title, 2.8, font=BOLD)
    canvas.saveState()
    if part > 1:
        left, low, right, high = window(tile)
        path = canvas.beginPath()
        path.rect(left * POINT, low * POINT, (right - left) * POINT, (high - low) * POINT)
        canvas.clipPath(path, stroke=0, fill=0)
    canvas.translate((tile.left - tile.x) * POINT, (tile.bottom - tile.y) * POINT)
    for item in tile.piece.items:
        _item(canvas, item)
    if part > 1:
        _joins(canvas, tile)
    canvas.restoreState()


def window(tile: Tile) -> tuple[float, float, float, float]:
    """What a tile shows: left, low, right, high on the page [mm]; a little more at the piece's own edges."""
    left, right = (tile.left if tile.column else 0.0), (0.0 if tile.column < tile.columns - 1 else BLEED)
    low, high = (0.0 if tile.row else BLEED), (0.0 if tile.row < tile.rows - 1 else BLEED)
    return left, tile.bottom - low, tile.left + tile.width + right, tile.bottom + tile.height + high


def _joins(canvas: Any, tile: Tile) -> None:
    """Dashed lines in the middle of what neighbouring tiles share, with two crosses to lay on each other."""
    right, top = tile.x + tile.width, tile.y + tile.height
    for at, shown, label in (
        (tile.x + JOIN / 2.0, tile.column > 0, tile.column),
        (right - JOIN / 2.0, tile.column < tile.columns - 1, tile.column + 1),
    ):
        if shown:
            _line(canvas, Line(FOLD, ((at, tile.y), (at, top))))
            for share in (0.25, 0.75):
                y = tile.y + share * tile.height
                _line(canvas, Line(SCALE, ((at - 2.0, y - 2.0), (at + 2.0, y + 2.0))))
                _line(canvas, Line(SCALE, ((at - 2.0, y + 2.0), (at + 2.0, y - 2.0))))
            side, align = (1.2, "left") if label == tile.column else (-1.2, "right")
            _words(canvas, at + side, tile.y + 0.45 * tile.height, f"join {chr(64 + label)}", 2.6, align)
    for at, shown, label in (
        (tile.y + JOIN / 2.0, tile.row > 0, tile.row),
        (top - JOIN / 2.0, tile.row < tile.rows - 1, tile.row + 1),
    ):
        if shown:
            _line(canvas, Line(FOLD, ((tile.x, at), (right, at))))
            _words(canvas, tile.x + 0.45 * tile.width, at + 1.2, f"join {label}", 2.6)


def _item(canvas: Any, item: Item) -> None:
    if isinstance(item, Line):
        _line(canvas, item)
    elif isinstance(item, Circle):
        _stroke(canvas, item.layer)
        canvas.circle(item.x * POINT, item.y * POINT, item.diameter / 2.0 * POINT, stroke=1, fill=0)
    else:
        _words(canvas, item.x, item.y, item.text, item.size, item.align, item.turn)


def _line(canvas: Any, line: Line) -> None:
    _stroke(canvas, line.layer)
    path = canvas.beginPath()
    for k, (x, y) in enumerate(line.points):
        (path.moveTo if k == 0 else path.lineTo)(x * POINT, y * POINT)
    if line.closed:
        path.close()
    canvas.drawPath(path, stroke=1, fill=0)


def _stroke(canvas: Any, layer: str) -> None:
    width, dash = STROKES[layer]
    canvas.setLineWidth(width * POINT)
    canvas.setDash([part * POINT for part in dash])


def _words(
    canvas: Any, x: float, y: float, text: str, size: float, align: str = "left", turn: float = 0.0, font: str = REGULAR
) -> None:
    canvas.saveState()
    canvas.setFont(font, size * POINT)
    canvas.translate(x * POINT, y * POINT)
    canvas.rotate(turn)
    draw = {"left": canvas.drawString, "middle": canvas.drawCentredString, "right": canvas.drawRightString}[align]
    draw(0.0, 0.0, text)
    canvas.restoreState()
