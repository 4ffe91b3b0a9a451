"""The flames: wick, jets, an open well and vented vapour; what they burn and what they give to the burner."""

from math import cbrt, exp, log, log1p, pi, sqrt
from typing import NamedTuple

from burnsim.closures.flame import (
    FLAME_TEMPERATURE,
    flame_width,
    jet_flame_reach,
    mixed_velocity,
    pool_flame_height,
    reduced_gravity,
    roper_length,
)
from burnsim.closures.radiation import line_to_disc_view
from burnsim.model.chambers import AIR_MASS, ATMOSPHERE, GAS_CONSTANT, Liquid
from burnsim.model.gas import GasFlows
from burnsim.model.parameters import Parameters
from burnsim.model.pressure import boil_rate, evaporation_rate
from burnsim.model.state import Flames

LIQUID_ABSORPTIVITY = 0.9  # of alcohols in the infrared, from memory
RICHEST = 0.999  # mole fraction of vapour at a surface: a film theory ends where there is no air left
LEAN = 1.0
"""Le Chatelier sum below which a jet's gas cannot burn and its flame has no length."""


class PoolFlows(NamedTuple):
    """An open well's surface."""

    vapour: float  # leaving the surface [mol/s]
    radiation: float  # of its flame that the liquid absorbs [W]
    heat: float  # from the flame to the surface, radiation included [W]
    edge: float  # from the flame's edge to the rim [W]
    limit: float  # Le Chatelier sum just above the surface; 1 at the flash point


class FireFlows(NamedTuple):
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
    gas_heat: float  # left in the gas above ambient, before the pot [W]
    fuel_mass: float  # burnt [kg/s]
    air_mass: float  # that it needs [kg/s]
    unburnt_heat: float  # of the vapour that no flame burns, chemical and sensible [W]


class PoolSurface(NamedTuple):
    """Surface of a burning pool at a trial temperature."""

    vapour: float  # mole fraction at the surface
    rate: float  # leaving it [mol/s]
    heat: float  # from the flame [W]
    edge: float  # from the flame's edge to the rim [W]
    radiation: float  # in `heat` [W]
    excess: float  # heat above what evaporation and the liquid below take [W]; 0 at the true temperature


def pool_surface(temperature: float, well: Liquid, boiling: float, rim: float, p: Parameters) -> PoolSurface:
    """A burning pool's balance at a surface temperature.

    The mass transfer number of the vapour at the surface, B = Y_s/(1 - Y_s), sets the flux h/cp ln(1+B); the same
    film, thinned by that wind from the surface, carries h(T_flame - T_s) F/(exp(F) - 1) back, F = flux cp/h. Vapour
    standing in the ullage adds its thickness to the film, up to the depth below which eddies stir it. The
    surface passes k/delta (T_s - T) down to the liquid. Under a pot that stands close, flames cover only the part of
    the pool whose vapour the air that comes in can burn; the rest burns in the gap, between rim and pot.

    Sources: D. B. Spalding 1953, Proc. Combust. Inst. 4, 847; R. B. Bird, W. E. Stewart, E. N. Lightfoot, Transport
    Phenomena, film theory with high transfer rates.

    Parameters
    ----------
    temperature : of the surface [K]
    well : the liquid
    boiling : vapour that bubbles through the surface [mol/s]
    rim : rim temperature [K]
    p : parameters
    """
    pool = p.pool
    area = p.well.area * well.wet
    ullage = max(p.well.height - well.level, 0.0)
    still = ullage / (1.0 + ullage / pool.stirred)
    film = 1.0 / (1.0 / pool.film_coefficient + still / pool.gas_conductivity)
    steep = well.latent / GAS_CONSTANT * (1.0 / well.temperature - 1.0 / temperature)
    y = min(well.bubble_pressure / p.site.pressure * exp(min(steep, 50.0)), RICHEST)
    share = y * well.vapour_mass / (y * well.vapour_mass + (1.0 - y) * AIR_MASS)
    evaporated = area * film / pool.gas_heat * log1p(share / (1.0 - share)) / well.vapour_mass
    rate = evaporated + boiling
    blowing = min(rate * well.vapour_mass / p.well.area * pool.gas_heat / film, 60.0)
    thinned = blowing / (exp(blowing) - 1.0) if blowing > 1e-6 else 1.0
    covered = breathing_share(rate * well.air_need, p)
    to_surface = covered * film * area * thinned
    to_rim = 0.5 * (1.0 + covered) * p.flame_to_rim * p.walls.edge * well.wet
    power = rate * well.heating_value
    part = stream_share(to_surface + to_rim, power, well.sheet, p)
    inside = covered * power
    view = line_to_disc_view(pool_flame_height(inside, pool.diameter), 0.5 * pool.diameter)
    radiation = LIQUID_ABSORPTIVITY * view * p.radiant_fraction * inside * well.wet
    heat = part * to_surface * (well.sheet - temperature) + radiation
    edge = part * to_rim * (well.sheet - rim)
    down = pool.conduction * area * (temperature - well.temperature)
    return PoolSurface(y, rate, heat, edge, radiation, heat - evaporated * well.latent - down)


