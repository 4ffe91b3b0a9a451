"""Pictures of bench logs, of a calibration, and of a prediction with its bands."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from burnsim.plots.quantiles import bands
from burnsim.plots.style import PALE, new_axes, new_pair
from burnsim.studies.calibrate.sizes import NORMAL_90
from burnsim.units import measure

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.typing import LineStyleType

    from burnsim.studies.bench.analysis import BenchResult
    from burnsim.studies.bench.log import BenchLog
    from burnsim.studies.calibrate.fit import Calibration
    from burnsim.studies.predict.prediction import Of, Prediction

MARKERS = "os^Dv<>p"
LINES = ("-", "--", "-.", ":", (0, (8, 2)), (0, (3, 1, 1, 1, 1, 1)))
TWO_SIDED_90 = 1.645


def bench(
    results: "BenchResult | Sequence[BenchResult]", ax: Sequence["Axes"] | None = None, *, units: str = "si"
) -> tuple["Axes", "Axes"]:
    """Draw readings into one pair of axes, and power with its 90 % band into another.

    Parameters
    ----------
    results : of `analyse`, one or several
    ax : two axes, one for the temperature and one for the power; default none: new ones
    units : "si" or "us"

    Returns
    -------
    tuple of Axes
        The two.
    """
    degrees = measure("temperature", units)
    upper, lower = new_pair(ax, 7.0, 6.0, sharex=True)
    results = results if isinstance(results, Sequence) else [results]
    for k, result in enumerate(results):
        shade = str(0.6 * k / max(len(results), 2))
        time, reading = result.log.water()
        upper.plot(
            time / 60.0,
            degrees.of(reading),
            MARKERS[k % len(MARKERS)],
            color=shade,
            markersize=4,
            fillstyle="none",
            label=result.log.name,
        )
        for mark in ("bloom", "boil", "burnout"):
            when = getattr(result.log, mark).time
            if when is not None:
                upper.axvline(when / 60.0, color=shade, linewidth=0.8, linestyle=(0, (1, 2)))
                if k == 0:
                    upper.annotate(
                        mark.replace("burnout", "burn-out"),
                        (when / 60.0, 0.03),
                        xycoords=("data", "axes fraction"),
                        rotation=90,
                        ha="right",
                        va="bottom",
                        fontsize="small",
                        bbox={"boxstyle": "square,pad=0.1", "facecolor": "white", "edgecolor": "none"},
                    )
        if result.power is not None:
            curve = result.power
            style = LINES[k % len(LINES)]
            lower.plot(curve.time / 60.0, curve.slope, color=shade, linestyle=style, label=result.log.name)
            lower.fill_between(
                curve.time / 60.0,
                curve.slope - TWO_SIDED_90 * curve.slope_error,
                curve.slope + TWO_SIDED_90 * curve.slope_error,
                color=shade,
                alpha=0.2,
                linewidth=0,
            )
    if results:
        upper.axhline(degrees.of(results[0].boiling_point), color="0.5", linewidth=0.8)
        tops = [float(np.max(result.power.slope)) for result in results if result.power is not None]
        if tops:
            lower.set_ylim(0.0, 1.4 * max(tops))
            lower.legend(frameon=False, fontsize="small", loc="lower right")
    upper.set_ylabel(f"water [{degrees.unit}]")
    upper.legend(frameon=False, fontsize="small")
    lower.set_ylabel("power into the water [W]")
    lower.set_xlabel("time from the match [min]")
    return upper, lower


def calibration(
    found: "Calibration", ax: Sequence["Axes"] | None = None, *, units: str = "si"
) -> tuple["Axes", "Axes"]:
    """Draw milestones of the model beside those of the bench, and how far the readings of the water lie off it.

    Parameters
    ----------
    found : of `calibrate`
    ax : two axes, for milestones in standard deviations and for residuals of the readings [K]; default none: new ones
    units : "si" or "us"

    Returns
    -------
    tuple of Axes
        The two.
    """
    upper, lower = new_pair(ax, 8.0, 6.5)
    apart = measure("temperature difference", units)
    marks = [row for row in found.residuals if row.what != "water" and row.size > 0.0]
    places = list(range(len(marks)))
    upper.axvspan(-NORMAL_90, NORMAL_90, color="0.92", label="nine in ten fall here")
    upper.axvline(0.0, color="0.5", linewidth=0.8)
    upper.plot([row.before for row in marks], places, "o", color="0.1", fillstyle="none", label="before")
    upper.plot([row.after for row in marks], places, "s", color="0.1", label="after")
    for place, row in zip(places, marks, strict=True):
        upper.annotate(
            f"{row.after * row.size:+.0f} s", (row.after, place), xytext=(0, 7), textcoords="offset points",
            ha="center", fontsize="x-small",
        )  # fmt: skip
    upper.set_yticks(
        places, [f"{row.log}, {row.what.replace('burnout', 'burn-out')}" for row in marks], fontsize="small"
    )
    upper.set_ylim(len(marks) - 0.4, -0.9)
    upper.set_xlabel("model less bench, in standard deviations of the measurement")
    upper.legend(frameon=False, fontsize="small", loc="center left", bbox_to_anchor=(1.0, 0.5))
    logs = list(dict.fromkeys(row.log for row in found.residuals))
    for k, log in enumerate(logs):
        rows = [row for row in found.residuals if row.log == log and row.what == "water"]
        if not rows:
            continue
        minutes = [row.time / 60.0 for row in rows]
        before = [apart.of(row.before * row.size) for row in rows]
        after = [apart.of(row.after * row.size) for row in rows]
        marker = MARKERS[k % len(MARKERS)]
        lower.plot(
            minutes, before, marker, color="0.65", fillstyle="none", markersize=4,
            label=f"{log}, before",
        )  # fmt: skip
        lower.plot(
            minutes,
            after,
            marker,
            color="0.1",
            markersize=4,
            label=f"{log}, after",
        )
    lower.axhline(0.0, color="0.5", linewidth=0.8)
    lower.set_xlabel("time from the match [min]")
    lower.set_ylabel(f"water, model less bench [{apart.unit}]")
    if logs:
        lower.legend(frameon=False, fontsize="small", ncols=2)
    if found.bad:
        upper.set_title("a BAD fit: do not trust it")
    return upper, lower


LEAST_RUNNING = 0.5  # share of the burns that must still run where the bands are drawn
SOME_ENDED = 0.9
ROWS = {"burnout": ("burn-out", 0.08), "boil": ("boil", 0.18), "bloom": ("bloom", 0.28)}
STROKES: "tuple[tuple[Of, str, LineStyleType, float, float], ...]" = (
    ("mean", "mean of this build", "-", 4.0, 0.0),
    ("next", "its next burn", "-", 1.2, 0.025),
    ("another", "another build", (0, (4, 2)), 1.2, 0.05),
)
"""What each line is of, in words, its style, its width [pt] and how far it lies below the first [-]."""


def prediction(
    found: "Prediction", ax: "Axes | None" = None, *, log: "BenchLog | None" = None, units: str = "si"
) -> "Axes":
    """Draw bands of the water's temperature in the next burn, and below them the 90 % bands of each milestone.

    Each milestone has a thick line for the mean of this build, a thin one for its next burn and, where something was
    learnt of this build, a broken one for another build to the drawing. The bands of the water are those of the burns
    that still run; where the first tenth of them have ended, a line says so, and where half have, the bands end.

    Parameters
    ----------
    found : of `predict`
    ax : axes to draw on [minutes, degC or degF]; default none: new ones
    log : readings to draw beside it, default none
    units : "si" or "us"

    Returns
    -------
    Axes
    """
    degrees = measure("temperature", units)
    ax = new_axes(ax, 8.0, 4.5)
    time, quantiles = found.water_quantiles(running=LEAST_RUNNING, of="next")
    measured = None
    if log is not None:
        when, what = log.water()
        measured = (when, degrees.of(what))
    ended = ""
    if len(time):
        bands(time, degrees.of(quantiles), ax, measured=measured, label=f"water [{degrees.unit}]")
        ax.set_ylim(degrees.of(min(float(np.min(quantiles)), 288.15) - 44.0), None)
        ended = _ends(found, ax)
    across = ax.get_xaxis_transform()
    kinds = [kind for kind in STROKES if kind[0] != "another" or found.other is not None]
    for name, (label, height) in ROWS.items():
        right = 0.0
        for of, words, style, width, down in kinds:
            three = found.quantiles(name, (0.05, 0.5, 0.95), of)
            if not three:
                continue
            low, middle, high = (one.value / 60.0 for one in three)
            right = max(right, high)
            ax.plot(
                [low, high], [height - down] * 2, color="0.1", linewidth=width, linestyle=style, marker="|",
                markersize=4, transform=across, label=f"90 %: {words}" if name == "boil" else None,
            )  # fmt: skip
            if of == "mean":
                ax.plot([middle], [height], color="white", marker="o", markersize=3, transform=across)
        if right > 0.0:
            chance = found.happens(name)
            told = label if chance.value > 0.995 else f"{label}, in {100 * chance.value:.0f} %"
            ax.annotate(
                told, (right, height - 0.02), xycoords=across, textcoords="offset points", xytext=(8, 0), va="center",
                fontsize="small",
            )  # fmt: skip
    ax.legend(frameon=False, fontsize="small")
    ax.set_xlim(left=0.0)
    ax.set_yticks([tick for tick in ax.get_yticks() if 0.0 <= tick <= ax.get_ylim()[1]])
    ax.set_xlabel("time [min]" + (f"\n{ended}" if ended else ""))
    ax.set_title(f"{found.setup.name or 'burner'}, its next burn:\n{found.n} burns over what is not known")
    return ax


def _ends(found: "Prediction", ax: "Axes") -> str:
    """Mark where the bands stop to be those of all burns; returns in words what is marked and why they end."""
    running = found.still_running()
    drawn = found.time[running >= LEAST_RUNNING]
    thinned = found.time[running < SOME_ENDED]
    if not len(drawn) or not len(thinned):
        return ""
    if thinned[0] > drawn[-1]:
        return "The bands end where most burns have ended."
    some = 100.0 * (1.0 - float(running[running < SOME_ENDED][0]))
    ax.axvline(thinned[0] / 60.0, color=PALE, linewidth=0.9, linestyle=(0, (1, 2)), label="_some have ended")
    until = "" if drawn[-1] >= found.time[-1] else ", until half have"
    return f"Dotted line: {some:.0f} % of the burns have ended;\nbands of the rest{until}."
