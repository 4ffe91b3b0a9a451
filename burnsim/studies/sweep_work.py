"""What a worker does: make some designs, burn them, hand back their rows."""

import contextlib
import time
import warnings
from collections.abc import Callable, Iterable, Sequence
from typing import NamedTuple

from burnsim.errors import BurnsimError, InputError, ValidityWarning
from burnsim.model.description import Setup
from burnsim.model.vary import vary
from burnsim.solve import Failure, Outcome, outcomes
from burnsim.solve.many import WORTH_COMPILING
from burnsim.solve.native.engine import place
from burnsim.studies.sweep_columns import FAILED, IMPOSSIBLE, Block, Row, block_of, row_of, row_without
from burnsim.substances.blend import Blend

Engine = Callable[[list[Setup], float], list[Outcome | Failure]]


class Task(NamedTuple):
    """Some designs of a sweep, small enough to travel."""

    base: Setup
    changes: Sequence[dict[str, object]]
    rtol: float
    engine: Engine


def burn_all(setups: list[Setup], rtol: float) -> list[Outcome | Failure]:
    """The engine of the house: `burnsim.outcomes`, compiled where machine code is at hand."""
    return outcomes(setups, rtol=rtol)


def burn_compiled(setups: list[Setup], rtol: float) -> list[Outcome | Failure]:
    """The same, always compiled."""
    return outcomes(setups, rtol=rtol, engine="compiled")


def burn_plain(setups: list[Setup], rtol: float) -> list[Outcome | Failure]:
    """The same, never compiled."""
    return outcomes(setups, rtol=rtol, engine="plain")


def engine_for(base: Setup, fuels: Iterable[Blend], count: int) -> Engine:
    """Choose the engine for so many designs, and compile it here, once, should that still have to be done.

    Parameters
    ----------
    base : the design from which all others differ
    fuels : all that are burnt
    count : number of designs
    """
    if count < WORTH_COMPILING:
        return burn_all
    examples = {len(fuel.components): fuel for fuel in fuels}
    try:
        for components, fuel in examples.items():
            if not place(components).warm:  # else every worker would compile, all at the same time
                with contextlib.suppress(BurnsimError):
                    outcomes([vary(base, {"charge.fuel": fuel})], engine="compiled")
    except Exception as error:  # a sweep is not lost for want of a compiler
        what = str(error).strip().partition("\n")[0]
        warnings.warn(
            f"the march cannot be compiled here ({type(error).__name__}: {what}); plain Python takes far longer",
            RuntimeWarning,
            stacklevel=3,
        )
        return burn_plain
    return burn_compiled


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
