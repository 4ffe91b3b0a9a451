"""A design as a command reads it: its file, what `--set` changes, factors that were learnt, and sizes in doubt."""

import argparse
import os
from collections.abc import Sequence
from typing import TYPE_CHECKING

from burnsim.cli.output import told_of
from burnsim.errors import InputError

if TYPE_CHECKING:
    from burnsim.model.description.setup import Setup
    from burnsim.studies.bench.log import BenchLog
    from burnsim.studies.calibrate.posterior import Posterior


def add_set(parser: argparse.ArgumentParser) -> None:
    """Add `--set` to a parser."""
    parser.add_argument(
        "--set", metavar="PATH=VALUE", action="append", default=[],
        help='change a field of the design for this run, such as charge.volume="25 g", pot=none, or a whole table, '
        '\'burner.relief={count=3, width="3 mm", depth="1 mm"}\'; may be repeated (default: none)',
    )  # fmt: skip


def read_design(options: argparse.Namespace, path: str | None = None) -> "Setup":
    """The design in a file, by default that which the options name, with what `--set` changes."""
    from burnsim.model.description.files import load

    options.file = path or options.file
    return with_set(load(options.file), options)


def read_designs(options: argparse.Namespace, paths: Sequence[str]) -> "list[Setup]":
    """The designs in several files, each with what `--set` changes."""
    return [read_design(options, path) for path in paths]


def read_logs(options: argparse.Namespace) -> "list[BenchLog]":
    """The bench logs that the options name."""
    from burnsim.studies.bench.log import read_bench_log

    logs: list[BenchLog] = []
    seen: set[str] = set()
    for path in options.logs:
        if os.path.realpath(path) in seen:
            raise InputError("LOG", path, "is named twice: it would count as two burns", "name each log once")
        seen.add(os.path.realpath(path))
        options.file = path  # for what is said of bad input
        logs.append(read_bench_log(path))
    return logs


def with_set(setup: "Setup", options: argparse.Namespace) -> "Setup":
    """A design with what `--set` changes of it; all changes take hold together."""
    from burnsim.cli.vary_option import read_set
    from burnsim.model.description.vary import vary

    with told_of({}, "--set"):
        return vary(setup, read_set(options.set)) if options.set else setup


def add_factors(parser: argparse.ArgumentParser) -> None:
    """Add `--set` and `--factors` to a parser."""
    add_set(parser)
    parser.set_defaults(learnt="", posterior=None)
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
    """The factors file, if one was given, read once; what it was learnt from is noted as `options.learnt`."""
    if options.factors is None or options.posterior is not None:
        kept: Posterior | None = options.posterior
        return kept
    from burnsim.studies.calibrate.factors_file import load_factors

    for text in options.set:
        if text.partition("=")[0].strip().partition(".")[0] == "factors":
            raise InputError("--set", text, "sets what --factors gives", "leave one of them out")
    design, options.file = options.file, options.factors
    found = load_factors(options.factors)
    options.file = design
    options.posterior = found
    options.learnt = f"Factors from {options.factors}{', ' if found.note else ''}{found.note}."
    return found


def add_tolerances(parser: argparse.ArgumentParser, what: str) -> None:
    """Add `--tolerance` to the parser of a command that takes sizes in doubt."""
    parser.add_argument(
        "--tolerance", metavar="PATH=SHARE", action="append", default=[],
        help=f"{what}: central 90 %% to either side; charge.fuel is the spirit's strength; may be repeated",
    )  # fmt: skip


HALF_WIDTH = "write the half width as a share of the size, like pot.gap=50%"


def read_tolerances(options: argparse.Namespace, setup: "Setup") -> dict[str, float]:
    """Tolerances by dotted path, as shares; those that make no sense for a design are refused."""
    from burnsim.studies.calibrate.sizes import check_tolerances
    from burnsim.units import parse

    found = {}
    for text in options.tolerance:
        path, sign, share = text.partition("=")
        if not sign:
            raise InputError("--tolerance", text, "has no '='", "write it like charge.volume=3%")
        try:
            found[path.strip()] = parse(share.strip(), "fraction", "--tolerance")
        except InputError as error:
            raise InputError("--tolerance", text, f"gives {error.value!r}, which is no share", HALF_WIDTH) from None
    with told_of({}, "--tolerance"):
        return check_tolerances(setup, found)
