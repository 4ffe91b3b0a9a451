r"""Layers of fuel vapour that mix with air, burn and give heat along a wall.

A sheet of vapour leaves a ring, rises as a flame, spreads under a pot and climbs its side. Where it flows as a thin
layer, mixing across it is diffusion along the way: with the mass flow :math:`\psi` from the wall outwards as coordinate
(von Mises), for a layer w wide that moves at u,

.. math:: \frac{\partial Z}{\partial \tau} = \frac{\partial^2 Z}{\partial \psi^2}, \quad
    d\tau = \frac{\rho k}{c_p} w^2 u\, ds

So one number, the spread :math:`\tau` [kg2/s2], says how far a layer has come, whatever its width, speed and thickness
were on the way. Its root is the mass flow that has been mixed. Lewis number 1, an infinitely fast reaction (Burke and
Schumann 1928).
"""

from math import erf, log1p, pi, sqrt

from burnsim.bounds import at_least, at_most
from burnsim.closures._validity import closure
from burnsim.elementary import power

SHEET_SPEED = 0.9187
"""Speed in an upright hot sheet of even temperature over sqrt(g' z), Pr 0.7."""

SHEET_MIXING = 0.7791
"""Spread of such a sheet over that of a stream with its speed all across, for the heat that leaves it."""

SHEET_MOMENTUM = 1.4934
"""Mass flow that shares the sheet's momentum at its speed, over the root of its spread."""

SHEET_DRAWN = 2.2847
"""Mass flow of air that the sheet draws in, over the root of its spread."""

STAGNATION_FILM = 0.552
"""Spread of a wall's thermal layer over that of a stream with its speed right up to the wall, where the stream turns
along the wall and gains speed as it goes (Hiemenz), Pr 0.7: under a pot, where the flames' sheet is turned.

The film's coefficient goes with the root. A stream of even speed has 0.384 (Pohlhausen), and a coefficient a sixth
lower: by that the pot's bottom would take 8 % less than resolved flames give it.
"""

WALL_FILM = 0.468
"""The same along an upright wall, up which a buoyant stream gains speed at less than that rate: half-way between the
two.
"""

WALL_DRAG = 0.3464
"""The same of the momentum that the wall takes, by the viscosity: a plate in an even stream (Blasius)."""

DEPLETION = 1.0 / 3.0
"""Share of a mixed layer's loss that the gas next to its thermal layer has felt.

0 while the thermal layer is thin, 1 once it fills the layer. With a third, heat follows the exact solution for a slug
within 6 % while the spread grows two to twenty times.
"""

CORNER = 0.03
"""How far `flame_share` is rounded where its lines meet: its peak is 3 % lower, as dissociation makes it."""

_LEAST = 1e-30
_TWO_OVER_ROOT_PI = 2.0 / sqrt(pi)


@closure(height=(0.0, 1.0), width=(0.0, 5.0), g_reduced=(0.0, 80.0), exchange=(1e-6, 1e-4))
def sheet_spread(height: float, width: float, g_reduced: float, exchange: float) -> float:
    r"""Spread of an upright flame sheet that draws in air from one side.

    Parameters
    ----------
    height : above its foot [m].
    width : of the sheet [m].
    g_reduced : upward acceleration of its gas, from `reduced_gravity` [m/s2].
    exchange : density times conductivity over heat capacity, of the film [kg2/m4/s].

    Returns
    -------
    Spread [kg2/s2].

    Notes
    -----
    Natural convection on a free sheet of even temperature (the tests solve it):

    .. math:: f''' + 3 f f'' - 2 f'^2 + \theta = 0, \quad \theta'' + 3\, \mathrm{Pr} f \theta' = 0, \quad f''(0) = 0

    after the transformation of Howarth and Dorodnitsyn, in which the buoyancy is :math:`g\, (T_f / T_a - 1)` however
    hot the sheet. So

    .. math:: u = 0.919 \sqrt{g' z}, \quad \tau = 0.779\, \frac{\rho k}{c_p} w^2\, \tfrac{2}{3} u z

    What it draws in, :math:`2.285 \sqrt\tau`, over 1 m of width at 30 mm and 1500 K:

    >>> round(SHEET_DRAWN * sheet_spread(0.03, 1.0, 40.4, 2.19e-5) ** 0.5 * 1e3, 2)
    1.34

    References
    ----------
    E. Schmidt, W. Beckmann 1930, Tech. Mech. Thermodyn. 1, 341, with the boundary condition of B. Gebhart, L. Pera, A.
    W. Schorr 1970, Int. J. Heat Mass Transfer 13, 161. Compressible: K. Stewartson 1949, Proc. R. Soc. A 200, 84 (from
    memory).
    """
    size = at_least(height, 0.0)
    speed = SHEET_SPEED * sqrt(at_least(g_reduced, 0.0) * size)
    return SHEET_MIXING * exchange * width * width * speed * size / 1.5


