"""A sweep as netCDF, written as its rows come: memory stays flat however many there are."""

import math
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from burnsim.errors import InputError
from burnsim.studies.sweep.columns import Block, regrouped
from burnsim.studies.sweep.frame import layout, type_of

if TYPE_CHECKING:
    import xarray

PIECE = 8192  # designs that are compressed together


def slabs(shape: tuple[int, ...], start: int, stop: int) -> Iterator[tuple[tuple[slice, ...], int, int]]:
    """Cut the rows from `start` to before `stop` into boxes of a grid, the largest that begin where the last ended.

    Yields
    ------
    tuple
        The slices of a box, and the rows in it from the first to before the last, counted from `start`.

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


def write_netcdf(frame: "xarray.Dataset", blocks: Iterable[Block], widths: dict[str, int], path: Path) -> None:
    """Write a sweep as netCDF-4, block by block, over a file that exists; `widths` are those of `text_widths`."""
    import h5netcdf

    dims, lengths = layout(frame)
    with h5netcdf.File(path, "w") as file:
        file.attrs.update(frame.attrs)
        for dim, length in zip(dims, lengths, strict=True):
            file.dimensions[dim] = length
        for name, one in frame.coords.items():
            encoded = _encoded(one.values, _width(one.values))
            _variable(file, str(name), one.dims, encoded, one.attrs)[...] = encoded
        beside = " ".join(str(name) for name, one in frame.coords.items() if name != one.dims[0])
        variables = {}
        for name, one in frame.data_vars.items():
            sample = _encoded(np.zeros(0, dtype=type_of(one)), widths.get(str(name), 1))
            attrs = {**one.attrs, "coordinates": beside} if beside else one.attrs
            variables[str(name)] = _variable(file, str(name), dims, sample, attrs)
        start = 0
        for block in regrouped(blocks, PIECE):
            count = len(next(iter(block.values())))
            for name, variable in variables.items():
                rows = _encoded(block[name], widths.get(name, 1))
                for box, first, last in slabs(lengths, start, start + count):
                    shape = [side.stop - side.start for side in box]
                    variable[box] = rows[first:last].reshape(*shape, *rows.shape[1:])
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
        raise _no_sweep(path, str(error)) from None
    if dataset is None:
        raise _no_sweep(path, "it lacks a sweep's attributes")
    return dataset


def _no_sweep(path: Path, problem: str) -> InputError:
    return InputError("file", str(path), f"is not a sweep of this program: {problem}", "give a file saved by a sweep")


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
