"""March one burn from match to burn-out, phase by phase between located events."""

from dataclasses import dataclass

import numpy as np
from scipy.optimize import brentq

from burnsim.errors import SolverError
from burnsim.model.balances import Flows, balances, derivatives, settled_slot_speed
from burnsim.model.events import EVENTS, FLAME_EVENTS, guards, switch
from burnsim.model.parameters import Parameters
from burnsim.model.state import Flames, State, pack, state_size, unpack
from burnsim.solve.rosenbrock import Step, Vector, attempt, jacobian

HORIZON = 4.0 * 3600.0  # a burn longer than this is cut off [s]
MOST_STEPS = 20000
MOST_SWITCHES = 400
AFTERGLOW = 120.0  # after the last flame, the water may still warm for so long [s]
SAFETY = 0.9


@dataclass(frozen=True)
class Event:
    """Something that happened, and when."""

    name: str
    time: float


@dataclass(frozen=True)
class Phase:
    """An unbroken stretch with the same flames."""

    flames: Flames
    steps: tuple[Step, ...]


@dataclass(frozen=True)
class March:
    """The whole course of a burn."""

    phases: tuple[Phase, ...]
    events: tuple[Event, ...]
    ended: str  # "burnt out", "never lit", "horizon"
    evaluations: int
    rejected: int


class _Problem:
    """Right-hand side with a counter; it holds nothing that changes but the flames."""

    def __init__(self, p: Parameters) -> None:
        self.p = p
        self.flames = Flames(0.0, 0.0, 0.0)
        self.evaluations = 0

    def flows(self, y: "list[float]") -> Flows:
        self.evaluations += 1
        return balances(unpack(y, self.p.components), self.flames, self.p)

    def slope(self, y: "list[float]") -> list[float]:
        return derivatives(self.flows(y), self.p)

    def guards(self, y: "list[float]") -> tuple[float, ...]:
        return guards(self.flows(y), self.flames, self.p)


def scales(first: State, p: Parameters) -> Vector:
    """Least size of each state component that matters: the absolute tolerance is rtol times it."""
    moles = max(sum(first.gallery) + sum(first.well), 1e-6)
    n = p.components
    water = max(first.water, 1e-6)
    return np.array(
        [0.05 * moles] * (2 * n)
        + [
            20.0 * p.gallery.metal + 5.0,
            20.0 * p.well.metal + 5.0,
            20.0 * p.walls.rim_capacity,
            max(p.wick.capacity, 1e-6) * 0.1,
            1e-4,
            water,
            5.0 * (p.kettle.water_heat * water + p.kettle.metal),
            1.0,
        ]
    )


def idle_states(flames: Flames, p: Parameters) -> frozenset[int]:
    """States on which no flow depends while these flames stand; their rates may still differ from 0."""
    n = p.components
    idle: set[int] = set()
    if p.gallery.present <= 0.0:
        idle.update((*range(n), 2 * n, 2 * n + 4))
    if p.well.present <= 0.0:
        idle.update((*range(n, 2 * n), 2 * n + 1))
    if flames.wick <= 0.0:
        idle.add(2 * n + 3)
    if p.kettle.present <= 0.0:
        idle.update((2 * n + 5, 2 * n + 6))
    return frozenset(idle)


def locate(problem: _Problem, step: Step, k: int, low: float, high: float) -> float:
    """Time inside a step at which guard k turns positive."""

    def guard(t: float) -> float:
        return problem.guards(step.at(t).tolist())[k]

    if guard(low) >= 0.0:
        return low
    if guard(high) < 0.0:
        return high
    return float(brentq(guard, low, high, xtol=1e-6, rtol=1e-12))


