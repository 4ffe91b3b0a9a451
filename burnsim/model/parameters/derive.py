"""From the frozen descriptions to the parameter record and the first state: done once per burn.

A pot close above a well throttles it. Air for the pool's flame comes in through the curtain between rim and pot,
whatever holds the pot; below the quenching distance the well only vents.
"""

from dataclasses import replace
from math import hypot, pi, sqrt
from statistics import fmean
from typing import NamedTuple

from burnsim.bounds import within
from burnsim.closures.boiling import COOPER_EXPONENT, cooper_coefficient
from burnsim.closures.capillarity import gap_rise, hold_off_pressure
from burnsim.closures.combustion import combustion_record
from burnsim.closures.convection import (
    churchill_chu_plate,
    mixed_coefficient,
    plate_down,
    vertical_wall,
    wind_coefficient,
)
from burnsim.closures.exchange import ground_coefficient
from burnsim.closures.filling import wall_stream
from burnsim.closures.flame import FLAME_TEMPERATURE
from burnsim.closures.orifice import inertial_loss, laminar_loss
from burnsim.closures.plume import OPENING_DISCHARGE, layer_draught, opening_draught
from burnsim.closures.radiation import linear_coefficient
from burnsim.constants import AIR_MOLAR_MASS, DATUM, GRAVITY, STEFAN_BOLTZMANN
from burnsim.model.balances.chambers import (
    fade,
    gas_held,
    mixture,
    solution_enthalpy,
    standing_heat,
    standing_vapour,
)
from burnsim.model.balances.pressure import BUBBLE_SUBCOOLING, HOT_TOP
from burnsim.model.balances.state import State
from burnsim.model.balances.walls import SHORTEST_STRIP
from burnsim.model.description import geometry
from burnsim.model.description.conditions import Pot
from burnsim.model.description.fields import spec_of
from burnsim.model.description.setup import Setup
from burnsim.model.parameters.flames import (
    EDGE_SHAPE,
    POOL_SURFACE,
    SPIRIT_CONDUCTIVITY,
    clearance,
    collar_below,
    flame_gap,
    hold_power,
    jet_ring,
    pool,
    rim_hold_power,
    stirring,
    wall_above,
    wall_temperature_film,
    wick_band,
)
from burnsim.model.parameters.pot import (
    LEAST_AIR,
    RIM_LEAK,
    disc_efficiency,
    gas_way,
    plate_conduction,
    plate_emission,
    pot_parameters,
    rim_contact,
)
from burnsim.model.parameters.record import (
    Chamber,
    Collar,
    Outlet,
    Parameters,
    Slots,
    Surroundings,
    Vent,
    Walls,
)
from burnsim.model.parameters.shelter import air_limit, flame_height, pot_bottom, wind_at, wind_up
from burnsim.substances import air
from burnsim.substances.blend import density, fuel_record, moles
from burnsim.substances.equilibrium import bubble_temperature, vapour_composition
from burnsim.substances.fuel import (
    FuelRecord,
    liquid_heat_capacity,
    liquid_volume,
    surface_tension,
    viscosity,
)
from burnsim.substances.grounds import GROUNDS

RESIDUAL_FILM = 30e-6  # thickness below which a film no longer covers the metal [m], common practice, no source
UNHINDERED = 1e3  # air that comes in to a well with nothing near above it: more than any flame needs [mol/s]
UNEVEN_FLOOR = 0.3e-3  # mean gap under a flat floor of thin sheet, common practice, no source [m]
GROUND_TIME = 600.0  # over which what the ground takes is averaged [s]
POOL_FIRE = 2.5e5  # of small alcohol pools, 10 g/m2/s (published: 10 to 30) [W/m2]
WARM_WALL = 340.0  # the same for losses to the room [K]
HOT_PLATE = 600.0  # of a closed top in the jets' flames: aluminium 500, brass 550, steel 610, stainless steel 730 [K]


class Moved(NamedTuple):
    """What moves a liquid beside a hot wall."""

    expansion: float  # [1/K]
    viscosity: float  # kinematic [m2/s]
    diffusivity: float  # of heat [m2/s]


