"""Flows of vapour and air between gallery, well and the open air, and of liquid that spills.

Gauge pressures are quasi-steady. Vapour made, less what condenses on a pot that covers the well, equals vapour leaving
at that pressure: a bracketed secant, converged to rounding so that difference quotients stay smooth. Vapour has no
hold-up in the headspace: at some 26 mg of 30 g it is a thousandth of the charge. The air in the gallery's headspace is
a state, since it decides whether the first gas from the jets can burn.

Where the jets pass too little, the gallery's vapour presses its liquid out through the feed slots and follows it. In a
cold well it condenses within a hundredth of a second or two and does not come up, to press on the well or to burn over
it; its heat warms the well, until that is some kelvin below its boiling point (`caught`).
"""

from math import sqrt

from burnsim.bounds import at_least, at_most, within
from burnsim.closures.condensation import condensed_share
from burnsim.constants import AIR_MOLAR_MASS, GAS_CONSTANT, GRAVITY
from burnsim.model.balances.chambers import Liquid, fade, gas_held
from burnsim.model.balances.pot.reflux import Bottom, Lid, covered, lid_over, no_lid, refluxed
from burnsim.model.balances.pressure import (
    blow_rate,
    boil_rate,
    chamber_gauge,
    evaporation_rate,
    outlet_pressure,
    wall_heated_temperature,
)
from burnsim.model.balances.spilling import overflow, spill
from burnsim.model.balances.walls import WallFlows
from burnsim.model.parameters.record import Parameters
from burnsim.records import by_slots, record
from burnsim.substances.fuel import gas_heat_capacity, vapour_viscosity

TRACE = 1e-15  # keeps ratios of flows finite at rest [mol/s]


@record
class GasFlows:
    """Flows of vapour, air and liquid between the compartments and out of the burner."""

    gallery_pressure: float  # gauge [Pa]
    well_pressure: float  # gauge [Pa]
    gallery_vapour: float  # made in the gallery [mol/s]
    well_vapour: float  # made in the well, less what drips back from the pot [mol/s]
    through_jets: float  # of the vapour in the gallery's headspace, through the jets [mol/s]
    blow: float  # of the gallery's vapour, through dry slots and out by the well [mol/s]
    blow_caught: float  # of the same, condensing in the well's liquid [mol/s]
    blow_back: float  # of the well's vapour, through dry slots and out by the jets [mol/s]
    blow_kept: float  # of the same, staying in the headspace in the place of air [mol/s]
    jet_air: float  # headspace air leaving through the jets [mol/s]
    jet_flow: float  # vapour and air together [mol/s]
    jet_mass: float  # mean molar mass of it [kg/mol]
    jet_temperature: float  # after its way along the hot dry walls [K]
    jet_superheat: float  # heat it takes from those walls [W]
    from_feet: float  # part of it, that is missing where their strips end in the gallery's liquid
    crossing_heat: float  # that vapour blown through dry slots and the well takes from the upper walls [W]
    air_rate: float  # change of the air in the gallery's headspace [mol/s]
    air_fraction: float  # of the gas in the headspace
    spill_flow: float  # liquid through the jets [m3/s]
    spill_rate: float  # the same [mol/s], of the gallery's composition
    spill_heat: float  # [W], sensible
    rim_rate: float  # liquid of the well over its rim [mol/s], of the well's composition
    rim_heat: float  # [W], sensible
    reflux: float  # heat that vapour takes from a covered well to the pot, from which it drips back [W]


def own_vapour(gas: GasFlows) -> float:
    """The well's vapour that leaves by its vent [mol/s]."""
    return gas.well_vapour - gas.blow_back - gas.blow_kept


