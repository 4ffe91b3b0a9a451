"""`burnsim sweep FILE`: burn every design of a plan, and keep what came of each."""

import argparse
from typing import TYPE_CHECKING

from burnsim.cli.cautions import print_cautions
from burnsim.cli.command import Commands, add_answers, add_command, add_output, print_json, save_picture
from burnsim.cli.design import add_factors, apply_factors, read_design
from burnsim.cli.output import say, told_of
from burnsim.cli.vary_option import GRAMMAR, read_vary
from burnsim.errors import InputError, guess

if TYPE_CHECKING:
    import xarray

    from burnsim.studies.sweep.plan import Mode

OPTIONS = {"values": "--vary", "samples": "--samples", "seed": "--seed", "out": "--out", "workers": "--workers"}
HELP = f"""\
burn many designs: any fields, every combination

Burn every combination of the values of some fields, and keep what came of each.

values:
{GRAMMAR.rstrip()}

examples:
  burnsim sweep my.toml --vary "burner.jets.count=16:32:8" --out jets.csv      one field, kept as a table
  burnsim sweep my.toml --vary "burner.jets.count=16:32:8" \\
      --vary "burner.jets.diameter=0.8 mm, 1 mm, 1.2 mm" --plot map.png        every combination, as a map
"""


def add_to(commands: "Commands[argparse.ArgumentParser]") -> None:
    """Add the parser of this command."""
    sweep = add_command(commands, _sweep, HELP)
    words = "a field and its values, see below"
    sweep.add_argument("--vary", metavar="PATH=VALUES", action="append", required=True, help=words)
    add_output(sweep, "--out", words="save the dataset (.nc or .csv); a stopped sweep goes on where it was")
    add_answers(sweep, "the tables", "a map, bad designs hatched")
    sweep.add_argument("--show", metavar="NAME", help="column that the map of --plot shows (default boil)")
    sweep.add_argument("--workers", metavar="N", type=int, help="processes (default one a core)")
    how = sweep.add_mutually_exclusive_group()
    how.add_argument("--paired", action="store_true", help="pair the values up instead of every combination")
    how.add_argument("--samples", metavar="N", type=int, help="draw so many designs that fill the ranges")
    sweep.add_argument("--seed", metavar="N", type=int, default=0, help="seed of --samples (default 0)")
    sweep.add_argument(
        "--restart", action="store_true", help="throw away what a stopped sweep has left, and write over any file"
    )
    add_factors(sweep)


def _sweep(options: argparse.Namespace) -> None:
    from burnsim.studies.sweep.run import sweep

    setup = apply_factors(read_design(options), options)
    with told_of(OPTIONS, "--vary"):
        values = read_vary(options.vary, options.samples is not None)
    shows = "boil" if options.show is None else options.show
    _check_show(shows)
    if options.show is not None and options.plot is None:
        raise InputError("--show", shows, "is what a map shows, and none is asked for", "add --plot map.png")
    mode: Mode = "paired" if options.paired else "grid" if options.samples is None else "sobol"
    say(f"sweeping {setup.name or options.file} ...")
    with told_of(OPTIONS, "--vary"):
        dataset = sweep(
            setup, values, mode=mode, samples=options.samples, seed=options.seed, workers=options.workers,
            out=options.out, resume=not options.restart, progress=True,
        )  # fmt: skip
    if options.out is not None:
        say(f"dataset saved to {options.out}")
    units = options.units
    if options.plot is not None:
        from burnsim import plots

        save_picture(options.plot, lambda figure: plots.sweep_panels(dataset, shows, figure, units=units), None)
    if options.json:
        print_json(_as_dict(dataset))
        return
    from burnsim.report.designs.sweep import describe

    print(describe(dataset, units))
    if options.learnt:
        print(f"\n{options.learnt}")
    print_cautions([setup], dataset.attrs["components"].split(", "))


def _check_show(name: str) -> None:
    """Refuse a column that a map cannot show, before the sweep."""
    from burnsim.studies.sweep.columns import COLUMNS

    numbers = [column.name for column in COLUMNS if not column.is_text]
    if name not in numbers:
        raise InputError(
            "--show", name, "is not a numeric column", guess(name, numbers, "one of " + ", ".join(numbers))
        )


def _as_dict(dataset: "xarray.Dataset") -> dict[str, object]:
    from burnsim.studies.sweep.ranking import rank_designs, verdict_counts

    status = dataset["status"].values.ravel().tolist()
    return {
        "designs": len(status),
        "solved": status.count("solved"),
        "impossible": status.count("impossible"),
        "failed": status.count("failed"),
        "verdicts": verdict_counts(dataset),
        "quickest_to_boil_s": [one.to_dict() for one in rank_designs(dataset, "boil")],
        "least_fuel_to_boil_kg": [one.to_dict() for one in rank_designs(dataset, "boil_fuel")],
        "rtol": float(dataset.attrs["rtol"]),
    }
