"""Reflux: vapour of a covered well that condenses on the pot above it, and drips back into the well.

Under a pot that covers it a well holds spirit vapour, and the pot is colder than the dew point of that until it nears
the spirit's boiling point. What condenses there takes its latent heat from the well to the pot, and does not burn at
the gap. Its moles return: but for the vapour that the flame at the gap lacks, only heat moves.

**The gas is stirred by the hot wall.** The densities of its ends hardly drive it: over methanol of 60 degC it has 1.15
kg/m3, at a pot of 30 degC 1.19 kg/m3; over ethanol of 70 degC 1.46 kg/m3, at that pot 1.24: alone it would lie still.
But the inner wall is up to 170 K hotter than the liquid. Resolved by us round the axis (`tests/well_gas.py`) in a well
53 mm wide with 36 mm of gas, its rim at 500 K: methanol of 57 degC passes to a pot of 35 degC 4.8 times what diffuses
through still gas, 2.1 times without heat from the wall; ethanol of 72 degC to one of 37 degC 2.4 and 1.05 times. The
law counts the mean warmth of the wall as a difference of density beside that of both ends, and takes Globe and
Dropkin's (`layer_transfer`): in 22 such cases of methanol, ethanol and 2-propanol, 8 to 60 mm deep, 16 to 42 mm in
radius, rim at 360 to 600 K, 0.78 to 1.67 times what was found, most for ethanol.

**Three ways meet in the gas**: from the liquid, to the pot, and out by the gap, through which air diffuses back in
against what flows out. In each the flow of vapour is a conductance times a difference of ln(share of air) (Stefan
flow), so the balance of moles is linear. It is never open: no more condenses than boils and evaporates. What boils and
finds the gas rich leaves as it did; while the pot is cold, the gap passes only what diffuses, a fifth of it.

**The well's pressure is that of what leaves.** What condenses is made and gone within the well, so it drives nothing
out by the gap (`chamber_gauge`). It matters where the gap is a leak: under a pot on a full ring the well has 5 Pa while
the pot is cold, and 115 Pa once it is at 60 degC. That lifts liquid into the gallery, whose jets then pass half as much
again.

**How sure is it?** For the weekend's double wall on methanol (0.6 l of 12 degC) the law takes 3 to 5 W from the well
until the water is at 50 degC; without it 516 W burn at 200 s, with it 431 W, and the boil comes at 566 s for 543 s.
The heat of the walls sets the limit more than the transfer: half of that brings the boil at 562 s, twice at 572 s.
More hangs on how warm the bottom is above the well, for its metal conducts heat in from where flames heat it
(`over_well`, known to a half, since they do not heat it evenly): without that the boil comes at 590 s, with half as
much again at 557 s. Near the dew point some watts hang on how its end is rounded (`GENTLE`), and up to 0.3 W condense
on a pot a little warmer than that.

In a gap in which flames reach in over a part of the well, vapour of the rest condenses; while one stands there, less,
by the fourth power of that rest: an estimate.

Left out: air that flows in below the vapour in a wide gap; vapour that diffuses out by the gap before it boils; the
heat that the gas itself takes from the hot wall (resolved, 2 to 5 W, most of it to the pot); that what boils holds back
what evaporates, by the gas that it makes rich at the liquid (ethanol, resolved: four tenths less condenses than here
where 0.1 mmol/s boils; methanol, as much); water vapour of the flames in that gas; what condenses warms the bottom
itself (1 to 2 K).
"""

from math import log, sqrt

from burnsim.bounds import at_least, at_most, within
from burnsim.closures.convection import layer_transfer
from burnsim.closures.evaporation import RICHEST
from burnsim.constants import AIR_MOLAR_MASS, GAS_CONSTANT, GRAVITY
from burnsim.model.balances.chambers import COLDEST, HOTTEST_LIQUID, Liquid, solution_enthalpy
from burnsim.model.balances.state import Regime
from burnsim.model.balances.wick import WickFlame
from burnsim.model.parameters.record import Parameters
from burnsim.records import by_slots, record
from burnsim.substances.air import viscosity as air_viscosity
from burnsim.substances.equilibrium import partial_pressures
from burnsim.substances.fuel import diffusivity, vapour_viscosity

