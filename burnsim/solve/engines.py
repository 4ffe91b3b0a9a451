"""How burns are run: as machine code, which must be compiled once, or as plain Python."""

import atexit
import threading
import warnings
from collections import Counter
from collections.abc import Iterable
from contextlib import suppress
from typing import Literal, get_args

from burnsim.errors import BurnsimError, InputError
from burnsim.model.description.setup import Setup
from burnsim.solve.results.outcome import Start
from burnsim.solve.run import ready

Engine = Literal["auto", "compiled", "plain"]
WORTH_COMPILING = 16
"""So many burns in plain Python take as long as compiling does."""
WORTH_BEHIND = 6
"""After so many burns in plain Python, few at a time, more are likely to come."""

_plain: Counter[int] = Counter()
"""Burns in plain Python so far, by the number of components."""
_stopping = threading.Event()


def check_engine(engine: str) -> None:
    """Refuse an engine that does not exist."""
    if engine not in get_args(Engine):
        raise InputError("engine", engine, "is not known", "use 'auto', 'compiled' or 'plain'")


def compiled(engine: Engine, components: int) -> bool:
    """Whether burns of a fuel of so many components run as machine code; "auto" takes it where it is at hand."""
    if engine != "auto":
        return engine == "compiled"
    from burnsim.solve.compile.engine import at_hand

    return at_hand(components)


def prepare(setups: Iterable[Setup], burns: float) -> Engine:
    """Choose the engine for so many burns, and compile here, once, what they need.

    One setup of each number of components will do. It is "plain", with a warning, where compiling fails: many burns are
    not lost for want of a compiler.
    """
    if burns < WORTH_COMPILING:
        return "auto"
    try:
        for setup in setups:
            _compile_for(setup)
    except Exception as error:
        what = str(error).strip().partition("\n")[0]
        warnings.warn(
            f"the march cannot be compiled here ({type(error).__name__}: {what}); plain Python takes far longer",
            RuntimeWarning,
            stacklevel=3,
        )
        return "plain"
    return "compiled"


def _compile_for(setup: Setup) -> None:
    """Compile for a setup's kind of fuel, should that still have to be done; what nothing lights compiles nothing."""
    from burnsim.solve.compile.engine import at_hand, compile_for

    if at_hand(len(setup.charge.fuel.components)):
        return
    start = None
    with suppress(BurnsimError):  # the burn itself will tell
        start = ready(setup)
    if start is not None and start.spark.time is not None:
        compile_for(start)


def burnt_plain(start: Start) -> None:
    """Take note of a burn in plain Python; after a few, the march is compiled behind the back of those to come."""
    components = start.parameters.components
    _plain[components] += 1
    if _plain[components] == WORTH_BEHIND and start.spark.time is not None:
        behind = threading.Thread(target=_compile_behind, args=(start,), name="burnsim compiles", daemon=True)
        behind.start()
        atexit.register(_stop, behind)


def _compile_behind(start: Start) -> None:
    """Compile; should that fail, whoever needs it will be told why."""
    from burnsim.solve.compile.engine import compile_for

    with suppress(Exception):
        compile_for(start, _stopping.is_set)


def _stop(behind: threading.Thread) -> None:
    """Let no compiler run while the process takes itself down."""
    _stopping.set()
    behind.join()