@closure(fuel=(0.0, 1.0), mixed=(0.0, 10.0))
def mixture_at_wall(fuel: float, mixed: float) -> float:
    r"""Share of the vapour in the gas next to the wall, burnt or not.

    Parameters
    ----------
    fuel : flow of vapour [kg/s].
    mixed : root of the layer's spread [kg/s].

    Returns
    -------
    Mixture fraction Z [-], :math:`\operatorname{erf}(\dot m / (2 \sqrt\tau))`: a slug of vapour along a wall through
    which nothing passes.

    >>> round(mixture_at_wall(1.0, 1.0), 4)         # erf(1/2)
    0.5205

    References
    ----------
    H. S. Carslaw, J. C. Jaeger 1959, Conduction of Heat in Solids, 2.2.
    """
    return erf(0.5 * fuel / at_least(mixed, _LEAST))


@closure(air_fuel_ratio=(0.5, 20.0))
def flame_tip(air_fuel_ratio: float) -> float:
    r"""Mass flow that must be mixed, over that of the vapour, until the last of it burns.

    Parameters
    ----------
    air_fuel_ratio : stoichiometric, by mass [-].

    Returns
    -------
    Ratio [-] :math:`\sqrt\tau / \dot m` at which Z at the wall is stoichiometric:
    :math:`1 / (2 \operatorname{erf}^{-1} Z_{st})` with :math:`Z_{st} = 1/(1 + s)`.

    Notes
    -----
    .. math:: \operatorname{erf}^{-1} Z = z \left( 1 + \frac{z^2}{3} + \frac{7 z^4}{30} \right), \quad
        z = \frac{\sqrt\pi}{2} Z

    within 0.2 % up to Z = 0.5.

    >>> round(flame_tip(6.47), 3), round(mixture_at_wall(1.0, flame_tip(6.47)) * 7.47, 4)
    (4.195, 1.0)

    References
    ----------
    S. P. Burke, T. E. W. Schumann 1928, Ind. Eng. Chem. 20, 998 (the idea); series: M. Abramowitz, I. A. Stegun 1964,
    7.1.5 inverted.
    """
    z = 1.0 / (_TWO_OVER_ROOT_PI * (1.0 + at_least(air_fuel_ratio, 0.1)))
    square = z * z
    return 0.5 / (z * (1.0 + square / 3.0 + 7.0 / 30.0 * square * square))