def march(p: Parameters, first: State, lighting: tuple[float, Flames] | None, rtol: float) -> March:
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
    problem = _Problem(p)
    size = state_size(p.components)
    y = np.array(pack(first) + [0.0] * (3 * p.components + 7))
    scale = scales(first, p)
    mass = np.ones(size)
    mass[-1] = 0.0  # the slots' speed is algebraic
    time = 0.0
    seen: set[str] = set()
    events: list[Event] = []
    phases: list[Phase] = []
    rejected = 0
    if lighting is None:
        return March((), (), "never lit", 0, 0)
    stop = lighting[0]
    ended = "horizon"
    step_length = 0.05
    was_lit = False
    while True:
        steps: list[Step] = []
        horizon = HORIZON
        if not was_lit:
            horizon = stop
        elif sum(problem.flames) <= 0.0:
            horizon = min(events[-1].time + AFTERGLOW, HORIZON)
        idle = idle_states(problem.flames, p)
        found: str | None = None
        y[size - 1] = settled_slot_speed(problem.flows(y.tolist()), p)
        flows = problem.flows(y.tolist())
        f = np.array(derivatives(flows, p))
        before = guards(flows, problem.flames, p)
        while found is None and time < horizon - 1e-9:
            if len(steps) > MOST_STEPS:
                raise SolverError(f"more than {MOST_STEPS} steps at {time:.6g} s")
            jac = jacobian(problem.slope, y, f, size, scale, idle)
            while True:
                h = min(step_length, horizon - time)
                after, error, curve = attempt(problem.slope, y, f, jac, h, mass)
                weight = rtol * (np.maximum(np.abs(y[:size]), np.abs(after[:size])) * 0.1 + scale)
                norm = float(np.sqrt(np.mean((error[:size] / weight) ** 2)))
                if not np.isfinite(norm):
                    norm = 1e6
                step_length = h * min(max(SAFETY * max(norm, 1e-8) ** -0.25, 0.15), 4.0)
                if norm <= 1.0:
                    break
                rejected += 1
                if step_length < 1e-8:
                    raise SolverError(f"the step size collapsed at {time:.6g} s")
            step = Step(time, h, y, after, curve)
            flows = problem.flows(after.tolist())
            now = guards(flows, problem.flames, p)
            middle = problem.guards(step.at(time + 0.5 * h).tolist())
            hit = _first_event(problem, step, before, middle, now, seen)
            if hit is None:
                steps.append(step)
                time += h
                y = after
                y[size - 1] = settled_slot_speed(flows, p)
                flows = problem.flows(y.tolist())
                f = np.array(derivatives(flows, p))
                before = now
                continue
            found, when = hit
            y = step.at(when)
            if when - time > 1e-9:
                steps.append(cut(step, when))
            time = when
        phases.append(Phase(problem.flames, tuple(steps)))
        if found is None:
            if not was_lit:
                was_lit = True
                problem.flames = lighting[1]
                events.append(Event("lit", time))
                step_length = 0.02
                continue
            ended = "burnt out" if sum(problem.flames) <= 0.0 else "horizon"
            break
        events.append(Event(found, time))
        if found in FLAME_EVENTS:
            problem.flames = switch(found, problem.flames)
            step_length = min(step_length, 0.02)
            if sum(1 for e in events if e.name in FLAME_EVENTS) > MOST_SWITCHES:
                ended = "flutter"
                break
        else:
            seen.add(found)
    return March(tuple(phases), tuple(events), ended, problem.evaluations, rejected)


def cut(step: Step, when: float) -> Step:
    """The part of a step up to a time inside it, as a step of its own with the same cubic."""
    share = (when - step.start) / step.length
    # y(s) = y0 + s (y1 - y0 + c3) + s^2 (c4 - c3) - s^3 c4, rescaled to the shorter step
    second = (step.curve[1] - step.curve[0]) * share**2
    third = step.curve[1] * share**3
    return Step(step.start, when - step.start, step.before, step.at(when), np.array([third - second, third]))


def _first_event(
    problem: _Problem,
    step: Step,
    before: tuple[float, ...],
    middle: tuple[float, ...],
    now: tuple[float, ...],
    seen: set[str],
) -> tuple[str, float] | None:
    """The earliest event inside a step, located, or None."""
    best: tuple[str, float] | None = None
    half = step.start + 0.5 * step.length
    end = step.start + step.length
    for k, name in enumerate(EVENTS):
        if name in seen:
            continue
        if before[k] >= 0.0:
            when = step.start
        elif middle[k] >= 0.0:
            when = locate(problem, step, k, step.start, half)
        elif now[k] >= 0.0:
            when = locate(problem, step, k, half, end)
        else:
            continue
        if best is None or when < best[1]:
            best = (name, when)
    return best
