"""How burns are run: as machine code, which must be compiled once, or as plain Python."""

import warnings
from collections.abc import Iterable
from contextlib import suppress
from typing import Literal, get_args

from burnsim.errors import BurnsimError, InputError, SolverError
from burnsim.model.description.setup import Setup
from burnsim.solve.run import DEFAULT_RTOL, ready

Engine = Literal["auto", "compiled", "plain"]
WORTH_COMPILING = 100
"""So many burns in plain Python take as long as compiling does."""

_ready: set[int] = set()
"""Numbers of components for which this process has compiled."""


def check_engine(engine: str) -> None:
    """Refuse an engine that is none.

    Raises
    ------
    InputError
    """
    if engine not in get_args(Engine):
        raise InputError("engine", engine, "is not known", "use 'auto', 'compiled' or 'plain'")


def compiled(engine: Engine, components: int, burns: int) -> bool:
    """Whether burns run as machine code.

    Parameters
    ----------
    engine : "auto" takes machine code where it is at hand or worth compiling
    components : of the fuel
    burns : how many there are
    """
    if engine != "auto":
        return engine == "compiled"
    from burnsim.solve.compile.engine import place

    return burns >= WORTH_COMPILING or components in _ready or place(components).warm


def prepare(setups: Iterable[Setup], burns: float) -> Engine:
    """Choose the engine for many burns, and compile here, once, what their workers would else compile each.

    Parameters
    ----------
    setups : of these burns, or one of each number of components at least
    burns : how many there will be in all

    Returns
    -------
    Engine
        "plain", with a warning, where compiling fails: many burns are not lost for want of a compiler.
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
    """March a setup, should its kind of fuel still have to be compiled; one that nothing lights compiles nothing."""
    from burnsim.solve.compile.engine import march_compiled, place

    components = len(setup.charge.fuel.components)
    if components in _ready or place(components).warm:
        return
    with suppress(BurnsimError):  # the burn itself will tell
        start = ready(setup)
        if start.spark.time is not None:
            with suppress(SolverError):
                march_compiled(start, DEFAULT_RTOL)
            _ready.add(components)
