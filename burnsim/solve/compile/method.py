"""One step of the integrator in text that a compiler can take: Jacobian, factors, stages, error.

The same method as `burnsim.solve.rosenbrock`, written in plain loops over small arrays.
"""

from math import isfinite, sqrt
from typing import NamedTuple

import numpy as np

from burnsim.model.balances.flows import Flows, balances, derivatives, near
from burnsim.model.balances.state import Regime, State, entries, place, tallies_size, unpack
from burnsim.model.parameters.record import Parameters
from burnsim.solve.rosenbrock import DENSE, DIFFERENCE, GAMMA, STAGES, A, C, Vector
from burnsim.solve.sizes import SHORTAGE, algebraic, amounts, nudges, rising, scales, spendable, spent

AMOUNT, TALLY = 1.0, 2.0


class Rule(NamedTuple):
    """What a step must meet; see `burnsim.solve.sizes`."""

    rtol: float
    scale: Vector  # least size of each state that matters
    mass: Vector  # 1.0 for a state that has a rate, 0.0 for an algebraic one
    least: Vector  # least size of each state for difference quotients
    kind: Vector  # AMOUNT of a state that cannot be less than nothing, TALLY of one that cannot fall, else 0.0
    part: Vector  # of each state, in which it lies
    slot_speed: int  # its place
    spendable: Vector  # 1.0 for a state on which nothing depends once it is spent
    flame: Vector  # place in the regime of the flame without which nothing depends on a state; -1 if there is none


def rule_of(rtol: float, first: State, p: Parameters) -> Rule:
    """What the steps of a burn must meet."""
    scale = scales(first, p)
    size = len(scale)
    kind = np.zeros(size + tallies_size(p.components))
    kind[amounts(p)] = AMOUNT
    kind[rising(p)] = TALLY
    ending = np.zeros(size)
    ending[spendable(p)] = 1.0
    rows = [entry.row for entry in entries(p.components)]
    flames = [Regime._fields.index(row.flame) if row.flame else -1 for row in rows]
    return Rule(
        rtol=rtol,
        scale=scale,
        mass=algebraic(p),
        least=nudges(scale, p),
        kind=kind,
        part=np.array([float(row.part) for row in rows]),
        slot_speed=place("slot_speed", p.components),
        spendable=ending,
        flame=np.array([float(flame) for flame in flames]),
    )


class Desk(NamedTuple):
    """Memory of a step."""

    rates: Vector  # slopes at its start
    jac: Vector
    matrix: Vector
    order: Vector  # of the pivots
    stages: Vector
    rate: Vector  # slopes at a stage
    after: Vector  # the point that it reaches
    onward: Vector  # slopes there, to go on with
    curve: Vector  # of its interpolant
    point: Vector  # inside it


def desk(size: int, whole: int) -> Desk:
    """Memory for steps of so many states, and so many numbers in all."""
    return Desk(
        rates=np.empty(whole),
        jac=np.empty((whole, size)),
        matrix=np.empty((size, size)),
        order=np.empty(size),
        stages=np.empty((STAGES, whole)),
        rate=np.empty(whole),
        after=np.empty(whole),
        onward=np.empty(whole),
        curve=np.empty((2, whole)),
        point=np.empty(whole),
    )


def _padded(rows: "tuple[Vector, ...]") -> Vector:
    made = np.zeros((len(rows), STAGES - 1))
    for k, row in enumerate(rows):
        made[k, : len(row)] = row
    return made


STEP_WEIGHTS = _padded(A)
RATE_WEIGHTS = _padded(C)


def regime_of(regime: Vector) -> Regime:
    """The regime in the entries of an array."""
    return Regime(wick=regime[0], jets=regime[1], well=regime[2], boiling=regime[3], spilling=regime[4])


def slope(y: Vector, regime: Vector, p: Parameters, rates: Vector) -> None:
    """The right-hand side: fills `rates`."""
    flows = balances(unpack(y, p.components), regime_of(regime), p)
    made = derivatives(flows, p)
    for k in range(rates.size):
        rates[k] = made[k]


def inside(y: Vector, at: Desk, s: float) -> None:
    """The interpolant of a step from y at a share s of its length: fills `at.point`."""
    r = 1.0 - s
    point, after, curve = at.point, at.after, at.curve
    for k in range(y.size):
        point[k] = y[k] * r + s * (after[k] + r * (curve[0, k] + s * curve[1, k]))


def quotients(y: Vector, flows: Flows, p: Parameters, rule: Rule, idle: Vector, at: Desk) -> int:
    """Difference quotients of the slopes by each state: fills `at.jac`; the number of evaluations.

    What cannot depend on the state that moves is taken over from the point's flows.
    """
    count = 0
    jac, rates, least = at.jac, at.rates, rule.least
    for j in range(least.size):
        if idle[j] > 0.0 or (rule.spendable[j] > 0.0 and spent(y[j], rates[j])):
            for k in range(y.size):
                jac[k, j] = 0.0
            continue
        kept = y[j]
        moved = kept + DIFFERENCE * max(abs(kept), least[j])
        y[j] = moved
        made = derivatives(near(flows, unpack(y, p.components), int(rule.part[j]), p), p)
        count += 1
        y[j] = kept
        for k in range(y.size):
            jac[k, j] = (made[k] - rates[k]) / (moved - kept)
    return count


