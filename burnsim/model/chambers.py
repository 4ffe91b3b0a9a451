"""The liquid of a compartment: temperature, level, composition of liquid and vapour, from moles and enthalpy."""

from math import log
from typing import NamedTuple

from burnsim.model.parameters import Chamber
from burnsim.substances.equilibrium import partial_pressures
from burnsim.substances.fuel import (
    FuelRecord,
    latent_heat,
    liquid_enthalpy,
    liquid_heat_capacity,
    liquid_volume,
    temperature_from_enthalpy,
    vapour_enthalpy,
)

GAS_CONSTANT = 8.314462618
ATMOSPHERE = 101325.0
GRAVITY = 9.80665
AIR_MASS = 0.0289652


class Liquid(NamedTuple):
    """The liquid of one compartment, derived from its moles and enthalpy."""

    temperature: float  # [K]
    volume: float  # [m3]
    level: float  # above the floor [m]
    density: float  # [kg/m3]
    wet: float  # 1 while it covers its walls, fading to 0 as the last film dries
    moles: float  # [mol], never negative
    fractions: tuple[float, ...]  # mole fractions of the liquid
    vapour: tuple[float, ...]  # mole fractions of the vapour that leaves it
    vapour_mass: float  # mean molar mass of that vapour [kg/mol]
    vapour_heat: float  # enthalpy of that vapour at the liquid's temperature [J/mol]
    bubble_pressure: float  # [Pa]
    latent: float  # [J/mol of vapour]
    capacity: float  # with its metal [J/K]
    area: float  # wetted wall and floor [m2]
    superheat: float  # above the bubble point at ambient pressure; negative when subcooled [K]


def fade(x: float) -> float:
    """Compact ramp from 0 at x <= 0 to 1 at x >= 1, linear at the start, level at the end.

    >>> fade(-1.0), fade(0.5), fade(2.0)
    (0.0, 0.75, 1.0)
    """
    if x <= 0.0:
        return 0.0
    if x >= 1.0:
        return 1.0
    return x * (2.0 - x)


def liquid(
    moles: tuple[float, ...], heat: float, chamber: Chamber, pressure: float, fuel: FuelRecord
) -> Liquid:
    """Derive the liquid of a compartment from its moles and enthalpy.

    Parameters
    ----------
    moles : moles of each component [mol]; negative trial values are read as zero
    heat : enthalpy of liquid and metal above 298.15 K [J]
    chamber : the compartment
    pressure : ambient pressure [Pa]
    fuel : property record of the blend

    Returns
    -------
    Liquid
    """
    held = [max(n, 0.0) for n in moles]
    total = sum(held)
    temperature = temperature_from_enthalpy(heat, tuple(held), chamber.metal, fuel)
    temperature = min(max(temperature, 180.0), 1200.0)
    bounded = min(temperature, 420.0)
    safe = total + 1e-12
    x = tuple([(n + 1e-12 / len(held)) / safe for n in held])
    partial = partial_pressures(x, bounded, fuel)
    bubble = sum(partial)
    y = tuple([p / bubble for p in partial])
    latent = latent_heat(y, bounded, fuel)
    vapour_heat = mixture_enthalpy(y, temperature, fuel)
    capacity = chamber.metal + liquid_heat_capacity(tuple(held), bounded, fuel)
    volume = liquid_volume(tuple(held), bounded, fuel)
    mass = sum([held[i] * fuel.molar_mass[i] for i in range(len(held))])
    level = volume / chamber.area
    wet = fade(volume / chamber.film_volume)
    area = wet * (chamber.wetted_perimeter * min(level, chamber.height) + chamber.area)
    superheat = GAS_CONSTANT * bounded * bounded / latent * log(bubble / pressure)
    return Liquid(
        temperature,
        volume,
        level,
        (mass + 1e-12) / (volume + 1e-12 / 800.0),
        wet,
        total,
        x,
        y,
        sum([y[i] * fuel.molar_mass[i] for i in range(len(y))]),
        vapour_heat,
        bubble,
        latent,
        capacity,
        area,
        superheat,
    )


def mixture_enthalpy(y: tuple[float, ...], temperature: float, fuel: FuelRecord) -> float:
    """Enthalpy of a vapour mixture above liquid at 298.15 K [J/mol]."""
    return sum([y[i] * vapour_enthalpy(fuel.vapour_heat[i], temperature) for i in range(len(y))])


def solution_enthalpy(x: tuple[float, ...], temperature: float, fuel: FuelRecord) -> float:
    """Enthalpy of a liquid mixture above 298.15 K [J/mol]."""
    return sum([x[i] * liquid_enthalpy(fuel.liquid_heat[i], temperature) for i in range(len(x))])
