"""March one burn from match to burn-out, phase by phase between located events.

One text for one burn and for many: it runs as it stands, on lists, and compiled, on arrays (`burnsim.solve.compile`).

Jumps, however small, are found by the step that is never short enough. Four random designs in 20 000 stuck: heat
jumped by a thousandth of a watt where the wick's flame began to reach a strip, roots of the fins stood unconverged,
and a wall over a bulk at one bar boiled at no excess at all. Look for what jumps along the slopes at the stuck point
before you touch the integrator.
"""

from collections.abc import Sequence
from math import inf

from burnsim.bounds import at_most
from burnsim.model.balances.events import CHANGES, EVENTS, REGIME_EVENTS, guards
from burnsim.model.balances.flows import Flows, balances, derivatives, known_of, near, settled, sloping
from burnsim.model.balances.pot.flows import pot_temperature
from burnsim.model.balances.state import IN_DEW, IN_SLOTS, Regime, flames_standing, unpack
from burnsim.model.parameters.record import Parameters
from burnsim.records import by_slots
from burnsim.solve.controller import Rule, error_norm, falls_short, next_length, share_to_bend
from burnsim.solve.events import FAR, HEIGHTS, KINDS, LOCATED, WAYS, Bracket, Watch, between, narrowed, trial
from burnsim.solve.peaks import ends_unsure, heights_at, heights_inside, measure, summit
from burnsim.solve.recorder import (
    ASKED,
    EVALUATIONS,
    KEEPS,
    LIT,
    MOMENTS,
    MOST_MOMENTS,
    PEAKS,
    REJECTED,
    ROOM,
    SWITCHES,
    TIMES,
    WIDE,
    Recorder,
    keep_phase,
    keep_step,
)
from burnsim.solve.results.snapshot import Snapshot, snapshot
from burnsim.solve.sizes import rest, slot_weight, spent
from burnsim.solve.stepper import STAGES, Vector, Workspace, begin, bend, inside, nudged, stage

HORIZON = 4.0 * 3600.0  # a burn longer than this is cut off [s]
MOST_SWITCHES = 400
SHORTEST = 1e-7  # step [s]
SETTLED = 1e-9  # the slots' speed is as good as at its root [m/s]
FIRST_STEP = 0.2  # after every change of regime [s]
LONGEST = 100.0  # of a step: by steps of 400 s, which the estimate lets pass, slow burns end 0.1 s off [s]
FINE = 1e-4  # tolerance below which difference quotients are taken from both sides
AN_INSTANT = 1e-9  # what is shorter is no step [s]

BURNT_OUT, CUT_OFF, FLUTTER, TOO_MANY_STEPS, TOO_SHORT, SINGULAR, TOO_MANY_EVENTS, GOING_ON = range(8)
"""How a march has ended, or that it goes on."""
HEIGHT = tuple(Snapshot._fields.index(name) for name in PEAKS)
"""Places in a `Snapshot` of what may peak."""
NEAR_PEAK = 0.8  # a step that reaches less than this share of a peak that is known holds no higher one
FLAMES = 3
"""The first entries of a `Regime` are the flames."""
ENTRY = tuple(Regime._fields.index(CHANGES[name][0]) if name in REGIME_EVENTS else -1 for name in EVENTS)
"""For each event the entry of the `Regime` that it changes; -1 for a milestone on the way."""
BECOMES = tuple(CHANGES[name][1] if name in REGIME_EVENTS else -1.0 for name in EVENTS)
"""What that entry becomes."""
NOW, LENGTH, UNTIL, BEGUN, FRESH, ALIGHT = range(6)
"""Places of a march's clock: the time reached, the length to try next, the end of the stretch that it is in [s]; and
1.0 once it has begun, where a phase begins, and once the match's flame has taken."""


@by_slots
def regime_of(regime: Vector) -> Regime:
    """The regime in the entries of a row."""
    return Regime(wick=regime[0], jets=regime[1], well=regime[2], boiling=regime[3], spilling=regime[4])


def slopes(flows: Flows, p: Parameters, rates: Vector, rule: Rule) -> None:
    """The right-hand side at an instant: fills `rates`."""
    made = derivatives(flows, p)
    for k in range(rule.whole):
        rates[k] = made[k]


def guarding(flows: Flows, p: Parameters, guarded: Vector) -> None:
    """The guards at an instant: fills `guarded`."""
    guard = guards(flows, p)
    for k in range(KINDS):
        guarded[k] = guard[k]


