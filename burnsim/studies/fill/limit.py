"""How much may be loaded: cold and level, cold and tilted, over the whole burn with the well vented and sealed."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from burnsim.closures.capillarity import splash_margin
from burnsim.errors import check_whole
from burnsim.model import Design, Setup, as_setup, vary
from burnsim.model.at_site import fuel_boils
from burnsim.model.description import geometry
from burnsim.solve.engines import Engine
from burnsim.solve.results.spill import MECHANISMS, OVER_THE_LIP
from burnsim.studies.counting import expect
from burnsim.studies.fill.cold import cold_fill, cold_fill_at
from burnsim.studies.fill.record import USUAL, FillLimits, Limit, Margin, check_margin, lower
from burnsim.studies.fill.spill_runs import Seen, closed, look, may_quench, poor_contact, proof, safe, turn
from burnsim.studies.sweep.plan import spec_at
from burnsim.studies.threshold import Threshold, even, rounds, thresholds
from burnsim.substances.blend import density, fuel_record
from burnsim.substances.fuel import surface_tension

LEAST_SHARE = 0.05  # loads below this share of the cold limit are not looked at
SCAN = 21  # loads of the first scan
UNLIT = "it never lights, so nothing warms the charge"
DARK = (
    "it never lights under a pot flat on the rim; lit before the pot is set down, it may spill at any load that does "
    "not fit into its gallery"
)
OVER_RIM = "it runs over the rim"
FINEST = 0.1e-6  # limits of burns are bracketed to this [m3]
OUT_WITHIN = 0.5e-6  # the load at which the jets begin to go out, to this [m3]


def find_fill_limit(
    setup: Design, *, tilt: float | str | None = None, margin: Margin = USUAL, scan: int = SCAN, engine: Engine = "auto"
) -> FillLimits:
    """Find the largest safe loads of a burner.

    Parameters
    ----------
    setup : the design; the load in it does not count
    tilt : of the stand [rad], default `site.tilt`: all limits but `cold_level` are for it, those of burns too
    margin : to keep below what spills
    scan : loads burnt before the lowest crossing is bracketed, 3 or more
    engine : as of `burnsim.burn_many`; some hundred burns follow one another, so "compiled" soon pays

    Notes
    -----
    The limits at rest are hydrostatics in closed form. A burner that goes out, or never lights, spills nothing and
    proves nothing, and no load is called safe from the least on that exceeds the limit of pressure: see `Limit.dark`.
    Those of burns scan loads from 5 % of the cold limit up to it and bisect the first change from dry to spilling down
    to 0.1 ml, so a stretch of spilling loads narrower than the scan's spacing can hide below; whether a higher load is
    dry again is reported. The design's own load is burnt besides, for what it proves.
    They take the jets as wetted.
    """
    setup = as_setup(setup)
    if tilt is not None:
        setup = vary(setup, {"site.tilt": tilt})
    tilt = setup.site.tilt
    check_whole("scan", scan, 3)
    check_margin(margin)
    shut = closed(setup)
    cold, warm = _under_pots(setup, margin, scan, engine)
    vented = lower(cold, warm)
    if isinstance(shut, str):
        sealed, warm = Limit(None, None, None, shut), None
    else:
        sealed, warm = (cold, warm) if shut == setup else _under_pots(shut, margin, scan, engine)
        if UNLIT in sealed.notes and shut is not setup:
            sealed = Limit(None, None, None, DARK)
    level, dry_level, tilted, dry_tilted = (
        at_rest(setup, slope, margin, dry=dry) for slope in (0.0, tilt) for dry in (False, True)
    )
    return FillLimits(setup, margin, level, dry_level, tilted, dry_tilted, vented, sealed, warm)


def _under_pots(setup: Setup, margin: Margin, scan: int, engine: Engine) -> tuple[Limit, Limit | None]:
    """The limit over a burn, and that under a pot that hardly cools the rim where the pot as it is puts jets out."""
    burns: dict[float, Seen] = {}
    [cold] = burning_limits([(setup, burns)], margin=margin, scan=scan, engine=engine)
    goes_out = cold.dark or any(seen.quenched for seen in burns.values())
    if not may_quench(setup) or UNLIT in cold.notes or not goes_out:
        return cold, None
    return cold, burning_limit(poor_contact(setup), margin=margin, scan=scan, engine=engine)


def at_rest(setup: Setup, tilt: float, margin: Margin = USUAL, *, dry: bool = False) -> Limit:
    """The largest load that reaches no edge before the match, on a slope [rad]; `dry` as are the jets' outer faces."""
    full = cold_fill(setup, tilt, 0.0, dry)
    lower = cold_fill(setup, tilt, margin.head, dry)
    binding = "rim" if full.binding == "rim" else "tilt" if tilt > 0.0 else "overfill"
    reason = OVER_RIM if binding == "rim" else MECHANISMS[binding]
    if lower.volume <= 0.0:
        return Limit(None, full.volume, binding, "the edge lies lower than the margin")
    by_share = (1.0 - margin.share) * full.volume
    volume = min(lower.volume, by_share)
    rest = cold_fill_at(setup, volume, tilt)
    return Limit(volume, full.volume, binding, reason, _kept(margin, lower.volume, by_share), None, rest)


