"""The flames: wick, jets, an open well and vented vapour; what they burn and what they give to the burner."""

from math import cbrt, exp, log1p, pi, sqrt

from burnsim.closures.flame import (
    FLAME_TEMPERATURE,
    flame_width,
    jet_flame_reach,
    mixed_velocity,
    reduced_gravity,
    roper_length,
)
from burnsim.closures.wall_fire import flame_cover
from burnsim.constants import AIR_MOLAR_MASS, ATMOSPHERE, GAS_CONSTANT
from burnsim.model.balances.chambers import Liquid, fade
from burnsim.model.balances.gas import GasFlows
from burnsim.model.balances.pool import PoolFlows
from burnsim.model.balances.state import Regime
from burnsim.model.balances.streams import stream_share
from burnsim.model.balances.wick import WickFlame
from burnsim.model.parameters.record import Parameters
from burnsim.records import by_slots, record

FLAME_DEPTH = 5e-3  # at which a wick's flame stands off the wall, marched and resolved 4 to 5 mm [m]
LEAN = 1.0
"""Le Chatelier sum below which a jet's gas cannot burn and its flame has no length."""


@record
class FireFlows:
    """What burns and where its heat goes before the gas reaches the pot."""

    wick_rate: float  # [mol/s]
    wick_power: float  # heat released [W]
    jet_power: float
    vent_power: float  # of an open well, or of vapour from the notches
    vent_burns: float  # share of that vapour that burns
    jet_potential: float  # what one jet would release if lit [W]
    jet_limit: float  # Le Chatelier sum of the gas in the jets; lean below 1
    flame_length: float  # of one jet's flame [m]
    flame_reach: float  # sideways from the hole [m]
    exit_velocity: float  # of the jets [m/s]
    jets_to_rim: float  # radiation included [W]
    wick_to_rim: float
    edge_to_rim: float  # edge of a pool's flame, or of flames at notches and gaps
    radiated: float  # all flames together, past the burner [W]
    jet_thrust: float  # momentum of the vapour that the lit jets throw out [N]
    content: float  # heat of all that burns, as vapour [W]
    gas_heat: float  # left in the gas above ambient, before the pot [W]
    fuel_mass: float  # burnt [kg/s]
    air_mass: float  # that it needs [kg/s]
    unburnt_heat: float  # of the vapour that no flame burns, chemical and sensible [W]
    jets_burn: float  # share of the jets' vapour that burns: in flames of its own, or in the wick's that wraps the jets
    wick_tip: float  # height of the wick's flame above its foot [m]


def jet_bathing(width: float, reach: float, length: float, p: Parameters) -> float:
    """Conductance from the jets' flames to the rim [W/K].

    A side jet's flame covers a strip of its own width from the hole to the rim; strips merge when they fill the circle.
    A flame keeps one stand-off (half a quenching distance) off cold metal, or half the distance that its momentum
    throws it away where that is more (combined by cubes); heat crosses the layer by conduction.

    Over a plate an upward jet's flame is a paraboloid with its point on the hole, r^2/r_max^2 = e tau ln(1/tau) with
    tau = z/L (the contour behind `flame_width`). Conduction from its flank over the height above the stand-off d is
    k/d times the circle of its width, times R = e int_0^(1/e) (-ln tau - 1)/(1 + s tau) dtau with s = L/d, here as
    R = 1/(1 + 0.09 s (1 + 0.2 s)^-0.307), within 2 %.

    Parameters
    ----------
    width : greatest width of a flame [m]
    reach : sideways from the hole [m]
    length : of the flame [m]
    p : parameters
    """
    jets = p.jets
    circle = pi * jets.ring_diameter
    crowd = jets.outlet.holes * width / circle
    cover = crowd / sqrt(sqrt(1.0 + crowd**4))
    if jets.top > 0.0:
        slim = length / jets.standoff
        near = 1.0 / (1.0 + 0.09 * slim * exp(-0.307 * log1p(0.2 * slim)))
        return jets.gas_conductivity / jets.standoff * circle * width * cover * near
    layer = cbrt(jets.standoff**3 + (0.5 * reach) ** 3)
    return jets.gas_conductivity / layer * circle * jets.bathed_height * cover


