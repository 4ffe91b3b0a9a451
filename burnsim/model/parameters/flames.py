"""Parameters of the flames: jets, primer wick and open well.

Side jets bathe the rim through a gas layer. A flame keeps one stand-off (half a quenching distance) off cold metal,
or half the distance to which its momentum throws it where that is more: the two are combined by their cubes, so that
slow jets lick and fast ones stand off. A natural-convection film in place of the stand-off is thicker than flames
stand, and starves the rim. Upward jets heat the plate from a paraboloid one stand-off above it. The heat that a flame
passes to all it touches is bounded by its own power.
"""

from math import expm1, hypot, pi, sqrt
from statistics import fmean

from burnsim.closures.capillarity import darcy_supply, wick_permeability
from burnsim.closures.combustion import CombustionRecord
from burnsim.closures.convection import (
    gap_coefficient,
    mixed_coefficient,
    plate_up,
    rayleigh_number,
    wall_draught,
    wind_coefficient,
)
from burnsim.closures.counterflow import light_share
from burnsim.closures.evaporation import film_burning_flux, spalding_number
from burnsim.closures.exchange import strip_shape_factor
from burnsim.closures.flame import (
    FLAME_TEMPERATURE,
    foot_temperature,
    quench_power,
    quenching_distance,
    reduced_gravity,
    roper_length,
    row_quench_power,
)
from burnsim.closures.flammability import mixed_burning_velocity
from burnsim.closures.layer import sheet_quench_flow
from burnsim.closures.orifice import inertial_loss, laminar_loss
from burnsim.closures.plume import vapour_layer
from burnsim.closures.wall_fire import (
    LICKING,
    flux_yield,
    share_under_lid,
    wall_fire_coefficient,
    wall_fire_flux,
    wall_flame_tip,
    wall_plume_reach,
)
from burnsim.constants import AIR_MOLAR_MASS, ATMOSPHERE, DATUM, GAS_CONSTANT
from burnsim.elementary import served_sharply
from burnsim.model.balances.chambers import solution_enthalpy
from burnsim.model.balances.streams import BATHED_WIDTH, filled
from burnsim.model.description import geometry
from burnsim.model.description.setup import Setup
from burnsim.model.parameters.record import JetRing, Outlet, Pool, WickBand
from burnsim.model.parameters.shelter import wind_at
from burnsim.substances import air
from burnsim.substances.blend import density
from burnsim.substances.equilibrium import bubble_temperature, vapour_composition
from burnsim.substances.fuel import FuelRecord, diffusivity, mass_of, surface_tension, vapour_conductivity, viscosity
from burnsim.substances.water import MOLAR_MASS as WATER

