"""The option `--tolerance PATH=SHARE`, shared by the commands that take sizes in doubt."""

import argparse
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from burnsim.model.description.setup import Setup

OPTION = "--tolerance"


def add_tolerances(parser: argparse.ArgumentParser, what: str) -> None:
    """Add the option to a parser."""
    parser.add_argument(
        OPTION,
        metavar="PATH=SHARE",
        action="append",
        default=[],
        help=f"{what}: central 90 %% to either side; charge.fuel is the spirit's strength; may be repeated",
    )


def read_tolerances(options: argparse.Namespace, setup: "Setup") -> dict[str, float]:
    """Tolerances by dotted path, as shares; those that make no sense for a design are refused."""
    from burnsim.cli.output import told_of
    from burnsim.studies.calibrate.sizes import check_tolerances

    with told_of({}, OPTION):
        return check_tolerances(setup, dict(_tolerance(text) for text in options.tolerance))


def _tolerance(text: str) -> tuple[str, float]:
    from burnsim.errors import InputError
    from burnsim.units import parse

    path, sign, share = text.partition("=")
    if not sign:
        raise InputError(OPTION, text, "has no '='", "write it like charge.volume=3%")
    return path.strip(), parse(share.strip(), "fraction", OPTION)
