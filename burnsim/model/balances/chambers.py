"""The liquid of a compartment: temperature, level, composition of liquid and vapour, from moles and enthalpy."""

from collections.abc import Callable
from math import log

from burnsim.bounds import at_least, at_most
from burnsim.constants import AIR_MOLAR_MASS, DATUM, GAS_CONSTANT
from burnsim.model.parameters.record import Chamber, Parameters
from burnsim.records import by_slots, like_another, record
from burnsim.substances.equilibrium import partial_pressures
from burnsim.substances.fuel import (
    FuelRecord,
    liquid_enthalpy,
    liquid_volume,
    temperature_from_enthalpy,
    vapour_enthalpy,
)

COLDEST, HOTTEST = 180.0, 1200.0  # trial temperatures of a compartment are held between these [K]
HOTTEST_LIQUID = 420.0  # beyond it a compartment holds no liquid; curves of liquids end here [K]


@record
class Liquid:
    """The liquid of one compartment and the vapour that leaves it, derived from its moles and enthalpy."""

    temperature: float  # [K]
    volume: float  # [m3]
    level: float  # above the floor [m]
    density: float  # [kg/m3]
    wet: float  # 1 while it covers its walls, fading to 0 as the last film dries
    moles: float  # [mol], never negative
    fractions: tuple[float, ...]  # mole fractions of the liquid
    enthalpy: float  # of the liquid above 298.15 K [J/mol]
    molar_heat: float  # heat capacity of the liquid [J/mol/K]
    bubble_pressure: float  # [Pa]
    superheat: float  # of its mean above the bubble point at ambient pressure; negative when subcooled [K]
    chill: float  # how much colder it is in the mean than on top; adds to the superheat, within 0.2 K up to 15 K [K]
    onset: float  # subcooling of its mean at which a thirteenth of the hot walls' heat leaves as vapour [K]
    latent: float  # [J/mol of vapour]
    capacity: float  # with its metal [J/K]
    area: float  # wetted wall and floor [m2]
    vapour: tuple[float, ...]  # mole fractions of the vapour
    vapour_mass: float  # [kg/mol]
    vapour_heat: float  # enthalpy at the liquid's temperature above liquid at 298.15 K [J/mol]
    heating_value: float  # of the vapour, as liquid at 298.15 K [J/mol]
    air_need: float  # stoichiometric air [mol/mol]
    moisture: float  # water vapour in its burnt gas [mol/mol]
    richness: float  # Le Chatelier sum of the vapour undiluted; a mixture burns where its share of this is above 1
    sheet: float  # temperature of its diffusion flame [K]
    gas_heat: tuple[float, float, float]  # c0, c1, c2 of the vapour's heat capacity as an ideal gas [J/mol/K]


chilled: Callable[[Liquid, float], Liquid] = like_another(
    "chilled(body, chill)", Liquid, {"chill": "chill"}, __name__, globals()
)
"""The same liquid, in the mean so much colder than on top [K]."""

with_onset: Callable[[Liquid, float], Liquid] = like_another(
    "with_onset(body, onset)", Liquid, {"onset": "onset"}, __name__, globals()
)
"""The same liquid, with another onset of vapour from its hot walls [K]."""


def stratified(body: Liquid, top: float, p: Parameters) -> Liquid:
    """The same liquid, whose walls have made its top so much hotter than its mean [K]."""
    return with_onset(body, p.bubble_subcooling + at_least(top, 0.0))


def fade(x: float) -> float:
    """Compact ramp from 0 at x <= 0 to 1 at x >= 1, level at both ends.

    >>> fade(-1.0), fade(0.5), fade(2.0)
    (0.0, 0.5, 1.0)
    """
    if x <= 0.0:
        return 0.0
    if x >= 1.0:
        return 1.0
    return x * x * (3.0 - 2.0 * x)


@record
class Mixture:
    """What the vapour over a liquid follows from."""

    temperature: float  # [K]
    bounded: float  # the same, no higher than curves of liquids reach [K]
    held: tuple[float, ...]  # moles of each component, none negative [mol]
    moles: float  # [mol]
    fractions: tuple[float, ...]  # mole fractions of the liquid
    bubble_pressure: float  # [Pa]
    vapour: tuple[float, ...]  # mole fractions of the vapour
    volume: float  # [m3]


