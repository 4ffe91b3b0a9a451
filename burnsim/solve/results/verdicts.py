"""Verdicts in words: what a practitioner should know about a burn."""

from collections.abc import Iterator
from dataclasses import replace
from math import ceil
from typing import NamedTuple

import numpy as np

from burnsim.closures.flame import (
    heated_burning_velocity,
    lift_off_velocity,
    pool_flame_height,
    quenching_diameter,
    quenching_distance,
)
from burnsim.closures.flammability import mixed_burning_velocity
from burnsim.closures.wind import blow_out_wind
from burnsim.model.at_site import charge_temperature, poured_density
from burnsim.model.balances.pot.flows import LAST_WATER
from burnsim.model.balances.streams import breath, breathing_share
from burnsim.model.description import geometry
from burnsim.model.description.setup import Setup
from burnsim.model.parameters.record import Parameters
from burnsim.solve.ignition import flash_point, rich_point
from burnsim.solve.results.account import Account, Moment, Vector
from burnsim.solve.results.ledger import EnergyLedger, MassLedger
from burnsim.solve.results.milestones import Milestones
from burnsim.solve.results.snapshot import Snapshot, water_share
from burnsim.solve.results.spill import Levels, spill_sentence
from burnsim.substances import air
from burnsim.substances.metals import metal_of
from burnsim.units.writing import Quantity, Text, format_time

BREATHES = 0.8  # share of a well's vapour that burns over it, below which a verdict warns
SHIELD = "Put up a windscreen, or a higher one with fewer openings."
BURSTS = 3e4  # gauge pressure from which a chamber of thin cups may burst, common practice, no source [Pa]
FLARE = 0.3  # height of flames from which a verdict warns, common practice, no source [m]
CROWDED = 3.0  # length of upward flames over their room below a pot from which one warns, common practice, no source
HELD = 5.0  # time for which a well must lack air, before one warns [s]
WATERY = 0.8  # mole fraction of water in what is left from which the spirit is to blame
FINE_GAP, HALF_MILLIMETRE, HIGHEST_GAP = 0.25e-3, 0.5e-3, 0.1  # of gaps that are tried and told [m]
MUCH_LEFT = 0.1  # share of the charge's heat left at the end, from which a verdict warns
MISSED = 0.1  # share of the flames' gas that a wind carries past the pot, from which a verdict warns


CODES = (
    "spills", "fire at the foot", "pressure", "never lit", "never blooms", "quenched", "no boil", "flare",
    "flames past the pot", "flames on the pot", "lift-off", "light-back", "blown out", "wind", "beside the pot",
    "smothered", "cut off", "flutter", "primer runs off", "boiled dry", "rim melts", "pot melts", "fuel left",
    "unburnt vapour", "water left",
)  # fmt: skip
"""Codes of all verdicts."""
ENDS_EARLY = frozenset({"never lit", "never blooms", "quenched"})
"""Verdicts of burns that end before they could spill: that they do not proves nothing of their load."""


class Verdict(NamedTuple):
    """One finding: a stable code for scripts and a sentence for people."""

    code: str
    text: str


def _told(code: str, text: str, *parts: object) -> Verdict:
    """A finding whose sentence has {} for each part, as `Text` takes them."""
    return Verdict(code, Text(text, *parts))


