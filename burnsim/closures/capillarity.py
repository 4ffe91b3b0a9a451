"""Surface tension at work: rise in tubes and gaps, holes that hold liquid back, wicks."""

from math import sqrt

from burnsim.bounds import at_least, within
from burnsim.closures._validity import closure
from burnsim.constants import GRAVITY


@closure(sigma=(0.0, 0.1), cos_contact=(-1.0, 1.0), density=(100.0, 2000.0), radius=(1e-7, 1e-3))
def capillary_rise(sigma: float, cos_contact: float, density: float, radius: float) -> float:
    r"""Height to which a liquid climbs in a narrow tube.

    Parameters
    ----------
    sigma : surface tension [N/m].
    cos_contact : cosine of the contact angle [-]; 1 for a wetting liquid such as spirit on clean metal.
    density : of the liquid [kg/m3].
    radius : of the tube [m].

    Returns
    -------
    Height [m], :math:`2 \sigma \cos\theta / (\rho g r)`.

    Ethanol at 20 degC in a pore of 50 micrometres: 116 mm.

    >>> round(capillary_rise(0.0224, 1.0, 789.4, 50e-6), 3)
    0.116

    References
    ----------
    J. Jurin 1718, Phil. Trans. 30, 739.
    """
    return 2.0 * sigma * cos_contact / (at_least(density, 1e-3) * GRAVITY * at_least(radius, 1e-9))


@closure(sigma=(0.0, 0.1), cos_contact=(-1.0, 1.0), density=(100.0, 2000.0), gap=(1e-6, 3e-3))
def gap_rise(sigma: float, cos_contact: float, density: float, gap: float) -> float:
    r"""Height to which a liquid climbs in the gap between two close walls.

    Parameters
    ----------
    sigma : surface tension [N/m].
    cos_contact : cosine of the contact angle [-].
    density : of the liquid [kg/m3].
    gap : clear width between the walls [m].

    Returns
    -------
    Height [m], :math:`2 \sigma \cos\theta / (\rho g w)`. Meant for gaps below the capillary length (1.7 mm for
    spirits); in a wider one the two menisci part and the rise fades faster than this.

    >>> round(gap_rise(0.0224, 1.0, 789.4, 1e-3), 4)
    0.0058

    References
    ----------
    Any text on capillarity (parallel plates).
    """
    return 2.0 * sigma * cos_contact / (at_least(density, 1e-3) * GRAVITY * at_least(gap, 1e-9))


@closure(sigma=(0.0, 0.1), diameter=(1e-5, 3e-3))
def hold_off_pressure(sigma: float, diameter: float) -> float:
    r"""Pressure that liquid needs to break through a small round hole whose outer face is dry.

    Parameters
    ----------
    sigma : surface tension [N/m].
    diameter : of the hole [m].

    Returns
    -------
    Pressure [Pa], :math:`4 \sigma / d`: that of a hemispherical drop on the hole. A face that is wet already holds
    nothing back.

    >>> round(hold_off_pressure(0.0224, 1e-3), 1)
    89.6

    References
    ----------
    Laplace's law.
    """
    return 4.0 * sigma / at_least(diameter, 1e-9)


@closure(sigma=(1e-3, 0.1), density=(300.0, 2000.0))
def splash_margin(sigma: float, density: float) -> float:
    r"""Height above a boiling surface that bursting bubbles keep wet: a margin to state, not a law.

    Parameters
    ----------
    sigma : surface tension [N/m].
    density : of the liquid [kg/m3].

    Returns
    -------
    Height [m]: two capillary lengths, :math:`2 \sqrt{\sigma / (\rho g)}`.

    Notes
    -----
    Bubbles leave a heated wall at about one capillary length across, and their burst cavities and the ripples
    round them are of that size; twice that is judgement, without a source. Single drops fly far higher, but
    carry next to nothing.

    Methanol at its boiling point: 3.2 mm.

    >>> round(splash_margin(0.0189, 748.0) * 1e3, 1)
    3.2

    References
    ----------
    The capillary length: any text on capillarity. W. Fritz 1935, Phys. Z. 36, 379, for bubbles that scale with it (from
    memory, unverified). The factor 2: none.
    """
    return 2.0 * sqrt(at_least(sigma, 0.0) / (at_least(density, 1e-3) * GRAVITY))


@closure(porosity=(0.05, 0.98), pore_radius=(1e-6, 1e-3))
def wick_permeability(porosity: float, pore_radius: float) -> float:
    r"""Permeability of a wick taken as a bundle of straight round pores.

    Parameters
    ----------
    porosity : share of the volume that is pore [-].
    pore_radius : effective radius of the pores [m].

    Returns
    -------
    Permeability [m2], :math:`\varepsilon r^2 / 8`. An upper estimate: winding pores conduct less.

    >>> round(wick_permeability(0.8, 60e-6) * 1e12)             # in darcy, nearly
    360

    References
    ----------
    Poiseuille's law over a bundle; Kozeny's model without tortuosity.
    """
    return porosity * pore_radius * pore_radius / 8.0


@closure(
    permeability=(1e-15, 1e-7),
    sigma=(0.0, 0.1),
    pore_radius=(1e-7, 1e-3),
    viscosity=(1e-5, 0.1),
    length=(1e-4, 1.0),
    density=(100.0, 2000.0),
    saturation=(0.0, 1.0),
)
def darcy_supply(
    permeability: float,
    sigma: float,
    pore_radius: float,
    viscosity: float,
    length: float,
    density: float,
    saturation: float,
) -> float:
    r"""Greatest flux of liquid that a wick can lift over a height.

    Parameters
    ----------
    permeability : of the full wick [m2].
    sigma : surface tension [N/m].
    pore_radius : effective radius of the pores [m].
    viscosity : of the liquid [Pa s].
    length : to be climbed [m].
    density : of the liquid [kg/m3].
    saturation : liquid over pore volume [-], 0 to 1.

    Returns
    -------
    Mass flux through the wick's cross-section [kg/m2/s], never negative.

    Notes
    -----
    Darcy's law with the relative permeability :math:`S^3`, for a wetting liquid:

    .. math:: \dot m'' = \frac{\rho K S^3}{\mu L} \left( \frac{2 \sigma}{r} - \rho g L \right)

    >>> round(darcy_supply(3.6e-10, 0.0224, 60e-6, 1.2e-3, 0.012, 789.0, 1.0), 1)
    12.9

    References
    ----------
    H. Darcy 1856. The cube of S: a usual choice for wetting liquids (from memory, unverified).
    """
    climb = at_least(length, 1e-6)
    pull = 2.0 * sigma / at_least(pore_radius, 1e-9) - density * GRAVITY * climb
    if pull <= 0.0:
        return 0.0
    s = within(saturation, 0.0, 1.0)
    return density * permeability * s * s * s * pull / (at_least(viscosity, 1e-9) * climb)
