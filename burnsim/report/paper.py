"""Paper and letters for pages in PDF: the letters are those that matplotlib brings, embedded."""

from functools import lru_cache
from pathlib import Path
from typing import NamedTuple

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
    import matplotlib
    from reportlab.pdfbase.pdfmetrics import registerFont
    from reportlab.pdfbase.ttfonts import TTFont

    folder = Path(matplotlib.get_data_path()) / "fonts" / "ttf"
    registerFont(TTFont(REGULAR, str(folder / "DejaVuSans.ttf")))
    registerFont(TTFont(BOLD, str(folder / "DejaVuSans-Bold.ttf")))
