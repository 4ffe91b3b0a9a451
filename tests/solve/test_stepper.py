"""The integrator against the theory of Rosenbrock methods and against SciPy.

Order conditions: E. Hairer, G. Wanner (1996), Solving Ordinary Differential Equations II, 2nd ed., table IV.7.1 (order
4 of Rosenbrock methods), section VI.4 (index 1) and section IV.7 (transformed form, dense output); from memory.
"""

from collections.abc import Callable
from itertools import pairwise
from math import cos, exp, sin

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from burnsim.solve.recorder import Step, keep_step, recorder
from burnsim.solve.stepper import (
    ARRAYS,
    DENSE,
    GAMMA,
    LISTS,
    STAGES,
    A,
    C,
    Memory,
    begin,
    bend,
    factor,
    nudged,
    solve,
    stage,
    workspace,
)

Array = NDArray[np.float64]


def tableau() -> tuple[Array, Array, Array, Array]:
    """Classic coefficients alpha, beta = alpha + gamma, b, and b of the embedded method."""
    a = np.zeros((STAGES, STAGES))
    c = np.zeros((STAGES, STAGES))
    for k in range(STAGES):
        c[k, :k] = C[k]
        if 0 < k < STAGES - 1:
            a[k, :k] = A[k - 1]
    last = STAGES - 1
    a[last] = a[last - 1]
    a[last, last - 1] = 1.0  # the sixth stage starts where the fifth ended
    weights = a[last].copy()
    weights[last] = 1.0
    gamma = np.linalg.inv(np.eye(STAGES) / GAMMA - c)
    alpha = a @ gamma
    return alpha, alpha + gamma, weights @ gamma, a[last] @ gamma


def conditions(alpha: Array, beta: Array, b: Array) -> tuple[list[float], list[float]]:
    """Left sides of the eight conditions up to order 4, and what each must be."""
    along = alpha.sum(axis=1)
    bent = beta.sum(axis=1)
    left = [
        b.sum(),
        b @ bent,
        b @ along**2,
        b @ beta @ bent,
        b @ along**3,
        (b * along) @ alpha @ bent,
        b @ beta @ along**2,
        b @ beta @ beta @ bent,
    ]
    return left, [1.0, 1 / 2, 1 / 3, 1 / 6, 1 / 4, 1 / 8, 1 / 12, 1 / 24]


def test_eight_conditions_of_order_four() -> None:
    alpha, beta, b, _ = tableau()
    left, right = conditions(alpha, beta, b)
    assert left == pytest.approx(right, abs=1e-12)


def test_embedded_method_has_order_three() -> None:
    alpha, beta, _, b = tableau()
    left, right = conditions(alpha, beta, b)
    assert left[:4] == pytest.approx(right[:4], abs=1e-12)
    assert max(abs(x - y) for x, y in zip(left[4:], right[4:], strict=True)) > 1e-4


def test_dense_output_meets_the_conditions_of_order_three_everywhere() -> None:
    alpha, beta, b, _ = tableau()
    gamma = beta - alpha
    curve = np.hstack([DENSE, np.zeros((2, 1))]) @ gamma
    for s in (0.1, 0.37, 0.5, 0.9, 1.0):
        inside = s * (b + (1.0 - s) * (curve[0] + s * curve[1]))
        left, _ = conditions(alpha, beta, inside)
        assert left[:4] == pytest.approx([s, s**2 / 2, s**3 / 3, s**3 / 6], abs=1e-12)


def test_stiffly_accurate_and_stable_on_the_imaginary_axis() -> None:
    _, beta, b, embedded = tableau()
    assert beta[-1] == pytest.approx(b, abs=1e-12)
    assert beta[-2] == pytest.approx(embedded, abs=1e-12)
    assert np.diag(beta) == pytest.approx(np.full(STAGES, GAMMA), abs=1e-12)
    for y in np.logspace(-2, 6, 200):
        z = 1j * y
        inner = np.linalg.solve(np.eye(STAGES) - z * beta, np.ones(STAGES))
        assert abs(1.0 + z * (b @ inner)) <= 1.0 + 1e-12
    far = -1e9
    assert abs(1.0 + far * (b @ np.linalg.solve(np.eye(STAGES) - far * beta, np.ones(STAGES)))) < 1e-6


