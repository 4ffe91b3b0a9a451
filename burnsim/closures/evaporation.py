"""Evaporation below boiling: through a still film, into a burning film, from open water; and dew on a cold wall."""

from math import log, log1p, sqrt

from burnsim.bounds import at_least, within
from burnsim.closures._validity import closure
from burnsim.closures.convection import mixed_coefficient
from burnsim.constants import AIR_MOLAR_MASS, ATMOSPHERE, GAS_CONSTANT, GRAVITY
from burnsim.elementary import power
from burnsim.substances.air import density as air_density
from burnsim.substances.air import viscosity as air_viscosity
from burnsim.substances.water import MOLAR_MASS as WATER_MOLAR_MASS

WATER_DIFFUSIVITY = 2.6e-5
"""Diffusivity of water vapour in air at 298 K and one atmosphere [m2/s], Incropera & DeWitt table A.8."""

PLATE, DISC = 0.664, 1.1128
"""Mean transfer to a laminar flow along a plate, and that to a disc as wide over that to a square [-]."""

RICHEST = 0.999
"""Mole fraction of vapour at a surface: a film theory ends where there is no air left [-]."""

_THIRD = 1.0 / 3.0
_CALM = 1e-4


def water_diffusivity(T: float, pressure: float) -> float:
    """Diffusivity of water vapour in air [m2/s] at T [K] and so much pressure [Pa].

    >>> round(water_diffusivity(298.0, 101325.0) * 1e5, 2)
    2.6

    References
    ----------
    The power of temperature: E. N. Fuller, P. D. Schettler, J. C. Giddings 1966, Ind. Eng. Chem. 58 (5), 18.
    """
    return WATER_DIFFUSIVITY * power(T / 298.0, 1.75) * ATMOSPHERE / at_least(pressure, 1.0)


@closure(
    diffusivity=(1e-7, 1e-3), thickness=(1e-5, 1.0), concentration=(1.0, 200.0), y_surface=(0.0, 0.999),
    y_bulk=(0.0, 0.999),
)  # fmt: skip
def stefan_flux(diffusivity: float, thickness: float, concentration: float, y_surface: float, y_bulk: float) -> float:
    r"""Molar flux of vapour from a surface through a still layer of gas.

    Parameters
    ----------
    diffusivity : of the vapour in the gas [m2/s].
    thickness : of the layer [m].
    concentration : total, :math:`p/(R T)` [mol/m3].
    y_surface, y_bulk : mole fraction of the vapour at both ends of the layer [-]; capped at 0.999.

    Returns
    -------
    Flux [mol/m2/s], negative when vapour condenses.

    Notes
    -----
    Diffusion and the drift that it causes:

    .. math:: N = \frac{c D}{\delta} \ln\frac{1 - y_\mathrm{bulk}}{1 - y_\mathrm{surface}}

    Water at 293 K at the foot of a tube of 0.1524 m, vapour pressure 17.54 mmHg: 1.595e-4 mol/m2/s in the
    book.

    >>> flux = stefan_flux(2.5e-5, 0.1524, 101325.0 / (8.314 * 293.0), 17.54 / 760.0, 0.0)
    >>> abs(flux / 1.595e-4 - 1.0) < 0.003
    True

    References
    ----------
    Example: C. J. Geankoplis, Transport Processes and Unit Operations, ex. 6.2-2 (from memory, unverified).
    R. B. Bird, W. E. Stewart, E. N. Lightfoot 2007, Transport Phenomena, eq. 18.2-14.
    """
    bottom = 1.0 - within(y_surface, 0.0, RICHEST)
    top = 1.0 - within(y_bulk, 0.0, RICHEST)
    return concentration * diffusivity / at_least(thickness, 1e-6) * log(top / bottom)


