"""The parameter record of one setup: every constant that the balances read, derived once.

All records hold floats and tuples of floats alone, so that the same functions run as plain Python and can be compiled.
They are frozen and have slots: a burn reads a million of their fields, in less than half of a named tuple's time.
`derive` in `burnsim.model.parameters.derive` builds them from the frozen descriptions.
"""

from dataclasses import dataclass

from burnsim.closures.combustion import CombustionRecord
from burnsim.substances.fuel import FuelRecord


@dataclass(frozen=True, slots=True)
class Chamber:
    """A compartment that can hold liquid: the gallery or the well."""

    present: float  # 1.0 or 0.0
    area: float  # free cross-section [m2]
    height: float  # inside height [m]
    wetted_perimeter: float  # of the walls that touch its liquid [m]
    climb: float  # of its liquid at those walls above the mean level, while it boils [m]
    film_volume: float  # below this volume boiling and evaporation fade out [m3]
    metal: float  # heat capacity of the metal kept at liquid temperature [J/K]
    loss: float  # to the surroundings from its wet wall and floor [W/K]
    convection: float  # single-phase coefficient between wall and liquid [W/m2/K]
    turnover: float  # share of liquid 1 m deep that 1 W by its outer wall turns over in a second [1/s]
    diffusion_length: float  # between liquid surface and well-mixed gas above it [m]
    lip: float  # level at which liquid runs over the rim, on the low side if tilted [m]


@dataclass(frozen=True, slots=True)
class Slots:
    """Feed slots between well and gallery."""

    present: float  # 1.0 or 0.0
    area: float  # all slots together [m2]
    height: float  # [m]
    diameter: float  # hydraulic [m]
    inertial_loss: float
    laminar_loss: float
    lift: float  # capillary lift of the gallery above the well [m]
    bubble: float  # pressure that presses the meniscus out of a slot, 4 sigma/d [Pa]
    bubble_size: float  # diameter of the bubbles of vapour that leave a slot [m]
    bubble_rise: float  # their speed in the liquid [m/s]
    diffusivity: float  # of heat in the liquid [m2/s]


@dataclass(frozen=True, slots=True)
class Outlet:
    """Equal holes in parallel to the open air, and a laminar leak beside them or, with a count of 0, alone."""

    holes: float
    diameter: float  # hydraulic, as built [m]
    inertial_loss: float
    laminar_loss: float
    leak: float  # flow = leak*gauge/viscosity; 0 for none, but only beside holes [m3]


@dataclass(frozen=True, slots=True)
class JetRing:
    """The ring of jets and the zone of wall that its flames bathe."""

    outlet: Outlet
    area: float  # of one hole [m2]
    lower_edge: float  # above the floor [m]
    top: float  # 1.0 for jets that point upward
    mouth: float  # way along the wall, from the burner's foot to the jets [m]
    circle: float  # round which the flames stand [m]
    apart: float  # length of one jet's flame alone over that of the sheet into which they merge, 1.0 far apart [-]
    bathed_height: float  # of wall above the jets (side), or 0 [m]
    closing: float  # share of that circle through which no air comes while the jets burn [-]
    clearance: float  # of what turns the rising flames outwards, the pot's bottom, above the rim [m]
    turning: float  # square of the distance from it at which it turns half of a flame away, over the flame's length [m]
    flame_density: float  # of a flame's gas [kg/m3]
    gas_conductivity: float  # of the layer between flame and wall [W/m/K]
    top_shape: float  # of conduction from side jets' flames to the top plate at whose edge they stand [-]
    film_density: float  # of gas half-way between a flame and the wall [kg/m3]
    absorptivity: float  # of the rim, for the radiation of the jets' flames that meets it
    standoff: float  # least distance of a held flame from metal [m]
    hold_power: float  # a jet's flame on metal of 298 K goes out below this [W]
    light_power: float  # and is lit above this [W]
    layer_air: float  # in the layer to which their vapour has spread where it meets a flame over the well [mol/s]
    superheat_perimeter: float  # of the dry walls that heat the vapour [m]
    superheat_coefficient: float  # between that wall and the vapour [W/m2/K]


@dataclass(frozen=True, slots=True)
class Vent:
    """What joins the well to the open air."""

    open: float  # share of the well over which flames live; 0.0: a pot stands so close that only vapour gets out
    outlet: Outlet  # notches and gap under the pot; a leak under a pot on a plain rim
    hold_power: float  # least power with which the vented vapour burns [W]
    least_power: float  # least with which a flame lives over the well, on metal of 298 K [W]
    breath: float  # air that comes in through the curtain to the flames over an open well, friction left out [mol/s]
    layer_breath: float  # what friction lets in over its surface, over the fourth power of the height there [mol/s/m4]
    clearance: float  # of the pot's bottom above the rim [m]
    mouth: float  # area of gap and notches over the length of the way through them, 0 without a pot [m]