@record
class JetFlames:
    """The flames on the jets; as in `FireFlows`."""

    content: float  # what the vapour would release if lit [W]
    air: float  # that it needs [mol/s]
    limit: float
    length: float
    reach: float
    speed: float
    to_rim: float
    radiation: float


@by_slots
def jet_flames(gas: GasFlows, gallery: Liquid, well: Liquid, rim: float, lit: float, p: Parameters) -> JetFlames:
    """Length, bending and heat of the flames that the jets hold, or would hold if lit.

    Parameters
    ----------
    gas : flows of vapour
    gallery, well : the liquids that the vapours come from
    rim : rim temperature [K]
    lit : 1.0 while the jets burn
    p : parameters
    """
    jets = p.jets
    room = p.site.temperature
    content = gas.through_jets * gallery.heating_value + gas.blow_back * well.heating_value
    air = gas.through_jets * gallery.air_need + gas.blow_back * well.air_need
    limit = 0.0
    if gas.jet_flow > 0.0:
        limit = (gas.through_jets * gallery.richness + gas.blow_back * well.richness) / gas.jet_flow
    if limit < LEAN:
        return JetFlames(
            content=content, air=air, limit=limit, length=0.0, reach=0.0, speed=0.0, to_rim=0.0, radiation=0.0
        )
    moles = gas.jet_flow / jets.outlet.holes
    hot = gas.jet_temperature
    speed = moles * GAS_CONSTANT * hot / (p.site.pressure * jets.area)
    need = air / gas.jet_flow
    lift = reduced_gravity(FLAME_TEMPERATURE, room)
    standard = moles * GAS_CONSTANT * hot / ATMOSPHERE
    slowed = mixed_velocity(speed, need * AIR_MOLAR_MASS / gas.jet_mass)
    length = roper_length(standard, need, hot, room, FLAME_TEMPERATURE)
    reach = jet_flame_reach(length, slowed, lift)[0]
    to_rim = 0.0
    radiation = 0.0
    if lit > 0.0:
        width = flame_width(standard, need, hot, FLAME_TEMPERATURE, slowed, length, lift)
        sheet = gallery.sheet
        if gas.blow_back > 0.0:
            part = gas.blow_back / (gas.through_jets + gas.blow_back)
            sheet += part * (well.sheet - gallery.sheet)
        bathing = p.flame_to_rim * jet_bathing(jets.outlet.diameter + width, reach, length, p)
        to_rim = stream_share(bathing, content, sheet, p) * bathing * (sheet - rim)
        radiation = jets.absorbed * p.radiant_fraction * content
        to_rim += radiation
    return JetFlames(
        content=content,
        air=air,
        limit=limit,
        length=length,
        reach=reach,
        speed=speed,
        to_rim=to_rim,
        radiation=radiation,
    )


def wrapped(tip: float, p: Parameters) -> float:
    """Share of the jets' vapour that the wick's flame burns, whose height above its foot is `tip` [m].

    Between the wick's sheet of flame and the wall there is no air: vapour that leaves a jet there burns in that sheet,
    and the jets hold no flames of their own. The flame closes in on the wall at its tip over about the distance at
    which it stands.
    """
    return fade((tip - p.jets.mouth) / FLAME_DEPTH + 0.5) if tip > 0.0 else 0.0


