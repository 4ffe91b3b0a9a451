"""How many burns a study has done, told to whoever watches; nothing is told, and nothing changes, where nobody does."""

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar

from burnsim.io.progress import Progress


class Watch:
    """Burns done and expected, told on at every burn that is done."""

    def __init__(self, tell: Progress) -> None:
        self._tell = tell
        self._done = 0
        self._expected = 0

    def expect(self, burns: int) -> None:
        """Add burns that are still to come."""
        self._expected += burns

    def count(self, burns: int) -> None:
        """Add burns that are done, and tell."""
        self._done += burns
        if self._done != self._expected:  # else the end is about to be told, or more to be expected
            self._tell(self._done, max(self._expected, self._done + 1))

    def finish(self) -> None:
        """Tell that no more will come, if there were any."""
        if self._done:
            self._tell(self._done, self._done)


_watch: ContextVar[Watch | None] = ContextVar("watch", default=None)


@contextmanager
def watched(tell: Progress | None) -> Iterator[None]:
    """Have burns told as they are done, while the block runs: how many are, and how many there will be at most."""
    if tell is None:
        yield
        return
    watch = Watch(tell)
    token = _watch.set(watch)
    try:
        yield
    finally:
        _watch.reset(token)
        watch.finish()


def watching() -> bool:
    """Whether anybody watches."""
    return _watch.get() is not None


def expect(burns: int) -> None:
    """Announce so many more burns to come; for a search, the most that it may take."""
    watch = _watch.get()
    if watch is not None:
        watch.expect(burns)


def count(burns: int = 1) -> None:
    """Report so many more burns as done."""
    watch = _watch.get()
    if watch is not None:
        watch.count(burns)
