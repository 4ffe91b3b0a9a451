"""Dew: water vapour of the flames that condenses on a pot colder than its dew point, and dries up again.

Burnt gas holds a tenth of its mass of water vapour: it is saturated at 50 to 60 degC, and for as long as a pot's
outside is colder than that, vapour that condenses there brings up to an eighth more heat than the gas gives by its
temperature. A pot that has warmed gives that heat back as its dew dries; heating values are lower ones, and what the
flue carries counts without what condenses.

Films of heat and vapour follow from one march of the gas (`Film`): where all of the fuel has found air, a dry cold wall
takes the same share of its heat and of its water. One amount of dew stands for all of the outside: it runs down a side
to the bottom, and hangs there. Left out: what drips off before it dries. On a pot with 0.3 to 1 l of tap water (12
degC) it stands 0.01 to 0.07 mm deep in the mean, with a litre of icy water 0.13 mm; were all of that to fall, that
litre would boil 4 % earlier.
"""

from burnsim.bounds import at_least, at_most
from burnsim.closures.evaporation import condensing_rate
from burnsim.constants import AIR_MOLAR_MASS, GAS_CONSTANT
from burnsim.model.balances.chambers import fade
from burnsim.model.balances.pot.layer import Film
from burnsim.model.parameters.record import Parameters
from burnsim.records import by_slots
from burnsim.substances.air import moisture_by_mass
from burnsim.substances.water import MOLAR_MASS as WATER
from burnsim.substances.water import vapour_pressure

WETTEST = 0.99  # mole fraction of vapour at a surface that boils
LEAST_MOISTURE = 1e-9  # of all flames: less is none [kg/s]
LEAST_FLOW = 1e-12  # of gas, that its share of vapour is a number [kg/s]


@by_slots
def dew_rate(film: Film, heat: float, area: float, temperature: float, latent: float, p: Parameters) -> float:
    """Water that condenses on one side of the pot, or dries from it where it is wet [kg/s].

    Its outside is warmer than the water inside by the heat that passes, that of the dew included (to first order).

    Parameters
    ----------
    film : of the gas
    heat : that passes into the water there otherwise [W]
    area : through which it passes [m2]
    temperature : of the water [K]
    latent : heat of the vapour [J/kg]
    p : parameters
    """
    if film.exchange <= LEAST_FLOW or area <= 0.0:
        return 0.0
    inside = p.pot.inside_coefficient * area
    wall = temperature + at_least(heat, 0.0) / inside
    fraction = at_most(vapour_pressure(wall) / p.site.pressure, WETTEST)
    there = moisture_by_mass(fraction)
    rate = condensing_rate(film.exchange, film.moisture / film.exchange, there, p.way.lewis)
    rising = fraction * latent * WATER / (GAS_CONSTANT * wall * wall)  # Clausius and Clapeyron
    steeper = rising * there * there * AIR_MOLAR_MASS / (WATER * fraction * fraction * (1.0 - there))
    return rate / (1.0 + latent * film.exchange * steeper / inside)


def dried(rate: float, dew: float, p: Parameters) -> float:
    """What forms or dries of so much dew [kg]: it dries only where some is left."""
    return rate if rate >= 0.0 else rate * fade(dew / p.pot.thin_dew)


@by_slots
def forming(
    under: Film,
    beside: Film,
    below: float,
    wall: float,
    dew: float,
    wet: float,
    temperature: float,
    latent: float,
    moisture: float,
    p: Parameters,
) -> float:
    """Water that condenses on all of the pot, less what dries [kg/s].

    Parameters
    ----------
    under, beside : films of the gas at the bottom and at the side
    below, wall : heat that passes there otherwise [W]
    dew : on the pot [kg]
    wet : area of side wall that water wets inside [m2]
    temperature : of the water [K]
    latent : heat of the vapour [J/kg]
    moisture : water that all flames make [kg/s]
    p : parameters
    """
    at_bottom = dried(dew_rate(under, below, p.pot.disc_area, temperature, latent, p), dew, p)
    kept = 1.0 - at_bottom / (moisture + LEAST_MOISTURE)  # what the bottom has taken is missing at the side
    left = Film(exchange=beside.exchange, moisture=kept * beside.moisture)
    return at_bottom + dried(dew_rate(left, wall, wet, temperature, latent, p), dew, p)
