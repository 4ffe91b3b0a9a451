"""The command `burnsim`.

Results go to stdout, messages to stderr. Exit codes: 0 all is well (a burner that does not work is a
result), 1 the run failed, 2 bad input.
"""

import argparse
import contextlib
import json
import os
import sys
import warnings
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, TextIO

from burnsim import __version__
from burnsim.errors import InputError

if TYPE_CHECKING:
    from burnsim.model.description import Setup
    from burnsim.solve import Burn

PLOT_SUFFIXES = (".png", ".pdf", ".svg", ".eps", ".jpg", ".jpeg", ".tif", ".tiff", ".webp")

FAILED = 1
BAD_INPUT = 2


def main(argv: Sequence[str] | None = None) -> int:
    """Run the command.

    Parameters
    ----------
    argv
        Arguments after the command's name; default none: those of the process.

    Returns
    -------
    int
        Exit code: 0, 1 (the run failed) or 2 (bad input).
    """
    options = _parser().parse_args(argv)
    _tolerate_narrow_encodings()
    try:
        with _warnings_to_stderr():
            options.run(options)
        sys.stdout.flush()
    except InputError as error:
        if error.field == "file":  # its path in full, however long
            _say(f"bad input: file = {error.value!r} {error.problem}: {error.remedy}")
        else:
            where = "" if error.field.startswith("--") else f" in {options.file}"
            _say(f"bad input{where}: {error}")
        return BAD_INPUT
    except BrokenPipeError:
        # The reader left (as `head` does): keep Python from complaining at exit.
        _point_stdout_at_nothing()
        return FAILED
    except KeyboardInterrupt:
        _say("stopped")
        return FAILED
    except Exception as error:  # the promise is one clear line, never a traceback
        _say(f"the run failed: {type(error).__name__}: {error}")
        _point_stdout_at_nothing()
        return FAILED
    return 0


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="burnsim",
        description="Predict bloom, boil and burn-out of a small spirit burner from its design file.",
        epilog="Exit codes: 0 done, 1 the run failed, 2 bad input.",
    )
    parser.add_argument("--version", action="version", version=f"burnsim {__version__}")
    commands = parser.add_subparsers(title="commands", required=True, metavar="COMMAND")

    burn = commands.add_parser("burn", help="simulate one burn and print a bench note")
    burn.add_argument("file", metavar="FILE", help="design file (TOML)")
    burn.add_argument("--json", action="store_true", help="print one JSON object instead of the bench note")
    burn.add_argument("--plot", metavar="FILE", help="save the picture of temperatures and power (png, pdf, svg, ...)")
    burn.add_argument("--series", metavar="FILE.csv", help="save the curves as comma-separated values")
    burn.set_defaults(run=_burn)

    check = commands.add_parser("check", help="read a design file and print what was understood")
    check.add_argument("file", metavar="FILE", help="design file (TOML)")
    check.set_defaults(run=_check)
    return parser


def _burn(options: argparse.Namespace) -> None:
    from burnsim.files import load

    setup = load(options.file)
    if options.plot is not None:
        _check_output("--plot", options.plot, PLOT_SUFFIXES, options.file)
    if options.series is not None:
        _check_output("--series", options.series, (), options.file)
    _say(f"burning {setup.name or options.file} ...")
    result = _simulate(setup)
    if options.plot is not None:
        with _output("--plot", options.plot):
            _save_plot(result, options.plot)
        _say(f"picture saved to {options.plot}")
    if options.series is not None:
        with _output("--series", options.series):
            _save_series(result, options.series)
        _say(f"curves saved to {options.series}")
    if options.json:
        print(json.dumps(result.to_dict(), indent=2, allow_nan=False))
        return
    from burnsim.cautions import cautions

    print(result.summary().rstrip())
    print("\nCautions")
    for caution in cautions(setup.burner.kind, setup.charge.fuel.components):
        print(f"- {caution}")


def _simulate(setup: "Setup") -> "Burn":
    from burnsim.solve import burn

    return burn(setup)


def _check(options: argparse.Namespace) -> None:
    from burnsim.files import load
    from burnsim.sheet import understood

    print(understood(load(options.file)))


def _save_plot(result: "Burn", path: str) -> None:
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    from burnsim.plots import plot_burn

    figure = Figure(figsize=(8.0, 4.5), layout="constrained")
    FigureCanvasAgg(figure)
    plot_burn(result, ax=figure.subplots())
    figure.savefig(path, dpi=150)


def _save_series(result: "Burn", path: str) -> None:
    from burnsim.series import write_series

    with Path(path).open("w", encoding="utf-8", newline="") as stream:
        write_series(result, stream)


@contextlib.contextmanager
def _output(option: str, path: str) -> Iterator[None]:
    """Turn a failure to write an output file into bad input."""
    try:
        yield
    except OSError as error:
        raise InputError(
            option, path, f"cannot be written: {error.strerror or error}", "choose another place"
        ) from None


def _check_output(option: str, path: str, suffixes: tuple[str, ...], design: str) -> None:
    """Refuse an output file that could not be written, or that is the design itself, before the run."""
    target = Path(path)
    if suffixes and target.suffix.lower() not in suffixes:
        raise InputError(
            option,
            path,
            "is not a picture format; allowed: " + ", ".join(suffixes),
            "choose another file name",
        )
    if target.is_dir():
        raise InputError(option, path, "is a directory", "give the name of a file in it")
    if target.exists() and target.samefile(design):
        raise InputError(option, path, "is the design file itself", "choose another file name")
    folder = target.parent
    if not folder.is_dir():
        raise InputError(option, path, f"cannot be written: there is no directory {folder}", "make it first")
    if not os.access(target if target.exists() else folder, os.W_OK):
        raise InputError(option, path, "cannot be written: permission denied", "choose another place")


def _say(message: str) -> None:
    with contextlib.suppress(OSError):
        print(f"burnsim: {message}", file=sys.stderr, flush=True)


@contextlib.contextmanager
def _warnings_to_stderr() -> Iterator[None]:
    """Print each warning as one line on stderr while the command runs."""

    def one_line(
        message: Warning | str,
        category: type[Warning],
        filename: str,
        lineno: int,
        file: TextIO | None = None,
        line: str | None = None,
    ) -> None:
        _say(f"warning: {message}")

    with warnings.catch_warnings():
        warnings.showwarning = one_line
        yield


def _tolerate_narrow_encodings() -> None:
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors="backslashreplace")


def _point_stdout_at_nothing() -> None:
    with contextlib.suppress(OSError, ValueError, AttributeError):
        nothing = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nothing, sys.stdout.fileno())
        os.close(nothing)
