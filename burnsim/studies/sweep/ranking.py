"""Which designs of a sweep are fit to be built, which are the best of them, and how many have each verdict."""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from burnsim.errors import InputError, nearest
from burnsim.model.description.setup import Setup
from burnsim.model.description.vary import vary
from burnsim.studies.sweep.columns import SEPARATOR, SOLVED
from burnsim.studies.sweep.plan import PARTS

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


@dataclass(frozen=True)
class Ranked:
    """A design of a sweep that is among the best.

    Attributes
    ----------
    fields : the varied fields by path [SI]
    by : the column that it was chosen by
    value : its figure there [SI]
    setup : the design itself, to be burnt, varied or saved
    """

    fields: Mapping[str, object]
    by: str
    value: float
    setup: Setup

    def to_dict(self) -> dict[str, object]:
        """The varied fields by path and the column, in SI."""
        return {**self.fields, self.by: self.value}


def setup_at(dataset: "xarray.Dataset", row: "int | Mapping[str, object] | xarray.Dataset") -> Setup:
    """The design of one row of a sweep.

    Parameters
    ----------
    dataset : of `sweep`, or read from its file
    row : its number from 0 in the order of the rows; or the varied fields by path; or the row itself, as
        `dataset.isel(...)` and `dataset.sel(...)` give it

    Returns
    -------
    Setup

    Raises
    ------
    InputError
        If there is no such row, the sweep keeps no design, or the design cannot be built.
    """
    import xarray

    if "base" not in dataset.attrs:
        raise InputError("dataset", "attributes", "hold no design", "give a dataset of `sweep`")
    paths = str(dataset.attrs["varied"]).split(", ")
    if isinstance(row, xarray.Dataset):
        row = {path: row[path].values.item() for path in paths if row[path].size == 1}
    elif isinstance(row, int | np.integer):
        size = dataset["status"].size
        if not 0 <= row < size:
            raise InputError("row", row, f"is not a row; allowed from 0 to {size - 1}", "count from 0")
        row = _design(dataset, int(row))
    if missing := [path for path in paths if path not in row]:
        raise InputError("row", missing[0], "is left open", "select one value of every varied field")
    changes = {path: _meant(dataset, path, row[path]) for path in paths}
    return vary(Setup.from_dict(json.loads(dataset.attrs["base"])), changes)


def _meant(dataset: "xarray.Dataset", path: str, value: object) -> object:
    """What `vary` is given for a label."""
    if isinstance(value, np.generic):
        value = value.item()
    parts = json.loads(dataset[path].attrs.get(PARTS, "{}"))
    if isinstance(value, float) and np.isnan(value):
        return None
    return parts.get(value, value) if isinstance(value, str) else value


def best_designs(dataset: "xarray.Dataset", by: str, count: int = BEST) -> list[Ranked]:
    """The designs with the lowest value of a column, among those that are `fit` and have one.

    Parameters
    ----------
    dataset : of `sweep`
    by : column of numbers, for example "boil" or "boil_fuel"
    count : how many at most

    Returns
    -------
    list of Ranked
        Each with its varied fields, the figure and the setup, best first.

    Raises
    ------
    InputError
        If there is no such column of numbers.
    """
    if by not in dataset.data_vars or dataset[by].dtype.kind not in "fi":
        guess = nearest(str(by), [str(name) for name in dataset.data_vars])
        hint = f"did you mean {guess!r}?" if guess else "choose a column such as 'boil'"
        raise InputError("by", by, "is not a numeric column of this sweep", hint)
    values = np.where(fit(dataset), dataset[by].values.ravel(), np.nan)
    order = [k for k in np.argsort(values, kind="stable")[:count] if not np.isnan(values[k])]
    return [Ranked(_design(dataset, int(k)), by, float(values[k]), setup_at(dataset, int(k))) for k in order]


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
