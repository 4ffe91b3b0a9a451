"""The laminar fire of a wet band along the foot of an upright wall: burning, flame height, heat to the wall above."""

from math import exp, log1p, sqrt

from burnsim.bounds import at_least, within
from burnsim.closures._validity import closure
from burnsim.constants import GRAVITY
from burnsim.elementary import power, third_root
from burnsim.substances.air import density as air_density
from burnsim.substances.air import viscosity as air_viscosity

FLUX_FACTOR = 0.2601
"""Factor of the stream function at the surface of a laminar wall fire, fitted to its similarity solution."""

FLUX_POWERS = (1.310, -0.273, 0.1395)
"""Powers in that fit: of ln(1 + B), of B, and of the flame's relative rise of temperature."""

WALL_FACTOR = 0.80
"""Heat transfer to the dry wall inside the flame, in the variables of the boundary layer at the height of the band."""

TIP_FACTOR = 0.384
"""Height of the flame in the variables of the boundary layer, for a flame much higher than its band."""

FLAME_GAS_HEAT = 1300.0
"""Mean heat capacity of the gas in a flame's boundary layer, 300 to 2000 K [J/kg/K]."""

LID_REACH = 12e-3
"""Distance below a lid over which the wall's heat comes back [m]."""

STEADY, LICKING = 0.08 / 0.14, 0.20 / 0.14
"""Heights over the tip's up to which a flame always stands, and up to which it licks now and then [-]."""

PLUME_RISE, PLUME_POWER = 0.45, 1.35
"""Hottest gas at a wall fire's tip, over the flame's own rise of temperature, and the power of height it falls with."""

_SMALLEST = 1e-6
_THIRD = 1.0 / 3.0


def draught_scale(T_ambient: float, pressure: float) -> float:
    """mu (g/(4 nu^2))^(1/4) of the ambient air [kg/s/m^(7/4)], which scales all that a laminar wall fire draws in."""
    viscosity = air_viscosity(T_ambient)
    nu = viscosity / air_density(T_ambient, at_least(pressure, 1.0))
    return viscosity * sqrt(sqrt(0.25 * GRAVITY / (nu * nu)))


@closure(
    height=(2e-3, 0.15), transfer=(0.3, 6.0), T_flame=(1400.0, 2300.0), T_ambient=(230.0, 330.0), pressure=(4e4, 1.1e5)
)
def wall_fire_flux(height: float, transfer: float, T_flame: float, T_ambient: float, pressure: float) -> float:
    r"""Mean mass flux of fuel from an upright band that burns in a laminar flame, with no radiation back to it.

    Parameters
    ----------
    height : of the band [m].
    transfer : its transfer number B [-], from `spalding_number`.
    T_flame : of the flame's sheet [K].
    T_ambient : of the air [K].
    pressure : absolute [Pa].

    Returns
    -------
    Mean over the height [kg/m2/s]. It falls with the height's power 1/4.

    Notes
    -----
    Boundary layer of natural convection with a sheet of infinitely fast chemistry, with :math:`\rho \mu \sim T^{-0.3}`
    and Pr 0.7:

    .. math:: f''' + 3 f f'' - 2 f'^2 + T/T_a - 1 = 0, \quad Z'' + 3\, \mathrm{Pr} f Z' = 0

    .. math:: f'(0) = 0, \quad 3\, \mathrm{Pr} f(0) (1 - Z_w) = Z'(0), \quad Z_w = B/(1 + B)

    The flux is

    .. math:: \dot m'' = -4 f(0)\, \mu_a \left( \frac{g}{4 \nu_a^2} \right)^{1/4} H^{-1/4}, \quad
        -f(0) = 0.2601 \frac{\ln(1 + B)^{1.310}}{B^{0.273}} \left( \frac{T_f}{T_a} - 1 \right)^{0.1395}

    within 3 % for B of 0.3 to 6, 1500 to 2100 K and air-fuel ratios of 4 to 11 (the tests solve the equations). Heat
    that the band absorbs besides, or loses, moves it by `flux_yield`.

    Methanol on a band of 80 mm burns 15.5 to 18 g/m2/s, of which the flame's radiation brings about 1.

    >>> round(wall_fire_flux(0.08, 2.2, 2010.0, 293.0, 101325.0) * 1e3, 1)
    14.4

    References
    ----------
    J. S. Kim, J. de Ris, F. W. Kroesser 1971, Proc. Combust. Inst. 13, 949; J. J. Kosdon, F. A. Williams, C. Buman
    1969, Proc. Combust. Inst. 12, 253 (both from memory, unverified). Measured: A. V. Singh, M. J. Gollner 2015,
    Combust. Flame 162, 2214.
    """
    number = at_least(transfer, 1e-3)
    rise = at_least(T_flame / at_least(T_ambient, 1.0) - 1.0, 0.1)
    ln, plain, hot = FLUX_POWERS
    stream = FLUX_FACTOR * log1p(number) ** ln * number**plain * rise**hot
    return float(4.0 * stream * draught_scale(T_ambient, pressure) / sqrt(sqrt(at_least(height, _SMALLEST))))


