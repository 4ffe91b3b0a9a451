"""A bench log beside the design that was burnt: fill in one from the other, and make the setup that the model burns."""

import math
from dataclasses import replace

import numpy as np

from burnsim.errors import InputError
from burnsim.model import Design, Setup, as_setup, value_at, vary
from burnsim.model.description.fields import spec_of
from burnsim.model.description.tables import read_fuel
from burnsim.solve import Failure
from burnsim.studies.arrays import Vector
from burnsim.studies.bench.conditions import SHARED, TABLES, Conditions
from burnsim.studies.bench.formula import REFERENCE_START, Figure
from burnsim.studies.bench.log import BenchLog
from burnsim.studies.burn_many import Engine, burn_all
from burnsim.substances import water
from burnsim.substances.air import pressure_at_altitude
from burnsim.substances.blend import Blend, density
from burnsim.units.writing import plain, shown

AT_THE_MATCH = 16.0
"""So long a reading tells how cold the water was [s]: a logger's mean over 30 s of cold water is in, and few that the
primer's flame has warmed, by 10 K and more before the bloom."""
SURE = 3.0  # standard errors beyond which readings differ


def with_design(log: BenchLog, design: Setup) -> BenchLog:
    """Fill in what a log does not state from the design that was burnt."""
    given = log.conditions
    drawn = {name: value_at(design, path) for path, name in SHARED.items() if name != "fuel_temperature"}
    if given.fuel_mass is not None:
        drawn |= {"fuel_volume": None, "primer_volume": None}
    if given.water_mass is not None:
        drawn["water_volume"] = None
    if len(early_readings(log)):
        drawn["water_temperature"] = None
    elif design.pot is not None:
        drawn["water_temperature"] = design.pot.water_temperature or design.site.air_temperature
    lacking = {name: value for name, value in drawn.items() if getattr(given, name) is None and value is not None}
    return replace(log, conditions=replace(given, **lacking))


def apply_conditions(setup: Setup, log: BenchLog) -> Setup:
    """The setup that the model must burn to be compared with a log: the design under the conditions of the log.

    What the log states counts; what it does not state is taken from the design.

    Parameters
    ----------
    setup : what was burnt
    log : of one burn
    """
    given = log.conditions
    changes = {path: getattr(given, name) for path, name in SHARED.items()}
    if given.pressure is not None:
        changes["site.altitude"] = altitude_of(given.pressure)
    fuel = given.blend or setup.charge.fuel
    if given.fuel_mass is not None and given.fuel_volume is None:
        whole = given.fuel_mass / density(
            fuel, given.fuel_temperature or given.air_temperature or setup.site.air_temperature
        )
        primer = given.primer_volume if given.primer_volume is not None else setup.charge.primer
        changes["charge.volume"] = whole - primer
    if setup.pot is None:
        changes = {path: value for path, value in changes.items() if not path.startswith("pot.")}
    else:
        start, early = given.water_temperature, early_readings(log)
        if start is None and len(early):
            start = float(early.mean())
        volume = given.water_volume
        if volume is None and given.water_mass is not None:
            volume = given.water_mass / water.liquid_density(start or 293.15)
        changes |= {"pot.water": volume, "pot.water_temperature": start}
    try:
        return vary(setup, {path: value for path, value in changes.items() if value is not None})
    except InputError as error:
        remedy = f"{error.remedy}; or give the design of the log, if {setup.name or 'this'} is not what was burnt"
        stated = log.places.get(SHARED.get(error.field, ""), error.field)
        raise InputError(stated, error.value, error.problem, remedy) from None


def early_readings(log: BenchLog) -> Vector:
    """Readings of the water at the match, as far as they agree with the first of them [K]."""
    time, reading = log.water()
    near = reading[time <= AT_THE_MATCH]
    return near[np.abs(near - near[:1]) <= SURE * math.sqrt(2.0) * log.conditions.u_reading]


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
    values = {path: value_at(setup, path) for path in SHARED if path not in ("charge.fuel", "pot.metal")}
    values["charge.primer"] = setup.charge.primer or None
    lines = {"charge": ["[charge]", *_fuel(setup.charge.fuel)], "pot": [], "site": ["[site]"]}
    if setup.pot is not None:
        lines["pot"].append("[pot]")
        values["pot.water_temperature"] = setup.pot.water_temperature or setup.site.air_temperature
    for path, value in values.items():
        table, _, key = path.partition(".")
        dimension = spec_of(TABLES[table][key]).dimension
        if value is not None and dimension in ("fraction", "flag"):
            lines[table].append(f"{key} = {value:.5g}" if dimension == "fraction" else f"{key} = {str(value).lower()}")
        elif value is not None:
            lines[table].append(f'{key} = "{plain(shown(value, dimension, units))}"')
    return [line for some in lines.values() for line in some]


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


REFERENCE_VOLUME = 0.5e-3  # of water [m3]
TRUST = 0.2
"""Relative standard uncertainty of the correction itself (how far the ratio is from 1); judgement, without a source."""


def predict_reference(setup: Design, log: BenchLog, engine: Engine = burn_all) -> Figure:
    """Boil time that the same burner would have had with 0.5 l, water and air of 20 degC, at sea level, no wind.

    The seen time is scaled by the ratio of the model's times under both conditions: what the model gets wrong in both
    cancels. In seconds, with its standard error; or the reason why there is none.

    Parameters
    ----------
    setup : what was burnt
    log : of one burn
    engine : what burns
    """
    setup, seen = as_setup(setup), boil_seen(log)
    if seen.value is None or seen.error is None:
        return seen
    if setup.pot is None:
        return Figure(reason="the design has no pot")
    there = apply_conditions(setup, log)
    standard = {
        "pot.water": REFERENCE_VOLUME,
        "pot.water_temperature": REFERENCE_START,
        "site.air_temperature": REFERENCE_START,
        "site.altitude": 0.0,
        "site.wind": 0.0,
    }
    times = []
    for found in engine([there, vary(there, standard)], ()):
        if isinstance(found, Failure) or found.milestones.boil.time is None:
            return Figure(reason="the model does not boil the water of the log or of the reference")
        times.append(found.milestones.boil.time)
    ratio = times[1] / times[0]
    return Figure(ratio * seen.value, math.hypot(ratio * seen.error, TRUST * (ratio - 1.0) * seen.value))
