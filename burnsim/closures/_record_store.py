"""Numbers kept on disk between runs, in the user's cache folder.

The folder is `$BURNSIM_CACHE`, else `$XDG_CACHE_HOME/burnsim`, else `~/.cache/burnsim`. Nothing here can fail
a run: a file that cannot be read is as good as none, and a folder that cannot be written is left alone.
"""

import json
import os
from collections.abc import Sequence
from hashlib import sha256
from math import isfinite
from pathlib import Path
from time import time_ns

Numbers = list[list[float]]


def cache_folder() -> Path | None:
    """Folder in which records are kept, or None when the user has no home.

    A relative `XDG_CACHE_HOME` is passed over, as the XDG base directory specification asks.
    """
    own = os.environ.get("BURNSIM_CACHE", "")
    if own:
        return Path(own)
    shared = os.environ.get("XDG_CACHE_HOME", "")
    if shared and Path(shared).is_absolute():
        return Path(shared) / "burnsim"
    try:
        return Path.home() / ".cache" / "burnsim"
    except RuntimeError:
        return None


def content_key(*parts: object) -> str:
    """Hash of everything that a record depends on, as text.

    >>> content_key(1, "a") == content_key(1, "a"), content_key(1, "a") == content_key(1, "b")
    (True, False)
    """
    return sha256(repr(parts).encode()).hexdigest()[:32]


def fetch(key: str, lengths: Sequence[int]) -> Numbers | None:
    """Read the rows of numbers kept under a key; None unless they are all there and sound.

    Parameters
    ----------
    key : from `content_key`.
    lengths : how many numbers each row must have.
    """
    folder = cache_folder()
    if folder is None:
        return None
    try:
        kept = json.loads((folder / f"{key}.json").read_text(encoding="utf-8"))
        rows = kept["rows"]
        if kept["key"] != key or kept["sum"] != content_key(rows) or [len(row) for row in rows] != list(lengths):
            return None
        if not all(type(x) is float and isfinite(x) for row in rows for x in row):
            return None
    except (OSError, ValueError, KeyError, TypeError, RecursionError):
        return None
    return [list(row) for row in rows]


def keep(key: str, rows: Sequence[Sequence[float]]) -> None:
    """Write rows of numbers under a key in one step, so that no reader ever sees half a file."""
    folder = cache_folder()
    if folder is None:
        return
    plain = [[float(x) for x in row] for row in rows]
    text = json.dumps({"key": key, "sum": content_key(plain), "rows": plain})
    draft = folder / f".{key}.{os.getpid()}.{time_ns()}.tmp"
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with draft.open("x", encoding="utf-8") as file:
            file.write(text)
        draft.replace(folder / f"{key}.json")
    except (OSError, ValueError):
        try:
            draft.unlink(missing_ok=True)
        except (OSError, ValueError):
            return
