"""A bench log beside the design that was burnt: fill in one from the other, and make the setup that the model burns."""

import math
from dataclasses import replace

from burnsim.closures.combustion import combustion_record
from burnsim.errors import InputError
from burnsim.model.description.setup import Setup
from burnsim.model.description.tables import read_fuel
from burnsim.model.description.vary import vary
from burnsim.studies.arrays import Vector
from burnsim.studies.bench.conditions import Conditions
from burnsim.studies.bench.formula import Figure
from burnsim.studies.bench.log import BenchLog
from burnsim.substances import water
from burnsim.substances.air import pressure_at_altitude
from burnsim.substances.blend import Blend, density, molar_mass
from burnsim.units.writing import plain, shown


def with_design(log: BenchLog, design: Setup) -> BenchLog:
    """Fill in what a log does not state from the design that was burnt."""
    given = log.conditions
    pot = design.pot
    drawn: dict[str, object] = {
        "blend": design.charge.fuel,
        "fuel_volume": None if given.fuel_mass is not None else design.charge.volume,
        "primer_volume": None if given.fuel_mass is not None else design.charge.primer,
        "air_temperature": design.site.air_temperature,
        "humidity": design.site.humidity,
        "altitude": design.site.altitude,
        "wind": design.site.wind,
    }
    if pot is not None:
        drawn |= {
            "water_volume": None if given.water_mass is not None else pot.water,
            "pot_metal": pot.metal,
            "lid": pot.lid,
        }
        if not len(early_readings(log)):
            drawn["water_temperature"] = pot.water_temperature or design.site.air_temperature
    lacking = {name: value for name, value in drawn.items() if getattr(given, name) is None and value is not None}
    return replace(log, conditions=replace(given, **lacking))  # type: ignore[arg-type]  # each value is its field's


def heating_value(fuel: Blend) -> float:
    """Lower heating value of a liquid fuel, its water counted [J/kg].

    >>> from burnsim.substances.blend import blend as mix
    >>> round(heating_value(mix("methanol")) / 19.9e6, 2)  # handbooks: about 19.9 MJ/kg
    1.0
    """
    record = combustion_record(fuel)
    return sum(x * h for x, h in zip(fuel.mole_fractions, record.heating_value, strict=True)) / molar_mass(fuel)


def apply_conditions(setup: Setup, log: BenchLog) -> Setup:
    """The setup that the model must burn to be compared with a log: the design under the conditions of the log.

    What the log states counts; what it does not state is taken from the design.

    Parameters
    ----------
    setup : what was burnt
    log : of one burn
    """
    given = log.conditions
    changes: dict[str, object] = {
        "charge.fuel": given.blend,
        "charge.volume": given.fuel_volume,
        "charge.primer": given.primer_volume,
        "charge.temperature": given.fuel_temperature,
        "site.air_temperature": given.air_temperature,
        "site.humidity": given.humidity,
        "site.wind": given.wind,
        "site.altitude": given.altitude if given.pressure is None else altitude_of(given.pressure),
    }
    fuel = given.blend or setup.charge.fuel
    if given.fuel_mass is not None and given.fuel_volume is None:
        whole = given.fuel_mass / density(
            fuel, given.fuel_temperature or given.air_temperature or setup.site.air_temperature
        )
        primer = given.primer_volume if given.primer_volume is not None else setup.charge.primer
        changes["charge.volume"] = whole - primer
    if setup.pot is not None:
        start, early = given.water_temperature, early_readings(log)
        if start is None and len(early):
            start = float(early.mean())
        volume = given.water_volume
        if volume is None and given.water_mass is not None:
            volume = given.water_mass / water.liquid_density(start or 293.15)
        changes |= {
            "pot.water": volume,
            "pot.water_temperature": start,
            "pot.metal": given.pot_metal,
            "pot.lid": given.lid,
        }
    return vary(setup, {path: value for path, value in changes.items() if value is not None})


def first_heat(log: BenchLog) -> float:
    """Until when the water is as cold as at the match: the bloom, or half a minute where it was not seen [s]."""
    return log.bloom.time if log.bloom.time is not None else 30.0


def early_readings(log: BenchLog) -> Vector:
    """Readings of the water before its first heat [K]."""
    time, reading = log.water()
    return reading[time <= first_heat(log)]


def boil_seen(log: BenchLog) -> Figure:
    """When the water was seen to boil, with its error [s]."""
    given, boil = log.conditions, log.boil
    if boil.time is not None:
        return Figure(boil.time, math.hypot(given.u_boil, given.u_clock))
    return Figure(reason="it did not boil" if boil.happened is False else "the log does not say when it boiled")


def fuel_mass(given: Conditions, volume: float | None, mass: float | None) -> tuple[float | None, float]:
    """Mass of fuel that was measured as a mass or as a volume, with its error [kg]; None if as neither."""
    if mass is not None:
        return mass, given.u_mass
    if volume is None or given.blend is None:
        return None, 0.0
    by = density(given.blend, given.fuel_temperature or given.air_temperature or 293.15)
    return volume * by, given.u_fuel * by


def altitude_of(pressure: float) -> float:
    """Altitude at which the standard atmosphere has a pressure [m] from [Pa].

    >>> round(altitude_of(101325.0))
    0
    """
    from scipy.optimize import brentq

    return float(brentq(lambda z: pressure_at_altitude(z) - pressure, -430.0, 6000.0, xtol=0.01))


def head_lines(setup: Setup, units: str = "si") -> list[str]:
    """Tables [charge], [pot] and [site] of a setup's log, as lines of text in "si" or "us" units."""

    def told(value: float, dimension: str) -> str:
        return f'"{plain(shown(value, dimension, units))}"'

    charge, pot, site = setup.charge, setup.pot, setup.site
    lines = ["[charge]", *_fuel(charge.fuel), f"volume = {told(charge.volume, 'volume')}"]
    if charge.primer > 0.0:
        lines.append(f"primer = {told(charge.primer, 'volume')}")
    if charge.temperature is not None:
        lines.append(f"temperature = {told(charge.temperature, 'temperature')}")
    if pot is not None:
        lines += [
            "[pot]",
            f"water = {told(pot.water, 'volume')}",
            f"water_temperature = {told(pot.water_temperature or site.air_temperature, 'temperature')}",
            f"lid = {str(pot.lid).lower()}",
        ]
    return [
        *lines,
        "[site]",
        f"air_temperature = {told(site.air_temperature, 'temperature')}",
        f"altitude = {told(site.altitude, 'altitude')}",
        f"humidity = {site.humidity:.5g}",
        f"wind = {told(site.wind, 'velocity')}",
    ]


def _fuel(fuel: Blend) -> list[str]:
    """The fuel by its name, or by its shares; nothing where only the design can name it."""
    shares = ", ".join(f"{name} = {share!r}" for name, share in zip(fuel.components, fuel.mole_fractions, strict=True))
    table = {"basis": "mole"} | dict(zip(fuel.components, fuel.mole_fractions, strict=True))
    for told, line in ((fuel.name, f'fuel = "{fuel.name}"'), (table, f'fuel = {{ basis = "mole", {shares} }}')):
        try:
            if read_fuel(told, "charge.fuel") == fuel:
                return [line]
        except InputError:
            continue
    return []
