"""The parameters as flat records in memory, their fields named as in the physics text."""

from collections.abc import Callable, Iterator
from dataclasses import is_dataclass
from struct import Struct
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from burnsim.model.parameters.record import Parameters

WORDS = {int: "q", float: "d"}


class Layout(NamedTuple):
    """How a record lies in memory: numbers of eight bytes, one after the other."""

    dtype: np.dtype[np.void]
    numbers: Callable[[Parameters], tuple[float, ...]]
    words: Struct


_LAYOUTS: dict[int, Layout] = {}


def layout(p: Parameters) -> Layout:
    """Layout of setups with as many components: nested as the records are, tables of numbers as arrays.

    Parameters
    ----------
    p : parameters of any of them
    """
    if p.components not in _LAYOUTS:
        # One tuple written out takes a twentieth of the time of a walk through the records.
        terms, kinds = zip(*_terms("p", p), strict=True)
        numbers = eval(f"lambda p: ({', '.join(terms)},)", {})
        _LAYOUTS[p.components] = Layout(_dtype(p), numbers, Struct("".join(kinds)))
    return _LAYOUTS[p.components]


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


def _terms(text: str, value: object) -> Iterator[tuple[str, str]]:
    """How each number of a record, a row or a table is read, and what kind of word it is."""
    if isinstance(value, tuple):
        for k, each in enumerate(value):
            yield from ((term, WORDS[float]) for term, _ in _terms(f"{text}[{k}]", each))
    elif is_dataclass(value):
        for name in vars(type(value))["__slots__"]:
            yield from _terms(f"{text}.{name}", getattr(value, name))
    else:
        yield text, WORDS[int if isinstance(value, int) else float]


def packed(p: Parameters) -> NDArray[np.void]:
    """One record, shape (1,)."""
    shape = layout(p)
    return np.frombuffer(shape.words.pack(*shape.numbers(p)), shape.dtype)
