"""The flames: wick, jets, an open well and vented vapour; what they burn and what they give to the burner."""

from math import pi, sqrt

from burnsim.bounds import at_least, at_most
from burnsim.closures.exchange import edge_shape_factor
from burnsim.closures.flame import (
    FLAME_TEMPERATURE,
    flame_width,
    foot_temperature,
    jet_flame_reach,
    mixed_velocity,
    reduced_gravity,
    roper_length,
)
from burnsim.closures.layer import (
    SHEET_DRAWN,
    SHEET_MIXING,
    SHEET_SPEED,
    WALL_FILM,
    flame_share,
    foot_reach,
    heat_taken,
    mixture_at_wall,
    sheet_spread,
)
from burnsim.closures.plume import flame_catch
from burnsim.closures.radiation import line_to_disc_view
from burnsim.closures.wall_fire import flame_cover, wall_flame_presence
from burnsim.constants import AIR_MOLAR_MASS, ATMOSPHERE, GAS_CONSTANT
from burnsim.elementary import hypotenuse, power, served, third_root
from burnsim.model.balances.chambers import Liquid, fade
from burnsim.model.balances.gas import GasFlows, own_vapour
from burnsim.model.balances.pool import PoolFlows
from burnsim.model.balances.state import Regime
from burnsim.model.balances.streams import BATHED_WIDTH, TURNED_JETS, aired, drawn_in, filled, stream_share
from burnsim.model.balances.wick import WickFlame
from burnsim.model.parameters.record import Parameters
from burnsim.records import by_slots, record
from burnsim.substances.water import MOLAR_MASS as WATER

WALL_VIEW = 0.4  # share of a side jet's radiation that meets the wall behind it: nearly half a space
RIPPLES = 0.2
"""More heat to the wall from flames that stand apart than from the even sheet of a slot, as a share of that [-].

Resolved jets 7.5 mm apart and slots on the same mesh: 50 and 45 W at 500 W, 86 and 77 W under a pot 10 mm above, 57 and
49 W at 1000 W, 1.13 times in the mean. That is read off through the law here, by which flames of such jets are still a
tenth longer than their sheet. The ripples of a sheet go by the square of the distance of the jets that feed it, an
estimate.
"""
LICKED = 1.24
"""Heat that a sheet of flames gives the wall above its mouths and the top plate, over what their laws know of it [-].

Read off the resolved slots of 200 to 1700 W under pots 1.5 to 50 mm above the rim and without one, together with
`FOOT_STANDOFF`: two numbers for the heat above and below the mouths of 36 flames. Without it flames with room above
them, at 25 mm and more, give the wall a fifth to a third too little.
"""
FOOT_STANDOFF = 1.5
"""Distance of the foot of side jets' flames from the wall, in lengths of diffusion D/u against the air that they draw.

That makes 0.9 to 1.4 mm of it; resolved flames have 1.0 to 1.4 mm. Read off with `LICKED`. A flame of 1000 W under a
pot 10 mm above was run on a finer mesh once the form stood, which then said 46 W to the wall below its mouths: it gives
44, the coarser mesh 35. It counts in the reading, and the law has 43.
"""
FOOT_EDGE = edge_shape_factor(2.0, FOOT_STANDOFF)  # shape factor of the foot's edge over a reach of 2 D/u
SWEPT = 0.43  # more heat to the top plate from a sheet that is drawn in over it than from one that stands at its edge
STEAMY = 0.5  # heat of the jets' vapour below which the wick's flame burns less and less of it [W]
LEAN = 1.0
"""Le Chatelier sum below which a jet's gas cannot burn and its flame has no length."""