def verdicts(
    setup: Setup,
    p: Parameters,
    marks: Milestones,
    account: Account,
    highest: Snapshot,
    mass: MassLedger,
    energy: EnergyLedger,
    water_left: float,
    lifted: Levels | None,
) -> Iterator[Verdict]:
    """Everything that a practitioner would want to be warned of, most serious first.

    Of the account, `highest` has the highest of each number of its snapshots; `water_left` is in the pot at the end
    [kg], and `lifted` is what lifts the liquid when it begins to spill.
    """
    lit = account.ended != "never lit"
    end = float(account.time[-1])
    left = energy.left / max(energy.charged, 1e-9)
    if marks.spill.time is not None and lifted is not None:
        if lit:
            yield _fire_at_foot(setup, marks.spill.time, mass)
        yield Verdict("spills", spill_sentence(setup, marks.spill.time, lifted, highest.froth, mass.spilled))
    peak = max(highest.gallery_pressure, highest.well_pressure)
    if peak > setup.pressure_limit:
        yield _pressure(setup, peak)
    yield from _unlit(setup, p, marks, lit)
    if marks.quench.time is not None:
        out = [moment for moment in account.moments if moment.name == "jets_out"][-1]
        yield _quenched(setup, p, out, peak, left)
    if setup.pot is not None and marks.boil.time is None and lit:
        yield _told("no boil", "The water does not boil: {}.", marks.boil.reason)
    yield from _flare(setup, account, highest)
    yield from _flames(setup, p, marks, account, highest)
    yield from _light_back(setup, p, marks, account, highest)
    if lit:
        yield from _wind(setup, p)
        yield from _smothered(setup, p, account)
    if account.ended == "horizon":
        yield Verdict("cut off", f"The run was cut off at {format_time(end)} with flames still burning.")
    if account.ended == "flutter":
        yield Verdict("flutter", f"The flames went out and relit many times; the run was ended at {format_time(end)}.")
    soaked = geometry.wick_capacity(setup.burner)
    if setup.burner.wick is not None and setup.charge.primer > 1.05 * soaked:
        yield _told(
            "primer runs off",
            "The wick soaks up {} of {} of primer; the rest runs off and burns in a puddle round the "
            "foot, where most of its heat is lost. Pour no more than the wick holds.",
            *_each("volume", soaked, setup.charge.primer),
        )
    yield from _too_hot(setup, highest, lit and water_left <= LAST_WATER)
    if lit and left > MUCH_LEFT:
        yield Verdict(
            "fuel left",
            f"{100.0 * left:.0f}\u00a0% of the charge's heat is left in the burner when "
            + ("the run ends." if account.ended in ("horizon", "flutter") else "the last flame goes out."),
        )
    lost = mass.unburnt / mass.charged
    if lost > 0.03:
        share = f"{100.0 * lost:.0f}\u00a0% of the charge"
        yield Verdict("unburnt vapour", f"{share} leaves as vapour that does not burn, and may catch fire farther off.")


def _pressure(setup: Setup, peak: float) -> Verdict:
    """A chamber above its stated limit."""
    may_burst = peak > BURSTS
    ways = ["more or wider jets"]
    ways += ["more relief"] if setup.burner.has_well else []
    ways += ["less primer"] if setup.charge.primer > 0.0 else []
    return _told(
        "pressure",
        "The chamber pressure reaches {}, above the stated limit of {}"
        + (f" ({peak / 1e5:.1f}\u00a0bar: a thin chamber, its seam or its plug may burst)" if may_burst else "")
        + f": do not {'build or ' if may_burst else ''}light this. Use {', or '.join(ways)}.",
        *_each("pressure", peak, setup.pressure_limit, decimals=0),
    )


def _flare(setup: Setup, account: Account, highest: Snapshot) -> Iterator[Verdict]:
    """Flames that stand high, most often while the primer still burns."""
    height = pool_flame_height(highest.power, setup.burner.outer_diameter)
    if height < FLARE:
        return
    when = float(account.time[int(account.column("power").argmax())])
    yield _told(
        "flare",
        f"The flames flare up to {{}} at {format_time(when)}: in the open they stand some {{}} high. Keep "
        "face, hands and all that burns away" + (", or prime with less." if setup.charge.primer > 0.0 else "."),
        Quantity(highest.power, "power", digits=2),
        Quantity(height, "length", digits=2),
    )


