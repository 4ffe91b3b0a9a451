"""Every flow of heat and vapour to and from the pot: what the water takes, and what the pot loses.

Vapour of a covered well that condenses on it is a flow of the burner's gas (`reflux.py`).
"""

from collections.abc import Callable
from math import sqrt

from burnsim.bounds import at_least, at_most
from burnsim.closures.evaporation import water_evaporation
from burnsim.closures.exchange import fin_uptake
from burnsim.constants import DATUM
from burnsim.model.balances.chambers import fade
from burnsim.model.balances.fire import FireFlows
from burnsim.model.balances.pot.dew import forming
from burnsim.model.balances.pot.layer import Film
from burnsim.model.balances.pot.way import (
    TRACE,
    HotGas,
    Known,
    gas_near,
    heat_slopes,
    heating_of,
    heats,
    hot_gas,
    missed,
    reached,
)
from burnsim.model.balances.state import Regime, flames_standing
from burnsim.model.parameters.record import Parameters
from burnsim.records import by_slots, like_another, record
from burnsim.substances.water import vapour_pressure

LAST_WATER = 1e-3  # less no longer covers the pot's bottom and dries up slower and slower [kg]
MOVED_DEW = 1e-6  # for a slope, as a share of the dew that just wets all of the pot
BULK_HOTTEST = 1.0  # superheat beyond which the bulk boils no faster: 3 MW/m2, more than any flame brings [K]
BULK_BOILING = 3e6
"""Steam from boiling water's bulk, as heat per area of bottom and per square of its superheat [W/m2/K2].

Its bulk stands some hundredths to tenths of a kelvin above the boiling point: 0.1 K at 30 kW/m2, common
practice, no source.
"""


@record
class PotFlows:
    """What reaches the pot and what leaves it."""

    excess_air: float  # air drawn in by the pot's edge over the air needed, less one
    gas_temperature: float  # mean of the gas at the pot's edge [K]
    bottom: float  # hot gas to the bottom [W]
    wall: float  # hot gas to the side wall [W]
    radiation: float  # flames to the bottom [W]
    radiation_lost: float  # past the pot [W]
    flue: float  # left in the gas [W]
    flame_beyond: float  # share of the flames' heat that is released above the pot's side
    contact: float  # rim to bottom, by conduction and radiation [W]
    loss: float  # dry, from wall, lid and surface [W]
    evaporation: float  # [kg/s]
    boil_off: float  # [kg/s]
    steam_heat: float  # enthalpy of both above liquid at 298.15 K [W]
    dew: float  # water vapour of the flames that condenses on it, less what dries [kg/s]
    dew_heat: float  # latent heat of that [W]
    under: Film  # of gas at the bottom
    beside: Film  # and at the side


def pot_temperature(water: float, heat: float, p: Parameters) -> float:
    """Temperature of water and pot from their enthalpy [K]."""
    return DATUM + heat / (at_least(water, 0.0) * p.pot.water_heat + p.pot.metal)


def surface_evaporation(temperature: float, p: Parameters) -> float:
    """Water that an open pot gives off to the room [kg/s]; 0 under a lid."""
    pot = p.pot
    if pot.lid > 0.0:
        return 0.0
    surface = at_most(vapour_pressure(temperature) / p.site.pressure, 1.0)
    flux = water_evaporation(
        temperature, surface, p.site.temperature, pot.air_vapour, p.site.pressure, pot.wind_transfer
    )
    return pot.disc_area * at_least(flux, 0.0)


def wet_wall(water: float, p: Parameters) -> float:
    """Area of the pot's side wall that so much water wets [m2]."""
    return at_most(p.pot.wet_wall_area_per_kg * at_least(water, 0.0), p.way.edge * p.pot.height)


def steam_enthalpy(temperature: float, p: Parameters) -> float:
    """Enthalpy of water vapour above that of liquid at 298.15 K [J/kg]."""
    h0, slope = p.pot.steam_heat
    return h0 + slope * (temperature - DATUM)


def latent_heat(temperature: float, p: Parameters) -> float:
    """Heat that evaporates water of a temperature [J/kg]."""
    return steam_enthalpy(temperature, p) - p.pot.water_heat * (temperature - DATUM)


