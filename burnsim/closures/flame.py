"""Small diffusion flames: length, bending, width, bathing of a wall, and the limits at which they live."""

from math import e, log1p, pi, sqrt

from burnsim.bounds import at_least, at_most, within
from burnsim.closures._validity import closure
from burnsim.constants import GRAVITY
from burnsim.elementary import power

FLAME_TEMPERATURE = 1500.0
"""Mean temperature along a small flame in Roper's theory [K]."""

EDGE_TEMPERATURE = 1500.0
"""Temperature of a flame's edge that stands off cold metal [K].

The edge stands as near as it can live, so it is as cold as a flame at its limits: 1400 to 1600 K whatever takes its
heat (A. C. Egerton, J. Powling 1948, Proc. R. Soc. A 193, 172; from memory, unverified).
"""

OXYGEN_DIFFUSIVITY = 2.0e-5
"""Mean diffusivity in Roper's theory at 293 K and one atmosphere [m2/s]."""

QUENCHING_PECLET = 61.0
"""Burning velocity times quenching diameter of a tube over thermal diffusivity [-]."""

QUENCHING_PECLET_PLATES = 40.0
"""The same of the distance between two plates [-]."""

_REFERENCE = 293.15
_NO_AIR = 1e-3


@closure(
    volume_flow=(0.0, 1e-3), air_per_fuel=(0.4, 60.0), T_fuel=(250.0, 700.0), T_ambient=(230.0, 330.0),
    T_flame=(1200.0, 2000.0),
)  # fmt: skip
def roper_length(
    volume_flow: float, air_per_fuel: float, T_fuel: float, T_ambient: float, T_flame: float = FLAME_TEMPERATURE
) -> float:
    r"""Length of a laminar diffusion flame on a round port.

    Parameters
    ----------
    volume_flow : of the fuel vapour at `T_fuel` and 101325 Pa [m3/s]. At another pressure give the volume
        that the same flow would have at 101325 Pa: the length depends on moles, not on pressure.
    air_per_fuel : stoichiometric air, moles per mole of vapour [-].
    T_fuel, T_ambient : [K].
    T_flame : mean temperature along the flame [K].

    Returns
    -------
    Length [m], the same whether momentum or buoyancy rules.

    Notes
    -----
    .. math:: L = \frac{Q\, T_a / T_\mathrm{fuel}}{4 \pi D \ln(1 + 1/S)}
        \left( \frac{T_a}{T_\mathrm{flame}} \right)^{0.67}

    with :math:`D = 2.0 \times 10^{-5} (T_a / 293)^{1.67}` in m2/s and the moles of air S.

    Propane for a flame of 50 mm: 1.55 cm3/s in the worked example (which has a square port; the round one
    is alike).

    >>> abs(roper_length(1.55e-6, 23.8, 300.0, 300.0) / 0.050 - 1.0) < 0.03
    True

    References
    ----------
    F. G. Roper 1977, Combust. Flame 29, 219; F. G. Roper, C. Smith, A. C. Cunningham 1977, Combust. Flame
    29, 227. S. R. Turns, An Introduction to Combustion, ch. 9 (worked example; from memory, unverified).
    """
    ambient = at_least(T_ambient, 1.0)
    cold = ambient / _REFERENCE
    flow = at_least(volume_flow, 0.0) * ambient / at_least(T_fuel, 1.0)
    spread = 4.0 * pi * OXYGEN_DIFFUSIVITY * cold * log1p(1.0 / at_least(air_per_fuel, _NO_AIR))
    return flow / spread * power(ambient / (at_least(T_flame, 1.0) * cold), 0.67)


@closure(T_flame=(1000.0, 2400.0))
def foot_temperature(T_flame: float) -> float:
    r"""Mean temperature of a flame's foot beside cold metal, from its edge to the sheet that the edge joins.

    Parameters
    ----------
    T_flame : of the sheet [K].

    Returns
    -------
    Temperature [K], :math:`(T_\mathrm{flame} + T_\mathrm{edge})/2` with an edge of 1500 K, or of the sheet where that
    is colder.

    Notes
    -----
    Resolved flames of 2230 K have a foot of 1600 K at its edge and 1950 K three millimetres on.

    >>> foot_temperature(2230.0), foot_temperature(1400.0)
    (1865.0, 1400.0)

    References
    ----------
    The side jets' flames in benchmarks/resolved/cases.toml, computed by a general flow solver.
    """
    return 0.5 * (T_flame + at_most(T_flame, EDGE_TEMPERATURE))