def _quenched(setup: Setup, p: Parameters, out: Moment, peak: float, unused: float) -> Verdict:
    """Jets that go out before the burner is empty; `unused` is the share of the charge's heat that is left at the end.

    Where next to nothing but water is left, the charge has done its work: that is no quench.
    """
    taken = out.snapshot.contact
    gained = out.snapshot.to_rim
    start = f"The jets go out at {format_time(out.time)} with fuel left: "
    pot = setup.pot
    if pot is not None and pot.rest == "full ring" and taken > 0.25 * max(gained, 1e-9):
        few = "of the {} that the flames give rim and wall the pot takes {}; the rest boils too little fuel for them"
        return _told(
            "quenched",
            "{}"
            + (few if taken < gained else "the flames give rim and wall {}, and the pot takes {} from the rim")
            + ". Stand "
            "the pot on bumps or a stand, or start with warmer water.",
            start,
            *_each("power", gained, taken),
        )
    left = out.snapshot.gallery_water
    poured = water_share(setup.charge.fuel.mole_fractions, p)
    if left > WATERY:
        boiled_off = left - poured >= 0.5 * (1.0 - poured)
        if boiled_off and unused <= MUCH_LEFT:
            return _told(
                "water left",
                f"The jets go out at {format_time(out.time)} on {{}} that are almost all water: the alcohol has boiled "
                "off. Pour them away before you fill it again; a stronger spirit leaves less.",
                Quantity(out.snapshot.volume, "volume"),
            )
        why = "the alcohol has boiled off and what is left is almost all water"
        if not boiled_off:
            why = f"{100.0 * left:.0f}\u00a0% of the molecules of what is left in the gallery are water"
        return Verdict("quenched", f"The jets go out at {format_time(out.time)}: {why}. Use a stronger spirit.")
    primer = "Less fuel"
    if peak <= setup.pressure_limit:
        full = setup.burner.wick is not None and setup.charge.primer >= geometry.wick_capacity(setup.burner)
        primer = "A larger wick with more primer, less fuel" if full else "More primer, less fuel"
    return Verdict(
        "quenched",
        f"{start}the flames give rim and wall {gained:.0f}\u00a0W, and too little of it reaches the liquid for the "
        f"vapour that holds them. {primer}, more or wider jets or a warmer start may keep them lit.",
    )


def _unlit(setup: Setup, p: Parameters, marks: Milestones, lit: bool) -> Iterator[Verdict]:
    """A burner, or jets, that never light."""
    if marks.burnout.time is None and not lit:
        yield _told("never lit", "The burner does not light: {}. " + _how_to_light(setup, p), marks.burnout.reason)
    elif setup.burner.jets is not None and marks.bloom.time is None:
        yield _told("never blooms", "The jets never light: {}.", marks.bloom.reason)


def _how_to_light(setup: Setup, p: Parameters) -> str:
    """What may light a burner that does not. Spirit is never to be heated: it may come to a warmer place."""
    flash = flash_point(setup, p)
    if flash is None:
        return "Use a stronger spirit."
    has_jets, has_wick = setup.burner.jets is not None, setup.burner.wick is not None
    primer = []
    if has_jets and setup.charge.primer <= 0.0:
        primer = ["pour a primer on the wick" if has_wick else "give the burner a wick and a primer"]
    if setup.charge.primer <= 0.0 and p.well.present <= 0.0:
        return _sentence(primer)  # no spirit lies open to a match, however strong it is
    if setup.charge.primer <= 0.0 and p.well.present > 0.0 and p.vent.open <= 0.0:
        return _sentence([*primer, "stand the pot higher"])
    if charge_temperature(setup) < flash:
        return _sentence([*primer, "use a stronger spirit"]) + (
            " Never heat spirit: what is kept in a warmer place, away from any flame, lights more easily."
        )
    if setup.charge.primer > 0.0:
        return "Pour more primer, or use a stronger spirit."
    return _sentence(primer or ["use a stronger spirit"])


def _sentence(ways: list[str]) -> str:
    """Ways to mend something, as a sentence.

    >>> _sentence(["use a wick", "stand the pot higher"])
    'Use a wick, or stand the pot higher.'
    """
    words = ", or ".join(ways)
    return words[0].upper() + words[1:] + "."


