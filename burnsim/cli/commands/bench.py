"""`burnsim bench LOG...`: what bench logs say."""

import argparse
from typing import TYPE_CHECKING

from burnsim.cli.command import Commands, add_command, add_units, bar, print_json, save_picture
from burnsim.cli.design import add_factors, read_design, read_factors, refuse_inputs
from burnsim.cli.output import PICTURE_SUFFIXES, check_output, say

if TYPE_CHECKING:
    from collections.abc import Sequence

    from matplotlib.figure import Figure

    from burnsim.model.description.setup import Setup
    from burnsim.studies.bench.analysis import BenchResult

BURNS = 256  # a prediction that readings are drawn over
HELP = """\
work out what bench logs say: efficiency, power, repeats

Work out what bench logs say: efficiency by the standard formula, power, boil time, repeats.

examples:
  burnsim bench saturday.csv                              efficiency, power, boil time, with their uncertainty
  burnsim bench a1.csv a2.csv b1.csv --plot bench.png     repeats and builds compared, with a picture
  burnsim bench saturday.csv --design my.toml --plot saturday.png    readings over the prediction and its band
  burnsim bench saturday.csv --design my.toml --json      what the log does not state is taken from the design

A log is a text file: conditions as TOML, a line ---, then rows such as "1:30, 24.5" under "time, water [degC]".
"""


def add_to(commands: "Commands[argparse.ArgumentParser]") -> None:
    """Add the parser of this command."""
    bench = add_command(commands, _bench, HELP, None)
    bench.add_argument("logs", metavar="LOG", nargs="+", help="bench log (conditions, a line ---, readings)")
    bench.add_argument("--design", metavar="FILE", help="design that was burnt; fills in what a log does not state")
    bench.add_argument("--json", action="store_true", help="print one JSON object instead of the text")
    bench.add_argument(
        "--plot",
        metavar="FILE",
        help="save a picture (png, pdf, svg, ...): temperature and power; with --design, readings over the prediction",
    )
    add_factors(bench)
    add_units(bench, "degC and ml, or degF and fl oz, of text and picture; JSON is SI")
    bench.set_defaults(file="")


def _bench(options: argparse.Namespace) -> None:
    from burnsim.report.bench import bench_dict, bench_lines, repeats_dict, repeats_text
    from burnsim.studies.bench.analysis import analyse
    from burnsim.studies.bench.log import read_bench_log
    from burnsim.studies.bench.reference import predict_reference

    options.file = options.logs[0]
    check_output("--plot", options.plot, PICTURE_SUFFIXES, options.logs[0])
    refuse_inputs("--plot", options.plot, options.logs)
    design = None
    if options.design is not None:
        options.file = options.design
        design = read_design(options)
    results = []
    for path in options.logs:
        options.file = path
        results.append(analyse(read_bench_log(path), design))
    units = options.units
    if options.plot is not None and design is not None:
        _save_measured(options, results, design)
    else:

        def draw(figure: "Figure") -> None:
            from burnsim import plots

            plots.bench(results, figure.subplots(2, 1, sharex=True), units=units)

        save_picture(options.plot, draw, (7.0, 6.0))
    by_model = [None if design is None else predict_reference(design, result.log) for result in results]
    if options.json:
        tables = [
            bench_dict(result) | ({} if model is None else {"boil_reference_by_model_s": model.value})
            for result, model in zip(results, by_model, strict=True)
        ]
        found = {"logs": tables, "repeats": repeats_dict(results)}
        print_json(found)
        return
    texts = ["\n".join(bench_lines(result, units, model)) for result, model in zip(results, by_model, strict=True)]
    print("\n\n".join(part for part in (*texts, repeats_text(results)) if part))


def _save_measured(options: argparse.Namespace, results: "Sequence[BenchResult]", design: "Setup") -> None:
    """Save readings over predictions, a column a log."""
    from burnsim import plots
    from burnsim.studies.bench.design import apply_conditions
    from burnsim.studies.predict.prediction import predict

    posterior = read_factors(options)
    say(f"burning {design.name or options.design} {BURNS} times a log ...")
    with bar():
        found = [predict(apply_conditions(design, result.log), n=BURNS, posterior=posterior) for result in results]

    def draw(figure: "Figure") -> None:
        axes = figure.subplots(2, len(found), sharex="col", squeeze=False, height_ratios=(1.6, 1.0))
        for result, one, pair in zip(results, found, axes.T, strict=True):
            plots.measured(result.log, one, list(pair), units=options.units)

    save_picture(options.plot, draw, (7.5 * len(found), 6.5))
