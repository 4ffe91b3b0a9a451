"""`burnsim levers FILE`: what to change, and how far the cliffs are."""

import argparse
import json

from burnsim.cli.bar import bar
from burnsim.cli.cautions import print_cautions
from burnsim.cli.design import add_factors, read_design, read_factors
from burnsim.cli.output import PICTURE_SUFFIXES, check_output, say, told_of
from burnsim.cli.picture import add_units, save_picture

EXAMPLES = """\
examples:
  burnsim levers my.toml                                 what one step of each field does to the time of the boil
  burnsim levers my.toml --for fuel --plot levers.png    the same for the fuel, with a picture
  burnsim levers my.toml --drills "0.9 mm, #60 drill" --sheets "0.1 mm"    only what you have
"""


def add_to(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the parser of this command."""
    levers = commands.add_parser(
        "levers",
        help="tell what to change: one step of each field, and how far each cliff is",
        description="Take one step of every field that a builder can change; find the cliffs (quench, no bloom, spill, "
        "no boil, lift-off).",
        epilog=EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    levers.add_argument("file", metavar="FILE", help="design file (TOML)")
    levers.add_argument(
        "--for",
        dest="objective",
        metavar="WHAT",
        default="boil",
        help="boil, fuel, efficiency, bloom or spill (default boil)",
    )
    levers.add_argument("--drills", metavar="LIST", help="drills at hand, with commas (default: each 0.05 mm)")
    levers.add_argument("--sheets", metavar="LIST", help="thicknesses of sheet at hand (default: the usual ones)")
    add_factors(levers)
    levers.add_argument("-n", "--draws", metavar="N", default="32", help="of the factors (default 32)")
    levers.add_argument("--seed", metavar="N", default="0", help="of the draws (default 0)")
    levers.add_argument("--json", action="store_true", help="print one JSON object instead of the text")
    levers.add_argument("--plot", metavar="FILE", help="save the picture of the steps (png, pdf, svg, ...)")
    add_units(levers, "of text and picture")
    levers.set_defaults(run=_levers)


def _levers(options: argparse.Namespace) -> None:
    from burnsim.cli.number import whole
    from burnsim.report.designs.levers import levers_dict, levers_text
    from burnsim.studies.levers.levers import find_levers

    setup = read_design(options)
    if options.plot is not None:
        check_output("--plot", options.plot, PICTURE_SUFFIXES, options.file)
    draws, seed = whole(options.draws, "--draws", 8, 4096), whole(options.seed, "--seed")
    posterior = read_factors(options)
    drills, sheets = (
        None if text is None else [part.strip() for part in text.split(",")]
        for text in (options.drills, options.sheets)
    )
    say(f"trying every step of {setup.name or options.file} ...")
    with bar(), told_of({"objective": "--for", "drills": "--drills", "sheets": "--sheets", "n": "--draws"}):
        found = find_levers(
            setup, options.objective, drills=drills, sheets=sheets, n=draws, seed=seed, posterior=posterior
        )
    if options.plot is not None:
        from burnsim import plots

        save_picture(
            "--plot",
            options.plot,
            (8.4, 6.0),
            lambda figure: plots.levers(found, figure.subplots(), units=options.units),
        )
    if options.json:
        print(json.dumps(levers_dict(found), indent=2, allow_nan=False))
        return
    print(levers_text(found, options.units))
    print_cautions(setup.burner.has_gallery, setup.charge.fuel.components)
