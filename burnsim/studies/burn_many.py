"""Burn many variants of a design, over the cores where that pays."""

import math
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Executor
from contextlib import contextmanager
from typing import Literal, NamedTuple

from burnsim.errors import InputError
from burnsim.model.description import Setup
from burnsim.solve import Failure, Outcome, outcomes
from burnsim.solve.many import WORTH_COMPILING
from burnsim.solve.run import DEFAULT_RTOL
from burnsim.studies.sweep_pool import cores, process_pool

Engine = Callable[[Sequence[Setup], Sequence[float]], list[Outcome | Failure]]
"""Burns setups; the second argument holds times at which to keep the water's temperature [s]."""

WORTH_A_PROCESS = 600  # burns, below which starting a process costs more than it saves
PIECE = 64


class _Part(NamedTuple):
    setups: list[Setup]
    water_at: tuple[float, ...]
    rtol: float
    how: Literal["auto", "compiled"]


def burn_all(setups: Sequence[Setup], water_at: Sequence[float] = ()) -> list[Outcome | Failure]:
    """Burn setups in this process; one that breaks down is a `Failure` in its place.

    Parameters
    ----------
    setups : what burns
    water_at : times, rising, at which to keep the water's temperature [s]
    """
    return _burn(_Part(list(setups), tuple(water_at), DEFAULT_RTOL, "auto"))


@contextmanager
def crew(burns: int, workers: int | None = None) -> Iterator[Engine]:
    """An engine that spreads burns over processes, when there are enough of them.

    Parameters
    ----------
    burns : how many there will be in all
    workers : how many processes; default none: one a core; 1 works in this process
    """
    if workers is not None and (isinstance(workers, bool) or not isinstance(workers, int) or workers < 1):
        raise InputError("workers", workers, "is not a whole number from 1", "leave it out")
    count = min(workers or cores(), max(burns // WORTH_A_PROCESS, 1))
    how: Literal["auto", "compiled"] = "compiled" if burns >= WORTH_COMPILING else "auto"
    if count == 1:

        def alone(setups: Sequence[Setup], water_at: Sequence[float] = ()) -> list[Outcome | Failure]:
            return _burn(_Part(list(setups), tuple(water_at), DEFAULT_RTOL, how))

        yield alone
        return
    pool = process_pool(count)
    try:
        yield _spread(pool, count, how)
    finally:
        pool.shutdown(wait=False, cancel_futures=True)


def _spread(pool: Executor, workers: int, how: Literal["auto", "compiled"]) -> Engine:
    compiled: set[int] = set()

    def engine(setups: Sequence[Setup], water_at: Sequence[float] = ()) -> list[Outcome | Failure]:
        listed = list(setups)
        for setup in listed:  # compile here, once, and not in every process
            parts_of_fuel = len(setup.charge.fuel.components)
            if how == "compiled" and parts_of_fuel not in compiled:
                _burn(_Part([setup], (), DEFAULT_RTOL, how))
                compiled.add(parts_of_fuel)
        size = max(min(math.ceil(len(listed) / (2 * workers)), 4 * PIECE), 1)
        parts = [_Part(listed[k : k + size], tuple(water_at), DEFAULT_RTOL, how) for k in range(0, len(listed), size)]
        return [found for part in pool.map(_burn, parts) for found in part]

    return engine


def _burn(part: _Part) -> list[Outcome | Failure]:
    """Burn together; should that break down, one by one, so that only the guilty one is lost."""
    try:
        return outcomes(part.setups, rtol=part.rtol, water_at=part.water_at, engine=part.how)
    except InputError:
        raise
    except Exception:
        return [_alone(setup, part) for setup in part.setups]


def _alone(setup: Setup, part: _Part) -> Outcome | Failure:
    try:
        return outcomes([setup], rtol=part.rtol, water_at=part.water_at, engine=part.how)[0]
    except Exception as error:
        return Failure(setup, f"{type(error).__name__}: {error}")
