"""`burnsim fill FILE`: how much may be loaded before liquid comes out of the jets, and the relief that a load needs."""

import argparse
from dataclasses import replace
from typing import TYPE_CHECKING

from burnsim.cli.command import (
    Commands,
    add_answers,
    add_command,
    add_output,
    bar,
    print_json,
    save_picture,
    tell_words,
)
from burnsim.cli.design import add_factors, apply_factors, read_design
from burnsim.cli.output import PICTURE_SUFFIXES, say, told_of
from burnsim.cli.values import bounded, whole
from burnsim.errors import InputError

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from burnsim.model.description.setup import Setup
    from burnsim.studies.fill.record import FillLimits

HELP = """\
how much may be loaded, and the relief that it needs

Find the largest loads that do not spill, at rest and over whole burns, and the relief that a load needs.

examples:
  burnsim fill my.toml --tilt 5                                  limits in words, and the relief for its own load
  burnsim fill my.toml --plot levels.png --map margin.png        its levels to scale; the margin over load and relief
  burnsim fill my.toml --notch-width "2 mm" --notch-depth "1 mm" --json --odds 400 > fill.json
"""


def add_to(commands: "Commands[argparse.ArgumentParser]") -> None:
    """Add the parser of this command."""
    fill = add_command(commands, _fill, HELP)
    fill.add_argument("--tilt", metavar="DEGREES", help="slope of the stand (default: the design's, site.tilt)")
    fill.add_argument("--head", metavar="LENGTH", help='head to keep below the jets (default: "3 mm")')
    fill.add_argument("--share", metavar="PERCENT", help='share of the volume to keep (default: "10 %%")')
    fill.add_argument("--odds", metavar="BURNS", help="also burn so many samples for how likely it spills")
    add_answers(fill, "the note", "the cross-section with its levels", "of note and pictures")
    add_output(fill, "--map", suffixes=PICTURE_SUFFIXES, words="save the map of the margin over load and relief")
    fill.add_argument("--notch-width", metavar="LENGTH", help='width of one relief notch (default: "3 mm", a file\'s)')
    fill.add_argument("--notch-depth", metavar="LENGTH", help='its depth (default: "1.5 mm")')
    add_factors(fill)


def _fill(options: argparse.Namespace) -> None:
    from burnsim.model.description import geometry
    from burnsim.model.description.conditions import STEEPEST
    from burnsim.report.fill import relief_words
    from burnsim.studies.fill.limit import find_fill_limit
    from burnsim.studies.fill.record import Margin
    from burnsim.studies.fill.relief import FILE, find_relief
    from burnsim.studies.fill.spill_odds import LEAST_BURNS, MOST_BURNS, estimate_spill_odds
    from burnsim.units import parse
    from burnsim.units.writing import spelt

    setup = apply_factors(read_design(options), options)
    if options.tilt is not None:  # so that relief, odds and map stand on it too
        tilt = bounded(options.tilt, "angle", "--tilt", "5", STEEPEST, bare="deg")
        setup = replace(setup, site=replace(setup.site, tilt=tilt))
    usual = Margin()
    margin = Margin(
        usual.head if options.head is None else bounded(options.head, "length", "--head", "3 mm", 0.1),
        usual.share if options.share is None else bounded(options.share, "fraction", "--share", "10 %", 0.9),
    )
    samples = None if options.odds is None else whole(options.odds, "--odds", LEAST_BURNS, MOST_BURNS)
    if options.map is not None:
        _check_map(setup)
    width, depth = (
        usual_size if text is None else parse(text, "length", option)
        for option, text, usual_size in (
            ("--notch-width", options.notch_width, FILE[0]), ("--notch-depth", options.notch_depth, FILE[1]),
        )
    )  # fmt: skip
    room = setup.burner.height - geometry.lowest_jet_edge(setup.burner)
    if options.notch_depth is not None and depth >= room > 0.0:
        problem = f"reaches down to the jets; allowed below {spelt(room, 'length')}"
        raise InputError("--notch-depth", options.notch_depth, problem, "give notches that end above the jets")
    units = options.units
    with bar("burning at many loads for the relief ..."), told_of({"width": "--notch-width", "depth": "--notch-depth"}):
        relief = find_relief(setup, margin=margin, width=width, depth=depth, engine="compiled")
    with bar("burning at many loads for the limits ..."):
        limits = find_fill_limit(setup, margin=margin, engine="compiled")
    odds = None
    if samples is not None:
        with bar(f"burning {samples} samples ..."):
            odds = estimate_spill_odds(setup, samples)
    save_picture(options.plot, lambda figure: _draw_levels(figure, limits, units), (9.0, 5.2))
    if options.map is not None:
        _save_map(options.map, setup, limits, units)
    if options.json:
        likely = {} if odds is None else {"spill_probability": odds.to_dict()}
        print_json(limits.to_dict() | relief.to_dict() | likely)
        return
    more = [relief_words(relief, units)] if setup.burner.has_inner_wall else []
    more += [] if odds is None else [odds.summary(units)]
    tell_words(options, [limits.summary(units), *(["\n".join(more)] if more else [])], setup)


def _check_map(setup: "Setup") -> None:
    """Refuse a map that no burn can give, before any burn."""
    from burnsim.studies.fill.margins import mapped

    try:
        mapped(setup)
    except InputError as error:
        raise InputError("--map", setup.name, error.problem, f"{error.remedy}, or leave out --map") from None


def _save_map(path: str, setup: "Setup", limits: "FillLimits", units: str) -> None:
    """Save the map; of a burner that turns out never to light there is none, and the rest is told all the same."""
    from burnsim.studies.fill.margins import map_spills

    try:
        with bar("burning over a grid of loads and reliefs ..."):
            found = map_spills(setup, margin=limits.margin, warm=limits.burning_sealed_warm is not None)
    except InputError as error:
        say(f"no map: {setup.name or 'the burner'} {error.problem}")
        return
    save_picture(path, lambda figure: found.plot(ax=figure.subplots(), units=units), (6.8, 4.8), "--map")


def _draw_levels(figure: "Figure", limits: "FillLimits", units: str) -> None:
    from burnsim import plots

    if not limits.setup.burner.has_inner_wall:
        plots.fill_levels(limits, ax=figure.subplots(), units=units)
        return
    section, head = figure.subplots(1, 2, width_ratios=(2.3, 1.0))
    plots.fill_levels(limits, ax=section, units=units)
    plots.head(limits, ax=head, units=units)
