"""`burnsim pour FILE`: what to pour, place by place: primer, charge to boil, and the most that each slope allows."""

import argparse

from burnsim.cli.command import Commands, add_answers, add_command, add_page, bar, tell
from burnsim.cli.design import add_factors, apply_factors, read_design
from burnsim.cli.output import say, told_of
from burnsim.cli.values import span
from burnsim.io.text_file import output

OPTIONS = {
    "air_temperatures": "--ambient", "site.air_temperature": "--ambient", "altitudes": "--altitude",
    "site.altitude": "--altitude", "site.tilt": "--tilt", "pot.water_temperature": "--water",
}  # fmt: skip
HELP = """\
a card of what to pour: primer, charge, largest load by slope and place

Find primer and charge in every place, and the largest load known to be safe on each slope.

examples:
  burnsim pour my.toml                                                  for the design's place, level, 5 and 10 degrees
  burnsim pour my.toml --ambient -5degC:25degC:10 --altitude 0m,2000m   in the places that matter
  burnsim pour my.toml --fuels "methanol, ethanol 95 bottle" --tilt 0deg,8deg --json > card.json
  burnsim pour my.toml --ambient 0degC:20degC:10 -o card.pdf             a page to hang beside the burner
"""


def add_to(commands: "Commands[argparse.ArgumentParser]") -> None:
    """Add the parser of this command."""
    pour = add_command(commands, _pour, HELP)
    pour.add_argument("--tilt", metavar="ANGLES", help="slopes, such as 0deg,8deg (default 0deg,5deg,10deg)")
    pour.add_argument("--ambient", metavar="FIRST:LAST:STEP", help="temperatures of the air (default: the design's)")
    words = "of the pot's water (default: the design's; with --ambient, the air's)"
    pour.add_argument("--water", metavar="TEMPERATURE", help=words)
    pour.add_argument("--altitude", metavar="FIRST:LAST:STEP", help="altitudes (default: the design's)")
    pour.add_argument("--fuels", metavar="LIST", help="spirits, parted by commas (default: the design's)")
    add_page(pour, "save the card as a page instead; ends in .pdf or .html", required=False)
    add_answers(pour, "the card", units="of the card")
    add_factors(pour)


def _pour(options: argparse.Namespace) -> None:
    from burnsim.cli.commands.fuels import spirits
    from burnsim.report.sheet.card import save_pour_card
    from burnsim.studies.fill.card import TILTS, make_pour_card

    setup = apply_factors(read_design(options), options)
    tilts = TILTS if options.tilt is None else span(options.tilt, "angle", "--tilt", "site.tilt")
    warm = high = None
    if options.ambient is not None:
        warm = span(options.ambient, "temperature", "--ambient", "site.air_temperature")
    if options.altitude is not None:
        high = span(options.altitude, "length", "--altitude", "site.altitude")
    fuels = None if options.fuels is None else spirits(options.fuels)
    count = len(warm or (0,)) * len(high or (0,)) * len(fuels or (0,))
    with bar(f"burning at many loads in {count} {'place' if count == 1 else 'places'} ..."), told_of(OPTIONS):
        card = make_pour_card(
            setup, tilts=tilts, air_temperatures=warm, altitudes=high, water=options.water, fuels=fuels,
            engine="compiled",
        )  # fmt: skip
    if options.output is not None:
        with output("--output", options.output):
            save_pour_card(card, options.output, units=options.units, paper=options.paper)
        say(f"card saved to {options.output}")
    if options.json or options.output is None:
        tell(options, card, *(place.setup for place in card.places))
