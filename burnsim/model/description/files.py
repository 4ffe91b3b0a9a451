"""Design files: TOML on disk to a `Setup`."""

import os
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

from burnsim.errors import InputError
from burnsim.io.text_file import read_toml
from burnsim.model.description.setup import Setup
from burnsim.substances.data_file import is_path

if TYPE_CHECKING:
    from typing_extensions import TypeIs

Design = Setup | Mapping[str, object] | str | os.PathLike[str]
"""What may stand for a setup wherever one is taken."""

LARGEST_FILE = 1_000_000
"""A design file is a page of text; anything larger is a mistake [bytes]."""


def load(path: str | os.PathLike[str]) -> Setup:
    """Read a design file.

    Parameters
    ----------
    path
        A TOML file in UTF-8 with the tables of `Setup.from_dict`. Paths of materials in it count from its folder.

    Returns
    -------
    Setup

    Raises
    ------
    InputError
        For a file that cannot be read, is not text or not TOML, and for any key or value that makes no sense.
    """
    if isinstance(path, Mapping):
        raise InputError("path", path, "is a table, not a path", "give the table to Setup.from_dict")
    table, name = read_toml(path, "design", 'write key = "value" lines under [tables]', LARGEST_FILE), os.fspath(path)
    if not table:
        raise InputError("file", name, "is empty", "give at least the tables [burner] and [charge]")
    if "burner" not in table and "design" in table and "free" in table:
        raise InputError("file", name, "is a search, not a design", "give it to `burnsim search`, or load its design")
    return Setup.from_dict(rooted(table, Path(name).parent))


def as_setup(design: Design, field: str = "setup") -> Setup:
    """The setup that is meant by a setup, the path of a design file, or a table as `Setup.from_dict` takes it.

    Parameters
    ----------
    design : any of them
    field : what it is for; errors name it

    Raises
    ------
    InputError
        For anything else, and for whatever makes no sense in the file or the table.
    """
    if isinstance(design, Setup):
        return design
    if isinstance(design, Mapping):
        return Setup.from_dict(design)
    if isinstance(design, str | os.PathLike):
        return load(design)
    raise InputError(field, design, "is not a design", "give a Setup, a table, or the path of a design file")


def is_design(given: object) -> "TypeIs[Design]":
    """Whether something may stand for one setup, and not for several."""
    return isinstance(given, Setup | Mapping | str | os.PathLike)


def rooted(table: Mapping[str, Any], folder: Path) -> dict[str, Any]:
    """A design's table in which paths of materials count from a folder: that of the design's file.

    >>> rooted({"pot": {"metal": "bronze.toml", "rest": "stand"}}, Path("/shed"))
    {'pot': {'metal': '/shed/bronze.toml', 'rest': 'stand'}}
    """
    found: dict[str, Any] = {}
    for key, value in table.items():
        if isinstance(value, Mapping):
            found[_from(key, folder)] = rooted(value, folder)
        else:
            found[_from(key, folder)] = (
                _from(value, folder) if isinstance(value, str) and key not in ("name", "note", "source") else value
            )
    return found


def _from(given: str, folder: Path) -> str:
    return str(folder / Path(given).expanduser()) if is_path(given) else given
