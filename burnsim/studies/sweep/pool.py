"""Spread the tasks of a sweep over workers: what a worker does, and what a dying worker loses, which is done again.

Any `concurrent.futures.Executor` will do. The workers of our own pool are fresh processes ("spawn": a fork would copy
the threads of compiled code half-way), ignore Ctrl-C, which is for the sweep to handle, and do not run the user's
script again.
"""

import contextlib
import os
import signal
import sys
import threading
import time
import types
import warnings
from collections import deque
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import (
    FIRST_COMPLETED,
    BrokenExecutor,
    Executor,
    Future,
    ProcessPoolExecutor,
    ThreadPoolExecutor,
    wait,
)
from contextlib import contextmanager
from functools import partial
from multiprocessing.context import SpawnContext, SpawnProcess
from typing import Any, ClassVar, NamedTuple, Protocol

from burnsim.closures.combustion import Records, remember
from burnsim.errors import InputError, SolverError, ValidityWarning
from burnsim.model import Setup, vary
from burnsim.solve import Failure, Outcome, burn_many
from burnsim.solve.engines import prepare
from burnsim.studies.batches import Refusal, burn_batch
from burnsim.studies.sweep.columns import FAILED, IMPOSSIBLE, Block, block_of, row_of, row_without
from burnsim.substances.blend import Blend


class Engine(Protocol):
    """Burns some designs: `burnsim.burn_many` or a stand-in."""

    def __call__(self, setups: list[Setup], *, rtol: float) -> list[Outcome | Failure]: ...


class Task(NamedTuple):
    """A chunk of the designs of a sweep, small enough to travel."""

    base: Setup
    changes: Sequence[dict[str, object]]
    rtol: float
    engine: Engine
    records: Records = ()  # of combustion, so that no worker need ask for them
    start: int = 0  # number of the first design
    alone: bool = False  # it failed beside others, and so has the workers to itself


def engine_for(base: Setup, fuels: Iterable[Blend], count: int) -> Engine:
    """The engine of the house for so many variants of a base, compiled here, once, should that have to be done."""
    examples = []
    for fuel in {len(fuel.components): fuel for fuel in fuels}.values():
        with contextlib.suppress(InputError):
            examples.append(vary(base, {"charge.fuel": fuel}))
    return partial(burn_many, engine=prepare(examples, count))


@contextlib.contextmanager
def range_warnings_hidden() -> Iterator[None]:
    """Leave out what was said once, where the plan is read: of a law that is used outside its range.

    Filters of warnings belong to the whole process: a thread beside the main one leaves them to that.
    """
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", ValidityWarning)
        yield


def compute(task: Task) -> tuple[Block, float]:
    """Burn the designs of a task: a row for each, whatever becomes of it, and the time that they took [s]."""
    start = time.perf_counter()
    remember(task.records)
    made: list[Setup | Refusal] = []
    with range_warnings_hidden():
        for changes in task.changes:
            try:
                made.append(vary(task.base, changes))
            except InputError as error:
                made.append(Refusal(task.base, str(error)))
        setups = [one for one in made if isinstance(one, Setup)]
        burnt = iter(burn_batch(setups, partial(task.engine, rtol=task.rtol), keep_refusals=True))
    rows = []
    for one in made:
        found = next(burnt) if isinstance(one, Setup) else one
        if isinstance(found, Failure):
            rows.append(row_without(IMPOSSIBLE if isinstance(found, Refusal) else FAILED, found.reason))
        else:
            rows.append(row_of(found))
    return block_of(rows), time.perf_counter() - start


GRACE = 10.0  # how long Ctrl-C waits for running chunks, so that what they have computed is kept [s]

WORTH_PROCESSES = 2000
"""Designs as machine code, below which starting processes costs more than threads lose by taking turns in Python.

A design takes some 5 ms, of which 30 % are Python; a process takes 1.5 s to start."""

MakeExecutor = Callable[[], Executor]
Keep = Callable[[int, Block, float], None]
"""Takes the number of the first design, the rows, and the time that they took [s]."""


def cores() -> int:
    """How many cores this process may use."""
    affinity = getattr(os, "sched_getaffinity", None)
    return len(affinity(0)) if affinity else os.cpu_count() or 1


def process_pool(workers: int) -> Executor:
    """Make a pool of fresh processes."""
    ignore = (signal.SIGINT, signal.SIG_IGN)
    return ProcessPoolExecutor(workers, mp_context=_Context(), initializer=signal.signal, initargs=ignore)


def own_executor(workers: int, designs: int, engine: Engine) -> Executor:
    """Make the executor of the house: threads for some designs as machine code, else processes."""
    ours = isinstance(engine, partial) and engine.func is burn_many and engine.keywords.get("engine") == "compiled"
    if ours and designs < WORTH_PROCESSES:
        return ThreadPoolExecutor(workers)
    return process_pool(workers)


def run_here(tasks: Iterator[Task], keep: Keep) -> None:
    """Do every task in this process, one after the other."""
    for task in tasks:
        with _interrupt_deferred():
            keep(task.start, *compute(task))


