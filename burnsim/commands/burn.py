"""`burnsim burn FILE`: simulate one burn and print a bench note."""

import argparse
import json
from pathlib import Path
from typing import TYPE_CHECKING

from burnsim.commands.output import PICTURE_SUFFIXES, check_output, output, say

if TYPE_CHECKING:
    from burnsim.model.description import Setup
    from burnsim.solve import Burn


def add_to(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the parser of this command."""
    burn = commands.add_parser("burn", help="simulate one burn and print a bench note")
    burn.add_argument("file", metavar="FILE", help="design file (TOML)")
    burn.add_argument("--json", action="store_true", help="print one JSON object instead of the bench note")
    burn.add_argument("--plot", metavar="FILE", help="save the picture of temperatures and power (png, pdf, svg, ...)")
    burn.add_argument("--series", metavar="FILE.csv", help="save the curves as comma-separated values")
    burn.set_defaults(run=_burn)


def _burn(options: argparse.Namespace) -> None:
    from burnsim.files import load

    setup = load(options.file)
    if options.plot is not None:
        check_output("--plot", options.plot, PICTURE_SUFFIXES, options.file)
    if options.series is not None:
        check_output("--series", options.series, (), options.file)
    say(f"burning {setup.name or options.file} ...")
    result = _simulate(setup)
    if options.plot is not None:
        with output("--plot", options.plot):
            _save_plot(result, options.plot)
        say(f"picture saved to {options.plot}")
    if options.series is not None:
        with output("--series", options.series):
            _save_series(result, options.series)
        say(f"curves saved to {options.series}")
    if options.json:
        print(json.dumps(result.to_dict(), indent=2, allow_nan=False))
        return
    from burnsim.cautions import cautions

    print(result.summary().rstrip())
    print("\nCautions")
    for caution in cautions(setup.burner.kind, setup.charge.fuel.components):
        print(f"- {caution}")


def _simulate(setup: "Setup") -> "Burn":
    from burnsim.solve import burn

    return burn(setup)


def _save_plot(result: "Burn", path: str) -> None:
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    from burnsim.plots import plot_burn

    figure = Figure(figsize=(8.0, 4.5), layout="constrained")
    FigureCanvasAgg(figure)
    plot_burn(result, ax=figure.subplots())
    figure.savefig(path, dpi=150)


def _save_series(result: "Burn", path: str) -> None:
    from burnsim.series import write_series

    with Path(path).open("w", encoding="utf-8", newline="") as stream:
        write_series(result, stream)
