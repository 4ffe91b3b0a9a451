"""The pot: the flames' gas on its way along it, what the water takes, and what the pot loses.

The gas is one layer of vapour, air and what they have burnt to, marched from the ring where the flames rise under the
bottom and up the side. Across a thin layer mixing is diffusion in the mass flow (`burnsim.closures.layer`), so one
number, the spread, says what has burnt, how warm the gas next to the wall is and how far the wall's cold has come; each
stretch of the way is a closed form. The layer burns what has found air and carries the rest on; buoyancy and the jets
drive it, the walls brake and cool it. What has not burnt at the top of the side burns above the pot and heats nothing.

The constants of the march come from similarity solutions that the tests solve; when a pool's flame is drawn in
(`drawn_in`) alone is read off resolved ones, which are part of those that follow. It meets the pot's share of resolved
flames (benchmarks/resolved) within 5 points in 40 of 44 settled cases and the air at the pot's edge mostly
within a tenth. Missed are 1700 W 25 mm and 500 W 50 mm below a pot (6 too high), and a pool of 300 W 10 and 20 mm below
one (5 too high, 7 too low), where it is how much of its pool a flame heats that is missed. A pool's flame far below a
pot is drawn in to a column as it rises (`drawn_in`); jets rise straight from their ring.
Three stretches on a rise and on a side and four under the bottom, shorter where the layer is young, are within 1.5
points of two hundred.

A pot's dry wall is a fin: what falls on the wall above the water runs down to it.
"""

from math import pi, sqrt

from burnsim.bounds import at_least, at_most
from burnsim.closures.exchange import fin_uptake
from burnsim.closures.layer import (
    SHEET_DRAWN,
    SHEET_MIXING,
    SHEET_MOMENTUM,
    SHEET_SPEED,
    STAGNATION_FILM,
    WALL_DRAG,
    WALL_FILM,
    flame_tip,
    heat_taken,
    sheet_spread,
)
from burnsim.closures.plume import gas_temperature
from burnsim.elementary import hypotenuse, served, third_root
from burnsim.model.balances.chambers import fade
from burnsim.model.balances.fire import FireFlows
from burnsim.model.balances.pot.layer import (
    Film,
    Layer,
    Vapour,
    burning,
    depletion,
    drawn,
    drive,
    exchange,
    moisture_next,
    next_to_wall,
)
from burnsim.model.balances.streams import TURNED, drawn_in
from burnsim.model.parameters.record import Parameters
from burnsim.records import by_slots, record
from burnsim.slopes import slopes_of

BOTTOM_CELLS = 4  # stretches of the gas' way under the bottom; more move no pot's share by 1 %
ENDS = tuple([(k / BOTTOM_CELLS) ** 1.5 for k in range(BOTTOM_CELLS + 1)])  # of these, shorter near the flames' ring
THIRDS = (0.0, (1.0 / 3.0) ** 1.5, (2.0 / 3.0) ** 1.5, 1.0)  # ends of the stretches of a rise, over the whole
DRAG = 4.0 / pi * WALL_DRAG * 0.7  # of the spread's growth; Prandtl number 0.7
LEAST_FUEL = 1e-9  # less vapour is no flame [kg/s]
LEAST_AIR = 1e-12  # a flame needs more [kg/s]
LEAST_SPEED = 1e-2  # of gas up a pot's side [m/s]
BARELY = 5.0  # gas warmer than the pot by less exchanges less and less with it, and none where it is colder [K]
TRACE = 1e-9  # keeps a film without gas finite [W]


@record
class Heating:
    """All that decides what the gas gives the pot, beside the setup; or the slopes of that by each of these."""

    flow: float  # vapour that burns [kg/s]
    air: float  # that it needs [kg/s]
    moisture: float  # water vapour that it leaves [kg/s]
    content: float  # what it releases [W]
    heat: float  # of the gas, once flames have radiated and heated the burner [W]
    thrust: float  # of the jets [N]
    primer: float  # share of the wick in the power of all flames
    pool: float  # share of an open well in it
    temperature: float  # of pot and water [K]
    water: float  # in the pot [kg]


@record
class Passage:
    """The gas on its way along the pot."""

    fuel: Vapour
    sheet: Layer  # where the flames rise to the bottom
    radius: float  # of the ring there [m]
    edge: Layer  # at the pot's edge
    top: Layer  # at the top of its side


@record
class HotGas:
    """What the gas does to the pot; as in `PotFlows`."""

    excess_air: float
    temperature: float
    bottom: float
    wall: float
    under: Film  # at the bottom
    beside: Film  # at the wall
    flame_beyond: float
    missed: float  # share of it that the wind carries past the pot


