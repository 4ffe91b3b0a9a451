"""`burnsim start FILE`: where a burner starts, over the air's temperature and the altitude."""

import argparse
import json
from dataclasses import replace

from burnsim.cli.bar import bar
from burnsim.cli.cautions import print_cautions
from burnsim.cli.design import add_factors, apply_factors, read_design
from burnsim.cli.output import PICTURE_SUFFIXES, check_output, say, told_of
from burnsim.cli.picture import add_units, save_picture

OPTIONS = {"air_temperatures": "--ambient", "altitudes": "--altitude", "most_primer": "--most-primer"}
EXAMPLES = """\
examples:
  burnsim start my.toml                                               from -15 to 25 degC, from 0 to 4000 m
  burnsim start my.toml --ambient -10degC:20degC:5 --altitude 1500m   in the places that matter
  burnsim start my.toml --plot map.png --most-primer "6 ml"           as a picture, with at most so much primer
"""


def add_to(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the parser of this command."""
    start = commands.add_parser(
        "start",
        help="map where a burner starts: cold, altitude, primer",
        description="Burn a design in warm and cold air, low and high: where it starts, and on how much primer.",
        epilog=EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    start.add_argument("file", metavar="FILE", help="design file (TOML)")
    start.add_argument(
        "--ambient",
        metavar="FIRST:LAST:STEP",
        default="-15degC:25degC:10",
        help="temperatures of the air (default -15degC:25degC:10)",
    )
    start.add_argument(
        "--altitude",
        metavar="FIRST:LAST:STEP",
        default="0m:4000m:2000",
        help="altitudes (default 0m:4000m:2000)",
    )
    start.add_argument(
        "--water",
        metavar="TEMPERATURE",
        help="of the pot's water in every place; default: as cold as the air, whatever the design says",
    )
    start.add_argument("--most-primer", metavar="VOLUME", help="largest primer to try; default: what the wick soaks up")
    start.add_argument("--json", action="store_true", help="print one JSON object instead of the tables")
    start.add_argument("--plot", metavar="FILE", help="save the picture (png, pdf, svg, ...)")
    add_units(start, "of tables and picture")
    add_factors(start)
    start.set_defaults(run=_start)


def _start(options: argparse.Namespace) -> None:
    from burnsim.cli.span import span
    from burnsim.errors import InputError
    from burnsim.studies.start.grid import map_starts
    from burnsim.units import parse

    setup = apply_factors(read_design(options), options)
    if options.plot is not None:
        check_output("--plot", options.plot, PICTURE_SUFFIXES, options.file)
    if setup.pot is not None:
        held = None if options.water is None else parse(options.water, "temperature", "--water")
        with told_of({"pot.water_temperature": "--water"}):
            setup = replace(setup, pot=replace(setup.pot, water_temperature=held))
    warm = span(options.ambient, "temperature", "--ambient", "site.air_temperature")
    high = span(options.altitude, "length", "--altitude", "site.altitude")
    most = None if options.most_primer is None else parse(options.most_primer, "volume", "--most-primer")
    if most is not None and most < 0.0:
        raise InputError("--most-primer", options.most_primer, "is below 0", "write it like --most-primer '6 ml'")
    places = len(warm) * len(high)
    say(f"burning in {places} {'place' if places == 1 else 'places'} ...")
    with bar(), told_of(OPTIONS):
        result = map_starts(setup, warm, high, most_primer=most)
    units = options.units
    if options.plot is not None:
        from burnsim import plots

        size = (max(2.0 + 0.8 * len(warm), 6.0), max(2.0 + 0.7 * len(high), 3.5))
        save_picture(
            "--plot",
            options.plot,
            size,
            lambda figure: plots.start_map(result, ax=figure.subplots(), units=units),
        )
    if options.json:
        print(json.dumps(result.to_dict(), indent=2, allow_nan=False))
        return
    print(result.summary(units))
    print_cautions(setup.burner.has_gallery, setup.charge.fuel.components)
