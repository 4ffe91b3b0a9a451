"""A blank bench log to fill in by hand: its fields are those that a bench log in a file may state."""

from collections.abc import Iterator
from math import ceil
from typing import TYPE_CHECKING

import numpy as np

from burnsim.plots.style import INK, PALE, new_axes
from burnsim.report.fields import water_text
from burnsim.report.sheet.blocks import Block, Form, Picture, Words
from burnsim.units import format_time, measure, written
from burnsim.units.writing import NBSP, with_unit

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from burnsim.solve import Burn

MOST_ROWS = 26  # readings
LONGER = 1.15  # the readings' time, as a share of the predicted burn's
STEPS = (10.0, 15.0, 30.0, 60.0, 120.0, 300.0, 600.0, 900.0, 1800.0, 3600.0)  # between readings [s]
TIME = f"min{12 * NBSP}s"  # blanks for a time


def bench_form(burn: "Burn", units: str = "si") -> Iterator[Block]:
    """Hints, the form, and the predicted curve to plot the readings over.

    Parameters
    ----------
    burn : the prediction; what was planned is printed beside some blanks
    units : "si" or "us"
    """
    setup = burn.setup
    degrees, volume = measure("temperature", units).unit, measure("volume", units).unit
    charge, pot = setup.charge, setup.pot
    planned = f"plan {written(charge.volume, 'volume', units)}"
    primer = f"plan {written(charge.primer, 'volume', units)}"
    water = ""
    if pot is not None:
        water = f"plan {water_text(pot.water, units)}"
    fields = [
        ("build", ""),
        ("date", ""),
        ("fuel (what the bottle says)", ""),
        ("fuel poured in", planned),
        ("primer on the wick", primer),
        ("air", degrees),
        ("burner filled, mass", "g"),
        ("burner after, mass", "g"),
        ("fuel left", volume),
        ("water, volume", water),
        ("pot and water, mass", "g"),
        ("pot and water after, mass", "g"),
        ("pot empty, mass", "g"),
        ("lid on?", ""),
        ("water, start", degrees),
        ("altitude or pressure", ""),
        ("humidity", "%"),
        ("wind", measure("velocity", units).unit),
        ("bloom: all jets lit", TIME),
        ("boil: full rolling boil", TIME),
        ("burn-out: last flame", TIME),
        ("spill seen? when", TIME),
        ("thermometer good to", degrees),
        ("clock good to", "s"),
    ]
    unasked = set()
    if setup.burner.wick is None:
        unasked.add("primer on the wick")
    if setup.burner.jets is None:
        unasked.add("bloom: all jets lit")
    if pot is None:
        unasked |= {what for what, _ in fields if what.startswith(("water", "pot", "lid", "boil"))}
    yield Words(
        "Times count from the match. Weigh the burner before and after; stir before each reading. Typed into a file as "
        "rows of time, water temperature, mass and note, it can be read back by burnsim.",
        small=True,
    )
    columns = ("time", *(() if pot is None else (f"water [{degrees}]",)), "burner [g]", "note")
    yield Form(tuple(field for field in fields if field[0] not in unasked), columns, reading_times(burn))
    what = "water's temperature" if pot is not None else "fuel left"
    yield Picture(
        "log",
        f"Grid to plot readings on, over the predicted {what} as a dashed line",
        lambda ax: log_chart(burn, ax, units),
        7.2,
        3.2,
        (3.6, 3.0),
    )


def reading_times(burn: "Burn") -> tuple[str, ...]:
    """When to read, in steps of a round time, to somewhat beyond the predicted end.

    Parameters
    ----------
    burn : the prediction
    """
    last = LONGER * max(float(burn.time[-1]), 1.0)
    step = next((step for step in STEPS if last / step < MOST_ROWS), STEPS[-1])
    count = min(ceil(last / step) + 1, MOST_ROWS)
    count += count % 2
    if step < 60.0:
        return tuple(format_time(k * step) for k in range(count))
    return tuple(with_unit(f"{k * step / 60.0:.0f}", "min") for k in range(count))


def log_chart(burn: "Burn", ax: "Axes | None" = None, units: str = "si") -> "Axes":
    """Draw a grid with the predicted curve dashed: the water's temperature, or without a pot the fuel left.

    Parameters
    ----------
    burn : the prediction
    ax : axes [min against degC, degF or g], default new ones
    units : "si" or "us"

    Returns
    -------
    Axes
    """
    from matplotlib.ticker import AutoMinorLocator, MaxNLocator

    ax = new_axes(ax)
    minutes = np.asarray(burn.time) / 60.0
    if burn.setup.pot is not None:
        unit = measure("temperature", units)
        predicted, label = np.asarray(unit.of(burn.series("water_temperature"))), f"water [{unit.unit}]"
    else:
        predicted, label = 1e3 * np.asarray(burn.series("fuel_left")), "fuel left [g]"
    ax.plot(minutes, predicted, "--", color=PALE, linewidth=1.3)
    ax.set_xlim(0.0, LONGER * max(float(minutes[-1]), 1.0 / 60.0))
    low, high = float(np.nanmin(predicted)), float(np.nanmax(predicted))
    ax.set_ylim(low - 0.06 * (high - low) if burn.setup.pot else 0.0, high + 0.06 * (high - low))
    for axis, most in ((ax.xaxis, 14), (ax.yaxis, 10)):
        axis.set_major_locator(MaxNLocator(most, steps=[1, 2, 5, 10]))
        axis.set_minor_locator(AutoMinorLocator(5))
    ax.grid(which="major", color="0.6", linewidth=0.5)
    ax.grid(which="minor", color="0.82", linewidth=0.3)
    ax.tick_params(which="both", length=0.0)
    ax.set_xlabel("time from the match [min]")
    ax.set_ylabel(label)
    ax.set_title("Plot the readings over the prediction (dashed)", loc="left", color=INK)
    return ax
