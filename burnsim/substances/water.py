"""Water in the pot, per kilogram: scalar floats, enthalpy zero for liquid at 298.15 K."""

from math import exp, pow, sqrt

from burnsim.bounds import within
from burnsim.constants import DATUM, ZERO_CELSIUS
from burnsim.substances.catalogue import SUBSTANCES

MOLAR_MASS = SUBSTANCES["water"].molar_mass
"""Molar mass [kg/mol]."""

_N = (
    0.11670521452767e4,
    -0.72421316703206e6,
    -0.17073846940092e2,
    0.12020824702470e5,
    -0.32325550322333e7,
    0.14915108613530e2,
    -0.48232657361591e4,
    0.40511340542057e6,
    -0.23855557567849,
    0.65017534844798e3,
)
_CP = tuple(c / MOLAR_MASS for c in SUBSTANCES["water"].liquid_heat)
_MU = SUBSTANCES["water"].ln_viscosity
_VAPOUR = tuple(c / MOLAR_MASS for c in SUBSTANCES["water"].vapour_heat)


def vapour_pressure(T: float) -> float:
    """Vapour pressure of water [Pa] at T [K], 273.15 to 640 (held inside 200 to 640).

    Sources: IAPWS Industrial Formulation 1997, region 4, equation 30 (coefficients from memory, checked
    against its verification values).

    >>> round(vapour_pressure(300.0), 2)  # IAPWS-IF97, table 35: 3536.58941
    3536.59
    """
    T = within(T, 200.0, 640.0)
    t = T + _N[8] / (T - _N[9])
    a = t * t + _N[0] * t + _N[1]
    b = _N[2] * t * t + _N[3] * t + _N[4]
    c = _N[5] * t * t + _N[6] * t + _N[7]
    r = 2.0 * c / (-b + sqrt(b * b - 4.0 * a * c))
    return 1e6 * r * r * r * r


def boiling_point(p: float) -> float:
    """Temperature at which water boils [K] at p [Pa], 611 to 2e6 (held inside 100 to 2e7).

    Sources: IAPWS Industrial Formulation 1997, region 4, equation 31 (coefficients from memory, checked as
    above).

    >>> round(boiling_point(1e5), 3)  # IAPWS-IF97, table 36: 372.755919
    372.756
    """
    b = sqrt(sqrt(within(p, 100.0, 2e7) * 1e-6))
    e = b * b + _N[2] * b + _N[5]
    f = _N[0] * b * b + _N[3] * b + _N[6]
    g = _N[1] * b * b + _N[4] * b + _N[7]
    d = 2.0 * g / (-f - sqrt(f * f - 4.0 * e * g))
    s = _N[9] + d
    return 0.5 * (s - sqrt(s * s - 4.0 * (_N[8] + _N[9] * d)))


def liquid_density(T: float) -> float:
    """Density of liquid water at atmospheric pressure [kg/m3] at T [K], 273.15 to 383.15 (held inside).

    Sources: Kell (1975), J. Chem. Eng. Data 20, 97, equation 16 (coefficients from memory).

    >>> round(liquid_density(293.15), 1)  # tables: 998.2
    998.2
    """
    t = within(T - ZERO_CELSIUS, -30.0, 150.0)
    top = 999.83952 + t * (
        16.945176 + t * (-7.9870401e-3 + t * (-46.170461e-6 + t * (105.56302e-9 - 280.54253e-12 * t)))
    )
    return top / (1.0 + 16.879850e-3 * t)


def liquid_heat_capacity(T: float) -> float:
    """Heat capacity of liquid water [J/kg/K] at T [K], 274 to 380; the same line as in the fuel records.

    >>> round(liquid_heat_capacity(298.15) / 4181, 2)  # tables: 4181 J/kg/K
    1.0
    """
    return _CP[0] + _CP[1] * (T - DATUM)


def liquid_enthalpy(T: float) -> float:
    """Enthalpy of liquid water above 298.15 K [J/kg] at T [K], 274 to 380.

    >>> round((liquid_enthalpy(373.12) - liquid_enthalpy(293.15)) / 1e3, 0)  # tables: 335 kJ/kg
    335.0
    """
    th = T - DATUM
    return th * (_CP[0] + 0.5 * _CP[1] * th)


def vapour_enthalpy(T: float) -> float:
    """Enthalpy of saturated water vapour above liquid at 298.15 K [J/kg] at T [K], 274 to 380.

    >>> round(vapour_enthalpy(298.15) / 2441.7e3, 2)  # steam tables: latent heat 2441.7 kJ/kg
    1.0
    """
    th = T - DATUM
    return _VAPOUR[0] + th * (_VAPOUR[1] + 0.5 * _VAPOUR[2] * th)


def latent_heat(T: float) -> float:
    """Latent heat of water, vapour less liquid enthalpy [J/kg] at T [K], 274 to 380.

    >>> round(latent_heat(373.12) / 2256.5e3, 2)  # tables: 2256.5 kJ/kg
    1.0
    """
    return vapour_enthalpy(T) - liquid_enthalpy(T)


def viscosity(T: float) -> float:
    """Viscosity of liquid water [Pa s] at T [K], 274 to 380 (held inside 240 to 500).

    Perry's Chemical Engineers' Handbook, 8th edition, refitted.

    >>> round(1e3 * viscosity(293.15), 1)  # tables: 1.002 mPa s
    1.0
    """
    u = 1000.0 / within(T, 240.0, 500.0)
    return exp(_MU[0] + u * (_MU[1] + u * _MU[2]))


def surface_tension(T: float) -> float:
    """Surface tension of water [N/m] at T [K], 273.15 to 640.

    0.2358 t^1.256 (1 - 0.625 t) with t = 1 - T/647.096.

    Sources: IAPWS R1-76 (2014), equation 1 (from memory).

    >>> round(1e3 * surface_tension(293.15), 1)  # tables: 72.7
    72.7
    """
    t = within(1.0 - T / 647.096, 0.0, 1.0)
    return 0.2358 * pow(t, 1.256) * (1.0 - 0.625 * t)