AT_LIQUID = 0.69  # share of the hindrance between liquid and pot that lies at the liquid; resolved, 0.63 to 0.79
ROUNDED = 0.04  # of the relative difference of density, within which a stable gas comes to lie still: resolved too
AT_MOUTH = 0.5  # share of the gas in what the gap draws, the rest from the pot's film: resolved, 0.2 to 0.7
GENTLE = 0.05  # difference in the logarithm of air over which condensing begins: a bottom is not of one temperature
NEARLY_PURE = 0.01  # mole fraction below `RICHEST` over which it ends: a bottom above the boiling point is dry
SHALLOWEST = 1e-3  # gas between liquid and pot [m]
LEAST_DIFFUSING = 1e-12  # that quotients are numbers [m2/s]
THINNEST = log(1.0 - RICHEST)  # logarithm of the least share of air
TRACE = 1e-12  # of transfer, that quotients are numbers [mol/s]
TO_BOTTOM = 0.65  # share of the heat of side jets that the bottom of a near pot takes: 0.60 to 0.68 by our own gas


@record
class Bottom:
    """The bottom of a pot over a covered well, whatever the gallery's gas."""

    shut: float  # share of the well's vapour that may condense on it; 0.0 where no pot covers the well
    wall: float  # its temperature, were there no flames at the jets [K]
    by_jets: float  # how much hotter those make it, over the gallery's vapour that burns there [K s/mol]
    rim: float  # temperature of the rim below it [K]


@record
class Lid:
    """What a pot is to the vapour of the well below it, whatever boils there."""

    shut: float  # share of that vapour that may condense; 0.0 where there is no pot
    at_liquid: float  # from the gas to the liquid, over a difference of the logarithm of air [mol/s]
    to_pot: float  # the same, to the pot
    by_gas: float  # of the gap, over that logarithm in the gas
    by_pot: float  # to the pot, less that of the gap over the logarithm at the pot
    liquid_air: float  # logarithm of the share of air at the liquid
    pot_air: float  # the same, at the pot
    cool: float  # 1.0, fading to 0.0 where the bottom comes to the boiling point
    heat: float  # that a mole of vapour gives the pot [J/mol]


@record
class Condensing:
    """Vapour between a covered well, the pot on it and the gap."""

    condensed: float  # on the pot [mol/s]
    evaporated: float  # from the liquid's surface to make up for it, beside what boils [mol/s]


@record
class Reflux:
    """What a pot takes from the vapour of the well below it."""

    back: float  # of what would leave by the gap, drips back [mol/s]
    heat: float  # that the pot takes up [W]


def covered(p: Parameters) -> bool:
    """True if there is a well, with a pot on it so close that all or some of it is shut off from flames."""
    return p.well.present > 0.0 and p.vent.open < 1.0


def stirring_buoyancy(well: Liquid, at_well: float, at_pot: float, cold: float, rim: float) -> float:
    """Relative difference of density that stirs the gas of a covered well; never quite 0.

    Parameters
    ----------
    well : its liquid
    at_well, at_pot : mole fractions of vapour at its surface and at the pot
    cold : temperature of the pot's bottom [K]
    rim : of the rim [K]
    """
    hot = within(well.temperature, COLDEST, HOTTEST_LIQUID)
    below = (AIR_MOLAR_MASS + (well.vapour_mass - AIR_MOLAR_MASS) * at_well) / hot
    above = (AIR_MOLAR_MASS + (well.vapour_mass - AIR_MOLAR_MASS) * at_pot) / cold
    lift = 2.0 * (above - below) / (above + below) + (rim - hot) / (rim + hot)
    return 0.5 * (lift + sqrt(lift * lift + ROUNDED * ROUNDED))


@by_slots
def bottom_over_well(
    gallery: Liquid, wick: WickFlame, warm: float, rim: float, regime: Regime, p: Parameters
) -> Bottom:
    """The pot's bottom above the well.

    What the flames pass to the bottom follows from the vapour that leaves by the gap, and that from this temperature;
    so the heat of jets and wick alone, in an even share, stands for it.

    Parameters
    ----------
    gallery : its liquid
    wick : the wick's flame
    warm : temperature of the water [K]
    rim : of the rim [K]
    regime : which flames stand
    p : parameters
    """
    if not covered(p):
        return Bottom(shut=0.0, wall=warm, by_jets=0.0, rim=rim)
    left = 1.0 - p.vent.open
    pot = p.pot
    by_power = pot.over_well * TO_BOTTOM * (1.0 - pot.missed) / (pot.inside_coefficient * pot.disc_area)
    return Bottom(
        shut=pot.present * left * (1.0 - regime.well * (1.0 - left * left * left)),  # less beside a flame: estimated
        wall=warm + by_power * wick.rate * p.wick.heating_value,
        by_jets=by_power * regime.jets * gallery.heating_value,
        rim=rim,
    )


