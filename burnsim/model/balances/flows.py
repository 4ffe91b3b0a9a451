"""The balances: one pure function from state to every flow, and the derivatives that only sum them.

A difference quotient computes what moves. `balances.near` takes the rest over from the point's own flows, to the last
bit (a test compares): liquids, fins of the wall and the wick's flame do not all depend on everything. The gas along
the pot depends on all and gives one number; its slopes are written out from the law (`burnsim.slopes`). On the slots'
speed and on the dew so little depends that their columns are written out too (`sloping`).

Keeping whole columns from the step before, where their state hardly moves, breaks the method: no step is short enough
then. So do Jacobians kept, or carried on in a straight line, for a second step: half as many, and 7 to 50 % more work.
Methods made for stale ones (W-methods of order 3 with four stages) give a tenth less work at five times the error.
States on which nothing depends for now have no column (`sizes.py`): air that is spent is most often one, since a trial
leaves it a hair below nothing.
"""

from collections.abc import Callable

from burnsim.bounds import at_most, within
from burnsim.constants import DATUM
from burnsim.model.balances.chambers import COLDEST, Liquid, chilled, liquid, liquid_under_vapour, stratified
from burnsim.model.balances.fire import FireFlows, fire_flows
from burnsim.model.balances.gas import GasFlows, gas_flows, own_vapour
from burnsim.model.balances.pool import PoolFlows, closed_by_jets, pool_flows, pool_near
from burnsim.model.balances.pot.flows import PotFlows, known, pot_flows, pot_near, pot_temperature, with_dew_sloping
from burnsim.model.balances.pot.reflux import bottom_over_well, covered
from burnsim.model.balances.pot.way import Known
from burnsim.model.balances.slots import SlotFlows, settled_slot_speed, slot_flows, slots_sloping, turnover
from burnsim.model.balances.state import (
    IN_COLLAR,
    IN_DEW,
    IN_GALLERY,
    IN_LAYER,
    IN_POT,
    IN_RIM,
    IN_WALL,
    IN_WELL,
    IN_WICK,
    Regime,
    State,
    Tallies,
    flat,
)
from burnsim.model.balances.walls import InnerWall, OuterWall, WallFlows, inner_wall, outer_wall, wall_flows, walls_with
from burnsim.model.balances.wick import WickFlame, wick_flame
from burnsim.model.parameters.record import Parameters
from burnsim.records import by_slots, like_another, record

HOTTEST_METAL = 2500.0  # beyond any flame of spirit: trial temperatures are held below it [K]


@record
class Flows:
    """Everything that moves at one instant, by room."""

    gallery: Liquid
    well: Liquid
    regime: Regime
    collar_temperature: float  # of the wall that side jets heat, that of the rim without them [K]
    rim_temperature: float  # [K]
    pot_temperature: float  # [K]
    wick: WickFlame
    walls: WallFlows
    pool: PoolFlows
    gas: GasFlows
    slots: SlotFlows
    fire: FireFlows
    pot: PotFlows


@record
class Pressed:
    """The gas at one instant, and the liquid under it."""

    gallery: Liquid
    gas: GasFlows


@record
class Heated:
    """What follows from the state without the gas."""

    gallery: Liquid
    well: Liquid
    collar: float  # temperature [K]
    rim: float  # temperature [K]
    wick: WickFlame
    walls: WallFlows
    pool: PoolFlows


@record
class Fired:
    """What follows from liquids, walls and pool."""

    gas: GasFlows
    slots: SlotFlows
    fire: FireFlows


def known_of(flows: Flows, state: State, p: Parameters) -> Known:
    """What the flows of a state tell of others near it, for `near`."""
    return known(flows.fire, flows.pot, state.water, flows.pot_temperature, p)


def balances(state: State, regime: Regime, p: Parameters) -> Flows:
    """Every flow of mass and heat in a burn at one instant.

    Parameters
    ----------
    state : conserved quantities
    regime : which flames stand, and what has begun
    p : parameters of the setup

    Returns
    -------
    Flows
    """
    warm = pot_temperature(state.water, state.pot_heat, p)
    return follow(state, regime, heated(state, regime, p), warm, p)


