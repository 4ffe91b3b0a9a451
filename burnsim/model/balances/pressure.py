"""Boiling and evaporation of a compartment, and the quasi-steady gauge pressure that drives its gas out.

Pressures are gauge pressures throughout: they are 1 to 500 Pa on top of 1e5. Vapour made equals vapour leaving at
that pressure, and what condenses on a pot that covers the chamber.

Boiling is a partition, not a superheat of the bulk. Liquid that is heated from its walls is stratified: what is hot
collects on top and boils while the mean is still many kelvin below the bubble point, and bubbles survive in it (Saha
and Zuber). The share of the hot walls' heat that leaves as vapour grows to 1 (`bubble_share`) over the last so many
kelvin of the mean's subcooling (`Liquid.onset`, at which it is a thirteenth): those in which bubbles survive
(`BUBBLE_SUBCOOLING`), and those by which the top is hotter than the mean (`HOT_TOP`). The rest warms the bulk. The mean
is that of the liquid above what has come in cold (`chill`, see `model/balances/slots.py`); evaporation and the walls'
own onset of boiling go by the mean of all, which differs by 1 to 3 K in burns that are alight. A bulk above its bubble
point flashes besides, by Cooper. The superheat comes from ln(p_bubble/p): no search for a saturation temperature in the
loop.
"""

from math import exp, log

from burnsim.bounds import at_least, at_most
from burnsim.closures.boiling import cooper_heat_flux
from burnsim.closures.evaporation import RICHEST, stefan_flux
from burnsim.closures.orifice import gas_pressure, velocity
from burnsim.constants import GAS_CONSTANT
from burnsim.model.balances.chambers import HOTTEST_LIQUID, Liquid, fade
from burnsim.model.balances.pot.reflux import Lid, refluxed
from burnsim.model.parameters.record import Chamber, Outlet, Parameters
from burnsim.substances.fuel import diffusivity

BUBBLE_SUBCOOLING = 5.0
"""Subcooling of the liquid on top in which bubbles survive [K].

Saha and Zuber (1974), Proc. 5th Int. Heat Transfer Conf. B4.7: 0.0022 q d/k at low flow with 40 kW/m2, a gap of 4.5 mm
(hydraulic diameter 9 mm) and 0.17 W/m/K. From memory, unverified; the factor `boiling_onset` multiplies it.
"""

HOT_TOP = 0.63
"""How much hotter than its mean a liquid is on top, over how much hotter its wall is at the waterline.

Solved by us (`tests/liquid_slab.py`, which agrees with a general flow solver within 1 %): the liquid rises along the
wall and spreads on top, and what it has taken up there settles within seconds. The ratio hardly depends on anything:
0.56 to 0.75 in twelve cases of methanol and ethanol, 8, 15 and 25 mm deep, 3, 6 and 12 mm wide, with 30 to 240 W on a
metre of wall that passes 0.0024 to 0.12 W/K, put in at the waterline or evenly, by one wall or both. The top comes up
within 5 s, as a filling box does (`turnover`): `hot_top` is a state for the gallery; a well, whose flame lasts for
minutes, has it at once.
"""

ROUNDED = 0.2  # share of the heat over which `bubble_share` is rounded off at the onset
FREE = 0.05  # of the onset, above which it falls as the subcooling

VAPOUR_GAMMA = 1.13  # ratio of specific heats of alcohol vapour near 400 K


def boil_rate(body: Liquid, heating: float, gauge: float, p: Parameters) -> float:
    """Vapour made by boiling in a compartment at a gauge pressure [mol/s].

    Heat that the hot walls pass to the liquid leaves as vapour the more, the nearer what lies on top is to its bubble
    point (`Liquid.onset`: bubbles then survive their way up), and warms the bulk when it is colder. A bulk above its
    bubble point flashes besides, by Cooper's pool boiling law on the wetted metal. The superheat comes from
    ln(p_bubble/p) and needs no search for a saturation temperature.

    Parameters
    ----------
    body : the liquid
    heating : heat that the walls pass to it [W]
    gauge : pressure of the compartment [Pa]
    p : parameters
    """
    superheat = body.superheat + body.chill
    if gauge > 0.0:
        bounded = at_most(body.temperature, HOTTEST_LIQUID)
        superheat -= GAS_CONSTANT * bounded * bounded / body.latent * log(1.0 + gauge / p.site.pressure)
    if superheat >= 0.0:
        direct = heating * body.wet if heating > 0.0 else 0.0
        return (direct + body.area * cooper_heat_flux(superheat, p.boil_coefficient)) / body.latent
    if heating <= 0.0:
        return 0.0
    return bubble_share(-superheat, body.onset) * heating * body.wet / body.latent