def _fire_at_foot(setup: Setup, time: float, mass: MassLedger) -> Verdict:
    """What a spill beside a flame is: a fire that the run does not follow."""
    amount = mass.spilled / poured_density(setup)
    share = mass.spilled / mass.charged
    since = "before it is lit" if time <= 0.0 else f"from {format_time(time)} on"
    return _told(
        "fire at the foot",
        "{} ({} of the fuel) run down to the foot {}, and flames stand there: they feed a fire round the burner "
        "and the pot, which this run does not follow. Its times and figures are not those of such a fire. Do not "
        "light it like this: pour less.",
        Quantity(amount, "volume"),
        Quantity(share, "fraction", 0 if share >= 0.01 else 2),
        since,
    )


def _too_hot(setup: Setup, highest: Snapshot, dry: bool) -> Iterator[Verdict]:
    """A pot boiled dry, and metal near its melting point."""
    pot = setup.pot
    if pot is not None and dry:
        yield Verdict("boiled dry", "The pot boils dry: take it off before.")
    rim, collar, melts = highest.rim_temperature, highest.collar_temperature, metal_of(setup.burner.metal).melting_point
    if max(rim, collar) > melts:
        part = "wall below the jets" if collar > rim else "rim"
        text = (
            f"The {part} would reach {{}}, and its metal melts at {{}}. Do not light it like this: use thicker walls, "
            "or a metal that melts later."
        )
        yield _told("rim melts", text, *_each("temperature", max(rim, collar), melts))
    if pot is None:
        return
    hottest, melts = highest.pot_temperature, metal_of(pot.metal).melting_point
    if hottest > melts:
        text = "The dry pot would reach {}, and its metal melts at {}."
        yield _told("pot melts", text, *_each("temperature", hottest, melts))


def _each(dimension: str, *values: float, decimals: int | None = None) -> tuple[Quantity, ...]:
    """Values of one dimension, as parts of a sentence."""
    return tuple(Quantity(one, dimension, decimals) for one in values)


def _smothered(setup: Setup, p: Parameters, account: Account) -> Iterator[Verdict]:
    """An open well under a pot that lets too little air in.

    Closer below the pot no flame lives over the well, and inside the sheet of lit jets none does either: its vapour
    burns with the jets', whose air counts theirs. What flashes for a second as the last film dries and the jets go out
    tells nothing of the rest.
    """
    if setup.pot is None or p.vent.open < 0.5 or p.well.present <= 0.0:
        return
    fire, x = p.fire, setup.charge.fuel.mole_fractions
    heat = sum(share * value for share, value in zip(x, fire.heating_value, strict=True))
    air_per_joule = sum(share * need for share, need in zip(x, fire.air_moles, strict=True)) / max(heat, 1.0)
    closed = p.jets.closing * (account.column("flame_length") > 0.0)
    well = (1.0 - closed) * (account.column("power") - account.column("jet_power") - account.column("wick_power"))
    most = _held(well, account)
    level = float(account.column("volume")[most]) / (p.gallery.present * p.gallery.area + p.well.area)
    needed, ullage = float(well[most]) * air_per_joule, max(p.well.height - level, 0.0)
    share = breathing_share(needed, breath(ullage, p))
    if share > BREATHES:
        return
    high = _breathing_gap(setup.pot.gap, needed, ullage, p)
    over = "well" if setup.burner.has_gallery else "cup"
    yield _told(
        "smothered",
        "The pot stands only {} over the " + over + ": air for about {} of its vapour comes in, and the rest burns in "
        "the gap, with more carbon monoxide. Raise the pot to some {} above the rim.",
        Quantity(setup.pot.gap, "length"),
        Quantity(share, "fraction", 0),
        Quantity(high, "length"),
    )


def _held(values: Vector, account: Account) -> int:
    """Place in the account of the highest value that is reached for `HELD` seconds, all told."""
    if len(values) < 2:
        return 0
    order = np.argsort(-values[1:], kind="stable")
    lasted = np.cumsum(np.diff(account.time)[order])
    return int(order[min(int(np.searchsorted(lasted, HELD)), len(order) - 1)]) + 1


