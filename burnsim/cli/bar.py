"""The progress bar of a command that burns many times."""

import contextlib
from collections.abc import Iterator


@contextlib.contextmanager
def bar() -> Iterator[None]:
    """Draw on stderr how many burns are done while the block runs, if a terminal shows it."""
    from burnsim.io.progress import reporter
    from burnsim.studies.counting import watched

    with watched(reporter(None, "burns", at_most=True)):
        yield
