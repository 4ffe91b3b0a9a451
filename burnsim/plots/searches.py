"""The picture of a design search: what can be had of two figures, and which designs lie on the edge."""

from typing import TYPE_CHECKING

from burnsim.plots.scales import DIFFERENCES
from burnsim.plots.style import new_axes
from burnsim.report.fields import field_text
from burnsim.studies.predict.prediction import UNITS
from burnsim.units import measure
from burnsim.units.table import DIMENSION_OF, Measure

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from burnsim.studies.search.run import Search
    from burnsim.studies.search.trial import Candidate

PERCENT = Measure("%", 0.01)
NAMED = 3
TITLES = {
    "bloom": "time to bloom",
    "boil": "time to boil",
    "burnout": "time to burn-out",
    "boil_fuel": "fuel burnt by the boil",
}


def search(found: "Search", ax: "Axes | None" = None, *, units: str = "si") -> "Axes":
    """Draw the designs of the front, and among them the best by the objective.

    Parameters
    ----------
    found : of `search`
    ax : axes to draw on; default none: new ones
    units : "si" or "us"

    Returns
    -------
    Axes
    """
    ax = new_axes(ax)
    scales = [_scale(name, units) for name in found.trade_off]

    def place(one: "Candidate") -> tuple[float, float]:
        x, y = (scale.of(one.figures[name]) for name, scale in zip(found.trade_off, scales, strict=True))
        return x, y

    if found.front:
        xs, ys = zip(*(place(one) for one in found.front), strict=True)
        ax.step(xs, ys, where="post", color="0.6", linewidth=1.0)
        ax.plot(xs, ys, "o", color="0.1", markersize=4, fillstyle="none", label="none is better in both")
        ends = (
            found.front if len(found.front) <= NAMED else [found.front[0], found.front[len(xs) // 2], found.front[-1]]
        )
        for one in ends:
            text = ", ".join(
                f"{path.split('.')[-1]} {field_text(path, value, units)}" for path, value in one.changes.items()
            )
            x, y = place(one)
            right = x > 0.5 * (min(xs) + max(xs))
            ax.annotate(
                text.replace(", ", "\n"), (x, y), textcoords="offset points", xytext=(-8, -8) if right else (8, 8),
                ha="right" if right else "left", va="top" if right else "bottom", fontsize="x-small",
            )  # fmt: skip
    if found.best:
        x, y = place(found.best[0])
        ax.plot([x], [y], "*", color="0.1", markersize=13, label=f"best by {_title(found.objective)}")
    for axis, name, scale in zip((ax.xaxis, ax.yaxis), found.trade_off, scales, strict=True):
        axis.set_label_text(f"{_title(name)} [{scale.unit}]")
    ax.margins(0.12, 0.25)
    ax.set_title(f"{found.base.name or 'burner'}: {found.feasible} of {found.evaluations} designs keep every limit")
    if found.front or found.best:
        ax.legend(frameon=False, fontsize="small")
    return ax


def _scale(name: str, units: str) -> Measure:
    """The unit in which a figure is read; a difference of temperatures stays in kelvin."""
    si = UNITS[name]
    if si == "s":
        return measure("time", units)
    if si == "1":
        return PERCENT
    if si not in DIMENSION_OF or (si == "K" and any(word in name for word in DIFFERENCES)):
        return Measure(si, 1.0)
    return measure(DIMENSION_OF[si], units)


def _title(name: str) -> str:
    return TITLES.get(name, name.replace("_", " "))
