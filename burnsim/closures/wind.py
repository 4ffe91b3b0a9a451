"""Wind across small flames: the air that it blows into them, how far it bends them, and when it puts them out.

Wind blows air into the flames as a laminar sheet, combined with their own draught by cubes, and carries their gas
past the pot.
"""

from math import acos, exp, pi, sqrt

from burnsim.bounds import at_least, at_most, within
from burnsim.closures._validity import closure
from burnsim.closures.plume import OPENING_DISCHARGE
from burnsim.constants import GRAVITY

_SMALLEST = 1e-12

CYLINDER_PRESSURES = 1.4
"""Difference of pressure between the windward and the leeward half of an upright cylinder, over the wind's own.

Some +0.7 on the windward half and -0.7 on the lee, means over each half below the critical Reynolds number (from memory
of measured curves, unverified).
"""

EDDY_DECAY = 4.21
"""How fast the eddies in a slot between parallel walls weaken with depth: as exp(-4.21 z/width) (Moffatt 1964)."""

EXTINCTION_STRAIN = 400.0
"""Strain rate of the air at which alcohol diffusion flames go out [1/s].

Opposed flows of air against methanol and ethanol: 350 to 550 1/s (from memory of measurements, unverified).
"""


@closure(wind=(0.0, 10.0), rise=(0.0, 0.3), g_reduced=(1.0, 80.0))
def wind_drift(wind: float, rise: float, g_reduced: float) -> float:
    r"""How far a wind carries flame gas aside while it rises to a height.

    Parameters
    ----------
    wind : [m/s].
    rise : height to which the gas rises from rest [m].
    g_reduced : upward acceleration, from `reduced_gravity` [m/s2].

    Returns
    -------
    Drift [m], :math:`U \sqrt{2 z/g'}`: the gas goes along with the wind, and rises by its buoyancy.

    Notes
    -----
    For the first centimetres, where the gas is still as hot as a flame. Whole flames of pools lean more: 50 to 70
    degrees in 1 m/s (J. R. Welker, C. M. Sliepcevich 1966, Fire Technol. 2, 127, pools of 0.1 to 0.6 m; from memory,
    unverified).

    >>> round(wind_drift(1.0, 0.02, 40.0), 4)
    0.0316

    References
    ----------
    Uniform acceleration.
    """
    return abs(wind) * sqrt(2.0 * at_least(rise, 0.0) / at_least(g_reduced, 1e-3))


@closure(ring=(0.0, 0.5), disc=(1e-3, 0.5), shift=(0.0, 5.0))
def share_outside(ring: float, disc: float, shift: float) -> float:
    r"""Share of a circle's line that lies outside a disc whose centre is some way off.

    Parameters
    ----------
    ring : radius of the circle [m].
    disc : radius of the disc [m].
    shift : between their centres [m].

    Returns
    -------
    Share [-], 0 to 1.

    Notes
    -----
    .. math:: \frac{1}{\pi} \arccos \frac{R^2 - r^2 - x^2}{2 r x}

    with the angle limited to 0 and :math:`\pi`.

    >>> share_outside(0.03, 0.07, 0.0), share_outside(0.03, 0.07, 0.2)
    (0.0, 1.0)

    References
    ----------
    Law of cosines.
    """
    cross = 2.0 * at_least(ring, 1e-9) * at_least(shift, 1e-9)
    cosine = (disc * disc - ring * ring - shift * shift) / cross
    return acos(within(cosine, -1.0, 1.0)) / pi


@closure(spread=(0.0, 5.0), wind=(0.0, 10.0))
def lee_share(spread: float, wind: float) -> float:
    r"""Share of a pot's edge past which gas that spreads from its middle still leaves in a wind.

    Parameters
    ----------
    spread : speed with which the gas spreads at the edge [m/s].
    wind : across it [m/s].

    Returns
    -------
    Share [-], :math:`1 - \arccos(v/U)/\pi`: all round while the gas spreads faster than the wind blows, half in a
    strong wind.

    >>> lee_share(0.5, 0.2), round(lee_share(0.5, 1.0), 3)
    (1.0, 0.667)

    References
    ----------
    Both motions added up: outward at an angle :math:`\varphi` from windward the gas moves at :math:`v - U \cos\varphi`.
    """
    return 1.0 - acos(at_most(at_least(spread, 0.0) / at_least(abs(wind), 1e-9), 1.0)) / pi


@closure(depth=(-0.5, 0.5), clearance=(1e-3, 0.5), through=(0.0, 1.0))
def wind_behind_screen(depth: float, clearance: float, through: float) -> float:
    r"""Wind behind a screen that stands all round, over the wind outside.

    Parameters
    ----------
    depth : below the screen's top [m]; negative above it.
    clearance : width of the slot between the screen and what it encloses [m].
    through : wind that passes openings near the ground, from `wind_through_openings`, over the wind outside [-].

    Returns
    -------
    Share [-]: 1 above the screen's top; below it what passes through, and eddies that the wind drives from above.

    Notes
    -----
    .. math:: t + (1 - t)\, e^{-4.21\, d/c}

    In a slot between parallel walls, eddies that are driven at its mouth weaken so with depth. That law is for creeping
    flow; quicker eddies reach deeper, and a wind has gusts: taken as a best estimate.

    Two widths deep behind a closed screen there is next to no wind:

    >>> round(wind_behind_screen(0.03, 0.015, 0.0), 4), wind_behind_screen(-0.01, 0.015, 0.1)
    (0.0002, 1.0)

    References
    ----------
    H. K. Moffatt 1964, J. Fluid Mech. 18, 1 (from memory).
    """
    share = within(through, 0.0, 1.0)
    return share + (1.0 - share) * exp(-EDDY_DECAY * at_least(depth, 0.0) / at_least(clearance, 1e-6))


