"""Sweep any fields of a design: thousands of burns, one labelled dataset."""

import contextlib
import json
import os
import warnings
from collections.abc import Callable, Iterable, Iterator, Mapping
from concurrent.futures import Executor
from functools import partial
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING

from burnsim.closures.combustion import known_records
from burnsim.errors import InputError, SolverError, check_whole
from burnsim.io.progress import Progress, reporter
from burnsim.model import Design, Setup, as_setup
from burnsim.solve.run import DEFAULT_RTOL, check_rtol
from burnsim.studies.batches import INTERNAL
from burnsim.studies.sweep.columns import COLUMNS, FAILED, IMPOSSIBLE, Block, rows
from burnsim.studies.sweep.files import check_path, dataset_of, frame_of_plan, load_sweep, write
from burnsim.studies.sweep.plan import MOST_DESIGNS, Mode, Plan, digest, make_plan
from burnsim.studies.sweep.pool import (
    Dispatcher,
    Engine,
    Task,
    cores,
    engine_for,
    own_executor,
    range_warnings_hidden,
    run_here,
)
from burnsim.studies.sweep.store import FolderStore, MemoryStore

if TYPE_CHECKING:
    import xarray

ALONE_BELOW = 16  # designs that are not worth starting processes for
FIRST_CHUNK = 4
LARGEST_CHUNK = 1024
MOST_WORKERS = 1024
MOST_SENT = 16  # combustion records that go to the workers with every chunk
CHUNK_TIME = 1.0  # of work: what a killed worker may lose, and how long Ctrl-C may take [s]
METHOD = "Rosenbrock, order 4, adaptive steps, located events"


def sweep(
    setup: Design,
    values: Mapping[str, Iterable[object]],
    *,
    mode: Mode = "grid",
    samples: int | None = None,
    seed: int = 0,
    rtol: float = DEFAULT_RTOL,
    engine: Engine | None = None,
    executor: Executor | Callable[[], Executor] | None = None,
    workers: int | None = None,
    out: str | os.PathLike[str] | None = None,
    resume: bool = True,
    chunk: int | None = None,
    progress: bool | Progress | None = None,
) -> "xarray.Dataset":
    """Burn every design of a plan, and collect what came of each.

    Parameters
    ----------
    setup : the design from which all others differ
    values : what to vary, by dotted path ("burner.jets.diameter"): a list of values for "grid" and "paired"; for a
        sampled plan (low, high) for a number, both included, and a list of choices for anything else. Numbers are SI,
        texts have units.
    mode : "grid" (every combination), "paired" (the first of each, the second of each, ...), or the space-filling
        "sobol", "halton" and "latin hypercube"
    samples, seed : how many designs a sampled plan has, and the seed of its random numbers
    rtol : relative tolerance of the integration
    engine : what burns; default none: `burnsim.burn_many`, compiled where that pays
    executor : any `concurrent.futures.Executor`, such as dask's `client.get_executor()`, or a function without
        arguments that makes one: then a broken one is replaced. Default none: processes on this machine.
    workers : how many work at once, default one a core: threads for some hundreds of designs as machine code, else
        processes; 1 works in this thread. With an executor of your own: how many workers it has.
    out : file for the result, .nc or .csv. Chunks are then kept on disk, in a folder FILE.parts, as they are done, and
        memory stays flat; the rows of a .nc are read when they are asked for.
    resume : whether to take up what FILE.parts holds of the same sweep; false begins anew, and writes over a file that
        holds anything else
    chunk : how many designs to hand out at a time; default none: about a second's work
    progress : true for a bar on stderr, false for none, None (default) for one on a terminal only; or a function that
        is called with how many designs are done and how many there are

    Returns
    -------
    xarray.Dataset
        On a grid its dimensions are the paths, else "design". Coordinates are in SI with `units`. `status` is "solved",
        "impossible" (it cannot be built) or "failed" (it could not be solved), with `reason`. Milestones are missing
        (NaN) where they did not happen, and `NAME_reason` says why. `verdicts` holds codes, see `has_verdict`. The
        attributes hold the plan, the settings, the version and the base design. Laws used outside their range are not
        told: that takes `burnsim.burn` of a design. A warning says why if no design at all can be built.

    Raises
    ------
    InputError
        For an unknown path or mode, a value that cannot be read, a file that cannot be, or one that holds anything but
        this sweep, or FILE.parts of another. A design that cannot be built or solved is not an error, but a row with
        its reason.
    SolverError
        If the executor breaks down for good. What is done is kept in FILE.parts.
    """
    base = as_setup(setup, "setup")
    plan = make_plan(base, values, mode, samples, seed)
    check_rtol(rtol)
    for name, number, most in (("workers", workers, MOST_WORKERS), ("chunk", chunk, MOST_DESIGNS)):
        if number is not None:
            check_whole(name, number, 1, most)
    frame = frame_of_plan(plan, _attributes(plan, base, rtol))
    fill = partial(
        _fill, plan=plan, task=Task(base, (), rtol, engine or engine_for(base, plan.fuels(base), plan.size)),
        chunk=chunk, executor=executor, workers=workers, report=reporter(progress),
    )  # fmt: skip
    if out is None:
        memory = MemoryStore()
        try:
            fill(memory)
        except KeyboardInterrupt:
            raise KeyboardInterrupt("nothing is kept: give out= a file, and a stopped sweep goes on from it") from None
        found = dataset_of(frame, memory.blocks())
    else:
        found = _by_parts(check_path(out), frame, plan.size, resume, fill)
    status = found["status"].values
    if (status == IMPOSSIBLE).all():
        reason = found["reason"].values.flat[0]
        warnings.warn(f"none of the {status.size} designs can be built; the first: {reason}", stacklevel=2)
    return found


