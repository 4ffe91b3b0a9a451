"""Search the design worth building: the best few, what they trade off, and what each limit costs.

A limit is a chance: so many of a design's burns must keep it. A burn over draws of what is not known costs as much as a
plain burn, and a chance takes dozens of them, so burns are spent where they tell most.

1. Screen: differential evolution by one plain burn a design, limits and figures shifted by what the draws changed at
   the designs that were drawn so far.
2. Draw: the best design by the screen is burnt over the draws, then the next, until the best few are designs that were
   drawn. The draws at which other designs failed come first, and a design that can no longer keep a limit is left.
3. Again, with the shifts of the second step: three rounds take two fifths of the burns. Where fewer designs keep all
   limits than are wanted, those that come nearest are drawn as well. A quarter goes to the two figures of the
   trade-off and the designs between, the rest to the search without each limit in turn, most of it to those that bind.

All designs are burnt over the same draws: what differs between them is the design. What is told of chances rests on
designs that were drawn, never on a shift.
"""

import math
from collections import Counter
from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from burnsim.answers import Drawn, Tabled, Told
from burnsim.errors import InputError, check_whole
from burnsim.model import Design, Setup, as_setup, vary
from burnsim.studies.arrays import unit_points
from burnsim.studies.burn_many import Engine, burner_pool
from burnsim.studies.calibrate.factors_file import Known, as_posterior
from burnsim.studies.calibrate.posterior import Posterior, joined, make_prior, of_a_build, set_factors
from burnsim.studies.calibrate.repeats import repeats_of
from burnsim.studies.predict.prediction import BAND_RTOL, Prediction, predict
from burnsim.studies.search.objectives import IDLE, SHARE, WORKS, Limit, check_figure, kept_away, read_limits
from burnsim.studies.search.space import read_free
from burnsim.studies.search.trial import FAR, Candidate, Draws, Goal, Spent, Trial, different, goal_of, pareto_front

ROUNDS, MORE_ROUNDS = 3, 6
FOR_BEST, FOR_MORE, FOR_FIRST, FOR_FRONT = 0.4, 0.15, 0.45, 0.25
"""Shares of the burns that go to the objective, to further designs where these are few or where there is none, and to
the trade-off; the prices of the limits take the rest."""
BINDING = 4.0  # times as many burns for the price of a limit that binds
NEAR = 0.05  # a design that keeps a limit by less than this share of it is near it
FRONT = 10  # designs of the trade-off at most
GENERATIONS = 100  # at most, of one run; one that finds nothing new burns nothing
LEAST_BURNS, EVALUATIONS = 40, 4000  # burns at least, and at most unless it is said


class Price(NamedTuple):
    """What one limit costs: how much better the objective gets without it."""

    limit: Limit
    without: float | None  # objective of the best without the limit
    saving: float | None  # by so much it is better than with the limit, 0 if the limit does not bind


class Checked(NamedTuple):
    """A finalist with the bands of its prediction, by other draws than those it was chosen by."""

    candidate: Candidate
    prediction: Prediction
    kept: tuple[int, ...]  # how many of its burns keep each limit
    together: int  # how many of its burns keep all limits at once