@dataclass(frozen=True, slots=True)
class Collar:
    """The ring of outer wall into which the flames of side jets send most of their heat, a little below the mouths.

    Above it the wall conducts on to the rim. Jets in the top heat the rim itself, and a cup has none: no collar then.
    """

    present: float  # 1.0 or 0.0
    capacity: float  # with half of the wall from there to the rim [J/K]
    rise: float  # from it to the rim, by that wall [W/K]
    loss: float  # to the air by convection, from the part that no flame bathes [W/K]
    emission: float  # to the room by radiation: emissivity x Stefan-Boltzmann constant x area [W/K4]
    beside: float  # share of the gallery's walls that it heats, as vapour meets them; the rest is as warm as the rim


@dataclass(frozen=True, slots=True)
class Walls:
    """Upper walls: the rim node and the strips that carry heat down to the liquid."""

    conductance: float  # conductivity x thickness of one wall [W/K]
    outer_perimeter: float  # [m]
    inner_perimeter: float  # [m]
    rim_base: float  # height from which the outer wall's strip runs down: of the collar, or of the rim [m]
    top: float  # height of the rim [m]
    plate: float  # way through the top plate from the jets to the outer wall, as a length of that wall [m]
    inner_plate: float  # the same to the inner wall [m]
    underside: float  # of the top plate over the gallery's liquid, were it as hot all over as the rim [m2]
    underside_width: float  # diameter of a closed top, width of a ring [m]
    emissivity: float  # of the metal
    rim_capacity: float  # [J/K]
    dry_capacity: float  # of outer wall and plate between the liquid as poured and the collar or rim [J/K]
    rim_loss: float  # to the air by convection, from the part that no flame bathes [W/K]
    rim_emission: float  # to the room by radiation: emissivity x Stefan-Boltzmann constant x area [W/K4]
    dry_loss: float  # the same from inside a well that is open and dry [W/K]
    dry_emission: float  # the same [W/K4]
    rim_area: float  # outside area of the wall above a collar, which no strip has [m2]
    contact: float  # rim and top plate to pot [W/K]
    pot_emission: float  # to the pot's bottom by radiation, as `rim_emission` to the room [W/K4]
    divider: float  # well liquid to gallery liquid through one metre height of inner wall [W/K/m]
    bridge: float  # through the floor metal [W/K]
    edge: float  # flames at notches and gaps to their rim, shape factor x perimeter x conductivity [W/K]


@dataclass(frozen=True, slots=True)
class WickBand:
    """The primer wick."""

    area: float  # [m2]
    height: float  # [m]
    capacity: float  # moles that saturate it [mol]
    fractions: tuple[float, ...]  # mole fractions of what was poured on it
    enthalpy: float  # of that liquid as poured [J/mol]
    heating_value: float  # [J/mol]
    film_rate: float  # film-theory burning rate of the whole band [mol/s]
    supply_rate: float  # capillary supply at full saturation [mol/s]
    overflow_rate: float  # share of what the band cannot hold that burns each second, as a puddle round the foot [1/s]
    hold_rate: float  # the flame dies below this [mol/s]
    boiling_point: float  # [K]
    conduction: float  # from the hot band through itself, wall and film to the liquid behind all of it [W/K]
    chill: float  # share of its burning that the band loses for each kelvin by which that liquid is colder [1/K]
    wall_coefficient: float  # flame to the wall above the band [W/m2/K]
    rim_coefficient: float  # flame to the rim's outside [W/m2/K]
    flame_temperature: float  # [K]
    kindling: float  # height up to which its flame lights what can burn, over that of its tip [-]
    heat_per_air: float  # heat of combustion per mass of air [J/kg]
    air_mass: float  # stoichiometric air [kg/mol]
    moisture: float  # water vapour in its burnt gas [kg/mol]
    mass: float  # [kg/mol]


@dataclass(frozen=True, slots=True)
class Pool:
    """The flame of an open well or cup."""

    diameter: float  # [m]
    film_coefficient: float  # flame to surface without ullage and blowing [W/m2/K]
    gas_conductivity: float  # of the gas above the surface [W/m/K]
    gas_heat: float  # its heat capacity [J/kg/K]
    stirred: float  # still gas over the liquid at most, where air and flame have come down to it [m]
    passing: float  # factor on the air that comes down [-]
    edge: float  # flame's edge to the lip, shape factor x perimeter x conductivity [W/K]
    conduction: float  # from the surface to the liquid below [W/m2/K]
    skin_share: float  # of the heat that walls pass at the waterline, what evaporates at a burning surface
    flame_density: float  # [kg/m3]
    flame_lift: float  # upward acceleration of the flame's gas [m/s2]
    gas_share: float  # of the mouth, that a flame's gas fills while air comes down through the rest
    wall_conductivity: float  # of the gas along the wall above the fuel [W/m/K]
    wall_buoyancy: float  # its Rayleigh number over the cube of the height [1/m3]


