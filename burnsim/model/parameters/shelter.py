"""What a windscreen does: to the wind behind it, to the air that reaches the flames, and to the gas beside the pot."""

from math import hypot, pi, sqrt
from typing import NamedTuple

from burnsim.closures.convection import mixed_coefficient, vertical_wall, wind_coefficient
from burnsim.closures.radiation import linear_coefficient
from burnsim.closures.wind import (
    CYLINDER_PRESSURES,
    screen_draught,
    wind_behind_screen,
    wind_through_openings,
)
from burnsim.constants import GRAVITY
from burnsim.model.description import geometry
from burnsim.model.description.screen import Screen
from burnsim.model.description.setup import Setup
from burnsim.substances import air

UNLIMITED = 1e3
"""Air that reaches flames in the open: more than any needs [kg/s]."""

SCREENED_GAS = 900.0
"""Of the gas between pot and screen; resolved flames leave the pot's edge at 460 to 1340 K. The draught goes with
sqrt(1 - T_room/T), which hardly changes [K]."""

SCREEN = 420.0  # of the screen, for its loss to the room [K]
SCREEN_EMISSIVITY = 0.3  # of thin sheet that has been used, common practice, no source

ONE_WARM_WALL = 4.86
"""Nusselt number over twice the width of a slot with one wall that takes heat (R. K. Shah, A. L. London 1978; from
memory): heat that slow gas gives across a narrow slot."""


def wind_at(setup: Setup, height: float) -> float:
    """Wind at a height above the ground, behind the windscreen if there is one [m/s]."""
    screen = setup.screen
    if screen is None:
        return setup.site.wind
    through = wind_through_openings(screen.open_share)
    return setup.site.wind * wind_behind_screen(screen.height - height, screen.clearance, through)


def wind_up(setup: Setup, low: float, high: float) -> float:
    """Mean wind along something upright between two heights [m/s]."""
    return sum(wind_at(setup, low + (k + 0.5) / 8.0 * (high - low)) for k in range(8)) / 8.0


def inner_radius(screen: Screen, setup: Setup) -> float:
    """Radius of the screen's inside [m]."""
    inside = setup.burner.outer_diameter if setup.pot is None else setup.pot.diameter
    return 0.5 * inside + screen.clearance


def pot_bottom(setup: Setup) -> float:
    """Height of the pot's bottom above the ground, of the rim without a pot [m]."""
    return setup.burner.height + (0.0 if setup.pot is None else setup.pot.above_rim)


def enclosed_side(setup: Setup) -> float:
    """How far up the pot's side the screen goes [m]."""
    if setup.screen is None or setup.pot is None:
        return 0.0
    return min(max(setup.screen.height - pot_bottom(setup), 0.0), setup.pot.height)


def slot_coefficient(setup: Setup) -> float:
    """Heat that slow gas gives either wall of the slot between pot and screen [W/m2/K]; 0 without a screen."""
    if setup.screen is None:
        return 0.0
    return ONE_WARM_WALL * air.conductivity(SCREENED_GAS) / (2.0 * setup.screen.clearance)


def slot_fill(setup: Setup, pressure: float) -> float:
    """Flow of hot gas that fills that slot, for each metre a second of its speed [kg/m]."""
    if setup.screen is None or setup.pot is None:
        return UNLIMITED
    around = 2.0 * pi * (inner_radius(setup.screen, setup) - 0.5 * setup.screen.clearance)
    return air.density(SCREENED_GAS, pressure) * around * setup.screen.clearance


def screen_loss(setup: Setup, pressure: float) -> float:
    """Heat that the gas in that slot loses through the screen to the room, per area [W/m2/K]; 0 without a screen."""
    screen = setup.screen
    if screen is None:
        return 0.0
    room = setup.site.air_temperature
    film = 0.5 * (SCREEN + room)
    windy = wind_coefficient(setup.site.wind, 2.0 * inner_radius(screen, setup), film, pressure)
    outside = mixed_coefficient(vertical_wall(screen.height, SCREEN, room, pressure), windy)
    outside += linear_coefficient(SCREEN_EMISSIVITY, SCREEN, room)
    inside = slot_coefficient(setup)
    return inside * outside / (inside + outside)


def air_limit(setup: Setup, pressure: float) -> float:
    """Air that can reach the flames behind a screen [kg/s]; `UNLIMITED` without one, or without a pot."""
    ways = passages(setup, pressure)
    return UNLIMITED if ways is None else hypot(ways.up, ways.lee) + ways.over


def slot_share(setup: Setup, pressure: float) -> float:
    """Share of the flames' gas that leaves along the pot's side, and not by the openings in the screen's lee."""
    ways = passages(setup, pressure)
    return 1.0 if ways is None or ways.lee <= 0.0 else ways.up / hypot(ways.up, ways.lee)


class Passages(NamedTuple):
    """Ways of air to the flames behind a screen [kg/s]."""

    up: float  # that leaves as gas along the pot's side
    lee: float  # that leaves as gas by the openings in the lee
    over: float  # that a wind blows in over a screen that ends below the pot


def passages(setup: Setup, pressure: float) -> Passages | None:
    """Air that reaches the flames behind a screen, by the way on which its gas leaves; None without screen or pot.

    Draught, and half of the wind's difference of pressure between windward and lee, drive gas up between screen and
    pot, with laminar friction there. A screen that ends below the pot's bottom leaves it a way past the pot's edge,
    outside, and its air comes in over the top of the screen. What a wind blows in by the openings to windward
    leaves by those in the lee, so far as it can press the hot gas down to them, from the flames' height.
    """
    screen, pot = setup.screen, setup.pot
    if screen is None or pot is None:
        return None
    room = setup.site.air_temperature
    wind = setup.site.wind
    density = air.density(room, pressure)
    radius = inner_radius(screen, setup)
    round_it = 2.0 * pi * radius
    bottom = pot_bottom(setup)
    above = max(bottom - screen.height, 0.0)
    flames = flame_height(setup)
    middle = 2.0 * pi * (radius - 0.5 * screen.clearance)
    hot = density * room / SCREENED_GAS
    blowing = 0.5 * CYLINDER_PRESSURES * density * wind**2
    up = screen_draught(
        round_it * (screen.open_share * screen.height + above),
        middle * hypot(screen.clearance, above),
        max(max(screen.height, bottom) - flames, above),
        12.0 * air.viscosity(SCREENED_GAS) * enclosed_side(setup) / (hot * middle * screen.clearance**3),
        density,
        SCREENED_GAS,
        room,
        0.5 * blowing,
    )
    down = GRAVITY * (density - hot) * max(flames - screen.open_share * screen.height, 0.0)
    lee = density * wind * wind_through_openings(screen.open_share) * 2.0 * radius * min(screen.height, bottom)
    lee *= sqrt(1.0 - down / blowing) if blowing > down else 0.0
    return Passages(up=up, lee=lee, over=density * wind * 2.0 * radius * above)


def flame_height(setup: Setup) -> float:
    """Height of the flames' foot above the ground: the lowest jets, or the rim [m]."""
    burner = setup.burner
    return burner.height if burner.jets is None else min(geometry.jet_heights(burner))