def pool_flows(well: Liquid, heating: float, rim: float, lit: float, p: Parameters) -> PoolFlows:
    """Evaporation and flame of an open well.

    A flame heats the surface, which conducts to the liquid below: it is near the boiling point within seconds, long
    before the liquid is. Its temperature balances heat and vapour (`pool_surface`); no burning rate is given.

    Parameters
    ----------
    well : the liquid
    heating : that the walls pass to it [W]
    rim : rim temperature [K]
    lit : 1.0 while the well burns
    p : parameters
    """
    if p.well.present <= 0.0 or p.vent.open <= 0.0:
        return PoolFlows(0.0, 0.0, 0.0, 0.0, 0.0)
    boiling = boil_rate(well, heating, 0.0, p)
    if lit <= 0.0:
        limit = min(well.bubble_pressure / p.site.pressure, RICHEST) * well.wet * well.richness
        return PoolFlows(evaporation_rate(well, p.well, 1.0, p) + boiling, 0.0, 0.0, 0.0, limit)
    low = well.temperature
    below = pool_surface(low, well, boiling, rim, p)
    if below.excess <= 0.0:
        return PoolFlows(below.rate, below.radiation, below.heat, below.edge, below.vapour * well.wet * well.richness)
    steepest = 1.0 / low - GAS_CONSTANT / well.latent * log(RICHEST * p.site.pressure / well.bubble_pressure)
    high = max(1.0 / steepest, low + 1e-3)
    above = pool_surface(high, well, boiling, rim, p)
    f_low, f_high = below.excess, above.excess
    found = above
    for _ in range(60):
        if f_high >= 0.0:
            break
        middle = low + (high - low) * f_low / (f_low - f_high)
        found = pool_surface(middle, well, boiling, rim, p)
        if abs(found.excess) <= 1e-9 * found.heat:
            break
        if found.excess > 0.0:
            low, f_low = middle, found.excess
            f_high *= 0.5
        else:
            high, f_high = middle, found.excess
            f_low *= 0.5
    return PoolFlows(found.rate, found.radiation, found.heat, found.edge, found.vapour * well.wet * well.richness)


def stream_share(conductance: float, power: float, sheet: float, p: Parameters) -> float:
    """Share of a conductance that a flame of limited power can serve: its gas cools as it gives heat.

    The gas of a flame that releases `power` carries C = (1 - radiated share) power/(T_flame - T_room) per kelvin and
    passes a colder wall as a heat exchanger: Q = C (T_flame - T_wall)(1 - exp(-G/C)). So a flame never gives more
    than it has.

    Parameters
    ----------
    conductance : between the flame at its full temperature and what it bathes [W/K]
    power : heat that the flame releases [W]
    sheet : its temperature [K]
    p : parameters
    """
    if power <= 0.0 or conductance <= 0.0:
        return 0.0
    stream = (1.0 - p.radiant_fraction) * power / (sheet - p.site.temperature)
    units = conductance / stream
    return (1.0 - exp(-min(units, 700.0))) / units if units > 1e-9 else 1.0


def breathing_share(needed: float, p: Parameters) -> float:
    """Share of an open well's vapour that burns over the well: all while air comes in freely, else what air allows.

    1/(1 + (needed/breath)^4)^(1/4), within 16 % of the smaller of 1 and breath/needed.

    Parameters
    ----------
    needed : air for all of it [mol/s]
    p : parameters
    """
    want = needed / p.vent.breath
    return 1.0 / sqrt(sqrt(1.0 + want * want * want * want))


def wick_rate(held: float, lit: float, p: Parameters) -> float:
    """Burning rate of the primer [mol/s]: of the wick, by film theory or capillary supply, whichever is less, and of
    the puddle round the foot of what the wick cannot hold. The wick drinks from that puddle, and stays full.
    """
    if lit <= 0.0 or p.wick.capacity <= 0.0:
        return 0.0
    saturation = min(max(held, 0.0) / p.wick.capacity, 1.0)
    supply = p.wick.supply_rate * saturation**3
    puddle = p.wick.overflow_rate * max(held - p.wick.capacity, 0.0)
    return supply * p.wick.film_rate / (supply + p.wick.film_rate) + puddle


def smooth_step(x: float) -> float:
    """Compact step: 0 up to x = 0, 1 from x = 1.

    >>> smooth_step(-1.0), smooth_step(0.5), smooth_step(2.0)
    (0.0, 0.5, 1.0)
    """
    x = min(max(x, 0.0), 1.0)
    return x * x * (3.0 - 2.0 * x)


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


