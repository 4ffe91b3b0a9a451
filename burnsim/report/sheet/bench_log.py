"""A bench log to fill in for one design: as a form on paper and as a file, from one list of what a log holds."""

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from burnsim.model.description.fields import spec_of
from burnsim.model.description.setup import Setup
from burnsim.plots.style import INK, PALE, new_axes
from burnsim.report.cautions import cautions
from burnsim.report.fields import on_wick, water_text
from burnsim.report.sheet.blocks import Block, Form, Picture, Words
from burnsim.solve import Burn, Outcome
from burnsim.studies.bench.clock import LONGEST_BURN
from burnsim.studies.bench.conditions import TABLES
from burnsim.studies.bench.design import head_lines
from burnsim.units import DIMENSIONS, format_time, measure, written
from burnsim.units.writing import NBSP, with_unit

if TYPE_CHECKING:
    from matplotlib.axes import Axes


class Asked(NamedTuple):
    """Something that a log may hold."""

    key: str  # of the head of a log
    title: str = ""  # of its blank on paper; none: it has no blank
    remark: str | None = None  # beside its empty line in a file; None: the head states it, or the file leaves it out


ASKED = (
    Asked("build", "build", "which of several built to this design; logs of one build are repeats"),
    Asked("date", "date", ""),
    Asked("note", "", ""),
    Asked("charge.fuel", "fuel (what the bottle says)"),
    Asked("charge.volume", "fuel poured in"),
    Asked("charge.primer", "primer on the wick"),
    Asked("charge.mass", "burner filled, mass", "or by the scale: burner and wick, filled less empty"),
    Asked("charge.left_mass", "burner after, mass"),
    Asked("charge.left", "fuel left", "recovered afterwards"),
    Asked("charge.used_to_boil", "", "where it was put out at the boil"),
    Asked("site.air_temperature", "air"),
    Asked("site.altitude", "altitude or pressure"),
    Asked("site.pressure", "", "of a barometer at the site, in place of the altitude"),
    Asked("site.humidity", "humidity"),
    Asked("site.wind", "wind"),
    Asked("pot.water", "water, volume"),
    Asked("pot.water_temperature", "water, start"),
    Asked("pot.water_mass", "pot and water, mass", "weighed before, and after: for the efficiency"),
    Asked("pot.water_left_mass", "pot and water after, mass", ""),
    Asked("pot.mass", "pot empty, mass", "of the empty pot"),
    Asked("pot.lid", "lid on?"),
    Asked("seen.bloom", "bloom: all jets lit", ""),
    Asked("seen.boil", "boil: full rolling boil", ""),
    Asked("seen.burnout", "burn-out: last flame", ""),
    Asked("seen.spill", "spill seen? when", ""),
    Asked("uncertainty.thermometer", "thermometer good to"),
    Asked("uncertainty.clock", "clock good to"),
)
"""What a log may hold, in the order of the form."""

MOST_BLANKS = 26  # readings
LONGER = 1.15  # the readings' time, as a share of the predicted burn's
STEPS = (10.0, 15.0, 30.0, 60.0, 120.0, 300.0, 600.0, 900.0, 1800.0, 3600.0)  # between readings [s]
TIME = f"min{12 * NBSP}s"  # blanks for a time
MOST_ROWS = 60
USUAL = 1200.0  # how long a log is where the model's burn tells nothing [s]
SPARE = 120.0  # beyond the predicted burn-out [s]


def asked_of(setup: Setup) -> tuple[Asked, ...]:
    """What a log of a design may hold: no water without a pot, no bloom without jets."""
    without = set()
    if setup.burner.wick is None:
        without.add("charge.primer")
    if setup.burner.jets is None:
        without.add("seen.bloom")
    if setup.pot is None:
        without |= {one.key for one in ASKED if one.key.startswith("pot.")} | {"seen.boil"}
    return tuple(one for one in ASKED if one.key not in without)


