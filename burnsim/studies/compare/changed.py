"""Which fields two designs differ in, and which of them can only be changed together."""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import fields, is_dataclass
from itertools import combinations
from typing import Any

from burnsim.errors import InputError
from burnsim.model.description.setup import Setup
from burnsim.model.description.vary import vary
from burnsim.substances.blend import Blend

Group = tuple[str, ...]
"""Dotted paths that are changed together."""


def changed(first: Setup, other: Setup) -> dict[str, tuple[Any, Any]]:
    """The fields in which two setups differ, by dotted path, with the values of both [SI]; names do not count.

    A part that only one of them has counts as one field.
    """
    return {path: (one, two) for path, one, two in _walk(first, other, "") if path != "name"}


def _walk(first: Any, other: Any, prefix: str) -> Iterator[tuple[str, Any, Any]]:
    for field in fields(first):
        path = f"{prefix}.{field.name}" if prefix else field.name
        one, two = getattr(first, field.name), getattr(other, field.name)
        if is_dataclass(one) and type(one) is type(two) and hasattr(one, "PATH"):
            yield from _walk(one, two, path)
        elif isinstance(one, float) and isinstance(two, float):
            if not math.isclose(one, two, rel_tol=1e-9, abs_tol=1e-15):
                yield path, one, two
        elif one != two:
            yield path, one, two


def groups(first: Setup, changes: Mapping[str, object]) -> tuple[Group, ...]:
    """Part changes into the smallest groups of which any choice can be built.

    All changes together can be built. The groups hold each path once, in its order: a lower cup whose jets move down
    with it can only be changed together with its jets.
    """
    found: list[Group] = [(path,) for path in changes]
    while (bad := _unbuildable(first, changes, found)) is not None:
        joined = set(bad) | set(_rescue(first, changes, found, bad))
        first_of = min(found.index(one) for one in joined)
        merged = tuple(path for path in changes if any(path in one for one in joined))
        found = [merged if k == first_of else one for k, one in enumerate(found) if k == first_of or one not in joined]
    return tuple(found)


def _unbuildable(first: Setup, changes: Mapping[str, object], found: Sequence[Group]) -> tuple[Group, ...] | None:
    """A smallest choice of groups that cannot be built; of many groups, only single ones and pairs are tried."""
    most = len(found) if len(found) <= 8 else 3
    for size in range(1, most):
        for choice in combinations(found, size):
            if not buildable(first, changes, choice):
                return choice
    return None


def _rescue(
    first: Setup, changes: Mapping[str, object], found: Sequence[Group], bad: tuple[Group, ...]
) -> Sequence[Group]:
    """The fewest groups that let a choice be built; all of them where no one or two do."""
    rest = [one for one in found if one not in bad]
    for size in (1, 2):
        for more in combinations(rest, size):
            if buildable(first, changes, (*bad, *more)):
                return more
    return rest


def buildable(first: Setup, changes: Mapping[str, object], choice: Sequence[Group]) -> bool:
    """Whether a design with some groups of its changes can be built."""
    try:
        with_changes(first, changes, choice)
    except InputError:
        return False
    return True


def with_changes(first: Setup, changes: Mapping[str, object], choice: Sequence[Group]) -> Setup:
    """A design with some groups of its changes."""
    return vary(first, {path: changes[path] for group in choice for path in group})


def is_part(value: object) -> bool:
    """Whether a value is a whole part of a design, and not the value of a field."""
    return is_dataclass(value) and not isinstance(value, Blend)
