"""Resolved cases and our laws in one table, with what is within its bound and what is not."""

from dataclasses import dataclass

from resolved.cases import Case
from resolved.ours import Ours, ours

SHARE_POINTS = 5.0  # bound of the pot's share [percentage points]
WALL_PART = 0.30  # bound of the heat to the burner's wall, as a part of the resolved
AIR_PART = 0.30  # bound of the excess air, beyond the range in which it was resolved
LEAST_AIR = 0.1  # the same where there is hardly any, in units of the air needed
QUANTITIES = ("pot's share", "burner's wall", "excess air")


@dataclass(frozen=True)
class Verdict:
    """Our answer to a case, and which of the quantities are within their bounds; None where there is none to judge."""

    case: Case
    ours: Ours
    within: dict[str, bool | None]


def judge(case: Case) -> Verdict:
    """Hold our laws against a case."""
    found = ours(case)
    within: dict[str, bool | None] = dict.fromkeys(QUANTITIES)
    if case.judged:
        if case.share is not None and found.share is not None:
            within["pot's share"] = abs(found.share - case.share) <= SHARE_POINTS
        if case.wall_heat is not None:
            within["burner's wall"] = abs(found.wall_heat - case.wall_heat) <= WALL_PART * case.wall_heat
        if case.excess is not None and found.excess is not None:
            low, high = case.excess
            low -= max(AIR_PART * low, LEAST_AIR)
            high += max(AIR_PART * high, LEAST_AIR)
            within["excess air"] = low <= found.excess <= high
    return Verdict(case, found, within)


def pair(resolved: float | None, own: float | None, width: int = 4) -> str:
    """Two numbers side by side, resolved first."""
    left = "-" if resolved is None else f"{resolved:.0f}"
    right = "-" if own is None else f"{own:.0f}"
    return f"{left:>{width}} {right:>{width}}"


def line(found: Verdict) -> str:
    """One case's row."""
    case, own = found.case, found.ours
    excess = "   -   " if case.excess is None else f"{case.excess[0]:.1f}-{case.excess[1]:.1f}"
    mine = "-" if own.excess is None else f"{own.excess:.1f}"
    marks = "".join({None: ".", True: "+", False: "x"}[found.within[name]] for name in QUANTITIES)
    return (
        f"{case.name:<36}{case.status:<12}{pair(case.bottom, own.bottom)} {pair(case.side, own.side)}  "
        f"{pair(case.share, own.share, 3)}  {pair(case.wall_heat, own.wall_heat)}  "
        f"{pair(case.rim_top, own.top, 3)}  {pair(case.surface, own.surface, 3)}  {excess:>7} {mine:>4}  {marks}"
    )


HEAD = (
    f"{'':<48}{'bottom W':>9} {'side W':>9}  {'share %':>7}  {'wall W':>9}  {'top W':>7}  {'surf. W':>7}"
    f"  {'excess air':>12}\n"
    f"{'case':<36}{'status':<12}{'res. ours':>9} {'res. ours':>9}  {'res our':>7}  {'res. ours':>9}  {'res our':>7}"
    f"  {'res our':>7}"
    f"  {'res.':>7} {'ours':>4}  share, wall, air"
)


def table(found: list[Verdict]) -> str:
    """Every case's row under its head."""
    return "\n".join([HEAD, *map(line, found)])


def score(found: list[Verdict]) -> str:
    """How many of the settled cases are within bounds, by quantity."""
    parts = []
    for name in QUANTITIES:
        verdicts = [one.within[name] for one in found if one.within[name] is not None]
        good = sum(verdict is True for verdict in verdicts)
        parts.append(f"{name} {good} of {len(verdicts)}")
    return f"within {SHARE_POINTS:.0f} points, {100.0 * WALL_PART:.0f} %, {100.0 * AIR_PART:.0f} %: " + ", ".join(parts)


def misses(found: list[Verdict]) -> str:
    """The settled cases that are not within bounds, by quantity."""
    lines = []
    for name in QUANTITIES:
        names = [one.case.name for one in found if one.within[name] is False]
        if names:
            lines.append(f"missed, {name}: " + "; ".join(names))
    return "\n".join(lines)
