"""Vapour-liquid equilibrium of a blend: vapour pressures, Wilson activity coefficients, bubble point.

The vapour is an ideal gas and p_i = x_i gamma_i p_sat,i. Activity coefficients are Wilson's, fitted pair by pair to
Dortmund UNIFAC over 280 to 375 K; any number of components uses the same pairs. UNIFAC inside the loop would cost more
than all the rest.

The pairs stand in the data files of the fuels, where a test fits them anew. Two alcohols are fitted together with
water, since spirits always share it. Ethanol in much water is a quarter too volatile by UNIFAC: its pair with water is
fitted to measured Henry's law and azeotrope besides. Acetone with an alcohol and water is poor, and warns.

Sources: Wilson (1964), J. Am. Chem. Soc. 86, 127; Weidlich and Gmehling (1987), Ind. Eng. Chem. Res. 26, 1372.
"""

from math import exp, log

from burnsim.bounds import at_least, within
from burnsim.constants import DATUM
from burnsim.substances.fuel import COLDEST, HOTTEST, FuelRecord

TINY, LEAST = 1e-12, 1e-3


def vapour_pressure(c: tuple[float, float, float, float], T: float) -> float:
    """Vapour pressure of one pure liquid [Pa] at T [K], 250 to 380 (trial values are held inside 180 to 600).

    ln p = c0 + c1 u + c2 u^2 + c3 u^3 with u = 1000/T.

    >>> from burnsim.substances.catalogue import SUBSTANCES
    >>> round(vapour_pressure(SUBSTANCES["ethanol"].ln_vapour_pressure, 351.45) / 101325, 2)
    1.0
    """
    if T < COLDEST:
        T = COLDEST
    elif T > HOTTEST:
        T = HOTTEST
    u = 1000.0 / T
    return exp(c[0] + u * (c[1] + u * (c[2] + u * c[3])))


def activity_coefficients(x: tuple[float, ...], T: float, rec: FuelRecord) -> tuple[float, ...]:
    """Wilson activity coefficients.

    Parameters
    ----------
    x : mole fractions in the liquid [-]; negative trial values count as zero
    T : temperature [K], 280 to 375
    rec : the blend [-]

    Returns
    -------
    gamma_i [-]; exactly (1.0,) for a pure fuel.

    Notes
    -----
    s_i = sum_j x_j L_ij; ln gamma_i = 1 - ln s_i - sum_k x_k L_ki / s_k.
    L_ij = max(L0_ij + L1_ij (T - 298.15), 1e-3).

    >>> from burnsim.substances.blend import blend, fuel_record
    >>> activity_coefficients((1.0,), 300.0, fuel_record(blend("ethanol")))
    (1.0,)
    """
    n = len(x)
    if n == 1:
        return (1.0,)
    th = T - DATUM
    base, slope = rec.wilson_0, rec.wilson_1
    if n == 2:
        p = x[0] if x[0] > 0.0 else 0.0
        q = x[1] if x[1] > 0.0 else 0.0
        a = base[0][1] + slope[0][1] * th
        b = base[1][0] + slope[1][0] * th
        a = a if a > LEAST else LEAST
        b = b if b > LEAST else LEAST
        s = p + a * q
        r = q + b * p
        s = s if s > TINY else TINY
        r = r if r > TINY else TINY
        f = p / s
        g = q / r
        return exp(1.0 - f - b * g) / s, exp(1.0 - g - a * f) / r
    sums = [TINY for _ in range(n)]
    logs = [1.0 for _ in range(n)]
    for k in range(n):
        row, rise = base[k], slope[k]
        for j in range(n):
            if x[j] > 0.0:
                a = row[j] + rise[j] * th
                sums[k] += x[j] * (a if a > LEAST else LEAST)
        if x[k] > 0.0:
            share = x[k] / sums[k]
            for i in range(n):
                a = row[i] + rise[i] * th
                logs[i] -= share * (a if a > LEAST else LEAST)
    return tuple([exp(logs[i]) / sums[i] for i in range(n)])


def partial_pressures(x: tuple[float, ...], T: float, rec: FuelRecord) -> tuple[float, ...]:
    """Partial pressures x_i gamma_i p_sat,i [Pa] over liquid of mole fractions x at T [K], 280 to 375.

    A negative trial x_i gives a negative pressure, so that the slope stays right through zero.

    >>> from burnsim.substances.blend import blend, fuel_record
    >>> rec = fuel_record(blend("ethanol 95"))
    >>> [round(p / 1e3, 1) for p in partial_pressures((1.0, 0.0), 293.15, rec)]
    [5.9, 0.0]
    """
    T = within(T, COLDEST, HOTTEST)
    gamma = activity_coefficients(x, T, rec)
    return tuple([x[i] * gamma[i] * vapour_pressure(rec.ln_vapour_pressure[i], T) for i in range(len(x))])


def bubble_pressure(x: tuple[float, ...], T: float, rec: FuelRecord) -> float:
    """Total vapour pressure [Pa] over liquid of mole fractions x at T [K], 280 to 375.

    >>> from burnsim.substances.blend import blend, fuel_record
    >>> round(bubble_pressure((1.0,), 351.45, fuel_record(blend("ethanol"))) / 101325, 2)
    1.0
    """
    total = 0.0
    for p in partial_pressures(x, T, rec):
        total += p
    return total


def vapour_composition(x: tuple[float, ...], T: float, rec: FuelRecord) -> tuple[float, ...]:
    """Mole fractions [-] of the vapour over liquid of mole fractions x at T [K], 280 to 375.

    >>> from burnsim.substances.blend import blend, fuel_record
    >>> vapour_composition((1.0,), 300.0, fuel_record(blend("ethanol")))
    (1.0,)
    """
    parts = partial_pressures(x, T, rec)
    total = 0.0
    for p in parts:
        total += p
    return tuple([p / at_least(total, TINY) for p in parts])


def bubble_temperature(x: tuple[float, ...], p: float, rec: FuelRecord) -> float:
    """Temperature at which liquid of mole fractions x boils at pressure p.

    Parameters
    ----------
    x : mole fractions in the liquid [-]
    p : pressure [Pa], 3e4 to 1.2e5
    rec : the blend [-]

    Returns
    -------
    Temperature [K] between 180 and 600, solved to 1e-9 K by Newton steps in ln p against 1/T.

    >>> from burnsim.substances.blend import blend, fuel_record
    >>> round(bubble_temperature((1.0,), 101325.0, fuel_record(blend("methanol"))) - 273.15, 1)
    64.5
    """
    target = log(at_least(p, TINY))
    u = 1000.0 / 345.0
    low, high = 1000.0 / HOTTEST, 1000.0 / COLDEST
    for _ in range(60):
        value = log(at_least(bubble_pressure(x, 1000.0 / u, rec), TINY)) - target
        if value > 0.0:
            low = u
        else:
            high = u
        step = 1e-5
        slope = (log(at_least(bubble_pressure(x, 1000.0 / (u + step), rec), TINY)) - target - value) / step
        guess = u - value / slope if slope < -1e-6 else 0.5 * (low + high)
        if not low < guess < high:
            guess = 0.5 * (low + high)
        if abs(guess - u) < 1e-11:
            return 1000.0 / guess
        u = guess
    return 1000.0 / u
