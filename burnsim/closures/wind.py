"""Wind across small flames: the air that it blows into them, how far it bends them, and when it puts them out.

Wind blows air into the flames as a laminar sheet, combined with their own draught by cubes, and carries their gas
past the pot.
"""

from math import acos, pi, sqrt

from burnsim.bounds import at_least, at_most, within
from burnsim.closures._validity import closure

EXTINCTION_STRAIN = 400.0
"""Strain rate of the air at which alcohol diffusion flames go out [1/s].

Opposed flows of air against methanol and ethanol: 350 to 550 1/s (from memory of measurements, unverified).
"""


@closure(wind=(0.0, 10.0), rise=(0.0, 0.3), g_reduced=(1.0, 80.0))
def wind_drift(wind: float, rise: float, g_reduced: float) -> float:
    """How far a wind carries flame gas aside while it rises to a height.

    Parameters
    ----------
    wind : [m/s].
    rise : height to which the gas rises from rest [m].
    g_reduced : upward acceleration, from `reduced_gravity` [m/s2].

    Returns
    -------
    Drift [m] = U sqrt(2 z/g'): the gas goes along with the wind, and rises by its buoyancy.

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
    """Share of a circle's line that lies outside a disc whose centre is some way off.

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
    acos((R^2 - r^2 - x^2)/(2 r x))/pi, limited to 0 and pi.

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
    """Share of a pot's edge past which gas that spreads from its middle still leaves in a wind.

    Parameters
    ----------
    spread : speed with which the gas spreads at the edge [m/s].
    wind : across it [m/s].

    Returns
    -------
    Share [-] = 1 - acos(v/U)/pi: all round while the gas spreads faster than the wind blows, half in a strong wind.

    >>> lee_share(0.5, 0.2), round(lee_share(0.5, 1.0), 3)
    (1.0, 0.667)

    References
    ----------
    Both motions added up: outward at an angle phi from windward the gas moves at v - U cos(phi).
    """
    return 1.0 - acos(at_most(at_least(spread, 0.0) / at_least(abs(wind), 1e-9), 1.0)) / pi


@closure(diameter=(0.01, 0.3))
def blow_out_wind(diameter: float) -> float:
    """Wind that puts out alcohol flames on the windward side of a round burner (an estimate, within a factor of two).

    Parameters
    ----------
    diameter : of the burner [m].

    Returns
    -------
    Wind [m/s] at which its strain of the air before a cylinder, 4 U/D, reaches what diffusion flames bear.

    Pools of methanol of 5 cm still burn in 3 m/s (Hu et al. 2009):

    >>> round(blow_out_wind(0.05), 1)
    5.0

    References
    ----------
    Potential flow before a cylinder; strain at extinction as stated beside `EXTINCTION_STRAIN`.
    """
    return 0.25 * EXTINCTION_STRAIN * at_least(diameter, 0.0)
