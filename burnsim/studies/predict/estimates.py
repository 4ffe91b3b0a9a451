"""Quantiles and shares estimated from a sample, each with its sampling error."""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

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


def quantile(values: NDArray[np.float64], level: float) -> Quantile | None:
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


def share(hits: int, n: int) -> Share | None:
    """Estimate the probability of what happened so often; by Wilson's interval none in n is not taken for never.

    None for an empty sample.

    >>> found = share(0, 100)
    >>> found.value, round(found.low, 3), round(found.high, 3)  # 1.96^2/(100 + 1.96^2)
    (0.0, 0.0, 0.037)

    References
    ----------
    Wilson, J. Amer. Statist. Assoc. 22 (1927) 209.
    """
    from scipy.stats import binomtest

    if n == 0:
        return None
    interval = binomtest(hits, n).proportion_ci(CONFIDENCE, method="wilson")
    return Share(hits / n, float(interval.low), float(interval.high))
