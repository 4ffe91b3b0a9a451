"""What a worker does: make some designs, burn them, hand back their rows."""

import contextlib
import threading
import time
import warnings
from collections.abc import Iterable, Iterator, Sequence
from functools import partial
from typing import NamedTuple, Protocol

from burnsim.closures.combustion import Records, remember
from burnsim.errors import InputError, ValidityWarning
from burnsim.model.description.setup import Setup
from burnsim.model.description.vary import vary
from burnsim.solve import Failure, Outcome, burn_many
from burnsim.solve.engines import prepare
from burnsim.studies.batches import Refusal, burn_batch
from burnsim.studies.sweep.columns import FAILED, IMPOSSIBLE, Block, Row, block_of, row_of, row_without
from burnsim.substances.blend import Blend


class Engine(Protocol):
    """Burns some designs: `burnsim.burn_many` or a stand-in."""

    def __call__(self, setups: list[Setup], *, rtol: float) -> list[Outcome | Failure]: ...


class Task(NamedTuple):
    """Some designs of a sweep, small enough to travel."""

    base: Setup
    changes: Sequence[dict[str, object]]
    rtol: float
    engine: Engine
    records: Records = ()  # of combustion, so that no worker need ask for them


def engine_for(base: Setup, fuels: Iterable[Blend], count: int) -> Engine:
    """The engine of the house for so many variants of a base, compiled here, once, should that have to be done."""
    return partial(burn_many, engine=prepare(_examples(base, fuels), count))


def as_machine_code(engine: Engine) -> bool:
    """Whether an engine is that of the house and burns as machine code, which runs in threads side by side."""
    return isinstance(engine, partial) and engine.func is burn_many and engine.keywords.get("engine") == "compiled"


@contextlib.contextmanager
def unsaid() -> Iterator[None]:
    """Leave out what was said once, where the plan is read: of a law that is used outside its range.

    Filters of warnings belong to the whole process: a thread beside the main one leaves them to that.
    """
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", ValidityWarning)
        yield


def _examples(base: Setup, fuels: Iterable[Blend]) -> Iterator[Setup]:
    """A design for each number of components in a fuel."""
    for fuel in {len(fuel.components): fuel for fuel in fuels}.values():
        with contextlib.suppress(InputError):
            yield vary(base, {"charge.fuel": fuel})


def compute(task: Task) -> tuple[Block, float]:
    """Burn the designs of a task: a row for each, whatever becomes of it, and the time that they took [s]."""
    start = time.perf_counter()
    remember(task.records)
    made: list[Setup | InputError] = []
    with unsaid():
        for changes in task.changes:
            try:
                made.append(vary(task.base, changes))
            except InputError as error:
                made.append(error)
        setups = [one for one in made if isinstance(one, Setup)]
        burnt = iter(burn_batch(setups, partial(task.engine, rtol=task.rtol), keep_refusals=True))
    block = block_of([_row(next(burnt) if isinstance(one, Setup) else one) for one in made])
    return block, time.perf_counter() - start


def _row(found: Outcome | Failure | InputError) -> Row:
    if isinstance(found, InputError):
        return row_without(IMPOSSIBLE, str(found))
    if isinstance(found, Failure):
        return row_without(IMPOSSIBLE if isinstance(found, Refusal) else FAILED, found.reason)
    return row_of(found)