@closure(open_share=(0.0, 1.0))
def wind_through_openings(open_share: float) -> float:
    r"""Mean wind inside a round screen that has openings all round its foot, over the wind outside.

    Parameters
    ----------
    open_share : open area over that of the wall [-].

    Returns
    -------
    Share [-]: :math:`\tfrac{\pi}{2} C_d s \sqrt{\Delta C_p/2}`, at most 1.

    Notes
    -----
    Half of the openings let air in and half let it out, so the wind's pressure drives it through two in series:

    .. math:: Q = C_d \frac{A}{2} U \sqrt{\Delta C_p/2}, \quad A = s \pi D H

    spread over the cross-section :math:`D H`. The difference of pressure coefficients is `CYLINDER_PRESSURES`.

    >>> round(wind_through_openings(0.1), 3)
    0.092

    References
    ----------
    Bernoulli; D. Etheridge, M. Sandberg 1996, Building Ventilation, chapter 3 (openings in series; from memory).
    """
    flow = 0.5 * pi * OPENING_DISCHARGE * at_least(open_share, 0.0) * sqrt(0.5 * CYLINDER_PRESSURES)
    return at_most(flow, 1.0)


@closure(
    foot=(0.0, 1.0), top=(0.0, 1.0), height=(0.0, 1.0), friction=(0.0, 1e6), T_gas=(280.0, 2000.0),
    T_ambient=(230.0, 330.0), blown=(0.0, 100.0),
)  # fmt: skip
def screen_draught(
    foot: float,
    top: float,
    height: float,
    friction: float,
    density: float,
    T_gas: float,
    T_ambient: float,
    blown: float = 0.0,
) -> float:
    r"""Air that the draught of the hot gas behind a windscreen draws in, and a wind presses in.

    Parameters
    ----------
    foot : open area near the ground [m2].
    top : area through which the gas leaves [m2].
    height : of the hot column [m].
    friction : pressure that the gas loses along the way for each kilogram a second [Pa s/kg].
    density : of the air [kg/m3].
    T_gas, T_ambient : of the gas and of the air [K].
    blown : difference of a wind's pressure between foot and top [Pa].

    Returns
    -------
    Mass flow [kg/s].

    Notes
    -----
    The positive root of

    .. math:: g H (\rho_a - \rho_g) + \Delta p = f \dot m + \frac{\dot m^2}{2 C_d^2}
        \left( \frac{1}{\rho_a A_\mathrm{foot}^2} + \frac{1}{\rho_g A_\mathrm{top}^2} \right)

    Openings of 30 and 50 cm2 with 10 cm of gas at 900 K between them pass as much air as 6 kW of spirit needs:

    >>> round(screen_draught(30e-4, 50e-4, 0.1, 0.0, 1.2, 900.0, 293.15) * 1e3, 2)
    2.0

    References
    ----------
    Bernoulli; D. Etheridge, M. Sandberg 1996, Building Ventilation, chapter 3 (stack effect; from memory).
    """
    if foot <= _SMALLEST or top <= _SMALLEST or density <= _SMALLEST:
        return 0.0
    hot = density * at_least(T_ambient, 1.0) / within(T_gas, 1.0, 1e6)
    drive = GRAVITY * at_least(height, 0.0) * at_least(density - hot, 0.0) + at_least(blown, 0.0)
    loss = 0.5 / OPENING_DISCHARGE**2 * (1.0 / (density * foot * foot) + 1.0 / (hot * top * top))
    half = 0.5 * at_least(friction, 0.0)
    return drive / (half + sqrt(half * half + loss * drive)) if drive > _SMALLEST else 0.0


@closure(diameter=(0.01, 0.3))
def blow_out_wind(diameter: float) -> float:
    """Wind that puts out alcohol flames on the windward side of a round burner (an estimate, within a factor of two).

    Parameters
    ----------
    diameter : of the burner [m].

    Returns
    -------
    Wind [m/s] at which its strain of the air before a cylinder, :math:`4 U/D`, reaches what diffusion flames bear.

    Pools of methanol of 5 cm still burn in 3 m/s (Hu et al. 2009):

    >>> round(blow_out_wind(0.05), 1)
    5.0

    References
    ----------
    Potential flow before a cylinder; strain at extinction as stated beside `EXTINCTION_STRAIN`.
    """
    return 0.25 * EXTINCTION_STRAIN * at_least(diameter, 0.0)