@by_slots
def fire_flows(
    gas: GasFlows,
    pool: PoolFlows,
    gallery: Liquid,
    well: Liquid,
    rim: float,
    wick: WickFlame,
    wick_to_burner: float,
    regime: Regime,
    p: Parameters,
) -> FireFlows:
    """What every flame burns, gives to the burner, radiates and leaves in its gas.

    Parameters
    ----------
    gas : flows of vapour
    pool : an open well's surface
    gallery, well : the liquids that the vapours come from
    rim : rim temperature [K]
    wick : its flame
    wick_to_burner : heat of the wick's flame that the lower walls take [W]
    regime : which flames stand, and what has begun
    p : parameters
    """
    jets = jet_flames(gas, gallery, well, rim, regime.jets, p)
    jets_burn = regime.jets + (1.0 - regime.jets) * wrapped(wick.tip, p)
    jet_power = jets_burn * jets.content

    # wick: its flame rises past the rim, which it shares with the jets' flames by their power
    wick_power = wick.rate * p.wick.heating_value
    wick_to_rim = 0.0
    if wick_power > 0.0:
        cover = flame_cover(p.walls.rim_low, p.walls.top, wick.tip)
        bathed = wick.bound * cover * wick_power / (wick_power + jet_power)
        wick_to_rim = bathed * p.wick.rim_coefficient * p.walls.rim_area * (p.wick.flame_temperature - rim)

    # open well, or vapour that leaves a covered well through its notches
    own = gas.well_vapour - gas.blow_back - gas.blow_kept
    vent_content = own * well.heating_value + gas.blow * gallery.heating_value
    vent_burns = regime.well
    vent_edge = 0.0
    if p.vent.open < 1.0 and regime.wick + regime.jets + regime.well > 0.0:
        gap_burns = fade(vent_content / p.vent.hold_power - 0.5)
        if regime.well <= 0.0:
            vent_burns = gap_burns
        conductance = (1.0 - p.vent.open) * p.flame_to_rim * p.walls.edge  # half to the rim, half to the pot above
        share = stream_share(conductance, vent_content, well.sheet, p)
        vent_edge = 0.5 * gap_burns * share * conductance * (well.sheet - rim)
    vent_power = vent_burns * vent_content

    jet_heat = (
        jets.content + gas.through_jets * gallery.vapour_heat + gas.blow_back * well.vapour_heat + gas.jet_superheat
    )
    vent_heat = vent_content + own * well.vapour_heat + gas.blow * gallery.vapour_heat + gas.crossing_heat
    radiated = p.radiant_fraction * (jet_power + vent_power + wick_power) - jets.radiation - pool.radiation
    content = jets_burn * jet_heat + vent_burns * vent_heat + wick.rate * (p.wick.heating_value + p.wick.enthalpy)
    to_burner = jets.to_rim + wick_to_rim + pool.edge + vent_edge + pool.heat + wick_to_burner
    jet_mass = gas.through_jets * gallery.vapour_mass + gas.blow_back * well.vapour_mass
    vent_mass = own * well.vapour_mass + gas.blow * gallery.vapour_mass
    vent_air = own * well.air_need + gas.blow * gallery.air_need
    return FireFlows(
        wick_rate=wick.rate,
        wick_power=wick_power,
        jet_power=jet_power,
        vent_power=vent_power,
        vent_burns=vent_burns,
        jet_potential=jets.content / p.jets.outlet.holes,
        jet_limit=jets.limit,
        flame_length=jets.length,
        flame_reach=jets.reach,
        exit_velocity=jets.speed,
        jets_to_rim=jets.to_rim,
        wick_to_rim=wick_to_rim,
        edge_to_rim=pool.edge + vent_edge,
        radiated=radiated,
        jet_thrust=jets_burn * jet_mass * jets.speed,
        content=content,
        gas_heat=content - radiated - to_burner,
        fuel_mass=jets_burn * jet_mass + vent_burns * vent_mass + wick.rate * p.wick.mass,
        air_mass=AIR_MOLAR_MASS * (jets_burn * jets.air + vent_burns * vent_air) + wick.rate * p.wick.air_mass,
        unburnt_heat=(1.0 - jets_burn) * jet_heat + (1.0 - vent_burns) * vent_heat,
        jets_burn=jets_burn,
        wick_tip=wick.tip,
    )
