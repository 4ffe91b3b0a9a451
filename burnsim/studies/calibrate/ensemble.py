"""Draws of what is learnt that agree with the logs, where the Gaussian about the best fit does not.

What the logs do not tell apart may go far along curved valleys: more heat to the rim with less to the pot boils alike.
The Gaussian about the best fit goes straight on, along the tangent, where nearly every step boils later; its draws are
slow on average though their middle is right (by 2 % after one log of a usual bench). So each draw of it is moved until
the model says of it what the Gaussian said: randomize, then optimize. The residuals r of data and priors at the best
fit x have slopes J; a draw y stands for the targets r(x) + J (y - x), and the place z is sought where

    J' (r(z) - r(x) - J (y - x)) = 0,

by steps of a fixed matrix, the covariance. Draws whose residuals across J are larger than those of others, such as of a
fire that goes out though the bench saw it burn, are thinned by importance weights. What the weights should hold
besides, the ratio of the determinants of J, is left out: it takes the slopes at every draw.

References
----------
J. M. Bardsley, A. Solonen, H. Haario, M. Laine 2014, SIAM J. Sci. Comput. 36, A1895: randomize-then-optimize; D. S.
Oliver, N. He, A. C. Reynolds 1996, 5th European Conf. on the Mathematics of Oil Recovery: the same with slopes
throughout (both from memory).
"""

import numpy as np

from burnsim.studies.arrays import Matrix, Vector, unit_points
from burnsim.studies.calibrate.misfit import Fit

DRAWS = 128
STEPS = 2  # one does on a usual bench; where factors bend the boil strongly the second takes half of what is left
LONGEST = 1.0  # of one step, in prior standard deviations of any unknown


def draw_posterior(fit: Fit, x: Vector, slopes: Matrix, covariance: Matrix) -> tuple[Matrix, float]:
    """Draw from the posterior about a best fit x, along its curved valleys.

    Returns places in the space of the factors, shape (n, d), and the effective number of different draws over n: the
    sum of weights squared over the sum of their squares.

    The slopes are of the data there, shape (measurements, unknowns), and the covariance is the inverse of slopes'
    slopes + 1.
    """
    from scipy.special import ndtri

    n, middle = DRAWS, fit.data(x)
    root = np.linalg.cholesky(covariance)
    start = x + ndtri(unit_points("sobol", fit.size, n, 7)) @ root.T
    targets = middle + (start - x) @ slopes.T
    places, best = start.copy(), np.full(n, np.inf)
    off = np.zeros((n, len(middle)))
    trial = start
    for step in range(STEPS + 1):
        found = fit.many(trial)
        apart = found - targets
        # J'(r(z) - target), priors included, in the metric of the covariance
        gradient = apart @ slopes + (trial - start)
        size = np.einsum("ij,jk,ik->i", gradient, covariance, gradient)
        better = size < best
        places[better], off[better], best[better] = trial[better], found[better], size[better]
        if step < STEPS:
            move = -(gradient @ covariance)
            move *= np.minimum(LONGEST / np.maximum(np.abs(move).max(axis=1, keepdims=True), 1e-12), 1.0)
            trial = np.where(better[:, None], trial + move, places)
    whole = np.concatenate([off, places], axis=1)
    along, _ = np.linalg.qr(np.concatenate([slopes, np.eye(fit.size)]))
    across = (whole**2).sum(axis=1) - ((whole @ along) ** 2).sum(axis=1)
    weights = np.exp(-0.5 * (across - across.min()))
    weights /= weights.sum()
    pick = np.searchsorted(np.cumsum(weights), (np.arange(n) + 0.5) / n)
    return places[np.minimum(pick, n - 1), : fit.d], float(1.0 / (n * np.sum(weights**2)))
