"""`burnsim log FILE -o LOG`: an empty bench log to fill in for a design."""

import argparse
from pathlib import Path

from burnsim.cli.design import add_factors, apply_factors, read_design
from burnsim.cli.output import check_output, output, say
from burnsim.errors import InputError

EXAMPLES = """\
examples:
  burnsim log my.toml -o saturday.csv              head as designed, a row a minute for as long as it should burn
  burnsim log my.toml -o saturday.csv --units us   in fl oz and degF
  burnsim bench saturday.csv --design my.toml      afterwards
"""


def add_to(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the parser of this command."""
    log = commands.add_parser(
        "log",
        help="write an empty bench log to fill in for a design",
        description="Burn a design once, and write a bench log with its head filled in and its rows empty.",
        epilog=EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    log.add_argument("file", metavar="FILE", help="design file (TOML)")
    log.add_argument("-o", "--output", metavar="LOG", required=True, help="log to write, such as saturday.csv")
    log.add_argument("--units", choices=("si", "us"), default="si", help="degC and ml, or degF and fl oz")
    log.add_argument("--force", action="store_true", help="write over a file that is there")
    add_factors(log)
    log.set_defaults(run=_log)


def _log(options: argparse.Namespace) -> None:
    from burnsim.errors import SolverError
    from burnsim.report.sheet.blank_log import blank_log
    from burnsim.solve import Failure
    from burnsim.studies.burn_many import burn_all

    setup = apply_factors(read_design(options), options)
    check_output("--output", options.output, (), options.file)
    if Path(options.output).exists() and not options.force:
        problem = f"is needed to write over {options.output}"
        raise InputError("--force", None, problem, "choose another name, or add --force")
    found = burn_all([setup])[0]
    if isinstance(found, Failure):
        raise SolverError(found.reason)
    with output("--output", options.output) as place:
        Path(place).write_text(blank_log(setup, found, options.units), encoding="utf-8")
    say(f"log written to {options.output}; fill it in, then: burnsim bench {options.output} --design {options.file}")
