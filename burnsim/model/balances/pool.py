"""The surface of an open well: what evaporates from it, with a flame over it or without.

A burning pool has a hot skin. Its surface is near the boiling point within seconds, long before the bulk; its
temperature balances film theory (Spalding's transfer number, thinning by blowing), radiation and conduction to the
liquid below. No burning rate is given. The root is sought in ln(1 + B), in which the balance is nearly straight:
seven trials instead of the thirty that one in the temperature took.

The flame of a full vessel stands on its rim. As the liquid sinks, heat and vapour cross the ullage as a still layer,
and the pool burns slower and slower, until the air that comes down past the gas that rises (`exchange_flow`) is enough
for it: then it burns inside the vessel, and no slower any more, as was seen in glass (B. Z. Dlugogorski, M. Wilson,
Effect of ullage on properties of small-scale pool fires, of the abstract). Gas of the depth `stirred` then stands over
the liquid. Where more vapour leaves it than the air can burn, as much burns inside as the air does, above gas that is
deeper by as much as the vapour exceeds the air, and the rest burns on the rim: flames of 500 and 800 W of methanol
resolved in three dimensions in a well of 46 mm, 25 mm deep, use the air of 310 and 280 W inside, where the law says
298. Resolved round an axis, 400 W stand on the rim: a ring of air cannot do what a draught on one side does. The flame
is where it burns more: on the rim or inside, in shares by the eighth powers of both coefficients, an estimate: smooth,
and sharp enough for the rate to rise again.

Heat that a wall passes near the waterline enters the warm layer below a burning surface, and a part of it evaporates
there without a bubble (`skin_share`): most of it where the wall conducts badly, as glass does.
"""

from collections.abc import Callable
from math import exp, log, log1p, sqrt

from burnsim.bounds import at_least, at_most
from burnsim.closures.counterflow import exchange_flow
from burnsim.closures.evaporation import RICHEST
from burnsim.closures.flame import foot_temperature, pool_flame_height
from burnsim.closures.plume import vessel_conductance
from burnsim.closures.radiation import line_to_disc_view
from burnsim.constants import AIR_MOLAR_MASS, GAS_CONSTANT, GRAVITY
from burnsim.elementary import served, served_sharply
from burnsim.model.balances.chambers import Liquid
from burnsim.model.balances.pressure import boil_rate, evaporation_rate
from burnsim.model.balances.streams import (
    TURNED,
    aired,
    breath,
    breathing_share,
    drawn_in,
    ring_closed,
    stream_share,
)
from burnsim.model.parameters.record import Parameters
from burnsim.records import by_slots, like_another, record

LIQUID_ABSORPTIVITY = 0.9  # of alcohols in the infrared, from memory
BESIDE = 0.3  # share of a pool that flames heat whose sheet stands on its ring: 0.2 to 0.4 by two resolved ones
TRACE = 1e-9  # of air that comes down without any ullage [mol/s]


@record
class PoolFlows:
    """An open well's surface."""

    vapour: float  # leaving the surface [mol/s]
    radiation: float  # of its flame that the liquid absorbs [W]
    heat: float  # from the flame to the surface, radiation included [W]
    edge: float  # from the flame to the rim: from its edge, and where it burns below, to the wall above the fuel [W]
    limit: float  # Le Chatelier sum just above the surface; 1 at the flash point
    boiling: float  # of the vapour that leaves, what bubbles through the surface [mol/s]
    boiled: float  # what would bubble if none of the walls' heat evaporated at the surface [mol/s]
    skin: float  # heat of the walls that evaporates at a burning surface [W]
    closed: float  # share of the ring of jets through which no air comes to it


@record
class PoolSurface:
    """Surface of a burning pool at a trial temperature."""

    vapour: float  # mole fraction at the surface
    rate: float  # leaving it [mol/s]
    heat: float  # from the flame [W]
    edge: float  # from the flame's edge to the rim [W]
    radiation: float  # in `heat` [W]
    covered: float  # share of the vapour that burns over the pool
    down: float  # share of it that burns below the rim, by air that comes down there
    used: float  # share of that air that burns it
    through: float  # vapour that crosses the film [mol/s]; in `rate`
    excess: float  # heat above what evaporation and the liquid below take [W]; 0 at the true temperature


