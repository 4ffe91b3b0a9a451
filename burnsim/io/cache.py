"""The user's cache folder: where it is, whether it may be trusted, and files in it that prove themselves sound.

The folder is `$BURNSIM_CACHE`, else `$XDG_CACHE_HOME/burnsim`, else `~/.cache/burnsim`. Nothing here can fail a run: a
file that cannot be read is as good as none, and a folder that cannot be written is left alone.

What is kept here may be machine code. It is taken only from folders and files that belong to this user and that nobody
else may write to, and only whole: each file begins with its key, its length and its hash.
"""

import os
import stat
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager, suppress
from hashlib import sha256
from pathlib import Path
from time import time_ns

MAGIC = "burnsim cache 1"
PRIVATE = 0o700
OTHERS_WRITE = stat.S_IWGRP | stat.S_IWOTH
LONGEST_HEAD = 256
BETWEEN_LOOKS = 0.1  # at whether somebody else is still at work [s]


def cache_folder() -> Path | None:
    """Folder in which things are kept between runs, or None when the user has no home.

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


class NoFolder(Exception):
    """There is no folder to keep things in; the message says why."""


def private_folder(name: str) -> Path:
    """A folder of this user's own inside the cache folder, made if need be; `NoFolder` where there can be none.

    Neither it nor the cache folder may belong to anybody else, or be one that others may write to. Links count as what
    they lead to.
    """
    whole = cache_folder()
    if whole is None:
        raise NoFolder("this user has no home folder")
    folder = whole / name
    try:
        whole.parent.mkdir(parents=True, exist_ok=True)
        for each in (whole, folder):
            with suppress(FileExistsError):
                each.mkdir(mode=PRIVATE)
            found = each.stat()
            if not stat.S_ISDIR(found.st_mode):
                raise NoFolder(f"{each} is not a folder")
            if not _own(found):
                raise NoFolder(f"{each} belongs to somebody else, or others may write to it")
    except (OSError, ValueError) as error:
        raise NoFolder(str(error)) from error
    return folder


def read_kept(path: Path, key: str) -> bytes | None:
    """What is kept in a file under a key of `content_key`; None unless it is all there, sound, and this user's."""
    try:
        with open(path, "rb", opener=_at_once) as file:
            found = os.fstat(file.fileno())
            if not stat.S_ISREG(found.st_mode) or not _own(found):
                return None
            head = file.readline(LONGEST_HEAD)
            content = file.read(found.st_size)
    except (OSError, ValueError):
        return None
    return content if head == _head(key, content) else None


def keep(path: Path, key: str, content: bytes) -> bool:
    """Write a file in one step, so that no reader ever sees half of it; whether that could be done.

    The path is in a folder of `private_folder`, the key is of `content_key`.
    """
    draft = path.with_name(f".{path.name}.{os.getpid()}.{time_ns()}.tmp")
    try:
        with open(draft, "xb", opener=_privately) as file:
            file.write(_head(key, content))
            file.write(content)
        draft.replace(path)
    except (OSError, ValueError):
        with suppress(OSError, ValueError):
            draft.unlink(missing_ok=True)
        return False
    return True


@contextmanager
def in_turn(path: Path, stopped: Callable[[], bool]) -> Iterator[None]:
    """Be the only process that makes something that is kept: wait while another one does, until asked to stop.

    Where files cannot be locked nobody waits, and the same thing is made twice. The path is in a `private_folder`.
    """
    from filelock import FileLock, Timeout

    lock = FileLock(path.with_name(f".{path.name}.lock"), mode=0o600)
    with ExitStack() as held:
        with suppress(OSError, NotImplementedError):
            while not stopped():
                with suppress(Timeout):
                    held.enter_context(lock.acquire(timeout=BETWEEN_LOOKS))
                    break
        yield


def _at_once(path: str, flags: int) -> int:
    """Open without waiting for the other end of a pipe."""
    return os.open(path, flags | getattr(os, "O_NONBLOCK", 0))


def _privately(path: str, flags: int) -> int:
    """Open a new file that is this user's alone."""
    return os.open(path, flags, 0o600)


def _head(key: str, content: bytes) -> bytes:
    return f"{MAGIC} {key} {len(content)} {sha256(content).hexdigest()}\n".encode()


def _own(found: os.stat_result) -> bool:
    """Whether a file or folder is this user's, and no one else may write to it; where systems do not tell, it is."""
    user = getattr(os, "geteuid", None)
    return user is None or (found.st_uid == user() and not found.st_mode & OTHERS_WRITE)
