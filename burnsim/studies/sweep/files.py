"""The dataset of a sweep, and sweeps to files and back, written as their rows come: memory stays flat.

The frame of a sweep is its dataset with dimensions, coordinates and attributes, and columns that hold no rows yet:
single values seen as arrays, so that a million designs take no memory. Rows come in blocks, the last dimension turning
fastest. A netCDF file opens anywhere and is read when it is asked for. A file of comma-separated values is a table for
any program, whose comment lines let it be read back as it was.
"""

import csv
import json
import math
import os
from collections.abc import Callable, Iterable, Iterator, Mapping
from itertools import islice
from pathlib import Path
from typing import TYPE_CHECKING, Any, TextIO

import numpy as np
from numpy.typing import NDArray

from burnsim.errors import InputError
from burnsim.io.text_file import whole_file
from burnsim.studies.sweep.columns import COLUMNS, Block, joined, regrouped, rows
from burnsim.studies.sweep.plan import Plan

if TYPE_CHECKING:
    import xarray

SUFFIXES = (".nc", ".csv")
TYPES = {"f": np.dtype(np.float64), "i": np.dtype(np.int64), "b": np.dtype(np.bool_)}
"""Of numbers, whole numbers and flags; anything else is a text."""
SLICE = 4096  # rows at a time, where a whole dataset is written
PIECE = 8192  # designs that are compressed together
MARK = "# burnsim sweep 1"
"""First line of comma-separated values: what this is, and by which rules it is written."""
GUARD = "'"
"""Goes before a text that a spreadsheet would take for a formula, and before one that begins with this mark itself."""
FORMULA = ("=", "+", "-", "@", "\t", "\r", GUARD)
DAMAGE = (ValueError, TypeError, LookupError, AttributeError, OverflowError, StopIteration, csv.Error)
"""What a damaged file, or one that is no text, may lead to."""


def save_sweep(dataset: "xarray.Dataset", path: str | os.PathLike[str]) -> None:
    """Save a sweep as netCDF (.nc) or as comma-separated values (.csv); `load_sweep` reads it back identical.

    Parameters
    ----------
    dataset : of `sweep`; columns over all its dimensions may have been added
    path : file to write; one that exists is replaced when all is written

    Raises
    ------
    InputError
        If the suffix is another one, or the dataset is no longer one that a sweep could have.
    """
    tidy = tidied(dataset)
    write(tidy, lambda: blocks_of(tidy), check_path(path))


def load_sweep(path: str | os.PathLike[str]) -> "xarray.Dataset":
    """Read a sweep that was saved as netCDF or as comma-separated values.

    Parameters
    ----------
    path : file to read; from netCDF, rows are read when they are asked for

    Returns
    -------
    xarray.Dataset
        As `sweep` made it.

    Raises
    ------
    InputError
        If there is no such file, or it is no sweep.
    """
    target = check_path(path)
    if not target.exists():
        raise InputError("file", str(target), "does not exist", "check the path")
    return read_csv(target) if target.suffix == ".csv" else read_netcdf(target)


def check_path(path: str | os.PathLike[str]) -> Path:
    """Refuse a file whose suffix says neither netCDF nor comma-separated values, or that has no folder."""
    target = Path(path)
    if target.suffix not in SUFFIXES:
        raise InputError("out", str(target), "is neither .nc (netCDF) nor .csv", "choose one of the two")
    if target.exists() and not target.is_file():
        problem = "is a folder" if target.is_dir() else "is no plain file"
        raise InputError("out", str(target), problem, "give the name of a file")
    if not target.absolute().parent.is_dir():
        raise InputError("out", str(target), "has no folder to lie in", f"make {target.parent} first")
    return target


def no_sweep(path: Path, problem: str) -> InputError:
    """The error for a file that holds no sweep."""
    return InputError("file", str(path), f"is not a sweep of this program: {problem}", "give a file saved by a sweep")


