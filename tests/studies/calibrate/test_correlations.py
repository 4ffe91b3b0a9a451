"""Factors that hang together before any burn: a calibration learns of one what a log tells of the other."""

import math

import numpy as np
import pytest

from burnsim import BANDS, calibrate
from burnsim.model.description.factors import CORRELATIONS
from burnsim.studies.bench.conditions import Conditions
from burnsim.studies.bench.log import parse_bench_log
from burnsim.studies.calibrate.next_burn import REPEAT, propose_burns
from burnsim.studies.calibrate.posterior import AS_BUILT, correlation_of, joined, make_prior
from burnsim.studies.calibrate.repeats import SCATTER
from burnsim.studies.calibrate.walkers import sample_factors
from tests.studies.stand_in import design, engine, log_factor

PAIR = ("flame_to_rim", "entrainment")
BEFORE = make_prior(names=PAIR)
SLOPE = -300.0  # of the boil by the logarithm of the heat to the rim [s]
BURN = engine(lambda setup: {"boil": 600.0 + SLOPE * log_factor(setup, "flame_to_rim")})
LOG = parse_bench_log('seen.boil = "540 s"\n')


def kalman():
    """Mean and covariance of the pair after the log, whose error is as large as the fit so far expects it."""
    mean, matrix = np.array(BEFORE.mean), BEFORE.matrix()
    expected, found = LOG.boil.time, mean
    for _ in range(2):
        error = math.hypot(Conditions().u_boil, SCATTER["boil"] * expected, Conditions().u_clock)
        gain = matrix[:, 0] * SLOPE / (SLOPE**2 * matrix[0, 0] + error**2)
        found = mean + gain * (LOG.boil.time - 600.0 - SLOPE * mean[0])
        expected = 600.0 + SLOPE * found[0]
    return found, matrix - np.outer(gain, SLOPE * matrix[0])


def test_correlations_are_of_factors_and_make_a_distribution() -> None:
    """Both of a pair belong to one build or neither: what another build has anew does not hang with what stays."""
    assert all(set(pair) <= set(BANDS) and len(set(pair)) == 2 for pair in CORRELATIONS)
    assert len({frozenset(pair) for pair in CORRELATIONS}) == len(CORRELATIONS)
    assert np.linalg.eigvalsh(correlation_of(tuple(BANDS))).min() > 0.0
    assert all((name in AS_BUILT) == (other in AS_BUILT) for name, other in CORRELATIONS)
    assert all(one.why.endswith(".") for one in CORRELATIONS.values())


def test_another_build_has_the_same_factors_where_none_was_learnt() -> None:
    assert make_prior().for_new_build() == make_prior()


def test_a_fit_is_that_of_the_linear_problem() -> None:
    """The log tells of the first alone, and so through the prior of the second: Kalman's posterior of both."""
    mean, matrix = kalman()
    found = calibrate(design(), [LOG], factors=PAIR, pace=0.0, engine=BURN)
    assert found.posterior.mean == pytest.approx(mean, abs=1e-4)
    assert found.posterior.matrix() == pytest.approx(matrix, rel=1e-3, abs=1e-7)
    assert abs(mean[1] - BEFORE.mean[1]) > 0.2 * BEFORE.spread()[1]  # it is moved
    assert found.learnt[1] == pytest.approx(math.sqrt(matrix[1, 1] / BEFORE.matrix()[1, 1]), rel=1e-3)
    assert np.sum(found.information > 1e-6) == 1  # one measurement tells of one direction
    signal = SLOPE**2 * BEFORE.matrix()[0, 0]
    assert found.information[0] == pytest.approx(BEFORE.matrix()[0, 0] / matrix[0, 0] - 1.0, rel=1e-3)
    assert 1.0 < found.information[0] < signal


def test_what_is_learnt_of_one_alone_is_what_both_would_have_learnt() -> None:
    mean, matrix = kalman()
    alone = calibrate(design(), [LOG], factors=PAIR[:1], pace=0.0, engine=BURN)
    both = joined(alone.posterior, BEFORE)
    assert both.mean == pytest.approx(mean, abs=1e-4)
    assert both.matrix() == pytest.approx(matrix, rel=1e-3, abs=1e-7)
    first, second = np.log(both.draw(np.random.default_rng(1).random((20_000, 2)))).T
    slope = matrix[0, 1] / matrix[0, 0]
    assert np.cov(first, second)[0, 1] / first.var() == pytest.approx(slope, rel=0.1)


def test_walkers_have_the_same_prior() -> None:
    pytest.importorskip("emcee")
    mean, matrix = kalman()
    found = sample_factors(design(), [LOG], factors=PAIR, pace=0.0, steps=1500, engine=BURN)
    spread = np.sqrt(np.diag(matrix))
    assert (np.array(found.posterior.mean) - mean) / spread == pytest.approx([0.0, 0.0], abs=0.15)
    assert found.posterior.spread() == pytest.approx(spread, rel=0.1)
    exact = matrix[0, 1] / spread.prod()
    assert found.posterior.matrix()[0, 1] / found.posterior.spread().prod() == pytest.approx(exact, abs=0.08)


def test_a_burn_is_proposed_by_what_it_tells_of_both() -> None:
    """The answer's spread before is that of a sum of both, which hang together."""
    air = -200.0

    def boil(setup):
        both = SLOPE * log_factor(setup, "flame_to_rim") + air * log_factor(setup, "entrainment")
        return {"boil": 600.0 * math.exp(both / 600.0)}

    found = propose_burns(design(), posterior=BEFORE, burns={REPEAT: {}}, engine=engine(boil))
    slope = np.array([SLOPE, air]) / 600.0
    spread = math.sqrt(slope @ BEFORE.matrix() @ slope)
    assert math.log(found.band[1]) == pytest.approx(1.645 * spread, rel=1e-3)
