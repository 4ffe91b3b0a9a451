"""What a bench log says: efficiency, power into the water, fuel rate, corrected boil time, lag; each with its error."""

import math
from dataclasses import dataclass

import numpy as np

from burnsim.answers import Drawn, Tabled, Told
from burnsim.constants import ATMOSPHERE
from burnsim.model.description.files import Design, as_setup
from burnsim.studies.bench.design import first_heat, heating_value, with_design
from burnsim.studies.bench.doubts import doubts, flame_power
from burnsim.studies.bench.formula import Efficiency, Figure, compute_efficiency, reference_time
from burnsim.studies.bench.log import BenchLog, Vector
from burnsim.studies.bench.smooth import Smooth, smooth, strays
from burnsim.studies.burn_many import Engine, burn_all
from burnsim.substances import air, blend, water
from burnsim.substances.metals import metal_of
from burnsim.units.writing import Quantity, Text

STEADY = (0.2, 0.8)  # share of the rise between which heating counts as steady
U_BOILING_POINT = 0.3  # of a boiling point by altitude or barometer [K]; weather moves it, common practice, no source
WORTH_A_REMARK = 1.5  # thermometer off the boiling point [K]


@dataclass(frozen=True, eq=False, repr=False)
class BenchResult(Told, Tabled, Drawn):
    """What a bench log says.

    Attributes
    ----------
    log : what was read
    boiling_point : at the site [K]
    start : temperature of the water at the match [K]
    boil : seen, or None with the reason [s]
    boil_reference : corrected to 0.5 kg from 20 degC at sea level [s]
    lag : from bloom to the beginning of steady heating [s]
    rate : slope of steady heating [K/s]
    power_steady : into the water during steady heating [W]
    efficiency_to_boil, efficiency : by the standard formula; None where `missing` says what the log lacks
    power : into the water [W] with its standard error, over time; None with too few readings
    fuel_rate : [kg/s] with its standard error; None if the fuel was not weighed
    missing : reasons, by the name of the figure
    remarks : what deserves a look
    """

    log: BenchLog
    boiling_point: float
    start: Figure
    boil: Figure
    boil_reference: Figure
    lag: Figure
    rate: Figure
    power_steady: Figure
    efficiency_to_boil: Efficiency | None
    efficiency: Efficiency | None
    power: Smooth | None
    fuel_rate: Smooth | None
    missing: dict[str, str]
    remarks: tuple[str, ...]


def analyse(log: BenchLog, design: Design | None = None, engine: Engine = burn_all) -> BenchResult:
    """Work out what a bench log says.

    Parameters
    ----------
    log
        Of one burn.
    design
        What was burnt; fills in conditions that the log does not state, and is burnt once to tell which readings no
        such burner could have made. Default none.
    engine
        What burns it.

    Returns
    -------
    BenchResult
    """
    design = None if design is None else as_setup(design, "design")
    flames = None
    if design is not None:
        flames = flame_power(log, design, engine)
        log = with_design(log, design)
    given = log.conditions
    pressure = given.pressure or (ATMOSPHERE if given.altitude is None else air.pressure_at_altitude(given.altitude))
    boiling_point = water.boiling_point(pressure)
    remarks = list(log.remarks)
    if given.pressure is None and given.altitude is None:
        remarks.append("neither altitude nor pressure of the air is stated; sea level is taken")
    time, reading = log.water()
    remarks += [
        Text(
            "line {}: {} strays far from its neighbours; check it",
            _line(log, time[k]),
            Quantity(float(reading[k]), "temperature", 1),
        )
        for k in strays(time, reading, given.u_reading)
    ]
    start = _start(log, time, reading)
    boil = _boil(log)
    mass, u_mass = _water_mass(log, start)
    remarks += doubts(log, start.value, boiling_point, mass, flames)
    if boil.value is not None and len(time) and time[-1] >= boil.value:
        off = float(np.interp(boil.value, time, reading)) - boiling_point
        if abs(off) > WORTH_A_REMARK:
            remarks.append(
                Text(
                    "at the boil the thermometer shows {}{} off the boiling point of {}: check thermometer, altitude, "
                    "and what counted as boiling",
                    "+" if off > 0.0 else "",
                    Quantity(off, "temperature difference"),
                    Quantity(boiling_point, "temperature", 1),
                )
            )
    rate, onset = _steady(log, time, reading, start, boiling_point)
    lag = Figure(None, None, onset.reason)
    if onset.value is not None and onset.error is not None:
        if log.bloom.time is None:
            lag = Figure(None, None, "the log does not say when the jets lit")
        else:
            lag = Figure(onset.value - log.bloom.time, math.hypot(onset.error, given.u_bloom))
    missing: dict[str, str] = {}
    to_boil = _to_boil(log, start, boil, mass, u_mass, boiling_point, missing)
    whole = _whole(log, start, time, reading, mass, u_mass, boiling_point, missing, remarks)
    for name, found in (("efficiency to boil", to_boil), ("efficiency", whole)):
        if found is not None and found.value >= 1.0:
            remarks.append(
                f"{name} of {100.0 * found.value:.0f} % cannot be: check the fuel, the water and their units"
            )
    return BenchResult(
        log,
        boiling_point,
        start,
        boil,
        _reference(log, boil, onset, mass, u_mass, start, boiling_point),
        lag,
        rate,
        _times(rate, mass, u_mass, water.liquid_heat_capacity(333.15)),
        to_boil,
        whole,
        _power(log, *_with_start(log, time, reading), boil, mass, u_mass),
        _fuel_rate(log),
        missing,
        tuple(remarks),
    )


