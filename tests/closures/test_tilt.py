"""Liquid in vessels that stand askew: closed forms against numerical integration and hand geometry."""

import math
from itertools import pairwise

import pytest
from scipy.integrate import quad

from burnsim.closures.tilt import tilted_annulus_volume, tilted_disc_volume

DEGREE = math.pi / 180.0


def summed(radius: float, level: float, slope: float, height: float) -> float:
    """The same volume as a sum of chords, by quadrature with breaks where the plane meets floor and roof."""

    def chord(x: float) -> float:
        return min(max(level + slope * x, 0.0), height) * 2.0 * math.sqrt(max(radius**2 - x**2, 0.0))

    breaks = sorted(x for x in (-level / slope, (height - level) / slope) if abs(x) < radius) if slope else []
    edges = [-radius, *breaks, radius]
    return sum(quad(chord, a, b, epsabs=1e-15, epsrel=1e-10)[0] for a, b in pairwise(edges))


@pytest.mark.parametrize("degrees", [0.0, 0.5, 5.0, 15.0, 30.0, 44.0])
@pytest.mark.parametrize("level", [-20e-3, -3e-3, 0.0, 2e-3, 17e-3, 38.5e-3, 44e-3, 50e-3])
def test_a_disc_equals_numerical_integration(level, degrees):
    """To a hundredth of a millilitre in a cup of 62 mm by 45 mm."""
    slope = math.tan(degrees * DEGREE)
    ours = tilted_disc_volume(30.9e-3, level, slope, 45e-3)
    assert ours == pytest.approx(summed(30.9e-3, level, slope, 45e-3), abs=1e-11)


@pytest.mark.parametrize("degrees", [0.0, 5.0, 20.0])
def test_an_annulus_equals_numerical_integration(degrees):
    slope = math.tan(degrees * DEGREE)
    ours = tilted_annulus_volume(30.9e-3, 26.4e-3, 6e-3, slope, 45e-3)
    both = summed(30.9e-3, 6e-3, slope, 45e-3) - summed(26.4e-3, 6e-3, slope, 45e-3)
    assert ours == pytest.approx(both, abs=1e-11)


def test_the_hoof_of_archimedes():
    """A plane through a diameter of the floor, rising to h over the rim: 2/3 R^2 h (Archimedes, The Method, 11)."""
    assert tilted_disc_volume(0.03, 0.0, 0.5, 1.0) == pytest.approx(2.0 / 3.0 * 0.03**2 * 0.015, rel=1e-12)


def test_an_uncut_surface_holds_what_the_upright_vessel_holds():
    for degrees in (0.0, 3.0, 10.0):
        volume = tilted_disc_volume(0.03, 0.02, math.tan(degrees * DEGREE), 0.045)
        assert volume == pytest.approx(math.pi * 0.03**2 * 0.02, rel=1e-12)


def test_a_full_vessel_is_full_at_any_tilt():
    whole = math.pi * 0.03**2 * 0.045
    assert tilted_disc_volume(0.03, 0.2, 0.3, 0.045) == pytest.approx(whole, rel=1e-12)
    assert tilted_disc_volume(0.03, -0.2, 0.3, 0.045) == 0.0


def test_what_is_missing_below_the_roof_is_what_a_wedge_holds():
    """The vessel turned upside down: empty room and liquid change places."""
    slope, height = 0.4, 0.045
    whole = math.pi * 0.03**2 * height
    for level in (-0.008, 0.004, 0.040, 0.050):
        liquid = tilted_disc_volume(0.03, level, slope, height)
        assert whole - liquid == pytest.approx(tilted_disc_volume(0.03, height - level, slope, height), abs=1e-15)
