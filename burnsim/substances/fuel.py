"""The hot-loop record of one fuel blend, and its liquid and vapour properties.

Every function here is plain float arithmetic, finite for any finite trial input, and needs no lookup.
Enthalpies refer to the liquid of each component at 298.15 K. Mixing is taken as free of heat
(for ethanol and water it is below 2 % of the latent heat; from memory, unverified).

Superheated vapour has its ideal-gas heat capacity. The enthalpy of saturated vapour along its own line has a slope
near zero at 500 K; used there it would make the boil 4 % early.
"""

from dataclasses import dataclass
from math import exp, sqrt

from burnsim.bounds import within
from burnsim.constants import ATMOSPHERE, DATUM

COLDEST, HOTTEST = 180.0, 600.0
"""Trial temperatures are held inside these limits by the exponential curves [K]."""


@dataclass(frozen=True, slots=True)
class FuelRecord:
    """One blend as numbers, per component where there are several; th = T - 298.15 K, u = 1000/T."""

    molar_mass: tuple[float, ...]  # [kg/mol]
    ln_vapour_pressure: tuple[tuple[float, float, float, float], ...]  # ln(p/Pa), cubic in u
    wilson_0: tuple[tuple[float, ...], ...]  # Lambda_ij at 298.15 K
    wilson_1: tuple[tuple[float, ...], ...]  # dLambda_ij/dT [1/K]
    liquid_heat: tuple[tuple[float, float], ...]  # h_l = a*th + b*th^2/2 [J/mol]
    vapour_heat: tuple[tuple[float, float, float], ...]  # h_v = h0 + a*th + b*th^2/2 [J/mol], saturated vapour
    gas_heat_capacity: tuple[tuple[float, float, float], ...]  # ideal gas, c0 + c1*th + c2*th^2 [J/mol/K]
    molar_volume: tuple[tuple[float, float, float], ...]  # v0 + v1*th + v2*th^2 [m3/mol]
    excess_volume: tuple[float, float, float, float]  # V_ex/n = x_w*(1-x_w)*sum(A_k*(2*x_w-1)^k) [m3/mol]
    water_index: int  # -1 if there is no water
    ln_viscosity: tuple[float, float, float]  # liquid at charge composition, ln(mu/Pa s), quadratic in u
    surface_tension: tuple[float, float]  # at charge composition, s0 + s1*th [N/m]
    vapour_viscosity: tuple[float, float]  # of the vapour over the charge at its boiling point, m0 + m1*th [Pa s]
    vapour_conductivity: tuple[float, float]  # k0 + k1*th [W/m/K]
    diffusivity: float  # of that vapour in air at 298.15 K and 101325 Pa [m2/s]
    critical_pressure: float  # mole average (Kay) [Pa]


def mass_of(n: tuple[float, ...], rec: FuelRecord) -> float:
    """Mass of so many moles of each component [kg], or of a mole where they are fractions."""
    return sum(n[i] * rec.molar_mass[i] for i in range(len(n)))


def liquid_volume(n: tuple[float, ...], T: float, rec: FuelRecord) -> float:
    """Volume of liquid with mixing contraction.

    Parameters
    ----------
    n : moles of each component [mol]; trial values at or below zero are allowed
    T : temperature [K], 250 to 380
    rec : the blend [-]

    Returns
    -------
    Volume [m3], rising with every n_i. Negative moles count linearly and leave the contraction alone.

    Notes
    -----
    V = sum n_i v_i(T) + n_w n_o / (n_w + n_o) * sum A_k z^k with z = (n_w - n_o) / (n_w + n_o), a
    Redlich-Kister excess between water and all organics together. The excess is that of 20 degC at every
    temperature; organics mix ideally among themselves (acetone and methanol: up to 0.6 % too large).

    >>> from burnsim.substances.blend import blend, fuel_record
    >>> round(1e6 * liquid_volume((1.0,), 293.15, fuel_record(blend("ethanol"))), 1)  # 46.07 g at 0.7892 g/ml
    58.4
    """
    th = T - DATUM
    th = th if th > -120.0 else -120.0
    v = rec.molar_volume
    total = 0.0
    organic = 0.0
    w = rec.water_index
    for i in range(len(n)):
        vi = v[i]
        total += n[i] * (vi[0] + th * (vi[1] + th * vi[2]))
        if i != w and n[i] > 0.0:
            organic += n[i]
    if w < 0 or n[w] <= 0.0 or organic <= 0.0:
        return total
    water = n[w]
    amount = water + organic
    z = (water - organic) / amount
    a = rec.excess_volume
    return total + water / amount * organic * (a[0] + z * (a[1] + z * (a[2] + z * a[3])))


