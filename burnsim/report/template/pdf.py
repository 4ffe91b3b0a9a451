"""A template as PDF pages at true size, with searchable words, that asks the viewer not to scale it."""

from collections.abc import Sequence
from io import BytesIO
from typing import Any

from burnsim.plots.letters import shortened, text_width, wrapped
from burnsim.report.paper import BOLD, REGULAR, register_fonts
from burnsim.report.template.drawing import CUT, DRILL, FOLD, MARK, TEXT, Circle, Item, Line, Piece, moved
from burnsim.report.template.pages import JOIN, LEADING, MARGIN, NAME, TITLE, WORDS, Sheet, Tile, paginate, title_height

POINT = 72.0 / 25.4  # points in a millimetre
BLEED = 1.8  # of lines and words over the edge of a piece [mm]
SMALL = 2.7  # words at the foot [mm]
STROKES: dict[str, tuple[float, tuple[float, ...]]] = {
    CUT: (0.3, ()),
    DRILL: (0.15, ()),
    MARK: (0.12, ()),
    FOLD: (0.22, (4.0, 1.0, 0.8, 1.0)),
    TEXT: (0.12, ()),
}
"""Width of each layer's lines and their dashes [mm]."""
DASHES = (1.6, 1.0)  # of a dashed line on any layer [mm]


def pdf_template(name: str, lines: Sequence[str], pieces: Sequence[Piece], sheet: Sheet) -> bytes:
    """Lay the pieces out on landscape pages, with some lines of words at the top of the first."""
    from reportlab.pdfgen.canvas import Canvas

    register_fonts()
    stream = BytesIO()
    canvas = Canvas(stream, pagesize=(sheet.width * POINT, sheet.height * POINT))
    canvas.setTitle(name)
    canvas.setAuthor("burnsim")
    canvas.setViewerPreference("PrintScaling", "None")
    bars = next((piece for piece in pieces if piece.name == "scale"), None)
    room = sheet.room[0] - (bars.width + 6.0 if bars else 0.0)
    title = wrapped(name, room, NAME[0], "bold")
    words = [part for line in lines for part in wrapped(line, room, WORDS[0])]
    head = max(NAME[1] * len(title) + WORDS[1] * len(words) + 1.0, bars.height if bars else 0.0) + 3.0
    tiles = paginate([piece for piece in pieces if piece.name != "scale"], sheet, head)
    last = max(tile.page for tile in tiles)
    y = sheet.height - MARGIN + 1.2
    for parts, (size, leading), font in ((title, NAME, BOLD), (words, WORDS, REGULAR)):
        for part in parts:
            y -= leading
            _words(canvas, MARGIN, y, part, size, font=font)
    if bars is not None:
        for item in bars.items:
            _item(canvas, moved(item, sheet.width - MARGIN - bars.width, sheet.height - MARGIN - bars.height))
    for page in range(last + 1):
        for tile in tiles:
            if tile.page == page:
                _tile(canvas, tile)
        _foot(canvas, name, f", page {page + 1} of {last + 1}, {sheet.name}", sheet)
        canvas.showPage()
    canvas.save()
    return stream.getvalue()


def _foot(canvas: Any, name: str, page: str, sheet: Sheet) -> None:
    """A bar of 100 mm on every page, for pages may be printed one by one; a long name is shortened."""
    y = MARGIN + 2.0
    _line(canvas, Line(MARK, ((MARGIN, y), (MARGIN + 100.0, y))))
    for k in range(11):
        _line(canvas, Line(MARK, ((MARGIN + 10.0 * k, y), (MARGIN + 10.0 * k, y + (1.5 if k % 5 else 3.0)))))
    beside = "100 mm: check it with a ruler; print at 100 %, not fitted to the page".replace(
        "0 ", "0\N{NO-BREAK SPACE}"
    )
    _words(canvas, MARGIN + 103.0, y, beside, SMALL)
    free = sheet.width - 2.0 * MARGIN - 103.0 - 6.0 - text_width(beside + page, SMALL)
    _words(canvas, sheet.width - MARGIN, y, shortened(name, free, SMALL) + page, SMALL, "right")


def _tile(canvas: Any, tile: Tile) -> None:
    part = tile.columns * tile.rows
    which = f", part {tile.row * tile.columns + tile.column + 1} of {part}: lay join on join" if part > 1 else ""
    y = tile.bottom + tile.height + title_height(tile.piece)
    for k, line in enumerate(tile.piece.title):
        y -= LEADING
        _words(canvas, tile.left, y + 0.6, line + ("" if k else which), TITLE, font=REGULAR if k else BOLD)
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
    upright = {tile.column: tile.x + JOIN / 2.0, tile.column + 1: right - JOIN / 2.0}
    level = {tile.row: tile.y + JOIN / 2.0, tile.row + 1: top - JOIN / 2.0}
    for label, at in upright.items():
        if 0 < label < tile.columns:
            _line(canvas, Line(FOLD, ((at, tile.y), (at, top))))
            for y in (tile.y + 0.25 * tile.height, tile.y + 0.75 * tile.height):
                for up in (-2.0, 2.0):
                    _line(canvas, Line(MARK, ((at - 2.0, y + up), (at + 2.0, y - up))))
            side, align = (1.2, "left") if label == tile.column else (-1.2, "right")
            _words(canvas, at + side, tile.y + 0.45 * tile.height, f"join {chr(64 + label)}", 2.6, align)
    for label, at in level.items():
        if 0 < label < tile.rows:
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
    _stroke(canvas, line.layer, line.dashed)
    path = canvas.beginPath()
    for k, (x, y) in enumerate(line.points):
        (path.moveTo if k == 0 else path.lineTo)(x * POINT, y * POINT)
    if line.closed:
        path.close()
    canvas.drawPath(path, stroke=1, fill=0)


def _stroke(canvas: Any, layer: str, dashed: bool = False) -> None:
    width, dash = STROKES[layer]
    canvas.setLineWidth(width * POINT)
    canvas.setDash([part * POINT for part in (DASHES if dashed else dash)])


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
