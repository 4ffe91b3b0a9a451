"""From the frozen descriptions to the parameter record and the first state: done once per burn.

A pot close above a well throttles it. Air for the pool's flame comes in through the curtain between rim and pot,
whatever holds the pot; below the quenching distance the well only vents.
"""

from dataclasses import replace
from math import hypot, pi, sqrt

from burnsim.bounds import within
from burnsim.closures.boiling import COOPER_EXPONENT, cooper_coefficient
from burnsim.closures.combustion import combustion_record
from burnsim.closures.flame import FLAME_TEMPERATURE
from burnsim.closures.orifice import inertial_loss, laminar_loss
from burnsim.closures.plume import OPENING_DISCHARGE, layer_draught, opening_draught
from burnsim.constants import AIR_MOLAR_MASS, DATUM
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
from burnsim.model.description import geometry
from burnsim.model.description.conditions import Pot
from burnsim.model.description.fields import spec_of
from burnsim.model.description.setup import Setup
from burnsim.model.parameters.chambers import chambers, slots
from burnsim.model.parameters.flames import (
    POOL_SURFACE,
    clearance,
    flame_gap,
    hold_power,
    jet_ring,
    pool,
    rim_hold_power,
    wick_band,
)
from burnsim.model.parameters.pot import (
    LEAST_AIR,
    gas_way,
    pot_parameters,
    rim_leak,
)
from burnsim.model.parameters.record import (
    Outlet,
    Parameters,
    Surroundings,
    Vent,
)
from burnsim.model.parameters.shelter import air_limit, flame_height, pot_bottom, wind_at, wind_up
from burnsim.model.parameters.walls import collar, walls
from burnsim.substances import air
from burnsim.substances.blend import fuel_record, moles
from burnsim.substances.equilibrium import bubble_temperature, vapour_composition
from burnsim.substances.fuel import (
    liquid_volume,
    mass_of,
)

UNHINDERED = 1e3  # air that comes in to a well with nothing near above it: more than any flame needs [mol/s]
POOL_FIRE = 2.5e5  # of small alcohol pools, 10 g/m2/s (published: 10 to 30) [W/m2]


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
    gap = rim_leak(setup)
    leak = circumference * gap**3 / (12.0 * burner.rim_width)
    seat = circumference * gap / burner.rim_width
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
        mass = mass_of(y, fuel)
        water_mass = y[fuel.water_index] * fuel.molar_mass[fuel.water_index] / mass
    adiabatic = sum(c * min(water_mass, 0.8) ** k for k, c in enumerate(fire.flame_temperature))
    sheet = room + (1.0 - radiant) * (adiabatic - room)
    gallery, well = chambers(setup, fuel, pressure)
    hold = hold_power(setup, fuel, fire, pressure)
    rim_hold = rim_hold_power(setup, fuel, fire, pressure)
    openings = vent(setup, hold, rim_hold, pressure)
    mean_mass = mass_of(x, fuel)
    boiling = cooper_coefficient(pressure / fuel.critical_pressure, 1e3 * mean_mass)
    return Parameters(
        components=len(x),
        fuel=fuel,
        fire=fire,
        gallery=gallery,
        well=well,
        slots=slots(setup, fuel, temperature),
        jets=jet_ring(setup, fuel, sheet, hold, rim_hold, pressure),
        vent=openings,
        collar=collar(setup, pressure),
        walls=walls(setup, well, gallery, openings.open, sheet, pressure),
        wick=wick_band(setup, fuel, fire, sheet, pressure, temperature, max(gallery.convection, well.convection)),
        pool=pool(setup, sheet, pressure, well.convection),
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
