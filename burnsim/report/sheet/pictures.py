"""Pictures of a sheet, drawn once each, as vector drawings for a page of PDF or of HTML."""

import re
from collections.abc import Iterable
from io import BytesIO, StringIO
from typing import TYPE_CHECKING

from burnsim.plots.letters import FAMILY, STACK
from burnsim.plots.style import in_style

if TYPE_CHECKING:
    from matplotlib.backend_bases import FigureCanvasBase
    from matplotlib.figure import Figure

    from burnsim.report.sheet.blocks import Picture

LETTERS = {"font.size": 7.5, "axes.titlesize": 8.5, "axes.linewidth": 0.6, "hatch.linewidth": 0.5}
ON_SCREEN = LETTERS | {"font.size": 9.0, "axes.titlesize": 9.5}


def as_svg(picture: "Picture", *, narrow: bool = True, ground: bool = True) -> str:
    """A picture as an SVG element to set into a page, for a phone if `narrow`; its words stay words.

    It has a white ground of its own, or lies on that of the page.
    """
    import matplotlib as mpl
    from matplotlib.backends.backend_svg import FigureCanvasSVG

    size, name = (picture.narrow, f"{picture.name}-narrow") if narrow else (picture.wide, picture.name)
    settings = {**ON_SCREEN, "svg.fonttype": "none", "svg.hashsalt": name, "savefig.transparent": not ground}
    stream = StringIO()
    with in_style(), mpl.rc_context(settings):
        _drawn(picture, FigureCanvasSVG, *size).savefig(stream, format="svg", metadata={"Date": None})
    text = stream.getvalue()
    text = text[text.index("<svg") :]
    text = re.sub(r"<metadata>.*?</metadata>", "", text, flags=re.DOTALL)
    text = re.sub(r'\bid="([^"]+)"', rf'id="{name}-\1"', text)  # ids are unique in the whole page
    text = re.sub(r"(xlink:href=\"|url\()#", rf"\g<1>#{name}-", text)
    text = text.replace('xlink:href="#', 'href="#')
    text = re.sub(r' width="[\d.]+pt"| height="[\d.]+pt"', "", text, count=2)
    text = re.sub(rf"font: ([^;]*?)'{FAMILY}'[^;\"]*", rf"font: \1{STACK}", text)
    return text.replace("<svg ", '<svg role="presentation" ', 1)


def as_pdf(pictures: "Iterable[tuple[Picture, float, float]]") -> bytes:
    """Pictures, each of a width and height [in], as pages of PDF; their letters are embedded, once, and searchable."""
    import matplotlib as mpl
    from matplotlib.backends.backend_pdf import FigureCanvasPdf, PdfPages

    stream = BytesIO()
    with in_style(), mpl.rc_context(LETTERS), PdfPages(stream, metadata={"CreationDate": None}) as pages:
        for picture, *size in pictures:
            pages.savefig(_drawn(picture, FigureCanvasPdf, *size), transparent=True)
    return stream.getvalue()


def _drawn(picture: "Picture", canvas: "type[FigureCanvasBase]", width: float, height: float) -> "Figure":
    """A figure with a picture on it, laid out for a canvas; to leave that to its saving takes one more draw."""
    from matplotlib.figure import Figure

    figure = Figure(figsize=(width, height), layout="constrained")
    canvas(figure)
    picture.draw(figure.subplots())
    if (layout := figure.get_layout_engine()) is not None:
        layout.execute(figure)
    figure.set_layout_engine("none")
    return figure