def test_conditions_of_algebraic_components() -> None:
    alpha, beta, b, _ = tableau()
    omega = np.linalg.inv(beta)
    along = alpha.sum(axis=1)
    assert b @ omega @ along**2 == pytest.approx(1.0, abs=1e-11)
    assert b @ omega @ along**3 == pytest.approx(1.0, abs=1e-11)
    assert (b * along) @ alpha @ omega @ along**2 == pytest.approx(1 / 4, abs=1e-11)


Slope = Callable[[list[float]], list[float]]


def attempt(
    slope: Slope, y: Array, f: Array, jac: Array, h: float, mass: Array, memory: Memory = LISTS
) -> tuple[Array, Array, Array]:
    """One step: the new point, its error estimate and the dense output's coefficients."""
    size, whole = len(mass), len(y)
    at = workspace(size, whole, memory)
    start = y.tolist()
    for i in range(whole):
        at.rates[i] = float(f[i])
        for j in range(size):
            at.jac[j][i] = float(jac[i][j])
    if not begin(h, mass.tolist(), at, size, whole):
        raise ZeroDivisionError("singular")
    for k in range(STAGES):
        stage(k, start, h, mass.tolist(), at, size, whole)
        if k < STAGES - 1:
            for i, rate in enumerate(slope([at.after[i] for i in range(whole)])):
                at.rate[i] = rate
    bend(at.stages, at.curve, whole)
    return np.array(at.after), np.array(at.stages[STAGES - 1]), np.array(at.curve)


def cut(step: Step, when: float) -> Step:
    """The first part of a step, as the recorder keeps it."""
    whole = len(step.before)
    at = workspace(whole, whole, ARRAYS)
    at.curve[0][:], at.curve[1][:] = step.curve  # type: ignore[index]  # arrays
    at.after[:] = step.at(when)  # type: ignore[index]
    kept = recorder(1, 1, whole, (), ARRAYS, keeps=True)
    keep_step(1, step.before, when / step.length, at, kept, whole)
    low, high, after = (np.array(table[1]) for table in (kept.low, kept.high, kept.after))
    return Step(start=0.0, length=when, before=step.before, after=after, curve=np.array([low, high]))


Exact = Callable[[Array], list[list[float]]]


def walk(slope: Slope, exact: Exact, start: list[float], end: float, steps: int, mass: list[float]) -> list[Step]:
    """Equal steps with the exact Jacobian."""
    y = np.array(start)
    h = end / steps
    taken = []
    for k in range(steps):
        after, _, curve = attempt(slope, y, np.array(slope(y.tolist())), np.array(exact(y)), h, np.array(mass))
        taken.append(Step(k * h, h, y, after, curve))
        y = after
    return taken


def van_der_pol(y: list[float]) -> list[float]:
    return [y[1], 2.0 * (1.0 - y[0] * y[0]) * y[1] - y[0]]


def van_der_pol_jacobian(y: Array) -> list[list[float]]:
    return [[0.0, 1.0], [-4.0 * y[0] * y[1] - 1.0, 2.0 * (1.0 - y[0] * y[0])]]


def reference(slope: Slope, start: list[float], end: float, times: Array | None = None) -> Array:
    found = solve_ivp(
        lambda _, y: slope(y.tolist()), (0.0, end), start, method="DOP853", rtol=1e-13, atol=1e-14, t_eval=times
    )
    return np.asarray(found.y if times is not None else found.y[:, -1])


def test_order_four_on_van_der_pol() -> None:
    start, end = [2.0, 0.0], 1.5
    truth = reference(van_der_pol, start, end)
    errors = [
        np.abs(walk(van_der_pol, van_der_pol_jacobian, start, end, n, [1.0, 1.0])[-1].after - truth).max()
        for n in (20, 40, 80)
    ]
    orders = np.log2(np.array(errors[:-1]) / np.array(errors[1:]))
    assert errors[-1] < 1e-6
    assert np.all(orders > 3.7), orders
    assert np.all(orders < 4.7), orders


