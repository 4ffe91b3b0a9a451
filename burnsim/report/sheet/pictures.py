"""Pictures of a sheet, drawn once each, as vector drawings for a page of PDF or of HTML."""

import re
from io import BytesIO
from typing import TYPE_CHECKING, Any

from burnsim.plots.letters import FAMILY, STACK
from burnsim.plots.style import in_style

if TYPE_CHECKING:
    from burnsim.report.sheet.blocks import Picture

LETTERS = {"font.size": 7.5, "axes.titlesize": 8.5, "axes.linewidth": 0.6, "hatch.linewidth": 0.5}
ON_SCREEN = LETTERS | {"font.size": 9.0, "axes.titlesize": 9.5}


def as_svg(picture: "Picture", *, narrow: bool = True, ground: bool = True) -> str:
    """A picture as an SVG element to set into a page, for a phone if `narrow`; its words stay words.

    It has a white ground of its own, or lies on that of the page.
    """
    size, name = (picture.narrow, f"{picture.name}-narrow") if narrow else (picture.wide, picture.name)
    settings = {**ON_SCREEN, "svg.fonttype": "none", "svg.hashsalt": name, "savefig.transparent": not ground}
    text = _saved(picture, size, "svg", settings).decode("utf-8")
    text = text[text.index("<svg") :]
    text = re.sub(r"<metadata>.*?</metadata>", "", text, flags=re.DOTALL)
    text = re.sub(r'\bid="([^"]+)"', rf'id="{name}-\1"', text)  # ids are unique in the whole page
    text = re.sub(r"(xlink:href=\"|url\()#", rf"\g<1>#{name}-", text)
    text = text.replace('xlink:href="#', 'href="#')
    text = re.sub(r' width="[\d.]+pt"| height="[\d.]+pt"', "", text, count=2)
    text = re.sub(rf"font: ([^;]*?)'{FAMILY}'[^;\"]*", rf"font: \1{STACK}", text)
    return text.replace("<svg ", '<svg role="presentation" ', 1)


def as_pdf(picture: "Picture", width: float, height: float) -> bytes:
    """A picture as a page of PDF of a size [in], its letters embedded and searchable."""
    return _saved(picture, (width, height), "pdf", LETTERS | {"savefig.transparent": True})


def _saved(picture: "Picture", size: tuple[float, float], form: str, settings: dict[str, Any]) -> bytes:
    import matplotlib as mpl
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    stream = BytesIO()
    with in_style(), mpl.rc_context(settings):
        figure = Figure(figsize=size, layout="constrained")
        FigureCanvasAgg(figure)
        picture.draw(figure.subplots())
        figure.savefig(stream, format=form, metadata={"Date": None} if form == "svg" else {"CreationDate": None})
    return stream.getvalue()
