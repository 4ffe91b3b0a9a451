"""The command `burnsim`.

Results go to stdout, messages to stderr. Exit codes: 0 all is well (a burner that does not work is a
result), 1 the run failed, 2 bad input.
"""

import argparse
import contextlib
import os
import re
import sys
import warnings
from collections.abc import Iterator, Sequence
from functools import cache
from typing import Any, NoReturn

from burnsim import __version__
from burnsim.cli.colour import painted
from burnsim.cli.commands import add_all
from burnsim.cli.output import check_outputs, say
from burnsim.errors import InputError, nearest
from burnsim.io.text_file import FORBIDDEN, check_letters
from burnsim.units.writing import spelling

FAILED = 1
BAD_INPUT = 2
_CHOICE = re.compile(r"invalid choice: '(.*?)' \(choose from (.*)\)")
_NEGATIVE = re.compile(r"-\.?\d")
_QUOTED = re.compile(r"[^\s',]+(?: [^\s',]+)*")
EPILOG = """\
start here:
  burnsim new my.toml                   write a design file to edit
  burnsim check my.toml                 see what was understood
  burnsim burn my.toml --plot burn.png  predict the burn
  burnsim sheet my.toml -o sheet.pdf    put it all on paper
  burnsim plan my.toml -o plan.pdf      a page to build from
  burnsim template my.toml -o holes.pdf paper to wrap round the cups and drill through

`burnsim COMMAND --help` tells more, with examples.
Exit codes: 0 done (a burner that does not work is a result), 1 the run failed, 2 bad input.
"""


def main(argv: Sequence[str] | None = None) -> int:
    """Run the command.

    Parameters
    ----------
    argv : arguments after the command's name; default none: those of the process

    Returns
    -------
    int
        Exit code: 0, 1 (the run failed) or 2 (bad input).
    """
    parser = _built_once()
    if "_ARGCOMPLETE" in os.environ:  # a shell asks for what may follow
        from argcomplete import autocomplete

        autocomplete(parser)
    options = parser.parse_args(argv)
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="burnsim")  # signs that it cannot show are written in ASCII
    try:
        _check_words(options)
        check_outputs(options)
        with _warnings_to_stderr(), spelling(getattr(options, "units", "si")):
            options.run(options)
        sys.stdout.flush()
    except InputError as error:
        bad = painted("bad input", "red", sys.stderr)
        if error.field == "file":  # its path in full, however long
            say(f"{bad}: file = {error.value!r} {error.problem}: {error.remedy}")
        else:
            file = getattr(options, "file", None)
            where = (
                "" if error.field.startswith("--") or error.field in ("FILE", "LOG") or file is None else f" in {file}"
            )
            say(f"{bad}{where}: {error}")
        return BAD_INPUT
    except BrokenPipeError:
        # The reader left (as `head` does): keep Python from complaining at exit.
        _point_stdout_at_nothing()
        return FAILED
    except KeyboardInterrupt as stop:
        say(f"stopped: {stop}" if str(stop) else "stopped")
        return FAILED
    except Exception as error:  # the promise is one clear line, never a traceback
        say(f"{painted('the run failed', 'red', sys.stderr)}: {type(error).__name__}: {error}")
        _point_stdout_at_nothing()
        return FAILED
    return 0


def _check_words(options: argparse.Namespace) -> None:
    """Refuse control characters in names of files and the like, before any of them reaches a terminal."""
    for name, value in vars(options).items():
        field = "file" if name in ("file", "logs") else "--" + name.replace("_", "-")
        for word in value if isinstance(value, list) else [value]:
            if isinstance(word, str) and name != "vary":  # a long list of values may go over several lines
                check_letters(word, field, FORBIDDEN - {"Cs"})


class _Parser(argparse.ArgumentParser):
    """A parser that guesses what a misspelt word meant, and takes a value that begins with a minus for a value."""

    def parse_known_args(  # type: ignore[override]  # its overloads tell kinds of namespaces apart
        self, args: Sequence[str] | None = None, namespace: Any = None
    ) -> Any:
        """Parse as any parser does, once values are joined to their options; a command tells itself what it lacks."""
        found, rest = super().parse_known_args(_joined(sys.argv[1:] if args is None else args), namespace)
        if rest and self._subparsers is None:
            self.error(f"unrecognized arguments: {' '.join(rest)}")
        return found, rest

    def error(self, message: str) -> NoReturn:
        """Print usage and message, on one line whatever was typed, and exit."""
        message = "".join(c if c.isprintable() else repr(c)[1:-1] for c in message)
        wrong = _CHOICE.search(message)
        guess = None if wrong is None else nearest(wrong[1], _QUOTED.findall(wrong[2]))
        super().error(message if guess is None else f"{message}: did you mean {guess!r}?")


class _Columns(argparse.RawDescriptionHelpFormatter):
    """Help with all commands in one column: argparse leaves no room for the indent of the longest name."""

    def add_argument(self, action: argparse.Action) -> None:
        """Add an argument, and room for the indent of those below it."""
        super().add_argument(action)
        if isinstance(action, argparse._SubParsersAction):
            self._action_max_length += self._indent_increment


def _joined(arguments: Sequence[str]) -> list[str]:
    """Arguments with a value that begins with a minus and a digit joined to its option, which it would pass for itself.

    >>> _joined(["start", "my.toml", "--ambient", "-15degC:25degC:5", "--json"])
    ['start', 'my.toml', '--ambient=-15degC:25degC:5', '--json']
    """
    joined: list[str] = []
    for argument in arguments:
        option = joined[-1] if joined else ""
        if _NEGATIVE.match(argument) and option.startswith("--") and len(option) > 2 and "=" not in option:
            joined[-1] = f"{option}={argument}"
        else:
            joined.append(argument)
    return joined


def build_parser() -> argparse.ArgumentParser:
    """Make the parser of the whole command, all its subcommands included."""
    parser: argparse.ArgumentParser = _Parser(
        prog="burnsim",
        description="Predict bloom, boil and burn-out of a small spirit burner from its design file.",
        epilog=EPILOG,
        formatter_class=_Columns,
    )
    parser.add_argument("--version", action="version", version=f"burnsim {__version__}")
    commands = parser.add_subparsers(title="commands", required=True, metavar="COMMAND")
    add_all(commands)
    for option in (option for command in commands.choices.values() for option in command._actions):
        if option.option_strings and option.nargs != 0 and not option.required and "default" not in str(option.help):
            option.help = f"{option.help} (default: {'none' if option.default in (None, []) else option.default})"
    return parser


@cache
def _built_once() -> argparse.ArgumentParser:
    """The parser of every call of `main` in this process: it takes as long to make as a short command to run."""
    return build_parser()


@contextlib.contextmanager
def _warnings_to_stderr() -> Iterator[None]:
    """Print each warning as one line on stderr while the command runs."""

    def one_line(message: Warning | str, *_: object, **__: object) -> None:
        say(f"warning: {message}")

    with warnings.catch_warnings():
        warnings.showwarning = one_line
        yield


def _point_stdout_at_nothing() -> None:
    with contextlib.suppress(OSError, ValueError, AttributeError):
        nothing = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nothing, sys.stdout.fileno())
        os.close(nothing)
