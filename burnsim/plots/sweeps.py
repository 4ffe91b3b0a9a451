"""Pictures of a sweep: curves over one field, maps over two, and panels of maps over more."""

from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from burnsim.errors import InputError, nearest
from burnsim.plots.scales import coordinate, readable
from burnsim.plots.style import INK, PALE, VERMILION, label_contours, new_axes, quiet
from burnsim.studies.sweep.ranking import fit

if TYPE_CHECKING:
    import xarray
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

MOST_PANELS = 6
UNFIT_LABEL = "does not work, or spills"


def sweep(dataset: "xarray.Dataset", variable: str, ax: "Axes | None" = None, *, units: str = "si") -> "Axes":
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
        return sweep_map(dataset, variable, ax, units=units)
    return _curve(dataset, variable, long[0] if long else str(dataset[variable].dims[0]), ax, units)


def sweep_panels(
    dataset: "xarray.Dataset", variable: str, figure: "Figure | None" = None, *, units: str = "si"
) -> "list[Axes]":
    """Fill a figure with as many maps as it takes: two fields a map, a map for each combination of the others.

    All maps have the same colour scale.

    Parameters
    ----------
    dataset
        Of `burnsim.sweep`.
    variable
        Name of a result, such as "boil".
    figure
        An empty figure; default none: a new one. Its size is set.
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
    if figure is None:
        from matplotlib import pyplot

        figure = pyplot.figure(layout="constrained")
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
            sweep(part, variable, ax, units=units)
        else:
            sweep_map(part, variable, ax, span=span, units=units)
            ax.set_title("\n".join(_value(part, dim, units) for dim in rest), fontsize="medium")
        panels.append(ax)
    return panels


def _check(dataset: "xarray.Dataset", variable: str) -> None:
    if variable not in dataset.data_vars or dataset[variable].dtype.kind not in "fi":
        raise InputError("variable", variable, "is not a numeric result", "choose one such as 'boil'")


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


BAD = (
    ("impossible", "cannot be built", "xxx"),
    ("failed", "run failed", "+++"),
    ("spills", "spills", "\\\\"),
    ("quenched", "goes out", "//"),
    ("never lit", "does not light", "||"),
    ("never blooms", "jets never light", "--"),
    ("pressure", "pressure above the limit", "oo"),
)
"""Statuses and verdicts that make a design infeasible, their words and hatching."""
MISSING = ("missing", "did not happen", "...")
LINES = 7
STEP, ACROSS = 0.49, 9  # half of the band of a word along an axis, and points across it


def sweep_map(
    dataset: "xarray.Dataset",
    variable: str,
    ax: "Axes | None" = None,
    *,
    x: str | None = None,
    y: str | None = None,
    infeasible: tuple[str, ...] | None = None,
    units: str = "si",
    span: tuple[float, float] | None = None,
) -> "Axes":
    """Draw a result of a sweep as contours over two of its fields; designs that do not work are hatched.

    Parameters
    ----------
    dataset
        Of `burnsim.sweep` with "grid", two fields long (pick one value of any others with `.sel` or `.isel`).
    variable
        Name of a result, such as "boil".
    ax
        Axes to draw on; default none: new ones.
    x, y
        Which field lies along, which up; default: the second along, the first up.
    infeasible
        Codes of verdicts and statuses to hatch; default: those that mean that the design does not work.
    units
        "si" or "us".
    span
        Lowest and highest value of the colour scale [SI]; give the same to maps that are to be compared. Values beyond
        have the colour of the end. Default none: those of this map.

    Returns
    -------
    Axes

    Raises
    ------
    InputError
        For a variable that is not there, a dataset that is not a map, or a span that does not rise.
    """
    from matplotlib.patches import Patch
    from matplotlib.ticker import MaxNLocator

    along, up = _fields(dataset, variable, x, y)
    grid = dataset[variable].squeeze().transpose(up, along)
    given = _ends(span)
    numbers, label = readable(np.concatenate([grid.values.ravel(), given]), variable, grid.attrs, units)
    values, scale = numbers[: grid.size].reshape(grid.shape), numbers[grid.size :]
    xs, x_words, x_label = coordinate(dataset, along, units)
    ys, y_words, y_label = coordinate(dataset, up, units)
    ax = new_axes(ax, 6.4, 4.8)
    (columns, wide), (rows, high) = _stepped(xs, x_words), _stepped(ys, y_words)
    values = values[np.ix_(rows, columns)]
    known = np.isfinite(values)
    if known.any() and min(values.shape) > 1:
        filled = _nearest_filled(values)
        if span is not None or np.ptp(filled) > 0.0:
            ends = scale if span is not None else np.array([filled.min(), filled.max()])
            steps = MaxNLocator(2 * LINES + 1).tick_values(*ends)
            beyond = {(False, False): "neither", (True, False): "min", (False, True): "max", (True, True): "both"}
            extend = beyond[bool(filled.min() < steps[0]), bool(filled.max() > steps[-1])]
            shades = ax.contourf(wide, high, filled, levels=steps, cmap="cividis", alpha=0.85, extend=extend)
            marks = MaxNLocator(LINES + 1).tick_values(*ends)
            for part in (np.s_[i, j] for i in _bands(high, y_words) for j in _bands(wide, x_words)):
                inside = marks[(marks > filled[part].min()) & (marks < filled[part].max())]
                if inside.size:
                    place = wide[part[1]], high[part[0]], filled[part]
                    lines = ax.contour(*place, levels=inside, colors="white", linewidths=1.0)
                    label_contours(ax, lines, 4)
            ax.figure.colorbar(shades, ax=ax, label=label)
        else:
            ax.contourf(wide, high, filled, levels=[filled.min() - 1.0, filled.min() + 1.0], colors="0.85")
    bad = [(words, mask[np.ix_(rows, columns)], hatch) for words, mask, hatch in _bad(dataset, up, along, infeasible)]
    covered = np.zeros(values.shape, dtype=bool)
    for _, mask, _ in bad:
        covered |= mask
    gone = ~known & ~covered
    keys = []
    whole = (covered | gone).astype(float)
    if whole.any() and min(whole.shape) > 1:
        ax.contourf(wide, high, whole, levels=[0.5, 1.5], colors=["0.93"])
    for words, mask, hatch in [*bad, (MISSING[1], gone, MISSING[2])]:
        if mask.any() and min(mask.shape) > 1:
            ax.contourf(wide, high, mask.astype(float), levels=[0.5, 1.5], colors=["0.93"], hatches=[hatch], alpha=None)
            ax.contour(wide, high, mask.astype(float), levels=[0.5], colors=INK, linewidths=0.8)
            keys.append(Patch(facecolor="0.93", edgecolor=INK, hatch=hatch, label=words))
    ax.plot(*[one.ravel() for one in np.meshgrid(xs, ys)], linestyle="", marker=".", markersize=2.0, color=INK,
            label="_designs")  # fmt: skip
    for axis, places, texts in ((ax.xaxis, xs, x_words), (ax.yaxis, ys, y_words)):
        if texts is not None:
            axis.set_ticks(places, texts)
    ax.set_xlabel(x_label)
    ax.set_ylabel(y_label)
    ax.set_title(label)
    if keys:
        ax.legend(
            handles=keys, loc="upper center", bbox_to_anchor=(0.5, -0.14), ncols=3, frameon=False, fontsize="small"
        )
    return ax


def _stepped(places: NDArray[np.float64], words: list[str] | None) -> tuple[NDArray[np.intp], NDArray[np.float64]]:
    """Which rows of a map stand where: those of words fill a band each, for nothing lies between two words."""
    rows = np.arange(len(places))
    if words is None:
        return rows, places
    return np.repeat(rows, ACROSS), (places[:, None] + np.linspace(-STEP, STEP, ACROSS)).ravel()


def _bands(places: NDArray[np.float64], words: list[str] | None) -> list[slice]:
    """The bands of an axis of words, as `_stepped` made them; one for an axis of numbers."""
    return [slice(0, len(places))] if words is None else [slice(k, k + ACROSS) for k in range(0, len(places), ACROSS)]


def _ends(span: tuple[float, float] | None) -> NDArray[np.float64]:
    """Both ends of a colour scale [SI], or nothing."""
    if span is None:
        return np.empty(0)
    ends = np.asarray(span, dtype=np.float64)
    if ends.shape != (2,) or not np.isfinite(ends).all() or not ends[0] < ends[1]:
        raise InputError("span", span, "is not two rising numbers", "give (low, high) in SI, or leave it out")
    return ends


def _fields(dataset: "xarray.Dataset", variable: str, x: str | None, y: str | None) -> tuple[str, str]:
    """Names of the dimensions along and up."""
    if variable not in dataset.data_vars:
        guess = nearest(variable, [str(name) for name in dataset.data_vars])
        raise InputError(
            "variable", variable, "is not in the dataset", f"did you mean {guess!r}?" if guess else "see its data_vars"
        )
    if dataset[variable].dtype.kind not in "fiub":
        raise InputError("variable", variable, "is a text, not a number", "choose a number such as 'boil'")
    dims = [str(name) for name in dataset[variable].dims if dataset.sizes[name] > 1]
    if len(dims) != 2:
        raise InputError(
            "dataset", ", ".join(dims) or "nothing", "varies, and a map needs two fields that vary",
            "pick one value of the others with .isel, or sweep two fields",
        )  # fmt: skip
    up = y or next(name for name in dims if name != x)
    along = x or next(name for name in reversed(dims) if name != up)
    for name in (along, up):
        if name not in dims:
            raise InputError("x or y", name, "does not vary in the dataset; allowed: " + ", ".join(dims), "choose one")
    return along, up


def _bad(
    dataset: "xarray.Dataset", up: str, along: str, infeasible: tuple[str, ...] | None
) -> list[tuple[str, NDArray[Any], str]]:
    """What does not work: words, where, hatching; a design shows under the first only."""
    shape = (dataset.sizes[up], dataset.sizes[along])
    texts = np.full(shape, "", dtype=object)
    for name in ("status", "verdicts"):
        if name in dataset:
            texts = texts + "; " + dataset[name].squeeze().transpose(up, along).values.astype(object)
    codes = np.empty(shape, dtype=object)
    for place, text in np.ndenumerate(texts):
        codes[place] = set(str(text).split("; "))
    taken = np.zeros(shape, dtype=bool)
    found = []
    for code, words, hatch in BAD:
        if infeasible is not None and code not in infeasible:
            continue
        mask = np.array([[code in cell for cell in row] for row in codes]) & ~taken
        taken |= mask
        found.append((words, mask, hatch))
    return found


def _nearest_filled(values: NDArray[np.float64]) -> NDArray[np.float64]:
    """Missing values filled from the nearest known ones, so that contours run up to the hatching that covers them."""
    known = np.argwhere(np.isfinite(values))
    filled = values.copy()
    for place in np.argwhere(~np.isfinite(values)):
        near = known[np.argmin(((known - place) ** 2).sum(axis=1))]
        filled[tuple(place)] = values[tuple(near)]
    return filled