@dataclass(frozen=True, eq=False, repr=False)
class Search(Tabled, Told, Drawn):
    """What a search found.

    Attributes
    ----------
    base : the design that was changed
    ends : the lowest and the highest value of each field that was free, by dotted path; words have none
    objective, maximise : what was to be smallest, or largest
    limits : what must hold, and in which share of the burns; last that a design does its work
    best : the best few different designs, best first; empty if none keeps all limits
    nearest : the design that breaks the limits least, if none keeps all
    front : designs that differ and of which none is better in both figures of `trade_off`, by rising first figure
    trade_off : the two figures
    prices : what each limit costs
    checked : the best few with bands, if they were asked for
    draws : burns of each design over what is not known; 0: limits are kept by the plain burn
    designs : designs tried by a plain burn, or found to be none
    drawn : how many of them were burnt over the draws
    feasible, impossible : how many are known to keep all limits, how many cannot be built or burnt
    broken : how many of those that were drawn, or without draws tried, break each limit
    reached : of each limit on a figure, what comes nearest to it in a plain burn of all that were tried; NaN if no
        burn has the figure, or verdicts are limited
    stopped : what keeps those from their work that do not do it often enough, verdicts and how many designs have each
    burns, evaluations : burns that were made, checks and draws included, and how many were allowed
    """

    base: Setup
    ends: Mapping[str, tuple[float, float]]
    objective: str
    maximise: bool
    limits: tuple[Limit, ...]
    best: tuple[Candidate, ...]
    nearest: Candidate | None
    front: tuple[Candidate, ...]
    trade_off: tuple[str, str]
    prices: tuple[Price, ...]
    checked: tuple[Checked, ...]
    draws: int
    designs: int
    drawn: int
    feasible: int
    impossible: int
    broken: tuple[int, ...]
    reached: tuple[float, ...]
    stopped: tuple[tuple[str, int], ...]
    burns: int
    evaluations: int

    def setup_at(self, rank: int = 0) -> Setup:
        """The design of one of the best, counted from 0: to be burnt, varied or saved."""
        if not 0 <= rank < len(self.best):
            raise InputError("rank", rank, f"is not among the best {len(self.best)}", "count from 0")
        return vary(self.base, self.best[rank].changes)


