"""The picture of a design search: what can be had of two figures, and which designs lie on the edge."""

from typing import TYPE_CHECKING, Any

import numpy as np

from burnsim.plots.labels import entitle, extent, legend_below, letter
from burnsim.plots.scales import field_name, figure_name, unit_of, value_text
from burnsim.plots.style import INK, PALE, new_axes, picture
from burnsim.report.designs.search import limit_text, poured
from burnsim.studies.predict.prediction import FIGURES
from burnsim.units.writing import with_unit

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from burnsim.studies.search.run import Search
    from burnsim.studies.search.trial import Candidate

NAMED = 3
SIGNS: tuple[dict[str, Any], ...] = tuple(
    {"marker": marker, "markersize": size, "markerfacecolor": face}
    for marker, size, face in (("*", 12.0, "white"), ("s", 6.0, INK), ("D", 6.0, "white"), ("^", 7.0, INK))
)


@picture
def search(found: "Search", ax: "Axes | None" = None, *, units: str = "si") -> "Axes":
    """Draw the designs of the front, and among them the best by the objective; if there are none, the nearest.

    Parameters
    ----------
    found : of `burnsim.search`
    ax : axes to draw on; default none: new ones
    units : "si" or "us"
    """
    from matplotlib.transforms import ScaledTranslation

    ax = new_axes(ax, 7.4, 4.8)
    volume = poured(found)

    scales = [unit_of(FIGURES[name], units, volume) for name in found.trade_off]

    def place(one: "Candidate") -> tuple[float, float]:
        x, y = (scale.of(one.figures[name]) for name, scale in zip(found.trade_off, scales, strict=True))
        return x, y

    if found.front:
        xs, ys = zip(*(place(one) for one in found.front), strict=True)
        ax.step(xs, ys, where="post", color=PALE, linewidth=1.0)
        ax.plot(xs, ys, "o", color=INK, markersize=4, fillstyle="none", label="none is better in both")
    named = _named(found, units)
    lines = max((len(one.changes) for one, _ in named), default=1)
    step = max((1.3 * lines + 0.9) * letter("small") / extent(ax)[1], 0.05)  # from one description to the next
    shift = ScaledTranslation(12.0 / 72.0, -0.5 * letter("small") / 72.0, ax.figure.dpi_scale_trans)
    for number, (one, sign) in enumerate(named):
        text = "\n".join(f"{field_name(path)} {value_text(path, value, units)}" for path, value in one.changes.items())
        ax.plot(*[[at] for at in place(one)], **sign)
        ax.annotate(
            text, (1.0, 1.0 - number * step), xycoords="axes fraction", xytext=(22, 0),
            textcoords="offset points", va="top", fontsize="small", annotation_clip=False,
        )  # fmt: skip
        key = sign | {"label": "_key", "clip_on": False, "transform": ax.transAxes + shift}
        ax.plot([1.0], [1.0 - number * step], **key)
    if not named:
        told = "no design keeps every limit,\nand the one that comes nearest has not both figures"
        ax.text(0.5, 0.5, told, transform=ax.transAxes, ha="center")
        ax.set_xticks([])
        ax.set_yticks([])
    for axis, name, scale in zip((ax.xaxis, ax.yaxis), found.trade_off, scales, strict=True):
        axis.set_label_text(f"{figure_name(name)} [{scale.unit}]")
    ax.margins(0.08, 0.12)
    keep = "keeps" if found.feasible == 1 else "keep"
    kept = f"{found.feasible} of {found.drawn or found.designs} designs {keep} every limit"
    if found.best:
        scale = unit_of(FIGURES[found.objective], units, volume)
        reached = with_unit(f"{scale.of(found.best[0].figures[found.objective]):.3g}", scale.unit)
        kept = f"{figure_name(found.objective)} {reached} at best; {kept}"
    entitle(ax, found.base.name or "burner", kept)
    legend_below(ax, 4)
    return ax


def _named(found: "Search", units: str) -> "list[tuple[Candidate, dict[str, Any]]]":
    """The designs that are named, each with its sign: the best, both ends of the front and its middle.

    If none keeps all limits, the one that comes nearest.
    """
    front, best = found.front, found.best[:1]
    ends = [front[0], front[len(front) // 2], front[-1]] if len(front) > NAMED else list(front)
    chosen = [(one, f"best by {figure_name(found.objective)}") for one in best]
    chosen += [(one, "_named") for one in ends if one not in best]
    near = found.nearest
    if not chosen and near is not None and all(np.isfinite(near.figures.get(name, np.nan)) for name in found.trade_off):
        limits = zip(found.limits, near.violations, strict=True)
        broken = ", ".join(limit_text(limit, units) for limit, mark in limits if mark > 0.0)
        chosen = [(near, f"nearest, breaks: {broken}")]
    return [
        (one, SIGNS[k] | {"label": label, "linestyle": "", "markeredgecolor": INK, "zorder": 4})
        for k, (one, label) in enumerate(chosen)
    ]
