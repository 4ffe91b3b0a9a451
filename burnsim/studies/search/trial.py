"""Tries designs in a search by one plain burn each, and the promising ones over the draws of what is not known.

What the draws change is learnt as the search goes on: at a design that has only its plain burn it is interpolated
between those that were drawn, by inverse squared distance.

References
----------
Sequential optimisation and reliability assessment, which shifts the limits of a plain search by what the last
assessment found: X. Du and W. Chen, J. Mech. Des. 126 (2004) 225. The interpolation: D. Shepard, Proc. 23rd ACM Nat.
Conf. (1968) 517. Both from memory.
"""

import math
from collections import Counter
from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from burnsim.errors import InputError
from burnsim.model import Setup, vary
from burnsim.solve import Failure, Outcome
from burnsim.studies.burn_many import Engine
from burnsim.studies.calibrate.posterior import set_factors
from burnsim.studies.calibrate.repeats import Repeat
from burnsim.studies.predict.prediction import FIGURES, codes_of, figure_of
from burnsim.studies.search.objectives import IMPOSSIBLE, Limit, judged
from burnsim.studies.search.space import Free
from burnsim.studies.sweep.ranking import HIGH

FAR = 1e9
BLOCK = 8  # draws burnt at once; a design that can no longer keep a limit is left after them


Key = tuple[object, ...]


class Spent(Exception):
    """The burns of a stage of the search are done."""


class Draws(NamedTuple):
    """What every design is burnt with: the same for all, so that designs differ by their design alone."""

    factors: tuple[Mapping[str, float], ...]  # empty: plain burns only
    repeat: Repeat


class Candidate(NamedTuple):
    """One design that was tried."""

    changes: Mapping[str, object]  # what differs from the base, by dotted path
    figures: Mapping[str, float]  # median over the draws, NaN where it has none
    violations: tuple[float, ...]  # of each limit; 0 or less if it is kept in enough burns
    reason: str  # why it cannot be built or burnt; empty otherwise
    draws: int = 0  # burns over draws; 0: the plain burn alone
    kept: tuple[int, ...] = ()  # how many of them keep each limit
    together: int = 0  # how many of them keep all limits at once
    verdicts: tuple[tuple[str, int], ...] = ()  # codes, and how many of them bring each; without draws, the plain burn

    @property
    def feasible(self) -> bool:
        """Whether it keeps every limit."""
        return self.keeps(range(len(self.violations)))

    @property
    def key(self) -> Key:
        """What tells it from others of its search."""
        return tuple(self.changes.values())

    def keeps(self, held: Iterable[int]) -> bool:
        """Whether it can be burnt and keeps the limits of these numbers."""
        return not self.reason and all(self.violations[j] <= 0.0 for j in held)


Goal = Callable[[Candidate], float]


def goal_of(name: str, maximise: bool | None = None) -> Goal:
    """What is to be smallest: a figure, or its negative, by default as suits it; far away where a design has none."""
    maximise = name in HIGH if maximise is None else maximise

    def goal(one: Candidate) -> float:
        value = one.figures.get(name, math.nan)
        return FAR if math.isnan(value) else -value if maximise else value

    return goal


