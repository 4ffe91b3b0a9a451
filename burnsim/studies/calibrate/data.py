"""What calibration compares: measurements of bench logs, and what the model says of each."""

import math
from collections.abc import Sequence
from itertools import combinations
from typing import NamedTuple

import numpy as np

from burnsim.errors import InputError
from burnsim.model import Design, Setup, as_setup, is_design
from burnsim.model.at_site import water_boils
from burnsim.solve import Failure, Outcome
from burnsim.studies.arrays import Matrix, Vector
from burnsim.studies.bench.design import apply_conditions
from burnsim.studies.bench.log import BenchLog
from burnsim.studies.calibrate.repeats import MILESTONES, PACE, SCATTER

MOST_READINGS = 40
"""More readings of one burn than this are not independent of each other: the model's own error is smooth."""

READ_UNTIL = 0.9
"""Share of the rise up to which readings count: about the boil the curve has a corner, where slopes say nothing."""

MISSED = 6.0
"""Residual, in standard deviations, of a milestone that the model does not reach and the bench saw, or the reverse."""

GRID = 161
NUISANCES = ("clock", "thermometer", "pace")
"""Unknowns of each burn besides the factors: when the clock was started, offset of the thermometer, pace."""


class Bench(NamedTuple):
    """One burn as calibration sees it."""

    name: str
    setup: Setup
    marks: tuple[str, ...]  # milestones that were seen, with a time
    mark_times: Vector  # [s]
    seeing: Vector  # standard error of seeing each [s]
    mark_errors: Vector  # standard, with the scatter of repeats [s]
    never: tuple[str, ...]  # milestones that the log says did not happen
    times: Vector  # of the readings [s]
    readings: Vector  # [K]
    reading_error: float  # standard [K]
    scales: Vector  # standard deviations of the nuisances: [s], [K], relative
    grid: Vector  # times at which the model is asked for the water [s]

    @property
    def size(self) -> int:
        """Number of measurements."""
        return len(self.marks) + len(self.never) + len(self.times)


class Course(NamedTuple):
    """What the model says of a burn."""

    marks: tuple[float | None, ...]  # of `Bench.marks` [s]
    never: tuple[bool, ...]  # whether each of `Bench.never` happened all the same
    water: Vector  # on `Bench.grid` [K]
    short: float  # the boiling point less the hottest water, 0 if it boiled [K]


def bench_of(log: BenchLog, design: Setup, pace: float = PACE) -> Bench:
    """Choose what to compare of a log: milestones, and readings of the water until it boils; `pace` is as in `PACE`."""
    given = log.conditions
    setup = apply_conditions(design, log)
    seen = {name: getattr(log, name) for name in MILESTONES}
    marks = tuple(name for name in MILESTONES if seen[name].time is not None)
    times = np.array([seen[name].time for name in marks], dtype=np.float64)
    seeing = np.array([getattr(given, f"u_{name}") for name in marks], dtype=np.float64)
    errors = np.hypot(seeing, np.array([SCATTER[name] for name in marks]) * times)
    never = tuple(name for name in MILESTONES if seen[name].happened is False)
    when, what = log.water()
    until = log.boil.time if log.boil.time is not None else (log.burnout.time or math.inf)
    inside = (when < until) & (when > 0.0)
    if setup.pot is not None:
        start = setup.pot.water_temperature or setup.site.air_temperature
        inside &= what < start + READ_UNTIL * (water_boils(setup) - start)
    when, what = (when[inside], what[inside]) if setup.pot is not None else (np.empty(0), np.empty(0))
    if len(when) > MOST_READINGS:
        pick = np.unique(np.linspace(0, len(when) - 1, MOST_READINGS).round().astype(int))
        when, what = when[pick], what[pick]
    if not marks and not len(when):
        raise InputError(log.source, None, "has nothing to learn from", "note milestones or readings of the water")
    last = max([*times.tolist(), *when.tolist(), 60.0])
    scales = np.array([max(given.u_clock, 1e-3), given.u_thermometer, max(pace, 1e-6)])
    grid = np.linspace(0.0, 1.25 * last, GRID) if len(when) else np.empty(0)
    return Bench(
        name=log.name, setup=setup, marks=marks, mark_times=times, seeing=seeing, mark_errors=errors, never=never,
        times=when, readings=what, reading_error=given.u_reading, scales=scales, grid=grid,
    )  # fmt: skip


def course_of(found: Outcome | Failure, bench: Bench) -> Course | None:
    """What a burn of the model says of the measurements of a bench; None if it could not be solved."""
    if isinstance(found, Failure):
        return None
    short = 0.0
    if found.water_max is not None and found.milestones.boil.time is None:
        short = max(water_boils(bench.setup) - found.water_max, 0.0)
    water = np.array(found.water_at, dtype=np.float64)  # NaN where it is None
    if len(water) and not np.isfinite(water).all():  # after its end the burn has no course: hold the last
        known = np.flatnonzero(np.isfinite(water))
        water[known[-1] + 1 :] = water[known[-1]]
    return Course(
        tuple(getattr(found.milestones, name).time for name in bench.marks),
        tuple(getattr(found.milestones, name).time is not None for name in bench.never), water, short,
    )  # fmt: skip