@closure(T_flame=(250.0, 2500.0), T_ambient=(230.0, 330.0))
def reduced_gravity(T_flame: float, T_ambient: float) -> float:
    r"""Upward acceleration of hot gas in cool air.

    Parameters
    ----------
    T_flame, T_ambient : of the gas and of the air [K].

    Returns
    -------
    g' [m/s2], :math:`g\, (T_\mathrm{flame} / T_\mathrm{ambient} - 1)`; 0 for gas that is not hotter.

    >>> round(reduced_gravity(1500.0, 293.15), 1)
    40.4

    References
    ----------
    Archimedes' law for an ideal gas of the molar mass of air.
    """
    return GRAVITY * at_least(T_flame / at_least(T_ambient, 1.0) - 1.0, 0.0)


@closure(exit_velocity=(0.0, 50.0), air_fuel_ratio=(0.4, 20.0))
def mixed_velocity(exit_velocity: float, air_fuel_ratio: float) -> float:
    r"""Mean speed along a jet flame whose momentum is shared with the air that it draws in.

    Parameters
    ----------
    exit_velocity : of the vapour at the hole [m/s].
    air_fuel_ratio : stoichiometric, by mass [-].

    Returns
    -------
    Speed [m/s], :math:`u \ln(1 + s) / s`.

    Notes
    -----
    The momentum flux stays :math:`\dot m u` while the moving mass grows evenly along the flame from :math:`\dot m` to
    :math:`\dot m (1 + s)`, so that the speed is :math:`u / (1 + s x / L)`; the mean over the length is the result. An
    estimate: air drawn in is not mixed evenly.

    >>> round(mixed_velocity(1.0, 6.47), 2)
    0.31

    References
    ----------
    Conservation of momentum, derived above.
    """
    s = at_least(air_fuel_ratio, _NO_AIR)
    return exit_velocity * log1p(s) / s


@closure(length=(0.0, 0.5), exit_velocity=(0.0, 50.0), g_reduced=(0.0, 80.0))
def jet_flame_reach(length: float, exit_velocity: float, g_reduced: float) -> tuple[float, float]:
    r"""How far a flame from a hole in an upright wall reaches sideways, and how far it rises.

    Parameters
    ----------
    length : of the flame, from `roper_length` [m].
    exit_velocity : sideways speed of the gas [m/s]; `mixed_velocity` when the air that is drawn in is to
        slow it.
    g_reduced : upward acceleration of the flame gas, from `reduced_gravity` [m/s2].

    Returns
    -------
    (reach, rise) of the tip from the hole [m], the sides of a right triangle whose longest is the length.

    Notes
    -----
    A parcel leaves sideways at u and is lifted at g', so it flies a parabola, :math:`z = g' x^2 / (2 u^2)`. Its tip is
    put where the straight distance from the hole is the length L of the flame:

    .. math:: x^2 = \frac{2 L^2 u^2}{u^2 + \sqrt{u^4 + (g' L)^2}}

    It depends on :math:`\mathrm{Fr} = u^2 / (g' L)` alone: L for a fast jet, and for a slow one sideways
    :math:`\sqrt{2\, \mathrm{Fr}}\, L`. With the exit velocity itself the reach is an upper estimate.

    >>> jet_flame_reach(0.01, 0.0, 40.0)
    (0.0, 0.01)
    >>> reach, rise = jet_flame_reach(0.01, 0.3, 40.0)
    >>> round(reach, 6), round(rise, 6)              # u^2 = 0.09, g' L = 0.4: a triangle of 6, 8 and 10
    (0.006, 0.008)

    References
    ----------
    Derived above. Froude scaling of bent flames: H. A. Becker, D. Liang, C. I. Downey 1981, Proc. Combust.
    Inst. 18, 1061 (from memory, unverified).
    """
    span = within(length, 0.0, 1e3)
    speed = within(exit_velocity, 0.0, 1e6)
    energy = speed * speed
    lift = within(g_reduced, 0.0, 1e6) * span
    scale = at_least(energy + sqrt(energy * energy + lift * lift), 1e-30)
    return span * speed * sqrt(2.0 / scale), span * lift / scale


