"""Fluids of different density that pass each other in one opening."""

from math import sqrt

from burnsim.bounds import at_least, at_most
from burnsim.closures._validity import closure
from burnsim.closures.orifice import velocity
from burnsim.constants import GRAVITY
from burnsim.elementary import power, third_root

DOORWAY = 0.8 / 3.0  # a third of the coefficient of openings in partitions, published from 0.6 to 1
LEAST_FLOW = 1e-150  # [kg/s]
SLENDEREST = 1e6  # length over diameter, from which on next to nothing passes


@closure(height=(1e-4, 0.1), density=(500.0, 1200.0), viscosity=(1e-5, 0.1))
def counterflow_speed(
    difference: float, height: float, density: float, viscosity: float, diameter: float, k_inf: float, k_lam: float
) -> float:
    r"""Speed of the counterflow that a difference of density drives through an upright opening with no net flow.

    Parameters
    ----------
    difference : of the densities on the two sides [kg/m3]; its sign does not matter.
    height : of the opening [m].
    density : mean of both [kg/m3].
    viscosity : [Pa s].
    diameter : hydraulic, of the opening [m].
    k_inf, k_lam : losses of the opening, from `inertial_loss` and `laminar_loss` [-].

    Returns
    -------
    Sum of the speeds of both streams, each over the whole area of the opening [m/s]: half of it goes either way.

    Notes
    -----
    The two columns balance at mid-height; above, the pressure that drives the lighter liquid rises from 0 to
    :math:`g\, \Delta\rho\, H / 2`. Each stream has half the opening. Without friction the mean speed is 2/3 of that at
    the edge, so that each way

    .. math:: Q = \frac{C}{3} A \sqrt{g H \Delta\rho / \rho}

    That is the flow under the uniform pressure :math:`\tfrac{2}{9} g\, \Delta\rho\, H`, and with it friction is counted
    by the loss of the opening.

    >>> speed = counterflow_speed(40.0, 0.3, 800.0, 0.0, 0.3, 1.0 / 0.6**2, 0.0)
    >>> round(speed / (9.80665 * 0.3 * 40.0 / 800.0) ** 0.5, 6)
    0.4

    References
    ----------
    W. G. Brown, K. R. Solvason 1962, Int. J. Heat Mass Transfer 5, 859, from memory; friction: reasoned here.
    """
    apart = difference if difference > 0.0 else -difference
    return velocity(2.0 / 9.0 * GRAVITY * height * apart, density, viscosity, diameter, k_inf, k_lam)


def exchange_number(slenderness: float) -> float:
    r"""Exchange flow of two fluids of nearly equal density through a level opening, over :math:`\sqrt{g' D^5}`.

    Parameters
    ----------
    slenderness : length of the opening over its diameter [-]; measured from 0.01 to 10.

    Returns
    -------
    Volume that passes each way, as a Froude number [-].

    Notes
    -----
    A plate's hole passes 0.055, a neck six tenths as long as it is wide the most, a long one less and less:

    >>> [round(exchange_number(x), 3) for x in (0.0, 0.3, 0.6, 10.0)]
    [0.055, 0.08, 0.095, 0.01]

    References
    ----------
    M. Epstein 1988, J. Heat Transfer 110, 885, brine over water: what it is and its range read in the abstract, the
    correlation from memory. It meets the three laws of its regimes that are remembered too: 0.055, 0.147
    :math:`\sqrt{L/D}` and 0.32 :math:`(L/D)^{-3/2}`.
    """
    square = slenderness * slenderness
    neck = 1.0 + 400.0 * square * slenderness
    long = square * square * square + 117.0 * square
    held = 1.0 + 0.00527 * sqrt(neck) * sqrt(long) * sqrt(sqrt(long))
    return 0.055 * power(neck, 1.0 / 6.0) / third_root(held)


