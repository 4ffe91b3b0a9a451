"""Paper and letters for pages in PDF."""

from functools import lru_cache
from typing import NamedTuple

from burnsim.plots.letters import face

REGULAR, BOLD = "burnsim-regular", "burnsim-bold"


class Paper(NamedTuple):
    """A size of paper, upright [mm]."""

    name: str
    width: float
    height: float


PAPERS = {"a4": Paper("A4", 210.0, 297.0), "letter": Paper("US Letter", 215.9, 279.4)}
"""Sizes of paper by the word that picks them."""


@lru_cache(maxsize=1)
def register_fonts() -> None:
    """Make the two faces of letters known to reportlab, once."""
    from reportlab.pdfbase.pdfmetrics import registerFont, registerFontFamily
    from reportlab.pdfbase.ttfonts import TTFont

    registerFont(TTFont(REGULAR, str(face())))
    registerFont(TTFont(BOLD, str(face("bold"))))
    registerFontFamily(REGULAR, normal=REGULAR, bold=BOLD, italic=REGULAR, boldItalic=BOLD)
