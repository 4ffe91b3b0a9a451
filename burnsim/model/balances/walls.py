"""Heat in the burner's thin walls: flame-bathed strips as fins, from the rim down to the liquid.

No node for the base. The floor and the lower walls are thin and wet. They lose some 10 W/m2/K to the room and
exchange some 300 W/m2/K with the liquid, so they are at its temperature within a few per cent of the difference;
their heat capacity is added to the liquid's.

The dry wall has one node or two. Side jets heat it most below their mouths, where the foot of their flames stands: that
ring, the collar, passes heat down to the liquid, and up to the rim, which passes it on to the pot and down the inner
wall. Jets in the top heat the rim itself, in their ring of the plate. The strips of wall below are exact fins, longer
by the way through the top plate, which no wick's flame bathes (`plate`, `inner_plate`), and end where the meniscus of
the liquid does (`waterline`). Vapour that rises inside the gallery takes up heat on the way, as much from one end of a
strip as from the other (`from_feet` of the gas). Solved point by point, from copper to stainless steel and from jets
near the rim to jets at mid-height, the liquid gets as much heat and the rim is as warm within 1 %; the collar, whose
heat lies at one place, is 2 to 7 % too hot (`tests/model/test_collar.py`).

The strip of the outer wall takes its time to warm, a second in aluminium and a quarter of a minute in stainless steel:
its heat is a state (`wall_heat`), spread over it as the exact fin and a parabola on top (the heat balance integral of
T. R. Goodman, 1958, Trans. ASME 80, 335). Without it a primer's flame reached the liquid through a cold wall at once:
twice the heat in 20 s of a marched fin of stainless steel, 6 % more in aluminium.

Gallery and well exchange heat by the difference of their means. A flame over the well does not turn that round: its hot
skin stays thin, and two liquids that are solved on both sides of a thin wall, the well's surface kept 60 K warmer than
its liquid was, pass 5 to 15 W from the gallery to the well, as the means have it (`tests/model/test_divider.py`).
"""

from math import exp, sqrt

from burnsim.bounds import at_least, at_most, within
from burnsim.closures.boiling import COOPER_EXPONENT
from burnsim.closures.radiation import disc_to_disc_view, enclosed_emissivity, radiation_exchange, strip_to_strip_view
from burnsim.closures.wall_fire import flame_cover
from burnsim.elementary import power, served, tanh_up
from burnsim.model.balances.chambers import Liquid
from burnsim.model.balances.wick import WickFlame
from burnsim.model.parameters.record import Chamber, Parameters
from burnsim.records import by_slots, record

SHORTEST_STRIP = 1e-3  # [m]
FAINT = 1e-3  # less heat does not tell how hot a wall is [W]
BENT = 6.0  # slope of a parabola at its ends, over its mean and the length
SLOW_STRIP = 8e-3
"""Length of a strip below which it warms no faster than one of that length [m].

It would be steady within milliseconds, and a tenth of a kelvin of its warmth worth watts; it holds too little heat to
matter.
"""
HALLEY_STEPS = 2
LIQUID_EMISSIVITY = 0.9
"""Of a spirit's surface: water has 0.96 (Incropera and DeWitt, A.11, from memory), and these reflect as little."""


@record
class Strip:
    """A dry strip of wall seen from its foot: it offers `conductance*(source - T_foot)`."""

    conductance: float  # [W/K]
    source: float  # [K]
    through: float  # conductance from rim to foot [W/K]
    mean: float  # how much of each end's difference to the gas is in that of the whole strip
    bent: float  # conductance to either end for what the strip is warmer than when steady [W/K]


@record
class Supply:
    """What a strip offers a foot at a temperature: `conductance*(source - T_foot)`."""

    conductance: float  # [W/K]
    source: float  # [K]


@record
class OuterWall:
    """Heat in the outer wall; as in `WallFlows`."""

    foot: float
    hotter: float  # than the liquid, in the mean over the heat that it passes [K]
    from_upper: float  # leaving its upper end
    wick_to_wall: float
    wick_to_liquid: float


@record
class InnerWall:
    """One side of the inner wall; as in `WallFlows`."""

    heat: float
    hotter: float