def residuals(course: Course, bench: Bench, nuisance: Vector) -> Vector:
    """Model less measurement: milestones, milestones that never came, readings; all, like nuisances, in standard
    deviations."""
    clock, offset, pace = nuisance * bench.scales
    slow = math.exp(pace)
    found = [
        MISSED + (course.short / 5.0 if name == "boil" else 0.0)
        if time is None
        else (time * slow + clock - seen) / error
        for name, time, seen, error in zip(bench.marks, course.marks, bench.mark_times, bench.mark_errors, strict=True)
    ]
    found += [MISSED if happened else 0.0 for happened in course.never]
    if not len(bench.times):
        return np.array(found, dtype=np.float64)
    water = np.interp((bench.times - clock) / slow, bench.grid, course.water)
    return np.concatenate([found, (water + offset - bench.readings) / bench.reading_error])


def nuisance_slopes(course: Course, bench: Bench, nuisance: Vector) -> Matrix:
    """Derivatives of `residuals` by each nuisance, shape (size, 3)."""
    step = 0.05
    columns = [
        (residuals(course, bench, nuisance + move) - residuals(course, bench, nuisance - move)) / (2.0 * step)
        for move in step * np.eye(len(NUISANCES))
    ]
    return np.stack(columns, axis=1)


def with_errors_of(bench: Bench, course: Course | None, pace: float) -> Bench:
    """The same measurements, with errors of the milestones as large as the model expects them.

    An error that goes with the time seen is small where the burn happened to be early: such a burn would count more
    than a late one, and the fit come out early. Reweighting by what is expected at the best fit mends it; where the
    model lacks a milestone its error stays. The pace is that of this burn, in its standard deviations.

    References
    ----------
    Generalized least squares: R. J. Carroll, D. Ruppert 1988, Transformation and Weighting in Regression, section 2.1
    (from memory).
    """
    if course is None:
        return bench
    slow = math.exp(pace * bench.scales[2])
    errors = [
        error if time is None else math.hypot(seeing, SCATTER[name] * time * slow)
        for name, time, error, seeing in zip(bench.marks, course.marks, bench.mark_errors, bench.seeing, strict=True)
    ]
    return bench._replace(mark_errors=np.array(errors, dtype=np.float64))


def labels(bench: Bench) -> list[tuple[str, float]]:
    """What each residual is of, and when it was measured [s]."""
    return [
        *zip(bench.marks, bench.mark_times.tolist(), strict=True),
        *((f"no {name}", 0.0) for name in bench.never),
        *(("water", time) for time in bench.times.tolist()),
    ]


def paired(setups: Design | Sequence[Design], logs: Sequence[BenchLog]) -> list[tuple[BenchLog, Setup]]:
    """Each log with its design; one design may serve all."""
    listed = [as_setup(one) for one in ([setups] * len(logs) if is_design(setups) else setups)]
    if not len(logs):
        raise InputError("logs", logs, "holds no bench log", "give at least one")
    if len(listed) != len(logs):
        raise InputError("setups", len(listed), f"does not go with {len(logs)} logs", "give one for all or one a log")
    return list(zip(logs, listed, strict=True))


ALIKE = 0.95  # cosine of the slopes from which two factors count as acting alike
FELT = 0.5  # in standard deviations of the data over the band: less is not felt at all


class Residual(NamedTuple):
    """One measurement beside the model."""

    log: str
    what: str  # "bloom", "boil", "burnout", "water", or "no " and a milestone
    time: float  # when it was measured [s]
    before: float  # model less measurement before calibration, in standard deviations
    after: float  # the same after
    unit: str  # of `size`
    size: float  # one standard deviation of the measurement, [s] or [K]; 0 where it has no size
    # before and after: whether the model does not reach this milestone, and the residual only stands for that
    missed: tuple[bool, bool] = (False, False)


class Alike(NamedTuple):
    """Two factors that the data cannot tell apart."""

    first: str
    second: str
    cosine: float  # of their effects on the data, 1 or -1: the same or the opposite


def alike(names: Sequence[str], slopes: Matrix) -> tuple[Alike, ...]:
    """Pairs of factors whose effects on the data have nearly the same shape.

    The slopes are of the data by each factor in its prior standard deviations, noise whitened, shape (n, d).
    """
    size = np.sqrt((slopes * slopes).sum(axis=0))
    felt = [k for k in range(len(names)) if size[k] >= FELT]
    pairs = (Alike(names[j], names[k], float(slopes[:, j] @ slopes[:, k] / (size[j] * size[k])))
             for j, k in combinations(felt, 2))  # fmt: skip
    return tuple(sorted((one for one in pairs if abs(one.cosine) > ALIKE), key=lambda one: -abs(one.cosine)))


def residual_table(
    benches: Sequence[Bench], before: Vector, after: Vector, courses: Sequence[Sequence[Course | None]]
) -> tuple[Residual, ...]:
    """Each measurement of some benches with its residual and with its bench's course, before and after."""
    found = iter(zip(before.tolist(), after.tolist(), strict=True))
    rows = []
    for k, bench in enumerate(benches):
        errors = dict(zip(bench.marks, bench.mark_errors.tolist(), strict=True))
        first, last = (_missed(each[k], bench) for each in courses)
        for name, time in labels(bench):
            unit, size = ("K", bench.reading_error) if name == "water" else ("s", errors.get(name, 0.0))
            rows.append(Residual(bench.name, name, time, *next(found), unit, size, (name in first, name in last)))
    return tuple(rows)


def _missed(course: Course | None, bench: Bench) -> set[str]:
    """Milestones that the bench saw and the model does not reach."""
    return {name for k, name in enumerate(bench.marks) if course is None or course.marks[k] is None}