@by_slots
def no_lid() -> Lid:
    """What stands for the pot where none covers the liquid."""
    return Lid(
        shut=0.0,
        at_liquid=0.0,
        to_pot=0.0,
        by_gas=0.0,
        by_pot=0.0,
        liquid_air=0.0,
        pot_air=0.0,
        cool=0.0,
        heat=0.0,
    )


@by_slots
def lid_over(well: Liquid, bottom: Bottom, jets: float, p: Parameters) -> Lid:
    """What a pot is to the vapour of the well below it.

    Parameters
    ----------
    well : its liquid
    bottom : of the pot
    jets : vapour of the gallery that leaves by the jets [mol/s]
    p : parameters
    """
    if bottom.shut <= 0.0:
        return no_lid()
    pressure = p.site.pressure
    cold = within(bottom.wall + bottom.by_jets * at_least(jets, 0.0), COLDEST, HOTTEST_LIQUID)
    at_well = at_most(well.bubble_pressure / pressure, RICHEST)
    at_pot = at_most(sum(partial_pressures(well.vapour, cold, p.fuel)) / pressure, RICHEST)
    film = 0.5 * (within(well.temperature, COLDEST, HOTTEST_LIQUID) + cold)
    buoyancy = stirring_buoyancy(well, at_well, at_pot, cold, bottom.rim)
    diffusing = diffusivity(film, pressure, p.fuel)
    divided = at_least(diffusing, LEAST_DIFFUSING)
    concentration = pressure / (GAS_CONSTANT * film)
    density = concentration * (AIR_MOLAR_MASS + 0.5 * (at_well + at_pot) * (well.vapour_mass - AIR_MOLAR_MASS))
    momentum = 0.5 * (vapour_viscosity(film, p.fuel) + air_viscosity(film)) / density
    depth = at_least(p.well.height + p.vent.clearance - well.level, SHALLOWEST)
    rayleigh = GRAVITY * buoyancy * depth * depth * depth / (momentum * divided)
    stirred = layer_transfer(rayleigh, momentum / divided)
    through = well.wet * stirred * concentration * diffusing * p.well.area / depth
    to_pot = through / (1.0 - AT_LIQUID)
    gap = concentration * diffusing * p.vent.mouth
    return Lid(
        shut=bottom.shut,
        at_liquid=through / AT_LIQUID,
        to_pot=to_pot,
        by_gas=AT_MOUTH * gap,
        by_pot=to_pot - (1.0 - AT_MOUTH) * gap,
        liquid_air=log(1.0 - at_well),
        pot_air=log(1.0 - at_pot),
        cool=at_most((RICHEST - at_pot) / NEARLY_PURE, 1.0),
        heat=well.vapour_heat - solution_enthalpy(well.vapour, cold, p.fuel),
    )


def condensing(boiled: float, lid: Lid) -> Condensing:
    """Vapour of a well that condenses on the pot that covers it.

    With b = ln of the share of air in the gas, w and q of that at liquid and pot: what boils, and what evaporates by
    K (b - w), condenses by k (q - b) or leaves by the gap as -G (b + q)/2. None condenses on the liquid, whose surface
    may be hotter than its mean.

    Parameters
    ----------
    boiled : that would leave by the gap [mol/s]
    lid : the pot over the well
    """
    pulled = lid.by_pot * lid.pot_air - boiled
    passing = lid.to_pot + lid.by_gas + TRACE
    air = (lid.at_liquid * lid.liquid_air + pulled) / (lid.at_liquid + passing)
    evaporated = lid.at_liquid * (air - lid.liquid_air)
    if evaporated <= 0.0:
        evaporated = 0.0
        air = pulled / passing
    drop = lid.pot_air - at_least(air, THINNEST)
    if drop <= -GENTLE:
        return Condensing(0.0, 0.0)
    if drop < GENTLE:
        drop = 0.25 * (drop + GENTLE) * (drop + GENTLE) / GENTLE
    return Condensing(lid.cool * lid.to_pot * drop, lid.cool * evaporated)


def refluxed(made: float, lid: Lid) -> Reflux:
    """What a pot takes from the vapour of the well below it.

    As more is made, more drips back, but by less than that: what is left to leave never falls.

    Parameters
    ----------
    made : vapour that would leave by the gap [mol/s]
    lid : the pot over the well
    """
    if lid.shut <= 0.0:
        return Reflux(0.0, 0.0)
    would = at_least(made, 0.0)
    found = condensing(would, lid)
    back = at_most(at_least(found.condensed - found.evaporated, 0.0), would)
    return Reflux(lid.shut * back, lid.shut * found.condensed * lid.heat)
