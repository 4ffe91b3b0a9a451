"""Paper and letters for pages in PDF."""

import os
from functools import lru_cache
from pathlib import Path
from typing import NamedTuple

from burnsim.errors import InputError, unknown
from burnsim.plots.letters import face

PAGES = (".pdf", ".html", ".htm")  # endings of files that hold pages
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


def whereto(path: str | os.PathLike[str], suffixes: tuple[str, ...], paper: str) -> tuple[Path, Paper]:
    """Check how pages are to be written, before the work that fills them: the file, and the size of the paper."""
    target = Path(path)
    if target.suffix.lower() not in suffixes:
        allowed = ", ".join(suffixes)
        raise InputError("path", str(path), f"is no format of pages; allowed: {allowed}", "choose another file name")
    if paper.lower() not in PAPERS:
        raise unknown("paper", paper, PAPERS)
    if not target.parent.is_dir():
        problem = f"cannot be written: there is no directory {target.parent}"
        raise InputError("path", str(path), problem, "make it first")
    return target, PAPERS[paper.lower()]