def column(h: Heating, p: Parameters) -> float:
    """Share of the flames' sheet that is drawn in to a column: of a pool's, as far as a pot leaves it room."""
    return h.pool * drawn_in(h.flow, h.air, h.content, TURNED, p)


def sheet_area(mass: float, speed: float, inward: float, p: Parameters) -> float:
    """Square of the width of the flames' sheet [m2], where some of it is drawn in until the gas fills the column.

    Parameters
    ----------
    mass : of the gas within that width [kg/s]
    speed : of the gas [m/s]
    inward : share of the sheet that is drawn in
    p : parameters
    """
    ring = p.way.ring * p.way.ring
    filled = 4.0 * pi * mass / (p.pool.flame_density * speed * ring)
    return ring * (1.0 - inward * (1.0 - filled * served(filled)))


@by_slots
def risen(h: Heating, fuel: Vapour, inward: float, p: Parameters) -> Layer:
    """The flames' sheet where it has risen to the pot's bottom.

    Near its foot it is a sheet of even temperature; from there on its momentum grows by the buoyancy of what has burnt.
    Over a pool it is drawn in to a column; half of a column's gas is within the width over which it mixes.

    Parameters
    ----------
    h : the flames
    fuel : what they burn
    inward : share of them that is drawn in
    p : parameters
    """
    way = p.way
    rise = way.rise + h.primer * (way.wick_rise - way.rise)
    draw = p.entrainment * p.entrainment
    mixing = SHEET_MIXING * draw * way.exchange
    low = THIRDS[1] * rise
    speed = SHEET_SPEED * sqrt(way.sheet_lift * low)
    across = draw * sheet_spread(low, way.ring, way.sheet_lift, way.exchange)
    spread = drawn(0.0, across, p)
    mass = fuel.flow + SHEET_MOMENTUM * sqrt(spread)
    momentum = mass * speed + (1.0 - way.sideways) * h.thrust
    for k in range(1, 3):
        length = (THIRDS[k + 1] - THIRDS[k]) * rise
        speed = momentum / mass
        grown = 0.5 * mixing * sheet_area(0.5 * mass, speed, inward, p) * length * hypotenuse(speed, p.site.wind)
        there = drawn(spread, grown, p)
        mass = fuel.flow + SHEET_MOMENTUM * sqrt(there)
        push = 2.0 * way.lift * burning(across + grown, there, fuel) * h.heat * mass * length
        speed = sqrt(momentum * momentum + 0.5 * push) / mass
        grown = mixing * sheet_area(0.5 * mass, speed, inward, p) * length * hypotenuse(speed, p.site.wind)
        across += grown
        spread = drawn(spread, grown, p)
        mass = fuel.flow + SHEET_MOMENTUM * sqrt(spread)
        momentum = sqrt(momentum * momentum + push)
    return Layer(
        spread=spread,
        across=across,
        momentum=momentum,
        heat=h.heat,
        speed=momentum / mass,
        film=Film(exchange=0.0, moisture=0.0),
    )