def bench_form(burn: Burn, units: str = "si") -> Iterator[Block]:
    """Hints, the form, and the predicted curve to plot the readings over."""
    setup = burn.setup
    charge, pot = setup.charge, setup.pot
    planned = {
        "charge.volume": written(charge.volume, "volume", units),
        "charge.primer": on_wick(charge.primer, units),
        "pot.water": "" if pot is None else water_text(pot.water, units),
    }

    def blank(one: Asked) -> tuple[str, str]:
        return one.title, f"plan {planned[one.key]}" if one.key in planned else _unit(one.key, units)

    yield Words(
        "Times count from the match. Weigh the burner before and after; stir before each reading. Typed into a file as "
        "rows of time, water temperature, mass and note, it can be read back by burnsim.",
        small=True,
    )
    water = () if pot is None else (f"water [{_unit('pot.water_temperature', units)}]",)
    columns = ("time", *water, "burner [g]", "note")
    yield Form(tuple(blank(one) for one in asked_of(setup) if one.title), columns, reading_times(burn))
    what = "water's temperature" if pot is not None else "fuel left"
    yield Picture(
        "log", f"Grid to plot readings on, over the predicted {what} as a dashed line",
        lambda ax: log_chart(burn, ax, units), 7.2, 3.2, (3.6, 3.0),
    )  # fmt: skip


def _unit(key: str, units: str) -> str:
    """In what a blank is filled in: blanks for a time, the unit of a quantity, nothing for a word."""
    table, _, name = key.partition(".")
    if table == "seen":
        return TIME
    dimension = spec_of(TABLES[table][name]).dimension if name in TABLES.get(table, {}) else ""
    if dimension not in DIMENSIONS or key == "site.altitude":  # or the pressure, whichever is known
        return ""
    if dimension in ("mass", "time"):
        return {"mass": "g", "time": "s"}[dimension]
    return measure("temperature" if dimension.startswith("temperature") else dimension, units).unit


def reading_times(burn: Burn) -> tuple[str, ...]:
    """When to read, in steps of a round time, to somewhat beyond the predicted end."""
    last = LONGER * max(float(burn.time[-1]), 1.0)
    step = next((step for step in STEPS if last / step < MOST_BLANKS), STEPS[-1])
    count = min(math.ceil(last / step) + 1, MOST_BLANKS)
    count += count % 2
    times = [k * step for k in range(count)]
    return tuple(format_time(time) if step < 60.0 else with_unit(f"{time / 60.0:.0f}", "min") for time in times)


def log_chart(burn: Burn, ax: "Axes | None" = None, units: str = "si") -> "Axes":
    """Draw a grid with the predicted curve dashed: the water's temperature, or without a pot the fuel left."""
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


def blank_log(setup: Setup, found: Outcome, units: str = "si") -> str:
    """The text of the log."""
    marks = found.milestones
    named = {"bloom": marks.bloom, "boil": marks.boil, "burn-out": marks.burnout}
    expected = [f"{label} {_clock(mark.time)}" for label, mark in named.items() if mark.time is not None]
    empty: dict[str, list[str]] = {}
    for one in asked_of(setup):
        table, _, name = one.key.rpartition(".")
        if one.remark is not None:
            line = f'#{name} = ""'
            empty.setdefault(table, []).append(f"{line:<21} # {one.remark}" if one.remark else line)
    head: list[str] = []
    table = ""
    for line in [*head_lines(setup, units), ""]:
        if line.startswith("[") or not line:
            head += [*empty.get(table, ()), ""] if table else [""]
            table = line.strip("[]")
        head.append(line)
    lines = [
        f"# Bench log of {setup.name or 'a burner'}, to fill in: correct what differs, take the # from what you know.",
        "# Quotes may be left out; what is not stated is taken from the design. Read it back with `burnsim bench`.",
        *(f"# {one}" for one in cautions([setup])),
        f'name = "{setup.name or "bench log"}"',
        *empty[""],
        *head[:-2],
        "",
        "[clock]",
        '#match = "14:03:20"    # when the match was struck, if the clock below was not started then',
        "",
        f"[seen]                 # or in the notes below; the model says: {', '.join(expected) or 'nothing'}",
        *empty["seen"],
        "",
        "---",
    ]
    columns = ["time [mm:ss]", f"water [{'degF' if units == 'us' else 'degC'}]", "mass [g]", "note"]
    if setup.pot is None:
        columns.pop(1)
    end = min((marks.burnout.time or USUAL) + SPARE, LONGEST_BURN)
    step = 60.0 * math.ceil(end / 60.0 / MOST_ROWS)
    rows = [f"{_clock(k * step)}{', ' * (len(columns) - 1)}".rstrip() for k in range(math.ceil(end / step) + 1)]
    return "\n".join([*lines, ", ".join(columns), *rows]) + "\n"


def _clock(seconds: float) -> str:
    minutes, rest = divmod(round(seconds), 60)
    return f"{minutes}:{rest:02d}"