def _kept(margin: Margin, by_head: float, by_share: float) -> str:
    if margin.head <= 0.0 and margin.share <= 0.0:
        return ""
    return "head" if by_head <= by_share else "share"


def burning_head(setup: Setup, margin: Margin) -> float:
    """Head to keep below the jets while it boils [m]: the margin's, or that for bursting bubbles if it is more."""
    if margin.head <= 0.0:
        return 0.0
    fuel, boiling = setup.charge.fuel, fuel_boils(setup)
    return max(margin.head, splash_margin(surface_tension(boiling, fuel_record(fuel)), density(fuel, boiling)))


def burning_limit(
    setup: Setup, *, margin: Margin = USUAL, scan: int = SCAN, tolerance: float = FINEST, engine: Engine = "auto"
) -> Limit:
    """The largest safe load over whole burns of a design as it stands; the one that spills to a tolerance [m3]."""
    return burning_limits([(setup, {})], margin=margin, scan=scan, tolerance=tolerance, engine=engine)[0]


def scanned(setup: Setup) -> list[float]:
    """The loads that are burnt before a crossing is bracketed [m3]; none where any load reaches the edge at rest."""
    ends = _range(setup)
    return even(*ends, SCAN) if ends else []


def _range(setup: Setup) -> tuple[float, float] | None:
    """The least and the largest load that are looked at [m3]; None where any load reaches the edge at rest."""
    volume = spec_at("charge.volume")
    most = min(cold_fill(setup, setup.site.tilt).volume, geometry.capacity(setup.burner), volume.high)
    return (max(LEAST_SHARE * most, volume.low), most) if most > 0.0 else None


def burning_limits(
    asked: Sequence[tuple[Setup, dict[float, Seen]]],
    *,
    margin: Margin = USUAL,
    scan: int = SCAN,
    tolerance: float = FINEST,
    engine: Engine = "auto",
) -> list[Limit]:
    """The same of many designs at once, each with its burns that are known, by load [m3]; new burns are added there."""
    heads = [burning_head(setup, margin) for setup, _ in asked]
    ranges = {k: ends for k, (setup, _) in enumerate(asked) if (ends := _range(setup))}
    questions = [(k, head) for k in ranges for head in (0.0, heads[k])]

    def ask(batch: Sequence[tuple[int, float]]) -> list[bool]:
        loads = [(*questions[q], load) for q, load in batch]
        new = sorted({(k, load) for k, _, load in loads if load not in asked[k][1]})
        burns = look([vary(asked[k][0], {"charge.volume": load}) for k, load in new], engine)
        for (k, load), seen in zip(new, burns, strict=True):
            asked[k][1][load] = seen
        return [safe(asked[k][1][load], head) for k, head, load in loads]

    expect(sum(1 + scan + 2 * rounds(*ends, scan, tolerance) for ends in ranges.values()))
    thresholds(ask, [ranges[k] for k, _ in questions], points=scan, tolerance=tolerance)
    limits = [Limit(None, 0.0, "tilt", "on this tilt any load reaches the edge")] * len(asked)
    for k, (low, _) in ranges.items():
        setup, burns = asked[k]
        own = setup.charge.volume  # burnt for what it proves below the limit; a spill there is told by its own burn
        if own not in burns and low <= own <= (_over(burns).until_no()[0] or 0.0):
            seen = look([setup], engine)[0]
            if safe(seen, heads[k]):
                burns[own] = seen
    fades = {k: fade for k in ranges if (fade := _goes_out(asked[k][1], heads[k]))}
    lit = list(fades)

    def ask_lit(batch: Sequence[tuple[int, float]]) -> list[bool]:
        ask([(questions.index((lit[q], 0.0)), load) for q, load in batch])
        return [asked[lit[q]][1][load].stayed_lit for q, load in batch]

    expect(sum(rounds(*fade, 2, OUT_WITHIN) for fade in fades.values()))
    thresholds(ask_lit, list(fades.values()), points=2, tolerance=OUT_WITHIN)
    for k in ranges:
        limits[k] = _limit(asked[k][0], margin, asked[k][1], heads[k])
    return limits