SPIRIT_CONDUCTIVITY = 0.17  # liquid alcohols near 300 K, 0.14 to 0.20 [W/m/K] (handbooks, from memory)
RELIGHT = 1.25  # ratio of the power that lights a jet to that which keeps it lit, common practice, no source
CRITICAL_FLUX = 3.0e-3  # a liquid-fed flame dies below [kg/m2/s]; 2 to 5 (Quintiere 2006, from memory)
PUDDLE_DEPTH = 0.7e-3  # of spilt fuel that spreads freely [m] (SFPE Handbook, Gottuk and White, from memory)
NARROWEST_PUDDLE = 2e-3  # ring round the foot [m]
STANDOFF = 1.5e-3  # of an upward flame's base from the plate [m], about half a quenching distance
HOT_WALL = 420.0  # at which the films along flame-bathed walls are evaluated [K]
MIDDLING_WIDTH = 6e-3  # of a jet's flame [m]; by `flame_width` 4.4 to 8.0 mm at 3 to 55 W on 1.1 mm
OPEN = 1.0  # nothing above that turns the flames [m]
SHEET_EDGE = 1.2e-3
"""Distance of side jets' flames from the edge of the top plate, at one atmosphere [m]; resolved flames 1.0 to 1.4 mm.

A length of diffusion: in thin air it grows.
"""
FOOT_BELOW = 1.2e-3
"""How far below the mouths of side jets the foot of their flames heats the wall, in the mean, where it has room [m].

Resolved flames of 500 W heat a wall of 500 K in the mean 1.2 and 1.3 mm below their mouths, under pots 25 and 10 mm
above the rim.
"""
FOOT_CROWDED = 6.6e-3
"""Distance below a pot at which it pushes their foot about as far again upstream [m].

A pot near by lets them draw in air more slowly: at 1.5 mm flames of 500 W heat the wall in the mean 3.0 mm below their
mouths. Weak flames hardly feel it and strong ones more, 1.3 mm at 250 W and 3.9 mm at 1000 W, but the collar stays
where it is; a millimetre is worth 2 to 4 % of the power. The distance is taken from half the height of the wall above
the jets.
"""
FOOT_NEAREST = 3e-3
"""Distance below a pot within which it pushes the foot no farther [m]: a choice, so that the collar never sinks as the
mouths are set higher.

It was made before a flame of 500 W under a pot 0.4 mm above the rim was resolved, which heats the wall in the mean 3.6
mm below its mouths, where this says 3.7 mm.
"""
KINDLING = 1150.0
"""Temperature of hot gas that lights spirit's vapour which mixes into it on its way up a wall [K].

Methanol that mixes into air, or air and burnt gas, of 1150 K lights within 40 ms, of 1200 K within 20 ms, and of 1050 K
not within 100 ms, by the kinetics of GRI-Mech 3.0 (the tests ask them; made for natural gas, of which methanol is a
by-product). Gas takes some 40 ms to rise by 30 mm. Other alcohols are taken to be alike. So hot the gas over a wick is
no higher than its flame, which licks above its mean tip.
"""
LID = 0.7
"""Distance below a pot at which it turns half of a sheet of flames away from the wall, over the geometric mean of the
ring's radius and a flame's length [-].

Read off the resolved slots of 200 to 1700 W under pots 1.5 to 50 mm above the rim and without one, with the distance
taken from half the height of the wall above the jets. The wall alone asks for 0.8, the top plate for 0.6.
"""
SHEET_PITCH = 7.5e-3
"""Distance of side jets from each other at which their flames merge into a sheet [m].

Once merged they are as long as it, however many jets feed it: as long as those of the same vapour from jets so far
apart. Jets of some 20 W fill a ring there. `LID` was read with that length of the sheets of slots, so that it matters
between jets and slots only; resolved jets are 7.5 mm apart.
"""
ON_TABLE = 0.89
"""Burning of a wick's band on a table, over that of a free plane wall [-].

The table cuts the inflow; a leading edge on the scale of the flame's own layer brings some of it back. The resolved
band of 12 mm balances at 1.12 kW on a table, the law of the plane wall at 1.25 kW.
"""
SHORT_BAND = 1.12
"""Heat to the wall over a short band, over that of the boundary layer's law, which leaves out its leading edge [-].

Resolved flames give the wall 1.13 times that law, measured wall fires their band 1.1 times (A. V. Singh,
M. J. Gollner 2015, Combust. Flame 162, 2214).
"""
POOL_SURFACE = 345.0  # near the boiling points of the spirits [K]
WICK_VIEW = 0.45  # share of its flame's radiation that meets the wall behind it: half a space, a tenth reflected
OPEN_SKY = 10.0  # height of the lid over a burner without a pot [m]
WARM_LAYER = 4e-3  # below a burning surface: diffusivity over regression, 0.8e-7 m2/s / 2e-5 m/s [m]

VESSEL_GAS = 1200.0  # mean in a vessel in which a flame burns; resolved in three dimensions 1120 to 1200 [K]
VAPOUR_GAIN = 1.15  # mass of the gas of methanol's or ethanol's flame over that of its air
STIRRED_ULLAGE = 0.06
"""Depth of still gas over a pool in whose vessel the flame burns, over the diameter.

Of methanol in a well of 46 mm square, 25 mm deep, resolved in three dimensions: with 300, 500 and 800 W of vapour its
surface gets 44, 26 and 9 W, which asks for 0.05; the rate in glass, which is seen to rise but slightly once the flame
is down, asks for more.
"""

EDGE_SHAPE = 1.5
"""Heat from the edge of a pool's flame to its lip, per length, over conductivity and temperature difference.

The outer face of the lip takes 1: conduction from an edge as far off as the lip is thick has the shape 2 (Hottel 1959,
from memory), half of it towards the pool, where the film already counts it. The inner face takes 1/2: gas half as hot
as the flame bathes it down to one film's thickness. Together they are near the 1.4 of conduction-ruled pools of 3 cm.
"""


