"""A sheet as pages of PDF: words set by reportlab, pictures laid in as vector drawings, all of it searchable."""

from collections.abc import Iterator, Sequence
from datetime import date
from io import BytesIO
from math import inf
from typing import Any, Literal, NamedTuple
from xml.sax.saxutils import escape

from burnsim.plots.letters import shortened, text_width
from burnsim.report.paper import BOLD, REGULAR, Paper, register_fonts
from burnsim.report.sheet.blocks import (
    Answers,
    Block,
    Bullets,
    Fold,
    Form,
    Heading,
    Pair,
    Picture,
    Sheet,
    Table,
    Words,
    held,
    pages,
)
from burnsim.report.sheet.pictures import as_pdf

POINT = 72.0 / 25.4
MARGIN = 13.0  # [mm]
SIZE, SMALL, LARGE, TITLE = 7.6, 6.6, 18.0, 15.0  # letters [points]
HEAD = 0.8  # letters of a large table's head, as a share of its cells
PAD = 6.0  # right of the words in a table's cell [points]
GUTTER = 10.0  # between the sides of a pair [points]


LOWEST, HIGHEST = 0.7, 1.9  # how far a picture's height gives way to fill a page, as a share of its own
TRIALS = 7  # halvings of the step in which pictures grow
READABLE = 0.93  # share of the usual letters from which pictures give way
LETTER_STEP = 0.06  # by which letters shrink until a page holds all


class Spot(NamedTuple):
    """Where a picture was left room for: page (from 0), lower left corner and size [points]."""

    picture: Picture
    page: int
    x: float
    y: float
    width: float
    height: float


class Title(NamedTuple):
    """The head of the first page."""

    title: str
    subtitle: str


class Setting(NamedTuple):
    """How a page is set: the styles of its letters, how far its pictures are stretched, and where they come to lie."""

    styles: dict[str, Any]
    stretch: float
    spots: list[Spot]


def pdf_sheet(sheet: Sheet, paper: Paper) -> bytes:
    """Set a sheet on pages: letters as large as the fullest page holds, and pictures as high as fills each page."""
    from reportlab.platypus import PageBreak, SimpleDocTemplate

    register_fonts()
    spots: list[Spot] = []
    width, height = (paper.width - 2.0 * MARGIN) * POINT, (paper.height - 2.0 * MARGIN) * POINT - 6.0
    first, *others = pages(sheet.blocks)
    parts: list[tuple[Block | Title, ...]] = [(Title(sheet.title, sheet.subtitle), *first), *others]
    letters = _letters(parts, width, height, sheet.letters)
    today = date.today()
    made = f"made {today.day} {today:%B %Y}"

    def build(total: int) -> tuple[bytes, int]:
        spots.clear()
        story: list[Any] = []
        for part in parts:
            setting = Setting(_styles(letters), _stretch(part, width, height, letters), spots)
            story += [*([PageBreak()] if story else []), *_set(part, width, setting)]

        def foot(canvas: Any, _: Any) -> None:
            canvas.setFont(REGULAR, SMALL)
            y = 0.55 * MARGIN * POINT
            right = f"{made}, page {canvas.getPageNumber()} of {total}"
            name = shortened(sheet.title, width - text_width(f": {sheet.foot}{right}", SMALL) - 20.0, SMALL)
            canvas.drawString(MARGIN * POINT, y, f"{name}: {sheet.foot}")
            canvas.drawRightString((paper.width - MARGIN) * POINT, y, right)

        stream = BytesIO()
        side = MARGIN * POINT - 6.0
        document = SimpleDocTemplate(
            stream, pagesize=(paper.width * POINT, paper.height * POINT), leftMargin=side, rightMargin=side,
            topMargin=side, bottomMargin=MARGIN * POINT, title=sheet.title, author="burnsim", subject=sheet.foot,
            creator="burnsim", initialFontName=REGULAR,
        )  # fmt: skip
        document.build(story, onFirstPage=foot, onLaterPages=foot)
        return stream.getvalue(), document.page

    data, count = build(len(parts))
    if count != len(parts):
        data, count = build(count)
    return _with_pictures(data, spots)


