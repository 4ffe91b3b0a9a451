"""Fill limits in words and as plain values."""

import math
from collections.abc import Iterator
from dataclasses import replace

from burnsim.solve.results.spill import in_words
from burnsim.studies.fill.cold import cold_capillarity
from burnsim.studies.fill.limit import DARK, burning_head
from burnsim.studies.fill.record import FillLimits, Limit
from burnsim.studies.fill.relief import NOTCHES, Relief
from burnsim.studies.fill.spill_odds import SpillOdds
from burnsim.units import Quantity, Text, measure, told, written
from burnsim.units.writing import shown

WIDE = 12
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
    return "\n".join(_lines(found, units))


def _lines(found: FillLimits, units: str) -> Iterator[str]:
    setup = found.setup
    jets = setup.burner.jets is not None
    yield setup.name or "Fill limits"
    stand = f"on a slope of {shown(found.tilt, 'angle', digits=3)}" if found.tilt > 0.0 else "on a level stand"
    kept = told(found.margin.in_words(), units)
    yield f"How much {setup.charge.fuel.name} may be loaded {stand}; margin kept: {kept}."
    yield ""
    for name, limit in limits(found).items():
        label = NAMES[name]
        if name == "cold_tilted":
            label += f" {shown(found.tilt, 'angle', digits=3)}"
        yield _limit_line(label, limit, units)
    label, why = safe_words(found)
    yield f"  {label:<24} {_amount(found.safe, units):>{WIDE}}   {why}"
    own = told(own_load(found), units)
    if own:
        yield ""
        yield own
    yield ""
    if jets:
        yield _dry_jets(found, units)
        yield "A face that has once been wetted holds nothing back; the limits above count on none."
        head = burning_head(setup, found.margin)
        if head > found.margin.head:
            yield f"Burning limits keep {written(head, 'length', units)} of head, for the splashes of bursting bubbles."
    if found.gallery_holds is not None:
        yield (
            f"No pressure presses out {_amount(found.gallery_holds, units)}: it fits into the gallery below the "
            "jets. Above that, sealed limits hold for a flat pot on a plain dry rim, whose high spots leave a "
            "gap; a tighter fit pushes more."
        )
    for name, limit in limits(found).items():
        if name == "burning_sealed" and limit is found.burning_vented:
            yield "Its chamber is sealed by design: the last two limits are one."
            continue
        if name == "burning_sealed" and found.burning_sealed_warm is not None:
            continue  # either pot is told of below
        if limit.levels is not None and limit.spills is not None:
            yield f"{_told(name)}: {_amount(limit.spills, units)} just spills, {told(in_words(limit.levels), units)}."
        for text in limit.notes:
            yield f"{_told(name)}: {told(text, units)}."
    if found.burning_sealed_warm is not None:
        yield sealed_note(found.burning_sealed_warm)


def _dry_jets(found: FillLimits, units: str) -> str:
    """What jets with dry outer faces would hold back at rest."""
    loads = f"cold {_amount(found.cold_level_dry.volume, units)}"
    if found.tilt > 0.0:
        loads += f", tilted {_amount(found.cold_tilted_dry.volume, units)}"
    head = cold_capillarity(found.setup).hold_off
    return f"Jets whose outer faces are dry hold back {written(head, 'length', units)} more: {loads}."


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
    return Text(
        "The design loads {}: more than the {} that are known to be safe.",
        Quantity(load, "volume"),
        Quantity(found.safe, "volume"),
    )


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


def _limit_line(label: str, limit: Limit, units: str) -> str:
    if limit.volume is None:
        return f"  {label:<24} {no_limit(limit)}: {told(limit.reason, units)}"
    kept = {"head": "head kept", "share": "share kept", "": "no margin"}[limit.kept]
    line = f"  {label:<24} {_amount(limit.volume, units):>{WIDE}}   {told(limit.reason, units)} ({kept})"
    if not limit.dark:
        return line
    return line + (
        "; unproven" if limit.proven is None else f"; unproven above {_amount(limit.proven, units)}: {limit.dark}"
    )


def _amount(volume: float | None, units: str) -> str:
    return "none" if volume is None else written(volume, "volume", units)


def _ml(volume: float | None) -> float | None:
    return None if volume is None else volume * 1e6


def relief_text(relief: Relief, units: str = "si") -> str:
    """The relief that a load needs, as a clause.

    Parameters
    ----------
    relief : of `relief_needed`
    units : "si" or "us"
    """
    notch = f"{shown(relief.width, 'length', units, 3)} × {shown(relief.depth, 'length', units, 3)}"
    reason = told(relief.reason, units)
    if relief.dark:
        return f"not known: {reason}"
    if relief.area is None:
        lacking = "not known" if relief.reason == DARK else "none to be had"
        return f"{lacking if relief.applies else 'does not apply'}: {reason}"
    if relief.area <= 0.0:
        return f"none needed: {reason}"
    count = f"{relief.notches} notch(es) of {notch}" if relief.notches else f"no number of notches of {notch}"
    area = Quantity(relief.area, "area", 2).told(units)
    text = f"at least {area} in {NOTCHES} square notches, or {count} ({reason} without)"
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
        f"It spills in {100.0 * odds.probability:.1f}\u00a0% of {odds.samples} sampled burns "
        f"(95 % interval {100.0 * odds.low:.1f} to {100.0 * odds.high:.1f}\u00a0%)"
    )
    if odds.leads:
        text += "; led by " + ", ".join(f"{lead} {count}" for lead, count in odds.leads.items())
    if odds.failed:
        text += f"; {odds.failed} more could not be solved"
    measure("length", units)
    return text + "."


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