def wall_temperature_film(flame: float) -> float:
    """Mean of a flame's and a bathed wall's temperature [K]."""
    return 0.5 * (flame + HOT_WALL)


def flame_gap(setup: Setup, pressure: float) -> float:
    """Narrowest gap between cold plates in which the charge's flame lives [m]: the quenching distance of plates."""
    fuel = setup.charge.fuel
    velocity = mixed_burning_velocity(fuel.substances, fuel.mole_fractions)
    return quenching_distance(velocity, air.thermal_diffusivity(DATUM, pressure))


def hold_power(setup: Setup, fuel: FuelRecord, fire: CombustionRecord, pressure: float) -> float:
    """Least heat release with which one flame is held [W]; see `quench_power`.

    Cold metal lies on one side of it only: it stands off by half the distance in which two plates quench it.
    """
    x = setup.charge.fuel.mole_fractions
    vapour = vapour_composition(x, bubble_temperature(x, pressure, fuel), fuel)
    room = setup.site.air_temperature
    heat = sum(vapour[i] * fire.heating_value[i] for i in range(len(x)))
    need = sum(vapour[i] * fire.air_moles[i] for i in range(len(x)))
    length = roper_length(GAS_CONSTANT * room / ATMOSPHERE, need, room, room, FLAME_TEMPERATURE)
    return setup.factors.quench_flow * quench_power(0.5 * flame_gap(setup, pressure), length / heat)


def film_exchange(room: float, pressure: float) -> float:
    """Density x conductivity / heat capacity of the films between flames and a room [kg2/m4/s]."""
    film = 0.5 * (FLAME_TEMPERATURE + room)
    return air.density(film, pressure) * air.conductivity(film) / air.heat_capacity(film)


def rim_hold_power(setup: Setup, fuel: FuelRecord, fire: CombustionRecord, pressure: float) -> float:
    """Least heat release with which a flame is held all round a rim, over the length of that rim [W/m].

    It is a sheet that stands off the metal; see `sheet_quench_flow`.
    """
    x = setup.charge.fuel.mole_fractions
    vapour = vapour_composition(x, bubble_temperature(x, pressure, fuel), fuel)
    room = setup.site.air_temperature
    mass = mass_of(vapour, fuel)
    heat = sum(vapour[i] * fire.heating_value[i] for i in range(len(x))) / mass
    ratio = AIR_MOLAR_MASS * sum(vapour[i] * fire.air_moles[i] for i in range(len(x))) / mass
    lift = reduced_gravity(FLAME_TEMPERATURE, room)
    flow = sheet_quench_flow(0.5 * flame_gap(setup, pressure), lift, film_exchange(room, pressure), ratio)
    return setup.factors.quench_flow * flow * heat


def clearance(setup: Setup) -> float:
    """Height of the pot's bottom above the rim [m]; as good as none where there is no pot."""
    return OPEN if setup.pot is None else setup.pot.above_rim


def top_shape(setup: Setup, pressure: float) -> float:
    """Shape factor of conduction from the sheet of side jets' flames to the top plate at whose edge it stands [-].

    The sheet is the hot end of the slot of gas between plate and pot, and stands off from the edge (`SHEET_EDGE`).
    """
    burner = setup.burner
    wide = 0.5 * burner.outer_diameter
    if burner.has_inner_wall and burner.gallery_gap is not None:
        wide = burner.gallery_gap
    return strip_shape_factor(clearance(setup), SHEET_EDGE * ATMOSPHERE / pressure, wide)


def vapour_layer_air(setup: Setup, fuel: FuelRecord, pressure: float) -> float:
    """Air in the layer to which vapour of unlit jets has spread where it meets a flame over the well [mol/s].

    Jets too weak to hold flames have next to no momentum: their vapour creeps up the wall with the air that the wall
    warms, and over the plate to the mouth of the well, with what the flame there draws. A wind adds to that draught.
    """
    burner = setup.burner
    heights, rings = geometry.jet_heights(burner), geometry.jet_rings(burner)
    up = burner.height - fmean(heights)
    away = max(up + 0.5 * (fmean(rings) - geometry.well_diameter(burner)), 1e-3)
    room = setup.site.air_temperature
    film = 0.5 * (HOT_WALL + room)
    speed = hypot(wall_draught(away, HOT_WALL, room), wind_at(setup, burner.height))
    flow = vapour_layer(away, speed, diffusivity(film, pressure, fuel), air.density(film, pressure))
    return pi * max(rings) * flow / AIR_MOLAR_MASS


