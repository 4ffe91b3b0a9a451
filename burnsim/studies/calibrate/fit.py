"""Learn the uncertain factors from bench logs: least squares in their logarithms, with their bands as priors."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from burnsim.answers import Drawn, Tabled, Told
from burnsim.errors import InputError, SolverError
from burnsim.model.description.files import Design
from burnsim.studies.bench.log import BenchLog
from burnsim.studies.burn_many import Engine, burner_pool
from burnsim.studies.calibrate.data import (
    NUISANCES,
    PACE,
    Bench,
    Course,
    bench_of,
    course_of,
    labels,
    nuisance_slopes,
    paired,
    residuals,
)
from burnsim.studies.calibrate.posterior import Posterior, posterior_of, prior, root, with_factors, within
from burnsim.studies.calibrate.residuals import Alike, Residual, alike, residual_table
from burnsim.studies.sweep.points import unit_points

Vector = NDArray[np.float64]

STEP = 0.2  # of a difference quotient, in prior standard deviations: far above the solver's noise
FARTHEST = 4.0  # a factor may go so many prior standard deviations [-]
SCOUTS = 16  # draws of the prior among which a second start is chosen
DOUBTFUL = 0.01  # chance of so bad a fit below which it is called bad
USUAL_BURNS = 400


@dataclass(frozen=True, eq=False, repr=False)
class Calibration(Tabled, Told, Drawn):
    """What bench logs taught.

    Attributes
    ----------
    posterior : of the factors after the logs; give it to `predict`, or keep it with `save_factors`
    before : of the factors before
    learnt : of each factor, its standard deviation after over that before (of logarithms), shape (d,)
    correlation : of the factors after, shape (d, d)
    information : what the logs alone say along each principal direction, in units of the prior's precision, falling;
        below 1 the band says more than the logs
    condition : largest over smallest of the precisions after
    alike : pairs of factors that the logs cannot tell apart
    nuisances : clock [s], thermometer [K] and pace [-] of each burn, shape (logs, 3)
    misfit : sum of squares at the best fit, those of the priors included
    measurements : number of them; `misfit` is a chi-square with so many degrees of freedom, if all is as assumed
    chance : of a misfit as large or larger
    inside : share of the measurements inside the fit's own 90 % predictive band
    bad : whether the fit is bad; then `posterior` is widened by `inflation`
    inflation : factor on the covariance, 1 for a fit that is not bad
    residuals : each measurement, before and after
    burns : how many were burnt
    remarks : what to know besides
    """

    posterior: Posterior
    before: Posterior
    learnt: Vector
    correlation: NDArray[np.float64]
    information: Vector
    condition: float
    alike: tuple[Alike, ...]
    nuisances: NDArray[np.float64]
    misfit: float
    measurements: int
    chance: float
    inside: float
    bad: bool
    inflation: float
    residuals: tuple[Residual, ...]
    burns: int
    remarks: tuple[str, ...]


def calibrate(
    setups: Design | Sequence[Design],
    logs: Sequence[BenchLog],
    *,
    factors: Sequence[str] | None = None,
    before: Posterior | None = None,
    pace: float = PACE,
    starts: int = 2,
    engine: Engine | None = None,
    workers: int | None = None,
) -> Calibration:
    """Learn the uncertain factors from bench logs.

    Milestones and readings of the water (until it boils) are compared with the model. The factors have their bands as
    priors. Each burn has three unknowns of its own, with priors from the log: when its clock was started, the offset of
    its thermometer, and its pace, by which repeats differ. What follows is the Gaussian about the best fit.

    Parameters
    ----------
    setups
        What was burnt: one design for all logs, or one a log. What a log states of its conditions counts.
    logs
        Bench logs.
    factors
        Names of the factors to learn; default none: all that have a band. One that is left out is held at its value,
        though `predict` draws it from its band: leave out only what can hardly matter.
    before
        What is known before, for example from earlier logs; default none: the bands.
    pace
        Relative standard deviation of the pace of repeats.
    starts
        From how many places to search: the middle of the bands, and the best of a few draws.
    engine, workers
        What burns, and on how many cores; default none: the machine's cores.

    Returns
    -------
    Calibration

    Raises
    ------
    InputError
        If there is nothing to learn from.
    SolverError
        If the model cannot burn the design.
    """
    benches = [bench_of(log, design, pace) for log, design in paired(setups, logs)]
    if isinstance(starts, bool) or not isinstance(starts, int) or starts < 1:
        raise InputError("starts", starts, "is not a whole number from 1", "leave it out")
    known = before or prior(benches[0].setup.factors, factors)
    if not known.names:
        raise InputError("factors", factors, "names no factor to learn", "leave it out for all")
    if engine is not None:
        return _solve(Fit(benches, known, engine), starts)
    with burner_pool(USUAL_BURNS * len(benches) * len(known.names) // 11, workers) as pooled:
        return _solve(Fit(benches, known, pooled), starts)


class Fit:
    """The residuals of a calibration and their slopes; courses of the model are kept until the factors change.

    The unknowns are the principal components of the prior in its standard deviations, then the nuisances of each burn.
    """

    def __init__(self, benches: Sequence[Bench], known: Posterior, engine: Engine) -> None:
        self.benches, self.known, self.engine = list(benches), known, engine
        self.d = len(known.names)
        self.root = root(known.matrix())
        self.burns = 0
        self._kept: dict[bytes, list[Course | None]] = {}

    @property
    def size(self) -> int:
        """Number of unknowns."""
        return self.d + len(NUISANCES) * len(self.benches)

    @property
    def measurements(self) -> int:
        """Number of measurements."""
        return sum(bench.size for bench in self.benches)

    def factors(self, z: Vector) -> dict[str, float]:
        """Factors at a place."""
        logs = np.array(self.known.mean) + self.root @ z
        return {
            name: within(name, math.exp(value)) for name, value in zip(self.known.names, logs.tolist(), strict=True)
        }

    def courses(self, places: Sequence[Vector]) -> list[list[Course | None]]:
        """What the model says of every bench, at each place in the space of the factors."""
        new = [z for z in places if z.tobytes() not in self._kept]
        for k, bench in enumerate(self.benches):
            setups = [with_factors(bench.setup, self.factors(z)) for z in new]
            found = self.engine(setups, tuple(bench.grid.tolist())) if setups else []
            self.burns += len(found)
            for z, one in zip(new, found, strict=True):
                self._kept.setdefault(z.tobytes(), [])
                if len(self._kept[z.tobytes()]) == k:
                    self._kept[z.tobytes()].append(course_of(one, bench))
        return [self._kept[z.tobytes()] for z in places]

    def data(self, x: Vector) -> Vector:
        """Residuals of the measurements."""
        (course,) = self.courses([x[: self.d]])
        return np.concatenate([self._one(course[k], k, x) for k in range(len(self.benches))])

    def whole(self, x: Vector) -> Vector:
        """Residuals of the measurements and of the priors."""
        return np.concatenate([self.data(x), x])

    def slopes(self, x: Vector) -> NDArray[np.float64]:
        """Derivatives of `data`, shape (measurements, unknowns)."""
        z = x[: self.d]
        moves = [sign * STEP * np.eye(self.d)[j] for j in range(self.d) for sign in (1.0, -1.0)]
        courses = self.courses([z, *(z + move for move in moves)])
        table = np.zeros((self.measurements, self.size))
        row = 0
        for k, bench in enumerate(self.benches):
            rows = slice(row, row + bench.size)
            here = courses[0][k]
            middle = self._one(here, k, x)
            for j in range(self.d):
                up, down = (courses[1 + 2 * j + side][k] for side in (0, 1))
                table[rows, j] = _quotient(self._one(up, k, x), middle, self._one(down, k, x), here, up, down)
            at = self.d + len(NUISANCES) * k
            if here is not None:
                table[rows, at : at + len(NUISANCES)] = nuisance_slopes(here, bench, x[at : at + len(NUISANCES)])
            row += bench.size
        return table

    def whole_slopes(self, x: Vector) -> NDArray[np.float64]:
        """Derivatives of `whole`."""
        return np.concatenate([self.slopes(x), np.eye(self.size)])

    def _one(self, course: Course | None, k: int, x: Vector) -> Vector:
        bench = self.benches[k]
        at = self.d + len(NUISANCES) * k
        if course is None:  # the model broke down here: as bad as a milestone that it does not reach
            return np.full(bench.size, 6.0)
        return residuals(course, bench, x[at : at + len(NUISANCES)])


def _quotient(
    up: Vector, middle: Vector, down: Vector, here: Course | None, above: Course | None, below: Course | None
) -> Vector:
    """Central difference; one-sided where a milestone is lost on the other side, none where on both."""
    whole = (up - down) / (2.0 * STEP)
    if here is None:
        return np.zeros_like(whole)
    lost_up, lost_down = (_lost(here, other, len(whole)) for other in (above, below))
    slope = np.where(lost_up, (middle - down) / STEP, np.where(lost_down, (up - middle) / STEP, whole))
    return np.where(lost_up & lost_down, 0.0, slope)


def _lost(here: Course, there: Course | None, size: int) -> NDArray[np.bool_]:
    """Which residuals are of a milestone that happens at one place and not at the other."""
    lost = np.full(size, there is None)
    if there is not None:
        flags = [(a is None) != (b is None) for a, b in zip(here.marks, there.marks, strict=True)]
        flags += [a != b for a, b in zip(here.never, there.never, strict=True)]
        lost[: len(flags)] = flags
    return lost


def _solve(fit: Fit, starts: int) -> Calibration:
    from scipy.optimize import least_squares

    begin = [np.zeros(fit.size)]
    if starts > 1:
        begin += _scouts(fit, starts - 1)
    if all(course is None for course in fit.courses([np.zeros(fit.d)])[0]):
        raise SolverError("the model cannot burn this design, so there is nothing to compare")
    found = [
        least_squares(
            fit.whole,
            x0,
            jac=fit.whole_slopes,
            bounds=(-FARTHEST, FARTHEST),
            xtol=1e-3,
            ftol=1e-4,
            gtol=1e-4,
            max_nfev=25,
        )
        for x0 in begin
    ]
    best = min(found, key=lambda one: float(one.cost))
    return _judged(fit, np.array(best.x), [np.array(one.x) for one in found if one is not best], float(best.cost))


def _scouts(fit: Fit, count: int) -> list[Vector]:
    from scipy.special import ndtri

    places = list(ndtri(unit_points("sobol", fit.d, SCOUTS, 1)))
    fit.courses(places)
    starts = [np.concatenate([z, np.zeros(fit.size - fit.d)]) for z in places]
    return sorted(starts, key=lambda x: float(np.sum(fit.whole(x) ** 2)))[:count]


def _judged(fit: Fit, x: Vector, others: list[Vector], cost: float) -> Calibration:
    from scipy.stats import chi2

    slopes, d = fit.slopes(x), fit.d
    precision = slopes.T @ slopes + np.eye(fit.size)
    covariance = np.linalg.inv(precision)
    misfit, n = 2.0 * cost, fit.measurements
    chance = float(chi2.sf(misfit, n))
    bad = chance < DOUBTFUL
    inflation = max(misfit / n, 1.0) if bad else 1.0
    z_covariance = covariance[:d, :d] * inflation
    logs = np.array(fit.known.mean) + fit.root @ x[:d]
    matrix = fit.root @ z_covariance @ fit.root.T
    after = posterior_of(fit.known.names, logs.tolist(), 0.5 * (matrix + matrix.T))
    spread = np.sqrt(np.diag(matrix))
    residual = fit.data(x)
    band = np.sqrt(1.0 + inflation * np.einsum("ij,jk,ik->i", slopes, covariance, slopes))
    # what the logs alone say: the nuisances, with their priors, are integrated out
    nuisance = slopes[:, d:]
    noise = np.eye(n) + nuisance @ nuisance.T
    clean = np.linalg.solve(np.linalg.cholesky(noise), slopes[:, :d])
    information = np.linalg.eigvalsh(clean.T @ clean)[::-1]
    by_factor = clean @ np.linalg.pinv(fit.root) * fit.known.spread()
    precisions = np.linalg.eigvalsh(np.linalg.inv(covariance[:d, :d]))
    nuisances = x[d:].reshape(-1, len(NUISANCES)) * np.stack([bench.scales for bench in fit.benches])
    return Calibration(
        after,
        fit.known,
        spread / fit.known.spread(),
        matrix / np.outer(spread, spread),
        np.maximum(information, 0.0),
        float(precisions.max() / precisions.min()),
        alike(fit.known.names, by_factor),
        nuisances,
        misfit,
        n,
        chance,
        float(np.mean(np.abs(residual) <= 1.645 * band)),
        bad,
        inflation,
        residual_table(fit.benches, fit.data(np.zeros(fit.size)), residual, [labels(bench) for bench in fit.benches]),
        fit.burns,
        tuple(_remarks(fit, x, others, cost)),
    )


def _remarks(fit: Fit, x: Vector, others: list[Vector], cost: float) -> list[str]:
    said = []
    moved = fit.root @ x[: fit.d] / fit.known.spread()
    at_edge = [name for name, far in zip(fit.known.names, moved.tolist(), strict=True) if abs(far) > 2.5]
    if at_edge:
        said.append("far outside their bands: " + ", ".join(at_edge) + "; the model lacks something, or a log is wrong")
    for other in others:
        if np.sum(fit.whole(other) ** 2) < 2.0 * cost + 6.0 and np.abs(other - x)[: fit.d].max() > 1.5:
            said.append(
                "a second, quite different set of factors fits nearly as well; the bands tell of the best one only"
            )
    for bench, course in zip(fit.benches, fit.courses([x[: fit.d]])[0], strict=True):
        for k, name in enumerate(bench.marks):
            if course is None or course.marks[k] is None:
                said.append(f"{bench.name}: the fitted model does not reach {name}, which the bench saw")
        for k, name in enumerate(bench.never):
            if course is not None and course.never[k]:
                said.append(f"{bench.name}: the fitted model reaches {name}, which the bench did not see")
    return said
