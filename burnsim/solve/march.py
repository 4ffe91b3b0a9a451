"""March one burn from match to burn-out, phase by phase between located events.

Events are located by a secant that moves both ends of its bracket (Anderson and Björck), from guards that the march
knows already: six evaluations each, where halving the far end's value every time had taken eighteen, a tenth of a
burn.

Jumps, however small, are found by the step that is never short enough. Four random designs in 20 000 stuck: heat
jumped by a thousandth of a watt where the wick's flame began to reach a strip, roots of the fins stood unconverged,
and a wall over a bulk at one bar boiled at no excess at all. Look for what jumps along the slopes at the stuck point
before you touch the integrator.
"""

from collections.abc import Callable
from dataclasses import dataclass
from math import isfinite, sqrt
from typing import NamedTuple

import numpy as np

from burnsim.errors import SolverError
from burnsim.model.balances.events import EVENTS, REGIME_EVENTS, guards, switch
from burnsim.model.balances.flows import Flows, balances, derivatives, near, settled
from burnsim.model.balances.state import (
    Regime,
    State,
    at_the_match,
    entries,
    flames_standing,
    place,
    state_size,
    unpack,
)
from burnsim.model.parameters.record import Parameters
from burnsim.solve.results.sight import Sight, sight
from burnsim.solve.rosenbrock import Step, Vector, attempt, jacobian, next_length
from burnsim.solve.sizes import (
    SHORTAGE,
    algebraic,
    amounts,
    idle_states,
    nudges,
    rising,
    scales,
    slot_weight,
    spendable,
    spent,
)

HORIZON = 4.0 * 3600.0  # a burn longer than this is cut off [s]
MOST_STEPS = 20000
MOST_SWITCHES = 400
SHORTEST = 1e-7  # step [s]
SETTLED = 1e-9  # the slots' speed is as good as at its root [m/s]
LOCATED = 1e-6  # events are located to this [s]
SECANTS = 20  # seek a guard's zero before its bracket is halved: where it is all but flat at one end, they creep
FAR = 0.3  # guards below minus this at both ends of a step do not reach zero inside it
FIRST_STEP = 0.2  # after every change of regime [s]


@dataclass(frozen=True)
class Event:
    """Something that happened, and when."""

    name: str
    time: float


@dataclass(frozen=True)
class Phase:
    """An unbroken stretch in the same regime."""

    regime: Regime
    steps: tuple[Step, ...]

    @property
    def ends(self) -> tuple[float, ...]:
        """Times at which its steps end [s]."""
        return tuple(step.start + step.length for step in self.steps)


@dataclass(frozen=True)
class March:
    """The whole course of a burn."""

    phases: tuple[Phase, ...]
    events: tuple[Event, ...]
    ended: str  # "burnt out", "never lit", "horizon"
    evaluations: int
    rejected: int
    sights: tuple[tuple[Sight, ...], ...]  # of each phase, at the ends of its steps but for one cut by an event


class Bracket(NamedTuple):
    """An interval in which a guard turns from negative to positive."""

    low: float
    high: float
    f_low: float  # the guard there, below 0; lowered where that end has stood too long
    f_high: float  # not below 0; the same
    moved: float  # -1.0: the lower end moved last, 1.0: the upper end
    tried: float  # how often


class _Problem:
    """Right-hand side of one march: what it needs, its regime, and counters."""

    def __init__(self, p: Parameters, first: State, rtol: float) -> None:
        self.p = p
        self.rtol = rtol
        self.size = state_size(p.components)
        self.scale = scales(first, p)
        self.mass = algebraic(p)
        self.amounts = np.array(amounts(p))
        self.rising = np.array(rising(p))
        self.spendable = spendable(p)
        self.parts = [entry.row.part for entry in entries(p.components)]
        self.slot_speed = place("slot_speed", p.components)
        self.nudge = nudges(self.scale, p)
        self.regime = Regime(wick=0.0, jets=0.0, well=0.0)
        self.evaluations = 0
        self.rejected = 0
        self.sights: list[list[Sight]] = []  # as in `March.sights`

    def flows(self, y: "list[float]") -> Flows:
        self.evaluations += 1
        return balances(unpack(y, self.p.components), self.regime, self.p)

    def slope(self, y: "list[float]") -> list[float]:
        return derivatives(self.flows(y), self.p)

    def slope_near(self, flows: Flows) -> Callable[[list[float], int], list[float]]:
        """Slopes where one entry alone has moved from a point whose flows are known."""
        p = self.p
        n = p.components

        def slope(y: list[float], moved: int) -> list[float]:
            self.evaluations += 1
            return derivatives(near(flows, unpack(y, n), self.parts[moved], p), p)

        return slope

    def short(self, y: Vector, after: Vector) -> bool:
        """True if a step takes more of something than there is, or a tally of moles falls."""
        held, left = y[self.amounts], after[self.amounts]
        if np.any((left < -SHORTAGE) & (left < held)):
            return True
        return bool(np.any(after[self.rising] < y[self.rising] - SHORTAGE))

    def guards(self, y: "list[float]") -> tuple[float, ...]:
        return guards(self.flows(y), self.regime, self.p)


