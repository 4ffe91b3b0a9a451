"""Design searches in words and as plain values."""

import math
from collections.abc import Iterator

from burnsim.report.fields import field_text
from burnsim.studies.predict.prediction import FIGURES, UNITS
from burnsim.studies.search.objectives import Limit
from burnsim.studies.search.run import Search
from burnsim.studies.search.trial import Candidate
from burnsim.substances.blend import Blend
from burnsim.units import format_time, measure, written
from burnsim.units.table import DIMENSION_OF
from burnsim.units.writing import shown, with_unit

COLUMNS = {
    "bloom": "bloom",
    "boil": "boil",
    "boil_fuel": "fuel to boil",
    "efficiency_to_boil": "efficiency",
    "burnout": "burn-out",
}
FRONT_ROWS = 8
FINE = 1e-3
"""A saving below this share of the objective is within what a search leaves to find."""


def search_text(found: Search, units: str = "si") -> str:
    """A search in words.

    Parameters
    ----------
    found : of `search`
    units : "si" or "us"; limits stay as they were set, in SI
    """
    measure("mass", units)
    return "\n".join(_lines(found, units))


def search_dict(found: Search) -> dict[str, object]:
    """A search as plain values in SI; None where a design lacks a figure."""
    return {
        "objective": found.objective,
        "maximise": found.maximise,
        "limits": [limit_text(limit) for limit in found.limits],
        "evaluations": found.evaluations,
        "feasible": found.feasible,
        "impossible": found.impossible,
        "burns": found.burns,
        "best": [_candidate(one) for one in found.best],
        "nearest": None if found.nearest is None else _candidate(found.nearest),
        "trade_off": {"figures": list(found.trade_off), "designs": [_candidate(one) for one in found.front]},
        "prices": [
            {"limit": limit_text(price.limit), "objective_without": price.without, "saving": price.saving}
            for price in found.prices
        ],
        "checked": [
            {
                "changes": _candidate(one.candidate)["changes"],
                "kept": {limit_text(limit): share for limit, share in zip(found.limits, one.kept, strict=True)},
                "burns": one.prediction.n,
            }
            for one in found.checked
        ],
    }


def figure_text(name: str, value: float, units: str = "si") -> str:
    """A figure with its unit, as a person reads it.

    >>> from burnsim.units import plain
    >>> plain(figure_text("boil_fuel", 0.0197)), plain(figure_text("boil_fuel", 0.0197, "us"))
    ('19.70 g', '0.695 oz')
    """
    if math.isnan(value):
        return "none"
    unit = UNITS[name]
    if unit == "s":
        return format_time(value)
    if unit in ("kg", "m"):
        dimension, figures = ("mass", {"si": 2, "us": 3}) if unit == "kg" else ("length", {"si": 1, "us": 2})
        return written(value, dimension, units, figures[units])
    if unit == "1":
        return written(value, "fraction")
    if unit == "K":
        hot = name == "water_max"
        return written(value, "temperature", units) if hot else shown(value, "temperature difference", units, 4)
    return shown(value, DIMENSION_OF[unit], units, 4) if unit in DIMENSION_OF else with_unit(f"{value:.4g}", unit)


def _candidate(one: Candidate) -> dict[str, object]:
    return {
        "changes": {path: value.name if isinstance(value, Blend) else value for path, value in one.changes.items()},
        "figures": {
            name: None if math.isnan(one.figures.get(name, math.nan)) else one.figures[name] for name in FIGURES
        },
        "feasible": one.feasible,
        "reason": one.reason,
    }


def _lines(found: Search, units: str) -> Iterator[str]:
    aim = f"{'most' if found.maximise else 'least'} {found.objective.replace('_', ' ')}"
    yield f"{found.base.name or 'burner'}: {aim}" + (", with" if found.limits else "")
    for limit in found.limits:
        yield f"  {limit_text(limit)}"
    yield (
        f"{found.evaluations} designs, {found.burns} burns; {found.feasible} keep every limit, {found.impossible} "
        "cannot be built or burnt"
    )
    yield ""
    if not found.best:
        yield "There is no design among them that keeps every limit. Nearest comes:"
        if found.nearest is not None:
            yield from _shown(found, found.nearest, units)
            for limit, mark in zip(found.limits, found.nearest.violations, strict=True):
                if mark > 0.0:
                    yield f"    breaks: {limit_text(limit)}"
        return
    yield "Best"
    for k, one in enumerate(found.best):
        yield from _shown(found, one, units)
        if k < len(found.checked):
            check = found.checked[k]
            for limit, share in zip(found.limits, check.kept, strict=True):
                what = f"no '{limit.name}'" if limit.verdict else limit_text(limit)
                yield f"    kept in {100 * share:.1f} % of {check.prediction.n} burns: {what}"
    if found.prices:
        yield ""
        yield "What each limit costs"
        for price in found.prices:
            yield f"  {limit_text(price.limit)}: {_saving(found, price.saving, price.without, units)}"
    yield from _front_lines(found, units)
    if not found.checked:
        yield ""
        yield "Limits are kept by the model with the factors as they are; check the best with bands before building."


def _front_lines(found: Search, units: str) -> Iterator[str]:
    first, second = found.trade_off
    if len(found.front) < 2:
        return
    yield ""
    yield f"What can be had: {first.replace('_', ' ')} against {second.replace('_', ' ')}"
    rows = len(found.front)
    for k in sorted({round(j * (rows - 1) / (FRONT_ROWS - 1)) for j in range(FRONT_ROWS)}):
        one = found.front[k]
        changes = one.changes.items()
        what = ", ".join(f"{path.split('.')[-1]} {field_text(path, value, units)}" for path, value in changes)
        told = [figure_text(name, one.figures[name], units) for name in (first, second)]
        yield f"  {told[0]:>12} {told[1]:>10}   {what}"


def _saving(found: Search, saving: float | None, without: float | None, units: str) -> str:
    if saving is None or without is None:
        return "not known"
    if saving <= FINE * max(abs(without), 1e-12):
        return "costs nothing"
    better = "more" if found.maximise else "less"
    amount = f"{saving:.1f} s" if UNITS[found.objective] == "s" else figure_text(found.objective, saving, units)
    return f"without it {amount} {better} ({figure_text(found.objective, without, units)})"


def _shown(found: Search, one: Candidate, units: str) -> Iterator[str]:
    yield "  " + ", ".join(f"{path} = {field_text(path, value, units)}" for path, value in one.changes.items())
    if one.reason:
        yield f"    {one.reason}"
        return
    names = dict.fromkeys((*COLUMNS, found.objective, *(limit.name for limit in found.limits if not limit.verdict)))
    told = [
        f"{COLUMNS.get(name, name.replace('_', ' '))} {figure_text(name, one.figures[name], units)}"
        for name in names
        if not math.isnan(one.figures.get(name, math.nan))
    ]
    yield "    " + ", ".join(told)


def limit_text(limit: Limit) -> str:
    """A limit of a search, in SI as it was set.

    Parameters
    ----------
    limit : of a figure or on a verdict
    """
    if limit.verdict:
        return f"no '{limit.name}'" + (f" in more than {100 * (limit.most or 0.0):g}\u00a0%" if limit.most else "")
    unit = "" if UNITS[limit.name] == "1" else UNITS[limit.name]
    parts = [f"at least {with_unit(f'{limit.least:g}', unit)}"] if limit.least is not None else []
    parts += [f"at most {with_unit(f'{limit.most:g}', unit)}"] if limit.most is not None else []
    return f"{limit.name} " + " and ".join(parts)
