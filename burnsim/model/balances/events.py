"""Events: scalar guards of a burn that turn from negative to positive when something happens, and what then changes.

The boil is a change of regime, like a flame that lights: before it the water's bulk gives off no steam, however far a
trial step overshoots. Its law is so steep (3 MW/m2 per square kelvin) that steps which saw it crept up to it, each
rejected once: fifteen steps where one does now. So does the first spill: seen through, its onset let the tally of
what is spilt fall a little inside a long step.

Bloom is when the jets hold flames of their own. Vapour passes the jets long before, inside the wick's flame, where
there is no air: it burns in that flame, gives the rim nothing, and is not seen. Both are milestones (`vapour`,
`bloom`). The tip of that flame is not sharp, and what it leaves of the vapour must hold flames of its own: so bloom
comes the earlier the lower the tip stands beside the jets. Above the tip the gas is soon too cold to light anything.
Vapour of unlit jets also burns in a flame over an open well, as far as that flame draws it in.
"""

from burnsim.bounds import at_least, at_most
from burnsim.closures.flame import warm_quench_power
from burnsim.model.balances.flows import Flows, Pressed
from burnsim.model.balances.gas import own_vapour
from burnsim.model.balances.pool import flame_left, pool_flows, released
from burnsim.model.balances.spilling import froth
from burnsim.model.balances.state import flames_standing
from burnsim.model.parameters.record import Parameters

NEVER = -1.0
WELL_OUT = 0.7  # an open well's flame dies when the vapour at its surface falls to this share of the lower limit
COLDEST_FLAME, COLDEST_LIGHTING = 1400.0, 1500.0
"""Temperatures of a flame's sheet below which it goes out, and above which it lights [K].

Mixtures at their limits burn at 1400 to 1600 K whatever dilutes them (A. C. Egerton, J. Powling 1948, Proc. R. Soc. A
193, 172; from memory, unverified); steam over a watery spirit dilutes its flame in the same way.
"""
LEAST_VAPOUR_HEAT = 1e5
"""Heating value of a vapour below which it holds no flame [J/mol], common practice, no source.

Alcohols have 0.6 to 1.8 MJ/mol; a vapour with less than this is nearly all steam, and takes what heat it gives.
"""
LIGHTER = 1.2  # times that heat lights it again: a flame that has just gone out does not
DRY = 0.5  # a compartment counts as dry when it holds less than this share of its residual film

EVENTS = (
    "primer_out",
    "vapour",
    "jets_lit",
    "jets_out",
    "well_lit",
    "well_out",
    "boil",
    "spill",
    "gallery_dry",
    "well_dry",
)
CHANGES = {
    "primer_out": ("wick", 0.0),
    "jets_lit": ("jets", 1.0),
    "jets_out": ("jets", 0.0),
    "well_lit": ("well", 1.0),
    "well_out": ("well", 0.0),
    "boil": ("boiling", 1.0),
    "spill": ("spilling", 1.0),
}
"""What an event changes in the regime, and to what; the other events are milestones on the way."""
REGIME_EVENTS = frozenset(CHANGES)


def froth_level(flows: Flows | Pressed, p: Parameters) -> float:
    """Height of the froth in the gallery [m]; see `burnsim.model.balances.spilling.froth`."""
    if p.gallery.present <= 0.0:
        return 0.0
    return froth(flows.gallery, flows.gas.gallery_vapour, p).level


def vented_heat(flows: Flows) -> float:
    """Heating value of what leaves a well: its own vapour, and what bubbles through it from the gallery [J/mol]."""
    blow, own = flows.gas.blow, flows.well.heating_value
    vented = own_vapour(flows.gas) + blow
    return own + (flows.gallery.heating_value - own) * blow / vented if vented > 0.0 else own


def dying(flows: Flows, p: Parameters) -> float:
    """Guard of an open well's flame that goes out."""
    return max(
        WELL_OUT - flows.pool.limit,
        1.0 - flame_left(flows.pool, flows.well, p) / COLDEST_FLAME,
        1.0 - vented_heat(flows) / LEAST_VAPOUR_HEAT,
        1.0 - released(flows.pool, flows.well, p) / warm_quench_power(p.vent.least_power, flows.rim_temperature),
    )