@by_slots
def under_bottom(layer: Layer, radius: float, fuel: Vapour, p: Parameters) -> Layer:
    """The layer at the pot's edge.

    Its momentum and its own weight (a gravity current) spread it; spent gas under a cold plate is unstable, which
    adds to the film.

    Parameters
    ----------
    layer : at the flames' ring
    radius : of that ring [m]
    fuel : what burns
    p : parameters
    """
    way = p.way
    flow = fuel.flow
    heat = layer.heat
    momentum = layer.momentum
    spread = layer.spread
    across = layer.across
    mixing = SHEET_MIXING * p.entrainment * p.entrainment
    film = STAGNATION_FILM * p.flame_to_pot * p.flame_to_pot
    taken = 0.0
    braked = 0.0
    growth = 0.0
    before = layer.film
    passing = 0.0
    moisture = 0.0
    mixed = sqrt(spread)
    share = next_to_wall(flow, across, spread)
    wide = way.edge / (2.0 * pi) - radius
    for k in range(BOTTOM_CELLS):
        near = radius + wide * ENDS[k]
        far = radius + wide * ENDS[k + 1]
        width = pi * (near + far)
        area = width * (far - near)
        rate = exchange(share, heat - taken, fuel, p) * width * area
        sensible = burning(across, spread, fuel) * heat - taken
        weight = way.current / width * sensible if sensible > 0.0 else 0.0
        speed = momentum / (flow + SHEET_MOMENTUM * mixed)
        speed = third_root(speed * speed * speed + weight)
        half = 0.5 * mixing * rate * hypotenuse(speed, p.site.wind)
        there = drawn(spread, half, p)
        share = next_to_wall(flow, across + half, there)
        slowed = momentum - speed * (sqrt(DRAG * (growth + 0.5 * rate * speed)) - braked)
        speed = slowed / (flow + SHEET_MOMENTUM * sqrt(there)) if slowed > 0.0 else 0.0
        speed = third_root(speed * speed * speed + weight)
        grown = mixing * rate * hypotenuse(speed, p.site.wind)
        across += grown
        spread = drawn(spread, grown, p)
        mixed = sqrt(spread)
        driving = drive(share, heat, fuel)
        fall = depletion(across, spread) * share / flow
        warmer = (driving - fall * taken) / way.heat
        if warmer > 0.0:
            forced = heat_taken(taken, film * rate * speed, driving, fall) - taken
            unstable = p.flame_to_pot * way.unstable * area * warmer  # its flow goes as the third root of warmth too
            both = third_root(forced * forced * forced + unstable * unstable * unstable * warmer)
            taken += both / (1.0 + both / (p.pot.inside_coefficient * area * warmer + TRACE))
            passed = fade(warmer / BARELY) * both / (way.heat * warmer)
            mean = share / flow
            passing += passed * (1.0 - mean * before.exchange - fall * passing)
            moisture += passed * (moisture_next(share, fuel, p) - mean * before.moisture - fall * moisture)
        growth += rate * speed
        slower = sqrt(DRAG * growth)
        momentum = at_least(momentum - speed * (slower - braked), 0.0)
        braked = slower
    speed = momentum / (flow + SHEET_MOMENTUM * mixed)
    gas = Film(exchange=before.exchange + passing, moisture=before.moisture + moisture)
    return Layer(spread=spread, across=across, momentum=momentum, heat=heat - taken, speed=speed, film=gas)


def uptake(coefficient: float, low: float, high: float, wet: float, p: Parameters) -> float:
    """Share of the heat on a stretch of the side that reaches the water, through a wall that is a fin above it.

    Parameters
    ----------
    coefficient : of the gas on the wall [W/m2/K]
    low, high : ends of the stretch [m]
    wet : height of the side that water wets [m]
    p : parameters
    """
    pot = p.pot
    direct = 1.0 / (1.0 + coefficient / pot.inside_coefficient)
    if high <= wet:
        return direct
    start = at_least(low, wet)
    decay = sqrt(coefficient / pot.wall_conductance)
    conducted = fin_uptake(start - wet, high - wet, pot.height - wet, decay)
    return ((start - low) * direct + (high - start) * conducted) / (high - low)


def slot_filled(low: float, high: float, mass: float, speed: float, p: Parameters) -> float:
    """Height on a stretch of the side over which gas fills the slot behind a windscreen [m].

    Parameters
    ----------
    low, high : ends of the stretch [m]
    mass : flow of the gas [kg/s]
    speed : of the gas [m/s]
    p : parameters
    """
    enclosed = at_most(at_least(p.way.slot_height - low, 0.0), high - low)
    if enclosed <= 0.0:
        return 0.0
    full = mass / (p.way.slot_fill * (speed + LEAST_SPEED))
    return enclosed * full * served(full)