def write(frame: "xarray.Dataset", blocks: Callable[[], Iterable[Block]], path: Path) -> None:
    """Write a frame and its rows, which `blocks` gives as often as it is asked; the file comes into place whole."""
    with whole_file(path) as rough:
        if path.suffix == ".csv":
            write_csv(frame, blocks(), rough)
        else:
            write_netcdf(frame, blocks(), text_widths(frame, blocks()), rough)


def frame_of_plan(plan: Plan, attrs: Mapping[str, Any]) -> "xarray.Dataset":
    """The frame of a sweep that is still to be done."""
    import xarray

    coordinates: dict[str, Any] = {}
    if plan.mode != "grid":
        coordinates["design"] = ("design", np.arange(plan.size), {"long_name": "number of the design"})
    for axis in plan.axes:
        coordinates[axis.path] = (axis.path if plan.mode == "grid" else "design", axis.labels, dict(axis.attrs))
    columns = {
        column.name: (plan.dims, np.broadcast_to("" if column.is_text else np.nan, plan.shape), column.attrs)
        for column in COLUMNS
    }
    return xarray.Dataset(columns, coordinates, dict(attrs))


def tidied(dataset: "xarray.Dataset") -> "xarray.Dataset":
    """A finished sweep, the columns added to it since included, of the few types that files keep."""
    import xarray

    full = (one.dims for one in dataset.data_vars.values() if len(one.dims) == len(dataset.sizes))
    dims = next(full, ())
    for name, variable in dataset.variables.items():
        wanted = dims if name in dataset.data_vars else dims[:1] if len(dims) == 1 else (name,)
        if not dims or variable.dims != wanted or variable.dtype.kind not in "fibOU":
            problem = f"is not a column of a sweep: {variable.dims} {variable.dtype}"
            raise InputError("dataset", name, problem, "leave it out, or save it by xarray's own to_netcdf")

    def tidy(variables: Mapping[Any, "xarray.DataArray"]) -> dict[Any, Any]:
        return {name: (one.dims, one.values.astype(type_of(one)), one.attrs) for name, one in variables.items()}

    return xarray.Dataset(tidy(dataset.data_vars), tidy(dataset.coords), dataset.attrs)


def type_of(one: "xarray.DataArray") -> np.dtype[Any]:
    """The type in which the values of a variable are kept."""
    return TYPES.get(one.dtype.kind, np.dtype(object))


def layout(frame: "xarray.Dataset") -> tuple[tuple[str, ...], tuple[int, ...]]:
    """Dimensions of the columns, and their lengths."""
    column = next(iter(frame.data_vars.values()))
    return tuple(map(str, column.dims)), column.shape


def blocks_of(dataset: "xarray.Dataset") -> Iterator[Block]:
    """The rows of a dataset, some at a time."""
    whole = {str(name): one.values.ravel() for name, one in dataset.data_vars.items()}
    for start in range(0, math.prod(layout(dataset)[1]), SLICE):
        yield {name: values[start : start + SLICE] for name, values in whole.items()}


def dataset_of(frame: "xarray.Dataset", blocks: Iterable[Block]) -> "xarray.Dataset":
    """Put frame and rows together in memory."""
    shape = layout(frame)[1]
    return frame.copy(data={name: values.reshape(shape) for name, values in joined(blocks).items()})


def write_netcdf(frame: "xarray.Dataset", blocks: Iterable[Block], widths: dict[str, int], path: Path) -> None:
    """Write a sweep as netCDF-4, block by block, over a file that exists; `widths` are those of `text_widths`."""
    import h5netcdf
    import h5py

    dims, lengths = layout(frame)
    with h5netcdf.File(path, "w") as file:
        file.attrs.update(frame.attrs)
        for dim, length in zip(dims, lengths, strict=True):
            file.dimensions[dim] = length
        for name, one in frame.coords.items():
            encoded = _encoded(one.values, _width(one.values))
            _variable(file, str(name), one.dims, encoded, one.attrs)[...] = encoded
        beside = " ".join(str(name) for name, one in frame.coords.items() if name != one.dims[0])
        for name, one in frame.data_vars.items():
            sample = _encoded(np.zeros(0, dtype=type_of(one)), widths.get(str(name), 1))
            attrs = {**one.attrs, "coordinates": beside} if beside else one.attrs
            _variable(file, str(name), dims, sample, attrs)
    with h5py.File(path, "r+") as store:  # h5netcdf looks for a variable anew at each touch
        variables = {str(name): store[str(name)] for name in frame.data_vars}
        start = 0
        for block in regrouped(blocks, PIECE):
            count = rows(block)
            for name, variable in variables.items():
                encoded = _encoded(block[name], widths.get(name, 1))
                for box, first, last in slabs(lengths, start, start + count):
                    shape = [side.stop - side.start for side in box]
                    variable[box] = encoded[first:last].reshape(*shape, *encoded.shape[1:])
            start += count


