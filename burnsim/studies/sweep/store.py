"""Where the rows of a sweep wait until all are there: in memory, or as a folder of small files beside the result.

Each file holds one chunk and is put in place in one go, so that a sweep that is stopped, or killed, leaves whole
chunks behind. A sweep of the same plan takes them up.
"""

import contextlib
import json
import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
from filelock import FileLock, Timeout

from burnsim.errors import InputError
from burnsim.io.text_file import whole_file
from burnsim.studies.sweep.columns import COLUMNS, Block, rows

NUMBERS = tuple(column.name for column in COLUMNS if not column.is_text)
TEXTS = tuple(column.name for column in COLUMNS if column.is_text)
PLAN_FILE = "plan.json"
LOCK_FILE = "lock"
PARTS = "[0-9]*.npz"  # and no draft of one, whose name begins with a dot


class MemoryStore:
    """Keeps blocks of rows in memory, by the numbers of their first design and of the one behind the last."""

    def __init__(self) -> None:
        self._spans: dict[tuple[int, int], Any] = {}

    def keep(self, start: int, block: Block) -> None:
        """Take a block in."""
        self._spans[start, start + rows(block)] = block

    def missing(self, size: int) -> list[tuple[int, int]]:
        """Stretches of designs, from the first to before the last, of which there are no rows yet."""
        return gaps(list(self._spans), size)

    def blocks(self) -> Iterator[Block]:
        """All blocks, in the order of their designs."""
        return (self._spans[span] for span in sorted(self._spans))


class FolderStore(MemoryStore):
    """Keeps blocks in a folder beside the result; one sweep at a time writes to it."""

    def __init__(self, folder: Path) -> None:
        super().__init__()
        self.folder = folder
        self._lock = FileLock(folder / LOCK_FILE)

    def open(self, fingerprint: str, resume: bool) -> None:
        """Take up what the folder holds of the same sweep, or begin a new one."""
        note = self.folder / PLAN_FILE
        self.folder.mkdir(exist_ok=True)
        try:  # keep others out until `release`, or until this process ends, however it ends
            self._lock.acquire(timeout=0)
        except Timeout:
            problem = "is being written by another sweep"
            raise InputError("out", str(self.folder), problem, "wait for it, or choose another file") from None
        except NotImplementedError:  # a file system without locks: nothing can be kept out
            pass
        if not resume:
            self._clear()
        known = None
        with contextlib.suppress(OSError, ValueError, TypeError, KeyError):
            known = json.loads(note.read_text(encoding="utf-8"))["sweep"]
        if known != fingerprint:
            if any(self.folder.glob(PARTS)):
                self.release()
                raise InputError(
                    "out", str(self.folder),
                    "holds part of another sweep, or of this one by another version or with a material since edited",
                    "finish that one, choose another file, or begin anew with resume=False (--restart)",
                )  # fmt: skip
            note.write_text(json.dumps({"sweep": fingerprint}), encoding="utf-8")
        for path in self.folder.glob(PARTS):
            with contextlib.suppress(Exception):
                start, stop = (int(number) for number in path.stem.split("-"))
                if rows(_read(path)) == stop - start:
                    self._spans[start, stop] = path
                    continue
            path.unlink()  # it cannot be read: its designs are done again

    def release(self) -> None:
        """Let other sweeps in; what is done stays."""
        self._lock.release(force=True)

    def keep(self, start: int, block: Block) -> None:
        """Put a block on disk, whole or not at all."""
        span = (start, start + rows(block))
        path = self.folder / f"{span[0]:010d}-{span[1]:010d}.npz"
        numbers = np.array([block[name] for name in NUMBERS])
        texts = json.dumps([block[name].tolist() for name in TEXTS]).encode()
        with whole_file(path) as rough, rough.open("wb") as stream:
            np.savez(stream, numbers=numbers, texts=np.frombuffer(texts, dtype=np.uint8))
        self._spans[span] = path

    def blocks(self) -> Iterator[Block]:
        """All blocks, in the order of their designs, read one by one."""
        return (_read(self._spans[span]) for span in sorted(self._spans))

    def _clear(self) -> None:
        for path in self.folder.iterdir():
            if path.name != LOCK_FILE:
                path.unlink()

    def remove(self) -> None:
        """Remove the folder and all in it; while this sweep holds it, so that none that begins loses its own."""
        self._clear()
        if os.name == "nt":  # no open file can be removed there
            self.release()
        with contextlib.suppress(OSError):  # another sweep has begun here
            (self.folder / LOCK_FILE).unlink(missing_ok=True)
            self.folder.rmdir()
        self.release()


def gaps(spans: list[tuple[int, int]], size: int) -> list[tuple[int, int]]:
    """Stretches of 0 to `size` that no span covers.

    >>> gaps([(4, 6), (0, 2)], 8)
    [(2, 4), (6, 8)]
    """
    found = []
    reached = 0
    for start, stop in sorted(spans):
        if start > reached:
            found.append((reached, start))
        reached = max(reached, stop)
    return [*found, (reached, size)] if reached < size else found


def _read(path: Path) -> Block:
    with path.open("rb") as stream, np.load(stream, allow_pickle=False) as stored:
        numbers, texts = stored["numbers"], json.loads(stored["texts"].tobytes())
    block: Block = dict(zip(NUMBERS, numbers, strict=True))
    for name, listed in zip(TEXTS, texts, strict=True):
        block[name] = np.array(listed, dtype=object)
    return {column.name: block[column.name] for column in COLUMNS}
