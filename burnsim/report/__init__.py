"""What comes of a burn or a study in words, as plain values, as a sheet and as a template to drill by."""

from importlib import import_module
from typing import Any, NamedTuple

from burnsim.units import measure


class Telling(NamedTuple):
    """Where the words of a kind of result stand: module of this package, its functions, and what holds its rows."""

    module: str
    words: str  # function that gives a text, or its lines one by one
    values: str  # what it holds: keys that carry their units, as for `keyed`; or a function that gives it by such keys
    rows: str = ""  # function that makes them, or key of the values: a list of rows, or a dict of them by their names


TELLINGS: dict[str, Telling] = {
    "Setup": Telling("sheet.understood", "understood", ""),
    "Burn": Telling("burn", "burn_text", "BURN"),
    "Outcome": Telling("burn", "burn_text", "BURN"),
    "FillLimits": Telling("fill", "fill_lines", "FILL", "fill_rows"),
    "Relief": Telling("fill", "relief_text", "RELIEF"),
    "PourCard": Telling("pour", "pour_lines", "CARD", "places"),
    "SpillOdds": Telling("fill", "odds_text", "ODDS"),
    "SpillMap": Telling("fill", "spill_map_text", "spill_map_dict", "clearances"),
    "DesignComparison": Telling("designs.compare", "compare_lines", "COMPARISON", "designs"),
    "Levers": Telling("designs.levers", "levers_lines", "LEVERS", "steps"),
    "FuelComparison": Telling("fuels", "comparison_text", "COMPARISON", "fuels"),
    "WaterLimit": Telling("fuels", "water_limit_text", "WATER"),
    "LeastCharge": Telling("fuels", "least_charge_text", "LEAST", "tried"),
    "Distillation": Telling("fuels", "distillation_text", "DISTILLATION", "course"),
    "StartMap": Telling("start", "start_text", "MAP", "cells"),
    "Primer": Telling("start", "primer_text", "PRIMER", "tried"),
    "Prediction": Telling("predict", "prediction_lines", "prediction_dict", "figures"),
    "Sensitivity": Telling("predict", "sensitivity_text", "sensitivity_dict", "figures"),
    "Search": Telling("designs.search", "search_lines", "SEARCH", "best"),
    "Calibration": Telling("calibrate", "calibration_lines", "calibration_dict", "factors"),
    "NextBurns": Telling("calibrate", "next_text", "NEXT", "single"),
    "BenchResult": Telling("bench", "bench_lines", "bench_dict", "readings"),
}
"""By the name of the result's class."""


def summary(result: object, units: str = "si") -> str:
    """Any result in words."""
    measure("length", units)  # refuses what is no system of units
    telling = TELLINGS[type(result).__name__]
    words: Any = getattr(import_module(f"{__name__}.{telling.module}"), telling.words)(result, units)
    return words if isinstance(words, str) else "\n".join(words)


def html(result: object) -> str:
    """Any result as HTML for a notebook."""
    module: Any = import_module(f"{__name__}.notebook")
    return str(module.html(result))


def to_dict(result: object) -> dict[str, object]:
    """Any result as plain values in SI, ready for JSON."""
    telling, values = TELLINGS[type(result).__name__], import_module(f"{__name__}.values")
    how: Any = getattr(import_module(f"{__name__}.{telling.module}"), telling.values)
    plain: dict[str, object] = values.plain_values(how(result) if callable(how) else values.keyed(result, how))
    return plain


def rows(result: object) -> list[dict[str, object]]:
    """The rows of a result that is a table, as in its plain values; rows that have names have them under "name"."""
    telling = TELLINGS[type(result).__name__]
    make: Any = getattr(import_module(f"{__name__}.{telling.module}"), telling.rows, None)
    found: Any = to_dict(result)[telling.rows] if make is None else make(result)
    if isinstance(found, dict):
        return [
            {"name": name, **{key: _by_level(one) for key, one in row.items()}} for name, row in found.items() if row
        ]
    return [one for row in found for one in (row if isinstance(row, list) else [row])]


def _by_level(value: Any) -> Any:
    """Quantiles by their level, so that each is a column; anything else as it is."""
    if isinstance(value, list) and value and isinstance(value[0], dict) and "level" in value[0]:
        return {str(one["level"]): {key: part for key, part in one.items() if key != "level"} for one in value}
    return value