@record
class Headspace:
    """What the gallery's gas is made of, whatever its pressure."""

    air_fraction: float
    evaporated: float  # into its air [mol/s]
    boiled: float  # at ambient pressure [mol/s]
    warming: float  # gas that swells out as the liquid warms, were nothing to boil [mol/s]
    leaving: float  # share of what boils that leaves: taking its latent heat from the liquid cools the gas
    mass: float  # mean molar mass of the gas [kg/mol]
    transfer: float  # of the dry walls to what leaves by the jets [W/K]
    capacity: float  # of the vapour, the mean up to the temperature of the upper walls [J/mol/K]
    feet: float  # share of what it takes from the walls that is missing at their feet
    heating: float  # of the liquid by its walls, less that [W]


@record
class Gases:
    """Pressures of both compartments, and the vapour that is made in them and that crosses between them."""

    crossing: float  # from well to gallery [mol/s]
    caught: float  # share of what crosses to the well that condenses in its liquid
    well_gauge: float  # [Pa]
    well_vapour: float  # made in the well [mol/s]
    gallery_gauge: float  # [Pa]
    gallery_vapour: float  # made in the gallery [mol/s]
    warming: float  # gas that swells out of the gallery as it warms [mol/s]
    jet_temperature: float  # [K]


def exposed(body: Liquid, p: Parameters) -> float:
    """Share of the feed slots that stands above a compartment's liquid."""
    return 1.0 - fade(body.level / p.slots.height)


def slot_head(level: float, density: float, p: Parameters) -> float:
    """Pressure with which a liquid holds vapour back from the middle of the slots [Pa]."""
    over = level - 0.5 * p.slots.height
    return GRAVITY * density * over if over > 0.0 else 0.0


def caught(gallery: Liquid, well: Liquid, p: Parameters) -> float:
    """Share of vapour blown from the gallery into the well that condenses in its liquid, not yet up.

    Bubbles as large as the slots let go rise from the middle of the slots (`closures/condensation.py`). Liquid that is
    not as deep as a bubble does not close round it. The well's liquid is taken to be stirred: the ring of bubbles sees
    its mean temperature.

    Parameters
    ----------
    gallery, well : the two liquids
    p : parameters
    """
    slots = p.slots
    depth = well.level - 0.5 * slots.height
    if depth <= 0.0 or well.superheat >= 0.0:
        return 0.0
    taken = well.moles / at_least(well.volume, 1e-12) * well.molar_heat * -well.superheat
    given = p.site.pressure / (GAS_CONSTANT * gallery.temperature) * gallery.latent
    share = condensed_share(taken / given, slots.diffusivity, slots.bubble_size, depth / slots.bubble_rise)
    return fade(depth / slots.bubble_size) * share


def boil_under_cover(well: Liquid, heating: float, p: Parameters) -> float:
    """What boils in a covered well at ambient pressure [mol/s]; 0 without one: no pressure needs it then.

    Parameters
    ----------
    well : its liquid
    heating : from the walls [W]
    p : parameters
    """
    return boil_rate(well, heating, 0.0, p) if covered(p) else 0.0


def well_gauge(
    well: Liquid, heating: float, boiled: float, surface: float, crossing: float, lid: Lid, p: Parameters
) -> float:
    """Pressure that drives a covered well's vapour out through notches and gaps [Pa]; an open well has none.

    Parameters
    ----------
    well : its liquid
    heating : from the walls [W]
    boiled : from `boil_under_cover` [mol/s]
    surface : what evaporates from a pool's surface besides [mol/s]
    crossing : vapour that leaves through the feed slots instead; less than 0 is blown in, and leaves by the gap [mol/s]
    lid : the pot over it
    p : parameters
    """
    if not covered(p):
        return 0.0
    thickness = vapour_viscosity(well.temperature, p.fuel)
    return chamber_gauge(
        well,
        heating,
        boiled,
        1.0,
        surface - at_least(crossing, 0.0),
        at_least(-crossing, 0.0),
        well.vapour_mass,
        well.temperature,
        thickness,
        p.vent.outlet,
        lid,
        p,
    )


def well_vapour(well: Liquid, heating: float, gauge: float, surface: float, p: Parameters) -> float:
    """Vapour made in the well [mol/s]: what boils at its pressure, and what evaporates from a pool's surface.

    Parameters
    ----------
    well : its liquid
    heating : from the walls [W]
    gauge : from `well_gauge` [Pa]
    surface : what evaporates from a pool's surface besides [mol/s]
    p : parameters
    """
    return boil_rate(well, heating, gauge, p) + surface


