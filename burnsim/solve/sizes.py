"""How much of each state matters, and when: scales of tolerances and difference quotients, and states that are idle."""

import numpy as np

from burnsim.model.balances.chambers import Liquid
from burnsim.model.balances.state import Regime, State, air_place, state_size
from burnsim.model.parameters.record import Parameters
from burnsim.solve.rosenbrock import Vector

LAST_DROPS = 1e-3  # of its scale: an amount that matters to the last of a liquid, for difference quotients
BARE_SLOTS = 0.1  # weight of an error of the speed in feed slots that liquid does not cover
SHORTAGE = 1e-9  # what an amount may fall below nothing, or a tally of moles below what it was [mol or kg]


def scales(first: State, p: Parameters) -> Vector:
    """Least size of each state component that matters: the absolute tolerance is rtol times it."""
    moles = max(sum(first.gallery) + sum(first.well), 1e-6)
    n = p.components
    water = max(first.water, 1e-6)
    return np.array(
        [0.05 * moles] * (2 * n)
        + [
            20.0 * p.gallery.metal + 5.0,
            20.0 * p.well.metal + 5.0,
            20.0 * p.walls.rim_capacity,
            max(p.wick.capacity, 1e-6) * 0.1,
            1e-4,
            water,
            p.pot.water_heat * water + p.pot.metal,
            0.02,
        ]
    )


def algebraic(p: Parameters) -> Vector:
    """1.0 for each state that has a rate, 0.0 for the one that is algebraic: the slots' speed."""
    mass = np.ones(state_size(p.components))
    mass[-1] = 0.0
    return mass


def amounts(p: Parameters) -> list[int]:
    """Places of the states that are amounts of something, which cannot be less than nothing."""
    n = p.components
    return [*range(2 * n), 2 * n + 3, air_place(n), 2 * n + 5]


def nudges(scale: Vector, p: Parameters) -> Vector:
    """Least size of each component for difference quotients: that of an amount is its last drops."""
    least = scale.copy()
    least[amounts(p)] *= LAST_DROPS
    return least


def idle_when_dark(p: Parameters) -> Vector:
    """1.0 for each state on which no flow depends, whatever burns."""
    idle = np.zeros(state_size(p.components))
    idle[list(idle_states(Regime(wick=1.0, jets=1.0, well=1.0), p))] = 1.0
    return idle


def idle_states(regime: Regime, p: Parameters) -> frozenset[int]:
    """States on which no flow depends in a regime; their rates may still differ from 0."""
    n = p.components
    idle: set[int] = set()
    if p.gallery.present <= 0.0:
        idle.update((*range(n), 2 * n, air_place(n)))
    if p.well.present <= 0.0:
        idle.update((*range(n, 2 * n), 2 * n + 1))
    if regime.wick <= 0.0:
        idle.add(2 * n + 3)
    if p.pot.present <= 0.0:
        idle.update((2 * n + 5, 2 * n + 6))
    return frozenset(idle)


def spent(air: float, rate: float) -> bool:
    """True if no air is left in the gallery [mol] and none comes in [mol/s]: no flow depends on it then.

    >>> spent(-1e-15, 0.0), spent(0.0, 1e-4), spent(1e-12, -1e-13)
    (True, False, False)
    """
    return air <= 0.0 and rate <= 0.0


def slot_weight(gallery: Liquid, well: Liquid, p: Parameters) -> float:
    """How much an error of the speed in the feed slots counts: in full while liquid covers them on both sides.

    It tells the bursts of a burner that geysers apart; once the slots stand partly bare there are hardly any.

    Parameters
    ----------
    gallery, well : the liquids where a step begins
    p : parameters
    """
    return 1.0 if min(gallery.level, well.level) >= p.slots.height else BARE_SLOTS
