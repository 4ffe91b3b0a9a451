"""The option `--factors FILE`, shared by the commands that burn a design; files that must not be written to."""

import argparse
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from burnsim.model.description.setup import Setup
    from burnsim.studies.calibrate.posterior import Posterior


def add_factors(parser: argparse.ArgumentParser) -> None:
    """Add the option to a parser."""
    parser.add_argument("--factors", metavar="FILE", help="factors that 'burnsim calibrate' learnt from bench logs")


def apply_factors(setup: "Setup", options: argparse.Namespace) -> "Setup":
    """The design with the medians of the factors file, if one was given; its other factors stay."""
    found = read_factors(options)
    if found is None:
        return setup
    from burnsim.studies.calibrate.posterior import with_factors

    return with_factors(setup, found.median())


def read_factors(options: argparse.Namespace) -> "Posterior | None":
    """The factors file, if one was given."""
    if options.factors is None:
        return None
    from burnsim.studies.calibrate.factors_file import load_factors

    design, options.file = options.file, options.factors
    found = load_factors(options.factors)
    options.file = design
    return found


def refuse_inputs(option: str, path: str, inputs: Sequence[str]) -> None:
    """Refuse to write over one of the files that are read."""
    from burnsim.errors import InputError

    target = Path(path)
    for name in inputs:
        if target.exists() and Path(name).exists() and target.samefile(name):
            raise InputError(option, path, "is one of the logs", "choose another file name")
