"""The parameters as flat records in memory, their fields named as in the physics text."""

from dataclasses import is_dataclass
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from burnsim.model.parameters.record import Parameters

NUMBER = (int, float)


class Layout(NamedTuple):
    """How a record lies in memory: numbers of eight bytes, one after the other."""

    dtype: np.dtype[np.void]
    whole_numbers: tuple[int, ...]  # places of the integers among all numbers


_LAYOUTS: dict[int, Layout] = {}


def layout(p: Parameters) -> Layout:
    """Layout of setups with as many components: nested as the records are, tables of numbers as arrays.

    Parameters
    ----------
    p : parameters of any of them
    """
    if p.components not in _LAYOUTS:
        places = tuple(k for k, number in enumerate(_numbers(p)) if isinstance(number, int))
        _LAYOUTS[p.components] = Layout(_dtype(p), places)
    return _LAYOUTS[p.components]


def _fields(record: object) -> list[object]:
    return [getattr(record, name) for name in vars(type(record))["__slots__"]]


def _dtype(record: object) -> np.dtype[np.void]:
    fields: list[Any] = []
    for name in vars(type(record))["__slots__"]:
        value = getattr(record, name)
        if is_dataclass(value):
            fields.append((name, _dtype(value)))
        elif isinstance(value, tuple):
            fields.append((name, np.float64, np.shape(value)))
        else:
            fields.append((name, np.int64 if isinstance(value, int) else np.float64))
    return np.dtype(fields)


def _numbers(record: object) -> list[float]:
    found: list[float] = []
    for value in record if isinstance(record, tuple) else _fields(record):
        if isinstance(value, NUMBER):
            found.append(value)
        else:
            found += _numbers(value)
    return found


def packed(p: Parameters) -> NDArray[np.void]:
    """One record, shape (1,)."""
    shape = layout(p)
    numbers = _numbers(p)
    flat = np.array(numbers, dtype=np.float64)
    whole = flat.view(np.int64)
    for place in shape.whole_numbers:
        whole[place] = int(numbers[place])
    return flat.view(shape.dtype)
