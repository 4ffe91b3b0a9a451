"""Write the plan of a design to a file; the ending of its name picks the format."""

import os

from burnsim.model.description.files import Design, as_setup
from burnsim.report.sheet.write import SUFFIXES, save_pages, whereto

__all__ = ["SUFFIXES", "save_plan"]


def save_plan(setup: Design, path: str | os.PathLike[str], *, units: str = "si", paper: str = "a4") -> None:
    """Write a page to build a design from: drawing, cut list, heights, holes, tools, order of work and cautions.

    Parameters
    ----------
    setup : the design
    path : where to; ends in .pdf or .html (one file that holds everything)
    units : "si" or "us"
    paper : "a4" or "letter", for PDF

    Raises
    ------
    InputError
        For another ending, paper or system of units.
    """
    setup = as_setup(setup)
    target, size = whereto(path, units, paper)
    from burnsim.report.plan.content import make_plan

    save_pages(make_plan(setup, units), target, size)
