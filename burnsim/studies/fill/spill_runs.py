"""Burns looked at for one thing, how far the froth stays below the jets, and what they prove of their loads.

A burner that went out has not shown that its load is safe.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import partial
from math import inf, nan
from typing import NamedTuple

from burnsim.bounds import within
from burnsim.errors import InputError
from burnsim.model import Setup, vary
from burnsim.model.description import geometry
from burnsim.model.description.factors import BANDS, LIMITS
from burnsim.solve import Failure, Outcome, burn_many
from burnsim.solve.engines import Engine, prepare
from burnsim.solve.results.spill import Levels
from burnsim.studies.batches import burn_batch
from burnsim.units.writing import Quantity, Text

POOR_CONTACT = BANDS["rim_contact"].low
"""Share of the rim's contact with a pot that still lets its jets burn; low end of the factor's band."""
TIGHT = BANDS["rim_leak"].low
"""Share of the usual leak under a pot that shuts the well; low end of the factor's band.

The leak's gap is a guess whose cube relieves the well, so that no load is safe to pour by the usual one. `rim_contact`
is left alone: what narrows the mean gap takes more heat from the rim as well, and less boils.
"""
TURN = 0.3e-3  # clearance that grows with the load by more than this turns back [m]; splitting steps moves it by less

OVER_PRESSURE = "its pressure exceeds the stated limit"


class Seen(NamedTuple):
    """What a burn showed of its spilling."""

    clearance: float  # from the highest froth to the lowest jet edge [m]; 0 or less: it spilled; nan: not solved
    levels: Levels | None  # when it began to spill; None if it did not
    quenched: bool  # the jets went out with fuel left, not on the water of a spirit that has boiled off
    lit: bool
    reason: str  # why it was not solved
    bloomed: bool = True  # the jets lit, or there are none
    pressed: bool = False  # a chamber exceeded the stated limit of pressure

    @property
    def fate(self) -> str:
        """Why its burn proves nothing of its load, in words; "" if it stayed lit until the fuel was gone."""
        if self.reason:
            return "it could not be solved"
        if not self.lit:
            return "it never lights"
        if not self.bloomed:
            return "its jets never light"
        return "its jets go out" if self.quenched else ""

    @property
    def stayed_lit(self) -> bool:
        """Whether it burnt until the fuel was gone, so that its clearance tells of a whole burn."""
        return not self.fate


def look(setups: Sequence[Setup], engine: Engine = "auto") -> list[Seen]:
    """Burn setups and say how near each came to spilling; one that could not be solved counts as unsafe."""
    how = prepare(setups, inf) if engine == "compiled" else engine
    return [_seen(found) for found in burn_batch(setups, partial(burn_many, engine=how))]


def _seen(found: Outcome | Failure) -> Seen:
    if isinstance(found, Failure):
        return Seen(nan, None, False, False, found.reason)
    setup = found.setup
    marks = found.milestones
    clearance = inf
    if setup.burner.jets is not None:
        clearance = geometry.spill_level(setup.burner, setup.site.tilt) - found.froth_max
    lit = found.ended != "never lit"
    if marks.spill.time is not None:
        clearance = min(clearance, 0.0)
    elif not lit and setup.burner.jets is None:
        level = setup.charge.volume / geometry.well_area(setup.burner)
        clearance = geometry.overflow_level(setup.burner, setup.site.tilt) - level
    bloomed = setup.burner.jets is None or marks.bloom.time is not None
    quenched = any(verdict.code == "quenched" for verdict in found.verdicts)
    pressed = max(found.gallery_pressure_max, found.well_pressure_max) > setup.pressure_limit
    return Seen(clearance, found.spill_levels, quenched, lit, "", bloomed, pressed)


def safe(seen: Seen, head: float) -> bool:
    """Whether a burn kept a head below the jets [m]."""
    return seen.clearance > head if head > 0.0 else seen.clearance > 0.0


def closed(setup: Setup) -> Setup | str:
    """The same with its well sealed: the pot flat on a rim without notches, the fit tight; or why that cannot be."""
    if not setup.burner.has_well:
        return setup
    if not setup.burner.has_gallery:
        return "an open cup has no gallery into which pressure could push the liquid"
    if setup.pot is None:
        return "no pot is described, so nothing closes the well"
    changes: Mapping[str, object] = {"burner.relief": None, "pot.rest": "full ring"}
    try:
        return _with_leak(vary(setup, changes), TIGHT)
    except InputError as error:
        return f"a pot flat on the rim cannot be: it {error.problem.split(';')[0]}"


def poor_contact(setup: Setup) -> Setup:
    """The same with a pot that cools the rim little, so that it does not hide a spill by putting the jets out.

    Soot or dents may take its contact away and leave its fit: the gap that vapour finds is not wider.
    """
    contact = max(POOR_CONTACT * setup.factors.rim_contact, LIMITS["rim_contact"][0])
    poor = replace(setup, factors=replace(setup.factors, rim_contact=contact))
    return _with_leak(poor, contact / setup.factors.rim_contact)


def _with_leak(setup: Setup, times: float) -> Setup:
    """The same with the leak under a pot flat on the rim so many times as wide a share of the mean gap there."""
    leak = within(times * setup.factors.rim_leak, *LIMITS["rim_leak"])
    return replace(setup, factors=replace(setup.factors, rim_leak=leak))


def may_quench(setup: Setup) -> bool:
    """Whether a pot rests flat on the rim, and so might put the jets out."""
    return setup.pot is not None and setup.pot.rest == "full ring" and setup.burner.jets is not None


class Proof(NamedTuple):
    """Up to which load the burns below a limit stayed lit, and no chamber exceeded its limit of pressure."""

    stayed_lit: float | None  # largest load that did, below the least that tells nothing [m3]; None if none did
    kept: float | None  # largest that did and kept the margin's head too [m3]; None if none did
    dark: str  # what befell the least load that tells nothing, in words; "" if there is none
    silent: float | None = None  # that load: above all that kept the head, and yet without a whole burn [m3]


def proof(burns: Mapping[float, Seen], holds: float | None, head: float) -> Proof:
    """Find the largest load that stayed lit, below the least that exceeds its pressure, and what became of those above.

    The burns are by load [m3], `holds` is the largest one below the limit, None if even the least one spills, and the
    head is that of the margin [m]. A load that stayed lit and came nearer to the jets than the head tells nothing of
    the loads below it that went out: that those keep the head, no whole burn has shown.
    """
    below = sorted(load for load in burns if holds is not None and load <= holds)
    bursts = min((load for load in below if burns[load].pressed), default=inf)
    lit = [load for load in below if burns[load].stayed_lit and load < bursts]
    kept = max((load for load in lit if safe(burns[load], head)), default=None)
    silent = next((load for load in below if load not in lit and (kept is None or load > kept)), None)
    stayed = max((load for load in lit if silent is None or load < silent), default=None)
    if silent is None:
        return Proof(stayed, kept, "")
    return Proof(stayed, kept, OVER_PRESSURE if burns[silent].pressed else burns[silent].fate, silent)


def turn(burns: Mapping[float, Seen]) -> Text | None:
    """The worst case, by load [m3], of a larger one that stays farther below the jets than a smaller; None if none is.

    Burns that spilled or were not solved are left out.

    >>> from burnsim.units import plain
    >>> near, far = (Seen(clearance, None, False, True, "") for clearance in (8e-3, 16e-3))
    >>> plain(turn({36e-6: near, 60e-6: far}))
    'more does not always rise higher: 36.0 ml stay 8.0 mm below the jets, 60.0 ml 16.0 mm'
    """
    told = None
    most, smaller, near = TURN, 0.0, inf
    for load in sorted(burns):
        room = burns[load].clearance
        if not 0.0 < room < inf:
            continue
        if room - near > most:
            most = room - near
            told = Text(
                "more does not always rise higher: {} stay {} below the jets, {} {}",
                Quantity(smaller, "volume"), Quantity(near, "length"),
                Quantity(load, "volume"), Quantity(room, "length"),
            )  # fmt: skip
        if room < near:
            smaller, near = load, room
    return told
