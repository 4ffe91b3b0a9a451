"""Fill limits in words and as plain values."""

import math
import re
from collections.abc import Iterator
from dataclasses import replace

from burnsim.measures import BOTH, INCH, in_both, in_system, measure
from burnsim.solve.results.spill import in_words
from burnsim.studies.fill.cold import cold_capillarity
from burnsim.studies.fill.limit import DARK, burning_head
from burnsim.studies.fill.record import FillLimits, Limit
from burnsim.studies.fill.relief import NOTCHES, Relief
from burnsim.studies.fill.spill_odds import SpillOdds

PART = re.compile(r"(?<=[a-z] )([+-]?)(\d+\.\d)(?=,| =)")  # one part of a level [mm], as `in_words` adds them up
WIDE = len("1000.0 ml (33.81 fl oz)")
NAMES = {
    "cold_level": "cold, level",
    "cold_tilted": "cold, tilted",
    "burning_vented": "whole burn, as designed",
    "burning_sealed": "whole burn, well sealed",
    "burning_sealed_cold": "the same, pot as it is",
    "burning_sealed_warm": "the same, warm pot",
}
"""Limits as people read them. With the well sealed there is one, or the lower of two pots and then either of them."""


def limits(found: FillLimits) -> dict[str, Limit]:
    """The limits by name, those that apply; where two pots were looked at, notes stand with each.

    Parameters
    ----------
    found : fill limits; on a level stand none of them is tilted
    """
    warm = found.burning_sealed_warm
    sealed = found.sealed if warm is None else replace(found.sealed, notes=())
    named = {
        "cold_level": found.cold_level,
        "cold_tilted": found.cold_tilted if found.tilt > 0.0 else None,
        "burning_vented": found.burning_vented,
        "burning_sealed": sealed,
        "burning_sealed_cold": found.burning_sealed if warm is not None else None,
        "burning_sealed_warm": warm,
    }
    return {name: limit for name, limit in named.items() if limit is not None}


def fill_dict(found: FillLimits) -> dict[str, object]:
    """Plain values, volumes in millilitres; None where there is no limit.

    Parameters
    ----------
    found : fill limits
    """
    named = limits(found)
    volumes: dict[str, object] = {f"{name}_ml": _ml(named[name].volume) if name in named else None for name in NAMES}
    return {
        "name": found.setup.name,
        **volumes,
        "cold_level_dry_ml": _ml(found.cold_level_dry.volume),
        "cold_tilted_dry_ml": _ml(found.cold_tilted_dry.volume),
        "safe_ml": _ml(found.safe),
        "never_pressed_out_ml": _ml(found.gallery_holds),
        "stayed_lit_ml": {name: _ml(limit.stayed_lit) for name, limit in named.items() if name.startswith("burning")},
        "proven_ml": {name: _ml(limit.proven) for name, limit in named.items()},
        "unproven": {name: limit.dark for name, limit in named.items() if limit.dark},
        "spills_ml": {name: _ml(limit.spills) for name, limit in named.items()},
        "binding": {name: limit.binding for name, limit in named.items()},
        "reasons": {name: limit.reason for name, limit in named.items()},
        "kept": {name: limit.kept for name, limit in named.items()},
        "single_crossing": {name: limit.single for name, limit in named.items()},
        "monotone": {name: limit.monotone for name, limit in named.items()},
        "levels_mm": {
            name: {key: 1e3 * value for key, value in limit.levels._asdict().items()}
            for name, limit in named.items()
            if limit.levels is not None
        },
        "notes": {name: list(limit.notes) for name, limit in named.items() if limit.notes},
        "tilt_deg": math.degrees(found.tilt),
        "margin": {"head_mm": 1e3 * found.margin.head, "share": found.margin.share},
    }


def fill_text(found: FillLimits, units: str = "si") -> str:
    """The limits in words.

    Parameters
    ----------
    found : fill limits
    units : "si" or "us"
    """
    measure("volume", units)
    lines = list(_lines(found))
    return "\n".join(lines if units == "si" else (_in_us(line) for line in lines))