class Dispatcher:
    """Has every task done by an executor, each exactly once.

    A task is made when a worker becomes free; `at_once` of them are under way. `keep` is called for every chunk, in
    this thread, as soon as it is done. A chunk that fails is done again after all others, alone, then design by design.
    A design that fails alone gets a row that says so.

    Given an executor, the dispatcher ends when that breaks down. Given a function that makes one, it replaces a broken
    executor, and shuts the last one down in the end.
    """

    def __init__(self, tasks: Iterator[Task], keep: Keep, executor: Executor | MakeExecutor, at_once: int) -> None:
        self.tasks, self.keep, self.at_once = tasks, keep, at_once
        self.make = None if isinstance(executor, Executor) else executor
        self.executor = executor if isinstance(executor, Executor) else executor()
        self.running: dict[Future[tuple[Block, float]], tuple[Task, Executor]] = {}
        self.retries: deque[Task] = deque()
        self.failed: list[tuple[Task, str]] = []
        self.succeeded = False

    def run(self) -> None:
        """Do it all; a `SolverError` if the executor breaks down and cannot be replaced, or refuses everything."""
        try:
            while self._fill():
                done = wait(self.running, return_when=FIRST_COMPLETED).done  # Ctrl-C is heard only here
                with _interrupt_deferred():
                    for future in done:
                        self._collect(future)
            if self.failed and not self.succeeded:
                raise SolverError(f"no worker could do its work: {self.failed[0][1]}")
            for task, what in self.failed:
                self.keep(task.start, block_of([row_without(FAILED, what)]), 0.0)
        except KeyboardInterrupt:
            self._drain()
            raise
        finally:
            for future in self.running:
                future.cancel()
            if self.make is not None:
                self.executor.shutdown(wait=not self.running, cancel_futures=True)

    def _fill(self) -> bool:
        """Submit what there is room for; whether anything is running."""
        with _interrupt_deferred():
            while len(self.running) < self.at_once and (task := next(self.tasks, None)) is not None:
                self._submit(task)
            while not self.running and self.retries:
                self._submit(self.retries.popleft())  # alone, so that it is plain which one kills its worker
        return bool(self.running)

    def _submit(self, task: Task) -> None:
        try:
            self.running[self.executor.submit(compute, task)] = (task, self.executor)
        except BrokenExecutor as error:  # it died between two chunks: none of them is to blame
            self.retries.append(task)
            self._replace(self.executor, error)

    def _collect(self, future: Future[tuple[Block, float]]) -> None:
        """Keep what a chunk gave, or see to it that it is done again."""
        task, executor = self.running.pop(future)
        try:
            block, seconds = future.result()
        except BrokenExecutor as error:
            self._replace(executor, error)
            self._retry(task, "its worker died")
        except Exception as error:
            self._retry(task, f"{type(error).__name__}: {error}")
        else:
            self.succeeded = True
            self.keep(task.start, block, seconds)

    def _replace(self, broken: Executor, error: BrokenExecutor) -> None:
        """Put a new executor in the place of a broken one. What that had running fails and comes back by itself."""
        if broken is not self.executor:
            return  # another chunk has told already
        if self.make is None:
            raise SolverError(f"the executor broke down: {error}") from error
        broken.shutdown(wait=False, cancel_futures=True)
        self.executor = self.make()

    def _retry(self, task: Task, what: str) -> None:
        """Have a chunk that failed done again alone, then design by design; a single design has failed for good."""
        if not task.alone:
            self.retries.append(task._replace(alone=True))
        elif len(task.changes) > 1:
            self.retries += [
                task._replace(changes=[changes], start=task.start + k) for k, changes in enumerate(task.changes)
            ]
        else:
            self.failed.append((task, what))

    def _drain(self) -> None:
        """After Ctrl-C: let running chunks finish for a moment, and keep them; a second Ctrl-C ends that too."""
        for future in list(self.running):
            if future.cancel():
                del self.running[future]
        for future in wait(self.running, timeout=GRACE).done:
            task, _ = self.running.pop(future)
            if not future.cancelled() and future.exception() is None:
                self.keep(task.start, *future.result())


@contextmanager
def _interrupt_deferred() -> Iterator[None]:
    """Hold Ctrl-C back until the block is left, so that what is computed comes into the store; a second one cuts in."""
    usual = signal.getsignal(signal.SIGINT)
    if threading.current_thread() is not threading.main_thread() or not callable(usual):
        yield
        return
    came: list[types.FrameType | None] = []

    def note(signum: int, frame: types.FrameType | None) -> None:
        if came:
            usual(signum, frame)
        came.append(frame)

    signal.signal(signal.SIGINT, note)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, usual)
    if came:
        usual(signal.SIGINT, came[0])


_hiding = threading.Lock()


@contextmanager
def _main_script_hidden() -> Iterator[None]:
    """Keep a starting process from running the user's script again, and from hearing Ctrl-C while it starts."""
    mask = getattr(signal, "pthread_sigmask", None)  # a process inherits what its parent blocks
    with _hiding:
        script = sys.modules["__main__"]
        sys.modules["__main__"] = types.ModuleType("__main__")
        before = mask(signal.SIG_BLOCK, {signal.SIGINT}) if mask else None
        try:
            yield
        finally:
            if mask:
                mask(signal.SIG_SETMASK, before)
            sys.modules["__main__"] = script


class _Process(SpawnProcess):
    """A fresh process that does not import the script which started it."""

    def start(self) -> None:
        with _main_script_hidden():
            super().start()


class _Context(SpawnContext):
    """Makes such processes."""

    Process: ClassVar[Any] = _Process