boiling_away: Callable[[PoolSurface, float], PoolSurface] = like_another(
    "boiling_away(found, rate)", PoolSurface, {"rate": "rate", "excess": "0.0"}, __name__, globals()
)
"""The same surface, from which all the heat that it gets boils vapour at a rate [mol/s]."""


@record
class PoolFilm:
    """What lies over a burning pool's surface and below it, whatever its temperature."""

    area: float  # of its open surface that liquid covers [m2]
    from_rim: float  # flame to surface, where the flame stands on the rim [W/m2/K]
    stirred: float  # hindrance of the gas that a flame in the vessel stirs [m2 K/W]
    still: float  # and of that which stands below it, where it finds its air [m2 K/W]
    to_rim: float  # flame's edge to the rim, when flames cover all of the pool [W/K]
    downward: float  # surface to the liquid below [W/K]
    air: float  # that comes down below the rim [mol/s]
    breath: float  # air that comes in to the flames [mol/s]


@by_slots
def pool_film(well: Liquid, closed: float, p: Parameters) -> PoolFilm:
    """The gas over a burning pool's surface, and the air that finds its way to it, no more than pot and jets let in.

    Parameters
    ----------
    well : the liquid
    closed : share of the ring of jets through which no air comes (`ring_closed`)
    p : parameters
    """
    pool = p.pool
    area = p.vent.open * p.well.area * well.wet
    ullage = at_least(p.well.height - well.level, 0.0)
    heavy = pool.flame_density * (1.0 + pool.flame_lift / GRAVITY)
    gain = 1.0 + well.vapour_mass / (at_least(well.air_need, 1e-6) * AIR_MOLAR_MASS)
    air_in = (1.0 - closed) * breath(ullage, p)
    passing = pool.passing * exchange_flow(pool.diameter, ullage, heavy, pool.flame_density, gain) / AIR_MOLAR_MASS
    air = TRACE + passing * breathing_share(passing, air_in)
    return PoolFilm(
        area=area,
        from_rim=1.0 / (1.0 / pool.film_coefficient + ullage / pool.gas_conductivity),
        stirred=1.0 / pool.film_coefficient,
        still=ullage / (1.0 + ullage / pool.stirred) / pool.gas_conductivity,
        to_rim=p.flame_to_rim * p.vent.open * pool.edge * well.wet,
        downward=pool.conduction * area,
        air=air,
        breath=air_in,
    )


def inside_coefficient(film: PoolFilm, need: float, bubbles: float) -> float:
    """Coefficient between a flame in a vessel and the surface below it [W/m2/K].

    The gas that stands below the flame is the deeper, the more the vapour needs more than the air that comes down: with
    R = need x coefficient above 1, 1/coefficient = stirred + still R, of which the root is written out.

    Parameters
    ----------
    film : over the pool
    need : air that the vapour of a coefficient of 1 W/m2/K needs, over what comes down
    bubbles : eighth power of that which the vapour needs that bubbles through the surface
    """
    enough = film.stirred + film.still
    flooded = 0.5 * (film.stirred + sqrt(film.stirred * film.stirred + 4.0 * film.still * need))
    hindrance = (eighth(enough) + eighth(flooded) - eighth(film.stirred)) * (1.0 + bubbles)
    return 1.0 / sqrt(sqrt(sqrt(hindrance)))


def eighth(x: float) -> float:
    """Its eighth power."""
    fourth = x * x * x * x
    return fourth * fourth


