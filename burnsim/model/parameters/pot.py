"""Parameters of the pot and of its joint with the rim."""

from functools import cache
from math import hypot, pi, sqrt, tanh
from statistics import NormalDist, fmean

from burnsim.closures.combustion import CombustionRecord
from burnsim.closures.contact import (
    gap_conductance,
    joint_conductance,
    jump_distance,
    sheet_conductance,
    spot_conductance,
    spot_radius,
)
from burnsim.closures.convection import mixed_coefficient, plate_up, stagnation_disc, vertical_wall, wind_coefficient
from burnsim.closures.evaporation import water_diffusivity, wind_transfer
from burnsim.closures.flame import FLAME_TEMPERATURE, reduced_gravity
from burnsim.closures.layer import SHEET_DRAWN, SHEET_MOMENTUM, SHEET_SPEED, sheet_spread
from burnsim.closures.radiation import disc_to_disc_view, linear_coefficient
from burnsim.closures.wind import lee_share, share_outside, wind_behind_screen, wind_drift
from burnsim.constants import DATUM, GRAVITY, STEFAN_BOLTZMANN
from burnsim.model.balances.chambers import fade
from burnsim.model.description import geometry
from burnsim.model.description.conditions import Pot, Site
from burnsim.model.description.setup import Setup
from burnsim.model.parameters.flames import film_exchange, wall_thickness
from burnsim.model.parameters.record import GasWay, PotParameters
from burnsim.model.parameters.shelter import (
    air_limit,
    enclosed_side,
    pot_bottom,
    screen_loss,
    slot_coefficient,
    slot_fill,
    slot_share,
    wind_at,
    wind_up,
)
from burnsim.substances import air, water
from burnsim.substances.metals import metal_of

RIM_FLATNESS = 50e-6  # mean gap under a pot on a plain rim [m], common practice, no source; factor rim_contact
LEAK_SHARE = 0.4  # hydraulic gap there over the mean one: high spots close most ways, no source; factor rim_leak
INDENTATION_HARDNESS = 0.5e9  # soft aluminium [Pa], 0.3 to 1 GPa (handbooks, from memory)
WATER_CONDUCTIVITY = 0.65  # at 330 K [W/m/K] (IAPWS, from memory)
GUSTINESS = 0.4  # spread of a wind over its mean, 1/ln(z/z0): 0.3 m above grass of 3 cm roughness (wind engineering)
GUSTS = tuple(max(1.0 + GUSTINESS * NormalDist().inv_cdf((k + 0.5) / 120.0), 0.0) for k in range(120))
"""Equally likely winds over their mean: so many that what they do together changes smoothly with that mean."""
LEAST_AIR = 1e-9  # behind a screen without openings: a layer has some spread [kg/s]
LEAST_RISE = 1e-3  # of flames under a pot that stands on them [m]
UNSTABLE_FILM = 600.0  # mean of spent gas and cold pot [K]
LARGE = 1.0  # plate so large that its size does not count [m]
NEAREST = 1e-4  # of two plates that face each other [m]
THIN_DEW = 0.02  # of water that no longer wets all of a wall, as drops of a tenth of a millimetre [kg/m2], estimated
STILL = 5e-3  # gas in a wider gap is stirred [m]
PLATE_FILM = 400.0  # mean of a burner's top plate and a pot [K]
COLUMN = 0.3  # radius of a pool's sheet that is drawn in, over that of its ring: resolved, 0.2 to 0.4
SOOTED = 0.6  # absorptivity of a used pot's bottom, 0.3 to 0.9, common practice, no source


def rim_gap(setup: Setup) -> float:
    """Mean gap between a plain rim and a pot that rests on the whole of it [m]."""
    return RIM_FLATNESS / setup.factors.rim_contact