def bubble_share(subcooling: float, onset: float) -> float:
    """Share of the heat from hot walls that leaves a subcooled liquid as vapour.

    1 - x^2/(x + 1/20) with x = subcooling/onset, rounded off where it comes to nothing. Read off liquid that is solved
    beside a heated wall and boils wherever it is hot enough (`tests/liquid_slab.py`): nine cases of methanol, 6 to 20
    mm deep, 4.5 and 10 mm wide, with 60 to 470 W on a metre of wall that passes 0.003 to 0.05 W/K, give off 0.71 to
    0.86 of it at a quarter of the onset, 0.47 to 0.74 at half, 0.23 to 0.54 at three quarters and 0.02 to 0.17 at the
    onset. It follows the heat within seconds when that changes.

    Parameters
    ----------
    subcooling : of the mean, not negative [K]
    onset : that at which a thirteenth of it does (`Liquid.onset`), and beyond five quarters of which none [K]

    >>> [round(bubble_share(k, 20.0), 2) for k in (0.0, 5.0, 10.0, 15.0, 20.0, 24.0)]
    [1.0, 0.79, 0.55, 0.3, 0.08, 0.0]
    """
    part = subcooling / onset
    share = 1.0 - part * part / (part + FREE)
    if share >= ROUNDED:
        return share
    return 0.25 * (share + ROUNDED) * (share + ROUNDED) / ROUNDED if share > -ROUNDED else 0.0


def outlet_pressure(
    flow: float, mass: float, temperature: float, gas_viscosity: float, outlet: Outlet, pressure: float
) -> float:
    """Gauge pressure that drives a molar flow of gas through an outlet to the open air [Pa]; odd in the flow.

    Beside holes, a leak takes part where it alone would need less pressure. Shared, both would need less still: this
    errs high, by a factor of four at most (both alike).
    """
    if outlet.holes <= 0.0:
        volume_flow = flow * GAS_CONSTANT * temperature / pressure
        return volume_flow * gas_viscosity / outlet.leak
    through_holes = gas_pressure(
        flow * mass / outlet.holes,
        outlet.diameter,
        outlet.inertial_loss,
        outlet.laminar_loss,
        temperature,
        mass,
        VAPOUR_GAMMA,
        gas_viscosity,
        pressure,
    )
    if outlet.leak <= 0.0:
        return through_holes
    through_leak = flow * GAS_CONSTANT * temperature / pressure * gas_viscosity / outlet.leak
    return at_most(through_holes, through_leak) if flow > 0.0 else at_least(through_holes, through_leak)


def blow_rate(
    drive: float, exposed: float, mass: float, temperature: float, gas_viscosity: float, p: Parameters
) -> float:
    """Vapour that passes an exposed share of the feed slots under a driving pressure [mol/s].

    Liquid on the far side closes the slots by its menisci: they give way one after another, up to 4 sigma/d.
    """
    if drive <= 0.0 or exposed <= 0.0:
        return 0.0
    concentration = p.site.pressure / (GAS_CONSTANT * temperature)
    slots = p.slots
    speed = velocity(
        drive, concentration * mass, gas_viscosity, slots.diameter, slots.inertial_loss, slots.laminar_loss
    )
    passing = exposed * fade(drive / slots.bubble)
    return passing * slots.area * speed * concentration


