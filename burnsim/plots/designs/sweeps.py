"""Pictures of a sweep: curves over one field, maps over two, panels of maps over more, points for sampled designs."""

import json
from contextlib import suppress
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from burnsim.errors import InputError, guess
from burnsim.model.description.vary import value_at
from burnsim.plots.designs.cells import BAD, MISSING, Side, hatched, reasons
from burnsim.plots.labels import add_bar, entitle, label_contours, label_ends, legend_below, thinned
from burnsim.plots.scales import field_name, readable, value_text
from burnsim.plots.style import BLUE, GREEN, INK, PALE, VERMILION, new_axes, picture
from burnsim.studies.sweep.plan import label_of, spec_at
from burnsim.studies.sweep.ranking import at_edge, best_rows, check_codes, design_at, ok, warned_of
from burnsim.units import format_time

if TYPE_CHECKING:
    import xarray
    from matplotlib.axes import Axes
    from matplotlib.cm import ScalarMappable
    from matplotlib.figure import Figure

MOST_PANELS = 6
MOST_CURVES = 8
MOST_TICKS = 10  # values of an axis that each get a tick
UNFIT_LABEL = "does not work, or spills"
NO_FIGURE = "did not happen, or cannot be built"
STEPS = 8  # of a map's colours, about
LOOKS = (
    ("-", "o", INK), ("--", "s", BLUE), ("-.", "^", VERMILION), (":", "D", GREEN),
    ((0, (8, 2)), "v", INK), ((0, (3, 1, 1, 1)), "P", BLUE), ((0, (1, 1)), "X", VERMILION), ((0, (5, 1)), "*", GREEN),
)  # fmt: skip
MARKED: dict[str, Any] = {
    "linestyle": "", "markerfacecolor": "white", "markeredgecolor": INK, "zorder": 4.0, "clip_on": False,
}  # fmt: skip
BASE_LOOK, BEST_LOOK = MARKED | {"marker": "D", "markersize": 6.5}, MARKED | {"marker": "*", "markersize": 13.0}


@picture
def sweep(
    dataset: "xarray.Dataset",
    variable: str,
    ax: "Axes | None" = None,
    *,
    x: str | None = None,
    colour: str | None = None,
    units: str = "si",
) -> "Axes":
    """Draw a result of a sweep: a curve over one field, a map over two, points for paired or sampled designs.

    Parameters
    ----------
    dataset : of `burnsim.sweep`; on a grid with at most two fields longer than one value (pick of the others with
        `burnsim.sweeps.select`)
    variable : name of a result, such as "boil"
    ax : axes to draw on; default none: new ones
    x : field (for points, field or numeric result) that lies along; default none: the last of a map, else the first
    colour : for points, a field or numeric result that colours them. On a grid of two fields, the one of which each
        value gets a curve in place of a map. Default none.
    units : "si" or "us"

    Raises
    ------
    InputError
        For a variable that is not there or no number, a field that does not vary, or a grid of more than two fields.
    """
    _check(dataset, variable)
    dataset = _with_rows(dataset, variable)
    if "design" in dataset.sizes:
        return _points(dataset, variable, ax, x, colour, units)
    dims = [str(dim) for dim in dataset[variable].dims]
    long = [dim for dim in dims if dataset.sizes[dim] > 1]
    if colour is None and len(long) > 1:
        return sweep_map(dataset, variable, ax, x=x, units=units)
    if colour is not None and colour not in dims:
        raise InputError("colour", colour, "does not vary in the dataset; allowed: " + ", ".join(dims), "choose one")
    along = x or next(
        (dim for dim in long if dim != colour), next(dim for dim in dims if dim != colour or len(dims) == 1)
    )
    if colour == along:
        others = ", ".join(dim for dim in dims if dim != along) or "no field here"
        raise InputError("colour", colour, f"lies along the picture already; allowed: {others}", "leave it out")
    return _curves(dataset, variable, along, colour, ax, units)


