"""`burnsim predict FILE`: what may come of a burn, with honest bands."""

import argparse
import json
from typing import TYPE_CHECKING

from burnsim.cli.bar import bar
from burnsim.cli.cautions import print_cautions
from burnsim.cli.design import add_factors, read_design, read_factors
from burnsim.cli.output import PICTURE_SUFFIXES, check_output, say
from burnsim.cli.picture import add_units, save_picture
from burnsim.cli.tolerances import add_tolerances, read_tolerances

if TYPE_CHECKING:
    from matplotlib.figure import Figure

EXAMPLES = """\
examples:
  burnsim predict my.toml                                 quantiles of each milestone, and what may go wrong
  burnsim predict my.toml --factors learnt.toml           the same after calibration
  burnsim predict my.toml --sobol                         which unknown matters
  burnsim predict my.toml --tolerance charge.volume=3%    a size that will not be met exactly
"""


def add_to(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add the parser of this command."""
    predict = commands.add_parser(
        "predict",
        help="predict a burn with bands: quantiles, probabilities, what matters",
        description="Burn a design many times over what is not known of it, and tell quantiles and probabilities: of "
        "the mean of this build, of its next burn, and of another build to the same drawing.",
        epilog=EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    predict.add_argument("file", metavar="FILE", help="design file (TOML)")
    add_factors(predict)
    predict.add_argument("-n", "--burns", metavar="N", default="512", help="how many burns (default 512)")
    predict.add_argument("--seed", metavar="N", default="0", help="of the sample (default 0)")
    add_tolerances(predict, "a further size to draw, such as charge.volume=3%%")
    predict.add_argument("--sobol", action="store_true", help="tell which unknown matters (some 3000 burns more)")
    predict.add_argument("--json", action="store_true", help="print one JSON object instead of the text")
    predict.add_argument("--plot", metavar="FILE", help="save the picture: bands, and what --sobol tells (png, ...)")
    add_units(predict, "of text and picture")
    predict.set_defaults(run=_predict)


def _predict(options: argparse.Namespace) -> None:
    from burnsim.cli.number import whole
    from burnsim.report.predict import prediction_dict, prediction_text, sensitivity_dict, sensitivity_text
    from burnsim.studies.predict.prediction import predict
    from burnsim.studies.predict.sobol import analyse_sensitivity

    setup = read_design(options)
    if options.plot is not None:
        check_output("--plot", options.plot, PICTURE_SUFFIXES, options.file)
    posterior = read_factors(options)
    burns, seed = whole(options.burns, "--burns", 8, 2**20), whole(options.seed, "--seed")
    tolerances = read_tolerances(options, setup)
    say(f"burning {setup.name or options.file} {burns} times ...")
    with bar():
        found = predict(setup, n=burns, seed=seed, posterior=posterior, tolerances=tolerances)
    matters = None
    if options.sobol:
        if posterior is not None and not posterior.independent():
            say("no Sobol indices: the factors of a calibration hang together")
        else:
            say("burning for the Sobol indices ...")
            with bar():
                matters = analyse_sensitivity(setup, seed=seed, posterior=posterior)
    units = options.units
    if options.plot is not None:
        from burnsim import plots

        def draw(figure: "Figure") -> None:
            bands, *beside = figure.subplots(1, 1 if matters is None else 2, squeeze=False)[0]
            plots.prediction(found, bands, units=units)
            if matters is not None:
                plots.sensitivity(matters, *beside)

        save_picture("--plot", options.plot, (7.0 if matters is None else 13.0, 5.2), draw)
    if options.json:
        table = prediction_dict(found)
        table["sensitivity"] = None if matters is None else sensitivity_dict(matters)
        print(json.dumps(table, indent=2, allow_nan=False))
        return
    print(prediction_text(found, units))
    if matters is not None:
        print("\n" + sensitivity_text(matters))
    print_cautions(setup.burner.has_gallery, setup.charge.fuel.components)
