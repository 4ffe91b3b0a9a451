"""`burnsim search FILE`: the design worth building."""

import argparse

from burnsim.cli.command import Commands, add_answers, add_command, bar, save_plot, tell
from burnsim.cli.design import add_factors, read_factors, with_set
from burnsim.cli.values import whole

HELP = """\
search for the design worth building, within limits

Search for the design worth building: ranges, whole numbers, drill sizes; an objective; limits.

examples:
  burnsim search my_search.toml                           the best few designs, and what each limit costs
  burnsim search my_search.toml --plot front.png          with the trade-off as a picture
  burnsim search my_search.toml --evaluations 20000       longer, for a design that is nearer to the best
"""


def add_to(commands: "Commands[argparse.ArgumentParser]") -> None:
    """Add the parser of this command."""
    search = add_command(commands, _search, HELP, "search file (TOML): design, objective, [free], [limits], [forbid]")
    add_factors(search)
    words = "burns at most, draws and checks included (default: what the file says)"
    search.add_argument("--evaluations", metavar="N", help=words)
    search.add_argument("--seed", metavar="N", help="seed of the search (default: what the file says)")
    add_answers(search, "the text", "the picture of the trade-off")


def _search(options: argparse.Namespace) -> None:
    from burnsim.model.description.files import load
    from burnsim.model.description.vary import vary
    from burnsim.studies.search.file import read_search
    from burnsim.studies.search.run import EVALUATIONS, search

    plan = read_search(options.file)
    posterior = read_factors(options)
    own = {name: getattr(options, name) for name in ("evaluations", "seed")}
    asked = plan.asked | {name: whole(text, f"--{name}") for name, text in own.items() if text is not None}
    base = with_set(vary(load(plan.design), plan.changes), options)
    with bar(f"{asked.get('evaluations', EVALUATIONS)} burns at most ..."):
        found = search(base, **asked, posterior=posterior)
    save_plot(options, found, (7.0, 5.0))
    tell(options, found, base)