@closure(transfer=(0.1, 10.0))
def flux_yield(transfer: float) -> float:
    r"""Share of a small heat to a burning surface that goes into more vapour; the rest thins the flame's own heat.

    Parameters
    ----------
    transfer : transfer number B [-].

    Returns
    -------
    Share y [-]: a surface that gets the flux q more than its flame's convection burns :math:`y q/L` faster, with its
    heat of gasification L.

    Notes
    -----
    Film theory, and what it gives to first order in q:

    .. math:: \dot m'' L = \frac{h}{c_p} B L \frac{F}{e^F - 1} + q, \quad F = \frac{\dot m'' c_p}{h}

    .. math:: y = \frac{B}{(1 + B) \ln(1 + B)}

    1 where nothing blows, less where the vapour thickens the film.

    >>> round(flux_yield(2.5), 2)
    0.57

    References
    ----------
    Derived above from R. B. Bird, W. E. Stewart, E. N. Lightfoot 2007, Transport Phenomena, film theory at high rates.
    """
    number = at_least(transfer, 1e-3)
    return number / ((1.0 + number) * log1p(number))


@closure(
    height=(2e-3, 0.15), diameter=(0.02, 10.0), conductivity=(0.02, 0.15), T_ambient=(230.0, 330.0),
    pressure=(4e4, 1.1e5),
)  # fmt: skip
def wall_fire_coefficient(
    height: float, diameter: float, conductivity: float, T_ambient: float, pressure: float
) -> float:
    r"""Heat transfer coefficient between a wall fire's sheet and the dry wall above its band, up to the flame's tip.

    Parameters
    ----------
    height : of the band [m].
    diameter : of the round wall [m].
    conductivity : of the gas between sheet and wall [W/m/K].
    T_ambient : of the air [K].
    pressure : absolute [Pa].

    Returns
    -------
    h [W/m2/K] by the difference of sheet and wall; nearly even up to the flame's tip, whatever the flame's power.

    Notes
    -----
    The boundary layer of `wall_fire_flux`, marched on up a dry wall of 450 K: the sheet goes on at nearly the distance
    at which the band left it, and the heat is

    .. math:: h = 0.80\, c_p \mu_a \left( \frac{g}{4 \nu_a^2} \right)^{1/4} H^{-1/4}

    within 8 % for bands of 6 to 24 mm and powers of 3.5 to 10 kW/m, 0.5 to 1.5 times the band's natural burning
    (`tests/closures/wall_flow.py` marches it). A layer of thickness :math:`k/h` round a wall of diameter D conducts
    :math:`1 + k/(h D)` times as well as a plane one.

    Flames resolved on a round wall give 1.25 times this without radiation and dissociation, as they should with a sheet
    hotter by a tenth.

    >>> round(wall_fire_coefficient(0.012, 0.062, 0.077, 293.0, 101325.0), 1)
    19.7

    References
    ----------
    P. J. Pagni, T. M. Shih 1977, Proc. Combust. Inst. 16, 1329 (the flame above the band; from memory, unverified).
    """
    plane = WALL_FACTOR * FLAME_GAS_HEAT * draught_scale(T_ambient, pressure) / sqrt(sqrt(at_least(height, _SMALLEST)))
    return plane + conductivity / at_least(diameter, _SMALLEST)