@dataclass
class Trial:
    """Tries designs, each once, within a number of burns, and keeps what came of them."""

    base: Setup
    free: Sequence[Free]
    limits: Sequence[Limit]
    draws: Draws
    aims: Sequence[str]
    most: int
    engine: Engine
    burns: int = 0
    until: int = 0  # at most in this stage
    plain: dict[Key, Candidate] = field(default_factory=dict)
    drawn: dict[Key, Candidate] = field(default_factory=dict)
    _found: dict[Key, dict[int, Outcome | Failure]] = field(default_factory=dict)  # by number of the draw, so far
    _broken: Counter[int] = field(default_factory=Counter)  # how many designs broke a limit at each draw
    _places: dict[Key, tuple[float, ...]] = field(default_factory=dict)

    @property
    def every(self) -> range:
        """The numbers of all limits."""
        return range(len(self.limits))

    def without(self, j: int) -> list[int]:
        """The numbers of all limits but one."""
        return [k for k in self.every if k != j]

    def allow(self, burns: float) -> None:
        """Begin a stage of so many burns, as far as they are left."""
        self.until = min(self.burns + int(burns), self.most)

    def at(self, places: NDArray[np.float64]) -> list[Candidate]:
        """Candidates at places, shape (n, unknowns), as foretold; raises `Spent` where the burns do not suffice."""
        keys, new = [], {}
        for x in places.tolist():
            changes = {one.path: one.value(value) for one, value in zip(self.free, x, strict=True)}
            key = tuple(changes.values())
            keys.append(key)
            self._places.setdefault(key, tuple(x))
            if key not in self.plain:
                new[key] = changes
        self._burn_plain(new)
        if any(key not in self.plain for key in keys):
            raise Spent
        return self.foretold(keys)

    def foretold(self, keys: Collection[Key]) -> list[Candidate]:
        """Candidates as drawn; those that are not, as their plain burn and what the draws changed nearby foretell."""
        if not self.drawn or not keys:
            return [self.plain[key] for key in keys]
        shifts = np.array([self._shift(key) for key in self.drawn])
        low, high = (np.array(ends) for ends in zip(*((one.low, one.high) for one in self.free), strict=True))
        there, here = (
            (np.round([self._places[key] for key in some]) - low) / (high - low) for some in (self.drawn, keys)
        )
        weights = 1.0 / (np.square(here[:, None] - there[None]).sum(axis=-1) + 1e-9)
        moved = (weights @ shifts) / weights.sum(axis=1, keepdims=True)
        return [self._moved(key, row) for key, row in zip(keys, moved.tolist(), strict=True)]

    def everyone(self) -> list[Candidate]:
        """All that were tried, as foretold."""
        return self.foretold(list(self.plain))

    def sure(self) -> list[Candidate]:
        """Those of which is known how they keep the limits: all that were drawn, or without draws all."""
        return list((self.drawn if self.draws.factors else self.plain).values())

    def is_sure(self, one: Candidate) -> bool:
        """Whether all draws of a candidate are burnt."""
        return one.draws == len(self.draws.factors)

    def draw(self, one: Candidate, held: Sequence[int]) -> None:
        """Burn a candidate over the draws, as long as it can still keep the limits of these numbers.

        The draws at which most designs so far broke a limit come first: one that breaks it too is left soon.
        """
        n, found = len(self.draws.factors), self._found.setdefault(one.key, {})
        if self.until - self.burns < n - len(found):
            raise Spent
        design = vary(self.base, one.changes)
        try:
            made = [set_factors(design, values) for values in self.draws.factors]
        except InputError as error:
            self.plain[one.key] = self.drawn[one.key] = Candidate(one.changes, {}, self._never(), str(error))
            return
        hard = sorted(range(n), key=lambda k: -self._broken[k])
        while rest := [k for k in hard if k not in found][:BLOCK]:
            burnt = dict(zip(rest, self.engine([made[k] for k in rest], ()), strict=True))
            self._broken.update(k for k in burnt if not judged({k: burnt[k]}, self.limits).together)
            found |= burnt
            self.burns += len(burnt)
            verdict = judged(found, self.limits, self.draws.repeat)
            if any(len(found) - verdict.kept[j] > n - self.limits[j].needed(n) for j in held):
                break
        every = list(found.values())
        figures = _medians(every)
        reason = "" if figures else next(f.reason for f in every if isinstance(f, Failure))
        self.drawn[one.key] = Candidate(
            changes=one.changes, figures=figures, violations=verdict.violations, reason=reason, draws=len(found),
            kept=verdict.kept, together=verdict.together, verdicts=_verdicts(every),
        )  # fmt: skip

    def ranked(self, goal: Goal, held: Sequence[int]) -> list[Candidate]:
        """Candidates that as far as is foretold keep the limits of these numbers, best first."""
        return sorted((one for one in self.everyone() if one.keeps(held) and goal(one) < FAR), key=goal)

    def nearest(self, held: Sequence[int]) -> list[Candidate]:
        """Candidates by how little they break the limits of these numbers, least first."""
        good = [one for one in self.everyone() if not one.reason]
        return sorted(good, key=lambda one: sum(max(one.violations[j], 0.0) for j in held))

    def seeds(self, goal: Goal, held: Sequence[int]) -> NDArray[np.float64] | None:
        """Places of the best so far, to begin another run with."""
        best = (self.ranked(goal, held) or self.nearest(held))[: 8 + 2 * len(self.free)]
        return np.array([self._places[one.key] for one in best]) if best else None

    def _burn_plain(self, new: Mapping[Key, dict[str, object]]) -> None:
        setups: dict[Key, Setup] = {}
        for key, changes in new.items():
            try:
                made = vary(self.base, changes)
            except InputError as error:
                self.plain[key] = Candidate(changes, {}, self._never(), str(error))
                continue
            if len(setups) < self.until - self.burns:
                setups[key] = made
        found = self.engine(list(setups.values()), ()) if setups else []
        self.burns += len(found)
        for key, one in zip(setups, found, strict=True):
            reason = one.reason if isinstance(one, Failure) else ""
            marks = judged({0: one}, self.limits).violations
            self.plain[key] = Candidate(new[key], _medians([one]), marks, reason, verdicts=_verdicts([one]))

    def _never(self) -> tuple[float, ...]:
        return (IMPOSSIBLE,) * len(self.limits)

    def _shift(self, key: Key) -> list[float]:
        """What the draws changed: of each limit's violation, and of the figures that are aimed at.

        Of a design that was left early the hardest draws alone are known: its figures say nothing.
        """
        plain, drawn = self.plain[key], self.drawn[key]
        marks = [b - a for a, b in zip(plain.violations, drawn.violations, strict=True)]
        aims = [drawn.figures.get(name, math.nan) - plain.figures.get(name, math.nan) for name in self.aims]
        return marks + [0.0 if math.isnan(by) or not self.is_sure(drawn) else by for by in aims]

    def _moved(self, key: Key, by: Sequence[float]) -> Candidate:
        plain = self.plain[key]
        if key in self.drawn or plain.reason:
            return self.drawn.get(key, plain)
        marks = tuple(a + b for a, b in zip(plain.violations, by, strict=False))
        aims = {name: plain.figures[name] + b for name, b in zip(self.aims, by[len(marks) :], strict=True)}
        return plain._replace(violations=marks, figures={**plain.figures, **aims})