def _roomy_gap(length: float, gap: float) -> float:
    """Gap above the rim in which upward flames would have room, rounded up to half a millimetre [m].

    A freer flame heats the rim more and grows: as the cube root of the gap, an estimate that the tests hold against
    burns at the height that is told.
    """
    high: float = (length / CROWDED) ** 1.5 / gap**0.5
    return ceil(high / HALF_MILLIMETRE) * HALF_MILLIMETRE


def _breathing_gap(gap: float, needed: float, ullage: float, p: Parameters) -> float:
    """Gap above the rim at which a well's flame would have its air, rounded up to half a millimetre [m].

    By the laws of `breath`: the curtain passes as the 3/2th power of the gap, which is its area times the root of its
    draught. A flame that breathes more freely gives off more vapour. That is taken to grow as the 3/4 power of the gap,
    with a fifth of height to spare: an estimate, which the tests hold against burns at the height that is told.
    """
    high = gap
    while high < HIGHEST_GAP:
        high += FINE_GAP
        curtain = p.vent.breath * (high / gap) ** 1.5
        raised = replace(p, vent=replace(p.vent, breath=curtain, clearance=p.vent.clearance + high - gap))
        if breathing_share(needed * (high / gap) ** 0.75, breath(ullage, raised)) > BREATHES:
            break
    return ceil(1.2 * high / HALF_MILLIMETRE) * HALF_MILLIMETRE


def _wind(setup: Setup, p: Parameters) -> Iterator[Verdict]:
    """What a wind does to the flames: blown out, or bent past the pot."""
    wind, most = p.site.wind, blow_out_wind(setup.burner.outer_diameter)
    blows, missed = Quantity(wind, "wind speed"), Quantity(p.pot.missed, "fraction", 0)
    if wind > 0.5 * most:
        text = (
            "Wind of {} at the flames may blow them out, which this run does not follow: flames on a burner "
            "this wide withstand about {} (within a factor of two). "
        )
        yield _told("blown out", text + SHIELD, blows, Quantity(most, "wind speed"))
    if p.pot.present <= 0.0 or p.pot.missed <= MISSED:
        return
    if wind <= 0.0:
        text = "Some {} of the flames' gas rises beside the pot, which is narrower than their ring. Use a wider pot."
        yield _told("beside the pot", text, missed)
    else:
        text = "Wind of {} at the flames carries some {} of their gas past the pot. "
        yield _told("wind", text + SHIELD, blows, missed)


def _more_air(setup: Setup) -> str:
    """What lets flames that end above the pot end below it."""
    if setup.screen is not None:
        return "Give the windscreen more room or openings, or use a wider or taller pot, or fewer or smaller jets."
    return "Use a wider or taller pot, or fewer or smaller jets."


def _flames(setup: Setup, p: Parameters, marks: Milestones, account: Account, highest: Snapshot) -> Iterator[Verdict]:
    """Length and lift-off of the jets' flames."""
    jets = setup.burner.jets
    if setup.pot is not None and highest.flame_beyond > 0.05:
        yield _told(
            "flames past the pot",
            "Up to {} of the flames' heat is released above the pot, where the vapour finds the last of its "
            "air: it heats nothing and makes more carbon monoxide. " + _more_air(setup),
            Quantity(highest.flame_beyond, "fraction", 0),
        )
    if jets is None or marks.bloom.time is None:
        return
    if setup.pot is not None and jets.direction == "top":
        lengths = account.column("flame_length")
        length = float(np.median(lengths[lengths > 0.0]))
        if length > CROWDED * setup.pot.above_rim:
            high = _roomy_gap(length, setup.pot.above_rim)
            higher = Text("Raise the pot to {} above the rim or more.", Quantity(high, "length"))
            yield _told(
                "flames on the pot",
                "The jets' flames are some {} long, and the pot stands {} above them: little air comes in "
                "between, and they make more carbon monoxide. {}",
                Quantity(length, "length", digits=2),
                Quantity(setup.pot.above_rim, "length"),
                higher if high <= HIGHEST_GAP else "Use more jets, or narrower ones.",
            )
    limit = lift_off_velocity(jets.diameter, *_burning(setup, p, highest.jet_temperature))
    fastest = highest.exit_velocity
    if fastest > limit:
        fate = "lift off the holes and may go out" if fastest > 2.0 * limit else "may lift off the holes"
        text = (
            "The vapour leaves the jets at up to {}; above about {} (within a factor of two) flames "
            f"{fate}. More or wider jets slow it."
        )
        yield _told("lift-off", text, *_each("velocity", fastest, limit))


