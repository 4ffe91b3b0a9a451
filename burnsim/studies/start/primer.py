"""How much primer it takes to light the jets and keep them burning."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, get_args

from burnsim.answers import Drawn, Tabled, Told
from burnsim.errors import InputError, unknown
from burnsim.model import Design, Setup, as_setup, vary
from burnsim.model.description import geometry
from burnsim.solve import Failure, Outcome
from burnsim.studies.burn_many import sought
from burnsim.studies.sweep.plan import spec_at
from burnsim.units import parse
from burnsim.units.writing import spelt

EXACT = 0.05e-6  # width at which the search for a primer stops [m3]
MOST = spec_at("charge.primer").high  # the largest primer that a setup may have [m3]

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


def find_primer(
    setup: Design, *, goal: Goal = "hold", most: float | str | None = None, tolerance: float = EXACT
) -> Primer:
    """Find the least primer that starts the jets, by bisection, with a look at all larger primers first.

    Parameters
    ----------
    setup : a burner with jets and a wick; its own primer does not count
    goal : "hold", the jets light and burn on until half of the charge's heat is out; "bloom", they light, if only for a
        moment
    most : the largest primer to try [m3]; default none: what the wick soaks up
    tolerance : width at which to stop [m3]

    Raises
    ------
    InputError
        Without jets or a wick, or for a largest primer out of range.
    """
    setup = as_setup(setup)
    largest = None if most is None else parse(most, "volume", "most")
    return primers_needed([setup], goal=goal, least=0.0, most=largest, tolerance=tolerance)[0]


def primers_needed(
    setups: Sequence[Setup],
    *,
    goal: Goal = "hold",
    least: float | None = None,
    most: float | None = None,
    points: int = 9,
    tolerance: float = EXACT,
) -> list[Primer]:
    """`find_primer` for many setups, in batches, from a least primer [m3], by default the setup's own."""
    if goal not in get_args(Goal):
        raise unknown("goal", goal, get_args(Goal), show=repr)
    for setup in setups:
        if setup.burner.jets is None:
            raise InputError("burner.kind", setup.burner.kind, "has no jets to light", "ask this of a burner with jets")
        if setup.burner.wick is None:
            raise InputError("burner.wick", None, "is missing: primer goes onto a wick", "describe burner.wick")
    if most is not None and not EXACT <= most <= MOST:
        problem = "is out of range; allowed 0.05 ml to 100 ml"
        raise InputError("most", spelt(most, "volume"), problem, "leave it out for what the wick holds")
    ends = []
    for setup in setups:
        low = setup.charge.primer if least is None else least
        high = geometry.wick_capacity(setup.burner) if most is None else most
        ends.append((min(low, high), max(low, high)))
    found, seen = sought(
        ends, range(len(ends)), lambda k, primer: vary(setups[k], {"charge.primer": primer}),
        lambda _, burn: shortfall(burn, goal) == "", points=points, tolerance=tolerance,
    )  # fmt: skip
    primers = []
    for k, (one, (_, high)) in enumerate(zip(found, ends, strict=True)):
        burn = seen[k, high if one.yes is None else one.yes]  # of the least that does, or the largest if none does
        if one.yes is None or isinstance(burn, Failure):
            outcome = None if isinstance(burn, Failure) else burn
            primers.append(Primer(None, shortfall(burn, goal), high, None, outcome, True, one.tried))
        else:
            steady = all(answer for primer, answer in one.tried if primer >= one.yes)
            primers.append(Primer(one.yes, "", high, burn.milestones.bloom.time, burn, steady, one.tried))
    return primers


def shortfall(burn: Outcome | Failure, goal: Goal) -> str:
    """Why a burn does not reach the goal; empty if it does."""
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
