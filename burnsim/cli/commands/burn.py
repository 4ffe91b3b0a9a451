"""`burnsim burn FILE`: simulate one burn and print a bench note."""

import argparse
import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from burnsim.cli.output import PICTURE_SUFFIXES, check_output, output, print_cautions, say
from burnsim.cli.picture import save_picture
from burnsim.cli.with_factors import add_factors, apply_factors

if TYPE_CHECKING:
    from burnsim.model.description.setup import Setup
    from burnsim.solve import Burn

EXAMPLES = """\
examples:
  burnsim burn my.toml                              the bench note
  burnsim burn my.toml --units us --plot burn.png   in degF and fl oz, with a picture
  burnsim burn my.toml --json | jq .boil_s          for scripts; null where something did not happen
"""


def add_to(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the parser of this command."""
    burn = commands.add_parser(
        "burn",
        help="simulate one burn and print a bench note",
        description="Simulate one burn from the match to the last flame, and print a bench note.",
        epilog=EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    burn.add_argument("file", metavar="FILE", help="design file (TOML)")
    burn.add_argument("--json", action="store_true", help="print one JSON object instead of the bench note")
    burn.add_argument("--plot", metavar="FILE", help="save the picture of temperatures and power (png, pdf, svg, ...)")
    burn.add_argument("--series", metavar="FILE.csv", help="save the curves as comma-separated values")
    burn.add_argument("--units", choices=("si", "us"), default="si", help="degC and ml, or degF and fl oz; JSON is SI")
    add_factors(burn)
    burn.set_defaults(run=_burn)


def _burn(options: argparse.Namespace) -> None:
    from burnsim.model.description.files import load

    setup = apply_factors(load(options.file), options)
    if options.plot is not None:
        check_output("--plot", options.plot, PICTURE_SUFFIXES, options.file)
    if options.series is not None:
        check_output("--series", options.series, (), options.file)
    say(f"burning {setup.name or options.file} ...")
    result = _simulate(setup)
    if options.plot is not None:
        from burnsim import plots

        save_picture(
            "--plot",
            options.plot,
            (8.4, 4.5),
            lambda figure: plots.burn(result, ax=figure.subplots(), units=options.units),
        )
    if options.series is not None:
        with output("--series", options.series) as place:
            _save_series(result, place)
        say(f"curves saved to {options.series}")
    if options.json:
        print(json.dumps(result.to_dict(), indent=2, allow_nan=False))
        return
    from burnsim.cli.colour import painted, with_headings

    print(with_headings(result.summary(options.units), sys.stdout))
    print_cautions(setup.burner.has_gallery, setup.charge.fuel.components, painted("Cautions", "bold", sys.stdout))


def _simulate(setup: "Setup") -> "Burn":
    from burnsim.solve import burn

    return burn(setup)


def _save_series(result: "Burn", path: str) -> None:
    from burnsim.report.burn import write_series

    with Path(path).open("w", encoding="utf-8", newline="") as stream:
        write_series(result, stream)
