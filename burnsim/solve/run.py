"""One burn: from a setup to its result.

The tolerance is that of the highest pressures, which decide on safety: at 1e-3 those of 99 designs in 100 lie within
1 % of what a tolerance a thousand times tighter gives, and the boil within 0.05 s. At 2e-3 a burn would take a seventh
fewer evaluations, and its boil would still be within 0.1 s. The draws of `predict` and `analyse_sensitivity`, whose
bands are minutes wide, take 5e-3: at 1e-2 one draw in a thousand fell on the other side of its limit. A forecast of the
next error (Gustafsson), an error per length of step, shorter steps after a rejection and other limits of growth were
tried: none gives more accuracy for the same work.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from burnsim.errors import InputError
from burnsim.model.balances.state import Regime, State, at_the_match
from burnsim.model.description.files import Design, as_setup
from burnsim.model.description.setup import Setup
from burnsim.model.parameters.derive import derive, first_state
from burnsim.model.parameters.record import Parameters
from burnsim.solve.arguments import account_of, arguments_of, marched_out, unlit, waters_of
from burnsim.solve.ignition import lighting
from burnsim.solve.march import run
from burnsim.solve.recorder import Event, Phase, phases_of
from burnsim.solve.results.account import Account
from burnsim.solve.results.outcome import Start, judge
from burnsim.solve.results.result import Burn, Course
from burnsim.solve.results.validity import out_of_range
from burnsim.solve.stepper import LISTS

DEFAULT_RTOL = 1e-3
"""Of a step: a thousand times tighter, 99 of 100 burns move bloom, boil and burn-out by less than 0.1 s."""
LOOSEST, TIGHTEST = 1e-2, 1e-9
DARK = Regime(wick=0.0, jets=0.0, well=0.0)


@dataclass(frozen=True)
class March:
    """The whole course of a burn."""

    phases: tuple[Phase, ...]
    account: Account
    water: tuple[float | None, ...]  # at the times that were asked for [K]; None after the end

    @property
    def events(self) -> tuple[Event, ...]:
        """What happened, and when."""
        return tuple(Event(moment.name, moment.time) for moment in self.account.moments)


def march(
    p: Parameters, first: State, lighting: tuple[float, Regime] | None, rtol: float, asked: Sequence[float] = ()
) -> March:
    """Integrate a burn from the first state on; a `SolverError` if the step size collapses.

    The lighting says when the match's flame has taken, and the flames that stand then; None if it never takes. The
    water's temperature is wanted at the times that are asked for [s].
    """
    if lighting is None:
        return March((), unlit(p, first), (None,) * len(asked))
    arguments = arguments_of(p, first, lighting, rtol, asked, LISTS, keeps=True)
    went, arguments = marched_out(lambda given: run((p,), *given), arguments, LISTS)
    account = account_of(went, arguments)
    return March(phases_of(arguments.recorder), account, waters_of(arguments))


def check_rtol(rtol: float) -> None:
    """Refuse a relative tolerance out of range."""
    remedy = f"leave it out for {DEFAULT_RTOL:g}"
    if isinstance(rtol, bool) or not isinstance(rtol, int | float):
        raise InputError("rtol", rtol, "is not a number", remedy)
    if not TIGHTEST <= rtol <= LOOSEST:
        raise InputError("rtol", rtol, f"is out of range; allowed {TIGHTEST:g} to {LOOSEST:g}", remedy)


def ready(setup: Setup) -> Start:
    """Make a setup ready to burn: its parameters, first state, and what the match does."""
    p = derive(setup)
    return Start(p, first_state(setup, p), lighting(setup, p))


def marched(start: Start, rtol: float, asked: Sequence[float] = ()) -> March:
    """March a setup that was made ready; the water's temperature is wanted at the times that are asked for [s]."""
    p, first, spark = start
    return march(p, first, None if spark.time is None else (spark.time, spark.regime), rtol, asked)


def burn(setup: Design, *, rtol: float = DEFAULT_RTOL) -> Burn:
    """Simulate one burn, from match to burn-out.

    Parameters
    ----------
    setup : what burns, under what, where: a `Setup`, the path of a design file, or a table as in one
    rtol : relative tolerance of a step, 1e-9 to 1e-2

    Returns
    -------
    Burn

    Raises
    ------
    InputError
        If `setup` makes no sense, or `rtol` is out of range.
    SolverError
        If the integration breaks down.
    """
    setup = as_setup(setup)
    check_rtol(rtol)
    start = ready(setup)
    return told(setup, start, marched(start, rtol), rtol)


def told(setup: Setup, start: Start, course: March, rtol: float) -> Burn:
    """The result of a march, however it was run, that has kept its whole course."""
    p, first, _ = start
    kept: dict[str, Any] = vars(judge(setup, start, course.account, rtol))
    vectors, regimes = [at_the_match(first, p.components)], [DARK]
    for phase in course.phases:
        vectors += [step.after.tolist() for step in phase.steps]
        regimes += [phase.regime] * len(phase.steps)
    return Burn(
        **kept,
        parameters=p,
        course=Course(course.phases, course.events),
        time=course.account.time,
        warnings=out_of_range(p, vectors, regimes, course.account.time.tolist()),
    )
