"""Pictures of bench logs, of a calibration, of bands, and of a prediction with its bands."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import ArrayLike

from burnsim.constants import ZERO_CELSIUS
from burnsim.errors import InputError
from burnsim.plots.labels import entitle, extent, legend_below, letter, name_rows, whole_minutes
from burnsim.plots.letters import wrapped
from burnsim.plots.scales import figure_name
from burnsim.plots.style import (
    BAR,
    BLUE,
    GROUND,
    INK,
    MEASURED,
    PALE,
    SEEN,
    SKY,
    new_axes,
    new_pair,
    picture,
    stacked,
)  # fmt: skip
from burnsim.report.calibrate import off_text
from burnsim.report.fields import share_text
from burnsim.studies.calibrate.sizes import NORMAL_90
from burnsim.units import format_time, measure

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.typing import LineStyleType

    from burnsim.studies.bench.analysis import BenchResult
    from burnsim.studies.bench.log import BenchLog
    from burnsim.studies.calibrate.fit import Calibration
    from burnsim.studies.predict.prediction import Of, Prediction
    from burnsim.studies.predict.sobol import Sensitivity

LEVELS = (0.05, 0.25, 0.5, 0.75, 0.95)
MARKERS = "os^Dv<>p"
LINES = ("-", "--", "-.", ":", (0, (8, 2)), (0, (3, 1, 1, 1, 1, 1)))
ROWS = {"bloom": "bloom", "boil": "boil", "burnout": "burn-out"}


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


@picture
def bench(
    results: "BenchResult | Sequence[BenchResult]", ax: Sequence["Axes"] | None = None, *, units: str = "si"
) -> tuple["Axes", "Axes"]:
    """Draw readings into one pair of axes, and power with its 90 % band into another.

    Parameters
    ----------
    results : of `burnsim.bench.analyse`, one or several
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
        upper.plot(time / 60.0, degrees.of(reading), MARKERS[k % len(MARKERS)], color=shade, markersize=4,
                   fillstyle="none", label=result.log.name)  # fmt: skip
        for mark, words in ROWS.items():
            when = getattr(result.log, mark).time
            if when is None:
                continue
            upper.axvline(when / 60.0, color=shade, linewidth=0.8, linestyle=(0, (1, 2)))
            if k == 0:
                upper.annotate(words, (when / 60.0, 0.03), xycoords=("data", "axes fraction"), rotation=90, ha="right",
                               va="bottom", fontsize="small", bbox=GROUND)  # fmt: skip
        if result.power is not None:
            minutes, power, error = result.power.time / 60.0, result.power.slope, NORMAL_90 * result.power.slope_error
            lower.plot(minutes, power, color=shade, linestyle=LINES[k % len(LINES)], label=result.log.name)
            lower.fill_between(minutes, power - error, power + error, color=shade, alpha=0.2, linewidth=0)
    if results:
        upper.axhline(degrees.of(results[0].boiling_point), color="0.5", linewidth=0.8)
        tops = [float(np.max(result.power.slope)) for result in results if result.power is not None]
        if tops:
            lower.set_ylim(0.0, 1.4 * max(tops))
            lower.legend(loc="lower right")
    upper.set_ylabel(f"water [{degrees.unit}]")
    upper.legend()
    lower.set_ylabel("power into the water [W]")
    lower.set_xlabel("time from the match [min]")
    return upper, lower


