"""Wind across small flames."""

import math

import numpy as np
import pytest

from burnsim.closures.wind import blow_out_wind, lee_share, share_outside, wind_drift


def test_no_wind_blows_nothing_aside() -> None:
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


def test_a_burner_of_no_width_stands_no_wind() -> None:
    assert blow_out_wind(-0.05) == 0.0
