"""Write the sheet of a design to a file; the ending of its name picks the format."""

import os
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from burnsim.io.text_file import output
from burnsim.model.description.files import Design, as_setup
from burnsim.report.paper import PAGES, Paper, whereto
from burnsim.units import measure

if TYPE_CHECKING:
    from burnsim.report.sheet.blocks import Sheet
    from burnsim.report.sheet.findings import Findings
    from burnsim.studies.calibrate.posterior import Posterior


def save_sheet(
    setup: Design,
    path: str | os.PathLike[str],
    *,
    units: str = "si",
    paper: str = "a4",
    short: bool = False,
    posterior: "Posterior | None" = None,
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
    posterior : what calibration left of the factors, for the bands; default none: the factors' own bands
    findings : results of `burnsim.report.sheet.find`, should they be there already
    report : called with a line before each piece of work, default none
    log : file of a bench log, whose readings are drawn over the prediction for its conditions; default none

    Raises
    ------
    InputError
        For another ending, a directory that is not there, paper or system of units that is not known.
    """
    setup = as_setup(setup)
    target, size = whereto(path, PAGES, paper)
    measure("length", units)
    from burnsim.report.sheet.content import make_sheet
    from burnsim.report.sheet.findings import find
    from burnsim.studies.bench.log import read_bench_log

    bench = None if log is None else read_bench_log(log)
    findings = findings or find(setup, short=short, posterior=posterior, report=report, log=bench)
    save_pages(make_sheet(setup, findings, units=units), target, size)


def save_pages(sheet: "Sheet", target: Path, size: Paper) -> None:
    """Write pages to a file that ends in one of `PAGES`; the size of the paper is for PDF."""
    if target.suffix.lower() == ".pdf":
        from burnsim.report.sheet.pdf import pdf_sheet

        data = pdf_sheet(sheet, size)
    else:
        from burnsim.report.sheet.html import html_sheet

        data = html_sheet(sheet).encode("utf-8")
    with output("path", target) as rough:
        rough.write_bytes(data)