class JetFlames(NamedTuple):
    """The flames on the jets; as in `FireFlows`."""

    content: float  # what the vapour would release if lit [W]
    air: float  # that it needs [mol/s]
    limit: float
    length: float
    reach: float
    speed: float
    to_rim: float
    radiation: float


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
        return JetFlames(content, air, limit, 0.0, 0.0, 0.0, 0.0, 0.0)
    moles = gas.jet_flow / jets.outlet.holes
    hot = gas.jet_temperature
    speed = moles * GAS_CONSTANT * hot / (p.site.pressure * jets.area)
    need = air / gas.jet_flow
    lift = reduced_gravity(FLAME_TEMPERATURE, room)
    standard = moles * GAS_CONSTANT * hot / ATMOSPHERE
    slowed = mixed_velocity(speed, need * AIR_MASS / gas.jet_mass)
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
    return JetFlames(content, air, limit, length, reach, speed, to_rim, radiation)


def fire_flows(
    gas: GasFlows,
    pool: PoolFlows,
    gallery: Liquid,
    well: Liquid,
    rim: float,
    burning_wick: float,
    bathed: float,
    wick_to_burner: float,
    flames: Flames,
    p: Parameters,
) -> FireFlows:
    """What every flame burns, gives to the burner, radiates and leaves in its gas.

    Parameters
    ----------
    gas : flows of vapour
    pool : an open well's surface
    gallery, well : the liquids that the vapours come from
    rim : rim temperature [K]
    burning_wick : burning rate of the wick [mol/s]
    bathed : share of its full heat that the wick's flame gives to the wall that it can reach
    wick_to_burner : heat of the wick's flame that the lower walls take [W]
    flames : which flames stand
    p : parameters
    """
    jets = jet_flames(gas, gallery, well, rim, flames.jets, p)
    jet_power = flames.jets * jets.content

    # wick: its flame rises past the rim, which it shares with the jets' flames by their power
    wick_power = burning_wick * p.wick.heating_value
    wick_to_rim = 0.0
    if wick_power > 0.0:
        bathed *= wick_power / (wick_power + jet_power)
        wick_to_rim = bathed * p.wick.wall_coefficient * p.walls.rim_area * (p.wick.flame_temperature - rim)

    # open well, or vapour that leaves a covered well through its notches
    own = gas.well_vapour - gas.blow_back - gas.blow_kept
    vent_content = own * well.heating_value + gas.blow * gallery.heating_value
    vent_burns = 0.0
    vent_edge = 0.0
    if p.vent.open > 0.0:
        vent_burns = flames.well
    elif flames.wick + flames.jets > 0.0:
        vent_burns = smooth_step((vent_content / p.vent.hold_power - 0.5) / 1.0)
        conductance = p.flame_to_rim * p.walls.edge  # half of it to the rim, half to the pot above
        share = stream_share(conductance, vent_content, well.sheet, p)
        vent_edge = 0.5 * vent_burns * share * conductance * (well.sheet - rim)
    vent_power = vent_burns * vent_content

    jet_heat = (
        jets.content + gas.through_jets * gallery.vapour_heat + gas.blow_back * well.vapour_heat + gas.jet_superheat
    )
    vent_heat = vent_content + own * well.vapour_heat + gas.blow * gallery.vapour_heat + gas.crossing_heat
    radiated = p.radiant_fraction * (jet_power + vent_power + wick_power) - jets.radiation - pool.radiation
    content = flames.jets * jet_heat + vent_burns * vent_heat + burning_wick * (p.wick.heating_value + p.wick.enthalpy)
    to_burner = jets.to_rim + wick_to_rim + pool.edge + vent_edge + pool.heat + wick_to_burner
    jet_mass = gas.through_jets * gallery.vapour_mass + gas.blow_back * well.vapour_mass
    vent_mass = own * well.vapour_mass + gas.blow * gallery.vapour_mass
    vent_air = own * well.air_need + gas.blow * gallery.air_need
    return FireFlows(
        burning_wick,
        wick_power,
        jet_power,
        vent_power,
        vent_burns,
        jets.content / p.jets.outlet.holes,
        jets.limit,
        jets.length,
        jets.reach,
        jets.speed,
        jets.to_rim,
        wick_to_rim,
        pool.edge + vent_edge,
        radiated,
        content - radiated - to_burner,
        flames.jets * jet_mass + vent_burns * vent_mass + burning_wick * p.wick.mass,
        AIR_MASS * (flames.jets * jets.air + vent_burns * vent_air) + burning_wick * p.wick.air_mass,
        (1.0 - flames.jets) * jet_heat + (1.0 - vent_burns) * vent_heat,
    )
