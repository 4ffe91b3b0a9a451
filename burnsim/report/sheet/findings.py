"""What a sheet tells besides the design: the burn, and what the studies find; what fails is told, not raised."""

from collections.abc import Callable
from typing import TYPE_CHECKING, NamedTuple, TypeVar

from burnsim.errors import BurnsimError

if TYPE_CHECKING:
    from burnsim.model.description.setup import Setup
    from burnsim.solve import Burn
    from burnsim.studies.bench.analysis import BenchResult
    from burnsim.studies.bench.log import BenchLog
    from burnsim.studies.calibrate.posterior import Posterior
    from burnsim.studies.fill.record import FillLimits
    from burnsim.studies.fill.relief import Relief
    from burnsim.studies.fuels.comparison import FuelComparison
    from burnsim.studies.predict.prediction import Prediction

BURNS = 256  # over the factors' bands: the ends of a 90 % band are then known to a few per cent of it
SKIPPED = "not asked for: the sheet was made in short"
Found = TypeVar("Found")


class Findings(NamedTuple):
    """Results that a sheet shows; a text in place of a result says why there is none."""

    burn: "Burn"
    fill: "FillLimits | str"
    relief: "Relief | str"
    fuels: "FuelComparison | str"
    prediction: "Prediction | str" = SKIPPED
    measured: "tuple[BenchResult, Prediction] | None" = None  # a bench log, and what was predicted for its conditions


def find(
    setup: "Setup",
    *,
    short: bool = False,
    burns: int = BURNS,
    posterior: "Posterior | None" = None,
    report: Callable[[str], None] | None = None,
    log: "BenchLog | None" = None,
) -> Findings:
    """Burn a design and study it.

    In short, bands, fill limit, relief and the table of fuels are left out, which take many burns. `report` is called
    with a line before each piece of work; a log of a burn of the design is held against the prediction.
    """
    from burnsim.studies.batches import burn_whole
    from burnsim.studies.bench.analysis import analyse
    from burnsim.studies.bench.design import apply_conditions
    from burnsim.studies.predict.prediction import predict

    say = report or (lambda line: None)
    say("burning the design ...")
    result = burn_whole(setup)
    measured = None
    if log is not None:
        say("burning it as the log has it ...")
        as_logged = predict(apply_conditions(setup, log), n=burns, posterior=posterior, workers=1)
        measured = analyse(log, setup), as_logged
    if short:
        return Findings(result, SKIPPED, SKIPPED, SKIPPED, measured=measured)
    from burnsim.studies.fill.limit import find_fill_limit
    from burnsim.studies.fill.relief import find_relief
    from burnsim.studies.fuels.comparison import compare_fuels

    say("looking for the fill limits ...")
    fill = _or_why(lambda: find_fill_limit(setup, engine="compiled"))
    say("looking for the relief that the load needs ...")
    relief = _or_why(lambda: find_relief(setup, engine="compiled"))
    say("burning the ready fuels ...")
    fuels = _or_why(lambda: compare_fuels(setup, find_least=False))
    say(f"burning it {burns} times over what is not known ...")
    bands = _or_why(lambda: predict(setup, n=burns, posterior=posterior, workers=1))
    return Findings(result, fill, relief, fuels, bands, measured)


def _or_why(work: Callable[[], Found]) -> Found | str:
    """A result, or in words why there is none."""
    try:
        return work()
    except (BurnsimError, ArithmeticError) as error:
        return str(error)
