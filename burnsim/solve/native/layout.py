"""The parameters as one flat record in memory, its fields named as in the physics text."""

import numpy as np
from numpy.typing import NDArray

from burnsim.model.parameters import Parameters


def layout(p: Parameters) -> np.dtype[np.void]:
    """The record's type: nested as the named tuples are, tables of numbers as arrays.

    Parameters
    ----------
    p : parameters of any setup with the same number of components

    >>> from typing import NamedTuple
    >>> class Inner(NamedTuple):
    ...     size: float
    ...     rows: tuple[tuple[float, float], ...]
    >>> layout(Inner(1.0, ((1.0, 2.0),)))["rows"].shape
    (1, 2)
    """
    return _layout(p)


def _layout(record: object) -> np.dtype[np.void]:
    fields = []
    names: tuple[str, ...] = record._fields  # type: ignore[attr-defined]
    for name in names:
        value = getattr(record, name)
        if hasattr(value, "_fields"):
            fields.append((name, _layout(value)))
        elif isinstance(value, tuple):
            fields.append((name, np.float64, np.shape(value)))  # type: ignore[arg-type]
        else:
            fields.append((name, np.int64 if isinstance(value, int) else np.float64))  # type: ignore[arg-type]
    return np.dtype(fields)


def packed(parameters: list[Parameters]) -> NDArray[np.void]:
    """Records of setups with the same number of components, shape (len(parameters),)."""
    return np.array([tuple(p) for p in parameters], dtype=layout(parameters[0]))
