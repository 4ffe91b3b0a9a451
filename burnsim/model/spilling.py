"""Liquid that leaves without burning: through the jets, and over the rim of the well."""

from math import pi, sqrt
from typing import NamedTuple

from burnsim.model.chambers import GRAVITY, Liquid, fade
from burnsim.model.parameters import Parameters

WEIR = 0.4  # discharge of a sharp-crested weir, 2/3 x 0.6 (any text on hydraulics)


class Spill(NamedTuple):
    """Liquid that runs out of the jets or over the well's rim."""

    flow: float  # [m3/s]
    rate: float  # [mol/s]
    heat: float  # [W]


def spill(gallery: Liquid, gauge: float, p: Parameters) -> Spill:
    """Liquid that stands above the jets' lower edge runs out of them, driven by its head and the gallery's pressure.

    On a tilted stand the edge is that of the low side, and all jets are taken to lie there: the liquid above it leaves
    sooner than it would, and no less of it.
    """
    over = gallery.level - p.jets.lower_edge
    if p.gallery.present <= 0.0 or over <= 0.0:
        return Spill(0.0, 0.0, 0.0)
    outlet = p.jets.outlet
    speed = sqrt(2.0 * max(GRAVITY * over + gauge / gallery.density, 0.0) / outlet.inertial_loss)
    flow = fade(over / outlet.diameter) * outlet.holes * p.jets.area * speed
    rate = flow * gallery.moles / max(gallery.volume, 1e-12)
    return Spill(flow, rate, rate * gallery.enthalpy)


def overflow(well: Liquid, p: Parameters) -> Spill:
    """Liquid of the well that stands above its lip runs over it: a sharp-crested weir all round (Poleni's formula)."""
    over = well.level - p.well.lip
    if p.well.present <= 0.0 or over <= 0.0:
        return Spill(0.0, 0.0, 0.0)
    length = sqrt(4.0 * pi * p.well.area)
    flow = WEIR * length * sqrt(2.0 * GRAVITY * over) * over
    rate = flow * well.moles / max(well.volume, 1e-12)
    return Spill(flow, rate, rate * well.enthalpy)