def moved(fuel: FuelRecord, x: tuple[float, ...], temperature: float) -> Moved:
    """What moves a spirit beside a hot wall, at a temperature [K]."""
    total = liquid_volume(x, temperature, fuel)
    warmer = liquid_volume(x, temperature + 10.0, fuel)
    expansion = max(warmer / total - 1.0, 1e-4) / 10.0
    mass = sum(x[i] * fuel.molar_mass[i] for i in range(len(x)))
    rho = mass / total
    heat = liquid_heat_capacity(x, temperature, fuel) / mass
    nu = viscosity(temperature, fuel) / rho
    alpha = SPIRIT_CONDUCTIVITY / (rho * heat)
    return Moved(expansion, nu, alpha)


def liquid_convection(depth: float, by: Moved) -> float:
    """Single-phase coefficient between a hot upright wall and the spirit beside it, for 20 K [W/m2/K].

    Churchill and Chu (1975) with the liquid's own expansion, heat capacity and viscosity.
    """
    rayleigh = GRAVITY * by.expansion * 20.0 * depth**3 / (by.viscosity * by.diffusivity)
    return churchill_chu_plate(rayleigh, by.viscosity / by.diffusivity) * SPIRIT_CONDUCTIVITY / depth


def outside_coefficient(height: float, diameter: float, emissivity: float, setup: Setup, pressure: float) -> float:
    """Convection, wind and radiation from an upright wall at some 340 K to the room [W/m2/K]."""
    room = setup.site.air_temperature
    return air_coefficient(height, diameter, setup, pressure) + linear_coefficient(emissivity, WARM_WALL, room)


def air_coefficient(height: float, diameter: float, setup: Setup, pressure: float) -> float:
    """Convection and wind alone from an upright wall at some 340 K to the room's air [W/m2/K]."""
    room = setup.site.air_temperature
    still = vertical_wall(height, WARM_WALL, room, pressure)
    windy = wind_coefficient(wind_at(setup, 0.5 * setup.burner.height), diameter, 0.5 * (WARM_WALL + room), pressure)
    return mixed_coefficient(still, windy)


def wet_height(setup: Setup) -> float:
    """Height of the wall whose metal is as warm as the liquid: the charge's depth, within bounds [m].

    No more than half of the burner's height, with some dry wall below the rim. No less than a quarter: vapour that
    stands in the headspace counts as warm as the liquid, and over a shallow charge it needs that metal to be so.
    """
    burner = setup.burner
    level = setup.charge.volume / (geometry.gallery_area(burner) + geometry.well_area(burner))
    most = burner.height - wall_above(setup) - SHORTEST_STRIP
    return max(min(0.5 * burner.height, max(level, 0.25 * burner.height), most), 2e-3)


def floor_coefficient(setup: Setup, pressure: float) -> float:
    """From a burner's floor to what is below it, air or ground, the mean over ten minutes [W/m2/K]."""
    radius = 0.5 * setup.burner.outer_diameter
    if setup.site.ground == "nothing":
        return plate_down(0.5 * radius, WARM_WALL, setup.site.air_temperature, pressure)
    ground = GROUNDS[setup.site.ground]
    into = ground_coefficient(radius, ground.conductivity, ground.diffusivity, GROUND_TIME)
    return 1.0 / (1.0 / into + UNEVEN_FLOOR / air.conductivity(WARM_WALL))


