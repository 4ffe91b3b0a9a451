"""Paper and letters for pages in PDF."""

from functools import lru_cache
from typing import NamedTuple

from burnsim.errors import InputError, nearest
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


def paper_called(word: str) -> Paper:
    """The size of paper that a word means; an `InputError` for any other word."""
    size = PAPERS.get(word.lower())
    if size is None:
        guess = nearest(word, PAPERS)
        hint = f"did you mean {guess!r}?" if guess else "choose one of them"
        raise InputError("paper", word, "is not known; allowed: " + ", ".join(PAPERS), hint)
    return size
