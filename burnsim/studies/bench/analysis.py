"""What a bench log says: efficiency, power into the water, fuel rate, corrected boil time, lag; each with its error."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from burnsim.answers import Drawn, Tabled, Told
from burnsim.constants import ATMOSPHERE
from burnsim.model import Design, as_setup
from burnsim.solve import Failure
from burnsim.studies.arrays import Vector
from burnsim.studies.bench.design import SURE, apply_conditions, boil_seen, early_readings, fuel_mass, with_design
from burnsim.studies.bench.doubts import doubts
from burnsim.studies.bench.formula import Efficiency, Figure, compute_efficiency, reference_time
from burnsim.studies.bench.log import BenchLog
from burnsim.studies.bench.smooth import Smooth, outliers, smooth
from burnsim.studies.burn_many import Engine, burn_all
from burnsim.studies.fuels.spirit import heating_value
from burnsim.substances import air, water
from burnsim.substances.metals import metal_of
from burnsim.units.writing import Quantity, Text

STEADY = (0.2, 0.8)  # share of the rise between which heating counts as steady
U_BOILING_POINT = 0.3  # of a boiling point by altitude or barometer [K]; weather moves it, common practice, no source
WORTH_A_REMARK = 1.5  # thermometer off the boiling point [K]
NO_WATER = "the log does not say how much water there was"
NO_FUEL = "the log does not say which fuel (charge.fuel)"


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


class _Basis(NamedTuple):
    """What the figures rest on."""

    log: BenchLog
    time: Vector  # of the readings of the water [s]
    reading: Vector  # [K]
    boiling_point: float  # [K]
    start: Figure  # [K]
    boil: Figure  # [s]
    water: float | None  # its mass [kg]
    u_water: float


def analyse(log: BenchLog, design: Design | None = None, engine: Engine = burn_all) -> BenchResult:
    """Work out what a bench log says.

    Parameters
    ----------
    log : of one burn
    design : what was burnt; fills in conditions that the log does not state, and is burnt once to tell which readings
        no such burner could have made. Default none.
    engine : what burns it
    """
    flames = None
    if design is not None:
        design = as_setup(design, "design")
        [burn] = engine([apply_conditions(design, log)], ())
        flames = None if isinstance(burn, Failure) else burn.power_median
        log = with_design(log, design)
    given = log.conditions
    pressure = given.pressure or (ATMOSPHERE if given.altitude is None else air.pressure_at_altitude(given.altitude))
    time, reading = log.water()
    start = _start(log)
    basis = _Basis(log, time, reading, water.boiling_point(pressure), start, boil_seen(log), *_water_mass(log, start))
    remarks = list(log.remarks)
    if given.pressure is None and given.altitude is None:
        remarks.append("neither altitude nor pressure of the air is stated; sea level is taken")
    rows = log.measured("water")
    for k in outliers(time, reading, given.u_reading):
        astray = Quantity(rows[k].value, "temperature", 1)
        remarks.append(Text("line {}: {} strays far from its neighbours; check it", str(rows[k].line), astray))
    remarks += doubts(log, start.value, basis.boiling_point, basis.water, flames)
    remarks += _off_at_the_boil(basis)
    rate, onset = _steady(basis)
    efficiencies = {"efficiency_to_boil": _to_boil(basis), "efficiency": _whole(basis, remarks)}
    found = {name: one for name, one in efficiencies.items() if isinstance(one, Efficiency)}
    for name, one in found.items():
        if one.value >= 1.0:
            what = f"{name.replace('_', ' ')} of {100.0 * one.value:.0f} %"
            remarks.append(f"{what} cannot be: check the fuel, the water and their units")
    return BenchResult(
        log=log, boiling_point=basis.boiling_point, start=start, boil=basis.boil,
        boil_reference=_reference(basis, onset), lag=_lag(log, onset), rate=rate,
        power_steady=_power_steady(basis, rate), efficiency_to_boil=found.get("efficiency_to_boil"),
        efficiency=found.get("efficiency"), power=_power(basis), fuel_rate=_fuel_rate(log),
        missing={name: one for name, one in efficiencies.items() if isinstance(one, str)}, remarks=tuple(remarks),
    )  # fmt: skip


def _start(log: BenchLog) -> Figure:
    """Temperature of the water at the match."""
    given, early = log.conditions, early_readings(log)
    if given.water_temperature is not None:
        return Figure(given.water_temperature, given.u_reading)
    if len(early):
        return Figure(float(early.mean()), given.u_reading / math.sqrt(len(early)))
    return Figure(reason="neither pot.water_temperature nor a reading at the match is given")


def _water_mass(log: BenchLog, start: Figure) -> tuple[float | None, float]:
    given = log.conditions
    if given.water_mass is not None:
        return given.water_mass, given.u_mass
    if given.water_volume is None:
        return None, 0.0
    mass = given.water_volume * water.liquid_density(start.value or 293.15)
    return mass, given.u_water * mass


def _off_at_the_boil(basis: _Basis) -> Iterator[Text]:
    """A remark where the thermometer is far off the boiling point at the boil."""
    boil, time = basis.boil.value, basis.time
    if boil is None or not len(time) or time[-1] < boil:
        return
    off = float(np.interp(boil, time, basis.reading)) - basis.boiling_point
    if abs(off) > WORTH_A_REMARK:
        yield Text(
            "at the boil the thermometer shows {}{} off the boiling point of {}: check thermometer, altitude, "
            "and what counted as boiling",
            "+" if off > 0.0 else "", Quantity(off, "temperature difference"),
            Quantity(basis.boiling_point, "temperature", 1),
        )  # fmt: skip


def _steady(basis: _Basis) -> tuple[Figure, Figure]:
    """Slope of steady heating, and when its line leaves the start temperature."""
    time, reading, start = basis.time, basis.reading, basis.start
    if start.value is None:
        return start, start
    low, high = (start.value + share * (basis.boiling_point - start.value) for share in STEADY)
    ends = [seen.time for seen in (basis.log.boil, basis.log.burnout) if seen.time is not None]
    until = min(ends, default=math.inf)
    pick = (reading >= low) & (reading <= high) & (time <= until)
    if len(np.unique(time[pick])) < 4:
        few = Figure(reason="too few readings between a fifth and four fifths of the rise")
        return few, few
    t, y = time[pick], reading[pick]
    design = np.stack([np.ones_like(t), t - t.mean()], axis=1)
    solved, *_ = np.linalg.lstsq(design, y, rcond=None)
    level, slope = solved.tolist()
    residual = y - design @ solved
    noise = max(math.sqrt(float(residual @ residual) / (len(t) - 2)), basis.log.conditions.u_reading)
    spread = np.linalg.inv(design.T @ design) * noise**2
    if slope <= SURE * math.sqrt(spread[1, 1]):
        uneven = Figure(reason="the water does not warm steadily")
        return uneven, uneven
    onset = t.mean() - (level - start.value) / slope
    gradient = np.array([-1.0 / slope, (level - start.value) / slope**2])
    variance = float(gradient @ spread @ gradient) + ((start.error or 0.0) / slope) ** 2
    return Figure(slope, math.sqrt(spread[1, 1])), Figure(float(onset), math.sqrt(variance))


def _lag(log: BenchLog, onset: Figure) -> Figure:
    if onset.value is None or onset.error is None:
        return onset
    if log.bloom.time is None:
        return Figure(reason="the log does not say when the jets lit")
    return Figure(onset.value - log.bloom.time, math.hypot(onset.error, log.conditions.u_bloom))


def _power_steady(basis: _Basis, rate: Figure) -> Figure:
    if rate.value is None or rate.error is None:
        return rate
    if basis.water is None:
        return Figure(reason=NO_WATER)
    value = rate.value * basis.water * water.liquid_heat_capacity(333.15)
    return Figure(value, abs(value) * math.hypot(rate.error / rate.value, basis.u_water / basis.water))


def _reference(basis: _Basis, onset: Figure) -> Figure:
    boil, start, given = basis.boil, basis.start, basis.log.conditions
    if boil.value is None or boil.error is None:
        return boil
    if basis.water is None:
        return Figure(reason=NO_WATER)
    if start.value is None:
        return start
    pot = 0.0
    if given.pot_mass is not None and given.pot_metal is not None:
        pot = given.pot_mass * metal_of(given.pot_metal).heat_capacity
    lag, u_lag = (onset.value, onset.error) if onset.value is not None else (basis.log.bloom.time, given.u_bloom)
    return reference_time(
        boil=boil.value, lag=max(lag or 0.0, 0.0), water=basis.water, start=start.value,
        boiling_point=basis.boiling_point, pot_capacity=pot, u_boil=boil.error, u_lag=u_lag or 0.0,
        u_water=basis.u_water, u_start=math.hypot(start.error or 0.0, given.u_thermometer),
    )  # fmt: skip


def _to_boil(basis: _Basis) -> Efficiency | str:
    """Efficiency up to the boil, or what the log lacks for it."""
    given, boil = basis.log.conditions, basis.boil
    fuel, u_fuel = fuel_mass(given, given.used_to_boil, given.used_to_boil_mass)
    time, scale = basis.log.weighed()
    if fuel is None and boil.value is not None and len(time) >= 2 and time[0] <= boil.value <= time[-1]:
        fuel, u_fuel = float(scale[0] - np.interp(boil.value, time, scale)), given.u_mass * math.sqrt(2.0)
    lacking = _first(
        (boil.value is None, boil.reason),
        (basis.water is None, NO_WATER),
        (basis.start.value is None, basis.start.reason),
        (fuel is None, "the fuel used by the boil was not measured (charge.used_to_boil, or a column of mass)"),
        (given.blend is None, NO_FUEL),
    )
    return lacking or _efficiency(basis, basis.boiling_point, fuel or 0.0, u_fuel)


def _whole(basis: _Basis, remarks: list[str]) -> Efficiency | str:
    """Efficiency over the whole burn, or what the log lacks for it; steam must have been weighed if it boiled."""
    log, given, start = basis.log, basis.log.conditions, basis.start
    fuel, u_fuel = fuel_mass(given, given.poured, given.fuel_mass)
    left, u_left = fuel_mass(given, given.fuel_left, given.fuel_left_mass)
    evaporated = given.evaporated
    if evaporated is None and given.water_left_mass is not None and basis.water is not None:
        evaporated = basis.water - given.water_left_mass
    top = basis.boiling_point if log.boil.happened else float(np.max(basis.reading, initial=0.0))
    lacking = _first(
        (given.blend is None, NO_FUEL),
        (fuel is None, "the log does not say how much fuel was poured in"),
        (left is None and log.burnout.time is None,
         "it was not left to burn out, and what was left was not measured (charge.left)"),
        (basis.water is None, NO_WATER),
        (start.value is None or top <= 0.0, start.reason or "there are no readings of the water"),
        (evaporated is None and bool(log.boil.happened),
         "it boiled, and the water was not weighed afterwards (pot.water_left_mass or pot.evaporated)"),
    )  # fmt: skip
    if lacking:
        return lacking
    if left is None:
        remarks.append("it burnt out: all the fuel is counted as burnt")
    if evaporated is None:
        remarks.append("it did not boil and the water was not weighed: no evaporation is counted")
    burnt = (fuel or 0.0) - (left or 0.0)
    steam = (0.0, 0.0) if evaporated is None else (evaporated, given.u_mass * math.sqrt(2.0))
    lacking = _first((top <= (start.value or 0.0), "the water did not warm"), (burnt <= 0.0, "no fuel was burnt"))
    return lacking or _efficiency(basis, top, burnt, math.hypot(u_fuel, u_left), steam)


def _first(*lacks: tuple[bool, str]) -> str:
    """What is said of the first that is lacking; empty if nothing is."""
    return next((why for lacking, why in lacks if lacking), "")


def _efficiency(
    basis: _Basis, top: float, fuel: float, u_fuel: float, steam: tuple[float, float] = (0.0, 0.0)
) -> Efficiency:
    """That of water warmed to a temperature, and of what evaporated with its error, of a log that lacks nothing."""
    given, start = basis.log.conditions, basis.start
    assert basis.water is not None
    assert start.value is not None
    assert given.blend is not None
    rise, value = top - start.value, heating_value(given.blend)
    return compute_efficiency(
        water=basis.water, rise=rise, evaporated=steam[0], fuel=fuel, heating_value=value, u_water=basis.u_water,
        u_rise=math.sqrt((start.error or 0.0) ** 2 + given.u_thermometer**2 + U_BOILING_POINT**2),
        u_evaporated=steam[1], u_fuel=u_fuel, u_heating_value=given.u_heating_value * value,
        heat_capacity=(water.liquid_enthalpy(top) - water.liquid_enthalpy(start.value)) / rise,
        latent_heat=water.latent_heat(top),
    )  # fmt: skip


def _power(basis: _Basis) -> Smooth | None:
    """Power into the water up to the boil, from the match if the temperature then was measured apart."""
    time, reading, given = basis.time, basis.reading, basis.log.conditions
    if basis.water is None:
        return None
    if given.water_temperature is not None and not (len(time) and time[0] <= 0.0):
        time, reading = np.append(0.0, time), np.append(given.water_temperature, reading)
    pick = time <= (basis.boil.value if basis.boil.value is not None else math.inf)
    curve = smooth(time[pick], reading[pick], given.u_reading)
    if curve is None:
        return None
    capacity = basis.water * np.array([water.liquid_heat_capacity(T) for T in curve.value.tolist()])
    power = capacity * curve.slope
    error = np.hypot(capacity * curve.slope_error, power * basis.u_water / basis.water)
    return curve._replace(slope=power, slope_error=error)


def _fuel_rate(log: BenchLog) -> Smooth | None:
    time, scale = log.weighed()
    curve = smooth(time, scale, 0.3 * log.conditions.u_mass) if len(time) else None
    return None if curve is None else curve._replace(slope=-curve.slope)
