"""`burnsim check FILE`: print what was understood of a design."""

import argparse
import sys

from burnsim.cli.command import Commands, add_command, add_units, print_json
from burnsim.cli.design import add_set, read_design

HELP = """\
read a design file and print what was understood

Read a design file without burning it, and print every field as it was understood.

examples:
  burnsim check my.toml                what was understood, and what follows from the drawing
  burnsim check my.toml --units us     the same in degF, fl oz and inches
  burnsim check my.toml --json         the design with every default, in SI, as one JSON object
"""


def add_to(commands: "Commands[argparse.ArgumentParser]") -> None:
    """Add the parser of this command."""
    check = add_command(commands, _check, HELP)
    add_units(check)
    check.add_argument("--json", action="store_true", help="print one JSON object in SI instead")
    add_set(check)


def _check(options: argparse.Namespace) -> None:
    setup = read_design(options)
    if options.json:
        print_json(setup.to_dict())
        return
    from burnsim.cli.colour import with_headings
    from burnsim.report.sheet import understood

    print(with_headings(understood(setup, options.units), sys.stdout))
