"""The stream along a heated wall against the exact solution of its layer."""

import numpy as np
import pytest
from scipy.integrate import solve_bvp

from burnsim.closures.filling import wall_stream

GRAVITY = 9.80665


def exact_stream(height: float, push: float, viscosity: float, prandtl: float) -> float:
    """Sparrow and Gregg (1956): the layer beside a wall of even heat flux, solved."""
    far = 14.0 + 1.5 * prandtl**0.5
    eta = np.concatenate([np.linspace(0.0, 4.0, 300), np.linspace(4.0, far, 200)[1:]])

    def slopes(_: np.ndarray, y: np.ndarray) -> np.ndarray:
        f, df, ddf, theta, dtheta = y
        return np.array(
            [df, ddf, 3.0 * df**2 - 4.0 * f * ddf - theta, dtheta, prandtl * (theta * df - 4.0 * f * dtheta)]
        )

    def ends(wall: np.ndarray, room: np.ndarray) -> np.ndarray:
        return np.array([wall[0], wall[1], wall[4] + 1.0, room[1], room[3]])

    guess = np.array(
        [0.2 * (1.0 - np.exp(-eta)), 0.3 * eta * np.exp(-eta), 0.0 * eta, 1.3 * np.exp(-eta), -np.exp(-eta)]
    )
    found = solve_bvp(slopes, ends, eta, guess, tol=1e-6, max_nodes=50_000)
    assert found.success
    grashof = push * height**4 / viscosity**2
    return float(5.0 * viscosity * (grashof / 5.0) ** 0.2 * found.y[0][-1])


@pytest.mark.parametrize("prandtl", [2.0, 5.3, 15.0, 25.0, 80.0])
def test_fits_the_exact_solution(prandtl: float) -> None:
    push = GRAVITY * 1.2e-3 * 30e3 / 0.19
    given = 0.012, push, 5e-7, prandtl
    assert wall_stream(*given) == pytest.approx(exact_stream(*given), rel=0.004)


def test_grows_with_height_and_heat() -> None:
    """To the power 4/5 of the height and 1/5 of the heat: the layer is thicker and quicker further up."""
    one = wall_stream(0.01, 1000.0, 5e-7, 6.0)
    assert wall_stream(0.02, 1000.0, 5e-7, 6.0) == pytest.approx(one * 2.0**0.8)
    assert wall_stream(0.01, 32_000.0, 5e-7, 6.0) == pytest.approx(2.0 * one)
    assert wall_stream(0.01, 0.0, 5e-7, 6.0) == 0.0
