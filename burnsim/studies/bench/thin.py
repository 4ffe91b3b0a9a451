"""A logger's readings, ten a second for hours, made as few as a person would have written, and no corner lost."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import groupby
from statistics import fmean, median

from burnsim.studies.bench.rows import Reading

STEP = 2.0  # readings closer than this are taken together, as their median [s]
LONGEST_STEP = 30.0  # what does not change is told at least so often [s]


def thin(readings: Iterable[Reading], temperature: float, mass: float) -> Iterator[Reading]:
    """Take readings together while they say the same.

    Readings within 2 s of each other become one: their median, which a loose contact does not move. Of these, such as
    stay within the error of one reading of the first of them become one: their mean, at the mean of their times, for
    30 s at most. A row with a note stays as it is. So what changes keeps its shape to within 2 s, and what does not is
    told twice a minute. Readings come in the order of time; `temperature` [K] and `mass` [kg] are the errors of one.
    """
    run: list[Reading] = []
    for reading in _medians(readings):
        fits = (
            run
            and not reading.note
            and not run[-1].note
            and reading.time - run[0].time < LONGEST_STEP
            and _near(reading.water, run[0].water, temperature)
            and _near(reading.mass, run[0].mass, mass)
        )
        if run and not fits:
            yield _one(run, fmean)
            run = []
        run.append(reading)
    if run:
        yield _one(run, fmean)


def _medians(readings: Iterable[Reading]) -> Iterator[Reading]:
    for key, group in groupby(readings, lambda row: (row.time // STEP, row.line if row.note else 0)):
        rows = list(group)
        yield rows[0] if key[1] else _one(rows, median)


def _near(value: float | None, first: float | None, error: float) -> bool:
    return value is first if value is None or first is None else abs(value - first) <= error


def _one(rows: Sequence[Reading], middle: Callable[[Sequence[float]], float]) -> Reading:
    """One reading for several, at the mean of their times, on the line of the first."""
    if len(rows) == 1:
        return rows[0]
    water = [row.water for row in rows if row.water is not None]
    mass = [row.mass for row in rows if row.mass is not None]
    return Reading(
        line=rows[0].line, time=fmean([row.time for row in rows]), water=middle(water) if water else None,
        mass=middle(mass) if mass else None, note="",
    )  # fmt: skip
