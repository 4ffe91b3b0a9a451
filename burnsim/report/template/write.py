"""Write a template to a file; the ending of its name picks the format."""

import os

from burnsim.io.text_file import output
from burnsim.model.description.files import Design, as_setup
from burnsim.report.paper import whereto
from burnsim.report.template.notes import heading, notes
from burnsim.report.template.pages import Sheet
from burnsim.report.template.pieces import template_pieces

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
        For another ending, a directory that is not there, or paper that is not known.
    """
    setup = as_setup(setup)
    target, size = whereto(path, SUFFIXES, paper)
    name, words, pieces = heading(setup), tuple(notes(setup)), template_pieces(setup, paper_thickness)
    match target.suffix.lower():
        case ".pdf":
            from burnsim.report.template.pdf import pdf_template

            data = pdf_template(name, words, pieces, Sheet(size.name, size.height, size.width))
        case ".svg":
            from burnsim.report.template.svg import svg_template

            data = svg_template(name, words, pieces).encode()
        case _:
            from burnsim.report.template.dxf import dxf_template

            data = dxf_template(name, words, pieces).encode()
    with output("path", target) as rough:
        rough.write_bytes(data)
