"""The record of one pure substance: what its data file says, and short polynomials fitted over 250 to 380 K (of the
gas over 300 to 700 K)."""

from collections.abc import Mapping
from typing import Any, NamedTuple

T20 = 293.15
"""Temperature at which volumes are measured before mixing [K]."""

Pair = tuple[float, float, float, float]
"""Wilson's L12 and L21 [-] at 298.15 K and their slopes [1/K]."""


class Fire(NamedTuple):
    """How a fuel burns in air."""

    lower_limit: float  # mole fraction in air
    upper_limit: float
    flash_point: float  # in a closed cup [K]
    burning_velocity: float  # greatest, laminar, at 298 K and one atmosphere [m/s]
    radiant_share: tuple[float, float, float]  # of the heat of combustion, flames of centimetres: default, low, high


class AqueousPair(NamedTuple):
    """What mixing one organic with water does beyond an ideal mixture; z = x_water - x_organic."""

    excess_volume: tuple[float, float, float, float]  # V_ex = x_w*x_o*sum(A_k*z^k) [m3/mol]
    excess_ln_viscosity: tuple[float, float, float, float]  # x_w*x_o*sum(g_k*z^k) at 298.15 K
    viscosity_fade: float  # the excess scales as 1 + fade*(u - u0), u = 1000/T
    surface_shape: tuple[float, float]  # Connors and Wright a, b


class Henry(NamedTuple):
    """Henry's law over water: n/V = H p with H = solubility exp(slope (1/T - 1/298.15 K))."""

    solubility: float  # at 298.15 K [mol/m3/Pa]
    slope: float  # [K]


class Azeotrope(NamedTuple):
    """Mixture with water whose vapour has its own composition."""

    fraction: float  # mole fraction of the organic
    temperature: float  # at which it boils at one atmosphere [K]


class InWater(NamedTuple):
    """What a data file says of mixtures with water, by the mass fraction of the organic, in SI."""

    density: tuple[Any, Any]  # mass fractions, from 0 to 1; densities at 20 degC
    viscosity: tuple[Any, Mapping[float, Any]]  # mass fractions, from 0 to 1; viscosities by temperature
    surface_tension: tuple[Any, Any]  # mass fractions, from 0 to 1; surface tensions


class Substance(NamedTuple):
    """One pure substance; th = T - 298.15 K and u = 1000/T."""

    name: str
    molar_mass: float  # [kg/mol]
    critical_temperature: float  # [K]
    critical_pressure: float  # [Pa]
    atoms: tuple[int, int, int]  # of carbon, hydrogen and oxygen in a molecule
    groups: tuple[tuple[str, int], ...]  # of Dortmund UNIFAC
    flame_gas: str | None  # its species in Cantera's NASA file
    formation_enthalpy: float | None  # of the gas at 298.15 K, where that file lacks it [J/mol]
    fire: Fire | None  # None for water
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
    in_water: AqueousPair | None  # None for water, and for what was never measured in it
    dilute: Henry | None  # vapour over very much water; None where it was never measured
    azeotrope: Azeotrope | None  # with water
    wilson: tuple[tuple[str, Pair], ...]  # pairs (this one, the other), by the other's name
    data: str = ""  # what a file of the user's own says, as JSON; empty for what the package carries