@by_slots
def headspace(gallery: Liquid, air: float, hot: float, walls: WallFlows, p: Parameters) -> Headspace:
    """What the gallery's gas is made of, whatever its pressure.

    Parameters
    ----------
    gallery : its liquid
    air : in its headspace [mol]
    hot : temperature of the upper walls [K]
    walls : heat that the walls pass to the liquids
    p : parameters
    """
    held = gas_held(gallery.temperature, gallery.volume, p.gallery, p)
    air_fraction = at_most(at_least(air, 0.0) / held, 1.0)
    evaporated = evaporation_rate(gallery, p.gallery, air_fraction, p)
    dry = at_least(at_most(p.jets.mouth, p.gallery.height) - gallery.level, 0.0)
    transfer = p.jets.superheat_coefficient * p.jets.superheat_perimeter * dry
    capacity = gas_heat_capacity(gallery.gas_heat, gallery.temperature, hot)
    below = at_most(at_least(p.walls.rim_base - gallery.level, 0.0) / (dry + 1e-9), 1.0)
    feet = 0.5 * gallery.wet * (1.0 - p.collar.beside * (1.0 - below))
    made = evaporated + boil_rate(gallery, walls.into_gallery, 0.0, p)
    taken = superheating(gallery, wall_heated_temperature(made, capacity, transfer, gallery.temperature, hot))
    heating = walls.into_gallery
    if heating > 0.0:
        heating /= 1.0 + feet * at_least(taken, 0.0) / gallery.latent
    boiled = boil_rate(gallery, heating, 0.0, p)
    net = walls.into_gallery - walls.divider - walls.gallery_loss - evaporated * gallery.latent
    per_joule = held / (gallery.temperature * gallery.capacity)
    return Headspace(
        air_fraction=air_fraction,
        evaporated=evaporated,
        boiled=boiled,
        warming=per_joule * net,
        leaving=at_least(1.0 - per_joule * gallery.latent, 0.0),
        mass=gallery.vapour_mass + air_fraction * (AIR_MOLAR_MASS - gallery.vapour_mass),
        transfer=transfer,
        capacity=capacity,
        feet=feet,
        heating=heating,
    )


def jet_temperature(flow: float, gallery: Liquid, space: Headspace, hot: float) -> float:
    """Temperature of the gallery's vapour after its way along the hot dry walls, at the jets [K].

    Its heat capacity rises by a quarter or more on the way. The mean over that way is taken, with its end from a first
    guess up to the rim's temperature. Held within what trial states may ask for.

    Parameters
    ----------
    flow : of vapour [mol/s]
    gallery : its liquid
    space : of the gallery
    hot : temperature of the upper walls [K]
    """
    entry = gallery.temperature
    guess = wall_heated_temperature(flow, space.capacity, space.transfer, entry, hot)
    capacity = gas_heat_capacity(gallery.gas_heat, entry, guess)
    return within(wall_heated_temperature(flow, capacity, space.transfer, entry, hot), 200.0, 1200.0)


def superheating(body: Liquid, hot: float) -> float:
    """Heat that the vapour over a liquid takes up from there to a temperature [K], as an ideal gas [J/mol]."""
    return (hot - body.temperature) * gas_heat_capacity(body.gas_heat, body.temperature, hot)


