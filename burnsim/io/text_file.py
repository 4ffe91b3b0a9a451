"""Small text files: read whole, written whole or not at all."""

import contextlib
import json
import os
import re
import stat
import sys
import tempfile
import tomllib
import unicodedata
from collections.abc import Collection, Iterator
from pathlib import Path
from typing import Any, TextIO

from burnsim.errors import InputError

LARGEST_FILE = 5_000_000  # anything larger was not typed by hand [bytes]
MOST_DOTS = 200  # dots in a line of TOML; a key of n parts costs the reader n^2 of time and memory

MOST_DOTS_SQUARED = 1_000_000
"""Sum of the squares of the dots of all lines: what the reader may spend on the whole file, a fraction of a second."""

LONGEST_LABEL = 200  # characters of a name or remark that is printed, drawn and kept with results

FORBIDDEN = frozenset({"Cc", "Cs", "Zl", "Zp"})
"""Unicode categories of characters that no label may hold: controls, halves of pairs, line and paragraph separators."""

TURNING = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
"""Characters that change the direction of writing."""


def read_text(
    path: str | os.PathLike[str], what: str = "file", largest: int = LARGEST_FILE, *, foreign: bool = False
) -> str:
    """Read a text file in UTF-8, with any kind of line ends; errors say what it should be.

    A foreign file may be what instruments write: UTF-16 with its mark, or plain letters with a degree sign of one byte.
    """
    if not isinstance(path, str | os.PathLike):
        raise InputError("file", path, "is not a path", f"give the path of a {what} as a text")
    name = os.fspath(path)
    try:
        plain = stat.S_ISREG(os.stat(name).st_mode) or Path(name).is_dir()
    except (OSError, ValueError):
        plain = True  # what is wrong with it is told below
    if not plain:
        raise InputError("file", name, "is a pipe or a device", f"save the {what} to a plain file first")
    try:
        with Path(name).open("rb") as stream:
            data = stream.read(largest + 1)
    except FileNotFoundError:
        raise InputError("file", name, "does not exist", "check the path") from None
    except IsADirectoryError:
        raise InputError("file", name, "is a directory", f"give the path of a {what} in it") from None
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        raise InputError("file", name, f"cannot be read: {reason}", "check the path and the permissions") from None
    if len(data) > largest:
        raise InputError("file", name, f"is larger than a {what}; allowed up to {largest} bytes", "check the path")
    try:
        text = data.decode(_encoding(data) if foreign else "utf-8-sig")
    except UnicodeDecodeError as error:
        raise InputError(
            "file", name, f"is not text in UTF-8 (byte {error.start})", "save it as plain UTF-8 text"
        ) from None
    return one_kind_of_line_ends(text)


def _encoding(data: bytes) -> str:
    """UTF-8, or what an instrument wrote instead: of letters beyond ASCII it knows °, µ and raised figures."""
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return "utf-16"
    beyond = set(data) - set(range(128))
    return "latin-1" if beyond and beyond <= {0xB0, 0xB2, 0xB3, 0xB5, 0xB9} else "utf-8-sig"


def one_kind_of_line_ends(text: str) -> str:
    """A text with the line ends of any system made those of this one.

    >>> one_kind_of_line_ends("one\\r\\ntwo\\rthree\\n")
    'one\\ntwo\\nthree\\n'
    """
    return text.replace("\r\n", "\n").replace("\r", "\n")


def parse_toml(text: str) -> dict[str, Any]:
    """Read TOML that someone else wrote: what cannot be read, or would take for ever, is a `ValueError` with the line.

    >>> parse_toml("a.b = 1")
    {'a': {'b': 1}}
    """
    spent = 0
    for number, line in enumerate(text.split("\n"), 1):
        dots = line.count(".")
        spent += dots * dots
        if dots > MOST_DOTS:
            raise ValueError(f"more than {MOST_DOTS} dots (at line {number})")
        if spent > MOST_DOTS_SQUARED:
            raise ValueError(f"too many long dotted keys (up to line {number})")
    try:
        return tomllib.loads(text)
    except RecursionError:
        raise ValueError("tables or lists lie too deep in each other") from None
    except tomllib.TOMLDecodeError as error:
        twice = _twice(str(error), text)
        raise (twice or error) from None


class TwiceError(ValueError):
    """What stands twice in a text of TOML, and on which line again."""


def toml_key(name: str) -> str:
    """A name as a key of TOML: in quotes where it needs them.

    >>> toml_key("2-propanol"), toml_key("pot.gap")
    ('2-propanol', '"pot.gap"')
    """
    return name if re.fullmatch(r"[A-Za-z0-9_-]+", name) else json.dumps(name, ensure_ascii=False)


def _twice(message: str, text: str) -> TwiceError | None:
    """The reader's message about what stands twice, in words; None for another message."""
    openings = "(Cannot overwrite a value|Cannot declare|Duplicate inline table key)"
    found = re.match(openings + r"(.*)\(at (.*?)(,|\))", message)
    if found is None:
        return None
    lines = text.rstrip().split("\n")
    number = int(found[3].removeprefix("line ")) if found[3].startswith("line ") else len(lines)
    line = lines[number - 1].strip()
    if found[1].startswith("Duplicate"):
        what = found[2].strip(" '")
    else:
        what = line.partition("]")[0] + "]" if line.startswith("[") else line.partition("=")[0].strip()
    return TwiceError(f"{what} twice, again in line {number}")


