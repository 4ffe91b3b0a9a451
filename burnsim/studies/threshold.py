"""Where a yes turns into a no: many such searches at once, so that every round is one batch of burns.

Searches bisect many questions in lockstep (`studies/threshold.py`), one batch of burns a round, after a scan that
shows whether the answer changes only once. A start counts only if it holds: half of the charge's heat must burn.
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
    """Find, for each question, the lowest value between two ends at which its answer changes.

    Parameters
    ----------
    ask : answers a batch of (number of the question, value)
    ranges : lowest and highest value of each question
    points : even values that are tried first, both ends included, 2 or more
    tolerance : width, above 0, of the bracket at which to stop, one for all or one each

    Returns
    -------
    list of Threshold
        Two values at most `tolerance` apart on either side of the first change. If all answers are alike, the
        lowest (all yes) or the highest (all no) value stands alone.

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

    def put(batch: list[tuple[int, float]]) -> None:
        for (k, value), answer in zip(batch, ask(batch), strict=True):
            known[k][value] = bool(answer)

    put([(k, value) for k, ends in enumerate(ranges) for value in even(*ends, points)])
    while True:
        batch = []
        for k, width in enumerate(widths):
            for low, high in _changes(known[k])[:1]:
                middle = 0.5 * (low + high)
                if high - low > width and low < middle < high:  # else they are neighbouring floats
                    batch.append((k, middle))
        if not batch:
            return [_threshold(answers) for answers in known]
        put(batch)


def _changes(answers: dict[float, bool]) -> list[tuple[float, float]]:
    """Neighbours between which the answer changes, rising."""
    return [(low, high) for low, high in pairwise(sorted(answers)) if answers[low] != answers[high]]


def _threshold(answers: dict[float, bool]) -> Threshold:
    tried = tuple(sorted(answers.items()))
    changes = _changes(answers)
    if not changes:
        value, answer = tried[0]
        return Threshold(value, None, True, tried) if answer else Threshold(None, tried[-1][0], True, tried)
    low, high = changes[0]
    yes, no = (low, high) if answers[low] else (high, low)
    return Threshold(yes, no, len(changes) == 1, tried)
