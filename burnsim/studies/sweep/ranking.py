"""Which designs of a sweep work, which are the best, how many have each verdict, and which have given values."""

import json
from collections import Counter
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from burnsim.errors import InputError, guess, unknown
from burnsim.model import Setup, vary
from burnsim.solve.results.verdicts import CODES
from burnsim.studies.sweep.columns import FAILED, IMPOSSIBLE, MARKS, SEPARATOR, SOLVED
from burnsim.studies.sweep.plan import PARTS, is_numeric, label_of, number_of, spec_at
from burnsim.units import DIMENSIONS
from burnsim.units.writing import spelt

if TYPE_CHECKING:
    import xarray

UNFIT = ("never lit", "never blooms", "quenched", "spills", "pressure", "light-back", "rim melts", "pot melts")
"""Verdicts with which no design is called good, however quickly it boils."""

HIGH = (
    "efficiency", "efficiency_to_boil", "spill_margin", "boil_margin", "pressure_margin", "fuel_margin", "fuel_burnt",
    "burnout",
)  # fmt: skip
"""Columns and figures of which more is better, in a ranking and in a trade-off alike."""
LOW = (
    *(f"{mark}{what}" for mark in MARKS if mark in ("vapour", "bloom", "boil") for what in ("", "_fuel", "_volume")),
    "froth_max", "gallery_pressure_max", "well_pressure_max", "fuel_unburnt", "fuel_spilled", "fuel_left",
    "mass_residual", "energy_residual", "evaluations",
)  # fmt: skip
"""Columns of which less is better."""


def warned_of(dataset: "xarray.Dataset", row: int) -> str:
    """The verdicts of one row of a sweep, parted by commas."""
    return str(dataset["verdicts"].values.flat[row]).replace(SEPARATOR, ", ")


BEST = 5
SAME = 1e-9  # relative difference of values that are the same


def ok(dataset: "xarray.Dataset") -> "xarray.DataArray":
    """Whether each design of a sweep works: solved, with none of the verdicts of `UNFIT`.

    Parameters
    ----------
    dataset : of `sweep`, sliced or whole: `found.where(ok(found))` keeps what works

    Returns
    -------
    xarray.DataArray
        True or false.
    """
    return _asked(
        lambda status, codes: status == SOLVED and set(codes.split(SEPARATOR)).isdisjoint(UNFIT),
        dataset["status"], dataset["verdicts"],
    ).rename("ok")  # fmt: skip


def has_verdict(dataset: "xarray.Dataset", code: str) -> "xarray.DataArray":
    """Whether each design of a sweep has a verdict, for example "spills".

    Parameters
    ----------
    dataset : of `sweep`
    code : of the verdict

    Returns
    -------
    xarray.DataArray
        True or false; false for a design without a result.

    Raises
    ------
    InputError
        If there is no such verdict.
    """
    check_codes((code,), CODES)
    return _asked(lambda codes: code in codes.split(SEPARATOR), dataset["verdicts"]).rename(code)


def _asked(does: Callable[..., bool], *columns: "xarray.DataArray") -> "xarray.DataArray":
    """Ask every design of some columns."""
    import xarray

    # kept, then taken off the answer alone: xarray 2024.11 to 2025.3 would drop them from the columns' coordinates too
    found: xarray.DataArray = xarray.apply_ufunc(
        does, *columns, vectorize=True, output_dtypes=[np.bool_], keep_attrs=True
    )
    found.attrs = {}
    return found


def check_codes(codes: tuple[str, ...], allowed: tuple[str, ...] = (*CODES, IMPOSSIBLE, FAILED)) -> None:
    """Refuse codes of verdicts and statuses that no design can have."""
    for code in codes:
        if code not in allowed:
            raise unknown("code", code, allowed, "is not a verdict")


@dataclass(frozen=True)
class Ranked:
    """A design of a sweep that is among the best.

    Attributes
    ----------
    fields : the varied fields by path [SI]
    by : the column that it was chosen by
    value : its figure there [SI]
    setup : the design itself, to be burnt, varied or saved
    edge : those of its fields whose value is the lowest or highest that was tried, where better ones may lie beyond
    """

    fields: Mapping[str, object]
    by: str
    value: float
    setup: Setup
    edge: tuple[str, ...] = ()

    def to_dict(self) -> dict[str, object]:
        """The varied fields by path and the column, in SI."""
        return {**self.fields, self.by: self.value}


