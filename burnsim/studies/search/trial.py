"""Tries designs in a search, each once, and sorts what came of them."""

import math
from collections.abc import Callable, Mapping, Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from burnsim.errors import InputError
from burnsim.model.description.setup import Setup
from burnsim.model.description.vary import vary
from burnsim.solve import Failure, Outcome
from burnsim.studies.burn_many import Engine
from burnsim.studies.calibrate.posterior import with_factors
from burnsim.studies.predict.prediction import FIGURES, figure_of
from burnsim.studies.search.objectives import IMPOSSIBLE, Limit, violations
from burnsim.studies.search.space import Free, changes_of

FAR = 1e9
SURE = 0.9
"""Share of the draws that must keep a limit on a figure."""

LARGER_IS_BETTER = ("efficiency", "efficiency_to_boil", "spill_margin", "boil_margin", "fuel_margin", "burnout")
"""Figures of a trade-off of which more is wanted; of all others less."""


class Candidate(NamedTuple):
    """One design that was tried."""

    changes: Mapping[str, object]  # what differs from the base, by dotted path
    figures: Mapping[str, float]  # median over the draws, NaN where it has none
    violations: tuple[float, ...]  # of each limit; 0 or less if it is kept
    reason: str  # why it cannot be built or burnt; empty otherwise

    @property
    def feasible(self) -> bool:
        """Whether it keeps every limit."""
        return all(mark <= 0.0 for mark in self.violations)


Goal = Callable[[Candidate], float]


def goal_of(name: str, maximise: bool) -> Goal:
    """What is to be smallest: a figure, or its negative; far away where a design has no such figure."""

    def goal(one: Candidate) -> float:
        value = one.figures.get(name, math.nan)
        return FAR if math.isnan(value) else -value if maximise else value

    return goal


class Trial:
    """Tries designs, each once, and keeps what came of them."""

    def __init__(
        self, base: Setup, free: Sequence[Free], limits: Sequence[Limit], draws: list[dict[str, float]], engine: Engine
    ) -> None:
        self.base, self.free, self.limits, self.draws, self.engine = base, free, limits, draws, engine
        self.tried: dict[tuple[object, ...], Candidate] = {}
        self.places: dict[tuple[object, ...], tuple[float, ...]] = {}
        self.burns = 0

    def at(self, places: NDArray[np.float64]) -> list[Candidate]:
        """Candidates at places, shape (n, unknowns)."""
        keys, new = [], {}
        for x in places.tolist():
            changes = changes_of(self.free, x)
            key = tuple(changes.values())
            keys.append(key)
            self.places.setdefault(key, tuple(x))
            if key not in self.tried:
                new[key] = changes
        self._try(new)
        return [self.tried[key] for key in keys]

    def _try(self, new: Mapping[tuple[object, ...], dict[str, object]]) -> None:
        setups: list[Setup] = []
        owners: list[tuple[object, ...]] = []
        for key, changes in new.items():
            try:
                design = vary(self.base, changes)
                made = [with_factors(design, values) for values in self.draws] or [design]
            except InputError as error:
                self.tried[key] = Candidate(changes, {}, (IMPOSSIBLE,) * len(self.limits), str(error))
                continue
            setups += made
            owners += [key] * len(made)
        found = self.engine(setups, ()) if setups else []
        self.burns += len(found)
        by_key: dict[tuple[object, ...], list[Outcome | Failure]] = {}
        for key, one in zip(owners, found, strict=True):
            by_key.setdefault(key, []).append(one)
        for key, burnt in by_key.items():
            self.tried[key] = self._candidate(new[key], burnt)

    def _candidate(self, changes: dict[str, object], burnt: list[Outcome | Failure]) -> Candidate:
        solved = [one for one in burnt if not isinstance(one, Failure)]
        failed = next((one.reason for one in burnt if isinstance(one, Failure)), "")
        marks = tuple(violations(burnt, self.limits, SURE if self.draws else 1.0))
        figures = {}
        for name in FIGURES:
            values = np.array([figure_of(one, name) for one in solved])
            there = values[np.isfinite(values)]
            figures[name] = float(np.median(there)) if len(there) > 0.5 * len(burnt) else math.nan
        return Candidate(changes, figures, marks, failed if not solved else "")

    def ranked(self, goal: Goal, without: int | None = None) -> list[Candidate]:
        """Candidates that keep all limits (but one), best first."""
        good = [
            one
            for one in self.tried.values()
            if not one.reason
            and goal(one) < FAR
            and all(mark <= 0.0 for j, mark in enumerate(one.violations) if j != without)
        ]
        return sorted(good, key=goal)

    def seeds(self, goal: Goal, without: int | None = None) -> NDArray[np.float64] | None:
        """Places of the best so far, to begin another run with."""
        found = [
            self.places[tuple(one.changes.values())] for one in self.ranked(goal, without)[: 8 + 2 * len(self.free)]
        ]
        return np.array(found) if found else None


def different(ranked: Sequence[Candidate], few: int) -> tuple[Candidate, ...]:
    """The best few that are not all but the same: they differ in a choice, or by a twentieth in a size."""
    kept: list[Candidate] = []
    for one in ranked:
        if all(_differs(one.changes, other.changes) for other in kept):
            kept.append(one)
        if len(kept) == few:
            break
    return tuple(kept)


def _differs(one: Mapping[str, object], other: Mapping[str, object]) -> bool:
    for path, value in one.items():
        there = other[path]
        if isinstance(value, float) and isinstance(there, float):
            if abs(value - there) > 0.05 * max(abs(value), abs(there)):
                return True
        elif value != there:
            return True
    return False


def front(everyone: Sequence[Candidate], axes: tuple[str, str]) -> tuple[Candidate, ...]:
    """Designs that keep all limits and of which none is better in both figures."""
    goals = [goal_of(name, name in LARGER_IS_BETTER) for name in axes]
    good = [one for one in everyone if one.feasible and not one.reason and all(goal(one) < FAR for goal in goals)]
    edge: list[Candidate] = []
    for one in sorted(good, key=lambda c: (goals[0](c), goals[1](c))):
        if not edge or goals[1](one) < goals[1](edge[-1]):
            edge.append(one)
    return tuple(edge)