@record
class FireFlows:
    """What burns and where its heat goes before the gas reaches the pot."""

    wick_rate: float  # [mol/s]
    wick_power: float  # heat released [W]
    jet_power: float
    vent_power: float  # of an open well, or of vapour from the notches
    vent_burns: float  # share of that vapour that burns
    jet_potential: float  # what one jet would release if lit [W]
    jet_limit: float  # Le Chatelier sum of the gas in the jets; lean below 1
    flame_length: float  # of one jet's flame [m]
    flame_reach: float  # sideways from the hole [m]
    exit_velocity: float  # of the jets [m/s]
    jets_to_rim: float  # and to the collar; radiation and top plate included [W]
    jets_to_top: float  # part of it, to a top plate above side jets
    wick_to_rim: float  # and to the collar
    to_collar: float  # part of both, to the wall that side jets heat
    edge_to_rim: float  # edge of a pool's flame, or of flames at notches and gaps
    radiated: float  # all flames together, past the burner [W]
    jet_thrust: float  # momentum of the vapour that the lit jets throw out [N]
    content: float  # heat of all that burns, as vapour [W]
    gas_heat: float  # left in the gas above ambient, before the pot [W]
    fuel_mass: float  # burnt [kg/s]
    air_mass: float  # that it needs [kg/s]
    moisture: float  # water vapour that it leaves [kg/s]
    unburnt_heat: float  # of the vapour that no flame burns, chemical and sensible [W]
    wrapped: float  # share of the jets' vapour that burns in the wick's flame
    jets_burn: float  # share of it that burns: in flames of its own, in the wick's or the well's
    at_jets: float  # share of it that burns at the jets: in flames of its own, or in the wick's that wraps the jets
    wick_tip: float  # height of the wick's flame above its foot [m]


def cover(width: float, p: Parameters) -> float:
    """Share of the circle that flames of such a width [m] bathe.

    Parameters
    ----------
    width : that one flame bathes
    p : parameters
    """
    return filled(p.jets.outlet.holes * width / p.jets.circle)


def plate_bathing(width: float, length: float, p: Parameters) -> float:
    """Conductance from upward jets' flames to the plate that they stand on [W/K].

    Over a plate an upward jet's flame is a paraboloid with its point on the hole, r^2/r_max^2 = e tau ln(1/tau) with
    tau = z/L (the contour behind `flame_width`). Conduction from its flank over the height above the stand-off d is
    k/d times the circle of its width, times R = e int_0^(1/e) (-ln tau - 1)/(1 + s tau) dtau with s = L/d, here as
    R = 1/(1 + 0.09 s (1 + 0.2 s)^-0.307), within 2 %.

    Parameters
    ----------
    width : greatest width of a flame [m]
    length : of the flame [m]
    p : parameters
    """
    jets = p.jets
    slim = length / jets.standoff
    near = 1.0 / (1.0 + 0.09 * slim * power(1.0 + 0.2 * slim, -0.307))
    return jets.gas_conductivity / jets.standoff * jets.circle * width * near


@record
class Risen:
    """The sheet of side jets' flames where it has risen to the rim."""

    spread: float  # [kg2/s2]
    mixture: float  # share of vapour in the gas next to the wall, burnt or not
    upright: float  # share of the sheet that a pot above does not turn away from the burner


def merged(length: float, p: Parameters) -> float:
    """Length of side jets' flames [m], from that of one alone: once they merge, that of their sheet (`SHEET_PITCH`)."""
    return length / p.jets.apart


def rippled(p: Parameters) -> float:
    """Heat to the wall from the flames of side jets over that from the even sheet of a slot [-]."""
    return 1.0 + RIPPLES * p.jets.apart * p.jets.apart


def risen_sheet(vapour: float, length: float, p: Parameters) -> Risen:
    """The sheet of side jets' flames at the rim.

    Parameters
    ----------
    vapour : flow through the jets [kg/s]
    length : of a flame [m]
    p : parameters
    """
    jets = p.jets
    spread = sheet_spread(jets.bathed_height, p.way.ring, p.way.sheet_lift, p.way.exchange)
    below = jets.clearance + 0.5 * jets.bathed_height
    square = below * below
    return Risen(spread, mixture_at_wall(vapour, sqrt(spread)), square / (square + jets.turning * length))


