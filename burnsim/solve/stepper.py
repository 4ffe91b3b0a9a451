"""A linearly implicit stepper that knows nothing of burners: Rosenbrock order 4(3), stiffly accurate, dense output.

The right-hand side has two parts: a stiff state that feeds back, and tallies that are integrals of it and feed
nothing. The Jacobian is taken in the state's columns only; each stage then solves one small linear system for the state
and follows with one product for the tallies. Every linear invariant of the right-hand side is kept to rounding, because
differences keep it too.

The method is RODAS4P: unlike RODAS4 it keeps its order when a fast mode is driven slowly (in a burner the levelling of
gallery and well through the feed slots, 100 times a second), which made five times fewer steps there.

Who steps evaluates the right-hand side: `begin` a step, then for each of `STAGES` take the `stage` with the slopes at
the last point in `at.rate`, and evaluate the next at `at.after`. The text runs as it stands, on lists, and compiled, on
arrays (`burnsim.solve.compile`): it reads and writes single numbers alone.

Coefficients: G. Steinebach (1995), Order-reduction of ROW-methods for DAEs and method of lines applications, Preprint
1741, TH Darmstadt; E. Hairer, G. Wanner (1996), Solving Ordinary Differential Equations II, 2nd ed., section IV.7.
From memory; the tests check all eight conditions of order 4, the stiff test equation of Prothero and Robinson, and
the order of the dense output.
"""

from collections.abc import Callable
from typing import NamedTuple, Protocol

import numpy as np

from burnsim.records import written


class Vector(Protocol):
    """A row of numbers: a list or an array."""

    def __getitem__(self, k: int, /) -> float: ...
    def __setitem__(self, k: int, value: float, /) -> None: ...


class Table(Protocol):
    """Rows of numbers: lists or an array."""

    def __getitem__(self, k: int, /) -> Vector: ...


class Memory(NamedTuple):
    """How rows and tables of nothing are made."""

    row: Callable[[int], Vector]
    table: Callable[[int, int], Table]


LISTS = Memory(lambda n: [0.0] * n, lambda m, n: [[0.0] * n for _ in range(m)])
"""For plain Python, in which a number of an array takes three times as long to read as one of a list."""
ARRAYS = Memory(np.zeros, lambda m, n: np.zeros((m, n)))
"""For machine code."""

GAMMA = 0.25
A = (
    (3.0,),
    (1.831036793486759, 0.4955183967433795),
    (2.304376582692669, -0.05249275245743001, -1.176798761832782),
    (-7.170454962423024, -4.741636671481785, -16.31002631330971, -1.062004044111401),
)
C = (
    (),
    (-12.0,),
    (-8.791795173947035, -2.207865586973518),
    (10.81793056857153, 6.780270611428266, 19.5348594464241),
    (34.19095006749676, 15.49671153725963, 54.7476087596413, 14.16005392148534),
    (34.62605830930532, 15.30084976114473, 56.99955578662667, 18.40807009793095, -5.714285714285717),
)
DENSE = (
    (25.09876703708589, 11.62013104361867, 28.49148307714626, -5.664021568594133, 0.0),
    (1.638054557396973, -0.7373619806678748, 8.47791821923899, 15.9925314877952, -1.882352941176471),
)
STAGES = 6
DIFFERENCE = 1e-6  # of the difference quotients, relative to the state or its scale


class Workspace(NamedTuple):
    """Memory of a step."""

    rates: Vector  # slopes at its start
    jac: Table  # a row for each state: the slopes of all by it
    matrix: Table
    order: Vector  # of the pivots
    stages: Table
    rate: Vector  # slopes at a stage
    after: Vector  # the point that it reaches
    onward: Vector  # slopes there, to go on with
    curve: Table  # of its interpolant
    point: Vector  # inside it
    idle: Vector  # 1.0 for each state on which no slope depends for now


def workspace(size: int, whole: int, memory: Memory) -> Workspace:
    """Memory for steps of so many states, and so many numbers in all."""
    return Workspace(
        rates=memory.row(whole),
        jac=memory.table(size, whole),
        matrix=memory.table(size, size),
        order=memory.row(size),
        stages=memory.table(STAGES, whole),
        rate=memory.row(whole),
        after=memory.row(whole),
        onward=memory.row(whole),
        curve=memory.table(2, whole),
        point=memory.row(whole),
        idle=memory.row(size),
    )


def _sum(weights: tuple[float, ...], first: str = "") -> str:
    terms = [f"{weight!r} * s{j}[i]" for j, weight in enumerate(weights) if weight != 0.0]
    return " + ".join([first, *terms] if first else terms) or "0.0"


def _stages(count: int) -> str:
    return "".join(f"    s{j} = stages[{j}]\n" for j in range(count))


def _choice(rows: tuple[tuple[float, ...], ...], first: str = "") -> str:
    """A loop over all numbers for each stage, written out: a third of the time of one over the weights."""
    return "".join(
        f"    {'elif' if k else 'if'} k == {k}:\n"
        f"        for i in range(whole):\n            out[i] = {_sum(row, first)}\n"
        for k, row in enumerate(rows)
    )


