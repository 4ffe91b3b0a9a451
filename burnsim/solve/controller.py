"""What a step must meet, and how long the next one is to be; knows nothing of burners."""

from math import isfinite, sqrt
from typing import NamedTuple

from burnsim.solve.stepper import STAGES, Vector, Workspace

SAFETY, SMALLEST_CHANGE, LARGEST_CHANGE = 0.9, 0.15, 4.0  # of one step's length to the next
SHORTAGE = 1e-9  # what an amount may fall below nothing, or a rising tally below what it was
NEAR_BEND = 1e-3  # of a level: so near it a step may begin or end
MOST_STEPS, AT = 60000.0, 1e-3  # of a burn at such a tolerance; a calm one takes some 130, a geyser 25 a cycle
AMOUNT, RISING = 1.0, 2.0


class Rule(NamedTuple):
    """What the integrator must know of each state: how exact a step must be, and what its difference quotients need."""

    size: int  # number of states that feed back
    whole: int  # with the tallies
    rtol: float
    scale: Vector  # least size of each state that matters
    mass: Vector  # 1.0 for a state that has a rate, 0.0 for an algebraic one
    least: Vector  # least size of each state for difference quotients
    kind: Vector  # AMOUNT of a state that cannot be less than nothing, RISING of a tally that cannot fall, else 0.0
    part: Vector  # of each state, in which it lies
    absent: Vector  # 1.0 for a state on which nothing ever depends
    spendable: Vector  # 1.0 for a state on which nothing depends once it is spent
    needs: Vector  # place in the regime of what must last, or nothing depends on a state; -1.0 if there is none
    bends: Vector  # level of each state at which its laws bend; inf if there is none
    most_steps: float  # of a burn, and as many may be rejected
    algebraic: int  # place of the algebraic state
    carried: float  # length of a step from which on an error of that state counts in full [s]


def next_length(h: float, norm: float) -> float:
    """Length of the step to try after one of length h whose error is `norm` times what is allowed [s].

    >>> next_length(1.0, 0.0625), next_length(1.0, 16.0)
    (1.8, 0.45)

    The error grows as the fourth power of the length. A forecast from the growth since the step before (Gustafsson)
    saves a third of the rejections and loses as much in shorter steps: it is left out. So is keeping steps that are
    somewhat worse than allowed (`burnsim.solve.compile`).
    """
    change: float = SAFETY * max(norm, 1e-8) ** -0.25
    return h * min(max(change, SMALLEST_CHANGE), LARGEST_CHANGE)


def error_norm(y: Vector, algebraic: float, rule: Rule, at: Workspace) -> float:
    """Root mean square of a step's errors over what is allowed; 1e6 where it is no number.

    The step began at y; `algebraic` is the weight of the errors of algebraic states.
    """
    total = 0.0
    scale, after, error = rule.scale, at.after, at.stages[STAGES - 1]
    for i in range(rule.size):
        share = error[i] / (rule.rtol * (0.1 * max(abs(y[i]), abs(after[i])) + scale[i]))
        if rule.mass[i] == 0.0:
            share *= algebraic
        total += share * share
    norm = sqrt(total / rule.size) if total >= 0.0 else total
    return norm if isfinite(norm) else 1e6


def most_steps(rtol: float) -> float:
    """How many steps a burn may take at most: a method of fourth order takes as many more where it must be more exact.

    >>> most_steps(1e-2), most_steps(1e-7)
    (60000.0, 600000.0)
    """
    more: float = (AT / rtol) ** 0.25
    return MOST_STEPS * max(1.0, more)


def share_to_bend(y: Vector, at: Workspace, rule: Rule) -> float:
    """Share of a step from y at which a state passes the level where its laws bend; 1.0 if none does, or just so."""
    share = 1.0
    for k in range(rule.size):
        level = rule.bends[k]
        before, after = y[k] - level, at.after[k] - level
        if before * after < 0.0 and min(abs(before), abs(after)) > NEAR_BEND * level:
            share = min(share, before / (before - after))
    return share


def falls_short(y: Vector, after: Vector, rule: Rule) -> bool:
    """True if on the way from y more of something was taken than there is, or a tally fell that cannot."""
    kind = rule.kind
    for i in range(rule.whole):
        if kind[i] == AMOUNT and after[i] < -SHORTAGE and after[i] < y[i]:
            return True
        if kind[i] == RISING and after[i] < y[i] - SHORTAGE:
            return True
    return False