def liquid_heat_capacity(n: tuple[float, ...], T: float, rec: FuelRecord) -> float:
    """Heat capacity of liquid, sum n_i (a_i + b_i*th) [J/K], for moles n [mol] at T [K], 250 to 380.

    >>> from burnsim.substances.blend import blend, fuel_record
    >>> round(liquid_heat_capacity((1.0,), 298.15, fuel_record(blend("ethanol"))), 0)
    114.0
    """
    th = T - DATUM
    total = 0.0
    for i in range(len(n)):
        c = rec.liquid_heat[i]
        total += n[i] * (c[0] + c[1] * th)
    return total


def liquid_enthalpy(c: tuple[float, float], T: float) -> float:
    """Molar enthalpy of one liquid above 298.15 K, a*th + b*th^2/2 [J/mol], at T [K], 250 to 380.

    >>> liquid_enthalpy((100.0, 0.2), 308.15)
    1010.0
    """
    th = T - DATUM
    return th * (c[0] + 0.5 * c[1] * th)


def vapour_enthalpy(c: tuple[float, float, float], T: float) -> float:
    """Molar enthalpy of one saturated vapour above its liquid at 298.15 K [J/mol], at T [K], 250 to 380.

    h0 + a*th + b*th^2/2. The coefficients follow the saturation line, so that vapour less liquid is the
    latent heat; a is the slope along that line and not the heat capacity of the ideal gas.

    >>> vapour_enthalpy((42000.0, 60.0, 0.0), 308.15)
    42600.0
    """
    th = T - DATUM
    return c[0] + th * (c[1] + 0.5 * c[2] * th)


def gas_heat_capacity(c: tuple[float, float, float], low: float, high: float) -> float:
    """Mean heat capacity of an ideal gas between two temperatures [J/mol/K].

    Parameters
    ----------
    c : c0, c1, c2 of cp = c0 + c1*th + c2*th^2 [J/mol/K]
    low, high : the two temperatures [K], 300 to 700; at one and the same it is cp there

    Notes
    -----
    Times the difference of the temperatures it is the exact integral of cp: with th of both,
    c0 + c1 (a + b)/2 + c2 (a^2 + a b + b^2)/3.

    A vapour mixture has the means of its parts' coefficients. Dry vapour that a wall heats leaves the saturation line,
    whose slope is not a heat capacity.

    Sources: cp by the TRC ideal-gas equations, fitted within 1.1 % over 300 to 700 K.

    >>> gas_heat_capacity((60.0, 0.2, 0.0), 298.15, 398.15)
    70.0
    """
    a, b = low - DATUM, high - DATUM
    return c[0] + 0.5 * c[1] * (a + b) + c[2] * (a * a + a * b + b * b) / 3.0


def latent_heat(y: tuple[float, ...], T: float, rec: FuelRecord) -> float:
    """Molar latent heat of vapour of composition y, sum y_i (h_v,i - h_l,i) [J/mol], at T [K], 250 to 380.

    >>> from burnsim.substances.blend import blend, fuel_record
    >>> rec = fuel_record(blend("ethanol"))
    >>> round(latent_heat((1.0,), 351.4, rec) / rec.molar_mass[0] / 1e3, -1)  # handbooks: 850 kJ/kg
    850.0
    """
    total = 0.0
    for i in range(len(y)):
        total += y[i] * (vapour_enthalpy(rec.vapour_heat[i], T) - liquid_enthalpy(rec.liquid_heat[i], T))
    return total


def temperature_from_enthalpy(U: float, n: tuple[float, ...], metal_capacity: float, rec: FuelRecord) -> float:
    """Temperature of liquid and metal that together hold enthalpy U, in closed form.

    Parameters
    ----------
    U : enthalpy above 298.15 K [J]
    n : moles of each component [mol]
    metal_capacity : heat capacity of the metal [J/K]
    rec : the blend [-]

    Returns
    -------
    Temperature [K]. Exact for U = sum n_i h_l,i(T) + metal_capacity*th; finite for any finite input.

    Notes
    -----
    With A = sum n a + C and B = sum n b: th = 2 U / (A + sqrt(A^2 + 2 B U)).

    >>> from burnsim.substances.blend import blend, fuel_record
    >>> rec = fuel_record(blend("ethanol"))
    >>> U = liquid_enthalpy(rec.liquid_heat[0], 330.0) + 5.0 * (330.0 - 298.15)
    >>> round(temperature_from_enthalpy(U, (1.0,), 5.0, rec), 9)
    330.0
    """
    a = metal_capacity
    b = 0.0
    for i in range(len(n)):
        c = rec.liquid_heat[i]
        a += n[i] * c[0]
        b += n[i] * c[1]
    a = a if a > 1e-9 else 1e-9
    inside = a * a + 2.0 * b * U
    return DATUM + 2.0 * U / (a + sqrt(inside if inside > 1e-18 else 1e-18))


