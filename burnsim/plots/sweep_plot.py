"""One picture of a sweep, whatever its shape: a curve, a map, a map for each of the other values, or points."""

from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from burnsim.errors import InputError
from burnsim.plots.scales import coordinate, readable
from burnsim.plots.style import INK, PALE, VERMILION, new_axes, quiet
from burnsim.plots.sweep_map import plot_map
from burnsim.studies.sweep.best import fit

if TYPE_CHECKING:
    import xarray
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

MOST_PANELS = 6
UNFIT_LABEL = "does not work, or spills"


def plot_sweep(dataset: "xarray.Dataset", variable: str, ax: "Axes | None" = None, *, units: str = "si") -> "Axes":
    """Draw a result of a sweep: a curve over one field, a map over two, points for paired or sampled designs.

    Parameters
    ----------
    dataset
        Of `burnsim.sweep`; on a grid with at most two fields longer than one value (pick of the others by `.sel`).
    variable
        Name of a result, such as "boil".
    ax
        Axes to draw on; default none: new ones.
    units
        "si" or "us".

    Returns
    -------
    Axes

    Raises
    ------
    InputError
        For a variable that is not there or no number, or a grid of more than two fields.
    """
    _check(dataset, variable)
    long = [str(dim) for dim, size in dataset[variable].sizes.items() if size > 1]
    if "design" in dataset.sizes:
        return _points(dataset, variable, ax, units)
    if len(long) > 1:
        return plot_map(dataset, variable, ax, units=units)
    return _curve(dataset, variable, long[0] if long else str(dataset[variable].dims[0]), ax, units)


def plot_panels(dataset: "xarray.Dataset", variable: str, figure: "Figure", *, units: str = "si") -> "list[Axes]":
    """Fill a figure with as many maps as it takes: two fields a map, a map for each combination of the others.

    All maps have the same colour scale.

    Parameters
    ----------
    dataset
        Of `burnsim.sweep`.
    variable
        Name of a result, such as "boil".
    figure
        An empty figure; its size is set.
    units
        "si" or "us".

    Returns
    -------
    list of Axes
        One a panel.

    Raises
    ------
    InputError
        For a variable that is not there or no number, or if it would take more than six panels.
    """
    _check(dataset, variable)
    long = [str(dim) for dim, size in dataset.sizes.items() if size > 1]
    mapped = sorted(long, key=lambda dim: (dataset[dim].dtype == object, -dataset.sizes[dim]))[:2]
    rest = [dim for dim in long if dim not in mapped]
    shape = [dataset.sizes[dim] for dim in rest]
    count = int(np.prod(shape, dtype=np.int64)) if rest else 1
    if count > MOST_PANELS:
        raise InputError(
            "dataset", " x ".join(rest), f"would take {count} panels; allowed up to {MOST_PANELS}",
            "pick values of some fields with .sel first",
        )  # fmt: skip
    columns = min(count, 3)
    rows = -(-count // columns)
    figure.set_size_inches(1.0 + 5.4 * columns, 5.0 * rows)
    span = _span(dataset[variable].values) if rest else None
    panels: list[Axes] = []
    for k in range(count):
        ax = figure.add_subplot(rows, columns, k + 1)
        place = dict(zip(rest, (int(i) for i in np.unravel_index(k, shape)), strict=True)) if rest else {}
        part = dataset.isel(place)
        if not rest:
            plot_sweep(part, variable, ax, units=units)
        else:
            plot_map(part, variable, ax, span=span, units=units)
            ax.set_title("\n".join(_value(part, dim, units) for dim in rest), fontsize="medium")
        panels.append(ax)
    return panels


def _check(dataset: "xarray.Dataset", variable: str) -> None:
    if variable not in dataset.data_vars or dataset[variable].dtype.kind not in "fi":
        raise InputError("variable", variable, "is no result in numbers", "choose one such as 'boil'")


def _span(values: NDArray[Any]) -> tuple[float, float] | None:
    """Lowest and highest of some numbers; None if they do not differ."""
    known = values[np.isfinite(values)]
    return (float(known.min()), float(known.max())) if len(known) and known.min() < known.max() else None


def _value(part: "xarray.Dataset", dim: str, units: str) -> str:
    """A value that a panel stands for."""
    found = part[dim]
    if found.dtype.kind not in "fi":
        return str(found.item())
    values, label = readable(np.array([found.item()]), dim, found.attrs, units)
    return f"{label}: {values[0]:.4g}"


def _curve(dataset: "xarray.Dataset", variable: str, dim: str, ax: "Axes | None", units: str) -> "Axes":
    ax = new_axes(ax, 6.4, 4.2)
    flat = dataset.squeeze([one for one in dataset.sizes if one != dim])
    values, label = readable(flat[variable].values, variable, flat[variable].attrs, units)
    places, words, along = coordinate(flat, dim, units)
    good = fit(flat)
    ax.plot(places, values, color=PALE, linewidth=1.0)
    _mark(ax, places, values, good)
    if words is not None:
        ax.set_xticks(places, words)
    ax.set_xlabel(along)
    ax.set_ylabel(label)
    quiet(ax)
    return ax


def _points(dataset: "xarray.Dataset", variable: str, ax: "Axes | None", units: str) -> "Axes":
    """Designs one by one, over the first varied number."""
    ax = new_axes(ax, 6.4, 4.2)
    values, label = readable(dataset[variable].values, variable, dataset[variable].attrs, units)
    names = [str(name) for name in dataset.coords if name != "design"]
    first = next((name for name in names if dataset[name].dtype.kind in "fi"), "design")
    places, _, along = coordinate(dataset, first, units)
    _mark(ax, places, values, fit(dataset))
    ax.set_xlabel(along)
    ax.set_ylabel(label)
    quiet(ax)
    return ax


def _mark(ax: "Axes", places: NDArray[Any], values: NDArray[Any], good: NDArray[np.bool_]) -> None:
    """Dots where a design works, crosses where it does not, ticks at the foot where there is no value."""
    known = np.isfinite(values)
    foot = np.full(values.shape, 0.02)
    looks: tuple[tuple[NDArray[np.bool_], NDArray[Any], str, str, str], ...] = (
        (known & good, values, "o", INK, "works"),
        (known & ~good, values, "x", VERMILION, UNFIT_LABEL),
        (~known, foot, "|", VERMILION, "did not happen"),
    )
    for which, heights, marker, colour, label in looks:
        if which.any():
            ground = ax.get_xaxis_transform() if heights is foot else ax.transData
            ax.plot(places[which], heights[which], marker, color=colour, markersize=5.0, transform=ground, label=label)
    if not (known & good).all():
        ax.legend(frameon=False, fontsize="small")