def locate(problem: _Problem, step: Step, k: int, low: float, high: float, f_low: float, f_high: float) -> float:
    """Time inside a step at which guard k turns positive: a secant kept inside its bracket (Anderson and Björck 1973).

    Parameters
    ----------
    problem, step : the step
    k : place of the guard
    low, high : times between which it turns [s]
    f_low, f_high : the guard there, below 0 and not below 0
    """
    bracket = Bracket(low=low, high=high, f_low=f_low, f_high=f_high, moved=0.0, tried=0.0)
    while bracket.high - bracket.low > LOCATED:
        middle = trial(bracket, LOCATED)
        bracket = narrowed(bracket, middle, problem.guards(step.at(middle).tolist())[k])
    return bracket.high


def trial(bracket: Bracket, width: float) -> float:
    """Where to look next in a bracket that is to become so narrow: by the secant, or half-way once many have crept."""
    share = bracket.f_low / (bracket.f_low - bracket.f_high) if bracket.tried < SECANTS else 0.5
    middle = bracket.low + (bracket.high - bracket.low) * share
    return min(max(middle, bracket.low + 0.25 * width), bracket.high - 0.25 * width)


def narrowed(bracket: Bracket, middle: float, f: float) -> Bracket:
    """The part of a bracket in which the guard turns, once its value inside is known."""
    if f < 0.0:
        f_high = bracket.f_high * lowered(f, bracket.f_low) if bracket.moved < 0.0 else bracket.f_high
        return Bracket(low=middle, high=bracket.high, f_low=f, f_high=f_high, moved=-1.0, tried=bracket.tried + 1.0)
    f_low = bracket.f_low * lowered(f, bracket.f_high) if bracket.moved > 0.0 else bracket.f_low
    return Bracket(low=bracket.low, high=middle, f_low=f_low, f_high=f, moved=1.0, tried=bracket.tried + 1.0)


def lowered(now: float, before: float) -> float:
    """What the value at an end of a bracket is multiplied by when the other end moves twice, or it would never move.

    >>> lowered(-1.0, -4.0), lowered(-4.0, -4.0)
    (0.75, 0.5)
    """
    share = 1.0 - now / before if before != 0.0 else 0.0
    return share if share > 0.0 else 0.5


def with_flames(regime: Regime, flames: Regime) -> Regime:
    """A regime with the flames of another; what has begun has begun."""
    return regime._replace(wick=flames.wick, jets=flames.jets, well=flames.well)


def march(p: Parameters, first: State, lighting: tuple[float, Regime] | None, rtol: float) -> March:
    """Integrate a burn.

    Parameters
    ----------
    p : parameters
    first : the state when the match is struck
    lighting : when the match's flame has taken, and the flames that stand then; None if it never takes
    rtol : relative tolerance of a step

    Returns
    -------
    March

    Raises
    ------
    SolverError
        If the step size collapses.
    """
    if lighting is None:
        return March(phases=(), events=(), ended="never lit", evaluations=0, rejected=0, sights=())
    problem = _Problem(p, first, rtol)
    y = np.array(at_the_match(first, p.components))
    phases: list[Phase] = []
    events: list[Event] = []
    time, horizon = 0.0, lighting[0]
    ended = ""
    while not ended:
        phase, y, found = _phase(problem, y, time, horizon, events)
        phases.append(phase)
        if found is not None:
            problem.regime = switch(found.name, problem.regime)
        elif horizon == lighting[0]:
            found, horizon = Event("lit", horizon), HORIZON
            problem.regime = with_flames(problem.regime, lighting[1])
        else:
            ended = "horizon"
            break
        events.append(found)
        time = found.time
        if sum(1 for event in events if event.name in REGIME_EVENTS) > MOST_SWITCHES:
            ended = "flutter"
        elif horizon == HORIZON and flames_standing(problem.regime) <= 0.0:
            ended = "burnt out"
    sights = tuple(map(tuple, problem.sights))
    return March(
        phases=tuple(phases),
        events=tuple(events),
        ended=ended,
        evaluations=problem.evaluations,
        rejected=problem.rejected,
        sights=sights,
    )


