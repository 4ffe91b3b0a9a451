"""The fields that a builder can change, the values that each can be given with drills, sheet and a ruler, and cliffs.

A cliff is a value of a field at which what happens changes; it is found by bisection.
"""

import math
from bisect import bisect_left
from collections.abc import Sequence
from typing import NamedTuple

from burnsim.errors import InputError, is_number
from burnsim.model import Setup, value_at, vary
from burnsim.model.description.fields import Spec, allowed, read_quantity
from burnsim.solve import Failure, Outcome
from burnsim.studies.burn_many import Engine
from burnsim.studies.predict.prediction import codes_of
from burnsim.studies.search.space import DRILL_SETS, drill_sizes
from burnsim.studies.sweep.plan import spec_at
from burnsim.studies.threshold import rounds, thresholds
from burnsim.units.drills import NUMBERED
from burnsim.units.table import FLUID_OUNCE, INCH, SYSTEMS

REACH, JETS_REACH = 2.0, 4.0
"""A field is followed from half its value to twice, number and diameter of the jets from a quarter to four times."""
APART = 0.4  # of a step, by which a mark and the value of a design must differ to be one
AT_ZERO = 10  # from a value of 0, so many steps
SHEETS = (0.05e-3, 0.1e-3, 0.15e-3, 0.2e-3, 0.25e-3, 0.3e-3, 0.4e-3, 0.5e-3, 0.8e-3, 1.0e-3)
"""Thicknesses of foil and sheet where the user names none [m]; common practice, no source."""
THOU = tuple(k * INCH / 1000.0 for k in (2, 3, 4, 5, 6, 8, 10, 12, 16, 20, 32, 40))  # the same in the United States
ALIKE = 0.03  # share by which a metric size and one of the United States may differ and be no step
FINE_STEP, COARSE_STEP = (0.5e-3, INCH / 64.0), (1e-3, INCH / 32.0)  # in SI, and in the United States [m]

STEPS: dict[str, tuple[float, float]] = {
    "burner.jets.count": (1.0, 1.0),
    "burner.jets.height": FINE_STEP,
    "burner.height": COARSE_STEP,
    "burner.gallery_gap": FINE_STEP,
    "burner.rim_width": FINE_STEP,
    "burner.feed_slots.count": (1.0, 1.0),
    "burner.feed_slots.height": FINE_STEP,
    "burner.relief.count": (1.0, 1.0),
    "burner.relief.depth": FINE_STEP,
    "burner.wick.height": COARSE_STEP,
    "burner.wick.thickness": FINE_STEP,
    "charge.volume": (1e-6, 0.05 * FLUID_OUNCE),
    "charge.primer": (0.5e-6, 0.02 * FLUID_OUNCE),
    "pot.gap": FINE_STEP,
    "screen.clearance": (5e-3, INCH / 4.0),
    "screen.height": (10e-3, INCH / 2.0),
}
"""What a hand with a ruler, a file and a syringe can tell apart, in SI and in the United States [SI]; common practice,
no source."""
DRILLED = "burner.jets.diameter"
ROLLED = "burner.wall_thickness"


class Ladder(NamedTuple):
    """A field and the values that it can be given, rising."""

    path: str  # of the field, dotted
    now: float  # its value in the design [SI]
    # lower, higher: values on either side that can be built, from the nearest outwards [SI]
    lower: tuple[float, ...]
    higher: tuple[float, ...]

    def beyond(self, value: float) -> float | None:
        """The nearest value that can be built at or beyond another one, seen from the design; None if there is none."""
        if value >= self.now:
            return next((one for one in self.higher if one >= value - 1e-9 * abs(value)), None)
        return next((one for one in self.lower if one <= value + 1e-9 * abs(value)), None)


