"""The plan of a sweep: which designs, in which order, made one by one from their number.

A plan keeps the values along its axes and nothing else, so that a million designs take no more memory than one.
"""

import hashlib
import json
import math
from collections.abc import Iterable, Iterator, Mapping, Sequence, Sized
from dataclasses import dataclass, fields
from functools import cache
from itertools import islice
from numbers import Integral, Real
from typing import Any, Literal, NamedTuple, get_args

import numpy as np
from numpy.typing import NDArray

from burnsim.errors import InputError, check_whole, unknown
from burnsim.model import Design, Setup, as_setup, value_at, vary
from burnsim.model.at_site import poured_density
from burnsim.model.description.fields import Spec, check_other, read_quantity, spec_of
from burnsim.model.description.tables import read_field, table_value
from burnsim.model.description.vary import check_path
from burnsim.studies.arrays import unit_points
from burnsim.substances.blend import Blend
from burnsim.substances.metals import Metal
from burnsim.units import DIMENSIONS
from burnsim.units.reading import is_quantity, weighed
from burnsim.units.table import DIMENSION_OF

UNITS = {"altitude": "m", "wind speed": "m/s"} | {
    dimension: unit for unit, dimension in DIMENSION_OF.items() if "^" not in unit
}
"""Unit of a coordinate by the dimension of its field; plain numbers have "1"."""

Mode = Literal["grid", "paired", "sobol", "halton", "latin hypercube"]

NONE = "none"
PARTS = "parts"
"""Attribute of a coordinate: by its labels, the tables of what they stand for where the label does not tell it."""

MOST_DESIGNS = 10_000_000  # designs of one plan: about a day of two cores, and 3 GB of rows
DESIGNS_AN_HOUR = 500_000
"""What one core burns as machine code, to the order of magnitude; a plan that is refused is told how long it is."""
BYTES_A_DESIGN = 300  # what a row of the result takes, to the order of magnitude


class Axis(NamedTuple):
    """One varied field."""

    path: str
    values: NDArray[Any]  # what `vary` is given: SI floats (NaN for none), whole numbers, flags, words or parts
    labels: NDArray[Any]  # its coordinate: the same, with a text for each part
    attrs: dict[str, str]  # units, where it has any, and long_name


@dataclass(frozen=True)
class Plan:
    """All designs of a sweep, numbered from 0; on a grid the last axis turns fastest."""

    mode: Mode
    axes: tuple[Axis, ...]
    shape: tuple[int, ...]
    dims: tuple[str, ...]
    seed: int | None = None

    @property
    def size(self) -> int:
        """Number of designs."""
        return math.prod(self.shape)

    def changes(self, start: int, stop: int) -> list[dict[str, object]]:
        """What `vary` is given for the designs numbered `start` to `stop - 1`."""
        numbers = np.arange(start, stop)
        places = np.unravel_index(numbers, self.shape) if self.mode == "grid" else [numbers] * len(self.axes)
        columns = [_python_values(axis.values[place]) for axis, place in zip(self.axes, places, strict=True)]
        names = [axis.path for axis in self.axes]
        return [dict(zip(names, row, strict=True)) for row in zip(*columns, strict=True)]

    def fuels(self, base: Setup) -> list[Blend]:
        """Every fuel that may be burnt, once."""
        values = {axis.path: axis.values.tolist() for axis in self.axes}
        found: list[Blend] = [base.charge.fuel, *values.get("charge.fuel", [])]
        found += [charge.fuel for charge in values.get("charge", [])]
        return list({fuel.name: fuel for fuel in found}.values())