def rim_leak(setup: Setup) -> float:
    """Gap that vapour finds between a plain rim and a pot that rests on the whole of it [m]; 0 for another rest.

    It is the hydraulic gap: that of two smooth plates that pass as much. One flatness sets it and the mean gap, through
    which the rim's heat goes, and it cannot exceed that gap: for rough faces that touch, its cube is that of the mean
    gap times (1 - 1.5 s^2)(1 - 2c), with s the spread of the gap over its mean and c the share that touches (R. W.
    Zimmerman, G. S. Bodvarsson 1996, Transp. Porous Media 23, 1, from memory). The flow goes as its cube.
    """
    if setup.pot is None or setup.pot.rest != "full ring":
        return 0.0
    return LEAK_SHARE * setup.factors.rim_leak * rim_gap(setup)


def rim_contact(setup: Setup, pressure: float) -> float:
    """Conductance from rim to pot: layer of gas and touching spots [W/K]; 0 for a stand, a sealed lid or no pot."""
    pot = setup.pot
    if pot is None or pot.rest == "stand":
        return 0.0
    burner = setup.burner
    weight = GRAVITY * (998.2 * pot.water + pot_metal_mass(pot))
    ring = pot.rest == "full ring"
    spots = 3.0 if ring else float(pot.bumps)
    gap = rim_gap(setup) if ring else pot.gap / setup.factors.rim_contact
    metal = burner.material.conductivity
    around = pi * burner.outer_diameter
    radius = spot_radius(weight / spots, INDENTATION_HARDNESS)
    constriction = 1.0 / spot_conductance(radius, metal, metal_of(pot.metal).conductivity)
    thickness = wall_thickness(setup)
    spreading = 1.0 / sheet_conductance(radius, thickness, 0.5 * around / spots, metal)
    return joint_conductance(
        around * burner.rim_width,
        gap,
        air.conductivity(380.0),
        spots * setup.factors.rim_contact,
        1.0 / (constriction + spreading),
        jump_distance(380.0, pressure),
    )


def plate_conduction(setup: Setup, pressure: float) -> float:
    """Conductance of the gas between the burner's top plate and a pot above it [W/K].

    What the rim's own width passes is in `rim_contact`; a pot on a plain rim touches that alone. The plate is a fin
    that the rim feeds: a ring from both of its edges, a closed top as if from its own (jets in the top feed it from
    their ring, and stainless steel passes a third more). Resolved: a closed top of 500 K passes 11 to 13 W to a pot of
    330 K 1.5 mm above it, whatever the flames' power; here 11.8 W.
    Under a pot from 5 mm on gas turns in the gap, and this layer fades; what the flames then give the plate is in
    `top_conductance`.
    """
    burner, pot = setup.burner, setup.pot
    if pot is None or pot.rest == "full ring" or pot.gap >= 2.0 * STILL:
        return 0.0
    film = gap_conductance(pot.gap, air.conductivity(PLATE_FILM), jump_distance(PLATE_FILM, pressure))
    metal = burner.material
    decay = sqrt(film / (metal.conductivity * wall_thickness(setup)))
    if burner.has_inner_wall and burner.gallery_gap is not None:
        half = 0.5 * decay * burner.gallery_gap
        efficiency = tanh(half) / half
    else:
        efficiency = disc_efficiency(0.5 * decay * burner.outer_diameter)
    area = max(geometry.gallery_area(burner) - pi * burner.outer_diameter * burner.rim_width, 0.0)
    return fade(2.0 - pot.gap / STILL) * efficiency * film * area


def disc_efficiency(reach: float) -> float:
    """Efficiency of a disc as a fin that its rim feeds: 1/(1 + x^2/8), x its radius times the fin's decay [-]."""
    return 1.0 / (1.0 + reach * reach / 8.0)


def plate_emission(setup: Setup) -> tuple[float, float]:
    """What the gallery's top plate radiates to the pot's bottom, and past it to the room [W/K4 each]."""
    burner, pot = setup.burner, setup.pot
    area = geometry.gallery_area(burner)
    emissivity = burner.material.emissivity
    if pot is None:
        return 0.0, emissivity * STEFAN_BOLTZMANN * area
    view = disc_to_disc_view(0.5 * burner.outer_diameter, 0.5 * pot.diameter, max(pot.above_rim, NEAREST))
    between = 1.0 / (1.0 / emissivity + area / geometry.disc(pot.diameter) * (1.0 / SOOTED - 1.0))
    return view * between * STEFAN_BOLTZMANN * area, (1.0 - view) * emissivity * STEFAN_BOLTZMANN * area


