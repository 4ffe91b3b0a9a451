"""One check of a number against something outside the project; tests run it and the benchmark prints it."""

import math
from collections.abc import Callable
from functools import cache
from typing import Literal, NamedTuple

Status = Literal["published", "by library", "from memory", "common practice"]
How = Literal["relative", "absolute", "factor", "range"]

MEMORY: Status = "from memory"
LIBRARY: Status = "by library"
PUBLISHED: Status = "published"
PRACTICE: Status = "common practice"


class Record(NamedTuple):
    """A published value, ours, and how far apart they may be.

    `case` tells the records of one quantity apart. With "range", `published` is its low end and `accept` its high one.
    `fails` says why a right check does not pass yet; it fails the tests as soon as it passes.
    """

    room: str
    quantity: str
    case: str
    unit: str
    published: Callable[[], float] | float
    ours: Callable[[], float]
    accept: float
    how: How
    source: str
    status: Status
    fails: str = ""


class Found(NamedTuple):
    """A record worked out."""

    record: Record
    published: float
    ours: float

    @property
    def difference(self) -> float:
        """In the measure of `how`; for a range, how far outside it in parts of its nearer end."""
        how = self.record.how
        if how == "relative":
            return self.ours / self.published - 1.0
        if how == "absolute":
            return self.ours - self.published
        if how == "factor":
            return self.ours / self.published
        low, high = self.published, self.record.accept
        return min(self.ours / low - 1.0, 0.0) + max(self.ours / high - 1.0, 0.0)

    @property
    def strain(self) -> float:
        """Difference over what is accepted: passes up to 1."""
        how, accept = self.record.how, self.record.accept
        if how == "factor":
            return abs(math.log(self.ours / self.published)) / math.log(accept)
        if how == "range":
            return 0.0 if self.difference == 0.0 else math.inf
        return abs(self.difference) / accept

    @property
    def passes(self) -> bool:
        """Whether it is within what is accepted."""
        return self.strain <= 1.0

    def shown_difference(self) -> str:
        """For a table; what is far below what is accepted is shown as nothing, for it may be rounding."""
        how, unit = self.record.how, self.record.unit
        found = self.difference if self.strain > 1e-4 else 0.0
        if how == "relative":
            return f"{100.0 * found:+.2g} %"
        if how == "absolute":
            return f"{found:+.2g}{_spaced(unit)}"
        if how == "factor":
            return f"x {self.difference:.3g}"
        return "inside" if self.difference == 0.0 else f"outside by {100.0 * abs(self.difference):.2g} %"

    def shown_accept(self) -> str:
        """For a table."""
        how, accept = self.record.how, self.record.accept
        if how == "relative":
            return f"{100.0 * accept:.3g} %"
        if how == "absolute":
            return f"{accept:.3g}{_spaced(self.record.unit)}"
        return f"x {accept:g}" if how == "factor" else "inside"

    def shown_published(self) -> str:
        """For a table."""
        if self.record.how == "range":
            return f"{self.published:.4g} to {self.record.accept:.4g}{_spaced(self.record.unit)}"
        return f"{self.published:.4g}{_spaced(self.record.unit)}"

    def shown_ours(self) -> str:
        """For a table."""
        return f"{self.ours:.4g}{_spaced(self.record.unit)}"


def _spaced(unit: str) -> str:
    return "" if unit == "-" else f" {unit}"


@cache
def work_out(record: Record) -> Found:
    """Evaluate both sides of a record."""
    published = record.published() if callable(record.published) else record.published
    return Found(record, published, record.ours())
