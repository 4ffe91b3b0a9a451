"""A sweep as comma-separated values: a table for any program, whose comment lines let it be read back as it was."""

import csv
import json
import math
from collections.abc import Iterable
from itertools import islice
from pathlib import Path
from typing import TYPE_CHECKING, Any, TextIO

import numpy as np
from numpy.typing import NDArray

from burnsim.errors import InputError
from burnsim.studies.sweep.columns import Block
from burnsim.studies.sweep.frame import SLICE, layout, type_of

if TYPE_CHECKING:
    import xarray

MARK = "# burnsim sweep 1"
"""First line: what this is, and by which rules it is written."""

GUARD = "'"
"""Goes before a text that a spreadsheet would take for a formula, and before one that begins with this mark itself."""
FORMULA = ("=", "+", "-", "@", "\t", "\r", GUARD)
DAMAGE = (ValueError, TypeError, KeyError, AttributeError, IndexError, OverflowError, StopIteration, csv.Error)
"""What a damaged file may lead to."""


def write_csv(frame: "xarray.Dataset", blocks: Iterable[Block], path: Path) -> None:
    """Write a sweep as comma-separated values, block by block, over a file that exists.

    The first lines begin with "#" and describe the columns; pandas.read_csv(path, comment="#") skips them. A missing
    number is an empty field; numbers have all the digits that they need.
    """
    dims, shape = layout(frame)
    described = {
        "dims": dims,
        "shape": shape,
        "attrs": frame.attrs,
        "coordinates": [{"name": name, "dim": one.dims[0], **_told(one)} for name, one in frame.coords.items()],
        "columns": [{"name": name, **_told(one)} for name, one in frame.data_vars.items()],
    }
    with path.open("w", encoding="utf-8", newline="") as stream:
        stream.write(f"{MARK}\n")
        for key, part in described.items():
            told = json.dumps({key: part}, ensure_ascii=False, allow_nan=False, default=lambda one: one.tolist())
            stream.write(f"# {told}\n")
        table = csv.writer(stream, lineterminator="\n")
        table.writerow([*frame.coords, *frame.data_vars])
        start = 0
        for block in blocks:
            count = len(next(iter(block.values())))
            along = dict(zip(dims, np.unravel_index(np.arange(start, start + count), shape), strict=True))
            columns = [_texts(one.values[along[str(one.dims[0])]]) for one in frame.coords.values()]
            columns += [_texts(block[str(name)]) for name in frame.data_vars]
            table.writerows(zip(*columns, strict=True))
            start += count


def read_csv(path: Path) -> "xarray.Dataset":
    """Read a sweep that was saved as comma-separated values; an `InputError` if it is not such a file, or not whole."""
    try:
        with path.open(encoding="utf-8", newline="") as stream:
            return _read(stream, path)
    except UnicodeDecodeError:
        raise _no_sweep(path, "is not text in UTF-8") from None
    except InputError:
        raise
    except DAMAGE as error:
        raise _no_sweep(path, f"is damaged ({type(error).__name__})") from None


def _read(stream: TextIO, path: Path) -> "xarray.Dataset":
    import xarray

    if stream.readline().rstrip("\n") != MARK:
        raise _no_sweep(path, f"does not begin with {MARK!r}")
    told: dict[str, Any] = {}
    line = stream.readline()
    while line.startswith("# {"):
        told.update(json.loads(line[2:]))
        line = stream.readline()
    dims, shape = tuple(told["dims"]), tuple(told["shape"])
    described = [*told["coordinates"], *told["columns"]]
    names = [one["name"] for one in described]
    if next(csv.reader([line])) != names:
        raise _no_sweep(path, "has other columns than its comment lines say")
    count = math.prod(shape)
    if not 0 <= count * len(names) <= path.stat().st_size:  # a number, or its comma, is a byte at least
        raise _no_sweep(path, f"is too short for {count} rows")
    columns = {one["name"]: np.empty(count, np.dtype(one["dtype"])) for one in described}
    known: dict[str, str] = {}
    rows, found = csv.reader(stream), 0
    while some := list(islice(rows, SLICE)):
        if found + len(some) <= count:
            for one, texts in zip(described, zip(*some, strict=True), strict=True):
                columns[one["name"]][found : found + len(some)] = _values(texts, one["dtype"], known)
        found += len(some)
    if found != count:
        raise _no_sweep(path, f"has {found} rows instead of {count}")
    whole = {name: values.reshape(shape) for name, values in columns.items()}
    return xarray.Dataset(
        {one["name"]: (dims, whole[one["name"]], one["attrs"]) for one in told["columns"]},
        {
            one["name"]: (one["dim"], _along(whole[one["name"]], dims.index(one["dim"])), one["attrs"])
            for one in told["coordinates"]
        },
        told["attrs"],
    )


def _told(one: "xarray.DataArray") -> dict[str, Any]:
    return {"dtype": type_of(one).name, "attrs": one.attrs}


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


def _along(values: NDArray[Any], axis: int) -> NDArray[Any]:
    """A coordinate of one dimension from its column, in which it comes once a row."""
    found: NDArray[Any] = values[tuple(slice(None) if k == axis else 0 for k in range(values.ndim))]
    return found


def _no_sweep(path: Path, problem: str) -> InputError:
    return InputError(
        "file", str(path), f"is not a sweep of this program: it {problem}", "give a file saved by a sweep"
    )