def read_netcdf(path: Path) -> "xarray.Dataset":
    """Open a sweep that was saved as netCDF; its rows are read when they are asked for. An `InputError` for others."""
    import h5py
    import xarray

    try:
        with h5py.File(path) as file:  # h5netcdf complains on stderr where the attributes cannot be read
            known = "fingerprint" in file.attrs
        dataset = xarray.open_dataset(path, engine="h5netcdf") if known else None
    except Exception as error:  # of any kind, from a reader that meets a damaged file
        raise no_sweep(path, str(error)) from None
    if dataset is None:
        raise no_sweep(path, "it lacks a sweep's attributes")
    return dataset


def text_widths(frame: "xarray.Dataset", blocks: Iterable[Block]) -> dict[str, int]:
    """Longest text of each column of texts [bytes in UTF-8], at least 1."""
    widths = {str(name): 1 for name, one in frame.data_vars.items() if type_of(one).kind == "O"}
    for block in blocks:
        for name, width in widths.items():
            widths[name] = max(width, _width(block[name]))
    return widths


def _width(values: NDArray[Any]) -> int:
    return max((len(text.encode()) for text in values.tolist()), default=1) or 1 if values.dtype == object else 1


def _encoded(values: NDArray[Any], width: int) -> NDArray[Any]:
    """As the file holds them: texts as rows of bytes, flags as small numbers."""
    if values.dtype == object:
        raw = np.array([text.encode() for text in values.tolist()], dtype=f"S{width}")
        return raw.view("S1").reshape(len(values), width)
    return values.astype(np.int8) if values.dtype == np.bool_ else values


def _variable(file: Any, name: str, dims: tuple[Any, ...], sample: NDArray[Any], attrs: Any) -> Any:
    """Make a variable in the way in which xarray writes it."""
    extra: dict[str, Any] = dict(attrs)
    fill = None
    if sample.dtype.kind == "S":
        width = sample.shape[1]
        if f"string{width}" not in file.dimensions:
            file.dimensions[f"string{width}"] = width
        dims = (*dims, f"string{width}")
        extra["_Encoding"] = "utf-8"
    elif sample.dtype == np.int8:
        extra["dtype"] = "bool"
    elif sample.dtype == np.float64:
        fill = np.nan
    shape = [file.dimensions[dim].size for dim in dims]
    variable = file.create_variable(
        name, dims, sample.dtype, fillvalue=fill, chunks=_pieces(shape), compression="gzip", compression_opts=2
    )
    variable.attrs.update(extra)
    return variable


def _pieces(shape: list[int]) -> tuple[int, ...]:
    """Size of the pieces that are compressed together: whole rows from the last dimension backwards."""
    room = PIECE
    sides = []
    for length in reversed(shape):
        sides.append(max(min(length, room), 1))
        room //= sides[-1]
    return tuple(reversed(sides))


