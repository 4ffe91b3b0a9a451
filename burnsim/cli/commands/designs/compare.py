"""`burnsim compare FILE FILE...`: which of these, and why."""

import argparse
import json

from burnsim.cli.bar import bar
from burnsim.cli.cautions import print_cautions
from burnsim.cli.design import add_factors, read_design, read_factors, refuse_inputs
from burnsim.cli.output import PICTURE_SUFFIXES, check_output, say, told_of
from burnsim.cli.picture import add_units, save_picture
from burnsim.errors import InputError

EXAMPLES = """\
examples:
  burnsim compare first.toml second.toml                       what differs, and which change did it
  burnsim compare my.toml --but burner.jets.count=28           a design with one field changed, against itself
  burnsim compare a.toml b.toml --logs a.csv b.csv --plot ab.png    with the readings of the bench
"""


def add_to(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the parser of this command."""
    compare = commands.add_parser(
        "compare",
        help="set designs side by side: differences, causes, certainty",
        description="Burn designs side by side: what differs, which change did it, and whether that is sure.",
        epilog=EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    compare.add_argument("files", metavar="FILE", nargs="+", help="design files (TOML), two to six")
    compare.add_argument(
        "--but",
        metavar="PATH=VALUE",
        action="append",
        default=[],
        help="compare with the last design so changed; may be repeated, for all changes together (default: none)",
    )
    compare.add_argument(
        "--logs", metavar="LOG", nargs="+", default=[], help="bench logs, by build or in the order of the designs"
    )
    add_factors(compare)
    compare.add_argument("-n", "--draws", metavar="N", default="64", help="of the factors, 0 for none (default 64)")
    compare.add_argument("--seed", metavar="N", default="0", help="of the draws (default 0)")
    compare.add_argument("--json", action="store_true", help="print one JSON object instead of the text")
    compare.add_argument("--plot", metavar="FILE", help="save the picture of all curves (png, pdf, svg, ...)")
    add_units(compare, "of text and picture")
    compare.set_defaults(run=_compare, file="")


def _compare(options: argparse.Namespace) -> None:
    from burnsim.cli.number import whole
    from burnsim.cli.vary_option import read_set
    from burnsim.model.description.vary import vary
    from burnsim.report.designs.compare import compare_dict, compare_text
    from burnsim.studies.compare.comparison import compare

    designs, setups = options.files, []
    for options.file in designs:
        setups.append(read_design(options))
        if options.plot is not None:
            check_output("--plot", options.plot, PICTURE_SUFFIXES, options.file)
    if options.plot is not None:
        refuse_inputs("--plot", options.plot, options.logs)
    if options.but:
        with told_of({}, "--but"):
            name = f"{setups[-1].name}, {', '.join(options.but)}".lstrip(", ")
            setups.append(vary(setups[-1], {**read_set(options.but, "--but"), "name": name}))
    if len(setups) < 2:
        raise InputError("FILE", designs[0], "is a single design", "give two, or say what changes with --but")
    draws, seed = whole(options.draws, "--draws", 0, 4096), whole(options.seed, "--seed")
    posterior = read_factors(options)
    say(f"burning {len(setups)} designs side by side ...")
    with bar(), told_of({"n": "--draws", "logs": "--logs", "designs": "FILE"}):
        found = compare(setups, logs=options.logs, n=draws, seed=seed, posterior=posterior)
    if options.plot is not None:
        from burnsim import plots

        save_picture(
            "--plot",
            options.plot,
            (8.4, 7.0),
            lambda figure: plots.compare(found, figure.subplots(), units=options.units),
        )
    if options.json:
        print(json.dumps(compare_dict(found), indent=2, allow_nan=False))
        return
    print(compare_text(found, options.units))
    chamber = any(setup.burner.has_gallery for setup in setups)
    print_cautions(chamber, tuple({name: None for setup in setups for name in setup.charge.fuel.components}))
