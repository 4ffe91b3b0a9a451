"""The frame of a sweep: its dataset with dimensions, coordinates and attributes, and columns that hold no rows yet.

The columns of a frame are single values seen as arrays, so that a million designs take no memory. Rows come in blocks,
the last dimension turning fastest.
"""

from collections.abc import Iterable, Iterator, Mapping
from typing import TYPE_CHECKING, Any

import numpy as np

from burnsim.errors import InputError
from burnsim.studies.sweep.columns import COLUMNS, Block, joined
from burnsim.studies.sweep.plan import Plan

if TYPE_CHECKING:
    import xarray

SLICE = 4096  # rows at a time, where a whole dataset is written
TYPES = {"f": np.dtype(np.float64), "i": np.dtype(np.int64), "b": np.dtype(np.bool_)}
"""Of numbers, whole numbers and flags; anything else is a text."""


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
    """A finished sweep, the columns added to it since included, of the few types that files keep.

    An `InputError` for a variable or coordinate that is no longer one that a sweep could have.
    """
    import xarray

    full = (one.dims for one in dataset.data_vars.values() if len(one.dims) == len(dataset.sizes))
    dims = next(full, ())
    for name, variable in dataset.variables.items():
        wanted = dims if name in dataset.data_vars else dims[:1] if len(dims) == 1 else (name,)
        if not dims or variable.dims != wanted or variable.dtype.kind not in "fibOU":
            raise InputError(
                "dataset", name, f"is not a column of a sweep: {variable.dims} {variable.dtype}",
                "leave it out, or save it by xarray's own to_netcdf",
            )  # fmt: skip

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
    for start in range(0, int(np.prod(layout(dataset)[1])), SLICE):
        yield {name: values[start : start + SLICE] for name, values in whole.items()}


def dataset_of(frame: "xarray.Dataset", blocks: Iterable[Block]) -> "xarray.Dataset":
    """Put frame and rows together in memory."""
    shape = layout(frame)[1]
    return frame.copy(data={name: values.reshape(shape) for name, values in joined(blocks).items()})