@by_slots
def up_side(layer: Layer, wet: float, fuel: Vapour, p: Parameters) -> Layer:
    """The layer at the top of the pot's side.

    Above the water the wall is a fin that carries what falls on it down to the water. As far as
    the gas fills the slot behind a windscreen, it gives the pot at least what slow gas between two walls does, is
    cooled through and through, and loses heat through the screen.

    Parameters
    ----------
    layer : at the pot's edge
    wet : height of the side that water wets [m]
    fuel : what burns
    p : parameters
    """
    way = p.way
    pot = p.pot
    flow = fuel.flow
    heat = layer.heat
    momentum = layer.momentum
    spread = layer.spread
    across = layer.across
    mixing = SHEET_MIXING * p.entrainment * p.entrainment
    film = WALL_FILM * p.flame_to_pot * p.flame_to_pot
    taken = 0.0
    lost = 0.0
    braked = 0.0
    growth = 0.0
    passing = 0.0
    moisture = 0.0
    share = next_to_wall(flow, across, spread)
    for k in range(3):
        low = THIRDS[k] * pot.height
        high = THIRDS[k + 1] * pot.height
        area = way.edge * (high - low)
        rate = exchange(share, heat - taken, fuel, p) * way.edge * area
        speed = momentum / (flow + SHEET_MOMENTUM * sqrt(spread))
        grown = 0.5 * mixing * rate * hypotenuse(speed, p.site.wind)
        there = drawn(spread, grown, p)
        share = next_to_wall(flow, across + grown, there)
        mass = flow + SHEET_MOMENTUM * sqrt(there)
        lifted = 2.0 * way.lift * burning(across + grown, there, fuel) * mass * (high - low)
        quicker = sqrt(momentum * momentum + 0.5 * lifted * at_least(heat - taken, 0.0))
        speed = quicker / mass
        slowed = quicker - speed * (sqrt(DRAG * (growth + 0.5 * rate * speed)) - braked)
        speed = slowed / mass if slowed > 0.0 else 0.0
        grown = mixing * rate * hypotenuse(speed, p.site.wind)
        across += grown
        spread = drawn(spread, grown, p)
        driving = drive(share, heat - lost, fuel)
        enclosed = slot_filled(low, high, mass, speed, p)
        felt = depletion(across, spread)
        fall = (felt + (1.0 - felt) * enclosed / (high - low)) * share / flow
        before = taken
        warmer = (driving - fall * taken) / way.heat
        if warmer > 0.0:
            falling = heat_taken(taken, film * rate * speed, driving, fall) - taken
            if enclosed > 0.0:
                slow = p.flame_to_pot * way.slot_film * way.edge * enclosed * warmer
                slow /= 1.0 + fall * slow / driving
                falling = third_root(falling * falling * falling + slow * slow * slow)
                leaking = way.slot_loss * way.edge * enclosed * (warmer + fuel.cold / way.heat)
                lost += leaking / (1.0 + fall * leaking / driving)
            falling *= pot.sheathed * uptake(falling / (area * warmer + TRACE), low, high, wet, p)
            taken += falling
            passed = fade(warmer / BARELY) * falling / (way.heat * warmer)
            passing += passed * (1.0 - fall * passing)
            moisture += passed * (moisture_next(share, fuel, p) - fall * moisture)
        growth += rate * speed
        slower = sqrt(DRAG * growth)
        momentum = sqrt(momentum * momentum + lifted * at_least(heat - 0.5 * (taken + before), 0.0))
        momentum = at_least(momentum - speed * (slower - braked), 0.0)
        braked = slower
    gas = Film(exchange=passing, moisture=moisture)
    return Layer(spread=spread, across=across, momentum=momentum, heat=heat - taken, speed=speed, film=gas)


def heating_of(fire: FireFlows, water: float, temperature: float, p: Parameters) -> Heating:
    """What the gas of some flames follows from, for so much water [kg] in a pot that is so warm [K]."""
    power = fire.jet_power + fire.vent_power + fire.wick_power
    return Heating(
        flow=fire.fuel_mass + LEAST_FUEL,
        air=fire.air_mass,
        moisture=fire.moisture,
        content=fire.content,
        heat=fire.gas_heat,
        thrust=fire.jet_thrust,
        primer=fire.wick_power / power if power > 0.0 else 0.0,
        pool=at_most(p.vent.open * fire.vent_power / power, 1.0) if power > 0.0 else 0.0,  # steam takes some up again
        temperature=temperature,
        water=water,
    )


def heats(h: Heating, p: Parameters) -> bool:
    """Whether there are a flame and a pot."""
    return p.pot.present > 0.0 and h.content > 0.0 and h.air > LEAST_AIR and h.heat > 0.0


@by_slots
def along_pot(h: Heating, p: Parameters) -> Passage:
    """March the flames' gas from their foot to the pot's bottom, under it to the edge, and up the side."""
    way = p.way
    ratio = h.air / h.flow
    fuel = Vapour(
        flow=h.flow,
        air=h.air,
        ratio=ratio,
        content=h.content,
        moisture=h.moisture / h.flow,
        tip=h.flow * flame_tip(ratio),
        cold=way.heat * (h.temperature - p.site.temperature),
    )
    inward = column(h, p)
    sheet = risen(h, fuel, inward, p)
    radius = sqrt(sheet_area(h.flow + SHEET_MOMENTUM * sqrt(sheet.spread), sheet.speed, inward, p)) / (2.0 * pi)
    share = next_to_wall(h.flow, sheet.across, sheet.spread)
    inside = at_least(drive(share, sheet.heat, fuel), 0.0) / way.heat
    stirred = at_most(way.gap, radius)
    middle = p.flame_to_pot * way.centre * sqrt(sheet.speed / radius) * stirred * (2.0 * radius - stirred)
    centre = middle * inside
    thrust = way.sideways * h.thrust
    momentum = sqrt(sheet.momentum * sheet.momentum + thrust * thrust)
    passing = fade(inside / BARELY) * middle / way.heat
    film = Film(exchange=passing, moisture=passing * moisture_next(share, fuel, p))
    turned = Layer(
        spread=sheet.spread,
        across=sheet.across,
        momentum=momentum,
        heat=sheet.heat - centre,
        speed=sheet.speed,
        film=film,
    )
    edge = under_bottom(turned, radius, fuel, p)
    wet = at_most(p.pot.wet_wall_area_per_kg * at_least(h.water, 0.0) / way.edge, p.pot.height)
    return Passage(fuel=fuel, sheet=sheet, radius=radius, edge=edge, top=up_side(edge, wet, fuel, p))