def follow(state: State, regime: Regime, at: Heated, warm: float, p: Parameters) -> Flows:
    """Every flow, once liquids, walls, pool and the pot's temperature `warm` [K] are known."""
    fired = fire_and_gas(state, regime, at, warm, p)
    return gathered(at, regime, warm, fired, pot_flows(fired.fire, state.water, state.dew, warm, at.rim, regime, p))


@by_slots
def heated(state: State, regime: Regime, p: Parameters) -> Heated:
    """Liquids, the wick's flame, heat in the walls and pool; arguments as for `balances`."""
    gallery = gallery_liquid(state, p)
    well = liquid(state.well, state.well_heat, 0.0, p.well, p)
    rim = rim_temperature(state, p)
    collar = collar_temperature(state, rim, p)
    wick = wick_flame(state.wick, behind_wick(gallery, well, p), regime.wick, p)
    walls = wall_flows(gallery, well, collar, rim, dry_temperature(state, p), wick, p)
    well = stratified(well, walls.well_top, p)
    closed = closed_by_jets(gallery, walls.into_gallery, regime.jets, p)
    pool = pool_flows(well, walls.into_well, walls.well_strips, rim, regime.well, closed, p)
    return Heated(gallery=gallery, well=well, collar=collar, rim=rim, wick=wick, walls=walls, pool=pool)


@by_slots
def pressed(state: State, regime: Regime, p: Parameters) -> Pressed:
    """What `balances` finds of the gas, a third of its work: no flames but the wick's, no flows of the pot."""
    at = heated(state, regime, p)
    warm = pot_temperature(state.water, state.pot_heat, p)
    return Pressed(gallery=at.gallery, gas=gas_of(state, regime, at, warm, p))


def rim_temperature(state: State, p: Parameters) -> float:
    """Temperature of the rim from its enthalpy [K]."""
    return within(DATUM + state.rim_heat / p.walls.rim_capacity, COLDEST, HOTTEST_METAL)


def collar_temperature(state: State, rim: float, p: Parameters) -> float:
    """Temperature of the collar from its enthalpy, or of the rim without one [K]."""
    if p.collar.present <= 0.0:
        return rim
    return within(DATUM + state.collar_heat / p.collar.capacity, COLDEST, HOTTEST_METAL)


def dry_temperature(state: State, p: Parameters) -> float:
    """Mean temperature of the outer wall between liquid and collar or rim, from its enthalpy [K]."""
    return within(DATUM + state.wall_heat / p.walls.dry_capacity, COLDEST, HOTTEST_METAL)


@by_slots
def gallery_liquid(state: State, p: Parameters) -> Liquid:
    """The liquid of the gallery, under the vapour that stands over it."""
    chill = state.chill * p.slots.present
    body = liquid_under_vapour(state.gallery, state.gallery_heat, chill, state.air, p.gallery, p)
    return stratified(body, state.hot_top * p.gallery.present, p)


def behind_wick(gallery: Liquid, well: Liquid, p: Parameters) -> Liquid:
    """The liquid inside the outer wall: the gallery's, if there is one."""
    return gallery if p.gallery.present > 0.0 else well


@by_slots
def gathered(at: Heated, regime: Regime, warm: float, fired: Fired, pot: PotFlows) -> Flows:
    """All flows of an instant, from their parts; `warm` is the pot's temperature [K]."""
    return Flows(
        gallery=at.gallery,
        well=at.well,
        regime=regime,
        collar_temperature=at.collar,
        rim_temperature=at.rim,
        pot_temperature=warm,
        wick=at.wick,
        walls=at.walls,
        pool=at.pool,
        gas=fired.gas,
        slots=fired.slots,
        fire=fired.fire,
        pot=pot,
    )


@by_slots
def fire_and_gas(state: State, regime: Regime, at: Heated, warm: float, p: Parameters) -> Fired:
    """Gas, liquid through the slots and flames from liquids, walls, pool and the pot's temperature `warm` [K]."""
    gas = gas_of(state, regime, at, warm, p)
    through = slot_flows(at.gallery, at.well, gas.gallery_pressure - gas.well_pressure, state.slot_speed, p)
    heating = at.walls.wick_to_wall + at.walls.wick_to_liquid
    fire = fire_flows(gas, at.pool, at.gallery, at.well, at.collar, at.rim, at.wick, heating, regime, p)
    return Fired(gas=gas, slots=through, fire=fire)