def get_setup(dataset: "xarray.Dataset", row: "int | Mapping[str, object] | xarray.Dataset") -> Setup:
    """The design of one row of a sweep.

    Parameters
    ----------
    dataset : of `sweep`, or read from its file
    row : its number from 0 in the order of the rows; or the varied fields by path; or the row itself, as
        `dataset.isel(...)` and `dataset.sel(...)` give it

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
        row = design_at(dataset, int(row))
    if missing := [path for path in paths if path not in row]:
        raise InputError("row", missing[0], "is left open", "select one value of every varied field")
    changes: dict[str, object] = {}
    for path in paths:
        value: Any = row[path]
        value = value.item() if isinstance(value, np.generic) else value
        parts = json.loads(dataset[path].attrs.get(PARTS, "{}"))
        none = isinstance(value, float) and np.isnan(value)
        changes[path] = None if none else parts.get(value, value) if isinstance(value, str) else value
    return vary(Setup.from_dict(json.loads(dataset.attrs["base"])), changes)


def rank_designs(dataset: "xarray.Dataset", by: str, count: int = BEST, *, highest: bool | None = None) -> list[Ranked]:
    """The best designs of a sweep by one of its columns, among those that are `ok` and have one.

    Parameters
    ----------
    dataset : of `sweep`, sliced or whole
    by : column of numbers, for example "boil" or "efficiency"
    count : how many at most
    highest : whether the highest values are the best; default none: what suits the column, lowest for times and fuel,
        highest for efficiency and margins

    Returns
    -------
    list of Ranked
        Each with its varied fields, the figure, the setup, and those of its fields that stand at the edge of what was
        tried; best first.

    Raises
    ------
    InputError
        If there is no such column of numbers, or nobody can know which way it is better.
    """
    return [
        Ranked(
            fields=design_at(dataset, row), by=by, value=float(dataset[by].values.flat[row]),
            setup=get_setup(dataset, row), edge=at_edge(dataset, row),
        )
        for row in best_rows(dataset, by, count, highest=highest)
    ]  # fmt: skip


def best_rows(dataset: "xarray.Dataset", by: str, count: int = BEST, *, highest: bool | None = None) -> list[int]:
    """Numbers of the best designs in the order of the rows; as `rank_designs` takes and ranks them."""
    if by not in dataset.data_vars or dataset[by].dtype.kind not in "fi":
        remedy = guess(by, map(str, dataset.data_vars), "choose a column such as 'boil'")
        raise InputError("by", by, "is not a numeric column of this sweep", remedy)
    if highest is None and by not in (*HIGH, *LOW):
        problem = "may be good high or low"
        raise InputError("by", by, problem, "say highest=True for the highest values, or highest=False")
    high = by in HIGH if highest is None else highest
    values = np.where(ok(dataset).values, dataset[by].values, np.nan).ravel()
    order = np.argsort(-values if high else values, kind="stable")[:count]
    return [int(k) for k in order if not np.isnan(values[k])]


def at_edge(dataset: "xarray.Dataset", row: int) -> tuple[str, ...]:
    """The varied numbers of a row that are the lowest or the highest of all that were tried."""
    found = []
    for path, value in design_at(dataset, row).items():
        tried = dataset[path].values
        if tried.dtype.kind in "fi" and np.nanmin(tried) < np.nanmax(tried) and value in (tried.min(), tried.max()):
            found.append(path)
    return tuple(found)


def verdict_counts(dataset: "xarray.Dataset") -> dict[str, int]:
    """How many designs have each verdict, the most frequent first."""
    texts = dataset["verdicts"].values.ravel().tolist()
    return dict(Counter(code for text in texts if text for code in text.split(SEPARATOR)).most_common())


def design_at(dataset: "xarray.Dataset", row: int) -> dict[str, object]:
    """The varied fields of a row, those that a slice has fixed included."""
    status = dataset["status"]
    place = dict(zip(status.dims, np.unravel_index(row, status.shape), strict=True))
    return {str(name): one.item() for name, one in status.isel(place).coords.items() if name != "design"}


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
