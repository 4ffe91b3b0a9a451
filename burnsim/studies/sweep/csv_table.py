"""A sweep as comma-separated values: a table for any program, whose comment lines let it be read back as it was."""

import csv
import json
import math
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any, TextIO

import numpy as np
from numpy.typing import NDArray

from burnsim.errors import InputError
from burnsim.studies.sweep.columns import Block
from burnsim.studies.sweep.frame import Coordinate, Frame, Kind, dataset_of

if TYPE_CHECKING:
    import xarray

MARK = "# burnsim sweep 1"
"""First line: what this is, and by which rules it is written."""

SLICE = 4096
GUARD = "'"
"""Goes before a text that a spreadsheet would take for a formula, and before one that begins with this mark itself."""
FORMULA = ("=", "+", "-", "@", "\t", "\r", GUARD)


def write_csv(frame: Frame, blocks: Iterable[Block], path: Path) -> None:
    """Write a sweep as comma-separated values, block by block.

    The first lines begin with "#" and describe the columns; pandas.read_csv(path, comment="#") skips them. A missing
    number is an empty field; numbers have all the digits that they need.

    Parameters
    ----------
    frame
        All but the rows.
    blocks
        The rows in order.
    path
        File to write; one that exists is overwritten.
    """
    with path.open("w", encoding="utf-8", newline="") as stream:
        stream.write(f"{MARK}\n")
        for key, part in _description(frame):
            stream.write(f"# {json.dumps({key: part}, ensure_ascii=False, allow_nan=False)}\n")
        table = csv.writer(stream, lineterminator="\n")
        table.writerow([one.name for one in frame.coordinates] + [kind.name for kind in frame.columns])
        start = 0
        for block in blocks:
            count = len(next(iter(block.values())))
            places = np.unravel_index(np.arange(start, start + count), frame.shape)
            along = dict(zip(frame.dims, places, strict=True))
            columns = [_texts(one.values[along[one.dim]]) for one in frame.coordinates]
            columns += [_texts(block[kind.name]) for kind in frame.columns]
            table.writerows(zip(*columns, strict=True))
            start += count


def read_csv(path: Path) -> "xarray.Dataset":
    """Read a sweep that was saved as comma-separated values.

    Raises
    ------
    InputError
        If the file is not such a sweep, or not whole.
    """
    try:
        with path.open(encoding="utf-8", newline="") as stream:
            return _read(stream, path)
    except UnicodeDecodeError:
        raise _no_sweep(path, "is not text in UTF-8") from None
    except InputError:
        raise
    except (
        ValueError,
        TypeError,
        KeyError,
        AttributeError,
        IndexError,
        OverflowError,
        StopIteration,
        csv.Error,
    ) as error:
        raise _no_sweep(path, f"is damaged ({type(error).__name__})") from None


def _read(stream: TextIO, path: Path) -> "xarray.Dataset":
    if stream.readline().rstrip("\n") != MARK:
        raise _no_sweep(path, f"does not begin with {MARK!r}")
    told: dict[str, Any] = {}
    line = stream.readline()
    while line.startswith("# {"):
        told.update(json.loads(line[2:]))
        line = stream.readline()
    shape = tuple(told["shape"])
    names = next(csv.reader([line]))
    described = [*told["coordinates"], *told["columns"]]
    if names != [one["name"] for one in described]:
        raise _no_sweep(path, "has other columns than its comment lines say")
    count = int(np.prod(shape, dtype=np.int64))
    if not 0 <= count * len(names) <= path.stat().st_size:  # a number, or its comma, is a byte at least
        raise _no_sweep(path, f"is too short for {count} rows")
    columns = {one["name"]: np.empty(count, np.dtype(one["dtype"])) for one in described}
    known: dict[str, str] = {}
    found = 0
    for rows in _sliced(csv.reader(stream)):
        if found + len(rows) <= count:
            for one, texts in zip(described, zip(*rows, strict=True), strict=True):
                columns[one["name"]][found : found + len(rows)] = _values(texts, one["dtype"], known)
        found += len(rows)
    if found != count:
        raise _no_sweep(path, f"has {found} rows instead of {count}")
    dims = tuple(told["dims"])
    coordinates = tuple(
        Coordinate(one["name"], one["dim"], _along(columns[one["name"]], shape, dims.index(one["dim"])), one["attrs"])
        for one in told["coordinates"]
    )
    kinds = tuple(Kind(one["name"], np.dtype(one["dtype"]), one["attrs"]) for one in told["columns"])
    return dataset_of(Frame(dims, shape, coordinates, kinds, told["attrs"]), [columns])


def _description(frame: Frame) -> list[tuple[str, Any]]:
    return [
        ("dims", list(frame.dims)),
        ("shape", list(frame.shape)),
        ("attrs", {name: _bare(value) for name, value in frame.attrs.items()}),
        ("coordinates", [
            {"name": one.name, "dim": one.dim, "dtype": one.values.dtype.name, "attrs": _bare_all(one.attrs)}
            for one in frame.coordinates
        ]),
        ("columns", [
            {"name": kind.name, "dtype": kind.dtype.name, "attrs": _bare_all(kind.attrs)} for kind in frame.columns
        ]),
    ]  # fmt: skip


def _bare_all(attrs: Any) -> dict[str, Any]:
    return {str(name): _bare(value) for name, value in attrs.items()}


def _bare(value: Any) -> Any:
    return value.tolist() if isinstance(value, np.ndarray | np.generic) else value


def _texts(values: NDArray[Any]) -> list[str]:
    if values.dtype == object:
        return [guarded(str(value)) for value in values.tolist()]
    return ["" if isinstance(value, float) and math.isnan(value) else repr(value) for value in values.tolist()]


def guarded(text: str) -> str:
    """A text as a cell that no spreadsheet runs; `GUARD` is taken off when it is read back.

    >>> guarded("=1+1"), guarded("methanol"), guarded("'tis")
    ("'=1+1", 'methanol', "''tis")
    """
    return GUARD + text if text.startswith(FORMULA) else text


def _values(texts: tuple[str, ...], dtype: str, known: dict[str, str]) -> NDArray[Any]:
    """Values of some cells of a column. A text that is known already, and comes again, is kept once."""
    if dtype == "object":
        return np.array([known.setdefault(text, text.removeprefix(GUARD)) for text in texts], dtype=object)
    if dtype == "bool":
        return np.array([text == "True" for text in texts])
    if dtype == "int64":
        return np.array([int(text) for text in texts], dtype=np.int64)
    return np.array([float(text) if text else math.nan for text in texts], dtype=np.float64)


def _sliced(rows: Iterator[list[str]]) -> Iterator[list[list[str]]]:
    some: list[list[str]] = []
    for row in rows:
        some.append(row)
        if len(some) == SLICE:
            yield some
            some = []
    if some:
        yield some


def _along(values: NDArray[Any], shape: tuple[int, ...], axis: int) -> NDArray[Any]:
    """A coordinate of one dimension from its column, in which it comes once a row."""
    place: list[Any] = [0] * len(shape)
    place[axis] = slice(None)
    found: NDArray[Any] = values.reshape(shape)[tuple(place)]
    return found


def _no_sweep(path: Path, problem: str) -> InputError:
    return InputError(
        "file", str(path), f"is not a sweep of this program: it {problem}", "give a file saved by a sweep"
    )
