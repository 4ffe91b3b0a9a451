"""`burnsim compare FILE FILE...`: which of these, and why."""

import argparse

from burnsim.cli.command import Commands, add_answers, add_command, add_draws, bar, save_plot, tell
from burnsim.cli.design import add_factors, read_designs, read_factors
from burnsim.cli.output import told_of
from burnsim.cli.values import whole
from burnsim.errors import InputError

HELP = """\
set designs side by side: differences, causes, certainty

Burn designs side by side: what differs, which change did it, and whether that is sure.

examples:
  burnsim compare first.toml second.toml                       what differs, and which change did it
  burnsim compare my.toml --but burner.jets.count=28           a design with one field changed, against itself
  burnsim compare a.toml b.toml --logs a.csv b.csv --plot ab.png    with the readings of the bench
"""


def add_to(commands: "Commands[argparse.ArgumentParser]") -> None:
    """Add the parser of this command."""
    compare = add_command(commands, _compare, HELP, None)
    compare.add_argument("files", metavar="FILE", nargs="+", help="design files (TOML), two to six")
    words = "compare with the last design so changed; may be repeated, for all changes together (default: none)"
    compare.add_argument("--but", metavar="PATH=VALUE", action="append", default=[], help=words)
    words = "bench logs, by build or in the order of the designs"
    compare.add_argument("--logs", metavar="LOG", nargs="+", default=[], help=words)
    add_factors(compare)
    add_draws(compare, 64, "how many draws of the unknowns, 0 for none")
    add_answers(compare, "the text", "the picture of all curves")
    compare.set_defaults(file="")


def _compare(options: argparse.Namespace) -> None:
    from burnsim.cli.vary_option import read_set
    from burnsim.model.description.vary import vary
    from burnsim.studies.compare.comparison import compare

    setups = read_designs(options, options.files)
    if options.but:
        with told_of({}, "--but"):
            name = f"{setups[-1].name}, {', '.join(options.but)}".lstrip(", ")
            setups.append(vary(setups[-1], {**read_set(options.but, "--but"), "name": name}))
    if len(setups) < 2:
        raise InputError("FILE", options.file, "is a single design", "give two, or say what changes with --but")
    draws, seed = whole(options.draws, "--draws", 0, 4096), whole(options.seed, "--seed")
    posterior = read_factors(options)
    with (
        bar(f"burning {len(setups)} designs side by side ..."),
        told_of({"n": "--draws", "logs": "--logs", "designs": "FILE"}),
    ):
        found = compare(setups, logs=options.logs, n=draws, seed=seed, posterior=posterior)
    save_plot(options, found, (8.4, 7.0))
    tell(options, found, *setups)