def jet_ring(setup: Setup, fuel: FuelRecord, sheet: float, hold: float, rim_hold: float, pressure: float) -> JetRing:
    """The ring of jets; a record of zeros for an open cup.

    Least powers: `hold` of a flame that stands alone [W], `rim_hold` of a sheet of flame along metal [W/m].
    """
    burner = setup.burner
    jets = burner.jets
    film = wall_temperature_film(sheet)
    conductivity = air.conductivity(film)
    if jets is None:
        idle = Outlet(holes=1.0, diameter=1e-3, inertial_loss=2.7, laminar_loss=38.0, leak=0.0)
        return JetRing(
            outlet=idle,
            area=1e-6,
            lower_edge=burner.height,
            top=0.0,
            mouth=burner.height,
            circle=pi * burner.outer_diameter,
            apart=1.0,
            bathed_height=1e-3,
            closing=0.0,
            clearance=OPEN,
            turning=0.0,
            flame_density=1.0,
            gas_conductivity=conductivity,
            top_shape=0.0,
            film_density=1.0,
            absorptivity=0.0,
            standoff=STANDOFF,
            hold_power=1.0,
            light_power=1.0,
            layer_air=1.0,
            superheat_perimeter=0.0,
            superheat_coefficient=0.0,
        )
    factors = setup.factors
    diameter = jets.diameter * factors.hole_diameter
    ratio = burner.wall_thickness * factors.wall_thickness / diameter
    top = jets.direction == "top"
    above = burner.height - min(geometry.jet_heights(burner))
    ring = max(geometry.jet_rings(burner))
    gap = burner.gallery_gap if burner.gallery_gap is not None else 0.5 * burner.outer_diameter
    wide = flame_gap(setup, pressure)
    # upward flames that merge over a plate are taken to live down to the power of those side by side: an estimate
    hold = row_quench_power(hold, jets.count * wide / (pi * ring), hold if top else rim_hold * wide)
    walls = pi * (geometry.inner_diameter(burner) + geometry.inner_wall_diameter(burner))
    return JetRing(
        outlet=Outlet(
            holes=float(jets.count),
            diameter=diameter,
            inertial_loss=inertial_loss(ratio) / factors.discharge**2,
            laminar_loss=laminar_loss(ratio),
            leak=0.0,
        ),
        area=pi / 4.0 * diameter**2,
        lower_edge=geometry.spill_level(burner, setup.site.tilt),
        top=1.0 if top else 0.0,
        mouth=sum(geometry.jet_heights(burner)) / jets.rows + (0.5 * (burner.outer_diameter - ring) if top else 0.0),
        circle=pi * ring,
        apart=served_sharply(SHEET_PITCH * jets.count / (pi * ring)),
        bathed_height=max(above, 0.5 * diameter),
        closing=filled(jets.count * BATHED_WIDTH * (diameter + MIDDLING_WIDTH) / (pi * ring)),
        clearance=clearance(setup),
        turning=LID * LID * 0.5 * ring,
        flame_density=air.density(FLAME_TEMPERATURE, pressure),
        gas_conductivity=conductivity,
        top_shape=0.0 if top else top_shape(setup, pressure),
        film_density=air.density(film, pressure),
        absorptivity=burner.material.emissivity,
        standoff=STANDOFF,
        hold_power=hold,
        light_power=RELIGHT * hold,
        layer_air=vapour_layer_air(setup, fuel, pressure),
        superheat_perimeter=walls,
        superheat_coefficient=gap_coefficient(gap, vapour_conductivity(380.0, fuel)),
    )