def _line(log: BenchLog, time: float) -> int:
    return next(row.line for row in log.readings if row.time == time and row.water is not None)


def _start(log: BenchLog, time: Vector, reading: Vector) -> Figure:
    """Temperature of the water at the match."""
    given = log.conditions
    if given.water_temperature is not None:
        return Figure(given.water_temperature, given.u_reading)
    early = reading[time <= first_heat(log)]
    if len(early):
        return Figure(float(early.mean()), given.u_reading / math.sqrt(len(early)))
    return Figure(None, None, "neither pot.water_temperature nor a reading before the bloom is given")


def _boil(log: BenchLog) -> Figure:
    if log.boil.time is not None:
        return Figure(log.boil.time, math.hypot(log.conditions.u_boil, log.conditions.u_clock))
    if log.boil.happened is False:
        return Figure(None, None, "it did not boil")
    return Figure(None, None, "the log does not say when it boiled")


def _water_mass(log: BenchLog, start: Figure) -> tuple[float | None, float]:
    given = log.conditions
    if given.water_mass is not None:
        return given.water_mass, given.u_mass
    if given.water_volume is None:
        return None, 0.0
    mass = given.water_volume * water.liquid_density(start.value or 293.15)
    return mass, given.u_water * mass


def _fuel_mass(log: BenchLog, volume: float | None, mass: float | None) -> tuple[float | None, float]:
    given = log.conditions
    if mass is not None:
        return mass, given.u_mass
    if volume is None or given.blend is None:
        return None, 0.0
    density = blend.density(given.blend, given.fuel_temperature or given.air_temperature or 293.15)
    return volume * density, given.u_fuel * density


def _steady(log: BenchLog, time: Vector, reading: Vector, start: Figure, end: float) -> tuple[Figure, Figure]:
    """Slope of steady heating, and when its line leaves the start temperature."""
    why = "too few readings between a fifth and four fifths of the rise"
    if start.value is None:
        return Figure(None, None, start.reason), Figure(None, None, start.reason)
    low, high = (start.value + share * (end - start.value) for share in STEADY)
    until = log.boil.time if log.boil.time is not None else (time[-1] if len(time) else 0.0)
    pick = (reading >= low) & (reading <= high) & (time <= until)
    if len(np.unique(time[pick])) < 4:
        return Figure(None, None, why), Figure(None, None, why)
    t, y = time[pick], reading[pick]
    design = np.stack([np.ones_like(t), t - t.mean()], axis=1)
    solved, *_ = np.linalg.lstsq(design, y, rcond=None)
    level, slope = solved.tolist()
    residual = y - design @ solved
    noise = max(math.sqrt(float(residual @ residual) / (len(t) - 2)), log.conditions.u_reading)
    spread = np.linalg.inv(design.T @ design) * noise**2
    if slope <= 0.0:
        return Figure(None, None, "the water does not warm"), Figure(None, None, "the water does not warm")
    onset = t.mean() - (level - start.value) / slope
    gradient = np.array([-1.0 / slope, (level - start.value) / slope**2])
    variance = float(gradient @ spread @ gradient) + ((start.error or 0.0) / slope) ** 2
    return Figure(slope, math.sqrt(spread[1, 1])), Figure(float(onset), math.sqrt(variance))


