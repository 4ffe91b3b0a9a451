"""Conduction along thin walls: strips, fins in gas and fins in boiling liquid."""

from math import sqrt, tanh

from burnsim.closures._validity import closure

_SHORTEST = 1e-5


@closure(k=(0.1, 450.0), thickness=(0.0, 0.01), h=(0.0, 1e5), length=(0.0, 1.0))
def fin_conductance(k: float, thickness: float, perimeter: float, h: float, length: float) -> float:
    """Conductance from the root of a thin wall to the gas along it, the far end carrying no heat.

    Parameters
    ----------
    k : conductivity of the metal [W/m/K].
    thickness : of the wall [m].
    perimeter : width of the wall across the heat flow, such as the circumference of a cup [m].
    h : heat transfer coefficient, both faces added [W/m2/K].
    length : of the wall along the heat flow [m].

    Returns
    -------
    Heat per kelvin between root and gas [W/K].

    Notes
    -----
    G = P sqrt(h k t) tanh(L sqrt(h/(k t))). It goes to h P L for a good conductor and to 0 for no thickness.

    A short or thick fin is simply its surface.

    >>> round(fin_conductance(200.0, 1e-3, 0.2, 10.0, 1e-3), 6)      # h P L = 0.002 W/K
    0.002

    Sources
    -------
    Any text on heat transfer (straight fin, adiabatic tip).
    """
    sheet = max(k * thickness, 0.0)
    film = max(h, 0.0)
    return perimeter * sqrt(film * sheet) * tanh(max(length, 0.0) * sqrt(film / max(sheet, 1e-30)))


@closure(k=(0.1, 450.0), thickness=(0.0, 0.01), length=(1e-5, 1.0))
def strip_conductance(k: float, thickness: float, perimeter: float, length: float) -> float:
    """Conductance along a thin wall that loses nothing at its faces.

    Parameters
    ----------
    k : conductivity of the metal [W/m/K].
    thickness : of the wall [m].
    perimeter : width of the wall across the heat flow [m].
    length : along the heat flow [m]; taken as at least 10 micrometres.

    Returns
    -------
    k t P/L [W/K].

    >>> round(strip_conductance(200.0, 1e-4, 0.2, 0.01), 9)
    0.4

    Sources
    -------
    Fourier's law.
    """
    return k * max(thickness, 0.0) * perimeter / max(length, _SHORTEST)


@closure(k=(0.1, 450.0), thickness=(0.0, 0.01), exponent=(0.5, 4.0), superheat=(0.0, 40.0))
def boiling_fin_heat(
    k: float, thickness: float, perimeter: float, coefficient: float, exponent: float, superheat: float
) -> float:
    """Heat that a hot thin wall sends down into boiling liquid, as a fin whose film follows a power law.

    Parameters
    ----------
    k : conductivity of the metal [W/m/K].
    thickness : of the wall [m].
    perimeter : width of the wall across the heat flow [m].
    coefficient : C of q'' = C dT^m, both wetted faces added [W/m2/K^m]; for Cooper's law c^(1/0.33) a face.
    exponent : m [-]; for Cooper's law 1/0.33.
    superheat : of the wall at the liquid's surface, above the boiling point [K]; no heat below 0.

    Returns
    -------
    Heat flow [W].

    Notes
    -----
    k t d2T/dx2 = C dT^m on a fin so deep that its end is cold. Multiplied by dT/dx it integrates once,
    exactly: Q = P sqrt(2 k t C/(m + 1)) dT^((m + 1)/2).

    With m = 1 it is the ordinary long fin, P sqrt(k t C) dT.

    >>> round(boiling_fin_heat(200.0, 1e-4, 0.2, 2000.0, 1.0, 5.0), 6)
    6.324555

    Sources
    -------
    First integral of the fin equation, derived above; see also A. D. Kraus, A. Aziz, J. Welty 2001,
    Extended Surface Heat Transfer (power-law films; from memory, unverified).
    """
    if superheat <= 0.0:
        return 0.0
    m1 = min(max(exponent, 0.0), 20.0) + 1.0
    sheet = max(k * thickness * coefficient, 0.0)
    return float(perimeter * sqrt(2.0 * sheet / m1) * min(superheat, 1e6) ** (0.5 * m1))
