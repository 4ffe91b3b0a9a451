"""Where a command's output goes: results to files the user named, messages to stderr."""

import argparse
import contextlib
import os
import sys
from collections.abc import Iterator, Mapping
from pathlib import Path

from burnsim.errors import InputError

PICTURE_SUFFIXES = (".png", ".pdf", ".svg", ".eps", ".jpg", ".jpeg", ".tif", ".tiff", ".webp")
PAGE_SUFFIXES = (".pdf", ".html", ".htm")
INPUTS = ("file", "files", "logs", "log", "design", "wanted", "factors")
"""Options that name files which a command reads."""


@contextlib.contextmanager
def told_of(options: Mapping[str, str], rest: str = "") -> Iterator[None]:
    """Have bad input told of the option that it came from, and not of the design file.

    The options are by the names of what the library calls them; `rest` goes before every other field.
    """
    try:
        yield
    except InputError as error:
        if error.field.startswith("--") or error.field == "file" or not (rest or error.field in options):
            raise
        field = options.get(error.field, f"{rest} {error.field}")
        raise InputError(field, error.value, error.problem, error.remedy) from None


def check_outputs(options: argparse.Namespace) -> None:
    """Refuse output files that could not be written, or that are read by the same command, before the run."""
    given = [getattr(options, name, None) for name in INPUTS]
    inputs = [Path(path) for one in given for path in ([one] if isinstance(one, str) else one or [])]
    for name, suffixes in getattr(options, "outputs", {}).items():
        path = getattr(options, name)
        if path is not None:
            _check("--" + name, path, suffixes, [one for one in inputs if os.path.exists(one)])


def _check(option: str, path: str, suffixes: tuple[str, ...], inputs: list[Path]) -> None:
    target = Path(path)
    if suffixes and target.suffix.lower() not in suffixes:
        what = "a picture format" if suffixes == PICTURE_SUFFIXES else "a format that can be written"
        raise InputError(
            option, path, f"is not {what}; allowed: " + ", ".join(filter(None, suffixes)), "choose another file name"
        )
    try:
        a_folder = target.is_dir()
    except OSError as error:  # a name that is too long, a loop of links
        raise InputError(option, path, f"cannot be written: {error.strerror}", "choose another file name") from None
    if a_folder:
        raise InputError(option, path, "is a directory", "give the name of a file in it")
    if target.exists() and any(target.samefile(one) for one in inputs):
        raise InputError(option, path, "is itself a file that is read", "choose another file name")
    folder = target.parent
    if not folder.is_dir():
        raise InputError(option, path, f"cannot be written: there is no directory {folder}", "make it first")
    if not os.access(target if target.exists() else folder, os.W_OK):
        raise InputError(option, path, "cannot be written: permission denied", "choose another place")


def say(message: str) -> None:
    """Print one message to stderr, marked with the command's name."""
    with contextlib.suppress(OSError):
        print(f"burnsim: {message}", file=sys.stderr, flush=True)