def looking(y: Vector, flows: Flows, p: Parameters, look: Vector) -> None:
    """The snapshot of an instant: fills `look`."""
    seen = snapshot(unpack(y, p.components), flows, p)
    for k in range(WIDE):
        look[k] = seen[k]


def settle(y: Vector, flows: Flows, p: Parameters, rule: Rule, rates: Vector) -> Flows:
    """Set the slots' speed at the root of its pressure balance: changes `y`, fills `rates`; the flows with it."""
    calm = settled(flows, p)
    y[rule.algebraic] = calm.slots.speed
    slopes(calm, p, rates, rule)
    return calm


def quotients(y: Vector, flows: Flows, p: Parameters, rule: Rule, at: Workspace) -> int:
    """Difference quotients of the slopes by each state: fills `at.jac`; the number of evaluations.

    What cannot depend on the state that moves is taken over from the point's flows. Slopes by the slots' speed and by
    the dew, on which little depends, are written out. At tolerances below `FINE` a state is moved both ways: a quotient
    of one side is right to a hundred-thousandth, and what is wrong of it times the slots' quick levelling is an error
    of first order, which such a tolerance does not pass.
    """
    count = 0
    rates = at.rates
    state = unpack(y, p.components)
    pot = known_of(flows, state, p)
    for j in range(rule.size):
        column = at.jac[j]
        for k in range(rule.whole):
            column[k] = 0.0
        if at.idle[j] > 0.0 or (rule.spendable[j] > 0.0 and spent(y[j], rates[j])):
            continue
        part = int(rule.part[j])
        if part in (IN_SLOTS, IN_DEW):
            made = derivatives(sloping(flows, state, part, p), p)
            for k in range(rule.whole):
                column[k] = made[k] - rates[k]
            continue
        kept = y[j]
        move = nudged(kept, rule.least[j]) - kept
        both = rule.rtol < FINE and abs(kept) > move
        share = 0.5 if both else 1.0
        for _side in range(2 if both else 1):
            y[j] = kept + move
            made = derivatives(near(flows, pot, unpack(y, p.components), part, p), p)
            count += 1
            for k in range(rule.whole):
                column[k] += share * (made[k] - rates[k]) / move
            move = -move
        y[j] = kept
    return count


def attempt(y: Vector, standing: Regime, p: Parameters, h: float, rule: Rule, at: Workspace) -> bool:
    """One step of length h: fills `at.after` and `at.stages`, the last its error; False if it has no solution."""
    if not begin(h, rule.mass, at, rule.size, rule.whole):
        return False
    for k in range(STAGES):
        stage(k, y, h, rule.mass, at, rule.size, rule.whole)
        if k < STAGES - 1:
            slopes(balances(unpack(at.after, p.components), standing, p), p, at.rate, rule)
    return True


def accepted(
    y: Vector, slots: float, standing: Regime, p: Parameters, h: float, rule: Rule, at: Workspace, recorder: Recorder
) -> tuple[int, float, float]:
    """The first step from a point that meets the rule: (how it went, its length, the length to try next)."""
    while True:
        if not attempt(y, standing, p, h, rule, at):
            return SINGULAR, h, h
        recorder.counts[EVALUATIONS] += STAGES - 1
        norm = error_norm(y, slots * at_most(1.0, h / rule.carried), rule, at)
        following = next_length(h, norm)
        shorter = following
        if norm <= 1.0:
            shorter = h * (0.5 if falls_short(y, at.after, rule) else share_to_bend(y, at, rule))
            if shorter >= h:
                return GOING_ON, h, following
        recorder.counts[REJECTED] += 1
        h = shorter
        if h < SHORTEST or recorder.counts[REJECTED] > rule.most_steps:
            return TOO_SHORT, h, h


def stepped(
    y: Vector, flows: Flows, standing: Regime, p: Parameters, h: float, rule: Rule, at: Workspace, recorder: Recorder
) -> tuple[int, float, float]:
    """An accepted step; where none is short enough, the slots' speed is set at its root, and it is tried once more.

    At a bend of its law the speed may be off its root.
    """
    recorder.counts[EVALUATIONS] += quotients(y, flows, p, rule, at)
    slots = slot_weight(flows.gallery, flows.well, p)
    went, length, following = accepted(y, slots, standing, p, h, rule, at, recorder)
    if went != GOING_ON and abs(settled(flows, p).slots.speed - y[rule.algebraic]) >= SETTLED:
        calm = settle(y, flows, p, rule, at.rates)
        recorder.counts[EVALUATIONS] += quotients(y, calm, p, rule, at)
        went, length, following = accepted(y, slots, standing, p, min(FIRST_STEP, h), rule, at, recorder)
    return went, length, following


