"""The march of one burn in text that a compiler can take: numbers and arrays only.

It does what `burnsim.solve.march` does: the same step control, events and limits, on the same balances. It keeps no
course: only the sights at the ends of its steps and what stood at its events. All of it runs as plain Python too,
slowly, for debugging.
"""

from collections.abc import Sequence
from math import inf
from typing import NamedTuple

import numpy as np

from burnsim.model.balances.events import CHANGES, EVENTS, guards
from burnsim.model.balances.flows import Flows, balances, derivatives, settled
from burnsim.model.balances.pot import pot_temperature
from burnsim.model.balances.state import Regime, flames_standing, unpack
from burnsim.model.parameters.record import Parameters
from burnsim.solve.compile.method import (
    Desk,
    Rule,
    attempt,
    bend,
    error_norm,
    falls_short,
    inside,
    quotients,
    regime_of,
)
from burnsim.solve.march import (
    FAR,
    FIRST_STEP,
    HORIZON,
    LOCATED,
    MOST_STEPS,
    MOST_SWITCHES,
    SETTLED,
    SHORTEST,
    Bracket,
    narrowed,
    trial,
)
from burnsim.solve.results.sight import sight
from burnsim.solve.rosenbrock import STAGES, Vector, next_length
from burnsim.solve.sizes import slot_weight

BURNT_OUT, CUT_OFF, FLUTTER, TOO_MANY_STEPS, TOO_SHORT, SINGULAR, TOO_MANY_EVENTS, GOING_ON = range(8)
LIT = -1
"""Code of the event "lit"; the others are the places of their names in `EVENTS`."""
KINDS = len(EVENTS)
REGIME_SIZE = len(Regime._fields)
FLAMES = 3
"""The first entries of a `Regime` are the flames."""
TIMES, MOMENTS, EVALUATIONS, REJECTED, SWITCHES = range(5)
"""Places of the counts in `Book.counts`."""


class Book(NamedTuple):
    """What a march writes down."""

    counts: Vector
    times: Vector  # the match and the ends of the steps [s]
    sights: Vector  # a `Sight` a row
    codes: Vector  # of the events
    moments: Vector  # when they were [s]
    points: Vector  # flat states there
    looks: Vector  # sights there


class Watch(NamedTuple):
    """Guards at the start, the middle and the end of a step, and where in it they turn (as a share; inf: nowhere)."""

    before: Vector
    middle: Vector
    now: Vector
    trial: Vector
    turns: Vector
    seen: Vector  # 1.0 once an event has been


def watch_of() -> Watch:
    """Memory for guards; nothing has been seen yet."""
    return Watch(*(np.zeros(KINDS) for _ in Watch._fields))


def _effects() -> Vector:
    """For each event the entry of the `Regime` that it changes (-1: none), and what that becomes."""
    made = np.full((len(EVENTS), 2), -1.0)
    for name, (entry, value) in CHANGES.items():
        made[EVENTS.index(name)] = Regime._fields.index(entry), value
    return made


EFFECTS = _effects()


def arrive(y: Vector, regime: Vector, p: Parameters, rates: Vector, guarded: Vector, seen: Vector) -> Flows:
    """At the end of a step: fills guards, sight and the slopes to go on with; the flows there."""
    state = unpack(y, p.components)
    standing = regime_of(regime)
    flows = balances(state, standing, p)
    guard = guards(flows, standing, p)
    for k in range(KINDS):
        guarded[k] = guard[k]
    look = sight(state, flows, p)
    for k in range(seen.size):
        seen[k] = look[k]
    made = derivatives(flows, p)
    for k in range(rates.size):
        rates[k] = made[k]
    return flows


def settle(y: Vector, flows: Flows, p: Parameters, rule: Rule, rates: Vector) -> Flows:
    """Set the slots' speed at the root of its pressure balance: changes `y`, fills `rates`; the flows with it."""
    calm = settled(flows, p)
    y[rule.slot_speed] = calm.slots.speed
    made = derivatives(calm, p)
    for k in range(rates.size):
        rates[k] = made[k]
    return calm


def guarding(y: Vector, regime: Vector, p: Parameters, guarded: Vector) -> None:
    """The guards at a point: fills `guarded`."""
    standing = regime_of(regime)
    guard = guards(balances(unpack(y, p.components), standing, p), standing, p)
    for k in range(KINDS):
        guarded[k] = guard[k]


def locate(
    y: Vector,
    at: Desk,
    regime: Vector,
    p: Parameters,
    kind: int,
    low: float,
    high: float,
    f_low: float,
    f_high: float,
    width: float,
    book: Book,
    watch: Watch,
) -> float:
    """Share of a step at which a guard turns positive; see `burnsim.solve.march.locate`."""
    bracket = Bracket(low=low, high=high, f_low=f_low, f_high=f_high, moved=0.0, tried=0.0)
    while bracket.high - bracket.low > width:
        middle = trial(bracket, width)
        bracket = narrowed(bracket, middle, guard_inside(y, at, middle, regime, p, kind, book, watch))
    return bracket.high


