"""`burnsim calibrate --design FILE LOG...`: learn the uncertain factors from bench logs."""

import argparse
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from burnsim.cli.command import (
    Commands,
    add_answers,
    add_command,
    add_output,
    bar,
    print_json,
    save_picture,
    save_plot,
    tell,
    tell_words,
)
from burnsim.cli.design import add_factors, add_tolerances, read_designs, read_factors, read_logs, read_tolerances
from burnsim.cli.output import say, told_of

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from burnsim.model.description.setup import Setup
    from burnsim.studies.calibrate.next_burn import NextBurns
    from burnsim.studies.calibrate.posterior import Posterior

LEARNT = "learnt from "  # how the note of a factors file begins; the logs follow
HELP = """\
learn the uncertain factors from bench logs

Learn the uncertain factors from bench logs, with their bands as priors; tell what is not learnt.

examples:
  burnsim calibrate --design my.toml saturday.csv sunday.csv --out learnt.toml
  burnsim calibrate --design my.toml saturday.csv --tolerance pot.gap=50%   the gap may be half as wide again
  burnsim calibrate --design my.toml saturday.csv --next boil               which burn tells most of the boil now?
  burnsim calibrate --design my.toml --design no_pot.toml pot.csv bare.csv  a design for each log, in their order
  burnsim calibrate --design my.toml monday.csv --factors learnt.toml --out all.toml    a further log, not the same
  burnsim burn my.toml --factors learnt.toml              the next prediction, corrected
"""


def add_to(commands: "Commands[argparse.ArgumentParser]") -> None:
    """Add the parser of this command."""
    calibrate = add_command(commands, _calibrate, HELP, None)
    calibrate.add_argument("logs", metavar="LOG", nargs="*", help="bench log; none with --next alone")
    words = "design that was burnt: one for all logs, or one a log"
    calibrate.add_argument("--design", metavar="FILE", required=True, action="append", help=words)
    words = "save what was learnt, for --factors of other commands"
    add_output(calibrate, "--out", suffixes=(".toml",), words=words, metavar="FILE.toml")
    calibrate.add_argument("--fit", metavar="NAME,NAME", help="factors to learn (default: all that have a band)")
    words = "tell which bench burns shrink the band of bloom, boil or burnout most; without logs, from the bands"
    calibrate.add_argument("--next", metavar="ANSWER", choices=("bloom", "boil", "burnout"), help=words)
    calibrate.add_argument(
        "--wanted", metavar="FILE", help="design whose answer --next asks for (default: that on the bench)"
    )
    add_tolerances(calibrate, "a size in doubt to learn too, such as pot.gap=50%%")
    add_factors(calibrate)
    calibrate.add_argument("--force", action="store_true", help="save the factors of a bad fit all the same")
    add_answers(calibrate, "the text", "the picture of the residuals, or of what --next tells")
    calibrate.set_defaults(file="")


def _calibrate(options: argparse.Namespace) -> None:
    from burnsim.errors import BurnsimError, InputError
    from burnsim.studies.calibrate.factors_file import save_factors
    from burnsim.studies.calibrate.fit import calibrate

    designs = read_designs(options, options.design)
    design = designs[0]
    tolerances = read_tolerances(options, design)
    if not options.logs:
        if options.next is None or options.out is not None:
            raise InputError("LOG", None, "is missing", "give at least one bench log, or --next without --out")
        tell(options, _proposed(options, design, read_factors(options), tolerances), design)
        return
    logs = read_logs(options)
    options.file = ", ".join(options.logs)
    before = read_factors(options)
    earlier = _learnt_before(options, before)
    names = None if options.fit is None else [name.strip() for name in options.fit.split(",")]
    with bar(f"fitting {len(logs)} {'log' if len(logs) == 1 else 'logs'} ..."), told_of({"factors": "--fit"}):
        found = calibrate(
            designs if len(designs) > 1 else design, logs, factors=names, before=before, tolerances=tolerances
        )
    tall = 0.4 * len(found.nuisances)

    def draw(figure: "Figure") -> None:
        from burnsim import plots

        plots.calibration(found, figure.subplots(2, 1, height_ratios=(1.0 + tall, 2.2)), units=options.units)

    if options.next is None or found.bad:
        save_picture(options.plot, draw, (8.0, 5.5 + tall))
        tell(options, found, design)
    else:
        proposed = _proposed(options, design, found.posterior, {})
        if options.json:  # one object: that of what to burn next
            print_json(proposed.to_dict())
        else:
            tell_words(options, [found.summary(options.units), proposed.summary(options.units)], design)
    if options.out is not None and (options.force or not found.bad):
        note = LEARNT + ", ".join([*earlier, *options.logs])
        save_factors(found.posterior, options.out, note=note, option="--out")
        say(f"factors saved to {options.out}; give it to other commands as --factors {options.out}")
    if found.bad and not options.force:
        saved = f"{options.out} was not written; " if options.out is not None else ""
        raise BurnsimError(f"the fit is bad: {saved}mend the logs, or keep it all the same with --force")


def _learnt_before(options: argparse.Namespace, before: "Posterior | None") -> list[str]:
    """The logs of which the factors file says that it was learnt from them; a log that comes again is told of."""
    note = "" if before is None else before.note
    earlier = note.removeprefix(LEARNT).split(", ") if note.startswith(LEARNT) else []
    names = {Path(one).name for one in earlier}
    if again := [log for log in options.logs if Path(log).name in names]:
        say(
            f"{options.factors} was learnt from {', '.join(again)} already: counted twice, a log makes the bands too "
            "narrow; leave out either the log or --factors"
        )
    return earlier


def _proposed(
    options: argparse.Namespace, design: "Setup", known: "Posterior | None", tolerances: "Mapping[str, float]"
) -> "NextBurns":
    """The burns that would tell most, drawn where `--plot` says."""
    from burnsim.model.description.files import load
    from burnsim.studies.calibrate.next_burn import propose_burns

    wanted = None if options.wanted is None else load(options.wanted)
    with bar("asking what each burn would tell ..."):
        found = propose_burns(design, answer=options.next, wanted=wanted, posterior=known, tolerances=tolerances)
    save_plot(options, found, (8.0, 5.0))
    return found
