"""Liquid in upright round vessels that stand askew: a level plane cut by floor and roof."""

from math import acos, pi, sqrt

from burnsim.bounds import at_least, within
from burnsim.closures._validity import closure


def _open_disc_volume(radius: float, level: float, slope: float) -> float:
    """Volume between a floor disc and a plane that slopes over it, without a roof [m3]."""
    reach = radius * slope
    if level >= reach:
        return pi * radius * radius * level
    if level <= -reach:
        return 0.0
    cut = -level / slope  # where the plane meets the floor, measured towards the deep side
    half = sqrt(at_least(radius * radius - cut * cut, 0.0))
    sector = radius * radius * acos(within(cut / radius, -1.0, 1.0))
    return slope * (2.0 / 3.0 * half * half * half - cut * (sector - cut * half))


@closure(radius=(1e-4, 1.0), level=(-1.0, 2.0), slope=(0.0, 1.0), height=(1e-4, 1.0))
def tilted_disc_volume(radius: float, level: float, slope: float, height: float) -> float:
    r"""Volume of liquid in a round vessel that stands askew.

    Parameters
    ----------
    radius, height : of the room inside [m].
    level : of the surface above the floor, along the vessel's axis [m]; below 0 where only a wedge is left.
    slope : tangent of the tilt [-].

    Returns
    -------
    Volume [m3].

    Notes
    -----
    The surface is :math:`z = l + s x` with level and slope, x towards the deep side. Where it meets neither floor nor
    roof the volume is that of the upright vessel at the same level on the axis. A wedge above the floor is

    .. math:: 2 s \int_c^R (x - c) \sqrt{R^2 - x^2}\, dx, \quad c = -l/s

    What stands above the roof is taken off in the same way.

    A vessel of radius 1, a plane through the middle of its floor at 45 degrees: the hoof of Archimedes, 2/3.

    >>> round(tilted_disc_volume(1.0, 0.0, 1.0, 9.0), 6)
    0.666667

    References
    ----------
    Archimedes, The Method, proposition 11 (the hoof, :math:`\tfrac{2}{3} R^2 h`); the rest by integration.
    """
    return _open_disc_volume(radius, level, slope) - _open_disc_volume(radius, level - height, slope)


@closure(outer=(1e-4, 1.0), inner=(0.0, 1.0), level=(-1.0, 2.0), slope=(0.0, 1.0), height=(1e-4, 1.0))
def tilted_annulus_volume(outer: float, inner: float, level: float, slope: float, height: float) -> float:
    """Volume of liquid between two upright round walls that stand askew.

    Parameters
    ----------
    outer, inner : radii of the room between the walls [m]; 0 inside for a plain disc.
    level : of the surface above the floor, on the axis [m].
    slope : tangent of the tilt [-].
    height : of the room [m].

    Returns
    -------
    Volume [m3]: that of the outer disc less that of the inner.

    >>> round(tilted_annulus_volume(30e-3, 25e-3, 20e-3, 0.1, 45e-3) * 1e6, 3)
    17.279

    References
    ----------
    As `tilted_disc_volume`.
    """
    whole = tilted_disc_volume(outer, level, slope, height)
    if inner <= 0.0:
        return whole
    return whole - tilted_disc_volume(inner, level, slope, height)