@dataclass(frozen=True, slots=True)
class PotParameters:
    """The pot."""

    present: float
    metal: float  # [J/K]
    disc_area: float  # the whole bottom [m2]
    height: float  # of its side [m]
    wall_conductance: float  # conductivity x thickness of its side [W/K]
    wet_wall_area_per_kg: float  # side wall wetted by a kilogram of water [m2/kg]
    water_heat: float  # specific heat of water [J/kg/K]
    steam_heat: tuple[float, float]  # enthalpy of steam above liquid at 298.15 K: h0 + a*th [J/kg]
    boiling_point: float  # [K]
    inside_coefficient: float  # water side [W/m2/K]
    lid: float  # 1.0 with a lid
    missed: float  # share of the gas of jets or well that the wind carries past the pot
    column_missed: float  # the same of a pool's flames that are drawn in
    wick_missed: float  # the same of the wick's
    sheathed: float  # share of the side wall that gas from below still climbs in the wind
    lid_loss: float  # lid or open top by convection and radiation [W/m2/K]
    side_loss: float  # side wall, when no hot gas sheathes it [W/m2/K]
    view_factor: float  # share of the flames' radiation that meets the bottom
    absorptivity: float
    air_vapour: float  # mole fraction of water vapour in the room's air
    wind_transfer: float  # of vapour from its open water by the wind alone [m/s]
    thin_dew: float  # of water on its outside, below which it no longer wets all of it [kg]
    over_well: float  # excess of its bottom over the water, above a well that it covers, over the whole bottom's [-]


@dataclass(frozen=True, slots=True)
class GasWay:
    """The way of the flames' gas from their foot along the pot's bottom and up its side."""

    exchange: float  # density x conductivity / heat capacity of a flame's films [kg2/m4/s]
    cool: float  # the room's temperature over that of these films
    lift: float  # buoyancy of a watt that moves at 1 m/s [N s/m/J]
    current: float  # cube of the speed of a gravity current, for each watt per metre of its width [m4/s3/W]
    sheet_lift: float  # upward acceleration of a flame's gas [m/s2]
    rise: float  # from jets, or an open well's surface, to the pot's bottom [m]
    wick_rise: float  # from the wick to the pot's bottom [m]
    ring: float  # width of the sheet on the ring where the flames rise [m]
    gap: float  # from rim to the pot's bottom [m]
    edge: float  # width of the layer at the pot's edge and up its side [m]
    centre: float  # pi times gas stirred inside a ring to the bottom, over root of speed over radius [W/m2/K s^(1/2)]
    unstable: float  # hot gas under a cold plate, for the third root of the difference [W/m2/K^(4/3)]
    heat: float  # heat capacity of gas next to the pot [J/kg/K]
    sideways: float  # share of the jets' momentum that points outwards
    most_spread: float  # of the layer once it has drawn all the air that can reach it [kg2/s2]
    slot_film: float  # what slow gas in the slot behind a windscreen gives the pot's side at least [W/m2/K]
    slot_loss: float  # and what it loses through the screen to the room [W/m2/K]
    slot_fill: float  # flow of gas that fills it, for each metre a second of its speed [kg/m]
    slot_height: float  # how far up the side that slot goes [m]
    moisture: float  # mass fraction of water vapour in the air that it draws in
    lewis: float  # diffusivity of water vapour in its films over the thermal one


@dataclass(frozen=True, slots=True)
class Surroundings:
    """The site."""

    pressure: float  # [Pa]
    temperature: float  # [K]
    wind: float  # at the flames, behind a windscreen if there is one [m/s]
    air: float  # that can reach the flames: as good as all, but behind a windscreen [mol/s]


@dataclass(frozen=True, slots=True)
class Parameters:
    """Everything the balances need to know about one setup."""

    components: int
    fuel: FuelRecord
    fire: CombustionRecord
    gallery: Chamber
    well: Chamber
    slots: Slots
    jets: JetRing
    vent: Vent
    collar: Collar
    walls: Walls
    wick: WickBand
    pool: Pool
    pot: PotParameters
    way: GasWay
    site: Surroundings
    boil_coefficient: float  # Cooper, fuel on metal
    boil_power: float  # the same to Cooper's exponent
    bubble_subcooling: float  # in which bubbles survive on their way up [K]
    hot_top: float  # how much hotter than its mean a liquid is on top, over how much its walls are at the waterline
    entrainment: float  # named factor
    flame_to_rim: float  # named factor
    flame_to_pot: float  # named factor
    radiant_fraction: float
