"""The progress bar of a command that burns many times."""

import contextlib
import sys
from collections.abc import Iterator


@contextlib.contextmanager
def bar() -> Iterator[None]:
    """Draw on stderr how many burns are done while the block runs, if a terminal shows it."""
    from burnsim.studies.counting import watched
    from burnsim.studies.progress_bar import Bar

    stream = sys.stderr
    shown = stream is not None and stream.isatty()
    with watched(Bar(stream, "burns", at_most=True) if shown else None):
        yield