def flows_inside(
    y: Vector, s: float, standing: Regime, p: Parameters, rule: Rule, at: Workspace, recorder: Recorder
) -> Flows:
    """The flows at a share of a step from y."""
    inside(y, at, s, rule.whole)
    recorder.counts[EVALUATIONS] += 1
    return balances(unpack(at.point, p.components), standing, p)


def locate(
    y: Vector,
    at: Workspace,
    standing: Regime,
    p: Parameters,
    rule: Rule,
    kind: int,
    bracket: Bracket,
    width: float,
    recorder: Recorder,
    watch: Watch,
) -> float:
    """Share of a step at which a guard turns positive: a secant kept inside its bracket (Anderson and Björck 1973)."""
    while bracket.high - bracket.low > width:
        middle = trial(bracket, width)
        guarding(flows_inside(y, middle, standing, p, rule, at, recorder), p, watch.trial)
        bracket = narrowed(bracket, middle, watch.trial[kind])
    return bracket.high


def is_past(kind: int, watch: Watch) -> bool:
    """True of a milestone that has been seen: it counts once. What changes the regime may happen again."""
    return watch.seen[kind] > 0.0 and ENTRY[kind] < 0


def find_turns(
    y: Vector, at: Workspace, h: float, standing: Regime, p: Parameters, rule: Rule, recorder: Recorder, watch: Watch
) -> None:
    """Where in a step each guard turns positive: fills `watch.turns`; a milestone counts once.

    A guard may turn between its start, middle and end, and back: where a parabola through the three rises above
    nothing, its vertex is looked at too, and so are the places where the lesser of two guards may stand above nothing.
    """
    before, middle, now, turns = watch.before, watch.middle, watch.now, watch.turns
    close = -inf
    for k in range(KINDS):
        if not is_past(k, watch):
            close = max(close, before[k], now[k])
        middle[k] = now[k]
        turns[k] = inf
    if close > -FAR:
        guarding(flows_inside(y, 0.5, standing, p, rule, at, recorder), p, middle)
    for k in range(KINDS):
        if is_past(k, watch):
            continue
        low, f_low, high, f_high = 0.0, before[k], 0.5, middle[k]
        if f_low < 0.0 and f_high < 0.0:
            if now[k] >= 0.0:
                low, f_low, high, f_high = 0.5, middle[k], 1.0, now[k]
            elif max(before[k], middle[k], now[k]) > -FAR:
                for way in range(WAYS):
                    place = between(way, before[k], middle[k], now[k])
                    if place > 0.0 and f_high < 0.0:
                        guarding(flows_inside(y, place, standing, p, rule, at, recorder), p, watch.trial)
                        high, f_high = place, watch.trial[k]
        if f_low >= 0.0:
            turns[k] = 0.0
        elif f_high >= 0.0:
            bracket = Bracket(low=low, high=high, f_low=f_low, f_high=f_high, moved=0.0, tried=0.0)
            turns[k] = locate(y, at, standing, p, rule, k, bracket, LOCATED / h, recorder, watch)


def dips_at_an_event(y: Vector, at: Workspace, rule: Rule, watch: Watch) -> bool:
    """True if a step falls short at an event inside it, though not at its end.

    What begins inside a step, as vapour that starts to pass a flame unburnt, bends its course: a tally may dip first.
    """
    for k in range(KINDS):
        if watch.turns[k] < 1.0:
            inside(y, at, watch.turns[k], rule.whole)
            if falls_short(y, at.point, rule):
                return True
    return False


def write_moment(
    code: int, time: float, y: Vector, flows: Flows, p: Parameters, rule: Rule, recorder: Recorder
) -> None:
    """Write an event down, and all that a result reads there."""
    n = int(recorder.counts[MOMENTS])
    recorder.codes[n] = code
    recorder.moments[n] = time
    point = recorder.points[n]
    for k in range(rule.whole):
        point[k] = y[k]
    looking(y, flows, p, recorder.looks[n])
    recorder.counts[MOMENTS] += 1


