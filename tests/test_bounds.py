"""Bounds: what the built-ins give, what is no number included."""

import math

from hypothesis import given
from hypothesis import strategies as st

from burnsim.bounds import at_least, at_most, within

NUMBERS = st.floats(allow_nan=False)


@given(NUMBERS, NUMBERS)
def test_one_bound_is_as_the_built_ins(x: float, bound: float) -> None:
    assert at_least(x, bound) == max(x, bound)
    assert at_most(x, bound) == min(x, bound)


@given(NUMBERS, NUMBERS, NUMBERS)
def test_two_bounds_are_one_after_the_other(x: float, a: float, b: float) -> None:
    low, high = sorted((a, b))
    assert within(x, low, high) == min(max(x, low), high)


def test_what_is_no_number_stays_none() -> None:
    for found in (at_least(math.nan, 0.0), at_most(math.nan, 0.0), within(math.nan, 0.0, 1.0)):
        assert math.isnan(found)