def _times(rate: Figure, mass: float | None, u_mass: float, factor: float) -> Figure:
    if rate.value is None or rate.error is None:
        return rate
    if mass is None:
        return Figure(None, None, "the log does not say how much water there was")
    value = rate.value * mass * factor
    return Figure(value, abs(value) * math.hypot(rate.error / rate.value, u_mass / mass))


def _reference(
    log: BenchLog, boil: Figure, onset: Figure, mass: float | None, u_mass: float, start: Figure, boiling_point: float
) -> Figure:
    if boil.value is None or boil.error is None:
        return boil
    if mass is None:
        return Figure(None, None, "the log does not say how much water there was")
    if start.value is None:
        return start
    given = log.conditions
    pot = 0.0
    if given.pot_mass is not None and given.pot_metal is not None:
        pot = given.pot_mass * metal_of(given.pot_metal).heat_capacity
    lag, u_lag = (onset.value, onset.error) if onset.value is not None else (log.bloom.time, given.u_bloom)
    return reference_time(
        boil=boil.value,
        lag=max(lag or 0.0, 0.0),
        water=mass,
        start=start.value,
        boiling_point=boiling_point,
        pot_capacity=pot,
        u_boil=boil.error,
        u_lag=u_lag or 0.0,
        u_water=u_mass,
        u_start=math.hypot(start.error or 0.0, given.u_thermometer),
    )


def _to_boil(
    log: BenchLog,
    start: Figure,
    boil: Figure,
    mass: float | None,
    u_mass: float,
    boiling_point: float,
    missing: dict[str, str],
) -> Efficiency | None:
    given = log.conditions
    fuel, u_fuel = _fuel_mass(log, given.used_to_boil, given.used_to_boil_mass)
    if fuel is None and boil.value is not None:
        fuel, u_fuel = _weighed_until(log, boil.value)
    lacking = None
    if boil.value is None:
        lacking = boil.reason
    elif mass is None:
        lacking = "the log does not say how much water there was"
    elif start.value is None:
        lacking = start.reason
    elif fuel is None:
        lacking = "the fuel used by the boil was not measured (charge.used_to_boil, or a column of mass)"
    elif given.blend is None:
        lacking = "the log does not say which fuel (charge.fuel)"
    if lacking or mass is None or start.value is None or fuel is None or given.blend is None:
        missing["efficiency_to_boil"] = lacking or ""
        return None
    rise = boiling_point - start.value
    value = heating_value(given.blend)
    return compute_efficiency(
        water=mass,
        rise=rise,
        evaporated=0.0,
        fuel=fuel,
        heating_value=value,
        u_water=u_mass,
        u_rise=math.sqrt((start.error or 0.0) ** 2 + given.u_thermometer**2 + U_BOILING_POINT**2),
        u_fuel=u_fuel,
        u_heating_value=given.u_heating_value * value,
        heat_capacity=(water.liquid_enthalpy(boiling_point) - water.liquid_enthalpy(start.value)) / rise,
        latent_heat=water.latent_heat(boiling_point),
    )