def guard_inside(
    y: Vector, at: Desk, s: float, regime: Vector, p: Parameters, kind: int, book: Book, watch: Watch
) -> float:
    """One guard at a share of a step."""
    inside(y, at, s)
    guarding(at.point, regime, p, watch.trial)
    book.counts[EVALUATIONS] += 1
    guard: float = watch.trial[kind]
    return guard


def is_past(kind: int, watch: Watch) -> bool:
    """True of a milestone that has been seen: it counts once. What changes the regime may happen again."""
    return bool(watch.seen[kind] > 0.0 and EFFECTS[kind, 0] < 0.0)


def find_turns(y: Vector, at: Desk, h: float, regime: Vector, p: Parameters, book: Book, watch: Watch) -> None:
    """Where in a step each guard turns positive: fills `watch.turns`; a milestone counts once."""
    near = -inf
    for k in range(KINDS):
        if not is_past(k, watch):
            near = max(near, watch.before[k], watch.now[k])
        watch.middle[k] = watch.now[k]
    if near > -FAR:
        inside(y, at, 0.5)
        guarding(at.point, regime, p, watch.middle)
        book.counts[EVALUATIONS] += 1
    for k in range(KINDS):
        watch.turns[k] = inf
        if is_past(k, watch):
            continue
        if watch.before[k] >= 0.0:
            watch.turns[k] = 0.0
        elif watch.middle[k] >= 0.0:
            watch.turns[k] = locate(
                y, at, regime, p, k, 0.0, 0.5, watch.before[k], watch.middle[k], LOCATED / h, book, watch
            )
        elif watch.now[k] >= 0.0:
            watch.turns[k] = locate(
                y, at, regime, p, k, 0.5, 1.0, watch.middle[k], watch.now[k], LOCATED / h, book, watch
            )


def write_turns(
    y: Vector, at: Desk, time: float, h: float, regime: Vector, p: Parameters, book: Book, watch: Watch
) -> int:
    """Write down the events of a step up to the first that changes the regime; the code of that one, or -1."""
    while True:
        first = -1
        for k in range(KINDS):
            if watch.turns[k] < inf and (first < 0 or watch.turns[k] < watch.turns[first]):
                first = k
        if first < 0:
            return -1
        n = int(book.counts[MOMENTS])
        if n >= book.codes.size:
            return KINDS
        inside(y, at, watch.turns[first])
        book.codes[n] = first
        book.moments[n] = time + watch.turns[first] * h
        for k in range(y.size):
            book.points[n, k] = at.point[k]
        arrive(book.points[n], regime, p, at.rate, watch.trial, book.looks[n])
        book.counts[EVALUATIONS] += 1
        book.counts[MOMENTS] += 1
        watch.seen[first] = 1.0
        if EFFECTS[first, 0] >= 0.0:
            return first
        watch.turns[first] = inf


def accepted(
    y: Vector, slots: float, regime: Vector, p: Parameters, h: float, rule: Rule, at: Desk, book: Book
) -> tuple[int, float, float]:
    """The first step from a point that meets the rule: (how it went, its length, the length to try next)."""
    while True:
        if not attempt(y, regime, p, h, rule.mass, at):
            return SINGULAR, h, h
        book.counts[EVALUATIONS] += STAGES - 1
        norm = error_norm(y, slots, rule, at)
        following = next_length(h, norm)
        if norm <= 1.0 and not falls_short(y, rule, at):
            return GOING_ON, h, following
        book.counts[REJECTED] += 1
        h = following if norm > 1.0 else 0.5 * h
        if h < SHORTEST or book.counts[REJECTED] > MOST_STEPS:
            return TOO_SHORT, h, h


def rest(idle: Vector, regime: Vector, rule: Rule) -> None:
    """Let states be idle while the flame that they need is out, and no longer."""
    for k in range(idle.size):
        flame = int(rule.flame[k])
        if flame >= 0:
            idle[k] = 0.0 if regime[flame] > 0.0 else 1.0


def answer(
    y: Vector, at: Desk, time: float, h: float, ending: float, p: Parameters, asked: Vector, water: Vector
) -> None:
    """The water's temperature at the times asked for that lie in a step's first `ending` seconds: fills `water`."""
    for k in range(asked.size):
        if time <= asked[k] <= time + ending:
            inside(y, at, (asked[k] - time) / h)
            state = unpack(at.point, p.components)
            water[k] = pot_temperature(state.water, state.pot_heat, p)


