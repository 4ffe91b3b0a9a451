"""Convection between gas and walls: still air, hot gas, wind."""

from math import sqrt

from burnsim.bounds import at_least
from burnsim.closures._validity import closure
from burnsim.constants import ATMOSPHERE, GRAVITY
from burnsim.elementary import power, third_root
from burnsim.substances.air import conductivity as air_conductivity
from burnsim.substances.air import density as air_density
from burnsim.substances.air import heat_capacity as air_heat_capacity
from burnsim.substances.air import prandtl as air_prandtl
from burnsim.substances.air import viscosity as air_viscosity

_THIRD = 1.0 / 3.0
_PARALLEL_PLATES = 7.54
_COOLEST = 100.0
_SMALLEST = 1e-6


def _film(T_wall: float, T_gas: float) -> float:
    """Mean temperature of a wall and the gas beside it, at which the properties of the air are taken [K]."""
    return 0.5 * (at_least(T_wall, _COOLEST) + at_least(T_gas, _COOLEST))


@closure(height=(1e-4, 10.0), T_wall=(200.0, 2500.0), T_gas=(200.0, 2500.0), pressure=(1e4, 1e6))
def rayleigh_number(height: float, T_wall: float, T_gas: float, pressure: float = ATMOSPHERE) -> float:
    r"""Rayleigh number of air beside a surface, with properties at the mean of both temperatures.

    Parameters
    ----------
    height : or other length that the law in question asks for [m].
    T_wall, T_gas : either may be the hotter [K].
    pressure : absolute [Pa].

    Returns
    -------
    Ra [-], :math:`g\, |T_\mathrm{wall} - T_\mathrm{gas}|\, H^3 / (T_\mathrm{film} \nu \alpha)`.

    >>> 4e6 < rayleigh_number(0.1, 373.15, 293.15) < 5e6
    True

    References
    ----------
    Definition; ideal gas.
    """
    film = _film(T_wall, T_gas)
    density = air_density(film, at_least(pressure, 1.0))
    size = at_least(height, _SMALLEST)
    apart = abs(at_least(T_wall, _COOLEST) - at_least(T_gas, _COOLEST))
    group = GRAVITY * apart / film * size * size * size
    return group * density * density * air_heat_capacity(film) / (air_viscosity(film) * air_conductivity(film))


@closure(rayleigh=(0.0, 1e12), prandtl=(0.01, 1000.0))
def churchill_chu_plate(rayleigh: float, prandtl: float) -> float:
    r"""Nusselt number of natural convection along an upright wall.

    Parameters
    ----------
    rayleigh : by the height [-].
    prandtl : [-].

    Returns
    -------
    Nu by the height [-].

    Notes
    -----
    .. math:: \mathrm{Nu} = \left( 0.825 + \frac{0.387\, \mathrm{Ra}^{1/6}}
        {\left( 1 + (0.492/\mathrm{Pr})^{9/16} \right)^{8/27}} \right)^2

    A glass fire screen, 0.71 m high, Ra 1.813e9, Pr 0.69: Nu 147.

    >>> round(churchill_chu_plate(1.813e9, 0.690))
    147

    References
    ----------
    S. W. Churchill, H. H. S. Chu 1975, Int. J. Heat Mass Transfer 18, 1323, eq. 9, DOI
    10.1016/0017-9310(75)90243-4. Example: F. P. Incropera, D. P. DeWitt, ex. 9.2 (from memory, unverified).
    """
    shape = 1.0 + (0.492 / at_least(prandtl, 1e-4)) ** 0.5625
    root = 0.825 + 0.387 * sqrt(at_least(rayleigh, 0.0) ** _THIRD) * shape ** (-8.0 / 27.0)
    return float(root * root)