def factor(matrix: Vector, order: Vector) -> float:
    """Factors of a matrix in its own place, rows in the order of their pivots; 0.0 if it is singular."""
    size = order.size
    for k in range(size):
        best = k
        for i in range(k + 1, size):
            if abs(matrix[i, k]) > abs(matrix[best, k]):
                best = i
        order[k] = best
        if not abs(matrix[best, k]) > 0.0:
            return 0.0
        if best != k:
            for j in range(size):
                held = matrix[k, j]
                matrix[k, j] = matrix[best, j]
                matrix[best, j] = held
        for i in range(k + 1, size):
            share = matrix[i, k] / matrix[k, k]
            matrix[i, k] = share
            if share != 0.0:
                for j in range(k + 1, size):
                    matrix[i, j] -= share * matrix[k, j]
    return 1.0


def solve(matrix: Vector, order: Vector, right: Vector) -> None:
    """Solve with the factors, in the place of the right side."""
    size = order.size
    for k in range(size):
        best = int(order[k])
        held = right[k]
        right[k] = right[best]
        right[best] = held
    for i in range(size):
        for j in range(i):
            right[i] -= matrix[i, j] * right[j]
    for back in range(size):
        i = size - 1 - back
        for j in range(i + 1, size):
            right[i] -= matrix[i, j] * right[j]
        right[i] /= matrix[i, i]


def attempt(y: Vector, regime: Vector, p: Parameters, h: float, mass: Vector, at: Desk) -> bool:
    """One step of length h: fills `at.after` and `at.stages`, the last its error; False if it has no solution."""
    size = mass.size
    whole = y.size
    matrix, jac, stages, after, rate = at.matrix, at.jac, at.stages, at.after, at.rate
    for i in range(size):
        for j in range(size):
            matrix[i, j] = -jac[i, j]
        matrix[i, i] += mass[i] / (h * GAMMA)
    if factor(matrix, at.order) <= 0.0:
        return False
    rates = at.rates
    for i in range(whole):
        rate[i] = rates[i]
    for k in range(STAGES):
        stage(k, h, mass, at)
        for i in range(whole):
            if k < STAGES - 2:
                reached = y[i]
                for j in range(k + 1):
                    reached += STEP_WEIGHTS[k, j] * stages[j, i]
                after[i] = reached
            else:
                after[i] += stages[k, i]
        if k < STAGES - 1:
            slope(after, regime, p, rate)
    return True


def stage(k: int, h: float, mass: Vector, at: Desk) -> None:
    """Solve one stage for the slopes in `at.rate`."""
    size = mass.size
    jac, stages, rate = at.jac, at.stages, at.rate
    head = stages[k]
    for i in range(head.size):
        earlier = 0.0
        for j in range(k):
            earlier += RATE_WEIGHTS[k, j] * stages[j, i]
        share = mass[i] if i < size else 1.0
        head[i] = rate[i] + share * earlier / h
    solve(at.matrix, at.order, head[:size])
    for i in range(size, head.size):
        moved = 0.0
        for j in range(size):
            moved += jac[i, j] * head[j]
        head[i] = h * GAMMA * (head[i] + moved)


def bend(at: Desk) -> None:
    """The coefficients of an accepted step's interpolant: fills `at.curve`."""
    stages, curve = at.stages, at.curve
    for i in range(stages.shape[1]):
        for row in range(2):
            bent = 0.0
            for j in range(STAGES - 1):
                bent += DENSE[row, j] * stages[j, i]
            curve[row, i] = bent


def error_norm(y: Vector, slots: float, rule: Rule, at: Desk) -> float:
    """Root mean square of errors over what is allowed, that of the slots' speed weighed; 1e6 where it is no number."""
    total = 0.0
    scale, after, error = rule.scale, at.after, at.stages[STAGES - 1]
    for i in range(scale.size):
        weight = rule.rtol * (0.1 * max(abs(y[i]), abs(after[i])) + scale[i])
        share = error[i] / weight
        if rule.mass[i] == 0.0:
            share *= slots
        total += share * share
    norm = sqrt(total / scale.size)
    return norm if isfinite(norm) else 1e6


def falls_short(y: Vector, rule: Rule, at: Desk) -> bool:
    """True if a step takes more of something than there is, or a tally of moles falls."""
    kind, after = rule.kind, at.after
    for i in range(y.size):
        if kind[i] == AMOUNT and after[i] < -SHORTAGE and after[i] < y[i]:
            return True
        if kind[i] == TALLY and after[i] < y[i] - SHORTAGE:
            return True
    return False