def gas_of(state: State, regime: Regime, at: Heated, warm: float, p: Parameters) -> GasFlows:
    """The gas from liquids, walls, pool and the pot's temperature `warm` [K]."""
    surface = at.pool.vapour - at.pool.boiled
    bottom = bottom_over_well(at.gallery, at.wick, warm, at.rim, regime, p)
    return gas_flows(at.gallery, at.well, state.air, at.collar, at.rim, at.walls, surface, bottom, regime.spilling, p)


@by_slots
def derivatives(flows: Flows, p: Parameters) -> list[float]:
    """Rates of change of the state and of the tallies, flat; sums of flows and nothing else.

    The entry of the slots' speed is not a rate but the residual of its pressure balance, zero at every instant [Pa].
    """
    n = p.components
    gas = flows.gas
    walls = flows.walls
    fire = flows.fire
    pot = flows.pot
    slots = flows.slots
    gallery_vapour, gallery_liquid = flows.gallery.vapour, flows.gallery.fractions
    well_vapour, well_liquid = flows.well.vapour, flows.well.fractions
    lit = fire.jets_burn
    vented = own_vapour(gas)
    caught = gas.blow_caught
    leaving = gas.through_jets + gas.blow + caught
    gallery = []
    well = []
    burnt = []
    unburnt = []
    spilled = []
    for i in range(n):
        from_gallery = gallery_vapour[i]
        from_well = well_vapour[i]
        passed = slots.out * gallery_liquid[i] - slots.back * well_liquid[i]
        lost = gas.spill_rate * gallery_liquid[i]
        over = gas.rim_rate * well_liquid[i]
        jets = gas.through_jets * from_gallery + gas.blow_back * from_well
        vent = vented * from_well + gas.blow * from_gallery
        gallery.append(gas.blow_kept * from_well - leaving * from_gallery - passed - lost)
        well.append(caught * from_gallery - gas.well_vapour * from_well + passed - over)
        burnt.append(lit * jets + fire.vent_burns * vent + fire.wick_rate * p.wick.fractions[i])
        unburnt.append((1.0 - lit) * jets + (1.0 - fire.vent_burns) * vent)
        spilled.append(lost + over)
    gallery_heat = (
        walls.into_gallery
        - walls.divider
        - walls.gallery_loss
        + gas.blow_kept * flows.well.vapour_heat
        - leaving * flows.gallery.vapour_heat
        - flows.slots.heat
        - gas.spill_heat
        - gas.from_feet
    )
    well_heat = (
        walls.into_well
        + at_most(walls.divider, 0.0)
        - walls.well_loss
        + flows.pool.heat
        + caught * flows.gallery.vapour_heat
        - gas.well_vapour * flows.well.vapour_heat
        + flows.slots.heat
        - gas.rim_heat
        - gas.reflux
    )
    from_collar = 0.5 * p.collar.beside * gas.jet_superheat  # half of what its wall gives: above and below it
    collar_heat = fire.to_collar - walls.risen - walls.collar_loss - from_collar
    rim_heat = (
        fire.jets_to_rim
        + fire.wick_to_rim
        + fire.edge_to_rim
        - fire.to_collar
        + walls.risen
        - walls.from_rim
        - walls.rim_loss
        - pot.contact
        - (gas.jet_superheat - gas.from_feet - from_collar)
        - gas.crossing_heat
    )
    if p.collar.present > 0.0:
        collar_heat -= walls.from_upper
    else:
        rim_heat -= walls.from_upper
    turned = turnover(flows.gallery, walls.into_gallery, p)
    chill = p.slots.present * (slots.chill - flows.gallery.chill * turned)
    hot_top = p.gallery.present * (walls.gallery_top + p.bubble_subcooling - flows.gallery.onset) * turned
    water = -pot.evaporation - pot.boil_off
    pot_heat = pot.bottom + pot.wall + pot.radiation + pot.dew_heat + pot.contact + gas.reflux
    pot_heat += -pot.loss - pot.steam_heat
    spilled_heat = gas.spill_heat + gas.rim_heat + sum([spilled[i] * p.fire.heating_value[i] for i in range(n)])
    return flat(
        State(
            gallery=tuple(gallery),
            well=tuple(well),
            gallery_heat=gallery_heat,
            chill=chill,
            hot_top=hot_top,
            well_heat=well_heat,
            collar_heat=collar_heat,
            rim_heat=rim_heat,
            wall_heat=walls.warming,
            wick=-fire.wick_rate,
            air=gas.air_rate,
            water=water,
            pot_heat=pot_heat,
            dew=pot.dew,
            slot_speed=slots.drive - slots.loss,
        ),
        Tallies(
            burnt=tuple(burnt),
            unburnt=tuple(unburnt),
            spilled=tuple(spilled),
            unburnt_heat=fire.unburnt_heat,
            spilled_heat=spilled_heat,
            radiated=pot.radiation_lost,
            flue=pot.flue,
            burner_loss=walls.gallery_loss + walls.well_loss + walls.collar_loss + walls.rim_loss,
            pot_loss=pot.loss,
            steam=pot.steam_heat,
        ),
    )


