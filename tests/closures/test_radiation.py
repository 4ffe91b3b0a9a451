"""Radiation against the `ht` library and its own limits."""

import pytest

from burnsim.closures.radiation import disc_to_disc_view, exchange, line_to_disc_view, linear_coefficient
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


@pytest.mark.parametrize(("radius", "other", "distance"), [(0.03, 0.08, 0.025), (0.05, 0.05, 0.2), (0.1, 0.01, 0.03)])
def test_discs_see_each_other_alike(radius, other, distance):
    """Reciprocity: radius^2 times the share is the same both ways."""
    back = disc_to_disc_view(other, radius, distance)
    assert radius**2 * disc_to_disc_view(radius, other, distance) == pytest.approx(other**2 * back, rel=1e-12)


def test_a_small_disc_sees_the_sky_and_a_wide_plate():
    """b^2/(L^2 + b^2) from a point on the axis; all of a plate without end."""
    assert disc_to_disc_view(1e-4, 0.08, 0.06) == pytest.approx(0.64, rel=1e-5)
    assert disc_to_disc_view(0.03, 1e3, 0.02) == pytest.approx(1.0, abs=1e-8)


def test_a_long_flame_is_seen_less_from_its_foot():
    """1/2 R/L of a line without end, and half of a point on the disc."""
    assert line_to_disc_view(50.0, 0.03) == pytest.approx(0.5 * 0.03 / 50.0, rel=1e-3)
    assert line_to_disc_view(1e-6, 0.03) == pytest.approx(0.5, rel=1e-4)
