"""The whole posterior of the factors by sampling, where the Gaussian about the best fit may not do; needs emcee."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from burnsim.errors import InputError, check_whole
from burnsim.model import Setup
from burnsim.studies.arrays import Matrix, Vector
from burnsim.studies.bench.log import BenchLog
from burnsim.studies.burn_many import Engine, burner_pool
from burnsim.studies.calibrate.data import NUISANCES, bench_of, nuisance_slopes, paired, residuals
from burnsim.studies.calibrate.ensemble import DRAWS
from burnsim.studies.calibrate.misfit import FARTHEST, Fit
from burnsim.studies.calibrate.posterior import Posterior, make_prior, posterior_of
from burnsim.studies.calibrate.repeats import PACE


@dataclass(frozen=True, eq=False)
class Sample:
    """Draws from the posterior of the factors.

    Attributes
    ----------
    names : of the factors, shape (d,)
    factors : draws, shape (n, d)
    posterior : the lognormal with the mean and covariance of their logarithms, and some of the draws
    acceptance : mean share of the moves that were taken; about 0.2 to 0.5 is healthy
    steps_apart : autocorrelation time [steps], NaN where the run is too short to tell: then do not trust it
    burns : how many were burnt
    """

    names: tuple[str, ...]
    factors: Matrix
    posterior: Posterior
    acceptance: float
    steps_apart: Vector
    burns: int


def sample_factors(
    setups: Setup | Sequence[Setup],
    logs: Sequence[BenchLog],
    *,
    factors: Sequence[str] | None = None,
    before: Posterior | None = None,
    steps: int = 400,
    pace: float = PACE,
    seed: int = 0,
    engine: Engine | None = None,
    workers: int | None = None,
) -> Sample:
    """Sample the factors given bench logs, with an ensemble of walkers.

    Measurements, priors and the unknowns of each burn are those of `calibrate`; the latter are integrated out, as if
    linear about their middle.

    Parameters
    ----------
    setups, logs, factors, before, pace : as in `calibrate`
    steps : of each walker, of which the first half is thrown away; four walkers a factor
    seed : of the walkers
    engine, workers : what burns, and on how many cores; default none: the machine's cores

    Raises
    ------
    InputError
        If there is nothing to learn from, or emcee is not installed.

    References
    ----------
    Goodman and Weare, Comm. Appl. Math. Comp. Sci. 5 (2010) 65; Foreman-Mackey et al., PASP 125 (2013) 306.
    """
    try:
        import emcee
    except ImportError:
        raise InputError("emcee", None, "is not installed", "pip install emcee") from None
    check_whole("steps", steps, 20)
    benches = [bench_of(log, design, pace) for log, design in paired(setups, logs)]
    known = before or make_prior(benches[0].setup.factors, factors)
    walkers = 4 * len(known.names)
    with burner_pool(walkers * steps * len(benches), workers, engine=engine) as burner:
        fit = Fit(benches, known, burner)
        random = np.random.default_rng(seed)
        start = 0.3 * random.standard_normal((walkers, fit.d))
        sampler = emcee.EnsembleSampler(walkers, fit.d, lambda z: log_posterior(fit, z), vectorize=True)
        sampler.random_state = np.random.RandomState(seed).get_state()
        sampler.run_mcmc(start, steps, skip_initial_state_check=False)
    z = sampler.get_chain(discard=steps // 2, flat=True)
    draws = np.array([list(fit.factors(row).values()) for row in z])
    logs_of = np.log(draws)
    spread = np.atleast_2d(np.cov(logs_of.T))
    apart = np.array(sampler.get_autocorr_time(discard=steps // 2, quiet=True, tol=0), dtype=np.float64)
    apart = np.where(apart * 25.0 > steps // 2, np.nan, apart)
    mean = logs_of.mean(axis=0).tolist()
    found = posterior_of(known.names, mean, 0.5 * (spread + spread.T), known.tolerances, pace)
    found = found.with_draws(logs_of[:: max(len(logs_of) // DRAWS, 1)])
    return Sample(known.names, draws, found, float(np.mean(sampler.acceptance_fraction)), apart, fit.burns)


def log_posterior(fit: Fit, places: Matrix) -> Vector:
    """Logarithm of the posterior density, but for a constant, at places in the space of the factors, shape (n, d)."""
    inside = np.abs(places).max(axis=1) <= FARTHEST
    found = np.full(len(places), -np.inf)
    chosen = np.flatnonzero(inside)
    still = np.zeros(len(NUISANCES))
    for k, courses in zip(chosen, fit.courses([places[j] for j in chosen]), strict=True):
        value = -0.5 * float(places[k] @ places[k])
        for bench, course in zip(fit.benches, courses, strict=True):
            if course is None:
                value -= 0.5 * 36.0 * bench.size
                continue
            residual, slopes = residuals(course, bench, still), nuisance_slopes(course, bench, still)
            # noise of the measurements and of the burn's own unknowns: I + S S'; by Woodbury's formula
            inner = np.eye(len(NUISANCES)) + slopes.T @ slopes
            common = slopes.T @ residual
            value -= 0.5 * float(residual @ residual - common @ np.linalg.solve(inner, common))
            value -= 0.5 * float(np.linalg.slogdet(inner)[1])
        found[k] = value
    return found
