"""A progress bar on stderr."""

import contextlib
import sys
import time
from collections.abc import Callable
from typing import TextIO

from burnsim.units import format_time

Progress = Callable[[int, int], None]  # takes how many are done, and how many there are

WIDTH = 30
PAUSE = 0.2  # between two strokes [s]


class Bar:
    """Draws how far some work has come, how fast, and how long it will take; `at_most` if it may end sooner."""

    def __init__(self, stream: TextIO, what: str = "designs", *, at_most: bool = False) -> None:
        self._stream = stream
        self._what = what
        self._at_most = at_most
        self._terminal = stream.isatty()
        self._first: tuple[float, int] | None = None
        self._last = 0.0

    def __call__(self, done: int, total: int) -> None:
        """Draw it again, unless that was just done."""
        now = time.monotonic()
        if self._first is None:
            self._first = (now, done)
        pause = PAUSE if self._terminal else 50.0 * PAUSE  # lines in a log should be few
        if done < total and now - self._last < pause:
            return
        self._last = now
        with contextlib.suppress(OSError, ValueError):
            self._stream.write(self._line(done, total, now))
            self._stream.flush()

    def _line(self, done: int, total: int, now: float) -> str:
        start, before = self._first or (now, done)
        text = f"{done}/{total} {self._what}"
        if self._at_most:
            one = self._what.removesuffix("s") if done == 1 else self._what
            text = f"{done} {one}" + (f" of {total} at most" if done < total else "")
        fresh = done - before
        if fresh > 0 and now > start:
            rate = fresh / (now - start)
            text += f", {rate:.3g} a second"
            text += f", {format_time((total - done) / rate)} to go" if done < total else ""
        if not self._terminal:
            return f"burnsim: {text}\n"
        full = WIDTH * done // max(total, 1)
        return f"\r[{'#' * full}{'.' * (WIDTH - full)}] {text:<52}" + ("\n" if done >= total else "")


def reporter(progress: bool | Progress | None, what: str = "designs", *, at_most: bool = False) -> Progress | None:
    """What to tell of progress: a function of (done, total); true for the bar, false for none, None on a terminal."""
    if callable(progress):
        return progress
    stream = sys.stderr
    if progress is None:
        progress = stream is not None and stream.isatty()
    return Bar(stream, what, at_most=at_most) if progress and stream is not None else None