def _over(burns: Mapping[float, Seen], head: float = 0.0) -> Threshold:
    """Which loads kept a head below the jets [m], of all that were burnt."""
    return Threshold(None, None, True, tuple((load, safe(burns[load], head)) for load in sorted(burns)))


def _goes_out(burns: Mapping[float, Seen], head: float) -> tuple[float, float] | None:
    """Two loads, the largest that is proven and the next, which goes out [m3]; None if there are none."""
    shown = proof(burns, _over(burns).until_no()[0], head)
    if shown.stayed_lit is None or shown.silent is None or burns[shown.silent].pressed:
        return None
    return shown.stayed_lit, shown.silent


def _limit(setup: Setup, margin: Margin, burns: Mapping[float, Seen], head: float) -> Limit:
    """The limit that the burns of a design tell of, by load [m3], with the margin's head in them [m]."""
    holds, spills, single = _over(burns).until_no()
    first = None if spills is None else burns[spills]
    binding, reason = _binding(setup, first)
    turned = turn(burns)
    notes = tuple(_notes(burns, single, turned))
    none = Limit(
        None, spills, binding, reason, levels=None if first is None else first.levels, single=single, notes=notes
    )
    if holds is None:
        return replace(none, reason=f"even the least load spills: {reason}")
    by_share, by_head = (1.0 - margin.share) * holds, _over(burns, head).until_no()[0]
    if setup.burner.jets is None or binding in OVER_THE_LIP:  # no froth to measure: the head as a volume
        by_head = holds - margin.head * (geometry.gallery_area(setup.burner) + geometry.well_area(setup.burner))
    if by_head is None or by_head <= 0.0:
        return replace(none, reason=f"no load keeps the margin: {reason}", kept="head")
    volume = min(by_head, by_share)
    lit = proof(burns, holds, head)
    proven = None
    if lit.stayed_lit is not None and lit.kept is not None:
        proven = min(volume, lit.kept, (1.0 - margin.share) * lit.stayed_lit)
    return replace(
        none, volume=volume, kept=_kept(margin, by_head, by_share), rest=cold_fill_at(setup, volume, setup.site.tilt),
        stayed_lit=lit.stayed_lit, dark=lit.dark if proven is None or proven < volume else "", proven_to=proven,
        monotone=turned is None,
    )  # fmt: skip


def _binding(setup: Setup, first: Seen | None) -> tuple[str, str]:
    """What spills the least load that spills, if one does, or would spill it; a key of `MECHANISMS`, and in words."""
    if first is not None and first.levels is not None:
        return first.levels.lead, MECHANISMS[first.levels.lead]
    if first is not None and first.reason:
        return "unsolved", f"the burn could not be solved: {first.reason}"
    if setup.burner.jets is None:
        return "rim", OVER_RIM
    binding = "overfill" if setup.site.tilt <= 0.0 else "tilt"
    return binding, MECHANISMS[binding]


def _notes(burns: Mapping[float, Seen], single: bool, turned: str | None) -> Iterator[str]:
    """What else should be known of burns of many loads."""
    if failed := sum(1 for one in burns.values() if one.reason):
        yield f"{failed} of {len(burns)} burns could not be solved and count as spilling"
    if not single:
        yield "higher loads were found that do not spill again; the lowest limit counts"
    if turned is not None:
        yield turned
    if not any(one.lit for one in burns.values()):
        yield UNLIT
