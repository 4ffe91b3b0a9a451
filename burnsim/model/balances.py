"""The balances: one pure function from state to every flow, and the derivatives that only sum them."""

from typing import NamedTuple

from burnsim.closures.flame import wall_flame_height
from burnsim.model.chambers import Liquid, liquid, liquid_under_vapour
from burnsim.model.fire import FireFlows, PoolFlows, fire_flows, pool_flows, stream_share, wick_rate
from burnsim.model.gas import GasFlows, gas_flows
from burnsim.model.kettle import KettleFlows, kettle_flows, pot_temperature
from burnsim.model.parameters import Parameters
from burnsim.model.slots import SlotFlows, settled_slot_speed, slot_flows
from burnsim.model.state import DATUM, Flames, State
from burnsim.model.walls import WallFlows, wall_flows


class Flows(NamedTuple):
    """Everything that moves at one instant, by room."""

    gallery: Liquid
    well: Liquid
    flames: Flames
    rim_temperature: float  # [K]
    pot_temperature: float  # [K]
    walls: WallFlows
    pool: PoolFlows
    gas: GasFlows
    slots: SlotFlows
    fire: FireFlows
    kettle: KettleFlows


def balances(state: State, flames: Flames, p: Parameters) -> Flows:
    """Every flow of mass and heat in a burn at one instant.

    Parameters
    ----------
    state : conserved quantities
    flames : which flames stand
    p : parameters of the setup

    Returns
    -------
    Flows
    """
    gallery = liquid_under_vapour(state.gallery, state.gallery_heat, state.air, p.gallery, p)
    well = liquid(state.well, state.well_heat, p.well, p)
    rim = min(max(DATUM + state.rim_heat / p.walls.rim_capacity, 180.0), 1800.0)
    pot = pot_temperature(state.water, state.pot_heat, p)

    burning = wick_rate(state.wick, flames.wick, p)
    bathed = 0.0
    vigour = 0.0
    if burning > 0.0:
        height = wall_flame_height(burning * p.wick.heating_value / p.walls.outer_perimeter)
        above = max(p.walls.top - p.wick.height, 1e-3)
        wall = p.wick.wall_coefficient * p.walls.outer_perimeter * above
        power = burning * p.wick.heating_value
        vigour = stream_share(wall + p.wick.conduction, power, p.wick.flame_temperature, p)
        bathed = min(height / above, 1.0) * vigour
    walls = wall_flows(gallery, well, rim, pot, vigour, bathed, p)
    pool = pool_flows(well, walls.into_well, rim, flames.well, p)
    gas = gas_flows(gallery, well, state.air, rim, walls, pool.vapour, p)
    gauge = gas.gallery_pressure - gas.well_pressure
    through = slot_flows(gallery, well, gauge, state.slot_speed, p)
    fire = fire_flows(
        gas, pool, gallery, well, rim, burning, bathed, walls.wick_to_wall + walls.wick_to_liquid, flames, p
    )
    lit = min(flames.wick + flames.jets + flames.well, 1.0)
    kettle = kettle_flows(fire, state.water, pot, walls.contact, lit, p)
    return Flows(gallery, well, flames, rim, pot, walls, pool, gas, through, fire, kettle)


