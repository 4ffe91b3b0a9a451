"""Radiation against the `ht` library and its own limits."""

import pytest

from burnsim.closures.radiation import exchange, linear_coefficient
from burnsim.constants import STEFAN_BOLTZMANN


@pytest.mark.parametrize(("hot", "cold"), [(1000.0, 300.0), (373.15, 293.15), (300.0, 900.0)])
def test_exchange_by_library(hot, cold):
    """Stefan-Boltzmann in the `ht` library, whose constant is of an older CODATA set (1.3e-6 apart)."""
    from ht import q_rad

    assert exchange(0.3, hot, cold) == pytest.approx(q_rad(0.3, hot, cold), rel=1e-5)


def test_equal_temperatures_exchange_nothing():
    assert exchange(0.9, 400.0, 400.0) == 0.0


def test_linear_coefficient_is_exact():
    assert linear_coefficient(0.8, 900.0, 300.0) * 600.0 == pytest.approx(exchange(0.8, 900.0, 300.0))


@pytest.mark.parametrize("warm", [2.0, 300.0])
def test_absolute_zero_takes_all_and_gives_nothing(warm):
    """sigma T^4 exactly; below it there is no temperature, and a trial value there counts as zero."""
    for cold in (0.0, -50.0):
        assert linear_coefficient(1.0, warm, cold) * warm == pytest.approx(STEFAN_BOLTZMANN * warm**4, rel=1e-14)
        assert linear_coefficient(1.0, cold, warm) * warm == pytest.approx(STEFAN_BOLTZMANN * warm**4, rel=1e-14)
    assert exchange(1.0, 0.0, warm) == pytest.approx(-STEFAN_BOLTZMANN * warm**4, rel=1e-14)
