"""When something happened in a burn, or why it did not."""

from typing import NamedTuple


class Milestone(NamedTuple):
    """When something happened, or why it did not."""

    time: float | None  # [s] from the match; None if it did not happen
    reason: str  # in words, empty when it happened
    fuel: float | None  # burnt by then, the wick's included [kg]

    @property
    def happened(self) -> bool:
        """Whether it did."""
        return self.time is not None


class Milestones(NamedTuple):
    """The milestones of a burn."""

    primer_out: Milestone
    vapour: Milestone  # enough of it leaves the jets to hold flames
    bloom: Milestone  # the jets hold flames of their own
    boil: Milestone
    burnout: Milestone
    spill: Milestone
    quench: Milestone
