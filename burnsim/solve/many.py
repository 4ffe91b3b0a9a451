"""Many burns: what came of each, without its course."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from burnsim.errors import InputError, SolverError
from burnsim.model.description.files import Design, as_setup, is_design
from burnsim.model.description.setup import Setup
from burnsim.solve.engines import Engine, burnt_plain, check_engine, compiled, prepare
from burnsim.solve.results.outcome import Outcome, Start, judge
from burnsim.solve.run import DEFAULT_RTOL, March, check_rtol, marched, ready


@dataclass(frozen=True)
class Failure:
    """A burn that could not be solved."""

    setup: Setup
    reason: str


def burn_many(
    setups: Iterable[Design],
    *,
    rtol: float = DEFAULT_RTOL,
    water_at: Sequence[float] = (),
    engine: Engine = "auto",
) -> list[Outcome | Failure]:
    """Burn many setups, and keep of each only what came of it.

    Parameters
    ----------
    setups : what burns: setups, paths of design files, or tables as in them
    rtol : relative tolerance of a step, 1e-9 to 1e-2
    water_at : times [s], rising, at which the water's temperature is kept in `Outcome.water_at`
    engine : "compiled" runs the march as machine code (compiled once for each number of components in a fuel, then kept
        in the user's cache folder); "plain" runs the same text as Python; "auto" compiles when there is much to do

    Returns
    -------
    list
        An `Outcome` for each setup in its order, or a `Failure` where the integration broke down.

    Raises
    ------
    InputError
        If `rtol`, `water_at` or `engine` or one of the setups makes no sense.
    """
    check_rtol(rtol)
    if is_design(setups) or not isinstance(setups, Iterable):
        raise InputError("setups", setups, "is not several setups", "give a list of them")
    check_engine(engine)
    if any(later < earlier for earlier, later in pairwise(water_at)):
        raise InputError("water_at", tuple(water_at), "does not rise", "sort the times")
    listed = [as_setup(setup) for setup in setups]
    if engine == "auto":
        engine = prepare(listed, len(listed))
    starts = [ready(setup) for setup in listed]
    fast = {n: compiled(engine, n) for n in {start.parameters.components for start in starts}}
    found: list[Outcome | Failure] = []
    for setup, start in zip(listed, starts, strict=True):
        try:
            went = marched_by(fast[start.parameters.components], start, rtol, water_at)
            if engine == "auto" and not fast[start.parameters.components]:
                burnt_plain(start)
        except SolverError as error:
            found.append(Failure(setup, str(error)))
        else:
            found.append(replace(judge(setup, start, went.account, rtol), water_at=went.water))
    return found


def marched_by(fast: bool, start: Start, rtol: float, asked: Sequence[float] = (), *, keeps: bool = False) -> March:
    """As `marched`, by machine code where it is `fast`, which keeps the whole course only on demand."""
    if fast and start.spark.time is not None:
        from burnsim.solve.compile.engine import march_compiled

        return march_compiled(start, rtol, asked, keeps=keeps)
    return marched(start, rtol, asked)