@closure(
    heating_value_mass=(1e6, 6e7), air_fuel_ratio=(1.0, 20.0), latent=(1e5, 3e6), cp=(500.0, 3000.0),
    T_ambient=(230.0, 330.0), T_surface=(250.0, 400.0), radiant_fraction=(0.0, 0.6),
)  # fmt: skip
def spalding_number(
    heating_value_mass: float,
    air_fuel_ratio: float,
    latent: float,
    cp: float,
    T_ambient: float,
    T_surface: float,
    radiant_fraction: float,
) -> float:
    r"""Transfer number of a burning surface: heat the air can free over heat the fuel needs to evaporate.

    Parameters
    ----------
    heating_value_mass : lower heating value of the fuel [J/kg].
    air_fuel_ratio : stoichiometric, by mass [-].
    latent : heat of gasification, latent heat and the warming of the liquid [J/kg].
    cp : of the gas [J/kg/K].
    T_ambient, T_surface : [K].
    radiant_fraction : share of the heat of combustion that is radiated away [-].

    Returns
    -------
    B [-], never negative.

    Notes
    -----
    .. math:: B = \frac{(1 - X_r)\, \Delta h_c / s - c_p (T_\mathrm{surface} - T_\mathrm{ambient})}{L}

    with the air-fuel ratio s: oxygen mass fraction times heat per mass of oxygen is the heating value over the air-fuel
    ratio.

    Methanol: 2.5.

    >>> round(spalding_number(19.94e6, 6.47, 1.101e6 + 40 * 2535, 1000.0, 298.0, 337.7, 0.0), 1)
    2.5

    References
    ----------
    D. B. Spalding 1953, Proc. Combust. Inst. 4, 847; J. G. Quintiere 2006, Fundamentals of Fire Phenomena,
    ch. 9.
    """
    heat = (1.0 - radiant_fraction) * heating_value_mass / at_least(air_fuel_ratio, 1e-6)
    return at_least(heat - cp * (T_surface - T_ambient), 0.0) / at_least(latent, 1.0)


@closure(h=(0.0, 1000.0), cp=(500.0, 3000.0), B=(0.0, 20.0))
def film_burning_flux(h: float, cp: float, B: float) -> float:
    r"""Mass flux of fuel from a burning surface by film theory.

    Parameters
    ----------
    h : heat transfer coefficient without blowing [W/m2/K].
    cp : of the gas [J/kg/K].
    B : from `spalding_number` [-].

    Returns
    -------
    Mass flux [kg/m2/s], :math:`(h / c_p) \ln(1 + B)`.

    >>> round(film_burning_flux(12.0, 1100.0, 2.5) * 1e3, 1)    # g/m2/s
    13.7

    References
    ----------
    D. B. Spalding 1953, Proc. Combust. Inst. 4, 847.
    """
    return h / at_least(cp, 1.0) * log1p(at_least(B, 0.0))


@closure(exchange=(0.0, 1.0), y_gas=(0.0, 0.999), y_wall=(0.0, 0.999), lewis=(0.5, 2.0))
def condensing_rate(exchange: float, y_gas: float, y_wall: float, lewis: float) -> float:
    r"""Flow of a vapour that condenses out of a film of gas on a wall which also takes heat through it.

    Parameters
    ----------
    exchange : heat that the film passes over the enthalpy that drives it [kg/s], or both for each area [kg/m2/s].
    y_gas, y_wall : mass fraction of the vapour in the gas, and where it is saturated at the wall [-]; capped at 0.999.
    lewis : diffusivity of the vapour in the gas over the thermal one [-].

    Returns
    -------
    Flow [kg/s], or flux [kg/m2/s] where `exchange` is for each area; negative where the wall's liquid evaporates.

    Notes
    -----
    Heat and mass pass alike but for their diffusivities, and the gas drifts towards a wall that takes part of it:

    .. math:: \dot m = g\, \mathrm{Le}^{2/3} \ln\frac{1 - Y_\mathrm{wall}}{1 - Y_\mathrm{gas}}

    Burnt gas of methanol with half as much air again, 15 kW/m2 from 1.7 MJ/kg, a wall at 35 degC: an eighth more heat.

    >>> flux = condensing_rate(15e3 / 1.7e6, 0.11, 0.035, 1.2)
    >>> round(flux * 2.42e6 / 15e3, 2)
    0.13

    References
    ----------
    A. P. Colburn, O. A. Hougen 1934, Ind. Eng. Chem. 26, 1178. The exponent: T. H. Chilton, A. P. Colburn 1934, Ind.
    Eng. Chem. 26, 1183. The drift: R. B. Bird, W. E. Stewart, E. N. Lightfoot 2007, Transport Phenomena, 22.8.
    """
    left = 1.0 - within(y_gas, 0.0, RICHEST)
    return exchange * power(lewis, 2.0 * _THIRD) * log((1.0 - within(y_wall, 0.0, RICHEST)) / left)


