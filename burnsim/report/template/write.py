"""Write a template to a file; the ending of its name picks the format."""

import os
from pathlib import Path
from typing import TYPE_CHECKING

from burnsim.errors import InputError
from burnsim.io.text_file import whole_file
from burnsim.model.description.files import Design, as_setup
from burnsim.report.paper import paper_called
from burnsim.report.template.notes import heading, notes
from burnsim.report.template.pages import Sheet
from burnsim.report.template.pieces import template_pieces

if TYPE_CHECKING:
    pass

SUFFIXES = (".pdf", ".svg", ".dxf")


def save_template(
    setup: Design, path: str | os.PathLike[str], *, paper: str = "a4", paper_thickness: float = 0.0
) -> None:
    """Draw a design's drilling template at true size.

    Parameters
    ----------
    setup : the design
    path : where to; ends in .pdf (pages, tiled where a piece is larger), .svg or .dxf (one drawing)
    paper : "a4" or "letter", for PDF
    paper_thickness : of the paper [m]; the wraps grow by pi times it

    Raises
    ------
    InputError
        For another ending, or paper that is not known.
    """
    setup = as_setup(setup)
    target = Path(path)
    suffix = target.suffix.lower()
    if suffix not in SUFFIXES:
        allowed = ", ".join(SUFFIXES)
        raise InputError(
            "path", str(path), f"is not a template's format; allowed: {allowed}", "choose another file name"
        )
    size = paper_called(paper)
    pieces = template_pieces(setup, paper_thickness)
    name, words = heading(setup), notes(setup)
    if suffix == ".pdf":
        from burnsim.report.template.pdf import pdf_template

        data = pdf_template(name, words, pieces, Sheet(size.name, size.height, size.width))
        with whole_file(target) as rough:
            rough.write_bytes(data)
        return
    if suffix == ".svg":
        from burnsim.report.template.svg import svg_template

        text = svg_template(name, words, pieces)
    else:
        from burnsim.report.template.dxf import dxf_template

        text = dxf_template(name, words, pieces)
    with whole_file(target) as rough:
        rough.write_text(text, encoding="utf-8")
