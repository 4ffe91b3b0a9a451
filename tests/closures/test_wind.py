"""Wind across small flames."""

import math

import numpy as np
import pytest

from burnsim.closures.wind import blow_out_wind, blown_sheet_entrainment, lee_share, share_outside, wind_drift
from burnsim.substances import air


def test_blown_sheet_carries_the_heat_that_diffuses_out_of_it() -> None:
    """Against the heat equation solved by finite differences: dT/dt = a d2T/dy2 beside a wall of even temperature."""
    wind, way, hot, cold = 1.5, 0.06, 1500.0, 293.15
    film = 0.5 * (hot + cold)
    alpha, density = air.thermal_diffusivity(film, 101325.0), air.density(film, 101325.0)
    cell, count = 4e-5, 800
    step = 0.2 * cell * cell / alpha
    theta = np.zeros(count)
    theta[0] = 1.0
    for _ in range(round(way / wind / step)):
        theta[1:-1] += 0.2 * (theta[2:] - 2.0 * theta[1:-1] + theta[:-2])
    carried = density * wind * cell * (theta.sum() - 0.5)
    assert blown_sheet_entrainment(wind, way, hot, cold, 101325.0) == pytest.approx(carried, rel=0.01)


def test_no_wind_blows_nothing_in_and_nothing_aside() -> None:
    assert blown_sheet_entrainment(0.0, 0.05, 1500.0, 293.15, 101325.0) == 0.0
    assert wind_drift(0.0, 0.03, 40.0) == 0.0
    assert share_outside(0.03, 0.07, 0.0) == 0.0


def test_drift_leans_less_than_whole_flames_of_pools() -> None:
    """Welker and Sliepcevich 1966: sin/cos^2 = 3.3 Re^0.07 Fr^0.8 (rho_v/rho)^-0.6 (from memory, unverified), 6 cm."""
    for wind in (0.25, 0.5, 1.0):
        lean = 3.3 * (0.06 * wind / 1.5e-5) ** 0.07 * (wind * wind / (0.06 * 9.81)) ** 0.8
        whole = math.asin((math.sqrt(1.0 + 4.0 * lean * lean) - 1.0) / (2.0 * lean))
        near = math.atan(wind_drift(wind, 0.03, 40.0) / 0.03)
        assert 0.3 * whole < near < whole


@pytest.mark.parametrize("shift", [0.02, 0.045, 0.07, 0.095])
def test_share_outside_by_counting(shift: float) -> None:
    angles = (np.arange(200_000) + 0.5) / 200_000 * 2.0 * math.pi
    outside = np.hypot(shift + 0.03 * np.cos(angles), 0.03 * np.sin(angles)) > 0.07
    assert share_outside(0.03, 0.07, shift) == pytest.approx(outside.mean(), abs=1e-4)


def test_ring_wider_than_the_disc_misses_it_even_in_calm() -> None:
    assert share_outside(0.08, 0.07, 0.0) == 1.0


def test_small_methanol_pools_stand_three_metres_a_second() -> None:
    """Pools of 5 cm were burnt in 0 to 3 m/s (Hu et al. 2009, from memory)."""
    assert 3.0 < blow_out_wind(0.05) < 10.0


def test_gas_leaves_all_round_in_calm_and_on_the_lee_half_in_a_gale() -> None:
    assert lee_share(0.4, 0.0) == 1.0
    assert lee_share(0.4, 0.4) == 1.0
    assert lee_share(0.4, 40.0) == pytest.approx(0.5, abs=0.01)
    shares = [lee_share(0.4, wind) for wind in (0.5, 1.0, 2.0, 4.0)]
    assert shares == sorted(shares, reverse=True)


def test_a_sheet_no_hotter_than_the_air_mixes_as_the_air_does() -> None:
    """Properties at the ambient temperature, as if it had just gone out; and a burner of no width stands no wind."""
    same = blown_sheet_entrainment(1.0, 0.05, 293.15, 293.15, 101325.0)
    assert blown_sheet_entrainment(1.0, 0.05, 250.0, 293.15, 101325.0) == same
    assert blow_out_wind(-0.05) == 0.0
