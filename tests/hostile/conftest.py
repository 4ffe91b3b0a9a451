"""What a command may do with whatever it is given: work, or say in one line what is wrong."""

import contextlib
import io
import os
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import NamedTuple

import pytest

from burnsim import cli


class Answer(NamedTuple):
    """What a command did."""

    code: int
    out: str
    err: str


Ask = Callable[..., Answer]


def asked(*words: str) -> Answer:
    """Run the command in this process; whatever is raised beyond argparse's own exit fails the test."""
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        try:
            code = cli.main(list(words))
        except SystemExit as end:
            code = end.code if isinstance(end.code, int) else 2
    return Answer(code, out.getvalue(), err.getvalue())


@pytest.fixture(scope="session")
def ask() -> Ask:
    """Run a command and hold it to its promise."""

    def run(*words: str) -> Answer:
        answer = asked(*words)
        assert "Traceback" not in answer.err, answer.err
        assert answer.code in (0, 2), answer.err
        if answer.code == 2:
            assert answer.out == ""
            lines = answer.err.splitlines()
            assert lines
            assert "error: " in lines[-1] or ": bad input" in lines[-1], answer.err
            assert len(answer.err) < 20_000, "an error is to be read"
        return answer

    return run


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """A working folder that must be as it was, but for the files that a test puts there."""
    place = tmp_path_factory.mktemp("hostile")
    before = Path.cwd()
    os.chdir(place)
    yield place
    os.chdir(before)
    left = [path.name for path in place.rglob("*") if "rough" in path.name or path.name == "owned"]
    assert not left, left
