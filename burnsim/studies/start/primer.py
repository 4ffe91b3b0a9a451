"""How much primer it takes to light the jets and keep them burning."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from burnsim.answers import Drawn, Tabled, Told
from burnsim.errors import InputError
from burnsim.model.description import geometry
from burnsim.model.description.files import Design, as_setup
from burnsim.model.description.setup import Setup
from burnsim.model.description.vary import vary
from burnsim.solve.many import Failure
from burnsim.solve.results.outcome import Outcome
from burnsim.studies.batches import burn_planned, planned
from burnsim.studies.counting import expect
from burnsim.studies.threshold import Threshold, thresholds

EXACT = 0.05e-6
"""Width at which the search for a primer stops [m3]."""

MOST = 0.1e-3
"""The largest primer that a setup may have [m3]."""

HELD = 0.5
"""Share of the charge's heat that must burn before a start counts as held: lit jets go out soon or run their course."""

Goal = Literal["hold", "bloom"]


@dataclass(frozen=True, repr=False)
class Primer(Told, Tabled, Drawn):
    """The least primer that does.

    Attributes
    ----------
    volume : it [m3], at most 0.05 ml more than needed; None if no primer up to `most` does
    reason : why there is none; empty otherwise
    most : the largest that was tried [m3]
    bloom : when the jets light with it [s]; None without
    outcome : the burn with it, or with the largest primer if none does; None if that run failed
    steady : whether every larger primer that was tried does, too
    tried : (primer [m3], whether it does) in the order of the primer
    """

    volume: float | None
    reason: str
    most: float
    bloom: float | None
    outcome: Outcome | None
    steady: bool
    tried: tuple[tuple[float, bool], ...]


def find_primer(setup: Design, *, goal: Goal = "hold", most: float | None = None, tolerance: float = EXACT) -> Primer:
    """Find the least primer that starts the jets, by bisection, with a look at all larger primers first.

    Parameters
    ----------
    setup : a burner with jets and a wick; its own primer does not count
    goal : "hold", the jets light and burn on until half of the charge's heat is out; "bloom", they light, if only for a
        moment
    most : the largest primer to try [m3]; default none: what the wick soaks up
    tolerance : width at which to stop [m3]

    Returns
    -------
    Primer

    Raises
    ------
    InputError
        Without jets or a wick, or for a largest primer out of range.
    """
    setup = as_setup(setup)
    return primers_needed([setup], goal=goal, least=0.0, most=most, tolerance=tolerance)[0]


def primers_needed(
    setups: Sequence[Setup],
    *,
    goal: Goal = "hold",
    least: float | None = None,
    most: float | None = None,
    points: int = 9,
    tolerance: float = EXACT,
) -> list[Primer]:
    """`find_primer` for many setups, in batches.

    Parameters
    ----------
    setups : burners with jets and a wick
    goal : "hold" or "bloom"
    least : the smallest primer to try [m3]; default none: the setup's own
    most : the largest [m3]; default none: what the wick soaks up
    points : even steps in between that are tried first
    tolerance : width at which to stop [m3]

    Returns
    -------
    list of Primer
    """
    if goal not in ("hold", "bloom"):
        raise InputError("goal", goal, "is not a known goal", 'use "hold" or "bloom"')
    for setup in setups:
        check_primable(setup)
    if most is not None and not EXACT <= most <= MOST:
        raise InputError(
            "most", most, "is out of range; allowed 0.05 ml to 100 ml", "leave it out for what the wick holds"
        )
    ends = []
    for setup in setups:
        low = setup.charge.primer if least is None else least
        high = geometry.wick_capacity(setup.burner) if most is None else most
        ends.append((min(low, high), max(low, high)))
    seen: list[dict[float, Outcome | Failure]] = [{} for _ in setups]
    plan = planned(setups, ends, points, tolerance)
    expect(sum(plan.values()))

    def lights(batch: Sequence[tuple[int, float]]) -> list[bool]:
        burns = burn_planned([vary(setups[k], {"charge.primer": primer}) for k, primer in batch], plan)
        for (k, primer), burn in zip(batch, burns, strict=True):
            seen[k][primer] = burn
        return [shortfall(burn, goal) == "" for burn in burns]

    found = thresholds(lights, ends, points=points, tolerance=tolerance)
    return [_primer(one, high, burns, goal) for one, (_, high), burns in zip(found, ends, seen, strict=True)]


def check_primable(setup: Setup) -> None:
    """Refuse a burner without jets or without a wick.

    Raises
    ------
    InputError
    """
    if setup.burner.jets is None:
        raise InputError("burner.kind", setup.burner.kind, "has no jets to light", "ask this of a burner with jets")
    if setup.burner.wick is None:
        raise InputError("burner.wick", None, "is missing: primer goes onto a wick", "describe burner.wick")


def shortfall(burn: Outcome | Failure, goal: Goal) -> str:
    """Why a burn does not reach the goal; empty if it does.

    Parameters
    ----------
    burn : what came of it
    goal : "hold" or "bloom"
    """
    if isinstance(burn, Failure):
        return f"the run failed: {burn.reason}"
    bloom = burn.milestones.bloom
    if bloom.time is None:
        return bloom.reason
    left = burn.energy.left / burn.energy.charged if burn.energy.charged > 0.0 else 1.0
    if goal == "bloom" or left <= 1.0 - HELD:
        return ""
    out = burn.milestones.quench.time or burn.duration
    share = 100.0 * burn.mass.left / burn.mass.charged
    return f"the jets light at {bloom.time:.0f} s but go out at {out:.0f} s with {share:.0f} % of the charge left"


def _primer(found: Threshold, most: float, burns: dict[float, Outcome | Failure], goal: Goal) -> Primer:
    if found.yes is None:
        last = burns[most]
        outcome = None if isinstance(last, Failure) else last
        return Primer(None, shortfall(last, goal), most, None, outcome, True, found.tried)
    burn = burns[found.yes]
    assert not isinstance(burn, Failure)  # it reached the goal
    steady = all(answer for primer, answer in found.tried if primer >= found.yes)
    return Primer(found.yes, "", most, burn.milestones.bloom.time, burn, steady, found.tried)