@closure(standoff=(3e-4, 1e-2), g_reduced=(1.0, 80.0), exchange=(1e-6, 1e-4), air_fuel_ratio=(0.4, 20.0))
def sheet_quench_flow(standoff: float, g_reduced: float, exchange: float, air_fuel_ratio: float) -> float:
    r"""Least flow of vapour per width with which an upright sheet of flame lives beside cold metal.

    Parameters
    ----------
    standoff : distance from metal within which no flame lives; half of `quenching_distance` off a plate [m].
    g_reduced : upward acceleration of its gas, from `reduced_gravity` [m/s2].
    exchange : density times conductivity over heat capacity, of the film [kg2/m4/s].
    air_fuel_ratio : stoichiometric, by mass [-].

    Returns
    -------
    Mass flow [kg/s/m] of a sheet that would end where it would have to begin, as `quench_power` has it of a jet.

    Notes
    -----
    The sheet ends where :math:`\sqrt{\tau(d)}` of `sheet_spread` is `flame_tip` times its vapour.

    Methanol: 230 W/m round a rim, 2.3 g/m2/s over a pool of 2 cm:

    >>> flow = sheet_quench_flow(1.05e-3, 40.4, 2.19e-5, 6.47)
    >>> round(flow * 19.9e6, -1), round(1e3 * flow * 4.0 / 0.02, 1)
    (230.0, 2.3)

    References
    ----------
    Derived above. Least mass fluxes of pool burners of 25 to 100 mm begin at 1 g/m2/s: F. Vermina Plathner, J. G.
    Quintiere, P. van Hees 2019, Fire Safety J. 105, 51 (from memory, unverified).
    """
    spread = sheet_spread(standoff, 1.0, g_reduced, exchange)
    return float(sqrt(at_least(spread, 0.0)) / flame_tip(air_fuel_ratio))


@closure(mixed=(0.0, 10.0), tip=(0.0, 10.0), air_need=(0.0, 10.0))
def burnt_share(mixed: float, tip: float, air_need: float) -> float:
    r"""Share of a layer's vapour that has burnt.

    Parameters
    ----------
    mixed : root of the layer's spread [kg/s].
    tip : the same where the flame ends, the vapour's flow times `flame_tip` [kg/s].
    air_need : air that all of the vapour needs [kg/s].

    Returns
    -------
    Share [-], :math:`1 - (1 - x)^n` with x the root of the spread over that at the tip, at most 1, and n 2.285 times
    the latter over the need of air.

    Notes
    -----
    At its foot a flame burns what the air that it draws in can burn, at its tip all; in between it is the integral of
    Z above :math:`Z_{st}`, which the power follows within 0.06. What burns never needs more than the air drawn in,
    :math:`2.285 \sqrt\tau`.

    >>> round(burnt_share(0.1, 4.19, 6.47), 4) <= round(0.1 * SHEET_DRAWN / 6.47, 4)
    True
    >>> burnt_share(5.0, 4.19, 6.47)
    1.0

    References
    ----------
    As `flame_tip`; the power is ours (the tests integrate the slug).
    """
    left = 1.0 - mixed / at_least(tip, _LEAST)
    if left <= 0.0:
        return 1.0
    if left >= 1.0:
        return 0.0
    return 1.0 - power(left, SHEET_DRAWN * at_least(tip, 0.0) / at_least(air_need, _LEAST))


@closure(mixture=(0.0, 1.0), air_fuel_ratio=(0.5, 20.0))
def flame_share(mixture: float, air_fuel_ratio: float) -> float:
    """Sensible enthalpy of a mixture that has burnt what it can, over that of a stoichiometric one.

    Parameters
    ----------
    mixture : mass fraction of the vapour in it, burnt or not [-].
    air_fuel_ratio : stoichiometric, by mass [-].

    Returns
    -------
    Share [-]: :math:`Z / Z_{st}` in a lean mixture, :math:`(1 - Z) / (1 - Z_{st})` in a rich one, with
    :math:`Z_{st} = 1/(1 + s)`.

    Notes
    -----
    The corner in which the two lines meet is rounded (`CORNER`).

    Pure vapour and pure air carry nothing; half of each, by the lever rule:

    >>> round(flame_share(0.0, 6.47), 2), round(flame_share(1.0, 6.47), 2), round(flame_share(0.5, 6.47), 3)
    (0.0, 0.0, 0.577)

    References
    ----------
    S. P. Burke, T. E. W. Schumann 1928, Ind. Eng. Chem. 20, 998; N. Peters 2000, Turbulent Combustion, section 3.2
    (from memory).
    """
    lean = mixture * (1.0 + air_fuel_ratio)
    rich = (1.0 - mixture) * (1.0 + air_fuel_ratio) / at_least(air_fuel_ratio, 0.1)
    apart = lean - rich
    return 0.5 * (lean + rich - sqrt(apart * apart + 4.0 * CORNER * CORNER * lean * rich))


