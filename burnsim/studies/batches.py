"""Batches of burns in searches: run as machine code where a whole search is long enough to pay for compiling."""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from math import ceil, log2

from burnsim.model.description import Setup
from burnsim.solve.many import WORTH_COMPILING, Engine, Failure, outcomes
from burnsim.solve.outcome import Outcome


def planned(
    setups: Iterable[Setup], ranges: Sequence[tuple[float, float]], points: int, tolerance: float
) -> Mapping[int, int]:
    """How many burns a search will take, by the number of components in the fuel.

    Parameters
    ----------
    setups : one a question
    ranges : lowest and highest value of each question
    points, tolerance : of the search
    """
    count: Counter[int] = Counter()
    for setup, (low, high) in zip(setups, ranges, strict=True):
        step = (high - low) / max(points - 1, 1)
        rounds = ceil(log2(step / tolerance)) if step > tolerance > 0.0 else 0
        count[len(setup.charge.fuel.components)] += points + rounds
    return count


def burn_batch(setups: Sequence[Setup], plan: Mapping[int, int]) -> list[Outcome | Failure]:
    """Burn one batch of a search.

    Parameters
    ----------
    setups : what burns
    plan : how many burns the whole search takes, by the number of components in the fuel

    Returns
    -------
    list of Outcome or Failure, in the order of the setups
    """
    groups: dict[int, list[int]] = {}
    for k, setup in enumerate(setups):
        groups.setdefault(len(setup.charge.fuel.components), []).append(k)
    found: dict[int, Outcome | Failure] = {}
    for size, places in groups.items():
        engine: Engine = "compiled" if plan.get(size, 0) >= WORTH_COMPILING else "auto"
        burns = outcomes([setups[k] for k in places], engine=engine)
        found.update(zip(places, burns, strict=True))
    return [found[k] for k in range(len(setups))]
