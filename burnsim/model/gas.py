"""Flows of vapour, air and liquid between gallery, well and the open air."""

from math import pi, sqrt
from typing import NamedTuple

from burnsim.closures.orifice import pressure_drop, velocity
from burnsim.model.chambers import (
    AIR_MASS,
    GAS_CONSTANT,
    GRAVITY,
    Liquid,
    fade,
    mixture_enthalpy,
)
from burnsim.model.parameters import Parameters
from burnsim.model.pressure import (
    blow_rate,
    boil_rate,
    chamber_gauge,
    evaporation_rate,
    outlet_pressure,
    wall_heated_temperature,
)
from burnsim.model.walls import WallFlows
from burnsim.substances.fuel import vapour_viscosity, viscosity

WEIR = 0.4  # discharge of a sharp-crested weir, 2/3 x 0.6 (any text on hydraulics)
TRACE = 1e-15  # keeps ratios of flows finite at rest [mol/s]


class SlotFlows(NamedTuple):
    """Liquid through the feed slots, from gallery to well."""

    speed: float  # [m/s]
    drive: float  # pressure that drives it [Pa]
    loss: float  # pressure that the slots take at that speed [Pa]; both are equal
    flow: float  # [m3/s]
    rate: float  # the same [mol/s], of the donor's composition
    heat: float  # the same [W]


class GasFlows(NamedTuple):
    """Flows of vapour, air and liquid between the compartments and out of the burner."""

    gallery_pressure: float  # gauge [Pa]
    well_pressure: float  # gauge [Pa]
    gallery_vapour: float  # made in the gallery [mol/s]
    well_vapour: float  # made in the well [mol/s]
    through_jets: float  # of the gallery's vapour, through the jets [mol/s]
    blow: float  # of the gallery's vapour, through dry slots and out by the well [mol/s]
    blow_back: float  # of the well's vapour, through dry slots and out by the jets [mol/s]
    jet_air: float  # headspace air leaving through the jets [mol/s]
    jet_flow: float  # vapour and air together [mol/s]
    jet_mass: float  # mean molar mass of it [kg/mol]
    jet_temperature: float  # after its way along the hot dry walls [K]
    jet_superheat: float  # heat it takes from those walls [W]
    crossing_heat: float  # that vapour blown through dry slots takes from the upper walls [W]
    air_rate: float  # change of the air in the gallery's headspace [mol/s]
    air_fraction: float  # of the gas in the headspace
    spill_flow: float  # liquid through the jets [m3/s]
    spill_rate: float  # the same [mol/s], of the gallery's composition
    spill_heat: float  # [W], sensible
    rim_rate: float  # liquid of the well over its rim [mol/s], of the well's composition
    rim_heat: float  # [W], sensible


class WellGas(NamedTuple):
    """Vapour of a covered or open well."""

    gauge: float  # [Pa]
    vapour: float  # made [mol/s]
    blow_back: float  # of it, through dry slots into the gallery [mol/s]


class GalleryGas(NamedTuple):
    """Gas of the gallery and of its jets; as in `GasFlows`."""

    gauge: float
    vapour: float
    through_jets: float
    blow: float
    jet_air: float
    jet_flow: float
    jet_mass: float
    jet_temperature: float
    jet_superheat: float
    air_rate: float
    air_fraction: float


class Spill(NamedTuple):
    """Liquid that runs out of the jets or over the well's rim."""

    flow: float  # [m3/s]
    rate: float  # [mol/s]
    heat: float  # [W]


def exposed(body: Liquid, p: Parameters) -> float:
    """Share of the feed slots that stands above a compartment's liquid."""
    return 1.0 - fade(body.level / p.slots.height) if p.slots.area > 0.0 else 0.0


def slot_head(body: Liquid, density: float, p: Parameters) -> float:
    """Pressure with which a compartment's liquid holds vapour back from the middle of the slots [Pa]."""
    return GRAVITY * density * max(body.level - 0.5 * p.slots.height, 0.0)


def well_gas(well: Liquid, far: Liquid, heating: float, pool_vapour: float, p: Parameters) -> WellGas:
    """Vapour made in the well, and the pressure that drives it out through notches and gaps.

    Parameters
    ----------
    well : its liquid
    far : the gallery's liquid, which covers the slots' other side
    heating : from the walls [W]
    pool_vapour : what leaves an open well's surface [mol/s]
    p : parameters
    """
    if p.well.present <= 0.0 or p.vent.open > 0.0:
        return WellGas(0.0, pool_vapour, 0.0)
    thickness = vapour_viscosity(well.temperature, p.fuel)
    bare = exposed(well, p)
    resistance = slot_head(far, far.density, p)
    outlet = p.vent.outlet
    mass = well.vapour_mass
    gauge = chamber_gauge(well, heating, 0.0, mass, well.temperature, thickness, outlet, bare, resistance, p)
    made = boil_rate(well, heating, gauge, p)
    back = 0.0
    if bare > 0.0:
        back = min(blow_rate(gauge - resistance, bare, mass, well.temperature, thickness, p), made)
    return WellGas(gauge, made, back)


