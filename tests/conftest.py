"""What every test needs: a cache folder of its own, pictures without a screen, no deadline for Hypothesis."""

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

_CACHE = pytest.StashKey[str]()


def pytest_configure(config: pytest.Config) -> None:
    """Keep records that the tests compute out of the user's own cache.

    And let workers keep bytecode: the tests start a hundred processes, and without it each compiles the package anew.
    """
    if "PYTEST_XDIST_WORKER" not in os.environ:  # workers share what the process that started them has set
        if config.getoption("dist", "no") != "no":
            os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
        folder = tempfile.mkdtemp(prefix="burnsim-tests-")
        kept = cache_folder()
        if kept is not None:  # what still fits need not be compiled again
            with suppress(OSError):
                shutil.copytree(kept / "machine_code", Path(folder) / "machine_code")
        config.stash[_CACHE] = folder
        os.environ["BURNSIM_CACHE"] = folder
    os.environ["MPLBACKEND"] = "Agg"
    if signal.getsignal(signal.SIGINT) == signal.SIG_IGN:  # in the background of a shell; children inherit it
        signal.signal(signal.SIGINT, signal.default_int_handler)
    settings.register_profile("burnsim", deadline=None)
    settings.load_profile("burnsim")


def pytest_unconfigure(config: pytest.Config) -> None:
    """Remove them again."""
    if _CACHE in config.stash:
        shutil.rmtree(config.stash[_CACHE], ignore_errors=True)


@pytest.hookimpl(wrapper=True)
def pytest_collect_file() -> Generator[None, list[pytest.Collector], list[pytest.Collector]]:
    """Look for examples in the package alone: tests have none, and to look for them takes as long as to import them."""
    found = yield
    return [one for one in found if not isinstance(one, DoctestModule)]
