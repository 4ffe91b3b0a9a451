"""What the library's laws say of a resolved case: its balances at one instant, with power and temperatures as there."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cache
from math import pi

import cantera
from scipy.optimize import brentq

from burnsim.constants import DATUM
from burnsim.model.balances.chambers import solution_enthalpy
from burnsim.model.balances.flows import Flows, balances, follow, heated
from burnsim.model.balances.pool import PoolFlows, PoolSurface, pool_film, pool_surface, rim_heat
from burnsim.model.balances.pot.way import heating_of, hot_gas
from burnsim.model.balances.state import Regime, State
from burnsim.model.description.burner import Burner
from burnsim.model.description.conditions import Charge, Pot, Site
from burnsim.model.description.factors import Factors
from burnsim.model.description.parts import FeedSlots, Jets, Wick
from burnsim.model.description.setup import Setup
from burnsim.model.parameters.derive import derive, first_state
from burnsim.model.parameters.pot import plate_conduction
from burnsim.model.parameters.record import Chamber, Parameters
from burnsim.substances.blend import blend
from burnsim.substances.equilibrium import bubble_temperature
from resolved.cases import Case
from resolved.generator.chemistry import gases, reaction

DIAMETER, HEIGHT, JET_HEIGHT = 62e-3, 45e-3, 39e-3  # of the resolved burner [m]
JETS, JET_DIAMETER = 26, 1e-3  # [m]
MANY_JETS, FINE = 400, 0.255e-3  # as good as a slot of the same area
POT_SIDE = 60e-3  # [m]
LEVEL = 20e-3  # of the liquid: where the wall begins to be hotter than it [m]
NO_RADIATION = 0.1  # the least that the factor allows, for what follows from a flame's temperature; then none at all
HIGHEST_BUMP = 3e-3  # a pot nearer than that stands on the rim's bumps [m]
SUBCOOLED = 0.5  # a liquid that just does not boil [K]
NEUTRAL = Factors()
SLOTS = ("slot", "well and slot")  # flames that make an even sheet
THIN = 0.1e-3  # wall of pot and burner [m]
ROOM = 293.15  # [K]
WICK_VAPOUR = 338.0  # temperature of the vapour that leaves a resolved wick [K]


@dataclass(frozen=True)
class Ours:
    """The answer to a case, in the terms of `Case`; None where it has no such part."""

    power: float  # heat released [W]
    bottom: float | None
    side: float | None
    share: float | None  # of the heat released [%]
    wall_heat: float  # of the burner's side [W]
    top: float | None  # heat that side jets give its closed top, less what that passes to the pot [W]
    surface: float | None  # heat from a pool's flame to its surface [W]
    excess: float | None


def setup_of(case: Case, factors: Factors = NEUTRAL) -> Setup:
    """The burner, pot and site of a resolved case, the pot filled to its brim so that all its side is wet.

    A well alone burns as an open cup of its size: its wall takes what a double wall's would.
    """
    fuel = blend(case.fuel)
    pool = case.pool > 0.0
    jets = Jets(count=JETS, diameter=JET_DIAMETER, height=JET_HEIGHT)
    if case.flame in SLOTS:
        jets = Jets(count=MANY_JETS, diameter=FINE, height=JET_HEIGHT)
    if case.top_jets > 0 and case.jet_diameter is not None:  # one alone: on the narrowest ring
        ring = case.jet_ring or case.jet_diameter
        jets = Jets(count=case.top_jets, diameter=case.jet_diameter, direction="top", ring_diameter=ring)
    both = pool and case.jets > 0.0
    well = case.well_diameter
    diameter = DIAMETER if well is None or both else well + 2.0 * THIN
    burner = Burner(
        "double wall" if both else "open cup" if pool else "sealed chamber",
        outer_diameter=diameter,
        height=HEIGHT,
        wall_thickness=THIN,
        gallery_gap=0.5 * (diameter - well) - 2.0 * THIN if both and well is not None else None,
        jets=None if pool and not both else jets,
        feed_slots=FeedSlots() if both else None,
        wick=Wick(height=12e-3) if case.wick > 0.0 else None,
    )
    inside = 0.25 * pi * (diameter - 2.0 * THIN) ** 2
    level = 0.9999 * HEIGHT - case.ullage if pool else LEVEL
    charge = Charge(fuel, volume=inside * level, primer=3e-6 if case.wick > 0.0 else 0.0)
    pot = None
    if case.gap is not None:
        room = 0.25 * pi * (case.pot_diameter - 2.0 * THIN) ** 2 * (POT_SIDE - THIN)
        pot = Pot(
            diameter=case.pot_diameter,
            height=POT_SIDE,
            water=0.999 * room,
            wall_thickness=THIN,
            rest="bumps" if case.gap < HIGHEST_BUMP else "stand",
            gap=case.gap,
        )
    return Setup(
        burner,
        charge,
        pot,
        Site(air_temperature=ROOM),
        replace(factors, radiant_fraction=NO_RADIATION),
        name=case.name,
    )


@cache
def hot_sheet(fuel: str) -> float:
    """Temperature of a flame's sheet that burns to carbon dioxide and water alone, as the solver's do [K]."""
    made = reaction(fuel)
    gas = cantera.Solution(thermo="ideal-gas", species=list(gases().values()))
    air = {"O2": made.oxygen, "N2": 3.76 * made.oxygen}
    gas.TPX = ROOM, cantera.one_atm, air
    whole = gas.enthalpy_mass * made.air_mass
    gas.TPX = WICK_VAPOUR, cantera.one_atm, {made.species: 1.0}
    whole += gas.enthalpy_mass
    burnt = {"CO2": made.carbon_dioxide, "H2O": made.water, "N2": 3.76 * made.oxygen}
    gas.TPX = 2000.0, cantera.one_atm, burnt
    gas.HP = whole / (1.0 + made.air_mass), cantera.one_atm
    return float(gas.T)


def parameters_of(case: Case, setup: Setup) -> Parameters:
    """Parameters of a case: no radiation, and a wick that burns with the case's power in a sheet as hot as there."""
    p = derive(setup)
    wick, jets = p.wick, p.jets
    if case.wick > 0.0:
        rate = case.wick / (wick.heating_value * as_vapour(p))
        sheet = hot_sheet(case.fuel)
        wick = replace(wick, film_rate=rate, supply_rate=1e9 * rate, chill=0.0, flame_temperature=sheet)
        if case.jets <= 0.0:  # nothing leaves the jets for the wick's flame to burn
            jets = replace(jets, mouth=10.0 * HEIGHT)
    return replace(p, radiant_fraction=0.0, wick=wick, jets=jets)


