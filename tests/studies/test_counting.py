"""Burns are told as they are done, and nothing else changes."""

from pathlib import Path

import burnsim
from burnsim.solve import Failure
from burnsim.studies.batches import burn_batch
from burnsim.studies.burn_many import burner_pool
from burnsim.studies.counting import count, expect, watched, watching
from burnsim.studies.threshold import rounds, thresholds

DESIGN = Path(__file__).parents[2] / "examples" / "garden_open_cup.toml"


def test_nobody_watches() -> None:
    expect(3)
    count()
    assert not watching()
    with watched(None):
        assert not watching()


def test_every_burn_is_told_and_the_end() -> None:
    told: list[tuple[int, int]] = []
    with watched(lambda done, total: told.append((done, total))):
        expect(3)
        count()
        count()
    assert told == [(1, 3), (2, 3), (2, 2)]
    assert not watching()


def test_more_than_expected_never_looks_done() -> None:
    told: list[tuple[int, int]] = []
    with watched(lambda done, total: told.append((done, total))):
        expect(1)
        count()
        count()
    assert told == [(2, 3), (2, 2)]


def test_watched_burns_are_the_same() -> None:
    setup = burnsim.load(DESIGN)
    setups = [burnsim.vary(setup, {"charge.volume": volume}) for volume in (5e-6, 8e-6)]
    alone = burn_batch(setups)
    told: list[int] = []
    with watched(lambda done, total: told.append(done)):
        seen = burn_batch(setups)
    assert told == [1, 2, 2]
    assert [one.milestones for one in alone if not isinstance(one, Failure)] == [
        one.milestones for one in seen if not isinstance(one, Failure)
    ]


def test_a_crew_expects_its_burns() -> None:
    setup = burnsim.load(DESIGN)
    told: list[tuple[int, int]] = []
    with watched(lambda done, total: told.append((done, total))), burner_pool(4, 1) as engine:
        engine([setup] * 2, ())
    assert told == [(1, 4), (2, 4), (2, 2)]


def test_rounds_bound_what_a_search_asks() -> None:
    for tolerance in (0.3, 0.05, 0.01, 1e-4):
        for limit in (0.07, 0.31, 0.9999):
            asked: list[float] = []

            def ask(batch: object, limit: float = limit, asked: list[float] = asked) -> list[bool]:
                values = [value for _, value in batch]  # type: ignore[attr-defined]
                asked += values
                return [value > limit for value in values]

            thresholds(ask, [(0.0, 1.0)], points=5, tolerance=tolerance)
            assert len(asked) == 5 + rounds(0.0, 1.0, 5, tolerance)
