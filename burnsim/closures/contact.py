"""Heat through joints: thin layers of air and the spots where metal touches."""

from math import log1p, pi, sqrt

from burnsim.bounds import at_least
from burnsim.closures._validity import closure
from burnsim.constants import ATMOSPHERE

AIR_JUMP_DISTANCE = 0.37e-6
"""Temperature-jump distance of air between two technical metal surfaces at 300 K and one atmosphere [m]."""

IMAGES = 2.246
"""4 exp(-Euler's constant): how far from a point heat converges on it as in a flat sheet, over its thickness [-]."""


@closure(temperature=(200.0, 2000.0), pressure=(1e4, 1e6))
def jump_distance(temperature: float, pressure: float) -> float:
    """Length that rarefaction adds to a thin layer of air between two walls.

    Parameters
    ----------
    temperature : of the gas [K].
    pressure : of the gas [Pa].

    Returns
    -------
    Temperature-jump distance of both walls together [m], proportional to the mean free path: :math:`T/p`.

    >>> round(jump_distance(600.0, 101325.0) * 1e6, 2)
    0.74

    References
    ----------
    M. M. Yovanovich 1986, AIAA 86-1164: 0.37 micrometre for air (from memory, unverified); kinetic theory
    with an accommodation of 0.87 gives 0.29.
    """
    return AIR_JUMP_DISTANCE * at_least(temperature, 1.0) / 300.0 * ATMOSPHERE / at_least(pressure, 1.0)


@closure(gap=(0.0, 5e-3), conductivity_gas=(0.005, 0.5), jump=(0.0, 1e-4))
def gap_conductance(gap: float, conductivity_gas: float, jump: float = AIR_JUMP_DISTANCE) -> float:
    r"""Conductance of a thin layer of gas between two surfaces, per area.

    Parameters
    ----------
    gap : mean width of the layer [m]; gaps so thin (below about 5 mm) that the gas stands still.
    conductivity_gas : [W/m/K].
    jump : temperature-jump distance of both walls [m], default that of air at 300 K.

    Returns
    -------
    h [W/m2/K], :math:`k / (\delta + j)` with gap and jump. It stays finite for no gap at all.

    Air in a gap of 10 micrometres; 3600 is tabulated for a joint of aluminium that touches as well.

    >>> round(gap_conductance(10e-6, 0.0263), -2)
    2500.0

    References
    ----------
    M. M. Yovanovich 1986, AIAA 86-1164 (from memory, unverified).
    """
    return conductivity_gas / at_least(at_least(gap, 0.0) + jump, 1e-8)


@closure(spot_radius=(0.0, 5e-3), conductivity_1=(0.1, 450.0), conductivity_2=(0.1, 450.0))
def spot_conductance(spot_radius: float, conductivity_1: float, conductivity_2: float) -> float:
    """Conductance of one round spot where two thick bodies touch.

    Parameters
    ----------
    spot_radius : [m].
    conductivity_1, conductivity_2 : of the two metals [W/m/K].

    Returns
    -------
    G [W/K], :math:`2 k_s a` with the harmonic mean :math:`k_s = 2 k_1 k_2 / (k_1 + k_2)`. In a thin wall the
    heat has less room to spread: `sheet_conductance` comes in series.

    >>> spot_conductance(0.1e-3, 200.0, 200.0)
    0.04

    References
    ----------
    R. Holm 1967, Electric Contacts (constriction, k in place of the electrical conductivity).
    """
    total = at_least(conductivity_1 + conductivity_2, 1e-9)
    return 2.0 * at_least(spot_radius, 0.0) * 2.0 * conductivity_1 * conductivity_2 / total


