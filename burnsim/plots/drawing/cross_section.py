"""Cross-section of burner and pot to scale: walls, holes, levels, flames and, if wanted, dimensions."""

from math import inf
from typing import TYPE_CHECKING

from burnsim.errors import InputError
from burnsim.model.description import geometry
from burnsim.model.description.files import Design, as_setup
from burnsim.plots.drawing.dimensions import lay_out, scale_text, screen_of
from burnsim.plots.drawing.from_above import draw_from_above
from burnsim.plots.drawing.outline import Roof, flame_outlines
from burnsim.plots.drawing.true_scale import fix_scale, room_of, write
from burnsim.plots.labels import letter
from burnsim.plots.letters import wrapped
from burnsim.plots.style import (
    FLAME_FILL,
    INK,
    PALE,
    SPIRIT_FILL,
    STYLE,
    VERMILION,
    WATER_FILL,
    WICK_FILL,
    new_axes,
    picture,
)
from burnsim.units import format_time, measure, parse, written

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from burnsim.model.balances.flows import Flows
    from burnsim.model.description.burner import Burner
    from burnsim.model.description.conditions import Pot
    from burnsim.model.description.setup import Setup
    from burnsim.solve import Burn

MM = 1e3
CLEAR = {"boxstyle": "square,pad=0.1", "facecolor": "white", "edgecolor": "none", "alpha": 0.85}
SCALE_TOLD = ", scale 1 : 2.5, measures in mm"
WALL = 1.6  # thickness at which thin sheet is drawn [points]
HATCHED = 0.7  # least thickness of metal that is hatched; thinner is black: ISO 128, from memory [mm of paper]


@picture
def section(
    setup: Design,
    ax: "Axes | None" = None,
    *,
    burn: "Burn | None" = None,
    at: float | str | None = None,
    dimensions: bool = False,
    units: str = "si",
    scale: float | None = None,
) -> "Axes":
    """Draw burner and pot cut through their axis, to scale; cut metal is hatched, or black where it is too thin.

    Parameters
    ----------
    setup : what to draw. Without a burn, the liquid stands as poured in, cold and level.
    ax : axes to draw on [mm or in]; default none: new ones
    burn, at : of `burnsim.burn`, with this setup, and a time from its match [s] or a text, "1 min": levels, froth and
        flames are those of that instant. Default none.
    dimensions : whether to write measures to it, at a stated scale of paper and with the view from above beside it
    units : "si" or "us"
    scale : millimetres of the burner in one of paper, such as 2.0 for 1 : 2; default none: with measures, the largest
        usual scale that fits the axes; without, as large as they are

    Raises
    ------
    InputError
        For a scale that is not above 0, or units that are not known.
    """
    setup = as_setup(setup)
    at = None if at is None else parse(at, "time", "at")
    ax = new_axes(ax, 7.0, 5.0)
    measure("length", units)
    if scale is not None and not 0.0 < scale < inf:
        raise InputError("scale", scale, "is out of range; allowed above 0", "give 2.0 for 1 : 2")
    burner, pot = setup.burner, setup.pot
    roof = _roof(setup)
    flows: Flows | None = None
    if burn is None or at is None:
        even = _cold_level(setup)
        levels = (even, even, 0.0)
    else:
        from matplotlib.patches import Polygon

        from burnsim.model.balances.events import froth_level

        flows = burn.flows(at)
        froth = froth_level(flows, burn.parameters) * MM if burner.jets is not None else 0.0
        levels = (flows.gallery.level * MM, flows.well.level * MM, froth)
        for outline in flame_outlines(burn, at, roof):
            ax.add_patch(
                Polygon(
                    outline.corners, closed=True, facecolor=FLAME_FILL, edgecolor=VERMILION, linewidth=0.9,
                    linestyle="-" if outline.what == "jet" else "--", label=f"_flame {outline.what}", zorder=1.5,
                )
            )  # fmt: skip
    name = setup.name or "burner"
    told = "" if at is None else f", {format_time(at)} after the match"
    lines = len(_title(ax, name, told + (SCALE_TOLD if dimensions else "")))
    layout = lay_out(setup, units, room_of(ax, lines), scale)
    _liquids(ax, burner, levels)
    _walls(ax, burner, layout.scale)
    _screen(ax, setup)
    if pot is not None and roof is not None:
        _pot(ax, pot, roof, burner)
    frame = _frame(setup, roof)
    if dimensions:
        told += f", scale {scale_text(layout.scale)}" + (", measures in mm" if units == "si" else "")
        write(ax, layout)
        if layout.above is not None:
            draw_from_above(ax, burner, layout.above, layout.scale)
        frame = layout.frame
    elif flows is not None:
        _readings(ax, setup, flows, roof, units)
    reach = _reach(setup, roof) if dimensions else frame[1]
    ax.plot([-reach, reach], [_foot(burner)] * 2, color=PALE, linewidth=0.8, label="_table")
    if dimensions or scale is not None:
        fix_scale(ax, frame, layout.scale)
    else:
        ax.set_xlim(*frame[:2])
        ax.set_ylim(*frame[2:])
        ax.set_aspect("equal")
    ax.set_axis_off()
    ax.set_title("\n".join(_title(ax, name, told)), fontsize="medium", fontfamily=STYLE["font.family"])
    return ax