def stepped(
    y: Vector, flows: Flows, regime: Vector, p: Parameters, h: float, idle: Vector, rule: Rule, at: Desk, book: Book
) -> tuple[int, float, float]:
    """An accepted step; where none is short enough, the slots' speed is set at its root, and it is tried once more."""
    book.counts[EVALUATIONS] += quotients(y, flows, p, rule, idle, at)
    slots = slot_weight(flows.gallery, flows.well, p)
    went, length, following = accepted(y, slots, regime, p, h, rule, at, book)
    if went == TOO_SHORT and abs(settled(flows, p).slots.speed - y[rule.slot_speed]) >= SETTLED:
        calm = settle(y, flows, p, rule, at.rates)
        book.counts[EVALUATIONS] += quotients(y, calm, p, rule, idle, at)
        went, length, following = accepted(y, slots, regime, p, min(FIRST_STEP, h), rule, at, book)
    return went, length, following


def phase(
    y: Vector,
    time: float,
    horizon: float,
    regime: Vector,
    p: Parameters,
    idle: Vector,
    rule: Rule,
    at: Desk,
    book: Book,
    watch: Watch,
    asked: Vector,
    water: Vector,
) -> tuple[int, float]:
    """March in the same regime to its next change or the horizon: (how it went, the time reached)."""
    n = int(book.counts[TIMES])
    flows = arrive(y, regime, p, at.rates, watch.before, book.sights[n])
    flows = settle(y, flows, p, rule, at.rates)
    book.counts[EVALUATIONS] += 1
    length = FIRST_STEP
    steps = 0
    while time < horizon - 1e-9:
        n = int(book.counts[TIMES])
        if steps > MOST_STEPS or n + 1 >= book.times.size:
            return TOO_MANY_STEPS, time
        steps += 1
        went, h, length = stepped(y, flows, regime, p, min(length, horizon - time), idle, rule, at, book)
        if went != GOING_ON:
            return went, time
        bend(at)
        flows = arrive(at.after, regime, p, at.onward, watch.now, book.sights[n])
        book.counts[EVALUATIONS] += 1
        find_turns(y, at, h, regime, p, book, watch)
        changed = write_turns(y, at, time, h, regime, p, book, watch)
        if changed == KINDS:
            return TOO_MANY_EVENTS, time
        ending = h * watch.turns[changed] if changed >= 0 else h
        answer(y, at, time, h, ending, p, asked, water)
        if changed < 0:
            for k in range(y.size):
                y[k] = at.after[k]
                at.rates[k] = at.onward[k]
            for k in range(KINDS):
                watch.before[k] = watch.now[k]
        else:
            last = int(book.counts[MOMENTS]) - 1
            for k in range(y.size):
                y[k] = book.points[last, k]
            for k in range(book.sights.shape[1]):
                book.sights[n, k] = book.looks[last, k]
            regime[int(EFFECTS[changed, 0])] = EFFECTS[changed, 1]
            book.counts[SWITCHES] += 1
        if ending > 1e-9:
            book.times[n] = time + ending
            book.counts[TIMES] += 1
        time += ending
        if changed >= 0:
            return GOING_ON, time
    return CUT_OFF, time


def run(
    records: Sequence[Parameters],
    y: Vector,
    lighting: float,
    lit: Vector,
    rule: Rule,
    idle: Vector,
    regime: Vector,
    at: Desk,
    watch: Watch,
    book: Book,
    asked: Vector,
    water: Vector,
) -> int:
    """March one burn; how it ended.

    Parameters
    ----------
    records : the parameters, as the first of a row (an array passes to machine code much quicker than a record)
    y : flat state and tallies at the match; the last point when it returns
    lighting, lit : when the match's flame has taken, and the regime then
    rule : what a step must meet
    idle : 1.0 for each state on which nothing depends, whatever burns; changed
    regime : at the match; changed
    at, watch : memory, from `desk` and `watch_of`
    book : filled
    asked, water : times at which the water's temperature is wanted [s], and filled with it [K]
    """
    p = records[0]
    time = 0.0
    book.times[0] = 0.0
    arrive(y, regime, p, at.rate, watch.trial, book.sights[0])
    book.counts[TIMES] = 1
    rest(idle, regime, rule)
    while time < lighting:
        went, time = phase(y, time, lighting, regime, p, idle, rule, at, book, watch, asked, water)
        if went == CUT_OFF:
            break
        if went != GOING_ON:
            return went
    n = int(book.counts[MOMENTS])
    book.codes[n] = LIT
    book.moments[n] = time
    for k in range(y.size):
        book.points[n, k] = y[k]
    arrive(y, regime, p, at.rate, watch.trial, book.looks[n])
    book.counts[MOMENTS] += 1
    for k in range(FLAMES):
        regime[k] = lit[k]
    while True:
        rest(idle, regime, rule)
        went, time = phase(y, time, HORIZON, regime, p, idle, rule, at, book, watch, asked, water)
        if went != GOING_ON:
            return went
        if book.counts[SWITCHES] > MOST_SWITCHES:
            return FLUTTER
        if flames_standing(regime_of(regime)) <= 0.0:
            return BURNT_OUT