@picture
def calibration(
    found: "Calibration", ax: Sequence["Axes"] | None = None, *, units: str = "si"
) -> tuple["Axes", "Axes"]:
    """Draw milestones of the model beside those of the bench, and how far the readings of the water lie off it.

    Parameters
    ----------
    found : of `burnsim.calibrate`
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
            off_text(row, 1), (row.after, place), xytext=(0, 7), textcoords="offset points",
            ha="center", fontsize="x-small",
        )  # fmt: skip
    upper.set_yticks(places, [f"{row.log}, {ROWS.get(row.what, row.what)}" for row in marks], fontsize="small")
    upper.set_ylim(len(marks) - 0.4, -0.9)
    upper.set_xlabel("model less bench, in standard deviations of the measurement")
    upper.legend(loc="center left", bbox_to_anchor=(1.0, 0.5))
    logs = list(dict.fromkeys(row.log for row in found.residuals))
    for k, log in enumerate(logs):
        rows = [row for row in found.residuals if row.log == log and row.what == "water"]
        if not rows:
            continue
        minutes, marker = [row.time / 60.0 for row in rows], MARKERS[k % len(MARKERS)]
        for when, colour, fill in (("before", "0.65", "none"), ("after", "0.1", "full")):
            off = [apart.of(getattr(row, when) * row.size) for row in rows]
            lower.plot(minutes, off, marker, color=colour, fillstyle=fill, markersize=4, label=f"{log}, {when}")
    lower.axhline(0.0, color="0.5", linewidth=0.8)
    lower.set_xlabel("time from the match [min]")
    lower.set_ylabel(f"water, model less bench [{apart.unit}]")
    if lower.get_legend_handles_labels()[0]:
        lower.legend(ncols=2)
    else:
        lower.set_axis_off()
        lower.annotate("no readings of the water", (0.5, 0.5), xycoords="axes fraction", ha="center")
    if found.bad:
        upper.set_title("a BAD fit: do not trust it")
    return upper, lower


LEAST_RUNNING = 0.5  # share of the burns that must still run where the bands are drawn
SOME_ENDED = 0.9
STROKES: "tuple[tuple[Of, str, LineStyleType, float, float], ...]" = (
    ("mean", "mean of this build", "-", 4.0, -0.18),
    ("next", "its next burn", "-", 1.2, 0.04),
    ("another", "another build", (0, (4, 2)), 1.2, 0.26),
)
"""What each line is of, in words, its style, its width [pt] and how far it lies below the milestone's name [rows]."""


@picture
def prediction(
    found: "Prediction", ax: "Axes | None" = None, *, log: "BenchLog | None" = None, units: str = "si"
) -> "Axes":
    """Draw bands of the water's temperature in the next burn, and on a panel below the 90 % bands of each milestone.

    Each milestone has a thick line for the mean of this build with its median, a thin one for its next burn and, where
    something was learnt of this build, a broken one for another build to the drawing. One that not all burns reach has
    the share of those that do beside its name. The bands of the water are those of the burns that still run; where the
    first tenth of them have ended, a line says so, and where half have, the bands end.

    Parameters
    ----------
    found : of `burnsim.predict`
    ax : axes to draw on [minutes, degC or degF]; default none: new ones. The panel of the milestones is added below, in
        the place that the axes had.
    log : readings to draw beside it, and milestones as seen, as crosses; default none
    units : "si" or "us"
    """
    degrees = measure("temperature", units)
    kinds = [kind for kind in STROKES if kind[0] != "another" or found.other is not None]
    seen: dict[str, float | None] = {name: None if log is None else getattr(log, name).time for name in ROWS}
    rows = [name for name in ROWS if seen[name] or any(found.quantiles(name, (0.5,), kind[0]) for kind in kinds)]
    ax, lower = stacked(ax, (2.2, 0.4 + 0.4 * len(rows)), 7.0, 5.4)
    time, quantiles = found.water_quantiles(running=LEAST_RUNNING, of="next")
    measured = None
    if log is not None:
        when, what = log.water()
        measured = (when, degrees.of(what))
    ended = ""
    if len(time):
        bands(time, degrees.of(quantiles), ax, measured=measured, label=f"water [{degrees.unit}]")
        ended = _ends(found, ax)
    ax.set_xlabel("")
    last, names = float(time[-1]) if len(time) else 60.0, []
    for place, name in enumerate(rows):
        for of, words, style, width, down in kinds:
            three = found.quantiles(name, (0.05, 0.5, 0.95), of)
            if not three:
                continue
            low, middle, high = (one.value for one in three)
            last = max(last, high)
            lower.plot(
                [low / 60.0, high / 60.0], [place + down] * 2, color=INK, linewidth=width, linestyle=style, marker="|",
                markersize=5, label=words if place == 0 else None,
            )  # fmt: skip
            if of == "mean":
                lower.plot([middle / 60.0], [place + down], color="white", marker="o", markersize=3)
        if (mark := seen[name]) is not None:
            last = max(last, mark)
            label = None if "seen" in lower.get_legend_handles_labels()[1] else "seen"
            lower.plot([mark / 60.0], [place], label=label, **SEEN)
        chance = found.happens(name)
        names.append(ROWS[name] if chance.value >= 1.0 else f"{ROWS[name]}, in {share_text(chance.value)}")
    name_rows(lower, names)
    note = wrapped(ended, extent(lower)[0], letter()) if ended else []
    lower.set_xlabel("\n".join(["time [min]", *note]))
    lines = lower.get_legend_handles_labels()[0]
    if lines:
        lower.legend(handles=lines, loc="upper left", bbox_to_anchor=(1.0, 1.0))
    for panel in (ax, lower):
        whole_minutes(panel, 1.02 * last / 60.0)
    entitle(ax, found.setup.name or "burner", _in_short(found))
    return ax


