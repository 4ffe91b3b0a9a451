"""What a design search is to reach: an objective, and limits that enough of a design's burns must keep."""

import math
from collections.abc import Mapping, Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from burnsim.errors import InputError, is_number, unknown
from burnsim.solve import Failure, Outcome
from burnsim.solve.results.verdicts import CODES
from burnsim.studies.calibrate.repeats import MILESTONES, Repeat
from burnsim.studies.predict.prediction import FIGURES, codes_of, figure_of
from burnsim.studies.sweep.ranking import UNFIT
from burnsim.units import parse

SHARE = 0.9  # share of the burns that must keep a limit unless another is asked for: nine of ten

WORKS = 0.95
"""Share of the burns in which a design must do its work at all, unless another is asked for: nineteen of twenty."""

IDLE = frozenset({*UNFIT, "no boil"})
"""Verdicts with which a burn does not do its work, or not safely, whatever its limits."""

IMPOSSIBLE = 10.0  # violation of every limit by a design that cannot be built or solved
ABSENT = 2.0  # violation of a limit on a figure that a burn does not have, in units of it: any value is better


class Limit(NamedTuple):
    """A figure within limits, or verdicts that stay away, in a share of the burns."""

    name: str  # of a figure, or of what stays away: a code of a verdict, or "works"
    least: float | None
    most: float | None
    codes: frozenset[str]  # verdicts that must stay away; empty: a figure is limited
    share: float  # of the burns that must keep it

    def excess(self, value: float) -> float:
        """By how much a value of the figure breaks the limit, as a share of the limit; 0 or less if it does not."""
        if math.isnan(value):
            return ABSENT
        parts = []
        if self.most is not None:
            parts.append((value - self.most) / max(abs(self.most), 1e-9))
        if self.least is not None:
            parts.append((self.least - value) / max(abs(self.least), 1e-9))
        return min(max(parts), ABSENT)

    def needed(self, burns: int) -> int:
        """How many of so many burns must keep it."""
        return math.ceil(self.share * burns - 1e-9)


class Judged(NamedTuple):
    """How a design's burns keep the limits, one value a limit."""

    violations: tuple[float, ...]  # 0 or less where enough burns keep it
    kept: tuple[int, ...]  # how many burns do
    together: int  # how many burns keep all of them at once


def read_limits(
    limits: Mapping[str, object],
    forbid: Mapping[str, float] | Sequence[str],
    share: float = SHARE,
    works: float = WORKS,
) -> tuple[Limit, ...]:
    """Read what must hold, as `search` takes it; last that a design does its work, unless `works` is 0."""
    share = _share("share", share)
    found = []
    for name, raw in limits.items():
        check_figure(name, "limits")
        ends: Mapping[str, object]
        if isinstance(raw, Mapping):
            ends = raw
        elif isinstance(raw, tuple | list) and len(raw) == 2:
            ends = {"least": raw[0], "most": raw[1]}
        else:
            remedy = 'give { most = "1 min" }, least = ..., or both; in Python also (least, most)'
            raise InputError(f"limits.{name}", raw, "is no limit", remedy)
        for key in ends:
            if key not in ("least", "most", "share"):
                problem = "is not known; allowed: least, most, share"
                raise InputError(f"limits.{name}.{key}", ends[key], problem, "leave it out")
        least, most = (_number(name, ends.get(key)) for key in ("least", "most"))
        if least is None and most is None:
            raise InputError(f"limits.{name}", raw, "limits nothing", "give least or most")
        if least is not None and most is not None and least >= most:
            raise InputError(f"limits.{name}", raw, "leaves nothing", "give least below most")
        found.append(Limit(name, least, most, frozenset(), _share(f"limits.{name}.share", ends.get("share", share))))
    chances = forbid if isinstance(forbid, Mapping) else dict.fromkeys(forbid, 1.0 - share)
    for code, chance in chances.items():
        if code not in CODES:
            raise unknown("forbid", code, CODES, "is not a verdict")
        if not is_number(chance) or not 0.0 <= chance < 1.0:
            raise InputError(f"forbid.{code}", chance, "is not a probability from 0 to below 1", "give 0.01, say")
        found.append(Limit(code, None, None, frozenset({code}), 1.0 - float(chance)))
    if not is_number(works) or works != 0.0:
        found.append(Limit("works", None, None, IDLE, _share("works", works)))
    return tuple(found)


def check_figure(name: object, where: str) -> None:
    """Refuse what is not a figure of a burn."""
    if name not in FIGURES:
        raise unknown(where, name, FIGURES, "is not a figure of a burn")


def judged(burns: Mapping[int, Outcome | Failure], limits: Sequence[Limit], repeat: Repeat | None = None) -> Judged:
    """How burns of one design, by the number of their draw, keep each limit; one that was not solved keeps none.

    `repeat` sets each draw apart from its mean; without, the burns are taken as they are. Draws that are not burnt yet
    count as if they kept every limit: a violation is the least that it can still be.
    """
    found, n = list(burns.values()), len(burns)
    rows = n if repeat is None else len(repeat.slow)
    solved = np.array([not isinstance(one, Failure) for one in found])
    marks, kept, together = [], [], solved
    for limit in limits:
        if limit.codes:
            good = solved & kept_away(limit, [codes_of(one) for one in found])
            marks.append((limit.needed(rows) - int(good.sum()) - (rows - n)) / rows)
        else:
            values = np.array([figure_of(one, limit.name) for one in found])
            if repeat is not None and limit.name in MILESTONES:
                every = np.full(rows, np.nan)
                every[list(burns)] = values
                values = repeat.timed(limit.name, every)[list(burns)]
            broken = [limit.excess(value) for value in values.tolist()]
            good = np.array(broken) <= 0.0
            marks.append(sorted(broken + [min(broken)] * (rows - n))[limit.needed(rows) - 1])
        kept.append(int(good.sum()))
        together = together & good
    if n - solved.sum() > 0.1 * n:
        marks = [IMPOSSIBLE] * len(limits)
    return Judged(tuple(marks), tuple(kept), int(together.sum()))


def kept_away(limit: Limit, codes: Sequence[frozenset[str]]) -> NDArray[np.bool_]:
    """Whether the verdicts of a limit stay away, by burn."""
    return np.array([limit.codes.isdisjoint(some) for some in codes])


def _share(name: str, raw: object) -> float:
    if not is_number(raw) or not 0.0 < raw <= 1.0:
        raise InputError(name, raw, "is not a share of the burns, above 0 and up to 1", "give 0.9 for nine of ten")
    return float(raw)


def _number(name: str, raw: object) -> float | None:
    if raw is None:
        return None
    if isinstance(raw, str):
        return parse(raw, FIGURES[name], f"limits.{name}")
    if not is_number(raw):
        raise InputError(f"limits.{name}", raw, "is not a number", "give an SI number or a text with its unit")
    return float(raw)