@closure(diameter=(5e-3, 0.5), heavy=(0.3, 2.0), light=(0.02, 2.0), gain=(1.0, 2.0))
def exchange_flow(diameter: float, length: float, heavy: float, light: float, gain: float) -> float:
    r"""Heavy gas that comes down into a vessel while light gas leaves it by the same mouth.

    Parameters
    ----------
    diameter : of the vessel [m].
    length : of its wall above what makes the gas light [m].
    heavy, light : densities of both [kg/m3].
    gain : mass that leaves for each that comes down [-].

    Returns
    -------
    Mass that comes down [kg/s].

    Notes
    -----
    Two fluids that pass each other in a neck hold each other back (flooding): the roots of their fluxes, made
    dimensionless with :math:`\sqrt{g\, \Delta\rho\, D}` and their own densities, have a sum that the neck decides. That
    of fluids of nearly equal density is known (`exchange_number`), and is taken for gases too, of which the light one
    takes six times the room that the heavy one does:

    .. math:: \dot m_n = A \sqrt{g\, \Delta\rho\, D}\; \frac{16\, \mathrm{Fr} / \pi}
        {\left(\sqrt{b}\, \rho_l^{-1/4} + \rho_h^{-1/4}\right)^2}

    A shallow vessel has no room for it: what comes over the lip on one side runs in below the light gas as through a
    doorway as high as the wall (`counterflow_speed`),

    .. math:: \dot m_d = \frac{0.8}{3} D H \sqrt{g H \rho_h\, \Delta\rho}

    The head that drives both is the same, and each takes its part of it: :math:`\dot m^{-2} = \dot m_n^{-2} + \dot
    m_d^{-2}`, an estimate. Resolved in three dimensions, a well of 46 mm, 25 mm deep, takes the air for 260 to 317 W.
    One 52 mm wide, at 3.1 MJ for each kilogram:

    >>> [round(3.1e6 * exchange_flow(0.052, depth, 1.2, 0.235, 1.15)) for depth in (0.004, 0.025)]
    [36, 298]

    References
    ----------
    G. B. Wallis 1969, One-dimensional Two-phase Flow, chapter 11 (flooding), from memory. W. G. Brown, K. R. Solvason
    1962, Int. J. Heat Mass Transfer 5, 859, from memory.
    """
    if length <= 0.0 or diameter <= 0.0 or light <= 0.0 or heavy <= light:
        return 0.0
    roots = light_root(light, gain) + sqrt(1.0 / sqrt(heavy))
    drive = sqrt(GRAVITY * (heavy - light) * diameter)
    number = exchange_number(at_most(length / diameter, SLENDEREST))
    neck = 4.0 * diameter * diameter * drive * number / (roots * roots)
    doorway = DOORWAY * diameter * length * sqrt(GRAVITY * length * heavy * (heavy - light))
    return neck * doorway / at_least(sqrt(neck * neck + doorway * doorway), LEAST_FLOW)


def light_root(light: float, gain: float) -> float:
    """Root of the light fluid's flux in the law of flooding, over that of the heavy one's mass."""
    return sqrt(at_least(gain, 0.0) / sqrt(light))


@closure(heavy=(0.3, 2.0), light=(0.02, 2.0), gain=(1.0, 2.0))
def light_share(heavy: float, light: float, gain: float) -> float:
    r"""Share of a mouth that light gas fills while heavy gas comes down through the rest.

    Parameters
    ----------
    heavy, light : densities of both [kg/m3].
    gain : mass that leaves for each that comes down [-].

    Returns
    -------
    Share [-], :math:`\sqrt{b}\, \rho_l^{-1/4} / (\sqrt{b}\, \rho_l^{-1/4} + \rho_h^{-1/4})`.

    Notes
    -----
    Each flux is driven by the same head, so that its root is as its share. Resolved in three dimensions, gas fills 0.64
    to 0.67 of the mouth of a well in which methanol burns:

    >>> round(light_share(1.2, 0.235, 1.15), 2)
    0.62

    References
    ----------
    G. B. Wallis 1969, One-dimensional Two-phase Flow, chapter 11 (flooding), from memory.
    """
    if light <= 0.0 or heavy <= 0.0:
        return 0.0
    root = light_root(light, gain)
    return root / (root + sqrt(1.0 / sqrt(heavy)))