@closure(height=(1e-3, 10.0), T_wall=(250.0, 2000.0), T_gas=(250.0, 2000.0), pressure=(1e4, 1e6))
def vertical_wall(height: float, T_wall: float, T_gas: float, pressure: float = ATMOSPHERE) -> float:
    """Heat transfer coefficient of natural convection along an upright wall in air or hot gas.

    Parameters
    ----------
    height : of the wall [m].
    T_wall, T_gas : either may be the hotter [K].
    pressure : absolute [Pa].

    Returns
    -------
    h [W/m2/K].

    Notes
    -----
    `churchill_chu_plate` with the properties of air at the mean temperature.

    The side of a pot of boiling water, 0.1 m high: 7.2 W/m2/K.

    >>> round(vertical_wall(0.1, 373.15, 293.15), 1)
    7.2

    References
    ----------
    See `churchill_chu_plate`.
    """
    film = _film(T_wall, T_gas)
    nusselt = churchill_chu_plate(rayleigh_number(height, T_wall, T_gas, pressure), air_prandtl(film))
    return nusselt * air_conductivity(film) / at_least(height, _SMALLEST)


@closure(height=(1e-3, 1.0), T_wall=(250.0, 2000.0), T_gas=(250.0, 2000.0))
def wall_draught(height: float, T_wall: float, T_gas: float) -> float:
    r"""Greatest speed of the air that rises along a warm upright wall.

    Parameters
    ----------
    height : above the wall's foot [m].
    T_wall, T_gas : of the wall and of the air beyond its layer [K].

    Returns
    -------
    Speed [m/s], :math:`0.55 \sqrt{g \beta (T_w - T_\infty) z}` with :math:`\beta` at the mean of both temperatures; 0
    along a wall that is not warmer.

    >>> round(wall_draught(0.01, 420.0, 293.15), 2)
    0.1

    References
    ----------
    S. Ostrach 1953, NACA Report 1111, Prandtl number 0.72: greatest f' of 0.276, twice of which over Gr^(1/2).
    """
    warmer = at_least(T_wall - T_gas, 0.0) / at_least(0.5 * (T_wall + T_gas), 1.0)
    return 0.55 * sqrt(GRAVITY * warmer * at_least(height, 0.0))


@closure(length=(1e-3, 1.0), T_surface=(250.0, 2000.0), T_gas=(250.0, 2000.0), pressure=(1e4, 1e6))
def plate_up(length: float, T_surface: float, T_gas: float, pressure: float = ATMOSPHERE) -> float:
    r"""Heat transfer coefficient over a hot plate that faces up, or under a cold one that faces down.

    Parameters
    ----------
    length : area over perimeter [m]; a quarter of the diameter of a disc.
    T_surface, T_gas : [K].
    pressure : absolute [Pa].

    Returns
    -------
    h [W/m2/K]; the gas rises from (or sinks off) the plate freely.

    Notes
    -----
    .. math:: \mathrm{Nu} = \max\left( 0.54\, \mathrm{Ra}^{1/4},\; 0.15\, \mathrm{Ra}^{1/3},\;
        0.96\, \mathrm{Ra}^{1/6},\; 1 \right)

    The first two cross at Ra 4.7e6.

    Water of 60 degC in a pot of 14 cm: Ra 1.3e5, Nu 0.54 x 19, some 8 W/m2/K.

    >>> 7.5 < plate_up(0.035, 333.15, 293.15) < 8.5
    True

    References
    ----------
    W. H. McAdams 1954; J. R. Lloyd, W. R. Moran 1974, J. Heat Transfer 96, 443. Low end: R. J. Goldstein,
    E. M. Sparrow, D. C. Jones 1973, Int. J. Heat Mass Transfer 16, 1025.
    """
    rayleigh = rayleigh_number(length, T_surface, T_gas, pressure)
    third = float(rayleigh**_THIRD)
    nusselt = max(0.54 * sqrt(sqrt(rayleigh)), 0.15 * third, 0.96 * sqrt(third), 1.0)
    return nusselt * air_conductivity(_film(T_surface, T_gas)) / at_least(length, _SMALLEST)