def heat_given(h: Heating, p: Parameters) -> float:
    """What the gas gives bottom and side where no wind carries it past them [W]."""
    passed = along_pot(h, p)
    return passed.sheet.heat - passed.top.heat


heat_slopes = slopes_of(heat_given, Heating)
"""The slopes of that heat; what difference quotients took eight marches of the gas for."""


def missed(h: Heating, p: Parameters) -> float:
    """Share of the gas that a wind has carried past the pot before it rises to it."""
    pot = p.pot
    drift = pot.missed + h.primer * (pot.wick_missed - pot.missed)
    return drift + column(h, p) * (pot.column_missed - pot.missed)


def reached(film: Film, share: float) -> Film:
    """So much of a film."""
    return Film(exchange=share * film.exchange, moisture=share * film.moisture)


@by_slots
def hot_gas(h: Heating, p: Parameters) -> HotGas:
    """What the flames' gas does to the pot; what a wind has carried past heats neither bottom nor side.

    Parameters
    ----------
    h : flames and pot
    p : parameters
    """
    room = p.site.temperature
    past = missed(h, p)
    if not heats(h, p):
        none = Film(exchange=0.0, moisture=0.0)
        return HotGas(
            excess_air=0.0,
            temperature=room,
            bottom=0.0,
            wall=0.0,
            under=none,
            beside=none,
            flame_beyond=0.0,
            missed=past,
        )
    passed = along_pot(h, p)
    fuel = passed.fuel
    mixed = sqrt(passed.edge.spread)
    drawn = SHEET_DRAWN * mixed
    burnt = burning(passed.edge.across, passed.edge.spread, fuel)
    total = h.flow + drawn
    sensible = at_least(passed.edge.heat - (1.0 - burnt) * h.content, 0.0)
    spent = at_most(burnt * (h.flow + h.air) / total, 1.0)
    reaching = 1.0 - past
    return HotGas(
        excess_air=drawn / h.air - 1.0,
        temperature=gas_temperature(sensible / total, spent, p.fire.product_heat, p.fire.air_heat, room),
        bottom=reaching * (passed.sheet.heat - passed.edge.heat),
        wall=reaching * (passed.edge.heat - passed.top.heat),
        under=reached(passed.edge.film, reaching),
        beside=reached(passed.top.film, reaching),
        flame_beyond=1.0 - burning(passed.top.across, passed.top.spread, fuel),
        missed=past,
    )


@record
class Known:
    """What an instant that is known tells of others beside it."""

    heating: Heating
    slopes: Heating  # of the heat given, by each of these
    given: float  # that heat, where no wind carries gas past the pot [W]
    bottom: float  # of it, to the bottom [W]
    under: Film  # where no wind carries gas past the pot
    beside: Film


@by_slots
def gas_near(near: Known, h: Heating, p: Parameters) -> HotGas:
    """What the gas does to the pot an instant that is known by, with slopes in the place of its march.

    Parameters
    ----------
    near : the instant that is known; bottom and side share as there
    h : flames and pot
    p : parameters
    """
    if not (heats(near.heating, p) and heats(h, p)):
        return hot_gas(h, p)
    at = near.heating
    by = near.slopes
    change = (
        by.flow * (h.flow - at.flow)
        + by.air * (h.air - at.air)
        + by.content * (h.content - at.content)
        + by.heat * (h.heat - at.heat)
        + by.thrust * (h.thrust - at.thrust)
        + by.primer * (h.primer - at.primer)
        + by.pool * (h.pool - at.pool)
        + by.temperature * (h.temperature - at.temperature)
        + by.water * (h.water - at.water)
    )
    past = missed(h, p)
    grown = 1.0 + change / (near.given + TRACE)
    return HotGas(
        excess_air=0.0,
        temperature=0.0,
        bottom=(1.0 - past) * (near.bottom + change),
        wall=(1.0 - past) * (near.given - near.bottom),
        under=reached(near.under, (1.0 - past) * grown),
        beside=reached(near.beside, (1.0 - past) * grown),
        flame_beyond=0.0,
        missed=past,
    )