@record
class WallFlows:
    """Heat that moves in the walls [W]."""

    outer_foot: float  # down the outer wall to the liquid; rising vapour takes some on the way (`from_feet` of the gas)
    gallery_inner: float  # down the inner wall into the gallery's liquid
    well_inner: float  # down the inner wall into the well's liquid
    underside: float  # radiated by the top plate down to the gallery's liquid
    from_upper: float  # leaving the collar, or the rim without one, by the outer wall
    from_rim: float  # leaving the rim by the inner wall and down from the plate
    risen: float  # from the collar up to the rim
    warming: float  # of the dry outer wall itself
    wick_to_wall: float  # wick flame to the dry outer wall
    wick_to_liquid: float  # wick flame and hot wick to the wet outer wall
    divider: float  # gallery's liquid to well's liquid
    gallery_loss: float  # to the surroundings
    well_loss: float
    collar_loss: float
    rim_loss: float
    into_gallery: float  # walls and top plate to the gallery's liquid, without the divider
    into_well: float  # walls to the well's liquid, with what the divider brings
    well_strips: float  # part of it, by walls that are hot at the waterline
    outer_hotter: float  # than the liquid behind it: the outer wall, in the mean over the heat that it passes [K]
    gallery_hotter: float  # the same of the inner wall and the gallery's liquid, at the waterline [K]
    well_hotter: float  # and the well's [K]
    gallery_top: float  # how much hotter than its mean they make the top of the gallery's liquid within seconds [K]
    well_top: float  # and that of the well's [K]


def strip(rim: float, flame: float, coefficient: float, conductance: float, perimeter: float, length: float) -> Strip:
    """A strip between rim and foot, bathed on one side by gas: the exact fin with both ends held.

    Parameters
    ----------
    rim : rim temperature [K]
    flame : gas temperature [K]
    coefficient : gas to wall [W/m2/K]
    conductance : conductivity x thickness of the wall [W/K]
    perimeter : width of the strip [m]
    length : from rim to foot [m]

    Without gas it is a plain strip:

    >>> s = strip(400.0, 1500.0, 0.0, 0.02, 0.2, 0.02)
    >>> round(s.conductance, 6), s.source
    (0.2, 400.0)
    """
    plain = conductance * perimeter / length
    long = length / SLOW_STRIP * (length / SLOW_STRIP)
    bent = BENT * plain * long * served(long)
    reach = sqrt(at_least(coefficient, 0.0) / conductance) * length
    if reach < 1e-3:  # to second order, or the heat would jump where the gas begins to reach the strip
        square = reach * reach
        return Strip(
            conductance=plain * (1.0 + square / 3.0),
            source=rim + 0.5 * square * (flame - rim),
            through=plain * (1.0 - square / 6.0),
            mean=0.5 - square / 24.0,
            bent=bent,
        )
    reach = at_most(reach, 300.0)
    left = exp(-reach)
    square = left * left
    return Strip(
        conductance=plain * reach * (1.0 + square) / (1.0 - square),
        source=flame - (flame - rim) * 2.0 * left / (1.0 + square),
        through=plain * reach * 2.0 * left / (1.0 - square),
        mean=(1.0 - left) / ((1.0 + left) * reach),
        bent=bent,
    )


def as_warm(piece: Strip, temperature: float, rim: float, flame: float) -> Supply:
    """What a strip offers its foot when its metal is so warm in the mean.

    Parameters
    ----------
    piece : when steady
    temperature : mean over the strip [K]
    rim, flame : as of `strip` [K]
    """
    conductance = piece.conductance + piece.bent * piece.mean
    rest = temperature - (1.0 - 2.0 * piece.mean) * flame - piece.mean * rim
    source = (piece.conductance * piece.source + piece.bent * rest) / conductance
    return Supply(conductance, source)


def wet_fin(
    theta: float,
    superheat: float,
    convection: float,
    boiling: float,
    conductance: float,
    perimeter: float,
    depth: float,
) -> tuple[float, float]:
    """Heat that a wall's wetted part passes to the liquid when its foot is `theta` above the liquid, and its slope.

    First integral of the fin equation k t T'' = h theta + (c theta_b)^m for a deep wall, with theta_b the foot's
    superheat, then tanh for a shallow liquid.

    Parameters
    ----------
    theta : foot minus liquid temperature [K]
    superheat : liquid above its bubble point at the pressure on it, negative when subcooled [K]
    convection : single-phase coefficient [W/m2/K]
    boiling : Cooper coefficient c
    conductance : conductivity x thickness [W/K]
    perimeter : [m]
    depth : of the liquid [m]

    Returns
    -------
    (heat [W], its derivative by theta [W/K])
    """
    size = abs(theta) + 1e-9
    square = convection * size * size
    slope = 2.0 * convection * size
    over = theta + superheat
    if over > 0.0 and theta > 0.0:
        flux = power(boiling * over, COOPER_EXPONENT)
        square += 2.0 / (COOPER_EXPONENT + 1.0) * flux * over
        slope += 2.0 * flux
    root = sqrt(square / conductance)
    rise = 0.5 * slope / (conductance * root)
    gradient = root / size
    shallow = tanh_up(gradient * depth)
    heat = perimeter * conductance * root * shallow
    bend = (rise - gradient) / size * depth * (1.0 - shallow * shallow)
    derivative = perimeter * conductance * (rise * shallow + root * bend)
    return (heat if theta >= 0.0 else -heat), derivative


