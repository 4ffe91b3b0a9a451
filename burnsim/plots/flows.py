"""Flows of heat at one instant, from the flames to every place."""

from typing import TYPE_CHECKING, NamedTuple

from burnsim.measures import written
from burnsim.plots.style import INK, ORANGE, PALE, SKY, VERMILION, new_axes, quiet
from burnsim.units import format_time

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from burnsim.model.balances.flows import Flows
    from burnsim.solve import Burn


class Flow(NamedTuple):
    """One flow of heat: where, in words, and how much [W]."""

    group: str
    words: str
    watts: float


LOOKS = {
    "flames": (VERMILION, ""),
    "to the burner": (ORANGE, "///"),
    "to the pot": (SKY, "..."),
    "away": ("0.85", "\\\\\\"),
}
LEAST = 0.05  # flows below this are left out [W]


def heat_flows(flows: "Flows") -> tuple[Flow, ...]:
    """The flows of heat of an instant, grouped; those that are nought left out.

    Parameters
    ----------
    flows : `burn.flows_at(time)`
    """
    fire, walls, pot = flows.fire, flows.walls, flows.pot
    found = (
        Flow("flames", "jets", fire.jet_power),
        Flow("flames", "wick", fire.wick_power),
        Flow("flames", "well or vents", fire.vent_power),
        Flow("to the burner", "jets' flames to rim", fire.jets_to_rim),
        Flow("to the burner", "wick's flame to rim and wall", fire.wick_to_rim + walls.wick_to_wall),
        Flow("to the burner", "wick's flame to liquid", walls.wick_to_liquid),
        Flow("to the burner", "well's flame to liquid", flows.pool.heat),
        Flow("to the burner", "well's flame to rim", fire.edge_to_rim),
        Flow("to the burner", "walls to liquid", walls.outer_foot + walls.gallery_inner + walls.well_inner),
        Flow("to the pot", "gas to bottom", pot.bottom),
        Flow("to the pot", "gas to side wall", pot.wall),
        Flow("to the pot", "radiation", pot.radiation),
        Flow("to the pot", "rim to pot", pot.contact),
        Flow("away", "flue gas", pot.flue),
        Flow("away", "radiation past the pot", pot.radiation_lost),
        Flow("away", "from the burner's walls", walls.gallery_loss + walls.well_loss + walls.rim_loss),
        Flow("away", "from the pot, dry", pot.loss),
        Flow("away", "steam", pot.steam_heat),
        Flow("away", "unburnt vapour", fire.unburnt_heat),
    )
    return tuple(flow for flow in found if abs(flow.watts) >= LEAST)


def watts_text(watts: float) -> str:
    """Watts in three figures, and in plain ones.

    >>> watts_text(1120.4), watts_text(8.317)
    ('1120 W', '8.32 W')
    """
    return f"{watts:.0f} W" if abs(watts) >= 100.0 else f"{watts:.3g} W"


def plot_flows(burn: "Burn", time: float, ax: "Axes | None" = None, *, units: str = "si") -> "Axes":
    """Draw every flow of heat at an instant as a bar.

    Parameters
    ----------
    burn
        A finished burn.
    time
        Instant [s].
    ax
        Axes to draw on [W]; default none: new ones.
    units
        "si" or "us", for the temperatures in its title.

    Returns
    -------
    Axes
    """
    ax = new_axes(ax, 7.0, 5.0)
    flows = burn.flows_at(time)
    found = heat_flows(flows)
    y, ticks, words = 0.0, [], []
    most = max((abs(flow.watts) for flow in found), default=1.0)
    before = ""
    for flow in found:
        if flow.group != before:
            y += 0.6 if before else 0.0
            ax.text(0.99, y - 0.1, flow.group, transform=ax.get_yaxis_transform(), fontsize="small", color=PALE,
                    ha="right", va="center", style="italic")  # fmt: skip
            before = flow.group
        colour, hatch = LOOKS[flow.group]
        ax.barh(y, flow.watts, height=0.7, color=colour, edgecolor=INK, linewidth=0.6, hatch=hatch)
        ax.text(max(flow.watts, 0.0) + 0.01 * most, y, watts_text(flow.watts), va="center", fontsize="small")
        ticks.append(y)
        words.append(flow.words)
        y += 1.0
    ax.set_yticks(ticks, words, fontsize="small")
    ax.set_ylim(max(y, 1.0) - 0.4, -0.6)
    ax.set_xlim(right=1.3 * most)
    ax.axvline(0.0, color=INK, linewidth=0.8)
    ax.set_xlabel("heat [W]")
    quiet(ax)
    title = f"{burn.setup.name or 'burn'}, {format_time(time)} after the match"
    if burn.setup.pot is not None:
        title += f"\nwater {written(flows.pot_temperature, 'temperature', units)}"
    ax.set_title(title)
    return ax
