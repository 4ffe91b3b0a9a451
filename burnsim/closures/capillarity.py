"""Surface tension at work: rise in tubes and gaps, holes that hold liquid back, wicks."""

from math import cos, pi, sin, sqrt, tanh

from burnsim.bounds import at_least, within
from burnsim.closures._validity import closure
from burnsim.constants import GAS_CONSTANT, GRAVITY


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


@closure(
    superheat=(0.0, 100.0), temperature=(200.0, 500.0), latent=(1e5, 3e6), molar_mass=(0.01, 0.2),
    pressure=(1e3, 1e6), density=(300.0, 2000.0), viscosity=(1e-5, 1e-1), sigma=(1e-3, 0.1),
)  # fmt: skip
def evaporating_contact_angle(
    superheat: float,
    temperature: float,
    latent: float,
    molar_mass: float,
    pressure: float,
    density: float,
    viscosity: float,
    sigma: float,
) -> float:
    r"""Contact angle with which a liquid that wets a hot wall evaporates at its edge.

    Parameters
    ----------
    superheat : of the wall over the boiling point [K].
    temperature : boiling point [K].
    latent : heat of vaporisation [J/kg].
    molar_mass : of the vapour [kg/mol].
    pressure : of the vapour [Pa].
    density, viscosity, sigma : of the liquid [kg/m3, Pa s, N/m].

    Returns
    -------
    Angle [rad], 0 for a wall that is not superheated.

    Notes
    -----
    Evaporation at the edge draws liquid to it, and the curvature of an edge that rises at an angle drives that flow:

    .. math:: \Theta = 2.2\, \mathrm{Ca}^{1/4}, \quad \mathrm{Ca} = \frac{\mu V}{\sigma}, \quad
        V = \frac{h\, \Delta T}{\rho\, L}, \quad h = \frac{2 L^2 \rho_v}{T \sqrt{2 \pi R T / M}}

    with the coefficient h that the kinetic theory of gases gives evaporation (accommodation 1). V is our reading of the
    paper's summary; the angle follows its fourth root.

    Methanol on a wall 10 K hotter, 28 degrees:

    >>> angle = evaporating_contact_angle(10.0, 337.7, 1.10e6, 0.03204, 101325.0, 749.0, 3.3e-4, 0.0189)
    >>> round(angle * 180.0 / pi)
    28

    References
    ----------
    S. J. S. Morris 2001, J. Fluid Mech. 432, 1 (its summary: 2.2 and the fourth root, within 15 %); V. P. Carey 1992,
    Liquid-Vapor Phase-Change Phenomena, 4.5, for h (from memory).
    """
    specific = GAS_CONSTANT * at_least(temperature, 1.0) / at_least(molar_mass, 1e-3)  # [J/kg]
    vapour = at_least(pressure, 0.0) / specific
    kinetic = 2.0 * latent * latent * vapour / (at_least(temperature, 1.0) * sqrt(2.0 * pi * specific))
    speed = kinetic * at_least(superheat, 0.0) / (at_least(density, 1e-3) * at_least(latent, 1.0))
    return 2.2 * sqrt(sqrt(at_least(viscosity, 0.0) * speed / at_least(sigma, 1e-6)))


@closure(sigma=(1e-3, 0.1), contact_angle=(0.0, 1.5), density=(300.0, 2000.0), half_width=(1e-4, 1.0))
def meniscus_height(sigma: float, contact_angle: float, density: float, half_width: float) -> float:
    r"""How much higher than its mean level a liquid stands at an upright wall.

    Parameters
    ----------
    sigma : surface tension [N/m].
    contact_angle : [rad].
    density : of the liquid [kg/m3].
    half_width : area of the liquid's surface over the length of the walls round it; half of a gap, a quarter of a
        diameter [m].

    Returns
    -------
    Height [m].

    Notes
    -----
    At a wall by itself the surface rises by

    .. math:: h = \ell \sqrt{2 (1 - \sin\theta)}, \quad \ell = \sqrt{\sigma / (\rho g)}

    What stands above the level of the rest is liquid of the same charge. Between walls that are close together the
    surface is an arc, whose edge is above its mean by

    .. math:: a = w\, \frac{\pi/2 - \theta - \sin\theta \cos\theta}{2 \cos^2\theta}

    with the half width w. Both are joined by :math:`h\,(\coth b - 1/b)`, :math:`b = 3 a/h`, the shape of menisci that
    are nearly flat, within 8 %.

    Methanol at its boiling point that wets a wide vessel:

    >>> round(meniscus_height(0.0189, 0.0, 749.0, 1.0) * 1e3, 2)
    2.27

    and between walls 4.5 mm apart, at 28 degrees:

    >>> round(meniscus_height(0.0189, 0.489, 749.0, 2.25e-3) * 1e3, 2)
    0.81

    References
    ----------
    G. K. Batchelor 1967, An Introduction to Fluid Dynamics, 1.9 (from memory), for a wall by itself. Between two walls:
    geometry; the tests integrate the Young-Laplace equation.
    """
    length = sqrt(at_least(sigma, 1e-9) / (at_least(density, 1e-3) * GRAVITY))
    alone = length * sqrt(2.0 * at_least(1.0 - sin(contact_angle), 0.0))
    cosine = at_least(cos(contact_angle), 1e-3)
    arc = (
        at_least(half_width, 1e-6) * (0.5 * pi - contact_angle - sin(contact_angle) * cosine) / (2.0 * cosine * cosine)
    )
    wide = 3.0 * arc / at_least(alone, 1e-9)
    return alone * (1.0 / tanh(wide) - 1.0 / wide)


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
    permeability=(1e-15, 1e-7), sigma=(0.0, 0.1), pore_radius=(1e-7, 1e-3), viscosity=(1e-5, 0.1), length=(1e-4, 1.0),
    density=(100.0, 2000.0), saturation=(0.0, 1.0),
)  # fmt: skip
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
