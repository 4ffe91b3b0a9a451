"""What a calibration tells of its data: residuals, and factors that act alike on all that was measured."""

from collections.abc import Sequence
from itertools import combinations
from typing import NamedTuple

import numpy as np

from burnsim.studies.arrays import Matrix, Vector
from burnsim.studies.calibrate.data import Bench, labels

ALIKE = 0.95  # cosine of the slopes from which two factors count as acting alike
FELT = 0.5  # in standard deviations of the data over the band: less is not felt at all


class Residual(NamedTuple):
    """One measurement beside the model."""

    log: str
    what: str  # "bloom", "boil", "burnout", "water", or "no " and a milestone
    time: float  # when it was measured [s]
    before: float  # model less measurement before calibration, in standard deviations
    after: float  # the same after
    unit: str  # of `size`
    size: float  # one standard deviation of the measurement, [s] or [K]; 0 where it has no size


class Alike(NamedTuple):
    """Two factors that the data cannot tell apart."""

    first: str
    second: str
    cosine: float  # of their effects on the data, 1 or -1: the same or the opposite


def alike(names: Sequence[str], slopes: Matrix) -> tuple[Alike, ...]:
    """Pairs of factors whose effects on the data have nearly the same shape.

    The slopes are of the data by each factor in its prior standard deviations, noise whitened, shape (n, d).
    """
    size = np.sqrt((slopes * slopes).sum(axis=0))
    felt = [k for k in range(len(names)) if size[k] >= FELT]
    pairs = (Alike(names[j], names[k], float(slopes[:, j] @ slopes[:, k] / (size[j] * size[k])))
             for j, k in combinations(felt, 2))  # fmt: skip
    return tuple(sorted((one for one in pairs if abs(one.cosine) > ALIKE), key=lambda one: -abs(one.cosine)))


def residual_table(benches: Sequence[Bench], before: Vector, after: Vector) -> tuple[Residual, ...]:
    """Each measurement of some benches with its residual before and after, in standard deviations."""
    found = iter(zip(before.tolist(), after.tolist(), strict=True))
    rows = []
    for bench in benches:
        errors = dict(zip(bench.marks, bench.mark_errors.tolist(), strict=True))
        for name, time in labels(bench):
            unit, size = ("K", bench.reading_error) if name == "water" else ("s", errors.get(name, 0.0))
            rows.append(Residual(bench.name, name, time, *next(found), unit, size))
    return tuple(rows)
