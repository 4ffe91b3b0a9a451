"""Smoothed curve and slope of scattered readings, each with its standard error: local quadratic regression."""

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from burnsim.studies.arrays import Matrix, Vector

LEAST_POINTS = 6
MOST_POINTS = 400
"""More readings than these are averaged in groups first: a logger's noise falls, and the work does not grow as n^2."""
WIDTHS = (5, 7, 9, 12, 16, 21, 28, 38, 50)  # neighbours that a fit may use; cross-validation chooses


DEVIATION = 2.4
"""Standard deviation, under Gaussian noise, of a reading about the middle of its neighbours, over the median of the
least of its three distances (in 400 000 random numbers)."""


class Smooth(NamedTuple):
    """A smoothed curve; every array has the shape of `time`."""

    time: Vector  # [s]
    value: Vector
    value_error: Vector  # standard
    slope: Vector  # [per second]
    slope_error: Vector  # standard
    noise: float  # standard deviation of a reading, or of the mean of a group
    neighbours: int  # that each fit used


def smooth(time: Vector, value: Vector, least_noise: float) -> Smooth | None:
    """Fit a parabola through the neighbours of each instant, weighted by the tricube of their distance.

    The readings are of shape (n,), their times [s] do not fall, and none is surer than `least_noise`, a standard
    deviation. Of more than `MOST_POINTS`, groups are fitted. None with fewer than six readings at different times.

    Both the curve and its slope are weighted sums of the readings, so their errors follow exactly from the noise of a
    reading, which is that of the residuals, or `least_noise` if that is more. How many neighbours to use is chosen by
    leave-one-out cross-validation. The error is that of noise: where the curve bends sharply within a neighbourhood, as
    at the start of heating, a bias comes on top.

    References
    ----------
    Cleveland, J. Amer. Statist. Assoc. 74 (1979) 829; Fan and Gijbels, Local Polynomial Modelling, 1996.
    """
    if len(np.unique(time)) < LEAST_POINTS:
        return None
    size = -(-len(time) // MOST_POINTS)
    if size > 1:
        time, value, least_noise = _means(time, size), _means(value, size), least_noise / math.sqrt(size)

    def misses(width: int) -> float:
        """Mean square of what each reading lies off a fit to all others."""
        rows, _ = _weights(time, width)
        own = np.diag(rows)
        return math.inf if (own > 0.999).any() else float(np.mean(((value - rows @ value) / (1.0 - own)) ** 2))

    scores = {misses(width): width for width in reversed(WIDTHS) if width <= len(time)} | {math.inf: len(time)}
    width = scores[min(scores)]
    rows, slopes = _weights(time, width)
    residual = value - rows @ value
    freedom = max(len(time) - 2.0 * float(np.trace(rows)) + float((rows * rows).sum()), 1.0)
    noise = max(float(np.sqrt(residual @ residual / freedom)), least_noise)
    errors = [noise * np.sqrt((table * table).sum(axis=1)) for table in (rows, slopes)]
    return Smooth(time, rows @ value, errors[0], slopes @ value, errors[1], noise, width)


def outliers(time: Vector, value: Vector, least_noise: float) -> list[int]:
    """Readings that lie more than six robust deviations off their neighbours, by their index.

    A reading strays if it lies off the straight line through the two about it, the one through the two before it and
    the one through the two after it: where the curve bends sharply, as where the water begins to boil, a reading lies
    on one of them.
    """
    if len(time) < LEAST_POINTS:
        return []
    inner = np.arange(1, len(time) - 1)
    far = np.abs(_off(time, value, inner, inner - 1, inner + 1))
    far[1:] = np.minimum(far[1:], np.abs(_off(time, value, inner[1:], inner[1:] - 2, inner[1:] - 1)))
    far[:-1] = np.minimum(far[:-1], np.abs(_off(time, value, inner[:-1], inner[:-1] + 1, inner[:-1] + 2)))
    far /= max(DEVIATION * float(np.median(far)), 1.3 * least_noise)
    return [k + 1 for k in range(len(far)) if far[k] > 6.0 and far[k] == far[max(k - 1, 0) : k + 2].max()]


def _off(time: Vector, value: Vector, k: NDArray[np.int_], first: NDArray[np.int_], second: NDArray[np.int_]) -> Vector:
    """How far readings lie off the straight line through two others."""
    slope = (value[second] - value[first]) / np.maximum(time[second] - time[first], 1e-9)
    off: Vector = value[k] - value[first] - slope * (time[k] - time[first])
    return off


def _means(values: Vector, size: int) -> Vector:
    """Means of groups of so many neighbours; the last group may be smaller."""
    first = np.arange(0, len(values), size)
    return np.add.reduceat(values, first) / np.diff([*first, len(values)])


def _weights(time: Vector, width: int) -> tuple[Matrix, Matrix]:
    """Rows that turn readings into the curve and into its slope at their instants."""
    values = np.zeros((len(time), len(time)))
    slopes = np.zeros((len(time), len(time)))
    for k, instant in enumerate(time.tolist()):
        away = time - instant
        reach = 1.0001 * max(float(np.sort(np.abs(away))[min(width, len(time)) - 1]), 1e-9)
        inside = np.abs(away) < reach
        while len(np.unique(time[inside])) < 4:  # equal times do not make a parabola
            reach *= 1.3
            inside = np.abs(away) < reach
        weight = (1.0 - (np.abs(away[inside]) / reach) ** 3) ** 3
        scaled = away[inside] / reach
        design = np.stack([np.ones_like(scaled), scaled, scaled * scaled], axis=1)
        root = np.sqrt(weight)
        solved = np.linalg.pinv(root[:, None] * design) * root[None, :]
        values[k, inside] = solved[0]
        slopes[k, inside] = solved[1] / reach
    return values, slopes
