"""`burnsim fuels FILE`: compare spirits in one burner."""

import argparse
from typing import TYPE_CHECKING

from burnsim.cli.command import Commands, add_answers, add_command, bar, print_json, save_plot, tell_words
from burnsim.cli.design import add_factors, apply_factors, read_design
from burnsim.cli.output import told_of
from burnsim.errors import InputError

if TYPE_CHECKING:
    from burnsim.substances.blend import Blend

HELP = """\
compare spirits in the same burner under the same pot

Burn spirits and blends in the same burner, and put side by side what comes of each.

examples:
  burnsim fuels my.toml                                          every ready spirit, as tables
  burnsim fuels my.toml --fuels "methanol, ethanol 95" --quick   two of them, without the search for the least charge
  burnsim fuels my.toml --boils 6 --charge least --plot f.png    what to carry for six boils, and a picture
"""


def add_to(commands: "Commands[argparse.ArgumentParser]") -> None:
    """Add the parser of this command."""
    fuels = add_command(commands, _fuels, HELP)
    fuels.add_argument(
        "--fuels", metavar="A,B,C",
        help='spirits to compare; recipes go between semicolons: "methanol; ethanol 90 %%, methanol 5 %%, water 5 %%"; '
        '"ethanol 95 bottle" is what a label of 95 %% means; default: every ready spirit, and the design\'s own',
    )  # fmt: skip
    words = "burn the design's charge, or the least that boils"
    fuels.add_argument("--charge", choices=("fixed", "least"), default="fixed", help=words)
    fuels.add_argument("--boils", metavar="N", type=int, default=1, help="how many boils to carry spirit for")
    fuels.add_argument("--prices", metavar="A=P,B=P", help="prices of a litre, in any currency")
    fuels.add_argument("--water", action="store_true", help="also find how much water each spirit may hold")
    fuels.add_argument("--quick", action="store_true", help="leave out the search for the least charge")
    add_answers(fuels, "the tables", "the picture", "of tables and picture")
    add_factors(fuels)


def _fuels(options: argparse.Namespace) -> None:
    from burnsim.report.fuels import wrapped
    from burnsim.studies.fuels.comparison import compare_fuels
    from burnsim.studies.fuels.water_limit import find_water_limits

    setup = apply_factors(read_design(options), options)
    chosen = None if options.fuels is None else spirits(options.fuels)
    prices = None if options.prices is None else price_list(options.prices)
    if options.boils < 1:
        raise InputError("--boils", options.boils, "is not a whole number from 1", "write it like --boils 6")
    what = "every spirit" if chosen is None else ", ".join(fuel.name for fuel in chosen)
    with bar(f"burning {what} ..."), told_of({"prices": "--prices"}):
        comparison = compare_fuels(
            setup, chosen, prices=prices, boils=options.boils, charge=options.charge, find_least=not options.quick
        )
        blends = [row.spirit.fuel for row in comparison.rows]
        limits = find_water_limits(setup, blends) if options.water else ()
    save_plot(options, comparison, (8.0, 1.8 + 0.45 * len(comparison.rows)))
    if options.json:
        waters = {"water_limits": [limit.to_dict() for limit in limits]} if options.water else {}
        print_json(comparison.to_dict() | waters)
        return
    texts = [comparison.summary(options.units)]
    if limits:
        lines = [line for limit in limits for line in wrapped(limit.summary(options.units))]
        texts.append("\n".join(["How much water a spirit may hold, by volume before mixing", *lines]))
    tell_words(options, texts, setup, components={name: None for fuel in blends for name in fuel.components})


def spirits(text: str) -> "list[Blend]":
    """Read the spirits to compare: names between commas; with a semicolon anywhere, recipes between semicolons.

    A spirit that ends in "bottle" is meant as its label counts. Shares between commas, which could be one recipe or
    several spirits, are refused.

    >>> [fuel.name for fuel in spirits("methanol, ethanol 95 bottle")]
    ['methanol', 'ethanol 95 bottle']
    """
    if ";" not in text and sum("%" in part for part in text.split(",")) > 1:
        remedy = "end each spirit with a semicolon, then it is clear"
        raise InputError("--fuels", text, "could be one recipe or several spirits", remedy)
    from burnsim.substances.blend import blend

    parts = _parts(text)
    if not parts:
        raise InputError("--fuels", text, "names no spirit", "leave it out for every ready spirit")
    with told_of({"fuel": "--fuels"}, "--fuels"):
        return [blend(part) for part in parts]


def price_list(text: str) -> dict[str, float]:
    """Read prices of a litre, by name.

    >>> price_list("methanol=2.50, ethanol 95=4")
    {'methanol': 2.5, 'ethanol 95': 4.0}
    """
    prices = {}
    for part in _parts(text):
        name, mark, price = part.rpartition("=")
        try:
            if not mark:
                raise ValueError
            prices[name.strip()] = float(price)
        except ValueError:
            raise InputError("--prices", part, "is not a name and a price", "write it like methanol=2.50") from None
    return prices


def _parts(text: str) -> list[str]:
    """What stands between semicolons, or between commas if there is none."""
    return [part.strip() for part in text.split(";" if ";" in text else ",") if part.strip()]
