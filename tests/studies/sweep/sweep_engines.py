"""Engines for the tests of sweeps: quick, and some of them deadly. Workers import them by name."""

import os
import signal
import time
from dataclasses import replace
from pathlib import Path

from burnsim import Failure, Outcome, Setup, SolverError

DEADLY = 13  # jets


def quick(template: Outcome, setups: list[Setup], rtol: float) -> list[Outcome | Failure]:
    """An outcome for each design that tells which it is, by its duration."""
    return [replace(template, setup=setup, duration=mark(setup), rtol=rtol) for setup in setups]


def mark(setup: Setup) -> float:
    """A number that no two designs of a test share."""
    jets = setup.burner.jets
    assert jets is not None
    return 1000.0 * jets.count + 1e5 * jets.diameter


def slow(template: Outcome, pause: float, setups: list[Setup], rtol: float) -> list[Outcome | Failure]:
    """The same, with a pause for each design."""
    time.sleep(pause * len(setups))
    return quick(template, setups, rtol)


def die_once(template: Outcome, flag: Path, setups: list[Setup], rtol: float) -> list[Outcome | Failure]:
    """The first worker that comes to the deadly design is killed."""
    if any(is_deadly(setup) for setup in setups) and not flag.exists():
        flag.touch()
        os.kill(os.getpid(), signal.SIGKILL)
    return quick(template, setups, rtol)


def die_always(template: Outcome, setups: list[Setup], rtol: float) -> list[Outcome | Failure]:
    """Every worker that comes to the deadly design is killed."""
    if any(is_deadly(setup) for setup in setups):
        os.kill(os.getpid(), signal.SIGKILL)
    return quick(template, setups, rtol)


def stumble(template: Outcome, setups: list[Setup], rtol: float) -> list[Outcome | Failure]:
    """The whole call breaks down over the deadly design; the one after it is a failure of its own."""
    if any(is_deadly(setup) for setup in setups):
        raise ZeroDivisionError("over one jet too many")
    found = quick(template, setups, rtol)
    for k, setup in enumerate(setups):
        if setup.burner.jets is not None and setup.burner.jets.count == DEADLY + 1:
            found[k] = Failure(setup, str(SolverError("no step was small enough")))
    return found


def count_calls(
    template: Outcome, log: Path, setups: list[Setup], rtol: float, pause: float = 0.02
) -> list[Outcome | Failure]:
    """Write down every design that is burnt."""
    with log.open("a") as stream:
        stream.writelines(f"{mark(setup):.3f}\n" for setup in setups)
    return slow(template, pause, setups, rtol)


def count_and_hold(
    template: Outcome, log: Path, go: Path, after: int, setups: list[Setup], rtol: float
) -> list[Outcome | Failure]:
    """The same, and once so many are written down nobody goes on until he may (or for ten minutes), and then slowly."""
    found = count_calls(template, log, setups, rtol)
    until = time.monotonic() + 600.0
    while len(log.read_text().splitlines()) >= after and not go.exists() and time.monotonic() < until:
        time.sleep(0.01)
    if go.exists():
        time.sleep(0.5)
    return found


def is_deadly(setup: Setup) -> bool:
    """Whether this is the design that kills."""
    return setup.burner.jets is not None and setup.burner.jets.count == DEADLY