@closure(
    volume_flow=(0.0, 1e-3), air_per_fuel=(0.4, 60.0), T_fuel=(250.0, 700.0), T_flame=(1200.0, 2000.0),
    velocity=(0.0, 50.0), length=(0.0, 0.5), g_reduced=(0.0, 80.0),
)  # fmt: skip
def flame_width(
    volume_flow: float,
    air_per_fuel: float,
    T_fuel: float,
    T_flame: float,
    velocity: float,
    length: float,
    g_reduced: float,
) -> float:
    r"""Greatest width of a small laminar diffusion flame (an estimate).

    Parameters
    ----------
    volume_flow : of the fuel vapour at `T_fuel` [m3/s].
    air_per_fuel : stoichiometric air, moles per mole of vapour [-].
    T_fuel, T_flame : of the vapour and mean along the flame [K].
    velocity : of the gas by its own momentum, from `mixed_velocity` [m/s].
    length : of the flame [m].
    g_reduced : from `reduced_gravity` [m/s2].

    Returns
    -------
    Width [m].

    Notes
    -----
    Fuel diffusing out of a thin stream at speed U makes a Gaussian; the contour on which fuel and air are
    stoichiometric is widest after 1/e of the time to the tip, where its radius is

    .. math:: r \sqrt{(1 + S)/e}, \quad \pi r^2 U = Q\, T_\mathrm{flame} / T_\mathrm{fuel}

    with the radius r of the stream of hot fuel. U is taken there: momentum and the speed :math:`\sqrt{2 g' L}/e` won by
    buoyancy. Within some 40 %: burning gas is neither still nor thin.

    >>> round(flame_width(1.5e-6, 9.52, 293.0, 1500.0, 0.1, 0.02, 40.0), 3)
    0.009

    References
    ----------
    Derived above from the diffusion equation that F. G. Roper 1977, Combust. Flame 29, 219 solves.
    """
    hot_flow = at_least(volume_flow, 0.0) * T_flame / at_least(T_fuel, 1.0)
    own = within(velocity, -1e6, 1e6)
    speed = sqrt(own * own + 2.0 * within(g_reduced, 0.0, 1e6) * within(length, 0.0, 1e3) / (e * e))
    stream = at_least(hot_flow, 0.0) / (pi * at_least(speed, 1e-3))
    return 2.0 * sqrt(stream * (1.0 + at_least(air_per_fuel, 0.0)) / e)


@closure(heat_per_length=(500.0, 1e5))
def wall_flame_height(heat_per_length: float) -> float:
    r"""Height of the flame over a band that burns along the foot of a wall.

    Parameters
    ----------
    heat_per_length : heat release per width of wall [W/m].

    Returns
    -------
    Height [m], :math:`0.052\, (\dot Q' / 1\,\mathrm{kW/m})^{2/3}`: a turbulent flame; a laminar one is lower at the
    low end.

    >>> round(wall_flame_height(3000.0), 3)
    0.108

    References
    ----------
    K. Saito, J. G. Quintiere, F. A. Williams 1985, Fire Safety Science 1, 75; M. A. Delichatsios 1984 (from
    memory, unverified).
    """
    return float(0.052 * (at_least(heat_per_length, 0.0) * 1e-3) ** (2.0 / 3.0))