@by_slots
def pot_under(
    fire: FireFlows,
    gas: HotGas,
    water: float,
    dew: float,
    temperature: float,
    rim: float,
    regime: Regime,
    p: Parameters,
) -> PotFlows:
    """Every flow of heat and vapour to and from the pot, once it is known what the gas gives it.

    Parameters
    ----------
    fire : the flames
    gas : what theirs does to the pot
    water : in the pot [kg]
    dew : on its outside [kg]
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
            dew=0.0,
            dew_heat=0.0,
            under=gas.under,
            beside=gas.beside,
        )
    radiation = fire.radiated * pot.view_factor * pot.absorptivity
    loss = pot.lid_loss * pot.disc_area * (temperature - site.temperature)
    bare = 1.0 - lit * (1.0 - gas.missed) * pot.sheathed  # share of the side wall that no hot gas sheathes
    wet = wet_wall(water, p)
    if bare > 0.0:
        dry = pot.height - wet / p.way.edge
        fin = p.way.edge * dry * fin_uptake(0.0, dry, dry, sqrt(pot.side_loss / pot.wall_conductance))
        loss += bare * pot.side_loss * (wet + fin) * (temperature - site.temperature)
    left = fade(water / LAST_WATER)
    evaporation = left * surface_evaporation(temperature, p)
    steam = steam_enthalpy(temperature, p)
    latent = latent_heat(temperature, p)
    over = at_most(temperature - pot.boiling_point, BULK_HOTTEST)
    boil_off = 0.0
    if over > 0.0 and regime.boiling > 0.0:
        boil_off = left * pot.disc_area * BULK_BOILING * over * over / at_least(latent, 1e5)
    formed = forming(
        gas.under, gas.beside, gas.bottom + radiation, gas.wall, dew, wet, temperature, latent, fire.moisture, p
    )
    return PotFlows(
        excess_air=gas.excess_air,
        gas_temperature=gas.temperature,
        bottom=gas.bottom,
        wall=gas.wall,
        radiation=radiation,
        radiation_lost=fire.radiated - radiation,
        flue=fire.gas_heat - gas.bottom - gas.wall - formed * latent,
        flame_beyond=gas.flame_beyond,
        contact=p.walls.contact * (rim - temperature)
        + p.walls.pot_emission * (rim * rim * rim * rim - temperature * temperature * temperature * temperature),
        loss=loss,
        evaporation=evaporation,
        boil_off=boil_off,
        steam_heat=(evaporation + boil_off) * steam,
        dew=formed,
        dew_heat=formed * latent,
        under=gas.under,
        beside=gas.beside,
    )


def pot_flows(
    fire: FireFlows, water: float, dew: float, temperature: float, rim: float, regime: Regime, p: Parameters
) -> PotFlows:
    """Every flow of heat and vapour to and from the pot; arguments as of `pot_under`."""
    gas = hot_gas(heating_of(fire, water, temperature, p), p)
    return pot_under(fire, gas, water, dew, temperature, rim, regime, p)


def with_dew_sloping(
    pot: PotFlows, fire: FireFlows, water: float, dew: float, temperature: float, p: Parameters
) -> PotFlows:
    """The pot's flows, followed by 1 kg along their slopes by the dew on it; arguments as of `pot_under`.

    What forms and dries depends on the dew, and nothing else.
    """
    latent = latent_heat(temperature, p)
    wet = wet_wall(water, p)
    move = MOVED_DEW * p.pot.thin_dew
    below = pot.bottom + pot.radiation
    moved = forming(pot.under, pot.beside, below, pot.wall, dew + move, wet, temperature, latent, fire.moisture, p)
    return with_dew(pot, (moved - pot.dew) / move, latent)


with_dew: Callable[[PotFlows, float, float], PotFlows] = like_another(
    "with_dew(pot, more, latent)",
    PotFlows,
    {"dew": "pot.dew + more", "dew_heat": "pot.dew_heat + more * latent", "flue": "pot.flue - more * latent"},
    __name__,
    globals(),
)
"""The pot's flows with more dew that forms on it [kg/s]."""


@by_slots
def known(fire: FireFlows, pot: PotFlows, water: float, temperature: float, p: Parameters) -> Known:
    """What is known of an instant by its flows at the pot; the other arguments as of `pot_under`."""
    h = heating_of(fire, water, temperature, p)
    reaching = at_least(1.0 - missed(h, p), TRACE)
    return Known(
        heating=h,
        slopes=heat_slopes(h, p) if heats(h, p) else h,
        given=(pot.bottom + pot.wall) / reaching,
        bottom=pot.bottom / reaching,
        under=reached(pot.under, 1.0 / reaching),
        beside=reached(pot.beside, 1.0 / reaching),
    )


def pot_near(
    near: Known,
    fire: FireFlows,
    water: float,
    dew: float,
    temperature: float,
    rim: float,
    regime: Regime,
    p: Parameters,
) -> PotFlows:
    """What `pot_flows` gives close to an instant that is known."""
    gas = gas_near(near, heating_of(fire, water, temperature, p), p)
    return pot_under(fire, gas, water, dew, temperature, rim, regime, p)
