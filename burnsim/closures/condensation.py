"""Bubbles of vapour that condense in colder liquid on their way up."""

from math import pi, sqrt

from burnsim.bounds import at_least
from burnsim.closures._validity import closure
from burnsim.constants import GRAVITY
from burnsim.elementary import third_root


@closure(sigma=(1e-3, 0.1), density=(300.0, 2000.0), opening=(1e-4, 5e-3))
def detached_bubble(sigma: float, density: float, opening: float) -> float:
    r"""Bubble that leaves an opening below a liquid's surface as soon as its lift breaks what holds it there.

    Parameters
    ----------
    sigma : surface tension [N/m].
    density : of the liquid [kg/m3].
    opening : diameter of the opening [m].

    Returns
    -------
    Diameter [m] of a sphere of that volume.

    Notes
    -----
    .. math:: \frac{\pi}{6} D^3 \rho g = \pi d \sigma

    Right for a slow flow; what flows in while a bubble tears off makes it larger. Ethanol over a slot of 2 mm:

    >>> round(1e3 * detached_bubble(0.0224, 789.0, 2e-3), 1)
    3.3

    References
    ----------
    T. Tate 1864, Phil. Mag. 27, 176, on drops; for bubbles as in R. Clift, J. R. Grace, M. E. Weber 1978, Bubbles,
    Drops, and Particles, chapter 12 (both from memory, unverified).
    """
    return third_root(6.0 * at_least(sigma, 0.0) * at_least(opening, 0.0) / (at_least(density, 1e-3) * GRAVITY))


@closure(jakob=(0.0, 150.0), diffusivity=(1e-8, 1e-6), diameter=(1e-4, 1e-2))
def condensed_share(jakob: float, diffusivity: float, diameter: float, time: float) -> float:
    r"""Share of a bubble of pure vapour that has condensed after a time in colder liquid.

    Parameters
    ----------
    jakob : :math:`\rho_l c_l \Delta T / (\rho_v h)`, heat that a volume of the liquid takes up to its boiling point
        over what a volume of vapour gives [-].
    diffusivity : thermal, of the liquid [m2/s].
    diameter : of the bubble as it sets out [m].
    time : since then [s].

    Returns
    -------
    Share [-], of its volume; 1 once it has collapsed.

    Notes
    -----
    Heat diffuses from the bubble into the liquid round it, faster than the liquid's inertia lets it collapse:

    .. math:: \frac{D}{D_0} = 1 - 4\, \mathrm{Ja} \sqrt{\frac{\alpha t}{\pi D_0^2}}

    This is a bubble at rest, whose wall is taken to be flat. The layer of warm liquid round a shrinking sphere grows
    thicker than that: the tests solve it, and find up to a tenth less condensed. Liquid that streams past a bubble that
    rises takes its heat faster. Gas that does not condense, of which a bubble keeps a rest, is left out.

    A bubble of ethanol, 2 mm wide, 35 K below its boiling point (Jakob number 45), after 2 ms; 4.3 ms finish it:

    >>> round(condensed_share(45.0, 9e-8, 2e-3, 2e-3), 2)
    0.97
    >>> condensed_share(45.0, 9e-8, 2e-3, 5e-3)
    1.0

    References
    ----------
    L. W. Florschuetz, B. T. Chao 1965, J. Heat Transfer 87, 209 (page from memory; the equation read as later works
    quote it). D. D. Wittke, B. T. Chao 1967, J. Heat Transfer 89, 17, on bubbles that rise, found the first to hold
    with experiments at Jakob numbers from 7 to 45 once the stream past them counts (abstract read; page from memory).
    """
    if jakob <= 0.0 or time <= 0.0 or diffusivity <= 0.0:
        return 0.0
    if diameter <= 0.0:
        return 1.0
    shrunk = 4.0 * jakob * sqrt(diffusivity / pi) * sqrt(time) / diameter
    if shrunk >= 1.0:
        return 1.0
    left = 1.0 - shrunk
    return 1.0 - left * left * left