def write_turns(
    y: Vector,
    at: Workspace,
    time: float,
    h: float,
    standing: Regime,
    p: Parameters,
    rule: Rule,
    recorder: Recorder,
    watch: Watch,
) -> int:
    """Write down the events of a step up to the first that changes the regime; the code of that one, or -1."""
    while True:
        first = -1
        for k in range(KINDS):
            if watch.turns[k] < inf and (first < 0 or watch.turns[k] < watch.turns[first]):
                first = k
        if first < 0:
            return -1
        if recorder.counts[MOMENTS] >= recorder.counts[MOST_MOMENTS]:
            return KINDS
        flows = flows_inside(y, watch.turns[first], standing, p, rule, at, recorder)
        write_moment(first, time + watch.turns[first] * h, at.point, flows, p, rule, recorder)
        watch.seen[first] = 1.0
        if ENTRY[first] >= 0:
            return first
        watch.turns[first] = inf


def climb(
    y: Vector,
    at: Workspace,
    h: float,
    ending: float,
    standing: Regime,
    p: Parameters,
    rule: Rule,
    recorder: Recorder,
    watch: Watch,
) -> None:
    """Look for peaks inside the first `ending` seconds of a step of length h.

    A pressure follows from the state at once, and may peak inside a step that the state takes in its stride. Only a
    step near a peak that is known is looked into. A step up to the summit of each tells its height, if it meets the
    rule: a pressure of 10 Pa hangs on 3 mK of the liquid, which the interpolant does not keep to.
    """
    low, top, high = watch.low, watch.top, watch.high
    near_peak = False
    for k in range(HEIGHTS):
        reached = max(low[k], high[k])
        if reached > 0.0 and reached >= NEAR_PEAK * recorder.peaks[k]:
            near_peak = True
    if not near_peak:
        return
    heights_inside(y, 0.5 * ending / h, standing, p, rule, at, top, recorder)
    for k in range(HEIGHTS):
        top[k] = summit(k, y, at, h, ending, standing, p, rule, recorder, watch)
    away = False
    for k in range(HEIGHTS):
        if top[k] > 0.0:
            away = True
            recorder.counts[EVALUATIONS] += STAGES
            if attempt(y, standing, p, top[k] * ending, rule, at) and error_norm(y, 0.0, rule, at) <= 1.0:
                heights_at(at.after, standing, p, watch.trial)
                recorder.peaks[k] = max(recorder.peaks[k], watch.trial[k])
    if away:  # take the step again, to the bit as it was
        recorder.counts[EVALUATIONS] += STAGES - 1
        attempt(y, standing, p, h, rule, at)


def answer(
    y: Vector, at: Workspace, time: float, h: float, ending: float, p: Parameters, rule: Rule, recorder: Recorder
) -> None:
    """The water's temperature at the times asked for that lie in a step's first `ending` seconds."""
    for k in range(int(recorder.counts[ASKED])):
        if time <= recorder.asked[k] <= time + ending:
            inside(y, at, (recorder.asked[k] - time) / h, rule.whole)
            state = unpack(at.point, p.components)
            recorder.water[k] = pot_temperature(state.water, state.pot_heat, p)


def write_step(
    y: Vector,
    flows: Flows,
    h: float,
    ending: float,
    changed: int,
    clock: Vector,
    p: Parameters,
    rule: Rule,
    at: Workspace,
    recorder: Recorder,
) -> None:
    """Write down a step of length h, or its first part up to a change of regime, and go on to its end: changes `y`."""
    n = int(recorder.counts[TIMES])
    last = int(recorder.counts[MOMENTS]) - 1
    if changed >= 0:
        for k in range(rule.whole):
            at.after[k] = recorder.points[last][k]
    if ending > AN_INSTANT:
        recorder.times[n] = clock[NOW]
        recorder.counts[TIMES] += 1
        if changed >= 0:
            for k in range(WIDE):
                recorder.snapshots[n][k] = recorder.looks[last][k]
        else:
            looking(at.after, flows, p, recorder.snapshots[n])
        if recorder.counts[KEEPS] > 0.0:
            keep_step(n, y, ending / h, at, recorder, rule.whole)
    for k in range(rule.whole):
        y[k] = at.after[k]


