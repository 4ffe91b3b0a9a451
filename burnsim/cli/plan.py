"""`burnsim plan FILE -o plan.pdf`: write a page to build a design from."""

import argparse

from burnsim.cli.command import Commands, add_command
from burnsim.cli.design import add_set, read_design
from burnsim.cli.output import check_output, output, say

HELP = """\
write a page to build from: cut list, heights, holes, order of work (PDF, HTML)

Write a page to build a design from: drawing, cut list, heights, holes, tools, order, cautions.

examples:
  burnsim plan my.toml -o plan.pdf                              one page of A4
  burnsim plan my.toml -o plan.pdf --units us --paper letter    inches and drill numbers, US Letter
  burnsim plan my.toml -o plan.html                             one file to look at on any screen
"""


def add_to(commands: "Commands[argparse.ArgumentParser]") -> None:
    """Add the parser of this command."""
    plan = add_command(commands, _plan, HELP)
    plan.add_argument("-o", "--output", metavar="OUT", required=True, help="ends in .pdf or .html")
    plan.add_argument("--units", choices=("si", "us"), default="si", help="mm and ml, or inches and fl oz")
    plan.add_argument("--paper", choices=("a4", "letter"), default="a4", help="size of the page of a PDF")
    add_set(plan)


def _plan(options: argparse.Namespace) -> None:
    from burnsim.report.plan import SUFFIXES, save_plan

    setup = read_design(options)
    check_output("--output", options.output, SUFFIXES, options.file)
    with output("--output", options.output):
        save_plan(setup, options.output, units=options.units, paper=options.paper)
    say(f"plan saved to {options.output}")