def _in_us(line: str) -> str:
    """A line in US units; amounts that stand in both keep the second, in a table at the end of their column."""
    if line.startswith("  "):
        line = BOTH.sub(lambda found: found[1].rjust(len(found[0])), line, count=1)
    line = PART.sub(lambda found: f"{found[1]}{float(found[2]) * 1e-3 / INCH:.2f}", line)
    return in_system(line, "us")


def _lines(found: FillLimits) -> Iterator[str]:
    setup = found.setup
    jets = setup.burner.jets is not None
    yield setup.name or "Fill limits"
    stand = f"on a slope of {math.degrees(found.tilt):.3g} deg" if found.tilt > 0.0 else "on a level stand"
    yield f"How much {setup.charge.fuel.name} may be loaded {stand}; margin kept: {found.margin}."
    yield ""
    for name, limit in limits(found).items():
        label = NAMES[name]
        if name == "cold_tilted":
            label += f" {math.degrees(found.tilt):.3g} deg"
        yield _limit_line(label, limit)
    label, why = safe_words(found)
    yield f"  {label:<24} {_amount(found.safe):>{WIDE}}   {why}"
    own = own_load(found)
    if own:
        yield ""
        yield own
    yield ""
    if jets:
        yield _dry_jets(found)
        yield "A face that has once been wetted holds nothing back; the limits above count on none."
        head = burning_head(setup, found.margin)
        if head > found.margin.head:
            yield f"Burning limits keep {head * 1e3:.1f} mm of head, for the splashes of bursting bubbles."
    if found.gallery_holds is not None:
        yield (
            f"No pressure presses out {_amount(found.gallery_holds)}: it fits into the gallery below the jets. Above "
            "that, sealed limits hold for a flat pot on a plain dry rim, whose high spots leave a gap; a tighter fit "
            "pushes more."
        )
    for name, limit in limits(found).items():
        if name == "burning_sealed" and limit is found.burning_vented:
            yield "Its chamber is sealed by design: the last two limits are one."
            continue
        if name == "burning_sealed" and found.burning_sealed_warm is not None:
            continue  # either pot is told of below
        if limit.levels is not None and limit.spills is not None:
            yield f"{_told(name)}: {_amount(limit.spills)} just spills, {in_words(limit.levels)}."
        for text in limit.notes:
            yield f"{_told(name)}: {text}."
    if found.burning_sealed_warm is not None:
        yield sealed_note(found.burning_sealed_warm)


def _dry_jets(found: FillLimits) -> str:
    """What jets with dry outer faces would hold back at rest."""
    loads = f"cold {_amount(found.cold_level_dry.volume)}"
    if found.tilt > 0.0:
        loads += f", tilted {_amount(found.cold_tilted_dry.volume)}"
    head = cold_capillarity(found.setup).hold_off
    return f"Jets whose outer faces are dry hold back {head * 1e3:.1f} mm more: {loads}."


def safe_words(found: FillLimits) -> tuple[str, str]:
    """The name of the load that is safe, and what it stands on.

    Parameters
    ----------
    found : fill limits
    """
    label = "safe in each of these"
    if any(one.volume is None and one.reason == DARK for one in limits(found).values()):
        label = "safe in each of the rest"
    decides = any(limit.dark and limit.proven == found.safe for limit in (found.burning_vented, found.sealed))
    if found.safe is None:
        return label, "no load is known to keep every limit"
    return label, "only burns that stayed lit to their end count" if decides else "the lowest of them"


def own_load(found: FillLimits) -> str:
    """A warning that the design loads more than is known to be safe; empty if it does not.

    Parameters
    ----------
    found : fill limits
    """
    load = found.setup.charge.volume
    if found.safe is None or load <= found.safe:
        return ""
    return f"The design loads {in_both(load)}: more than the {in_both(found.safe)} that are known to be safe."


def no_limit(limit: Limit) -> str:
    """What stands in place of a load where there is no limit: "none", "not known" or "does not apply".

    Parameters
    ----------
    limit : without a volume
    """
    if limit.binding is not None:
        return "none"
    return "not known" if limit.reason == DARK else "does not apply"