def wick_band(
    setup: Setup,
    fuel: FuelRecord,
    fire: CombustionRecord,
    sheet: float,
    pressure: float,
    temperature: float,
    liquid_film: float,
) -> WickBand:
    """The primer wick and its flame.

    The flame is a laminar wall fire; what it radiates back to the band adds to its burning, by the band's part of the
    flame's height, and what passes through the band into the liquid behind it takes away. One layer of gas carries heat
    to band and wall, so that the factor `wick_heat` multiplies both. The liquid's film there is
    `liquid_film` [W/m2/K]. A pot above turns the flame away from the wall next below it.

    The band burns congruently: liquid diffuses some thousand times slower than the flame consumes it, so the vapour
    that leaves has the composition of what was poured (C. K. Law 1976, Combust. Flame 26, 219, the frozen limit).
    Primer that the band cannot hold runs down and burns round its foot, as a ring of even depth: its flame leans on the
    same wall, which it heats no harder; so most of its heat is lost to the burner.
    """
    burner = setup.burner
    x = setup.charge.fuel.mole_fractions
    n = len(x)
    boiling = bubble_temperature(x, pressure, fuel)
    mass = mass_of(x, fuel)
    heating = sum(x[i] * fire.heating_value[i] for i in range(n))
    air_mass = sum(x[i] * fire.air_moles[i] for i in range(n)) * AIR_MOLAR_MASS
    moisture = sum(x[i] * fire.water_moles[i] for i in range(n)) * WATER
    enthalpy = solution_enthalpy(x, temperature, fuel)
    wick = burner.wick
    if wick is None:
        return WickBand(
            area=0.0,
            height=0.0,
            capacity=0.0,
            fractions=x,
            enthalpy=enthalpy,
            heating_value=heating,
            film_rate=0.0,
            supply_rate=0.0,
            overflow_rate=0.0,
            hold_rate=0.0,
            boiling_point=boiling,
            conduction=0.0,
            chill=0.0,
            wall_coefficient=0.0,
            rim_coefficient=0.0,
            flame_temperature=sheet,
            kindling=0.0,
            heat_per_air=heating / air_mass,
            air_mass=air_mass,
            moisture=moisture,
            mass=mass,
        )
    diameter = burner.outer_diameter + 2.0 * wick.thickness
    area = pi * diameter * wick.height
    room = setup.site.air_temperature
    film_temperature = 0.5 * (sheet + boiling)
    heat = air.heat_capacity(film_temperature)
    gasify = sum(x[i] * fuel.vapour_heat[i][0] for i in range(n)) - enthalpy
    radiant = min(fire.radiant_fraction * setup.factors.radiant_fraction, 0.5)
    transfer = spalding_number(heating / mass, air_mass / mass, gasify / mass, heat, room, boiling, radiant)
    film = setup.factors.wick_heat * ON_TABLE * wall_fire_flux(wick.height, transfer, sheet, room, pressure)
    gained = flux_yield(transfer)
    tip = wall_flame_tip(film * wick.height * heating / mass, wick.height, heating / air_mass, room, pressure)
    film += gained * WICK_VIEW * radiant * film * heating / gasify * wick.height / tip
    spilt = max(setup.charge.primer - geometry.wick_capacity(burner), 0.0)
    width = max(spilt / (PUDDLE_DEPTH * pi * burner.outer_diameter), NARROWEST_PUDDLE)
    puddle = film_burning_flux(plate_up(0.5 * width, boiling, sheet, pressure), heat, transfer)
    rho = density(setup.charge.fuel, temperature)
    supply = darcy_supply(
        wick_permeability(wick.porosity, wick.pore_radius),
        surface_tension(boiling, fuel),
        wick.pore_radius,
        viscosity(boiling, fuel),
        wick.thickness,
        rho,
        1.0,
    )
    held = geometry.wick_capacity(burner) * rho / mass
    base = burner.height - collar_below(setup)
    lid = burner.height + setup.pot.above_rim if setup.pot is not None else OPEN_SKY
    near = wall_fire_coefficient(
        wick.height, burner.outer_diameter, air.conductivity(wall_temperature_film(sheet)), room, pressure
    )
    coefficient = setup.factors.wick_heat * SHORT_BAND * near
    conduction = area / (wick.thickness / SPIRIT_CONDUCTIVITY + 1.0 / liquid_film)
    return WickBand(
        area=area,
        height=wick.height,
        capacity=held,
        fractions=x,
        enthalpy=enthalpy,
        heating_value=heating,
        film_rate=area * film / mass,
        supply_rate=area * supply / mass,
        overflow_rate=puddle / (rho * PUDDLE_DEPTH),
        hold_rate=area * CRITICAL_FLUX / mass,
        boiling_point=boiling,
        conduction=conduction,
        chill=gained * conduction / (area * film / mass * gasify),
        wall_coefficient=coefficient * share_under_lid(wick.height, max(base, wick.height), lid),
        rim_coefficient=coefficient * share_under_lid(base, burner.height, lid),
        flame_temperature=sheet,
        kindling=LICKING * wall_plume_reach(1.0, sheet, room, KINDLING),
        heat_per_air=heating / air_mass,
        air_mass=air_mass,
        moisture=moisture,
        mass=mass,
    )


