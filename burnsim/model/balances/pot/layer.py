"""The layer of vapour, air and what they have burnt to, at one place of its way along the pot."""

from math import sqrt

from burnsim.bounds import at_least, at_most
from burnsim.closures.layer import (
    DEPLETION,
    SHEET_DRAWN,
    burnt_share,
    mixture_at_wall,
)
from burnsim.elementary import third_root
from burnsim.model.parameters.record import Parameters
from burnsim.records import record


@record
class Film:
    """The gas next to some of the pot, as dew sees it."""

    exchange: float  # heat that it passes over the enthalpy that drives it [kg/s]
    moisture: float  # flow of water vapour in such a flow of gas [kg/s]


@record
class Vapour:
    """What a layer burns."""

    flow: float  # [kg/s]
    air: float  # that it needs [kg/s]
    ratio: float  # of both
    content: float  # what it releases [W]
    moisture: float  # water vapour that it burns to, over its own mass
    tip: float  # mass flow mixed where its flame ends [kg/s]
    cold: float  # enthalpy of gas as warm as the pot, above the room's [J/kg]


@record
class Layer:
    """The gas at one place of its way."""

    spread: float  # of what it has drawn [kg2/s2]
    across: float  # to which mixing across it has come: more, where a screen lets too little air in [kg2/s2]
    momentum: float  # [N]
    heat: float  # above the room's temperature, chemical heat included [W]
    speed: float  # [m/s]
    film: Film  # that it has made up to there


def drive(share: float, heat: float, fuel: Vapour) -> float:
    """Enthalpy of the gas next to a wall's thermal layer above that of gas as warm as the pot [J/kg].

    In a rich layer it is the less the more of the vapour there has found no air.

    Parameters
    ----------
    share : of the vapour in that gas, burnt or not
    heat : of all the layer [W]
    fuel : what it burns
    """
    rich = share + fuel.ratio * share - 1.0
    if rich > 0.0:
        return (share * heat - rich / fuel.ratio * fuel.content) / fuel.flow - fuel.cold
    return share * heat / fuel.flow - fuel.cold


def exchange(share: float, heat: float, fuel: Vapour, p: Parameters) -> float:
    """Density x conductivity / heat capacity of the films of a layer [kg2/m4/s]: the more, the cooler they are.

    As the third root of the inverse temperature (air, 300 to 1500 K, within 6 %), which is half-way from the room's to
    that of a flame, or of burnt-out gas where its hottest has thinned out.

    Parameters
    ----------
    share : of the vapour next to the wall, burnt or not
    heat : of the layer [W]
    fuel : what it burns
    p : parameters
    """
    hot = at_most(share * (1.0 + fuel.ratio) * heat / fuel.content, 1.0)
    return p.way.exchange / third_root(p.way.cool + (1.0 - p.way.cool) * at_least(hot, 0.0))


def moisture_next(share: float, fuel: Vapour, p: Parameters) -> float:
    """Mass fraction of water vapour in gas of which so much is vapour of the fuel, burnt or not, and the rest air."""
    burnt = at_most(share, (1.0 - share) / fuel.ratio)
    return burnt * fuel.moisture + (1.0 - share) * p.way.moisture


def drawn(spread: float, growth: float, p: Parameters) -> float:
    """The spread of a layer after a stretch on which it would grow by so much, had it all the air that it asks for.

    d tau = (1 - tau/tau_most) growth, one implicit step: a windscreen lets only so much air in.
    """
    most = p.way.most_spread
    return spread + growth * at_least(most - spread, 0.0) / (most + growth)


def next_to_wall(flow: float, across: float, spread: float) -> float:
    """Share of the vapour in the gas next to the wall, burnt or not; no less than in a layer mixed through and through.

    Parameters
    ----------
    flow : of vapour [kg/s]
    across, spread : as of `Layer` [kg2/s2]
    """
    return at_least(mixture_at_wall(flow, sqrt(across)), flow / (flow + SHEET_DRAWN * sqrt(spread)))


def burning(across: float, spread: float, fuel: Vapour) -> float:
    """Share of the vapour that has burnt; where a screen lets no more air in, what has come mixes and burns.

    Parameters
    ----------
    across, spread : as of `Layer` [kg2/s2]
    fuel : what burns
    """
    mixed = sqrt(spread)
    young = burnt_share(mixed, fuel.tip, fuel.air)
    starved = 1.0 - sqrt(spread / across)
    return young + starved * at_least(at_most(SHEET_DRAWN * mixed / fuel.air, 1.0) - young, 0.0)


def depletion(across: float, spread: float) -> float:
    """Share of a layer's loss that the gas next to its thermal layer has felt: all, once no more air comes in.

    A layer that a screen starves is no thicker than its air, and mixing across it goes on.

    Parameters
    ----------
    across, spread : as of `Layer` [kg2/s2]
    """
    return 1.0 - (1.0 - DEPLETION) * sqrt(spread / across)
