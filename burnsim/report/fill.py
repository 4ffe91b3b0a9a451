"""Fill limits in words and as plain values."""

import math
from collections.abc import Callable, Iterator
from functools import partial

from burnsim.report.fields import factors_text
from burnsim.report.values import Keys, keyed, named
from burnsim.solve.results.spill import MECHANISMS, in_words
from burnsim.studies.fill.cold import cold_capillarity
from burnsim.studies.fill.limit import DARK, burning_head
from burnsim.studies.fill.margins import SpillMap
from burnsim.studies.fill.record import FillLimits, Limit
from burnsim.studies.fill.relief import NOTCHES, Relief
from burnsim.studies.fill.spill_odds import SpillOdds
from burnsim.studies.predict.prediction import share
from burnsim.units import Quantity, told, written
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

EITHER_POT = ("burning_sealed_cold", "burning_sealed_warm")
PLACES = {
    "cold_level": "at rest ",
    "cold_tilted": "at rest ",
    "burning_vented": "in the burn ",
    "burning_sealed": "should the pot close the well, ",
}
"""Where a limit holds, at the head of its reason."""


LIMIT = {"volume_ml": "volume", "proven_ml": "proven", "spills_ml": "spills", **named("binding reason")}
MARGIN = {"head_mm": "head", "share": "share"}
RELIEF: Keys = {
    "relief_area_mm2": "area", "relief_notches": "notches", "relief_load_ml": "load", "relief_reason": "reason",
    "relief_unproven": "dark", "relief_notch_mm": lambda relief: [relief.width, relief.depth],
}  # fmt: skip
ODDS = {"value": "probability", "standard_error": "error", **named("low high samples failed leads unproven")}


def limits(found: FillLimits) -> dict[str, Limit]:
    """The limits by name, those that apply; where two pots were looked at, both and the lower."""
    warm = found.burning_sealed_warm
    named = {
        "cold_level": found.cold_level,
        "cold_tilted": found.cold_tilted if found.tilt > 0.0 else None,
        "burning_vented": found.burning_vented,
        "burning_sealed": found.sealed,
        "burning_sealed_cold": found.burning_sealed if warm is not None else None,
        "burning_sealed_warm": warm,
    }
    return {name: limit for name, limit in named.items() if limit is not None}


def _volume(name: str, found: FillLimits) -> float | None:
    limit = limits(found).get(name)
    return None if limit is None else limit.volume


def _by_limit(attribute: str, of: str = "", *, told: bool = False) -> Callable[[FillLimits], dict[str, object]]:
    """An attribute of the limits whose names begin so, by name; if `told`, where it says anything."""

    def found(all_limits: FillLimits) -> dict[str, object]:
        named = {name: getattr(limit, attribute) for name, limit in limits(all_limits).items() if name.startswith(of)}
        return {name: value for name, value in named.items() if value or not told}

    return found


FILL: Keys = {
    **{f"{name}_ml": partial(_volume, name) for name in NAMES},
    "name": "setup.name", "cold_level_dry_ml": "cold_level_dry.volume", "cold_tilted_dry_ml": "cold_tilted_dry.volume",
    "safe_ml": "safe", "never_pressed_out_ml": "gallery_holds", "tilt_deg": "tilt",
    "stayed_lit_ml": _by_limit("stayed_lit", "burning"), "proven_ml": _by_limit("proven"),
    "unproven": _by_limit("dark", told=True), "spills_ml": _by_limit("spills"), "binding": _by_limit("binding"),
    "reasons": _by_limit("reason"), "kept": _by_limit("kept"), "single_crossing": _by_limit("single"),
    "monotone": _by_limit("monotone"), "levels_mm": _by_limit("levels", told=True),
    "notes": _by_limit("notes", told=True), "margin": ("margin", MARGIN),
}  # fmt: skip


def fill_rows(found: FillLimits) -> list[dict[str, object]]:
    """A row for each limit, those of `limits`."""
    return [{"limit": name, **keyed(limit, LIMIT)} for name, limit in limits(found).items()]