def pot_metal_mass(pot: Pot) -> float:
    """Mass of a pot's metal, with its lid if it has one [kg]."""
    area = pi * pot.diameter * pot.height + geometry.disc(pot.diameter) * (2.0 if pot.lid else 1.0)
    return metal_of(pot.metal).density * pot.wall_thickness * area


def wind_in_pot(pot: Pot) -> float:
    """Wind along the water of an open pot, over that at its rim [-]: eddies that the wind drives reach down to it."""
    depth = pot.water / (water.liquid_density(330.0) * geometry.disc(pot.diameter - 2.0 * pot.wall_thickness))
    return wind_behind_screen(pot.height - depth, pot.diameter, 0.0)


def heat_by_vapour(film: float, pressure: float) -> float:
    """Heat transfer coefficient over the mass transfer coefficient of water vapour in the same wind [J/m3/K].

    Chilton and Colburn 1934, Ind. Eng. Chem. 26, 1183: rho c (alpha/D)^(2/3).

    Parameters
    ----------
    film : temperature of the film [K]
    pressure : absolute [Pa]
    """
    lewis = air.thermal_diffusivity(film, pressure) / water_diffusivity(film, pressure)
    return float(air.density(film, pressure) * air.heat_capacity(film) * lewis ** (2.0 / 3.0))


@cache
def inside_coefficient() -> float:
    """Water over a heated bottom before it boils, for 10 K at 330 K [W/m2/K]: Lloyd and Moran 1974, 0.15 Ra^(1/3)."""
    temperature = 330.0
    rho = water.liquid_density(temperature)
    expansion = (water.liquid_density(temperature - 5.0) / water.liquid_density(temperature + 5.0) - 1.0) / 10.0
    nu = water.viscosity(temperature) / rho
    alpha = WATER_CONDUCTIVITY / (rho * water.liquid_heat_capacity(temperature))
    return float(0.15 * WATER_CONDUCTIVITY * (GRAVITY * expansion * 10.0 / (nu * alpha)) ** (1.0 / 3.0))


def warmth_over_well(setup: Setup) -> float:
    """Excess of the bottom's temperature over the water's above a covered well, over the mean of the whole bottom [-].

    No flame heats that disc: it is a fin in the bottom that they heat evenly around it. Over a disc of x decay lengths
    the mean is 2 I1(x) K1(x), here as 1/sqrt(1 + x^2), within 5 %. In an aluminium bottom of 1 mm a decay length is
    15 mm, in steel 4 mm.
    """
    burner, pot = setup.burner, setup.pot
    if pot is None:
        return 0.0
    well, whole = geometry.well_area(burner), geometry.disc(pot.diameter)
    heated = max(whole - well, 0.1 * whole)
    decay = sqrt(inside_coefficient() / (metal_of(pot.metal).conductivity * pot.wall_thickness))
    return whole / heated / hypot(1.0, 0.5 * geometry.well_diameter(burner) * decay)


def gusts(wind: float) -> tuple[float, ...]:
    """Equally likely winds about a mean [m/s]: a calm is one."""
    return tuple([wind * gust for gust in GUSTS]) if wind > 0.0 else (wind,)


def carried_past(wind: float, ring: float, radius: float, rise: float, site: Site) -> float:
    """Share of the flames' gas that passes a pot without touching it, the mean over the gusts of a wind [-].

    A wind carries gas past it before it has risen to it. Beside a pot narrower than the flames' ring gas still climbs
    the wall as far as the sheet reaches it: all of it misses a pot narrower by the sheet's thickness all round.

    Parameters
    ----------
    wind : mean [m/s]
    ring, radius : of the flames' ring and of the pot [m]
    rise : from the flames' foot to the pot [m]
    site : surroundings
    """
    lift = reduced_gravity(FLAME_TEMPERATURE, site.air_temperature)
    wide = max(radius, 1.000001 * ring)  # in a calm none of a sheet that rises at the very edge is blown past it
    blown = fmean([share_outside(ring, wide, wind_drift(gust, rise, lift)) for gust in gusts(wind)])
    return blown + (1.0 - blown) * fade((ring - radius) / sheet_thickness(rise, site))