@by_slots
def mixture(moles: tuple[float, ...], heat: float, chamber: Chamber, p: Parameters) -> Mixture:
    """Temperature, volume and composition of the liquid of a compartment; arguments as of `liquid`."""
    fuel = p.fuel
    n = len(moles)
    if n == 1:
        total = moles[0] if moles[0] > 0.0 else 0.0
        held: tuple[float, ...] = (total,)
    else:
        held = tuple([amount if amount > 0.0 else 0.0 for amount in moles])
        total = sum(held)
    temperature = temperature_from_enthalpy(heat, held, chamber.metal, fuel)
    if not COLDEST < temperature < HOTTEST:
        temperature = COLDEST if temperature <= COLDEST else HOTTEST
    bounded = temperature if temperature < HOTTEST_LIQUID else HOTTEST_LIQUID
    if n == 1:
        x: tuple[float, ...] = (1.0,)
        y = x
        bubble = partial_pressures(x, bounded, fuel)[0]
    else:
        trace = 0.0 if total > 1e-15 else 1e-15  # what is used up leaves no more; an empty compartment is a mixture too
        x = tuple([(amount + trace) / (total + n * trace) for amount in held])
        partial = partial_pressures(x, bounded, fuel)
        bubble = sum(partial)
        y = tuple([share / bubble for share in partial])
    return Mixture(
        temperature=temperature,
        bounded=bounded,
        held=held,
        moles=total,
        fractions=x,
        bubble_pressure=bubble,
        vapour=y,
        volume=liquid_volume(held, bounded, fuel),
    )


@by_slots
def no_liquid(p: Parameters) -> Liquid:
    """What stands for the liquid of a compartment that a burner lacks: none, as warm as the room.

    What others divide by, latent heat and heat capacity, is 1; it never boils.
    """
    nothing = tuple([0.0 for _ in range(p.components)])
    room = p.site.temperature
    return Liquid(
        temperature=room,
        volume=0.0,
        level=0.0,
        density=0.0,
        wet=0.0,
        moles=0.0,
        fractions=nothing,
        enthalpy=0.0,
        molar_heat=1.0,
        bubble_pressure=0.0,
        superheat=-room,
        chill=0.0,
        onset=1.0,
        latent=1.0,
        capacity=1.0,
        area=0.0,
        vapour=nothing,
        vapour_mass=AIR_MOLAR_MASS,
        vapour_heat=0.0,
        heating_value=0.0,
        air_need=0.0,
        moisture=0.0,
        richness=0.0,
        sheet=room,
        gas_heat=(0.0, 0.0, 0.0),
    )


@by_slots
def liquid(moles: tuple[float, ...], heat: float, chill: float, chamber: Chamber, p: Parameters) -> Liquid:
    """Derive the liquid of a compartment, and the vapour over it, from its moles and enthalpy.

    Parameters
    ----------
    moles : moles of each component [mol]; negative trial values are read as zero
    heat : enthalpy of liquid and metal above 298.15 K [J]
    chill : how much colder it is in the mean than on top [K]
    chamber : the compartment
    p : parameters

    Returns
    -------
    Liquid
    """
    if chamber.present <= 0.0:
        return no_liquid(p)
    fuel = p.fuel
    fire = p.fire
    made = mixture(moles, heat, chamber, p)
    held, x, y, volume = made.held, made.fractions, made.vapour, made.volume
    theta = made.temperature - DATUM
    bound = made.bounded - DATUM
    mass = 0.0
    enthalpy = 0.0
    molar_heat = 0.0
    latent = 0.0
    vapour_mass = 0.0
    vapour_heat = 0.0
    heating_value = 0.0
    air_need = 0.0
    moisture = 0.0
    richness = 0.0
    c0 = 0.0
    c1 = 0.0
    c2 = 0.0
    for i in range(len(moles)):
        share = y[i]
        molar = fuel.molar_mass[i]
        a, b = fuel.liquid_heat[i]
        h0, va, vb = fuel.vapour_heat[i]
        mass += held[i] * molar
        enthalpy += x[i] * theta * (a + 0.5 * b * theta)
        molar_heat += x[i] * (a + b * bound)
        latent += share * (h0 + bound * (va - a + 0.5 * (vb - b) * bound))
        vapour_mass += share * molar
        vapour_heat += share * (h0 + theta * (va + 0.5 * vb * theta))
        heating_value += share * fire.heating_value[i]
        air_need += share * fire.air_moles[i]
        moisture += share * fire.water_moles[i]
        richness += share / fire.lower_limit[i]
        gas = fuel.gas_heat_capacity[i]
        c0 += share * gas[0]
        c1 += share * gas[1]
        c2 += share * gas[2]
    level = volume / chamber.area
    wet = fade(volume / chamber.film_volume)
    water = 0.0
    if fuel.water_index >= 0:
        water = y[fuel.water_index] * fuel.molar_mass[fuel.water_index] / vapour_mass
    return Liquid(
        temperature=made.temperature,
        volume=volume,
        level=level,
        density=(mass + 1e-12) / (volume + 1e-12 / 800.0),
        wet=wet,
        moles=made.moles,
        fractions=x,
        enthalpy=enthalpy,
        molar_heat=molar_heat,
        bubble_pressure=made.bubble_pressure,
        superheat=made.temperature
        - made.bounded
        + GAS_CONSTANT * made.bounded * made.bounded / latent * log(made.bubble_pressure / p.site.pressure),
        chill=chill,
        onset=p.bubble_subcooling,
        latent=latent,
        capacity=chamber.metal + made.moles * molar_heat,
        area=wet * (chamber.wetted_perimeter * at_most(level, chamber.height) + chamber.area),
        vapour=y,
        vapour_mass=vapour_mass,
        vapour_heat=vapour_heat,
        heating_value=heating_value,
        air_need=air_need,
        moisture=moisture,
        richness=richness,
        sheet=flame_temperature(water, p),
        gas_heat=(c0, c1, c2),
    )