@by_slots
def joined_gases(
    gallery: Liquid,
    well: Liquid,
    space: Headspace,
    warm: float,
    walls: WallFlows,
    surface: float,
    lid: Lid,
    p: Parameters,
) -> Gases:
    """Vapour that crosses the feed slots, and the pressures of both compartments.

    Vapour crosses where the slots stand bare of one compartment's liquid and its pressure lifts the other's out of the
    way. What crosses lowers the pressure behind it and raises that before it, but for what condenses there. A drive
    over the slots fixes what crosses, with it the well's pressure, and with both the gallery's; the drive is the one
    root at which the jets pass the gallery's gas at that pressure. It lies between 0 and what it would be without any
    flow, and is found by a secant in its square (the flow grows about so) kept inside that bracket, and converged to
    rounding.

    Parameters
    ----------
    gallery, well : the two liquids
    space : of the gallery
    warm : temperature of its upper walls [K]
    walls : heat that the walls pass to the liquids
    surface : what evaporates from a pool's surface, besides what boils [mol/s]
    lid : the pot over the well
    p : parameters
    """
    heating = space.heating
    base = space.evaporated + space.warming  # leaves by the jets besides what boils and crosses
    crossing = 0.0
    beside_boiled = boil_under_cover(well, walls.into_well, p)
    beside = well_gauge(well, walls.into_well, beside_boiled, surface, 0.0, lid, p)
    hot = jet_temperature(base + space.leaving * space.boiled, gallery, space, warm)
    thickness = vapour_viscosity(hot, p.fuel)
    gauge = chamber_gauge(
        gallery, heating, space.boiled, space.leaving, base, 0.0, space.mass, hot, thickness, p.jets.outlet, no_lid(), p
    )
    way, source, drowned = 1.0, well, 0.0
    head = slot_head(gallery.level - p.slots.lift, gallery.density, p)
    if beside < gauge:
        way, source, drowned = -1.0, gallery, caught(gallery, well, p)
        head = slot_head(well.level, well.density, p)
    high = way * (beside - gauge) - head
    bare = exposed(source, p) if p.slots.present > 0.0 else 0.0
    if high > 0.0 and bare > 0.0:
        thickness = vapour_viscosity(source.temperature, p.fuel)
        low, high = 0.0, high * high
        before, gap_before = 0.0, sqrt(high)
        square = high
        for count in range(60):
            drive = sqrt(square)
            crossing = way * blow_rate(drive, bare, source.vapour_mass, source.temperature, thickness, p)
            beside = well_gauge(well, walls.into_well, beside_boiled, surface, (1.0 - drowned) * crossing, lid, p)
            gauge = beside - way * (head + drive)
            boiled = boil_rate(gallery, heating, gauge, p)
            hot = jet_temperature(base + crossing + space.leaving * space.boiled, gallery, space, warm)
            needed = outlet_pressure(
                base + crossing + space.leaving * boiled,
                space.mass,
                hot,
                vapour_viscosity(hot, p.fuel),
                p.jets.outlet,
                p.site.pressure,
            )
            gap = way * (gauge - needed)
            if abs(gap) <= 1e-11 * drive or high - low <= 1e-12 * high:
                break
            if gap > 0.0:
                low = square
            else:
                high = square
            slope = (gap - gap_before) / (square - before)
            before, gap_before = square, gap
            if slope < 0.0:
                square -= gap / slope
            if slope >= 0.0 or count > 25 or not low < square < high:
                square = 0.5 * (low + high)
    else:
        boiled = boil_rate(gallery, heating, gauge, p)
    made = well_vapour(well, walls.into_well, beside, surface, p)
    return Gases(
        crossing=crossing,
        caught=drowned,
        well_gauge=beside,
        well_vapour=made,
        gallery_gauge=gauge,
        gallery_vapour=space.evaporated + boiled,
        warming=space.warming - (1.0 - space.leaving) * boiled,
        jet_temperature=hot,
    )