def chamber_gauge(
    body: Liquid,
    heating: float,
    boiled: float,
    leaving: float,
    base: float,
    through: float,
    mass: float,
    temperature: float,
    gas_viscosity: float,
    outlet: Outlet,
    lid: Lid,
    p: Parameters,
) -> float:
    """Gauge pressure at which a chamber's outlet passes just what is made there and does not condense again [Pa].

    Solves p = outlet(net(leaving*boil(p) + base) + through) by a secant kept inside a bracket: the left side rises with
    p, the right side falls, since a lid leaves the more to leave the more is made. So the root is unique and lies
    between 0 and the pressure of the unthrottled boiling rate. It is converged to rounding, so that difference
    quotients of it are smooth.

    Parameters
    ----------
    body : the chamber's liquid
    heating : heat that its walls pass to it [W]
    boiled : at ambient pressure [mol/s]
    leaving : share of what boils that leaves by the outlet
    base : gas that leaves by the outlet besides what boiling makes; negative where some leaves otherwise [mol/s]
    through : gas from elsewhere that leaves by the outlet and does not condense on the lid [mol/s]
    mass, temperature, gas_viscosity : of the gas at the outlet [kg/mol, K, Pa s]
    outlet : the holes
    lid : what covers the chamber, and vapour condenses on
    p : parameters
    """
    ambient = p.site.pressure
    low = 0.0
    flow = leaving * boiled + base
    high = outlet_pressure(flow + through - refluxed(flow, lid).back, mass, temperature, gas_viscosity, outlet, ambient)
    if high <= 1e-4:
        return high  # so little holds boiling back by one part in a hundred thousand at most
    before, gap_before = 0.0, high
    gauge = high
    for count in range(80):
        flow = leaving * boil_rate(body, heating, gauge, p) + base
        flow += through - refluxed(flow, lid).back
        gap = outlet_pressure(flow, mass, temperature, gas_viscosity, outlet, ambient) - gauge
        if gap > 0.0:
            low = gauge
        else:
            high = gauge
        slope = (gap - gap_before) / (gauge - before) if gauge != before else -1.0
        slope = slope if slope < -1e-3 else -1e-3
        before, gap_before = gauge, gap
        gauge -= gap / slope
        # the secant's next error is about the last one times the change of slope: far below this for weak coupling
        if abs(gap) <= 1e-5 * before and abs(1.0 + slope) <= 1e-2:
            break
        if abs(gap) <= 1e-12 * before + 1e-13:
            break
        if count > 12 or not low < gauge < high:
            gauge = 0.5 * (low + high)
        if high - low <= 1e-12 * high:
            break
    return gauge


def evaporation_rate(body: Liquid, chamber: Chamber, air_above: float, p: Parameters) -> float:
    """Vapour that diffuses from a quiet surface into gas of a given air fraction [mol/s], never negative."""
    pressure = p.site.pressure
    film = body.temperature
    concentration = pressure / (GAS_CONSTANT * film)
    surface = at_most(body.bubble_pressure / pressure, RICHEST)
    flux = stefan_flux(
        diffusivity(film, pressure, p.fuel),
        chamber.diffusion_length,
        concentration,
        surface,
        at_most(1.0 - air_above, RICHEST),
    )
    return body.wet * chamber.area * at_least(flux, 0.0)


def wall_heated_temperature(flow: float, heat_capacity: float, transfer: float, entry: float, wall_top: float) -> float:
    """Temperature of vapour after a wall whose temperature rises linearly from `entry` to `wall_top` [K].

    dT/dz = NTU (T_wall(z) - T) gives T_out = T_top - (T_top - T_in)(1 - exp(-NTU))/NTU.

    Parameters
    ----------
    flow : [mol/s]
    heat_capacity : [J/mol/K]
    transfer : coefficient times area [W/K]
    entry, wall_top : [K]

    >>> round(wall_heated_temperature(1.0, 1.0, 1e9, 340.0, 440.0), 3)
    440.0
    """
    if flow <= 0.0 or transfer <= 0.0:
        return entry
    units = transfer / (flow * heat_capacity)
    if units < 1e-6:
        return entry
    return wall_top - (wall_top - entry) * (1.0 - exp(-units)) / units
