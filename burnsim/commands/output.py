"""Where a command's output goes: results to files the user named, messages to stderr."""

import contextlib
import os
import sys
from collections.abc import Iterator
from pathlib import Path

from burnsim.errors import InputError

PICTURE_SUFFIXES = (".png", ".pdf", ".svg", ".eps", ".jpg", ".jpeg", ".tif", ".tiff", ".webp")


@contextlib.contextmanager
def output(option: str, path: str) -> Iterator[None]:
    """Turn a failure to write an output file into bad input."""
    try:
        yield
    except OSError as error:
        raise InputError(
            option, path, f"cannot be written: {error.strerror or error}", "choose another place"
        ) from None


def check_output(option: str, path: str, suffixes: tuple[str, ...], design: str) -> None:
    """Refuse an output file that could not be written, or that is the design itself, before the run."""
    target = Path(path)
    if suffixes and target.suffix.lower() not in suffixes:
        raise InputError(
            option,
            path,
            "is not a picture format; allowed: " + ", ".join(suffixes),
            "choose another file name",
        )
    if target.is_dir():
        raise InputError(option, path, "is a directory", "give the name of a file in it")
    if target.exists() and target.samefile(design):
        raise InputError(option, path, "is the design file itself", "choose another file name")
    folder = target.parent
    if not folder.is_dir():
        raise InputError(option, path, f"cannot be written: there is no directory {folder}", "make it first")
    if not os.access(target if target.exists() else folder, os.W_OK):
        raise InputError(option, path, "cannot be written: permission denied", "choose another place")


def say(message: str) -> None:
    """Print one message to stderr, marked with the command's name."""
    with contextlib.suppress(OSError):
        print(f"burnsim: {message}", file=sys.stderr, flush=True)
