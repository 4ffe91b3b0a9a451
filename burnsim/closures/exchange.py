"""Heat that a wall picks up from gas and conducts to where it is wanted."""

from math import cosh, exp, log, pi, sqrt, tanh

from burnsim.bounds import at_least, at_most, within
from burnsim.closures._validity import closure

_FARTHEST = 300.0
_SMALLEST = 1e-6

UNDER_EDGE = -1.2784645427610738
"""Root of 1 + phi + e^phi."""


@closure(low=(0.0, 1.0), high=(0.0, 1.0), length=(0.0, 1.0), decay=(0.0, 1e4))
def fin_uptake(low: float, high: float, length: float, decay: float) -> float:
    r"""Share of the heat falling on a stretch of dry wall that runs down it to its wet foot.

    Parameters
    ----------
    low, high : the stretch, above the foot [m].
    length : of the dry wall, from its foot to its free edge [m].
    decay : :math:`\sqrt{h/(k t)}`, from the film, the conductivity and the thickness of the wall [1/m].

    Returns
    -------
    Share of :math:`h\, (T_\mathrm{gas} - T_\mathrm{foot})` per area [-], the mean over the stretch; 1 for a wall that
    conducts perfectly.

    Notes
    -----
    A straight fin with an insulated edge, integrated over the stretch:

    .. math:: \frac{T_\mathrm{gas} - T}{T_\mathrm{gas} - T_\mathrm{foot}} = \frac{\cosh m (L - z)}{\cosh m L}

    Over the whole fin it is the efficiency :math:`\tanh(m L) / (m L)`.

    1 mm of aluminium, 55 mm, 25 W/m2/K; and the efficiency of a straight fin with m L = 1:

    >>> decay = (25.0 / (200.0 * 1e-3)) ** 0.5
    >>> round(fin_uptake(0.0, 0.055, 0.055, decay), 2), round(fin_uptake(0.0, 0.1, 0.1, 10.0), 4)
    (0.89, 0.7616)

    References
    ----------
    D. R. Harper, W. B. Brown 1922, NACA Report 158; F. P. Incropera, D. P. DeWitt, table 3.4 (from memory).
    """
    span = decay * (high - low)
    whole = within(decay * length, 0.0, _FARTHEST)
    bottom = within(decay * (length - low), 0.0, _FARTHEST)
    if span < 1e-6:
        return cosh(bottom) / cosh(whole)
    top = within(decay * (length - high), 0.0, _FARTHEST)
    end = exp(-2.0 * whole)
    below = exp(bottom - whole)
    above = exp(top - whole)
    return (below - end / below - above + end / above) / (span * (1.0 + end))


@closure(circle=(1e-3, 1.0), edge=(1e-3, 1.0))
def ring_path(circle: float, edge: float) -> float:
    r"""Length of a straight strip that conducts as the ring of sheet between a heated circle and an edge.

    Parameters
    ----------
    circle : radius of the circle that is heated [m].
    edge : radius of the edge to which the heat runs, outside of it or inside [m].

    Returns
    -------
    Length [m] of a strip as thick as the sheet and as wide as the edge is long; 0 for a circle on the edge.

    Notes
    -----
    A hollow cylinder as long as the sheet is thick, exact where no heat comes in or leaves between the two:

    .. math:: R = \frac{|\ln (r_e / r_c)|}{2 \pi k t} = \frac{\ell}{k t\, 2 \pi r_e}, \qquad
        \ell = r_e\, |\ln (r_e / r_c)|

    The textbook's steam pipe, 20 m long, of radii 6 and 8 cm and 20 W/m/K, 150 degC inside and 60 degC outside, which
    loses 786 kW:

    >>> round(20.0 * 20.0 * 2.0 * pi * 0.08 * 90.0 / ring_path(0.06, 0.08) / 1e3)
    786

    References
    ----------
    Y. A. Cengel, Heat Transfer: A Practical Approach, chapter 2, heat loss through a steam pipe (from memory);
    H. S. Carslaw, J. C. Jaeger 1959, Conduction of Heat in Solids, 7.2.
    """
    to = at_least(edge, _SMALLEST)
    return to * abs(log(to / at_least(circle, _SMALLEST)))


