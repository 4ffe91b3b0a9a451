"""The record of one pure substance: short polynomials fitted over 250 to 380 K, of the gas over 300 to 700 K."""

from typing import NamedTuple

T20 = 293.15
"""Temperature at which volumes are measured before mixing [K]."""


class Substance(NamedTuple):
    """Coefficients of one pure substance; th = T - 298.15 K and u = 1000/T."""

    molar_mass: float  # [kg/mol]
    critical_temperature: float  # [K]
    critical_pressure: float  # [Pa]
    ln_vapour_pressure: tuple[float, float, float, float]  # ln(p/Pa) as a cubic in u
    liquid_heat: tuple[float, float]  # cp_l = a + b*th [J/mol/K]
    vapour_heat: tuple[float, float, float]  # h_v = h0 + a*th + b*th^2/2 [J/mol], saturated vapour
    gas_heat_capacity: tuple[float, float, float]  # ideal gas, c0 + c1*th + c2*th^2 [J/mol/K]
    molar_volume: tuple[float, float, float]  # v0 + v1*th + v2*th^2 [m3/mol]
    ln_viscosity: tuple[float, float, float]  # liquid, ln(mu/Pa s) as a quadratic in u
    surface_tension: tuple[float, float]  # s0 + s1*th [N/m]
    vapour_viscosity: tuple[float, float]  # m0 + m1*th [Pa s]
    vapour_conductivity: tuple[float, float]  # k0 + k1*th [W/m/K]
    diffusivity: float  # in air at 298.15 K and 101325 Pa [m2/s]


class AqueousPair(NamedTuple):
    """What mixing one organic with water does beyond an ideal mixture; z = x_water - x_organic."""

    excess_volume: tuple[float, float, float, float]  # V_ex = x_w*x_o*sum(A_k*z^k) [m3/mol]
    excess_ln_viscosity: tuple[float, float, float, float]  # x_w*x_o*sum(g_k*z^k) at 298.15 K
    viscosity_fade: float  # the excess scales as 1 + fade*(u - u0), u = 1000/T
    surface_shape: tuple[float, float]  # Connors and Wright a, b
