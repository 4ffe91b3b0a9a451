"""What a design search is to reach: an objective, limits on figures, and verdicts that must not come."""

import math
from collections.abc import Mapping, Sequence
from typing import NamedTuple

from burnsim.errors import InputError, nearest
from burnsim.solve import Failure, Outcome
from burnsim.solve.results.verdicts import CODES
from burnsim.studies.predict.prediction import FIGURES, UNITS, figure_of
from burnsim.units import parse

DIMENSIONS = {"s": "time", "kg": "mass", "m": "length", "Pa": "pressure", "K": "temperature difference", "W": "power"}
IMPOSSIBLE = 10.0
"""Violation of every objective by a design that cannot be built or solved."""

ABSENT = 2.0
"""Violation of a limit on a figure that a burn does not have, in units of it: any value is better."""


class Limit(NamedTuple):
    """An objective: a figure within limits, or a verdict seldom enough."""

    name: str  # of a figure, or code of a verdict
    least: float | None
    most: float | None
    verdict: bool

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


def read_limits(limits: Mapping[str, object], forbid: Mapping[str, float] | Sequence[str]) -> tuple[Limit, ...]:
    """Read what must hold.

    Parameters
    ----------
    limits
        By figure (of `burnsim.studies.predict.prediction.FIGURES`): (least, most) with None for none, or a table with
        `least` or `most`; SI numbers or texts with units.
    forbid
        Verdicts, each with the largest probability that is allowed; or just a list of them.

    Raises
    ------
    InputError
        For an unknown figure or verdict, or a limit that makes no sense.
    """
    found = []
    for name, raw in limits.items():
        check_figure(name, "limits")
        ends: dict[str, object]
        if isinstance(raw, Mapping):
            ends = dict(raw)
        elif isinstance(raw, tuple | list) and len(raw) == 2:
            ends = {"least": raw[0], "most": raw[1]}
        else:
            raise InputError(f"limits.{name}", raw, "is not a pair", "give (least, most), with None for none")
        for key in ends:
            if key not in ("least", "most"):
                raise InputError(
                    f"limits.{name}.{key}", ends[key], "is not known; allowed: least, most", "leave it out"
                )
        least, most = (_number(name, ends.get(key)) for key in ("least", "most"))
        if least is None and most is None:
            raise InputError(f"limits.{name}", raw, "limits nothing", "give least or most")
        if least is not None and most is not None and least >= most:
            raise InputError(f"limits.{name}", raw, "leaves nothing", "give least below most")
        found.append(Limit(name, least, most, False))
    shares = forbid if isinstance(forbid, Mapping) else dict.fromkeys(forbid, 0.0)
    for code, share in shares.items():
        if code not in CODES:
            guess = nearest(str(code), CODES)
            hint = f"did you mean {guess!r}?" if guess else "choose one of them"
            raise InputError("forbid", code, "is not a verdict; allowed: " + ", ".join(CODES), hint)
        if isinstance(share, bool) or not isinstance(share, int | float) or not 0.0 <= share < 1.0:
            raise InputError(f"forbid.{code}", share, "is not a probability from 0 to below 1", "give 0.01, say")
        found.append(Limit(code, None, float(share), True))
    return tuple(found)


def check_figure(name: object, where: str) -> None:
    """Refuse what is not a figure of a burn."""
    if name not in FIGURES:
        guess = nearest(str(name), FIGURES)
        hint = f"did you mean {guess!r}?" if guess else "choose one of them"
        raise InputError(where, name, "is not a figure of a burn; allowed: " + ", ".join(FIGURES), hint)


def violations(found: Sequence[Outcome | Failure], limits: Sequence[Limit], sure: float) -> list[float]:
    """By how much the burns of one design break each limit; 0 or less if they keep it.

    Parameters
    ----------
    found : burns of the design: one, or one for each draw of the unknown factors
    limits : what must hold
    sure : share of the burns that must keep a limit on a figure
    """
    solved = [one for one in found if not isinstance(one, Failure)]
    if len(solved) < 0.9 * len(found) or not solved:
        return [IMPOSSIBLE] * len(limits)
    marks = []
    for limit in limits:
        if limit.verdict:
            share = sum(any(v.code == limit.name for v in one.verdicts) for one in solved) / len(solved)
            marks.append(share - (limit.most or 0.0))
        else:
            broken = sorted(limit.excess(figure_of(one, limit.name)) for one in solved)
            marks.append(broken[min(math.ceil(sure * len(broken)), len(broken)) - 1])
    return marks


def _number(name: str, raw: object) -> float | None:
    if raw is None:
        return None
    if isinstance(raw, str):
        dimension = "temperature" if name == "water_max" else DIMENSIONS.get(UNITS[name], "fraction")
        return parse(raw, dimension, f"limits.{name}")
    if isinstance(raw, bool) or not isinstance(raw, int | float) or not math.isfinite(raw):
        raise InputError(f"limits.{name}", raw, "is not a number", "give an SI number or a text with its unit")
    return float(raw)
