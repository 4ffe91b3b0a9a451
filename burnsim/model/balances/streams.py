"""What a flame of limited power, or with limited air, can serve."""

from math import exp, pi, sqrt

from burnsim.bounds import at_least
from burnsim.closures.layer import mixture_at_wall, sheet_spread
from burnsim.elementary import served, served_sharply, third_root
from burnsim.model.parameters.record import Parameters

BATHED_WIDTH = 1.45
"""Width of wall that the flame of a side jet bathes, over its own [-].

Air comes to a flame that stands apart from three sides, and it leans over to its neighbours. Resolved jets whose own
flames would fill 0.87 of the circle merge into one sheet at once.
"""
TURNED = 0.57  # room in which half of a pool's sheet is drawn in, over the radius of the sheet [-]
TURNED_JETS = (
    1.14  # the same of side jets, whose vapour rises outside; read off four resolved flames (`top_conductance`)
)


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
    return (1.0 - exp(-units)) / units if units > 1e-9 else 1.0


def bounded_share(conductance: float, power: float, sheet: float, p: Parameters) -> float:
    """Share of a conductance that a flame of limited power can serve, where the conductance knows how its gas cools.

    The law of a boundary layer counts that already, so that nothing is left out until the flame would give more than it
    has: `served` by G/C, C as in `stream_share`.

    Parameters
    ----------
    conductance, power, sheet, p : as in `stream_share`
    """
    if power <= 0.0 or conductance <= 0.0:
        return 0.0
    stream = (1.0 - p.radiant_fraction) * power / (sheet - p.site.temperature)
    return served(conductance / stream)


def breath(ullage: float, p: Parameters) -> float:
    """Air that comes in to the flames over an open well [mol/s].

    The curtain between rim and pot lets in what its height and a wind drive. Between pot and surface friction holds it
    back, so that the pressures add up: (m/m_curtain)^2 + m/m_layer = 1. A wind adds to the drive of both alike, an
    estimate: m_layer grows by as much as the square of m_curtain.

    Parameters
    ----------
    ullage : depth of the surface below the rim [m]
    p : parameters
    """
    height = p.vent.clearance + ullage
    square = height * height
    slow = p.vent.layer_breath * square * square
    ratio = slow / p.vent.breath
    return 2.0 * slow / (1.0 + sqrt(1.0 + 4.0 * ratio * ratio))


def breathing_share(needed: float, breath: float) -> float:
    """Share of some vapour that burns where it is given off: all while air comes in freely, else what air allows.

    Parameters
    ----------
    needed : air for all of it [mol/s]
    breath : air that comes in [mol/s]
    """
    return served(needed / breath)


def ring_closed(vapour: float, air: float, p: Parameters) -> float:
    """Share of the ring of lit jets through which no air comes to a flame inside it.

    Flames that stand apart let air through between them. The sheet of those that merge holds it up as far as it has
    used what it drew; half-way between rim and pot stands for the whole curtain there. Resolved jets of 1000 W round a
    well that gives off vapour for 400 W, under a pot 30 mm above, put its flame out and leave its surface 2 W. Past the
    tips of weak flames goes air of which little is used, and so it does to a well without a pot, from above.

    Parameters
    ----------
    vapour : flow through the jets [kg/s]
    air : that it needs [kg/s]
    p : parameters
    """
    jets = p.jets
    if vapour <= 0.0 or jets.closing <= 0.0:
        return 0.0
    halfway = jets.bathed_height + 0.5 * jets.clearance
    drawn = sqrt(sheet_spread(halfway, p.way.ring, p.way.sheet_lift, p.way.exchange))
    used = mixture_at_wall(vapour / jets.closing, drawn) * (1.0 + air / vapour)
    return jets.closing * used * served_sharply(used)


def filled(crowd: float) -> float:
    """Share of a ring that flames fill, whose widths add up to `crowd` rings: they merge as soon as they fill it."""
    return crowd * served_sharply(crowd)


def aired(needed: float, p: Parameters) -> float:
    """Share of their heat that flames release where they stand: all in the open, and no more than a screen lets in.

    Parameters
    ----------
    needed : air for all of their vapour [mol/s]
    p : parameters
    """
    return breathing_share(needed, p.site.air)


def drawn_in(flow: float, air: float, content: float, turned: float, p: Parameters) -> float:
    """Share of a sheet of flames that is drawn in over what it surrounds before a pot turns it outwards.

    Vapour that rises inside the sheet gains speed and narrows, and draws the sheet in, as far as there is room for that
    below the gas under the pot. That gas is as deep as a current under a ceiling needs to be to carry all that burns
    away over the ring. `TURNED` and the sixth power are read off resolved flames on a pool of 62 mm: of 300 W under
    pots 10, 20, 30 and 50 mm above them and of 600 W under 20 and 30, whose sheets are 34, 25, 12, 5, 33 and 21 mm in
    radius half-way up.

    Parameters
    ----------
    flow, air : vapour that burns, and the air that it needs [kg/s]
    content : heat that it releases [W]
    turned : room in which half of it is drawn in, over the radius of the sheet [-]
    p : parameters
    """
    if p.pot.present <= 0.0:
        return 1.0
    if content <= 0.0:
        return 1.0
    way = p.way
    speed = third_root(way.current / way.ring * content)
    deep = (flow + air) / (p.pool.flame_density * way.ring * speed)
    free = 2.0 * pi * at_least(way.rise - deep, 0.0) / (turned * way.ring)
    sixth = free * free * free * free * free * free
    return sixth / (1.0 + sixth)