def _letters(
    parts: Sequence[Sequence[Block | Title]], width: float, height: float, bounds: tuple[float, float]
) -> float:
    """The largest letters with which every page holds its part: pictures give way before letters get small."""
    low, high = bounds
    tried = (*((stretch, max(low, READABLE)) for stretch in (1.0, 0.9, 0.8, LOWEST)), (LOWEST, low))
    for stretch, least in tried:
        share = high
        while share >= least - 1e-9:
            if all(_height(part, width, share, stretch) <= height for part in parts):
                return share
            share -= LETTER_STEP
    return low


def _stretch(part: Sequence[Block | Title], width: float, height: float, letters: float) -> float:
    """How far the pictures of a page may be stretched."""
    low, high = LOWEST, HIGHEST
    if _height(part, width, letters, high) <= height:
        return high
    for _ in range(TRIALS):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if _height(part, width, letters, middle) <= height else (low, middle)
    return low


def _height(part: Sequence[Block | Title], width: float, letters: float, stretch: float) -> float:
    """How high blocks come to stand [points]; infinite if a table's figures do not fit their columns."""
    if any(isinstance(one, Table) and _cut(one, width, letters) for one in part):
        return inf
    total = after = 0.0
    for k, piece in enumerate(_set(part, width, Setting(_styles(letters), stretch, []))):
        before = piece.getSpaceBefore() if k else 0.0
        total += max(before, after) + piece.wrap(width, 1e5)[1]
        after = piece.getSpaceAfter()
    return total


def _cut(table: Table, width: float, letters: float) -> bool:
    """Whether a word or figure of a table is longer than its column is wide."""
    size = (SMALL * letters + 0.2) * table.size
    above = size * (HEAD if table.size != 1.0 else 1.0)
    room = [width * share / sum(table.widths) - PAD for share in table.widths]

    def too_long(cells: Sequence[str], letter: float, weight: Literal["regular", "bold"]) -> bool:
        """Whether a word of these cells is too long."""
        words = ((k, word) for k, cell in enumerate(cells) for word in held(cell).split(" "))
        return any(text_width(word, letter, weight) > room[k] for k, word in words)

    return too_long(table.head, above, "bold") or any(too_long(row, size, "regular") for row in table.rows)


def _with_pictures(pages: bytes, spots: Sequence[Spot]) -> bytes:
    """Lay each picture, as a form that a page names, into the room that was left for it."""
    from pypdf import PdfReader, PdfWriter
    from pypdf.generic import ArrayObject, DecodedStreamObject, DictionaryObject, NameObject

    if not spots:
        return pages
    writer = PdfWriter(clone_from=BytesIO(pages))
    drawings = as_pdf((spot.picture, spot.width / 72.0, spot.height / 72.0) for spot in spots)
    forms = DictionaryObject()
    lines = [""] * len(writer.pages)
    for spot, drawn in zip(spots, PdfReader(BytesIO(drawings)).pages, strict=True):
        form = drawn.raw_get("/Contents").clone(writer)
        form.get_object().update({
            NameObject("/Type"): NameObject("/XObject"), NameObject("/Subtype"): NameObject("/Form"),
            NameObject("/BBox"): drawn.mediabox, NameObject("/Resources"): drawn.raw_get("/Resources").clone(writer),
        })  # fmt: skip
        forms[NameObject(f"/{spot.picture.name}")] = form
        lines[spot.page] += f"q 1 0 0 1 {spot.x:.3f} {spot.y:.3f} cm /{spot.picture.name} Do Q\n"
    for page, line in zip(writer.pages, lines, strict=True):
        shown = DecodedStreamObject()
        shown.set_data(line.encode())
        page[NameObject("/Contents")] = ArrayObject([writer._add_object(shown), page.raw_get("/Contents")])
        resources: Any = page["/Resources"].get_object()
        resources[NameObject("/XObject")] = forms
    out = BytesIO()
    writer.write(out)
    return out.getvalue()


