"""Spread the tasks of a sweep over workers; what a dying worker loses is done again.

Any `concurrent.futures.Executor` will do. The workers of our own pool are fresh processes ("spawn": a fork would copy
the threads of compiled code half-way), ignore Ctrl-C, which is for the sweep to handle, and do not run the user's
script again.
"""

import os
import signal
import sys
import threading
import types
from collections import deque
from collections.abc import Callable, Iterator
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
from multiprocessing.context import SpawnContext, SpawnProcess
from typing import Any, ClassVar, NamedTuple

from burnsim.errors import SolverError
from burnsim.studies.sweep.columns import FAILED, Block, block_of, row_without
from burnsim.studies.sweep.work import Engine, Task, as_machine_code, compute

GRACE = 10.0
"""How long Ctrl-C waits for running chunks, so that what they have computed is kept [s]."""

TRUSTED = 2
"""How many dying workers a chunk may have been with before it must run alone."""

WORTH_PROCESSES = 2000
"""Designs as machine code, below which starting processes costs more than threads lose by taking turns in Python.

A design takes some 5 ms, of which 30 % are Python; a process takes 1.5 s to start."""

Recruit = Callable[[], Executor]
Keep = Callable[[int, Block, float], None]
"""Takes the number of the first design, the rows, and the time that they took [s]."""


class Job(NamedTuple):
    """A chunk under way."""

    start: int
    task: Task
    strikes: int = 0

    def singles(self) -> list["Job"]:
        """The same designs, one a chunk."""
        return [
            Job(self.start + k, self.task._replace(changes=[changes])) for k, changes in enumerate(self.task.changes)
        ]


def cores() -> int:
    """How many cores this process may use."""
    affinity = getattr(os, "sched_getaffinity", None)
    return len(affinity(0)) if affinity else os.cpu_count() or 1


def process_pool(workers: int) -> Executor:
    """Make a pool of fresh processes."""
    return ProcessPoolExecutor(workers, mp_context=_Context(), initializer=_quiet)


def own_executor(workers: int, designs: int, engine: Engine) -> Executor:
    """Make the executor of the house: threads for some designs as machine code, else processes."""
    if as_machine_code(engine) and designs < WORTH_PROCESSES:
        return ThreadPoolExecutor(workers)
    return process_pool(workers)


def run_here(jobs: Iterator[Job], keep: Keep) -> None:
    """Do every job in this process, one after the other."""
    for job in jobs:
        with _held():
            keep(job.start, *compute(job.task))


class Crew:
    """Does every job by an executor, each exactly once.

    The jobs are made one by one as workers become free, so many under way at once. `keep` is called for every chunk, in
    this thread, as soon as it is done. An executor of the caller's is the end if it breaks down; of what makes one, a
    broken one is replaced, and the last is shut down in the end.
    """

    def __init__(self, jobs: Iterator[Job], keep: Keep, executor: Executor | Recruit, at_once: int) -> None:
        self.jobs, self.keep, self.at_once = jobs, keep, at_once
        self.recruit = None if isinstance(executor, Executor) else executor
        self.again: deque[Job] = deque()
        self.suspects: deque[Job] = deque()
        self.doomed: list[tuple[Job, str]] = []
        self.under_way: dict[Future[tuple[Block, float]], tuple[Job, Executor]] = {}
        self.succeeded = False
        self.executor = executor if isinstance(executor, Executor) else executor()

    def work(self) -> None:
        """Do it all; a `SolverError` if the executor breaks down and cannot be renewed, or refuses everything."""
        try:
            while self._fill():
                done = wait(self.under_way, return_when=FIRST_COMPLETED).done  # Ctrl-C is heard only here
                with _held():
                    self._collect(done)
            self._bury()
        except KeyboardInterrupt:
            self._harvest()
            raise
        finally:
            for future in self.under_way:
                future.cancel()
            if self.recruit is not None:
                self.executor.shutdown(wait=not self.under_way, cancel_futures=True)

    def _fill(self) -> bool:
        """Submit what there is room for; whether anything is under way."""
        with _held():
            while len(self.under_way) < self.at_once:
                job = self.again.popleft() if self.again else next(self.jobs, None)
                if job is None:
                    break
                self._submit(job)
            if not self.under_way and self.suspects:
                self._submit(self.suspects.popleft())  # alone, so that a death has one culprit
        return bool(self.under_way)

    def _submit(self, job: Job) -> None:
        try:
            self.under_way[self.executor.submit(compute, job.task)] = (job, self.executor)
        except BrokenExecutor as error:  # it died between two chunks: nobody is to blame
            self.again.append(job)
            self._renew(self.executor, error)

    def _collect(self, done: set[Future[tuple[Block, float]]]) -> None:
        alone = len(self.under_way) == 1
        for future in done:
            job, executor = self.under_way.pop(future)
            try:
                block, seconds = future.result()
            except BrokenExecutor as error:
                self._renew(executor, error)
                self._strike(job, alone, "its worker died")
            except Exception as error:
                self._strike(job, alone, f"{type(error).__name__}: {error}")
            else:
                self.succeeded = True
                self.keep(job.start, block, seconds)

    def _renew(self, broken: Executor, error: BrokenExecutor) -> None:
        """Put a new executor in the place of a broken one. What that had under way fails and comes back by itself."""
        if broken is not self.executor:
            return  # another chunk has told already
        if self.recruit is None:
            raise SolverError(f"the executor broke down: {error}") from error
        broken.shutdown(wait=False, cancel_futures=True)
        self.executor = self.recruit()

    def _strike(self, job: Job, alone: bool, what: str) -> None:
        """A chunk came to grief: do it again, then alone, then design by design, each alone."""
        job = job._replace(strikes=job.strikes + 1)
        if job.strikes < TRUSTED:
            self.again.append(job)
        elif job.strikes == TRUSTED or not alone:
            self.suspects.append(job)
        elif len(job.task.changes) > 1:
            self.suspects.extend(single._replace(strikes=TRUSTED - 1) for single in job.singles())
        else:
            self.doomed.append((job, what))

    def _bury(self) -> None:
        """Give a row to each design that came to grief alone, twice."""
        if self.doomed and not self.succeeded:
            raise SolverError(f"no worker could do its work: {self.doomed[0][1]}")
        for job, what in self.doomed:
            self.keep(job.start, block_of([row_without(FAILED, what)]), 0.0)

    def _harvest(self) -> None:
        """After Ctrl-C: let running chunks finish for a moment, and keep them; a second Ctrl-C ends that too."""
        for future in list(self.under_way):
            if future.cancel():
                del self.under_way[future]
        done, _ = wait(self.under_way, timeout=GRACE)
        for future in done:
            job, _ = self.under_way.pop(future)
            if not future.cancelled() and future.exception() is None:
                self.keep(job.start, *future.result())


@contextmanager
def _held() -> Iterator[None]:
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


def _quiet() -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)


_hiding = threading.Lock()


@contextmanager
def _sheltered() -> Iterator[None]:
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
        with _sheltered():
            super().start()


class _Context(SpawnContext):
    """Makes such processes."""

    Process: ClassVar[Any] = _Process