def viscosity(T: float, rec: FuelRecord) -> float:
    """Viscosity of the liquid charge [Pa s] at T [K], 270 to 360.

    ln mu = c0 + c1 u + c2 u^2 with u = 1000/T, of the charge as poured: its water share is that of the
    record.

    Sources: Grunberg and Nissan (1949), Nature 164, 799, with a composition-dependent interaction between
    water and organics fitted to handbook data.

    >>> from burnsim.substances.blend import blend, fuel_record
    >>> round(1e3 * viscosity(293.15, fuel_record(blend("ethanol"))), 1)  # handbooks: 1.19 mPa s
    1.2
    """
    u = 1000.0 / within(T, COLDEST, HOTTEST)
    c = rec.ln_viscosity
    return exp(c[0] + u * (c[1] + u * c[2]))


def surface_tension(T: float, rec: FuelRecord) -> float:
    """Surface tension of the liquid charge [N/m] at T [K], 250 to 380; never below 1e-3.

    s0 + s1*th, of the charge as poured.

    Sources: Connors and Wright (1989), Anal. Chem. 61, 194, fitted to Vazquez, Alvarez and Navaza (1995),
    J. Chem. Eng. Data 40, 611.

    >>> from burnsim.substances.blend import blend, fuel_record
    >>> round(1e3 * surface_tension(293.15, fuel_record(blend("ethanol"))), 1)  # handbooks: 22.4 mN/m
    22.4
    """
    c = rec.surface_tension
    s = c[0] + c[1] * (T - DATUM)
    return s if s > 1e-3 else 1e-3


def vapour_viscosity(T: float, rec: FuelRecord) -> float:
    """Viscosity of the vapour over the charge [Pa s] at T [K], 250 to 380; never below 1e-6.

    m0 + m1*th.

    Sources: Wilke (1950), J. Chem. Phys. 18, 517, for the mixture; Perry's Handbook, 8th edition, for its
    parts.

    >>> from burnsim.substances.blend import blend, fuel_record
    >>> round(1e6 * vapour_viscosity(351.4, fuel_record(blend("ethanol"))), 1)  # CoolProp: 10.4
    10.4
    """
    c = rec.vapour_viscosity
    m = c[0] + c[1] * (T - DATUM)
    return m if m > 1e-6 else 1e-6


def vapour_conductivity(T: float, rec: FuelRecord) -> float:
    """Thermal conductivity of the vapour over the charge [W/m/K] at T [K], 250 to 380; never below 1e-3.

    k0 + k1*th.

    Sources: Wassiljewa's form with the factors of Mason and Saxena (1958), Phys. Fluids 1, 361; Perry's
    Handbook, 8th edition, for the parts.

    >>> from burnsim.substances.blend import blend, fuel_record
    >>> round(1e3 * vapour_conductivity(351.4, fuel_record(blend("ethanol"))) / 20.7, 1)  # CoolProp: 20.7
    1.0
    """
    c = rec.vapour_conductivity
    k = c[0] + c[1] * (T - DATUM)
    return k if k > 1e-3 else 1e-3


def diffusivity(T: float, p: float, rec: FuelRecord) -> float:
    """Diffusivity of the vapour over the charge in air [m2/s] at T [K], 250 to 1000, and p [Pa].

    D = D0 (T/298.15)^1.75 (101325/p).

    Sources: Fuller, Schettler and Giddings (1966), as in Poling, Prausnitz and O'Connell (2001), equation
    11-4.4.

    >>> from burnsim.substances.blend import blend, fuel_record
    >>> round(1e6 * diffusivity(298.15, 101325.0, fuel_record(blend("ethanol"))), 0)  # handbooks: 11.9
    12.0
    """
    ratio = T / DATUM if T > 0.1 * DATUM else 0.1
    return rec.diffusivity * ratio * sqrt(ratio * sqrt(ratio)) * (ATMOSPHERE / p)
