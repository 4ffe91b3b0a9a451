"""Which burn next? The bench burns that are expected to shrink the band of an answer most.

With what is known normal in the logarithms of the factors and sizes, with the answer and the measurements of a burn
linear in them, what is known after the burn does not hang on what it will show: the covariance C becomes (1/C + J'
J)^-1, J the slopes of what the burn measures, each in its standard deviations, with the burn's own clock, thermometer
and pace integrated out. The answer, whose slopes are g, had the variance g' C g and will have g' (1/C + J' J)^-1 g. So
each burn, and each pair, can be ranked before a match is struck.

References
----------
D. V. Lindley 1956, Ann. Math. Statist. 27, 986: preposterior analysis of experiments; K. Chaloner, I. Verdinelli 1995,
Statist. Sci. 10, 273, section 2: Bayesian designs of linear models that are best for one linear combination (c-optimal;
both from memory).
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations_with_replacement

import numpy as np

from burnsim.answers import Drawn, Tabled, Told
from burnsim.errors import InputError, SolverError, unknown
from burnsim.model import Setup, vary
from burnsim.solve import Failure
from burnsim.studies.arrays import Matrix, Vector
from burnsim.studies.bench.log import parse_bench_log
from burnsim.studies.bench.synthetic import synthesise_log
from burnsim.studies.burn_many import Engine, burner_pool
from burnsim.studies.calibrate.data import bench_of
from burnsim.studies.calibrate.factors_file import Known, as_posterior
from burnsim.studies.calibrate.misfit import STEP, Fit
from burnsim.studies.calibrate.posterior import Posterior, joined, make_prior, set_factors
from burnsim.studies.calibrate.repeats import MILESTONES
from burnsim.studies.calibrate.sizes import NORMAL_90, check_tolerances
from burnsim.studies.predict.prediction import codes_of

REPEAT = "the same burn again"
HARMS = ("spills", "pressure", "light-back", "flames past the pot")
"""Verdicts that no burn is proposed with, unless the design has them."""


@dataclass(frozen=True)
class Proposal:
    """One or two bench burns, and how sure the answer is expected to be after them."""

    burns: tuple[str, ...]  # what to change for each, in words
    changes: tuple[Mapping[str, object], ...]  # of the design for each, as `vary` takes them
    shrinkage: float  # spread of the answer after the burns over that before


@dataclass(frozen=True, repr=False)
class NextBurns(Told, Tabled, Drawn):
    """Bench burns by how much they are expected to tell.

    Attributes
    ----------
    setup : whose answer is asked for, at the middle of what is known
    answer : the milestone that is asked for
    middle : of it [s]
    band : 90 % band of its mean before, as ratios to the middle
    single : burns, best first
    pairs : of burns, best first
    passed_over : burns that were not proposed, and why
    """

    setup: Setup
    answer: str
    middle: float
    band: tuple[float, float]
    single: tuple[Proposal, ...]
    pairs: tuple[Proposal, ...]
    passed_over: Mapping[str, str]


def candidates(setup: Setup) -> dict[str, dict[str, object]]:
    """Burns that a bench can easily make of a design: none with more fuel or less room than drawn."""
    found: dict[str, dict[str, object]] = {REPEAT: {}}
    if setup.charge.primer > 0.0:
        found["half the primer"] = {"charge.primer": 0.5 * setup.charge.primer}
    found["two thirds of the charge"] = {"charge.volume": setup.charge.volume / 1.5}
    if setup.pot is not None:
        found["half the water"] = {"pot.water": 0.5 * setup.pot.water}
        found["half as much water again"] = {"pot.water": 1.5 * setup.pot.water}
        if setup.pot.gap > 0.0:
            found["twice the gap"] = {"pot.gap": 2.0 * setup.pot.gap}
        found["pot off"] = {"pot": None}
    return found


def propose_burns(
    setup: Setup,
    *,
    answer: str = "boil",
    wanted: Setup | None = None,
    posterior: Known | None = None,
    tolerances: Mapping[str, float] | None = None,
    burns: Mapping[str, Mapping[str, object]] | None = None,
    most: int = 5,
    engine: Engine | None = None,
    workers: int | None = None,
) -> NextBurns:
    """Rank bench burns by how much they are expected to shrink the band of an answer.

    Each is taken as one log with milestones and with readings of the water every half a minute, with the errors that a
    log has unless it says otherwise. The answer is the mean of the build, not its next burn, which scatters whatever is
    learnt.

    Parameters
    ----------
    setup : what stands on the bench
    answer : milestone that is asked for: "bloom", "boil" or "burnout"
    wanted : design whose answer is asked for, such as the one to be built next; default none: the one on the bench
    posterior : what is known of factors and sizes, for example from `calibrate`, or the file that keeps it; default
        none: the bands alone
    tolerances : sizes in doubt, as in `calibrate`. Default none.
    burns : burns to choose from: a name, and the changes of the design, as `vary` takes them; default none: those of
        `candidates`. One that cannot be built, fails, or spills at the middle of what is known is passed over.
    most : how many single burns and how many pairs are told
    engine, workers : what burns, and on how many cores; default none: the machine's cores

    Raises
    ------
    InputError
        If the answer is not known, or does not happen at the middle of what is known.
    SolverError
        If no burn is left to choose from.
    """
    if answer not in MILESTONES:
        raise unknown("answer", answer, MILESTONES, "is not a milestone")
    asked = wanted or setup
    known = joined(
        as_posterior(posterior), make_prior(setup.factors, tolerances=check_tolerances(setup, tolerances or {}))
    )
    listed = candidates(setup) if burns is None else burns
    told, passed = {}, {}
    with burner_pool((2 * len(known.names) + 4) * (len(listed) + 1), workers, engine=engine) as burner:
        middle, slope = _answer(asked, answer, known, burner)
        for name, changes in listed.items():
            try:
                told[name] = _information(setup, changes, known, burner)
            except (InputError, SolverError) as error:
                passed[name] = str(error)
    if not told:
        raise SolverError("no burn is left to choose from: " + "; ".join(f"{a}: {b}" for a, b in passed.items()))
    covariance = known.matrix()
    precise = np.linalg.pinv(covariance)
    before = math.sqrt(float(slope @ covariance @ slope))

    def after(names: Sequence[str]) -> float:
        spread = math.sqrt(float(slope @ np.linalg.solve(precise + sum(told[name] for name in names), slope)))
        return spread / before if before > 0.0 else 1.0

    def best(count: int) -> tuple[Proposal, ...]:
        made = [
            Proposal(names, tuple(dict(listed[name]) for name in names), after(names))
            for names in combinations_with_replacement(told, count)
        ]
        return tuple(sorted(made, key=lambda one: one.shrinkage)[:most])

    reach = math.exp(NORMAL_90 * before)
    return NextBurns(set_factors(asked, known.median()), answer, middle, (1.0 / reach, reach), best(1), best(2), passed)


def _answer(asked: Setup, answer: str, known: Posterior, engine: Engine) -> tuple[float, Vector]:
    """The answer at the middle of what is known [s], and the slopes of its logarithm by the logarithms of the
    unknowns."""
    spread = known.spread()
    places = [np.zeros(len(known.names))]
    places += [sign * STEP * row for row in np.diag(spread) for sign in (1.0, -1.0)]
    setups = [set_factors(asked, known.named(np.exp(np.array(known.mean) + move).tolist())) for move in places]
    times = [None if isinstance(one, Failure) else getattr(one.milestones, answer).time for one in engine(setups, ())]
    if times[0] is None:
        raise InputError("answer", answer, "does not happen at the middle of what is known", "ask for another")
    slopes = []
    for k, width in enumerate(spread.tolist()):
        sides = [times[1 + 2 * k], times[2 + 2 * k]]
        logs = [math.log(times[0] if side is None else side) for side in sides]
        steps = sum(side is not None for side in sides) * STEP * width
        slopes.append((logs[0] - logs[1]) / steps if steps > 0.0 else 0.0)
    return times[0], np.array(slopes)


def _information(setup: Setup, changes: Mapping[str, object], known: Posterior, engine: Engine) -> Matrix:
    """What one log of a burn says of the unknowns: the precision that it adds, shape (d, d)."""
    changed = vary(setup, changes) if changes else setup
    here, drawn = (set_factors(one, known.median()) for one in (changed, setup))
    found, as_drawn = engine([here, drawn], ())
    if isinstance(found, Failure):
        raise SolverError(found.reason)
    if harms := [code for code in HARMS if code in codes_of(found) - codes_of(as_drawn)]:
        raise SolverError("at the middle of what is known: " + ", ".join(harms))
    log = parse_bench_log(synthesise_log(here, seed=0, pace=0.0, engine=engine))
    log = replace(log, conditions=replace(log.conditions, blend=None))  # the strength is that of the design
    fit = Fit([bench_of(log, changed, known.pace)], known, engine)
    x = np.zeros(fit.size)
    fit.reweight(x)
    slopes = fit.slopes(x)
    own = slopes[:, fit.d :]
    clean = np.linalg.solve(np.eye(len(own)) + own @ own.T, slopes[:, : fit.d])
    back = np.linalg.pinv(fit.root)
    information: Matrix = back.T @ (slopes[:, : fit.d].T @ clean) @ back
    return information