def gas_held(temperature: float, volume: float, chamber: Chamber, p: Parameters) -> float:
    """Gas that fills the headspace over a volume of liquid at ambient pressure, as warm as that liquid [mol]."""
    room = chamber.area * chamber.height
    free = room - volume
    least = 0.02 * room
    return p.site.pressure * (free if free > least else least) / (GAS_CONSTANT * temperature)


def standing_vapour(whole: Mixture, air: float, chamber: Chamber, p: Parameters) -> tuple[float, ...]:
    """Vapour that stands in a headspace: what it holds that is not air [mol of each component].

    Liquid and vapour share each component by its volatility y/x over the whole, right to first order in the share of
    the vapour: with V that the headspace would hold, v_i/l_i = V/N y_i/x_i. So neither is ever less than nothing.

    Parameters
    ----------
    whole : all that the compartment holds, as if it were liquid
    air : in the headspace [mol]
    chamber : the compartment
    p : parameters
    """
    want = gas_held(whole.bounded, whole.volume, chamber, p) - (air if air > 0.0 else 0.0)
    want = at_least(want, 0.0)
    held = whole.held
    return tuple(
        [held[i] * want * whole.vapour[i] / (held[i] + want * whole.vapour[i] + 1e-30) for i in range(len(held))]
    )


def liquid_under_vapour(
    moles: tuple[float, ...], heat: float, chill: float, air: float, chamber: Chamber, p: Parameters
) -> Liquid:
    """Derive the liquid of a compartment whose amounts count the vapour that stands in its headspace.

    That vapour, some 25 mg, must be made before the jets pass any undiluted: at the first watts of a flame it takes
    half a minute.

    Parameters
    ----------
    moles : liquid and vapour of each component [mol]
    heat : enthalpy of both and of the metal above 298.15 K [J]
    chill : how much colder the liquid is in the mean than on top [K]
    air : in the headspace [mol]
    chamber : the compartment
    p : parameters

    Returns
    -------
    Liquid
    """
    if chamber.present <= 0.0:
        return no_liquid(p)
    whole = mixture(moles, heat, chamber, p)
    vapour = standing_vapour(whole, air, chamber, p)
    return liquid(
        tuple([moles[i] - vapour[i] for i in range(len(moles))]),
        heat - standing_heat(vapour, whole.temperature, p),
        chill,
        chamber,
        p,
    )


def standing_heat(vapour: tuple[float, ...], temperature: float, p: Parameters) -> float:
    """Enthalpy of moles of vapour above liquid at 298.15 K [J]."""
    return sum([vapour[i] * vapour_enthalpy(p.fuel.vapour_heat[i], temperature) for i in range(len(vapour))])


def flame_temperature(water: float, p: Parameters) -> float:
    """Temperature of a diffusion flame's sheet [K]: adiabatic for the vapour's water mass share, less radiation."""
    c0, c1, c2, c3 = p.fire.flame_temperature
    s = at_most(water, 0.8)
    adiabatic = c0 + s * (c1 + s * (c2 + s * c3))
    return p.site.temperature + (1.0 - p.radiant_fraction) * (adiabatic - p.site.temperature)


def solution_enthalpy(x: tuple[float, ...], temperature: float, fuel: FuelRecord) -> float:
    """Enthalpy of a liquid mixture above 298.15 K [J/mol]; of amounts in the place of fractions [J]."""
    return sum([x[i] * liquid_enthalpy(fuel.liquid_heat[i], temperature) for i in range(len(x))])