def _phase(
    problem: _Problem, y: Vector, time: float, horizon: float, events: list[Event]
) -> tuple[Phase, Vector, Event | None]:
    """March in the same regime up to its next change or the horizon.

    Milestones on the way (a compartment dry) are located and added to `events`; they change no flow, so
    the march goes on. Returns the phase, its last point, and the event that ended it.
    """
    steps: list[Step] = []
    problem.sights.append([])
    idle = idle_states(problem.regime, problem.p)
    flows, y, f = _settle(problem, problem.flows(y.tolist()), y)
    before = guards(flows, problem.regime, problem.p)
    length = FIRST_STEP
    while time < horizon - 1e-9:
        if len(steps) > MOST_STEPS:
            raise SolverError(f"more than {MOST_STEPS} steps at {time:.6g} s")
        try:
            step, length = _accepted(problem, flows, y, f, time, min(length, horizon - time), idle)
        except SolverError:  # at a bend of its law the slots' speed may be off its root: set it there, and once more
            off = y[problem.slot_speed]
            flows, y, f = _settle(problem, flows, y)
            if abs(flows.slots.speed - off) < SETTLED:
                raise
            step, length = _accepted(problem, flows, y, f, time, min(FIRST_STEP, length, horizon - time), idle)
        flows = problem.flows(step.after.tolist())
        now = guards(flows, problem.regime, problem.p)
        middle = now
        past = {event.name for event in events} - REGIME_EVENTS
        if any(max(a, b) > -FAR for a, b, name in zip(before, now, EVENTS, strict=True) if name not in past):
            middle = problem.guards(step.at(time + 0.5 * step.length).tolist())
        happened = _events(problem, step, before, middle, now, past)
        for event in happened:
            if event.name in REGIME_EVENTS:
                if event.time - time > 1e-9:
                    steps.append(cut(step, event.time))
                return Phase(problem.regime, tuple(steps)), step.at(event.time), event
            events.append(event)
        steps.append(step)
        problem.sights[-1].append(sight(unpack(step.after.tolist(), problem.p.components), flows, problem.p))
        time += step.length
        y = step.after.copy()
        f = np.array(derivatives(flows, problem.p))
        before = now
    return Phase(problem.regime, tuple(steps)), y, None


def _settle(problem: _Problem, flows: Flows, y: Vector) -> tuple[Flows, Vector, Vector]:
    """The same point with the slots' speed at the root of its pressure balance: its flows, itself and its slopes."""
    calm = settled(flows, problem.p)
    y = y.copy()
    y[problem.slot_speed] = calm.slots.speed
    return calm, y, np.array(derivatives(calm, problem.p))


def _accepted(
    problem: _Problem, flows: Flows, y: Vector, f: Vector, time: float, h: float, idle: frozenset[int]
) -> tuple[Step, float]:
    """The first step from a point that meets the tolerance, and the length to try next."""
    size = problem.size
    idle |= {k for k in problem.spendable if spent(y[k], f[k])}
    jac = jacobian(problem.slope_near(flows), y, f, size, problem.nudge, idle)
    slots = slot_weight(flows.gallery, flows.well, problem.p)
    while True:
        after, error, curve = attempt(problem.slope, y, f, jac, h, problem.mass)
        weight = problem.rtol * (0.1 * np.maximum(np.abs(y[:size]), np.abs(after[:size])) + problem.scale)
        share = error[:size] / weight
        share[problem.slot_speed] *= slots
        norm = sqrt(float(share @ share) / size)
        if not isfinite(norm):
            norm = 1e6
        following = next_length(h, norm)
        if norm <= 1.0 and not problem.short(y, after):
            return frozen(time, h, y, after, curve), following
        problem.rejected += 1
        h = following if norm > 1.0 else 0.5 * h
        if h < SHORTEST or problem.rejected > MOST_STEPS:
            raise SolverError(f"no step is short enough at {time:.6g} s")


def frozen(time: float, h: float, y: Vector, after: Vector, curve: Vector) -> Step:
    """A step whose arrays cannot be written to any more."""
    for array in (y, after, curve):
        array.flags.writeable = False
    return Step(start=time, length=h, before=y, after=after, curve=curve)


def cut(step: Step, when: float) -> Step:
    """The part of a step up to a time inside it, as a step of its own with the same cubic."""
    share = (when - step.start) / step.length
    # y(s) = y0 + s (y1 - y0 + c3) + s^2 (c4 - c3) - s^3 c4, rescaled to the shorter step
    second = (step.curve[1] - step.curve[0]) * share**2
    third = step.curve[1] * share**3
    return Step(
        start=step.start,
        length=when - step.start,
        before=step.before,
        after=step.at(when),
        curve=np.array([third - second, third]),
    )


def _events(
    problem: _Problem,
    step: Step,
    before: tuple[float, ...],
    middle: tuple[float, ...],
    now: tuple[float, ...],
    past: set[str],
) -> list[Event]:
    """The events inside a step, located, earliest first; milestones that are past do not count again."""
    found: list[Event] = []
    half = step.start + 0.5 * step.length
    end = step.start + step.length
    for k, name in enumerate(EVENTS):
        if name in past:
            continue
        if before[k] >= 0.0:
            found.append(Event(name, step.start))
        elif middle[k] >= 0.0:
            found.append(Event(name, locate(problem, step, k, step.start, half, before[k], middle[k])))
        elif now[k] >= 0.0:
            found.append(Event(name, locate(problem, step, k, half, end, middle[k], now[k])))
    return sorted(found, key=lambda event: event.time)