def gallery_gas(
    gallery: Liquid, well: Liquid, beside: WellGas, air: float, rim: float, walls: WallFlows, p: Parameters
) -> GalleryGas:
    """Vapour made in the gallery, the air that it sweeps out, and the pressure that drives both through the jets.

    Parameters
    ----------
    gallery, well : the two liquids
    beside : the well's gas
    air : in the gallery's headspace [mol]
    rim : rim temperature [K]
    walls : heat that the walls pass to the liquids
    p : parameters
    """
    fuel = p.fuel
    heating = walls.into_gallery
    room = p.gallery.area * p.gallery.height
    headspace = max(room - gallery.volume, 0.02 * room)
    held = p.site.pressure * headspace / (GAS_CONSTANT * gallery.temperature)
    air_fraction = min(max(air, 0.0) / held, 1.0)
    evaporated = evaporation_rate(gallery, p.gallery, air_fraction, p)
    boiled = boil_rate(gallery, heating, 0.0, p)
    net = heating - walls.divider - walls.gallery_loss - (evaporated + boiled) * gallery.latent
    warming = held / gallery.temperature * net / gallery.capacity
    base = evaporated + beside.blow_back
    purge = air_fraction * max(base + boiled + warming, 0.0)

    heat_capacity = 0.0
    for i in range(p.components):
        heat_capacity += gallery.vapour[i] * fuel.vapour_heat[i][1]
    dry = max(p.gallery.height - gallery.level, 0.0)
    transfer = p.jets.superheat_coefficient * p.jets.superheat_perimeter * dry
    hot = wall_heated_temperature(base + boiled + purge, heat_capacity, transfer, gallery.temperature, rim)
    hot = min(max(hot, 200.0), 1200.0)
    thickness = vapour_viscosity(hot, fuel)
    mass = ((base + boiled) * gallery.vapour_mass + (purge + TRACE) * AIR_MASS) / (base + boiled + purge + TRACE)
    bare = exposed(gallery, p)
    resistance = beside.gauge + slot_head(well, well.density, p)
    outlet = p.jets.outlet
    gauge = chamber_gauge(gallery, heating, base + purge, mass, hot, thickness, outlet, bare, resistance, p)
    made = evaporated + boil_rate(gallery, heating, gauge, p)
    blow = 0.0
    if bare > 0.0:
        blow = min(blow_rate(gauge - resistance, bare, mass, hot, thickness, p), made)
    leaving = made - blow
    breath = leaving + beside.blow_back + warming
    jet_air = air_fraction * max(breath, 0.0)
    jet_flow = leaving + beside.blow_back + jet_air
    vapour_mass = leaving * gallery.vapour_mass + beside.blow_back * well.vapour_mass
    superheat = leaving * (mixture_enthalpy(gallery.vapour, hot, fuel) - gallery.vapour_heat)
    if beside.blow_back > 0.0:
        superheat += beside.blow_back * (mixture_enthalpy(well.vapour, hot, fuel) - well.vapour_heat)
    return GalleryGas(
        gauge,
        made,
        leaving,
        blow,
        jet_air,
        jet_flow,
        (vapour_mass + (jet_air + TRACE) * AIR_MASS) / (jet_flow + TRACE),
        hot,
        superheat,
        max(-breath, 0.0) - jet_air,
        air_fraction,
    )


def spill(gallery: Liquid, gauge: float, p: Parameters) -> Spill:
    """Liquid that stands above the jets' lower edge runs out of them, driven by its head and the gallery's pressure."""
    over = gallery.level - p.jets.lower_edge
    if p.gallery.present <= 0.0 or over <= 0.0:
        return Spill(0.0, 0.0, 0.0)
    outlet = p.jets.outlet
    speed = sqrt(2.0 * (GRAVITY * over + gauge / gallery.density) / outlet.inertial_loss)
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


def gas_flows(
    gallery: Liquid,
    well: Liquid,
    air: float,
    rim: float,
    walls: WallFlows,
    pool_vapour: float,
    p: Parameters,
) -> GasFlows:
    """Every flow of vapour and air between the compartments and out of the burner, and liquid out of the jets.

    Parameters
    ----------
    gallery, well : the two liquids
    air : air in the gallery's headspace [mol]
    rim : rim temperature [K]
    walls : heat that the walls pass to the liquids
    pool_vapour : vapour that leaves an open well's surface [mol/s]
    p : parameters

    Returns
    -------
    GasFlows
    """
    beside = well_gas(well, gallery, walls.into_well, pool_vapour, p)
    if p.gallery.present > 0.0:
        jets = gallery_gas(gallery, well, beside, air, rim, walls, p)
    else:
        jets = GalleryGas(0.0, 0.0, 0.0, 0.0, 0.0, 0.0, AIR_MASS, gallery.temperature, 0.0, 0.0, 0.0)
    well_gauge = beside.gauge
    crossing = 0.0
    if jets.blow > 0.0:
        crossing = jets.blow * (mixture_enthalpy(gallery.vapour, well.temperature, p.fuel) - gallery.vapour_heat)
        if p.vent.open <= 0.0:
            thickness = vapour_viscosity(well.temperature, p.fuel)
            flow = beside.vapour - beside.blow_back + jets.blow
            well_gauge = outlet_pressure(
                flow, well.vapour_mass, well.temperature, thickness, p.vent.outlet, p.site.pressure
            )
    over = spill(gallery, jets.gauge, p)
    rim_over = overflow(well, p)
    return GasFlows(
        jets.gauge,
        well_gauge,
        jets.vapour,
        beside.vapour,
        jets.through_jets,
        jets.blow,
        beside.blow_back,
        jets.jet_air,
        jets.jet_flow,
        jets.jet_mass,
        jets.jet_temperature,
        jets.jet_superheat,
        crossing,
        jets.air_rate,
        jets.air_fraction,
        over.flow,
        over.rate,
        over.heat,
        rim_over.rate,
        rim_over.heat,
    )


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
    flow = speed * slots.area * fade(donor.level / slots.height)
    rate = flow * donor.moles / max(donor.volume, 1e-12)
    return SlotFlows(speed, drive, loss, flow, rate, rate * donor.enthalpy)


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
