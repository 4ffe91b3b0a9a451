"""Burn many variants of a design, over the cores where that pays; searches by such burns."""

from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Executor, ThreadPoolExecutor
from contextlib import contextmanager
from functools import partial

from burnsim.errors import check_whole
from burnsim.model import Setup
from burnsim.solve import Failure, Outcome, burn_many
from burnsim.solve.engines import prepare
from burnsim.solve.run import DEFAULT_RTOL
from burnsim.studies.batches import burn_batch
from burnsim.studies.counting import count as told
from burnsim.studies.counting import expect
from burnsim.studies.sweep.pool import cores, process_pool
from burnsim.studies.threshold import Threshold, rounds, thresholds

Engine = Callable[[Sequence[Setup], Sequence[float]], list[Outcome | Failure]]
"""Burns setups; the second argument holds times at which to keep the water's temperature [s]."""

WORTH_A_PROCESS = 100  # burns in plain Python, below which starting a process costs more than it saves
PIECE = 16  # burns at most, handed on at a time


def burn_all(setups: Sequence[Setup], water_at: Sequence[float] = ()) -> list[Outcome | Failure]:
    """Burn setups in this process; one that breaks down is a `Failure` in its place."""
    return burn_batch(setups, partial(burn_many, water_at=tuple(water_at)))


LOST = "nothing is kept of a study that is stopped"


@contextmanager
def burner_pool(
    burns: int, workers: int | None = None, rtol: float = DEFAULT_RTOL, engine: Engine | None = None
) -> Iterator[Engine]:
    """The engine that is given, or one that spreads so many burns over so many cores, by default all.

    Machine code runs in threads, which start at once and share what is compiled. Plain Python needs processes, which
    start only when there are enough burns. `rtol` is the relative tolerance of their steps.
    """
    if engine is not None:
        yield engine
        return
    if workers is not None:
        check_whole("workers", workers, 1)
    count = workers or cores()
    pools: dict[str, Executor] = {}

    def pool(how: str) -> Executor | None:
        few = burns < 2 * PIECE if how == "compiled" else burns < WORTH_A_PROCESS
        if count == 1 or few:
            return None
        if how not in pools:
            pools[how] = ThreadPoolExecutor(count) if how == "compiled" else process_pool(count)
        return pools[how]

    def pooled(setups: Sequence[Setup], water_at: Sequence[float] = ()) -> list[Outcome | Failure]:
        listed = list(setups)
        how = prepare(listed, burns)
        run = partial(burn_many, water_at=tuple(water_at), engine=how, rtol=rtol)
        found = pool(how)
        pieces = [listed[k : k + PIECE] for k in range(0, len(listed), PIECE)]
        if found is None:
            return [found for piece in pieces for found in burn_batch(piece, run)]
        done: list[Outcome | Failure] = []
        for piece in found.map(partial(burn_batch, run=run), pieces):
            done += piece
            told(len(piece))
        return done

    expect(burns)
    try:
        yield pooled
    except KeyboardInterrupt:
        raise KeyboardInterrupt(f"{LOST}: fewer burns, or more workers, take less time") from None
    finally:
        for one in pools.values():
            one.shutdown(wait=False, cancel_futures=True)


def sought(
    ranges: Sequence[tuple[float, float]],
    about: Sequence[int],
    made: Callable[[int, float], Setup],
    does: Callable[[int, Outcome | Failure], bool],
    *,
    points: int,
    tolerance: float,
) -> tuple[list[Threshold], dict[tuple[int, float], Outcome | Failure]]:
    """Search many questions by burns at once, as `thresholds` does, with what was burnt, by design and value.

    Question k is about design `about[k]`; `made` gives a design with a value, and `does` says whether its burn answers
    a question with yes. Questions about one design share its burns.
    """
    seen: dict[tuple[int, float], Outcome | Failure] = {}
    with burner_pool(sum(points + rounds(*ends, points, tolerance) for ends in ranges)) as engine:

        def ask(batch: Sequence[tuple[int, float]]) -> list[bool]:
            asked = [(about[k], value) for k, value in batch]
            new = [one for one in dict.fromkeys(asked) if one not in seen]
            seen.update(zip(new, engine([made(*one) for one in new], ()), strict=True))
            return [does(k, seen[one]) for (k, _), one in zip(batch, asked, strict=True)]

        return thresholds(ask, ranges, points=points, tolerance=tolerance), seen
