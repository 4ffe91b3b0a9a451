"""Flows of vapour, air and liquid between gallery, well and the open air."""

from math import sqrt
from typing import NamedTuple

from burnsim.closures.orifice import pressure_drop
from burnsim.model.chambers import (
    AIR_MASS,
    GAS_CONSTANT,
    GRAVITY,
    Liquid,
    fade,
    mixture_enthalpy,
    solution_enthalpy,
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
from burnsim.model.state import DATUM
from burnsim.model.walls import WallFlows
from burnsim.substances.fuel import vapour_viscosity, viscosity


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
    slot_drive: float  # pressure that drives liquid from gallery to well through the slots [Pa]
    slot_loss: float  # pressure that the slots take at the state's speed [Pa]; both are equal
    slot_flow: float  # liquid, gallery to well [m3/s]
    slot_rate: float  # the same [mol/s], of the donor's composition
    slot_heat: float  # the same [W]
    spill_flow: float  # liquid through the jets [m3/s]
    spill_rate: float  # the same [mol/s], of the gallery's composition
    spill_heat: float  # [W], sensible


def gas_flows(
    gallery: Liquid,
    well: Liquid,
    air: float,
    slot_speed: float,
    rim_temperature: float,
    walls: WallFlows,
    pool_vapour: float,
    p: Parameters,
) -> GasFlows:
    """Every flow of vapour, air and liquid between the compartments and out of the burner.

    Parameters
    ----------
    gallery, well : the two liquids
    air : air in the gallery's headspace [mol]
    slot_speed : of the liquid in the feed slots, gallery to well [m/s]
    rim_temperature : [K]
    walls : heat that the walls pass to the liquids
    pool_vapour : vapour that leaves an open well's surface [mol/s]
    p : parameters

    Returns
    -------
    GasFlows
    """
    fuel = p.fuel
    ambient = p.site.pressure
    slots = p.slots
    head = GRAVITY * 0.5 * (gallery.density + well.density)

    # the well: open to the air, or vented through notches and gaps
    well_gauge = 0.0
    well_vapour = pool_vapour
    blow_back = 0.0
    well_exposed = 0.0
    gallery_exposed = 0.0
    if slots.area > 0.0:
        well_exposed = 1.0 - fade(well.level / slots.height)
        gallery_exposed = 1.0 - fade(gallery.level / slots.height)
    if p.well.present > 0.0 and p.vent.open <= 0.0:
        well_viscosity = vapour_viscosity(well.temperature, fuel)
        resistance = head * max(gallery.level - 0.5 * slots.height, 0.0)
        well_gauge = chamber_gauge(
            well,
            walls.into_well,
            0.0,
            well.vapour_mass,
            well.temperature,
            well_viscosity,
            p.vent.outlet,
            well_exposed,
            resistance,
            p,
        )
        well_vapour = boil_rate(well, walls.into_well, well_gauge, p)
        if well_exposed > 0.0:
            drive = well_gauge - resistance
            blow_back = min(
                blow_rate(drive, well_exposed, well.vapour_mass, well.temperature, well_viscosity, p), well_vapour
            )

    # the gallery: jets only
    gauge = 0.0
    made = 0.0
    blow = 0.0
    out_temperature = gallery.temperature
    superheat = 0.0
    air_fraction = 0.0
    air_rate = 0.0
    jet_air = 0.0
    leaving = 0.0
    jet_flow = 0.0
    jet_mass = gallery.vapour_mass
    if p.gallery.present > 0.0:
        headspace = max(
            p.gallery.area * p.gallery.height - gallery.volume, 0.02 * p.gallery.area * p.gallery.height
        )
        gas = ambient * headspace / (GAS_CONSTANT * gallery.temperature)
        air_fraction = min(max(air, 0.0) / gas, 1.0)
        evaporated = evaporation_rate(gallery, p.gallery, air_fraction, p)
        boiled = boil_rate(gallery, walls.into_gallery, 0.0, p)
        rate = (
            walls.into_gallery - walls.divider - walls.gallery_loss - (evaporated + boiled) * gallery.latent
        ) / gallery.capacity
        warming = gas / gallery.temperature * rate
        base = evaporated + blow_back
        breath = base + boiled + warming
        purge = air_fraction * max(breath, 0.0)
        heat_capacity = 0.0
        for i in range(p.components):
            heat_capacity += gallery.vapour[i] * fuel.vapour_heat[i][1]
        dry = max(p.gallery.height - gallery.level, 0.0)
        transfer = p.jets.superheat_coefficient * p.jets.superheat_perimeter * dry
        out_temperature = wall_heated_temperature(
            base + boiled + purge, heat_capacity, transfer, gallery.temperature, rim_temperature
        )
        out_temperature = min(max(out_temperature, 200.0), 1200.0)
        out_viscosity = vapour_viscosity(out_temperature, fuel)
        first = base + boiled + purge + 1e-15
        mass = ((base + boiled) * gallery.vapour_mass + purge * AIR_MASS + 1e-15 * AIR_MASS) / first
        resistance = well_gauge + head * max(well.level - 0.5 * slots.height, 0.0)
        gauge = chamber_gauge(
            gallery,
            walls.into_gallery,
            base + purge,
            mass,
            out_temperature,
            out_viscosity,
            p.jets.outlet,
            gallery_exposed,
            resistance,
            p,
        )
        made = evaporated + boil_rate(gallery, walls.into_gallery, gauge, p)
        if gallery_exposed > 0.0:
            blow = min(
                blow_rate(gauge - resistance, gallery_exposed, mass, out_temperature, out_viscosity, p), made
            )
        leaving = made - blow
        air_share = air_fraction * max(leaving + blow_back + warming, 0.0)
        jet_air = air_share
        air_rate = -air_share + max(-(leaving + blow_back + warming), 0.0)
        jet_flow = leaving + blow_back + jet_air
        jet_mass = (
            leaving * gallery.vapour_mass
            + blow_back * well.vapour_mass
            + jet_air * AIR_MASS
            + 1e-15 * AIR_MASS
        ) / (jet_flow + 1e-15)
        superheat = leaving * (mixture_enthalpy(gallery.vapour, out_temperature, fuel) - gallery.vapour_heat)
        if blow_back > 0.0:
            superheat += blow_back * (
                mixture_enthalpy(well.vapour, out_temperature, fuel) - well.vapour_heat
            )

    crossing = 0.0
    if blow > 0.0:
        crossing = blow * (mixture_enthalpy(gallery.vapour, well.temperature, fuel) - gallery.vapour_heat)
        if p.vent.open <= 0.0:
            well_viscosity = vapour_viscosity(well.temperature, fuel)
            well_gauge = outlet_pressure(
                well_vapour + blow, well.vapour_mass, well.temperature, well_viscosity, p.vent.outlet, ambient
            )

    # liquid through the slots, from a donor that can run dry
    drive = 0.0
    loss = 0.0
    slot_flow = 0.0
    slot_rate = 0.0
    slot_heat = 0.0
    if slots.area > 0.0:
        drive = gauge - well_gauge + head * (gallery.level - well.level - slots.lift)
        donor = gallery if slot_speed >= 0.0 else well
        thickness = viscosity(donor.temperature, fuel)
        loss = pressure_drop(
            slot_speed, donor.density, thickness, slots.diameter, slots.inertial_loss, slots.laminar_loss
        )
        slot_flow = slot_speed * slots.area * fade(donor.level / slots.height)
        slot_rate = slot_flow * donor.moles / max(donor.volume, 1e-12)
        slot_heat = slot_rate * donor.enthalpy

    # liquid that stands above the jets runs out of them
    spill_flow = 0.0
    spill_rate = 0.0
    spill_heat = 0.0
    if p.gallery.present > 0.0 and gallery.level > p.jets.lower_edge:
        over = gallery.level - p.jets.lower_edge
        covered = fade(over / p.jets.outlet.diameter)
        speed = sqrt(2.0 * (GRAVITY * over + gauge / gallery.density) / p.jets.outlet.inertial_loss)
        spill_flow = covered * p.jets.outlet.holes * p.jets.area * speed
        spill_rate = spill_flow * gallery.moles / max(gallery.volume, 1e-12)
        spill_heat = spill_rate * gallery.enthalpy

    return GasFlows(
        gauge,
        well_gauge,
        made,
        well_vapour,
        leaving,
        blow,
        blow_back,
        jet_air,
        jet_flow,
        jet_mass,
        out_temperature,
        superheat,
        crossing,
        air_rate,
        air_fraction,
        drive,
        loss,
        slot_flow,
        slot_rate,
        slot_heat,
        spill_flow,
        spill_rate,
        spill_heat,
    )
