"""Search the design worth building: the best few, what they trade off, and what each limit costs."""

from collections.abc import Mapping, Sequence
from contextlib import nullcontext
from dataclasses import dataclass
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from burnsim.answers import Drawn, Tabled, Told
from burnsim.errors import InputError
from burnsim.model.description.files import Design, as_setup
from burnsim.model.description.setup import Setup
from burnsim.model.description.vary import vary
from burnsim.studies.burn_many import Engine, burner_pool
from burnsim.studies.calibrate.posterior import Posterior, joined, prior, with_factors
from burnsim.studies.predict.prediction import Prediction, predict
from burnsim.studies.search.objectives import Limit, check_figure, read_limits
from burnsim.studies.search.space import bounds, read_free
from burnsim.studies.search.trial import FAR, LARGER_IS_BETTER, Candidate, Goal, Trial, different, front, goal_of
from burnsim.studies.sweep.points import unit_points

SHARE_FOR_REST = 4  # the side runs get one such part of the evaluations each


class Price(NamedTuple):
    """What one limit costs: how much better the objective gets without it."""

    limit: Limit
    without: float | None  # objective of the best without the limit
    saving: float | None  # by so much it is better than with the limit, 0 if the limit does not bind


class Checked(NamedTuple):
    """A finalist with the bands of its prediction."""

    candidate: Candidate
    prediction: Prediction
    kept: tuple[float, ...]  # probability that each limit is kept (verdicts: that it does not come)


@dataclass(frozen=True, eq=False, repr=False)
class Search(Tabled, Told, Drawn):
    """What a search found.

    Attributes
    ----------
    base : the design that was changed
    objective, maximise : what was to be smallest, or largest
    limits : what must hold
    best : the best few different designs, best first; empty if none keeps all limits
    nearest : the design that breaks the limits least, if none keeps all
    front : designs of which none is better in both figures of `trade_off`, by rising first figure
    trade_off : the two figures
    prices : what each limit costs
    checked : the best few with bands, if they were asked for
    evaluations, feasible, impossible : designs tried, how many keep all limits, how many cannot be built or burnt
    burns : how many were burnt
    """

    base: Setup
    objective: str
    maximise: bool
    limits: tuple[Limit, ...]
    best: tuple[Candidate, ...]
    nearest: Candidate | None
    front: tuple[Candidate, ...]
    trade_off: tuple[str, str]
    prices: tuple[Price, ...]
    checked: tuple[Checked, ...]
    evaluations: int
    feasible: int
    impossible: int
    burns: int

    def setup_at(self, rank: int = 0) -> Setup:
        """The design of one of the best, from 0: to be burnt, varied or saved.

        Parameters
        ----------
        rank : its place in `best`

        Raises
        ------
        InputError
            If there are not so many.
        """
        if not 0 <= rank < len(self.best):
            raise InputError("rank", rank, f"is not among the best {len(self.best)}", "count from 0")
        return vary(self.base, self.best[rank].changes)