def _title(ax: "Axes", name: str, told: str) -> list[str]:
    """Name and what is shown, in lines that fit the figure."""
    room = 72.0 * room_of(ax)[0] / 25.4
    lines = wrapped(name + told, room, letter())
    return lines if len(lines) == 1 else [*wrapped(name, room, letter()), told.removeprefix(", ")]


def _foot(burner: "Burner") -> float:
    return -burner.wall_thickness * MM


def _roof(setup: "Setup") -> Roof | None:
    pot = setup.pot
    if pot is None:
        return None
    return Roof((setup.burner.height + pot.above_rim) * MM, pot.diameter / 2.0 * MM)


def _cold_level(setup: "Setup") -> float:
    """Level of the charge as poured, even in gallery and well [mm]."""
    burner = setup.burner
    return min(setup.charge.volume / (geometry.gallery_area(burner) + geometry.well_area(burner)), burner.height) * MM


def _liquids(ax: "Axes", burner: "Burner", levels: tuple[float, float, float]) -> None:
    """Fill gallery and well to their levels; froth is dotted."""
    gallery, well, froth = levels
    outer = geometry.inner_diameter(burner) / 2.0 * MM
    inner = geometry.inner_wall_diameter(burner) / 2.0 * MM
    hole = geometry.well_diameter(burner) / 2.0 * MM
    top = burner.height * MM
    if burner.has_gallery:
        for a, b in ((-outer, -inner), (inner, outer)) if inner > 0.0 else ((-outer, outer),):
            fill(ax, (a, b), (0.0, min(gallery, top)), "gallery")
            fill(ax, (a, b), (gallery, min(froth, top)), "froth", hatch="ooo")
    if hole > 0.0:
        fill(ax, (-hole, hole), (0.0, min(well, top)), "well")


def fill(
    ax: "Axes", across: tuple[float, float], up: tuple[float, float], what: str, *, colour: str = SPIRIT_FILL,
    edge: str = PALE, hatch: str = "", width: float = 0.6, zorder: float = 2.0,
) -> None:  # fmt: skip
    """Fill a rectangle [mm], if it has a height; of froth, the hatching alone."""
    from matplotlib.patches import Rectangle

    if up[1] > up[0]:
        ground = "none" if hatch and colour == SPIRIT_FILL else colour
        ax.add_patch(
            Rectangle(
                (across[0], up[0]), across[1] - across[0], up[1] - up[0], facecolor=ground, edgecolor=edge,
                linewidth=width, hatch=hatch, label=f"_{what}", zorder=zorder,
            )
        )  # fmt: skip