@closure(length=(1e-3, 1.0), T_surface=(250.0, 2000.0), T_gas=(250.0, 2000.0), pressure=(1e4, 1e6))
def plate_down(length: float, T_surface: float, T_gas: float, pressure: float = ATMOSPHERE) -> float:
    r"""Heat transfer coefficient under a hot plate that faces down, or over a cold one that faces up.

    Parameters
    ----------
    length : area over perimeter [m].
    T_surface, T_gas : [K].
    pressure : absolute [Pa].

    Returns
    -------
    h [W/m2/K]; the gas is held against the plate and creeps off over its edge.

    Notes
    -----
    .. math:: \mathrm{Nu} = \max\left( 0.27\, \mathrm{Ra}^{1/4},\; 1 \right)

    >>> plate_down(0.05, 400.0, 300.0) < plate_up(0.05, 400.0, 300.0)
    True

    References
    ----------
    W. H. McAdams 1954, Heat Transmission.
    """
    rayleigh = rayleigh_number(length, T_surface, T_gas, pressure)
    nusselt = at_least(0.27 * sqrt(sqrt(rayleigh)), 1.0)
    return nusselt * air_conductivity(_film(T_surface, T_gas)) / at_least(length, _SMALLEST)


@closure(velocity=(0.0, 20.0), diameter=(1e-3, 1.0), T_film=(250.0, 2000.0), pressure=(1e4, 1e6))
def stagnation_disc(velocity: float, diameter: float, T_film: float, pressure: float = ATMOSPHERE) -> float:
    r"""Heat transfer coefficient where a stream of gas meets a disc head-on.

    Parameters
    ----------
    velocity : of the stream [m/s].
    diameter : of the disc, or of the stream if that is narrower [m].
    T_film : mean of gas and disc temperature [K].
    pressure : absolute [Pa].

    Returns
    -------
    h [W/m2/K] about the middle of the disc; towards a rim from which the gas turns up it is of the same
    order.

    Notes
    -----
    .. math:: \mathrm{Nu} = 0.763\, \mathrm{Pr}^{0.4}\, \mathrm{Re}^{0.5}

    for a velocity gradient :math:`U/D` along the face. Laminar.

    >>> 8.0 < stagnation_disc(1.0, 0.1, 600.0) < 16.0
    True

    References
    ----------
    M. Sibulkin 1952, J. Aeronaut. Sci. 19, 570.
    """
    film = at_least(T_film, _COOLEST)
    size = at_least(diameter, _SMALLEST)
    reynolds = air_density(film, at_least(pressure, 1.0)) * abs(velocity) * size / air_viscosity(film)
    return float(0.763 * air_prandtl(film) ** 0.4 * sqrt(reynolds) * air_conductivity(film) / size)


@closure(reynolds=(1.0, 1e7), prandtl=(0.1, 1000.0))
def churchill_bernstein(reynolds: float, prandtl: float) -> float:
    r"""Nusselt number of a cylinder in a cross wind.

    Parameters
    ----------
    reynolds : by the diameter [-].
    prandtl : [-]; Re Pr above 0.2.

    Returns
    -------
    Nu by the diameter, mean round the cylinder [-].

    Notes
    -----
    .. math:: \mathrm{Nu} = 0.3 + \frac{0.62\, \mathrm{Re}^{1/2}\, \mathrm{Pr}^{1/3}}
        {\left( 1 + (0.4/\mathrm{Pr})^{2/3} \right)^{1/4}}
        \left( 1 + (\mathrm{Re}/282000)^{5/8} \right)^{4/5}

    A cylinder of 12.7 mm in air at 10 m/s, Re 6071, Pr 0.70: Nu 40.6.

    >>> round(churchill_bernstein(6071.0, 0.70), 1)
    40.6

    References
    ----------
    S. W. Churchill, M. Bernstein 1977, J. Heat Transfer 99, 300, DOI 10.1115/1.3450685.
    Example: F. P. Incropera, D. P. DeWitt, ex. 7.4 (from memory, unverified).
    """
    re = at_least(reynolds, 0.0)
    pr = at_least(prandtl, 1e-4)
    shape = (1.0 + (0.4 / pr) ** (2.0 / 3.0)) ** -0.25
    return float(0.3 + 0.62 * sqrt(re) * pr**_THIRD * shape * (1.0 + (re / 282000.0) ** 0.625) ** 0.8)