def _by_parts(
    target: Path, frame: "xarray.Dataset", size: int, resume: bool, fill: Callable[[MemoryStore], None]
) -> "xarray.Dataset":
    """Fill a folder beside the target chunk by chunk, then write the target from it."""
    if resume:
        _check_free(target, str(frame.attrs["fingerprint"]))
    parts = FolderStore(parts_folder(target))
    with _written_to(target):
        parts.open(str(frame.attrs["fingerprint"]), resume)
    try:
        fill(parts)
        with _written_to(target):
            write(frame, parts.blocks, target)
            parts.remove()
    except KeyboardInterrupt:
        left = sum(stop - start for start, stop in parts.missing(size))
        kept = f"{size - left} of {size} designs are kept in {parts.folder}"
        raise KeyboardInterrupt(f"{kept}; the same sweep with the same file goes on from there") from None
    finally:
        parts.release()
    return load_sweep(target)


def _check_free(target: Path, fingerprint: str) -> None:
    """Refuse to write over a file that is there, unless it is empty or holds the same sweep."""
    if not target.is_file() or target.stat().st_size == 0:
        return
    try:
        with load_sweep(target) as kept:
            if kept.attrs["fingerprint"] == fingerprint:
                return
            what = "holds another sweep"
    except InputError:
        what = "is there already, and is no sweep that can be read"
    raise InputError("out", str(target), what, "choose another file, or write over it with resume=False (--restart)")


@contextlib.contextmanager
def _written_to(target: Path) -> Iterator[None]:
    """Tell of a file that cannot be written as bad input; what is done stays in the folder beside it."""
    try:
        yield
    except OSError as error:
        remedy = "free space, or choose another place; what is done is kept beside it"
        raise InputError("out", str(target), f"cannot be written: {error.strerror or error}", remedy) from None


def parts_folder(target: Path) -> Path:
    """The folder that keeps the finished chunks of an unfinished sweep."""
    return target.with_name(target.name + ".parts")