def sealed_note(warm: Limit) -> str:
    """What a pot that puts the jets out means for the limit with the well sealed, and whether a warm one does too.

    Parameters
    ----------
    warm : limit under a pot that hardly cools the rim
    """
    text = "With the well sealed the cold pot puts the jets out, or never lets them light, at some loads before they "
    if not warm.dark:
        return text + "can spill. A warm pot, or one that touches badly, does not: do not count on it."
    return text + "can spill. So does a pot that hardly cools the rim: what would spill there is not known."


def _told(name: str) -> str:
    """A limit's name at the head of a sentence."""
    either = {"burning_sealed_cold": "well sealed, pot as it is", "burning_sealed_warm": "well sealed, warm pot"}
    return either.get(name, NAMES[name]).capitalize()


def _limit_line(label: str, limit: Limit) -> str:
    if limit.volume is None:
        return f"  {label:<24} {no_limit(limit)}: {limit.reason}"
    kept = {"head": "head kept", "share": "share kept", "": "no margin"}[limit.kept]
    line = f"  {label:<24} {_amount(limit.volume):>{WIDE}}   {limit.reason} ({kept})"
    if not limit.dark:
        return line
    return line + ("; unproven" if limit.proven is None else f"; unproven above {_amount(limit.proven)}: {limit.dark}")


def _amount(volume: float | None) -> str:
    if volume is None:
        return "none"
    return in_both(volume)


def _ml(volume: float | None) -> float | None:
    return None if volume is None else volume * 1e6


def relief_text(relief: Relief, units: str = "si") -> str:
    """The relief that a load needs, as a clause.

    Parameters
    ----------
    relief : of `relief_needed`
    units : "si" or "us"
    """
    return in_system(_relief_clause(relief), units)


def _relief_clause(relief: Relief) -> str:
    notch = f"{relief.width * 1e3:.3g} mm x {relief.depth * 1e3:.3g} mm"
    if relief.dark:
        return f"not known: {relief.reason}"
    if relief.area is None:
        lacking = "not known" if relief.reason == DARK else "none to be had"
        return f"{lacking if relief.applies else 'does not apply'}: {relief.reason}"
    if relief.area <= 0.0:
        return f"none needed: {relief.reason}"
    count = f"{relief.notches} notch(es) of {notch}" if relief.notches else f"no number of notches of {notch}"
    text = f"at least {relief.area * 1e6:.2f} mm2 in {NOTCHES} square notches, or {count} ({relief.reason} without)"
    return text + ("; found for a pot that hardly cools the rim" if relief.warm else "")


def relief_dict(relief: Relief) -> dict[str, object]:
    """A relief as plain values.

    Parameters
    ----------
    relief : of `relief_needed`
    """
    return {
        "relief_area_mm2": None if relief.area is None else relief.area * 1e6,
        "relief_notches": relief.notches,
        "relief_notch_mm": [relief.width * 1e3, relief.depth * 1e3],
        "relief_load_ml": relief.load * 1e6,
        "relief_reason": relief.reason,
        "relief_unproven": relief.dark,
    }


def odds_text(odds: SpillOdds, units: str = "si") -> str:
    """How likely it spills, as a sentence.

    Parameters
    ----------
    odds : of `spill_probability`
    units : "si" or "us"
    """
    text = (
        f"It spills in {100.0 * odds.probability:.1f} % of {odds.samples} sampled burns "
        f"(95 % interval {100.0 * odds.low:.1f} to {100.0 * odds.high:.1f} %)"
    )
    if odds.leads:
        text += "; led by " + ", ".join(f"{lead} {count}" for lead, count in odds.leads.items())
    if odds.failed:
        text += f"; {odds.failed} more could not be solved"
    return in_system(text + ".", units)


def odds_dict(odds: SpillOdds) -> dict[str, object]:
    """The odds of a spill as plain values.

    Parameters
    ----------
    odds : of `spill_probability`
    """
    return {
        "value": odds.probability,
        "standard_error": odds.error,
        "low": odds.low,
        "high": odds.high,
        "samples": odds.samples,
        "failed": odds.failed,
        "leads": dict(odds.leads),
    }