@closure(power=(0.0, 1e5), diameter=(0.01, 1.0))
def pool_flame_height(power: float, diameter: float) -> float:
    r"""Mean height of the flame over a burning pool.

    Parameters
    ----------
    power : heat release [W].
    diameter : of the pool [m].

    Returns
    -------
    Height [m], :math:`0.235\, (\dot Q / 1\,\mathrm{kW})^{2/5} - 1.02 D`, and at least half a diameter: a weak flame
    still domes over its pool.

    >>> round(pool_flame_height(1000.0, 0.06), 3)
    0.174

    References
    ----------
    G. Heskestad 1983, Fire Safety J. 5, 103 (from memory, unverified). The floor is ours.
    """
    return float(at_least(0.235 * (at_least(power, 0.0) * 1e-3) ** 0.4 - 1.02 * diameter, 0.5 * diameter))


@closure(diameter=(1e-4, 5e-3), burning_velocity=(0.05, 1.0), thermal_diffusivity=(1e-5, 1e-4))
def lift_off_velocity(diameter: float, burning_velocity: float, thermal_diffusivity: float) -> float:
    r"""Speed at which a flame lifts off a hole (an estimate, within a factor of two).

    Parameters
    ----------
    diameter : of the hole [m].
    burning_velocity : laminar, of the stoichiometric mixture [m/s].
    thermal_diffusivity : of that mixture unburnt [m2/s].

    Returns
    -------
    Velocity [m/s], :math:`d S_L^2 / \alpha`: the strain rate :math:`u/d` that an anchoring flame bears is its inverse
    chemical time.

    >>> round(lift_off_velocity(1e-3, 0.42, 2.2e-5), 1)
    8.0

    References
    ----------
    Scaling after N. Peters 2000, Turbulent Combustion, ch. 4 (from memory, unverified); the factor 1 is ours.
    """
    return at_least(diameter, 0.0) * burning_velocity * burning_velocity / at_least(thermal_diffusivity, 1e-9)


@closure(burning_velocity=(0.05, 3.0), thermal_diffusivity=(1e-5, 1e-3))
def quenching_diameter(burning_velocity: float, thermal_diffusivity: float) -> float:
    r"""Widest tube through which a premixed flame cannot pass back.

    Parameters
    ----------
    burning_velocity : laminar, of the mixture as it is [m/s].
    thermal_diffusivity : of that mixture unburnt [m2/s].

    Returns
    -------
    Diameter [m], :math:`61\, \alpha / S_L`. In a thin plate, shorter than its diameter, flames pass narrower holes than
    this.

    >>> round(quenching_diameter(0.42, 2.2e-5) * 1e3, 1)
    3.2

    References
    ----------
    Peclet number 40 between plates, 40/0.65 in tubes: B. Lewis, G. von Elbe, Combustion, Flames and
    Explosions of Gases (from memory, unverified).
    """
    return QUENCHING_PECLET * at_least(thermal_diffusivity, 0.0) / at_least(burning_velocity, 1e-3)


@closure(burning_velocity=(0.05, 3.0), thermal_diffusivity=(1e-5, 1e-3))
def quenching_distance(burning_velocity: float, thermal_diffusivity: float) -> float:
    r"""Widest gap between two cold plates in which a premixed flame cannot live.

    Parameters
    ----------
    burning_velocity : laminar, of the mixture as it is [m/s].
    thermal_diffusivity : of that mixture unburnt [m2/s].

    Returns
    -------
    Distance [m], :math:`40\, \alpha / S_L`: 0.65 of `quenching_diameter`.

    >>> round(quenching_distance(0.42, 2.2e-5) * 1e3, 1)
    2.1

    References
    ----------
    See `quenching_diameter`.
    """
    return QUENCHING_PECLET_PLATES * at_least(thermal_diffusivity, 0.0) / at_least(burning_velocity, 1e-3)


