"""Small text files: read whole, written whole or not at all."""

import contextlib
import os
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from burnsim.errors import InputError

LARGEST_FILE = 5_000_000
"""Anything larger was not typed by hand [bytes]."""

MOST_DOTS = 200
"""Dots in a line of TOML; a key of n parts costs the reader n^2 of time and memory."""


def read_text(path: str | os.PathLike[str], what: str = "file") -> str:
    """Read a text file in UTF-8, with any kind of line ends.

    Parameters
    ----------
    path : of the file
    what : what it should be, for the errors

    Raises
    ------
    InputError
        If it cannot be read or is not text.
    """
    if not isinstance(path, str | os.PathLike):
        raise InputError("file", path, "is not a path", f"give the path of a {what} as a text")
    name = os.fspath(path)
    try:
        with Path(name).open("rb") as stream:
            data = stream.read(LARGEST_FILE + 1)
    except FileNotFoundError:
        raise InputError("file", name, "does not exist", "check the path") from None
    except IsADirectoryError:
        raise InputError("file", name, "is a directory", f"give the path of a {what} in it") from None
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        raise InputError("file", name, f"cannot be read: {reason}", "check the path and the permissions") from None
    if len(data) > LARGEST_FILE:
        raise InputError("file", name, f"is larger than a {what}; allowed up to {LARGEST_FILE} bytes", "check the path")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise InputError(
            "file", name, f"is not text in UTF-8 (byte {error.start})", "save it as plain UTF-8 text"
        ) from None
    return text.replace("\r\n", "\n").replace("\r", "\n")


def parse_toml(text: str) -> dict[str, Any]:
    """Read TOML that someone else wrote: what cannot be read, or would take for ever, is one kind of error.

    Parameters
    ----------
    text : with line ends of one kind

    Raises
    ------
    ValueError
        Says what is wrong, with the line.

    >>> parse_toml("a.b = 1")
    {'a': {'b': 1}}
    """
    for number, line in enumerate(text.split("\n"), 1):
        if line.count(".") > MOST_DOTS:
            raise ValueError(f"more than {MOST_DOTS} dots (at line {number})")
    try:
        return tomllib.loads(text)
    except RecursionError:
        raise ValueError("tables or lists lie too deep in each other") from None


@contextlib.contextmanager
def whole_file(path: str | os.PathLike[str]) -> Iterator[Path]:
    """Give a place beside a file to write to, and put what is there into the file's place when it is whole.

    A failure leaves what was there, and nothing beside it. What is no plain file, such as a device, is written to as
    it is.

    Parameters
    ----------
    path : where to

    Yields
    ------
    Path
        Where to write; it has the same suffix.
    """
    target = Path(os.path.realpath(path))
    if target.exists() and not target.is_file():
        yield target
        return
    rough = target.with_name(f".{target.stem}.{os.getpid()}.rough{target.suffix}")
    try:
        yield rough
        if rough.exists():
            rough.replace(target)
    finally:
        rough.unlink(missing_ok=True)


def write_atomically(path: str | os.PathLike[str], text: str, option: str = "file") -> None:
    """Write a text beside its place, and put it there when it is whole; a failure leaves what was there.

    Parameters
    ----------
    path : where to
    text : what
    option : what to call the path in an error

    Raises
    ------
    InputError
        If it cannot be written.
    """
    try:
        with whole_file(path) as rough:
            rough.write_bytes(text.encode("utf-8"))
    except OSError as error:
        raise InputError(
            option, str(path), f"cannot be written: {error.strerror or error}", "choose another place"
        ) from None
