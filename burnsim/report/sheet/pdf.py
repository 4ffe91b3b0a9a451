"""A sheet as pages of PDF: words set by reportlab, pictures laid in as vector drawings, all of it searchable."""

from collections.abc import Sequence
from io import BytesIO
from typing import Any, NamedTuple
from xml.sax.saxutils import escape

from burnsim.plots.letters import shortened
from burnsim.report.paper import BOLD, REGULAR, Paper, register_fonts
from burnsim.report.sheet.blocks import Block, Bullets, Form, Heading, Pair, Picture, Sheet, Table, Words
from burnsim.report.sheet.pictures import as_pdf

POINT = 72.0 / 25.4
MARGIN = 13.0  # [mm]
SIZE, SMALL = 7.6, 6.6  # letters [points]
GUTTER = 10.0  # between the sides of a pair [points]


class Spot(NamedTuple):
    """Where a picture was left room for: page (from 0), lower left corner and width [points]."""

    picture: Picture
    page: int
    x: float
    y: float
    width: float


def pdf_sheet(sheet: Sheet, paper: Paper) -> bytes:
    """Set a sheet on pages.

    Parameters
    ----------
    sheet : its blocks
    paper : size of the pages, upright
    """
    from reportlab.platypus import SimpleDocTemplate

    register_fonts()
    spots: list[Spot] = []
    width = (paper.width - 2.0 * MARGIN) * POINT
    stream = BytesIO()
    document = SimpleDocTemplate(
        stream,
        pagesize=(paper.width * POINT, paper.height * POINT),
        leftMargin=MARGIN * POINT - 6.0,
        rightMargin=MARGIN * POINT - 6.0,
        topMargin=MARGIN * POINT - 6.0,
        bottomMargin=MARGIN * POINT,
        title=sheet.title,
        author="burnsim",
    )
    styles = _styles()
    story: list[Any] = [_paragraph(sheet.title, styles["title"]), _paragraph(sheet.subtitle, styles["words"])]
    story += _set(sheet.blocks, width, styles, spots)

    def foot(canvas: Any, _: Any) -> None:
        canvas.setFont(REGULAR, SMALL)
        y = 0.55 * MARGIN * POINT
        canvas.drawString(MARGIN * POINT, y, f"{shortened(sheet.title, 0.7 * width, SMALL)}: {sheet.foot}")
        canvas.drawRightString((paper.width - MARGIN) * POINT, y, f"page {canvas.getPageNumber()}")

    document.build(story, onFirstPage=foot, onLaterPages=foot)
    return _with_pictures(stream.getvalue(), spots)


def _with_pictures(pages: bytes, spots: Sequence[Spot]) -> bytes:
    """Lay each picture's page into the room that was left for it."""
    from pypdf import PdfReader, PdfWriter, Transformation

    writer = PdfWriter(clone_from=BytesIO(pages))
    for spot in spots:
        drawn = PdfReader(BytesIO(as_pdf(spot.picture))).pages[0]
        scale = spot.width / float(drawn.mediabox.width)
        writer.pages[spot.page].merge_transformed_page(
            drawn, Transformation().scale(scale).translate(spot.x, spot.y), expand=False
        )
    for page in writer.pages:
        page.compress_content_streams()
    out = BytesIO()
    writer.write(out)
    return out.getvalue()


def _styles() -> dict[str, Any]:
    from reportlab.lib.styles import ParagraphStyle

    words = ParagraphStyle("words", fontName=REGULAR, fontSize=SIZE, leading=1.3 * SIZE, spaceAfter=2.5)
    return {
        "words": words,
        "small": ParagraphStyle("small", parent=words, fontSize=SMALL, leading=1.25 * SMALL),
        "cell": ParagraphStyle("cell", parent=words, fontSize=SMALL + 0.2, leading=1.2 * SMALL, spaceAfter=0.0),
        "head": ParagraphStyle(
            "head", parent=words, fontName=BOLD, fontSize=SMALL, leading=1.2 * SMALL, spaceAfter=0.0
        ),
        "title": ParagraphStyle("title", parent=words, fontName=BOLD, fontSize=14.0, leading=17.0),
        "heading": ParagraphStyle(
            "heading", parent=words, fontName=BOLD, fontSize=9.0, leading=11.0, spaceBefore=6.0, spaceAfter=2.5,
            keepWithNext=1,
        ),
        "bullet": ParagraphStyle(
            "bullet", parent=words, leftIndent=11.0, spaceAfter=1.2, bulletFontName=REGULAR, bulletFontSize=SIZE
        ),
    }  # fmt: skip


def _paragraph(text: str, style: Any, bullet: str | None = None) -> Any:
    from reportlab.platypus import Paragraph

    return Paragraph(escape(text), style, bulletText=bullet)