def lighting(flows: Flows, p: Parameters) -> float:
    """Guard of an open well's vapour that another flame lights.

    A flame drives steam off a watery well: the well's own vapour must burn, or it would go out again at once. So it
    would if it were too weak.
    """
    well, rim = flows.well, flows.rim_temperature
    fit = min(vented_heat(flows), well.heating_value) / (LIGHTER * LEAST_VAPOUR_HEAT) - 1.0
    ready = min(flows.pool.limit - 1.0, well.sheet / COLDEST_LIGHTING - 1.0, fit)
    if ready < 0.0:
        return ready
    flame = pool_flows(well, flows.walls.into_well, flows.walls.well_strips, rim, 1.0, flows.pool.closed, p)
    strong = released(flame, well, p) / (LIGHTER * warm_quench_power(p.vent.least_power, rim)) - 1.0
    return min(ready, flame_left(flame, well, p) / COLDEST_LIGHTING - 1.0, strong)


def kindled(flows: Flows, height: float, p: Parameters) -> float:
    """Guard of what can burn, so high over the foot [m], while a flame stands to light it.

    Flames at the jets and over the well stand beside each other. The wick's lights only what it reaches, and what its
    gas meets while that is hot enough.
    """
    if flows.regime.jets + flows.regime.well > 0.0:
        return 1.0
    return p.wick.kindling * flows.fire.wick_tip / height - 1.0


def guards(flows: Flows, p: Parameters) -> tuple[float, ...]:
    """The guards in the order of `EVENTS`; each is negative while nothing happens.

    Parameters
    ----------
    flows : flows of the instant
    p : parameters

    Returns
    -------
    tuple of float
    """
    fire = flows.fire
    regime = flows.regime
    pilot = flames_standing(regime)
    flammable = at_most(
        fire.jet_limit - 1.0, flows.gallery.sheet / (COLDEST_FLAME if regime.jets > 0.0 else COLDEST_LIGHTING) - 1.0
    )
    primer_out = NEVER
    if regime.wick > 0.0:
        primer_out = 1.0 - fire.wick_rate / p.wick.hold_rate
    vapour = NEVER
    jets_lit = NEVER
    jets_out = NEVER
    if p.gallery.present > 0.0:
        light = warm_quench_power(p.jets.light_power, flows.collar_temperature)
        vapour = at_most(fire.jet_potential / light - 1.0, flammable)
        if regime.jets > 0.0:
            hold = warm_quench_power(p.jets.hold_power, flows.collar_temperature)
            jets_out = at_least(1.0 - (1.0 - fire.wrapped) * fire.jet_potential / hold, -flammable)
        elif pilot > 0.0:
            own = at_most((1.0 - fire.wrapped) * fire.jet_potential / light - 1.0, flammable)
            jets_lit = at_most(own, kindled(flows, p.jets.mouth, p))
    well_lit = NEVER
    well_out = NEVER
    if p.vent.open > 0.0 and p.well.present > 0.0:
        if regime.well > 0.0:
            well_out = dying(flows, p)
        elif pilot > 0.0:
            well_lit = at_most(lighting(flows, p), kindled(flows, p.walls.top, p))
    boil = NEVER
    if p.pot.present > 0.0 and regime.boiling <= 0.0:
        boil = flows.pot_temperature - p.pot.boiling_point
    spill = NEVER
    if p.gallery.present > 0.0 and regime.spilling <= 0.0:
        spill = (froth_level(flows, p) - p.jets.lower_edge) / p.gallery.height
    if p.well.present > 0.0 and regime.spilling <= 0.0:
        spill = at_least(spill, (flows.well.level - p.well.lip) / p.well.height)
    gallery_dry = NEVER
    if p.gallery.present > 0.0:
        gallery_dry = DRY - flows.gallery.volume / p.gallery.film_volume
    well_dry = NEVER
    if p.well.present > 0.0:
        well_dry = DRY - flows.well.volume / p.well.film_volume
    return (primer_out, vapour, jets_lit, jets_out, well_lit, well_out, boil, spill, gallery_dry, well_dry)