def search(
    setup: Design,
    free: Mapping[str, object],
    objective: str,
    *,
    maximise: bool = False,
    limits: Mapping[str, object] | None = None,
    forbid: Mapping[str, float] | Sequence[str] = (),
    share: float = SHARE,
    works: float = WORKS,
    draws: int = 64,
    check: int = 0,
    few: int = 3,
    trade_off: tuple[str, str] = ("boil", "boil_fuel"),
    evaluations: int = EVALUATIONS,
    seed: int = 0,
    posterior: Known | None = None,
    engine: Engine | None = None,
    workers: int | None = None,
) -> Search:
    """Search the best design within limits, by differential evolution.

    A design must do its work in nearly all its burns, whatever else is asked for: it lights, blooms, boils where there
    is a pot, and neither quenches, spills, goes over its limit of pressure, lights back nor melts.
    A limit holds if enough burns keep it: nine of ten, unless `share` says otherwise. The burns of a design differ in
    the uncertain factors and, in bloom, boil and burn-out, as repeats do; every design is burnt over the same draws.
    Designs are screened by one plain burn each, and those near the best and near the trade-off are then burnt over the
    draws; what is told of chances rests on these alone.

    Parameters
    ----------
    setup : the design to change
    free : what may change, by dotted path: (low, high), a list of choices, or a table with `low`, `high`, and `step` or
        `drills` ("metric" or "number"). Without these, lengths go in steps of 0.5 mm, jets by metric drills, and others
        in some fifty round steps.
    objective : figure to make smallest, of `burnsim.studies.predict.prediction.FIGURES`, such as "boil_fuel"; its
        median over the draws counts
    maximise : whether to make it largest instead
    limits : limits by figure: (least, most), with None for none, or a table with `least`, `most`, `share`
    forbid : verdicts that must not come, such as ["spills"]; or with the chance that is allowed, {"spills": 0.01}
    share : share of the burns that must keep each limit which names none of its own; default 0.9
    works : share of the burns in which a design must do its work, default 0.95; 0 takes any design, such as one that
        is not to boil its water
    draws : burns of each promising design over what is not known. With 64 a share is known to some 8 parts in a
        hundred. 0: one burn with the factors as they are, so that limits are kept nominally only, in about half of real
        burns where they bind.
    check : burns with which the best few are predicted with bands afterwards, over other draws; default 0: none. The
        best of many by the same draws look a little better by these than they are.
    few : how many designs to return
    trade_off : two figures between which to show what can be had
    evaluations : burns at most: plain ones, draws and checks
    seed : of the search; equal seeds give equal searches
    posterior : what is known of the factors, or the file that keeps it, default none: the bands. Where sizes of burner
        or pot are searched, what was learnt of one build alone is not taken for another.
    engine, workers : what burns, and on how many cores; default none: the machine's cores

    References
    ----------
    Storn and Price, J. Global Optim. 11 (1997) 341; constraints by Lampinen's rules (2002), as in
    scipy.optimize.differential_evolution.
    """
    base = as_setup(setup, "setup")
    check_figure(objective, "objective")
    for name in trade_off:
        check_figure(name, "trade_off")
    for label, number, low, high in (
        ("draws", draws, 0, 4096), ("check", check, 0, 2**16), ("few", few, 1, 50),
        ("evaluations", evaluations, LEAST_BURNS, 10**6), ("seed", seed, 0, 2**32),
    ):  # fmt: skip
        check_whole(label, number, low, high)
    for label, number in (("draws", draws), ("check", check)):
        if 0 < number < 8:
            raise InputError(label, number, "is too few burns; allowed 0, or 8 and more", f"give {label}=64, say")
    unknowns = read_free(base, free)
    posterior = as_posterior(posterior)
    known = joined(posterior, make_prior(base.factors))
    if posterior is not None and any(of_a_build(path) for path in free):
        known = known.for_new_build()
    builds = 1 if known == known.for_new_build() else 2  # a prediction tells of another build too
    most = evaluations - (few * builds * (check + 1) if check else 0)
    least = max(LEAST_BURNS, 10 * draws)
    if most < least:
        raise InputError(
            "evaluations", evaluations, f"burns are too few for {draws} draws of ten designs and checks of {few}",
            f"give {evaluations - most + least} and more, or fewer draws or checks",
        )  # fmt: skip
    objectives = read_limits(limits or {}, forbid, share, works)
    if posterior is not None:
        base = set_factors(base, known.median())
    goal = goal_of(objective, maximise)
    with burner_pool(evaluations, workers, BAND_RTOL, engine) as burner:
        rows = known.draw(unit_points("sobol", len(known.names), draws, seed)).tolist() if draws else []
        drawn = Draws(tuple(map(known.named, rows)), repeats_of(max(draws, 1), known.pace, seed))
        trial = Trial(base, unknowns, objectives, drawn, (objective, *trade_off), most - draws, burner)
        _find_best(trial, goal, few, seed)
        _find_more(trial, goal, few, seed + 40)
        _find_front(trial, trade_off, seed + 10)
        _find_prices(trial, goal, seed + 20)
        prices = tuple(_price(trial, goal, j, maximise) for j in range(len(objectives)))
        best = _best(trial, goal, few)
        trial.most = most
        nearest = None if best else _nearest(trial)
        checked = tuple(
            _checked(vary(base, one.changes), one, objectives, check, seed, known, burner) for one in best if check
        )
    sure = trial.sure()
    edge = pareto_front(sure, trade_off, FRONT)
    tried = list(trial.plain.values())
    return Search(
        base=base, ends={one.path: one.ends for one in unknowns if one.ends}, objective=objective,
        maximise=maximise, limits=objectives, best=best, nearest=nearest,
        front=tuple(sorted(edge, key=goal_of(trade_off[0]))), trade_off=trade_off,
        prices=prices if best else (), checked=checked, draws=draws, designs=len(tried), drawn=len(trial.drawn),
        feasible=sum(one.feasible for one in sure), impossible=sum(bool(one.reason) for one in tried),
        broken=tuple(sum(not one.reason and one.violations[j] > 0.0 for one in sure) for j in range(len(objectives))),
        reached=tuple(_reached(limit, tried) for limit in objectives), stopped=_stopped(objectives, sure),
        burns=trial.burns + len(checked) * builds * (check + 1), evaluations=evaluations,
    )  # fmt: skip


def _reached(limit: Limit, tried: Sequence[Candidate]) -> float:
    """The value of a limited figure that breaks its limit least, or keeps it best, among some designs."""
    values = [one.figures.get(limit.name, math.nan) for one in tried]
    return min((value for value in values if not math.isnan(value)), key=limit.excess, default=math.nan)


def _stopped(limits: Sequence[Limit], sure: Sequence[Candidate]) -> tuple[tuple[str, int], ...]:
    """Verdicts by which designs fall short of doing their work, and how many designs have each, most first."""
    counts = Counter(
        code
        for j, limit in enumerate(limits)
        if limit.codes == IDLE
        for one in sure
        if not one.reason and one.violations[j] > 0.0
        for code, _ in one.verdicts
        if code in IDLE
    )
    return tuple(counts.most_common())


