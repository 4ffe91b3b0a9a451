"""A burn assembled a second way: gas in both headspaces as states, absolute pressures, a general stiff solver.

The march of the library takes the gas as quasi-steady and solves its gauge pressures inside every evaluation. Here the
pressures in gallery and well are states: P V = n R T, with the rates of the gas, of the volume that the liquid leaves
free and of the temperature (carried as P less that of the open air, for the sake of rounding). The pressure drives gas
through jets and notches, and through bare feed slots, and back in. Nothing is solved inside an evaluation but the
closed form of an opening's flow. SciPy's BDF integrates, from one switch of the flames to the next.

Laws of single rooms (a wall's fin, a flame, a pot, boiling) are shared with the library; every balance is written anew.
Pure fuels only.
"""

from collections.abc import Callable
from math import pi
from typing import NamedTuple

import numpy as np
from scipy.integrate import solve_ivp

from burnsim.closures.evaporation import stefan_flux
from burnsim.closures.orifice import velocity
from burnsim.constants import AIR_MOLAR_MASS, DATUM, GAS_CONSTANT
from burnsim.model.balances.chambers import (
    Liquid,
    liquid,
    liquid_under_vapour,
    stratified,
)
from burnsim.model.balances.events import CHANGES, EVENTS, REGIME_EVENTS, guards
from burnsim.model.balances.fire import fire_flows
from burnsim.model.balances.flows import Flows
from burnsim.model.balances.gas import GasFlows, caught, exposed, slot_head, superheating
from burnsim.model.balances.pool import closed_by_jets, pool_flows
from burnsim.model.balances.pot.flows import pot_flows, pot_temperature
from burnsim.model.balances.pot.reflux import bottom_over_well, lid_over, refluxed
from burnsim.model.balances.pressure import blow_rate, boil_rate, wall_heated_temperature
from burnsim.model.balances.slots import slot_flows, turnover
from burnsim.model.balances.state import Regime, flames_standing
from burnsim.model.balances.walls import wall_flows
from burnsim.model.balances.wick import wick_flame
from burnsim.model.description.setup import Setup
from burnsim.model.parameters.derive import derive, first_state
from burnsim.model.parameters.record import Chamber, Outlet, Parameters
from burnsim.solve.ignition import lighting
from burnsim.substances.fuel import diffusivity, gas_heat_capacity, liquid_volume, vapour_viscosity, viscosity

HORIZON = 4.0 * 3600.0
SCALE = np.array(
    [0.01, 0.01, 50.0, 50.0, 10.0, 1e-3, 0.1, 1e3, 1.0, 1e-4, 1.0, 1e-4, 0.1, 0.1, 1.0, 1e-3, 10.0, 1.0, 1.0]
)
"""Sizes of the states that matter."""

(LIQUID, WELL, HEAT, WELL_HEAT, RIM, WICK, WATER, POT, GAUGE) = range(9)
(AIR, WELL_GAUGE, WELL_AIR, BURNT, OUT, CHILL, DEW, DRY, HOT_TOP, COLLAR) = range(9, 19)


def switch(event: str, regime: Regime) -> Regime:
    """The regime after an event."""
    entry, value = CHANGES.get(event, ("wick", regime.wick))
    return regime._replace(**{entry: value})


class Course(NamedTuple):
    """What the second assembly found."""

    bloom: float | None
    boil: float | None
    burnout: float | None
    gauge_max: float  # in the gallery [Pa]
    lost: float  # what the balance of fuel is open by, as a share of the charge
    evaluations: int


class Instant(NamedTuple):
    """Flows of an instant as the library's guards want them, and the slopes of the states."""

    flows: Flows
    slopes: np.ndarray


def free_volume(chamber: Chamber, body: Liquid) -> float:
    room = chamber.area * chamber.height
    return max(room - body.volume, 0.02 * room)


class Headspace(NamedTuple):
    """The gas of a compartment."""

    moles: float
    rich: float  # share of vapour


