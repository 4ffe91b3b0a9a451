"""What is kept of a march: snapshots and events, and where that is wanted, the whole course."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from burnsim.model.balances.events import EVENTS
from burnsim.model.balances.state import Regime
from burnsim.solve.results.snapshot import Snapshot
from burnsim.solve.stepper import Memory, Table, Vector, Workspace

Array = NDArray[np.float64]

WIDE = len(Snapshot._fields)
REGIME_SIZE = len(Regime._fields)
PEAKS = ("gallery_pressure", "well_pressure", "froth")
"""What a verdict of safety reads the highest of."""
LIT = -1
"""Code of the event "lit"; the others are the places of their names in `EVENTS`."""
TIMES, MOMENTS, EVALUATIONS, REJECTED, SWITCHES, ROOM, MOST_MOMENTS, KEEPS, ASKED, PHASES = range(10)
"""Places in `Recorder.counts`: instants and events so far, work, changes of regime; room for steps and for events;
whether the course is kept; how many times are asked for; phases so far."""


class Recorder(NamedTuple):
    """What a march writes down."""

    counts: Vector
    times: Vector  # the match and the ends of the steps [s]
    snapshots: Table  # a `Snapshot` a row
    codes: Vector  # of the events
    moments: Vector  # when they were [s]
    points: Table  # flat states there
    looks: Table  # snapshots there
    phases: Vector  # to which each step belongs
    regimes: Table  # of each phase, from the first on
    before: Table  # flat state at its start
    after: Table  # flat state at its end
    low: Table  # coefficients of its interpolant
    high: Table
    peaks: Vector  # the highest that was reached of each of `PEAKS`, inside the steps too
    asked: Vector  # times at which the water's temperature is wanted [s]
    water: Vector  # and that temperature [K]


def recorder(steps: int, moments: int, whole: int, asked: Sequence[float], memory: Memory, *, keeps: bool) -> Recorder:
    """Memory for so many steps and events of so many numbers.

    The water's temperature is wanted at the times that are asked for [s]; `keeps` if the whole course is kept.
    """
    kept = steps + 1 if keeps else 0
    made = Recorder(
        counts=memory.row(PHASES + 1),
        times=memory.row(steps + 1),
        snapshots=memory.table(steps + 1, WIDE),
        codes=memory.row(moments),
        moments=memory.row(moments),
        points=memory.table(moments, whole),
        looks=memory.table(moments, WIDE),
        phases=memory.row(kept),
        regimes=memory.table(moments if keeps else 0, REGIME_SIZE),
        before=memory.table(kept, whole),
        after=memory.table(kept, whole),
        low=memory.table(kept, whole),
        high=memory.table(kept, whole),
        peaks=memory.row(len(PEAKS)),
        asked=memory.row(len(asked)),
        water=memory.row(len(asked)),
    )
    for k, time in enumerate(asked):
        made.asked[k] = time
        made.water[k] = np.nan
    for place, count in ((ROOM, steps), (MOST_MOMENTS, moments), (KEEPS, float(keeps)), (ASKED, len(asked))):
        made.counts[place] = count
    return made


def enlarged(small: Recorder, steps: int, memory: Memory) -> Recorder:
    """The same recorder with room for more steps; what is written stays."""
    held: Any = small  # lists or arrays, of which a march asks less than is asked here
    made: Any = recorder(
        steps, len(held.points), len(held.points[0]), held.asked, memory, keeps=held.counts[KEEPS] > 0.0
    )
    for old, new in zip(held, made, strict=True):
        new[: len(old)] = old
    made.counts[ROOM] = steps
    large: Recorder = made
    return large


def keep_phase(regime: Vector, recorder: Recorder) -> None:
    """Begin a phase; its regime is kept with the course."""
    if recorder.counts[KEEPS] > 0.0:
        standing = recorder.regimes[int(recorder.counts[PHASES])]
        for k in range(REGIME_SIZE):
            standing[k] = regime[k]
    recorder.counts[PHASES] += 1


def keep_step(n: int, y: Vector, share: float, at: Workspace, recorder: Recorder, whole: int) -> None:
    """Keep the first share of a step from y to `at.after` as step n of the course, with the same cubic.

    y(s) = y0 + s (y1 - y0 + c3) + s^2 (c4 - c3) - s^3 c4, rescaled to the shorter step.
    """
    recorder.phases[n] = recorder.counts[PHASES]
    before, after, low, high = recorder.before[n], recorder.after[n], recorder.low[n], recorder.high[n]
    first = at.curve[0]
    last = at.curve[1]
    for k in range(whole):
        before[k] = y[k]
        after[k] = at.after[k]
        low[k] = first[k]
        high[k] = last[k]
    if share < 1.0:
        for k in range(whole):
            high[k] = last[k] * share**3
            low[k] = high[k] - (last[k] - first[k]) * share**2


class Step(NamedTuple):
    """One accepted step with its interpolant."""

    start: float
    length: float
    before: Array
    after: Array
    curve: Array

    def at(self, time: float) -> Array:
        """The solution inside the step, by its own interpolant of order 3."""
        s = (time - self.start) / self.length
        r = 1.0 - s
        inside: Array = self.before * r + s * (self.after + r * (self.curve[0] + s * self.curve[1]))
        return inside


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


def phases_of(recorder: Recorder) -> tuple[Phase, ...]:
    """The course that a recorder has kept."""
    many = int(recorder.counts[TIMES])
    tables = [
        np.array([table[k] for k in range(1, many)])
        for table in (recorder.before, recorder.after, recorder.low, recorder.high)
    ]
    for table in tables:
        table.flags.writeable = False
    before, after, low, high = tables
    found: list[list[Step]] = [[] for _ in range(int(recorder.counts[PHASES]))]
    for k in range(many - 1):
        curve = np.array([low[k], high[k]])
        curve.flags.writeable = False
        start = recorder.times[k]
        found[int(recorder.phases[k + 1]) - 1].append(
            Step(start=start, length=recorder.times[k + 1] - start, before=before[k], after=after[k], curve=curve)
        )
    return tuple(Phase(_regime(recorder.regimes[k]), tuple(steps)) for k, steps in enumerate(found))


def _regime(row: Vector) -> Regime:
    return Regime(*[float(row[k]) for k in range(REGIME_SIZE)])


def events_of(recorder: Recorder) -> list[str]:
    """The names of the events in a recorder."""
    codes = [int(recorder.codes[k]) for k in range(int(recorder.counts[MOMENTS]))]
    return ["lit" if code == LIT else EVENTS[code] for code in codes]
