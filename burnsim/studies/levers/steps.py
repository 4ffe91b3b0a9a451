"""The fields that a builder can change, and the values that each can be given with drills, sheet and a ruler."""

from bisect import bisect_left
from collections.abc import Sequence
from typing import NamedTuple

from burnsim.errors import InputError, is_number
from burnsim.model.description.fields import Spec, read_quantity
from burnsim.model.description.setup import Setup
from burnsim.model.description.vary import value_at, vary
from burnsim.studies.search.space import drill_sizes
from burnsim.studies.sweep.plan import spec_at

REACH = 2.0
"""A field is followed from half its value to twice."""
AT_ZERO = 10
"""From a value of 0, so many steps."""
SHEETS = (0.05e-3, 0.1e-3, 0.15e-3, 0.2e-3, 0.25e-3, 0.3e-3, 0.4e-3, 0.5e-3, 0.8e-3, 1.0e-3)
"""Thicknesses of foil and sheet where the user names none [m]; common practice, no source."""

STEPS: dict[str, float] = {
    "burner.jets.count": 1.0,
    "burner.jets.height": 0.5e-3,
    "burner.height": 1e-3,
    "burner.gallery_gap": 0.5e-3,
    "burner.rim_width": 0.5e-3,
    "burner.feed_slots.count": 1.0,
    "burner.feed_slots.height": 0.5e-3,
    "burner.relief.count": 1.0,
    "burner.relief.depth": 0.5e-3,
    "burner.wick.height": 1e-3,
    "burner.wick.thickness": 0.5e-3,
    "charge.volume": 1e-6,
    "charge.primer": 0.5e-6,
    "pot.gap": 0.5e-3,
    "screen.clearance": 5e-3,
    "screen.height": 10e-3,
}
"""What a hand with a ruler, a file and a syringe can tell apart [SI]; common practice, no source."""
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


def ladders(setup: Setup, drills: Sequence[object] | None, sheets: Sequence[object] | None) -> tuple[Ladder, ...]:
    """Every field of a design that a builder can change in steps, without the values that cannot be built.

    Diameters of drills and thicknesses of sheets that are at hand are, if none are told, a metric set in steps of 0.05
    mm and the usual ones.
    """
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
        low, high = (now / REACH, now * REACH) if now > 0.0 else (0.0, AT_ZERO * STEPS.get(path, 0.0))
        low, high = max(low, spec.low), min(high, spec.high)
        values = own.get(path)
        if values is None and path == DRILLED:
            values = drill_sizes(low, high, "metric")
        elif values is None and path == ROLLED:
            values = SHEETS
        elif values is None:
            values = _even(now, low, high, STEPS[path] * (_rows(setup) if path == "burner.jets.count" else 1))
        lower = tuple(one for one in sorted(values, reverse=True) if one < now * (1.0 - 1e-6))
        higher = tuple(one for one in sorted(values) if one > now * (1.0 + 1e-6))
        one = Ladder(path, now, _built(setup, path, lower), _built(setup, path, higher))
        if one.lower or one.higher:
            found.append(one)
    return tuple(found)


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
        value = read_quantity(one, spec, name)
        if not spec.low <= value <= spec.high:
            raise InputError(name, one, "is out of range of its field", spec.remedy)
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


def _rows(setup: Setup) -> int:
    return setup.burner.jets.rows if setup.burner.jets is not None else 1


def _even(now: float, low: float, high: float, step: float) -> tuple[float, ...]:
    down, up = (int((gap + 1e-9 * step) / step) for gap in (now - low, high - now))
    return tuple(round(now + k * step, 12) for k in range(-down, up + 1) if k)


def _built(setup: Setup, path: str, values: tuple[float, ...]) -> tuple[float, ...]:
    """Those up to the first that cannot be built; found by halving, as most can."""
    if not values or not can_be_built(setup, path, values[0]):
        return ()
    if can_be_built(setup, path, values[-1]):
        return values
    return values[: bisect_left(values, True, key=lambda value: not can_be_built(setup, path, value))]
