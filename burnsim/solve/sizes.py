"""How much of each state matters, and when: scales of tolerances and difference quotients, and states that are idle."""

import numpy as np

from burnsim.model.balances.chambers import Liquid
from burnsim.model.balances.state import Regime, State, entries, state_size, tally_entries
from burnsim.model.parameters.record import Parameters
from burnsim.solve.rosenbrock import Vector

LAST_DROPS = 1e-3  # of its scale: an amount that matters to the last of a liquid, for difference quotients
BARE_SLOTS = 0.1  # weight of an error of the speed in feed slots that liquid does not cover
SHORTAGE = 1e-9  # what an amount may fall below nothing, or a tally of moles below what it was [mol or kg]


def scales(first: State, p: Parameters) -> Vector:
    """Least size of each state that matters: the absolute tolerance is rtol times it."""
    return np.array([entry.row.scale(first, p) for entry in entries(p.components)])


def algebraic(p: Parameters) -> Vector:
    """1.0 for each state that has a rate, 0.0 for one that is algebraic."""
    return np.array([0.0 if entry.row.algebraic else 1.0 for entry in entries(p.components)])


def amounts(p: Parameters) -> list[int]:
    """Places of the states that are amounts of something, which cannot be less than nothing."""
    return [k for k, entry in enumerate(entries(p.components)) if entry.row.amount]


def rising(p: Parameters) -> list[int]:
    """Places in the flat vector of the tallies that cannot fall."""
    size = state_size(p.components)
    return [size + k for k, entry in enumerate(tally_entries(p.components)) if entry.row.rising]


def nudges(scale: Vector, p: Parameters) -> Vector:
    """Least size of each state for difference quotients: that of an amount is its last drops."""
    least = scale.copy()
    least[amounts(p)] *= LAST_DROPS
    return least


def idle_states(regime: Regime, p: Parameters) -> frozenset[int]:
    """States on which no flow depends in a regime; their rates may still differ from 0."""
    return frozenset(
        k
        for k, entry in enumerate(entries(p.components))
        if (entry.row.of and getattr(p, entry.row.of).present <= 0.0)
        or (entry.row.flame and getattr(regime, entry.row.flame) <= 0.0)
    )


def spendable(p: Parameters) -> list[int]:
    """Places of the states on which no flow depends once they are spent."""
    return [k for k, entry in enumerate(entries(p.components)) if entry.row.spendable]


def spent(amount: float, rate: float) -> bool:
    """True if no more of something is left and none comes in: no flow depends on it then.

    >>> spent(-1e-15, 0.0), spent(0.0, 1e-4), spent(1e-12, -1e-13)
    (True, False, False)
    """
    return amount <= 0.0 and rate <= 0.0


def slot_weight(gallery: Liquid, well: Liquid, p: Parameters) -> float:
    """How much an error of the speed in the feed slots counts: in full while liquid covers them on both sides.

    It tells the bursts of a burner that geysers apart; once the slots stand partly bare there are hardly any.

    Parameters
    ----------
    gallery, well : the liquids where a step begins
    p : parameters
    """
    return 1.0 if min(gallery.level, well.level) >= p.slots.height else BARE_SLOTS
