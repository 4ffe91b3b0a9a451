"""Liquid and froth that leave without burning: through the jets, and over the rim of the well."""

from math import pi, sqrt

from burnsim.bounds import at_least, within
from burnsim.closures.swell import drift_velocity, froth_height, uniform_swell
from burnsim.constants import GAS_CONSTANT, GRAVITY
from burnsim.model.balances.chambers import Liquid, fade
from burnsim.model.parameters.record import Parameters
from burnsim.records import record
from burnsim.substances.fuel import surface_tension

WEIR = 0.4  # discharge of a sharp-crested weir, 2/3 x 0.6 (any text on hydraulics)


@record
class Spill:
    """Liquid that runs out of the jets or over the well's rim."""

    flow: float  # [m3/s]
    rate: float  # [mol/s]
    heat: float  # [W]


@record
class Froth:
    """The top of the boiling liquid in the gallery."""

    level: float  # above the floor [m]
    void: float  # share of vapour at its top
    density: float  # there [kg/m3]


def froth(body: Liquid, vapour: float, p: Parameters) -> Froth:
    """The gallery's liquid swollen by the vapour made along its height.

    Parameters
    ----------
    body : the gallery's liquid
    vapour : made in it [mol/s]
    p : parameters

    Returns
    -------
    Froth

    Notes
    -----
    Drift flux with C0 = 1.2: the superficial velocity j grows evenly over the layer that boils, and all of it passes
    its top, where the void fraction is j/(C0 j + v_drift). While the mean is colder than its bubble point, hot liquid
    lies on top and boils there (see `burnsim.model.balances.pressure`): that layer grows from nothing at `onset`, below
    which little vapour is made, to the whole depth at the bubble point. While it is thinner than the jets are wide, it
    fills but a part of them, and the void fades.

    References
    ----------
    See `burnsim.closures.swell`.
    """
    boiling = within(1.0 + (body.superheat + body.chill) / body.onset, 0.0, 1.0)
    speed = at_least(vapour, 0.0) * GAS_CONSTANT * body.temperature / (p.site.pressure * p.gallery.area)
    vapour_density = p.site.pressure * body.vapour_mass / (GAS_CONSTANT * body.temperature)
    drift = drift_velocity(surface_tension(body.temperature, p.fuel), body.density, vapour_density)
    level = at_least(body.level, 0.0)
    void = fade(boiling * level / p.jets.outlet.diameter) * (1.0 - 1.0 / uniform_swell(speed, drift))
    return Froth(
        (1.0 - boiling) * level + froth_height(boiling * level, speed, drift),
        void,
        body.density - void * (body.density - vapour_density),
    )


def spill(gallery: Liquid, vapour: float, gauge: float, spilling: float, p: Parameters) -> Spill:
    """Liquid or froth that stands above the jets' lower edge runs out of them, by its head and the gallery's pressure.

    Parameters
    ----------
    gallery : its liquid
    vapour : made in it [mol/s]
    gauge : of the gallery [Pa]
    spilling : 1.0 once it has begun, as in `Regime`
    p : parameters

    Returns
    -------
    Spill
        Of liquid. The vapour in the froth is part of what the jets pass anyhow.

    Notes
    -----
    Liquid and vapour leave the covered part of the holes as one mixture at one speed: u = sqrt(2 (g rho_m h +
    gauge)/(rho_m K)), with the froth's height h above the edge, its density there rho_m = (1 - void) rho_l + void
    rho_v, and the share 1 - void of the flow is liquid. Without vapour this is Torricelli's law of clear liquid.

    On a tilted stand the edge is that of the low side, and all jets are taken to lie there: the liquid above it leaves
    sooner than it would, and no less of it. What the covered holes hold back of the vapour is not counted, so froth is
    driven by too little pressure rather than by too much.

    References
    ----------
    Homogeneous flow of two phases without slip, as in any text on two-phase flow (G. B. Wallis 1969, One-dimensional
    Two-phase Flow, chapter 2; from memory, unverified).
    """
    if p.gallery.present <= 0.0 or spilling <= 0.0:
        return Spill(0.0, 0.0, 0.0)
    top = froth(gallery, vapour, p)
    over = top.level - p.jets.lower_edge
    if over <= 0.0:
        return Spill(0.0, 0.0, 0.0)
    outlet = p.jets.outlet
    speed = sqrt(2.0 * at_least(GRAVITY * over + gauge / top.density, 0.0) / outlet.inertial_loss)
    flow = (1.0 - top.void) * fade(over / outlet.diameter) * outlet.holes * p.jets.area * speed
    rate = flow * gallery.moles / at_least(gallery.volume, 1e-12)
    return Spill(flow, rate, rate * gallery.enthalpy)


def overflow(well: Liquid, spilling: float, p: Parameters) -> Spill:
    """Liquid of the well that stands above its lip runs over it: a sharp-crested weir all round (Poleni's formula)."""
    over = well.level - p.well.lip
    if p.well.present <= 0.0 or spilling <= 0.0 or over <= 0.0:
        return Spill(0.0, 0.0, 0.0)
    length = sqrt(4.0 * pi * p.well.area)
    flow = WEIR * length * sqrt(2.0 * GRAVITY * over) * over
    rate = flow * well.moles / at_least(well.volume, 1e-12)
    return Spill(flow, rate, rate * well.enthalpy)
