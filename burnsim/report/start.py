"""A start map as tables for people and as plain values for scripts."""

from collections.abc import Callable

from burnsim.constants import ZERO_CELSIUS
from burnsim.report.fields import OFTEN_MORE, factors_text, on_wick, warned_text, water_text
from burnsim.report.fuels import wrapped
from burnsim.report.values import Keys
from burnsim.studies.start.grid import (
    BLOOMS,
    FAILED,
    GOES_OUT,
    MORE_PRIMER,
    NEVER_BLOOMS,
    NEVER_LIGHTS,
    StartCell,
    StartMap,
)
from burnsim.studies.start.primer import Primer
from burnsim.substances.blend import density
from burnsim.units import format_time, measure, told, written
from burnsim.units.writing import NBSP, rounded, shown

WORDS = {GOES_OUT: "goes out", NEVER_BLOOMS: "no bloom", NEVER_LIGHTS: "unlit", FAILED: "failed"}

FIGURES = {"si": 1, "us": 2}  # digits after the point of a volume
EDGE = 10.0  # how far an edge between two verdicts may lie off, by the bands of the factors [K]
NOTICED = 0.005  # share by which more spirit is told of


def start_word(cell: StartCell, own: float, units: str = "si") -> str:
    """A place in a word or two, beside the setup's own primer [m3]; a star marks spirit below its flash point."""
    if cell.verdict == BLOOMS:
        word = "yes"
    elif cell.verdict == MORE_PRIMER and cell.primer is not None:
        volume = measure("volume", units)
        figures = FIGURES[units]
        more = max(rounded(volume.of(cell.primer - own), figures, 1), 0.1**figures)  # enough, never "+0.0"
        word = f"+{more:.{figures}f} {volume.unit}"
    else:
        word = WORDS[cell.verdict]
    return word + ("*" if cell.below_flash and cell.match is not None else " ")


def start_text(result: StartMap, units: str = "si") -> str:
    """Does it start, in how many minutes does the water boil, and on how much spirit."""
    setup = result.setup
    volume = measure("volume", units)
    own = setup.charge.primer
    head = f"Starting {setup.name or 'the burner'} on {setup.charge.fuel.name}"
    lines = [head, _conditions(result, units), ""]
    verb = "Do the jets light?" if setup.burner.jets is not None else "Does it light?"
    if result.most_primer is not None:
        tried = on_wick(result.most_primer, units)
        verb += f" (+ {volume.unit}: with so much more primer; up to {tried} were tried)"
    lines += [verb, *_grid(result, lambda cell: start_word(cell, own, units), units)]
    cells = [cell for row in result.cells for cell in row]
    thin = next((cell for cell in cells if cell.below_flash and cell.match is not None), None)
    if thin is not None:
        at = ""
        if thin.flash is not None:
            at = f" below {written(thin.flash, 'temperature', units)} at {written(thin.altitude, 'altitude', units)}"
            at += " (flash points of tables, in a closed cup, are higher)"
        lines.append(f"  * its vapour is too thin to burn{at}: hold the match until it takes")
    if setup.pot is not None:
        lines += ["", "Minutes to boil", *_grid(result, lambda cell: _number(cell.boil, 1.0 / 60.0), units)]
        used = _grid(result, lambda cell: _number(cell.used, 1.0 / volume.size, FIGURES[units]), units)
        lines += ["", "Millilitres to boil" if units == "si" else "Fluid ounces to boil", *used]
        lines += [f"  {line.strip()}" for text in _warmth(result, units) for line in wrapped(text)]
    if warned := warned_text([cell.warned for cell in cells]):
        lines += ["", "Warned of", *wrapped(f"{warned}: burnsim burn with such air and altitude tells what to do")]
    if reasons := _reasons(result, units):
        lines += ["", "Why not", *(line for text in reasons for line in wrapped(text))]
    off = written(EDGE, "temperature difference", units, 0)
    lines += ["", factors_text(result.setup, f": an edge between two verdicts may lie {off} off.")]
    return "\n".join(lines)


CELL: Keys = {
    "air_temperature_K": "air_temperature", "altitude_m": "altitude", "verdict": "verdict", "primer_ml": "primer",
    "flash_point_K": "flash", "below_flash_point": "below_flash", "match_s": "match", "bloom_s": "bloom",
    "boil_s": "boil", "fuel_to_boil_ml": "used", "warned_of": "warned", "reason": lambda cell: cell.reason or None,
}  # fmt: skip
MAP: Keys = {
    "name": "setup.name", "fuel": "setup.charge.fuel", "primer_ml": "setup.charge.primer",
    "most_primer_ml": "most_primer", "air_temperatures_K": "air_temperatures", "altitudes_m": "altitudes",
    "cells": ("cells", CELL),
}  # fmt: skip
PRIMER: Keys = {
    "primer_ml": "volume", "most_ml": "most", "bloom_s": "bloom", "steady": "steady",
    "reason": lambda found: found.reason or None,
    "tried": lambda found: [{"primer_ml": volume * 1e6, "starts": does} for volume, does in found.tried],
}  # fmt: skip


