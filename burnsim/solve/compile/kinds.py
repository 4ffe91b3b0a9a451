"""What a value of the compiled text is: a number, a group of values, an array, or a record in memory.

Each kind knows the machine values ("leaves") that it is made of. A group is no thing of its own in the machine code: a
record of twenty numbers is twenty numbers, of which those that nobody reads cost nothing.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple, TypeAlias

import numpy as np

POINTER = "ptr"


@dataclass(frozen=True)
class Scalar:
    """One number, by the name of its machine type."""

    machine: str


FLOAT = Scalar("double")
WHOLE = Scalar("i64")
TRUTH = Scalar("i1")


@dataclass(frozen=True)
class Group:
    """A tuple, or a record with named fields."""

    parts: tuple["Kind", ...]
    names: tuple[str, ...] = ()


@dataclass(frozen=True)
class Block:
    """A dense array of floats with one or two axes; None for a length that is known only when it runs."""

    shape: tuple[int | None, ...]
    fixed: bool = False  # nobody ever writes to it


@dataclass(frozen=True)
class Memory:
    """A record that is only read, laid out in memory as a NumPy type says."""

    layout: "np.dtype[Any]"


Kind: TypeAlias = Scalar | Group | Block | Memory


class Value(NamedTuple):
    """A value in the machine text: its kind, and a name or literal for each leaf."""

    kind: Kind
    leaves: tuple[str, ...]


FEW = 4
WORD = 8
"""Bytes for each leaf of a group in memory."""
NOTHING = Group(())
"""What a function without a return value gives."""


def machine_types(kind: Kind) -> tuple[str, ...]:
    """The machine type of each leaf.

    >>> machine_types(Group((FLOAT, Block((None, 3)))))
    ('double', 'ptr', 'i64')
    """
    if isinstance(kind, Scalar):
        return (kind.machine,)
    if isinstance(kind, Group):
        return tuple([leaf for part in kind.parts for leaf in machine_types(part)])
    if isinstance(kind, Block):
        return (POINTER, *[WHOLE.machine for length in kind.shape if length is None])
    return (POINTER,)


def by_address(kind: Kind) -> bool:
    """Whether a value is passed by where it stands, as groups of many leaves are, rather than leaf by leaf."""
    return isinstance(kind, Group) and len(machine_types(kind)) > FEW


def part(value: Value, index: int) -> Value:
    """One value of a group.

    >>> part(Value(Group((FLOAT, WHOLE)), ("%a", "7")), 1).leaves
    ('7',)
    """
    group = value.kind
    if not isinstance(group, Group):
        raise TypeError(f"{group} has no parts")
    index = range(len(group.parts))[index]
    start = sum(len(machine_types(kind)) for kind in group.parts[:index])
    kind = group.parts[index]
    return Value(kind, value.leaves[start : start + len(machine_types(kind))])


def grouped(parts: Sequence[Value], names: tuple[str, ...] = ()) -> Value:
    """Values put together."""
    kind = Group(tuple([each.kind for each in parts]), names)
    return Value(kind, tuple([leaf for each in parts for leaf in each.leaves]))


def lengths(value: Value) -> list[str]:
    """The lengths of an array's axes.

    >>> lengths(Value(Block((None, 3)), ("%p", "%n")))
    ['%n', '3']
    """
    if not isinstance(value.kind, Block):
        raise TypeError(f"{value.kind} has no axes")
    open_ones = iter(value.leaves[1:])
    return [next(open_ones) if length is None else str(length) for length in value.kind.shape]


def joint(one: Kind, other: Kind) -> Kind | None:
    """The kind of something that is either; whole numbers become floats. None if there is no such kind.

    >>> joint(Group((WHOLE, FLOAT)), Group((FLOAT, FLOAT))) == Group((FLOAT, FLOAT))
    True
    >>> joint(FLOAT, Group((FLOAT,))) is None
    True
    """
    if one == other:
        return one
    if {one, other} == {FLOAT, WHOLE}:
        return FLOAT
    if not (isinstance(one, Group) and isinstance(other, Group)):
        return None
    if len(one.parts) != len(other.parts) or one.names != other.names:
        return None
    parts = [joint(a, b) for a, b in zip(one.parts, other.parts, strict=True)]
    return None if None in parts else Group(tuple([kind for kind in parts if kind is not None]), one.names)


def kind_of(argument: object) -> Kind:
    """The kind of an argument: a number, an array of floats, a named tuple, or a row of one record.

    >>> kind_of(2.5), kind_of(np.zeros((2, 3))).shape
    (Scalar(machine='double'), (None, None))
    """
    if isinstance(argument, float):
        return FLOAT
    if isinstance(argument, int) and not isinstance(argument, bool):
        return WHOLE
    if isinstance(argument, np.ndarray) and argument.dtype.names is not None:
        return Memory(argument.dtype)
    if isinstance(argument, np.ndarray) and argument.dtype == np.float64:
        return Block((None,) * argument.ndim)
    if isinstance(argument, tuple):
        names = getattr(type(argument), "_fields", ())
        return Group(tuple([kind_of(each) for each in argument]), tuple(names))
    raise TypeError(f"{argument!r} cannot be passed to machine code")


def words_of(argument: Any) -> list[float | int]:
    """The leaves of such an argument, each a number of eight bytes; arrays by address and lengths.

    Raises
    ------
    ValueError
        If an array is not dense.
    """
    if isinstance(argument, np.ndarray):
        if not argument.flags.c_contiguous:
            raise ValueError("an array for machine code must be dense")
        shape = () if argument.dtype.names is not None else argument.shape
        return [int(argument.ctypes.data), *shape]
    if isinstance(argument, tuple):
        return [word for each in argument for word in words_of(each)]
    return [argument]