@closure(standoff=(3e-4, 1e-2), length_per_power=(1e-4, 1e-3))
def quench_power(standoff: float, length_per_power: float) -> float:
    """Least heat release of a small diffusion flame that stands on a hole in cold metal.

    Parameters
    ----------
    standoff : distance from metal within which no flame lives; half of `quenching_distance` off a plate [m].
    length_per_power : of a free flame, from `roper_length` [m/W].

    Returns
    -------
    Power [W] at which the flame, as long as a free one would be, ends where it would have to begin.

    Notes
    -----
    .. math:: P = d / l

    with the standoff d and the length per power l. Flames on fine tubes keep one distance off the metal as they shrink,
    and go out when Roper's length has shrunk to that distance; as that length does not depend on the hole, nor does the
    flow at which they go out. For holes narrower than the distance. Micro-jets go out at 0.1 to 0.9 mg/s of fuel: for
    methanol that is 2 to 18 W.

    Methanol, 1.05 mm and 0.375 mm/W:

    >>> round(quench_power(1.05e-3, 0.375e-3), 1)
    2.8

    References
    ----------
    L. M. Matta, Y. Neumeier, B. Lemon, B. T. Zinn 2002, Proc. Combust. Inst. 29, 933, propane on needles; H. Ban, S.
    Venkatesh, K. Saito 1994, J. Heat Transfer 116, 954 (both from memory, unverified).
    """
    return at_least(standoff, 0.0) / at_least(length_per_power, 1e-9)


@closure(power=(0.5, 50.0), crowd=(0.0, 3.0))
def row_quench_power(power: float, crowd: float, sheet: float) -> float:
    r"""Least heat release of one of the small diffusion flames in a row, each of which holds its neighbours.

    Parameters
    ----------
    power : least heat release of such a flame alone, from `quench_power` [W].
    crowd : width of a flame at its limit over the distance from the next [-].
    sheet : least heat release of a sheet of flame as wide, from `sheet_quench_flow` [W].

    Returns
    -------
    Power [W] of each: that of one alone while they stand apart; once they have merged, its part of the sheet's.

    Notes
    -----
    .. math:: (1 - m) P + m \frac{s}{c}, \quad m = \frac{c^8}{1 + c^8}

    where the eighth powers join both ends: an estimate. At its limit a flame is about as wide on every side as it
    stands off the metal.

    >>> [round(row_quench_power(2.8, crowd, 0.5), 2) for crowd in (0.5, 1.0, 2.0)]
    [2.79, 1.65, 0.26]

    References
    ----------
    Derived above; single flames at their limit: L. M. Matta, Y. Neumeier, B. Lemon, B. T. Zinn 2002, Proc. Combust.
    Inst. 29, 933 (from memory, unverified).
    """
    crowded = at_least(crowd, 0.0)
    merged = crowded**8 / (1.0 + crowded**8)
    return float((1.0 - merged) * power + merged * sheet / at_least(crowded, 1e-3))


@closure(power_298=(0.5, 50.0), T_metal=(250.0, 700.0))
def warm_quench_power(power_298: float, T_metal: float) -> float:
    r"""Least heat release of a small diffusion flame on a hole in metal that is warmer than a room.

    Parameters
    ----------
    power_298 : the same on metal of 298 K, from `quench_power` [W].
    T_metal : of the metal [K].

    Returns
    -------
    Power [W], :math:`P_{298} \sqrt{298/T}`: as the quenching distance falls.

    >>> round(warm_quench_power(2.8, 480.0), 2)
    2.21

    References
    ----------
    R. Friedman, W. C. Johnston 1950, J. Appl. Phys. 21, 791: quenching distance of propane between walls of 300 to
    560 K, T^-0.5 (from memory, unverified).
    """
    return power_298 * sqrt(298.15 / within(T_metal, 100.0, 1e4))


@closure(T=(250.0, 700.0), burning_velocity_298=(0.05, 1.0))
def heated_burning_velocity(burning_velocity_298: float, T: float) -> float:
    r"""Burning velocity of a mixture that is warmer than a room.

    Parameters
    ----------
    burning_velocity_298 : at 298 K [m/s].
    T : of the unburnt mixture [K].

    Returns
    -------
    Burning velocity [m/s], :math:`S_{L,298}\, (T/298)^{1.75}`.

    >>> round(heated_burning_velocity(0.42, 338.0), 2)
    0.52

    References
    ----------
    Exponent 1.75 +- 0.2, as measured for methanol: M. Metghalchi, J. C. Keck 1982, Combust. Flame 48, 191
    (from memory, unverified).
    """
    return float(burning_velocity_298 * (within(T, 1.0, 1e5) / 298.0) ** 1.75)