class _Chunks:
    """Cuts what is missing into chunks of about `CHUNK_TIME` of work."""

    def __init__(self, missing: list[tuple[int, int]], fixed: int | None) -> None:
        self.missing, self.fixed = missing, fixed
        self.left = sum(stop - start for start, stop in missing)
        self.share = 1
        self._size = float(FIRST_CHUNK)

    def learn(self, designs: int, seconds: float) -> None:
        """Take note of how long a chunk took."""
        if seconds > 0.0:
            wanted = CHUNK_TIME * designs / seconds
            self._size = min(max(wanted, 0.25 * self._size, 1.0), 4.0 * self._size, LARGEST_CHUNK)

    def __iter__(self) -> Iterator[tuple[int, int]]:
        for start, stop in self.missing:
            here = start
            while here < stop:
                fair = -(-self.left // self.share)  # so that all workers finish together
                size = min(self.fixed or max(min(int(self._size), fair), 1), stop - here)
                self.left -= size
                yield here, here + size
                here += size


def _fill(
    store: MemoryStore,
    plan: Plan,
    task: Task,
    chunk: int | None,
    executor: Executor | Callable[[], Executor] | None,
    workers: int | None,
    report: Progress | None,
) -> None:
    """Compute all rows that the store lacks; `task` is one without changes."""
    chunks = _Chunks(store.missing(plan.size), chunk)
    designs = chunks.left
    done = plan.size - designs
    afresh = done == 0
    reasons: set[str] = set()  # why designs failed; empty for one that did not, or by its own numbers

    tell = report or (lambda done, size: None)

    def keep(start: int, block: Block, seconds: float) -> None:
        nonlocal done
        with _written_to(store.folder) if isinstance(store, FolderStore) else contextlib.nullcontext():
            store.keep(start, block)
        for status, reason in zip(block["status"], block["reason"], strict=True):
            reasons.add(reason if status == FAILED and reason.startswith(INTERNAL) else "")
        chunks.learn(rows(block), seconds)
        done += rows(block)
        tell(done, plan.size)

    tell(done, plan.size)
    if not designs:
        return
    task = task._replace(records=known_records(plan.fuels(task.base)[:MOST_SENT]))
    tasks = (task._replace(start=start, changes=plan.changes(start, stop)) for start, stop in chunks)
    size = getattr(executor, "_max_workers", None)  # of an executor that tells how many workers it has
    processes = min(workers or (size if isinstance(size, int) and size > 0 else cores()), designs)
    chunks.share = 2 * processes
    if executor is not None:
        Dispatcher(tasks, keep, executor, 2 * processes).run()
    elif processes == 1 or (workers is None and designs < ALONE_BELOW):
        chunks.share = 1
        run_here(tasks, keep)
    else:
        with range_warnings_hidden():
            Dispatcher(tasks, keep, lambda: own_executor(processes, designs, task.engine), 2 * processes).run()
    if done > 1 and len(reasons) == 1 and "" not in reasons:
        if isinstance(store, FolderStore) and afresh:
            store.remove()
        raise SolverError(f"every design failed alike: {reasons.pop()}")


def _attributes(plan: Plan, base: Setup, rtol: float) -> dict[str, str | int | float]:
    version: str = import_module(__name__.partition(".")[0]).__version__
    design = json.dumps(base.to_dict(), ensure_ascii=False)
    settings = {"version": version, "rtol": rtol, "base": design, "columns": [column.name for column in COLUMNS]}
    attrs: dict[str, str | int | float] = {
        "title": f"sweep of {base.name or 'a burner'} over " + ", ".join(axis.path for axis in plan.axes),
        "source": f"burnsim {version}",
        "mode": plan.mode,
        "varied": ", ".join(axis.path for axis in plan.axes),
        "components": ", ".join(sorted({name for fuel in plan.fuels(base) for name in fuel.components})),
        "method": METHOD,
        "rtol": rtol,
        "base": design,
        "fingerprint": digest(plan, settings),
    }
    if plan.seed is not None:
        attrs["seed"] = plan.seed
    return attrs