def _styles(letters: float = 1.0) -> dict[str, Any]:
    """Styles of all letters, at a share of their usual size."""
    from reportlab.lib.styles import ParagraphStyle

    size, small, title = SIZE * letters, SMALL * letters, TITLE * max(1.0, 0.7 * letters)
    words = ParagraphStyle("words", fontName=REGULAR, fontSize=size, leading=1.3 * size, spaceAfter=2.5)
    cell = words.clone("cell", fontSize=small + 0.2, leading=1.2 * small, spaceAfter=0.0)
    head = cell.clone("head", fontName=BOLD, fontSize=small)
    answer = cell.clone("answer", fontName=BOLD, fontSize=LARGE, leading=1.15 * LARGE, spaceAfter=3.0)
    return {
        "words": words, "small": words.clone("small", fontSize=small, leading=1.25 * small), "cell": cell,
        "cell right": cell.clone("cell right", alignment=2), "head": head,
        "head right": head.clone("head right", alignment=2), "answer": answer,
        "title": words.clone("title", fontName=BOLD, fontSize=title, leading=1.2 * title),
        "heading": words.clone(
            "heading", fontName=BOLD, fontSize=9.0 * letters, leading=11.0 * letters, spaceBefore=6.0, keepWithNext=1
        ),
        "bullet": words.clone(
            "bullet", leftIndent=1.4 * size, spaceAfter=1.2, bulletFontName=REGULAR, bulletFontSize=size
        ),
        "answer in words": answer.clone("answer in words", fontSize=0.68 * LARGE, leading=0.78 * LARGE),
    }  # fmt: skip


def _paragraph(text: str, style: Any, bullet: str | None = None) -> Any:
    from reportlab.platypus import Paragraph

    return Paragraph(escape(held(text)), style, bulletText=bullet)


def _grid(
    cells: list[list[Any]], widths: list[float], *style: Any, pads: tuple[float, float, float, float] | None = None,
    valign: str = "TOP", heights: list[float] | None = None, before: float = 0.0, after: float = 0.0, head: int = 0,
) -> Any:  # fmt: skip
    """A table of paragraphs at the left; `pads` are left, right, above and below [points]."""
    from reportlab.platypus import Table as Grid

    whole = (0, 0), (-1, -1)
    sides = ("LEFTPADDING", "RIGHTPADDING", "TOPPADDING", "BOTTOMPADDING")
    padded = [(side, *whole, pad) for side, pad in zip(sides, pads or (), strict=False)]
    return Grid(
        cells, colWidths=widths, rowHeights=heights, hAlign="LEFT", spaceBefore=before, spaceAfter=after,
        repeatRows=head, style=[("FONTNAME", *whole, REGULAR), ("VALIGN", *whole, valign), *padded, *style],
    )  # fmt: skip


def _set(blocks: Sequence[Block | Title], width: float, setting: Setting) -> list[Any]:
    story: list[Any] = []
    styles = setting.styles
    for block in blocks:
        match block:
            case Title():
                story += [_paragraph(block.title, styles["title"]), _paragraph(block.subtitle, styles["words"])]
            case Heading():
                story.append(_paragraph(block.text, styles["heading"]))
            case Words():
                story.append(_paragraph(block.text, styles["small" if block.small else "words"]))
            case Bullets():
                story += _bullets(block, styles["bullet"])
            case Answers():
                story.append(_answers(block, width, styles))
            case Table():
                story.append(_table(block, width, styles))
            case Picture():
                story.append(_room(block, width, setting))
            case Pair():
                story.append(_pair(block, width, setting))
            case Form():
                story += _form(block, width, styles)
            case Fold():
                if not isinstance(block.blocks[0], Pair):  # each side has a heading of its own
                    story.append(_paragraph(block.heading, styles["heading"]))
                story += _set(block.blocks, width, setting)
    return story


def _bullets(block: Bullets, style: Any) -> Iterator[Any]:
    if block.numbered and len(block.lines) > 9:
        style = style.clone("two digits", leftIndent=1.4 * style.leftIndent)
    for k, line in enumerate(block.lines, 1):
        yield _paragraph(line, style, str(k) if block.numbered else "\u2022")


def _answers(block: Answers, width: float, styles: dict[str, Any]) -> Any:
    """Boxes side by side, each with its question, its answer in large letters and what belongs to it."""
    count = len(block.answers)
    gap, pad = 6.0, 5.0
    own = (width - gap * (count - 1)) / count
    cells: list[Any] = []
    for one in block.answers:
        large = text_width(one.answer, LARGE, "bold") <= own - 2.0 * pad - 1.0
        cell = [_paragraph(one.question, styles["small"])]
        cell.append(_paragraph(one.answer, styles["answer" if large else "answer in words"]))
        cell += [_paragraph(line, styles["cell"]) for line in one.below]
        cells += [cell, ""]
    boxes = [("BOX", (2 * k, 0), (2 * k, 0), 0.6, "black") for k in range(count)]
    return _grid([cells[:-1]], ([own, gap] * count)[:-1], *boxes, pads=(pad, pad, 2.5, 4.0), before=4.0, after=6.0)


