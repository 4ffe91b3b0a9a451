"""What a design search may change: whole numbers, steps that can be made, drill sizes and choices."""

import math
from collections.abc import Mapping, Sequence
from typing import NamedTuple

from burnsim.errors import InputError, is_number
from burnsim.model import Setup, value_at, vary
from burnsim.model.description.fields import Spec, allowed
from burnsim.model.description.tables import read_field
from burnsim.studies.sweep.plan import is_numeric, poured, spec_at
from burnsim.units.drills import METRIC_STEP, NUMBERED

DRILL_SETS = ("metric", "number")
MOST_CHOICES = 500
LENGTH_STEPS = (0.5e-3, 0.1e-3, 0.05e-3, 0.01e-3)
"""Steps of lengths that can be made [m]: the first that goes four times into a range; common practice, no source."""
FEW_STEPS = 50  # of a range of anything else, about
JETS = "burner.jets.diameter"


class Free(NamedTuple):
    """One field that the search may change."""

    path: str
    low: float  # of whole numbers; 0 for choices
    high: float  # of whole numbers; the last index for choices
    choices: tuple[object, ...]  # empty for whole numbers

    def value(self, x: float) -> object:
        """What `vary` is given for a value of the unknown."""
        if self.choices:
            return self.choices[min(max(round(x), 0), len(self.choices) - 1)]
        return min(max(round(x), int(self.low)), int(self.high))

    @property
    def ends(self) -> tuple[float, float] | None:
        """The lowest and the highest value; None where they are words."""
        values = [one for one in self.choices or (self.low, self.high) if is_number(one)]
        return (min(values), max(values)) if len(values) == len(self.choices or (0, 0)) else None


def read_free(base: Setup, free: Mapping[str, object]) -> tuple[Free, ...]:
    """Read what may change of a design, as `search` takes it.

    Without step and drills, lengths go in steps of 0.5 mm (finer in a narrow range), the diameter of jets by metric
    drills, whole numbers one by one, anything else in some fifty round steps. A mass stands for its fuel.
    """
    if not isinstance(free, Mapping) or not free:
        raise InputError("free", free, "names nothing to change", 'give {"burner.jets.count": (12, 40)}, say')
    found = tuple(_free(path, _volumes(raw, base, path, free)) for path, raw in free.items())
    lacking = [
        one for one in found if value_at(base, one.path.rpartition(".")[0] or one.path) is None and "." in one.path
    ]
    vary(base, {one.path: one.value(one.low) for one in found if one not in lacking})
    for one in lacking:
        vary(base, {one.path: one.value(one.low)})  # raises, and says what the design lacks
    return found


def drill_sizes(low: float, high: float, kind: str) -> tuple[float, ...]:
    """Diameters of the drills of a set, "metric" (steps of 0.05 mm) or "number" (1 to 80), within a range [m], rising.

    >>> drill_sizes(0.9e-3, 1.0e-3, "metric"), drill_sizes(0.9e-3, 1.0e-3, "number")
    ((0.0009, 0.00095, 0.001), (0.0009144, 0.0009398, 0.0009652, 0.0009906))
    """
    if kind not in DRILL_SETS:
        raise InputError("drills", kind, "is not a set of drills; allowed: 'metric', 'number'", "choose one of them")
    if kind == "metric":
        every = [round(k * METRIC_STEP, 9) for k in range(1, round(high / METRIC_STEP) + 1)]
    else:
        every = [round(size, 9) for size in NUMBERED]
    return tuple(sorted(size for size in every if low - 1e-9 <= size <= high + 1e-9))


def round_step(span: float, parts: int) -> float:
    """The round step, 1, 2 or 5 of a power of ten, that goes at most so many times into a span.

    >>> round_step(20.0, 50), round_step(0.3, 50)
    (0.5, 0.01)
    """
    least = span / parts * (1.0 - 1e-9)
    power = 10.0 ** math.floor(math.log10(least))
    return float(f"{next(k * power for k in (1.0, 2.0, 5.0, 10.0) if k * power >= least):.1g}")


