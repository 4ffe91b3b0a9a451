"""The frame of a sweep's dataset: dimensions, coordinates, columns and attributes, all but the rows."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from burnsim.errors import InputError
from burnsim.studies.sweep.columns import COLUMNS, Block, joined
from burnsim.studies.sweep.plan import Plan

if TYPE_CHECKING:
    import xarray

SLICE = 4096  # rows at a time, where a whole dataset is written


class Coordinate(NamedTuple):
    """Values along one dimension."""

    name: str
    dim: str
    values: NDArray[Any]
    attrs: Mapping[str, Any]


class Kind(NamedTuple):
    """A column without its rows."""

    name: str
    dtype: np.dtype[Any]  # float64, int64, bool, or object for texts
    attrs: Mapping[str, Any]


@dataclass(frozen=True)
class Frame:
    """All of a dataset but its rows; these come in order, the last dimension turning fastest."""

    dims: tuple[str, ...]
    shape: tuple[int, ...]
    coordinates: tuple[Coordinate, ...]
    columns: tuple[Kind, ...]
    attrs: Mapping[str, Any]

    @property
    def size(self) -> int:
        """Number of rows."""
        return int(np.prod(self.shape, dtype=np.int64))


def frame_of_plan(plan: Plan, attrs: Mapping[str, Any]) -> Frame:
    """The frame of a sweep that is still to be done."""
    coordinates = tuple(Coordinate(axis.path, axis.path, axis.labels, axis.attrs) for axis in plan.axes)
    if plan.mode != "grid":
        numbers = Coordinate("design", "design", np.arange(plan.size), {"long_name": "number of the design"})
        coordinates = (numbers, *(one._replace(dim="design") for one in coordinates))
    kinds = tuple(
        Kind(column.name, np.dtype(object if column.is_text else np.float64), column.attrs) for column in COLUMNS
    )
    return Frame(plan.dims, plan.shape, coordinates, kinds, attrs)


def frame_of_dataset(dataset: "xarray.Dataset") -> Frame:
    """The frame of a finished sweep, the columns added to it since included.

    Raises
    ------
    InputError
        If a variable or coordinate is no longer one that a sweep could have.
    """
    full = (one.dims for one in dataset.data_vars.values() if len(one.dims) == len(dataset.sizes))
    dims = tuple(str(dim) for dim in next(full, ()))
    for name, variable in dataset.variables.items():
        wanted = dims if name in dataset.data_vars else dims[:1] if len(dims) == 1 else (name,)
        if not dims or variable.dims != wanted or variable.dtype.kind not in "fibOU":
            raise InputError(
                "dataset", name, f"is not a column of a sweep: {variable.dims} {variable.dtype}",
                "leave it out, or save it by xarray's own to_netcdf",
            )  # fmt: skip
    coordinates = tuple(
        Coordinate(str(name), str(one.dims[0]), _tidy(one.values), one.attrs) for name, one in dataset.coords.items()
    )
    kinds = tuple(Kind(str(name), _dtype(one.dtype), one.attrs) for name, one in dataset.data_vars.items())
    return Frame(dims, tuple(dataset.sizes[dim] for dim in dims), coordinates, kinds, dataset.attrs)


def blocks_of_dataset(dataset: "xarray.Dataset", frame: Frame) -> Iterator[Block]:
    """The rows of a dataset, some at a time."""
    whole = {kind.name: _tidy(dataset[kind.name].values).ravel() for kind in frame.columns}
    for start in range(0, frame.size, SLICE):
        yield {name: values[start : start + SLICE] for name, values in whole.items()}


def dataset_of(frame: Frame, blocks: Iterable[Block]) -> "xarray.Dataset":
    """Put frame and rows together in memory."""
    import xarray

    rows = joined(blocks)
    return xarray.Dataset(
        {kind.name: (frame.dims, rows[kind.name].reshape(frame.shape), dict(kind.attrs)) for kind in frame.columns},
        {one.name: ((one.dim,), one.values, dict(one.attrs)) for one in frame.coordinates},
        dict(frame.attrs),
    )


def _dtype(dtype: np.dtype[Any]) -> np.dtype[Any]:
    return np.dtype({"f": np.float64, "i": np.int64, "b": np.bool_}.get(dtype.kind, object))


def _tidy(values: NDArray[Any]) -> NDArray[Any]:
    return np.asarray(values).astype(_dtype(np.asarray(values).dtype))
