"""A sweep in words: how many designs came to what, and which are the best."""

from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from burnsim.errors import InputError, nearest
from burnsim.measures import measure, written
from burnsim.model.description.fields import SHOWN
from burnsim.studies.field_text import field_text
from burnsim.studies.sweep.columns import SEPARATOR, SOLVED
from burnsim.studies.sweep.plan import spec_at
from burnsim.units import format_time

if TYPE_CHECKING:
    import xarray

UNFIT = ("never lit", "never blooms", "quenched", "spills", "pressure", "light-back", "rim melts", "pot melts")
"""Verdicts with which no design is called good, however quickly it boils."""

BEST = 5


def fit(dataset: "xarray.Dataset") -> NDArray[np.bool_]:
    """Which designs were solved and have none of the `UNFIT` verdicts, in the order of the rows.

    Parameters
    ----------
    dataset : of `sweep`
    """
    found = [
        status == SOLVED and set(text.split(SEPARATOR)).isdisjoint(UNFIT)
        for status, text in zip(dataset["status"].values.flat, dataset["verdicts"].values.flat, strict=True)
    ]
    return np.array(found, dtype=np.bool_)


def best_designs(dataset: "xarray.Dataset", by: str, count: int = BEST) -> list[dict[str, object]]:
    """The designs with the lowest value of a column, among those that are `fit` and have one.

    Parameters
    ----------
    dataset : of `sweep`
    by : column of numbers, for example "boil" or "boil_fuel"
    count : how many at most

    Returns
    -------
    list of dict
        For each, the varied fields by path [SI] and the column, best first.

    Raises
    ------
    InputError
        If there is no such column of numbers.
    """
    if by not in dataset.data_vars or dataset[by].dtype.kind not in "fi":
        guess = nearest(str(by), [str(name) for name in dataset.data_vars])
        hint = f"did you mean {guess!r}?" if guess else "choose a column such as 'boil'"
        raise InputError("by", by, "is no column of numbers of this sweep", hint)
    values = np.where(fit(dataset), dataset[by].values.ravel(), np.nan)
    order = [k for k in np.argsort(values, kind="stable")[:count] if not np.isnan(values[k])]
    return [{**_design(dataset, int(k)), by: float(values[k])} for k in order]


def describe(dataset: "xarray.Dataset", units: str = "si") -> str:
    """Write a sweep in words.

    Parameters
    ----------
    dataset : of `sweep`
    units : "si" or "us"
    """
    measure("mass", units)
    status = dataset["status"].values.ravel()
    sizes = " x ".join(f"{size} {name}" for name, size in dataset.sizes.items())
    lines = [f"{dataset.attrs['title']}", f"{sizes} = {status.size} designs", ""]
    for word in ("solved", "impossible", "failed"):
        hits = status == word
        if hits.any():
            lines.append(f"  {word:<18}{int(hits.sum()):>8}")
            lines += [f"      {number} x {text}" for text, number in _common(dataset["reason"].values.ravel()[hits])]
    lines += ["", "Verdicts (a design may have several)"]
    counts = verdict_counts(dataset)
    lines += [f"  {code:<18}{number:>8}" for code, number in counts.items()] or ["  none"]
    for by, words in (("boil", "Quickest to boil"), ("boil_fuel", "Least fuel to boil")):
        found = best_designs(dataset, by)
        if found:
            lines += [
                "",
                f"{words}, of designs that light, hold their fuel and stay below the limits",
                *_table(found, by, units),
            ]
    if not best_designs(dataset, "boil"):
        lines += ["", "No design boils the water without one of these verdicts: " + ", ".join(UNFIT) + "."]
    return "\n".join(lines)


def verdict_counts(dataset: "xarray.Dataset") -> dict[str, int]:
    """How many designs have each verdict, the most frequent first."""
    counts: dict[str, int] = {}
    for text in dataset["verdicts"].values.ravel().tolist():
        for code in text.split(SEPARATOR) if text else ():
            counts[code] = counts.get(code, 0) + 1
    return dict(sorted(counts.items(), key=lambda item: -item[1]))


def _design(dataset: "xarray.Dataset", row: int) -> dict[str, object]:
    """The varied fields of a row."""
    dims = list(dataset.sizes)
    place = dict(zip(dims, np.unravel_index(row, [dataset.sizes[dim] for dim in dims]), strict=True))
    return {
        str(name): one.values[place[one.dims[0]]].item() if one.dtype != object else one.values[place[one.dims[0]]]
        for name, one in dataset.coords.items()
        if name != "design"
    }


def _common(texts: NDArray[Any], most: int = 3) -> list[tuple[str, int]]:
    """The most frequent texts, numbers in them left out of account."""
    groups: dict[str, list[str]] = {}
    for text in texts.tolist():
        if text:
            groups.setdefault("".join(letter for letter in text if not letter.isdigit()), []).append(text)
    largest = sorted(groups.values(), key=len, reverse=True)[:most]
    return [(group[0] if len(set(group)) == 1 else f"such as: {group[0]}", len(group)) for group in largest]


def _table(found: list[dict[str, object]], by: str, units: str) -> list[str]:
    names = [name.rpartition(".")[2].replace("_", " ") if name != by else "" for name in found[0]]
    heads = [*names[:-1], "time" if by == "boil" else "burnt"]
    rows = [[_shown(name, value, units) for name, value in design.items()] for design in found]
    widths = [max(len(row[k]) for row in [heads, *rows]) for k in range(len(heads))]
    return [
        "  " + "   ".join(f"{text:>{width}}" for text, width in zip(row, widths, strict=True)) for row in [heads, *rows]
    ]


def _shown(name: str, value: object, units: str) -> str:
    if name == "boil" and isinstance(value, float):
        return format_time(value)
    if name == "boil_fuel" and isinstance(value, float):
        return written(value, "mass", units)
    spec = spec_at(name)
    if spec.dimension in SHOWN and isinstance(value, float):
        return "none" if np.isnan(value) else field_text(name, value, units)
    return str(value)