def ladders(
    setup: Setup, drills: Sequence[object] | None, sheets: Sequence[object] | None, units: str = "si"
) -> tuple[Ladder, ...]:
    """Every field of a design that a builder can change in steps, without the values that cannot be built.

    Diameters of drills and thicknesses of sheets that are at hand are, if none are told, a metric set in steps of 0.05
    mm and the usual ones; in units "us" the number drills and sheets in thousandths of an inch.
    """
    us = SYSTEMS.index(units)
    own = {
        path: None if given is None else sizes(given, spec_at(path), name)
        for path, given, name in ((DRILLED, drills, "drills"), (ROLLED, sheets, "sheets"))
    }
    found = []
    for path in (DRILLED, ROLLED, *STEPS):
        now = value_at(setup, path)
        if not is_number(now) or (path == "pot.gap" and setup.pot is not None and setup.pot.rest == "full ring"):
            continue
        spec = spec_at(path)
        reach = JETS_REACH if path in ("burner.jets.count", DRILLED) else REACH
        step = STEPS[path][us] if path in STEPS else 0.0
        low, high = (now / reach, now * reach) if now > 0.0 else (0.0, AT_ZERO * step)
        low, high = max(low, spec.low), min(high, spec.high)
        values, near = own.get(path), 1e-6
        if us and values is None and path in (DRILLED, ROLLED):
            near = ALIKE
        if values is None and path == DRILLED:
            values = drill_sizes(low, high, DRILL_SETS[us])
        elif values is None and path == ROLLED:
            values = tuple(one for one in (SHEETS, THOU)[us] if low <= one <= high)
        elif values is None:
            rows = setup.burner.jets.rows if path == "burner.jets.count" and setup.burner.jets else 1
            values = _even(now, low, high, step * rows)
        lower = tuple(one for one in sorted(values, reverse=True) if one < now * (1.0 - near))
        higher = tuple(one for one in sorted(values) if one > now * (1.0 + near))
        one = Ladder(path, now, _built(setup, path, lower), _built(setup, path, higher))
        if one.lower or one.higher:
            found.append(one)
    return tuple(found)


def _even(now: float, low: float, high: float, step: float) -> tuple[float, ...]:
    """Whole numbers of a step from low to high, as a ruler or a syringe shows them, but for those that are about `now`.

    >>> _even(12e-3, 11e-3, 13e-3, 0.5e-3)
    (0.011, 0.0115, 0.0125, 0.013)
    >>> [round(value * 32 / INCH, 9) for value in _even(12e-3, 11e-3, 13e-3, INCH / 32)]  # 12 mm are 15.1 steps
    [14.0, 16.0]
    """
    first, last = math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9)
    marks = (round(k * step, 12) for k in range(first, last + 1))
    return tuple(mark for mark in marks if abs(mark - now) >= APART * step)


DRILL_NUMBERS = frozenset(str(k) for k in range(1, len(NUMBERED) + 1))


def sizes(given: Sequence[object], spec: Spec, name: str) -> tuple[float, ...]:
    """Lengths that somebody has, rising [m], from texts such as "0.9 mm" or "#60 drill", or SI numbers.

    An `InputError`, which has the argument's name, for what is not a list of lengths within the field's range.

    >>> sizes(["0.9 mm", "#60 drill"], spec_at("burner.jets.diameter"), "drills")
    (0.0009, 0.001016)
    """
    if isinstance(given, str) or not isinstance(given, Sequence):
        raise InputError(name, given, "is not a list", 'give a list such as ["0.9 mm", "#60 drill"]')
    found = []
    for one in given:
        if name == "drills" and str(one).strip() in DRILL_NUMBERS:
            raise InputError(name, one, "has no unit", f"did you mean '#{str(one).strip()} drill'? or give '0.9 mm'")
        value = read_quantity(one, spec, name)
        if not spec.low <= value <= spec.high:
            raise InputError(name, one, f"is out of range; {allowed(spec)}", spec.remedy)
        found.append(round(value, 9))
    return tuple(sorted(set(found)))