earlier: Callable[[int, Table, Vector, int], None] = written(
    "def earlier(k, stages, out, whole):\n" + _stages(STAGES - 1) + _choice(C), __name__, {}
)
"""What the stages before it add to the slopes of stage k: fills the row `out`."""

reach: Callable[[int, Vector, Table, Vector, int], None] = written(
    "def reach(k, y, stages, out, whole):\n"
    + _stages(len(A))
    + _choice(A, "y[i]")
    + "    else:\n        last = stages[k]\n        for i in range(whole):\n            out[i] += last[i]\n",
    __name__,
    {},
)
"""The point at which the stage after k takes its slopes; after the last one, the end of the step: fills `out`."""

bend: Callable[[Table, Table, int], None] = written(
    "def bend(stages, curve, whole):\n"
    + _stages(STAGES - 1)
    + "    low = curve[0]\n    high = curve[1]\n    for i in range(whole):\n"
    + f"        low[i] = {_sum(DENSE[0])}\n        high[i] = {_sum(DENSE[1])}\n",
    __name__,
    {},
)
"""The coefficients of an accepted step's interpolant: fills `curve`."""


def inside(y: Vector, at: Workspace, s: float, whole: int) -> None:
    """The interpolant of a step from y at a share s of its length, of order 3: fills `at.point`."""
    r = 1.0 - s
    point, after, low, high = at.point, at.after, at.curve[0], at.curve[1]
    for k in range(whole):
        point[k] = y[k] * r + s * (after[k] + r * (low[k] + s * high[k]))


def nudged(y: float, least: float) -> float:
    """A state moved for a difference quotient, by a share of itself or of the least size that matters.

    >>> nudged(2.0, 1.0), nudged(0.0, 1.0)
    (2.000002, 1e-06)
    """
    return y + DIFFERENCE * max(abs(y), least)


def begin(h: float, mass: Vector, at: Workspace, size: int, whole: int) -> bool:
    """Begin a step of length h with the Jacobian and the slopes at hand; False if its matrix is singular.

    The mass is 1.0 for each state that has a rate, 0.0 for one that is algebraic. Of the memory, `jac` and `rates` are
    read, `matrix`, `order` and `rate` filled; `size` states are integrated, `whole` numbers in all.
    """
    jac, rate, rates = at.jac, at.rate, at.rates
    for i in range(size):
        row = at.matrix[i]
        for j in range(size):
            row[j] = -jac[j][i]
        row[i] += mass[i] / (h * GAMMA)
    for i in range(whole):
        rate[i] = rates[i]
    return factor(at.matrix, at.order, size)


def stage(k: int, y: Vector, h: float, mass: Vector, at: Workspace, size: int, whole: int) -> None:
    """Take stage k of a step from y with the slopes in `at.rate`, and go on to the next point, in `at.after`.

    After the last one that is the step's end, and `at.stages[STAGES - 1]` its error.
    """
    head, rate = at.stages[k], at.rate
    earlier(k, at.stages, head, whole)
    for i in range(size):
        head[i] = rate[i] + mass[i] * head[i] / h
    solve(at.matrix, at.order, head, size)
    for i in range(size, whole):
        head[i] = rate[i] + head[i] / h
    for j in range(size):
        share = head[j]
        if share != 0.0:
            column = at.jac[j]
            for i in range(size, whole):
                head[i] += column[i] * share
    for i in range(size, whole):
        head[i] = h * GAMMA * head[i]
    reach(k, y, at.stages, at.after, whole)


def factor(matrix: Table, order: Vector, size: int) -> bool:
    """Factors of a matrix in its own place, rows in the order of their pivots; False if it is singular."""
    for k in range(size):
        best = k
        for i in range(k + 1, size):
            if abs(matrix[i][k]) > abs(matrix[best][k]):
                best = i
        order[k] = best
        upper = matrix[k]
        other = matrix[best]
        if not abs(other[k]) > 0.0:
            return False
        if best != k:
            for j in range(size):
                held = upper[j]
                upper[j] = other[j]
                other[j] = held
        for i in range(k + 1, size):
            row = matrix[i]
            if row[k] != 0.0:
                share = row[k] / upper[k]
                row[k] = share
                for j in range(k + 1, size):
                    row[j] -= share * upper[j]
    return True


def solve(matrix: Table, order: Vector, right: Vector, size: int) -> None:
    """Solve with the factors, in the place of the right side."""
    for k in range(size):
        best = int(order[k])
        held = right[k]
        right[k] = right[best]
        right[best] = held
    for i in range(size):
        row = matrix[i]
        total = right[i]
        for j in range(i):
            total -= row[j] * right[j]
        right[i] = total
    for back in range(size):
        i = size - 1 - back
        row = matrix[i]
        total = right[i]
        for j in range(i + 1, size):
            total -= row[j] * right[j]
        right[i] = total / row[i]
