"""Bands: a curve with its uncertainty, and milestones with theirs."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import ArrayLike, NDArray

from burnsim.errors import InputError
from burnsim.plots.labels import legend_below
from burnsim.plots.style import BLUE, INK, PALE, VERMILION, in_style, new_axes

if TYPE_CHECKING:
    from matplotlib.axes import Axes

LEVELS = (0.05, 0.25, 0.5, 0.75, 0.95)


@in_style()
def bands(
    time: ArrayLike,
    quantiles: ArrayLike,
    ax: "Axes | None" = None,
    *,
    levels: Sequence[float] = LEVELS,
    label: str = "water [°C]",
    measured: tuple[ArrayLike, ArrayLike] | None = None,
) -> "Axes":
    """Draw quantiles of a curve over time as nested bands about their middle.

    Parameters
    ----------
    time
        Instants [s], shape (n,).
    quantiles
        Values in the unit of `label`, shape (number of levels, n); NaN where there is none.
    ax
        Axes to draw on [minutes]; default none: new ones.
    levels
        Of the quantiles, rising, the same number on either side of the middle one.
    label
        Of the axis, with its unit.
    measured
        Times [s] and values to draw as points, default none.

    Returns
    -------
    Axes

    Raises
    ------
    InputError
        If the shapes do not go together.
    """
    minutes, bands = np.asarray(time, dtype=np.float64) / 60.0, np.asarray(quantiles, dtype=np.float64)
    if bands.shape != (len(levels), len(minutes)) or len(levels) % 2 == 0 or list(levels) != sorted(levels):
        raise InputError(
            "quantiles", bands.shape, f"does not go with {len(levels)} levels and {len(minutes)} times",
            "give one row a level, the levels rising and odd in number",
        )  # fmt: skip
    ax = new_axes(ax)
    half = len(levels) // 2
    for k in range(half):
        share = 100.0 * (levels[-1 - k] - levels[k])
        inner = k == half - 1 and half > 1
        ax.fill_between(
            minutes, bands[k], bands[-1 - k], facecolor="0.72" if inner else "0.9", edgecolor=PALE, linewidth=0.5,
            hatch=None if inner else "...", label=f"central {share:.0f}\u00a0%",
        )  # fmt: skip
    ax.plot(minutes, bands[half], color=INK, linewidth=1.6, label="median")
    if measured is not None:
        when, what = (np.asarray(one, dtype=np.float64) for one in measured)
        ax.plot(when / 60.0, what, linestyle="", marker="o", markersize=4.0, markerfacecolor="white",
                markeredgecolor=VERMILION, label="measured")  # fmt: skip
    ax.set_xlabel("time [min]")
    ax.set_ylabel(label)
    ax.set_xlim(left=0.0)
    ax.legend(loc="lower right")
    return ax


@in_style()
def intervals(
    names: Sequence[str],
    low: ArrayLike,
    middle: ArrayLike,
    high: ArrayLike,
    ax: "Axes | None" = None,
    *,
    label: str = "time [min]",
    share: float = 0.9,
) -> "Axes":
    """Draw figures with their bands, one a line.

    Parameters
    ----------
    names
        What each is.
    low, middle, high
        Ends of the bands and values within, in the unit of `label`, shape (number of names,).
    ax
        Axes to draw on; default none: new ones.
    label
        Of the axis, with its unit.
    share
        That the bands hold [-].

    Returns
    -------
    Axes
    """
    ends = np.array([np.asarray(one, dtype=np.float64) for one in (low, middle, high)])
    ax = new_axes(ax, 7.0, 0.8 + 0.45 * len(names))
    places = np.arange(len(names), dtype=np.float64)
    ax.hlines(places, ends[0], ends[2], color="0.7", linewidth=7.0, label=f"{100.0 * share:.0f}\u00a0% of cases")
    ax.vlines(np.concatenate((ends[0], ends[2])), np.tile(places - 0.2, 2), np.tile(places + 0.2, 2), color=INK,
              linewidth=0.8)  # fmt: skip
    ax.plot(ends[1], places, linestyle="", marker="D", color=INK, markersize=5.0, label="median")
    for place, (a, m, b) in zip(places, ends.T, strict=True):
        ax.annotate(f"{m:.3g}  ({a:.3g} to {b:.3g})", (b, place), xytext=(6, 0), textcoords="offset points",
                    va="center", fontsize="small")  # fmt: skip
    ax.set_yticks(places, names)
    ax.set_ylim(len(names) - 0.4, -0.6)
    ax.set_xlim(right=float(np.nanmax(ends)) * 1.35)
    ax.set_xlabel(label)
    return ax


@in_style()
def residuals(
    names: Sequence[str],
    before: ArrayLike,
    after: ArrayLike | None = None,
    sigma: ArrayLike | None = None,
    ax: "Axes | None" = None,
    *,
    within: float = 0.1,
) -> "Axes":
    """Draw how far predictions lie from what was measured.

    Parameters
    ----------
    names
        What was measured, in which burn.
    before, after
        Predicted over measured, less one [-], before and after a calibration; NaN where there is none. Default: no
        calibration.
    sigma
        Standard deviation of each measurement as a share of it [-], default none.
    ax
        Axes to draw on [%]; default none: new ones.
    within
        A band to shade about nought [-].

    Returns
    -------
    Axes
    """
    ax = new_axes(ax, 7.0, 1.2 + 0.35 * len(names))
    places = np.arange(len(names), dtype=np.float64)
    ax.axvspan(-100.0 * within, 100.0 * within, facecolor="0.93", hatch="...", edgecolor="0.8",
               label=f"within {100.0 * within:.0f}\u00a0%")  # fmt: skip
    ax.axvline(0.0, color=PALE, linewidth=0.8)
    spread: NDArray[np.float64] | None = None if sigma is None else 100.0 * np.asarray(sigma, dtype=np.float64)
    first = 100.0 * np.asarray(before, dtype=np.float64)
    shift = 0.0 if after is None else 0.14
    ax.errorbar(first, places - shift, xerr=spread, linestyle="", marker="o", markerfacecolor="white", color=VERMILION,
                capsize=2.0, label="predicted" if after is None else "before calibration")  # fmt: skip
    if after is not None:
        second = 100.0 * np.asarray(after, dtype=np.float64)
        ax.errorbar(second, places + shift, xerr=spread, linestyle="", marker="s", color=BLUE, capsize=2.0,
                    label="after calibration")  # fmt: skip
    ax.set_yticks(places, names, fontsize="small")
    ax.set_ylim(len(names) - 0.4, -0.6)
    ax.set_xlabel("predicted above measured [%]")
    legend_below(ax, ax.get_legend_handles_labels()[0], 3)
    return ax