@closure(wind=(0.0, 10.0), diameter=(0.02, 1.0), T_film=(250.0, 380.0), pressure=(4e4, 1.1e5))
def wind_transfer(wind: float, diameter: float, T_film: float, pressure: float) -> float:
    r"""Mass transfer coefficient of water vapour between a round surface of water and a wind along it.

    Parameters
    ----------
    wind : along the surface [m/s].
    diameter : of the surface [m].
    T_film : mean of water and air [K].
    pressure : absolute [Pa].

    Returns
    -------
    Flux over the difference of the vapour's densities [m/s].

    Notes
    -----
    A laminar boundary layer, along every chord of the disc from its windward end:

    .. math:: \mathrm{Sh} = 1.113 \cdot 0.664\, \mathrm{Re}^{1/2} \mathrm{Sc}^{1/3}, \quad
        1.113 = \frac{2}{\pi} \int_{-1}^{1} (1 - t^2)^{1/4} dt

    Laminar up to Re of about 5e5.

    A basin one metre wide, and a pot, in 1 m/s [mm/s]; tanks and pools are said to have 4.5 for each metre a second:

    >>> [round(1e3 * wind_transfer(1.0, width, 300.0, 101325.0), 1) for width in (1.0, 0.14)]
    [4.1, 11.0]

    References
    ----------
    E. Pohlhausen 1921, Z. angew. Math. Mech. 1, 115 (the plate), and the analogy of heat and mass: F. P. Incropera, D.
    P. DeWitt, Fundamentals of Heat and Mass Transfer, 7.2. Tanks: W. H. Carrier 1918, ASHVE Transactions 24, 25 (from
    memory).
    """
    film = at_least(T_film, 100.0)
    viscosity = air_viscosity(film) / air_density(film, at_least(pressure, 1.0))
    diffusivity = water_diffusivity(film, pressure)
    size = at_least(diameter, 1e-6)
    reynolds = abs(wind) * size / viscosity
    return PLATE * DISC * sqrt(reynolds) * power(viscosity / diffusivity, _THIRD) * diffusivity / size


@closure(
    T_surface=(273.0, 373.5), y_surface=(0.0, 1.0), T_air=(230.0, 330.0), y_air=(0.0, 0.1), pressure=(4e4, 1.1e5),
    transfer=(0.0, 1.0),
)  # fmt: skip
def water_evaporation(
    T_surface: float, y_surface: float, T_air: float, y_air: float, pressure: float, transfer: float = 0.0
) -> float:
    r"""Mass flux of water vapour from open water into still air, or into a wind.

    Parameters
    ----------
    T_surface : of the water [K].
    y_surface : mole fraction of water vapour at its surface, :math:`p_\mathrm{sat}/p` [-].
    T_air : [K].
    y_air : mole fraction of water vapour in the air [-].
    pressure : absolute [Pa].
    transfer : mass transfer coefficient of a wind alone [m/s], from `wind_transfer`.

    Returns
    -------
    Mass flux [kg/m2/s], negative when water condenses.

    Notes
    -----
    Heat and mass transfer alike, :math:`\mathrm{Sh} = 0.15\, (\mathrm{Gr\, Sc})^{1/3}`, so that the size drops out:

    .. math:: \dot m'' = k\, (\rho_{v,\mathrm{surface}} - \rho_{v,\mathrm{air}}), \quad
        k = 0.15 \left( g\, \frac{\rho_\mathrm{air} - \rho_\mathrm{surface}}{\rho} \frac{D^2}{\nu} \right)^{1/3}

    with the densities of the moist gases: the vapour is lighter than air and drives the draught as the warmth does. A
    wind adds to k as in `mixed_coefficient`. The flux's own drift is left out (low-flux form, as measurements are
    correlated). Where the moist gas is the heavier it lies still, and a small draught (a ten-thousandth of the density)
    is assumed.

    At 60 degC in air of 20 degC and 50 %: some 3 kg/m2/h.

    >>> flux = water_evaporation(333.15, 0.1966, 293.15, 0.0116, 101325.0) * 3600.0
    >>> 2.4 < flux < 3.6
    True

    References
    ----------
    J. R. Lloyd, W. R. Moran 1974, J. Heat Transfer 96, 443 (0.15 and the analogy). Checked against M. M.
    Shah.
    """
    hot = at_least(T_surface, 100.0)
    cold = at_least(T_air, 100.0)
    y_hot = within(y_surface, 0.0, 1.0)
    y_cold = within(y_air, 0.0, 1.0)
    light = (AIR_MOLAR_MASS + (WATER_MOLAR_MASS - AIR_MOLAR_MASS) * y_hot) / hot
    heavy = (AIR_MOLAR_MASS + (WATER_MOLAR_MASS - AIR_MOLAR_MASS) * y_cold) / cold
    film = 0.5 * (hot + cold)
    density = 0.5 * (light + heavy) * pressure / GAS_CONSTANT
    buoyancy = at_least(2.0 * (heavy - light) / (light + heavy), _CALM)
    diffusivity = water_diffusivity(film, pressure)
    viscosity = air_viscosity(film) / at_least(density, 1e-6)
    still = 0.15 * float((GRAVITY * buoyancy * diffusivity * diffusivity / viscosity) ** _THIRD)
    return (
        mixed_coefficient(still, transfer) * WATER_MOLAR_MASS * pressure / GAS_CONSTANT * (y_hot / hot - y_cold / cold)
    )
