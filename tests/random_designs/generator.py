"""Random designs over the documented envelope: all kinds, fuels, sites, and pots or none.

A seed is a design for good: seeds that once failed are kept beside this file, so a change of what is drawn here
makes them worthless. Wider or other designs need a generator of their own.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import replace
from random import Random
from typing import Any

from burnsim.errors import InputError
from burnsim.model.description import geometry
from burnsim.model.description.burner import Burner
from burnsim.model.description.conditions import Charge, Pot, Site
from burnsim.model.description.factors import BANDS, Factors
from burnsim.model.description.parts import FeedSlots, Jets, Notches, Wick
from burnsim.model.description.setup import Setup
from burnsim.substances.air import pressure_at_altitude
from burnsim.substances.blend import Blend, blend
from burnsim.substances.metals import METALS
from burnsim.substances.recipe import READY
from burnsim.substances.water import boiling_point

ML = 1e-6
MM = 1e-3
PURE = ("methanol", "ethanol", "2-propanol", "acetone")
MIXED: tuple[dict[str, float], ...] = (
    {"ethanol": 0.6, "water": 0.4},
    {"ethanol": 0.3, "water": 0.7},
    {"methanol": 0.4, "2-propanol": 0.6},
    {"methanol": 0.3, "ethanol": 0.5, "water": 0.2},
)
FUELS: tuple[str | dict[str, float], ...] = (*PURE, *sorted(set(READY) - set(PURE)), *MIXED)
LATER = ("ullage_air", "rim_leak")
"""Factors that came after seeds were kept: drawn once a design stands, so that all else of it stays as it was."""
EARLY = {name: band for name, band in BANDS.items() if name not in LATER}
COLDEST, WARMEST = 250.15, 318.15  # a design's air may be no colder [K]


class Draw:
    """Numbers from a seed."""

    def __init__(self, seed: int) -> None:
        self.source = Random(seed)

    def even(self, low: float, high: float) -> float:
        return self.source.uniform(low, high)

    def log(self, low: float, high: float) -> float:
        """Evenly in the logarithm: small things as often as large ones."""
        return math.exp(self.source.uniform(math.log(low), math.log(high)))

    def of(self, choices: Sequence[Any]) -> Any:
        return self.source.choice(choices)

    def chance(self, share: float) -> bool:
        return self.source.random() < share


def random_burner(draw: Draw) -> Burner:
    kind = draw.of(("double wall", "double wall", "sealed chamber", "open cup"))
    diameter = draw.log(25 * MM, 150 * MM)
    height = draw.log(12 * MM, 100 * MM)
    jets = slots = notches = wick = gap = None
    if kind != "open cup":
        rows = draw.of((1, 1, 1, 2))
        direction = draw.of(("side", "side", "top"))
        place = draw.even(0.3, 0.95) * height if direction == "side" else None
        count = rows * max(round(draw.log(1.0, 100.0) / rows), 1)
        jets = Jets(count, draw.log(0.3 * MM, 3.0 * MM), place, direction, rows=rows)
    if kind == "double wall":
        gap = draw.log(0.8 * MM, 15 * MM)
        slots = FeedSlots(draw.of(range(1, 13)), draw.log(0.8 * MM, 10 * MM), draw.log(0.4 * MM, 6 * MM))
    if kind != "sealed chamber" and draw.chance(0.5):
        notches = Notches(draw.of(range(1, 13)), draw.log(0.8 * MM, 8 * MM), draw.log(0.2 * MM, 4 * MM))
    if kind != "open cup" or draw.chance(0.5):
        wick = Wick(draw.even(0.1, 0.5) * height, draw.log(0.4 * MM, 4 * MM))
    return Burner(
        kind,
        outer_diameter=diameter,
        height=height,
        wall_thickness=draw.log(0.06 * MM, 1.5 * MM),
        metal=draw.of(sorted(METALS)),
        gallery_gap=gap,
        rim_width=draw.log(0.2 * MM, 3 * MM),
        jets=jets,
        feed_slots=slots,
        relief=notches,
        wick=wick,
    )


def random_pot(draw: Draw, site: Site) -> Pot:
    water = draw.log(0.1e-3, 3e-3)
    diameter = draw.even(80 * MM, 260 * MM)
    needed = water / (0.25 * math.pi * diameter**2)
    height = max(needed * draw.even(1.1, 2.0), 40 * MM)
    rest = draw.of(("full ring", "bumps", "stand"))
    return Pot(
        diameter,
        min(height, 0.55),
        water,
        draw.even(273.65, min(360.0, boiling_point(pressure_at_altitude(site.altitude)) - 1.0)),
        wall_thickness=draw.log(0.3 * MM, 3 * MM),
        metal=draw.of(sorted(METALS)),
        lid=draw.chance(0.7),
        rest=rest,
        gap=draw.log(0.3 * MM, 5 * MM) if rest == "bumps" else draw.log(0.5 * MM, 60 * MM),
    )


def random_fuel(draw: Draw) -> Blend:
    spec = draw.of(FUELS)
    return blend(spec)


def random_setup(draw: Draw) -> Setup:
    """A setup that a person might put on paper; raises InputError where it cannot be built."""
    burner = random_burner(draw)
    most = min(geometry.capacity(burner), 200 * ML)
    volume = draw.log(5 * ML, most) if most > 5 * ML else 5 * ML
    primer = draw.log(0.3 * ML, 6 * ML) if burner.wick is not None and draw.chance(0.8) else 0.0
    site = Site(
        draw.even(COLDEST, WARMEST),
        draw.even(0.0, 4500.0),
        draw.even(0.0, 1.0),
        draw.of((0.0, 0.0, 0.5, 1.5, 4.0)),
        math.radians(draw.of((0.0, 0.0, 0.0, 3.0, 12.0))),
    )
    charge = Charge(random_fuel(draw), volume, primer)
    pot = random_pot(draw, site) if draw.chance(0.75) else None
    factors = Factors()
    if draw.chance(0.5):
        factors = Factors(**{name: draw.log(band.low, band.high) for name, band in EARLY.items()})
    return Setup(burner, charge, pot, site, factors)


def seeded_setup(seed: int) -> Setup:
    """The first design from a seed that can be built."""
    draw = Draw(seed)
    while True:
        try:
            return with_later_factors(random_setup(draw), draw.log)
        except InputError:
            continue


def with_later_factors(setup: Setup, choose: Callable[[float, float], float]) -> Setup:
    """A design whose factors are drawn, with those of `LATER` chosen from their bands too."""
    if setup.factors == Factors():
        return setup
    later = {name: choose(BANDS[name].low, BANDS[name].high) for name in LATER}
    return replace(setup, factors=replace(setup.factors, **later))
