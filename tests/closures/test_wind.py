"""Wind across small flames."""

import math

import numpy as np
import pytest

from burnsim.closures.wind import (
    blow_out_wind,
    lee_share,
    screen_draught,
    share_outside,
    wind_behind_screen,
    wind_drift,
    wind_through_openings,
)


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


def test_eddies_in_a_slot_weaken_by_moffatts_law() -> None:
    """exp(-p z/a) between walls 2 a apart, p the complex root of sin 2p + 2p = 0 (H. K. Moffatt 1964)."""
    root = complex(4.2, 2.2)
    for _ in range(50):
        root -= (np.sin(root) + root) / (np.cos(root) + 1.0)
    decay = root.real  # 2 p a/a over a width of 2 a
    shallow, deep = wind_behind_screen(0.01, 0.02, 0.0), wind_behind_screen(0.02, 0.02, 0.0)
    assert math.log(shallow / deep) / 0.5 == pytest.approx(decay, rel=1e-3)


def test_a_screen_shelters_the_more_the_higher_and_the_closer_it_stands() -> None:
    assert wind_behind_screen(-0.02, 0.02, 0.1) == wind_behind_screen(0.0, 0.02, 0.1) == 1.0
    shares = [wind_behind_screen(depth, 0.02, 0.1) for depth in (0.0, 0.005, 0.02, 0.1)]
    assert shares == sorted(shares, reverse=True)
    assert shares[-1] == pytest.approx(0.1, abs=1e-6)
    assert wind_behind_screen(0.02, 0.05, 0.0) > wind_behind_screen(0.02, 0.01, 0.0)


def test_wind_passes_openings_in_proportion_and_never_grows() -> None:
    assert wind_through_openings(0.0) == 0.0
    assert wind_through_openings(0.2) == pytest.approx(2.0 * wind_through_openings(0.1))
    assert wind_through_openings(1.0) <= 1.0


def test_draught_is_that_of_a_chimney() -> None:
    """One opening far larger than the other: Cd A sqrt(2 rho (rho - rho_g) g H); friction alone: Poiseuille."""
    hot = 1.2 * 293.15 / 900.0
    free = 0.7 * 1e-3 * math.sqrt(2.0 * 1.2 * (1.2 - hot) * 9.80665 * 0.1)
    assert screen_draught(1e-3, 10.0, 0.1, 0.0, 1.2, 900.0, 293.15) == pytest.approx(free, rel=1e-4)
    slow = screen_draught(1.0, 1.0, 0.1, 1e6, 1.2, 900.0, 293.15)
    assert slow * 1e6 == pytest.approx((1.2 - hot) * 9.80665 * 0.1, rel=1e-6)
    assert screen_draught(0.0, 1.0, 0.1, 0.0, 1.2, 900.0, 293.15) == 0.0
    assert screen_draught(1e-3, 1.0, 0.1, 0.0, 1.2, 293.15, 293.15) == 0.0


def test_a_wind_drives_gas_through_a_screen_without_any_draught() -> None:
    """Bernoulli through one narrow opening; the draught of hot gas adds to its pressure."""
    free = 0.7 * 1e-3 * (2.0 * 1.2 * 0.5) ** 0.5
    assert screen_draught(1e-3, 10.0, 0.0, 0.0, 1.2, 900.0, 293.15, 0.5) == pytest.approx(free, rel=1e-4)
    draught = 9.80665 * 0.1 * 1.2 * (1.0 - 293.15 / 900.0)
    both = screen_draught(1e-3, 10.0, 0.1, 0.0, 1.2, 900.0, 293.15, draught)
    assert both == pytest.approx(2.0**0.5 * screen_draught(1e-3, 10.0, 0.1, 0.0, 1.2, 900.0, 293.15))