def test_dense_output_of_order_three_on_van_der_pol() -> None:
    """A single step's interpolant errs as h^4 inside the step; the one of a cut step is the same curve."""
    inside = []
    for h in (0.05, 0.025, 0.0125):
        step = walk(van_der_pol, van_der_pol_jacobian, [2.0, -0.6], h, 1, [1.0, 1.0])[0]
        share = np.array([0.2, 0.4, 0.6, 0.8])
        truth = reference(van_der_pol, [2.0, -0.6], h, share * h).T
        inside.append(max(np.abs(step.at(s * h) - y).max() for s, y in zip(share, truth, strict=True)))
        assert step.at(0.0) == pytest.approx(step.before, abs=1e-15)
        assert step.at(h) == pytest.approx(step.after, abs=1e-15)
        part = cut(step, 0.3 * h)
        for s in (0.1, 0.2, 0.3):
            assert part.at(s * h) == pytest.approx(step.at(s * h), abs=1e-14)
    orders = np.log2(np.array(inside[:-1]) / np.array(inside[1:]))
    assert np.all(orders > 3.7), orders


STIFFNESS = 1e4


def prothero_robinson(y: list[float]) -> list[float]:
    """y' = -1e4 (y - sin t) + cos t, with the time as second component; the solution is sin t."""
    return [-STIFFNESS * (y[0] - sin(y[1])) + cos(y[1]), 1.0]


def prothero_robinson_jacobian(y: Array) -> list[list[float]]:
    return [[-STIFFNESS, STIFFNESS * cos(y[1]) - sin(y[1])], [0.0, 0.0]]


def test_prothero_robinson_keeps_its_accuracy() -> None:
    """A. Prothero, A. Robinson (1974), Math. Comp. 28, 145: stiff decay towards a slow solution."""
    errors = []
    for n in (5, 10, 20):
        end = walk(prothero_robinson, prothero_robinson_jacobian, [0.0, 0.0], 2.0, n, [1.0, 1.0])[-1].after
        errors.append(abs(end[0] - sin(2.0)))
    assert errors[0] < 1e-6, errors
    for coarse, fine in pairwise(errors):
        assert fine < coarse / 7.0 or fine < 1e-11, errors


def test_algebraic_component() -> None:
    """y' = -z with 0 = z^3 + z - y: as accurate as the ODE whose algebraic part is solved exactly."""

    def slope(y: list[float]) -> list[float]:
        return [-y[1], y[1] ** 3 + y[1] - y[0]]

    def exact(y: Array) -> list[list[float]]:
        return [[0.0, -1.0], [-1.0, 3.0 * y[1] ** 2 + 1.0]]

    def root(y: float) -> float:
        return float(brentq(lambda z: z**3 + z - y, -10.0, 10.0, xtol=1e-15))

    truth = reference(lambda y: [-root(y[0])], [2.0], 3.0)[0]
    errors = []
    for n in (40, 80, 160):
        end = walk(slope, exact, [2.0, 1.0], 3.0, n, [1.0, 0.0])[-1].after
        errors.append(max(abs(end[0] - truth), abs(end[1] - root(truth))))
    orders = np.log2(np.array(errors[:-1]) / np.array(errors[1:]))
    assert errors[-1] < 1e-8
    assert np.all(orders > 3.7), orders


def robertson(y: list[float]) -> list[float]:
    """Three stiff reactions (H. H. Robertson 1966); the sum of the three is kept. A fourth slope is a tally."""
    slow = 0.04 * y[0]
    fast = 3e7 * y[1] * y[1]
    back = 1e4 * y[1] * y[2]
    return [-slow + back, slow - back - fast, fast, slow]


