"""A dry wall as a fin, against the `ht` library's formulae and the fin equation solved numerically."""

import math

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import brentq
from scipy.sparse import csc_matrix, diags
from scipy.sparse.linalg import factorized

from burnsim.closures.exchange import edge_shape_factor, fin_uptake, ground_coefficient, ring_path, strip_shape_factor


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


@pytest.mark.parametrize("gap", [2e-3, 10e-3])
def test_a_strips_hot_end_heats_its_sides_as_the_series_of_its_field_does(gap):
    """Fourier's series of the semi-infinite strip, its gradient at a side integrated term by term."""

    def beyond(x: float) -> float:
        odd = np.arange(1, 4001, 2)
        return float(np.sum(4.0 / (math.pi * odd) * np.exp(-odd * math.pi * x / gap)))

    for near, far in ((0.2e-3, 1e-3), (1e-3, 4e-3), (1.2e-3, 31e-3)):
        assert strip_shape_factor(gap, near, far) == pytest.approx(beyond(near) - beyond(far), rel=1e-6)


def test_limits_of_a_strip() -> None:
    """Far from the other plate heat flows along circles; a plate that ends at the stand-off gets none."""
    assert strip_shape_factor(2.0, 1e-3, 30e-3) == pytest.approx(2.0 / math.pi * math.log(30.0), rel=1e-3)
    assert strip_shape_factor(10e-3, 1e-3, 1e-3) == strip_shape_factor(10e-3, 2e-3, 1e-3) == 0.0
    assert strip_shape_factor(0.1e-3, 1.2e-3, 30e-3) < 1e-12


@pytest.mark.parametrize("duration", [60.0, 600.0, 6000.0])
def test_the_ground_under_a_warm_disc_takes_what_a_solved_half_space_does(duration):
    """Cells in radius and depth that grow away from the disc's edge; wood. Within a tenth."""
    radius, conductivity, diffusivity = 0.031, 0.15, 1.5e-7
    inside = radius * (1.0 - np.geomspace(1.0, 1e-2, 25))
    outside = radius * (1.0 + np.geomspace(1e-2, 12.0, 40))
    edges = np.concatenate((inside, [radius], outside))
    depths = np.concatenate(([0.0], radius * np.geomspace(1e-2, 12.0, 45)))
    r, z = 0.5 * (edges[1:] + edges[:-1]), 0.5 * (depths[1:] + depths[:-1])
    area = math.pi * np.diff(edges**2)
    thick = np.diff(depths)
    n, m = len(r), len(z)
    number = np.arange(n * m).reshape(n, m)
    capacity = (conductivity / diffusivity * area[:, None] * thick[None, :]).ravel()
    across = conductivity * 2.0 * math.pi * edges[1:-1, None] * thick[None, :] / np.diff(r)[:, None]
    down = conductivity * area[:, None] / np.diff(z)[None, :]
    top = np.where(r < radius, conductivity * area / z[0], 0.0)
    pairs = [(number[:-1].ravel(), number[1:].ravel(), across.ravel())]
    pairs.append((number[:, :-1].ravel(), number[:, 1:].ravel(), down.ravel()))
    matrix = sum(
        (
            csc_matrix(
                (np.tile(g, 4) * np.repeat([-1, -1, 1, 1], len(g)), (np.r_[a, b, a, b], np.r_[a, b, b, a])),
                (n * m, n * m),
            )
        )
        for a, b, g in pairs
    )
    sink = np.zeros(n * m)
    sink[number[:, 0]] = top
    steps = 400
    step = duration / steps
    solve = factorized(diags(capacity / step + sink, format="csc") - matrix)
    warm = np.zeros(n * m)
    taken = 0.0
    for _ in range(steps):
        warm = solve(capacity / step * warm + sink)
        taken += step * float((top * (1.0 - warm[number[:, 0]])).sum())
    solved = taken / (duration * math.pi * radius**2)
    assert ground_coefficient(radius, conductivity, diffusivity, duration) == pytest.approx(solved, rel=0.1), solved


@pytest.mark.parametrize(("circle", "edge"), [(25e-3, 35e-3), (31e-3, 26.4e-3), (5e-3, 90e-3)])
def test_a_ring_of_sheet_resists_as_its_circles_in_series(circle: float, edge: float) -> None:
    """Fourier's law round each circle, dr/(2 pi r k t), summed."""
    whole, _ = quad(lambda r: 1.0 / (2.0 * math.pi * r), *sorted((circle, edge)))
    assert ring_path(circle, edge) / (2.0 * math.pi * edge) == pytest.approx(whole, rel=1e-9)


def test_a_ring_of_no_width_is_no_way_and_a_narrow_one_is_straight() -> None:
    assert ring_path(0.03, 0.03) == 0.0
    assert ring_path(0.0299, 0.03) == pytest.approx(1e-4, rel=2e-3) == ring_path(0.0301, 0.03)