@closure(fuel=(0.0, 1.0), width=(0.0, 5.0), exchange=(1e-6, 1e-4), density=(0.01, 5.0), air_fuel_ratio=(0.5, 20.0))
def foot_reach(fuel: float, width: float, exchange: float, density: float, air_fuel_ratio: float) -> float:
    r"""How far upstream of a line of mouths in a wall the foot of its flame stands, over :math:`2 D/u`.

    Parameters
    ----------
    fuel : flow of vapour out of the wall [kg/s].
    width : of the line [m].
    exchange : density times conductivity over heat capacity, of the film [kg2/m4/s].
    density : of the film [kg/m3].
    air_fuel_ratio : stoichiometric, by mass [-].

    Returns
    -------
    Reach [-] over :math:`2 D/u`, with the diffusivity D and the speed u of the stream along the wall.

    Notes
    -----
    Vapour from a line source in a wall mixes into a stream as

    .. math:: Z = \frac{\dot m}{\pi \rho D w} K_0(r)\, e^x

    with lengths over :math:`2 D/u`; the foot is where Z is stoichiometric straight upstream,
    :math:`K_0(s)\, e^{-s} = 1/q` with :math:`q = \dot m / (\pi \rho D w Z_{st})`. Solved here by

    .. math:: s = 0.217 \ln\left( 1 + 2.81\, q^{1.94} \right)

    within 0.02 for q from 0.15 to 60.

    A tenth of a gram a second of methanol over 20 cm:

    >>> round(foot_reach(1e-4, 0.2, 2.2e-5, 0.3, 6.47), 2)
    1.4

    References
    ----------
    H. S. Carslaw, J. C. Jaeger 1959, Conduction of Heat in Solids, 10.7 (the moving line source).
    """
    strength = at_most(fuel * (1.0 + air_fuel_ratio) * density / at_least(pi * exchange * width, _LEAST), 1e9)
    if strength <= 0.0:
        return 0.0
    return 0.217 * log1p(2.81 * power(strength, 1.94))


@closure(taken=(0.0, 1e5), growth=(0.0, 10.0), drive=(0.0, 1e8), depletion=(0.0, 1e9))
def heat_taken(taken: float, growth: float, drive: float, depletion: float) -> float:
    r"""Heat that a wall has taken from a layer by the end of a stretch of its way.

    Parameters
    ----------
    taken : by its beginning [W].
    growth : of the wall's share of the spread along the stretch [kg2/s2].
    drive : enthalpy of the gas next to the thermal layer above that at the wall, without what was taken [J/kg].
    depletion : by how much the drive falls for each watt taken [J/kg/W].

    Returns
    -------
    Heat [W], at least `taken`.

    Notes
    -----
    A thermal layer is as thick as the enthalpy that it lacks says, so with the drive d the heat Q taken grows as

    .. math:: \frac{dQ}{d\tau} = \frac{2}{\pi} \frac{d^2}{Q}, \quad Q_1^2 = Q_0^2 + \frac{4}{\pi} d^2\, \Delta\tau

    which is exact for an even drive, :math:`Q = 2 d \sqrt{\tau/\pi}`. With the drive at the middle,
    :math:`d = d_0 - c\, (Q_0 + Q_1)/2`, the square is solved for :math:`Q_1`.

    >>> round(heat_taken(0.0, 1.0, 1.0, 0.0), 4)    # 2/sqrt(pi)
    1.1284

    References
    ----------
    G. S. Ambrok 1957, Sov. Phys. Tech. Phys. 2, 1979, as in W. M. Kays, M. E. Crawford, Convective Heat and Mass
    Transfer (from memory): a film that depends on the layer's enthalpy thickness alone.
    """
    middle = drive - 0.5 * depletion * taken
    if middle <= 0.0:
        return taken
    square = 4.0 / pi * growth
    whole = taken * taken + square * middle * middle
    root = sqrt(at_least(4.0 * whole - square * depletion * depletion * taken * taken, 0.0))
    return at_least(2.0 * whole / at_least(square * middle * depletion + root, _LEAST), taken)