def headspace(body: Liquid, chamber: Chamber, gauge: float, air: float, p: Parameters) -> Headspace:
    """What a headspace holds at its absolute pressure: an ideal gas as warm as the liquid."""
    moles = (p.site.pressure + gauge) * free_volume(chamber, body) / (GAS_CONSTANT * body.temperature)
    return Headspace(moles, min(max(1.0 - air / moles, 0.0), 1.0))


def pressing(
    body: Liquid, chamber: Chamber, gauge: float, moles: float, gas: float, heat: float, p: Parameters
) -> float:
    """Rate of change of the pressure [Pa/s]: P V = n R T with the rates of gas, liquid and heat.

    Parameters
    ----------
    body, chamber, gauge : of the compartment
    moles : rate of its liquid [mol/s]
    gas : rate of its gas [mol/s]
    heat : rate of the enthalpy of liquid and metal [W]
    p : parameters
    """
    pressure = p.site.pressure + gauge
    room = free_volume(chamber, body)
    warming = (heat - moles * body.enthalpy) / body.capacity
    swelling = 0.0
    if room > 0.02 * chamber.area * chamber.height:
        held, T = (body.moles,), body.temperature
        expansion = (liquid_volume(held, T + 0.5, p.fuel) - liquid_volume(held, T - 0.5, p.fuel)) * warming
        swelling = moles * body.volume / max(body.moles, 1e-12) + expansion
    return (
        gas * GAS_CONSTANT * body.temperature / room
        + pressure * warming / body.temperature
        + pressure * swelling / room
    )


def through(outlet: Outlet, drive: float, mass: float, temperature: float, p: Parameters) -> float:
    """Moles of gas through an outlet under a pressure difference [mol/s]; odd in it."""
    concentration = p.site.pressure / (GAS_CONSTANT * temperature)
    thickness = vapour_viscosity(temperature, p.fuel)
    total = drive * outlet.leak / thickness * concentration if outlet.leak > 0.0 else 0.0
    if outlet.holes > 0.0:
        area = outlet.holes * pi / 4.0 * outlet.diameter**2
        speed = velocity(
            drive, concentration * mass, thickness, outlet.diameter, outlet.inertial_loss, outlet.laminar_loss
        )
        total += area * speed * concentration
    return total


def diffused(body: Liquid, chamber: Chamber, share: float, p: Parameters) -> float:
    """Vapour that leaves a quiet surface into gas of a given vapour share [mol/s].

    None condenses on it: the mean of a liquid that is heated from its side may be colder than its surface.
    """
    pressure = p.site.pressure
    flux = stefan_flux(
        diffusivity(body.temperature, pressure, p.fuel),
        chamber.diffusion_length,
        pressure / (GAS_CONSTANT * body.temperature),
        min(body.bubble_pressure / pressure, 0.999),
        min(share, 0.999),
    )
    return body.wet * chamber.area * max(flux, 0.0)


