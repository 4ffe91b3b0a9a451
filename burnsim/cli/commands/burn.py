"""`burnsim burn FILE...`: simulate a burn of each design and print its bench note."""

import argparse
from typing import TYPE_CHECKING

from burnsim.cli.command import Commands, add_answers, add_command, add_output, print_json, save_picture, tell_words
from burnsim.cli.design import add_factors, apply_factors, read_design
from burnsim.cli.output import say
from burnsim.errors import InputError
from burnsim.io.text_file import output

if TYPE_CHECKING:
    from matplotlib.figure import Figure


HELP = """\
simulate one burn and print a bench note

Simulate one burn from the match to the last flame, and print a bench note.

examples:
  burnsim burn my.toml                              the bench note
  burnsim burn my.toml --units us --plot burn.png   in degF and fl oz, with a picture
  burnsim burn a.toml b.toml --set site.wind="2 m/s"    several, each with a field changed for this run
  burnsim burn my.toml --json | jq .boil_s          for scripts; null where something did not happen
"""


def add_to(commands: "Commands[argparse.ArgumentParser]") -> None:
    """Add the parser of this command."""
    burn = add_command(commands, _burn, HELP, None)
    burn.add_argument("files", metavar="FILE", nargs="+", help="design file (TOML), or several")
    add_answers(burn, "the note; a list for several designs", "the picture of temperatures and power")
    series = (".csv", "")  # a device has no ending
    add_output(
        burn, "--series", suffixes=series, words="save the curves as comma-separated values in SI", metavar="FILE.csv"
    )
    add_factors(burn)
    burn.set_defaults(file="")


def _burn(options: argparse.Namespace) -> None:
    from burnsim.studies.batches import burn_whole

    designs = options.files
    if options.series is not None and len(designs) > 1:
        raise InputError("--series", options.series, f"does not go with {len(designs)} designs", "give one of them")
    setups = [apply_factors(read_design(options, path), options) for path in designs]
    results = []
    for options.file, setup in zip(designs, setups, strict=True):
        say(f"burning {setup.name or options.file} ...")
        results.append(burn_whole(setup))

    def draw(figure: "Figure") -> None:
        from burnsim import plots

        for result, ax in zip(results, figure.subplots(len(results), 1, squeeze=False)[:, 0], strict=True):
            plots.burn(result, ax=ax, units=options.units)

    save_picture(options.plot, draw, (7.0, 5.6 * len(results)))
    if options.series is not None:
        from burnsim.report.burn import write_series

        with output("--series", options.series) as place, open(place, "w", encoding="utf-8", newline="") as stream:
            write_series(results[0], stream)
        say(f"curves saved to {options.series}")
    if options.json:
        tables = [result.to_dict() for result in results]
        print_json(tables[0] if len(tables) == 1 else tables)
    else:
        tell_words(options, [result.summary(options.units) for result in results], *setups)