def _walls(ax: "Axes", burner: "Burner", scale: float) -> None:
    """Walls, lid, wick, holes, slots and notches; metal that is thick enough on paper is hatched."""
    radius, top = (burner.outer_diameter - burner.wall_thickness) / 2.0 * MM, burner.height * MM
    floor = _foot(burner) / 2.0
    thick, sheet = max(WALL, 1.0), burner.wall_thickness * MM
    hatched = sheet / scale >= HATCHED

    def wall(xs: tuple[float, float], ys: tuple[float, float]) -> None:
        if hatched:
            (left, right), (low, high) = sorted(xs), sorted(ys)
            below = sheet / 2.0 if low == high else 0.0
            across, up = (left - sheet / 2.0, right + sheet / 2.0), (low - below, high + below)
            fill(ax, across, up, "wall", colour="white", edge=INK, hatch="//////", width=0.7, zorder=3)
            return
        ax.plot(xs, ys, color=INK, linewidth=thick, solid_capstyle="projecting", label="_wall", zorder=3)

    wick = burner.wick
    for side in (-1.0, 1.0):
        wall((side * radius, side * radius), (floor, top))
        inner = geometry.inner_wall_diameter(burner) / 2.0 * MM
        if inner > 0.0:
            slot = burner.feed_slots.height * MM if burner.feed_slots else 0.0
            middle = side * (inner - sheet / 2.0)
            wall((middle, middle), (slot, top))
            wall((middle, side * radius), (top, top))
        if wick is not None:
            x, foot = side * burner.outer_diameter / 2.0 * MM, _foot(burner)
            across, up = (x, x + side * wick.thickness * MM), (foot, foot + wick.height * MM)
            fill(ax, across, up, "wick", colour=WICK_FILL, hatch="xxx", zorder=2.5)
    wall((-radius, radius), (floor, floor))
    if not burner.has_well:
        wall((-radius, radius), (top, top))
    if burner.relief is not None:
        low = top - burner.relief.depth * MM
        ax.plot([-radius, radius], [low, low], color=PALE, linewidth=0.8, linestyle=":", label="_notches", zorder=3)
    jets = burner.jets
    if jets is None:
        return
    bore = jets.diameter / 2.0 * MM
    for height, ring in zip(geometry.jet_heights(burner), geometry.jet_rings(burner), strict=True):
        for side in (-1.0, 1.0):
            if jets.direction == "side":
                xs, ys = (side * radius,) * 2, (height * MM - bore, height * MM + bore)
            else:
                middle = side * ring / 2.0 * MM
                xs, ys = (middle - bore, middle + bore), (top, top)
            wide = max(thick, 72.0 * sheet / scale / 25.4 if hatched else 0.0) + 1.2
            ax.plot(xs, ys, color="white", linewidth=wide, solid_capstyle="butt", label="_jet", zorder=4)


def _pot(ax: "Axes", pot: "Pot", roof: Roof, burner: "Burner") -> None:
    """Pot, water, lid and what it stands on."""
    from matplotlib.patches import Polygon

    low, high, radius = roof.height, roof.height + pot.height * MM, roof.radius
    inside = (pot.diameter - 2.0 * pot.wall_thickness) * MM / 2.0
    floor = low + pot.wall_thickness * MM
    fill(ax, (-inside, inside), (floor, floor + _depth(pot)), "water", colour=WATER_FILL)
    sides = [-radius, -radius, radius, radius], [high, low, low, high]
    ax.plot(*sides, color=INK, linewidth=1.8, label="_pot", zorder=3)
    if pot.lid:
        ax.plot([-radius - 1.5, radius + 1.5], [high, high], color=INK, linewidth=1.2, label="_lid", zorder=3)
        ax.plot([-4.0, -4.0, 4.0, 4.0], [high, high + 5.0, high + 5.0, high], color=INK, linewidth=1.0, zorder=3)
    if pot.rest == "stand":
        for side in (-1.0, 1.0):
            x = side * max(0.8 * radius, burner.outer_diameter / 2.0 * MM + 6.0)
            ax.plot([x, x], [_foot(burner), low], color=PALE, linewidth=1.2, linestyle=(0, (6, 2)), label="_stand")
    elif pot.rest == "bumps" and pot.gap > 0.0:
        x, top = burner.outer_diameter / 2.0 * MM, burner.height * MM
        for side in (-1.0, 1.0):
            corners = [(side * (x - 2.0), top), (side * x, low), (side * (x + 0.1), top)]
            ax.add_patch(Polygon(corners, facecolor=PALE, edgecolor=INK, linewidth=0.5, label="_bump", zorder=3))


