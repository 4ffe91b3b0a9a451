"""Burn a batch: all together, or one by one should that break down, so that only the guilty one is lost."""

from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import partial

from burnsim.errors import BurnsimError, InputError
from burnsim.model.description.setup import Setup
from burnsim.solve.engines import WORTH_COMPILING, prepare
from burnsim.solve.many import Failure, burn_many
from burnsim.solve.results.outcome import Outcome
from burnsim.studies.counting import count, watching
from burnsim.studies.threshold import rounds

INTERNAL = "internal error: "
"""How the reason of a burn begins that broke down by a fault of ours, or of the machine, and not by its own numbers."""
Run = Callable[[list[Setup]], list[Outcome | Failure]]


@dataclass(frozen=True)
class Refusal(Failure):
    """A burn that was not tried: its setup makes no sense."""


def burn_batch(
    setups: Sequence[Setup], run: Run = burn_many, *, keep_refusals: bool = False
) -> list[Outcome | Failure]:
    """Burn a batch; a burn that breaks down is a `Failure` in its place.

    Parameters
    ----------
    setups : what burns
    run : burns some of them
    keep_refusals : whether a setup that is refused is a `Refusal` in its place; else its error goes on to the caller

    Returns
    -------
    list of Outcome or Failure, in the order of the setups

    Raises
    ------
    InputError
        For a setup that is refused, but with `keep_refusals`.
    """
    listed = list(setups)
    if not listed:
        return []
    if watching() and 1 < len(listed) < WORTH_COMPILING:  # so many run alike together or one by one
        return [found for one in listed for found in burn_batch([one], run, keep_refusals=keep_refusals)]
    found = _together(listed, run, keep_refusals)
    count(len(found))
    return found


def _together(listed: list[Setup], run: Run, keep_refusals: bool) -> list[Outcome | Failure]:
    try:
        return run(listed)
    except InputError:
        if not keep_refusals:
            raise
    except Exception:
        pass  # it comes again below, in the one that is to blame
    return [_alone(setup, run, keep_refusals) for setup in listed]


def _alone(setup: Setup, run: Run, keep_refusals: bool) -> Outcome | Failure:
    try:
        return run([setup])[0]
    except InputError as error:
        if not keep_refusals:
            raise
        return Refusal(setup, str(error))
    except BurnsimError as error:
        return Failure(setup, str(error))
    except Exception as error:
        return Failure(setup, f"{INTERNAL}{type(error).__name__}: {error}")


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
    burns: Counter[int] = Counter()
    for setup, (low, high) in zip(setups, ranges, strict=True):
        burns[len(setup.charge.fuel.components)] += points + rounds(low, high, points, tolerance)
    return burns


def burn_planned(setups: Sequence[Setup], plan: Mapping[int, int]) -> list[Outcome | Failure]:
    """Burn one batch of a search, as machine code where the whole search pays for compiling.

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
        group = [setups[k] for k in places]
        burns = burn_batch(group, partial(burn_many, engine=prepare(group, plan.get(size, 0))))
        found.update(zip(places, burns, strict=True))
    return [found[k] for k in range(len(setups))]