@closure(
    heat_per_length=(0.0, 2e4), height=(2e-3, 0.15), heat_per_air=(2e6, 4e6), T_ambient=(230.0, 330.0),
    pressure=(4e4, 1.1e5),
)  # fmt: skip
def wall_flame_tip(
    heat_per_length: float, height: float, heat_per_air: float, T_ambient: float, pressure: float
) -> float:
    r"""Height of the laminar flame over a band that burns along the foot of a wall, from the band's foot.

    Parameters
    ----------
    heat_per_length : heat release per width of wall [W/m].
    height : of the band [m].
    heat_per_air : heat of combustion per mass of air [J/kg], some 3 MJ/kg.
    T_ambient : of the air [K].
    pressure : absolute [Pa].

    Returns
    -------
    Height of the tip [m], along the way that the gas takes.

    Notes
    -----
    In the boundary layer of `wall_fire_flux` the flame ends where enough air has diffused in:

    .. math:: z = 0.384 \left( \frac{\dot Q'}{\Delta H_\mathrm{air}\, \mu_a\, (g/(4 \nu_a^2))^{1/4}} \right)^{4/3}

    some 8 mm :math:`(\dot Q'/1\,\mathrm{kW/m})^{4/3}`, for flames much higher than their band. Lower ones hang together
    with the band: :math:`z^3 = z_\mathrm{free}^3 + H^3`, within 15 %. Turbulent above some 20 kW/m, where the power
    becomes 2/3.

    Resolved flames end 41, 64 and 74 mm along their way at 3.54, 4.88 and 5.90 kW/m.

    >>> [round(1e3 * wall_flame_tip(1e3 * q, 0.012, 3.08e6, 293.0, 101325.0)) for q in (3.54, 4.88, 5.90)]
    [44, 67, 87]

    References
    ----------
    P. J. Pagni, T. M. Shih 1977, Proc. Combust. Inst. 16, 1329; M. A. Delichatsios 1984, Combust. Sci. Technol. 39, 195
    (the powers 4/3 and 2/3; both from memory, unverified).
    """
    drawn = at_least(heat_per_air, 1.0) * at_least(draught_scale(T_ambient, pressure), 1e-12)
    strength = within(heat_per_length / drawn, 0.0, 1e6)  # the free tip goes as its power 4/3
    band = within(height, 0.0, 1e3)
    square = strength * strength
    return third_root(TIP_FACTOR * TIP_FACTOR * TIP_FACTOR * square * square + band * band * band)


@closure(low=(0.0, 0.3), high=(0.0, 0.3), tip=(0.0, 1.0))
def flame_cover(low: float, high: float, tip: float) -> float:
    r"""Mean heat to a stretch of wall over a wall fire, as a share of that inside the flame.

    Parameters
    ----------
    low, high : the stretch, from the band's foot [m].
    tip : height of the flame [m], from `wall_flame_tip`.

    Returns
    -------
    Share [-]: 1 up to the tip, and :math:`(z_\mathrm{tip}/z)^3` beyond it, averaged.

    Notes
    -----
    The march behind `wall_fire_coefficient` gives 0.39, 0.18 and 0.11 of the heat at 1.4, 1.9 and 2.3 times the tip's
    height. The power 3 is a fit.

    >>> flame_cover(0.01, 0.02, 0.05), round(flame_cover(0.0, 0.02, 0.01), 9)
    (1.0, 0.6875)

    References
    ----------
    As `wall_fire_coefficient`.
    """
    foot = within(low, 0.0, 1e3)
    length = within(high - foot, _SMALLEST, 1e3)
    top = foot + length
    if tip >= top:
        return 1.0
    if tip <= 0.0:
        return 0.0
    start = at_least(foot, tip)
    tail = 0.5 * tip * (tip / start * (tip / start) - tip / top * (tip / top))
    return (start - foot + tail) / length


