"""A dry wall as a fin, against the `ht` library's formulae and the fin equation solved numerically."""

import math

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import brentq

from burnsim.closures.exchange import edge_shape_factor, fin_uptake


@pytest.mark.parametrize("reach", [1e-3, 0.2, 1.0, 3.0, 20.0])
def test_whole_fin_has_the_efficiency_of_a_straight_fin(reach: float) -> None:
    """tanh(m L)/(m L): Incropera and DeWitt, table 3.4 (from memory)."""
    assert fin_uptake(0.0, 0.05, 0.05, reach / 0.05) == pytest.approx(math.tanh(reach) / reach, rel=1e-6)


def test_a_stretch_against_the_fin_equation() -> None:
    """Heat falls on the middle third alone: what reaches the foot, by finite differences.

    The wall still loses to gas as warm as its foot elsewhere, so what arrives is the share of h (T_gas - T_foot).
    """
    length, decay, count = 0.06, 40.0, 3000
    z = (np.arange(count) + 0.5) * length / count
    step = length / count
    low, high = length / 3.0, 2.0 * length / 3.0
    heated = ((z > low) & (z < high)).astype(float)
    matrix = np.zeros((3, count))
    matrix[1] = 2.0 + (decay * step) ** 2
    matrix[0, 1:] = matrix[2, :-1] = -1.0
    matrix[1, 0] += 1.0  # the foot, half a step away
    matrix[1, -1] -= 1.0  # the free edge
    from scipy.linalg import solve_banded

    theta = solve_banded((1, 1), matrix, heated * (decay * step) ** 2)
    arrives = 2.0 * theta[0] / step / (decay**2 * (high - low))
    assert fin_uptake(low, high, length, decay) == pytest.approx(arrives, rel=1e-3)


def test_limits_of_a_fin() -> None:
    assert fin_uptake(0.0, 0.05, 0.05, 0.0) == 1.0
    assert fin_uptake(0.0, 0.05, 0.05, 1e9) == pytest.approx(1.0 / (1e9 * 0.05))
    parts = fin_uptake(0.0, 0.02, 0.05, 30.0) * 0.02 + fin_uptake(0.02, 0.05, 0.05, 30.0) * 0.03
    assert parts == pytest.approx(0.05 * fin_uptake(0.0, 0.05, 0.05, 30.0))
    assert fin_uptake(0.02, 0.02, 0.05, 30.0) == pytest.approx(math.cosh(0.9) / math.cosh(1.5))


def test_the_flux_under_and_beyond_an_edge_integrates_to_its_shape_factor():
    """The field of Maxwell's map, differenced: its gradient along the wall integrates to the shape factor."""
    distance = 1.2e-3

    def flux(x: float) -> float:
        def off(phi: float) -> float:
            return distance / math.pi * (1.0 + phi + math.exp(phi)) - x

        phi = brentq(off, -200.0, 20.0)
        return 1.0 / (distance * (1.0 + math.exp(phi)))

    for reach in (0.4e-3, 2e-3, 9e-3):
        assert edge_shape_factor(reach, distance) == pytest.approx(quad(flux, 0.0, reach)[0], rel=1e-7)
    assert flux(-20.0 * distance) == pytest.approx(1.0 / distance, rel=1e-6)  # far inside, a plane layer
