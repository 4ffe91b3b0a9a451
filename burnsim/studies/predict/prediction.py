"""Predictions with honest bands: many burns with the uncertain factors and the build's tolerances drawn at random.

Three questions have three bands. How does this build burn on average? Its mean is unknown as far as the factors and
sizes are. How will its next burn go? That scatters about the mean as repeats do. How will another build to the same
drawing burn? That has holes, walls and sizes of its own, and scatters too. In the words of statistics the first is the
band of the regression, the others are predictive distributions: draws of the unknowns, each with a draw of the scatter
(A. Gelman et al. 2013, Bayesian Data Analysis, 3rd ed., section 1.3 and, for another build, a new group, section 5.5;
from memory).
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal, NamedTuple, get_args

import numpy as np
from numpy.typing import NDArray

from burnsim.answers import Drawn, Tabled, Told
from burnsim.errors import SolverError, check_whole, unknown
from burnsim.model import Design, Setup, as_setup
from burnsim.solve import Failure, Outcome
from burnsim.solve.results.verdicts import CODES, ENDS_EARLY
from burnsim.studies.arrays import Matrix, Vector, unit_points
from burnsim.studies.burn_many import Engine, burner_pool
from burnsim.studies.calibrate.factors_file import Known, as_posterior
from burnsim.studies.calibrate.posterior import Posterior, joined, make_prior, set_factors
from burnsim.studies.calibrate.repeats import MILESTONES, Repeat, repeats_of
from burnsim.studies.calibrate.sizes import STRENGTH, built, check_tolerances, drawn_size, has_size
from burnsim.studies.counting import expect
from burnsim.studies.sweep.columns import COLUMNS
from burnsim.units import parse

CONFIDENCE = 0.95


class Quantile(NamedTuple):
    """A quantile and the interval in which the true one lies with 95 % confidence."""

    level: float
    value: float
    low: float | None  # None: the sample is too small to bound it
    high: float | None


class Share(NamedTuple):
    """A probability and the interval in which the true one lies with 95 % confidence."""

    value: float
    low: float
    high: float


def quantile(values: Vector, level: float) -> Quantile | None:
    """Estimate a quantile; its interval is between order statistics, whatever the distribution.

    The sample, shape (n,), is of independent draws, or a space-filling one: then the interval is too wide. None for an
    empty one.

    >>> found = quantile(np.arange(1.0, 102.0), 0.5)
    >>> found.value, found.low, found.high
    (51.0, 41.0, 61.0)

    References
    ----------
    David and Nagaraja, Order Statistics, 3rd edition, section 7.1: the binomial interval.
    """
    from scipy.stats import binom

    n = len(values)
    if n == 0:
        return None
    order = np.sort(values)
    tail = 0.5 * (1.0 - CONFIDENCE)
    below = int(binom.ppf(tail, n, level))  # 1-based rank of the lower bound
    above = int(binom.ppf(1.0 - tail, n, level)) + 1
    return Quantile(
        level, float(np.quantile(order, level)), float(order[below - 1]) if below >= 1 else None,
        float(order[above - 1]) if above <= n else None,
    )  # fmt: skip


def share(hits: int, n: int) -> Share:
    """Estimate the probability of what happened so often; by Wilson's interval none in n is not taken for never.

    A `SolverError` for an empty sample.

    >>> found = share(0, 100)
    >>> found.value, round(found.low, 3), round(found.high, 3)  # 1.96^2/(100 + 1.96^2)
    (0.0, 0.0, 0.037)

    References
    ----------
    Wilson, J. Amer. Statist. Assoc. 22 (1927) 209.
    """
    from scipy.stats import binomtest

    if n == 0:
        raise SolverError("no burn of the sample was solved")
    interval = binomtest(hits, n).proportion_ci(CONFIDENCE, method="wilson")
    return Share(hits / n, float(interval.low), float(interval.high))


LEVELS = (0.05, 0.25, 0.5, 0.75, 0.95)
CURVE_POINTS = 61
MOST_BURNS = 2**17  # a quarter of an hour of machine code, and some hundred megabytes of outcomes
STILL_BURNING = 0.9  # share of the burns that must still run where a band of the water is told
MOST_FAILURES = 0.05
BAND_RTOL = 5e-3
"""Of the steps of drawn burns: milestones within 1 s (99 in 100), half within 0.02 s; the bands are minutes wide."""

Of = Literal["mean", "next", "another"]
"""What a band is of: the mean of this build, its next burn, or a burn of another build to the same drawing."""

FIGURES = {
    "bloom": "time", "boil": "time", "burnout": "time", "spill": "time", "quench": "time", "boil_fuel": "mass",
    "efficiency_to_boil": "fraction", "efficiency": "fraction", "power_median": "power", "power_max": "power",
    "water_max": "temperature", "spill_margin": "length", "boil_margin": "temperature difference",
    "fuel_margin": "fraction", "gallery_pressure_max": "pressure", "well_pressure_max": "pressure",
    "heat_fed_back": "fraction",
}  # fmt: skip
"""Dimension of each figure that a prediction keeps, by its name among the columns of a sweep."""

UNITS = {column.name: column.units for column in COLUMNS if column.name in FIGURES}
_PICKS = {column.name: column.pick for column in COLUMNS if column.name in FIGURES}


@dataclass(frozen=True, eq=False, repr=False)
class Prediction(Tabled, Told, Drawn):
    """What may come of a burn.

    All but `quantiles` and `water_quantiles` tell of the mean of this build.

    Attributes
    ----------
    setup : what was burnt, at the middle of what is known
    posterior : what was known of the factors, and of the sizes that were drawn
    tolerances : relative half widths of the central 90 % of the sizes that were asked for, by dotted path
    seed : of the sample
    names : of the drawn factors and sizes, shape (d,)
    drawn : their values, shape (n, d)
    figures : each figure of `FIGURES` in SI, shape (n,), NaN where it did not happen or the burn failed
    codes : verdicts of each burn
    solved : whether each burn was solved, shape (n,)
    failures : reasons of those that were not
    time : at which bands of the water's temperature are told [s], shape (m,)
    water : the water's temperature [K], shape (n, m), NaN after the end of a burn
    repeat : what sets each burn apart from its mean, as timed at a bench
    other : the same of another build to this drawing; None where nothing was learnt of this one, so that both are the
        same
    """

    setup: Setup
    posterior: Posterior
    tolerances: Mapping[str, float]
    seed: int
    names: tuple[str, ...]
    drawn: Matrix
    figures: Mapping[str, Vector]
    codes: tuple[frozenset[str], ...]
    solved: NDArray[np.bool_]
    failures: tuple[str, ...]
    time: Vector
    water: Matrix
    repeat: Repeat
    other: "Prediction | None"

    @property
    def n(self) -> int:
        """How many burns were solved."""
        return int(self.solved.sum())

    def happens(self, name: str) -> Share:
        """Probability that one of `FIGURES` has a value: that a milestone, for example "boil", happens."""
        return share(int(np.isfinite(self.values(name)).sum()), self.n)

    @property
    def unproven(self) -> int:
        """How many burns go out with fuel left, or never light, and do not spill: of a spill they prove nothing."""
        return sum("spills" not in codes and not ENDS_EARLY.isdisjoint(codes) for codes in self.codes)

    def probability(self, code: str) -> Share:
        """Probability of a verdict, for example "spills" or "never blooms"."""
        if code not in CODES:
            raise unknown("code", code, CODES, "is not a verdict")
        return share(sum(code in codes for codes in self.codes), self.n)

    def below(self, name: str, limit: float | str) -> Share:
        """Probability that a figure has a value and is at most a limit, a number in SI or a text such as "10 min"."""
        values = self.values(name)
        most = parse(limit, FIGURES[name], "limit")
        return share(int((values[np.isfinite(values)] <= most).sum()), self.n)

    def quantiles(self, name: str, levels: Sequence[float] = LEVELS, of: Of = "mean") -> tuple[Quantile, ...]:
        """Quantiles of a figure among the burns in which it has a value; empty if there are none.

        Parameters
        ----------
        name : of `FIGURES`
        levels : 0 to 1
        of : "mean" of this build, its "next" burn, or a burn of "another" build to this drawing. Repeats scatter in
            bloom, boil and burn-out, told as a bench would time them; of the other figures no scatter is known, and
            their bands are those of the mean.
        """
        values = self.values(name, of)
        found = (quantile(values[np.isfinite(values)], level) for level in levels)
        return tuple(one for one in found if one is not None)

    def values(self, name: str, of: Of = "mean") -> Vector:
        """One of `FIGURES` of each burn [SI], shape (n,), NaN where it did not happen; `of` is as in `quantiles`."""
        if name not in self.figures:
            raise unknown("figure", name, self.figures, "is not kept")
        if of not in get_args(Of):
            raise unknown("of", of, get_args(Of), "is not told apart")
        if of == "another" and self.other is not None:
            return self.other.values(name, "next")
        mean = self.figures[name]
        return mean if of == "mean" or name not in MILESTONES else self.repeat.timed(name, mean)

    def water_quantiles(
        self, levels: Sequence[float] = LEVELS, running: float = STILL_BURNING, of: Of = "mean"
    ) -> tuple[Vector, Matrix]:
        """Bands of the water's temperature while a share of the burns, by default nine in ten, still run.

        Times [s], shape (k,), and quantiles [K], shape (number of levels, k), among those burns. Levels and `of` are as
        in `quantiles`; a repeat runs through the same course at its own pace.
        """
        if of not in get_args(Of):
            raise unknown("of", of, get_args(Of), "is not told apart")
        if of == "another" and self.other is not None:
            return self.other.water_quantiles(levels, running, "next")
        if not self.water.size or not self.n:
            return np.empty(0), np.empty((len(levels), 0))
        kept = self.still_running() >= max(running, 1.0 / self.n)
        table = self.water
        if of != "mean":
            asked = self.time / self.repeat.slow[:, None]
            table = np.array(
                [np.interp(at, self.time, row, right=math.nan) for at, row in zip(asked, table, strict=True)]
            )
        table = table[self.solved][:, kept]
        return self.time[kept], np.nanquantile(table, levels, axis=0) if kept.any() else np.empty((len(levels), 0))

    def still_running(self) -> Vector:
        """Share of the solved burns that still run at each instant of `time` [-], shape (m,)."""
        if not self.water.size or not self.n:
            return np.empty(0)
        share_of: Vector = np.isfinite(self.water[self.solved]).mean(axis=0)
        return share_of


def predict(
    setup: Design,
    *,
    n: int = 512,
    seed: int = 0,
    posterior: Known | None = None,
    tolerances: Mapping[str, float] | None = None,
    engine: Engine | None = None,
    workers: int | None = None,
) -> Prediction:
    """Burn a design many times over what is not known of it.

    The uncertain factors are drawn from their bands (lognormal, central 90 %; among them hole diameter and wall
    thickness as built), or from what calibration left of them, by a scrambled Sobol sequence; those of
    `burnsim.calibration.CORRELATIONS` are drawn together. After a calibration as many burns again are of another build
    to the same drawing.

    Parameters
    ----------
    setup : what burns; its factors are the middle of the bands
    n : how many burns, best a power of two
    seed : of the sample; equal seeds give equal predictions
    posterior : what is known of the factors, for example from `calibrate`, or the file that keeps it; those that it
        lacks are drawn from their bands. Default none: the bands alone.
    tolerances : further sizes to draw, by dotted path: half width of the central 90 % as a share of the size,
        lognormal, such as {"charge.volume": 0.03}; "charge.fuel" stands for the spirit's strength. A size that was
        learnt is drawn from what was learnt. Default none.
    engine, workers : what burns, and on how many cores; default none: the machine's cores

    Raises
    ------
    SolverError
        If more than one burn in twenty cannot be solved: then the rest is not a fair sample.
    """
    setup = as_setup(setup)
    check_whole("n", n, 8, MOST_BURNS, "take 512, say", "is not a number of burns")
    check_whole("seed", seed, 0)
    given = check_tolerances(setup, tolerances or {})
    posterior = as_posterior(posterior)
    known = joined(posterior, make_prior(setup.factors, tolerances=given))
    other = known.for_new_build()
    beliefs = (known,) if posterior is None or other == known else (known, other)
    with burner_pool(n * len(beliefs), workers, BAND_RTOL, engine) as burner:
        return _predicted(setup, beliefs, given, n, seed, burner)


def _predicted(
    setup: Setup, beliefs: Sequence[Posterior], given: Mapping[str, float], n: int, seed: int, engine: Engine
) -> Prediction:
    """A prediction by the first belief, which holds one by the next."""
    known = beliefs[0]
    other = _predicted(setup, beliefs[1:], given, n, seed + 1, engine) if len(beliefs) > 1 else None
    rows = known.draw(unit_points("sobol", len(known.names), n, seed))
    there = [k for k, name in enumerate(known.names) if name not in known.tolerances or has_size(setup, name)]
    names = [known.names[k] for k in there]
    scales = [drawn_size(setup, name) if name in known.tolerances and name != STRENGTH else 1.0 for name in names]
    middle = set_factors(setup, known.median())
    time = np.empty(0)
    if setup.pot is not None:
        expect(1)
        first = engine([middle], ())[0]
        if not isinstance(first, Failure):
            time = np.linspace(0.0, 1.2 * first.duration, CURVE_POINTS)
    found = engine([built(setup, known.named(row)) for row in rows.tolist()], tuple(time.tolist()))
    solved = np.array([not isinstance(one, Failure) for one in found])
    failures = tuple(one.reason for one in found if isinstance(one, Failure))
    if len(failures) > max(MOST_FAILURES * len(found), 1.0):
        raise SolverError(f"{len(failures)} of {len(found)} burns could not be solved, the first: {failures[0]}")
    none = (None,) * len(time)
    curves = [none if isinstance(one, Failure) or len(one.water_at) < len(time) else one.water_at for one in found]
    return Prediction(
        setup=middle, posterior=known, tolerances=dict(given), seed=seed,
        names=tuple(name if name in known.tolerances else f"factors.{name}" for name in names),
        drawn=rows[:, there] * np.array(scales),
        figures={name: np.array([figure_of(one, name) for one in found]) for name in FIGURES},
        codes=tuple(map(codes_of, found)), solved=solved, failures=failures, time=time,
        water=np.array(curves, dtype=np.float64).reshape(len(found), len(time)),  # NaN where it is None
        repeat=repeats_of(n, known.pace, seed), other=other,
    )  # fmt: skip


def figure_of(found: Outcome | Failure, name: str) -> float:
    """One of `FIGURES` of a burn; NaN where it did not happen."""
    if isinstance(found, Failure):
        return math.nan
    value = _PICKS[name](found)
    return value if isinstance(value, int | float) else math.nan


def codes_of(found: Outcome | Failure) -> frozenset[str]:
    """Codes of a burn's verdicts; none of one that could not be solved."""
    return frozenset() if isinstance(found, Failure) else frozenset(verdict.code for verdict in found.verdicts)