def as_vapour(p: Parameters) -> float:
    """Heat that a pure fuel's vapour releases over what its liquid does, both at 298.15 K.

    A resolved flame's power is that of its vapour; the library's is that of the fuel that was poured.
    """
    return 1.0 + p.fuel.vapour_heat[0][0] / p.fire.heating_value[0]


def regime_of(case: Case) -> Regime:
    """Which flames stand in a case: jets hold none inside the wick's."""
    return Regime(float(case.wick > 0.0), float(case.jets > 0.0 >= case.wick), float(case.pool > 0.0))


def state_of(case: Case, setup: Setup, p: Parameters) -> State:
    """The state of a case, but for what its jets release: liquid, wall and pot as warm as there, no air inside."""
    first = first_state(setup, p)
    pot_heat = (first.water * p.pot.water_heat + p.pot.metal) * (case.pot_temperature - DATUM)
    warm = bubble_temperature(setup.charge.fuel.mole_fractions, p.site.pressure, p.fuel) - SUBCOOLED
    return replace(
        first,
        gallery_heat=standing_warm(first.gallery, warm, p.gallery, p),
        well_heat=standing_warm(first.well, warm, p.well, p),
        collar_heat=(case.rim_temperature - DATUM) * p.collar.capacity,
        rim_heat=(case.rim_temperature - DATUM) * p.walls.rim_capacity,
        wall_heat=(case.high_wall_temperature - DATUM) * p.walls.dry_capacity,
        pot_heat=pot_heat,
        air=0.0,
        wick=p.wick.capacity,
    )


def standing_warm(moles: tuple[float, ...], temperature: float, chamber: Chamber, p: Parameters) -> float:
    """Enthalpy of a compartment's liquid and metal at a temperature [J]."""
    return chamber.metal * (temperature - DATUM) + solution_enthalpy(moles, temperature, p.fuel)


