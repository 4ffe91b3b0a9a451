"""Records of what the laws find.

A burn makes some 36 000 of them, so they have slots: a named tuple is read in two to three times the time and takes up
to twice as long to make. They are frozen for the type checker alone: a frozen data class takes three to six times as
long to make (Python 3.11 and 3.13). The compiled march has them as named tuples (`burnsim.solve.compile.specialise`).
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
