"""`burnsim sheet`, `template` and `plan`: what goes on paper, each `FILE -o OUT`."""

import argparse
from contextlib import ExitStack

from burnsim.cli.command import Commands, add_command, add_page, add_units, bar
from burnsim.cli.design import add_factors, add_set, apply_factors, read_design, read_factors
from burnsim.cli.output import say, told_of
from burnsim.io.text_file import output

SHEET = """\
put design, prediction and limits on paper (PDF, HTML)

Burn and study a design; write drawing, prediction, limits, cautions and a blank bench log.

examples:
  burnsim sheet my.toml -o sheet.pdf               answers, figures, and a bench log to fill in
  burnsim sheet my.toml -o sheet.html --units us   one file to look at on any screen, degF and fl oz
  burnsim sheet my.toml -o sheet.pdf --short       without bands, fill limits and other fuels: one burn
  burnsim sheet my.toml -o sheet.pdf --log saturday.csv    with a bench log over the prediction
"""
TEMPLATE = """\
draw the drilling template at true size (PDF, SVG, DXF)

Draw paper to wrap round the cups, at true size, with the places of jets, slots and notches.

examples:
  burnsim template my.toml -o template.pdf                 pages of A4
  burnsim template my.toml -o template.pdf --paper letter  pages of US Letter
  burnsim template my.toml -o template.dxf                 for a plotter or a laser cutter, millimetres
"""
PLAN = """\
write a page to build from: cut list, heights, holes, order of work (PDF, HTML)

Write a page to build a design from: drawing, cut list, heights, holes, tools, order, cautions.

examples:
  burnsim plan my.toml -o plan.pdf                              one page of A4
  burnsim plan my.toml -o plan.pdf --units us --paper letter    inches and drill numbers, US Letter
  burnsim plan my.toml -o plan.html                             one file to look at on any screen
"""


def add_to(commands: "Commands[argparse.ArgumentParser]") -> None:
    """Add the parsers of these commands."""
    sheet = add_command(commands, _sheet, SHEET)
    add_page(sheet, "ends in .pdf or .html")
    add_units(sheet)
    sheet.add_argument("--short", action="store_true", help="leave out bands, fill limits, relief and other fuels")
    sheet.add_argument("--log", metavar="LOG", help="bench log to draw over the prediction for its conditions")
    add_factors(sheet)

    template = add_command(commands, _template, TEMPLATE)
    add_page(template, "ends in .pdf, .svg or .dxf", (".pdf", ".svg", ".dxf"))
    template.add_argument(
        "--paper-thickness", metavar="LENGTH", default="0 mm",
        help="thickness of the paper, such as '0.1 mm': the wrap grows by pi times it (default 0)",
    )  # fmt: skip
    add_set(template)

    plan = add_command(commands, _plan, PLAN)
    add_page(plan, "ends in .pdf or .html")
    add_units(plan, "mm and ml, or inches and fl oz")
    add_set(plan)


def _sheet(options: argparse.Namespace) -> None:
    from burnsim.report.sheet import save_sheet

    setup, posterior = apply_factors(read_design(options), options), read_factors(options)
    with output("--output", options.output), ExitStack() as shown:

        def report(line: str) -> None:
            """Say what comes next, below the bar of what came before."""
            shown.close()
            shown.enter_context(bar(line))

        save_sheet(
            setup, options.output, units=options.units, paper=options.paper, short=options.short, posterior=posterior,
            report=report, log=options.log,
        )  # fmt: skip
    say(f"sheet saved to {options.output}")


def _template(options: argparse.Namespace) -> None:
    from burnsim.report.template import save_template
    from burnsim.units import parse

    setup = read_design(options)
    thickness = parse(options.paper_thickness, "length", "--paper-thickness")
    with output("--output", options.output), told_of({"paper": "--paper-thickness"}):
        save_template(setup, options.output, paper=options.paper, paper_thickness=thickness)
    say(f"template saved to {options.output}; print it at 100 % and hold a ruler to its bar")


def _plan(options: argparse.Namespace) -> None:
    from burnsim.report.sheet.plan import save_plan

    setup = read_design(options)
    with output("--output", options.output):
        save_plan(setup, options.output, units=options.units, paper=options.paper)
    say(f"plan saved to {options.output}")
