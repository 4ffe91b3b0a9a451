"""Bands: a curve with its uncertainty."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import ArrayLike

from burnsim.errors import InputError
from burnsim.plots.style import INK, MEASURED, PALE, new_axes, picture

if TYPE_CHECKING:
    from matplotlib.axes import Axes

LEVELS = (0.05, 0.25, 0.5, 0.75, 0.95)


@picture
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
    time : instants [s], shape (n,)
    quantiles : values in the unit of `label`, shape (number of levels, n); NaN where there is none.
    ax : axes to draw on [minutes]; default none: new ones
    levels : of the quantiles, rising, the same number on either side of the middle one
    label : of the axis, with its unit
    measured : times [s] and values to draw as points, default none

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
        ax.plot(when / 60.0, what, label="measured", **MEASURED)
    ax.set_xlabel("time [min]")
    ax.set_ylabel(label)
    ax.set_xlim(left=0.0)
    ax.legend(loc="lower right")
    return ax