def _burning(setup: Setup, p: Parameters, temperature: float) -> tuple[float, float]:
    """Burning velocity [m/s] and thermal diffusivity [m2/s] of vapour and air at a temperature [K]."""
    spirit = setup.charge.fuel
    velocity = heated_burning_velocity(mixed_burning_velocity(spirit.substances, spirit.mole_fractions), temperature)
    return velocity, air.thermal_diffusivity(temperature, p.site.pressure)


def _light_back(
    setup: Setup, p: Parameters, marks: Milestones, account: Account, highest: Snapshot
) -> Iterator[Verdict]:
    """A flame that may pass in through holes: that of lit jets, or that of the match and the primer beside unlit ones.

    What issues from unlit jets is not asked for: vapour and air that lie at rest behind them burn as well.
    """
    jets, well = setup.burner.jets, setup.burner.has_well
    space = "gallery" if well else "chamber"
    if jets is not None:
        thin = setup.burner.wall_thickness < jets.diameter
        quenching = quenching_distance if thin else quenching_diameter
        widest = quenching(*_burning(setup, p, highest.jet_temperature))
        if marks.bloom.time is not None and jets.diameter > widest and highest.airy > 0.0:
            yield _told(
                "light-back",
                "Holes of {} are wider than those that a flame cannot pass, about {}, while there is still air in "
                f"the {space}: the flame may strike back into it. Drill narrower jets.",
                *_each("length", jets.diameter, widest),
            )
            return
        flashes = _flammable(setup, p, account)
        flame = "a match or the primer's flame" if setup.charge.primer > 0.0 else "a match"
        if flashes is not None and jets.diameter > (widest := quenching(*_burning(setup, p, flashes))):
            yield _told(
                "light-back",
                f"Vapour and air in the {space} can burn before the jets are lit, and holes of {{}} are wider than "
                f"those that a flame cannot pass, about {{}}: {flame} at them may flash into the {space}. "
                "Drill narrower jets.",
                *_each("length", jets.diameter, widest),
            )
            return
    relief, start = setup.burner.relief, charge_temperature(setup)
    if relief is None or setup.pot is None or p.vent.open > 0.0 or not _burns(setup, p, start):
        return
    narrow, widest = min(relief.width, relief.depth), quenching_distance(*_burning(setup, p, start))
    if narrow > widest:
        yield _told(
            "light-back",
            "Vapour and air in the well under the pot can burn, and notches of {} are wider than gaps that a flame "
            "cannot pass, about {}: a match at them may flash into the well. File more and narrower notches, or stand "
            "the pot higher.",
            *_each("length", narrow, widest),
        )


def _burns(setup: Setup, p: Parameters, temperature: float) -> bool:
    """Whether vapour and air at rest in a closed space over the charge, at a temperature [K], can burn."""
    lean, rich = flash_point(setup, p), rich_point(setup, p)
    return lean is not None and lean <= temperature <= (temperature if rich is None else rich)


def _flammable(setup: Setup, p: Parameters, account: Account) -> float | None:
    """Temperature at which what lies in the gallery burns, at the match or while the primer burns [K]; None if never.

    In a burn the gas is as warm as the liquid below it; jets that are lit blow the air out.
    """
    start = charge_temperature(setup)
    if _burns(setup, p, start):
        return start
    primed = (account.column("wick_power") > 0.0) & (account.column("jet_power") <= 0.0)
    warmed = account.column("gallery_temperature")[primed]
    return next((one for one in warmed.tolist() if _burns(setup, p, one)), None)