def licked_wall(
    vapour: float, air: float, heat: float, sheet: float, risen: Risen, reach: float, rim: float, p: Parameters
) -> float:
    """Heat that the flames of side jets, merged into one sheet, give to the wall above their mouths [W].

    The sheet rises along the wall with the vapour inside and the air outside. What mixes through to the wall is rich,
    the richer and cooler the stronger the flames: so strong flames give the wall less than weak ones. The jets' own
    momentum throws it off, where they throw the flame farther than the sheet is thick (combined by cubes). Across a
    cushion of vapour that mixes little, the flame still conducts; the two are combined by squares. A pot above turns
    the sheet away from the wall (`LID` of the parameters).

    Parameters
    ----------
    vapour : flow through the jets [kg/s]
    air : that it needs [kg/s]
    heat : of its flames, what they radiate left out [W]
    sheet : temperature of the flames [K]
    risen : that sheet at the rim
    reach : of the flames sideways, from the holes [m]
    rim : temperature of the wall [K]
    p : parameters
    """
    way = p.way
    jets = p.jets
    ratio = air / vapour
    spread = risen.spread
    speed = SHEET_SPEED * sqrt(way.sheet_lift * jets.bathed_height)
    thickness = (vapour + SHEET_DRAWN * sqrt(spread)) / (jets.flame_density * way.ring * speed)
    driving = flame_share(risen.mixture, ratio) * heat / (vapour + air)
    driving = at_least(driving - way.heat * (rim - p.site.temperature), 0.0)
    half = 0.5 * reach
    away = third_root(thickness * thickness * thickness + half * half * half)
    mixed = thickness / away * heat_taken(0.0, WALL_FILM / SHEET_MIXING * spread, driving, 0.0)
    conducted = jets.gas_conductivity * way.ring * jets.bathed_height / thickness * at_least(sheet - rim, 0.0)
    return LICKED * risen.upright * hypotenuse(mixed, conducted)


def foot_conductance(vapour: float, air: float, p: Parameters) -> float:
    """Conductance from the foot of the side jets' flames, merged into one sheet, to the wall below them [W/K].

    The foot stands upstream of the mouths where the vapour that diffuses there burns; from its edge on heat is
    conducted as far as the air that it draws lets it come, 2 D/u against it (D the diffusivity). The foot's distance
    from the wall goes by D/u too (`FOOT_STANDOFF`), so that the speed of that air falls out: resolved flames of
    500 W give the wall below them 38 to 41 W under pots 1.5 to 5, 35 and 50 mm above the rim and without one, and 38 W
    at 10 mm on the finer mesh; on the coarse one those at 10 and 25 mm give 20 to 35 % less than the law. From its
    edge, as cold as flames live, the foot warms to the sheet that it joins: resolved, 1600 K at its edge and 1950 K at
    the mouths. What it conducts goes by the mean.

    Parameters
    ----------
    vapour : flow through the jets [kg/s]
    air : that it needs [kg/s]
    p : parameters
    """
    reach = 2.0 * foot_reach(vapour, p.way.ring, p.way.exchange, p.jets.film_density, air / vapour)
    return p.jets.gas_conductivity * p.way.ring * (reach / FOOT_STANDOFF + FOOT_EDGE)


def top_conductance(vapour: float, air: float, heat: float, risen: Risen, p: Parameters) -> float:
    """Conductance from the sheet of side jets' flames to the top plate at whose edge it stands [W/K].

    The sheet is the hot end of the slot of gas between plate and pot: what it encloses turns in a ring a gap wide,
    cooled by both, and is still further in. A pot turns the sheet away as it does from the wall. Flames that are spent
    before they reach the rim give less, by the share of stoichiometric vapour in what has mixed.

    No number of this is fitted to what resolved flames give a closed top of 500 K over what it passes to the pot, 4 to
    6 W under a pot 3 to 5 mm above it, 10 to 17 at 10 mm; the form was chosen with them in sight. With more room the
    sheet is drawn in and sweeps over the plate: of 500 W the top gets 33, 42 and 61 W under a pot 25, 35 and 50 mm
    above it and 65 to 74 W without one, where conduction from its edge has 26, 30, 33 and 37 W. From that come
    `TURNED_JETS` and `SWEPT`, read off with `LICKED`.

    Parameters
    ----------
    vapour : flow through the jets [kg/s]
    air : that it needs [kg/s]
    heat : of its flames [W]
    risen : that sheet at the rim
    p : parameters
    """
    jets = p.jets
    if jets.top_shape <= 0.0:
        return 0.0
    left = risen.mixture * (1.0 + air / vapour)
    burns = left * served(left)
    swept = 1.0 + SWEPT * drawn_in(vapour, air, heat, TURNED_JETS, p)
    return LICKED * risen.upright * swept * burns * jets.gas_conductivity * p.walls.outer_perimeter * jets.top_shape


