"""Designs at and beyond the edge of sense: what may be built and burnt, though nobody would.

No pot, no wick, slots of a tenth of a millimetre, relief as wide as the rim, a stand that leans, wind, ice water and
water all but boiling, blends of two to five components, every factor at an end of its band. As in `generator.py`, a
seed is a design for good.
"""

import math

from random_designs.generator import EARLY, ML, MM, PURE, Draw, with_later_factors

from burnsim.errors import InputError
from burnsim.model.description import geometry
from burnsim.model.description.burner import Burner
from burnsim.model.description.conditions import Charge, Pot, Site
from burnsim.model.description.factors import Factors
from burnsim.model.description.parts import FeedSlots, Jets, Notches, Wick
from burnsim.model.description.setup import Setup
from burnsim.substances.air import pressure_at_altitude
from burnsim.substances.blend import Blend, blend
from burnsim.substances.water import boiling_point

METAL = ("aluminium", "brass", "copper", "stainless steel", "steel", "titanium")
COMPONENTS = (*PURE, "water")


def wide_fuel(draw: Draw) -> Blend:
    """A pure fuel, or a blend of two to five components, each between a trace and nearly all."""
    count = draw.of((1, 2, 2, 3, 3, 4, 5))
    if count == 1:
        return blend(draw.of(PURE))
    names = draw.source.sample(COMPONENTS, count)
    parts = [draw.log(0.01, 1.0) for _ in names]
    return blend({name: part / sum(parts) for name, part in zip(names, parts, strict=True)})


def wide_burner(draw: Draw) -> Burner:
    kind = draw.of(("double wall", "double wall", "double wall", "sealed chamber", "open cup"))
    height = draw.log(6 * MM, 250 * MM)
    jets = slots = notches = wick = gap = None
    if kind != "open cup":
        rows = draw.of((1, 1, 2, 4))
        direction = draw.of(("side", "top"))
        place = draw.even(0.05, 0.98) * height if direction == "side" else None
        jets = Jets(
            rows * max(round(draw.log(1.0, 300.0) / rows), 1), draw.log(0.2 * MM, 5 * MM), place, direction, rows=rows
        )
    if kind == "double wall":
        gap = draw.log(0.5 * MM, 30 * MM)
        slots = FeedSlots(draw.of(range(1, 25)), draw.log(0.1 * MM, 15 * MM), draw.log(0.1 * MM, 10 * MM))
    if kind != "sealed chamber" and draw.chance(0.6):
        notches = Notches(draw.of(range(1, 25)), draw.log(0.2 * MM, 30 * MM), draw.log(0.1 * MM, 15 * MM))
    if draw.chance(0.6):
        wick = Wick(draw.even(0.05, 0.9) * height, draw.log(0.2 * MM, 8 * MM))
    return Burner(
        kind,
        outer_diameter=draw.log(18 * MM, 250 * MM),
        height=height,
        wall_thickness=draw.log(0.05 * MM, 3 * MM),
        metal=draw.of(METAL),
        gallery_gap=gap,
        rim_width=draw.log(0.1 * MM, 8 * MM),
        jets=jets,
        feed_slots=slots,
        relief=notches,
        wick=wick,
    )


def wide_pot(draw: Draw, site: Site) -> Pot:
    water = draw.log(0.03e-3, 8e-3)
    diameter = draw.even(60 * MM, 380 * MM)
    boils = boiling_point(pressure_at_altitude(site.altitude))
    rest = draw.of(("full ring", "bumps", "stand"))
    return Pot(
        diameter,
        min(max(water / (0.25 * math.pi * diameter**2) * draw.even(1.05, 3.0), 30 * MM), 0.55),
        water,
        draw.of((273.16, 273.2, boils - 0.5, boils - 5.0, draw.even(274.0, boils - 1.0))),
        wall_thickness=draw.log(0.2 * MM, 5 * MM),
        metal=draw.of(METAL),
        lid=draw.chance(0.5),
        rest=rest,
        gap=draw.log(0.2 * MM, 10 * MM) if rest == "bumps" else draw.log(0.3 * MM, 90 * MM),
    )


def wide_setup_of(draw: Draw) -> Setup:
    """A setup that may be built; raises InputError where it may not."""
    burner = wide_burner(draw)
    site = Site(
        draw.even(250.15, 318.15),
        draw.even(0.0, 4500.0),
        draw.of((0.0, 1.0, draw.even(0.0, 1.0))),
        draw.of((0.0, 10.0, draw.even(0.0, 10.0))),
        math.radians(draw.of((0.0, 0.0, draw.even(0.0, 30.0)))),
    )
    volume = draw.log(1 * ML, max(geometry.capacity(burner), 1 * ML))
    primer = draw.log(0.1 * ML, 10 * ML) if burner.wick is not None and draw.chance(0.8) else 0.0
    pot = wide_pot(draw, site) if draw.chance(0.65) else None
    ends = {name: draw.of((band.low, 1.0, band.high)) for name, band in EARLY.items()}
    factors = Factors(**ends) if draw.chance(0.6) else Factors()
    return Setup(burner, Charge(wide_fuel(draw), volume, primer), pot, site, factors)


def wide_setup(seed: int) -> Setup:
    """The first such design from a seed that can be built."""
    draw = Draw(seed)
    while True:
        try:
            return with_later_factors(wide_setup_of(draw), lambda low, high: draw.of((low, 1.0, high)))
        except InputError:
            continue