def jacobian(slope: Slope, y: Array, f: Array, least: Array) -> Array:
    """Difference quotients in the columns of the states."""
    columns = []
    for j, size in enumerate(least.tolist()):
        moved = y.tolist()
        moved[j] = nudged(moved[j], size)
        columns.append((np.array(slope(moved)) - f) / (moved[j] - y[j]))
    return np.array(columns).T


def test_linear_invariants_are_kept_to_rounding() -> None:
    y = np.array([1.0, 0.0, 0.0, 0.0])
    scale = np.array([1.0, 1e-4, 1.0])
    h = 1e-4
    for _ in range(60):
        f = np.array(robertson(y.tolist()))
        jac = jacobian(robertson, y, f, scale)
        y, _, _ = attempt(robertson, y, f, jac, h, np.ones(3))
        h *= 1.2
    assert y[2] > 0.1
    assert abs(y[:3].sum() - 1.0) < 1e-14


def test_tallies_follow_the_state_exactly() -> None:
    """With y' = -y, q1' = y and q2' = y/(1+y)^2: q1 = y0 - y to rounding and q2 = 1/(1+y) - 1/(1+y0)."""

    def slope(y: list[float]) -> list[float]:
        return [-y[0], y[0], y[0] / (1.0 + y[0]) ** 2]

    def exact(y: Array) -> list[list[float]]:
        return [[-1.0], [1.0], [(1.0 - y[0]) / (1.0 + y[0]) ** 3]]

    errors = []
    for n in (10, 20, 40):
        end = walk(slope, exact, [1.0, 0.0, 0.0], 2.0, n, [1.0])[-1].after
        assert end[0] + end[1] == pytest.approx(1.0, abs=2e-15)
        errors.append(abs(end[2] - (1.0 / (1.0 + exp(-2.0)) - 0.5)))
    assert errors[-1] < 1e-7
    assert errors[0] / errors[1] > 12.0
    assert errors[1] / errors[2] > 12.0


def test_error_estimate_shrinks_as_the_fourth_power_of_the_step() -> None:
    y = np.array([2.0, -0.6])
    f = np.array(van_der_pol(y.tolist()))
    jac = np.array(van_der_pol_jacobian(y))
    sizes = [np.abs(attempt(van_der_pol, y, f, jac, h, np.ones(2))[1]).max() for h in (0.05, 0.025)]
    assert 12.0 < sizes[0] / sizes[1] < 20.0


def test_jacobian_by_differences() -> None:
    y = np.array([1.3, -0.7])
    f = np.array(van_der_pol(y.tolist()))
    found = jacobian(van_der_pol, y, f, np.ones(2))
    assert found == pytest.approx(np.array(van_der_pol_jacobian(y)), abs=1e-5)


@pytest.mark.parametrize("memory", [LISTS, ARRAYS], ids=["lists", "arrays"])
def test_factors_solve_what_numpy_solves(memory: Memory) -> None:
    draw = np.random.default_rng(3)
    dense = draw.normal(size=(9, 9))
    right = draw.normal(size=9)
    matrix, order, found = memory.table(9, 9), memory.row(9), memory.row(9)
    for i in range(9):
        found[i] = float(right[i])
        for j in range(9):
            matrix[i][j] = float(dense[i, j])
    assert factor(matrix, order, 9)
    solve(matrix, order, found, 9)
    assert np.array(found) == pytest.approx(np.linalg.solve(dense, right), rel=1e-9)
    assert not factor(memory.table(3, 3), memory.row(3), 3)


def test_lists_and_arrays_give_the_very_same_step() -> None:
    y = np.array([2.0, -0.6])
    given = (van_der_pol, y, np.array(van_der_pol(y.tolist())), np.array(van_der_pol_jacobian(y)), 0.05, np.ones(2))
    for one, other in zip(attempt(*given, LISTS), attempt(*given, ARRAYS), strict=True):
        assert one.tolist() == other.tolist()


def test_a_singular_step_matrix_is_told() -> None:
    y = np.array([1.0])
    with pytest.raises(ZeroDivisionError, match="singular"):
        attempt(lambda _: [0.0], y, np.zeros(1), np.zeros((1, 1)), 0.1, np.zeros(1))