@record
class JetFlames:
    """The flames on the jets; as in `FireFlows`."""

    content: float  # what the vapour would release if lit [W]
    air: float  # that it needs [mol/s]
    limit: float
    length: float
    reach: float
    speed: float
    to_top: float
    to_rim: float
    to_collar: float
    radiation: float


@by_slots
def jet_flames(
    gas: GasFlows, gallery: Liquid, well: Liquid, collar: float, rim: float, lit: float, p: Parameters
) -> JetFlames:
    """Length, bending and heat of the flames that the jets hold, or would hold if lit.

    The foot of side jets' flames heats the collar. What they give the wall above, and what they radiate to it, falls
    between collar and rim, half of it to either end.

    Parameters
    ----------
    gas : flows of vapour
    gallery, well : the liquids that the vapours come from
    collar, rim : temperatures [K]
    lit : 1.0 while the jets burn
    p : parameters
    """
    jets = p.jets
    room = p.site.temperature
    content = gas.through_jets * gallery.heating_value + gas.blow_back * well.heating_value
    air = gas.through_jets * gallery.air_need + gas.blow_back * well.air_need
    limit = 0.0
    if gas.jet_flow > 0.0:
        limit = (gas.through_jets * gallery.richness + gas.blow_back * well.richness) / gas.jet_flow
    if limit < LEAN:
        return JetFlames(
            content=content,
            air=air,
            limit=limit,
            length=0.0,
            reach=0.0,
            speed=0.0,
            to_top=0.0,
            to_rim=0.0,
            to_collar=0.0,
            radiation=0.0,
        )
    moles = gas.jet_flow / jets.outlet.holes
    hot = gas.jet_temperature
    speed = moles * GAS_CONSTANT * hot / (p.site.pressure * jets.area)
    need = air / gas.jet_flow
    lift = reduced_gravity(FLAME_TEMPERATURE, room)
    standard = moles * GAS_CONSTANT * hot / ATMOSPHERE
    slowed = mixed_velocity(speed, need * AIR_MOLAR_MASS / gas.jet_mass)
    length = roper_length(standard, need, hot, room, FLAME_TEMPERATURE)
    reach = jet_flame_reach(length, slowed, lift)[0]
    to_top = 0.0
    to_rim = 0.0
    to_collar = 0.0
    radiation = 0.0
    if lit > 0.0:
        width = flame_width(standard, need, hot, FLAME_TEMPERATURE, slowed, length, lift)
        sheet = gallery.sheet
        if gas.blow_back > 0.0:
            part = gas.blow_back / (gas.through_jets + gas.blow_back)
            sheet += part * (well.sheet - gallery.sheet)
        wide = jets.outlet.diameter + width
        hot = sheet
        top = 0.0
        licked = 0.0
        if jets.top > 0.0:
            conductance = p.flame_to_rim * cover(wide, p) * plate_bathing(wide, length, p)
        else:
            bathed = cover(BATHED_WIDTH * wide, p)
            covered = p.flame_to_rim * rippled(p) * bathed
            vapour, drawn = gas.jet_flow * gas.jet_mass / bathed, air * AIR_MOLAR_MASS / bathed  # were it all round
            conductance = covered * foot_conductance(vapour, drawn, p)
            spent = (1.0 - p.radiant_fraction) * content
            long = merged(length, p)
            risen = risen_sheet(vapour, long, p)
            thrown = jet_flame_reach(long, slowed, lift)[0]
            middle = 0.5 * (collar + rim)
            licked = covered * licked_wall(vapour, drawn, spent / bathed, sheet, risen, thrown, middle, p)
            licked *= served(licked / spent)
            hot = foot_temperature(sheet)
            top = p.flame_to_rim * bathed * top_conductance(vapour, drawn, spent / bathed, risen, p)
        share = stream_share(conductance + top, content, sheet, p)
        to_top = share * top * (hot - rim)
        foot = share * conductance * (hot - collar)
        view = line_to_disc_view(length, p.walls.outer_perimeter / (2.0 * pi)) if jets.top > 0.0 else WALL_VIEW
        radiation = jets.absorptivity * view * p.radiant_fraction * content
        to_rim = foot + licked + to_top + radiation
        to_collar = p.collar.present * (foot + 0.5 * (licked + radiation))
    return JetFlames(
        content=content,
        air=air,
        limit=limit,
        length=length,
        reach=reach,
        speed=speed,
        to_top=to_top,
        to_rim=to_rim,
        to_collar=to_collar,
        radiation=radiation,
    )


