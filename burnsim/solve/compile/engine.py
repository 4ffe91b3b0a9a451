"""Compile the march for a number of components, once for all time, and run setups through it.

The text that `specialise` writes goes into a module in the user's cache folder, named by a hash of its content and of
the versions that made it; the compiler keeps its machine code beside it. A change of the physics text makes another
module, so that no stale code can ever run.
"""

import importlib.util
import os
import sys
from collections.abc import Sequence
from functools import cache
from importlib.metadata import version
from pathlib import Path
from time import time_ns
from types import ModuleType
from typing import Any, NamedTuple

import numpy as np

from burnsim import errors
from burnsim.closures._record_store import cache_folder, content_key
from burnsim.errors import SolverError
from burnsim.model.balances.events import EVENTS
from burnsim.model.balances.state import Regime, at_the_match, state_size, tallies_size
from burnsim.solve.compile import loop
from burnsim.solve.compile.layout import packed
from burnsim.solve.compile.method import desk, rule_of
from burnsim.solve.compile.specialise import module_text
from burnsim.solve.march import MOST_STEPS, MOST_SWITCHES
from burnsim.solve.results.account import Account, Moment
from burnsim.solve.results.outcome import Start
from burnsim.solve.results.sight import Sight
from burnsim.solve.sizes import idle_states

ENTRY = "solve_compile_loop_run"
INLINED = ("bounds_", "substances_", "closures_", "model_")
"""Physics goes inline: else its records of twenty numbers pass through memory, which costs a quarter more."""
CALLED = ("model_balances_flows_balances", "model_balances_flows_near")
"""But these are called: they stand in several places, and hold all the rest."""
MOST_MOMENTS = MOST_SWITCHES + len(EVENTS) + 4
SOURCES = (
    "bounds.py",
    "constants.py",
    "records.py",
    "substances",
    "closures",
    "model",
    "solve/compile",
    "solve/march.py",
    "solve/rosenbrock.py",
    "solve/results/sight.py",
    "solve/sizes.py",
)
"""All that the text is written from, and what writes it."""
HEAD = """# Written out from the physics text; see burnsim.solve.compile.specialise.
import numba


def compiled(function):
    name = function.__name__
    entry = name == {entry!r}  # the only one that Python calls: the others need no way in from there
    return numba.njit(
        error_model="numpy",
        nogil=True,
        cache={cached} and entry,
        no_cpython_wrapper=not entry,
        no_cfunc_wrapper=True,
        forceinline=name.startswith({inlined!r}) and name not in {called!r},
        _nrt=False,  # nothing here owns memory: counting references to the arrays would take a tenth of the time
    )(function)


"""
ENDS = {loop.BURNT_OUT: "burnt out", loop.CUT_OFF: "horizon", loop.FLUTTER: "flutter"}
FAILURES = {
    loop.TOO_MANY_STEPS: f"more than {MOST_STEPS} steps",
    loop.TOO_SHORT: "no step is short enough",
    loop.SINGULAR: "the step matrix is singular",
    loop.TOO_MANY_EVENTS: "too many events",
}


class Place(NamedTuple):
    """Where the written module of a number of components is kept, and whether its machine code lies beside it."""

    path: Path | None
    warm: bool


def _texts(source: Path) -> list[Path]:
    """Files of a source: code, and the data of substances, whose numbers become literals."""
    return sorted([*source.rglob("*.py"), *source.rglob("*.toml")]) if source.is_dir() else [source]


@cache
def place(components: int) -> Place:
    """Find the written module for blends with so many components; nothing is written yet."""
    folder = _folder()
    if folder is None:
        return Place(None, False)
    here = Path(errors.__file__).parent
    sources = [here / source for source in SOURCES]
    files = [file for source in sources for file in _texts(source)]
    texts = [file.read_bytes() for file in files]
    made_by = [version(name) for name in ("numba", "numpy", "llvmlite")]
    path = folder / f"march_{content_key(components, *texts, *made_by, sys.version)}.py"
    warm = any((folder / "__pycache__").glob(f"{path.stem}.{ENTRY}-*.nbc"))
    return Place(path, warm and path.exists())


