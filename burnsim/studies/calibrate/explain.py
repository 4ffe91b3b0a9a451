"""Which size, were it not as drawn, would explain what a fit leaves: one size at a time.

First a score test of each: by how much would the sum of squares fall if the size were free, as far as slopes tell? (C.
R. Rao 1948, Proc. Camb. Phil. Soc. 44, 50; from memory.) A fit that is good all the same can hide a wrong size in the
factors, which its score then tells. Sizes that promise enough, and all of them where the fit is bad, are freed in a fit
of their own.
"""

from typing import NamedTuple

import numpy as np

from burnsim.studies.arrays import Matrix, Vector
from burnsim.studies.calibrate.misfit import STEP, Fit, chance_of, minimise
from burnsim.studies.calibrate.posterior import joined, make_prior
from burnsim.studies.calibrate.sizes import DOUBTFUL, has_size

ENOUGH = 6.63
"""Fall of the sum of squares that comes by chance in one of a hundred right designs: chi-square of one degree of
freedom."""


class Explanation(NamedTuple):
    """A size that would explain a misfit."""

    path: str  # of the size; "charge.fuel" is the strength of the spirit
    ratio: float  # as built over as drawn, as fitted
    spread: float  # standard deviation of its logarithm
    removed: float  # of the sum of squares
    chance: float  # of a misfit as large or larger as is left


def explanations(fit: Fit, x: Vector, slopes: Matrix, *, bad: bool) -> tuple[Explanation, ...]:
    """Sizes each of which would take much of the misfit of a best fit x away, most first.

    The slopes are of the data there; in a bad fit no size is passed over for its score.
    """
    misfit = fit.sum_of_squares(x)
    found = []
    for path, tolerance in DOUBTFUL.items():
        if path in fit.known.names or not all(has_size(bench.setup, path) for bench in fit.benches):
            continue
        freed = Fit(fit.benches, joined(fit.known, make_prior(names=(), tolerances={path: tolerance})), fit.engine)
        logs = np.append(fit.root @ x[: fit.d], 0.0)  # the same place among one unknown more
        begin = np.concatenate([np.linalg.lstsq(freed.root, logs, rcond=None)[0], x[fit.d :]])
        if not bad and _score(fit, freed, x, begin, slopes) < ENOUGH:
            continue
        there, cost = min((minimise(freed, start) for start in _starts(freed, begin)), key=lambda one: one[1])
        removed = misfit - 2.0 * cost
        if removed >= ENOUGH:
            found.append(_told(freed, path, there, removed, 2.0 * cost))
        fit.burns += freed.burns
    return tuple(sorted(found, key=lambda one: -one.removed))


def _starts(freed: Fit, begin: Vector) -> list[Vector]:
    """Where to search from: the fit so far, and the best of the middle of all else with the size well off.

    Where the factors strain to explain a wrong size, the fit so far may lie at the edge of a fire that goes out.
    """
    places = [sign * step * _direction(freed) for step in (1.0, 2.0, 3.0) for sign in (1.0, -1.0)]
    sums = (freed.many(np.array(places)) ** 2).sum(axis=1) + (np.array(places) ** 2).sum(axis=1)
    return [begin, places[int(np.argmin(sums))]]


def _direction(freed: Fit) -> Vector:
    """The unit vector among the unknowns along which the last size changes."""
    step = np.zeros(freed.size)
    step[: freed.d] = np.linalg.lstsq(freed.root, np.append(np.zeros(freed.d - 1), 1.0), rcond=None)[0]
    return step / float(np.linalg.norm(step))


def _score(fit: Fit, freed: Fit, x: Vector, begin: Vector, slopes: Matrix) -> float:
    """Fall of the sum of squares if the size were free, to first order."""
    step = STEP * _direction(freed)
    up, down = freed.many(np.array([begin + step, begin - step]))
    slope = (up - down) / (2.0 * STEP)
    shared = slopes.T @ slope
    own = slope @ slope + 1.0 - shared @ np.linalg.solve(slopes.T @ slopes + np.eye(fit.size), shared)
    return float((slope @ fit.data(x)) ** 2 / own)


def _told(freed: Fit, path: str, there: Vector, removed: float, left: float) -> Explanation:
    slopes = freed.slopes(there)
    covariance = np.linalg.inv(slopes.T @ slopes + np.eye(freed.size))[: freed.d, : freed.d]
    k = freed.known.names.index(path)
    spread = float(np.sqrt((freed.root @ covariance @ freed.root.T)[k, k]))
    ratio = freed.factors(there[: freed.d])[path]
    return Explanation(path, ratio, spread, removed, chance_of(left, freed.measurements))
