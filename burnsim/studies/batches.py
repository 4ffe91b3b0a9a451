"""Burn a batch: all together, or one by one should that break down, so that only the guilty one is lost."""

from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import partial

from burnsim.errors import BurnsimError, InputError
from burnsim.model import Setup
from burnsim.solve import Burn, Failure, Outcome, burn_many
from burnsim.solve.engines import WORTH_COMPILING, compiled, prepare
from burnsim.solve.many import marched_by
from burnsim.solve.run import DEFAULT_RTOL, ready, told
from burnsim.studies.counting import count, expect, watching
from burnsim.studies.threshold import Threshold, rounds, thresholds

INTERNAL = "internal error: "
"""How the reason of a burn begins that broke down by a fault of ours, or of the machine, and not by its own numbers."""
Run = Callable[[list[Setup]], list[Outcome | Failure]]


@dataclass(frozen=True)
class Refusal(Failure):
    """A burn that was not tried: its setup makes no sense."""


def burn_batch(
    setups: Sequence[Setup], run: Run = burn_many, *, keep_refusals: bool = False
) -> list[Outcome | Failure]:
    """Burn a batch by `run`; a burn that breaks down is a `Failure` in its place.

    With `keep_refusals` a setup that is refused is a `Refusal` in its place; else its `InputError` goes on to the
    caller.
    """
    listed = list(setups)
    if not listed:
        return []
    apart = watching() and 1 < len(listed) < WORTH_COMPILING  # so many run alike together or one by one
    if not apart:
        try:
            found = run(listed)
        except Exception as error:
            if isinstance(error, InputError) and not keep_refusals:
                raise
            apart = len(listed) > 1  # it comes again in the one that is to blame
            found = [_failed(listed[0], error)]
    if apart:
        return [found for one in listed for found in burn_batch([one], run, keep_refusals=keep_refusals)]
    count(len(found))
    return found


def _failed(setup: Setup, error: Exception) -> Failure:
    if isinstance(error, InputError):
        return Refusal(setup, str(error))
    told = str(error) if isinstance(error, BurnsimError) else f"{INTERNAL}{type(error).__name__}: {error}"
    return Failure(setup, told)


def burn_whole(setup: Setup) -> Burn:
    """What `burn` gives, by machine code where it is at hand: the same numbers, sooner."""
    start = ready(setup)
    fast = compiled("auto", start.parameters.components)
    course = marched_by(fast, start, DEFAULT_RTOL, keeps=True)
    return told(setup, start, course, DEFAULT_RTOL)


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
    plan = planned([made(about[k], high) for k, (_, high) in enumerate(ranges)], ranges, points, tolerance)
    expect(sum(plan.values()))
    seen: dict[tuple[int, float], Outcome | Failure] = {}

    def ask(batch: Sequence[tuple[int, float]]) -> list[bool]:
        asked = [(about[k], value) for k, value in batch]
        new = [one for one in dict.fromkeys(asked) if one not in seen]
        seen.update(zip(new, burn_planned([made(*one) for one in new], plan), strict=True))
        return [does(k, seen[one]) for (k, _), one in zip(batch, asked, strict=True)]

    return thresholds(ask, ranges, points=points, tolerance=tolerance), seen


def planned(
    setups: Iterable[Setup], ranges: Sequence[tuple[float, float]], points: int, tolerance: float
) -> Mapping[int, int]:
    """How many burns `thresholds` will take at most, one setup a question, by the number of components in the fuel."""
    burns: Counter[int] = Counter()
    for setup, (low, high) in zip(setups, ranges, strict=True):
        burns[len(setup.charge.fuel.components)] += points + rounds(low, high, points, tolerance)
    return burns


def burn_planned(setups: Sequence[Setup], plan: Mapping[int, int]) -> list[Outcome | Failure]:
    """Burn one batch of a search, as machine code where the whole search, as `planned`, pays for compiling."""
    groups: dict[int, list[int]] = {}
    for k, setup in enumerate(setups):
        groups.setdefault(len(setup.charge.fuel.components), []).append(k)
    found: dict[int, Outcome | Failure] = {}
    for size, places in groups.items():
        group = [setups[k] for k in places]
        burns = burn_batch(group, partial(burn_many, engine=prepare(group, plan.get(size, 0))))
        found.update(zip(places, burns, strict=True))
    return [found[k] for k in range(len(setups))]
