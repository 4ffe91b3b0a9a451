"""How much of each state matters, and when: the rule that the steps of a burn must meet, from the state's table."""

from burnsim.model.balances.chambers import Liquid
from burnsim.model.balances.state import Regime, State, entries, place, tally_entries
from burnsim.model.parameters.record import Parameters
from burnsim.solve.controller import AMOUNT, RISING, Rule, most_steps
from burnsim.solve.stepper import Memory, Vector

LAST_DROPS = 1e-3  # of its scale: an amount that matters to the last of a liquid, for difference quotients
BARE_SLOTS = 0.1  # weight of an error of the speed in feed slots that liquid does not cover
CARRIED, FILLED = 0.1, 0.04
"""Length of a step from which on an error of that speed counts in full, at most [s]; and as a share of the time in
which liquid at the speed that matters fills the gallery as high as the slots.

It counts by the liquid that it carries: in a shorter step by so much less. The levels settle in a hundredth of a second
wherever flames change, and to follow them there took one step in twenty. Slots as wide as the gallery's whole cross
section carry as much in a tenth of that time.
"""


def scales(first: State, p: Parameters) -> list[float]:
    """Least size of each state that matters: the absolute tolerance is rtol times it.

    A state counts by what its error does to the moments and peaks of a burn, over 95 designs. Air in the gallery, the
    collar's heat, the hot top and the slots' speed settle within seconds, and an error of theirs is soon forgotten:
    held two to five times tighter, they took a tenth more evaluations, and moments and peaks came no closer to those of
    a tolerance a thousand times tighter.
    """
    return [entry.row.scale(first, p) for entry in entries(p.components)]


def rule_of(rtol: float, first: State, p: Parameters, memory: Memory) -> Rule:
    """What the steps of a burn must meet that begins in a first state, with a relative tolerance."""
    rows = [entry.row for entry in entries(p.components)]
    tallies = [entry.row for entry in tally_entries(p.components)]

    def row(numbers: list[float]) -> Vector:
        made = memory.row(len(numbers))
        for k, number in enumerate(numbers):
            made[k] = number
        return made

    scale = scales(first, p)
    algebraic = place("slot_speed", p.components)
    amounts = [AMOUNT if one.amount else 0.0 for one in rows]
    return Rule(
        size=len(rows),
        whole=len(rows) + len(tallies),
        rtol=rtol,
        scale=row(scale),
        mass=row([0.0 if one.algebraic else 1.0 for one in rows]),
        least=row([LAST_DROPS * size if one.amount else size for one, size in zip(rows, scale, strict=True)]),
        kind=row(amounts + [RISING if one.rising else 0.0 for one in tallies]),
        part=row([float(one.part) for one in rows]),
        absent=row([float(bool(one.of) and getattr(p, one.of).present <= 0.0) for one in rows]),
        spendable=row([float(one.spendable) for one in rows]),
        needs=row([float(Regime._fields.index(one.flame)) if one.flame else -1.0 for one in rows]),
        bends=row([one.bends(p) for one in rows]),
        most_steps=most_steps(rtol),
        algebraic=algebraic,
        carried=min(CARRIED, FILLED * p.gallery.area * p.slots.height / max(p.slots.area * scale[algebraic], 1e-12)),
    )


def rest(idle: Vector, regime: Vector, rule: Rule) -> None:
    """Mark the states on which no flow depends in a regime, though their rates may differ from 0: fills `idle`."""
    for k in range(rule.size):
        needed = int(rule.needs[k])
        idle[k] = 1.0 if rule.absent[k] > 0.0 or (needed >= 0 and regime[needed] <= 0.0) else 0.0


def spent(amount: float, rate: float) -> bool:
    """True if no more of something is left and none comes in: no flow depends on it then.

    >>> spent(-1e-15, 0.0), spent(0.0, 1e-4), spent(1e-12, -1e-13)
    (True, False, False)
    """
    return amount <= 0.0 and rate <= 0.0


def slot_weight(gallery: Liquid, well: Liquid, p: Parameters) -> float:
    """How much an error of the speed in the feed slots counts: in full while liquid covers them on both sides.

    Once they stand partly bare it carries little liquid. Liquids are those where a step begins.
    """
    return 1.0 if min(gallery.level, well.level) >= p.slots.height else BARE_SLOTS
