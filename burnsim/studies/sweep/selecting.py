"""Designs of a sweep by the values of their fields, as people write them."""

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from burnsim.errors import InputError, unknown
from burnsim.studies.sweep.plan import is_numeric, label_of, number_of, spec_at
from burnsim.units import DIMENSIONS
from burnsim.units.writing import spelt

if TYPE_CHECKING:
    import xarray

SAME = 1e-9
"""Relative difference of values that are the same."""


def select(dataset: "xarray.Dataset", values: Mapping[str, object]) -> "xarray.Dataset":
    """The part of a sweep with given values of some fields: `select(found, {"burner.jets.diameter": "0.8 mm"})`.

    Parameters
    ----------
    dataset : of `sweep`
    values : by dotted path, a value as a design file has it (a number is SI, "none" and None are none), or a list of
        them

    Returns
    -------
    xarray.Dataset
        On a grid, without the fields of one value as dimensions; else the rows that have the values.

    Raises
    ------
    InputError
        For a field that was not varied, a value that cannot be read, or one that is not there.
    """
    for path, wanted in values.items():
        if path not in dataset.coords or path == "design":
            varied = [str(name) for name in dataset.coords if name != "design"]
            raise unknown(str(path), None, varied, "was not varied", word=path)
        several = isinstance(wanted, list | tuple | range | np.ndarray)
        listed: Any = wanted if several else [wanted]
        there = dataset[path].values
        places = np.concatenate([_places(there, path, one) for one in listed])
        dims = dataset[path].dims
        if dims and dims[0] == path and not several:
            dataset = dataset.isel({path: int(places[0])})
        elif dims:
            dataset = dataset.isel({dims[0]: places})
    return dataset


def _places(there: NDArray[Any], path: str, wanted: object) -> NDArray[np.intp]:
    """Where a value stands among those of a coordinate."""
    spec = spec_at(path)
    known = np.atleast_1d(there)
    if is_numeric(spec):
        value = float("nan") if wanted in (None, "none") else float(number_of(wanted, spec, path))
        hits = np.isnan(known) if np.isnan(value) else np.isclose(known, value, rtol=SAME, atol=0.0)
        shown = spec.dimension if spec.dimension in DIMENSIONS else "number"
        words = ["none" if np.isnan(one) else spelt(float(one), shown) for one in dict.fromkeys(known.tolist())]
    else:
        hits = known == wanted if known.dtype == np.bool_ else known == label_of(wanted, spec, path)
        words = list(dict.fromkeys(str(one) for one in known.tolist()))
    if not hits.any():
        some = ", ".join(words[:12]) + (", ..." if len(words) > 12 else "")
        raise InputError(path, wanted, f"is not among the values of this sweep; allowed: {some}", "choose one of them")
    return np.flatnonzero(hits)
