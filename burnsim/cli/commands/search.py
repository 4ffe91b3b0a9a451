"""`burnsim search FILE`: the design worth building."""

import argparse
import json

from burnsim.cli.bar import bar
from burnsim.cli.cautions import print_cautions
from burnsim.cli.design import add_factors, read_factors, with_set
from burnsim.cli.output import PICTURE_SUFFIXES, check_output, say
from burnsim.cli.picture import add_units, save_picture

EXAMPLES = """\
examples:
  burnsim search my_search.toml                           the best few designs, and what each limit costs
  burnsim search my_search.toml --plot front.png          with the trade-off as a picture
  burnsim search my_search.toml --evaluations 20000       longer, for a design that is nearer to the best
"""


def add_to(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the parser of this command."""
    search = commands.add_parser(
        "search",
        help="search the design worth building, within limits",
        description="Search the design worth building: ranges, whole numbers, drill sizes; an objective; limits.",
        epilog=EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    search.add_argument(
        "file", metavar="FILE", help="search file (TOML): design, objective, [free], [limits], [forbid]"
    )
    add_factors(search)
    search.add_argument(
        "--evaluations", metavar="N", help="burns at most, draws and checks included (default: what the file says)"
    )
    search.add_argument("--seed", metavar="N", help="of the search (default: what the file says)")
    search.add_argument("--json", action="store_true", help="print one JSON object instead of the text")
    search.add_argument("--plot", metavar="FILE", help="save the picture of the trade-off (png, pdf, svg, ...)")
    add_units(search, "of text and picture")
    search.set_defaults(run=_search)


def _search(options: argparse.Namespace) -> None:
    from burnsim.cli.number import whole
    from burnsim.model.description.files import load
    from burnsim.model.description.vary import vary
    from burnsim.report.search import search_dict, search_text
    from burnsim.studies.search.file import read_search
    from burnsim.studies.search.run import search

    plan = read_search(options.file)
    if options.plot is not None:
        check_output("--plot", options.plot, PICTURE_SUFFIXES, options.file)
    posterior = read_factors(options)
    evaluations = plan.evaluations if options.evaluations is None else whole(options.evaluations, "--evaluations")
    seed = plan.seed if options.seed is None else whole(options.seed, "--seed")
    base = with_set(vary(load(plan.design), plan.changes), options)
    say(f"{evaluations} burns at most ...")
    with bar():
        found = search(
            base, plan.free, plan.objective, maximise=plan.maximise, limits=plan.limits, forbid=plan.forbid,
            share=plan.share, draws=plan.draws, check=plan.check, few=plan.few, trade_off=plan.trade_off,
            evaluations=evaluations, seed=seed, posterior=posterior,
        )  # fmt: skip
    units = options.units
    if options.plot is not None:
        from burnsim import plots

        save_picture(
            "--plot",
            options.plot,
            (7.0, 5.0),
            lambda figure: plots.search(found, figure.subplots(), units=units),
        )
    if options.json:
        print(json.dumps(search_dict(found), indent=2, allow_nan=False))
        return
    print(search_text(found, units))
    print_cautions(base.burner.has_gallery, base.charge.fuel.components)
