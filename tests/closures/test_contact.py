"""Joints against tabulated conductances."""

import math

import numpy as np
import pytest

from burnsim.closures.contact import (
    AIR_JUMP_DISTANCE,
    gap_conductance,
    joint_conductance,
    jump_distance,
    sheet_conductance,
    spot_conductance,
    spot_radius,
)


@pytest.mark.parametrize(
    ("conductivity", "jump", "resistance"),
    [
        (0.0263, 0.37e-6, 2.75e-4),  # air
        (0.152, 2.05e-6, 1.05e-4),  # helium
        (0.13, 0.0, 0.525e-4),  # silicone oil
        (0.286, 0.0, 0.265e-4),  # glycerine
    ],
)
def test_aluminium_joint_with_several_fluids(conductivity, jump, resistance):
    """Aluminium, 10 micrometres rough, 10^5 Pa: within a factor 2.

    Resistances: Incropera & DeWitt table 3.1 (from memory, unverified).
    The jump distances of the gases are Yovanovich's (from memory, unverified).
    """
    assert math.log(gap_conductance(10e-6, conductivity, jump) * resistance) == pytest.approx(0.0, abs=math.log(2.0))


def test_jump_distance_by_kinetic_theory():
    """Both walls: 2 (2 - a)/a 2 g/(g + 1)/Pr mean free path, a = 0.87 for air on machined metal.

    67 nm: within 40 %.
    """
    theory = 2.0 * (2.0 - 0.87) / 0.87 * (2.0 * 1.4 / 2.4) / 0.707 * 67e-9
    assert jump_distance(300.0, 101325.0) == pytest.approx(theory, rel=0.40)
    assert jump_distance(300.0, 101325.0) == AIR_JUMP_DISTANCE


def test_jump_distance_follows_the_mean_free_path():
    assert jump_distance(600.0, 50662.5) == pytest.approx(4.0 * AIR_JUMP_DISTANCE)


def test_closed_gap_stays_finite():
    assert gap_conductance(0.0, 0.03) == pytest.approx(0.03 / AIR_JUMP_DISTANCE)
    assert gap_conductance(-1.0, 0.03) == gap_conductance(0.0, 0.03)


def test_spot_between_unlike_metals_is_two_half_spaces_in_series():
    a, k1, k2 = 0.1e-3, 200.0, 16.0
    resistance = 1.0 / (4.0 * k1 * a) + 1.0 / (4.0 * k2 * a)
    assert spot_conductance(a, k1, k2) == pytest.approx(1.0 / resistance)


def test_spot_carries_its_load_at_the_hardness():
    a = spot_radius(2.3, 0.5e9)
    assert math.pi * a * a * 0.5e9 == pytest.approx(2.3)
    assert spot_radius(2.3 / 16.0, 0.5e9) == pytest.approx(a / 4.0)


def test_what_is_less_than_nothing_carries_nothing():
    assert spot_radius(-1.0, 0.5e9) == 0.0
    assert spot_conductance(-1e-3, 200.0, 200.0) == 0.0
    assert joint_conductance(-2e-4, 50e-6, 0.04, 0.0, 0.01) == 0.0
    assert joint_conductance(0.0, 50e-6, 0.04, -3.0, 0.01) == 0.0


def test_joint_is_layer_and_spots_side_by_side():
    joint = joint_conductance(2e-4, 50e-6, 0.04, 2.5, 0.02)
    assert joint == pytest.approx(2e-4 * gap_conductance(50e-6, 0.04) + 2.5 * 0.02)


def test_heat_converges_on_a_small_spot_of_a_sheet_as_images_say():
    """A point sink on one face and its images in both: far off the sheet is two-dimensional, at the spot it is not."""
    thickness, reach, conductivity = 0.1e-3, 20e-3, 200.0
    n = np.arange(1, 4_000_001)
    near = np.sum(1.0 / n) / thickness  # the images seen from the spot
    far = 1.0 / reach + np.sum(2.0 / np.hypot(reach, 2.0 * n * thickness))
    resistance = (near - far) / (2.0 * math.pi * conductivity)
    ours = 1.0 / sheet_conductance(1e-9, thickness, reach, conductivity)
    assert ours == pytest.approx(resistance, rel=0.01)


def test_a_sheet_conducts_to_a_wide_spot_as_a_disc_does():
    disc = 2.0 * math.pi * 200.0 * 0.1e-3 / math.log(20e-3 / 3e-3)
    assert sheet_conductance(3e-3, 0.1e-3, 17e-3, 200.0) == pytest.approx(disc, rel=0.06)


def test_bumps_cut_the_contact():
    ring = joint_conductance(2e-4, 50e-6, 0.04, 3.0, 0.01)
    bumps = joint_conductance(2e-4, 1e-3, 0.04, 3.0, 0.01)
    assert bumps < 0.5 * ring
