"""`burnsim log FILE -o LOG` and `burnsim bench LOG...`: a bench log to fill in, and what bench logs say."""

import argparse
from typing import TYPE_CHECKING

from burnsim.cli.command import (
    Commands,
    add_answers,
    add_command,
    add_force,
    add_output,
    add_units,
    bar,
    print_json,
    refuse_without_force,
    save_picture,
)
from burnsim.cli.design import add_factors, apply_factors, read_design, read_factors, read_logs
from burnsim.cli.output import say
from burnsim.io.text_file import write_atomically

if TYPE_CHECKING:
    from collections.abc import Sequence

    from matplotlib.figure import Figure

    from burnsim.model.description.setup import Setup
    from burnsim.studies.bench.analysis import BenchResult
    from burnsim.studies.predict.prediction import Prediction

BURNS = 128  # of the prediction that a log is held against
LOG = """\
write an empty bench log to fill in for a design

Burn a design once, and write a bench log with its head filled in and its rows empty.

examples:
  burnsim log my.toml -o saturday.csv              head as designed, a row a minute for as long as it should burn
  burnsim log my.toml -o saturday.csv --units us   in fl oz and degF
  burnsim bench saturday.csv --design my.toml      afterwards
"""
BENCH = """\
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
    """Add the parsers of these commands."""
    log = add_command(commands, _log, LOG)
    add_output(log, "-o", "--output", words="log to write, such as saturday.csv", metavar="LOG", required=True)
    add_units(log)
    add_force(log)
    add_factors(log)

    bench = add_command(commands, _bench, BENCH, None)
    bench.add_argument("logs", metavar="LOG", nargs="+", help="bench log (conditions, a line ---, readings)")
    bench.add_argument("--design", metavar="FILE", help="design that was burnt; fills in what a log does not state")
    add_answers(bench, "the text", "a picture: temperature and power; with --design, readings over the prediction")
    add_factors(bench)
    bench.set_defaults(file="")


def _log(options: argparse.Namespace) -> None:
    from burnsim.errors import SolverError
    from burnsim.report.sheet.bench_log import blank_log
    from burnsim.solve import Failure
    from burnsim.studies.burn_many import burn_all

    setup = apply_factors(read_design(options), options)
    refuse_without_force(options, options.output)
    found = burn_all([setup])[0]
    if isinstance(found, Failure):
        raise SolverError(found.reason)
    write_atomically(options.output, blank_log(setup, found, options.units), "--output")
    say(f"log written to {options.output}; fill it in, then: burnsim bench {options.output} --design {options.file}")


def _bench(options: argparse.Namespace) -> None:
    from burnsim.report.bench import bench_dict, bench_lines, beside_dict, beside_lines, repeats_dict, repeats_text
    from burnsim.report.values import plain_values
    from burnsim.studies.bench.analysis import analyse
    from burnsim.studies.bench.design import apply_conditions, predict_reference
    from burnsim.studies.predict.beside import beside

    design = None if options.design is None else apply_factors(read_design(options, options.design), options)
    results = [analyse(log, design) for log in read_logs(options)]
    units = options.units
    predicted = [] if design is None else _predicted(options, results, design)
    _save(options, results, predicted)
    by_model = [None if design is None else predict_reference(design, result.log) for result in results]
    rows = [beside(result.log, one) for result, one in zip(results, predicted, strict=bool(predicted))]
    if options.json:
        tables = [
            bench_dict(result) | ({} if model is None else {"boil_reference_by_model_s": model.value})
            for result, model in zip(results, by_model, strict=True)
        ]
        for table, row in zip(tables, rows, strict=bool(rows)):
            table["beside_the_prediction"] = beside_dict(row)
        print_json(plain_values({"logs": tables, "repeats": repeats_dict(results)}))
        return
    texts = [list(bench_lines(result, units, model)) for result, model in zip(results, by_model, strict=True)]
    if design is not None:
        for text, result, row in zip(texts, results, rows, strict=True):
            text.extend(beside_lines(design, apply_conditions(design, result.log), row, BURNS, units))
    print("\n\n".join(part for part in (*map("\n".join, texts), repeats_text(results)) if part))


def _predicted(options: argparse.Namespace, results: "Sequence[BenchResult]", design: "Setup") -> "list[Prediction]":
    from burnsim.studies.bench.design import apply_conditions
    from burnsim.studies.predict.prediction import predict

    posterior = read_factors(options)
    with bar(f"burning {design.name or options.design} {BURNS} times a log ..."):
        return [predict(apply_conditions(design, result.log), n=BURNS, posterior=posterior) for result in results]


def _save(options: argparse.Namespace, results: "Sequence[BenchResult]", predicted: "Sequence[Prediction]") -> None:
    """Save readings over predictions, a column a log, or else beside each other."""

    def draw(figure: "Figure") -> None:
        from burnsim import plots

        if not predicted:
            plots.bench(results, figure.subplots(2, 1, sharex=True), units=options.units)
            return
        axes = figure.subplots(2, len(predicted), sharex="col", squeeze=False, height_ratios=(1.6, 1.0))
        for result, one, pair in zip(results, predicted, axes.T, strict=True):
            plots.measured(result.log, one, list(pair), units=options.units)

    save_picture(options.plot, draw, (7.5 * len(predicted), 6.5) if predicted else (7.0, 6.0))