@by_slots
def pool_surface(
    temperature: float, film: PoolFilm, well: Liquid, boiling: float, skin: float, rim: float, p: Parameters
) -> PoolSurface:
    """A burning pool's balance at a surface temperature.

    The mass transfer number of the vapour at the surface, B = Y_s/(1 - Y_s), sets the flux h/cp ln(1+B); the same
    film, thinned by that wind from the surface, carries h(T_flame - T_s) F/(exp(F) - 1) back, F = flux cp/h. That flux
    is all the vapour that crosses the film, bubbles from below with it: over a liquid that boils, all the gas is
    vapour, and its surface is no colder than boiling. The surface passes k/delta (T_s - T) down to the liquid. Under
    a pot that stands close, flames cover only the part of the pool whose vapour the air that comes in can burn; the
    rest burns in the gap, between rim and pot.

    The flame's edge stands off the cold lip where its loss to the lip all but quenches it, and joins a sheet that is
    hotter (`foot_temperature`).

    Where a pot leaves no room for the sheet to be drawn in over the pool, it stands on the ring and heats a part of the
    pool: resolved flames of 300 W give it and its rim 21, 50, 77 and 81 W under pots 10, 20, 30 and 50 mm above them,
    those of 600 W 26 and 63 W under 20 and 30 (`BESIDE`).

    Sources: D. B. Spalding 1953, Proc. Combust. Inst. 4, 847; R. B. Bird, W. E. Stewart, E. N. Lightfoot, Transport
    Phenomena, film theory with high transfer rates.

    Parameters
    ----------
    temperature : of the surface [K]
    film : over it
    well : the liquid
    boiling : vapour that bubbles through the surface [mol/s]
    skin : heat of the walls that comes to the surface [W]
    rim : rim temperature [K]
    p : parameters
    """
    steep = well.latent / GAS_CONSTANT * (1.0 / well.temperature - 1.0 / temperature)
    y = at_most(well.bubble_pressure / p.site.pressure * exp(at_most(steep, 50.0)), RICHEST)
    crossing = transfer(y, well) * film.area / (p.pool.gas_heat * well.vapour_mass)
    need = crossing * well.air_need / film.air
    bubbles = eighth(boiling * well.air_need / film.air)
    inside = inside_coefficient(film, need, bubbles)
    ratio = inside / film.from_rim
    present = eighth(ratio * served_sharply(ratio))
    coefficient = film.from_rim + present * (inside - film.from_rim)
    through = crossing * coefficient
    rate = at_least(through, boiling)
    over_air = rate * well.air_need / film.air
    down = present * served_sharply(over_air)
    open_area = p.vent.open * p.well.area
    blowing = at_most(rate * p.pool.gas_heat * well.vapour_mass / (open_area * coefficient), 60.0)
    thinned = blowing / (exp(blowing) - 1.0) if blowing > 1e-6 else 1.0
    power = rate * well.heating_value
    burning = aired(rate * well.air_need, p)
    near = drawn_in(rate * well.vapour_mass, rate * well.air_need * AIR_MOLAR_MASS, power, TURNED, p)
    over = breathing_share(rate * well.air_need, film.breath) * (BESIDE + (1.0 - BESIDE) * near)
    covered = burning * over
    to_surface = covered * film.area * coefficient * thinned
    to_rim = burning * 0.5 * (1.0 + over) * film.to_rim
    part = stream_share(to_surface + to_rim, power, well.sheet, p)
    inside = p.vent.open * covered * power
    view = line_to_disc_view(pool_flame_height(inside, p.pool.diameter), 0.5 * p.pool.diameter)
    radiation = LIQUID_ABSORPTIVITY * view * p.radiant_fraction * inside * well.wet
    heat = part * to_surface * (well.sheet - temperature) + radiation
    return PoolSurface(
        vapour=y,
        rate=rate,
        heat=heat,
        edge=part * to_rim * (foot_temperature(well.sheet) - rim),
        radiation=radiation,
        covered=covered,
        down=down,
        used=down * over_air,
        through=through,
        excess=heat + skin - (through - boiling) * well.latent - film.downward * (temperature - well.temperature),
    )


def transfer(vapour: float, well: Liquid) -> float:
    """ln(1 + B) of a pool's vapour at a mole fraction at its surface; B is the mass transfer number."""
    share = vapour * well.vapour_mass / (vapour * well.vapour_mass + (1.0 - vapour) * AIR_MOLAR_MASS)
    return -log1p(-share)