@closure(height=(0.0, 0.3), tip=(0.0, 1.0))
def wall_flame_presence(height: float, tip: float) -> float:
    r"""Share of the time, or of its width, for which a wall fire's flame stands at a height.

    Parameters
    ----------
    height : from the band's foot [m].
    tip : mean height of the flame [m], from `wall_flame_tip`.

    Returns
    -------
    Share [-]: 1 up to 0.57 of the tip's height, 1/2 at the tip, 0 from 1.43 times its height on.

    Notes
    -----
    In fires the flame always stands up to :math:`z/\dot Q^{2/5}` of 0.08 m/kW^(2/5), and from 0.20 on never does. Its
    mean tip is taken half-way, at 0.14, and the share falls as :math:`s^2 (3 - 2 s)` with

    .. math:: s = \frac{0.20 - 0.14\, z/z_\mathrm{tip}}{0.20 - 0.08}

    Those fires were turbulent, 14 to 58 kW. A laminar flame flickers less, but the spirit in a band and the draught
    round it are uneven: an estimate for it.

    >>> [round(wall_flame_presence(z, 0.04), 3) for z in (0.02, 0.03, 0.04, 0.05, 0.06)]
    [1.0, 0.888, 0.5, 0.112, 0.0]

    References
    ----------
    B. J. McCaffrey 1979, Purely buoyant diffusion flames: some experimental results, NBSIR 79-1910 (from memory,
    unverified).
    """
    reach = LICKING * at_least(tip, 0.0) - at_least(height, 0.0)
    if reach <= 0.0:
        return 0.0
    share = within(reach / at_least((LICKING - STEADY) * tip, _SMALLEST), 0.0, 1.0)
    return share * share * (3.0 - 2.0 * share)


@closure(tip=(0.0, 1.0), T_flame=(1400.0, 2300.0), T_ambient=(230.0, 330.0), T_gas=(600.0, 1400.0))
def wall_plume_reach(tip: float, T_flame: float, T_ambient: float, T_gas: float) -> float:
    r"""Height up to which the hottest gas over a wall fire is as hot as asked.

    Parameters
    ----------
    tip : height of the flame [m], from `wall_flame_tip`.
    T_flame, T_ambient : of the flame's sheet and of the air [K].
    T_gas : asked for [K].

    Returns
    -------
    Height [m] from the band's foot.

    Notes
    -----
    Near its tip the sheet leans on the cold wall, and above it hot gas only mixes with air. In the march behind
    `wall_fire_coefficient` the hottest gas falls, from 0.8 to twice the tip's height, as

    .. math:: T - T_a = 0.45\, (T_f - T_a)\, (z_\mathrm{tip}/z)^{1.35}

    within 0.03 of the flame's rise, for walls of 450 K and flames more than twice as high as their band, of 2.5 to 6
    kW/m. It is 0.04 to 0.07 higher at walls of 600 K, 0.03 lower at walls of 340 K, and 0.06 lower over flames half as
    high again as their band. A laminar plane plume without a wall falls with the power 0.6.

    Gas of 1150 K ends a little below the tip of a flame of 2000 K, gas of 800 K a third above it:

    >>> [round(wall_plume_reach(0.04, 2000.0, 293.0, T), 4) for T in (1150.0, 800.0)]
    [0.0369, 0.0544]

    References
    ----------
    P. J. Pagni, T. M. Shih 1977, Proc. Combust. Inst. 16, 1329 (the flame above the band; from memory, unverified).
    """
    asked = at_least(T_gas - T_ambient, 1.0)
    return at_least(tip, 0.0) * power(PLUME_RISE * at_least(T_flame - T_ambient, 0.0) / asked, 1.0 / PLUME_POWER)


@closure(low=(0.0, 0.3), high=(0.0, 0.3), lid=(0.0, 0.4))
def share_under_lid(low: float, high: float, lid: float) -> float:
    r"""Mean heat to a stretch of wall below a wide flat lid, which turns the flame outwards: a share of that without.

    Parameters
    ----------
    low, high : the stretch [m].
    lid : height of the lid, from the same foot [m].

    Returns
    -------
    Share [-]: :math:`1 - \exp(-d / 12\,\mathrm{mm})` at a distance d below the lid, averaged.

    Notes
    -----
    The gas leaves the wall about two of its layers before it meets the lid. Fitted to resolved flames, which give the
    stretch from 6 to 25 mm below a lid 0.77, and at 10 mm more distance 0.92, of the heat without it, and the 6 mm next
    below it 0.18, and 0.66.

    >>> round(share_under_lid(20e-3, 39e-3, 46.5e-3), 2), round(share_under_lid(39e-3, 45e-3, 55e-3), 2)
    (0.73, 0.66)

    References
    ----------
    The wick's flames in benchmarks/resolved/cases.toml, computed by a general flow solver.
    """
    length = within(high - low, _SMALLEST, 1e3)
    near = within(lid - high, 0.0, 1e3)
    return 1.0 - LID_REACH * (exp(-near / LID_REACH) - exp(-(near + length) / LID_REACH)) / length
