"""Liquid through the feed slots between gallery and well.

The speed in the feed slots is an algebraic state. Levelling takes about 0.01 s; solved for the speed, the
laminar-plus-inertial slot law is as good as singular at rest, and it would dictate the steps. As a state with the
polynomial dp = rho/2 (K u|u| + k nu u/d) for its balance it is smooth. RODAS4P is used, not RODAS4, because it keeps
its order when such a fast mode is driven slowly: about five times fewer steps here. The speed is set at its exact
root when a phase begins, and where no step is short enough; not after each step: that would start a new transient
each time, and steps could not grow past it.

Feed slots pass liquid both ways. Cold liquid of the well slides under the hot of the gallery in the same slot
(`closures/counterflow.py`), and what comes in stays below until the stream along the heated wall has carried it up
(`closures/filling.py`), in some three seconds. The state `chill` says how much colder it makes the liquid in the mean
than on top, where vapour is made.

Stirred in at once, it made half of plausible double walls breathe: the gallery's pressure fell a little, liquid came in
and chilled all of it, the pressure fell more, every four seconds until bloom. It took two thirds more evaluations, and
pumped so much heat into the well that one burner in ten, which would go out when the primer does, did not (100 random
double walls, `benchmarks/many_burns.py`). Of the filling box only its rate is taken: the stream at full depth over the
liquid's volume. The heat that the stream takes up on its way is spread over all the liquid; brought on top, it would
keep the top hot longer.
"""

from math import sqrt

from burnsim.bounds import at_least
from burnsim.closures.counterflow import counterflow_speed
from burnsim.closures.orifice import pressure_drop, pressure_drop_slope, velocity
from burnsim.constants import GRAVITY
from burnsim.elementary import power
from burnsim.model.balances.chambers import Liquid, fade, solution_enthalpy
from burnsim.model.parameters.record import Parameters
from burnsim.records import by_slots, record
from burnsim.substances.fuel import viscosity

MINGLING = 5e-5  # twice the speed at which liquids as heavy pass the slots each way at rest [m/s]: a rounding, no law
TRACE = 1e-9  # share of the slots that each liquid covers at least, for the mean of both
SLIGHT = 0.1  # layers no further apart are one [K]
LEAST_LEVEL, LEAST_HEATING = 1e-4, 0.1  # [m], [W]: a film that nothing heats has a slope, too
TRICKLE = 0.01  # a slower flow through the slots does not fill them; it takes a pressure of 0.1 Pa [m/s]


@record
class SlotFlows:
    """Liquid through the feed slots, from gallery to well."""

    speed: float  # [m/s]
    drive: float  # pressure that drives it [Pa]
    loss: float  # pressure that the slots take at that speed [Pa]; both are equal
    out: float  # from the gallery [mol/s], of its composition
    back: float  # from the well [mol/s], of its composition
    heat: float  # out less back [W]
    chill: float  # what they add to the gallery's `chill` [K/s]


def between(gallery: Liquid, well: Liquid, p: Parameters) -> tuple[float, float, float]:
    """Density [kg/m3] and viscosity [Pa s] of the liquid in the slots, and how much denser the gallery's is [kg/m3].

    Means of both sides, each by the share of the slots that it covers: an empty compartment's liquid has no density of
    its own, and changes at its first drop.
    """
    here = fade(gallery.level / p.slots.height)
    there = fade(well.level / p.slots.height)
    share = (here + TRACE) / (here + there + 2.0 * TRACE)
    temperature = well.temperature + share * (gallery.temperature - well.temperature)
    denser = gallery.density - well.density
    return well.density + share * denser, viscosity(temperature, p.fuel), here * there * denser


@record
class Carried:
    """What passes the feed slots at whatever speed."""

    density: float  # [kg/m3]
    viscosity: float  # [Pa s]
    exchange: float  # speed that liquid has each way at rest [m/s]
    out: float  # from the gallery, when it fills the slots [mol/m]
    back: float  # the same from the well
    out_heat: float  # [J/mol]
    back_heat: float
    out_chill: float  # what it adds to the gallery's `chill` [K/mol]
    back_chill: float


@by_slots
def carried(gallery: Liquid, well: Liquid, p: Parameters) -> Carried:
    """What passes the feed slots between two liquids.

    The means of both are taken, but for the gallery's liquid at the floor, which leaves as cold as the well's where
    what has come in from there still fills the slots: a layer that makes up a share s of a depth L fills slots of
    height H by about s (1 + L/H), on a rounded ramp, no law.
    """
    slots = p.slots
    density, thickness, denser = between(gallery, well, p)
    chill = at_least(gallery.chill, 0.0)
    apart = chill + at_least(gallery.temperature - well.temperature, 0.0)
    floor = fade(chill / (apart + SLIGHT) * (1.0 + gallery.level / slots.height))
    colder = gallery.molar_heat * (chill - floor * apart)
    brought = solution_enthalpy(well.fractions, gallery.temperature, p.fuel) - well.enthalpy
    exchange = counterflow_speed(
        denser * (1.0 - floor),
        slots.height,
        density,
        thickness,
        slots.diameter,
        slots.inertial_loss,
        slots.laminar_loss,
    )
    return Carried(
        density=density,
        viscosity=thickness,
        exchange=exchange,
        out=slots.area * gallery.moles / at_least(gallery.volume, 1e-12),
        back=slots.area * well.moles / at_least(well.volume, 1e-12),
        out_heat=gallery.enthalpy + colder,
        back_heat=well.enthalpy,
        out_chill=colder / gallery.capacity,
        back_chill=at_least(brought, 0.0) / gallery.capacity,
    )