@closure(wind=(0.0, 20.0), diameter=(1e-3, 1.0), T_film=(250.0, 1500.0), pressure=(1e4, 1e6))
def wind_coefficient(wind: float, diameter: float, T_film: float, pressure: float = ATMOSPHERE) -> float:
    """Heat transfer coefficient of wind on the side of a burner or a pot.

    Parameters
    ----------
    wind : speed of the air [m/s].
    diameter : of the vessel [m].
    T_film : mean of air and wall temperature [K].
    pressure : absolute [Pa].

    Returns
    -------
    h [W/m2/K], 0 in still air (natural convection is added by `mixed_coefficient`).

    Notes
    -----
    `churchill_bernstein` less its limit 0.3 for no wind.

    >>> 9.0 < wind_coefficient(1.0, 0.14, 310.0) < 13.0
    True

    References
    ----------
    See `churchill_bernstein`.
    """
    film = at_least(T_film, _COOLEST)
    size = at_least(diameter, _SMALLEST)
    reynolds = air_density(film, at_least(pressure, 1.0)) * abs(wind) * size / air_viscosity(film)
    return (churchill_bernstein(reynolds, air_prandtl(film)) - 0.3) * air_conductivity(film) / size


@closure(rayleigh=(0.0, 7e8), prandtl=(0.02, 9000.0))
def layer_transfer(rayleigh: float, prandtl: float) -> float:
    r"""Nusselt or Sherwood number of a fluid between a level surface below and one above that makes it sink.

    Parameters
    ----------
    rayleigh : by the distance, with the whole difference of density [-]; 0 for a fluid that lies still.
    prandtl : or the Schmidt number of a vapour [-].

    Returns
    -------
    Transfer over that of a still layer [-], never below 1.

    Notes
    -----
    Globe and Dropkin's law of a deep layer, joined to the still one by cubes:

    .. math:: \mathrm{Nu} = \left( 1 + (0.069\, \mathrm{Ra}^{1/3} \mathrm{Pr}^{0.074})^3 \right)^{1/3}

    Measured from Ra 1.5e5 on. Below it, a layer between wide plates carries up to a half more, in a vessel as wide
    as deep less.

    >>> round(layer_transfer(1e6, 0.7), 1)      # 0.069 x 100 x 0.974 = 6.7
    6.7

    References
    ----------
    S. Globe, D. Dropkin 1959, J. Heat Transfer 81, 24 (as in Incropera and DeWitt, 9.8).
    """
    deep = 0.069 * power(at_least(prandtl, 1e-6), 0.074)
    return third_root(1.0 + deep * deep * deep * at_least(rayleigh, 0.0))


@closure(h_natural=(0.0, 1e4), h_wind=(0.0, 1e4))
def mixed_coefficient(h_natural: float, h_wind: float) -> float:
    """Heat transfer coefficient of natural convection and wind together.

    Parameters
    ----------
    h_natural, h_wind : of each alone [W/m2/K].

    Returns
    -------
    h [W/m2/K], :math:`(h_n^3 + h_w^3)^{1/3}`, for flows across each other or the same way.

    >>> round(mixed_coefficient(3.0, 4.0), 2)
    4.5

    References
    ----------
    S. W. Churchill 1977, AIChE J. 23, 10.
    """
    natural = at_least(h_natural, 0.0)
    forced = at_least(h_wind, 0.0)
    if forced <= 0.0:
        return natural
    return float((natural * natural * natural + forced * forced * forced) ** _THIRD)


@closure(gap=(1e-5, 0.05), conductivity=(0.005, 0.5))
def gap_coefficient(gap: float, conductivity: float) -> float:
    r"""Heat transfer coefficient of gas streaming laminar through a gap, to each of its walls.

    Parameters
    ----------
    gap : clear width [m].
    conductivity : of the gas [W/m/K].

    Returns
    -------
    h [W/m2/K], :math:`7.54\, k / (2 \delta)` with the gap: developed flow between plates of even temperature.

    >>> round(gap_coefficient(5e-3, 0.06), 1)
    45.2

    References
    ----------
    R. K. Shah, A. L. London 1978, Laminar Flow Forced Convection in Ducts: Nu 7.541 by the hydraulic
    diameter.
    """
    return _PARALLEL_PLATES * conductivity / (2.0 * at_least(gap, _SMALLEST))
