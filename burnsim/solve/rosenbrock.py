"""A linearly implicit integrator for one burn: Rosenbrock order 4(3), stiffly accurate, with dense output.

The right-hand side has two parts: a stiff state that feeds back, and tallies that are integrals of it and feed
nothing. The Jacobian is taken by differences in the state's columns only; each stage then solves one small linear
system for the state and follows with one product for the tallies. Every linear invariant of the right-hand side
(moles and joules, see `burnsim.model.balances.state`) is kept to rounding, because differences keep it too.

The method is RODAS4P: unlike RODAS4 it keeps its order when a fast mode is driven slowly (the levelling of gallery and
well through the feed slots, 100 times a second), which made five times fewer steps here.

Coefficients: G. Steinebach (1995), Order-reduction of ROW-methods for DAEs and method of lines applications, Preprint
1741, TH Darmstadt; E. Hairer, G. Wanner (1996), Solving Ordinary Differential Equations II, 2nd ed., section IV.7.
From memory; the tests check all eight conditions of order 4, the stiff test equation of Prothero and Robinson, and
the order of the dense output.
"""

from collections.abc import Callable
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from burnsim.errors import SolverError

Vector = NDArray[np.float64]
Slope = Callable[[list[float]], list[float]]

GAMMA = 0.25
A = (
    np.array([3.0]),
    np.array([1.831036793486759, 0.4955183967433795]),
    np.array([2.304376582692669, -0.05249275245743001, -1.176798761832782]),
    np.array([-7.170454962423024, -4.741636671481785, -16.31002631330971, -1.062004044111401]),
)
C = (
    np.array([]),
    np.array([-12.0]),
    np.array([-8.791795173947035, -2.207865586973518]),
    np.array([10.81793056857153, 6.780270611428266, 19.5348594464241]),
    np.array([34.19095006749676, 15.49671153725963, 54.7476087596413, 14.16005392148534]),
    np.array([34.62605830930532, 15.30084976114473, 56.99955578662667, 18.40807009793095, -5.714285714285717]),
)
DENSE = np.array(
    [
        [25.09876703708589, 11.62013104361867, 28.49148307714626, -5.664021568594133, 0.0],
        [1.638054557396973, -0.7373619806678748, 8.47791821923899, 15.9925314877952, -1.882352941176471],
    ]
)
STAGES = 6
DIFFERENCE = 1e-6  # of the difference quotients, relative to the component or its scale
SAFETY, SMALLEST_CHANGE, LARGEST_CHANGE = 0.9, 0.15, 4.0  # of one step's length to the next


class Step(NamedTuple):
    """One accepted step with its interpolant."""

    start: float
    length: float
    before: Vector
    after: Vector
    curve: Vector

    def at(self, time: float) -> Vector:
        """The solution inside the step, by its own interpolant of order 3."""
        s = (time - self.start) / self.length
        r = 1.0 - s
        inside: Vector = self.before * r + s * (self.after + r * (self.curve[0] + s * self.curve[1]))
        return inside


def jacobian(
    slope: Callable[[list[float], int], list[float]],
    y: Vector,
    f: Vector,
    size: int,
    scale: Vector,
    idle: frozenset[int] = frozenset(),
) -> Vector:
    """Difference quotients of the slopes with respect to the first `size` components.

    Parameters
    ----------
    slope : right-hand side at a point that differs from y in one component, whose place it is told
    y, f : point and its slopes
    size : number of components that feed back
    scale : least size of each component that matters
    idle : components that no slope depends on for now; their columns are left 0

    Returns
    -------
    array of shape (len(y), size)
    """
    trial = y.tolist()
    least = scale.tolist()
    busy = [j for j in range(size) if j not in idle]
    slopes = []
    moves = []
    for j in busy:
        kept = trial[j]
        trial[j] = kept + DIFFERENCE * max(abs(kept), least[j])
        slopes.append(slope(trial, j))
        moves.append(trial[j] - kept)
        trial[j] = kept
    out = np.zeros((len(trial), size))
    out[:, busy] = ((np.array(slopes) - f) / np.array(moves)[:, None]).T
    return out


def next_length(h: float, norm: float) -> float:
    """Length of the step to try after one of length h whose error is `norm` times what is allowed [s].

    >>> next_length(1.0, 0.0625), next_length(1.0, 16.0)
    (1.8, 0.45)

    The error grows as the fourth power of the length. A forecast from the growth since the step before (Gustafsson)
    saves a third of the rejections and loses as much in shorter steps: it is left out.
    """
    change: float = SAFETY * max(norm, 1e-8) ** -0.25
    return h * min(max(change, SMALLEST_CHANGE), LARGEST_CHANGE)


def attempt(slope: Slope, y: Vector, f: Vector, jac: Vector, h: float, mass: Vector) -> tuple[Vector, Vector, Vector]:
    """One step of length h: the new point, its error estimate and the dense output's coefficients.

    Parameters
    ----------
    slope : right-hand side
    y, f : point and its slopes
    jac : from `jacobian`
    h : step
    mass : 1 for each state that feeds back and has a rate, 0 for each that is algebraic
    """
    size = len(mass)
    matrix = -jac[:size]
    matrix.flat[:: size + 1] += mass / (h * GAMMA)
    solver = np.zeros((len(y), len(y)))  # of a stage: the state's part solved for, the tallies' part a product
    try:
        solver[:size, :size] = inverse = np.linalg.inv(matrix)
    except np.linalg.LinAlgError:
        raise SolverError(f"the step matrix is singular at a step of {h:.3g} s") from None
    solver[size:, :size] = (h * GAMMA) * (jac[size:] @ inverse)
    solver.flat[size * (len(y) + 1) :: len(y) + 1] = h * GAMMA
    inertia = np.full(len(y), 1.0 / h)
    inertia[:size] *= mass
    stages = np.empty((STAGES, len(y)))
    right = f
    point = y
    for k in range(STAGES):
        np.matmul(solver, right, out=stages[k])
        point = y + A[k] @ stages[: k + 1] if k < STAGES - 2 else point + stages[k]
        if k < STAGES - 1:
            right = np.array(slope(point.tolist())) + inertia * (C[k + 1] @ stages[: k + 1])
    return point, stages[-1], DENSE @ stages[:-1]
