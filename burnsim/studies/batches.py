"""Burn a batch: all together, or one by one should that break down, so that only the guilty one is lost."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from burnsim.errors import BurnsimError, InputError
from burnsim.model import Setup
from burnsim.solve import Burn, Failure, Outcome, burn_many
from burnsim.solve.engines import WORTH_COMPILING, compiled
from burnsim.solve.many import marched_by
from burnsim.solve.run import DEFAULT_RTOL, ready, told
from burnsim.studies.counting import count, watching

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
