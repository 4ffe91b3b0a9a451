"""`burnsim sheet FILE -o sheet.pdf`: burn and study a design, and put it all on paper."""

import argparse
from contextlib import ExitStack

from burnsim.cli.command import Commands, add_command, add_units, bar
from burnsim.cli.design import add_factors, apply_factors, read_design, read_factors
from burnsim.cli.output import check_output, output, say

HELP = """\
put design, prediction and limits on paper (PDF, HTML)

Burn and study a design; write drawing, prediction, limits, cautions and a blank bench log.

examples:
  burnsim sheet my.toml -o sheet.pdf               answers, figures, and a bench log to fill in
  burnsim sheet my.toml -o sheet.html --units us   one file to look at on any screen, degF and fl oz
  burnsim sheet my.toml -o sheet.pdf --short       without bands, fill limits and other fuels: one burn
  burnsim sheet my.toml -o sheet.pdf --log saturday.csv    with a bench log over the prediction
"""


def add_to(commands: "Commands[argparse.ArgumentParser]") -> None:
    """Add the parser of this command."""
    sheet = add_command(commands, _sheet, HELP)
    sheet.add_argument("-o", "--output", metavar="OUT", required=True, help="ends in .pdf or .html")
    add_units(sheet)
    sheet.add_argument("--paper", choices=("a4", "letter"), default="a4", help="size of the pages of a PDF")
    sheet.add_argument("--short", action="store_true", help="leave out bands, fill limits, relief and other fuels")
    sheet.add_argument("--log", metavar="LOG", help="bench log to draw over the prediction for its conditions")
    add_factors(sheet)


def _sheet(options: argparse.Namespace) -> None:
    from burnsim.report.sheet import SUFFIXES, save_sheet

    setup, posterior = apply_factors(read_design(options), options), read_factors(options)
    check_output("--output", options.output, SUFFIXES, options.file)
    with output("--output", options.output), ExitStack() as shown:

        def report(line: str) -> None:
            """Say what comes next, below the bar of what came before."""
            shown.close()
            say(line)
            shown.enter_context(bar())

        save_sheet(
            setup, options.output, units=options.units, paper=options.paper, short=options.short, posterior=posterior,
            report=report, log=options.log,
        )  # fmt: skip
    say(f"sheet saved to {options.output}")
