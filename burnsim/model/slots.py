"""Liquid through the feed slots between gallery and well."""

from typing import NamedTuple

from burnsim.closures.orifice import pressure_drop, velocity
from burnsim.model.chambers import GRAVITY, Liquid, fade
from burnsim.model.parameters import Parameters
from burnsim.substances.fuel import viscosity

TRICKLE = 0.01  # a slower flow through the slots does not fill them; it takes a pressure of 0.1 Pa [m/s]


class SlotFlows(NamedTuple):
    """Liquid through the feed slots, from gallery to well."""

    speed: float  # [m/s]
    drive: float  # pressure that drives it [Pa]
    loss: float  # pressure that the slots take at that speed [Pa]; both are equal
    flow: float  # [m3/s]
    rate: float  # the same [mol/s], of the donor's composition
    heat: float  # the same [W]


def slot_flows(gallery: Liquid, well: Liquid, pressure: float, speed: float, p: Parameters) -> SlotFlows:
    """Liquid through the feed slots at a speed, from a donor that can run dry.

    Parameters
    ----------
    gallery, well : the two liquids
    pressure : of the gallery above the well's [Pa]
    speed : of the liquid in the slots, gallery to well [m/s]
    p : parameters
    """
    slots = p.slots
    if slots.area <= 0.0:
        return SlotFlows(speed, 0.0, speed, 0.0, 0.0, 0.0)
    head = GRAVITY * 0.5 * (gallery.density + well.density)
    drive = pressure + head * (gallery.level - well.level - slots.lift)
    donor = gallery if speed >= 0.0 else well
    thickness = viscosity(donor.temperature, p.fuel)
    loss = pressure_drop(speed, donor.density, thickness, slots.diameter, slots.inertial_loss, slots.laminar_loss)
    flow = speed * slots.area * slot_filling(gallery.level, well.level, speed, p)
    rate = flow * donor.moles / max(donor.volume, 1e-12)
    return SlotFlows(speed, drive, loss, flow, rate, rate * donor.enthalpy)


def slot_filling(gallery: float, well: float, speed: float, p: Parameters) -> float:
    """Share of the feed slots that flowing liquid fills.

    A quick flow fills them as high as it stands before them. One that trickles into a drier compartment stands in them
    no higher than there.

    Parameters
    ----------
    gallery, well : levels [m]
    speed : of the liquid in the slots, gallery to well [m/s]
    p : parameters
    """
    before, behind = (gallery, well) if speed >= 0.0 else (well, gallery)
    filled = fade(before / p.slots.height)
    if behind >= before:
        return filled
    trickle = fade(behind / p.slots.height)
    return trickle + (filled - trickle) * speed * speed / (speed * speed + TRICKLE * TRICKLE)


def settled_slot_speed(gallery: Liquid, well: Liquid, drive: float, p: Parameters) -> float:
    """Speed in the feed slots that a driving pressure calls for [m/s]: the root of its balance, in closed form."""
    if p.slots.area <= 0.0:
        return 0.0
    donor = gallery if drive >= 0.0 else well
    slots = p.slots
    return velocity(
        drive,
        donor.density,
        viscosity(donor.temperature, p.fuel),
        slots.diameter,
        slots.inertial_loss,
        slots.laminar_loss,
    )
