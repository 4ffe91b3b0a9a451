"""The primer wick: what it burns, how high its flame stands, and what it passes to the liquid behind it.

The wick burns congruently. Liquid diffuses some thousand times slower than the flame eats into the band, so the
vapour has the composition of what was poured on (the frozen limit; C. K. Law 1976). A wick therefore needs no
composition in the state. Gallery and well boil, are stirred and do distil.

The primer is a laminar wall fire. Burning, height of flame and heat to the wall follow from one boundary layer
(`closures/wall_fire.py`): the similarity solution for the band, a march up the dry wall above it for the rest, and
both agree with the resolved flames once these are cooled by radiation and dissociation. Heat to the wall hardly
depends on the power, as long as the flame reaches. Film theory over a heated plate's Nusselt number, used before,
falls too fast with height and starves the wall: there the sheet stays where the band has pushed it.

Primer beyond what the wick holds burns as a puddle round the foot from which the wick drinks.
"""

from burnsim.bounds import at_least, at_most
from burnsim.closures.wall_fire import flame_cover, wall_flame_tip
from burnsim.constants import AIR_MOLAR_MASS
from burnsim.model.balances.chambers import Liquid
from burnsim.model.balances.streams import aired, bounded_share
from burnsim.model.parameters.record import Parameters
from burnsim.records import by_slots, record

MOST_CHILL = 0.7  # share of its burning that a wick loses at most to cold liquid behind it


@record
class WickFlame:
    """The flame on the primer wick."""

    rate: float  # burning [mol/s]
    tip: float  # its height above the wick's foot, along the wall [m]
    bound: float  # share of what the flame would give to the wall, did it not cool by it, and find air enough
    heat_to_liquid: float  # through the wet band into the liquid behind it [W]
    contact: float  # of the wet band and the wall behind it [W/m2/K]


@by_slots
def wick_flame(held: float, behind: Liquid, lit: float, p: Parameters) -> WickFlame:
    """What the primer wick's flame burns and how far it reaches.

    The band is at the boiling point of its spirit and conducts into colder liquid behind it, as far as that stands up
    behind it; that heat does not evaporate.

    Parameters
    ----------
    held : liquid on the wick [mol]
    behind : the liquid inside the outer wall
    lit : 1.0 while the wick burns
    p : parameters
    """
    wick = p.wick
    whole = wick_rate(held, lit, p)
    if whole <= 0.0:
        return WickFlame(rate=0.0, tip=0.0, bound=0.0, heat_to_liquid=0.0, contact=0.0)
    covered = at_most(behind.level / wick.height, 1.0) * behind.wet
    cold = covered * at_least(wick.boiling_point - behind.temperature, 0.0)
    burning = whole * (1.0 - at_most(wick.chill * cold, MOST_CHILL))
    power = burning * wick.heating_value
    tip = wall_flame_tip(
        power / p.walls.outer_perimeter, wick.height, wick.heat_per_air, p.site.temperature, p.site.pressure
    )
    above = at_least(p.walls.top - wick.height, 1e-3)
    bathed = flame_cover(wick.height, wick.height + above, tip)
    conductance = wick.wall_coefficient * p.walls.outer_perimeter * above * bathed
    bound = bounded_share(conductance, power, wick.flame_temperature, p)
    bound *= aired(burning * wick.air_mass / AIR_MOLAR_MASS, p)
    wet = at_most(whole / wick.film_rate, 1.0)
    return WickFlame(
        rate=burning,
        tip=tip,
        bound=bound,
        heat_to_liquid=wick.conduction * cold * wet,
        contact=wick.conduction / wick.area * wet,
    )


def wick_rate(held: float, lit: float, p: Parameters) -> float:
    """Burning rate of the primer [mol/s]: of the wick, by film theory or capillary supply, whichever is less, and of
    the puddle round the foot of what the wick cannot hold. The wick drinks from that puddle, and stays full.
    """
    if lit <= 0.0 or p.wick.capacity <= 0.0:
        return 0.0
    saturation = at_most(at_least(held, 0.0) / p.wick.capacity, 1.0)
    supply = p.wick.supply_rate * saturation * saturation * saturation
    puddle = p.wick.overflow_rate * at_least(held - p.wick.capacity, 0.0)
    return supply * p.wick.film_rate / (supply + p.wick.film_rate) + puddle