def fill_lines(found: FillLimits, units: str = "si") -> Iterator[str]:
    """The limits in words."""
    yield f"{found.setup.name or 'Fill limits'}: {pour_words(found, units)}."
    if own := own_load(found, units):
        yield own
    yield ""
    table = list(told_rows(found, units))
    wide = max(WIDE, *(len(amount) for _, amount, _ in table))
    yield from (f"  {name:<24} {amount:>{wide}}   {why}" for name, amount, why in table)
    yield ""
    yield f"{kept_words(found, units)}."
    for name, limit in rows(found).items():
        if limit.levels is not None and limit.spills is not None:
            spills, sums = written(limit.spills, "volume", units), told(in_words(limit.levels), units)
            yield f"{NAMES[name].capitalize()}: {spills} just spills; what is left by then: {sums}."
    yield from (f"{note}." for note in notes(found, units))
    yield from _held_back(found, units)
    yield factors_text(found.setup, ".")


def _held_back(found: FillLimits, units: str) -> Iterator[str]:
    """What holds liquid back that the limits do not count on, and what no pressure can press out."""
    if found.setup.burner.jets is not None and found.cold_level_dry.volume != found.cold_level.volume:
        loads = f"cold {at_most(found.cold_level_dry.volume, units)}"
        if found.tilt > 0.0:
            loads += f", tilted {at_most(found.cold_tilted_dry.volume, units)}"
        head = written(cold_capillarity(found.setup).hold_off, "length", units)
        yield (f"Dry outer faces of the jets hold back {head} more ({loads}), wetted ones nothing: do not count on it.")
    if found.gallery_holds is not None:
        yield (
            f"No pressure presses out {at_most(found.gallery_holds, units)}, which fits into the gallery below the "
            "jets. Of more, the sealed limit holds for a flat pot on a plain dry rim whose fit is as tight as the band "
            "of rim_leak allows: the gap that vents the well is a guess, and a still tighter one pushes more."
        )


def rows(found: FillLimits) -> dict[str, Limit]:
    """The limits that people are told, by name: of two pots under which the well is sealed, the one that decides."""
    named = {name: limit for name, limit in limits(found).items() if name not in EITHER_POT}
    if found.sealed == found.burning_vented or not found.setup.burner.has_gallery:
        del named["burning_sealed"]  # a burner that is sealed by design has one; a cup has nothing to press out
    return named


def told_rows(found: FillLimits, units: str) -> Iterator[tuple[str, str, str]]:
    """Of each limit that people are told its name and slope, the load that keeps it, and what becomes of more."""
    for name, limit in rows(found).items():
        load, why = row_words(limit, units)
        slope = f" {shown(found.tilt, 'angle', digits=3)}" if name == "cold_tilted" else ""
        yield NAMES[name] + slope, no_limit(limit) if load is None else at_most(load, units), why


def row_words(limit: Limit, units: str) -> tuple[float | None, str]:
    """The largest load known to keep a limit [m3], and what becomes of more: one that went out has shown nothing."""
    if not limit.dark:
        return limit.volume, told(limit.reason, units)
    if limit.stayed_lit is None:
        return limit.proven, f"{limit.dark}, whatever load was looked at"
    lit, unknown = at_most(limit.stayed_lit, units), "any" if limit.proven is None else "more"
    return limit.proven, f"{limit.dark} above {lit}, before it can spill, so nothing is known of {unknown}"


def pour_words(found: FillLimits, units: str) -> str:
    """The answer in one sentence: how much to pour at most, of what, where, and why no more."""
    setup = found.setup
    pot = "without a pot" if setup.pot is None else "with this pot"
    stand = f"on a slope of {shown(found.tilt, 'angle', digits=3)}" if found.tilt > 0.0 else "on a level stand"
    where = f"of {setup.charge.fuel.name} {pot} {stand}"
    name, limit = lowest(found)
    why = f"because {_why(name, limit, units)}"
    if found.safe is None:
        return f"no load {where} is known to be safe, {why}"
    other = at_most(found.safe, "si" if units == "us" else "us")
    answer = f"pour at most {at_most(found.safe, units)} ({other}) {where}, {why}"
    unknown = any(one.volume is None and one.reason == DARK for one in rows(found).values())
    return answer + ("; not with the pot flat on the rim, where nothing is known" if unknown else "")


def lowest(found: FillLimits) -> tuple[str, Limit]:
    """The limit that decides how much to pour, with its name."""
    named = {name: limit for name, limit in rows(found).items() if limit.volume or limit.binding}
    return next((name, limit) for name, limit in named.items() if limit.proven == found.safe)


