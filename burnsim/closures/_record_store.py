"""Where the user's cache is, and keys of what is kept there.

The folder is `$BURNSIM_CACHE`, else `$XDG_CACHE_HOME/burnsim`, else `~/.cache/burnsim`.
"""

import os
from hashlib import sha256
from pathlib import Path


def cache_folder() -> Path | None:
    """Folder in which compiled text is kept, or None when the user has no home.

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
