"""Factors that a resolved case asks for: those at which our laws give what was resolved."""

import math
from collections.abc import Callable
from functools import cache

from scipy.optimize import brentq
from scipy.stats import pearsonr

from burnsim.model.description.factors import Factors
from resolved.cases import Case
from resolved.ours import ours

ASKED = ("flame_to_rim", "entrainment", "flame_to_pot")
LEAST, MOST = 0.3, 3.0  # between which a factor is sought


def meeting(law: Callable[[float], float], resolved: float) -> float | None:
    """The factor at which a law meets what was resolved; None where none does."""

    def off(log: float) -> float:
        return law(math.exp(log)) - resolved

    low, high = math.log(LEAST), math.log(MOST)
    if off(low) * off(high) > 0.0:
        return None
    return math.exp(brentq(off, low, high, xtol=1e-3))


@cache
def asked(case: Case) -> dict[str, float]:
    """Each factor that the case tells something of: by the heat to the wall, then the air, then the pot's share.

    The pot's is asked with the wall's heat and the air as resolved, so that its own law alone is judged.
    """
    found: dict[str, float] = {}

    def law(name: str, field: str) -> Callable[[float], float]:
        return lambda value: getattr(ours(case, Factors(**{**found, name: value})), field)

    side_jets = case.wick == 0.0 and case.pool == 0.0
    targets = {
        "flame_to_rim": (case.wall_heat if side_jets else None, "wall_heat"),
        "entrainment": (sum(case.excess) / 2.0 if case.excess else None, "excess"),
        "flame_to_pot": (case.share, "share"),
    }
    for name in ASKED:
        resolved, field = targets[name]
        factor = None if resolved is None else meeting(law(name, field), resolved)
        if factor is not None:
            found[name] = factor
    return found


def summary(cases: tuple[Case, ...]) -> str:
    """How the factors that cases ask for scatter about 1, and which of them hang together."""
    found = [asked(case) for case in cases]
    lines = []
    for name in ASKED:
        logs = [math.log(one[name]) for one in found if name in one]
        if logs:
            square = math.sqrt(sum(log * log for log in logs) / len(logs))
            lines.append(
                f"{name}: {math.exp(min(logs)):.2f} to {math.exp(max(logs)):.2f}, {len(logs)} cases, "
                f"root mean square of the logarithms {square:.3f}"
            )
    for k, name in enumerate(ASKED):
        for other in ASKED[k + 1 :]:
            both = [(math.log(one[name]), math.log(one[other])) for one in found if name in one and other in one]
            if len(both) > 3:
                shared = pearsonr(*zip(*both, strict=True))
                low, high = shared.confidence_interval(0.95)
                lines.append(
                    f"{name} and {other}: correlation {shared.statistic:+.2f}, {len(both)} cases, 95 % interval "
                    f"{low:+.2f} to {high:+.2f}, by chance with a probability of {shared.pvalue:.2g}"
                )
    return "\n".join(lines)
