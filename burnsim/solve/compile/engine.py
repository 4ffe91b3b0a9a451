"""The march as machine code: compiled once for each number of components, kept, and run for many burns.

Machine code is kept in the user's cache folder, under a hash of the sources that it is made from, of the processor, and
of the versions that made it. A change of the physics text asks for another file, so that no stale code can ever run; a
file that is damaged, or not this user's alone, is as good as none.
"""

import struct
import sys
import threading
from collections import defaultdict
from collections.abc import Callable, Sequence
from contextlib import ExitStack
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from burnsim import errors
from burnsim.errors import SolverError
from burnsim.io.cache import NoFolder, content_key, in_turn, keep, private_folder, read_kept
from burnsim.solve.arguments import Arguments, account_of, arguments_of, marched_out, waters_of
from burnsim.solve.compile.kinds import words_of
from burnsim.solve.compile.layout import packed
from burnsim.solve.compile.machine_text import machine_module
from burnsim.solve.compile.specialise import written_out
from burnsim.solve.march import run
from burnsim.solve.recorder import phases_of
from burnsim.solve.results.outcome import Start
from burnsim.solve.run import DEFAULT_RTOL, March
from burnsim.solve.stepper import ARRAYS

if TYPE_CHECKING:
    from burnsim.solve.compile.machine import Entry

INLINED = ("bounds_", "elementary_", "substances_", "closures_", "model_")
"""Physics is put into its callers: else its records of twenty numbers pass through memory."""
CALLED = (
    "model_balances_flows_balances",
    "model_balances_flows_pressed",
    "model_balances_flows_near",
    "model_balances_pot_hot_gas",
    "model_balances_pot_slopes_of_heat_given",
)
"""But these are called: they stand in several places, and hold all the rest."""
SOURCES = (
    "bounds.py",
    "constants.py",
    "elementary.py",
    "records.py",
    "slopes.py",
    "substances",
    "closures",
    "model",
    "solve",
)
"""All that the machine code is made from, and what makes it."""
FOLDER = "machine_code"

_entries: "dict[int, Entry]" = {}
_looked: set[int] = set()
"""Numbers of components for which the cache has been looked through."""
_locks: defaultdict[int, threading.Lock] = defaultdict(threading.Lock)


@cache
def _sources() -> str:
    here = Path(errors.__file__).parent
    places = [here / source for source in SOURCES]
    files = [file for place in places for file in (sorted(place.rglob("*.*")) if place.is_dir() else [place])]
    return content_key(*[file.read_bytes() for file in files if file.suffix in (".py", ".toml")])


def _key(components: int) -> str:
    from burnsim.solve.compile.machine import host

    return content_key(components, _sources(), *host())


@cache
def _folder() -> Path | None:
    """Where machine code is kept; None, said once, where it cannot be."""
    try:
        return private_folder(FOLDER)
    except NoFolder as error:
        _say(f"machine code is not kept between runs: {error}")
        return None


def _say(what: str) -> None:
    print(f"burnsim: {what}", file=sys.stderr, flush=True)


def _name(components: int, key: str) -> str:
    return f"march_{components}_{key}.o"


def at_hand(components: int) -> bool:
    """Whether the march for blends with so many components is compiled already, here or in the cache."""
    if components in _entries or components in _looked:
        return components in _entries
    folder = _folder()
    if folder is not None and any(folder.glob(_name(components, "*"))):
        from burnsim.solve.compile.machine import entry_of

        code = read_kept(folder / _name(components, _key(components)), _key(components))
        if code is not None:
            _entries[components] = entry_of(code)
    _looked.add(components)
    return components in _entries


def compile_for(start: Start, stop: Callable[[], bool] | None = None) -> None:
    """Compile the march for the number of components of a setup, unless that is done.

    Parameters
    ----------
    start : a setup made ready
    stop : asked now and then whether to leave it; default never, and a line on stderr says what takes so long
    """
    n = start.parameters.components
    stopped = stop or (lambda: False)
    with _locks[n], ExitStack() as turn:
        if at_hand(n):
            return
        folder, key = _folder(), _key(n)
        if folder is not None:
            turn.enter_context(in_turn(folder / f"march_{n}", stopped))
            _looked.discard(n)
            if at_hand(n):  # another process has compiled it meanwhile
                return
        from burnsim.solve.compile.machine import entry_of, object_code

        if stop is None:
            _say(f"compiling the march for {n} component(s); this takes some seconds, once")
        name, written = written_out(run, n)
        if stopped():
            return
        text = machine_module(written, name, (packed(start.parameters), *_arguments(start, DEFAULT_RTOL)), _inlined)
        code = b""
        for made in object_code(text):
            if stopped():
                return
            code = made
        if folder is not None and not keep(folder / _name(n, key), key, code):
            _say(f"machine code is not kept between runs: {folder} cannot be written to")
        _entries[n] = entry_of(code)


def _inlined(name: str) -> bool:
    return name.startswith(INLINED) and name not in CALLED


def compiled_run(start: Start) -> "Entry":
    """The compiled march for the number of components of a setup."""
    n = start.parameters.components
    if not at_hand(n):
        compile_for(start)
    return _entries[n]


def march_compiled(start: Start, rtol: float, asked: Sequence[float] = (), *, keeps: bool = False) -> March:
    """Integrate a burn with the compiled march.

    Parameters
    ----------
    start : a setup made ready
    rtol : relative tolerance of a step
    asked : times at which the water's temperature is wanted, rising [s]
    keeps : whether the whole course is kept, as `march` does; else there are no phases

    Returns
    -------
    March

    Raises
    ------
    SolverError
        If the integration breaks down.
    """
    entry = compiled_run(start)
    p = packed(start.parameters)

    def run(given: Arguments) -> int:
        words = words_of((p, *given))
        row = struct.pack("".join(["d" if isinstance(word, float) else "q" for word in words]), *words)
        return entry(np.frombuffer(row).ctypes.data)

    went, arguments = marched_out(run, _arguments(start, rtol, asked, keeps=keeps), ARRAYS)
    account = account_of(went, arguments)
    return March(phases_of(arguments.recorder) if keeps else (), account, waters_of(arguments))


def _arguments(start: Start, rtol: float, asked: Sequence[float] = (), *, keeps: bool = False) -> Arguments:
    p, first, spark = start
    if spark.time is None:
        raise SolverError("nothing was lit")
    lighting = (spark.time, spark.regime)
    return arguments_of(p, first, lighting, rtol, asked, ARRAYS, keeps=keeps)