def _find_best(trial: Trial, goal: Goal, few: int, seed: int) -> None:
    """Screen and draw in turn."""
    rounds = ROUNDS if trial.draws.factors else 1
    part = FOR_BEST * trial.most / rounds
    for k in range(rounds):
        _screen(trial, goal, trial.every, seed + k, 0.5 * part if trial.draws.factors else part)
        _draw_best(trial, goal, trial.every, few, 0.5 * part)


def _find_more(trial: Trial, goal: Goal, few: int, seed: int) -> None:
    """Go on where fewer designs keep all limits than are wanted, with those that come nearest."""
    start = trial.burns
    for k in range(MORE_ROUNDS if trial.draws.factors else 0):
        share = FOR_MORE if _good(trial, goal) else FOR_FIRST
        left = share * trial.most - (trial.burns - start)
        _screen(trial, goal, trial.every, seed + k, 0.1 * left)
        trial.allow(left / (MORE_ROUNDS - k))
        with suppress(Spent):
            while new := _nearest_undrawn(trial, goal, few):
                trial.draw(new[0], trial.every)
        if len(_best(trial, goal, few)) == few:
            return


def _nearest_undrawn(trial: Trial, goal: Goal, few: int) -> list[Candidate]:
    """Designs to draw next where less than a few that differ keep all limits: those that come nearest, if any do."""
    good = _good(trial, goal)
    if len(_best(trial, goal, few)) == few:
        return []
    near = [one for one in trial.nearest(trial.every) if one.key not in trial.drawn and goal(one) < FAR]
    return [one for one in different([*good, *near], few, trial.aims) if one.key not in trial.drawn]


def _find_front(trial: Trial, axes: tuple[str, str], seed: int) -> None:
    """Search both ends of the trade-off, and draw designs along it."""
    part = FOR_FRONT * trial.most
    for k, name in enumerate(axes):
        _screen(trial, goal_of(name), trial.every, seed + k, 0.2 * part if trial.draws.factors else 0.5 * part)
    trial.allow(0.6 * part)
    with suppress(Spent):
        while new := [one for one in pareto_front(trial.everyone(), axes, FRONT) if not trial.is_sure(one)]:
            trial.draw(new[0], trial.every)


def _find_prices(trial: Trial, goal: Goal, seed: int) -> None:
    """Search without each limit in turn, with the burns that are left; those that bind come last, and get the most."""
    weights = {j: BINDING if _binds(trial, goal, j) else 1.0 for j in trial.every}
    for j in sorted(trial.every, key=lambda j: weights[j]):
        held = trial.without(j)
        part = (trial.most - trial.burns) * weights[j] / sum(weights.values())
        del weights[j]
        _screen(trial, goal, held, seed + j, 0.6 * part if trial.draws.factors else part)
        _draw_best(trial, goal, held, 1, max(0.4 * part, len(trial.draws.factors)) if weights else trial.most)


def _binds(trial: Trial, goal: Goal, j: int) -> bool:
    """Whether the best design so far comes near a limit."""
    good = [one for one in trial.sure() if one.feasible]
    if not good:
        return True
    best = min(good, key=goal)
    return best.violations[j] > -NEAR and (not trial.draws.factors or best.kept[j] < best.draws)


def _good(trial: Trial, goal: Goal) -> list[Candidate]:
    """Designs of which is known that they keep all limits, best first."""
    return sorted((one for one in trial.sure() if one.feasible and goal(one) < FAR), key=goal)


def _best(trial: Trial, goal: Goal, few: int) -> tuple[Candidate, ...]:
    """The best few of them that differ."""
    return different(_good(trial, goal), few, trial.aims)