def with_value(setup: Setup, path: str, value: float) -> Setup:
    """The design with another value in a field; counts become whole."""
    return vary(setup, {path: round(value) if spec_at(path).dimension == "count" else value})


def can_be_built(setup: Setup, path: str, value: float) -> bool:
    """Whether the design with another value in a field can be built."""
    try:
        with_value(setup, path, value)
    except InputError:
        return False
    return True


def _built(setup: Setup, path: str, values: tuple[float, ...]) -> tuple[float, ...]:
    """Those up to the first that cannot be built; found by halving, as most can."""
    if not values or not can_be_built(setup, path, values[0]):
        return ()
    if can_be_built(setup, path, values[-1]):
        return values
    return values[: bisect_left(values, True, key=lambda value: not can_be_built(setup, path, value))]


CLIFFS: dict[str, frozenset[str]] = {
    "quench": frozenset({"quenched"}),
    "no bloom": frozenset({"never blooms", "never lit"}),
    "spill": frozenset({"spills"}),
    "no boil": frozenset({"no boil"}),
    "over-pressure": frozenset({"pressure"}),
    "light-back": frozenset({"light-back"}),
    "melting": frozenset({"rim melts", "pot melts"}),
    "lack of air": frozenset({"smothered", "flames past the pot"}),
    "lift-off": frozenset({"lift-off"}),
}
"""Verdicts that mean each cliff."""
FAILS = frozenset[str]().union(*(codes for name, codes in CLIFFS.items() if name != "lift-off"))
"""Verdicts with which a design does not do its work, or not safely."""
POINTS = 5  # values at which each side of a field is tried first, the design's own among them
FINE = 1.0 / 192.0  # of the stretch that is followed: where the bisection stops


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

    @property
    def least(self) -> float | None:
        """By how much a count changes at least: jets in rows by one a row; None for what is no count."""
        if spec_at(self.ladder.path).dimension != "count":
            return None
        return min(abs(one - self.ladder.now) for one in (*self.ladder.lower[:1], *self.ladder.higher[:1]))

    def value(self, t: float) -> float:
        """The value at a share of the way [SI]; counts are such as can be built."""
        way, ends = t * (self.end - self.ladder.now), sorted((self.ladder.now, self.end))
        value = self.ladder.now + (way if self.least is None else round(way / self.least) * self.least)
        return min(max(value, ends[0]), ends[1])  # rounding may lead beyond what the field can be


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
    questions = [(k, name) for k in range(len(sides)) for name in CLIFFS]
    known = {(k, side.ladder.now): codes_of(own) for k, side in enumerate(sides)}

    def ask(batch: Sequence[tuple[int, float]]) -> list[bool]:
        asked = [(k, name, sides[k].value(t)) for (k, name), t in ((questions[q], t) for q, t in batch)]
        fresh = [one for one in dict.fromkeys((k, value) for k, _, value in asked) if one not in known]
        burns = engine([with_value(setup, sides[side].ladder.path, value) for side, value in fresh], ())
        known.update(zip(fresh, map(codes_of, burns), strict=True))
        return [bool(known[k, value] & CLIFFS[name]) for k, name, value in asked]

    parts = [1.0 if side.least is None else side.least / abs(side.end - side.ladder.now) for side in sides]
    widths = [min(FINE, 0.5 * parts[k]) for k, _ in questions]  # so that two neighbouring counts are told apart
    found = thresholds(ask, [(0.0, 1.0)] * len(questions), points=POINTS, tolerance=widths)
    seen = []
    for (k, name), one in zip(questions, found, strict=True):
        if one.yes is None or one.no is None:
            continue
        side = sides[k]
        near, far = (side.value(t) for t in sorted((one.yes, one.no)))
        fallen = one.yes < one.no
        if fallen and (known[k, far] - codes_of(own)) & FAILS:
            continue  # from one failure into another is no way back
        seen.append(Cliff(side.ladder.path, name, near, far, side.ladder.now, fallen))
    return tuple(sorted(seen, key=lambda one: one.share))