def _conditions(result: StartMap, units: str) -> str:
    setup = result.setup
    text = written(setup.charge.volume, "volume", units)
    if setup.charge.primer > 0.0:
        text += f" + {on_wick(setup.charge.primer, units)} on the wick"
    if setup.charge.temperature is not None:
        text += f", at {written(setup.charge.temperature, 'temperature', units)}"
    if setup.pot is None:
        return text
    text += f"; {water_text(setup.pot.water, units)} of water "
    if setup.pot.water_temperature is None:
        return text + f"as cold as the air, but not below {written(ZERO_CELSIUS + 1.0, 'temperature', units)}"
    return text + f"at {written(setup.pot.water_temperature, 'temperature', units)} in every place"


def _warmth(result: StartMap, units: str) -> list[str]:
    """Why warmer air takes more spirit somewhere, in a sentence, if it does: its volume, its mass, its heat."""
    fuel, known = result.setup.charge.fuel, result.setup.charge.temperature
    worst: tuple[float, float, StartCell, StartCell] | None = None
    for row in result.cells:
        boils = [cell for cell in row if cell.used is not None]
        if len(boils) < 2 or result.setup.pot is None or result.setup.pot.water_temperature is None:
            continue  # water as cold as the air: warmth saves what it takes to warm it
        cold, warm = boils[0], boils[-1]
        volume = (warm.used or 0.0) / (cold.used or 1.0) - 1.0
        swell = 1.0 if known else density(fuel, cold.air_temperature) / density(fuel, warm.air_temperature)
        if volume > NOTICED and (worst is None or volume > worst[0]):
            worst = (volume, swell - 1.0, cold, warm)
    if worst is None:
        return []
    volume, swell, cold, warm = worst
    text = f"More where it is warmer, at {written(warm.altitude, 'altitude', units)} by {100.0 * volume:.0f}\u00a0%:"
    if swell > NOTICED:
        text += f" the spirit, poured in at the air's temperature, is lighter there by {100.0 * swell:.0f} %;"
    mass = (1.0 + volume) / (1.0 + swell) - 1.0
    if mass > NOTICED:
        text += f" by mass it takes {100.0 * mass:.0f} % more"
        if len(fuel.components) == 1:  # then the heat goes with the mass, and the water takes the same
            sooner = ": it burns faster, and" if (warm.boil or 0.0) < (cold.boil or 0.0) else ":"
            text += f"{sooner} a smaller share of its heat reaches the water"
    return [text.rstrip(";:") + "."]


def _number(value: float | None, factor: float, figures: int = 1) -> str:
    return "- " if value is None else f"{value * factor:.{figures}f} "


def air_text(temperature: float, units: str) -> str:
    """A temperature of an axis [K], without its unit.

    >>> air_text(273.15 - 18.0, "si").replace("\\N{MINUS SIGN}", "-"), air_text((0.0 + 459.67) / 1.8, "us")
    ('-18', '0')
    """
    return shown(temperature, "temperature", units, 3).partition(NBSP)[0]


def _grid(result: StartMap, show: Callable[[StartCell], str], units: str) -> list[str]:
    """Highest place on top; the air's temperature under the columns."""
    texts = [[show(cell) for cell in row] for row in result.cells]
    degrees, up = measure("temperature", units), measure("altitude", units)
    heads = [f"{air_text(temperature, units)} " for temperature in result.air_temperatures]
    width = max(len(text) for row in [heads, *texts] for text in row)
    lines = []
    for altitude, row in zip(reversed(result.altitudes), reversed(texts), strict=True):
        lines.append(f"  {up.of(altitude):>6.0f} {up.unit:<2}" + "".join(f" {text:>{width}}" for text in row))
    lines.append(f"    {degrees.unit}   " + "".join(f" {head:>{width}}" for head in heads).rstrip())
    return lines


def _reasons(result: StartMap, units: str) -> list[str]:
    """One example of each failure: the place nearest to success, warm and low first."""
    found: dict[str, str] = {}
    for row in result.cells:
        for cell in reversed(row):
            what = cell.verdict if cell.verdict in WORDS else "no boil"
            if cell.reason and what not in found and (what != "no boil" or result.setup.pot is not None):
                air = shown(cell.air_temperature, "temperature", units, 3)
                place = f"{air} and {written(cell.altitude, 'altitude', units)}"
                found[what] = f"{what} (at {place}): {told(cell.reason, units)}"
    return list(found.values())


def primer_text(found: Primer, units: str = "si") -> str:
    """The least primer that does, in words; units "si" or "us"."""
    if found.volume is None:
        most = written(found.most, "volume", units)
        return f"No primer up to {most} starts the jets: {told(found.reason, units).rstrip('.')}."
    amount = written(found.volume, "volume", units, toward=1)
    light = "" if found.bloom is None else f"; they light after {format_time(found.bloom)}"
    text = f"{amount} of primer starts the jets{light}; {OFTEN_MORE}."
    return text if found.steady else text + "\nMore is not always better: some larger primer that was tried does not."