def wall_thickness(setup: Setup) -> float:
    """Thickness of the burner's walls as built [m]."""
    return setup.burner.wall_thickness * setup.factors.wall_thickness


def collar_below(setup: Setup) -> float:
    """How far below the rim side jets heat the wall most [m]; 0 for a burner without them."""
    burner = setup.burner
    if burner.jets is None or burner.jets.direction != "side":
        return 0.0
    mouths = min(geometry.jet_heights(burner))
    above = burner.height - mouths
    distance = clearance(setup) + 0.5 * above
    crowded = FOOT_CROWDED * FOOT_CROWDED / (distance * distance + FOOT_NEAREST * FOOT_NEAREST)
    return above + min(FOOT_BELOW * (1.0 + crowded), 0.5 * mouths)


def wall_above(setup: Setup) -> float:
    """Height of the rim's outside: from the collar up, at least a tenth of the burner [m]."""
    return max(collar_below(setup), 0.1 * setup.burner.height)


def stirring(setup: Setup, sheet: float, pressure: float) -> float:
    """How many times a wind thins the films over an open well and at its lip [-]; 1 in still air."""
    diameter = max(geometry.well_diameter(setup.burner), 1e-3)
    still = plate_up(0.25 * diameter, POOL_SURFACE, sheet, pressure)
    windy = wind_coefficient(wind_at(setup, setup.burner.height), diameter, 0.5 * (sheet + POOL_SURFACE), pressure)
    return mixed_coefficient(still, windy) / still


def skin_share(reach: float) -> float:
    r"""Share of a wall's heat that evaporates at a burning surface, for one that reaches so far down the liquid [m].

    A wall that is hot at the waterline passes its heat to the liquid as exp(-z/reach), z the depth. In the warm layer
    below the surface what enters at a depth is shared by conduction, 1 - z/layer of it to the surface: together
    1 - r (1 - exp(-1/r)) with r = reach/layer.

    >>> round(skin_share(1e-9), 3), round(skin_share(1.0), 3)
    (1.0, 0.002)
    """
    ratio = reach / WARM_LAYER
    return 1.0 + ratio * expm1(-1.0 / ratio)


def pool(setup: Setup, sheet: float, pressure: float, liquid_film: float) -> Pool:
    """The film over an open well's surface; `liquid_film` is the liquid's on its walls [W/m2/K]."""
    burner = setup.burner
    thickness = wall_thickness(setup)
    sheet_conductance = burner.material.conductivity * thickness * (0.5 if burner.has_inner_wall else 1.0)
    diameter = max(geometry.well_diameter(burner), 1e-3)
    mouth = pi * (geometry.inner_wall_diameter(burner) if burner.has_inner_wall else burner.outer_diameter)
    film_temperature = 0.5 * (sheet + POOL_SURFACE)
    still = plate_up(0.25 * diameter, POOL_SURFACE, sheet, pressure)
    stirred = stirring(setup, sheet, pressure)
    light = air.density(FLAME_TEMPERATURE, pressure)
    return Pool(
        diameter=diameter,
        film_coefficient=stirred * still,
        gas_conductivity=air.conductivity(film_temperature),
        gas_heat=air.heat_capacity(film_temperature),
        edge=stirred * EDGE_SHAPE * mouth * air.conductivity(wall_temperature_film(foot_temperature(sheet))),
        stirred=STIRRED_ULLAGE * diameter / stirred,
        passing=setup.factors.ullage_air,
        conduction=SPIRIT_CONDUCTIVITY / WARM_LAYER,
        skin_share=skin_share(sqrt(sheet_conductance / liquid_film)),
        flame_density=light,
        flame_lift=reduced_gravity(FLAME_TEMPERATURE, setup.site.air_temperature),
        gas_share=light_share(air.density(setup.site.air_temperature, pressure), light, VAPOUR_GAIN),
        wall_conductivity=air.conductivity(0.5 * (VESSEL_GAS + HOT_WALL)),
        wall_buoyancy=rayleigh_number(1.0, HOT_WALL, VESSEL_GAS, pressure),
    )
