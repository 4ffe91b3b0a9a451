"""Repeats of a burn: mean and spread, whether two builds differ, and how many more burns it takes to tell."""

import math
from bisect import bisect_left
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from burnsim.errors import InputError

SIGNIFICANCE = 0.05
POWER = 0.8
MOST_BURNS = 1000


class Repeats(NamedTuple):
    """One figure over the repeats of one build."""

    build: str
    burns: int
    mean: float
    spread: float | None  # standard deviation of a single burn; None with one burn
    error: float | None  # standard, of the mean


class Comparison(NamedTuple):
    """Whether two builds differ in one figure."""

    first: Repeats
    second: Repeats
    difference: float  # second less first
    low: float | None  # 95 % interval of the difference; None if a build has one burn
    high: float | None
    p_value: float | None  # of Welch's test
    differs: bool | None  # at 5 %; None if it cannot be told
    burns_needed: int | None  # of each build, to show this difference with 80 % power; None: more than 1000
    text: str


def pool_repeats(build: str, values: Sequence[float]) -> Repeats:
    """Mean and spread of one figure over repeats.

    Parameters
    ----------
    build : name
    values : one a burn, at least one

    >>> pool_repeats("A", [600.0, 620.0, 610.0]).spread
    10.0
    """
    if not len(values):
        raise InputError("values", values, "has no burns", "give the figure of at least one")
    mean = float(np.mean(values))
    if len(values) == 1:
        return Repeats(build, 1, mean, None, None)
    spread = float(np.std(values, ddof=1))
    return Repeats(build, len(values), mean, spread, spread / math.sqrt(len(values)))


def compare(first: str, one: Sequence[float], second: str, other: Sequence[float]) -> Comparison:
    """Compare one figure of two builds by Welch's test, which does not take their spreads as equal.

    `burns_needed` takes the difference and spreads seen as the true ones: with few burns it is a rough guide.

    Parameters
    ----------
    first, one : name of a build and its figures, one a burn
    second, other : the same of the other

    References
    ----------
    Welch, Biometrika 34 (1947) 28. Power from the noncentral t distribution.
    """
    from scipy import stats

    a, b = pool_repeats(first, one), pool_repeats(second, other)
    difference = b.mean - a.mean
    if a.spread is None or b.spread is None:
        known = a.spread if a.spread is not None else b.spread
        needed = None if known is None else burns_needed(difference, known, known)
        text = "one burn of a build has no spread, so nothing can be told: burn each at least twice"
        return Comparison(a, b, difference, None, None, None, None, needed, text)
    if a.spread == 0.0 and b.spread == 0.0:
        text = "the repeats of each build are equal to the last digit: they cannot be independent burns"
        return Comparison(a, b, difference, None, None, None, None, None, text)
    test = stats.ttest_ind(other, one, equal_var=False)
    interval = test.confidence_interval(1.0 - SIGNIFICANCE)
    p_value = float(test.pvalue)
    differs = p_value < SIGNIFICANCE
    needed = burns_needed(difference, a.spread, b.spread)
    if differs:
        text = f"{second} differs from {first} (p = {p_value:.2g})"
    elif needed is None:
        text = (
            f"no difference is seen (p = {p_value:.2g}); to show one so small takes more than {MOST_BURNS} burns each"
        )
    else:
        more = max(needed - a.burns, 0), max(needed - b.burns, 0)
        again = f"{more[0]} more of {first} and {more[1]} more of {second}"
        text = f"it cannot be told whether they differ (p = {p_value:.2g}); about {needed} burns of each would: {again}"
    return Comparison(a, b, difference, float(interval.low), float(interval.high), p_value, differs, needed, text)


def burns_needed(difference: float, spread: float, other_spread: float) -> int | None:
    """Fewest burns of each build with which a test shows a true difference with a chance of `POWER`.

    Difference of the means and standard deviations of single burns are the true ones. None for more than 1000.

    >>> burns_needed(0.5, 1.0, 1.0)  # Cohen (1988), table 2.4.1: 64 a group for d = 0.5
    64
    """

    def enough(burns: int) -> bool:
        return power_of_test(difference, spread, other_spread, burns) >= POWER

    if difference == 0.0 or not enough(MOST_BURNS):
        return None
    return 2 + bisect_left(range(2, MOST_BURNS), True, key=enough)  # the power grows with the number of burns


def power_of_test(difference: float, spread: float, other_spread: float, burns: int) -> float:
    """Chance that Welch's test with so many burns of each build shows a true difference.

    Degrees of freedom are Welch's (1947) for the true spreads; arguments are those of `burns_needed`.
    """
    from scipy import stats

    one, other = spread**2 / burns, other_spread**2 / burns
    if one + other == 0.0:
        return 1.0
    freedom = (one + other) ** 2 / ((one**2 + other**2) / (burns - 1))
    edge = stats.t.ppf(1.0 - 0.5 * SIGNIFICANCE, freedom)
    shift = abs(difference) / math.sqrt(one + other)
    wrong_side = float(stats.nct.cdf(-edge, freedom, shift))  # not a number where it is below about 1e-30
    return float(stats.nct.sf(edge, freedom, shift)) + (0.0 if math.isnan(wrong_side) else wrong_side)