@by_slots
def gas_flows(
    gallery: Liquid,
    well: Liquid,
    air: float,
    collar: float,
    rim: float,
    walls: WallFlows,
    surface: float,
    bottom: Bottom,
    spilling: float,
    p: Parameters,
) -> GasFlows:
    """Every flow of vapour and air between the compartments and out of the burner, and liquid out of the jets.

    Parameters
    ----------
    gallery, well : the two liquids
    air : air in the gallery's headspace [mol]
    collar, rim : temperatures [K]
    walls : heat that the walls pass to the liquids
    surface : what evaporates from a pool's surface, besides what boils [mol/s]
    bottom : of a pot that covers the well
    spilling : 1.0 once liquid has reached the jets or the rim; before, none leaves
    p : parameters

    Returns
    -------
    GasFlows
    """
    rim_over = overflow(well, spilling, p)
    if p.gallery.present <= 0.0:
        lid = lid_over(well, bottom, 0.0, p)
        gauge = well_gauge(well, walls.into_well, boil_under_cover(well, walls.into_well, p), surface, 0.0, lid, p)
        made = well_vapour(well, walls.into_well, gauge, surface, p)
        dripping = refluxed(made, lid)
        return GasFlows(
            gallery_pressure=0.0,
            well_pressure=gauge,
            gallery_vapour=0.0,
            well_vapour=made - dripping.back,
            through_jets=0.0,
            blow=0.0,
            blow_caught=0.0,
            blow_back=0.0,
            blow_kept=0.0,
            jet_air=0.0,
            jet_flow=0.0,
            jet_mass=AIR_MOLAR_MASS,
            jet_temperature=gallery.temperature,
            jet_superheat=0.0,
            from_feet=0.0,
            crossing_heat=0.0,
            air_rate=0.0,
            air_fraction=0.0,
            spill_flow=0.0,
            spill_rate=0.0,
            spill_heat=0.0,
            rim_rate=rim_over.rate,
            rim_heat=rim_over.heat,
            reflux=dripping.heat,
        )
    warm = rim + p.collar.beside * (collar - rim)
    space = headspace(gallery, air, warm, walls, p)
    jets = (1.0 - space.air_fraction) * (space.evaporated + space.warming + space.leaving * space.boiled)
    lid = lid_over(well, bottom, jets, p)
    gases = joined_gases(gallery, well, space, warm, walls, surface, lid, p)
    rate = gases.crossing
    crossed = at_most(rate, gases.well_vapour) if rate > 0.0 else 0.0
    blow = at_most(-rate, gases.gallery_vapour) if rate < 0.0 else 0.0
    rich = 1.0 - space.air_fraction
    own = gases.gallery_vapour - blow + gases.warming
    drowned = gases.caught * blow
    blow -= drowned
    breath = own + crossed
    back = rich * crossed if own > 0.0 else rich * at_least(breath, 0.0)
    leaving = rich * at_least(own, 0.0)
    jet_air = space.air_fraction * at_least(breath, 0.0)
    jet_flow = leaving + back + jet_air
    vapour_mass = leaving * gallery.vapour_mass + back * well.vapour_mass
    superheat = leaving * superheating(gallery, gases.jet_temperature)
    if back > 0.0:
        superheat += back * superheating(well, gases.jet_temperature)
    crossing_heat = 0.0
    if blow > 0.0:
        crossing_heat = blow * superheating(gallery, well.temperature)
    dripping = refluxed(gases.well_vapour - crossed, lid)
    over = spill(gallery, gases.gallery_vapour, gases.gallery_gauge, spilling, p)
    return GasFlows(
        gallery_pressure=gases.gallery_gauge,
        well_pressure=gases.well_gauge,
        gallery_vapour=gases.gallery_vapour,
        well_vapour=gases.well_vapour - dripping.back,
        through_jets=leaving,
        blow=blow,
        blow_caught=drowned,
        blow_back=back,
        blow_kept=crossed - back,
        jet_air=jet_air,
        jet_flow=jet_flow,
        jet_mass=(vapour_mass + (jet_air + TRACE) * AIR_MOLAR_MASS) / (jet_flow + TRACE),
        jet_temperature=gases.jet_temperature,
        jet_superheat=superheat,
        from_feet=space.feet * superheat,
        crossing_heat=crossing_heat,
        air_rate=at_least(-breath, 0.0) - jet_air,
        air_fraction=space.air_fraction,
        spill_flow=over.flow,
        spill_rate=over.rate,
        spill_heat=over.heat,
        rim_rate=rim_over.rate,
        rim_heat=rim_over.heat,
        reflux=dripping.heat,
    )
