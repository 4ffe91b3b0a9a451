"""Parameters of the compartments that hold liquid, and of the slots between them."""

from collections.abc import Sequence
from math import pi
from typing import NamedTuple

from burnsim.closures.capillarity import evaporating_contact_angle, gap_rise, hold_off_pressure, meniscus_height
from burnsim.closures.condensation import detached_bubble
from burnsim.closures.convection import (
    churchill_chu_plate,
    mixed_coefficient,
    plate_down,
    vertical_wall,
    wind_coefficient,
)
from burnsim.closures.exchange import ground_coefficient
from burnsim.closures.filling import wall_stream
from burnsim.closures.orifice import inertial_loss, laminar_loss
from burnsim.closures.radiation import linear_coefficient
from burnsim.closures.swell import drift_velocity
from burnsim.constants import GRAVITY
from burnsim.model.balances.walls import SHORTEST_STRIP
from burnsim.model.description import geometry
from burnsim.model.description.setup import Setup
from burnsim.model.parameters.flames import (
    SPIRIT_CONDUCTIVITY,
    wall_above,
    wall_thickness,
)
from burnsim.model.parameters.record import (
    Chamber,
    Slots,
)
from burnsim.model.parameters.shelter import wind_at
from burnsim.substances import air
from burnsim.substances.blend import density
from burnsim.substances.equilibrium import bubble_temperature, vapour_composition
from burnsim.substances.fuel import (
    FuelRecord,
    latent_heat,
    liquid_heat_capacity,
    liquid_volume,
    mass_of,
    surface_tension,
    viscosity,
)
from burnsim.substances.grounds import GROUNDS

RESIDUAL_FILM = 30e-6  # thickness below which a film no longer covers the metal [m], common practice, no source
UNEVEN_FLOOR = 0.3e-3  # mean gap under a flat floor of thin sheet, common practice, no source [m]
GROUND_TIME = 600.0  # over which what the ground takes is averaged [s]
WATERLINE_SUPERHEAT = 10.0  # of a hot wall where the liquid ends; marched burns have 9 to 14 [K]
WARM_WALL = 340.0  # of a wet wall, for losses to the room [K]


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
    mass = mass_of(x, fuel)
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


def climbs(
    setup: Setup, fuel: FuelRecord, boiling: float, pressure: float, half_widths: Sequence[float]
) -> list[float]:
    """How far above its mean level a boiling spirit stands at the hot walls of some vessels [m].

    Parameters
    ----------
    setup : description
    fuel : its record
    boiling : its bubble point [K]
    pressure : of the air [Pa]
    half_widths : of each vessel, area of the surface over the length of the walls round it [m]
    """
    x = setup.charge.fuel.mole_fractions
    mass = mass_of(x, fuel)
    rho = mass / liquid_volume(x, boiling, fuel)
    sigma = surface_tension(boiling, fuel)
    y = vapour_composition(x, boiling, fuel)
    leaving = mass_of(y, fuel)
    latent = latent_heat(y, boiling, fuel) / leaving
    thick = viscosity(boiling, fuel)
    angle = evaporating_contact_angle(WATERLINE_SUPERHEAT, boiling, latent, leaving, pressure, rho, thick, sigma)
    return [meniscus_height(sigma, min(angle, 1.5), rho, half_width) for half_width in half_widths]


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
    thickness = wall_thickness(setup)
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
    areas = [area if area > 0.0 else 1.0 for area in floors]
    rises = climbs(setup, fuel, boiling, pressure, [area / around for area, around in zip(areas, wetted, strict=True)])
    made = []
    for k, area in enumerate(areas):
        present = 1.0 if floors[k] > 0.0 else 0.0
        outside = half * pi * burner.outer_diameter if (k == 0 or not double) else 0.0
        made.append(
            Chamber(
                present=present,
                area=area,
                height=burner.height,
                wetted_perimeter=wetted[k],
                climb=rises[k] if present else 0.0,
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
        return Slots(
            present=0.0,
            area=0.0,
            height=1e-3,
            diameter=1e-3,
            inertial_loss=2.7,
            laminar_loss=38.0,
            lift=0.0,
            bubble=1.0,
            bubble_size=1e-3,
            bubble_rise=0.2,
            diffusivity=1e-7,
        )
    opening = burner.feed_slots
    diameter = 2.0 * opening.width * opening.height / (opening.width + opening.height)
    ratio = wall_thickness(setup) / diameter
    rho = density(setup.charge.fuel, temperature)
    sigma = surface_tension(temperature, fuel)
    lift = gap_rise(sigma, 1.0, rho, burner.gallery_gap)
    return Slots(
        present=1.0,
        area=geometry.slot_area(burner),
        height=opening.height,
        diameter=diameter,
        inertial_loss=inertial_loss(ratio) / setup.factors.discharge**2,
        laminar_loss=laminar_loss(ratio),
        lift=min(lift, burner.height),
        bubble=hold_off_pressure(sigma, diameter),
        bubble_size=detached_bubble(sigma, rho, diameter),
        bubble_rise=drift_velocity(sigma, rho, 0.0),
        diffusivity=moved(fuel, setup.charge.fuel.mole_fractions, temperature).diffusivity,
    )