def _in_short(found: "Prediction") -> str:
    """When the next burn boils, in half a sentence."""
    three = found.quantiles("boil", (0.05, 0.5, 0.95), "next")
    if not three:
        return f"{found.n} burns over what is not known"
    least, usual, most = (format_time(one.value) for one in three)
    boils = found.happens("boil").value
    if boils >= 1.0:
        return f"the next burn boils in {usual}, nine times in ten in {least} to {most}"
    return f"boils in {share_text(boils)} of burns; those in {usual}, nine in ten of them in {least} to {most}"


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
    return f"Dotted line: {some:.0f}\u00a0% of the burns have ended; bands of the rest{until}."


@picture
def sensitivity(
    found: "Sensitivity", ax: "Axes | None" = None, *, figure: str | None = None, units: str = "si"
) -> "Axes":
    """Draw how much of what is uncertain in a figure each unknown explains, the largest on top.

    A bar is the share that a factor has alone and with all that it shares with others (total index); its dark part is
    what it has alone (first index). A line is the 90 % interval of the total.

    Parameters
    ----------
    found : of `burnsim.analyse_sensitivity`
    ax : axes to draw on [%]; default none: new ones
    figure : what is explained, one of `found.figures`; default none: "boil", or the first that varies
    units : "si" or "us"; shares are the same in both

    Raises
    ------
    InputError
        For a figure that was not explained, or that does not vary.
    """
    from matplotlib.patheffects import withStroke

    measure("power", units)
    varying = [name for name in found.figures if found.ranked(name)]
    shown = figure or ("boil" if "boil" in varying else next(iter(varying), None))
    if shown is None or shown not in varying:
        raise InputError("figure", shown, "does not vary; allowed: " + (", ".join(varying) or "none"), "choose another")
    rows = found.shares(shown)
    ax = new_axes(ax, 7.0, 1.5 + 0.3 * len(rows))
    places = np.arange(len(rows))
    row = found.figures.index(shown)
    first = [100.0 * max(float(found.first[row, found.names.index(name)]), 0.0) for name, *_ in rows]
    total = [100.0 * value for _, value, _, _ in rows]
    ends = 100.0 * np.array([[low, high] for _, _, low, high in rows])
    ax.barh(places, total, height=0.62, color=SKY, label="with others", **BAR)
    ax.barh(places, np.minimum(first, total), height=0.62, color=BLUE, label="alone", **BAR)
    halo = [withStroke(linewidth=2.6, foreground="white")]
    ax.hlines(places, ends[:, 0], ends[:, 1], color=INK, linewidth=1.2, path_effects=halo, label="90\u00a0% interval")
    name_rows(ax, [name.replace("_", " ") for name, *_ in rows])
    ax.set_xlim(0.0, max(1.02 * float(ends.max()), 10.0))
    legend_below(ax, 3)
    words = f"the {figure_name(shown)}"
    ax.set_xlabel(f"share of the variance of {words} [%]")
    most = rows[0][0].replace("_", " ")
    entitle(ax, "", f"{most} matters most: {total[0]:.0f}\u00a0% of what is not known of {words}")
    return ax