def surface_temperature(number: float, well: Liquid, p: Parameters) -> float:
    """Temperature at which the vapour at a pool's surface has this ln(1 + B) [K]: that of `pool_surface`, inverted."""
    air = exp(-number)
    vapour = (1.0 - air) * AIR_MOLAR_MASS / ((1.0 - air) * AIR_MOLAR_MASS + air * well.vapour_mass)
    steep = log(vapour * p.site.pressure / well.bubble_pressure)
    return 1.0 / (1.0 / well.temperature - GAS_CONSTANT / well.latent * steep)


def burning_surface(well: Liquid, boiling: float, skin: float, rim: float, closed: float, p: Parameters) -> PoolSurface:
    """A burning pool's surface at the temperature at which heat and vapour balance.

    The root is sought in ln(1 + B), to which the vapour's heat is proportional and in which the flame's falls gently: a
    secant inside its bracket finds it in a few steps, where one in the temperature takes thirty. A surface from which
    so much bubbles that no film is left evaporates by all the heat that it gets.

    Parameters
    ----------
    well, boiling, skin, rim, p : as in `pool_surface`
    closed : as in `pool_film`
    """
    film = pool_film(well, closed, p)
    found = pool_surface(well.temperature, film, well, boiling, skin, rim, p)
    if found.excess <= 0.0:
        return found
    low, high = transfer(found.vapour, well), transfer(RICHEST, well)
    before, excess = low, found.excess
    trial = high
    found = pool_surface(surface_temperature(high, well, p), film, well, boiling, skin, rim, p)
    for count in range(60):
        if found.excess > 0.0 and trial >= high:
            return boiling_away(found, found.through + found.excess / well.latent)
        if abs(found.excess) <= 1e-10 * found.heat or high - low <= 1e-14:
            break
        if found.excess > 0.0:
            low = trial
        else:
            high = trial
        slope = (found.excess - excess) / (trial - before)
        before, excess = trial, found.excess
        if slope < 0.0:
            trial -= found.excess / slope
        if slope >= 0.0 or count > 25 or not low < trial < high:
            trial = 0.5 * (low + high)
        found = pool_surface(surface_temperature(trial, well, p), film, well, boiling, skin, rim, p)
    return found


def rim_heat(found: PoolSurface, well: Liquid, rim: float, p: Parameters) -> float:
    """Heat from a pool's flame to the rim [W].

    A flame on the rim gives it what its edge conducts; one that burns down in a well or cup bathes the wall above the
    fuel. The two are combined by their fourth powers. The flame comes down as far as the air does that it burns.

    Parameters
    ----------
    found : the surface
    well : the liquid
    rim : rim temperature [K]
    p : parameters
    """
    pool = p.pool
    ullage = at_least(p.well.height - well.level, 0.0)
    film = p.flame_to_rim * found.used
    film *= vessel_conductance(ullage, pool.diameter, pool.wall_conductivity, pool.wall_buoyancy)
    conductance = pool.gas_share * film
    inside = p.vent.open * found.covered * found.down * found.rate
    share = stream_share(conductance, inside * well.heating_value, well.sheet, p)
    bathed = share * conductance * (well.sheet - rim) - (film - conductance) * (rim - p.site.temperature)
    if found.edge <= 0.0 or bathed <= 0.0:  # a rim hotter than the flame
        return found.edge + bathed
    return bathed / served(found.edge / bathed)