def _set(blocks: Sequence[Block], width: float, styles: dict[str, Any], spots: list[Spot]) -> list[Any]:
    from reportlab.platypus import PageBreak

    story: list[Any] = []
    for block in blocks:
        if isinstance(block, Heading):
            story.append(_paragraph(block.text, styles["heading"]))
        elif isinstance(block, Words):
            story.append(_paragraph(block.text, styles["small" if block.small else "words"]))
        elif isinstance(block, Bullets):
            for k, line in enumerate(block.lines, 1):
                story.append(_paragraph(line, styles["bullet"], f"{k}" if block.numbered else "\u2022"))
        elif isinstance(block, Table):
            story.append(_table(block, width, styles))
        elif isinstance(block, Picture):
            story.append(_room(block, width, spots))
        elif isinstance(block, Pair):
            story.append(_pair(block, width, styles, spots))
        elif isinstance(block, Form):
            story += _form(block, width, styles)
        else:
            story.append(PageBreak())
    return story


def _room(picture: Picture, width: float, spots: list[Spot]) -> Any:
    """Room for a picture, which remembers where it came to lie."""
    from reportlab.platypus import Flowable

    own = min(width, picture.width * 72.0)

    class Room(Flowable):  # type: ignore[misc]  # the library states no types
        def wrap(self, available: float, _: float) -> tuple[float, float]:
            return own, own * picture.height / picture.width

        def draw(self) -> None:
            x, y = self.canv.absolutePosition(0.0, 0.0)
            spots.append(Spot(picture, self.canv.getPageNumber() - 1, x, y, own))

    return Room()


def _table(table: Table, width: float, styles: dict[str, Any]) -> Any:
    from reportlab.platypus import Table as Grid

    cells = [[_paragraph(cell, styles["head"]) for cell in table.head]]
    cells += [[_paragraph(cell, styles["cell"]) for cell in row] for row in table.rows]
    whole = sum(table.widths)
    return Grid(
        cells,
        colWidths=[width * share / whole for share in table.widths],
        hAlign="LEFT",
        spaceAfter=3.0,
        repeatRows=1,
        style=[
            ("LINEBELOW", (0, 0), (-1, 0), 0.7, "black"),
            ("LINEBELOW", (0, 1), (-1, -1), 0.2, "grey"),
            ("VALIGN", (0, 0), (-1, -1), "TOP"),
            ("LEFTPADDING", (0, 0), (-1, -1), 0.0),
            ("RIGHTPADDING", (0, 0), (-1, -1), 4.0),
            ("TOPPADDING", (0, 0), (-1, -1), 1.0),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 1.2),
        ],
    )


def _pair(pair: Pair, width: float, styles: dict[str, Any], spots: list[Spot]) -> Any:
    from reportlab.platypus import Table as Grid

    left = (width - GUTTER) * pair.share
    right = width - GUTTER - left
    return Grid(
        [[_set(pair.left, left, styles, spots), "", _set(pair.right, right, styles, spots)]],
        colWidths=[left, GUTTER, right],
        hAlign="LEFT",
        spaceBefore=5.0,
        style=[
            ("VALIGN", (0, 0), (-1, -1), "TOP"),
            ("LEFTPADDING", (0, 0), (-1, -1), 0.0),
            ("RIGHTPADDING", (0, 0), (-1, -1), 0.0),
            ("TOPPADDING", (0, 0), (-1, -1), 0.0),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 0.0),
        ],
    )


def _form(form: Form, width: float, styles: dict[str, Any]) -> list[Any]:
    from reportlab.platypus import Spacer
    from reportlab.platypus import Table as Grid

    columns = 3
    fields = [*form.fields, *[("", "")] * (-len(form.fields) % columns)]
    cells: list[list[Any]] = []
    for k in range(0, len(fields), columns):
        row: list[Any] = []
        for what, beside in fields[k : k + columns]:
            row += [_paragraph(what, styles["cell"]), _paragraph(beside, styles["cell"]), ""]
        cells.append(row)
    third = (width - 2.0 * GUTTER) / columns
    widths = ([0.62 * third, 0.38 * third, GUTTER] * columns)[: 3 * columns]
    lined = [
        ("LINEBELOW", (3 * k, row), (3 * k + 1, row), 0.3, "black")
        for k in range(columns)
        for row in range(len(cells))
        if fields[row * columns + k][0]
    ]
    blanks = Grid(
        cells,
        colWidths=[*widths[:-1], 0.1],
        rowHeights=[17.0] * len(cells),
        hAlign="LEFT",
        style=[*lined, ("VALIGN", (0, 0), (-1, -1), "BOTTOM"), ("LEFTPADDING", (0, 0), (-1, -1), 0.0)],
    )
    head = [_paragraph(cell, styles["head"]) for cell in form.columns]
    rows = Grid(
        [head, *[[""] * len(form.columns) for _ in range(form.rows)]],
        colWidths=[width * share for share in (0.16, 0.16, 0.2, 0.48)],
        rowHeights=[14.0] + [17.0] * form.rows,
        hAlign="LEFT",
        style=[("GRID", (0, 0), (-1, -1), 0.3, "grey"), ("VALIGN", (0, 0), (-1, 0), "MIDDLE")],
    )
    return [blanks, Spacer(1.0, 8.0), rows]
