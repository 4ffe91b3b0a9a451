"""Calibrations in words and as plain values."""

import math
from collections.abc import Iterator

from burnsim.report.values import keyed, named
from burnsim.studies.calibrate.data import Residual
from burnsim.studies.calibrate.explain import Explanation
from burnsim.studies.calibrate.fit import DOUBTFUL, Calibration
from burnsim.studies.calibrate.next_burn import REPEAT, NextBurns
from burnsim.studies.calibrate.sizes import STRENGTH
from burnsim.units import format_time, measure, told
from burnsim.units.writing import with_unit

NEXT = {"middle_s": "middle", **named("answer band single pairs passed_over")}
HARDLY = 0.8  # spread after over spread before from which a factor counts as hardly learnt
FEW = 0.1  # share of different draws below which the words say so


CALIBRATION = {
    **named("correlation information condition alike misfit measurements chance"), "inside_90": "inside",
    **named("bad inflation explanations"), "different_draws": "different", "residuals": "residuals",
    "model_burns": "burns", "remarks": "remarks",
}  # fmt: skip


def calibration_dict(found: Calibration) -> dict[str, object]:
    """A calibration; of a bad fit nothing counts as learnt, and medians and bands are None."""
    bands, before = found.posterior.band(), found.before.band()
    factors = {}
    for k, name in enumerate(found.posterior.names):
        known = (math.exp(found.posterior.mean[k]), *bands[name], found.learnt[k])
        median, low, high, left = (None,) * 4 if found.bad else known
        old = {"low_before": before[name][0], "high_before": before[name][1]}
        factors[name] = {"median": median, "low": low, "high": high, **old, "spread_after_over_before": left}
    burns = [dict(zip(("clock_s", "thermometer_K", "pace"), one, strict=True)) for one in found.nuisances.tolist()]
    return {"factors": factors, "burns": burns} | keyed(found, CALIBRATION)


def calibration_lines(found: Calibration, units: str = "si") -> Iterator[str]:
    """A calibration in words."""
    logs = len(found.nuisances)
    yield (
        f"Learnt from {'one log' if logs == 1 else f'{logs} logs'}: {found.measurements} measurements, "
        f"{found.burns} burns of the model"
    )
    yield ""
    if found.bad:
        yield (
            f"The fit is BAD: misfit {found.misfit:.0f} for {found.measurements} measurements; so much comes "
            f"by chance in {found.chance:.1g} of cases (limit {DOUBTFUL:g})."
        )
        yield (
            "Nothing is learnt from it, and no factor is told: look at the residuals, the units and the conditions of "
            "the logs first (burnsim bench LOG --design FILE tells what in one cannot be), at how well the thermometer "
            "was read (uncertainty.reading of a log, which says so of each reading), and at the sizes of the build."
        )
        if not found.explanations:
            yield "Neither gap, wall, jets nor the strength of the spirit, one at a time, would explain it."
    else:
        yield (
            f"The fit is in keeping with its errors: misfit {found.misfit:.0f} for {found.measurements} measurements "
            f"(chance {found.chance:.2g}); {100 * found.inside:.0f} % of them lie in its 90 % band."
        )
    for one in found.explanations:
        yield f"- {explanation_text(one, found.bad)}"
    if not found.bad:
        yield from _factors(found)
    for remark in found.remarks:
        yield f"- {told(remark, units)}."
    yield ""
    yield "Milestones, model less bench"
    for row in found.residuals:
        if row.what != "water" and row.size > 0.0:
            before, after = off_text(row, 0), off_text(row, 1)
            yield f"  {row.log:<20} {row.what:<8} seen at {row.time:>6.0f} s   before {before:>9}   after {after:>8}"
    if readings := [row for row in found.residuals if row.what == "water"]:
        first, last = (
            math.sqrt(sum((getattr(row, side) * row.size) ** 2 for row in readings) / len(readings))
            for side in ("before", "after")
        )
        apart = measure("temperature difference", units)
        yield (
            f"  readings of the water, root mean square: before {apart.of(first):.1f} {apart.unit}, "
            f"after {apart.of(last):.1f} {apart.unit}"
        )


