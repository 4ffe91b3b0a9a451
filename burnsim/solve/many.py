"""Many burns: what came of each, without its course."""

from collections.abc import Iterable
from dataclasses import dataclass

from burnsim.errors import SolverError
from burnsim.model.description import Setup
from burnsim.solve.account import Account, account, instants
from burnsim.solve.march import march
from burnsim.solve.outcome import Outcome, Start, judge
from burnsim.solve.run import DEFAULT_RTOL, check_rtol, ready


@dataclass(frozen=True)
class Failure:
    """A burn that could not be solved."""

    setup: Setup
    reason: str


def outcomes(setups: Iterable[Setup], *, rtol: float = DEFAULT_RTOL) -> list[Outcome | Failure]:
    """Burn many setups, and keep of each only what came of it.

    Parameters
    ----------
    setups : what burns
    rtol : relative tolerance of a step, 1e-9 to 1e-2

    Returns
    -------
    list
        An `Outcome` for each setup in its order, or a `Failure` where the integration broke down.

    Raises
    ------
    InputError
        If `rtol` is out of range, or one of the setups is none.
    """
    check_rtol(rtol)
    found: list[Outcome | Failure] = []
    for setup in setups:
        start = ready(setup)
        try:
            seen = _account(start, rtol)
        except SolverError as error:
            found.append(Failure(setup, str(error)))
        else:
            found.append(judge(setup, start, seen, rtol))
    return found


def _account(start: Start, rtol: float) -> Account:
    p, first, spark = start
    course = march(p, first, None if spark.time is None else (spark.time, spark.flames), rtol)
    return account(p, instants(p, first, course), course)
