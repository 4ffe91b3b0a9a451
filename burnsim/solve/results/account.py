"""The account of an integrated burn: sights at the ends of its steps and at its events, from which results are read."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import zip_longest
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from burnsim.model.balances.flows import balances
from burnsim.model.balances.pot import pot_temperature
from burnsim.model.balances.state import Regime, State, at_the_match, unpack
from burnsim.model.parameters.record import Parameters
from burnsim.solve.march import March, with_flames
from burnsim.solve.results.sight import Sight, sight

Vector = NDArray[np.float64]
DARK = Regime(wick=0.0, jets=0.0, well=0.0)


class Moment(NamedTuple):
    """An event with all that a result reads there."""

    name: str
    time: float  # [s]
    vector: tuple[float, ...]  # flat state and tallies
    sight: Sight


@dataclass(frozen=True, eq=False)
class Account:
    """What is kept of a burn once it is integrated."""

    time: Vector  # the match and the ends of the steps [s], shape (n,)
    sights: Vector  # a `Sight` a row, shape (n, len(Sight._fields))
    moments: tuple[Moment, ...]  # events in the order of time
    last: tuple[float, ...]  # flat state and tallies at the end
    ended: str
    evaluations: int
    rejected: int

    def column(self, name: str) -> Vector:
        """One number of the sights over `time`."""
        column: Vector = self.sights[:, Sight._fields.index(name)]
        return column

    def first_time(self, name: str) -> float | None:
        """When an event happened first [s]; None if it did not."""
        return next((moment.time for moment in self.moments if moment.name == name), None)


class Instants(NamedTuple):
    """A marched burn at the match and at the ends of its steps."""

    time: list[float]
    vector: list[list[float]]
    regimes: list[Regime]
    sights: list[Sight | None]  # None where the march took none


def instants(p: Parameters, first: State, course: March) -> Instants:
    """Flat states, regimes and sights at the match and at the end of every step."""
    time = [0.0]
    vector = [at_the_match(first, p.components)]
    regimes = [DARK]
    sights: list[Sight | None] = [None]
    for phase, taken in zip(course.phases, course.sights, strict=True):
        for end, step, seen in zip_longest(phase.ends, phase.steps, taken):
            time.append(end)
            vector.append(step.after.tolist())
            regimes.append(phase.regime)
            sights.append(seen)
    return Instants(time, vector, regimes, sights)


def account(p: Parameters, at: Instants, course: March) -> Account:
    """Take the sights of a marched burn that the march has not taken itself: at its events, and where they cut a step.

    Parameters
    ----------
    p : parameters
    at : its instants
    course : the march
    """

    def look(y: list[float], regime: Regime) -> Sight:
        state = unpack(y, p.components)
        return sight(state, balances(state, regime, p), p)

    moments = []
    for event in course.events:
        y, regime = at.vector[0], DARK
        for phase in course.phases:
            for step in phase.steps:
                if step.start <= event.time <= step.start + step.length + 1e-9:
                    y = step.at(event.time).tolist()
                    regime = with_flames(phase.regime, DARK) if event.name == "lit" else phase.regime
                    break
            else:
                continue
            break
        moments.append(Moment(event.name, event.time, tuple(y), look(y, regime)))
    time = np.array(at.time)
    time.flags.writeable = False
    return Account(
        time=time,
        sights=np.array(
            [seen or look(y, regime) for y, regime, seen in zip(at.vector, at.regimes, at.sights, strict=True)]
        ),
        moments=tuple(moments),
        last=tuple(at.vector[-1]),
        ended=course.ended,
        evaluations=course.evaluations,
        rejected=course.rejected,
    )


def temperatures_at(asked: Sequence[float], p: Parameters, course: March) -> tuple[float | None, ...]:
    """The water's temperature at given times of a marched burn [K]; None after its end.

    Parameters
    ----------
    asked : times, rising [s]
    p : parameters
    course : the march
    """
    steps = [step for phase in course.phases for step in phase.steps]
    found: list[float | None] = []
    k = 0
    for time in asked:
        while k < len(steps) and time > steps[k].start + steps[k].length:
            k += 1
        if k == len(steps):
            found.append(None)
            continue
        state = unpack(steps[k].at(time).tolist(), p.components)
        found.append(pot_temperature(state.water, state.pot_heat, p))
    return tuple(found)
