"""The pot: hot gas under its bottom and up its wall, what the water takes, and what the pot loses.

Gas thins out on its way. The bottom of the pot sees the gas as mixed half-way to its edge, the side wall as mixed at
the edge. Mixed at once with all the air drawn in under the whole bottom, a wider pot would take less heat.

Left out on purpose. Vapour of a covered well condensing on a cold pot: alcohol vapour is heavier than air and lies
stably below the pot, so that only diffusion carries it, about 0.3 W.
"""

from math import pi, sqrt

from burnsim.bounds import at_least, at_most, within
from burnsim.closures.convection import mixed_coefficient, stagnation_disc
from burnsim.closures.evaporation import water_evaporation
from burnsim.closures.exchange import ntu_effectiveness
from burnsim.closures.plume import gas_temperature
from burnsim.constants import DATUM, GRAVITY
from burnsim.model.balances.chambers import fade
from burnsim.model.balances.fire import FireFlows
from burnsim.model.balances.state import Regime, flames_standing
from burnsim.model.parameters.record import Parameters
from burnsim.records import by_slots, record
from burnsim.substances.water import vapour_pressure

LAST_WATER = 1e-3  # less no longer covers the pot's bottom and dries up slower and slower [kg]
BULK_HOTTEST = 1.0  # superheat beyond which the bulk boils no faster: 3 MW/m2, more than any flame brings [K]
LEAST_AIR = 1e-12  # a flame that needs less is none [kg/s]
BULK_BOILING = 3e6
"""Steam from boiling water's bulk, as heat per area of bottom and per square of its superheat [W/m2/K2].

Its bulk stands some hundredths to tenths of a kelvin above the boiling point: 0.1 K at 30 kW/m2, common
practice, no source.
"""
LEAST_EXCESS = 0.04  # square of twice the excess air that a flame just fed has [-], common practice, no source


@record
class PotFlows:
    """What reaches the pot and what leaves it."""

    excess_air: float  # air drawn in over the air needed
    gas_temperature: float  # below the pot's bottom [K]
    bottom: float  # hot gas to the bottom [W]
    wall: float  # hot gas to the side wall [W]
    radiation: float  # flames to the bottom [W]
    radiation_lost: float  # past the pot [W]
    flue: float  # left in the gas [W]
    flame_beyond: float  # share of the flames' length that lies outside the pot's edge
    contact: float  # rim to bottom, by conduction [W]
    loss: float  # dry, from wall, lid and surface [W]
    evaporation: float  # [kg/s]
    boil_off: float  # [kg/s]
    steam_heat: float  # enthalpy of both above liquid at 298.15 K [W]


def pot_temperature(water: float, heat: float, p: Parameters) -> float:
    """Temperature of water and pot from their enthalpy [K]."""
    return DATUM + heat / (at_least(water, 0.0) * p.pot.water_heat + p.pot.metal)


@record
class HotGas:
    """The gas under the pot and up its wall; as in `PotFlows`."""

    excess_air: float
    temperature: float
    bottom: float
    wall: float
    flame_beyond: float
    missed: float  # share of it that the wind carries past the pot


def excess_air(way: float, needed: float, p: Parameters) -> float:
    """Air drawn in over the air needed, less one, after a way along the flames' sheet [-].

    Parameters
    ----------
    way : along the gas, from the flames' foot [m]
    needed : air for the fuel that burns [kg/s]
    p : parameters
    """
    pot = p.pot
    root = sqrt(way)
    drawn = pi * pot.ring_diameter * mixed_coefficient(pot.sheet_draw * root * sqrt(root), pot.blown_draw * root)
    spare = p.entrainment * drawn / at_least(needed, LEAST_AIR) - 1.0
    return 0.5 * (spare + sqrt(spare * spare + LEAST_EXCESS))


def mixed_temperature(heat: float, fire: FireFlows, excess: float, p: Parameters) -> float:
    """Temperature of the flames' gas with its excess air when it carries so much heat above the room [K]."""
    burnt = fire.fuel_mass + fire.air_mass
    total = burnt + fire.air_mass * excess
    return gas_temperature(heat / total, burnt / total, p.fire.product_heat, p.fire.air_heat, p.site.temperature)