@by_slots
def pool_flows(
    well: Liquid, heating: float, strips: float, rim: float, lit: float, closed: float, p: Parameters
) -> PoolFlows:
    """Evaporation and flame of an open well.

    A flame heats the surface, which conducts to the liquid below: it is near the boiling point within seconds, long
    before the liquid is. Its temperature balances heat and vapour (`burning_surface`); no burning rate is given.

    Parameters
    ----------
    well : the liquid
    heating : that the walls pass to it [W]
    strips : part of it, by walls that are hot at the waterline [W]
    rim : rim temperature [K]
    lit : 1.0 while the well burns
    closed : share of the ring of jets through which no air comes
    p : parameters
    """
    if p.well.present <= 0.0 or p.vent.open <= 0.0:
        return PoolFlows(
            vapour=0.0,
            radiation=0.0,
            heat=0.0,
            edge=0.0,
            limit=0.0,
            boiling=0.0,
            boiled=0.0,
            skin=0.0,
            closed=closed,
        )
    boiled = boil_rate(well, heating, 0.0, p)
    if lit <= 0.0:
        limit = at_most(well.bubble_pressure / p.site.pressure, RICHEST) * well.wet * well.richness
        return PoolFlows(
            vapour=p.vent.open * evaporation_rate(well, p.well, 1.0, p) + boiled,
            radiation=0.0,
            heat=0.0,
            edge=0.0,
            limit=limit,
            boiling=boiled,
            boiled=boiled,
            skin=0.0,
            closed=closed,
        )
    skin = to_skin(well, strips, p)
    boiling = boil_rate(well, heating - skin, 0.0, p)
    found = burning_surface(well, boiling, skin, rim, closed, p)
    return PoolFlows(
        vapour=found.rate,
        radiation=found.radiation,
        heat=found.heat,
        edge=rim_heat(found, well, rim, p),
        limit=found.vapour * well.wet * well.richness,
        boiling=boiling,
        boiled=boiled,
        skin=skin,
        closed=closed,
    )


def to_skin(well: Liquid, strips: float, p: Parameters) -> float:
    """Heat of the walls that evaporates at a burning surface [W].

    Parameters
    ----------
    well : the liquid
    strips : heat that walls pass to it which are hot at the waterline [W]
    p : parameters
    """
    return p.vent.open * p.pool.skin_share * well.wet * at_least(strips, 0.0)


def pool_near(
    known: PoolFlows, well: Liquid, heating: float, strips: float, rim: float, lit: float, closed: float, p: Parameters
) -> PoolFlows:
    """What `pool_flows` gives where well and rim are those of a known instant.

    The same, if as much boils, as much of the walls' heat evaporates there and as much air comes in.
    """
    if p.well.present <= 0.0 or p.vent.open <= 0.0:
        return known
    same = lit <= 0.0 or to_skin(well, strips, p) == known.skin
    if same and closed == known.closed and boil_rate(well, heating, 0.0, p) == known.boiled:
        return known
    return pool_flows(well, heating, strips, rim, lit, closed, p)


def closed_by_jets(gallery: Liquid, heating: float, lit: float, p: Parameters) -> float:
    """Share of the ring of jets through which no air comes to an open well, by what boils behind them.

    None without a pot: air comes from above.

    Parameters
    ----------
    gallery : the liquid behind the jets
    heating : heat that its walls pass to it [W]
    lit : 1.0 while the jets burn
    p : parameters
    """
    if lit <= 0.0 or p.vent.open <= 0.0 or p.well.present <= 0.0 or p.pot.present <= 0.0:
        return 0.0
    vapour = boil_rate(gallery, heating, 0.0, p)
    return ring_closed(vapour * gallery.vapour_mass, vapour * gallery.air_need * AIR_MOLAR_MASS, p)


def released(flame: PoolFlows, well: Liquid, p: Parameters) -> float:
    """Heat that a pool's flame releases where it stands [W]."""
    return aired(flame.vapour * well.air_need, p) * flame.vapour * well.heating_value


def flame_left(flame: PoolFlows, well: Liquid, p: Parameters) -> float:
    """Temperature of a pool's flame once it has heated the surface under it [K].

    A pool has a least flux of vapour for it: the less burns, the greater is the share of the heat that goes back
    (D. J. Rasbash 1975; F. Vermina Plathner, J. G. Quintiere, P. van Hees 2019, Fire Safety J. 105, 51; from memory).
    """
    stream = (1.0 - p.radiant_fraction) * released(flame, well, p)
    taken = flame.heat - flame.radiation
    share = taken / stream if stream > taken else 1.0
    return well.sheet - share * (well.sheet - p.site.temperature)