def search(
    base: Design,
    free: Mapping[str, object],
    objective: str,
    *,
    maximise: bool = False,
    limits: Mapping[str, object] | None = None,
    forbid: Mapping[str, float] | Sequence[str] = (),
    draws: int = 0,
    check: int = 0,
    few: int = 3,
    trade_off: tuple[str, str] = ("boil", "boil_fuel"),
    evaluations: int = 1000,
    seed: int = 0,
    posterior: Posterior | None = None,
    engine: Engine | None = None,
    workers: int | None = None,
) -> Search:
    """Search the best design within limits, by differential evolution.

    Parameters
    ----------
    base
        The design to change.
    free
        What may change, by dotted path: (low, high), a list of choices, or a table with `low`, `high`, and `step` or
        `drills` ("metric" or "number").
    objective
        Figure to make smallest, of `burnsim.studies.predict.prediction.FIGURES`, such as "boil_fuel".
    maximise
        Whether to make it largest instead.
    limits
        Limits by figure: (least, most), with None for none.
    forbid
        Verdicts that must not come, such as ["spills"]; or with the probability that is allowed, {"spills": 0.01}.
    draws
        Burns of each design over what is not known of the factors; a limit on a figure must then be kept in nine of
        ten, and the objective is the median. Default 0: one burn with the factors as they are, so that limits are kept
        nominally only.
    check
        Burns with which the best few are predicted with bands afterwards; default 0: none.
    few
        How many designs to return.
    trade_off
        Two figures between which to show what can be had.
    evaluations
        Designs to try for the objective; the trade-off and the price of each limit take a quarter of it each besides.
    seed
        Of the search; equal seeds give equal searches.
    posterior
        What is known of the factors, default none: the bands.
    engine, workers
        What burns, and on how many cores; default none: the machine's cores.

    Returns
    -------
    Search

    Raises
    ------
    InputError
        For a path, range, figure, verdict or number that makes no sense.

    References
    ----------
    Storn and Price, J. Global Optim. 11 (1997) 341; constraints by Lampinen's rules (2002), as in
    scipy.optimize.differential_evolution.
    """
    base = as_setup(base, "base")
    check_figure(objective, "objective")
    for name in trade_off:
        check_figure(name, "trade_off")
    for label, number, low, high in (
        ("draws", draws, 0, 4096), ("check", check, 0, 2**16), ("few", few, 1, 50),
        ("evaluations", evaluations, 40, 10**6), ("seed", seed, 0, 2**32),
    ):  # fmt: skip
        if isinstance(number, bool) or not isinstance(number, int) or not low <= number <= high:
            raise InputError(label, number, f"is not a whole number from {low} to {high}", "leave it out")
    if 0 < check < 8:
        raise InputError("check", check, "is too few burns; allowed 0, or 8 and more", "give check=256, say")
    unknowns = read_free(base, free)
    objectives = read_limits(limits or {}, forbid)
    known = joined(posterior, prior(base.factors)) if posterior is not None else prior(base.factors)
    burns = max(draws, 1) * evaluations * (1 + (2 + len(objectives)) // SHARE_FOR_REST) + few * check
    if posterior is not None:
        base = with_factors(base, known.median())
    with burner_pool(burns, workers) if engine is None else nullcontext(engine) as burner:
        trial = Trial(base, unknowns, objectives, _draws(known, draws, seed), burner)
        goal = goal_of(objective, maximise)
        _evolve(trial, goal, range(len(objectives)), evaluations, seed, None)
        side = max(evaluations // SHARE_FOR_REST, 40)
        for k, name in enumerate(trade_off):
            _evolve(
                trial,
                goal_of(name, name in LARGER_IS_BETTER),
                range(len(objectives)),
                side,
                seed + 1 + k,
                trial.seeds(goal),
            )
        for j in range(len(objectives)):
            held = [k for k in range(len(objectives)) if k != j]
            _evolve(trial, goal, held, side, seed + 10 + j, trial.seeds(goal, without=j))
        prices = tuple(_price(trial, goal, j, maximise) for j in range(len(objectives)))
        best = different(trial.ranked(goal), few)
        checked = tuple(
            _checked(vary(base, one.changes), one, objectives, check, seed, known, burner) for one in best if check
        )
    everyone = list(trial.tried.values())
    return Search(
        base,
        objective,
        maximise,
        objectives,
        best,
        None if best else min(everyone, key=lambda one: sum(max(mark, 0.0) for mark in one.violations)),
        front(everyone, trade_off),
        trade_off,
        prices if best else (),
        checked,
        len(everyone),
        sum(one.feasible for one in everyone),
        sum(bool(one.reason) for one in everyone),
        trial.burns,
    )


def _evolve(
    trial: Trial, goal: Goal, held: Sequence[int], evaluations: int, seed: int, begin: NDArray[np.float64] | None
) -> None:
    from scipy.optimize import NonlinearConstraint, differential_evolution

    ranges, whole = bounds(trial.free)
    low, high = (np.array([pair[k] for pair in ranges]) for k in (0, 1))
    crowd = min(max(10 * len(trial.free), 24), max(evaluations // 4, 8))
    start = low + unit_points("latin hypercube", len(ranges), crowd, seed) * (high - low)
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
    differential_evolution(
        objective, ranges, constraints=NonlinearConstraint(limits, -np.inf, 0.0), integrality=whole, init=start,
        maxiter=max(evaluations // crowd - 1, 1), updating="deferred", vectorized=True, polish=False, tol=1e-4,
        mutation=(0.4, 0.9), recombination=0.8, **settings,
    )  # fmt: skip


def _price(trial: Trial, goal: Goal, j: int, maximise: bool) -> Price:
    """What a limit costs, among all designs that were tried."""
    with_it, without = trial.ranked(goal), trial.ranked(goal, without=j)
    if not without:
        return Price(trial.limits[j], None, None)
    value = goal(without[0])
    saving = max(goal(with_it[0]) - value, 0.0) if with_it else None
    return Price(trial.limits[j], -value if maximise else value, saving)


def _draws(known: Posterior, draws: int, seed: int) -> list[dict[str, float]]:
    """Factors at which every design is burnt: the same for all, so that designs differ by their design alone."""
    if not draws:
        return []
    table = known.draw(unit_points("sobol", len(known.names), draws, seed))
    return [dict(zip(known.names, row, strict=True)) for row in table.tolist()]


def _checked(
    design: Setup, one: Candidate, limits: Sequence[Limit], burns: int, seed: int, known: Posterior, engine: Engine
) -> Checked:
    found = predict(design, n=burns, seed=seed + 99, posterior=known, engine=engine)
    kept = []
    for limit in limits:
        if limit.verdict:
            kept.append(1.0 - found.probability(limit.name).value)
        else:
            values = found.figures[limit.name][found.solved]
            kept.append(float(np.mean([limit.excess(value) <= 0.0 for value in values.tolist()])))
    return Checked(one, found, tuple(kept))
