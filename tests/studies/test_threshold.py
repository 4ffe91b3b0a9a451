"""Searches for a change of answer, against steps whose place is known."""

from collections.abc import Sequence

import pytest
from hypothesis import given
from hypothesis import strategies as st

from burnsim import InputError
from burnsim.studies.threshold import thresholds


@given(
    st.lists(st.tuples(st.floats(-5.0, 5.0), st.booleans()), min_size=1, max_size=5),
    st.integers(2, 12),
    st.floats(1e-3, 1.0),
)
def test_finds_known_steps(steps: list[tuple[float, bool]], points: int, tolerance: float) -> None:
    """Question k answers yes above its step (or below it, if it is a falling one)."""

    def ask(batch: Sequence[tuple[int, float]]) -> list[bool]:
        return [(value > steps[k][0]) == steps[k][1] for k, value in batch]

    found = thresholds(ask, [(-6.0, 6.0)] * len(steps), points=points, tolerance=tolerance)
    for (step, rising), one in zip(steps, found, strict=True):
        assert one.yes is not None
        assert one.no is not None
        assert abs(one.yes - one.no) <= tolerance
        assert min(one.yes, one.no) <= step <= max(one.yes, one.no)
        assert (one.yes > one.no) == rising
        assert one.single


def test_every_round_is_one_batch() -> None:
    rounds: list[int] = []

    def ask(batch: Sequence[tuple[int, float]]) -> list[bool]:
        rounds.append(len(batch))
        return [value > 0.1 * (k + 1) for k, value in batch]

    thresholds(ask, [(0.0, 1.0)] * 3, points=5, tolerance=0.25 / 8.0)
    assert rounds == [15, 3, 3, 3]


def test_all_alike() -> None:
    yes, no = thresholds(lambda batch: [k == 0 for k, _ in batch], [(1.0, 2.0), (1.0, 2.0)], tolerance=0.1)
    assert (yes.yes, yes.no, yes.single) == (1.0, None, True)
    assert (no.yes, no.no, no.single) == (None, 2.0, True)


def test_a_second_change_is_told_and_the_first_is_found() -> None:
    found = thresholds(lambda batch: [0.3 < value < 0.7 for _, value in batch], [(0.0, 1.0)], tolerance=0.01)[0]
    assert found.yes == pytest.approx(0.3, abs=0.01)
    assert not found.single
    assert [value for value, _ in found.tried] == sorted(value for value, _ in found.tried)


def test_ends_at_neighbouring_floats() -> None:
    found = thresholds(lambda batch: [value > 1.0 for _, value in batch], [(0.0, 3.0)], tolerance=1e-300)[0]
    assert found.no == 1.0
    assert found.yes == pytest.approx(1.0, abs=1e-15)


def test_refuses() -> None:
    with pytest.raises(InputError, match="points"):
        thresholds(lambda batch: [True] * len(batch), [(0.0, 1.0)], points=1, tolerance=0.1)
    with pytest.raises(InputError, match="tolerance"):
        thresholds(lambda batch: [True] * len(batch), [(0.0, 1.0)], tolerance=0.0)