def derivatives(flows: Flows, p: Parameters) -> list[float]:
    """Rates of change of the flat state followed by those of the tallies; sums of flows and nothing else.

    The entry of the slots' speed is not a rate but the residual of its pressure balance, zero at every instant [Pa].

    Order as in `burnsim.model.state`.
    """
    n = p.components
    gas = flows.gas
    walls = flows.walls
    fire = flows.fire
    kettle = flows.kettle
    lit = flows.flames.jets
    vented = gas.well_vapour - gas.blow_back - gas.blow_kept
    leaving = gas.through_jets + gas.blow
    gallery = []
    well = []
    burnt = []
    unburnt = []
    spilled = []
    for i in range(n):
        from_gallery = flows.gallery.vapour[i]
        from_well = flows.well.vapour[i]
        passed = flows.slots.out * flows.gallery.fractions[i] - flows.slots.back * flows.well.fractions[i]
        lost = gas.spill_rate * flows.gallery.fractions[i]
        over = gas.rim_rate * flows.well.fractions[i]
        jets = gas.through_jets * from_gallery + gas.blow_back * from_well
        vent = vented * from_well + gas.blow * from_gallery
        gallery.append(gas.blow_kept * from_well - leaving * from_gallery - passed - lost)
        well.append(-gas.well_vapour * from_well + passed - over)
        burnt.append(lit * jets + fire.vent_burns * vent + fire.wick_rate * p.wick.fractions[i])
        unburnt.append((1.0 - lit) * jets + (1.0 - fire.vent_burns) * vent)
        spilled.append(lost + over)
    gallery_heat = (
        walls.into_gallery
        - walls.divider
        - walls.gallery_loss
        + gas.blow_kept * flows.well.vapour_heat
        - leaving * flows.gallery.vapour_heat
        - flows.slots.heat
        - gas.spill_heat
    )
    well_heat = (
        walls.into_well
        + min(walls.divider, 0.0)
        - walls.well_loss
        + flows.pool.heat
        - gas.well_vapour * flows.well.vapour_heat
        + flows.slots.heat
        - gas.rim_heat
    )
    rim_heat = (
        fire.jets_to_rim
        + fire.wick_to_rim
        + fire.edge_to_rim
        - walls.from_rim
        - walls.rim_loss
        - walls.contact
        - gas.jet_superheat
        - gas.crossing_heat
    )
    water = -kettle.evaporation - kettle.boil_off
    pot_heat = kettle.bottom + kettle.wall + kettle.radiation + walls.contact - kettle.loss - kettle.steam_heat
    if p.kettle.present <= 0.0:
        pot_heat = 0.0
    spilled_heat = gas.spill_heat + gas.rim_heat + sum([spilled[i] * p.fire.heating_value[i] for i in range(n)])
    return [
        *gallery,
        *well,
        gallery_heat,
        well_heat,
        rim_heat,
        -fire.wick_rate,
        gas.air_rate,
        water,
        pot_heat,
        flows.slots.drive - flows.slots.loss,
        *burnt,
        *unburnt,
        *spilled,
        fire.unburnt_heat,
        spilled_heat,
        kettle.radiation_lost,
        kettle.flue,
        walls.gallery_loss + walls.well_loss + walls.rim_loss,
        kettle.loss,
        kettle.steam_heat,
    ]


def settled(flows: Flows, p: Parameters) -> Flows:
    """The same instant with the feed slots' speed at the root of its pressure balance."""
    return with_slot_speed(flows, settled_slot_speed(flows.gallery, flows.well, flows.slots.drive, p), p)


def with_slot_speed(flows: Flows, speed: float, p: Parameters) -> Flows:
    """The same instant with another speed in the feed slots [m/s]: nothing else depends on it."""
    gauge = flows.gas.gallery_pressure - flows.gas.well_pressure
    return Flows(
        flows.gallery,
        flows.well,
        flows.flames,
        flows.rim_temperature,
        flows.pot_temperature,
        flows.walls,
        flows.pool,
        flows.gas,
        slot_flows(flows.gallery, flows.well, gauge, speed, p),
        flows.fire,
        flows.kettle,
    )


def with_pot(flows: Flows, water: float, heat: float, p: Parameters) -> Flows:
    """The same instant with other water [kg] or heat [J] in the pot: only its own flows and the contact change."""
    pot = pot_temperature(water, heat, p)
    contact = p.walls.contact * (flows.rim_temperature - pot)
    lit = min(flows.flames.wick + flows.flames.jets + flows.flames.well, 1.0)
    kettle = kettle_flows(flows.fire, water, pot, contact, lit, p)
    return flows._replace(pot_temperature=pot, walls=flows.walls._replace(contact=contact), kettle=kettle)