def _nearest(trial: Trial) -> Candidate:
    """The design that breaks the limits least; those that were left early are burnt over all draws while burns last."""

    def broken(one: Candidate) -> tuple[float, int]:
        return sum(max(mark, 0.0) for mark in one.violations), -one.draws

    if not trial.draws.factors:
        return min(trial.plain.values(), key=broken)
    trial.allow(trial.most - trial.burns)
    with suppress(Spent):
        for one in sorted((one for one in trial.drawn.values() if not one.reason), key=broken):
            whole = [other for other in trial.drawn.values() if trial.is_sure(other)]
            if not trial.is_sure(one) and not (whole and min(map(broken, whole)) <= broken(one)):
                trial.draw(one, ())
    every = list(trial.drawn.values()) or list(trial.plain.values())
    return min((one for one in every if trial.is_sure(one)), key=broken, default=min(every, key=broken))


def _draw_best(trial: Trial, goal: Goal, held: Sequence[int], few: int, burns: float) -> None:
    """Draw the best as foretold, until the best few are sure; where none is foretold to do, those that come nearest."""
    trial.allow(burns)
    with suppress(Spent):
        while True:
            ranked = different(trial.ranked(goal, held), few, trial.aims)
            new = [one for one in ranked if not trial.is_sure(one)]
            if not ranked:
                new = [one for one in trial.nearest(held) if one.key not in trial.drawn and trial.draws.factors]
            if not new:
                return
            trial.draw(new[0], held)


def _screen(trial: Trial, goal: Goal, held: Sequence[int], seed: int, burns: float) -> None:
    """Try designs by one plain burn each, by differential evolution, until so many burns are done."""
    from scipy.optimize import NonlinearConstraint, differential_evolution

    trial.allow(burns)
    low, high = (np.array(ends) for ends in zip(*((one.low, one.high) for one in trial.free), strict=True))
    crowd = min(max(10 * len(trial.free), 24), max((trial.until - trial.burns) // 4, 8))
    start = low + unit_points("latin hypercube", len(low), crowd, seed) * (high - low)
    begin = trial.seeds(goal, held)
    if begin is not None:
        kept = min(len(begin), crowd // 2)
        start[:kept] = begin[:kept]

    def objective(x: NDArray[np.float64]) -> NDArray[np.float64]:
        return np.array([goal(one) for one in trial.at(np.atleast_2d(x.T))])

    def limits(x: NDArray[np.float64]) -> NDArray[np.float64]:
        found = trial.at(np.atleast_2d(x.T))
        rows = [[*(one.violations[j] for j in held), 1.0 if goal(one) >= FAR else -1.0] for one in found]
        table = np.array(rows).T
        return table if np.ndim(x) > 1 else table[:, 0]

    settings: dict[str, Any] = {"seed": np.random.default_rng(seed)}
    with suppress(Spent):
        differential_evolution(
            objective, list(zip(low, high, strict=True)), constraints=NonlinearConstraint(limits, -np.inf, 0.0),
            integrality=np.ones(len(low), dtype=bool), init=start,
            maxiter=GENERATIONS, updating="deferred", vectorized=True, polish=False, tol=1e-4,
            mutation=(0.4, 0.9), recombination=0.8, **settings,
        )  # fmt: skip


def _price(trial: Trial, goal: Goal, j: int, maximise: bool) -> Price:
    """What a limit costs, among all designs of which it is known how they keep the others."""
    sure = [one for one in trial.sure() if trial.is_sure(one) and goal(one) < FAR]
    with_it, without = ([goal(one) for one in sure if one.keeps(held)] for held in (trial.every, trial.without(j)))
    if not without:
        return Price(trial.limits[j], None, None)
    value = min(without)
    saving = max(min(with_it) - value, 0.0) if with_it else None
    return Price(trial.limits[j], -value if maximise else value, saving)


def _checked(
    design: Setup, one: Candidate, limits: Sequence[Limit], burns: int, seed: int, known: Posterior, engine: Engine
) -> Checked:
    found = predict(design, n=burns, seed=seed + 99, posterior=known, engine=engine)
    kept = [
        found.solved & kept_away(limit, found.codes)
        if limit.codes
        else np.array([limit.excess(value) <= 0.0 for value in found.values(limit.name, "next").tolist()])
        for limit in limits
    ]
    together = np.logical_and.reduce([found.solved, *kept])
    return Checked(one, found, tuple(int(good.sum()) for good in kept), int(together.sum()))