def instant(y: np.ndarray, regime: Regime, p: Parameters) -> Instant:  # noqa: PLR0915  (one list of balances)
    """Every balance, from the states alone."""
    gallery = liquid((float(y[LIQUID]),), float(y[HEAT]), float(y[CHILL]), p.gallery, p)
    well = liquid((float(y[WELL]),), float(y[WELL_HEAT]), 0.0, p.well, p)
    rim = min(max(DATUM + float(y[RIM]) / p.walls.rim_capacity, 180.0), 1800.0)
    ringed = p.collar.present > 0.0
    collar = min(max(DATUM + float(y[COLLAR]) / p.collar.capacity, 180.0), 1800.0) if ringed else rim
    water, pot_heat = float(y[WATER]), float(y[POT])
    temperature_of_pot = pot_temperature(water, pot_heat, p)

    wick = wick_flame(float(y[WICK]), gallery if p.gallery.present > 0.0 else well, regime.wick, p)
    dry = DATUM + float(y[DRY]) / p.walls.dry_capacity
    walls = wall_flows(gallery, well, collar, rim, dry, wick, p)
    gallery, well = stratified(gallery, float(y[HOT_TOP]), p), stratified(well, walls.well_top, p)
    closed = closed_by_jets(gallery, walls.into_gallery, regime.jets, p)
    pool = pool_flows(well, walls.into_well, walls.well_strips, rim, regime.well, closed, p)

    # gallery: what it holds gives its pressure
    gauge, well_gauge = float(y[GAUGE]), 0.0
    space = headspace(gallery, p.gallery, gauge, float(y[AIR]), p)
    rich = space.rich
    mass = rich * gallery.vapour_mass + (1.0 - rich) * AIR_MOLAR_MASS
    leaving, hot = 0.0, gallery.temperature
    upper = p.collar.beside * collar + (1.0 - p.collar.beside) * rim
    for _ in range(3):  # the gas is heated on its way by as much as its flow allows
        leaving = through(p.jets.outlet, gauge, mass, hot, p)
        transfer = (
            p.jets.superheat_coefficient
            * p.jets.superheat_perimeter
            * max(min(p.jets.mouth, p.gallery.height) - gallery.level, 0.0)
        )
        capacity = gas_heat_capacity(gallery.gas_heat, gallery.temperature, hot)
        hot = wall_heated_temperature(max(leaving, 0.0), capacity, transfer, gallery.temperature, upper)

    out = max(leaving, 0.0)
    superheat = out * rich * superheating(gallery, hot)
    dry_wall = max(min(p.jets.mouth, p.gallery.height) - gallery.level, 1e-9)
    below = min(max(p.walls.rim_base - gallery.level, 0.0) / dry_wall, 1.0)
    feet = superheat * 0.5 * gallery.wet * (1.0 - p.collar.beside * (1.0 - below))
    from_collar = 0.5 * p.collar.beside * superheat
    made = boil_rate(gallery, walls.into_gallery - feet, gauge, p) + diffused(gallery, p.gallery, rich, p)

    # well: the same, with its notches or leak; an open well has the open air above it
    present = p.well.present > 0.0 and p.gallery.present > 0.0
    covered = present and p.vent.open <= 0.0
    well_made, venting, well_rich = pool.vapour, pool.vapour, 1.0
    if covered:
        well_gauge = float(y[WELL_GAUGE])
        well_rich = headspace(well, p.well, well_gauge, float(y[WELL_AIR]), p).rich
        well_made = boil_rate(well, walls.into_well, well_gauge, p)
        well_mass = well_rich * well.vapour_mass + (1.0 - well_rich) * AIR_MOLAR_MASS
        venting = through(p.vent.outlet, well_gauge, well_mass, well.temperature, p)

    # vapour through bare slots, and liquid through filled ones
    lead = well_gauge - gauge
    back = forth = sunk = 0.0
    if present:
        thickness = vapour_viscosity(well.temperature, p.fuel)
        over = slot_head(gallery.level - p.slots.lift, gallery.density, p)
        back = blow_rate(lead - over, exposed(well, p), well.vapour_mass, well.temperature, thickness, p)
        under = slot_head(well.level, well.density, p)
        forth = blow_rate(-lead - under, exposed(gallery, p), gallery.vapour_mass, gallery.temperature, thickness, p)
        sunk = forth * caught(gallery, well, p)
    still = slot_flows(gallery, well, -lead, 0.0, p)
    donor = gallery if still.drive >= 0.0 else well
    opening = p.slots.diameter, p.slots.inertial_loss, p.slots.laminar_loss
    speed = velocity(still.drive, donor.density, viscosity(donor.temperature, p.fuel), *opening) if present else 0.0
    slots = slot_flows(gallery, well, -lead, speed, p)

    vapour_out, air_out = out * rich, out * (1.0 - rich)
    air_in = max(-leaving, 0.0)
    # what condenses on the pot comes back before it leaves; an open part of the well has no gas of its own
    lid = lid_over(well, bottom_over_well(gallery, wick, temperature_of_pot, rim, regime, p), vapour_out, p)
    dripping = refluxed(well_made - back, lid)
    vent_out = max(venting, 0.0) * well_rich
    if not covered:
        vent_out -= dripping.back
    crossed = (forth - sunk) * superheating(gallery, well.temperature)
    # vapour that has crossed the slots mixes with what is there: the flames see what leaves
    gas = GasFlows(
        gauge, well_gauge, made, vent_out, vapour_out, 0.0, 0.0, 0.0, 0.0, air_out, out + 1e-15, mass, hot, superheat,
        feet, crossed, air_in - air_out, 1.0 - rich, 0.0, 0.0, 0.0, 0.0, 0.0, dripping.heat,
    )  # fmt: skip
    fire = fire_flows(gas, pool, gallery, well, collar, rim, wick, walls.wick_to_wall + walls.wick_to_liquid, regime, p)
    pot = pot_flows(fire, water, float(y[DEW]), temperature_of_pot, rim, regime, p)
    flows = Flows(gallery, well, regime, collar, rim, temperature_of_pot, wick, walls, pool, gas, slots, fire, pot)

    slopes = np.zeros(19)
    slopes[LIQUID] = -made - slots.out + slots.back
    slopes[WELL] = -well_made + dripping.back + sunk + slots.out - slots.back
    slopes[HEAT] = walls.into_gallery - walls.divider - walls.gallery_loss - made * gallery.vapour_heat - slots.heat
    slopes[HEAT] -= feet
    slopes[WELL_HEAT] = (
        walls.into_well
        + min(walls.divider, 0.0)
        - walls.well_loss
        + pool.heat
        + sunk * gallery.vapour_heat
        - (well_made - dripping.back) * well.vapour_heat
        + slots.heat
        - gas.reflux
    )
    if p.gallery.present > 0.0:
        turned = turnover(gallery, walls.into_gallery, p)
        slopes[CHILL] = slots.chill - float(y[CHILL]) * turned
        slopes[HOT_TOP] = (walls.gallery_top - float(y[HOT_TOP])) * turned
    slopes[DRY] = walls.warming
    slopes[RIM] = (
        fire.jets_to_rim + fire.wick_to_rim + fire.edge_to_rim - walls.from_rim - walls.rim_loss - pot.contact
        - superheat + feet - crossed
    )  # fmt: skip
    if ringed:
        slopes[COLLAR] = fire.to_collar - walls.from_upper - walls.risen - walls.collar_loss
        slopes[COLLAR] -= from_collar
        slopes[RIM] -= fire.to_collar - walls.risen - from_collar
    else:
        slopes[RIM] -= walls.from_upper
    slopes[WICK] = -wick.rate
    slopes[WATER] = -pot.evaporation - pot.boil_off
    if p.pot.present > 0.0:
        slopes[POT] = pot.bottom + pot.wall + pot.radiation + pot.dew_heat + pot.contact + gas.reflux
        slopes[POT] -= pot.loss + pot.steam_heat
        slopes[DEW] = pot.dew
    if p.gallery.present > 0.0:
        gas_rate = made + back - forth - vapour_out + air_in - air_out
        slopes[GAUGE] = pressing(gallery, p.gallery, gauge, slopes[LIQUID], gas_rate, slopes[HEAT], p)
        slopes[AIR] = air_in - air_out
    if covered:
        gas_rate = well_made + forth - sunk - back - venting - dripping.back
        slopes[WELL_GAUGE] = pressing(well, p.well, well_gauge, slopes[WELL], gas_rate, slopes[WELL_HEAT], p)
        slopes[WELL_AIR] = max(-venting, 0.0) - max(venting, 0.0) * (1.0 - well_rich)
    gone = vapour_out + vent_out + wick.rate
    lit = regime.jets * vapour_out + fire.vent_burns * vent_out + wick.rate
    slopes[BURNT], slopes[OUT] = lit, gone
    return Instant(flows, slopes)