@closure(load=(0.0, 1e3), hardness=(1e7, 1e10))
def spot_radius(load: float, hardness: float) -> float:
    r"""Radius of the round spot into which a load presses a softer metal.

    Parameters
    ----------
    load : on the spot [N].
    hardness : indentation hardness of the softer metal [Pa]; aluminium some 0.3 to 1 GPa.

    Returns
    -------
    Radius [m], :math:`\sqrt{F / (\pi H)}`.

    A pot of 0.7 kg on three bumps, 2.3 N each, hardness 0.5 GPa: 0.04 mm.

    >>> round(spot_radius(2.3, 0.5e9) * 1e3, 3)
    0.038

    References
    ----------
    F. P. Bowden, D. Tabor 1950, The Friction and Lubrication of Solids: fully plastic contact.
    """
    return sqrt(at_least(load, 0.0) / (pi * at_least(hardness, 1.0)))


@closure(spot_radius=(0.0, 5e-3), thickness=(1e-5, 5e-3), reach=(1e-3, 1.0), conductivity=(0.1, 450.0))
def sheet_conductance(spot_radius: float, thickness: float, reach: float, conductivity: float) -> float:
    r"""Conductance of the sheet of metal around a spot through which heat leaves it.

    Parameters
    ----------
    spot_radius : of the spot [m].
    thickness : of the sheet [m].
    reach : distance from which the heat comes, such as half-way to the next spot [m].
    conductivity : of the metal [W/m/K].

    Returns
    -------
    G [W/K], :math:`2 \pi k t / \ln(1 + b / r_0)` with :math:`r_0 = a + 4 e^{-\gamma} t`, in series with the spot's own.

    Notes
    -----
    Images of a point on one face of the sheet give :math:`r_0 = 2.25 t` where the spot is small (the tests sum them);
    a spot much wider than the sheet is thick has :math:`r_0 = a`. The 1 keeps it finite in a sheet as thick as far.

    A spot of 0.04 mm in 0.1 mm of aluminium, fed from 30 mm around; with the spot's own 0.016 W/K, 0.010 W/K in all:

    >>> round(sheet_conductance(0.04e-3, 0.1e-3, 30e-3, 200.0), 4)
    0.0265

    References
    ----------
    H. S. Carslaw, J. C. Jaeger 1959, Conduction of Heat in Solids, 10.11 (images); derived above.
    """
    foot = at_least(spot_radius, 0.0) + IMAGES * at_least(thickness, 1e-9)
    return 2.0 * pi * conductivity * at_least(thickness, 0.0) / log1p(at_least(reach, 1e-9) / foot)


@closure(gap=(0.0, 5e-3), conductivity_gas=(0.005, 0.5), spot=(0.0, 10.0))
def joint_conductance(
    area: float, gap: float, conductivity_gas: float, spots: float, spot: float, jump: float = AIR_JUMP_DISTANCE
) -> float:
    r"""Conductance between a rim and a pot that stands on it: layer of gas and touching spots side by side.

    Parameters
    ----------
    area : of the layer of gas, such as circumference times rim width [m2].
    gap : mean width of the layer [m]: a few hundredths of a millimetre on a full ring, the height of the
        bumps on bumps.
    conductivity_gas : in the layer [W/m/K].
    spots : number of touching spots [-]; at least three carry a pot on a full ring too.
    spot : conductance of each, the sheet around it counted [W/K].
    jump : temperature-jump distance [m].

    Returns
    -------
    G [W/K], :math:`A h_\mathrm{gap} + N G_\mathrm{spot}` with N spots.

    A ring of 62 mm, 1 mm wide, with a mean gap of 50 micrometres of hot air, and three spots: 0.18 W/K.

    >>> round(joint_conductance(195e-6, 50e-6, 0.04, 3.0, 0.01), 2)
    0.18

    References
    ----------
    Layer and spots in parallel: M. M. Yovanovich 1986, AIAA 86-1164 (from memory, unverified).
    """
    layer = at_least(area, 0.0) * gap_conductance(gap, conductivity_gas, jump)
    return layer + at_least(spots, 0.0) * at_least(spot, 0.0)