def phase(
    y: Vector,
    regime: Vector,
    clock: Vector,
    p: Parameters,
    rule: Rule,
    at: Workspace,
    watch: Watch,
    recorder: Recorder,
) -> int:
    """March in one regime to its next change, the end of the stretch or a full recorder: how it went."""
    standing = regime_of(regime)
    rest(at.idle, regime, rule)
    flows = balances(unpack(y, p.components), standing, p)
    measure(flows, p, watch.low, recorder)
    if clock[FRESH] > 0.0:
        flows = settle(y, flows, p, rule, at.rates)
        guarding(flows, p, watch.before)
        recorder.counts[EVALUATIONS] += 1
        keep_phase(regime, recorder)
        clock[LENGTH] = FIRST_STEP
        clock[FRESH] = 0.0
    while clock[NOW] < clock[UNTIL] - AN_INSTANT:
        if recorder.counts[TIMES] > recorder.counts[ROOM]:
            return TOO_MANY_STEPS
        time = clock[NOW]
        went, h, following = stepped(
            y, flows, standing, p, min(clock[LENGTH], LONGEST, clock[UNTIL] - time), rule, at, recorder
        )
        if went != GOING_ON:
            return went
        bend(at.stages, at.curve, rule.whole)
        reached = balances(unpack(at.after, p.components), standing, p)
        recorder.counts[EVALUATIONS] += 1
        guarding(reached, p, watch.now)
        find_turns(y, at, h, standing, p, rule, recorder, watch)
        if h > 2.0 * SHORTEST and (
            dips_at_an_event(y, at, rule, watch) or ends_unsure(standing, reached, p, rule, at, recorder, watch)
        ):
            recorder.counts[REJECTED] += 1
            clock[LENGTH] = 0.5 * h
            continue
        clock[LENGTH] = following
        flows = reached
        changed = write_turns(y, at, time, h, standing, p, rule, recorder, watch)
        if changed == KINDS:
            return TOO_MANY_EVENTS
        ending = h if changed < 0 else h * watch.turns[changed]
        answer(y, at, time, h, ending, p, rule, recorder)
        if changed < 0:
            measure(flows, p, watch.high, recorder)
        else:
            for k in range(HEIGHTS):
                watch.high[k] = recorder.looks[int(recorder.counts[MOMENTS]) - 1][HEIGHT[k]]
                recorder.peaks[k] = max(recorder.peaks[k], watch.high[k])
        climb(y, at, h, ending, standing, p, rule, recorder, watch)
        clock[NOW] = time + ending
        write_step(y, flows, h, ending, changed, clock, p, rule, at, recorder)
        if changed >= 0:
            regime[ENTRY[changed]] = BECOMES[changed]
            recorder.counts[SWITCHES] += 1
            return GOING_ON
        slopes(flows, p, at.rates, rule)
        for k in range(KINDS):
            watch.before[k] = watch.now[k]
        for k in range(HEIGHTS):
            watch.low[k] = watch.high[k]
    return CUT_OFF


def run(
    records: Sequence[Parameters],
    y: Vector,
    lighting: float,
    lit: Vector,
    rule: Rule,
    regime: Vector,
    clock: Vector,
    at: Workspace,
    watch: Watch,
    recorder: Recorder,
) -> int:
    """March one burn; how it ended. Where the recorder is full it can be taken up again with a larger one.

    Parameters
    ----------
    records : the parameters, as the first of a row (an array passes to machine code much quicker than a record)
    y : flat state and tallies at the match; the last point when it returns
    lighting, lit : when the match's flame has taken, and the regime then
    rule : what a step must meet
    regime : at the match; changed
    clock : of zeros; where the march stands when it returns
    at, watch : memory, from `workspace` and `watch_of`
    recorder : filled
    """
    p = records[0]
    if clock[BEGUN] <= 0.0:
        looking(y, balances(unpack(y, p.components), regime_of(regime), p), p, recorder.snapshots[0])
        recorder.counts[TIMES] = 1.0
        clock[UNTIL] = lighting
        clock[BEGUN] = 1.0
        clock[FRESH] = 1.0
    while True:
        went = phase(y, regime, clock, p, rule, at, watch, recorder)
        if went == CUT_OFF and clock[ALIGHT] <= 0.0:
            write_moment(LIT, clock[NOW], y, balances(unpack(y, p.components), regime_of(regime), p), p, rule, recorder)
            for k in range(FLAMES):
                regime[k] = lit[k]
            clock[UNTIL] = HORIZON
            clock[ALIGHT] = 1.0
        elif went != GOING_ON:
            return went
        clock[FRESH] = 1.0
        if recorder.counts[SWITCHES] > MOST_SWITCHES:
            return FLUTTER
        if clock[ALIGHT] > 0.0 and flames_standing(regime_of(regime)) <= 0.0:
            return BURNT_OUT