def chambers(setup: Setup, fuel: FuelRecord, pressure: float) -> tuple[Chamber, Chamber]:
    """Gallery and well of a setup."""
    burner = setup.burner
    metal = burner.material
    thickness = burner.wall_thickness * setup.factors.wall_thickness
    per_area = metal.density * metal.heat_capacity * thickness
    half = 0.5 * burner.height
    floors = (geometry.gallery_area(burner), geometry.well_area(burner))
    double = burner.has_inner_wall
    outer = pi * geometry.inner_diameter(burner)
    inner = pi * geometry.inner_wall_diameter(burner)
    wetted = (outer + inner, inner) if double else (outer, outer)
    gap = burner.gallery_gap if double and burner.gallery_gap is not None else 0.25 * burner.outer_diameter
    lengths = (0.5 * gap, 0.25 * burner.outer_diameter + 0.5 * burner.height)
    x = setup.charge.fuel.mole_fractions
    boiling = bubble_temperature(x, pressure, fuel)
    depth = max(min(0.5 * burner.height, setup.charge.volume / (floors[0] + floors[1])), 2e-3)
    wet = wet_height(setup)
    lower = 0.25 * inner * (burner.height + wet)  # of the inner wall, half of what is dry: its warmth falls evenly
    lower_wall = (outer * wet + lower, lower) if double else (outer * wet, outer * wet)
    by = moved(fuel, x, 0.5 * (boiling + setup.site.air_temperature))
    convection = liquid_convection(depth, by)
    push = GRAVITY * by.expansion / (outer * SPIRIT_CONDUCTIVITY)  # of 1 W over 1 m
    stream = wall_stream(1.0, push, by.viscosity, by.viscosity / by.diffusivity)
    side = outside_coefficient(half, burner.outer_diameter, metal.emissivity, setup, pressure)
    below = floor_coefficient(setup, pressure)
    made = []
    for k in range(2):
        present = 1.0 if floors[k] > 0.0 else 0.0
        outside = half * pi * burner.outer_diameter if (k == 0 or not double) else 0.0
        area = floors[k] if present else 1.0
        made.append(
            Chamber(
                present=present,
                area=area,
                height=burner.height,
                wetted_perimeter=wetted[k],
                film_volume=RESIDUAL_FILM * (area + 5e-3 * wetted[k]),
                metal=per_area * (lower_wall[k] + floors[k]) if present else 1.0,
                loss=present * (side * outside + below * floors[k]),
                convection=convection,
                turnover=stream * outer / area,
                diffusion_length=lengths[k],
                lip=geometry.overflow_level(burner, setup.site.tilt) if k == 1 else burner.height,
            )
        )
    return made[0], made[1]


def slots(setup: Setup, fuel: FuelRecord, temperature: float) -> Slots:
    """Feed slots and the capillary lift of the gallery."""
    burner = setup.burner
    if burner.feed_slots is None or burner.gallery_gap is None:
        return Slots(area=0.0, height=1e-3, diameter=1e-3, inertial_loss=2.7, laminar_loss=38.0, lift=0.0, bubble=1.0)
    opening = burner.feed_slots
    diameter = 2.0 * opening.width * opening.height / (opening.width + opening.height)
    ratio = burner.wall_thickness * setup.factors.wall_thickness / diameter
    rho = density(setup.charge.fuel, temperature)
    lift = gap_rise(surface_tension(temperature, fuel), 1.0, rho, burner.gallery_gap)
    return Slots(
        area=geometry.slot_area(burner),
        height=opening.height,
        diameter=diameter,
        inertial_loss=inertial_loss(ratio) / setup.factors.discharge**2,
        laminar_loss=laminar_loss(ratio),
        lift=min(lift, burner.height),
        bubble=hold_off_pressure(surface_tension(temperature, fuel), diameter),
    )


