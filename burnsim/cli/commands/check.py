"""`burnsim check FILE`: print what was understood of a design."""

import argparse
import json
import sys

from burnsim.cli.design import add_set, read_design

EXAMPLES = """\
examples:
  burnsim check my.toml                what was understood, and what follows from the drawing
  burnsim check my.toml --units us     the same in degF, fl oz and inches
  burnsim check my.toml --json         the design with every default, in SI, as one JSON object
"""


def add_to(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the parser of this command."""
    check = commands.add_parser(
        "check",
        help="read a design file and print what was understood",
        description="Read a design file without burning it, and print every field as it was understood.",
        epilog=EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    check.add_argument("file", metavar="FILE", help="design file (TOML)")
    check.add_argument("--units", choices=("si", "us"), default="si", help="degC and ml, or degF and fl oz")
    check.add_argument("--json", action="store_true", help="print one JSON object in SI instead")
    add_set(check)
    check.set_defaults(run=_check)


def _check(options: argparse.Namespace) -> None:

    setup = read_design(options)
    if options.json:
        print(json.dumps(setup.to_dict(), indent=2, allow_nan=False))
        return
    from burnsim.cli.colour import with_headings
    from burnsim.report.sheet import understood

    print(with_headings(understood(setup, options.units), sys.stdout))
