"""`burnsim burn FILE...`: simulate a burn of each design and print its bench note."""

import argparse
import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from burnsim.cli.cautions import print_cautions
from burnsim.cli.design import add_factors, apply_factors, read_design
from burnsim.cli.output import PICTURE_SUFFIXES, check_output, output, say
from burnsim.cli.picture import save_picture
from burnsim.errors import InputError

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from burnsim.model.description.setup import Setup
    from burnsim.solve import Burn

EXAMPLES = """\
examples:
  burnsim burn my.toml                              the bench note
  burnsim burn my.toml --units us --plot burn.png   in degF and fl oz, with a picture
  burnsim burn a.toml b.toml --set site.wind="2 m/s"    several, each with a field changed for this run
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
    burn.add_argument("files", metavar="FILE", nargs="+", help="design file (TOML), or several")
    burn.add_argument(
        "--json",
        action="store_true",
        help="print one JSON object instead of the note; a list for several designs",
    )
    burn.add_argument("--plot", metavar="FILE", help="save the picture of temperatures and power (png, pdf, svg, ...)")
    burn.add_argument("--series", metavar="FILE.csv", help="save the curves as comma-separated values")
    burn.add_argument("--units", choices=("si", "us"), default="si", help="degC and ml, or degF and fl oz; JSON is SI")
    add_factors(burn)
    burn.set_defaults(run=_burn, file="")


def _burn(options: argparse.Namespace) -> None:
    designs = options.files
    if options.series is not None and len(designs) > 1:
        raise InputError("--series", options.series, f"does not go with {len(designs)} designs", "give one of them")
    setups = []
    for options.file in designs:
        setups.append(apply_factors(read_design(options), options))
        if options.plot is not None:
            check_output("--plot", options.plot, PICTURE_SUFFIXES, options.file)
        if options.series is not None:
            check_output("--series", options.series, (), options.file)
    results = []
    for options.file, setup in zip(designs, setups, strict=True):
        say(f"burning {setup.name or options.file} ...")
        results.append(_simulate(setup))
    if options.plot is not None:
        from burnsim import plots

        def draw(figure: "Figure") -> None:
            for result, ax in zip(results, figure.subplots(len(results), 1, squeeze=False)[:, 0], strict=True):
                plots.burn(result, ax=ax, units=options.units)

        save_picture("--plot", options.plot, (7.0, 5.6 * len(results)), draw)
    if options.series is not None:
        with output("--series", options.series) as place:
            _save_series(results[0], place)
        say(f"curves saved to {options.series}")
    if options.json:
        tables = [result.to_dict() for result in results]
        print(json.dumps(tables[0] if len(tables) == 1 else tables, indent=2, allow_nan=False))
        return
    from burnsim.cli.colour import painted, with_headings

    print(with_headings("\n\n".join(result.summary(options.units) for result in results), sys.stdout))
    chamber = any(setup.burner.has_gallery for setup in setups)
    components = tuple({name: None for setup in setups for name in setup.charge.fuel.components})
    print_cautions(chamber, components, painted("Cautions", "bold", sys.stdout))


def _simulate(setup: "Setup") -> "Burn":
    from burnsim.solve import burn

    return burn(setup)


def _save_series(result: "Burn", path: str) -> None:
    from burnsim.report.burn import write_series

    with Path(path).open("w", encoding="utf-8", newline="") as stream:
        write_series(result, stream)