@cache
def compiled_run(components: int) -> Any:
    """The compiled march for blends with so many components; says on stderr when it has to compile."""
    kept = place(components)
    if not kept.warm:
        print(
            f"burnsim: compiling the march for {components} component(s); this takes up to a minute, once",
            file=sys.stderr,
            flush=True,
        )
    if kept.path is None:
        module = ModuleType("burnsim_march")
        text = _head(cached=False) + module_text([loop.run], components)
        exec(compile(text, "march", "exec"), vars(module))
        return vars(module)[ENTRY]
    if not kept.path.exists():
        text = _head(cached=True) + module_text([loop.run], components)
        draft = kept.path.with_suffix(f".{os.getpid()}.{time_ns()}.tmp")
        draft.write_text(text, encoding="utf-8")
        draft.replace(kept.path)
    return vars(_load(kept.path))[ENTRY]


def _head(*, cached: bool) -> str:
    return HEAD.format(entry=ENTRY, cached=cached, inlined=INLINED, called=CALLED)


def _folder() -> Path | None:
    """Where the written modules live; None if nothing can be kept there."""
    own = cache_folder()
    if own is None:
        return None
    folder = own / "native"
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError:
        return None
    return folder if os.access(folder, os.W_OK) else None


def _load(path: Path) -> ModuleType:
    spec = importlib.util.spec_from_file_location(f"burnsim_{path.stem}", path)
    if spec is None or spec.loader is None:
        raise SolverError(f"the compiled module {path} cannot be read")
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    return module


def _book(components: int) -> loop.Book:
    """What a march writes to; most of it is never touched."""
    whole = state_size(components) + tallies_size(components)
    wide = len(Sight._fields)
    return loop.Book(
        np.zeros(loop.SWITCHES + 1),
        np.empty(MOST_STEPS),
        np.empty((MOST_STEPS, wide)),
        np.empty(MOST_MOMENTS),
        np.empty(MOST_MOMENTS),
        np.empty((MOST_MOMENTS, whole)),
        np.empty((MOST_MOMENTS, wide)),
    )


def march_compiled(start: Start, rtol: float, asked: Sequence[float] = ()) -> tuple[Account, tuple[float | None, ...]]:
    """Integrate a burn with the compiled march.

    Parameters
    ----------
    start : a setup made ready
    rtol : relative tolerance of a step
    asked : times at which the water's temperature is wanted, rising [s]

    Returns
    -------
    (account of the burn, the water's temperatures [K]; None at times after its end)

    Raises
    ------
    SolverError
        If the integration breaks down.
    """
    p, first, spark = start
    n = p.components
    if spark.time is None:
        raise SolverError("nothing was lit")
    y = np.array(at_the_match(first, n))
    book = _book(n)
    idle = np.zeros(state_size(n))
    idle[list(idle_states(Regime(wick=1.0, jets=1.0, well=1.0), p))] = 1.0
    water = np.full(len(asked), np.nan)
    end = compiled_run(n)(
        packed(p),
        y,
        spark.time,
        np.array(spark.regime),
        rule_of(rtol, first, p),
        idle,
        np.zeros(loop.REGIME_SIZE),
        desk(state_size(n), len(y)),
        loop.watch_of(),
        book,
        np.array(asked, dtype=float),
        water,
    )
    counts = [int(count) for count in book.counts]
    many, events = counts[loop.TIMES], counts[loop.MOMENTS]
    if end not in ENDS:
        raise SolverError(f"{FAILURES[end]} at {book.times[many - 1]:.6g} s")
    names = ("lit" if code < 0 else EVENTS[int(code)] for code in book.codes[:events])
    happened = tuple(
        Moment(name, when, tuple(point), Sight(*look))
        for name, when, point, look in zip(
            names,
            book.moments[:events].tolist(),
            book.points[:events].tolist(),
            book.looks[:events].tolist(),
            strict=True,
        )
    )
    account = Account(
        time=book.times[:many].copy(),
        sights=book.sights[:many].copy(),
        moments=happened,
        last=tuple(y.tolist()),
        ended=ENDS[end],
        evaluations=counts[loop.EVALUATIONS],
        rejected=counts[loop.REJECTED],
    )
    return account, tuple(None if np.isnan(value) else float(value) for value in water)