def _verdicts(found: Sequence[Outcome | Failure]) -> tuple[tuple[str, int], ...]:
    """How many burns bring each verdict, the most frequent first."""
    return tuple(Counter(code for one in found for code in sorted(codes_of(one))).most_common())


def _medians(found: Sequence[Outcome | Failure]) -> dict[str, float]:
    """The median of each figure, NaN where most burns have none; empty if no burn was solved."""
    if all(isinstance(one, Failure) for one in found):
        return {}
    figures = {}
    for name in FIGURES:
        values = np.array([figure_of(one, name) for one in found])
        there = values[np.isfinite(values)]
        figures[name] = float(np.median(there)) if len(there) > 0.5 * len(found) else math.nan
    return figures


def different(ranked: Iterable[Candidate], few: int, aims: Sequence[str] = ()) -> tuple[Candidate, ...]:
    """The first few of some candidates that are not all but the same, in what is built or in what comes of it.

    Two differ in a choice, or by a twentieth in a size, and besides, if there are any, by a hundredth in one of the
    figures that are the aims.
    """
    kept: list[Candidate] = []
    for one in ranked:
        if all(_differs(one, other, aims) for other in kept):
            kept.append(one)
        if len(kept) == few:
            break
    return tuple(kept)


def _differs(one: Candidate, other: Candidate, aims: Sequence[str]) -> bool:
    figures = [(one.figures.get(name, math.nan), other.figures.get(name, math.nan)) for name in aims]
    if figures and all(math.isclose(a, b, rel_tol=0.01) or (math.isnan(a) and math.isnan(b)) for a, b in figures):
        return False
    return any(
        not math.isclose(value, there, rel_tol=0.05)
        if isinstance(value, float) and isinstance(there, float)
        else value != there
        for value, there in zip(one.changes.values(), other.key, strict=True)
    )


def pareto_front(everyone: Sequence[Candidate], axes: tuple[str, str], few: int) -> tuple[Candidate, ...]:
    """Designs that keep all limits, of which none is better in both figures: a few that differ, its two ends first.

    Two differ if they are apart in a figure by more than a hundredth of it, and of its span by more than a
    twenty-fifth.
    """
    goals = [goal_of(name) for name in axes]
    good = [one for one in everyone if one.feasible and all(goal(one) < FAR for goal in goals)]
    edge: list[Candidate] = []
    for one in sorted(good, key=lambda c: (goals[0](c), goals[1](c))):
        if not edge or goals[1](one) < goals[1](edge[-1]):
            edge.append(one)
    if not edge:
        return ()
    places = np.array([[goal(one) for goal in goals] for one in edge])
    scale = np.maximum(0.04 * np.ptp(places, axis=0), 0.01 * np.abs(places).max(axis=0))
    places = places / np.where(scale > 0.0, scale, 1.0)
    order = [0, len(edge) - 1] if len(edge) > 1 and np.ptp(places, axis=0).max() > 1.0 else [0]
    while len(order) < min(few, len(edge)):
        apart = np.abs(places[:, None] - places[None, order]).max(axis=-1).min(axis=1)
        if apart.max() <= 1.0:
            break
        order.append(int(apart.argmax()))
    return tuple(edge[k] for k in order)
