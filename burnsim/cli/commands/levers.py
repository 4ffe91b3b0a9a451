"""`burnsim levers FILE`: what to change, and how far the cliffs are."""

import argparse

from burnsim.cli.command import Commands, add_answers, add_command, add_draws, bar, save_plot, tell
from burnsim.cli.design import add_factors, read_design, read_factors
from burnsim.cli.output import told_of
from burnsim.cli.values import whole

HELP = """\
tell what to change: one step of each field, and how far each cliff is

Take one step of every field that a builder can change; find the cliffs (quench, spill, over-pressure, lift-off ...).

examples:
  burnsim levers my.toml                                 what one step of each field does to the time of the boil
  burnsim levers my.toml --for fuel --plot levers.png    the same for the fuel, with a picture
  burnsim levers my.toml --drills "0.9 mm, #60 drill" --sheets "0.1 mm"    only what you have
"""


def add_to(commands: "Commands[argparse.ArgumentParser]") -> None:
    """Add the parser of this command."""
    levers = add_command(commands, _levers, HELP)
    aims = ("boil", "fuel", "efficiency", "bloom", "spill")
    levers.add_argument("--for", dest="objective", choices=aims, default="boil", help="what for (default boil)")
    levers.add_argument(
        "--drills", metavar="LIST", help="drills at hand, with commas (default: each 0.05 mm, in US units #1 to #80)"
    )
    levers.add_argument("--sheets", metavar="LIST", help="thicknesses of sheet at hand (default: the usual ones)")
    add_factors(levers)
    add_draws(levers, 32, "how many draws of the unknowns")
    add_answers(levers, "the text", "the picture of the steps")


def _levers(options: argparse.Namespace) -> None:
    from burnsim.studies.levers.levers import find_levers

    setup = read_design(options)
    draws, seed = whole(options.draws, "--draws", 8, 4096), whole(options.seed, "--seed")
    posterior = read_factors(options)
    drills, sheets = (
        None if text is None else [part.strip() for part in text.split(",")]
        for text in (options.drills, options.sheets)
    )
    with (
        bar(f"trying every step of {setup.name or options.file} ..."),
        told_of({"objective": "--for", "drills": "--drills", "sheets": "--sheets", "n": "--draws"}),
    ):
        found = find_levers(
            setup, options.objective, drills=drills, sheets=sheets, n=draws, seed=seed, units=options.units,
            posterior=posterior,
        )  # fmt: skip
    save_plot(options, found, (8.4, 6.0))
    tell(options, found, setup)
