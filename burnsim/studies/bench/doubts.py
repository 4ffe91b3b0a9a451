"""Readings that no burner of this kind could have made: each is told with its line, none is left out."""

import math
from collections.abc import Iterator

from burnsim.model.description.setup import Setup
from burnsim.solve import Failure
from burnsim.studies.bench.design import apply_conditions, first_heat, heating_value
from burnsim.studies.bench.log import BenchLog
from burnsim.studies.burn_many import Engine
from burnsim.substances.blend import density
from burnsim.substances.water import liquid_heat_capacity
from burnsim.units.writing import Quantity, Text

SURE = 3.0  # standard errors beyond which a reading is doubted
HARDLY = 3.0
"""Times the median power that the model's flames give, beyond which a measured power is doubted: the highest power is
up to twice the median, and the bands of the factors reach half as much again; judgement, without a source."""
APART = 20.0  # readings closer than this tell no power [s]


def flame_power(log: BenchLog, design: Setup, engine: Engine) -> float | None:
    """Median power of the flames that the model gives for the conditions of a log [W]; None if nothing burns.

    Parameters
    ----------
    log : of one burn
    design : what was burnt
    engine : what burns
    """
    found = engine([apply_conditions(design, log)], ())[0]
    return None if isinstance(found, Failure) else found.power_median


def doubts(
    log: BenchLog, start: float | None, boiling_point: float, water: float | None, power: float | None
) -> Iterator[Text]:
    """What in a log cannot be, or hardly.

    Parameters
    ----------
    log : of one burn
    start : temperature of the water at the match [K]
    boiling_point : at the site [K]
    water : its mass [kg]
    power : median power of the flames by the model [W]; None if no design is known
    """
    if start is not None:
        yield from _temperatures(log, start, boiling_point)
    yield from _scale(log)
    if water is not None and start is not None:
        yield from _heat(log, start, water)
        if power is not None:
            yield from _power(log, water, power)
    if power is not None:
        yield from _burnout(log, power)


def _charge(log: BenchLog) -> tuple[float | None, str]:
    """Mass of all that was poured in [kg], and where the log states it."""
    given = log.conditions
    if given.fuel_mass is not None:
        return given.fuel_mass, _place(log, "fuel_mass")
    if given.fuel_volume is None or given.blend is None:
        return None, ""
    by = density(given.blend, given.fuel_temperature or given.air_temperature or 293.15)
    return by * (given.fuel_volume + (given.primer_volume or 0.0)), _place(log, "fuel_volume")


def _place(log: BenchLog, field: str) -> str:
    return log.places.get(field, "the design")


def _temperatures(log: BenchLog, start: float, boiling_point: float) -> Iterator[Text]:
    """Water that is too warm at the match, colder later on, or hotter than its boiling point."""
    given = log.conditions
    error = SURE * (given.u_thermometer + given.u_reading)  # the second of many readings, the worst of which counts
    rows = [row for row in log.readings if row.water is not None]
    stated = given.water_temperature
    early = next((row for row in rows if row.time <= first_heat(log)), None)
    if stated is not None and early is not None and early.water is not None and abs(early.water - stated) > error:
        yield Text(
            "line {}: {} at the match, but {} says {}", str(early.line), Quantity(early.water, "temperature", 1),
            _place(log, "water_temperature"), Quantity(stated, "temperature", 1),
        )  # fmt: skip
        return
    for row in rows:
        if row.water is not None and row.water < start - error:
            yield Text(
                "line {}: {} is colder than the water was at the match, {}", str(row.line),
                Quantity(row.water, "temperature", 1), Quantity(start, "temperature", 1),
            )  # fmt: skip
            break
    hot = next((row for row in rows if row.water is not None and row.water > boiling_point + error), None)
    if hot is not None and hot.water is not None:
        yield Text(
            "line {}: {} is hotter than water gets at the site, {}: check the thermometer, its unit and the altitude",
            str(hot.line), Quantity(hot.water, "temperature", 1), Quantity(boiling_point, "temperature", 1),
        )  # fmt: skip