def settled(flows: Flows, p: Parameters) -> Flows:
    """The same instant with the feed slots' speed at the root of its pressure balance."""
    speed = settled_slot_speed(flows.gallery, flows.well, flows.slots.drive, p)
    gauge = flows.gas.gallery_pressure - flows.gas.well_pressure
    return with_slots(flows, slot_flows(flows.gallery, flows.well, gauge, speed, p))


def with_slots(flows: Flows, slots: SlotFlows) -> Flows:
    """The same instant with other flows through the feed slots."""
    return flows_with(flows, flows.pot_temperature, slots, flows.pot)


def sloping(flows: Flows, state: State, part: int, p: Parameters) -> Flows:
    """An instant's flows, followed along their slopes by 1 kg of dew or by 1 m/s in the feed slots.

    So little depends on either that its slopes are written out. The rates are linear in the flows: those of what comes
    out, less the instant's own, are the slopes of the rates.
    """
    if part == IN_DEW:
        pot = with_dew_sloping(flows.pot, flows.fire, state.water, state.dew, flows.pot_temperature, p)
        return flows_with(flows, flows.pot_temperature, flows.slots, pot)
    return with_slots(flows, slots_sloping(flows.slots, flows.gallery, flows.well, p))


@by_slots
def near(flows: Flows, pot: Known, state: State, part: int, p: Parameters) -> Flows:
    """What `balances` gives for a state that differs a little from a known instant's in one part alone, at less cost.

    All that cannot depend on that part is taken over, to the last bit; what the gas gives the pot follows by its
    slopes.

    Parameters
    ----------
    flows, pot : of the known instant, and what `known_of` says of it
    state : the other one
    part : in which they differ, as in the table of `burnsim.model.balances.state`
    p : parameters of the setup
    """
    warm = flows.pot_temperature
    if part == IN_POT:
        return with_pot(flows, pot, state, p)
    if part == IN_LAYER:
        chill, hot_top = state.chill * p.slots.present, state.hot_top * p.gallery.present
        gallery = stratified(chilled(flows.gallery, chill), hot_top, p)
        rim, walls = flows.rim_temperature, flows.walls
        closed = closed_by_jets(gallery, walls.into_gallery, flows.regime.jets, p)
        strips = walls.well_strips
        pool = pool_near(flows.pool, flows.well, walls.into_well, strips, rim, flows.regime.well, closed, p)
        at = Heated(
            gallery=gallery,
            well=flows.well,
            collar=flows.collar_temperature,
            rim=rim,
            wick=flows.wick,
            walls=walls,
            pool=pool,
        )
        return follow_near(flows, pot, state, at, warm, p)
    gallery = flows.gallery
    well = flows.well
    rim = flows.rim_temperature
    collar = flows.collar_temperature
    wick = flows.wick
    if part == IN_GALLERY:
        gallery = gallery_liquid(state, p)
    elif part == IN_WELL:
        well = liquid(state.well, state.well_heat, 0.0, p.well, p)
    elif part in (IN_COLLAR, IN_RIM):
        rim = rim_temperature(state, p)
        collar = collar_temperature(state, rim, p)
    if part not in (IN_COLLAR, IN_RIM, IN_WALL) and (part != IN_WELL or p.gallery.present <= 0.0):
        wick = wick_flame(state.wick, behind_wick(gallery, well, p), flows.regime.wick, p)
    outer = OuterWall(
        foot=flows.walls.outer_foot,
        hotter=flows.walls.outer_hotter,
        from_upper=flows.walls.from_upper,
        wick_to_wall=flows.walls.wick_to_wall,
        wick_to_liquid=flows.walls.wick_to_liquid,
    )
    gallery_inner = InnerWall(heat=flows.walls.gallery_inner, hotter=flows.walls.gallery_hotter)
    well_inner = InnerWall(heat=flows.walls.well_inner, hotter=flows.walls.well_hotter)
    if bears_on_outer_wall(part, p):
        outer = outer_wall(gallery, well, collar, dry_temperature(state, p), wick, p)
    if part in (IN_GALLERY, IN_RIM):
        gallery_inner = inner_wall(gallery, rim, p.gallery, p)
    if part in (IN_WELL, IN_RIM):
        well_inner = inner_wall(well, rim, p.well, p)
    walls = walls_with(outer, gallery_inner, well_inner, gallery, well, collar, rim, p)
    well = stratified(well, walls.well_top, p)
    closed = closed_by_jets(gallery, walls.into_gallery, flows.regime.jets, p)
    if part in (IN_GALLERY, IN_COLLAR, IN_WICK, IN_WALL):
        pool = pool_near(flows.pool, well, walls.into_well, walls.well_strips, rim, flows.regime.well, closed, p)
    else:
        pool = pool_flows(well, walls.into_well, walls.well_strips, rim, flows.regime.well, closed, p)
    at = Heated(gallery=gallery, well=well, collar=collar, rim=rim, wick=wick, walls=walls, pool=pool)
    return follow_near(flows, pot, state, at, warm, p)