def caught(gas: GasFlows, gallery: Liquid, well: Liquid, jets: JetFlames, regime: Regime, p: Parameters) -> float:
    """Share of the vapour of unlit jets that burns in the flame over an open well.

    It comes to that flame in the layer of air along the wall, which the flame draws in first (`flame_catch`). So it
    does to one that burns down in the well, whose air comes over the same rim.

    Parameters
    ----------
    gas : flows of vapour
    gallery, well : the liquids that the vapours come from
    jets : what leaves them
    regime : which flames stand
    p : parameters
    """
    if regime.well <= 0.0 or regime.jets > 0.0 or jets.limit <= 0.0:
        return 0.0
    own = own_vapour(gas) * well.richness + gas.blow * gallery.richness
    return flame_catch(own / p.jets.layer_air, gas.jet_flow * jets.limit / p.jets.layer_air)


@by_slots
def fire_flows(
    gas: GasFlows,
    pool: PoolFlows,
    gallery: Liquid,
    well: Liquid,
    collar: float,
    rim: float,
    wick: WickFlame,
    wick_to_burner: float,
    regime: Regime,
    p: Parameters,
) -> FireFlows:
    """What every flame burns, gives to the burner, radiates and leaves in its gas.

    Between the wick's sheet of flame and the wall there is no air: vapour that leaves a jet there burns in that sheet,
    and holds no flame of its own. The sheet stands at the jets for the share of the time and of the ring that its
    height leaves it (`wall_flame_presence`). So long, too, it lights what a covered well vents.

    Parameters
    ----------
    gas : flows of vapour
    pool : an open well's surface
    gallery, well : the liquids that the vapours come from
    collar, rim : temperatures [K]
    wick : its flame
    wick_to_burner : heat of the wick's flame that the lower walls take [W]
    regime : which flames stand, and what has begun
    p : parameters
    """
    jets = jet_flames(gas, gallery, well, collar, rim, regime.jets, p)
    spirit = fade(jets.content / STEAMY)  # steam with next to no spirit burns in no flame
    wrapped = wall_flame_presence(p.jets.mouth, wick.tip) * spirit
    at_jets = regime.jets + (1.0 - regime.jets) * wrapped
    jets_to_rim = (1.0 - wrapped) * jets.to_rim
    jets_burn = at_jets + (1.0 - at_jets) * caught(gas, gallery, well, jets, regime, p) * spirit
    at_wall = at_jets * jets.content
    jet_power = jets_burn * jets.content

    # wick: its flame rises past the rim, which it shares with the jets' flames by their power
    wick_power = wick.rate * p.wick.heating_value
    wick_to_rim = 0.0
    if wick_power > 0.0:
        cover = flame_cover(p.walls.rim_base, p.walls.top, wick.tip)
        bathed = wick.bound * cover * wick_power / (wick_power + at_wall)
        wick_to_rim = (
            bathed * p.wick.rim_coefficient * p.walls.rim_area * (p.wick.flame_temperature - 0.5 * (collar + rim))
        )

    # open well, or vapour that leaves a covered well through its notches. Lit jets wrap the gap in a sheet without air:
    # resolved jets of 450 W under a gap of 1.5 mm that vents 90 W give the wall 44 W, jets of 500 W alone 46
    own = own_vapour(gas)
    vent_content = own * well.heating_value + gas.blow * gallery.heating_value
    vent_burns = regime.well
    vent_edge = 0.0
    lit = at_least(at_most(regime.jets + regime.well, 1.0), wall_flame_presence(p.walls.top, wick.tip))
    if p.vent.open < 1.0 and lit > 0.0:
        gap_burns = lit * fade(vent_content / p.vent.hold_power - 0.5)
        if regime.well <= 0.0:
            vent_burns = gap_burns
        conductance = (1.0 - p.vent.open) * p.flame_to_rim * p.walls.edge  # half to the rim, half to the pot above
        share = stream_share(conductance, vent_content, well.sheet, p)
        share *= vent_content / (vent_content + at_wall + 1e-9)
        vent_edge = 0.5 * gap_burns * share * conductance * (well.sheet - rim)
    vent_power = vent_burns * vent_content

    jet_heat = (
        jets.content + gas.through_jets * gallery.vapour_heat + gas.blow_back * well.vapour_heat + gas.jet_superheat
    )
    vent_heat = vent_content + own * well.vapour_heat + gas.blow * gallery.vapour_heat + gas.crossing_heat
    content = jets_burn * jet_heat + vent_burns * vent_heat + wick.rate * (p.wick.heating_value + p.wick.enthalpy)
    jet_mass = gas.through_jets * gallery.vapour_mass + gas.blow_back * well.vapour_mass
    vent_mass = own * well.vapour_mass + gas.blow * gallery.vapour_mass
    vent_air = own * well.air_need + gas.blow * gallery.air_need
    jet_moisture = gas.through_jets * gallery.moisture + gas.blow_back * well.moisture
    vent_moisture = own * well.moisture + gas.blow * gallery.moisture

    # what finds no air behind a screen burns above the pot, and heats and lights nothing here
    air_mass = AIR_MOLAR_MASS * (jets_burn * jets.air + vent_burns * vent_air) + wick.rate * p.wick.air_mass
    here = aired(air_mass / AIR_MOLAR_MASS, p)
    radiated = here * (p.radiant_fraction * (jet_power + vent_power + wick_power) - (1.0 - wrapped) * jets.radiation)
    radiated -= pool.radiation
    to_burner = here * (jets_to_rim + wick_to_rim + vent_edge) + pool.edge + pool.heat + wick_to_burner
    return FireFlows(
        wick_rate=wick.rate,
        wick_power=wick_power,
        jet_power=jet_power,
        vent_power=vent_power,
        vent_burns=vent_burns,
        jet_potential=jets.content / p.jets.outlet.holes,
        jet_limit=jets.limit,
        flame_length=jets.length,
        flame_reach=jets.reach,
        exit_velocity=jets.speed,
        jets_to_rim=here * jets_to_rim,
        jets_to_top=here * (1.0 - wrapped) * jets.to_top,
        wick_to_rim=here * wick_to_rim,
        to_collar=here * ((1.0 - wrapped) * jets.to_collar + 0.5 * p.collar.present * wick_to_rim),
        edge_to_rim=pool.edge + here * vent_edge,
        radiated=radiated,
        jet_thrust=at_jets * jet_mass * jets.speed,
        content=content,
        gas_heat=content - radiated - to_burner,
        fuel_mass=jets_burn * jet_mass + vent_burns * vent_mass + wick.rate * p.wick.mass,
        air_mass=air_mass,
        moisture=WATER * (jets_burn * jet_moisture + vent_burns * vent_moisture) + wick.rate * p.wick.moisture,
        unburnt_heat=(1.0 - jets_burn) * jet_heat + (1.0 - vent_burns) * vent_heat,
        wrapped=wrapped,
        jets_burn=jets_burn,
        at_jets=at_jets,
        wick_tip=wick.tip,
    )