COLD, FOOT = 288.15, 44.0  # where the temperatures end below, and room under it for the milestones [K]


@picture
def measured(
    log: "BenchLog", found: "Prediction", ax: Sequence["Axes"] | None = None, *, units: str = "si"
) -> tuple["Axes", "Axes"]:
    """Draw the readings of a log over what was predicted of its burn, and below it what is left between them.

    At the foot of the upper axes are the bands of the next burn's milestones (90 %, and the median), with a cross where
    each was seen. The lower axes hold each reading less the median of the prediction, and the band of the next burn
    about that median, which should hold nine readings in ten.

    Parameters
    ----------
    log : of `burnsim.bench.read`, of one burn
    found : of `burnsim.predict`, for the conditions of the log: `predict(burnsim.bench.apply_conditions(setup, log))`
    ax : two axes, for temperatures [degC or degF, over minutes] and differences [K or degF]; default none: new ones
    units : "si" or "us"

    Returns
    -------
    tuple of Axes
        The two.
    """
    upper, lower = new_pair(ax, 7.5, 6.5, sharex=True)
    degrees = measure("temperature", units)
    apart = measure("temperature difference", units)
    time, quantiles = found.water_quantiles(LEVELS, LEAST_RUNNING, "next")
    when, what = log.water()
    if len(time):
        bands(time, degrees.of(quantiles), upper, label=f"water [{degrees.unit}]", measured=(when, degrees.of(what)))
        upper.set_ylim(bottom=degrees.of(min(float(np.min(quantiles)), COLD) - FOOT))
        low, middle, high = quantiles[0], quantiles[len(LEVELS) // 2], quantiles[-1]
        lower.fill_between(
            time / 60.0, apart.of(low - middle), apart.of(high - middle), facecolor="0.9", edgecolor=PALE, hatch="...",
            linewidth=0.5, label="90\u00a0% of next burns",
        )  # fmt: skip
        inside = (when >= time[0]) & (when <= time[-1])
        off = what[inside] - np.interp(when[inside], time, middle)
        lower.plot(when[inside] / 60.0, apart.of(off), label="measured", **MEASURED)
    last = max(_milestones(log, found, upper), float(time[-1]) / 60.0 if len(time) else 0.0)
    entitle(upper, log.name, f"over {found.n} predicted burns")
    upper.set_xlabel("")
    upper.set_xlim(0.0, 1.02 * last or None)
    upper.set_yticks([tick for tick in upper.get_yticks() if degrees.of(ZERO_CELSIUS) <= tick <= upper.get_ylim()[1]])
    upper.legend()
    lower.axhline(0.0, color=INK, linewidth=0.8)
    lower.set_ylabel(f"measured less median [{apart.unit}]")
    lower.set_xlabel("time [min]")
    return upper, lower


def _milestones(log: "BenchLog", found: "Prediction", ax: "Axes") -> float:
    """Bands of the next burn's milestones at the foot of the axes, with their medians, and what was seen.

    Returns where the last of them ends [min].
    """
    last = 0.0
    across = ax.get_xaxis_transform()
    for k, (name, told) in enumerate(ROWS.items()):
        height = 0.26 - 0.09 * k
        seen, three = getattr(log, name).time, found.quantiles(name, (0.05, 0.5, 0.95), "next")
        if three:
            low, middle, high = (one.value / 60.0 for one in three)
            ax.plot([low, high], [height] * 2, color=INK, linewidth=1.2, marker="|", markersize=8, transform=across)
            ax.plot([middle], [height], color=INK, marker="o", markersize=5, linestyle="", transform=across)
        if seen is not None:
            label = "_seen" if "seen" in ax.get_legend_handles_labels()[1] else "seen"
            ax.plot([seen / 60.0], [height], transform=across, label=label, **SEEN)
        if three or seen is not None:
            right = max(three[-1].value if three else 0.0, seen or 0.0) / 60.0
            last = max(last, right)
            ax.annotate(
                told, (right, height), xycoords=across, textcoords="offset points", xytext=(8, 0), va="center",
                fontsize="small",
            )  # fmt: skip
    return last