def vent(setup: Setup, hold: float, rim_hold: float, pressure: float) -> Vent:
    """What joins the well to the open air; a flame there has at least `hold` [W], and `rim_hold` round its rim [W/m].

    A pot above the rim leaves a curtain, pi times diameter times gap, through which air comes in to the well's flames
    and their gas leaves. In a gap below the quenching distance no flame lives: the well is then covered, and vents
    through the gap and the notches. From there up to twice that distance flames reach in over more and more of it, for
    they live in that gap in the best of mixtures only: an interpolation. As far as they do not, they are a ring in the
    gap, which is longer than the well's rim.
    """
    burner = setup.burner
    pot = setup.pot
    room = setup.site.air_temperature
    idle = Outlet(holes=0.0, diameter=1e-3, inertial_loss=2.7, laminar_loss=38.0, leak=1e-9)
    closed = Vent(
        open=0.0,
        outlet=idle,
        hold_power=hold,
        least_power=max(hold, pi * geometry.well_diameter(burner) * rim_hold),
        breath=UNHINDERED,
        layer_breath=UNHINDERED,
        clearance=clearance(setup),
        mouth=0.0,
    )
    if not burner.has_well:
        return closed
    if pot is None:
        return replace(closed, open=1.0)
    circumference = pi * burner.outer_diameter
    area = geometry.notch_area(burner)
    perimeter = 0.0
    free = 0.0
    breath = UNHINDERED
    layer_breath = UNHINDERED
    if burner.relief is not None:
        perimeter += burner.relief.count * 2.0 * (burner.relief.width + burner.relief.depth)
    if pot.rest != "full ring":
        area += circumference * pot.gap
        perimeter += 2.0 * circumference
        rho = air.density(room, pressure)
        still = opening_draught(area, pot.gap, rho, FLAME_TEMPERATURE, room)
        # a wind's dynamic pressure drives air in on one side and out on the other: two openings in series
        blown = rho * wind_at(setup, burner.height) * OPENING_DISCHARGE / sqrt(2.0) * burner.outer_diameter * pot.gap
        breath = hypot(still, blown) / AIR_MOLAR_MASS
        warm, hot = air.density(POOL_SURFACE, pressure), air.density(FLAME_TEMPERATURE, pressure)
        layer_breath = layer_draught(1.0, warm, hot, air.viscosity(FLAME_TEMPERATURE)) / AIR_MOLAR_MASS
        layer_breath *= 1.0 + (blown / still) ** 2  # what drives air through the curtain drives it through the layer
        free = fade(pot.gap / flame_gap(setup, pressure) - 1.0)
        if free >= 1.0:
            return replace(closed, open=1.0, breath=breath, layer_breath=layer_breath)
        mean = free * geometry.well_diameter(burner) + (1.0 - free) * burner.outer_diameter
        closed = replace(closed, least_power=max(hold, pi * mean * rim_hold))
        if free * geometry.well_area(burner) * POOL_FIRE < 0.5 * closed.least_power:
            free = 0.0  # too small a flame to live
    leak = circumference * RIM_LEAK**3 / (12.0 * burner.rim_width) if pot.rest == "full ring" else 0.0
    seat = circumference * RIM_LEAK / burner.rim_width if pot.rest == "full ring" else 0.0
    if area <= 0.0:
        return replace(closed, outlet=replace(idle, leak=leak), mouth=seat)
    diameter = 4.0 * area / perimeter
    ratio = burner.rim_width / diameter
    holes = area / (pi / 4.0 * diameter**2)
    outlet = Outlet(
        holes=holes,
        diameter=diameter,
        inertial_loss=inertial_loss(ratio) / setup.factors.discharge**2,
        laminar_loss=laminar_loss(ratio),
        leak=leak,
    )
    width = burner.gallery_gap if pot.rest != "full ring" and burner.has_inner_wall else None
    mouth = seat + area / ((width or burner.rim_width) + 0.5 * diameter)
    return replace(closed, open=free, outlet=outlet, breath=breath, layer_breath=layer_breath, mouth=mouth)


def plate_share(setup: Setup) -> float:
    """Share of the top plate that would radiate as much if all of it were as hot as where the flames heat it.

    Inside of the ring of jets, or of its edge over side jets, a closed top is a disc that radiates from both faces and
    that its rim feeds (`disc_efficiency`, with the slope 8 eps sigma T^3 of what it radiates as its film). Beyond the
    ring it falls to the wall, evenly as far as wall and plate go down to the liquid, with half of the charge left. The
    ring of a double wall is narrow, and even.
    """
    burner = setup.burner
    if burner.has_inner_wall or burner.jets is None:
        return 1.0
    metal = burner.material
    whole = geometry.disc(geometry.inner_diameter(burner))
    ring = min(fmean(geometry.jet_rings(burner)), geometry.inner_diameter(burner))
    slope = linear_coefficient(metal.emissivity, HOT_PLATE, HOT_PLATE)
    sheet = metal.conductivity * burner.wall_thickness * setup.factors.wall_thickness
    within_ring = disc_efficiency(0.5 * ring * sqrt(2.0 * slope / sheet))
    plate, _ = geometry.plate_paths(burner)
    dry = burner.height - 0.5 * wet_height(setup)
    steeper = slope / linear_coefficient(metal.emissivity, HOT_PLATE, WARM_WALL)  # than the temperature it falls
    beyond = 1.0 / (1.0 + steeper * 0.5 * plate / (plate + dry))
    inside = geometry.disc(ring) / whole
    return inside * within_ring + (1.0 - inside) * beyond


