"""`burnsim predict FILE`: what may come of a burn, with honest bands."""

import argparse
from typing import TYPE_CHECKING

from burnsim.cli.command import Commands, add_answers, add_command, add_draws, bar, print_json, save_picture, tell_words
from burnsim.cli.design import add_factors, add_tolerances, read_design, read_factors, read_tolerances
from burnsim.cli.output import say
from burnsim.cli.values import whole

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from burnsim.studies.predict.prediction import Prediction
    from burnsim.studies.predict.sobol import Sensitivity

HELP = """\
predict a burn with bands: quantiles, probabilities, what matters

Burn a design many times over what is not known of it, and tell quantiles and probabilities: of the mean of this
build, of its next burn, and of another build to the same drawing.

examples:
  burnsim predict my.toml                                 quantiles of each milestone, and what may go wrong
  burnsim predict my.toml --factors learnt.toml           the same after calibration
  burnsim predict my.toml --sobol                         which unknown matters
  burnsim predict my.toml --tolerance charge.volume=3%    a size that will not be met exactly
"""


def add_to(commands: "Commands[argparse.ArgumentParser]") -> None:
    """Add the parser of this command."""
    predict = add_command(commands, _predict, HELP)
    add_factors(predict)
    add_draws(predict, 512, "how many burns", "burns")
    add_tolerances(predict, "a further size to draw, such as charge.volume=3%%")
    predict.add_argument("--sobol", action="store_true", help="tell which unknown matters (some 3000 burns more)")
    add_answers(predict, "the text", "the picture: bands, and what --sobol tells")


def _predict(options: argparse.Namespace) -> None:
    from burnsim.studies.predict.prediction import MOST_BURNS, predict
    from burnsim.studies.predict.sobol import analyse_sensitivity

    setup = read_design(options)
    posterior = read_factors(options)
    burns, seed = whole(options.burns, "--burns", 8, MOST_BURNS), whole(options.seed, "--seed")
    tolerances = read_tolerances(options, setup)
    with bar(f"burning {setup.name or options.file} {burns} times ..."):
        found = predict(setup, n=burns, seed=seed, posterior=posterior, tolerances=tolerances)
    matters = None
    if options.sobol:
        if posterior is not None and not posterior.as_in_bands():
            say("no Sobol indices: the factors of a calibration hang together")
        else:
            with bar("burning for the Sobol indices ..."):
                matters = analyse_sensitivity(setup, seed=seed, posterior=posterior)
    drawn: list[Prediction | Sensitivity] = [found] if matters is None else [found, matters]

    def draw(figure: "Figure") -> None:
        for one, ax in zip(drawn, figure.subplots(1, len(drawn), squeeze=False)[0], strict=True):
            one.plot(ax=ax, units=options.units)

    save_picture(options.plot, draw, (7.0 if matters is None else 13.0, 5.2))
    if options.json:
        print_json(found.to_dict() | {"sensitivity": None if matters is None else matters.to_dict()})
    else:
        tell_words(options, [one.summary(options.units) for one in drawn], setup)
