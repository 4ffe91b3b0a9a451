"""Pictures of a burn. Every plot takes `ax=` and returns it; lines differ in style, to print in black."""

from math import radians, sin
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from burnsim.plots.style import BLUE, GREEN, INK, VERMILION, legend_below, new_axes
from burnsim.units import measure

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from burnsim.solve import Burn

TEMPERATURES = (
    ("water_temperature", "water", "-", INK, 2.0),
    ("gallery_temperature", "fuel in the gallery", "--", BLUE, 1.2),
    ("well_temperature", "fuel in the well", ":", INK, 1.2),
)
MARKS = {
    "bloom": "bloom",
    "boil": "boil",
    "primer_out": "primer out",
    "spill": "spill",
    "quench": "quench",
    "burnout": "burn-out",
}
FIGURES = 5.6  # room for the figures of the power, in letters
BESIDE = 15.0  # room for what stands left and right of the axes, in letters
SLANT = 50.0  # of the names of milestones [deg]
WATER = ("water_temperature", "water_mass", "heat_to_pot")
GALLERY = ("gallery_temperature", "gallery_level", "gallery_pressure", "gallery_water", "froth_level")
JETS = ("jet_power", "jet_velocity", "flame_length")
WELL = ("well_temperature", "well_level", "well_pressure", "well_power")


def burn(burn: "Burn", ax: "Axes | None" = None, *, units: str = "si") -> "Axes":
    """Draw temperatures, power and fuel left of a burn over time, with its milestones.

    Parameters
    ----------
    burn
        A finished burn.
    ax
        Axes to draw on [degC or degF, over minutes]; default none: new ones. Power goes on a twin axis at the right
        [W], fuel left on another [ml or fl oz].
    units
        "si" or "us".

    Returns
    -------
    Axes
        The axes of the temperatures.
    """
    ax = new_axes(ax)
    degrees = measure("temperature", units)
    minutes = np.asarray(burn.time) / 60.0
    for name, label, style, colour, width in TEMPERATURES:
        if name in hidden_series(burn):
            continue
        warm = np.asarray(degrees.of(burn.series(name)))
        if np.isfinite(warm).any():
            ax.plot(minutes, warm, color=colour, linestyle=style, linewidth=width, label=in_room(label, burn))
    ax.set_xlabel("time [min]")
    ax.set_ylabel(f"temperature [{degrees.unit}]")
    ax.margins(x=0.01)
    watts = ax.twinx()
    power = np.asarray(burn.series("power"))
    watts.plot(minutes, power, color=VERMILION, linestyle="-.", linewidth=1.4, label="power")
    watts.set_ylabel("power [W]")
    watts.set_ylim(bottom=0.0)
    fuel = _fuel_left(burn, ax, minutes, units)
    ax.set_zorder(max(watts.get_zorder(), fuel.get_zorder()) + 1)  # its curves over the others
    ax.patch.set_visible(False)
    above = mark_milestones(burn, ax)
    lines = [*ax.get_lines(), *watts.get_lines(), *fuel.get_lines()]
    named = [line for line in lines if not str(line.get_label()).startswith("_")]
    legend_below(ax, named, min(len(named), 5))
    ax.set_title(burn.setup.name or "burn", pad=6.0 + above)
    return ax


def _fuel_left(burn: "Burn", ax: "Axes", minutes: NDArray[np.float64], units: str) -> "Axes":
    """Fuel left, as the volume that was poured, on an axis of its own outside that of the power."""
    from matplotlib import rcParams

    from burnsim.substances.blend import density

    setup = burn.setup
    volumes = measure("volume", units)
    poured = density(setup.charge.fuel, setup.charge.temperature or setup.site.air_temperature)
    axis = ax.twinx()
    axis.spines["right"].set_position(("outward", FIGURES * float(rcParams["font.size"])))
    left = np.asarray(burn.series("fuel_left")) / poured
    axis.plot(
        minutes,
        volumes.of(left),
        color=GREEN,
        linestyle="-",
        linewidth=0.8,
        marker="o",
        markersize=3.5,
        markerfacecolor="white",
        markevery=0.08,
        label="fuel left",
    )
    axis.set_ylabel(f"fuel left [{volumes.unit}]")
    axis.set_ylim(bottom=0.0)
    return axis


def hidden_series(burn: "Burn") -> frozenset[str]:
    """Name the series that mean nothing for the kind of burner or without a pot."""
    burner = burn.setup.burner
    hidden: set[str] = set()
    if burn.setup.pot is None:
        hidden.update(WATER)
    if not burner.has_gallery:
        hidden.update(GALLERY + JETS)
    if not burner.has_well:
        hidden.update(WELL)
    if burner.wick is None:
        hidden.add("wick_power")
    return frozenset(hidden)


def mark_milestones(burn: "Burn", ax: "Axes") -> float:
    """Draw a line at each milestone, its name above the axes where no curve runs; names of close ones move apart.

    Returns
    -------
    float
        Height that the names take above the axes [points], to keep a title clear of.
    """
    from matplotlib.font_manager import FontProperties

    times = [(getattr(burn.milestones, name).time, label) for name, label in MARKS.items()]
    marks = sorted((time / 60.0, label) for time, label in times if time is not None)
    letters = FontProperties(size="small").get_size_in_points()
    step = 1.05 * letters / sin(radians(SLANT)) / _width(ax) * float(burn.time[-1]) / 60.0  # two names do not touch
    place = float("-inf")
    for when, label in marks:
        place = max(when, place + step)
        ax.axvline(when, color="0.6", linewidth=0.8, linestyle=(0, (1, 2)), label="_milestone")
        ax.annotate(
            label,
            (when, 1.0),
            xytext=(place, 1.045),
            xycoords=("data", "axes fraction"),
            textcoords=("data", "axes fraction"),
            rotation=SLANT,
            rotation_mode="anchor",
            ha="left",
            va="center",
            fontsize="small",
            arrowprops={"arrowstyle": "-", "color": "0.6", "linewidth": 0.6, "shrinkA": 0.0, "shrinkB": 0.0},
        )
    longest = max((len(label) for _, label in marks), default=0)
    return letters * (0.6 * longest * sin(radians(SLANT)) + 1.0) if longest else 0.0


def _width(ax: "Axes") -> float:
    """Width that axes will come to have once their words have been given room, guessed [points]."""
    from matplotlib import rcParams

    share = ax.get_position().width / (float(rcParams["figure.subplot.right"]) - float(rcParams["figure.subplot.left"]))
    whole = 72.0 * ax.figure.bbox.width / ax.figure.dpi * share
    return max(whole - BESIDE * float(rcParams["font.size"]), 0.3 * whole)


def in_room(label: str, burn: "Burn") -> str:
    """A curve's label with the room named as the kind of burner has it: a sealed chamber has no gallery.

    Parameters
    ----------
    label : for a double wall
    burn : whose curve it is
    """
    return label.replace("gallery", "chamber") if not burn.setup.burner.has_well else label