def make_plan(
    base: Design,
    values: Mapping[str, Iterable[object]],
    mode: str = "grid",
    samples: int | None = None,
    seed: int = 0,
) -> Plan:
    """Read the values of each path and lay out the designs; arguments are those of `sweep`.

    An `InputError` for an unknown path or mode, a value that cannot be read, values that do not pair up. A value that
    can be read but not be built is none: its design gets a row with the reason.
    """
    base = as_setup(base, "base")
    if mode not in get_args(Mode):
        raise unknown("mode", mode, get_args(Mode), otherwise="leave it out for a grid", show=repr)
    if not isinstance(values, Mapping) or not values:
        raise InputError("values", values, "names no field to vary", "give {'burner.jets.count': [20, 24, 28]}")
    given = {path: _listed(path, raw) for path, raw in values.items()}
    _check_paths(base, given)
    for path, raw in given.items():
        if spec_at(path).weighed:
            given[path] = [poured(value, base, path, given) for value in raw]
    if mode not in ("grid", "paired"):
        return _sampled(given, mode, samples, seed)
    if samples is not None:
        raise InputError("samples", samples, f"does not go with mode {mode!r}", "leave it out, or use mode='sobol'")
    if mode == "grid":
        check_size(math.prod(len(raw) for raw in given.values()), "values")
    axes = tuple(_axis(path, raw) for path, raw in given.items())
    if mode == "paired":
        lengths = {axis.path: len(axis.values) for axis in axes}
        if len(set(lengths.values())) > 1:
            raise InputError("values", lengths, "do not pair up", "give every path equally many values")
        return Plan("paired", axes, (len(axes[0].values),), ("design",))
    for axis in axes:
        seen, counts = np.unique(axis.labels.astype(str), return_counts=True)
        if (counts > 1).any():
            raise InputError(axis.path, str(seen[counts > 1][0]), "is given twice on a grid", "give each value once")
    return Plan("grid", axes, tuple(len(axis.values) for axis in axes), tuple(axis.path for axis in axes))


def check_size(size: int, field: str) -> None:
    """Refuse a plan of so many designs, due to a field, that cannot be meant, before anything is laid out."""
    if size > MOST_DESIGNS:
        hours, gigabytes = size / DESIGNS_AN_HOUR, size * BYTES_A_DESIGN / 1e9
        raise InputError(
            field, size, f"designs would take some {hours:.2g} hours of one core and {gigabytes:.2g} GB; "
            f"allowed up to {MOST_DESIGNS}", "give fewer values, or draw a sample of the ranges",
        )  # fmt: skip


@cache
def spec_at(path: str) -> Spec:
    """Look up what the field at a dotted path may hold; an `InputError` if there is none.

    >>> spec_at("burner.jets.diameter").dimension
    'length'
    """
    check_path(path)
    kind: type = Setup
    spec = Spec("part", part=Setup)
    for name in path.split("."):
        spec = spec_of(next(field for field in fields(kind) if field.name == name))
        kind = spec.part or Setup
    return spec


def is_numeric(spec: Spec) -> bool:
    """Whether a field holds a quantity or a whole number."""
    return spec.dimension in DIMENSIONS or spec.dimension == "count"


def number_of(value: object, spec: Spec, path: str) -> float | int:
    """A value, as `sweep` takes it, of a field that holds a number, in SI; None, where allowed, is NaN.

    Whether it can be built is for its design to tell.
    """
    if spec.dimension == "count":
        if isinstance(value, bool | np.bool_) or not isinstance(value, Integral):
            raise InputError(path, value, "is not a whole number", "give whole numbers, such as range(12, 49, 2)")
        if abs(int(value)) > 10**9:
            raise InputError(path, value, "is far too large", "give the numbers that could be made")
        return int(value)
    if value is None and spec.optional:
        return np.nan
    if isinstance(value, str) or is_quantity(value):
        value = read_quantity(value, spec, path)
    if isinstance(value, bool | np.bool_) or not isinstance(value, Real) or not np.isfinite(float(value)):
        raise InputError(path, value, "is not a finite number", "give SI numbers or texts with units")
    return float(value)


def label_of(value: object, spec: Spec, path: str) -> str:
    """The text by which a coordinate tells a value, as `sweep` takes it, that is no number."""
    return _label(_described(value, spec, path))


def digest(plan: Plan, settings: Mapping[str, object]) -> str:
    """Fingerprint of a plan together with all that decides its results; equal for equal sweeps."""
    found = hashlib.sha256(json.dumps([plan.mode, plan.shape, plan.seed, settings], sort_keys=True).encode())
    for axis in plan.axes:
        found.update(axis.path.encode())
        numbers = axis.values.dtype != object
        found.update(axis.values.tobytes() if numbers else repr(list(map(table_value, axis.values.tolist()))).encode())
    return found.hexdigest()[:24]


