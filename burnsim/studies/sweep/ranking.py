"""Which designs of a sweep are fit to be built, which are the best of them, and how many have each verdict."""

from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from burnsim.errors import InputError, nearest
from burnsim.studies.sweep.columns import SEPARATOR, SOLVED

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
        raise InputError("by", by, "is not a numeric column of this sweep", hint)
    values = np.where(fit(dataset), dataset[by].values.ravel(), np.nan)
    order = [k for k in np.argsort(values, kind="stable")[:count] if not np.isnan(values[k])]
    return [{**_design(dataset, int(k)), by: float(values[k])} for k in order]


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
