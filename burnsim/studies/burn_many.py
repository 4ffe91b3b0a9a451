"""Burn many variants of a design, over the cores where that pays."""

import math
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from functools import partial

from burnsim.errors import InputError
from burnsim.model.description import Setup
from burnsim.solve import Failure, Outcome, outcomes
from burnsim.solve.engines import prepare
from burnsim.studies.batches import burn_batch
from burnsim.studies.sweep_pool import cores, process_pool

Engine = Callable[[Sequence[Setup], Sequence[float]], list[Outcome | Failure]]
"""Burns setups; the second argument holds times at which to keep the water's temperature [s]."""

WORTH_A_PROCESS = 600  # burns, below which starting a process costs more than it saves
PIECE = 256  # burns at most, handed to a process at a time


def burn_all(setups: Sequence[Setup], water_at: Sequence[float] = ()) -> list[Outcome | Failure]:
    """Burn setups in this process; one that breaks down is a `Failure` in its place.

    Parameters
    ----------
    setups : what burns
    water_at : times, rising, at which to keep the water's temperature [s]
    """
    return burn_batch(setups, partial(outcomes, water_at=tuple(water_at)))


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
    pool = None if count == 1 else process_pool(count)

    def engine(setups: Sequence[Setup], water_at: Sequence[float] = ()) -> list[Outcome | Failure]:
        listed = list(setups)
        run = partial(outcomes, water_at=tuple(water_at), engine=prepare(listed, burns))
        if pool is None:
            return burn_batch(listed, run)
        size = max(min(math.ceil(len(listed) / (2 * count)), PIECE), 1)
        pieces = [listed[k : k + size] for k in range(0, len(listed), size)]
        return [found for piece in pool.map(partial(burn_batch, run=run), pieces) for found in piece]

    try:
        yield engine
    finally:
        if pool is not None:
            pool.shutdown(wait=False, cancel_futures=True)