def _whole(
    log: BenchLog,
    start: Figure,
    time: Vector,
    reading: Vector,
    mass: float | None,
    u_mass: float,
    boiling_point: float,
    missing: dict[str, str],
    remarks: list[str],
) -> Efficiency | None:
    """Over the whole burn; steam must have been weighed if it boiled."""
    given = log.conditions
    poured = None if given.fuel_volume is None else given.fuel_volume + (given.primer_volume or 0.0)
    fuel, u_fuel = _fuel_mass(log, poured, given.fuel_mass)
    left, u_left = _fuel_mass(log, given.fuel_left, given.fuel_left_mass)
    evaporated = given.evaporated
    if evaporated is None and given.water_left_mass is not None and mass is not None:
        evaporated = mass - given.water_left_mass
    top = boiling_point if log.boil.happened else (float(reading.max()) if len(reading) else None)
    lacking = None
    if fuel is None:
        lacking = "the log does not say how much of which fuel was poured in"
    elif given.blend is None:
        lacking = "the log does not say which fuel (charge.fuel)"
    elif left is None and log.burnout.time is None:
        lacking = "it was not left to burn out, and what was left was not measured (charge.left)"
    elif mass is None:
        lacking = "the log does not say how much water there was"
    elif start.value is None or top is None:
        lacking = start.reason or "there are no readings of the water"
    elif evaporated is None and log.boil.happened:
        lacking = "it boiled, and the water was not weighed afterwards (pot.water_left_mass or pot.evaporated)"
    if lacking or fuel is None or given.blend is None or mass is None or start.value is None or top is None:
        missing["efficiency"] = lacking or ""
        return None
    if left is None:
        remarks.append("it burnt out: all the fuel is counted as burnt")
    if evaporated is None:
        remarks.append("it did not boil and the water was not weighed: no evaporation is counted")
    value = heating_value(given.blend)
    rise = top - start.value
    if rise <= 0.0 or fuel - (left or 0.0) <= 0.0:
        missing["efficiency"] = "the water did not warm" if rise <= 0.0 else "no fuel was burnt"
        return None
    return compute_efficiency(
        water=mass,
        rise=rise,
        evaporated=evaporated or 0.0,
        fuel=fuel - (left or 0.0),
        heating_value=value,
        u_water=u_mass,
        u_rise=math.sqrt((start.error or 0.0) ** 2 + given.u_thermometer**2 + U_BOILING_POINT**2),
        u_evaporated=given.u_mass * math.sqrt(2.0) if evaporated is not None else 0.0,
        u_fuel=math.hypot(u_fuel, u_left),
        u_heating_value=given.u_heating_value * value,
        heat_capacity=(water.liquid_enthalpy(top) - water.liquid_enthalpy(start.value)) / rise,
        latent_heat=water.latent_heat(top),
    )


def _weighed_until(log: BenchLog, until: float) -> tuple[float | None, float]:
    """Mass of fuel that left the scale by an instant."""
    time, scale = log.weighed()
    if len(time) < 2 or not time[0] <= until <= time[-1]:
        return None, 0.0
    return float(scale[0] - np.interp(until, time, scale)), log.conditions.u_mass * math.sqrt(2.0)


def _with_start(log: BenchLog, time: Vector, reading: Vector) -> tuple[Vector, Vector]:
    """The readings, and the temperature at the match if it was measured apart."""
    start = log.conditions.water_temperature
    if start is None or (len(time) and time[0] <= 0.0):
        return time, reading
    return np.concatenate([[0.0], time]), np.concatenate([[start], reading])


def _power(
    log: BenchLog, time: Vector, reading: Vector, boil: Figure, mass: float | None, u_mass: float
) -> Smooth | None:
    if mass is None:
        return None
    pick = time <= (boil.value if boil.value is not None else math.inf)
    curve = smooth(time[pick], reading[pick], log.conditions.u_reading)
    if curve is None:
        return None
    capacity = mass * np.array([water.liquid_heat_capacity(T) for T in curve.value.tolist()])
    power = capacity * curve.slope
    error = np.hypot(capacity * curve.slope_error, power * u_mass / mass)
    return curve._replace(slope=power, slope_error=error)


def _fuel_rate(log: BenchLog) -> Smooth | None:
    time, scale = log.weighed()
    curve = smooth(time, scale, 0.3 * log.conditions.u_mass) if len(time) else None
    return None if curve is None else curve._replace(slope=-curve.slope)