@by_slots
def hot_gas(fire: FireFlows, water: float, temperature: float, p: Parameters) -> HotGas:
    """Mix the flames' gas with the air that it draws in, and pass it under the bottom and up the wall.

    The flames' ring draws in air from outside like an upright laminar sheet, along its way up to the bottom and out to
    the pot's edge. The bottom sees the gas as mixed half-way out, the side wall as mixed at the edge; both pass it as
    heat exchangers whose cold side is the pot. What a wind has carried past the pot's edge by then heats neither.

    Parameters
    ----------
    fire : the flames
    water : in the pot [kg]
    temperature : of pot and water [K]
    p : parameters
    """
    pot = p.pot
    site = p.site
    power = fire.jet_power + fire.vent_power + fire.wick_power
    if power <= 0.0 or fire.air_mass <= 0.0:
        return HotGas(
            excess_air=0.0, temperature=site.temperature, bottom=0.0, wall=0.0, flame_beyond=0.0, missed=pot.missed
        )
    primer = fire.wick_power / power
    rise = pot.rise + primer * (pot.wick_rise - pot.rise)
    missed = pot.missed + primer * (pot.wick_missed - pot.missed)
    reaching = at_least(1.0 - missed, 1e-9)
    excess = excess_air(rise + 0.5 * pot.run, fire.air_mass, p)
    available = at_least(fire.gas_heat, 0.0)
    hot = mixed_temperature(available, fire, excess, p)
    tip = 0.5 * pot.ring_diameter + fire.flame_reach + at_least(fire.flame_length - rise, 0.0)
    beyond = 0.0
    if fire.jet_power > 0.0 and fire.flame_length > 0.0:
        beyond = within((tip - pot.radius) / (fire.flame_length + 1e-9), 0.0, 1.0) * fire.jet_power / power
    if hot <= temperature:
        return HotGas(excess_air=excess, temperature=hot, bottom=0.0, wall=0.0, flame_beyond=beyond, missed=missed)
    stream = available / at_least(hot - site.temperature, 1.0) + 1e-9
    climb = rise + 0.5 * fire.flame_length
    speed = sqrt(2.0 * GRAVITY * at_least(hot / site.temperature - 1.0, 0.0) * climb)
    film = stagnation_disc(speed, pot.ring_diameter, 0.5 * (hot + temperature), site.pressure)
    inside = pot.inside_coefficient
    through = p.flame_to_pot * film * inside / (film + inside) * pot.bottom_area
    under = reaching * stream * (1.0 - beyond) + 1e-9
    bottom = under * (hot - temperature) * ntu_effectiveness(through / under)
    later = excess_air(rise + pot.run, fire.air_mass, p)
    rest = at_least(available - bottom / reaching, 0.0)
    after = mixed_temperature(rest, fire, later, p)
    climbing = reaching * rest / at_least(after - site.temperature, 1.0) + 1e-9
    side = p.flame_to_pot * site.side_coefficient * inside / (site.side_coefficient + inside)
    along = side * pot.sheathed * pot.wet_wall_area_per_kg * at_least(water, 0.0)
    wall = climbing * at_least(after - temperature, 0.0) * ntu_effectiveness(along / climbing)
    return HotGas(excess_air=excess, temperature=hot, bottom=bottom, wall=wall, flame_beyond=beyond, missed=missed)


def surface_evaporation(temperature: float, p: Parameters) -> float:
    """Water that an open pot gives off to the room [kg/s]; 0 under a lid."""
    pot = p.pot
    if pot.lid > 0.0:
        return 0.0
    surface = at_most(vapour_pressure(temperature) / p.site.pressure, 1.0)
    flux = water_evaporation(temperature, surface, p.site.temperature, pot.air_vapour, p.site.pressure)
    return pot.disc_area * at_least(flux, 0.0)


@by_slots
def pot_flows(fire: FireFlows, water: float, temperature: float, rim: float, regime: Regime, p: Parameters) -> PotFlows:
    """Every flow of heat and vapour to and from the pot.

    Parameters
    ----------
    fire : the flames
    water : in the pot [kg]
    temperature : of pot and water [K]
    rim : temperature of the burner's rim [K]
    regime : which flames stand, and what has begun
    p : parameters
    """
    pot = p.pot
    site = p.site
    lit = at_most(flames_standing(regime), 1.0)
    if pot.present <= 0.0:
        return PotFlows(
            excess_air=0.0,
            gas_temperature=site.temperature,
            bottom=0.0,
            wall=0.0,
            radiation=0.0,
            radiation_lost=fire.radiated,
            flue=fire.gas_heat,
            flame_beyond=0.0,
            contact=0.0,
            loss=0.0,
            evaporation=0.0,
            boil_off=0.0,
            steam_heat=0.0,
        )
    gas = hot_gas(fire, water, temperature, p)
    radiation = fire.radiated * pot.view_factor * pot.absorptivity
    loss = pot.lid_loss * pot.disc_area * (temperature - site.temperature)
    bare = 1.0 - lit * (1.0 - gas.missed) * pot.sheathed  # share of the side wall that no hot gas sheathes
    wall_area = pot.wet_wall_area_per_kg * at_least(water, 0.0)
    loss += bare * pot.side_loss * wall_area * (temperature - site.temperature)
    left = fade(water / LAST_WATER)
    evaporation = left * surface_evaporation(temperature, p)
    h0, slope = pot.steam_heat
    steam = h0 + slope * (temperature - DATUM)
    latent = steam - pot.water_heat * (temperature - DATUM)
    over = at_most(temperature - pot.boiling_point, BULK_HOTTEST)
    boil_off = 0.0
    if over > 0.0 and regime.boiling > 0.0:
        boil_off = left * pot.disc_area * BULK_BOILING * over * over / at_least(latent, 1e5)
    return PotFlows(
        excess_air=gas.excess_air,
        gas_temperature=gas.temperature,
        bottom=gas.bottom,
        wall=gas.wall,
        radiation=radiation,
        radiation_lost=fire.radiated - radiation,
        flue=fire.gas_heat - gas.bottom - gas.wall,
        flame_beyond=gas.flame_beyond,
        contact=p.walls.contact * (rim - temperature),
        loss=loss,
        evaporation=evaporation,
        boil_off=boil_off,
        steam_heat=(evaporation + boil_off) * steam,
    )
