"""Write the plan of a design to a file; the ending of its name picks the format."""

import os
from pathlib import Path

from burnsim.errors import InputError
from burnsim.io.text_file import whole_file
from burnsim.model.description.files import Design, as_setup
from burnsim.report.paper import paper_called
from burnsim.units import measure

SUFFIXES = (".pdf", ".html", ".htm")


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
    target = Path(path)
    suffix = target.suffix.lower()
    if suffix not in SUFFIXES:
        allowed = ", ".join(SUFFIXES)
        raise InputError("path", str(path), f"is not a plan's format; allowed: {allowed}", "choose another file name")
    size = paper_called(paper)
    measure("length", units)
    from burnsim.report.plan.content import make_plan

    plan = make_plan(setup, units)
    if suffix == ".pdf":
        from burnsim.report.sheet.pdf import pdf_sheet

        data = pdf_sheet(plan, size)
    else:
        from burnsim.report.sheet.html import html_sheet

        data = html_sheet(plan).encode("utf-8")
    with whole_file(target) as rough:
        rough.write_bytes(data)