def _why(name: str, limit: Limit, units: str) -> str:
    """What becomes of more than a limit; what is filled too high, or leans, is so before it burns."""
    if limit.dark:
        return f"{_place(name, limit)}{row_words(limit, units)[1]}"
    reason = told(limit.reason, units)
    if reason == MECHANISMS["overfill"]:
        return "more fills it above the edge"
    return reason if reason == MECHANISMS["tilt"] else f"{PLACES[name]}{reason}"


def _place(name: str, limit: Limit) -> str:
    """Where a limit holds; a burner that never lights does not do so as it burns."""
    return "" if limit.dark and name == "burning_vented" else PLACES[name]


def why_no_more(found: FillLimits, units: str) -> str:
    """Why no more may be poured, without the load that is told beside it."""
    name, limit = lowest(found)
    if limit.dark and limit.stayed_lit is not None:
        return f"{_place(name, limit)}{limit.dark} at larger loads, before it can spill, so nothing is known of them"
    return _why(name, limit, units)


def kept_words(found: FillLimits, units: str) -> str:
    """The margin that every limit keeps, as a clause."""
    text = f"Margin kept: {told(found.margin.in_words(), units)}"
    head = burning_head(found.setup, found.margin)
    if found.setup.burner.jets is not None and head > found.margin.head:
        text += f"; {written(head, 'length', units)} while it boils, for the splashes of bursting bubbles"
    return text


def notes(found: FillLimits, units: str) -> tuple[str, ...]:
    """What else should be known, each note once, with the limits that it goes for."""
    heard: dict[str, list[str]] = {}
    for name, limit in rows(found).items():
        for note in limit.notes:
            heard.setdefault(note, []).append(NAMES[name])
    each = [f"{', '.join(names).capitalize()}: {told(note, units)}" for note, names in heard.items()]
    if found.burning_sealed_warm is not None:
        cold = "Flat on the rim, the cold pot puts the jets out, or never lets them light, at some loads"
        warm = "; a warm one, or one that touches badly, does not: the lower limit of both is told"
        if found.burning_sealed_warm.dark:
            warm = ", and so does a pot that hardly cools the rim: what would spill there is not known"
        each.append(f"{cold} before they can spill{warm}")
    return tuple(each)


def own_load(found: FillLimits, units: str) -> str:
    """A warning that the design loads more than is known to be safe; empty if it does not."""
    load = found.setup.charge.volume
    if found.safe is None or load <= found.safe:
        return ""
    more = written(load - found.safe, "volume", units, toward=1)  # of the load as it is, so that is rounded down
    return f"The design loads {written(load, 'volume', units, toward=-1)}: {more} more than that."


def no_limit(limit: Limit) -> str:
    """What stands in place of a load where none is known: "none", "not known" or "does not apply"."""
    if limit.volume is not None or limit.reason == DARK:
        return "not known"
    return "none" if limit.binding is not None else "does not apply"


def at_most(volume: float | None, units: str) -> str:
    """A load that may be poured [m3], rounded down."""
    return "none" if volume is None else written(volume, "volume", units, toward=-1)


def relief_text(relief: Relief, units: str = "si") -> str:
    """The relief that a load needs, as a clause."""
    notch = f"{shown(relief.width, 'length', units, 3)} × {shown(relief.depth, 'length', units, 3)}"
    reason = told(relief.reason, units)
    if relief.dark:
        return f"not known: {reason}"
    if relief.area is None:
        lacking = "not known" if relief.reason == DARK else "none to be had"
        return f"{lacking if relief.applies else 'does not apply'}: {reason}"
    if relief.area <= 0.0:
        return f"none needed: {reason}"
    many = "1 notch" if relief.notches == 1 else f"{relief.notches or 'no number of'} notches"
    area = Quantity(relief.area, "area", 2).told(units)
    side = notch_side(relief.area, units, toward=1)
    text = f"at least {NOTCHES} square notches of {side}, {area} in all, or {many} of {notch} (without, {reason})"
    return text + ("; found for a pot that hardly cools the rim" if relief.warm else "")


def notch_side(area: float, units: str, toward: int = 0) -> str:
    """The side of each of the square notches that have an area together [m2]; what a builder cuts and measures.

    >>> from burnsim.units import plain
    >>> plain(notch_side(3e-6, "si")), plain(notch_side(3.1e-6, "si", 1)), plain(notch_side(3e-6, "us"))
    ('1.00 mm', '1.02 mm', '0.039 in')
    """
    return written(math.sqrt(area / NOTCHES), "length", units, 2 if units == "si" else 3, toward)


