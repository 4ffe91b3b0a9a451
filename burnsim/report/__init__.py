"""What comes of a burn or a study in words, as plain values, as a sheet and as a template to drill by."""

from importlib import import_module
from typing import Any, NamedTuple


class Telling(NamedTuple):
    """Where the words of a kind of result stand: module of this package, and its two functions."""

    module: str
    words: str
    values: str


TELLINGS: dict[str, Telling] = {
    "Setup": Telling("sheet.understood", "understood", ""),
    "Burn": Telling("burn", "burn_text", "burn_dict"),
    "FillLimits": Telling("fill", "fill_text", "fill_dict"),
    "Relief": Telling("fill", "relief_text", "relief_dict"),
    "PourCard": Telling("pour", "pour_text", "pour_dict"),
    "SpillOdds": Telling("fill", "odds_text", "odds_dict"),
    "FuelComparison": Telling("fuels", "comparison_text", "comparison_dict"),
    "WaterLimit": Telling("fuels", "water_limit_text", "water_limit_dict"),
    "StartMap": Telling("start", "start_text", "start_dict"),
    "Prediction": Telling("predict", "prediction_text", "prediction_dict"),
    "Sensitivity": Telling("predict", "sensitivity_text", "sensitivity_dict"),
    "Search": Telling("search", "search_text", "search_dict"),
    "Calibration": Telling("calibrate", "calibration_text", "calibration_dict"),
    "BenchResult": Telling("bench", "bench_text", "bench_dict"),
}
"""By the name of the result's class."""


def summary(result: object, units: str = "si") -> str:
    """Any result in words.

    Parameters
    ----------
    result : of a burn or a study
    units : "si" or "us"
    """
    telling = TELLINGS[type(result).__name__]
    module: Any = import_module(f"{__name__}.{telling.module}")
    return str(getattr(module, telling.words)(result, units))


def html(result: object) -> str:
    """Any result as HTML for a notebook.

    Parameters
    ----------
    result : a setup, or what came of a burn or a study
    """
    module: Any = import_module(f"{__name__}.notebook")
    return str(module.html(result))


def to_dict(result: object) -> dict[str, object]:
    """Any result as plain values.

    Parameters
    ----------
    result : of a burn or a study

    Returns
    -------
    dict
        In SI, ready for JSON.
    """
    telling = TELLINGS[type(result).__name__]
    module: Any = import_module(f"{__name__}.{telling.module}")
    values: dict[str, object] = getattr(module, telling.values)(result)
    return values