def bears_on_outer_wall(part: int, p: Parameters) -> bool:
    """Whether the heat in the outer wall depends on a part of the state; the wick's flame may bear on it too."""
    if part == IN_WELL:
        return p.gallery.present <= 0.0
    return part != IN_RIM or p.collar.present <= 0.0


def follow_near(flows: Flows, pot: Known, state: State, at: Heated, warm: float, p: Parameters) -> Flows:
    """The rest of what `near` gives, from liquids, walls, pool and the pot's temperature `warm` [K]."""
    fired = fire_and_gas(state, flows.regime, at, warm, p)
    made = pot_near(pot, fired.fire, state.water, state.dew, warm, at.rim, flows.regime, p)
    return gathered(at, flows.regime, warm, fired, made)


def with_pot(flows: Flows, pot: Known, state: State, p: Parameters) -> Flows:
    """The same instant with other water or heat in the pot.

    Only its own flows change, unless it covers a well, whose vapour may condense on it.
    """
    warm = pot_temperature(state.water, state.pot_heat, p)
    if covered(p):
        at = Heated(
            gallery=flows.gallery,
            well=flows.well,
            collar=flows.collar_temperature,
            rim=flows.rim_temperature,
            wick=flows.wick,
            walls=flows.walls,
            pool=flows.pool,
        )
        return follow_near(flows, pot, state, at, warm, p)
    made = pot_near(pot, flows.fire, state.water, state.dew, warm, flows.rim_temperature, flows.regime, p)
    return flows_with(flows, warm, flows.slots, made)


flows_with: Callable[[Flows, float, SlotFlows, PotFlows], Flows] = like_another(
    "flows_with(flows, warm, slots, pot)",
    Flows,
    {"pot_temperature": "warm", "slots": "slots", "pot": "pot"},
    __name__,
    globals(),
)
"""The same instant with another temperature of the pot [K], and other flows through the slots and at the pot."""