def foot_heat(
    piece: Supply, body: Liquid, chamber: Chamber, conductance: float, perimeter: float, p: Parameters
) -> float:
    """Heat that a strip delivers at its foot into a liquid [W].

    Halley on conductance*(source - T_foot) = wet fin(T_foot - T_liquid). The right side rises with the foot's
    temperature and the left side falls, so that the root is unique. Where nothing boils both are straight. Else the
    start solves the boiling fin above its onset with its exponent (m+1)/2 = 2.015 rounded to 2, and the curvature is
    that of a power law with the fin's own slope. Always the same number of steps, so that difference quotients are
    smooth; what is left of the error is below one part in ten thousand in nine of ten instants, and below one in a
    hundred but for the last of a film.
    A bulk above its bubble point at ambient pressure is at that of its chamber, which presses on it: the wall boils by
    its own excess over the bulk.
    """
    depth = (body.level if body.level < chamber.height else chamber.height) * body.wet
    if depth <= 0.0:
        return 0.0
    span = piece.source - body.temperature
    own = piece.conductance
    fin = sqrt(chamber.convection / conductance)
    shallow = perimeter * conductance * tanh_up(fin * depth)
    linear = own + shallow * fin
    theta = own * span / linear
    onset = -body.superheat if body.superheat < 0.0 else 0.0
    if theta <= onset:
        return own * (span - theta)
    square = (
        perimeter * sqrt(2.0 * conductance / (COOPER_EXPONENT + 1.0) * p.boil_power) * at_most(2.0 * fin * depth, 1.0)
    )
    spare = own * span - linear * onset
    theta = onset + 2.0 * spare / (linear + sqrt(linear * linear + 4.0 * square * spare))
    for _ in range(HALLEY_STEPS):
        heat, slope = wet_fin(theta, -onset, chamber.convection, p.boil_coefficient, conductance, perimeter, depth)
        steep = own + (slope if slope > 0.0 else 0.0)
        step = (own * (span - theta) - heat) / steep
        if theta > 0.0 and heat > 0.0 and slope > 0.0:
            share = 1.0 + 0.5 * step * (slope / steep) * (slope / heat - 1.0 / theta)
            step /= share if share > 0.5 else 0.5
        theta += step
    return own * (span - theta)


def waterline(body: Liquid, chamber: Chamber) -> float:
    """Height up to which a hot wall is wet [m]: the level, and the meniscus that climbs it.

    A liquid shallower than its meniscus is high has the less to climb with.
    """
    if chamber.climb <= 0.0:
        return body.level
    return body.level + chamber.climb * tanh_up(at_least(body.level, 0.0) / chamber.climb)


