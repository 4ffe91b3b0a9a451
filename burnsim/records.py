"""Records of what the laws find.

A burn makes some fifty thousand of them, so they have slots: a named tuple takes twice as long for both
(Python 3.11 to 3.13). They are frozen for the type checker alone, for the same reason; a frozen data class takes three
times as long to make. The compiled march has them as named tuples (see `burnsim.solve.native.specialise`).
"""

from dataclasses import dataclass
from typing import TypeVar, dataclass_transform

T = TypeVar("T")


@dataclass_transform(frozen_default=True)
def record(cls: type[T]) -> type[T]:
    """Make a class of annotated fields a record, built from their values in order.

    >>> @record
    ... class Spot:
    ...     x: float
    ...     y: float
    >>> Spot(1.0, 2.0)
    Spot(x=1.0, y=2.0)
    """
    return dataclass(slots=True)(cls)
