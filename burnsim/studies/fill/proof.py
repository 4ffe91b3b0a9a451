"""What the burns of a fill limit prove: a burner that went out has not shown that its load is safe."""

from collections.abc import Mapping
from math import inf
from typing import NamedTuple

from burnsim.studies.fill.spill_runs import Seen, safe
from burnsim.units.writing import Quantity, Text

TURN = 0.3e-3  # clearance that grows with the load by more than this turns back [m]; splitting steps moves it by less


class Proof(NamedTuple):
    """Up to which load the burns below a limit stayed lit."""

    stayed_lit: float | None  # largest load that did, without a spill [m3]; None if none did
    kept: float | None  # largest of them that kept the margin's head too [m3]
    dark: str  # what befell every larger load below the limit, in words; "" if the largest one stayed lit


class Turn(NamedTuple):
    """A larger load that stays farther below the jets than a smaller one."""

    smaller: float  # [m3]
    larger: float
    near: float  # clearance of the smaller one [m]
    far: float


def proof(burns: Mapping[float, Seen], holds: float | None, head: float) -> Proof:
    """Find the largest load that stayed lit, and what became of those above it.

    The burns are by load [m3], `holds` is the largest one below the limit, None if even the least one spills, and the
    head is that of the margin [m].
    """
    below = sorted(load for load in burns if holds is not None and load <= holds)
    lit = [load for load in below if burns[load].stayed_lit]
    stayed = lit[-1] if lit else None
    above = [load for load in below if stayed is None or load > stayed]
    kept = [load for load in lit if safe(burns[load], head)]
    return Proof(stayed, kept[-1] if kept else None, burns[above[0]].fate if above else "")


def turn(burns: Mapping[float, Seen]) -> Turn | None:
    """The worst case, by load [m3], of a larger one that stays farther below the jets than a smaller; None if none is.

    Burns that spilled or were not solved are left out.
    """
    worst: Turn | None = None
    smaller, near = 0.0, inf
    for load in sorted(burns):
        room = burns[load].clearance
        if not 0.0 < room < inf:
            continue
        if room - near > (TURN if worst is None else worst.far - worst.near):
            worst = Turn(smaller, load, near, room)
        if room < near:
            smaller, near = load, room
    return worst


def turn_note(found: Turn) -> Text:
    """A turn as a clause.

    >>> from burnsim.units import plain
    >>> plain(turn_note(Turn(36e-6, 60e-6, 8e-3, 16e-3)))
    'more does not always rise higher: 36.0 ml stay 8.0 mm below the jets, 60.0 ml 16.0 mm'
    """
    return Text(
        "more does not always rise higher: {} stay {} below the jets, {} {}",
        Quantity(found.smaller, "volume"), Quantity(found.near, "length"),
        Quantity(found.larger, "volume"), Quantity(found.far, "length"),
    )  # fmt: skip
