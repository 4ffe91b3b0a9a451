"""Fins against numerical solutions of their equations."""

import math

import numpy as np
import pytest
from scipy.integrate import solve_bvp, solve_ivp

from burnsim.closures.conduction import boiling_fin_heat, fin_conductance, strip_conductance

K, T, P = 200.0, 1e-4, 0.2


@pytest.mark.parametrize("length", [0.002, 0.01, 0.05])
def test_fin_by_numerical_solution(length):
    """k t theta'' = h theta, theta(0) = 1, theta'(L) = 0, solved by SciPy."""
    h = 60.0
    x = np.linspace(0.0, length, 50)
    solution = solve_bvp(
        lambda _, y: np.vstack([y[1], h / (K * T) * y[0]]),
        lambda a, b: np.array([a[0] - 1.0, b[1]]),
        x,
        np.vstack([np.ones_like(x), np.zeros_like(x)]),
        tol=1e-8,
    )
    assert fin_conductance(K, T, P, h, length) == pytest.approx(-K * T * P * solution.y[1, 0], rel=1e-6)


def test_fin_limits():
    assert fin_conductance(K, 0.0, P, 60.0, 0.01) == 0.0
    assert fin_conductance(K, T, P, 0.0, 0.01) == 0.0
    assert fin_conductance(K, T, P, 1e-3, 0.01) == pytest.approx(1e-3 * P * 0.01, rel=1e-4)
    assert fin_conductance(K, T, P, 60.0, 10.0) == pytest.approx(P * math.sqrt(60.0 * K * T))


def test_fin_by_library():
    """Efficiency of an annular fin of very large radius by the `ht` library, that is a straight fin."""
    from ht import fin_efficiency_Kern_Kraus

    h, length, radius = 60.0, 0.01, 5.0
    efficiency = fin_efficiency_Kern_Kraus(2.0 * radius, 2.0 * (radius + length), 2.0 * T, K, h)
    assert fin_conductance(K, T, P, h, length) == pytest.approx(efficiency * h * P * length, rel=2e-3)


def test_strip_is_fourier():
    assert strip_conductance(K, T, P, 0.02) == pytest.approx(K * T * P / 0.02)
    assert strip_conductance(K, 0.0, P, 0.02) == 0.0
    assert math.isfinite(strip_conductance(K, T, P, 0.0))


@pytest.mark.parametrize("root", [1.0, 5.0, 15.0])
def test_boiling_fin_by_numerical_solution(root):
    """k t theta'' = C theta^m started from the root with the closure's gradient must die out and never turn.

    On the exact decay theta'/theta^((m + 1)/2) is constant; for m > 1 theta falls as a power of depth.
    """
    m, c = 1.0 / 0.33, 3.6 ** (1.0 / 0.33)
    heat = boiling_fin_heat(K, T, P, c, m, root)
    gradient = -heat / (K * T * P)
    path = solve_ivp(
        lambda _, y: [y[1], c * max(y[0], 0.0) ** m / (K * T)],
        (0.0, 0.01),
        [root, gradient],
        rtol=1e-11,
        atol=1e-13,
    )
    rate = -gradient / root ** ((m + 1.0) / 2.0)
    power = (m - 1.0) / 2.0
    expected = (root**-power + power * rate * 0.01) ** (-1.0 / power)
    assert path.y[0, -1] == pytest.approx(expected, rel=1e-4)


def test_boiling_fin_without_superheat_carries_nothing():
    assert boiling_fin_heat(K, T, P, 50.0, 3.0, 0.0) == 0.0
    assert boiling_fin_heat(K, T, P, 50.0, 3.0, -4.0) == 0.0
    assert boiling_fin_heat(K, 0.0, P, 50.0, 3.0, 4.0) == 0.0


def test_boiling_fin_with_a_linear_film_is_the_long_fin():
    assert boiling_fin_heat(K, T, P, 60.0, 1.0, 7.0) == pytest.approx(7.0 * fin_conductance(K, T, P, 60.0, 10.0))
