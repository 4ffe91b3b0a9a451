"""Design files: TOML on disk to a `Setup`."""

import os
from pathlib import Path

from burnsim.errors import InputError
from burnsim.io.text_file import parse_toml
from burnsim.model.description.setup import Setup
from burnsim.model.description.tables import setup_from_dict

LARGEST_FILE = 1_000_000
"""A design file is a page of text; anything larger is a mistake [bytes]."""


def load(path: str | os.PathLike[str]) -> Setup:
    """Read a design file.

    Parameters
    ----------
    path
        A TOML file in UTF-8 with the tables of `setup_from_dict`.

    Returns
    -------
    Setup

    Raises
    ------
    InputError
        For a file that cannot be read, is not text or not TOML, and for any key or value that makes no sense.
    """
    if not isinstance(path, str | os.PathLike):
        raise InputError("file", path, "is not a path", "give the path of a TOML file as a text")
    name = os.fspath(path)
    text = _text(Path(name))
    try:
        table = parse_toml(text)
    except ValueError as error:
        raise InputError("file", name, f"is not TOML: {error}", 'write key = "value" lines under [tables]') from None
    if not table:
        raise InputError("file", name, "is empty", "give at least the tables [burner] and [charge]")
    if "burner" not in table and "design" in table and "free" in table:
        raise InputError("file", name, "is a search, not a design", "give it to `burnsim search`, or load its design")
    return setup_from_dict(table)


def _text(path: Path) -> str:
    name = str(path)
    try:
        with path.open("rb") as stream:
            data = stream.read(LARGEST_FILE + 1)
    except FileNotFoundError:
        raise InputError("file", name, "does not exist", "check the path") from None
    except IsADirectoryError:
        raise InputError("file", name, "is a directory", "give the path of a TOML file in it") from None
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        raise InputError("file", name, f"cannot be read: {reason}", "check the path and the permissions") from None
    if len(data) > LARGEST_FILE:
        raise InputError("file", name, f"is larger than a design; allowed up to {LARGEST_FILE} bytes", "check the path")
    try:
        return data.decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError as error:
        raise InputError(
            "file", name, f"is not text in UTF-8 (byte {error.start})", "save it as plain UTF-8 text"
        ) from None