@closure(radius=(1e-3, 0.5), conductivity=(0.01, 500.0), diffusivity=(1e-8, 2e-4), duration=(1.0, 1e5))
def ground_coefficient(radius: float, conductivity: float, diffusivity: float, duration: float) -> float:
    r"""Mean coefficient over a time between a warm disc and the ground on which it lies.

    Parameters
    ----------
    radius : of the disc [m].
    conductivity : of the ground [W/m/K].
    diffusivity : of heat in it [m2/s].
    duration : since the disc became warm [s].

    Returns
    -------
    h [W/m2/K], from the disc to the ground far away.

    Notes
    -----
    A disc of even temperature on a half-space at first warms it as a plane does, in the end as a disc:

    .. math:: h = \frac{4 k}{\pi a} + \frac{k}{\sqrt{\pi \alpha t}}, \quad
        \bar h = \frac{4 k}{\pi a} + \frac{2 k}{\sqrt{\pi \alpha t}}

    The sum of both limits, each exact; between them it is right within a few per cent.

    A floor of 62 mm on softwood, over ten minutes:

    >>> round(ground_coefficient(0.031, 0.15, 1.5e-7, 600.0), 1)
    24.0

    References
    ----------
    H. S. Carslaw, J. C. Jaeger 1959, Conduction of Heat in Solids, 2.4 and 8.2.
    """
    size = at_least(radius, _SMALLEST)
    spread = sqrt(pi * at_least(diffusivity, _SMALLEST * _SMALLEST) * at_least(duration, _SMALLEST))
    return conductivity * (4.0 / (pi * size) + 2.0 / spread)


@closure(reach=(0.0, 1.0), distance=(1e-5, 0.1))
def edge_shape_factor(reach: float, distance: float) -> float:
    r"""Shape factor of conduction from the edge of a hot sheet that stands parallel to a wall, to the wall beyond it.

    Parameters
    ----------
    reach : of the wall that counts, from under the edge away from the sheet [m].
    distance : of the sheet from the wall [m].

    Returns
    -------
    Shape factor [-]: the heat is this times conductivity, difference of temperatures and length of the edge.

    Notes
    -----
    The field at the edge of a plate condenser, by Maxwell's map along the wall:

    .. math:: x = \frac{d}{\pi} (1 + \phi + e^\phi)

    The flux between two places is their difference of :math:`\phi` over :math:`\pi`. Under the edge
    :math:`1 + \phi + e^\phi = 0`. Newton's rule finds :math:`\phi`.

    At a reach of :math:`2 d/\pi`, where :math:`\phi` is 0, and ten times the distance away:

    >>> round(edge_shape_factor(2e-3 / pi, 1e-3), 4), round(edge_shape_factor(10e-3, 1e-3), 3)
    (0.4069, 1.457)

    References
    ----------
    J. C. Maxwell 1873, A Treatise on Electricity and Magnetism, vol. 1, art. 202.
    """
    wanted = at_most(pi * at_least(reach, 0.0) / at_least(distance, 1e-9), 1e30)
    phi = log(wanted) if wanted > 1.0 else UNDER_EDGE + wanted
    for _ in range(4):
        grown = exp(phi)
        phi -= (grown + 1.0 + phi - wanted) / (grown + 1.0)
    return (phi - UNDER_EDGE) / pi


@closure(gap=(1e-4, 2.0), near=(1e-5, 0.1), far=(0.0, 1.0))
def strip_shape_factor(gap: float, near: float, far: float) -> float:
    r"""Shape factor of conduction from the hot end of a slot between two cold plates to one of the plates.

    Parameters
    ----------
    gap : between the plates [m].
    near, far : ends of the stretch of plate that counts, from the hot end [m].

    Returns
    -------
    Shape factor [-]: the heat is this times conductivity, difference of temperatures and length of the edge; 0 if the
    stretch ends before it begins.

    Notes
    -----
    A strip that goes on without an end, its sides kept cold and its end hot. Its series sums to a flux into either
    side of :math:`2 / (g \sinh(\pi x / g))`, so

    .. math:: S = \frac{2}{\pi} \left[ \ln\coth\frac{\pi x}{2 g} \right]_{far}^{near}

    Plates 10 mm apart, from 1 mm on; without a second plate, ten times the distance away, it is 2 ln(10)/pi:

    >>> round(strip_shape_factor(10e-3, 1e-3, 1.0), 3), round(strip_shape_factor(2.0, 1e-3, 10e-3), 3)
    (1.184, 1.466)

    References
    ----------
    H. S. Carslaw, J. C. Jaeger 1959, Conduction of Heat in Solids, 5.3 (the semi-infinite strip; from memory).
    """
    start = at_least(near, _SMALLEST)
    if far <= start:
        return 0.0
    half = 0.5 * pi / within(gap, _SMALLEST, 1.0 / _SMALLEST)
    return 2.0 / pi * log(tanh(half * far) / tanh(half * start))