def outer_wall(gallery: Liquid, well: Liquid, upper: float, dry: float, wick: WickFlame, p: Parameters) -> OuterWall:
    """Heat in the outer wall, with what the wick's flame gives it.

    Where the liquid stands lower than the wick, the wick, at its boiling point, touches dry wall: a bath as the flame
    is, and both together are taken as one over the whole strip.

    Parameters
    ----------
    gallery, well : the two liquids
    upper : temperature of the wall's upper end, collar or rim [K]
    dry : mean temperature of the wall between liquid and there [K]
    wick : its flame
    p : parameters
    """
    walls = p.walls
    behind = gallery if p.gallery.present > 0.0 else well
    chamber = p.gallery if p.gallery.present > 0.0 else p.well
    surface = at_most(waterline(behind, chamber), walls.top)
    length = at_least(walls.rim_base - surface, SHORTEST_STRIP) + walls.plate
    coefficient = 0.0
    flame = p.wick.flame_temperature
    to_liquid = 0.0
    if wick.rate > 0.0:
        flame_side = wick.bound * p.wick.wall_coefficient
        low = at_least(surface, p.wick.height)
        bare = at_least(walls.rim_base - low, 0.0)
        bathed = flame_side * flame_cover(low, low + bare, wick.tip) * at_most(bare / length, 1.0)
        held = wick.contact * at_most((low - surface) / length, 1.0)
        coefficient = bathed + held
        flame += held / (coefficient + 1e-9) * (p.wick.boiling_point - flame)
        wet_height = at_least(surface - p.wick.height, 0.0)
        to_liquid = (
            flame_side
            * flame_cover(p.wick.height, p.wick.height + wet_height, wick.tip)
            * walls.outer_perimeter
            * wet_height
            * behind.wet
            * (p.wick.flame_temperature - behind.temperature)
        ) + wick.heat_to_liquid
    steady = strip(upper, flame, coefficient, walls.conductance, walls.outer_perimeter, length)
    outer = as_warm(steady, dry, upper, flame)
    delivered = foot_heat(outer, behind, chamber, walls.conductance, walls.outer_perimeter, p)
    foot = outer.source - delivered / outer.conductance
    through = at_least(to_liquid, 0.0)
    along = at_least(delivered, 0.0)
    wet_depth = at_most(surface, chamber.height) * behind.wet
    hotter = along * at_least(foot - behind.temperature, 0.0)
    hotter += through * evenly_heated(through, wet_depth, behind, chamber, p)
    warmer = dry - flame - steady.mean * (upper - flame + foot - flame)
    steady_upper = steady.conductance * (upper - flame) - steady.through * (foot - flame)
    given = steady.conductance * (steady.source - foot) - steady_upper  # by the flame to a strip that is steady
    return OuterWall(
        foot=delivered,
        hotter=hotter / (along + through + FAINT),
        from_upper=steady_upper - steady.bent * warmer,
        wick_to_wall=given - coefficient * walls.outer_perimeter * length * warmer if coefficient > 0.0 else 0.0,
        wick_to_liquid=to_liquid,
    )


def evenly_heated(heat: float, depth: float, body: Liquid, chamber: Chamber, p: Parameters) -> float:
    """How much hotter than the liquid behind it the outer wall is where a wick's flame heats it all over [K].

    As warm as convection has it, but no warmer than boiling does.
    """
    if heat <= 0.0 or depth <= 0.0:
        return 0.0
    flux = heat / (p.walls.outer_perimeter * depth)
    boiling = power(flux, 1.0 / COOPER_EXPONENT) / p.boil_coefficient - at_most(body.superheat, 0.0)
    return at_most(flux / chamber.convection, boiling)


def inner_wall(body: Liquid, rim: float, chamber: Chamber, p: Parameters) -> InnerWall:
    """Heat that one side of the inner wall carries from the rim into the liquid there; none without such a wall."""
    if p.gallery.present * p.well.present <= 0.0:
        return InnerWall(heat=0.0, hotter=0.0)
    half = 0.5 * p.walls.conductance
    length = at_least(p.walls.top - waterline(body, chamber), SHORTEST_STRIP) + p.walls.inner_plate
    plain = half * p.walls.inner_perimeter / length
    heat = foot_heat(Supply(plain, rim), body, chamber, half, p.walls.inner_perimeter, p)
    return InnerWall(heat=heat, hotter=at_least(rim - heat / plain - body.temperature, 0.0))


def hot_top(outer: float, outer_hotter: float, inner: float, inner_hotter: float, p: Parameters) -> float:
    """How much hotter than its mean two walls make the top of a liquid [K].

    Parameters
    ----------
    outer, inner : heat that they pass [W]
    outer_hotter, inner_hotter : how much hotter than the liquid's mean they are [K]
    p : parameters
    """
    along, beside = at_least(outer, 0.0), at_least(inner, 0.0)
    return p.hot_top * (along * outer_hotter + beside * inner_hotter) / (along + beside + FAINT)