def sheet_thickness(rise: float, site: Site) -> float:
    """Thickness of the flames' sheet where it has risen so far [m]: what it has drawn in, as hot as a flame."""
    room, pressure = site.air_temperature, air.pressure_at_altitude(site.altitude)
    lift = reduced_gravity(FLAME_TEMPERATURE, room)
    drawn = SHEET_DRAWN * sqrt(sheet_spread(rise, 1.0, lift, film_exchange(room, pressure)))
    return drawn / (air.density(FLAME_TEMPERATURE, pressure) * SHEET_SPEED * sqrt(lift * rise))


def rises(setup: Setup) -> tuple[float, float]:
    """Heights to the pot's bottom from the foot of the flames of jets or open well, and of the wick [m].

    A wick's flame is fed all along the band: its foot is put half-way up.
    """
    burner = setup.burner
    pot = setup.pot
    gap = 0.0 if pot is None else pot.above_rim
    rise = gap
    if burner.jets is not None:
        rise += burner.height - min(geometry.jet_heights(burner))
    wick = burner.wick
    of_wick = gap + burner.height - (0.5 * wick.height if wick is not None else 0.0)
    rise = max(rise, LEAST_RISE)
    return rise, max(of_wick, rise)


def flame_ring(setup: Setup) -> float:
    """Diameter of the ring on which the flames rise [m]."""
    burner = setup.burner
    return burner.outer_diameter if burner.jets is None else max(geometry.jet_rings(burner))


def gas_way(setup: Setup, fire: CombustionRecord, pressure: float) -> GasWay:
    """The way of the flames' gas along the pot of a setup; of no length under no pot."""
    pot = setup.pot
    room = setup.site.air_temperature
    rise, of_wick = rises(setup)
    ring = 0.5 * flame_ring(setup)
    radius = ring if pot is None else max(0.5 * pot.diameter, ring)
    film = 0.5 * (FLAME_TEMPERATURE + room)
    capacity = air.heat_capacity(film)
    lift = GRAVITY / (capacity * room)
    gap = 0.0 if pot is None else pot.above_rim
    unstable = plate_up(LARGE, UNSTABLE_FILM + 1.0, UNSTABLE_FILM - 1.0, pressure) / 2.0 ** (1.0 / 3.0)
    jets = setup.burner.jets
    return GasWay(
        exchange=film_exchange(room, pressure),
        cool=room / film,
        lift=lift,
        current=(SHEET_DRAWN / SHEET_MOMENTUM) ** 3 * lift / air.density(room, pressure),
        sheet_lift=reduced_gravity(FLAME_TEMPERATURE, room),
        rise=rise,
        wick_rise=of_wick,
        ring=2.0 * pi * ring,
        gap=gap,
        edge=2.0 * pi * radius,
        centre=pi * stagnation_disc(1.0, 2.0, film, pressure),
        unstable=unstable,
        heat=fire.product_heat[0] + 0.5 * fire.product_heat[1] * (FLAME_TEMPERATURE - DATUM),
        sideways=0.0 if jets is None or jets.direction == "top" else 1.0,
        most_spread=(max(air_limit(setup, pressure), LEAST_AIR) / SHEET_DRAWN) ** 2,
        slot_film=slot_coefficient(setup),
        slot_loss=screen_loss(setup, pressure),
        slot_fill=slot_fill(setup, pressure),
        slot_height=enclosed_side(setup),
        moisture=air.moisture_by_mass(air.vapour_mole_fraction(room, setup.site.humidity, pressure)),
        lewis=water_diffusivity(film, pressure) / air.thermal_diffusivity(film, pressure),
    )


