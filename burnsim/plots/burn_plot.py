"""Pictures of a burn. Every plot takes `ax=` and returns it; lines differ in style, to print in black."""

from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from burnsim.measures import measure
from burnsim.plots.style import BLUE, GREEN, INK, VERMILION, new_axes

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
CLOSE = 0.035  # share of the whole time within which two labels would touch
WATER = ("water_temperature", "water_mass", "heat_to_pot")
GALLERY = ("gallery_temperature", "gallery_level", "gallery_pressure", "gallery_water", "froth_level")
JETS = ("jet_power", "jet_velocity", "flame_length")
WELL = ("well_temperature", "well_level", "well_pressure", "well_power")


def plot_burn(burn: "Burn", ax: "Axes | None" = None, *, units: str = "si") -> "Axes":
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
            ax.plot(minutes, warm, color=colour, linestyle=style, linewidth=width, label=label)
    ax.set_xlabel("time [min]")
    ax.set_ylabel(f"temperature [{degrees.unit}]")
    ax.margins(x=0.01)
    watts = ax.twinx()
    power = np.asarray(burn.series("power"))
    watts.plot(minutes, power, color=VERMILION, linestyle="-.", linewidth=1.4, label="power")
    watts.set_ylabel("power [W]")
    watts.set_ylim(bottom=0.0)
    fuel = _fuel_left(burn, ax, minutes, units)
    ax.set_zorder(max(watts.get_zorder(), fuel.get_zorder()) + 1)  # labels over the other curves
    ax.patch.set_visible(False)
    mark_milestones(burn, ax)
    lines = [*ax.get_lines(), *watts.get_lines(), *fuel.get_lines()]
    named = [line for line in lines if not str(line.get_label()).startswith("_")]
    ax.legend(
        named,
        [str(line.get_label()) for line in named],
        loc="upper center",
        bbox_to_anchor=(0.5, -0.17),
        ncols=min(len(named), 5),
        frameon=False,
        fontsize="small",
    )
    ax.set_title(burn.setup.name or "burn")
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
    kind = burn.setup.burner.kind
    hidden: set[str] = set()
    if burn.setup.pot is None:
        hidden.update(WATER)
    if kind == "open cup":
        hidden.update(GALLERY + JETS)
    if kind == "sealed chamber":
        hidden.update(WELL)
    if burn.setup.burner.wick is None:
        hidden.add("wick_power")
    return frozenset(hidden)


def mark_milestones(burn: "Burn", ax: "Axes") -> None:
    """Draw a line at each milestone; the labels of close ones step down."""
    times = [(getattr(burn.milestones, name).time, label) for name, label in MARKS.items()]
    marks = sorted((time / 60.0, label) for time, label in times if time is not None)
    previous, down = float("-inf"), 0
    for when, label in marks:
        down = down + 1 if when - previous < CLOSE * float(burn.time[-1]) / 60.0 else 0
        previous = when
        ax.axvline(when, color="0.6", linewidth=0.8, linestyle=(0, (1, 2)), label="_milestone")
        ax.annotate(
            label,
            (when, 0.98 - 0.22 * down),
            xycoords=("data", "axes fraction"),
            rotation=90,
            ha="right",
            va="top",
            fontsize="small",
            bbox={"boxstyle": "square,pad=0.1", "facecolor": "white", "edgecolor": "none", "alpha": 0.8},
        )