def _listed(path: str, raw: object) -> list[object]:
    if isinstance(raw, str | Mapping) or not isinstance(raw, Iterable):
        raise InputError(path, raw, "is not a list of values", "put it in square brackets")
    if isinstance(raw, Sized):
        check_size(len(raw), path)
    found = list(islice(raw, MOST_DESIGNS + 1))
    check_size(len(found), path)
    if not found:
        raise InputError(path, raw, "has no values", "give at least one, or leave the path out")
    return found


def _check_paths(base: Setup, given: Mapping[str, Sequence[object]]) -> None:
    """Let `vary` refuse paths that are unknown, overlap, or lead into a part that the base does not have."""
    for path in given:
        check_path(path)
        parents = [path.rsplit(".", n)[0] for n in range(1, path.count(".") + 1)]
        if any(parent in given or value_at(base, parent) is None for parent in parents):
            vary(base, {name: values[0] for name, values in given.items()})


def _axis(path: str, raw: Sequence[object]) -> Axis:
    spec = spec_at(path)
    attrs = {"long_name": spec.doc}
    if is_numeric(spec):
        attrs = {"units": UNITS.get(spec.dimension, "1"), **attrs}
        read = [number_of(value, spec, path) for value in raw]
        numbers = np.array(read, dtype=np.int64 if spec.dimension == "count" else np.float64)
        return Axis(path, numbers, numbers, attrs)
    things = [_described(value, spec, path) for value in raw]
    if spec.dimension == "flag":
        flags = np.array(things, dtype=np.bool_)
        return Axis(path, flags, flags, attrs)
    labels = [_label(thing) for thing in things]
    parts = zip(labels, map(table_value, things), strict=True)
    if tables := {label: part for label, part in parts if part != label}:
        attrs = {**attrs, PARTS: json.dumps(tables, ensure_ascii=False)}
    return Axis(path, _object_array(things), _object_array(labels), attrs)


def poured(value: object, base: Setup, path: str, given: Mapping[str, object]) -> object:
    """The volume of the base's fuel, not `given` to vary, that weighs what a mass says [m3]; anything else as it is."""
    mass = weighed(value)
    if mass is None:
        return value
    if clash := {"charge", "charge.fuel"}.intersection(given):
        problem = f"is weighed, which goes with one fuel only, not with {clash.pop()} varied"
        raise InputError(path, value, problem, "give volumes, such as '30 ml'")
    return mass / poured_density(base)


def _described(value: object, spec: Spec, path: str) -> object:
    if isinstance(value, np.generic):
        value = value.item()
    thing = read_field(spec, value, path)
    if thing is not None or not spec.optional:
        check_other(thing, spec, path)
    return thing


def _label(thing: object) -> str:
    """A text that tells one part from another."""
    if thing is None:
        return NONE
    return thing if isinstance(thing, str) else thing.name if isinstance(thing, Blend | Metal) else repr(thing)


def _object_array(things: Sequence[object]) -> NDArray[Any]:
    array = np.empty(len(things), dtype=object)
    array[:] = things
    return array


def _python_values(values: NDArray[Any]) -> Iterator[object]:
    """Python values; NaN stands for none."""
    return (None if isinstance(value, float) and math.isnan(value) else value for value in values.tolist())


def _sampled(given: Mapping[str, Sequence[object]], mode: str, samples: int | None, seed: int) -> Plan:
    check_whole("samples", samples, 1, remedy="take 256, say", problem="is not a number of designs")
    assert samples is not None
    check_size(samples, "samples")
    check_whole("seed", seed, 0)
    points = unit_points(mode, len(given), samples, seed)
    axes = []
    for k, (path, raw) in enumerate(given.items()):
        ends = _axis(path, raw)
        if not is_numeric(spec_at(path)):
            place = np.minimum((points[:, k] * len(raw)).astype(np.int64), len(raw) - 1)
            axes.append(Axis(path, ends.values[place], ends.labels[place], ends.attrs))
            continue
        if len(raw) != 2 or not ends.values[0] < ends.values[1]:
            raise InputError(path, raw, "is not a range", "give (low, high) with low below high")
        low, high = ends.values
        if ends.values.dtype == np.int64:
            drawn = np.minimum(low + (points[:, k] * (high + 1 - low)).astype(np.int64), high)
        else:
            drawn = low + points[:, k] * (high - low)
        axes.append(Axis(path, drawn, drawn, ends.attrs))
    sampled: Any = mode
    return Plan(sampled, tuple(axes), (samples,), ("design",), seed)
