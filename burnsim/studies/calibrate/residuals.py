"""What a calibration tells of its data: residuals, and factors that act alike on all that was measured."""

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from burnsim.studies.calibrate.data import Bench

Vector = NDArray[np.float64]

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


def alike(names: Sequence[str], slopes: NDArray[np.float64]) -> tuple[Alike, ...]:
    """Pairs of factors whose effects on the data have nearly the same shape.

    Parameters
    ----------
    names : of the factors, shape (d,)
    slopes : of the data by each factor in its prior standard deviations, noise whitened, shape (n, d)
    """
    size = np.sqrt((slopes * slopes).sum(axis=0))
    found = []
    for j in range(len(names)):
        for k in range(j + 1, len(names)):
            if min(size[j], size[k]) < FELT:
                continue
            cosine = float(slopes[:, j] @ slopes[:, k] / (size[j] * size[k]))
            if abs(cosine) > ALIKE:
                found.append(Alike(names[j], names[k], cosine))
    return tuple(sorted(found, key=lambda one: -abs(one.cosine)))


def residual_table(
    benches: Sequence[Bench], before: Vector, after: Vector, what: Sequence[Sequence[tuple[str, float]]]
) -> tuple[Residual, ...]:
    """Each measurement with its residual before and after.

    Parameters
    ----------
    benches : of the calibration
    before, after : residuals of all of them, in standard deviations
    what : what each residual is of, and its time, a list a bench
    """
    rows = []
    k = 0
    for bench, names in zip(benches, what, strict=True):
        errors = dict(zip(bench.marks, bench.mark_errors.tolist(), strict=True))
        for name, time in names:
            unit, size = ("K", bench.reading_error) if name == "water" else ("s", errors.get(name, 0.0))
            rows.append(Residual(bench.name, name, time, float(before[k]), float(after[k]), unit, size))
            k += 1
    return tuple(rows)