@picture
def sweep_panels(
    dataset: "xarray.Dataset", variable: str, figure: "Figure | None" = None, *, units: str = "si"
) -> "list[Axes]":
    """Fill a figure with as many maps as it takes: two fields a map, a map for each combination of the others.

    All maps have the same colour scale.

    Parameters
    ----------
    dataset : of `burnsim.sweep`
    variable : name of a result, such as "boil"
    figure : an empty figure; default none: a new one. Its size is set.
    units : "si" or "us"

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
    figure.set_size_inches(1.6 + 4.4 * columns, 4.4 * rows)
    panels: list[Axes] = [figure.add_subplot(rows, columns, k + 1) for k in range(count)]
    if not rest:
        sweep(dataset, variable, panels[0], units=units)
        return panels
    span = _span(np.where(ok(dataset).values, dataset[variable].transpose(*ok(dataset).dims).values, np.nan))
    shades = None
    for k, ax in enumerate(panels):
        part = dataset.isel(dict(zip(rest, (int(i) for i in np.unravel_index(k, shape)), strict=True)))
        shades = _map(part, variable, ax, None, None, None, units, span) or shades
        entitle(ax, "", ", ".join(_value(part, dim, units) for dim in rest) + _worded(part, variable, units, "; "))
    if shades is not None:
        add_bar(figure, shades, panels, readable(dataset[variable].values, variable, dataset[variable].attrs, units)[1])
    return panels


def _check(dataset: "xarray.Dataset", variable: str, kinds: str = "fi") -> None:
    if variable not in dataset.data_vars or dataset[variable].dtype.kind not in kinds:
        others = [str(name) for name in dataset.data_vars if name != variable]
        problem = "is a text, not a numeric result" if variable in dataset else "is not a numeric result"
        raise InputError("variable", variable, problem, guess(variable, others, "choose 'boil', say"))


def _with_rows(dataset: "xarray.Dataset", variable: str) -> "xarray.Dataset":
    """The dataset; one that was sliced down to a single design, as a list of one."""
    if dataset[variable].dims:
        return dataset
    coords = {name: ("design", [one.values[()]], one.attrs) for name, one in dataset.coords.items()}
    return dataset.drop_vars(list(dataset.coords)).expand_dims("design").assign_coords(coords)


def _span(values: NDArray[Any]) -> tuple[float, float] | None:
    """Lowest and highest of some numbers; None if they do not differ."""
    known = values[np.isfinite(values)]
    return (float(known.min()), float(known.max())) if len(known) and known.min() < known.max() else None


def _value(part: "xarray.Dataset", dim: str, units: str) -> str:
    """A value that a panel stands for."""
    value = part[dim].item()
    return f"{field_name(dim)} {value_text(dim, value, units)}" if part[dim].dtype.kind in "fi" else str(value)


def _worded(dataset: "xarray.Dataset", variable: str, units: str, before: str = "") -> str:
    """The best design and what it reaches, in half a sentence; nothing where no side is the better one."""
    try:
        rows = best_rows(dataset, variable, 1)
    except InputError:
        return ""
    if not rows:
        return before + "no design works"
    value, design = float(dataset[variable].values.flat[rows[0]]), design_at(dataset, rows[0])
    attrs = dataset[variable].attrs
    if attrs.get("units") == "s":
        reached = format_time(value)
    else:
        [number], label = readable(np.array([value]), variable, attrs, units)
        reached = f"{number:.3g}\u00a0{label.rpartition('[')[2].rstrip(']')}" if "[" in label else f"{number:.3g}"
    fields = ", ".join(
        f"{field_name(path)} {value_text(path, part, units)}" for path, part in design.items() if dataset[path].size > 1
    )
    edge = ", at the edge of what was tried" if at_edge(dataset, rows[0]) else ""
    warned = warned_of(dataset, rows[0])
    said = f" with {fields}{edge}" if fields else ""
    return f"{before}best {reached}{said}" + (f"; warned of: {warned}" if warned else "")


def _name(dataset: "xarray.Dataset") -> str:
    return str(json.loads(dataset.attrs.get("base", "{}")).get("name") or "")


def _side(dataset: "xarray.Dataset", name: str, units: str) -> Side:
    found = dataset[name]
    if found.dtype.kind in "fiu":
        places, label = readable(found.values, name, found.attrs, units)
        return Side(places, None, label, found.dtype.kind in "iu")
    words = [str(value) for value in found.values]
    return Side(np.arange(len(words), dtype=np.float64), words, str(found.attrs.get("long_name") or name), False)


def _tick(ax: "Axes", side: Side, which: str) -> None:
    """Ticks at the values of a side, where they are few or words; whole ones where it counts."""
    from matplotlib.ticker import MaxNLocator

    axis = ax.xaxis if which == "x" else ax.yaxis
    if side.words is not None:
        axis.set_ticks(side.places, [word if len(word) <= 18 else word[:17] + "…" for word in side.words])
    elif len(side.places) <= MOST_TICKS:
        words = [f"{round(place, 9):.3g}" for place in side.places]
        axis.set_ticks(side.places, words if which == "y" else thinned(ax, side.edges, side.places, words))
    elif side.whole:
        axis.set_major_locator(MaxNLocator(integer=True))
    axis.set_label_text(side.label)


def _curves(
    dataset: "xarray.Dataset", variable: str, along: str, colour: str | None, ax: "Axes | None", units: str
) -> "Axes":
    """A curve over one field, or one for each value of another."""
    ax = new_axes(ax, 6.4, 4.2)
    rest = [str(dim) for dim in dataset[variable].dims if dim not in (along, colour)]
    long = [dim for dim in rest if dataset.sizes[dim] > 1]
    if long or along not in dataset[variable].dims:
        raise InputError(
            "dataset", ", ".join(long) or along, "does not go with curves", "pick values with sweeps.select"
        )
    flat = dataset.isel(dict.fromkeys(rest, 0))
    parts = [flat] if colour is None else [flat.isel({colour: k}) for k in range(flat.sizes[colour])]
    if len(parts) > MOST_CURVES:
        raise InputError(
            "colour", colour, f"has {len(parts)} values; allowed up to {MOST_CURVES} curves", "select some"
        )
    side = _side(flat, along, units)
    attrs = flat[variable].attrs
    numbers, label = readable(np.stack([part[variable].values for part in parts]), variable, attrs, units)
    good = np.stack([ok(part).values for part in parts])
    ends = []
    for part, values, (style, marker, ink) in zip(parts, numbers, LOOKS, strict=False):
        if side.words is None:
            ax.plot(side.places, values, color=ink if colour else PALE, linestyle=style, linewidth=1.0, label="_curve")
        known = np.flatnonzero(np.isfinite(values))
        if colour is not None and len(known):
            works = ok(part).values & np.isfinite(values)
            ax.plot(side.places[works], values[works], marker, color=ink, markersize=5.0, label="_works")
            ends.append((float(values[known[-1]]), _value(part, colour, units), ink))
    _mark(ax, np.tile(side.places, len(parts)), numbers.ravel(), good.ravel(), unfit_only=colour is not None)
    _tick(ax, side, "x")
    ax.set_ylabel(label)
    ax.margins(y=0.1)
    label_ends(ax, ends)
    entitle(ax, _name(dataset), _worded(flat, variable, units))
    return ax


def _points(
    dataset: "xarray.Dataset", variable: str, ax: "Axes | None", x: str | None, colour: str | None, units: str
) -> "Axes":
    """Designs one by one, over a field or a result."""
    ax = new_axes(ax, 6.4, 4.2)
    names = [str(name) for name in dataset.coords if name != "design"]
    numbers = [*names, *(str(name) for name in dataset.data_vars if dataset[name].dtype.kind in "fi")]
    for option, name in (("x", x), ("colour", colour)):
        if name is not None and name not in numbers:
            remedy = guess(name, numbers, "choose one of " + ", ".join(names))
            raise InputError(option, name, "is neither a field nor a numeric result of this sweep", remedy)
    first = x or next((name for name in names if dataset[name].dtype.kind in "fi"), "design")
    values, label = readable(dataset[variable].values, variable, dataset[variable].attrs, units)
    side = _words_once(dataset, first, units)
    good = ok(dataset).values
    if colour is None:
        _mark(ax, side.places, values, good)
    else:
        shade = _words_once(dataset, colour, units)
        shown = good & np.isfinite(values)
        drawn = ax.scatter(side.places[shown], values[shown], c=shade.places[shown], cmap="cividis", edgecolors=INK,
                           linewidths=0.5, label="_works", zorder=3.0)  # fmt: skip
        bar = add_bar(ax.figure, drawn, ax, shade.label)
        if shade.words is not None:
            bar.set_ticks(sorted(set(shade.places)), labels=list(dict.fromkeys(shade.words)))
        _mark(ax, side.places, values, good, unfit_only=True)
    if side.whole:
        from matplotlib.ticker import MaxNLocator

        ax.xaxis.set_major_locator(MaxNLocator(integer=True))
    if side.words is not None:
        once = dict(zip(side.places.tolist(), side.words, strict=True))
        ax.set_xticks(list(once), list(once.values()))
    ax.set_xlabel(side.label)
    ax.set_ylabel(label)
    entitle(ax, _name(dataset), _worded(dataset, variable, units))
    return ax


def _words_once(dataset: "xarray.Dataset", name: str, units: str) -> Side:
    """A side on which equal words stand at one place."""
    side = _side(dataset, name, units)
    if side.words is None:
        return side._replace(whole=side.whole and name in dataset.coords)
    order = {word: float(k) for k, word in enumerate(dict.fromkeys(side.words))}
    return side._replace(places=np.array([order[word] for word in side.words]))


def _mark(
    ax: "Axes", places: NDArray[Any], values: NDArray[Any], good: NDArray[np.bool_], *, unfit_only: bool = False
) -> None:
    """Dots where a design works, crosses where it does not, ticks at the foot where there is no value."""
    known = np.isfinite(values)
    foot = np.full(values.shape, 0.02)
    looks: tuple[tuple[NDArray[np.bool_], NDArray[Any], str, str, str], ...] = (
        (known & good, values, "o", INK, "works"),
        (known & ~good, values, "x", VERMILION, UNFIT_LABEL),
        (~known, foot, "|", VERMILION, NO_FIGURE),
    )
    for which, heights, marker, colour, label in looks[1:2] if unfit_only else looks:
        if which.any():
            ground = ax.get_xaxis_transform() if heights is foot else ax.transData
            ax.plot(places[which], heights[which], marker, color=colour, markersize=5.0, transform=ground, label=label)
    if set(ax.get_legend_handles_labels()[1]) - {"works"}:
        legend_below(ax, 3)


@picture
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
    """Draw a result of a sweep over two of its fields: a cell for each design that was burnt, and nothing between.

    Cells of designs that do not work are hatched by the reason. Lines of equal values, at the steps of the colours, run
    only among neighbours that all work, where both fields are numbers. A star marks the best design, a diamond the one
    that was varied, if its own values lie on the map.

    Parameters
    ----------
    dataset : of `burnsim.sweep` with "grid", two fields long (pick values of any others with `burnsim.sweeps.select`)
    variable : name of a result, such as "boil"
    ax : axes to draw on; default none: new ones
    x, y : which field lies along, which up; default: the second along, the first up
    infeasible : codes of verdicts and statuses to hatch; default: those that mean that the design does not work
    units : "si" or "us"
    span : lowest and highest value of the colour scale [SI]; give the same to maps that are to be compared. Values
        beyond have the colour of the end. Default none: those of this map.

    Raises
    ------
    InputError
        For a variable that is not there, a dataset that is not a map, an unknown code, or a span that does not rise.
    """
    shown = new_axes(ax, 6.4, 4.8)
    shades = _map(dataset, variable, shown, x, y, infeasible, units, span)
    if shades is not None:
        values = np.concatenate([dataset[variable].values.ravel(), _ends(span)])
        label = readable(values, variable, dataset[variable].attrs, units)[1]
        add_bar(shown.figure, shades, shown, label)
    entitle(shown, _name(dataset), _worded(dataset, variable, units))
    return shown


def _map(
    dataset: "xarray.Dataset",
    variable: str,
    ax: "Axes",
    x: str | None,
    y: str | None,
    infeasible: tuple[str, ...] | None,
    units: str,
    span: tuple[float, float] | None,
) -> "ScalarMappable | None":
    """Draw a map without its bar of colours and its title; returns what a bar needs."""
    codes = tuple(BAD) if infeasible is None else tuple(infeasible)
    check_codes(codes)
    along, up = _fields(dataset, variable, x, y)
    dataset = dataset.isel({dim: 0 for dim in dataset[variable].dims if dim not in (along, up)})
    across, high = _side(dataset, along, units), _side(dataset, up, units)
    grid, ends = dataset[variable].transpose(up, along), _ends(span)
    numbers, _ = readable(np.concatenate([grid.values.ravel(), ends]), variable, grid.attrs, units)
    values, ends = numbers[: grid.size].reshape(grid.shape), numbers[grid.size :]
    bad = list(reasons(dataset, up, along, codes))
    covered = np.any([np.zeros(values.shape, dtype=np.bool_), *(mask for _, _, mask in bad)], axis=0)
    shades = _shade(ax, across, high, np.ma.masked_invalid(np.where(covered, np.nan, values)), ends)
    gone = ~np.isfinite(values) & ~covered
    hatches = [*bad, (*MISSING, gone)] if gone.any() else bad
    keys: list[Any] = [hatched(ax, across, high, mask, words, hatch) for words, hatch, mask in hatches]
    for side, draw in ((across, ax.axvline), (high, ax.axhline)):
        for between in side.edges[1:-1] if side.words is not None else ():
            draw(between, color="white", linewidth=4.0, label="_between", zorder=2.2)
    ax.set_xlim(across.edges[0], across.edges[-1])
    ax.set_ylim(high.edges[0], high.edges[-1])
    _tick(ax, across, "x")
    _tick(ax, high, "y")
    keys += _marks(ax, dataset, variable, {along: across, up: high}, units)
    if keys:
        legend_below(ax, 3, keys)
    return shades


def _shade(ax: "Axes", across: Side, high: Side, shown: Any, ends: NDArray[np.float64]) -> "ScalarMappable | None":
    """Shade the cells that are not masked, between two ends of the scale if there are any, with lines of equal values.

    The lines run where both sides are numbers. None if all cells are masked.
    """
    from matplotlib.colors import BoundaryNorm
    from matplotlib.patheffects import withStroke
    from matplotlib.ticker import MaxNLocator

    if not shown.count():
        return None
    least, most = float(shown.min()), float(shown.max())
    room = 0.0 if most > least else max(0.01 * abs(least), 1e-9)  # if all are equal
    steps = np.asarray(MaxNLocator(STEPS).tick_values(*(ends if len(ends) else (least - room, most + room))))
    beyond = {(False, False): "neither", (True, False): "min", (False, True): "max", (True, True): "both"}
    extend: Any = beyond[bool(least < steps[0]), bool(most > steps[-1])]
    shades = ax.pcolormesh(
        across.edges, high.edges, shown, cmap="cividis", norm=BoundaryNorm(steps, 256, extend=extend),
        edgecolors="white", linewidth=0.6,
    )  # fmt: skip
    if across.words is None and high.words is None and min(shown.shape) > 2:
        inner = steps[(steps > least) & (steps < most)]
        lines = ax.contour(
            across.places, high.places, shown, levels=inner, colors=INK, linewidths=0.9, corner_mask=False
        )
        halo: list[Any] = [withStroke(linewidth=2.4, foreground="white")]
        lines.set_path_effects(halo)
        for number in label_contours(ax, lines, 4):
            number.set_path_effects(halo)
    return shades


def _marks(ax: "Axes", dataset: "xarray.Dataset", variable: str, sides: dict[str, Side], units: str) -> list[Any]:
    """Mark the base and the best design on a map, whose sides are by field; returns what a legend needs."""
    found: list[Any] = []
    same = all(_is_base(dataset, str(name)) for name, one in dataset.coords.items() if not one.dims)
    places = [_base_place(dataset, path, side, units) for path, side in sides.items()]
    inside = [
        [at] for at, side in zip(places, sides.values(), strict=True)
        if at is not None and side.edges[0] <= at <= side.edges[-1]
    ]  # fmt: skip
    if same and len(inside) == 2:
        found += ax.plot(*inside, label="base design", **BASE_LOOK)
    with suppress(InputError):
        for row in best_rows(dataset, variable, 1):
            design = design_at(dataset, row)
            spot = [[side.places[np.argmax(dataset[path].values == design[path])]] for path, side in sides.items()]
            found += ax.plot(*spot, label="best", **BEST_LOOK)
    return found


def _base_value(dataset: "xarray.Dataset", path: str) -> object:
    """What the base design has at a path [SI]; None where it has nothing, or cannot be read any more."""
    from burnsim.model.description.setup import Setup

    try:
        part = value_at(Setup.from_dict(json.loads(dataset.attrs["base"])), path)
        numeric = isinstance(part, int | float) and not isinstance(part, bool)
        return part if numeric or part is None else label_of(part, spec_at(path), path)
    except (KeyError, AttributeError, InputError):
        return None


def _is_base(dataset: "xarray.Dataset", name: str) -> bool:
    """Whether a field that was fixed has the base's own value."""
    value, own = dataset[name].item(), _base_value(dataset, name)
    if isinstance(own, float | int) and isinstance(value, float | int):
        return bool(np.isclose(value, own, rtol=1e-9, atol=0.0))
    return name == "design" or value == own


def _base_place(dataset: "xarray.Dataset", path: str, side: Side, units: str) -> float | None:
    value = _base_value(dataset, path)
    if value is None:
        return None
    if side.words is not None:
        return float(side.words.index(str(value))) if str(value) in side.words else None
    return float(readable(np.array([value]), path, dataset[path].attrs, units)[0][0])


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
    _check(dataset, variable, "fiub")
    dims = [str(name) for name in dataset[variable].dims if dataset.sizes[name] > 1]
    if len(dims) < 2:  # a row of cells, or one
        every = [str(name) for name in dataset[variable].dims if name != "design"]
        chosen = sorted(every, key=lambda name: name not in dims)[:2]
        dims = [name for name in every if name in chosen]
    if len(dims) != 2:
        raise InputError(
            "dataset", ", ".join(dims) or "nothing", "varies, and a map needs two fields that vary",
            "pick values of the others with burnsim.sweeps.select, or draw plots.sweep_panels",
        )  # fmt: skip
    up = y or next(name for name in dims if name != x)
    along = x or next(name for name in reversed(dims) if name != up)
    for name in (along, up):
        if name not in dims:
            raise InputError("x or y", name, "does not vary in the dataset; allowed: " + ", ".join(dims), "choose one")
    return along, up
