"""Flames: published lengths, limits of the bending, the width by numerical diffusion, mixing of limits."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from burnsim.closures.flame import (
    flame_width,
    heated_burning_velocity,
    jet_flame_reach,
    lift_off_velocity,
    mixed_velocity,
    pool_flame_height,
    quench_power,
    quenching_diameter,
    quenching_distance,
    reduced_gravity,
    roper_length,
    row_quench_power,
    wall_flame_height,
    warm_quench_power,
)
from burnsim.closures.flammability import limit_sum


def test_roper_experimental_constant():
    """The theory with 1500 K and 2.0e-5 m2/s gives the measured L = 1330 Q (T_a/T_fuel)/ln(1 + 1/S).

    Roper, Smith & Cunningham 1977, round port, SI, as Turns quotes it (from memory, unverified).
    """
    q, s = 2e-6, 7.14
    published = 1330.0 * q * (293.15 / 340.0) / math.log(1.0 + 1.0 / s)
    assert roper_length(q, s, 340.0, 293.15) == pytest.approx(published, rel=0.01)


def test_roper_square_port_is_nearly_round():
    """Square port: L = 1045 Q (T_a/T_fuel)/inverf((1 + S)^-0.5)^2 (Turns, from memory, unverified)."""
    from scipy.special import erfinv

    for s in (7.14, 14.3, 23.8):
        square = 1045.0 * 1e-6 / erfinv((1.0 + s) ** -0.5) ** 2
        assert roper_length(1e-6, s, 293.15, 293.15) == pytest.approx(square, rel=0.03)


def test_roper_length_depends_on_moles_not_on_fuel_temperature():
    assert roper_length(2e-6, 7.14, 600.0, 293.0) == pytest.approx(roper_length(1e-6, 7.14, 300.0, 293.0))


def test_reduced_gravity_of_cold_gas_is_zero():
    assert reduced_gravity(280.0, 293.0) == 0.0


def test_mixed_velocity_is_the_mean_along_the_flame():
    from scipy.integrate import quad

    s, u = 6.47, 1.3
    mean, _ = quad(lambda x: u / (1.0 + s * x), 0.0, 1.0)
    assert mixed_velocity(u, s) == pytest.approx(mean)


@settings(deadline=None, derandomize=True, database=None)
@given(length=st.floats(1e-4, 0.2), u=st.floats(0.0, 30.0), g=st.floats(1.0, 60.0))
def test_tip_lies_on_the_parabola_at_the_flame_length(length, u, g):
    reach, rise = jet_flame_reach(length, u, g)
    assert math.hypot(reach, rise) == pytest.approx(length, rel=1e-9)
    if u > 1e-3:
        time = reach / u
        assert rise == pytest.approx(0.5 * g * time * time, rel=1e-9)


def test_fast_jet_goes_straight_and_slow_jet_goes_up():
    assert jet_flame_reach(0.01, 30.0, 40.0)[0] == pytest.approx(0.01, rel=1e-3)
    assert jet_flame_reach(0.01, 0.01, 40.0)[1] == pytest.approx(0.01, rel=1e-3)
    assert jet_flame_reach(0.01, 1.0, 0.0) == pytest.approx((0.01, 0.0))
    assert jet_flame_reach(0.0, 0.0, 0.0) == (0.0, 0.0)


def test_width_is_that_of_the_stoichiometric_contour():
    """The widest place of that contour, searched numerically.

    The mixture fraction of a point source in a uniform stream is Q/(4 pi D x) exp(-U r^2/(4 D x)).
    """
    q, s, u, diffusivity = 1e-6, 7.14, 1.0, 2e-4
    stoichiometric = 1.0 / (1.0 + s)
    widest = 0.0
    for k in range(1, 4000):
        x = 1e-4 * k
        axis = q / (4.0 * math.pi * diffusivity * x)
        if axis > stoichiometric:
            widest = max(widest, math.sqrt(4.0 * diffusivity * x / u * math.log(axis / stoichiometric)))
    assert flame_width(q, s, 1500.0, 1500.0, u, 0.0, 0.0) == pytest.approx(2.0 * widest, rel=1e-3)


def test_without_buoyancy_or_length_only_momentum_thins_the_flame():
    """Speed won by buoyancy is sqrt(2 g' L)/e: none if either is nought, and a quarter of it for L/16."""
    plain = flame_width(1.5e-6, 9.52, 293.0, 1500.0, 0.1, 0.0, 0.0)
    assert flame_width(1.5e-6, 9.52, 293.0, 1500.0, 0.1, 0.05, 0.0) == pytest.approx(plain, rel=1e-14)
    assert flame_width(1.5e-6, 9.52, 293.0, 1500.0, 0.1, 0.0, 40.0) == pytest.approx(plain, rel=1e-14)
    tall, short = (flame_width(1.5e-6, 9.52, 293.0, 1500.0, 0.0, length, 40.0) for length in (0.32, 0.02))
    assert short / tall == pytest.approx(2.0, rel=1e-12)


def test_buoyant_width_by_free_fall():
    """From rest at g' a flame of length L is passed in sqrt(2 L/g'); at 1/e of that the speed is g' times the time."""
    for s in (0.0, 0.4, 9.52):  # hydrogen needs 2.4, lean gas less
        speed = 40.0 * math.sqrt(2.0 * 0.05 / 40.0) / math.e
        radius_squared = 1.5e-6 * 1500.0 / 293.0 / (math.pi * speed)
        by_hand = 2.0 * math.sqrt(radius_squared * (1.0 + s) / math.e)
        assert flame_width(1.5e-6, s, 293.0, 1500.0, 0.0, 0.05, 40.0) == pytest.approx(by_hand, rel=1e-12)


def test_width_of_small_flame_is_of_the_order_of_centimetres():
    """A gas flame of some 50 mm is about 10 mm wide (common observation, no source).

    Within a factor of 1.5.
    """
    q = 0.05 / roper_length(1.0, 9.52, 293.0, 293.0)
    g = reduced_gravity(1500.0, 293.0)
    width = flame_width(q, 9.52, 293.0, 1500.0, 0.1, 0.05, g)
    assert math.log(width / 0.010) == pytest.approx(0.0, abs=math.log(1.5))


def test_wall_flame_is_half_of_a_free_line_fire():
    """A wall is a mirror: its flame is as high as a free line fire of twice the heat, within 8 %.

    Line fires: 0.034 Q'^(2/3), Q' in kW/m (Quintiere & Grove 1998, from memory, unverified).
    """
    for kilowatts in (2.0, 10.0, 50.0):
        free = 0.034 * (2.0 * kilowatts) ** (2.0 / 3.0)
        assert wall_flame_height(1e3 * kilowatts) == pytest.approx(free, rel=0.08)
    assert wall_flame_height(-1.0) == 0.0


def test_lift_off_of_methane_from_a_small_nozzle():
    """Methane lifts off millimetre nozzles at some 10 m/s or more (common practice, no source).

    Within a factor of 2.
    """
    assert 5.0 < lift_off_velocity(1.5e-3, 0.38, 2.2e-5) < 20.0


@pytest.mark.parametrize(("burning_velocity", "between_plates"), [(0.38, 2.3e-3), (0.45, 1.8e-3), (0.44, 1.8e-3)])
def test_quenching_diameter_by_the_distance_between_plates(burning_velocity, between_plates):
    """Stoichiometric methane, methanol, propane: 2.0 to 2.5, 1.8, 1.8 mm between plates, within 25 %.

    A tube takes 1/0.65 of that (Lewis & von Elbe, from memory, unverified).
    """
    tube = quenching_diameter(burning_velocity, 2.2e-5)
    assert tube == pytest.approx(between_plates / 0.65, rel=0.25)


def test_a_propane_microflame_goes_out_at_a_tenth_of_a_milligram_a_second():
    """Quenching distance 2 mm, 50 mm at 133 W (Turns), 46.4 MJ/kg; micro-jets: 0.1 to 0.9 mg/s, within a factor 2."""
    flow = 1e6 * quench_power(1e-3, 50e-3 / 133.0) / 46.4e6
    assert 0.05 < flow < 1.8


def test_warm_metal_holds_smaller_flames():
    """Friedman and Johnston 1950: quenching distance of propane falls as T^-0.5 from 300 to 560 K (from memory)."""
    assert warm_quench_power(5.6, 298.15) == pytest.approx(5.6)
    assert warm_quench_power(5.6, 4.0 * 298.15) == pytest.approx(2.8)


def test_burning_velocity_of_warm_methanol():
    """Methanol at 298 K 0.42 m/s; at 358 K measured 0.55 to 0.62 m/s (from memory, unverified)."""
    assert 0.55 < heated_burning_velocity(0.42, 358.0) < 0.62


def test_limits_of_natural_gas():
    """Natural gas of 80 % CH4, 15 % C2H6, 4 % C3H8, 1 % C4H10: lower limit 4.55 %.

    Worked example in Coward & Jones 1952 (from memory, unverified).
    """
    fuel = (0.80, 0.15, 0.04, 0.01)
    limits = (0.053, 0.0322, 0.0237, 0.0186)
    at_limit = tuple(0.0455 * share for share in fuel)
    assert limit_sum(at_limit, limits) == pytest.approx(1.0, rel=0.002)


def test_water_vapour_does_not_count_towards_the_limit():
    assert limit_sum((0.03, 0.5), (0.06, 1e9)) == pytest.approx(0.5)


def test_what_flows_backwards_burns_nothing() -> None:
    assert roper_length(-1e-6, 14.0, 350.0, 293.15, 1500.0) == 0.0
    assert quenching_distance(0.42, -2e-5) == 0.0


def test_roper_length_does_not_depend_on_the_room():
    """Roper's exponents cancel: T_a for the flow, -1.67 for the diffusivity, 0.67 for the flame's expansion."""
    warm, cold = (roper_length(1e-6, 7.14, 340.0, room) for room in (320.0, 250.0))
    assert warm == pytest.approx(cold, rel=1e-9)


def test_pool_flame_height_is_heskestads():
    """0.235 Q^0.4 - 1.02 D with Q in kW: 100 kW on 0.5 m, 10^0.8 = 6.3096; Heskestad 1983 (from memory)."""
    assert pool_flame_height(1e5, 0.5) == pytest.approx(0.235 * 6.30957 - 0.51, rel=1e-5)
    for weak in (-1.0, 0.0, 1.0):  # such a flame domes over its pool
        assert pool_flame_height(weak, 0.06) == pytest.approx(0.03)


def test_flames_that_fill_a_row_hold_by_its_length() -> None:
    """Twice the holes along it, half the power of each; flames apart know nothing of each other."""
    assert row_quench_power(2.8, 0.2, 0.5) == pytest.approx(2.8, rel=1e-5)
    assert row_quench_power(2.8, 6.0, 0.5) / row_quench_power(2.8, 3.0, 0.5) == pytest.approx(0.5, rel=0.01)
    assert row_quench_power(2.8, 6.0, 0.5) == pytest.approx(0.5 / 6.0, rel=1e-3)
