"""A start map as tables for people and as plain values for scripts."""

from collections.abc import Callable
from typing import TYPE_CHECKING

from burnsim.measures import in_system, measure
from burnsim.model.fields import FREEZING
from burnsim.studies.fuels_text import wrapped
from burnsim.studies.start import BLOOMS, FAILED, GOES_OUT, MORE_PRIMER, NEVER_BLOOMS, NEVER_LIGHTS

if TYPE_CHECKING:
    from burnsim.studies.start import StartCell, StartMap

WORDS = {GOES_OUT: "goes out", NEVER_BLOOMS: "no bloom", NEVER_LIGHTS: "unlit", FAILED: "failed"}


def start_word(cell: "StartCell", own: float, units: str = "si") -> str:
    """A place in a word or two; a star marks spirit below its flash point.

    Parameters
    ----------
    cell : the place
    own : primer of the setup [m3]
    units : "si" or "us"
    """
    if cell.verdict == BLOOMS:
        word = "yes"
    elif cell.verdict == MORE_PRIMER and cell.primer is not None:
        volume = measure("volume", units)
        word = f"+{volume.of(cell.primer - own):.{_figures(units)}f} {volume.unit}"
    else:
        word = WORDS[cell.verdict]
    return word + ("*" if cell.below_flash and cell.match is not None else " ")


def start_text(result: "StartMap", units: str = "si") -> str:
    """Does it start, in how many minutes does the water boil, and on how much spirit.

    Parameters
    ----------
    result : a map of places
    units : "si" or "us"
    """
    setup = result.setup
    volume = measure("volume", units)
    own = setup.charge.primer
    head = f"Starting {setup.name or 'the burner'} on {setup.charge.fuel.name}"
    lines = [head, in_system(_conditions(result), units), ""]
    verb = "Do the jets light?" if setup.burner.jets is not None else "Does it light?"
    if result.most_primer is not None:
        tried = in_system(f"{result.most_primer * 1e6:.1f} ml", units)
        verb += f" (+ {volume.unit}: with so much more primer; up to {tried} were tried)"
    lines += [verb, *_grid(result, lambda cell: start_word(cell, own, units), units)]
    cells = [cell for row in result.cells for cell in row]
    if any(cell.below_flash and cell.match is not None for cell in cells):
        lines.append("  * below its flash point: the vapour is too thin to burn, hold the match until it takes")
    if setup.pot is not None:
        lines += ["", "Minutes to boil", *_grid(result, lambda cell: _number(cell.boil, 1.0 / 60.0), units)]
        used = _grid(result, lambda cell: _number(cell.used, 1.0 / volume.size, _figures(units)), units)
        lines += ["", "Millilitres to boil" if units == "si" else "Fluid ounces to boil", *used]
    reasons = _reasons(result)
    if reasons:
        lines += ["", "Why not", *(line for text in reasons for line in wrapped(in_system(text, units)))]
    lines += ["", "No factor is fitted to any burn: an edge between two verdicts may lie ten kelvins off."]
    return "\n".join(lines)


def start_dict(result: "StartMap") -> dict[str, object]:
    """Plain values of a map.

    Parameters
    ----------
    result : a map of places
    """
    return {
        "name": result.setup.name,
        "fuel": result.setup.charge.fuel.name,
        "primer_ml": result.setup.charge.primer * 1e6,
        "most_primer_ml": None if result.most_primer is None else result.most_primer * 1e6,
        "air_temperatures_K": list(result.air_temperatures),
        "altitudes_m": list(result.altitudes),
        "cells": [[_cell_dict(cell) for cell in row] for row in result.cells],
    }


def _cell_dict(cell: "StartCell") -> dict[str, object]:
    return {
        "air_temperature_K": cell.air_temperature,
        "altitude_m": cell.altitude,
        "verdict": cell.verdict,
        "reason": cell.reason or None,
        "primer_ml": None if cell.primer is None else cell.primer * 1e6,
        "flash_point_K": cell.flash,
        "below_flash_point": cell.below_flash,
        "match_s": cell.match,
        "bloom_s": cell.bloom,
        "boil_s": cell.boil,
        "fuel_to_boil_ml": None if cell.used is None else cell.used * 1e6,
    }


def _conditions(result: "StartMap") -> str:
    setup = result.setup
    text = f"{setup.charge.volume * 1e6:.1f} ml"
    if setup.charge.primer > 0.0:
        text += f" + {setup.charge.primer * 1e6:.1f} ml on the wick"
    if setup.charge.temperature is not None:
        text += f", at {setup.charge.temperature - FREEZING:.0f} degC"
    if setup.pot is None:
        return text
    text += f"; {setup.pot.water * 1e3:.2f} l of water "
    if setup.pot.water_temperature is None:
        return text + "as cold as the air, but not below 1 degC"
    return text + f"at {setup.pot.water_temperature - FREEZING:.0f} degC"


def _figures(units: str) -> int:
    """Digits after the point of a volume."""
    return 1 if units == "si" else 2


def _number(value: float | None, factor: float, figures: int = 1) -> str:
    return "- " if value is None else f"{value * factor:.{figures}f} "


def _grid(result: "StartMap", show: Callable[["StartCell"], str], units: str) -> list[str]:
    """Highest place on top; the air's temperature under the columns."""
    texts = [[show(cell) for cell in row] for row in result.cells]
    degrees, up = measure("temperature", units), measure("altitude", units)
    heads = [f"{degrees.of(temperature):.3g} " for temperature in result.air_temperatures]
    width = max(len(text) for row in [heads, *texts] for text in row)
    lines = []
    for altitude, row in zip(reversed(result.altitudes), reversed(texts), strict=True):
        lines.append(f"  {up.of(altitude):>6.0f} {up.unit:<2}" + "".join(f" {text:>{width}}" for text in row))
    lines.append(f"    {degrees.unit}   " + "".join(f" {head:>{width}}" for head in heads).rstrip())
    return lines


def _reasons(result: "StartMap") -> list[str]:
    """One example of each failure: the place nearest to success, warm and low first."""
    found: dict[str, str] = {}
    for row in result.cells:
        for cell in reversed(row):
            what = cell.verdict if cell.verdict in WORDS else "no boil"
            if cell.reason and what not in found and (what != "no boil" or result.setup.pot is not None):
                place = f"{cell.air_temperature - FREEZING:.3g} degC and {cell.altitude:.0f} m"
                found[what] = f"{what} (at {place}): {cell.reason}"
    return list(found.values())
