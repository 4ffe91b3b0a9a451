"""What a march takes beside its parameters, and what is read off it once it has ended; plain or compiled alike."""

from collections.abc import Callable, Sequence
from math import isnan
from typing import Any, NamedTuple

import numpy as np

from burnsim.errors import SolverError
from burnsim.model.balances.flows import balances
from burnsim.model.balances.state import Regime, State, at_the_match, state_size, tallies_size
from burnsim.model.parameters.record import Parameters
from burnsim.solve.controller import Rule
from burnsim.solve.events import KINDS, Watch, watch_of
from burnsim.solve.march import (
    ALIGHT,
    BURNT_OUT,
    CUT_OFF,
    FLUTTER,
    MOST_SWITCHES,
    NOW,
    SINGULAR,
    TOO_MANY_EVENTS,
    TOO_MANY_STEPS,
    TOO_SHORT,
)
from burnsim.solve.recorder import (
    EVALUATIONS,
    PEAKS,
    REGIME_SIZE,
    REJECTED,
    ROOM,
    TIMES,
    Recorder,
    enlarged,
    events_of,
    recorder,
)
from burnsim.solve.results.account import Account, Moment
from burnsim.solve.results.snapshot import Snapshot, snapshot
from burnsim.solve.sizes import rule_of
from burnsim.solve.stepper import Memory, Vector, Workspace, workspace

FAILURES = {
    TOO_MANY_STEPS: "more than {} steps",
    TOO_SHORT: "no step is short enough",
    SINGULAR: "the step matrix is singular",
    TOO_MANY_EVENTS: "too many events",
}
AT_FIRST = 256  # steps for which a march has room at first
ENDS = {BURNT_OUT: "burnt out", CUT_OFF: "horizon", FLUTTER: "flutter"}


class Arguments(NamedTuple):
    """What `run` takes beside the parameters."""

    y: Vector
    lighting: float
    lit: Vector
    rule: Rule
    regime: Vector
    clock: Vector
    at: Workspace
    watch: Watch
    recorder: Recorder


def arguments_of(
    p: Parameters,
    first: State,
    lighting: tuple[float, Regime],
    rtol: float,
    asked: Sequence[float],
    memory: Memory,
    *,
    keeps: bool,
) -> Arguments:
    """What a march needs before it begins; `keeps` if the whole course is kept. The rest is as in `march`."""
    n = p.components
    size, whole = state_size(n), state_size(n) + tallies_size(n)
    y, lit = memory.row(whole), memory.row(REGIME_SIZE)
    for k, number in enumerate(at_the_match(first, n)):
        y[k] = number
    for k, number in enumerate(lighting[1]):
        lit[k] = number
    return Arguments(
        y=y,
        lighting=lighting[0],
        lit=lit,
        rule=rule_of(rtol, first, p, memory),
        regime=memory.row(REGIME_SIZE),
        clock=memory.row(ALIGHT + 1),
        at=workspace(size, whole, memory),
        watch=watch_of(memory),
        recorder=recorder(AT_FIRST, MOST_SWITCHES + KINDS + 4, whole, asked, memory, keeps=keeps),
    )


def marched_out(run: Callable[[Arguments], int], arguments: Arguments, memory: Memory) -> tuple[int, Arguments]:
    """March a burn to its end, with room for more steps whenever it runs out: how it ended, and what it has filled.

    `run` is `burnsim.solve.march.run` for the burn's parameters, or its machine code.
    """
    most = int(arguments.rule.most_steps)
    while (went := run(arguments)) == TOO_MANY_STEPS and arguments.recorder.counts[ROOM] < most:
        larger = min(4 * int(arguments.recorder.counts[ROOM]), most)
        arguments = arguments._replace(recorder=enlarged(arguments.recorder, larger, memory))
    return went, arguments


def account_of(went: int, arguments: Arguments) -> Account:
    """The account of a march that has ended; a `SolverError` if it has broken down."""
    if went not in ENDS:
        raise SolverError(f"{FAILURES[went].format(int(arguments.rule.most_steps))} at {arguments.clock[NOW]:.6g} s")
    written: Any = arguments.recorder  # lists or arrays, of which a march asks less than is asked here
    many = int(written.counts[TIMES])
    time = np.array(written.times[:many])
    snapshots = np.array(written.snapshots[:many])
    time.flags.writeable = False
    moments = tuple(
        Moment(name, float(written.moments[k]), _floats(written.points[k]), Snapshot(*_floats(written.looks[k])))
        for k, name in enumerate(events_of(written))
    )
    return Account(
        time=time,
        snapshots=snapshots,
        peaks=_floats(written.peaks),
        moments=moments,
        last=_floats(arguments.y),
        ended=ENDS[went],
        evaluations=int(written.counts[EVALUATIONS]),
        rejected=int(written.counts[REJECTED]),
    )


def _floats(row: Vector) -> tuple[float, ...]:
    return tuple(np.asarray(row).tolist())


def waters_of(arguments: Arguments) -> tuple[float | None, ...]:
    """The water's temperature at the times that were asked for [K]; None after the end."""
    return tuple(None if isnan(kelvin) else kelvin for kelvin in _floats(arguments.recorder.water))


def unlit(p: Parameters, first: State) -> Account:
    """The account of a burn that never was."""
    y = at_the_match(first, p.components)
    look = snapshot(first, balances(first, Regime(wick=0.0, jets=0.0, well=0.0), p), p)
    return Account(
        time=np.zeros(1),
        snapshots=np.array([look]),
        peaks=tuple([getattr(look, name) for name in PEAKS]),
        moments=(),
        last=tuple(y),
        ended="never lit",
        evaluations=0,
        rejected=0,
    )
