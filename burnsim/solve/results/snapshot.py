"""What a result keeps of one instant: the few numbers from which milestones, figures and verdicts are read.

The march of one burn and the compiled march of many take the same snapshots at the ends of their steps, so that every
result is read off in one way.
"""

from math import sqrt
from typing import NamedTuple

from burnsim.bounds import at_most
from burnsim.constants import GAS_CONSTANT
from burnsim.model.balances.events import froth_level, kindled
from burnsim.model.balances.flows import Flows
from burnsim.model.balances.pressure import VAPOUR_GAMMA
from burnsim.model.balances.state import State
from burnsim.model.parameters.record import Parameters
from burnsim.records import by_slots

AIRY = 0.05  # share of air in the gallery's gas from which a flame might run back into it


class Snapshot(NamedTuple):
    """One instant of a burn in a few numbers."""

    power: float  # of all flames [W]
    wick_power: float  # [W]
    jet_power: float  # [W]
    jet_potential: float  # what one jet would release if lit [W]
    jet_limit: float  # Le Chatelier sum of the jets' gas
    wrapped: float  # share of it that burns in the wick's flame
    reached: float  # how far the flame that would light it reaches, over the way to it, less one; 1 if it stands there
    gallery_temperature: float  # [K]
    collar_temperature: float  # of the wall that side jets heat, that of the rim without them [K]
    rim_temperature: float  # [K]
    pot_temperature: float  # [K]
    water: float  # in the pot [kg]
    gallery_pressure: float  # gauge [Pa]
    well_pressure: float  # gauge [Pa]
    froth: float  # level in the gallery [m]
    flame_beyond: float  # share of the flames' heat that is released above the pot while jets burn
    flame_length: float  # of a burning jet [m]
    exit_velocity: float  # of a burning jet, at most that of sound [m/s]
    jet_temperature: float  # of the gas [K]
    airy: float  # 1.0 while gas that burns at the jets, in their flames or the wick's, comes with air from the gallery
    fed: float  # heat that reaches the fuel [W]
    made: float  # heat of jets and well [W]
    contact: float  # rim to pot [W]
    to_rim: float  # jets' and wick's flames to rim and collar [W]
    gallery_level: float  # [m]
    gallery_density: float  # [kg/m3]
    gallery_water: float  # mole fraction of water in the gallery's liquid
    volume: float  # of liquid in gallery and well [m3]


def total_power(flows: Flows) -> float:
    """Heat released by all flames [W]."""
    return flows.fire.jet_power + flows.fire.wick_power + flows.fire.vent_power


def water_share(x: tuple[float, ...], p: Parameters) -> float:
    """Mole fraction of water in a mixture."""
    return x[p.fuel.water_index] if p.fuel.water_index >= 0 else 0.0


@by_slots
def snapshot(state: State, flows: Flows, p: Parameters) -> Snapshot:
    """Take the snapshot of an instant, of which the state and the flows are those."""
    fire = flows.fire
    walls = flows.walls
    gallery = flows.gallery
    burning = flows.regime.jets
    sound = sqrt(VAPOUR_GAMMA * GAS_CONSTANT * flows.gas.jet_temperature / flows.gas.jet_mass)
    airy = 1.0 if fire.at_jets > 0.0 and flows.gas.air_fraction > AIRY and fire.jet_limit >= 1.0 else 0.0
    return Snapshot(
        power=total_power(flows), wick_power=fire.wick_power, jet_power=fire.jet_power,
        jet_potential=fire.jet_potential, jet_limit=fire.jet_limit, wrapped=fire.wrapped,
        reached=kindled(flows, p.jets.mouth, p), gallery_temperature=gallery.temperature,
        collar_temperature=flows.collar_temperature, rim_temperature=flows.rim_temperature,
        pot_temperature=flows.pot_temperature, water=state.water,
        gallery_pressure=flows.gas.gallery_pressure, well_pressure=flows.gas.well_pressure, froth=froth_level(flows, p),
        flame_beyond=burning * flows.pot.flame_beyond, flame_length=burning * fire.flame_length,
        exit_velocity=burning * at_most(fire.exit_velocity, sound), jet_temperature=flows.gas.jet_temperature,
        airy=airy, fed=walls.outer_foot + walls.gallery_inner + walls.well_inner + walls.underside + flows.pool.heat
        - flows.gas.from_feet,
        made=fire.jet_power + fire.vent_power, contact=flows.pot.contact, to_rim=fire.jets_to_rim + fire.wick_to_rim,
        gallery_level=gallery.level, gallery_density=gallery.density, gallery_water=water_share(gallery.fractions, p),
        volume=gallery.volume + flows.well.volume,
    )  # fmt: skip
