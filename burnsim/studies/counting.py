"""How many burns a study has done, told to whoever watches; nothing is told, and nothing changes, where nobody does."""

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass

from burnsim.io.progress import Progress


@dataclass
class _Watch:
    tell: Progress
    done: int = 0
    expected: int = 0


_watch: ContextVar[_Watch | None] = ContextVar("watch", default=None)


@contextmanager
def watched(tell: Progress | None) -> Iterator[None]:
    """Have burns told as they are done, while the block runs: how many are, and how many there will be at most."""
    if tell is None:
        yield
        return
    watch = _Watch(tell)
    token = _watch.set(watch)
    try:
        yield
    finally:
        _watch.reset(token)
        if watch.done:
            tell(watch.done, watch.done)


def watching() -> bool:
    """Whether anybody watches."""
    return _watch.get() is not None


def expect(burns: int) -> None:
    """Announce so many more burns to come; for a search, the most that it may take."""
    if watch := _watch.get():
        watch.expected += burns


def count(burns: int = 1) -> None:
    """Report so many more burns as done."""
    if watch := _watch.get():
        watch.done += burns
        if watch.done != watch.expected:  # else the end is about to be told, or more to be expected
            watch.tell(watch.done, max(watch.expected, watch.done + 1))
