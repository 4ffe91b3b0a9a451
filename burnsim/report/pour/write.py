"""Write a pour card to a file; the ending of its name picks the format."""

import os

from burnsim.report.sheet.write import SUFFIXES, save_pages, whereto
from burnsim.studies.fill.card import PourCard

__all__ = ["SUFFIXES", "save_pour_card"]


def save_pour_card(card: PourCard, path: str | os.PathLike[str], *, units: str = "si", paper: str = "a4") -> None:
    """Write a pour card as a page to hang beside the burner.

    Parameters
    ----------
    card : of `burnsim.fill.make_pour_card`
    path : where to; ends in .pdf or .html (one file that holds everything)
    units : "si" or "us"
    paper : "a4" or "letter", for PDF

    Raises
    ------
    InputError
        For another ending, paper or system of units.
    """
    target, size = whereto(path, units, paper)
    from burnsim.report.pour.page import make_card

    save_pages(make_card(card, units), target, size)