def read_toml(path: str | os.PathLike[str], what: str, remedy: str, largest: int = LARGEST_FILE) -> dict[str, Any]:
    """Read a file of TOML that someone else wrote; errors say what it should be, and what to do where it is no TOML."""
    text = read_text(path, what, largest)
    try:
        return parse_toml(text)
    except ValueError as error:
        name = os.fspath(path)
        if any(line.strip() == "---" for line in text.split("\n")):
            raise InputError("file", name, f"is a bench log, not a {what}", "give it to `burnsim bench`") from None
        if isinstance(error, TwiceError):
            raise InputError("file", name, f"has {error}", "keep one of them") from None
        raise InputError("file", name, f"is not TOML: {error}", _unquoted(text, str(error)) or remedy) from None


def _unquoted(text: str, message: str) -> str:
    """What to do where a value lacks its quotes, the mistake that is made most; empty where it is another.

    >>> _unquoted("height = 2 1/2 in  # of the rim", "Expected newline or end of document (at line 1, column 12)")
    'put the value of line 1 in quotes: height = "2 1/2 in"'
    >>> _unquoted('height = "45 mm', "Illegal character (at line 1, column 16)")
    ''
    """
    place = re.search(r"at line (\d+)", message)
    lines = text.split("\n")
    if place is None or int(place[1]) > len(lines):
        return ""
    line = lines[int(place[1]) - 1].strip()
    if len(line) > LONGEST_LABEL or not line.isprintable():
        return ""
    found = re.fullmatch(r"([\w.]+)\s*=\s*([^\s\"'\[{#][^\"'\[{#]*?)\s*(#.*)?", line)
    return "" if found is None else f'put the value of line {place[1]} in quotes: {found[1]} = "{found[2]}"'


def check_letters(text: str, field: str, forbidden: Collection[str] = FORBIDDEN) -> None:
    """Refuse characters of some Unicode categories that steer terminals or turn the direction of writing."""
    for place, character in enumerate(text, 1):
        if unicodedata.category(character) in forbidden or character in TURNING:
            problem = f"has a control character, U+{ord(character):04X}, at place {place}"
            raise InputError(field, text[:LONGEST_LABEL], problem, "write letters, digits, spaces and signs only")


def check_label(text: str, field: str) -> None:
    """Refuse a name or remark that could not be printed, drawn and kept as it stands, or is too long.

    Line ends and other control characters steer terminals and break SVG and netCDF files; characters that reverse the
    direction of writing make a line read otherwise than it is.

    >>> check_label("Müller's cup, no. 3", "name")
    """
    check_letters(text, field)
    if len(text) > LONGEST_LABEL:
        problem = f"has {len(text)} characters; allowed up to {LONGEST_LABEL}"
        raise InputError(field, text[:40] + "...", problem, "shorten it")


@contextlib.contextmanager
def whole_file(path: str | os.PathLike[str]) -> Iterator[Path]:
    """Give a place beside a file to write to, and put what is there into the file's place when it is whole.

    The place has the file's suffix. A failure leaves what was there, and nothing beside it. Anything but a plain file,
    such as a device, is written to directly. A path that leads to this process's own output, such as /dev/stdout, takes
    its turn in that stream, so that nothing printed before or after is lost.
    """
    stream = _own_stream(path)
    if stream is not None:
        with tempfile.TemporaryDirectory() as folder:
            draft = Path(folder) / "draft"
            yield draft
            stream.flush()
            if draft.exists():
                stream.buffer.write(draft.read_bytes())
                stream.buffer.flush()
        return
    target = Path(os.path.realpath(path))
    if target.exists() and not target.is_file():
        yield target
        return
    rough = target.with_name(f".{target.stem}.{os.getpid()}.rough{target.suffix}")
    try:
        yield rough
        if rough.exists():
            rough.replace(target)
    finally:
        rough.unlink(missing_ok=True)


def _own_stream(path: str | os.PathLike[str]) -> TextIO | None:
    """The stream of this process that a path leads to, if it leads to one."""
    for stream in (sys.stdout, sys.stderr):
        with contextlib.suppress(OSError, ValueError, AttributeError):
            if os.path.samestat(os.stat(path), os.fstat(stream.fileno())):
                return stream
    return None


@contextlib.contextmanager
def output(option: str, path: str | os.PathLike[str]) -> Iterator[Path]:
    """The place of a `whole_file`; an `InputError`, which names the option, if it cannot be written."""
    try:
        with whole_file(path) as rough:
            yield rough
    except OSError as error:
        problem = f"cannot be written: {error.strerror or error}"
        raise InputError(option, str(path), problem, "choose another place") from None


def write_atomically(path: str | os.PathLike[str], text: str, option: str = "file") -> None:
    """Write a text beside its place, and put it there when it is whole; as `output` does."""
    with output(option, path) as rough:
        rough.write_bytes(text.encode("utf-8"))
