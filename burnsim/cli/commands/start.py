"""`burnsim start FILE`: where a burner starts, over the air's temperature and the altitude."""

import argparse

from burnsim.cli.command import Commands, add_answers, add_command, bar, save_plot, tell
from burnsim.cli.design import add_factors, apply_factors, read_design
from burnsim.cli.output import told_of
from burnsim.cli.values import bounded, span

OPTIONS = {
    "air_temperatures": "--ambient", "altitudes": "--altitude", "most_primer": "--most-primer",
    "pot.water_temperature": "--water",
}  # fmt: skip
USUAL = {
    "si": {"--ambient": "-15degC:25degC:10", "--altitude": "0m:4000m:2000"},
    "us": {"--ambient": "0degF:80degF:20", "--altitude": "0ft:12000ft:6000"},
}
"""The axes of a map for which none are given, by the system of units: round in it."""
HELP = """\
map where a burner starts: cold, altitude, primer

Burn a design in warm and cold air, low and high: where it starts, and on how much primer.

examples:
  burnsim start my.toml                                               from -15 to 25 degC, from 0 to 4000 m
  burnsim start my.toml --ambient -10degC:20degC:5 --altitude 1500m   in the places that matter
  burnsim start my.toml --plot map.png --most-primer "6 ml"           as a picture, with at most so much primer
"""


def add_to(commands: "Commands[argparse.ArgumentParser]") -> None:
    """Add the parser of this command."""
    start = add_command(commands, _start, HELP)
    for name, words in (("--ambient", "temperatures of the air"), ("--altitude", "altitudes")):
        si, us = (USUAL[units][name] for units in ("si", "us"))
        told = f"{words} (default: {si}; in US units {us})"
        start.add_argument(name, metavar="FIRST:LAST:STEP", help=told)
    words = "of the pot's water in every place; default: as cold as the air, whatever the design says"
    start.add_argument("--water", metavar="TEMPERATURE", help=words)
    start.add_argument("--most-primer", metavar="VOLUME", help="largest primer to try; default: what the wick soaks up")
    add_answers(start, "the tables", "the picture", "of tables and picture")
    add_factors(start)


def _start(options: argparse.Namespace) -> None:
    from burnsim.studies.start.grid import map_starts

    setup = apply_factors(read_design(options), options)
    usual = USUAL[options.units]
    ambient, altitude = options.ambient or usual["--ambient"], options.altitude or usual["--altitude"]
    warm = span(ambient, "temperature", "--ambient", "site.air_temperature")
    high = span(altitude, "length", "--altitude", "site.altitude")
    primer = options.most_primer
    most = None if primer is None else bounded(primer, "volume", "--most-primer", "6 ml")
    places = len(warm) * len(high)
    with bar(f"burning in {places} {'place' if places == 1 else 'places'} ..."), told_of(OPTIONS):
        found = map_starts(setup, warm, high, most_primer=most, water=options.water)
    save_plot(options, found, (max(2.0 + 0.8 * len(warm), 6.0), max(2.0 + 0.7 * len(high), 3.5)))
    tell(options, found, setup)
