"""Readings that no burner of this kind could have made: each is told with its line, none is left out."""

import math
from collections.abc import Iterator
from itertools import groupby

from burnsim.studies.bench.design import AT_THE_MATCH, SURE, fuel_mass
from burnsim.studies.bench.log import BenchLog
from burnsim.studies.fuels.spirit import heating_value
from burnsim.substances.water import liquid_heat_capacity
from burnsim.units.writing import Quantity, Text

HARDLY = 3.0
"""Times the median power that the model's flames give, beyond which a measured power is doubted: the highest power is
up to twice the median, and the bands of the factors reach half as much again; judgement, without a source."""
APART = 20.0  # readings closer than this tell no power [s]


def doubts(
    log: BenchLog, start: float | None, boiling_point: float, water: float | None, power: float | None
) -> Iterator[Text]:
    """What in a log cannot be, or hardly.

    Of the water, its temperature at the match [K], the boiling point at the site [K] and its mass [kg] are given.
    `power` is the median power of the flames by the model [W]; None if no design is known.
    """
    if start is not None:
        yield from _temperatures(log, start, boiling_point)
        yield from _stuck(log, start)
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
    stated = "fuel_volume" if given.fuel_mass is None else "fuel_mass"
    return fuel_mass(given, given.poured, given.fuel_mass)[0], log.places.get(stated, "the design")


def _degrees(kelvin: float) -> Quantity:
    return Quantity(kelvin, "temperature", 1)


def _temperatures(log: BenchLog, start: float, boiling_point: float) -> Iterator[Text]:
    """Water that is too warm at the match, colder later on, or hotter than its boiling point."""
    given, rows = log.conditions, log.measured("water")
    error = SURE * (given.u_thermometer + given.u_reading)  # the second of many readings, the worst of which counts
    stated = given.water_temperature
    early = next((row for row in rows if row.time <= AT_THE_MATCH), None)
    if stated is not None and early is not None and abs(early.value - stated) > error:
        yield Text(
            "line {}: {} at the match, but {} says {}: check both, and whether the clock was started late",
            str(early.line), _degrees(early.value),
            log.places.get("water_temperature", "the design"), _degrees(stated),
        )  # fmt: skip
        return
    for row in [row for row in rows if row.value < start - error][:1]:
        yield Text(
            "line {}: {} is colder than the water was at the match, {}",
            str(row.line), _degrees(row.value), _degrees(start),
        )  # fmt: skip
    for row in [row for row in rows if row.value > boiling_point + error][:1]:
        yield Text(
            "line {}: {} is hotter than water gets at the site, {}: check the thermometer, its unit and the altitude",
            str(row.line), _degrees(row.value), _degrees(boiling_point),
        )  # fmt: skip


def _stuck(log: BenchLog, start: float) -> Iterator[Text]:
    """A thermometer that shows the same three times and more, in water that has warmed and goes on to."""
    rows = log.measured("water")
    error = SURE * math.sqrt(2.0) * log.conditions.u_reading
    for value, run in ((value, list(rows)) for value, rows in groupby(rows, lambda row: row.value)):
        later = next((row for row in rows if row.time > run[-1].time), None)
        if len(run) >= 3 and later is not None and min(value - start, later.value - value) > error:
            yield Text(
                "lines {} to {}: the thermometer stands at {} and then shows {}: did it stick? Mark those rows with #",
                str(run[0].line), str(run[-1].line), _degrees(value), _degrees(later.value),
            )  # fmt: skip


def _scale(log: BenchLog) -> Iterator[Text]:
    """A burner that loses more than its fuel, or grows heavier."""
    given, rows = log.conditions, log.measured("mass")
    charged, place = _charge(log)
    error = SURE * math.hypot(math.sqrt(2.0) * given.u_mass, 1000.0 * given.u_fuel)
    for row in rows:
        lost = rows[0].value - row.value
        if charged is not None and lost > charged + error:
            yield Text(
                "line {}: by then the scale has lost {}, and no more than {} was poured in ({})", str(row.line),
                Quantity(lost, "mass", 1), Quantity(charged, "mass", 1), place,
            )  # fmt: skip
            break
    least = math.inf
    for row in rows:
        if row.value > least + error:
            yield Text(
                "line {}: the scale gains {}: was something put on it, or off it before?", str(row.line),
                Quantity(row.value - least, "mass", 1),
            )  # fmt: skip
            break
        least = min(least, row.value)


def _heat(log: BenchLog, start: float, water: float) -> Iterator[Text]:
    """Water that has taken more heat than the fuel holds."""
    fuel, place = _charge(log)
    if fuel is None or log.conditions.blend is None:
        return
    held = fuel * heating_value(log.conditions.blend)
    for row in log.measured("water"):
        taken = water * liquid_heat_capacity(333.15) * (row.value - start)
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
    rows = log.measured("water")
    capacity = water * liquid_heat_capacity(333.15)
    error = SURE * math.sqrt(2.0) * log.conditions.u_reading
    before = 0
    for k in range(1, len(rows)):
        while rows[k].time - rows[before + 1].time >= APART:
            before += 1
        apart, rise = rows[k].time - rows[before].time, rows[k].value - rows[before].value
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
    span, rise = heating[-1].time - heating[0].time, heating[-1].value - heating[0].value
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