def collar(setup: Setup, pressure: float) -> Collar:
    """The ring of outer wall that side jets heat, and the wall between it and the rim."""
    burner = setup.burner
    metal = burner.material
    thickness = burner.wall_thickness * setup.factors.wall_thickness
    outer = pi * burner.outer_diameter
    height = collar_below(setup)
    if height <= 0.0:
        return Collar(present=0.0, capacity=1.0, rise=0.0, loss=0.0, emission=0.0, beside=0.0)
    beside = outer / (outer + pi * geometry.inner_wall_diameter(burner))
    return Collar(
        present=1.0,
        capacity=0.5 * metal.density * metal.heat_capacity * thickness * outer * height,
        rise=metal.conductivity * thickness * outer / height,
        loss=bare_wall_loss(setup, pressure),
        emission=metal.emissivity * STEFAN_BOLTZMANN * (0.5 * outer * height + 0.2 * bare_wall(setup)),
        beside=beside,
    )


def bare_wall(setup: Setup) -> float:
    """Outside area of the wall between liquid and collar or rim, half of the height taken as wet [m2]."""
    burner = setup.burner
    dry = burner.height - collar_below(setup) - 0.5 * burner.height
    return pi * burner.outer_diameter * max(dry, 0.1 * burner.height)


def bare_wall_loss(setup: Setup, pressure: float) -> float:
    """What that wall loses to the air by convection, over how much warmer its upper end is [W/K]."""
    burner = setup.burner
    return 0.5 * air_coefficient(0.5 * burner.height, burner.outer_diameter, setup, pressure) * bare_wall(setup)


def walls(setup: Setup, well: Chamber, gallery: Chamber, open_share: float, sheet: float, pressure: float) -> Walls:
    """Rim node, strips and the heat that passes between the compartments.

    The rim node is the upper edge of the burner, with its plate, or where jets in the top heat that. From there
    the heat of both walls crosses the plate. A flame over an open well heats the plate's inner edge by as much as goes
    down the inner wall, within some watts: no heat is then taken to cross the plate to that wall. What the same flame
    sends the other way before the jets burn crosses the plate unhindered.

    Parameters
    ----------
    setup : description
    well, gallery : compartments
    open_share : share of the well over which flames live
    sheet : temperature of the flames [K]
    pressure : of the air [Pa]
    """
    burner = setup.burner
    metal = burner.material
    thickness = burner.wall_thickness * setup.factors.wall_thickness
    per_area = metal.density * metal.heat_capacity * thickness
    outer = pi * burner.outer_diameter
    double = burner.has_inner_wall
    inner = pi * geometry.inner_wall_diameter(burner)
    half = 0.5 * burner.height
    top = geometry.gallery_area(burner)
    wet = wet_height(setup)
    to_collar = collar_below(setup)
    divider = 0.0
    bridge = 0.0
    if double:
        divider = inner / (1.0 / gallery.convection + 1.0 / well.convection)
        path = 0.25 * geometry.well_diameter(burner) + 0.5 * (burner.gallery_gap or 0.0)
        bridge = metal.conductivity * thickness * inner / path
    mouth = inner if double else outer
    share = plate_share(setup)
    to_pot, past_pot = plate_emission(setup)
    rim_height = wall_above(setup)
    own_height = rim_height - 0.5 * to_collar  # the other half is the collar's
    below = burner.height - rim_height
    plate, inner_plate = geometry.plate_paths(burner)
    beyond = 0.0  # plate outside of the jets' ring
    if plate > 0.0:
        ring = fmean(geometry.jet_rings(burner))
        beyond = max(geometry.disc(geometry.inner_diameter(burner)) - geometry.disc(ring), 0.0)
    emission = metal.emissivity * STEFAN_BOLTZMANN
    return Walls(
        conductance=metal.conductivity * thickness,
        outer_perimeter=outer,
        inner_perimeter=inner,
        rim_base=burner.height - to_collar,
        rim_low=burner.height - rim_height,
        top=burner.height,
        plate=plate,
        inner_plate=inner_plate * (1.0 - open_share),
        underside=share * top,
        underside_width=(burner.gallery_gap or 0.0) if double else geometry.inner_diameter(burner),
        emissivity=metal.emissivity,
        rim_capacity=per_area
        * (outer * (own_height + 2.0 * burner.rim_width) + 0.5 * inner * (burner.height - wet) + top - beyond),
        dry_capacity=per_area * (outer * max(burner.height - rim_height - wet, SHORTEST_STRIP) + beyond),
        rim_loss=0.0 if to_collar > 0.0 else bare_wall_loss(setup, pressure),
        rim_emission=share * past_pot
        + emission * (outer * own_height + (0.0 if to_collar > 0.0 else 0.2 * bare_wall(setup))),
        dry_loss=vertical_wall(half, WARM_WALL, setup.site.air_temperature, pressure)
        * mouth
        * (rim_height + 0.5 * below),
        dry_emission=emission * mouth * (rim_height + 0.2 * below),
        rim_area=outer * rim_height,
        contact=rim_contact(setup, pressure) + plate_conduction(setup, pressure),
        pot_emission=share * to_pot,
        divider=divider,
        bridge=bridge,
        edge=stirring(setup, sheet, pressure) * EDGE_SHAPE * mouth * air.conductivity(wall_temperature_film(sheet)),
    )