def _free(path: str, raw: object) -> Free:
    spec = spec_at(path)
    if isinstance(raw, Mapping):
        return _range(path, spec, raw)
    if isinstance(raw, tuple) and len(raw) == 2 and is_numeric(spec):
        return _range(path, spec, {"low": raw[0], "high": raw[1]})
    if isinstance(raw, str) or not isinstance(raw, Sequence) or len(raw) < 2:
        raise InputError(path, raw, "is neither a range nor choices", "give (low, high), a list of choices, or a table")
    return _chosen(path, tuple(read_field(spec, one, path) for one in raw))


def _range(path: str, spec: Spec, raw: Mapping[object, object]) -> Free:
    for key in raw:
        if key not in ("low", "high", "step", "drills"):
            problem = "is not known; allowed: low, high, step, drills"
            raise InputError(f"{path}.{key}", raw[key], problem, "leave it out")
    if not is_numeric(spec) or "low" not in raw or "high" not in raw:
        raise InputError(path, dict(raw), "is not a range", "give low and high of a quantity, or a list of choices")
    if "step" in raw and "drills" in raw:
        raise InputError(path, dict(raw), "has both step and drills", "keep one of them")
    low, high = (_number(path, spec, raw[key]) for key in ("low", "high"))
    if not spec.low <= low < high <= spec.high:
        raise InputError(path, (raw["low"], raw["high"]), f"is not a range; {allowed(spec)}", "give low below high")
    if "drills" in raw:
        if spec.dimension != "length":
            raise InputError(path, raw["drills"], "is not a hole", "leave drills out")
        return _chosen(path, drill_sizes(low, high, str(raw["drills"])))
    if path == JETS and "step" not in raw and (sizes := drill_sizes(low, high, "metric"))[1:]:
        return _chosen(path, sizes)
    if "step" in raw or spec.dimension != "count":
        span = high - low
        step = _number(path, spec, raw["step"]) if "step" in raw else _step(spec, span)
        if not 0.0 < step <= span or span / step > MOST_CHOICES:
            remedy = "give a step that goes 1 to 500 times"
            raise InputError(f"{path}.step", raw["step"], "does not fit the range", remedy)
        steps = [low + k * step for k in range(round(span / step + 1e-9) + 1) if low + k * step <= high + 1e-12]
        return _chosen(path, tuple(round(one) if spec.dimension == "count" else round(one, 12) for one in steps))
    return Free(path, low, high, ())


def _step(spec: Spec, span: float) -> float:
    """The step of a range for which none was asked."""
    if spec.dimension != "length":
        return round_step(span, FEW_STEPS)
    fit = next((step for step in LENGTH_STEPS if 4.0 * step <= span * (1.0 + 1e-9)), span)
    return max(fit, round_step(span, MOST_CHOICES))


def _volumes(raw: object, base: Setup, path: str, free: Mapping[str, object]) -> object:
    """What was given for a field, with volumes of fuel in place of masses."""
    if not spec_at(path).weighed:
        return raw
    if isinstance(raw, Mapping):
        return {key: poured(value, base, path, free) for key, value in raw.items()}
    if isinstance(raw, tuple | list):
        return type(raw)(poured(value, base, path, free) for value in raw)
    return raw


def _chosen(path: str, choices: tuple[object, ...]) -> Free:
    if len(choices) < 2:
        raise InputError(path, choices, "leaves nothing to choose", "widen the range, or leave it out")
    return Free(path, 0.0, float(len(choices) - 1), choices)


def _number(path: str, spec: Spec, raw: object) -> float:
    value = read_field(spec, raw, path) if isinstance(raw, str) else raw
    if not is_number(value):
        raise InputError(path, raw, f"is not a number; {allowed(spec)}", "give SI numbers or texts with units")
    if spec.dimension == "count" and value != round(value):
        raise InputError(path, raw, "is not a whole number", "give whole numbers")
    return float(value)
