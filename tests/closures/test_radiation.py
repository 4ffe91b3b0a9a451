"""Radiation against the `ht` library and its own limits."""

import numpy as np
import pytest
from scipy.integrate import dblquad

from burnsim.closures.radiation import (
    disc_to_disc_view,
    enclosed_emissivity,
    line_to_disc_view,
    linear_coefficient,
    radiation_exchange,
    strip_to_strip_view,
)
from burnsim.constants import STEFAN_BOLTZMANN


@pytest.mark.parametrize(("hot", "cold"), [(1000.0, 300.0), (373.15, 293.15), (300.0, 900.0)])
def test_exchange_by_library(hot, cold):
    """Stefan-Boltzmann in the `ht` library, whose constant is of an older CODATA set (1.3e-6 apart)."""
    from ht import q_rad

    assert radiation_exchange(0.3, hot, cold) == pytest.approx(q_rad(0.3, hot, cold), rel=1e-5)


def test_equal_temperatures_exchange_nothing():
    assert radiation_exchange(0.9, 400.0, 400.0) == 0.0


def test_linear_coefficient_is_exact():
    assert linear_coefficient(0.8, 900.0, 300.0) * 600.0 == pytest.approx(radiation_exchange(0.8, 900.0, 300.0))


@pytest.mark.parametrize("warm", [2.0, 300.0])
def test_absolute_zero_takes_all_and_gives_nothing(warm):
    """sigma T^4 exactly; below it there is no temperature, and a trial value there counts as zero."""
    for cold in (0.0, -50.0):
        assert linear_coefficient(1.0, warm, cold) * warm == pytest.approx(STEFAN_BOLTZMANN * warm**4, rel=1e-14)
        assert linear_coefficient(1.0, cold, warm) * warm == pytest.approx(STEFAN_BOLTZMANN * warm**4, rel=1e-14)
    assert radiation_exchange(1.0, 0.0, warm) == pytest.approx(-STEFAN_BOLTZMANN * warm**4, rel=1e-14)


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


@pytest.mark.parametrize(("width", "distance"), [(0.02, 0.01), (0.01, 0.01), (4.5e-3, 25e-3)])
def test_strips_see_each_other_as_their_lines_do(width, distance):
    """Every pair of lines, cos^2/(2 r) = d^2/(2 r^3), summed over both strips."""
    both, _ = dblquad(
        lambda x, y: 0.5 * distance**2 / (distance**2 + (x - y) ** 2) ** 1.5, 0.0, width, lambda _: 0.0, lambda _: width
    )
    assert strip_to_strip_view(width, distance) == pytest.approx(both / width, rel=1e-6)


@pytest.mark.parametrize(
    ("hot", "cold", "view"), [(0.3, 0.9, 0.57), (0.6, 0.9, 0.1), (1.0, 1.0, 0.4), (0.05, 0.2, 0.9)]
)
def test_an_enclosure_exchanges_what_its_radiosities_say(hot, cold, view):
    """Three surfaces of one enclosure, the third without any heat of its own, as three linear equations.

    J_i = e_i E_i + (1 - e_i) sum_j F_ij J_j, E = 1 and 0; the wall has no net flux: J = sum_j F_wj J_j. It may have any
    size, here that of both faces together, by which half of what leaves it meets them in equal parts but for itself.
    """
    rest = 1.0 - view
    back = 0.5 * rest  # of the wall, twice as large as a face, to either
    matrix = np.array(
        [
            [1.0, -(1.0 - hot) * view, -(1.0 - hot) * rest],
            [-(1.0 - cold) * view, 1.0, -(1.0 - cold) * rest],
            [-back, -back, 1.0 - (1.0 - 2.0 * back)],
        ]
    )
    radiosity = np.linalg.solve(matrix, [hot, 0.0, 0.0])
    leaves = radiosity[0] - view * radiosity[1] - rest * radiosity[2]
    assert enclosed_emissivity(hot, cold, view) == pytest.approx(leaves, rel=1e-12)


@pytest.mark.parametrize(("depth", "share"), [(0.5, 0.8013), (1.0, 0.6720)])
def test_a_shallow_can_passes_what_a_tube_passes(depth, share):
    """Clausing's shares (1932) of a tube so many radii long with walls that scatter: one wall for all is near that."""
    assert enclosed_emissivity(1.0, 1.0, disc_to_disc_view(0.03, 0.03, 0.03 * depth)) == pytest.approx(share, rel=0.03)


def test_faces_that_fill_each_others_view_are_two_plates():
    """1/(1/a + 1/b - 1) without walls; a mirror exchanges nothing."""
    assert enclosed_emissivity(0.3, 0.9, 1.0) == pytest.approx(1.0 / (1.0 / 0.3 + 1.0 / 0.9 - 1.0), rel=1e-14)
    assert enclosed_emissivity(0.0, 0.9, 0.5) == enclosed_emissivity(0.9, 0.0, 0.5) == 0.0
