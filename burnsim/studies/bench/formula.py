"""Formulas of the bench: thermal efficiency and corrected boil time, each with its propagated uncertainty."""

import math
from collections.abc import Mapping
from typing import NamedTuple

from burnsim.errors import InputError

HEAT_CAPACITY = 4186.0
"""Of water, near 60 degC as near 15 degC, within 0.2 % between [J/kg/K]; handbook value, from memory, unverified."""

LATENT_HEAT = 2257e3  # of water at 100 degC [J/kg]; steam tables, from memory, unverified

REFERENCE_WATER = 0.5  # [kg]
REFERENCE_START = 293.15  # of water and air [K]
REFERENCE_BOIL = 373.12  # at sea level, 101325 Pa [K]


class Figure(NamedTuple):
    """A figure with its standard error, or the reason why there is none."""

    value: float | None = None
    error: float | None = None
    reason: str = ""


class Efficiency(NamedTuple):
    """A thermal efficiency and where its uncertainty comes from."""

    value: float
    error: float  # standard
    parts: Mapping[str, float]  # standard error of the efficiency that each measurement brings


def compute_efficiency(
    *,
    water: float,
    rise: float,
    evaporated: float,
    fuel: float,
    heating_value: float,
    u_water: float = 0.0,
    u_rise: float = 0.0,
    u_evaporated: float = 0.0,
    u_fuel: float = 0.0,
    u_heating_value: float = 0.0,
    heat_capacity: float = HEAT_CAPACITY,
    latent_heat: float = LATENT_HEAT,
) -> Efficiency:
    """Thermal efficiency by the standard water-boiling formula, (m c dT + m_evap h_fg)/(m_fuel LHV).

    Parameters
    ----------
    water, rise, evaporated : mass at the start [kg], rise of temperature [K], mass evaporated [kg]
    fuel, heating_value : mass burnt [kg], lower heating value of the liquid [J/kg]
    u_water, u_rise, u_evaporated, u_fuel, u_heating_value : their standard uncertainties, taken as independent
    heat_capacity, latent_heat : of water [J/kg/K], [J/kg]

    Returns
    -------
    Efficiency
        With the error to first order (the law of propagation of uncertainty, JCGM 100:2008, equation 10).

    Raises
    ------
    InputError
        If there is no fuel, no water or no rise.

    >>> found = compute_efficiency(water=0.5, rise=80.0, evaporated=0.01, fuel=0.012, heating_value=26.8e6)
    >>> round(found.value, 3)  # (0.5*4186*80 + 0.01*2257e3)/(0.012*26.8e6) = 190010/321600
    0.591
    """
    for name, value in (("water", water), ("rise", rise), ("fuel", fuel), ("heating_value", heating_value)):
        if not (math.isfinite(value) and value > 0.0):
            raise InputError(name, value, "is not above 0", "an efficiency needs water that warms and fuel that burns")
    heat = water * heat_capacity * rise + evaporated * latent_heat
    spent = fuel * heating_value
    value = heat / spent
    parts = {
        "mass of water": rise * heat_capacity / spent * u_water,
        "rise of temperature": water * heat_capacity / spent * u_rise,
        "mass evaporated": latent_heat / spent * u_evaporated,
        "mass of fuel": value / fuel * u_fuel,
        "heating value": value / heating_value * u_heating_value,
    }
    return Efficiency(value, math.sqrt(sum(part * part for part in parts.values())), parts)


def reference_time(
    *,
    boil: float,
    lag: float,
    water: float,
    start: float,
    boiling_point: float,
    pot_capacity: float = 0.0,
    u_boil: float = 0.0,
    u_lag: float = 0.0,
    u_water: float = 0.0,
    u_start: float = 0.0,
) -> Figure:
    """Boil time corrected to reference conditions: 0.5 kg of water from 20 degC to its boil at sea level.

    The time from the beginning of steady heating (`lag`) to the boil, both from the match [s], is scaled by the heat
    that water [kg] and pot [J/K] take: t = lag + (boil - lag) (m0 c + C)(Tb0 - T0) / ((m c + C)(Tb - T)). The power
    into the pot is taken as unchanged, so losses that differ with the temperature of the air are not corrected; for
    waters far from half a litre a correction by the model is better. The `u_` are standard uncertainties; the error is
    to first order.

    >>> round(reference_time(boil=600.0, lag=0.0, water=1.0, start=293.15, boiling_point=373.12).value)
    300
    """
    rise = boiling_point - start
    if rise <= 0.0 or boil <= lag:
        return Figure(reason="the water was at its boiling point before steady heating began")
    taken = (water * HEAT_CAPACITY + pot_capacity) * rise
    needed = (REFERENCE_WATER * HEAT_CAPACITY + pot_capacity) * (REFERENCE_BOIL - REFERENCE_START)
    ratio = needed / taken
    span = boil - lag
    parts = (
        ratio * u_boil,
        (1.0 - ratio) * u_lag,
        span * ratio * HEAT_CAPACITY / (water * HEAT_CAPACITY + pot_capacity) * u_water,
        span * ratio / rise * u_start,
    )
    return Figure(lag + span * ratio, math.sqrt(sum(part * part for part in parts)))
