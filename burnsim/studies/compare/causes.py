"""Which fields two designs differ in, which of them can only be changed together, and which caused how much of it.

References
----------
L. S. Shapley 1953, "A value for n-person games", Contributions to the Theory of Games II (Annals of Mathematics
Studies 28), 307: the one way to share that is additive, treats like alike and leaves nothing over. E. Borgonovo,
E. Plischke 2016, "Sensitivity analysis: a review of recent advances", European Journal of Operational Research 248,
869, on indices of finite changes: each change alone, and what is left to interactions.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, fields, is_dataclass
from itertools import combinations
from math import factorial
from typing import Any

from burnsim.errors import InputError
from burnsim.model import Setup, vary
from burnsim.solve import Failure, Outcome
from burnsim.studies.predict.prediction import codes_of, figure_of
from burnsim.substances.blend import Blend

Group = tuple[str, ...]  # dotted paths that are changed together


def changed(first: Setup, other: Setup) -> dict[str, tuple[Any, Any]]:
    """The fields in which two setups differ, by dotted path, with the values of both [SI]; names do not count.

    Nor does the name of a spirit: two recipes of the same parts are one.

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
        elif isinstance(one, Blend) and isinstance(two, Blend):
            if not _same_spirit(one, two):
                yield path, one, two
        elif one != two:
            yield path, one, two


def _same_spirit(one: Blend, two: Blend) -> bool:
    """Whether two spirits are made of the same parts, whatever they are called."""
    parts, others = (dict(zip(each.substances, each.mole_fractions, strict=True)) for each in (one, two))
    return parts.keys() == others.keys() and all(math.isclose(parts[part], others[part]) for part in parts)


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


MOST_SHARED = 6  # groups of changes of which all choices are burnt, 64 of them; of more, each is burnt alone

Choice = frozenset[int]


@dataclass(frozen=True)
class Cause:
    """What one group of changes did to a figure."""

    paths: Group  # that changed
    # by how much the figure changes with these changes and no others [SI]; None if it then does not happen
    alone: float | None
    share: float | None  # its share of the whole difference by Shapley's value [SI]; None where that is not known


@dataclass(frozen=True)
class Causes:
    """Where the difference of one figure comes from."""

    figure: str  # its name
    whole: float | None  # figure of the second design less that of the first [SI]; None if one of them has none
    parts: tuple[Cause, ...]  # one a group of changes
    # the whole less what the changes do alone [SI]: what they do only together; None without a whole
    remainder: float | None

    @property
    def shared(self) -> bool:
        """Whether the parts have Shapley's shares, which sum to the whole."""
        return bool(self.parts) and all(one.share is not None for one in self.parts)


@dataclass(frozen=True)
class Flip:
    """A verdict that one of two designs has, and the fewest changes that bring it or take it away."""

    code: str  # of the verdict
    comes: bool  # whether the second design has it
    by: tuple[Group, ...]  # smallest groups of changes that suffice on their own


def choices(count: int) -> list[Choice]:
    """The choices of changes that are burnt: all of few, else none, each alone and all.

    >>> len(choices(3)), len(choices(9))
    (8, 11)
    """
    sizes = range(count + 1) if count <= MOST_SHARED else sorted({0, 1, count})
    return [frozenset(one) for size in sizes for one in combinations(range(count), size)]


def chosen(first: Setup, changes: Mapping[str, object], groups: Sequence[Group]) -> list[Setup]:
    """The designs that are burnt, in the order of `choices`."""
    return [with_changes(first, changes, [groups[k] for k in sorted(one)]) for one in choices(len(groups))]


def causes(figure: str, groups: Sequence[Group], burns: Sequence[Outcome | Failure]) -> Causes:
    """Share the difference of a figure out among the groups of changes, from the burns of the designs of `chosen`."""
    found = {one: figure_of(burn, figure) for one, burn in zip(choices(len(groups)), burns, strict=True)}
    every = range(len(groups))
    none, full = found[frozenset()], found[frozenset(every)]
    alone = [found[frozenset((k,))] - none for k in every]
    shares = shapley(found, len(groups))
    whole = full - none
    parts = tuple(Cause(groups[k], _known(alone[k]), _known(shares[k])) for k in every)
    rest = whole - math.fsum(one for one in alone if math.isfinite(one))
    return Causes(figure, _known(whole), parts, _known(rest))


def shapley(values: Mapping[Choice, float], count: int) -> list[float]:
    """Shapley's value of each of so many players of a game: its mean contribution over all orders in which they join.

    They sum to the value of all less that of none; NaN where a choice has no value or is missing.

    >>> glove = {frozenset(c): float({0, 1} <= set(c) or {0, 2} <= set(c)) for c in choices(3)}
    >>> [round(6 * value) for value in shapley(glove, 3)]  # one left glove, two right ones: 4/6, 1/6, 1/6
    [4, 1, 1]
    """
    if count > MOST_SHARED:
        return [math.nan] * count
    share = [factorial(size) * factorial(count - size - 1) / factorial(count) for size in range(count)]
    return [
        sum(
            share[size] * (values[frozenset((*some, k))] - values[frozenset(some)])
            for size in range(count)
            for some in combinations([j for j in range(count) if j != k], size)
        )
        for k in range(count)
    ]


def flips(groups: Sequence[Group], burns: Sequence[Outcome | Failure]) -> tuple[Flip, ...]:
    """Verdicts in which the two designs differ, with the fewest changes that do it, from the burns of `chosen`."""
    found = {one: codes_of(burn) for one, burn in zip(choices(len(groups)), burns, strict=True)}
    before, after = found[frozenset()], found[frozenset(range(len(groups)))]
    flipped = []
    for code in sorted(before ^ after):
        comes = code in after
        does = [one for one, codes in found.items() if (code in codes) == comes]
        least = min(len(one) for one in does)
        fewest = [one for one in does if len(one) == least]
        by = tuple(tuple(path for k in sorted(one) for path in groups[k]) for one in fewest)
        flipped.append(Flip(code, comes, by))
    return tuple(flipped)


def _known(value: float) -> float | None:
    return value if math.isfinite(value) else None