def fuel_aboard(y: np.ndarray, p: Parameters) -> float:
    """Liquid and vapour in burner and wick [mol]."""
    total = float(y[LIQUID] + y[WELL] + y[WICK])
    if p.gallery.present > 0.0:
        body = liquid((float(y[LIQUID]),), float(y[HEAT]), 0.0, p.gallery, p)
        space = headspace(body, p.gallery, float(y[GAUGE]), float(y[AIR]), p)
        total += space.moles * space.rich
        if p.well.present > 0.0 and p.vent.open <= 0.0:
            body = liquid((float(y[WELL]),), float(y[WELL_HEAT]), 0.0, p.well, p)
            space = headspace(body, p.well, float(y[WELL_GAUGE]), float(y[WELL_AIR]), p)
            total += space.moles * space.rich
    return total


def cross_check(setup: Setup, rtol: float = 1e-5, method: str = "BDF") -> Course:
    """Burn a setup by the second assembly, from match to burn-out."""
    p = derive(setup)
    if p.components != 1:
        raise ValueError("pure fuels only")
    first = first_state(setup, p)
    spark = lighting(setup, p)
    if spark.time is None:
        raise ValueError(spark.reason)
    body = liquid_under_vapour(first.gallery, first.gallery_heat, 0.0, first.air, p.gallery, p)
    warmth = body.moles * body.enthalpy + p.gallery.metal * (body.temperature - DATUM)
    beside = liquid(first.well, first.well_heat, 0.0, p.well, p)
    damp = min(beside.bubble_pressure / p.site.pressure, 1.0)
    dry = (1.0 - damp) * headspace(beside, p.well, 0.0, 0.0, p).moles
    y = np.array(
        [
            body.moles, first.well[0], warmth, first.well_heat, first.rim_heat, first.wick,
            first.water, first.pot_heat, 0.0, first.air, 0.0, dry, 0.0, 0.0, 0.0, 0.0, first.wall_heat, 0.0,
            first.collar_heat,
        ]
    )  # fmt: skip
    charged = fuel_aboard(y, p)
    atol = rtol * SCALE
    now, regime, horizon = 0.0, Regime(0.0, 0.0, 0.0), spark.time
    times: dict[str, float] = {}
    evaluations, highest = 0, 0.0
    while True:

        def slopes(t: float, y: np.ndarray, regime: Regime = regime) -> np.ndarray:
            return instant(y, regime, p).slopes

        def jacobian(t: float, y: np.ndarray, regime: Regime = regime) -> np.ndarray:
            base = instant(y, regime, p).slopes
            columns = []
            for k, nudge in enumerate(1e-6 * np.maximum(np.abs(y), SCALE)):
                nudged = y + nudge * (np.arange(len(y)) == k)
                columns.append((instant(nudged, regime, p).slopes - base) / nudge)
            return np.array(columns).T

        def watched(k: int, regime: Regime = regime) -> Callable[[float, np.ndarray], float]:
            def guard(t: float, state: np.ndarray) -> float:
                return guards(instant(state, regime, p).flows, p)[k]

            guard.terminal = True  # type: ignore[attr-defined]
            guard.direction = 1.0  # type: ignore[attr-defined]
            return guard

        chosen = [k for k, name in enumerate(EVENTS) if name in REGIME_EVENTS]
        begins = guards(instant(y, regime, p).flows, p)
        fired = next((k for k in chosen if begins[k] >= 0.0), None)
        if fired is None:
            course = solve_ivp(
                slopes,
                (now, horizon),
                y,
                method,
                rtol=rtol,
                atol=atol,
                events=[watched(k) for k in chosen],
                max_step=5.0,
                jac=jacobian,
            )
            evaluations += course.nfev
            for column in course.y.T[:: max(len(course.t) // 50, 1)]:
                highest = max(highest, instant(column, regime, p).flows.gas.gallery_pressure)
            now, y = float(course.t[-1]), course.y[:, -1].copy()
            fired = next((k for k, found in zip(chosen, course.t_events, strict=True) if len(found)), None)
        if fired is None:
            if flames_standing(regime) > 0.0:
                break  # the horizon
            regime, horizon = spark.regime, HORIZON
            continue
        times.setdefault(EVENTS[fired], now)
        regime = switch(EVENTS[fired], regime)
        if flames_standing(regime) <= 0.0:
            times["end"] = now
            break
    left = fuel_aboard(y, p)
    return Course(
        times.get("jets_lit"),
        times.get("boil"),
        times.get("end"),
        highest,
        (left + float(y[OUT])) / charged - 1.0,
        evaluations,
    )
