"""What every test needs: a cache folder of its own, pictures without a screen, no deadline for Hypothesis."""

import gc
import os
import shutil
import signal
import tempfile
from collections.abc import Generator
from contextlib import suppress
from pathlib import Path

import pytest
from _pytest.doctest import DoctestModule
from hypothesis import settings

from burnsim.io.cache import cache_folder

_CACHE = pytest.StashKey[tuple[Path, Path | None]]()
CODE = "machine_code"
MARCHES = 10
"""So many that the tests compiled are kept for their next run: two texts of the physics, five numbers of components."""


def pytest_configure(config: pytest.Config) -> None:
    """Keep records that the tests compute out of the user's own cache.

    And let workers keep bytecode: the tests start a hundred processes, and without it each compiles the package anew.
    """
    if "PYTEST_XDIST_WORKER" not in os.environ:  # workers share what the process that started them has set
        if config.getoption("dist", "no") != "no":
            os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
        folder, users = Path(tempfile.mkdtemp(prefix="burnsim-tests-")), cache_folder()
        for kept in (users, _last(config)):  # what still fits need not be compiled again
            if kept is not None:
                with suppress(OSError):
                    shutil.copytree(kept / CODE, folder / CODE, dirs_exist_ok=True)
        config.stash[_CACHE] = folder, users
        os.environ["BURNSIM_CACHE"] = str(folder)
    os.environ["MPLBACKEND"] = "Agg"
    if signal.getsignal(signal.SIGINT) == signal.SIG_IGN:  # in the background of a shell; children inherit it
        signal.signal(signal.SIGINT, signal.default_int_handler)
    settings.register_profile("burnsim", deadline=None)
    settings.load_profile("burnsim")


def pytest_unconfigure(config: pytest.Config) -> None:
    """Remove them again, but for marches that the user does not have: the next run may need them."""
    if _CACHE not in config.stash:
        return
    folder, users = config.stash[_CACHE]
    kept = _last(config)
    if kept is not None:
        known = set() if users is None else {path.name for path in (users / CODE).glob("*.o")}
        made = [path for path in (folder / CODE).glob("*.o") if path.name not in known]
        shutil.rmtree(kept / CODE, ignore_errors=True)
        (kept / CODE).mkdir(mode=0o700, exist_ok=True)
        for path in sorted(made, key=lambda one: one.stat().st_mtime)[-MARCHES:]:
            shutil.copy2(path, kept / CODE)
    shutil.rmtree(folder, ignore_errors=True)


def _last(config: pytest.Config) -> Path | None:
    """Where a run of the tests leaves something to the next; None where pytest keeps nothing."""
    cache = getattr(config, "cache", None)
    return None if cache is None else Path(cache.mkdir("burnsim"))


@pytest.hookimpl(wrapper=True)
def pytest_collection() -> Generator[None, object, object]:
    """Let the search for garbage pass over the tests and what they import, which stay: it takes a tenth of all time."""
    gc.disable()
    try:
        return (yield)
    finally:
        gc.freeze()
        gc.enable()


@pytest.hookimpl(wrapper=True)
def pytest_collect_file() -> Generator[None, list[pytest.Collector], list[pytest.Collector]]:
    """Look for examples in the package alone: tests have none, and to look for them takes as long as to import them."""
    found = yield
    return [one for one in found if not isinstance(one, DoctestModule)]