def relief_size(area: float, units: str) -> str:
    """A relief of a map: its area in SI; in US units, where that is thousandths of little, the side of each notch."""
    if area <= 0.0:
        return "none"
    return Quantity(area, "area", 2).told(units) if units == "si" else notch_side(area, units, toward=1)


def relief_words(relief: Relief, units: str) -> str:
    """The relief as a sentence, with the load that it is for."""
    load = written(relief.load, "volume", units)
    return f"Relief for {load}, the pot flat on the rim: {relief_text(relief, units)}."


def odds_text(odds: SpillOdds, units: str = "si") -> str:
    """How likely it spills, as a sentence."""
    text = (
        f"It spills in {100.0 * odds.probability:.1f}\u00a0% of {odds.samples} sampled burns "
        f"(95 % interval {100.0 * odds.low:.1f} to {100.0 * odds.high:.1f}\u00a0%)"
    )
    if odds.leads:
        text += "; led by " + ", ".join(f"{lead} {count}" for lead, count in odds.leads.items())
    if odds.failed:
        text += f"; {odds.failed} more could not be solved"
    return f"{text}.{_unproven_odds(odds)}"


def _unproven_odds(odds: SpillOdds) -> str:
    """What of the sampled burns proves nothing, and how likely it spills by the others; empty if all prove something.

    A burner that went out or never lit has not shown that its load is safe.
    """
    if not odds.unproven:
        return ""
    fates = ", ".join(f"{fate} ({count})" for fate, count in odds.unproven.items())
    text = f" But {odds.samples - odds.telling} of them prove nothing, as they end before it could spill: {fates}."
    if not odds.telling:
        return f"{text} How likely it spills once it burns is not known."
    spills = round(odds.probability * odds.samples)
    known = share(spills, odds.telling)
    return (
        f"{text} Of the other {odds.telling}, {100.0 * known.value:.1f}\u00a0% spill (95 % interval "
        f"{100.0 * known.low:.1f} to {100.0 * known.high:.1f}\u00a0%): go by these."
    )


def spill_map_text(found: SpillMap, units: str = "si") -> str:
    """What just spills, and what keeps the margin, with each relief; units "si" or "us"."""
    lines = [
        f"{found.setup.name or 'burner'}: what spills with the pot flat on the rim, by the relief",
        f"  {'relief' if units == 'si' else 'notch side':>12}  {'just spills':>12}  {'safe to':>12}",
    ]
    for k, size in enumerate(found.areas):
        area = relief_size(size, units)
        spills, safe = (
            otherwise if math.isnan(volumes[k]) else at_most(float(volumes[k]), units)
            for volumes, otherwise in ((found.spills, "nothing"), (found.keeps, "none"))
        )
        lines.append(f"  {area:>12}  {spills:>12}  {safe:>12}")
    low, high = (written(float(load), "volume", units) for load in (found.loads[0], found.loads[-1]))
    lines.append(f"Loads of {low} to {high} were burnt. Margin kept: {told(found.margin.in_words(), units)}.")
    if found.warm:
        lines.append("Found for a pot that hardly cools the rim, since the cold one puts the jets out.")
    if found.dark is not None and found.dark.any():
        lines.append("Burns that went out before they could spill prove nothing.")
    return "\n".join(lines)


def spill_map_dict(found: SpillMap) -> dict[str, object]:
    """A map of spills; None where nothing spills, nothing is safe, or a burn was not solved."""
    reliefs = zip(found.areas * 1e6, found.spills * 1e6, found.keeps * 1e6, strict=True)
    return {
        "name": found.setup.name,
        "warm": found.warm,
        "reliefs": [{"relief_area_mm2": area, "spills_ml": spills, "safe_ml": safe} for area, spills, safe in reliefs],
        "clearances": [
            {
                "relief_area_mm2": area * 1e6,
                "load_ml": load * 1e6,
                "clearance_mm": found.clearance[j, k] * 1e3,
                "went_out": found.dark is not None and bool(found.dark[j, k]),
            }
            for j, area in enumerate(found.areas)
            for k, load in enumerate(found.loads)
        ],
    }
