"""Nucleate boiling on the wetted walls."""

from math import log, log10

from burnsim.bounds import at_least, at_most, within
from burnsim.closures._validity import closure
from burnsim.constants import GAS_CONSTANT
from burnsim.elementary import power

COOPER_EXPONENT = 1.0 / 0.33
"""Exponent of the superheat in Cooper's law, q'' = (c dT)^(1/0.33) [-]."""


@closure(reduced_pressure=(0.001, 0.9), molar_mass_g=(2.0, 200.0))
def cooper_coefficient(reduced_pressure: float, molar_mass_g: float) -> float:
    r"""Coefficient of Cooper's law of pool boiling for a surface of 1 micrometre roughness.

    Parameters
    ----------
    reduced_pressure : pressure over critical pressure [-], 0.001 to 0.9.
    molar_mass_g : molar mass in the law's own unit [g/mol], 2 to 200.

    Returns
    -------
    c [W^0.33/m^0.66/K] such that :math:`\dot q'' = (c\,\Delta T)^{1/0.33}`, the flux in W/m2 and the superheat in K.

    Notes
    -----
    .. math:: h = 55\, p_r^{0.12} (-\log_{10} p_r)^{-0.55} M^{-0.5}\, \dot q''^{\,0.67}

    so c is the part before the flux. Cooper's exponent 0.67 is used as he rounded it.

    Water at one atmosphere:

    >>> c = cooper_coefficient(101325.0 / 22.064e6, 18.015)
    >>> round(c, 2)                  # 55 x 0.524 x 0.627/4.244
    4.26

    References
    ----------
    M. G. Cooper 1984, Int. Chem. Eng. Symp. Ser. 86, 785; and Adv. Heat Transfer 16, 157.
    """
    pr = within(reduced_pressure, 1e-6, 0.95)
    return float(55.0 * pr**0.12 * (-log10(pr)) ** -0.55 * at_least(molar_mass_g, 1.0) ** -0.5)


@closure(superheat=(0.0, 40.0))
def cooper_heat_flux(superheat: float, c: float) -> float:
    r"""Heat flux into boiling liquid from a wall, by Cooper's law.

    Parameters
    ----------
    superheat : wall above boiling point [K]; no flux below 0.
    c : from `cooper_coefficient` [W^0.33/m^0.66/K].

    Returns
    -------
    Heat flux [W/m2], :math:`(c\,\Delta T)^{1/0.33}`.

    Ethanol, c = 3.585: 10 kW/m2 needs 20.9/3.585 = 5.83 K.

    >>> round(cooper_heat_flux(5.83, 3.585), -2)
    10000.0
    >>> cooper_heat_flux(-1.0, 3.585)
    0.0

    References
    ----------
    See `cooper_coefficient`.
    """
    drive = c * superheat
    if superheat <= 0.0 or drive <= 0.0:
        return 0.0
    return power(at_most(drive, 1e9), COOPER_EXPONENT)


@closure(temperature=(250.0, 500.0), latent_heat_molar=(1e4, 6e4))
def superheat(bubble_pressure: float, pressure: float, temperature: float, latent_heat_molar: float) -> float:
    r"""Superheat of a liquid from its bubble pressure, with no search for the boiling point.

    Parameters
    ----------
    bubble_pressure : sum of the partial pressures over the liquid [Pa].
    pressure : that acts on it [Pa].
    temperature : of the liquid [K].
    latent_heat_molar : of what boils off [J/mol].

    Returns
    -------
    Temperature above the boiling point [K], negative below it.

    Notes
    -----
    Clausius and Clapeyron for an ideal vapour, to first order in the superheat:

    .. math:: \Delta T = \frac{R T^2}{L} \ln\frac{p_\mathrm{bubble}}{p}

    With the true latent heat it is 2 to 6 % high, by the vapour's compressibility.

    Ethanol that must push 100 Pa more: 0.026 K.

    >>> round(superheat(101425.0, 101325.0, 351.4, 39.1e3), 4)
    0.0259

    References
    ----------
    Any text on thermodynamics.
    """
    ratio = at_least(bubble_pressure, 1e-30) / at_least(pressure, 1e-30)
    return GAS_CONSTANT * temperature * temperature / at_least(latent_heat_molar, 1.0) * log(ratio)
