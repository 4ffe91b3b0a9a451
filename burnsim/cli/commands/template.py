"""`burnsim template FILE -o template.pdf`: draw the drilling template of a design at true size."""

import argparse

from burnsim.cli.command import Commands, add_command
from burnsim.cli.design import add_set, read_design
from burnsim.cli.output import check_output, output, say, told_of

HELP = """\
draw the drilling template at true size (PDF, SVG, DXF)

Draw paper to wrap round the cups, at true size, with the places of jets, slots and notches.

examples:
  burnsim template my.toml -o template.pdf                 pages of A4
  burnsim template my.toml -o template.pdf --paper letter  pages of US Letter
  burnsim template my.toml -o template.dxf                 for a plotter or a laser cutter, millimetres
"""


def add_to(commands: "Commands[argparse.ArgumentParser]") -> None:
    """Add the parser of this command."""
    template = add_command(commands, _template, HELP)
    template.add_argument("-o", "--output", metavar="OUT", required=True, help="ends in .pdf, .svg or .dxf")
    template.add_argument("--paper", choices=("a4", "letter"), default="a4", help="size of the pages of a PDF")
    template.add_argument(
        "--paper-thickness",
        metavar="LENGTH",
        default="0 mm",
        help="thickness of the paper, such as '0.1 mm': the wrap grows by pi times it (default 0)",
    )
    add_set(template)


def _template(options: argparse.Namespace) -> None:
    from burnsim.report.template import SUFFIXES, save_template
    from burnsim.units import parse

    setup = read_design(options)
    check_output("--output", options.output, SUFFIXES, options.file)
    thickness = parse(options.paper_thickness, "length", "--paper-thickness")
    with output("--output", options.output), told_of({"paper": "--paper-thickness"}):
        save_template(setup, options.output, paper=options.paper, paper_thickness=thickness)
    say(f"template saved to {options.output}; print it at 100 % and hold a ruler to its bar")