@by_slots
def slot_flows(gallery: Liquid, well: Liquid, pressure: float, speed: float, p: Parameters) -> SlotFlows:
    """Liquid through the feed slots at a speed, from donors that can run dry.

    Around rest liquid passes both ways, the lighter over the heavier: the speeds out and back are (sqrt(u^2 + m^2) +-
    u)/2, with m from `counterflow_speed`. A net flow faster than that drives the other back.

    Parameters
    ----------
    gallery, well : the two liquids
    pressure : of the gallery above the well's [Pa]
    speed : of the liquid in the slots, gallery to well [m/s]
    p : parameters
    """
    slots = p.slots
    if slots.present <= 0.0:
        return SlotFlows(speed=speed, drive=0.0, loss=speed, out=0.0, back=0.0, heat=0.0, chill=0.0)
    way = carried(gallery, well, p)
    both = both_ways(speed, way)
    out = 0.5 * (both + speed) * way.out * slot_filling(gallery.level, well.level, speed, p)
    back = 0.5 * (both - speed) * way.back * slot_filling(well.level, gallery.level, speed, p)
    return SlotFlows(
        speed=speed,
        drive=pressure + GRAVITY * way.density * (gallery.level - well.level - slots.lift),
        loss=pressure_drop(speed, way.density, way.viscosity, slots.diameter, slots.inertial_loss, slots.laminar_loss),
        out=out,
        back=back,
        heat=out * way.out_heat - back * way.back_heat,
        chill=out * way.out_chill + back * way.back_chill,
    )


@by_slots
def slots_sloping(at: SlotFlows, gallery: Liquid, well: Liquid, p: Parameters) -> SlotFlows:
    """What `slot_flows` gives, followed by 1 m/s along its slopes; nothing else depends on that speed."""
    slots = p.slots
    speed = at.speed
    if slots.present <= 0.0:
        return SlotFlows(speed=speed + 1.0, drive=0.0, loss=speed + 1.0, out=0.0, back=0.0, heat=0.0, chill=0.0)
    way = carried(gallery, well, p)
    both = both_ways(speed, way)
    steeper = speed / both
    out = (steeper + 1.0) * slot_filling(gallery.level, well.level, speed, p)
    out += (both + speed) * slot_filling_slope(gallery.level, well.level, speed, p)
    out *= 0.5 * way.out
    back = (steeper - 1.0) * slot_filling(well.level, gallery.level, speed, p)
    back += (both - speed) * slot_filling_slope(well.level, gallery.level, speed, p)
    back *= 0.5 * way.back
    steeper_loss = pressure_drop_slope(
        speed, way.density, way.viscosity, slots.diameter, slots.inertial_loss, slots.laminar_loss
    )
    return SlotFlows(
        speed=speed + 1.0,
        drive=at.drive,
        loss=at.loss + steeper_loss,
        out=at.out + out,
        back=at.back + back,
        heat=at.heat + out * way.out_heat - back * way.back_heat,
        chill=at.chill + out * way.out_chill + back * way.back_chill,
    )


def both_ways(speed: float, way: Carried) -> float:
    """Sum of the speeds out and back [m/s]."""
    return sqrt(speed * speed + way.exchange * way.exchange + MINGLING * MINGLING)


def turnover(gallery: Liquid, heating: float, p: Parameters) -> float:
    """Share of the gallery's liquid that the stream along its heated wall turns over in a second [1/s].

    All heat is taken to enter by the outer wall, which the wick's flame bathes.

    Parameters
    ----------
    gallery : its liquid
    heating : from the gallery's walls [W]
    p : parameters
    """
    height = gallery.level + LEAST_LEVEL
    return p.gallery.turnover * power((at_least(heating, 0.0) + LEAST_HEATING) / (height * height), 0.2)


def slot_filling(before: float, behind: float, speed: float, p: Parameters) -> float:
    """Share of the feed slots that flowing liquid fills.

    A quick flow fills them as high as it stands before them. One that trickles into a drier compartment stands in them
    no higher than there.

    Parameters
    ----------
    before, behind : levels that it comes from and goes to [m]
    speed : of the liquid in the slots, whichever way [m/s]
    p : parameters
    """
    filled = fade(before / p.slots.height)
    if behind >= before:
        return filled
    trickle = fade(behind / p.slots.height)
    return trickle + (filled - trickle) * speed * speed / (speed * speed + TRICKLE * TRICKLE)


def slot_filling_slope(before: float, behind: float, speed: float, p: Parameters) -> float:
    """Slope of `slot_filling` by the speed [s/m]."""
    if behind >= before:
        return 0.0
    more = fade(before / p.slots.height) - fade(behind / p.slots.height)
    whole = speed * speed + TRICKLE * TRICKLE
    return more * 2.0 * speed * TRICKLE * TRICKLE / (whole * whole)


def settled_slot_speed(gallery: Liquid, well: Liquid, drive: float, p: Parameters) -> float:
    """Speed in the feed slots that a driving pressure calls for [m/s]: the root of its balance, in closed form."""
    if p.slots.present <= 0.0:
        return 0.0
    slots = p.slots
    density, thickness, _ = between(gallery, well, p)
    return velocity(
        drive,
        density,
        thickness,
        slots.diameter,
        slots.inertial_loss,
        slots.laminar_loss,
    )