def _depth(pot: "Pot") -> float:
    """How deep the water stands in the pot [mm]."""
    return pot.water / geometry.disc(pot.diameter - 2.0 * pot.wall_thickness) * MM


def _reach(setup: "Setup", roof: Roof | None) -> float:
    """How far the table is drawn to either side [mm]."""
    screen = screen_of(setup)
    half = setup.burner.outer_diameter / 2.0 * MM + 8.0
    return max(half, roof.radius + 4.0 if roof else 0.0, screen.radius + 4.0 if screen else 0.0)


def _screen(ax: "Axes", setup: "Setup") -> None:
    """The windscreen, if there is one: two upright lines, broken where it is open near the ground."""
    screen = screen_of(setup)
    if screen is None or setup.screen is None:
        return
    foot = _foot(setup.burner)
    low = foot + setup.screen.open_share * (screen.top - foot)
    for side in (-1.0, 1.0):
        xs = [side * screen.radius] * 2
        ax.plot(xs, [low, screen.top], color=INK, linewidth=0.9, label="_screen", zorder=3)
        ax.plot(xs, [foot, low], color=INK, linewidth=0.9, linestyle=(0, (2, 2)), label="_openings", zorder=3)


def _frame(setup: "Setup", roof: Roof | None) -> tuple[float, float, float, float]:
    burner = setup.burner
    wick = burner.wick.thickness * MM if burner.wick else 0.0
    half = burner.outer_diameter / 2.0 * MM + wick + 8.0
    high = burner.height * MM * 1.8
    if roof is not None and setup.pot is not None:
        half = max(half, roof.radius + 12.0)
        high = roof.height + setup.pot.height * MM + 9.0
    screen = screen_of(setup)
    if screen is not None:
        half, high = max(half, screen.radius + 4.0), max(high, screen.top + 4.0)
    return -half, half, _foot(burner) - 4.0, high


def _readings(ax: "Axes", setup: "Setup", flows: "Flows", roof: Roof | None, units: str) -> None:
    """Temperatures and powers, where they are."""
    burner, fire = setup.burner, flows.fire
    powers = (("jets", fire.jet_power, 0.0), ("wick", fire.wick_power, 0.0), ("well", fire.vent_power, 1.0))
    lines = [f"{flame} {watts:.0f} W" for flame, watts, least in powers if watts > least]
    x = burner.outer_diameter / 2.0 * MM + 14.0
    ax.text(x, 0.35 * burner.height * MM, "\n".join(lines) or "no flame", fontsize="small", va="center", bbox=CLEAR)
    fuel = flows.gallery if burner.has_gallery else flows.well
    ax.text(
        -x, 0.35 * burner.height * MM, f"fuel {written(fuel.temperature, 'temperature', units)}\n"
        f"rim {written(flows.rim_temperature, 'temperature', units)}", fontsize="small", va="center", ha="right",
        bbox=CLEAR,
    )  # fmt: skip
    if setup.pot is not None and roof is not None:
        told = f"water {written(flows.pot_temperature, 'temperature', units)}"
        ax.text(0.0, roof.height + 0.5 * _depth(setup.pot), told, fontsize="small", ha="center", va="center", zorder=5)
