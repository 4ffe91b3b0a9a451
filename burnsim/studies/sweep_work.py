"""What a worker does: make some designs, burn them, hand back their rows."""

import time
import warnings
from collections.abc import Callable, Sequence
from typing import NamedTuple

from burnsim.errors import BurnsimError, InputError, ValidityWarning
from burnsim.model.description import Setup
from burnsim.model.vary import vary
from burnsim.solve import Failure, Outcome, outcomes
from burnsim.studies.sweep_columns import FAILED, IMPOSSIBLE, Block, Row, block_of, row_of, row_without

Engine = Callable[[list[Setup], float], list[Outcome | Failure]]


class Task(NamedTuple):
    """Some designs of a sweep, small enough to travel."""

    base: Setup
    changes: Sequence[dict[str, object]]
    rtol: float
    engine: Engine


def burn_all(setups: list[Setup], rtol: float) -> list[Outcome | Failure]:
    """The engine of the house: `burnsim.outcomes`."""
    return outcomes(setups, rtol=rtol)


def compute(task: Task) -> tuple[Block, float]:
    """Burn the designs of a task; each has a row, whatever becomes of it.

    Parameters
    ----------
    task : the designs

    Returns
    -------
    tuple
        Their rows, and the time that they took [s].
    """
    start = time.perf_counter()
    rows: list[Row | None] = []
    setups: list[Setup] = []
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", ValidityWarning)  # said once, where the plan is read
        for changes in task.changes:
            try:
                setups.append(vary(task.base, changes))
                rows.append(None)
            except InputError as error:
                rows.append(row_without(IMPOSSIBLE, str(error)))
        burnt = iter(_burnt(setups, task))
    block = block_of([next(burnt) if row is None else row for row in rows])
    return block, time.perf_counter() - start


def _burnt(setups: list[Setup], task: Task) -> list[Row]:
    """Burn all together; should that break down, one by one, so that only the guilty design is lost."""
    if not setups:
        return []
    try:
        return [_row(found) for found in task.engine(setups, task.rtol)]
    except Exception:
        return [_alone(setup, task) for setup in setups]


def _alone(setup: Setup, task: Task) -> Row:
    try:
        return _row(task.engine([setup], task.rtol)[0])
    except InputError as error:
        return row_without(IMPOSSIBLE, str(error))
    except Exception as error:
        named = isinstance(error, BurnsimError)
        return row_without(FAILED, str(error) if named else f"{type(error).__name__}: {error}")


def _row(found: Outcome | Failure) -> Row:
    return row_without(FAILED, found.reason) if isinstance(found, Failure) else row_of(found)
