"""Where a yes turns into a no: many questions bisected in lockstep, so that every round is one batch of burns.

A scan comes first, which shows whether the answer changes only once.
"""

from collections.abc import Callable, Sequence
from itertools import pairwise
from math import ceil, log2
from typing import NamedTuple

from burnsim.errors import InputError, check_whole

Ask = Callable[[Sequence[tuple[int, float]]], Sequence[bool]]
"""Answers a batch: each pair is the number of a question and the value that is tried."""


class Threshold(NamedTuple):
    """The first change between yes and no as a value rises."""

    yes: float | None  # nearest value known to be a yes; None if none was found
    no: float | None  # nearest value known to be a no; None if none was found
    single: bool  # whether the answer changes only once over all values tried
    tried: tuple[tuple[float, bool], ...]  # in the order of the values

    def until_no(self) -> tuple[float | None, float | None, bool]:
        """The largest yes below the lowest no, that no, and whether no value above it is a yes; None where none is."""
        holds = None
        for value, answer in self.tried:
            if not answer:
                return holds, value, not any(again for later, again in self.tried if later > value)
            holds = value
        return holds, None, True


def rounds(low: float, high: float, points: int, tolerance: float) -> int:
    """How many times a question is asked at most after its first values; arguments are those of `thresholds`.

    >>> rounds(0.0, 1.0, 5, 0.03)
    4
    """
    step = (high - low) / max(points - 1, 1)
    return ceil(log2(step / tolerance)) if step > tolerance > 0.0 else 0


def even(low: float, high: float, points: int) -> list[float]:
    """The two or more even values that are tried first, both ends included.

    >>> even(0.0, 1.0, 3)
    [0.0, 0.5, 1.0]
    """
    return [low + (high - low) * i / (points - 1) for i in range(points)]


def thresholds(
    ask: Ask, ranges: Sequence[tuple[float, float]], *, points: int = 9, tolerance: float | Sequence[float]
) -> list[Threshold]:
    """Find, for each question with its lowest and highest value, the lowest value at which its answer changes.

    So many even `points`, 2 or more, both ends included, are tried first. What comes back are two values on either side
    of the first change, at most the `tolerance` apart, which is one for all or one each, above 0. If all answers are
    alike, the lowest (all yes) or the highest (all no) value stands alone.

    >>> found = thresholds(lambda batch: [value > 0.3 for _, value in batch], [(0.0, 1.0)], tolerance=0.01)[0]
    >>> found.no <= 0.3 < found.yes, found.yes - found.no <= 0.01, found.single
    (True, True, True)
    """
    widths = [tolerance] * len(ranges) if isinstance(tolerance, int | float) else list(tolerance)
    check_whole("points", points, 2)
    for width in widths:
        if not width > 0.0:
            raise InputError("tolerance", width, "is not above 0", "give the width at which to stop")
    known: list[dict[float, bool]] = [{} for _ in ranges]
    found: list[Threshold] = []
    batch = [(k, value) for k, ends in enumerate(ranges) for value in even(*ends, points)]
    while batch:
        for (k, value), answer in zip(batch, ask(batch), strict=True):
            known[k][value] = bool(answer)
        found = [_threshold(answers) for answers in known]
        batch = []
        for k, (one, width) in enumerate(zip(found, widths, strict=True)):
            if one.yes is None or one.no is None:
                continue
            middle = 0.5 * (one.yes + one.no)
            if abs(one.yes - one.no) > width and middle not in (one.yes, one.no):  # else they are neighbouring floats
                batch.append((k, middle))
    return found


def _threshold(answers: dict[float, bool]) -> Threshold:
    tried = sorted(answers.items())
    changes = [(one, other) for one, other in pairwise(tried) if one[1] != other[1]]
    ends = changes[0] if changes else tried[:1] if tried[0][1] else tried[-1:]
    yes, no = (next((value for value, answer in ends if answer is wanted), None) for wanted in (True, False))
    return Threshold(yes, no, len(changes) <= 1, tuple(tried))
