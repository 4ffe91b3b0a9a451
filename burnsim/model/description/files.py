"""Design files: TOML on disk to a `Setup`."""

import os

from burnsim.errors import InputError
from burnsim.io.text_file import parse_toml, read_text
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
    text, name = read_text(path, "design", LARGEST_FILE), os.fspath(path)
    try:
        table = parse_toml(text)
    except ValueError as error:
        raise InputError("file", name, f"is not TOML: {error}", 'write key = "value" lines under [tables]') from None
    if not table:
        raise InputError("file", name, "is empty", "give at least the tables [burner] and [charge]")
    if "burner" not in table and "design" in table and "free" in table:
        raise InputError("file", name, "is a search, not a design", "give it to `burnsim search`, or load its design")
    return setup_from_dict(table)
