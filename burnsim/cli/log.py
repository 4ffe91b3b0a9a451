"""`burnsim log FILE -o LOG`: an empty bench log to fill in for a design."""

import argparse
from pathlib import Path

from burnsim.cli.command import Commands, add_command, add_units
from burnsim.cli.design import add_factors, apply_factors, read_design
from burnsim.cli.output import check_output, output, say
from burnsim.errors import InputError

HELP = """\
write an empty bench log to fill in for a design

Burn a design once, and write a bench log with its head filled in and its rows empty.

examples:
  burnsim log my.toml -o saturday.csv              head as designed, a row a minute for as long as it should burn
  burnsim log my.toml -o saturday.csv --units us   in fl oz and degF
  burnsim bench saturday.csv --design my.toml      afterwards
"""


def add_to(commands: "Commands[argparse.ArgumentParser]") -> None:
    """Add the parser of this command."""
    log = add_command(commands, _log, HELP)
    log.add_argument("-o", "--output", metavar="LOG", required=True, help="log to write, such as saturday.csv")
    add_units(log)
    log.add_argument("--force", action="store_true", help="write over a file that is there")
    add_factors(log)


def _log(options: argparse.Namespace) -> None:
    from burnsim.errors import SolverError
    from burnsim.report.sheet.bench_log import blank_log
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