def underside(gallery: Liquid, rim: float, p: Parameters) -> float:
    """Heat that the top plate radiates down to the gallery's liquid [W].

    The walls between are hot above and wet below: as bright in the mean as half-way, which is what reradiating walls
    are. Plate and surface of a gallery with an inner wall are two long strips, others are discs. What gas conducts
    between the two, hot above cold, is left out: 0.4 to 2 W, a tenth of this under steel, two thirds under aluminium.

    Parameters
    ----------
    gallery : its liquid
    rim : rim temperature [K]
    p : parameters
    """
    walls = p.walls
    if walls.underside <= 0.0:
        return 0.0
    distance = at_least(walls.top - gallery.level, SHORTEST_STRIP)
    if p.well.present > 0.0:
        view = strip_to_strip_view(walls.underside_width, distance)
    else:
        view = disc_to_disc_view(0.5 * walls.underside_width, 0.5 * walls.underside_width, distance)
    pair = enclosed_emissivity(walls.emissivity, LIQUID_EMISSIVITY, view)
    return gallery.wet * walls.underside * radiation_exchange(pair, rim, gallery.temperature)


def wall_flows(
    gallery: Liquid, well: Liquid, collar: float, rim: float, dry: float, wick: WickFlame, p: Parameters
) -> WallFlows:
    """Every flow of heat in the burner's walls.

    Parameters
    ----------
    gallery, well : the two liquids
    collar, rim : temperatures [K]
    dry : mean temperature of the outer wall between liquid and collar or rim [K]
    wick : its flame
    p : parameters
    """
    outer = outer_wall(gallery, well, collar, dry, wick, p)
    gallery_inner = inner_wall(gallery, rim, p.gallery, p)
    return walls_with(outer, gallery_inner, inner_wall(well, rim, p.well, p), gallery, well, collar, rim, p)


@by_slots
def walls_with(
    outer: OuterWall,
    gallery_inner: InnerWall,
    well_inner: InnerWall,
    gallery: Liquid,
    well: Liquid,
    collar: float,
    rim: float,
    p: Parameters,
) -> WallFlows:
    """Every flow of heat in the burner's walls, given that of its three strips.

    Parameters
    ----------
    outer : the outer wall
    gallery_inner, well_inner : the inner wall's sides
    gallery, well, collar, rim, p : as in `wall_flows`
    """
    walls = p.walls
    divider = 0.0
    if p.gallery.present * p.well.present > 0.0:
        shared = within(at_most(gallery.level, well.level), 0.0, walls.top) * gallery.wet * well.wet
        divider = (walls.divider * shared + walls.bridge) * (gallery.temperature - well.temperature)
    air = p.site.temperature
    bare = (1.0 - well.wet) * p.vent.open * p.well.present  # no vapour shields its inside from the room
    shone = underside(gallery, rim, p)
    into_gallery = gallery_inner.heat + shone
    well_strips = well_inner.heat
    by_outer = outer.foot + outer.wick_to_liquid
    if p.gallery.present > 0.0:
        into_gallery += by_outer
        gallery_top = hot_top(by_outer, outer.hotter, gallery_inner.heat, gallery_inner.hotter, p)
        well_top = hot_top(0.0, 0.0, well_inner.heat, well_inner.hotter, p)
    else:
        well_strips += by_outer
        gallery_top = 0.0
        well_top = hot_top(by_outer, outer.hotter, 0.0, 0.0, p)
    return WallFlows(
        outer_foot=outer.foot,
        gallery_inner=gallery_inner.heat,
        well_inner=well_inner.heat,
        underside=shone,
        from_upper=outer.from_upper,
        from_rim=gallery_inner.heat + well_inner.heat + shone,
        risen=p.collar.rise * (collar - rim),
        warming=outer.wick_to_wall + outer.from_upper - outer.foot,
        wick_to_wall=outer.wick_to_wall,
        wick_to_liquid=outer.wick_to_liquid,
        divider=divider,
        gallery_loss=p.gallery.loss * (gallery.temperature - air),
        well_loss=p.well.loss * (well.temperature - air),
        collar_loss=p.collar.loss * (collar - air)
        + p.collar.emission * (collar * collar * collar * collar - air * air * air * air),
        rim_loss=(walls.rim_loss + bare * walls.dry_loss) * (rim - air)
        + (walls.rim_emission + bare * walls.dry_emission) * (rim * rim * rim * rim - air * air * air * air),
        into_gallery=into_gallery,
        into_well=well_strips + at_least(divider, 0.0),
        well_strips=well_strips,
        outer_hotter=outer.hotter,
        gallery_hotter=gallery_inner.hotter,
        well_hotter=well_inner.hotter,
        gallery_top=gallery_top,
        well_top=well_top,
    )