def slabs(shape: tuple[int, ...], start: int, stop: int) -> Iterator[tuple[tuple[slice, ...], int, int]]:
    """Cut the rows from `start` to before `stop` into boxes of a grid, the largest that begin where the last ended.

    Of each box its slices, and the rows in it from the first to before the last, counted from `start`.

    >>> list(slabs((3, 4), 2, 8))
    [((slice(0, 1, None), slice(2, 4, None)), 0, 2), ((slice(1, 2, None), slice(0, 4, None)), 2, 6)]
    """
    sizes = [math.prod(shape[axis + 1 :]) for axis in range(len(shape))]  # rows in one step along each axis
    here = start
    while here < stop:
        axis = next(k for k, size in enumerate(sizes) if here % size == 0 and here + size <= stop)
        place = [here // size % length for size, length in zip(sizes, shape, strict=True)]
        steps = min((stop - here) // sizes[axis], shape[axis] - place[axis])
        box = [slice(at, at + 1) for at in place[:axis]]
        box += [slice(place[axis], place[axis] + steps), *(slice(0, length) for length in shape[axis + 1 :])]
        yield tuple(box), here - start, here - start + steps * sizes[axis]
        here += steps * sizes[axis]


def write_csv(frame: "xarray.Dataset", blocks: Iterable[Block], path: Path) -> None:
    """Write a sweep as comma-separated values, block by block, over a file that exists.

    The first lines begin with "#" and describe the columns; pandas.read_csv(path, comment="#") skips them. A missing
    number is an empty field; numbers have all the digits that they need.
    """

    def about(one: "xarray.DataArray") -> dict[str, Any]:
        return {"dtype": type_of(one).name, "attrs": one.attrs}

    dims, shape = layout(frame)
    described = {
        "dims": dims,
        "shape": shape,
        "attrs": frame.attrs,
        "coordinates": [{"name": name, "dim": one.dims[0], **about(one)} for name, one in frame.coords.items()],
        "columns": [{"name": name, **about(one)} for name, one in frame.data_vars.items()],
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
            count = rows(block)
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
    except InputError:
        raise
    except DAMAGE as error:
        raise no_sweep(path, f"it is damaged ({type(error).__name__})") from None


def _read(stream: TextIO, path: Path) -> "xarray.Dataset":
    import xarray

    told, names = _described(stream, path)
    dims, shape = tuple(told["dims"]), tuple(told["shape"])
    kinds = {one["name"]: one["dtype"] for one in (*told["coordinates"], *told["columns"])}
    if names != list(kinds):
        raise no_sweep(path, "it has other columns than its comment lines say")
    count = math.prod(shape)
    if not 0 <= count * len(kinds) <= path.stat().st_size:  # a number, or its comma, is a byte at least
        raise no_sweep(path, f"it is too short for {count} rows")
    whole = {name: values.reshape(shape) for name, values in _columns(stream, kinds, count, path).items()}
    coordinates = {}
    for one in told["coordinates"]:  # each of one dimension, but there once a row
        table = np.moveaxis(whole[one["name"]], dims.index(one["dim"]), 0)
        coordinates[one["name"]] = (one["dim"], table.reshape(len(table), -1)[:, 0], one["attrs"])
    variables = {one["name"]: (dims, whole[one["name"]], one["attrs"]) for one in told["columns"]}
    return xarray.Dataset(variables, coordinates, told["attrs"])


def _described(stream: TextIO, path: Path) -> tuple[dict[str, Any], list[str]]:
    """What the comment lines say, and the names in the line below them."""
    if stream.readline().rstrip("\n") != MARK:
        raise no_sweep(path, f"it does not begin with {MARK!r}")
    told: dict[str, Any] = {}
    while (line := stream.readline()).startswith("# {"):
        told.update(json.loads(line[2:]))
    return told, next(csv.reader([line]))


def _columns(stream: TextIO, kinds: Mapping[str, str], count: int, path: Path) -> dict[str, NDArray[Any]]:
    """So many rows, by the names of their columns and the types of these."""
    columns = {name: np.empty(count, np.dtype(kind)) for name, kind in kinds.items()}
    known: dict[str, str] = {}
    lines, found = csv.reader(stream), 0
    while some := list(islice(lines, SLICE)):
        if found + len(some) <= count:
            for (name, kind), texts in zip(kinds.items(), zip(*some, strict=True), strict=True):
                columns[name][found : found + len(some)] = _values(texts, kind, known)
        found += len(some)
    if found != count:
        raise no_sweep(path, f"it has {found} rows instead of {count}")
    return columns


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