def pot_parameters(setup: Setup, pressure: float) -> PotParameters:
    """The pot of a setup; a record that does nothing where there is none."""
    pot = setup.pot
    burner = setup.burner
    site = setup.site
    water_heat = (water.liquid_enthalpy(373.15) - water.liquid_enthalpy(283.15)) / 90.0
    steam_0 = water.vapour_enthalpy(DATUM)
    steam_slope = (water.vapour_enthalpy(373.15) - steam_0) / (373.15 - DATUM)
    boiling = water.boiling_point(pressure)
    if pot is None:
        return PotParameters(
            present=0.0,
            metal=1.0,
            disc_area=0.0,
            height=0.0,
            wall_conductance=1.0,
            wet_wall_area_per_kg=0.0,
            water_heat=water_heat,
            steam_heat=(steam_0, steam_slope),
            boiling_point=boiling,
            inside_coefficient=1.0,
            lid=1.0,
            missed=0.0,
            column_missed=0.0,
            wick_missed=0.0,
            sheathed=1.0,
            lid_loss=0.0,
            side_loss=0.0,
            view_factor=0.0,
            absorptivity=0.0,
            air_vapour=0.0,
            wind_transfer=0.0,
            thin_dew=1.0,
            over_well=0.0,
        )
    metal = metal_of(pot.metal)
    radius = 0.5 * pot.diameter
    inside = geometry.disc(pot.diameter - 2.0 * pot.wall_thickness)
    ring = flame_ring(setup)
    rise, of_wick = rises(setup)
    room = site.air_temperature
    lift = reduced_gravity(FLAME_TEMPERATURE, room)
    spread = sqrt(2.0 * lift * rise) * min(0.5 * ring / radius, 1.0)  # a layer of even depth, at the pot's edge
    hot = 350.0
    bottom = pot_bottom(setup)
    below = wind_up(setup, bottom - rise, bottom)
    beside = wind_up(setup, bottom, bottom + pot.height)
    over = wind_at(setup, bottom + pot.height)
    film = 0.5 * (hot + room)
    side = mixed_coefficient(
        vertical_wall(pot.height, hot, room, pressure), wind_coefficient(beside, pot.diameter, film, pressure)
    )
    above = wind_coefficient(over, pot.diameter, film, pressure)
    over_water = 0.0
    if not pot.lid:
        over_water = wind_transfer(over * wind_in_pot(pot), pot.diameter, film, pressure)
        above = over_water * heat_by_vapour(film, pressure)
    lid = mixed_coefficient(plate_up(0.25 * pot.diameter, hot, room, pressure), above)
    emissivity = metal.emissivity if pot.lid else 0.95
    return PotParameters(
        present=1.0,
        metal=pot_metal_mass(pot) * metal.heat_capacity,
        disc_area=geometry.disc(pot.diameter),
        height=pot.height,
        wall_conductance=metal.conductivity * pot.wall_thickness,
        wet_wall_area_per_kg=pi * pot.diameter / (inside * water.liquid_density(330.0)),
        water_heat=water_heat,
        steam_heat=(steam_0, steam_slope),
        boiling_point=boiling,
        inside_coefficient=inside_coefficient(),
        lid=1.0 if pot.lid else 0.0,
        missed=carried_past(below, 0.5 * ring, radius, rise, site),
        column_missed=carried_past(below, 0.5 * COLUMN * ring, radius, rise, site),
        wick_missed=carried_past(
            wind_up(setup, bottom - of_wick, bottom), 0.5 * burner.outer_diameter, radius, of_wick, site
        ),
        sheathed=slot_share(setup, pressure) * fmean([lee_share(spread, gust) for gust in gusts(beside)]),
        lid_loss=lid + linear_coefficient(emissivity, hot, room),
        side_loss=side + linear_coefficient(metal.emissivity, hot, room),
        view_factor=0.5 * (1.0 - rise / sqrt(rise**2 + radius**2)),
        absorptivity=SOOTED,
        air_vapour=air.vapour_mole_fraction(room, site.humidity, pressure),
        wind_transfer=over_water,
        thin_dew=THIN_DEW * (geometry.disc(pot.diameter) + pi * pot.diameter * pot.height),
        over_well=warmth_over_well(setup),
    )
