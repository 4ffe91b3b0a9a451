"""The least charge that boils the water."""

from collections.abc import Sequence
from dataclasses import dataclass

from burnsim.answers import Drawn, Tabled, Told
from burnsim.errors import InputError
from burnsim.model import Design, Setup, as_setup, vary
from burnsim.model.description import geometry
from burnsim.solve import Failure, Outcome
from burnsim.studies.burn_many import sought
from burnsim.studies.threshold import Threshold
from burnsim.units import parse
from burnsim.units.writing import Text, spelt

EXACT = 0.1e-6  # width at which the search for a charge stops [m3]
SMALLEST = 1e-6  # the smallest charge that is tried [m3]

BEFELL = ("never lit", "never blooms", "quenched", "spills", "smothered", "fuel left")
"""Verdicts that may tell why the water does not boil, the first that is given."""


@dataclass(frozen=True, repr=False)
class LeastCharge(Told, Tabled, Drawn):
    """The least that must be poured into the burner to boil the water.

    Attributes
    ----------
    volume : it, without the primer [m3], at most 0.1 ml more than needed; None if no charge boils the water
    reason : why there is none; empty otherwise
    most : the largest that was tried [m3]
    steady : whether every larger charge that was tried boils the water too
    tried : (charge [m3], boil [s] or None) in the order of the charge
    unsteady : why the least of the larger charges that do not boil the water does not; empty if it is steady
    """

    volume: float | None
    reason: str
    most: float
    steady: bool
    tried: tuple[tuple[float, float | None], ...]
    unsteady: str = ""


def find_least_charge(setup: Design, *, most: float | str | None = None, tolerance: float = EXACT) -> LeastCharge:
    """Find the least charge that boils the water, by bisection, with a look at larger charges first.

    Parameters
    ----------
    setup : with a pot; the primer stays as it is
    most : the largest charge to try [m3]; default none: what the burner holds below its jets
    tolerance : width at which to stop [m3]

    Raises
    ------
    InputError
        Without a pot, or for a largest charge below 1 ml or beyond what the burner holds.
    """
    setup = as_setup(setup)
    largest = None if most is None else parse(most, "volume", "most")
    return least_charges([setup], most=largest, tolerance=tolerance)[0]


def least_charges(
    setups: Sequence[Setup], *, most: float | None = None, points: int = 9, tolerance: float = EXACT
) -> list[LeastCharge]:
    """`find_least_charge` for many setups, in batches; so many even steps of charge are tried first."""
    ends = []
    for setup in setups:
        if setup.pot is None:
            raise InputError("pot", None, "is missing: there is no water to boil", "describe the pot")
        full = geometry.capacity(setup.burner)
        high = 0.999 * geometry.capacity_below_jets(setup.burner) if most is None else most
        if not SMALLEST < high <= full:
            problem = f"is out of range; allowed from 1 ml to {spelt(full, 'volume')}"
            raise InputError("most", spelt(high, "volume"), problem, "leave it out to fill up to the jets")
        ends.append((SMALLEST, high))
    found, seen = sought(
        ends, range(len(ends)), lambda k, volume: vary(setups[k], {"charge.volume": volume}),
        lambda _, burn: _boil(burn) is not None, points=points, tolerance=tolerance,
    )  # fmt: skip
    return [
        _least(one, high, {volume: seen[k, volume] for volume, _ in one.tried})
        for k, (one, (_, high)) in enumerate(zip(found, ends, strict=True))
    ]


def _boil(burn: Outcome | Failure) -> float | None:
    return None if isinstance(burn, Failure) else burn.milestones.boil.time


def _least(found: Threshold, most: float, burns: dict[float, Outcome | Failure]) -> LeastCharge:
    tried = tuple((volume, _boil(burns[volume])) for volume, _ in found.tried)
    if found.yes is None:
        last = burns[most]
        reason = f"the run failed: {last.reason}" if isinstance(last, Failure) else last.milestones.boil.reason
        return LeastCharge(None, reason, most, True, tried)
    bad = next((burns[volume] for volume, boil in tried if volume >= found.yes and boil is None), None)
    why = ""  # what befell the flames, if anything did; else how far it came
    if isinstance(bad, Failure):
        why = f"The run fails: {bad.reason}."
    elif bad is not None:
        told = {verdict.code: verdict.text for verdict in bad.verdicts}
        why = next((told[code] for code in BEFELL if code in told), "")
        why = why or Text("The water does not boil: {}.", bad.milestones.boil.reason)
    return LeastCharge(found.yes, "", most, bad is None, tried, why)