def as_built(setup: Setup) -> Setup:
    """A setup whose pot stands as high over the rim's bumps as they were built."""
    pot = setup.pot
    if pot is None or pot.rest != "bumps" or setup.factors.bump_height == 1.0:
        return setup
    spec = spec_of(Pot.__dataclass_fields__["gap"])
    gap = within(pot.gap * setup.factors.bump_height, spec.low, spec.high)
    return replace(setup, pot=replace(pot, gap=gap))


def derive(setup: Setup) -> Parameters:
    """Derive the parameter record of a setup.

    Parameters
    ----------
    setup : a checked description

    Returns
    -------
    Parameters
    """
    setup = as_built(setup)
    fuel = fuel_record(setup.charge.fuel)
    x = setup.charge.fuel.mole_fractions
    fire = combustion_record(setup.charge.fuel)
    pressure = air.pressure_at_altitude(setup.site.altitude)
    room = setup.site.air_temperature
    temperature = setup.charge.temperature or room
    radiant = min(fire.radiant_fraction * setup.factors.radiant_fraction, 0.5)
    boiling = bubble_temperature(x, pressure, fuel)
    y = vapour_composition(x, boiling, fuel)
    water_mass = 0.0
    if fuel.water_index >= 0:
        mass = sum(y[i] * fuel.molar_mass[i] for i in range(len(y)))
        water_mass = y[fuel.water_index] * fuel.molar_mass[fuel.water_index] / mass
    adiabatic = sum(c * min(water_mass, 0.8) ** k for k, c in enumerate(fire.flame_temperature))
    sheet = room + (1.0 - radiant) * (adiabatic - room)
    gallery, well = chambers(setup, fuel, pressure)
    hold = hold_power(setup, fuel, fire, pressure)
    openings = vent(setup, hold, rim_hold_power(setup, fuel, fire, pressure), pressure)
    mean_mass = sum(x[i] * fuel.molar_mass[i] for i in range(len(x)))
    boiling = cooper_coefficient(pressure / fuel.critical_pressure, 1e3 * mean_mass)
    return Parameters(
        components=len(x),
        fuel=fuel,
        fire=fire,
        gallery=gallery,
        well=well,
        slots=slots(setup, fuel, temperature),
        jets=jet_ring(setup, fuel, sheet, hold, pressure),
        vent=openings,
        collar=collar(setup, pressure),
        walls=walls(setup, well, gallery, openings.open, sheet, pressure),
        wick=wick_band(setup, fuel, fire, sheet, pressure, temperature, max(gallery.convection, well.convection)),
        pool=pool(setup, sheet, pressure),
        pot=pot_parameters(setup, pressure),
        way=gas_way(setup, fire, pressure),
        site=Surroundings(
            pressure=pressure,
            temperature=room,
            wind=wind_up(setup, flame_height(setup), pot_bottom(setup) + 1e-3),
            air=max(air_limit(setup, pressure), LEAST_AIR) / AIR_MOLAR_MASS,
        ),
        boil_coefficient=boiling,
        boil_power=boiling**COOPER_EXPONENT,
        bubble_subcooling=BUBBLE_SUBCOOLING * setup.factors.boiling_onset,
        hot_top=HOT_TOP * setup.factors.boiling_onset,
        entrainment=setup.factors.entrainment,
        flame_to_rim=setup.factors.flame_to_rim,
        flame_to_pot=setup.factors.flame_to_pot,
        radiant_fraction=radiant,
    )