def _room(picture: Picture, width: float, setting: Setting) -> Any:
    """Room for a picture, which remembers where it came to lie."""
    from reportlab.platypus import Flowable

    own = min(width, picture.width * 72.0)
    high = own * picture.height / picture.width * setting.stretch

    class Room(Flowable):  # type: ignore[misc]  # the library states no types
        def wrap(self, available: float, _: float) -> tuple[float, float]:
            return own, high

        def draw(self) -> None:
            x, y = self.canv.absolutePosition(0.0, 0.0)
            setting.spots.append(Spot(picture, self.canv.getPageNumber() - 1, x, y, own, high))

    return Room()


def _table(table: Table, width: float, styles: dict[str, Any]) -> Any:
    if table.size != 1.0:
        shares = {"head": HEAD * table.size, "cell": table.size}
        styles = dict(styles)
        for name in ("head", "head right", "cell", "cell right"):
            style, share = styles[name], shares[name.removesuffix(" right")]
            styles[name] = style.clone(name, fontSize=share * style.fontSize, leading=share * style.leading)
    cells = [
        [_paragraph(cell, styles[kind + (" right" if k in table.right else "")]) for k, cell in enumerate(row)]
        for kind, rows in (("head", (table.head,)), ("cell", table.rows))
        for row in rows
    ]
    widths = [width * share / sum(table.widths) for share in table.widths]
    lines = ("LINEBELOW", (0, 0), (-1, 0), 0.7, "black"), ("LINEBELOW", (0, 1), (-1, -1), 0.2, "grey")
    return _grid(cells, widths, *lines, pads=(0.0, PAD, 1.0, 1.2), after=3.0, head=1)


def _pair(pair: Pair, width: float, setting: Setting) -> Any:
    left = (width - GUTTER) * pair.share
    right = width - GUTTER - left
    sides = [_set(pair.left, left, setting), "", _set(pair.right, right, setting)]
    return _grid([sides], [left, GUTTER, right], pads=(0.0, 0.0, 0.0, 0.0), before=5.0, after=3.0)


def _form(form: Form, width: float, styles: dict[str, Any]) -> list[Any]:
    from reportlab.platypus import Spacer

    columns = 3
    fields = [*form.fields, *[("", "")] * (-len(form.fields) % columns)]
    left, right = styles["cell"], styles["cell right"]
    parts = [part for what, beside in fields for part in (_paragraph(what, left), _paragraph(beside, right), "")]
    cells = [parts[k : k + 3 * columns] for k in range(0, len(parts), 3 * columns)]
    third = (width - 2.0 * GUTTER) / columns
    widths = [0.62 * third, 0.38 * third, GUTTER] * columns
    lined = [
        ("LINEBELOW", (3 * k, row), (3 * k + 1, row), 0.3, "black")
        for k in range(columns)
        for row in range(len(cells))
        if fields[row * columns + k][0]
    ]
    blanks = _grid(
        cells, [*widths[:-1], 0.1], *lined, ("LEFTPADDING", (0, 0), (-1, -1), 0.0), valign="BOTTOM",
        heights=[17.0] * len(cells),
    )  # fmt: skip
    head = [_paragraph(cell, styles["head"]) for cell in form.columns]
    count, half = len(form.columns), (len(form.rows) + 1) // 2
    empty = [""] * (count - 1)
    printed = [[_paragraph(cell, styles["cell right"]), *empty] for cell in form.rows]
    printed += [[""] * count] * (2 * half - len(printed))
    own = [0.2 * (width - GUTTER) / 2.0] + [0.8 * (width - GUTTER) / 2.0 / (count - 1)] * (count - 1)
    rows = _grid(
        [[*head, "", *head], *[[*printed[k], "", *printed[half + k]] for k in range(half)]], [*own, GUTTER, *own],
        ("GRID", (0, 0), (count - 1, -1), 0.3, "grey"), ("GRID", (count + 1, 0), (-1, -1), 0.3, "grey"),
        valign="MIDDLE", heights=[14.0] + [16.0] * half, after=6.0,
    )  # fmt: skip
    return [blanks, Spacer(1.0, 8.0), rows]
