"""How much relief a load needs: the smallest notches that keep the pushed-up head below the margin."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from burnsim.answers import Drawn, Told
from burnsim.errors import InputError
from burnsim.model import Design, Setup, as_setup, vary
from burnsim.model.description import geometry
from burnsim.model.description.parts import Notches
from burnsim.solve.engines import Engine
from burnsim.solve.results.spill import MECHANISMS
from burnsim.studies.counting import expect
from burnsim.studies.fill.limit import DARK, burning_head
from burnsim.studies.fill.record import USUAL, Margin, check_margin
from burnsim.studies.fill.spill_runs import Seen, closed, look, may_quench, poor_contact, safe
from burnsim.studies.sweep.plan import spec_at
from burnsim.studies.threshold import rounds, thresholds
from burnsim.units.writing import Quantity, Text

FILE = (3e-3, 1.5e-3)  # width and depth of a notch made by a small flat file [m]; common practice, no source
NOTCHES = 3  # of the smallest relief; square
LEAST_NOTCH = spec_at("burner.relief.width").low  # side of the narrowest one that a description takes [m]
MOST_NOTCHES = 24
FINEST = 0.02  # of the area, as a share
SCAN = 13  # areas that are tried first


@dataclass(frozen=True, repr=False)
class Relief(Told, Drawn):
    """The relief that a load needs with a pot flat on the rim.

    Attributes
    ----------
    area : smallest area, of three square notches [m2]; 0 if none is needed, None if no relief helps or none is known to
    notches : smallest number of notches of the given width and depth; None if none helps
    width, depth : of one such notch [m]
    load : that was asked for [m3]
    reason : in words, what it guards against or why it does not help
    single : whether all larger areas that were looked at are safe, and all smaller ones are not
    warm : whether it was found for a pot that hardly cools the rim, since the cold one put the jets out
    dark : what befalls this load even with wide notches before it can spill, so that no burn shows what it needs; ""
        if it stays lit
    applies : whether there is a well that a relief could open, and that the pot could close
    """

    area: float | None
    notches: int | None
    width: float
    depth: float
    load: float
    reason: str
    single: bool
    warm: bool
    dark: str = ""
    applies: bool = True


def find_relief(
    setup: Design,
    load: float | None = None,
    *,
    margin: Margin = USUAL,
    width: float = FILE[0],
    depth: float = FILE[1],
    engine: Engine = "auto",
) -> Relief:
    """Find the smallest relief with which a load does not spill under a pot flat on the rim.

    Parameters
    ----------
    setup : the design; its own relief and rest of the pot do not count
    load : poured in [m3]; default that of the setup
    margin : its head is kept below the jets through the burn
    width, depth : of one filed notch [m]
    engine : as of `burnsim.burn_many`

    Notes
    -----
    Only burns that stay lit to their end count, under the pot as it is or one with poor contact: what goes out spills
    nothing and proves nothing. Areas are looked at from wide to narrow, so that the area found is the narrowest end of
    a stretch of safe ones (between the points that were looked at, 2 % apart at that end). Where the cold pot puts jets
    out before they can spill, a pot with poor contact is looked at instead, and the relief holds for both.
    """
    setup = as_setup(setup)
    check_margin(margin)
    given = setup if load is None else vary(setup, {"charge.volume": load})
    load = given.charge.volume
    none = Relief(None, None, width, depth, load, "", True, False)
    shut = closed(given)
    if isinstance(shut, str) or not given.burner.has_well:
        why = shut if isinstance(shut, str) else "the chamber is sealed by design; its jets are all its relief"
        return replace(none, reason=why, applies=False)
    _notched(shut, 1, width, depth)
    head = burning_head(given, margin)
    expect(2)
    first = look([shut, poor_contact(shut)], engine)
    if not any(seen.lit or seen.reason for seen in first):
        return replace(none, reason=DARK)
    warm = may_quench(shut) and (not first[0].stayed_lit or not safe(first[1], head))
    setups = (shut, poor_contact(shut)) if warm else (shut,)
    if _proven(first[: len(setups)], head):
        return replace(none, area=0.0, notches=0, reason="it does not spill even with the well sealed", warm=warm)
    worst: dict[float, Seen] = {}
    good: dict[float, bool] = {}

    def ask(batch: Sequence[tuple[int, float]]) -> list[bool]:
        new = sorted({value for _, value in batch} - worst.keys())
        burns = look([notched_square(one, math.exp(-value)) for value in new for one in setups], engine)
        for k, value in enumerate(new):
            seen = burns[k * len(setups) : (k + 1) * len(setups)]
            worst[value] = min(seen, key=lambda one: -math.inf if math.isnan(one.clearance) else one.clearance)
            good[value] = _proven(seen, head)
        return [good[value] for _, value in batch]

    widest = 0.2 * min(given.burner.height, geometry.well_diameter(given.burner))
    most, least = (NOTCHES * side**2 for side in (widest, LEAST_NOTCH))
    ends = (-math.log(most), -math.log(least))
    expect(len(setups) * (SCAN + rounds(*ends, SCAN, FINEST)))
    found = thresholds(ask, [ends], points=SCAN, tolerance=FINEST)[0]
    if not found.tried[0][1]:
        nearest = worst[found.tried[0][0]]
        if safe(nearest, head):
            why = f"{nearest.fate} with this load before it can spill, so no burn shows what it needs"
            return replace(none, reason=why, single=found.single, warm=warm, dark=nearest.fate)
        lead = nearest.levels
        cause = MECHANISMS[lead.lead] if lead is not None else "it comes nearer than the margin"
        why = Text("even {} of notches do not help: {}", Quantity(most, "area", 0), cause)
        return replace(none, reason=why, single=found.single, warm=warm)
    holds, _, single = found.until_no()
    assert holds is not None  # the widest holds
    count = _fewest(setups, head, (width, depth), engine)
    spilled = next((seen for seen in first[: len(setups)] if not safe(seen, head)), None)
    why = "sealed, the froth comes nearer than the margin"
    if spilled is None:
        why = f"{first[0].fate}, so that nothing is proven,"
    elif spilled.levels is not None:
        why = MECHANISMS[spilled.levels.lead]
    return replace(none, area=math.exp(-holds), notches=count, reason=why, single=single, warm=warm)


def _fewest(setups: Sequence[Setup], head: float, notch: tuple[float, float], engine: Engine) -> int | None:
    """Smallest number of equal notches that holds, with every larger number looked at."""
    around = math.pi * setups[0].burner.outer_diameter
    most = min(MOST_NOTCHES, math.ceil(around / notch[0]) - 1)
    counts = range(1, most + 1)
    expect(len(counts) * len(setups))
    burns = look([_notched(one, count, *notch) for count in counts for one in setups], engine)
    good = [_proven(burns[k * len(setups) : (k + 1) * len(setups)], head) for k in range(len(counts))]
    fewest = None
    for count, holds in zip(reversed(counts), reversed(good), strict=True):
        if not holds:
            break
        fewest = count
    return fewest


def _proven(burns: Sequence[Seen], head: float) -> bool:
    """Whether none comes nearer than the margin, and one of them at least burnt to its end."""
    return all(safe(seen, head) for seen in burns) and any(seen.stayed_lit for seen in burns)


def notched_square(setup: Setup, area: float) -> Setup:
    """The same with three square notches of an area together [m2]; without relief for 0."""
    if area <= 0.0:
        return vary(setup, {"burner.relief": None})
    side = max(math.sqrt(area / NOTCHES), LEAST_NOTCH)
    return vary(setup, {"burner.relief": Notches(NOTCHES, side, side)})


def _notched(setup: Setup, count: int, width: float, depth: float) -> Setup:
    if not 0.0 < depth < setup.burner.height:
        raise InputError("depth", depth, "is not a depth of a notch in this rim", "give it in metres")
    return vary(setup, {"burner.relief": Notches(count, width, depth)})
