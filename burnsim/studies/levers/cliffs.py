"""How far a design is from each cliff: the values of a field at which what happens changes, found by bisection."""

from collections.abc import Sequence
from typing import NamedTuple

from burnsim.model.description.setup import Setup
from burnsim.solve import Failure, Outcome
from burnsim.studies.burn_many import Engine
from burnsim.studies.levers.steps import Ladder, with_value
from burnsim.studies.predict.prediction import codes_of
from burnsim.studies.sweep.plan import spec_at
from burnsim.studies.threshold import rounds, thresholds

CLIFFS: dict[str, frozenset[str]] = {
    "quench": frozenset({"quenched"}),
    "no bloom": frozenset({"never blooms", "never lit"}),
    "spill": frozenset({"spills"}),
    "no boil": frozenset({"no boil"}),
    "lift-off": frozenset({"lift-off"}),
}
"""Verdicts that mean each cliff."""
FAILS = frozenset[str]().union(*(codes for name, codes in CLIFFS.items() if name != "lift-off"))
"""Verdicts with which a design does not do its work."""
POINTS = 5  # values at which each side of a field is tried first, the design's own among them
FINE = 1.0 / 128.0  # of the stretch that is followed: where the bisection stops


class Cliff(NamedTuple):
    """Where a design goes over a cliff, or comes back from one, as one field changes."""

    path: str  # of the field
    name: str  # a key of `CLIFFS`
    # near, far: the two values between which it changes, `near` as the design does [SI]
    near: float
    far: float
    now: float  # value of the design [SI]
    fallen: bool  # whether the design lies beyond the cliff already, so that this is its way back

    @property
    def distance(self) -> float:
        """Change of the field that takes it there [SI]."""
        return self.far - self.now

    @property
    def share(self) -> float:
        """The same as a share of the design's value; of one that is 0, of the change itself."""
        return abs(self.distance / self.now) if self.now else 1.0


class Stretch(NamedTuple):
    """One side of a field, from the design's value outwards."""

    ladder: Ladder
    end: float

    def value(self, t: float) -> float:
        """The value at a share of the way [SI]; counts are whole."""
        value = self.ladder.now + t * (self.end - self.ladder.now)
        return float(round(value)) if spec_at(self.ladder.path).dimension == "count" else value


def stretches(found: Sequence[Ladder]) -> list[Stretch]:
    """Both sides of every field that has any."""
    return [Stretch(one, side[-1]) for one in found for side in (one.lower, one.higher) if side]


def most_burns(sides: int) -> int:
    """How many burns the search for cliffs takes at most, by and large: every side with two cliffs."""
    return 1 + sides * (POINTS - 1 + 2 * rounds(0.0, 1.0, POINTS, FINE))


def cliffs(setup: Setup, sides: Sequence[Stretch], own: Outcome | Failure, engine: Engine) -> tuple[Cliff, ...]:
    """Every cliff on the way from a design, of which `own` comes, along the sides of its fields, the nearest first.

    On each side five even values are burnt first; a cliff that lies between two of them and is over before the next
    is not seen. Every burn answers for all cliffs.
    """
    names = list(CLIFFS)
    known = {(k, side.ladder.now): codes_of(own) for k, side in enumerate(sides)}

    def ask(batch: Sequence[tuple[int, float]]) -> list[bool]:
        asked = [(k // len(names), sides[k // len(names)].value(t)) for k, t in batch]
        fresh = [one for one in dict.fromkeys(asked) if one not in known]
        burns = engine([with_value(setup, sides[side].ladder.path, value) for side, value in fresh], ())
        known.update(zip(fresh, map(codes_of, burns), strict=True))
        return [bool(known[one] & CLIFFS[names[k % len(names)]]) for one, (k, _) in zip(asked, batch, strict=True)]

    questions = [(0.0, 1.0)] * (len(sides) * len(names))
    widths = [_width(side) for side in sides for _ in names]
    found = thresholds(ask, questions, points=POINTS, tolerance=widths) if sides else []
    seen = []
    for k, one in enumerate(found):
        if one.yes is None or one.no is None:
            continue
        side, name = sides[k // len(names)], names[k % len(names)]
        near, far = (side.value(t) for t in sorted((one.yes, one.no)))
        fallen = one.yes < one.no
        if fallen and (known[k // len(names), far] - codes_of(own)) & FAILS:
            continue  # from one failure into another is no way back
        seen.append(Cliff(side.ladder.path, name, near, far, side.ladder.now, fallen))
    return tuple(sorted(seen, key=lambda one: one.share))


def _width(side: Stretch) -> float:
    """Tolerance as a share of a side: of counts, so small that two neighbours are told apart."""
    span = abs(side.end - side.ladder.now)
    return min(FINE, 0.5 / span) if spec_at(side.ladder.path).dimension == "count" else FINE
