"""A sweep as netCDF, written as its rows come: memory stays flat however many there are."""

from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from burnsim.errors import InputError
from burnsim.studies.sweep.columns import Block, regrouped
from burnsim.studies.sweep.frame import Frame

if TYPE_CHECKING:
    import xarray

PIECE = 8192  # designs that are compressed together

Slab = tuple[tuple[slice, ...], int, int]


def slabs(shape: tuple[int, ...], start: int, stop: int) -> Iterator[Slab]:
    """Cut a stretch of rows into boxes of the grid.

    Parameters
    ----------
    shape
        Of the grid; the last dimension turns fastest.
    start, stop
        From this row to before that one.

    Yields
    ------
    tuple
        The slices of a box, and the rows in it from the first to before the last, counted from `start`.

    >>> list(slabs((3, 4), 2, 8))
    [((slice(0, 1, None), slice(2, 4, None)), 0, 2), ((slice(1, 2, None), slice(0, 4, None)), 2, 6)]
    """
    yield from _slabs(shape, start, stop, (), 0)


def _slabs(shape: tuple[int, ...], start: int, stop: int, outer: tuple[slice, ...], offset: int) -> Iterator[Slab]:
    if start >= stop:
        return
    if len(shape) == 1:
        yield (*outer, slice(start, stop)), offset, offset + stop - start
        return
    inner = int(np.prod(shape[1:], dtype=np.int64))
    first, ahead = divmod(start, inner)
    last, behind = divmod(stop, inner)
    if ahead or first == last:
        end = min(inner, stop - first * inner)
        yield from _slabs(shape[1:], ahead, end, (*outer, slice(first, first + 1)), offset)
        offset += end - ahead
        first += 1
    if first < last:
        whole = tuple(slice(0, length) for length in shape[1:])
        yield (*outer, slice(first, last), *whole), offset, offset + (last - first) * inner
        offset += (last - first) * inner
    if behind and first <= last:
        yield from _slabs(shape[1:], 0, behind, (*outer, slice(last, last + 1)), offset)


def write_netcdf(frame: Frame, blocks: Iterable[Block], widths: dict[str, int], path: Path) -> None:
    """Write a sweep as netCDF-4, block by block.

    Parameters
    ----------
    frame
        All but the rows.
    blocks
        The rows in order.
    widths
        Longest text of each column of texts [bytes in UTF-8].
    path
        File to write; one that exists is overwritten.
    """
    import h5netcdf

    with h5netcdf.File(path, "w") as file:
        file.attrs.update(frame.attrs)
        for dim, length in zip(frame.dims, frame.shape, strict=True):
            file.dimensions[dim] = length
        for one in frame.coordinates:
            encoded = _encoded(one.values, _width(one.values))
            _variable(file, one.name, (one.dim,), encoded, one.attrs)[...] = encoded
        beside = " ".join(one.name for one in frame.coordinates if one.name != one.dim)
        variables = {}
        for kind in frame.columns:
            sample = _encoded(np.zeros(0, dtype=kind.dtype), widths.get(kind.name, 1))
            attrs = {**kind.attrs, "coordinates": beside} if beside else kind.attrs
            variables[kind.name] = _variable(file, kind.name, frame.dims, sample, attrs)
        start = 0
        for block in regrouped(blocks, PIECE):
            count = len(next(iter(block.values())))
            for name, variable in variables.items():
                rows = _encoded(block[name], widths.get(name, 1))
                for box, first, last in slabs(frame.shape, start, start + count):
                    shape = [side.stop - side.start for side in box]
                    variable[box] = rows[first:last].reshape(*shape, *rows.shape[1:])
            start += count


def read_netcdf(path: Path) -> "xarray.Dataset":
    """Open a sweep that was saved as netCDF; its rows are read when they are asked for.

    Raises
    ------
    InputError
        If the file is not such a sweep.
    """
    import xarray

    try:
        dataset = xarray.open_dataset(path, engine="h5netcdf")
    except Exception as error:  # of any kind, from a reader that meets a damaged file
        raise _no_sweep(path, str(error)) from None
    if "fingerprint" not in dataset.attrs:
        dataset.close()
        raise _no_sweep(path, "it lacks a sweep's attributes")
    return dataset


def _no_sweep(path: Path, problem: str) -> InputError:
    return InputError("file", str(path), f"is not a sweep of this program: {problem}", "give a file saved by a sweep")


def text_widths(frame: Frame, blocks: Iterable[Block]) -> dict[str, int]:
    """Longest text of each column of texts [bytes in UTF-8], at least 1."""
    widths = {kind.name: 1 for kind in frame.columns if kind.dtype == object}
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


def _variable(file: Any, name: str, dims: tuple[str, ...], sample: NDArray[Any], attrs: Any) -> Any:
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
