"""A design as a command reads it: its file, what `--set` changes of it, and the factors that `--factors` names."""

import argparse
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from burnsim.model.description.setup import Setup
    from burnsim.studies.calibrate.posterior import Posterior


def add_set(parser: argparse.ArgumentParser) -> None:
    """Add `--set` to a parser."""
    parser.add_argument(
        "--set",
        metavar="PATH=VALUE",
        action="append",
        default=[],
        help='change a field of the design for this run, such as charge.volume="25 g", pot=none, or a whole table, '
        '\'burner.relief={count=3, width="3 mm", depth="1 mm"}\'; may be repeated (default: none)',
    )


def read_design(options: argparse.Namespace) -> "Setup":
    """The design in the file that the options name, with what `--set` changes."""
    from burnsim.model.description.files import load

    return with_set(load(options.file), options)


def with_set(setup: "Setup", options: argparse.Namespace) -> "Setup":
    """A design with what `--set` changes of it; all changes take hold together."""
    from burnsim.cli.output import told_of
    from burnsim.cli.vary_option import read_set
    from burnsim.model.description.vary import vary

    with told_of({}, "--set"):
        return vary(setup, read_set(options.set)) if options.set else setup


def add_factors(parser: argparse.ArgumentParser) -> None:
    """Add `--set` and `--factors` to a parser."""
    add_set(parser)
    parser.add_argument(
        "--factors", metavar="FILE", help="factors that 'burnsim calibrate' learnt from bench logs (default: none)"
    )


def apply_factors(setup: "Setup", options: argparse.Namespace) -> "Setup":
    """The design with the medians of the factors file, if one was given; its other factors stay."""
    found = read_factors(options)
    if found is None:
        return setup
    from burnsim.studies.calibrate.posterior import set_factors

    return set_factors(setup, found.median())


def read_factors(options: argparse.Namespace) -> "Posterior | None":
    """The factors file, if one was given."""
    if options.factors is None:
        return None
    from burnsim.studies.calibrate.factors_file import load_factors

    design, options.file = options.file, options.factors
    found = load_factors(options.factors)
    options.file = design
    return found


def refuse_inputs(option: str, path: str | None, inputs: Sequence[str]) -> None:
    """Refuse to write over one of the files that are read; None is none."""
    from burnsim.errors import InputError

    target = Path(path or "")
    for name in inputs if path is not None else ():
        if target.exists() and Path(name).exists() and target.samefile(name):
            raise InputError(option, path, "is one of the logs", "choose another file name")