def off_text(row: Residual, side: int) -> str:
    """By how much the model is late before (0) or after (1) the fit; "never" for a milestone that it does not reach."""
    return "never" if row.missed[side] else with_unit(f"{(row.before, row.after)[side] * row.size:+.0f}", "s")


def _factors(found: Calibration) -> Iterator[str]:
    yield ""
    yield f"{'Factor':<22} {'median':>7} {'5 %':>7} {'95 %':>7}   {'before':>12}  spread left"
    bands, before = found.posterior.band(), found.before.band()
    for k, name in enumerate(found.posterior.names):
        low, high = bands[name]
        old = f"{before[name][0]:.2f}-{before[name][1]:.2f}"
        share = float(found.learnt[k])
        note = "  hardly learnt" if share > HARDLY else ""
        median = math.exp(found.posterior.mean[k])
        yield f"{name:<22} {median:>7.3f} {low:>7.3f} {high:>7.3f}   {old:>12}  {100 * share:>4.0f} %{note}"
    yield ""
    felt = int((found.information > 1.0).sum())
    yield (
        f"Of {len(found.posterior.names)} independent directions the logs determine {felt} better than the bands did; "
        f"condition number {found.condition:.3g}."
    )
    hardly = [name for k, name in enumerate(found.posterior.names) if found.learnt[k] > HARDLY]
    for pair in found.alike:
        if {pair.first, pair.second} - set(hardly):
            alike = f"{pair.first} and {pair.second} act alike on these data ({abs(pair.cosine):.2f})"
            fit = (
                "more of one and less of the other fit" if pair.cosine > 0.0 else "more of both, or less of both, fits"
            )
            yield f"- {alike}: {fit} nearly as well, and only what they do in common is learnt."
    if hardly:
        yield "- the logs say next to nothing of: " + ", ".join(hardly) + "; their bands are as before."
    if 0.0 < found.different < FEW:
        yield (
            f"- only {100 * found.different:.0f}\u00a0% of the draws that predictions use differ: what is learnt is "
            "far from a normal distribution, and its bands are rough."
        )


def explanation_text(one: Explanation, bad: bool) -> str:
    """A size that would explain a misfit, as a sentence."""
    what = "the spirit" if one.path == STRENGTH else one.path
    more, less = ("stronger", "weaker") if one.path == STRENGTH else ("larger", "smaller")
    by = f"{100 * abs(one.ratio - 1.0):.0f}\u00a0% {more if one.ratio > 1.0 else less} than drawn"
    rest = "the fit would be good" if one.chance > DOUBTFUL else "the rest would still be bad"
    hidden = "" if bad else ", and the factors would not have to hide it"
    width = min(max(10 * math.ceil(10.0 * abs(one.ratio - 1.0)), 10), 90)
    return (
        f"{what} {by} would take {one.removed:.0f} of the misfit away; {rest}{hidden}. "
        f"Measure it, or learn it with --tolerance {one.path}={width}%."
    )


def next_text(found: NextBurns, units: str = "si") -> str:
    """Which burn next, in words."""
    answer = found.answer.replace("burnout", "burn-out")
    low, high = (format_time(found.middle * share) for share in found.band)
    lines = [
        f"Which burn next? Asked: the {answer} of {found.setup.name or 'burner'}, mean {format_time(found.middle)}, "
        f"90\u00a0% from {low} to {high}"
    ]
    for title, proposals in (("One burn", found.single), ("Two burns", found.pairs)):
        lines.append(f"{title:<60} band left")
        lines += [f"  {' + '.join(one.burns):<58} {100 * one.shrinkage:>5.0f}\u00a0%" for one in proposals]
    again = [one.shrinkage for one in found.single if one.burns == (REPEAT,)]
    if again and again[0] < 1.05 * found.single[0].shrinkage:
        lines.append("- The same burn again tells as much as any, within a twentieth.")
    lines += [f"- passed over: {name}: {why}" for name, why in found.passed_over.items()]
    lines.append(
        "What is expected, to first order: not what will be seen. Of each burn the milestones count, and the water "
        "every half a minute."
    )
    return "\n".join(lines)
