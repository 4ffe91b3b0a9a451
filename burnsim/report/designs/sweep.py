"""A sweep in words: how many designs came to what, and which are the best."""

from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from burnsim.report.fields import aligned, field_text
from burnsim.studies.sweep.plan import spec_at
from burnsim.studies.sweep.ranking import UNFIT, at_edge, best_rows, design_at, verdict_counts, warned_of
from burnsim.units import DIMENSIONS, format_time, measure, written

if TYPE_CHECKING:
    import xarray

HEADS = {"boil": "time", "boil_fuel": "burnt", "boil_volume": "as poured"}


LOADS = "That a load stays in the burner in one burn does not make it safe: burnsim fill tells how much may be poured."
"""What is said of a sweep over loads: a limit counts the sealed well, the margins, and what is not known."""


def describe(dataset: "xarray.Dataset", units: str = "si") -> str:
    """Write a sweep in words."""
    measure("mass", units)
    status = dataset["status"].values.ravel()
    sizes = " × ".join(f"{size} {name}" for name, size in dataset.sizes.items())
    lines = [f"{dataset.attrs['title']}", f"{sizes} = {status.size} designs", ""]
    for word in ("solved", "impossible", "failed"):
        hits = status == word
        if hits.any():
            lines.append(f"  {word:<18}{int(hits.sum()):>8}")
            lines += [f"      {number} × {text}" for text, number in _common(dataset["reason"].values.ravel()[hits])]
    lines += ["", "Verdicts (a design may have several)"]
    counts = verdict_counts(dataset)
    lines += [f"  {code:<18}{number:>8}" for code, number in counts.items()] or ["  none"]
    for by, words in (("boil", "Quickest to boil"), ("boil_fuel", "Least fuel to boil")):
        if found := best_rows(dataset, by):
            lines += ["", f"{words}, of designs that light, hold their fuel and stay below the limits"]
            lines += _table(dataset, found, by, units)
    if "charge.volume" in dataset.coords:
        lines += ["", LOADS]
    if not best_rows(dataset, "boil"):
        lines += ["", "No design boils the water without one of these verdicts: " + ", ".join(UNFIT) + "."]
    return "\n".join(lines)


def _common(texts: NDArray[Any]) -> list[tuple[str, int]]:
    """The three most frequent texts, numbers in them left out of account."""
    groups: dict[str, list[str]] = {}
    for text in texts.tolist():
        if text:
            groups.setdefault("".join(letter for letter in text if not letter.isdigit()), []).append(text)
    largest = sorted(groups.values(), key=len, reverse=True)[:3]
    return [(group[0] if len(set(group)) == 1 else f"such as: {group[0]}", len(group)) for group in largest]


def _table(dataset: "xarray.Dataset", found: list[int], by: str, units: str) -> list[str]:
    """The best rows; fuel by mass and as poured, and the verdicts that such designs have all the same.

    A star marks a value that is the lowest or highest of all tried.
    """
    reached = (by,) if by == "boil" or "boil_volume" not in dataset else (by, "boil_volume")
    rows, starred = [], False
    for row in found:
        edge = at_edge(dataset, row)
        starred = starred or bool(edge)
        design = design_at(dataset, row).items()
        fields = [_shown(name, value, units) + ("*" if name in edge else " ") for name, value in design]
        rows.append([*fields, *(_shown(name, float(dataset[name].values.flat[row]), units) for name in reached)])
    warned = [warned_of(dataset, row) for row in found]
    if any(warned):
        rows = [[*cells, text or "-"] for cells, text in zip(rows, warned, strict=True)]
    names = [name.rpartition(".")[2].replace("_", " ") + " " for name in design_at(dataset, found[0])]
    heads = [*names, *(HEADS[name] for name in reached), *(["warned of"] if any(warned) else [])]
    lines = aligned([heads, *rows], gap=3)
    return [*lines, "  * the lowest or highest that was tried: better ones may lie beyond"] if starred else lines


def _shown(name: str, value: object, units: str) -> str:
    if name == "boil" and isinstance(value, float):
        return format_time(value)
    if name in ("boil_fuel", "boil_volume") and isinstance(value, float):
        return written(value, "mass" if name == "boil_fuel" else "volume", units)
    spec = spec_at(name)
    if spec.dimension in DIMENSIONS and isinstance(value, float):
        return "none" if np.isnan(value) else field_text(name, value, units)
    return str(value)
