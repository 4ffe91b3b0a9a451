"""One burn: from a setup to its result.

The tolerance is that of burners that geyser. A quarter of plausible double walls do so for a minute, in dozens of
bursts, each of which begins from a balance on edge: errors of a burst grow before they fade, and one burst more or
less is 0.2 s at the boil. By local errors the estimator is right, step by step. What must be close is the speed in
the slots, which tells the bursts apart: its scale is 0.02 m/s, and ten times that once the slots stand partly bare,
so that at 1e-3 the boil of 99 in 100 burns is within 0.1 s, and the rest is bound no closer than a calm burn needs.
The draws of `predict` and `sensitivity`, whose bands are minutes wide, take 5e-3: at 1e-2 one draw in a thousand fell
on the other side of its limit. A forecast of the next error (Gustafsson), an error per length of step, shorter steps
after a rejection and other limits of growth were tried: none gives more accuracy for the same work. An error of the
speed weighed by the time that it lasts saves a fifth of the steps of such burns and takes the boil's error to 0.4 s
(99 in 100).
"""

from typing import Any

from burnsim.errors import InputError
from burnsim.model.description.setup import Setup
from burnsim.model.parameters.derive import derive, first_state
from burnsim.solve.ignition import lighting
from burnsim.solve.march import March, march
from burnsim.solve.results.account import account, instants
from burnsim.solve.results.outcome import Start, judge
from burnsim.solve.results.result import Burn, Course
from burnsim.solve.results.validity import out_of_range

DEFAULT_RTOL = 1e-3
"""Of a step: halved, 99 of 100 burns move bloom, boil and burn-out by less than 0.1 s; the rest geyser."""
LOOSEST, TIGHTEST = 1e-2, 1e-9


def check_rtol(rtol: float) -> None:
    """Refuse a tolerance out of range.

    Parameters
    ----------
    rtol : relative tolerance of a step [-]

    Raises
    ------
    InputError
    """
    remedy = f"leave it out for {DEFAULT_RTOL:g}"
    if isinstance(rtol, bool) or not isinstance(rtol, int | float):
        raise InputError("rtol", rtol, "is not a number", remedy)
    if not TIGHTEST <= rtol <= LOOSEST:
        raise InputError("rtol", rtol, f"is out of range; allowed {TIGHTEST:g} to {LOOSEST:g}", remedy)


def ready(setup: Setup) -> Start:
    """Make a setup ready to burn: its parameters, first state, and what the match does.

    Raises
    ------
    InputError
        If it is not a setup.
    """
    if not isinstance(setup, Setup):
        raise InputError("setup", setup, "is not a Setup", "load one with burnsim.load(path) or build one")
    p = derive(setup)
    return Start(p, first_state(setup, p), lighting(setup, p))


def marched(start: Start, rtol: float) -> March:
    """March a setup that was made ready."""
    p, first, spark = start
    return march(p, first, None if spark.time is None else (spark.time, spark.regime), rtol)


def burn(setup: Setup, *, rtol: float = DEFAULT_RTOL) -> Burn:
    """Simulate one burn, from match to burn-out.

    Parameters
    ----------
    setup : what burns, under what, where
    rtol : relative tolerance of a step, 1e-9 to 1e-2

    Returns
    -------
    Burn

    Raises
    ------
    InputError
        If `setup` is not a Setup, or `rtol` is out of range.
    SolverError
        If the integration breaks down.
    """
    check_rtol(rtol)
    start = ready(setup)
    p, first, _ = start
    course = marched(start, rtol)
    at = instants(p, first, course)
    seen = account(p, at, course)
    kept: dict[str, Any] = vars(judge(setup, start, seen, rtol))
    return Burn(
        **kept,
        parameters=p,
        course=Course(course.phases, course.events),
        time=seen.time,
        warnings=out_of_range(p, at.vector, at.regimes, at.time),
    )
