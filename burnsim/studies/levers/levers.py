"""What to change in a design: every step that can be built, what it does, and how far each cliff is."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from burnsim.answers import Drawn, Tabled, Told
from burnsim.errors import InputError, SolverError, is_number, unknown
from burnsim.model import Design, Setup, as_setup, value_at, vary
from burnsim.solve import Failure, Outcome
from burnsim.studies.burn_many import Engine, burner_pool
from burnsim.studies.calibrate.factors_file import Known, as_posterior
from burnsim.studies.calibrate.posterior import set_factors
from burnsim.studies.compare.paired import PairedDifference, burn_drawn, check_draws, difference
from burnsim.studies.levers.steps import (
    CLIFFS,
    FAILS,
    ROLLED,
    Cliff,
    Ladder,
    cliffs,
    ladders,
    most_burns,
    stretches,
    with_value,
)
from burnsim.studies.predict.prediction import BAND_RTOL, codes_of
from burnsim.units import measure


class Objective(NamedTuple):
    """A figure, and which way is better."""

    figure: str
    lower: bool


OBJECTIVES: dict[str, Objective] = {
    "boil": Objective("boil", True),
    "fuel": Objective("boil_fuel", True),
    "efficiency": Objective("efficiency_to_boil", False),
    "bloom": Objective("bloom", True),
    "spill": Objective("spill_margin", False),
}
"""What a step may be for, by the word that asks for it."""
CLEAR = 0.1  # share of the draws in which more or less works, below which two designs count as alike
FIRES = frozenset({"flare", "primer runs off"})
"""Verdicts of fire where none is wanted: no advice may bring one, nor feed one that is there."""
MOST_WAYS = 6
WORDS: dict[str, tuple[object, ...]] = {"pot.rest": ("full ring", "bumps", "stand"), "pot.lid": (True, False)}
"""Fields with a few values, each of which is tried."""


@dataclass(frozen=True)
class Step:
    """One change that can be built, and what it does."""

    path: str  # of the field, dotted
    # now, value: of the field in the design, and after the step [SI]
    now: object
    value: object
    # of the figure of each objective, draw by draw against the design, by the objective's word
    changes: Mapping[str, PairedDifference]
    works: float  # share of the draws in which it does its work, and goes over no cliff but lift-off
    # gained, lost: verdicts that come and go, the factors at their middle
    gained: tuple[str, ...]
    lost: tuple[str, ...]

    def gain(self, objective: str) -> float | None:
        """By how much the step betters one of `OBJECTIVES`, median over the draws [SI]; None if that cannot be told."""
        middle = self.changes[objective].typical
        return -middle if middle is not None and OBJECTIVES[objective].lower else middle


@dataclass(frozen=True, eq=False, repr=False)
class Levers(Told, Tabled, Drawn):
    """What to change in a design.

    Attributes
    ----------
    setup : the design
    objective : what for, a key of `OBJECTIVES`
    own : what comes of the design, the factors at their middle
    works : share of the draws in which it does its work
    risks : share of the draws in which it goes over each cliff, by the keys of `CLIFFS`
    steps : one step of every field to either side, the best for the objective first
    ways : for a design that lies beyond a cliff: the nearest values that can be built on this side of it, best first
    cliffs : the nearest first, the factors at their middle
    n : draws
    """

    setup: Setup
    objective: str
    own: Outcome
    works: float
    risks: Mapping[str, float]
    steps: tuple[Step, ...]
    ways: tuple[Step, ...]
    cliffs: tuple[Cliff, ...]
    n: int

    @property
    def advice(self) -> tuple[Step, ...]:
        """Steps and ways that are worth building, best first.

        They make the design work in more draws, or, working no more seldom, better the objective in nineteen draws of
        twenty; and they bring no new failure and no fire, a flare or primer that runs off, nor feed one. In a design
        that fails, only the first count. Where the pressure may rise above its limit, a thinner wall is none: it passes
        less heat down, but whether it holds is not known.
        """
        return tuple(one for one in self._helpful() if not FIRES & set(one.gained))

    @property
    def fiery(self) -> tuple[Step, ...]:
        """Steps and ways with which it works more often, no advice for the fire that they bring alone, best first.

        More primer is none of them: less of it is what helps against such fire.
        """
        more = [one for one in self._helpful() if one.works - self.works > CLEAR and one.path != "charge.primer"]
        return tuple(one for one in more if FIRES & set(one.gained))

    def _helpful(self) -> list[Step]:
        """Advice before it is asked what fire comes, best first."""
        found = [
            one
            for one in (*self.ways, *self.steps)
            if not FAILS & set(one.gained) and self._helps(one) and not self._feeds(one)
        ]
        if self.risks["over-pressure"] > 0.0 or "pressure" in codes_of(self.own):
            wall = self.setup.burner.wall_thickness
            found = [one for one in found if one.path != ROLLED or (is_number(one.value) and one.value >= wall)]
        return sorted(found, key=lambda one: _rank(one, self.objective, self.works))

    def _feeds(self, one: Step) -> bool:
        """Whether a step feeds a fire that is there: more primer, or a smaller wick under a primer that runs off."""
        there = FIRES & codes_of(self.own)
        if not there or not is_number(one.now) or not is_number(one.value):
            return False
        if one.path == "charge.primer":
            return one.value > one.now
        return "primer runs off" in there and one.path.startswith("burner.wick.") and one.value < one.now

    def _helps(self, one: Step) -> bool:
        more = one.works - self.works
        gain = one.gain(self.objective)
        if FAILS & codes_of(self.own):
            return more > CLEAR
        return more > CLEAR or (more >= -CLEAR and gain is not None and gain > 0.0 and one.changes[self.objective].sure)


def find_levers(
    setup: Design,
    objective: str = "boil",
    *,
    drills: Sequence[object] | None = None,
    sheets: Sequence[object] | None = None,
    n: int = 32,
    seed: int = 0,
    units: str = "si",
    posterior: Known | None = None,
    engine: Engine | None = None,
    workers: int | None = None,
) -> Levers:
    """Take one step of every field that a builder can change, and look for the cliffs on the way.

    Parameters
    ----------
    setup : the design
    objective : what for: "boil" (sooner), "fuel" (less of it burnt by the boil), "efficiency" (to the boil), "bloom"
        (sooner) or "spill" (more room below the jets).
    drills : diameters of drills that are at hand, such as ["0.9 mm", "#60 drill"]; default none: a metric set in steps
        of 0.05 mm, or with `units` "us" the number drills
    sheets : thicknesses of sheet that are at hand, such as ["0.1 mm", "0.2 mm"]; default none: the usual ones
    n : draws of the uncertain factors, the same for the design and for every step
    seed : of the draws
    units : "si", or "us" for steps of an inch and a fluid ounce
    posterior : what is known of the factors, from `calibrate`, or the file that keeps it; default none: their bands
    engine, workers : what burns, and on how many cores; default none: the machine's

    Raises
    ------
    InputError
        For an objective that the design cannot have, or what makes no sense.
    SolverError
        If the design itself cannot be burnt.

    Notes
    -----
    Steps are one drill, one sheet, one jet, 0.5 mm, 1 mm or 1 ml, or 1/64 in, 1/32 in or 0.05 fl oz; cliffs are sought
    from half of each value to twice, of number and diameter of the jets from a quarter to four times, with some ten
    burns a side. A step leaves all other fields as they are: what two steps do together is told by
    `compare`.
    """
    setup = as_setup(setup)
    if objective not in OBJECTIVES:
        raise unknown("objective", objective, OBJECTIVES)
    needs_pot = objective in ("boil", "fuel", "efficiency")
    if needs_pot and setup.pot is None:
        remedy = 'describe [pot], or choose "bloom" or "spill"' if setup.burner.jets is not None else "describe [pot]"
        raise InputError("objective", objective, "needs a pot of water, which this design lacks", remedy)
    if not needs_pot and setup.burner.jets is None:
        raise InputError("objective", objective, "needs jets, which this design lacks", 'choose "boil", say')
    check_draws(n)
    measure("length", units)
    posterior = as_posterior(posterior)
    if posterior is not None:
        setup = set_factors(setup, posterior.median())
    fields = ladders(setup, drills, sheets, units)
    tried = _tried(setup, fields)
    sides = stretches(fields)
    plain = 1 + len(tried)
    with (
        burner_pool(plain + most_burns(len(sides)), workers, engine=engine) as exact,
        burner_pool(n * (plain + MOST_WAYS), workers, BAND_RTOL, engine) as quick,
    ):
        middle = exact([setup, *(changed for _, _, changed in tried)], ())
        own = middle[0]
        if isinstance(own, Failure):
            raise SolverError(f"the design itself could not be burnt: {own.reason}")
        edges = cliffs(setup, sides, own, exact)
        by_path = {one.path: one for one in fields}
        out = [
            (edge.path, value, with_value(setup, edge.path, value))
            for edge in edges
            if edge.fallen and (value := by_path[edge.path].beyond(edge.far)) is not None
        ]
        known = {(path, value) for path, value, _ in tried}
        out = [one for one in dict.fromkeys(out) if one[:2] not in known][:MOST_WAYS]
        middle += exact([changed for _, _, changed in out], ())
        draws = burn_drawn([setup, *(changed for _, _, changed in (*tried, *out))], n, seed, posterior, quick)
    works = 1.0 - draws.share(0, FAILS)
    steps = [
        Step(
            path,
            value_at(setup, path),
            value_at(changed, path),
            {word: difference(draws, one.figure, 0, k) for word, one in OBJECTIVES.items()},
            1.0 - draws.share(k, FAILS),
            tuple(sorted(codes_of(middle[k]) - codes_of(own))),
            tuple(sorted(codes_of(own) - codes_of(middle[k]))),
        )
        for k, (path, _, changed) in enumerate((*tried, *out), start=1)
    ]
    ranked = [
        tuple(sorted(some, key=lambda one: _rank(one, objective, works)))
        for some in (steps[: len(tried)], steps[len(tried) :])
    ]
    risks = {name: draws.share(0, codes) for name, codes in CLIFFS.items()}
    return Levers(setup, objective, own, works, risks, ranked[0], ranked[1], edges, n)


Tried = tuple[str, object, Setup]


def _tried(setup: Setup, fields: Sequence[Ladder]) -> list[Tried]:
    """One step of each field to either side, and each word of the fields that have a few."""
    found: list[Tried] = [
        (one.path, side[0], with_value(setup, one.path, side[0]))
        for one in fields
        for side in (one.lower, one.higher)
        if side
    ]
    if setup.pot is None:
        return found
    for path, words in WORDS.items():
        for word in words:
            if word == value_at(setup, path) or (word == "bumps" and setup.pot.too_tall_for_bumps):
                continue
            try:
                found.append((path, word, vary(setup, {path: word})))
            except InputError:
                continue
    return found


def _rank(one: Step, objective: str, works: float) -> tuple[float, float]:
    more = one.works - works
    gain = one.gain(objective)
    return (-more if abs(more) > CLEAR else 0.0, math.inf if gain is None else -gain)