def root(function: Callable[[float], float], low: float, high: float) -> float:
    """Where a function is nought between two bounds, to rounding."""
    return float(brentq(function, low, high, xtol=1e-12, rtol=1e-13))


def for_jet_power(state: State, power: float, regime: Regime, p: Parameters) -> State:
    """A state whose gallery is as warm as its jets need to release a power, as vapour [W]."""

    def flows(heat: float) -> Flows:
        return balances(replace(state, gallery_heat=heat), regime, p)

    moles = sum(state.gallery)
    scale = p.gallery.metal + 160.0 * moles  # more than the heat capacity [J/K]
    heat = root(lambda heat: as_vapour(p) * flows(heat).fire.jet_power - power, 0.0, 60.0 * scale)
    return replace(state, gallery_heat=heat)


def with_pool_power(state: State, power: float, regime: Regime, p: Parameters) -> Flows:
    """The balances of a state whose pool's surface is as warm as it needs to be to release a power [W].

    The heat that the surface then gets is what the flame gives, enough to feed it or not.
    """
    flows = balances(state, regime, p)
    well, rim = flows.well, flows.rim_temperature
    film = pool_film(well, flows.pool.closed, p)

    def surface(temperature: float) -> PoolSurface:
        return pool_surface(temperature, film, well, 0.0, 0.0, rim, p)

    warm = well.temperature
    scale = as_vapour(p) * well.heating_value
    found = surface(root(lambda trial: scale * surface(trial).rate - power, warm - 60.0, warm + 5.0))
    pool = PoolFlows(
        vapour=found.rate,
        radiation=found.radiation,
        heat=found.heat,
        edge=rim_heat(found, well, rim, p),
        limit=1.0,
        boiling=flows.pool.boiling,
        boiled=flows.pool.boiled,
        skin=flows.pool.skin,
        closed=flows.pool.closed,
    )
    return follow(state, regime, replace(heated(state, regime, p), pool=pool), flows.pot_temperature, p)


def flows_of(case: Case, factors: Factors = NEUTRAL) -> tuple[Setup, Parameters, Flows]:
    """A case as a setup, its parameters, and every flow at the instant that it prescribes."""
    setup = setup_of(case, factors)
    p = parameters_of(case, setup)
    state = state_of(case, setup, p)
    regime = regime_of(case)
    if case.jets > 0.0:
        jets = case.jets if case.pool > 0.0 else case.power - case.wick
        state = for_jet_power(state, jets, regime, p)  # of a well inside, what its vapour still adds is the rest
    if case.pool > 0.0:
        return setup, p, with_pool_power(state, case.power - case.jets, regime, p)
    return setup, p, balances(state, regime, p)


def ours(case: Case, factors: Factors = NEUTRAL) -> Ours:
    """What the library's laws say of a case.

    What the library's burner lacks is taken over from the case: what a wick's flame gives a closed top, and the surface
    of a wick that burns at a given rate whatever it takes.
    """
    setup, p, flows = flows_of(case, factors)
    fire, walls = flows.fire, flows.walls
    basis = as_vapour(p)
    power = basis * (fire.jet_power + fire.wick_power + fire.vent_power)
    wall = fire.jets_to_rim - fire.jets_to_top + fire.wick_to_rim + fire.edge_to_rim
    wall += walls.wick_to_wall + walls.wick_to_liquid
    surface = flows.pool.heat if case.pool > 0.0 else None
    if case.gap is None:
        return Ours(power, None, None, None, wall, fire.jets_to_top, surface, None)
    to_pot = plate_conduction(setup, p.site.pressure) * (flows.rim_temperature - flows.pot_temperature)
    elsewhere = 0.0
    if case.wick > 0.0:
        elsewhere = max(case.rim_top or 0.0, 0.0)
        if case.surface is not None:
            elsewhere += case.surface - (basis - 1.0) * fire.wick_power  # its latent heat is off already
    gas = replace(fire, gas_heat=fire.gas_heat - elsewhere)
    pot = hot_gas(heating_of(gas, first_state(setup, p).water, flows.pot_temperature, p), p)
    bottom = pot.bottom + to_pot
    share = 100.0 * (bottom + pot.wall) / power
    return Ours(power, bottom, pot.wall, share, wall, fire.jets_to_top - to_pot, surface, pot.excess_air)
