"""Write the sheet of a design to a file; the ending of its name picks the format."""

import os
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from burnsim.errors import InputError, nearest
from burnsim.io.text_file import whole_file
from burnsim.model.description.files import Design, as_setup
from burnsim.report.paper import PAPERS
from burnsim.units import measure

if TYPE_CHECKING:
    from burnsim.report.sheet.findings import Findings

SUFFIXES = (".pdf", ".html", ".htm")


def save_sheet(
    setup: Design,
    path: str | os.PathLike[str],
    *,
    units: str = "si",
    paper: str = "a4",
    short: bool = False,
    findings: "Findings | None" = None,
    report: Callable[[str], None] | None = None,
    log: str | os.PathLike[str] | None = None,
) -> None:
    """Burn and study a design, and write its sheet.

    Parameters
    ----------
    setup : the design
    path : where to; ends in .pdf or .html (one file that holds everything)
    units : "si" or "us"
    paper : "a4" or "letter", for PDF
    short : leave out bands, fill limit, relief and the table of fuels, which take many burns
    findings : results of `burnsim.report.sheet.find`, should they be there already
    report : called with a line before each piece of work, default none
    log : file of a bench log, whose readings are drawn over the prediction for its conditions; default none

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
        raise InputError("path", str(path), f"is not a sheet's format; allowed: {allowed}", "choose another file name")
    if paper.lower() not in PAPERS:
        guess = nearest(paper, PAPERS)
        hint = f"did you mean {guess!r}?" if guess else "choose one of them"
        raise InputError("paper", paper, "is not known; allowed: " + ", ".join(PAPERS), hint)
    measure("length", units)
    from burnsim.report.sheet.content import make_sheet
    from burnsim.report.sheet.findings import find
    from burnsim.studies.bench.log import read_bench_log

    bench = None if log is None else read_bench_log(log)
    sheet = make_sheet(setup, findings or find(setup, short=short, report=report, log=bench), units=units)
    if suffix == ".pdf":
        from burnsim.report.sheet.pdf import pdf_sheet

        data = pdf_sheet(sheet, PAPERS[paper.lower()])
    else:
        from burnsim.report.sheet.html import html_sheet

        data = html_sheet(sheet).encode("utf-8")
    with whole_file(target) as rough:
        rough.write_bytes(data)