def gallery_share(volume: float, p: Parameters) -> float:
    """Share of a volume of liquid that stands in the gallery while levels are even, but for its capillary lift."""
    if p.gallery.present <= 0.0 or p.well.present <= 0.0:
        return p.gallery.present
    level = (volume - p.gallery.area * p.slots.lift) / (p.gallery.area + p.well.area)
    return min(p.gallery.area * (level + p.slots.lift) / volume, 1.0) if level >= 0.0 else 1.0


def primer_moles(setup: Setup) -> float:
    """What is poured on the wick [mol]."""
    temperature = setup.charge.temperature or setup.site.air_temperature
    return sum(moles(setup.charge.fuel, setup.charge.primer, temperature)) if setup.charge.primer > 0.0 else 0.0


def first_state(setup: Setup, p: Parameters) -> State:
    """The state when the match is struck: levels even, gallery saturated with vapour, metal as warm as the charge.

    Parameters
    ----------
    setup : description
    p : its parameters
    """
    fuel = p.fuel
    room = setup.site.air_temperature
    temperature = setup.charge.temperature or room
    total = moles(setup.charge.fuel, setup.charge.volume, temperature)
    theta = temperature - DATUM
    share = gallery_share(liquid_volume(total, temperature, fuel), p)
    gallery = tuple([share * n for n in total])
    well = tuple([(1.0 - share) * n for n in total])
    gallery_heat = solution_enthalpy(gallery, temperature, fuel) + p.gallery.metal * theta
    air_moles = 0.0
    if p.gallery.present > 0.0:  # vapour of what was poured fills its headspace: each round gains three digits
        whole = mixture(gallery, gallery_heat, p.gallery, p)
        saturated = min(whole.bubble_pressure / p.site.pressure, 1.0)
        air_moles = (1.0 - saturated) * gas_held(temperature, whole.volume, p.gallery, p)
        for _ in range(6):
            vapour = standing_vapour(whole, air_moles, p.gallery, p)
            left = tuple([n - v for n, v in zip(total, vapour, strict=True)])
            share = gallery_share(liquid_volume(left, temperature, fuel), p)
            wet = tuple([share * n for n in left])
            well = tuple([(1.0 - share) * n for n in left])
            gallery = tuple([n + v for n, v in zip(wet, vapour, strict=True)])
            gallery_heat = solution_enthalpy(wet, temperature, fuel) + p.gallery.metal * theta
            gallery_heat += standing_heat(vapour, whole.temperature, p)
            whole = mixture(gallery, gallery_heat, p.gallery, p)
    water = 0.0
    pot_heat = 0.0
    if setup.pot is not None:
        start = setup.pot.water_temperature or room
        water = setup.pot.water * 998.2
        pot_heat = (water * p.pot.water_heat + p.pot.metal) * (start - DATUM)
    return State(
        gallery=gallery,
        well=well,
        gallery_heat=gallery_heat,
        chill=0.0,
        hot_top=0.0,
        well_heat=solution_enthalpy(well, temperature, fuel) + p.well.metal * theta,
        collar_heat=p.collar.capacity * theta,
        rim_heat=p.walls.rim_capacity * theta,
        wall_heat=p.walls.dry_capacity * theta,
        wick=primer_moles(setup),
        air=air_moles,
        water=water,
        pot_heat=pot_heat,
        dew=0.0,
        slot_speed=0.0,
    )