def _scale(log: BenchLog) -> Iterator[Text]:
    """A burner that loses more than its fuel, or grows heavier."""
    given = log.conditions
    rows = [row for row in log.readings if row.mass is not None]
    charged, place = _charge(log)
    error = SURE * math.hypot(math.sqrt(2.0) * given.u_mass, 1000.0 * given.u_fuel)
    for row in rows:
        lost = (rows[0].mass or 0.0) - (row.mass or 0.0)
        if charged is not None and lost > charged + error:
            yield Text(
                "line {}: by then the scale has lost {}, and no more than {} was poured in ({})", str(row.line),
                Quantity(lost, "mass", 1), Quantity(charged, "mass", 1), place,
            )  # fmt: skip
            break
    least = math.inf
    for row in rows:
        if (row.mass or 0.0) > least + error:
            yield Text(
                "line {}: the scale gains {}: was something put on it, or off it before?", str(row.line),
                Quantity((row.mass or 0.0) - least, "mass", 1),
            )  # fmt: skip
            break
        least = min(least, row.mass or 0.0)


def _heat(log: BenchLog, start: float, water: float) -> Iterator[Text]:
    """Water that has taken more heat than the fuel holds."""
    fuel, place = _charge(log)
    if fuel is None or log.conditions.blend is None:
        return
    held = fuel * heating_value(log.conditions.blend)
    for row in log.readings:
        taken = water * liquid_heat_capacity(333.15) * ((row.water or start) - start)
        if taken > held:
            yield Text(
                "line {}: by then the water has taken {}, more than the {} of all the fuel ({}): check fuel, water and "
                "unit of the readings",
                str(row.line), _kilojoules(taken), _kilojoules(held), place,
            )  # fmt: skip
            return


def _kilojoules(heat: float) -> str:
    return f"{heat / 1000.0:.0f}\u00a0kJ"


def _power(log: BenchLog, water: float, power: float) -> Iterator[Text]:
    """Water that takes more heat a second than the flames give, or next to none of it."""
    rows = [row for row in log.readings if row.water is not None]
    capacity = water * liquid_heat_capacity(333.15)
    error = SURE * math.sqrt(2.0) * log.conditions.u_reading
    before = 0
    for k in range(1, len(rows)):
        while rows[k].time - rows[before + 1].time >= APART:
            before += 1
        apart = rows[k].time - rows[before].time
        rise = (rows[k].water or 0.0) - (rows[before].water or 0.0)
        if apart > 0.0 and capacity * (rise - error) > HARDLY * power * apart:
            yield Text(
                "line {}: since line {} the water would take {}, where the model's flames give {}: check the times and "
                "the unit of the readings",
                str(rows[k].line), str(rows[before].line), Quantity(capacity * rise / apart, "power"),
                Quantity(power, "power"),
            )  # fmt: skip
            return
    heating = [row for row in rows if log.boil.time is None or row.time <= log.boil.time]
    if len(heating) < 3:
        return
    span, rise = heating[-1].time - heating[0].time, (heating[-1].water or 0.0) - (heating[0].water or 0.0)
    if rise > error and 10.0 * HARDLY * capacity * rise < power * span:
        yield Text(
            "line {}: from the first reading on the water takes {} only, where the model's flames give {}: check the "
            "times",
            str(heating[-1].line), Quantity(capacity * rise / span, "power"), Quantity(power, "power"),
        )  # fmt: skip


def _burnout(log: BenchLog, power: float) -> Iterator[Text]:
    """A burn that is over sooner than its fuel can burn."""
    given = log.conditions
    fuel = _charge(log)[0]
    if log.burnout.time is None or fuel is None or given.blend is None or given.fuel_left or given.fuel_left_mass:
        return
    mean = fuel * heating_value(given.blend) / max(log.burnout.time, 1.0)
    if mean > HARDLY * power:
        yield Text(
            "burn-out at {}: to burn all its fuel by then the flames had to give {}, and those of the model give {}: "
            "check the times, or say what was left (charge.left)",
            Quantity(log.burnout.time, "time", 1), Quantity(mean, "power"), Quantity(power, "power"),
        )  # fmt: skip
