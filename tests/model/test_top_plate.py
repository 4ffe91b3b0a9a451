"""Heat in the top plate on its way from the jets' flames to the liquid."""

import math
from dataclasses import replace

import pytest
from burners import BRASS, DEFAULT_RTOL, PALM
from scipy.optimize import brentq

from burnsim.model.balances.chambers import Liquid, liquid
from burnsim.model.balances.walls import WallFlows, wall_flows
from burnsim.model.balances.wick import WickFlame
from burnsim.model.description.conditions import Charge, Pot
from burnsim.model.description.setup import Setup
from burnsim.model.description.vary import vary
from burnsim.model.parameters.derive import derive, first_state
from burnsim.model.parameters.record import Parameters, Walls
from burnsim.solve.compile.engine import march_compiled
from burnsim.solve.run import ready, told
from burnsim.substances.blend import blend

ML = 1e-6
RIM = 480.0  # [K]
NO_WICK = WickFlame(rate=0.0, tip=0.0, bound=0.0, heat_to_liquid=0.0, contact=0.0)
CHAMBER = Setup(BRASS, Charge(blend("ethanol"), volume=40 * ML, primer=4 * ML))
OVER_POT = replace(CHAMBER, pot=Pot(diameter=0.16, height=0.10, water=0.7e-3, rest="stand", gap=25e-3))
COVERED = Setup(
    PALM,
    Charge(blend("ethanol"), volume=37 * ML, primer=3 * ML),
    Pot(diameter=0.14, height=0.09, water=0.6e-3, rest="bumps", gap=1.5e-3),
)
CONDUCTIVITY = {
    "copper": 401.0,
    "brass": 110.0,
    "steel": 60.5,
    "stainless steel": 14.9,
}  # [W/m/K], Incropera, table A.1


def cold(setup: Setup, p: Parameters) -> tuple[Liquid, Liquid]:
    """The liquids as poured, so cold that no wall of these boils."""
    first = first_state(setup, p)
    gallery = liquid(first.gallery, first.gallery_heat, 0.0, p.gallery, p)
    return gallery, liquid(first.well, first.well_heat, 0.0, p.well, p)


def steady(setup: Setup, p: Parameters) -> WallFlows:
    """Flows below a hot rim once the outer wall warms no further, without a wick's flame."""
    gallery, well = cold(setup, p)

    def at(dry: float) -> WallFlows:
        return wall_flows(gallery, well, RIM, dry, NO_WICK, p)

    return at(brentq(lambda dry: at(dry).warming, 280.0, RIM, xtol=1e-10))


@pytest.mark.parametrize("metal", CONDUCTIVITY)
def test_the_plate_resists_as_a_ring_and_the_wall_as_a_strip(metal: str) -> None:
    """Two resistances in series, ln(D/d)/(2 pi k t) and length/(k t pi D), between rim and the wall's wet foot."""
    setup = vary(CHAMBER, {"burner.metal": metal})
    p = derive(setup)
    flows = steady(setup, p)
    gallery, _ = cold(setup, p)
    sheet = CONDUCTIVITY[metal] * 0.3e-3
    plate = math.log(70.0 / 50.0) / (2.0 * math.pi * sheet)
    wall = (30e-3 - gallery.level) / (sheet * math.pi * 70e-3)
    assert plate == pytest.approx(
        {"copper": 0.445, "brass": 1.62, "steel": 2.95, "stainless steel": 12.0}[metal], rel=0.01
    )
    assert flows.outer_foot * (plate + wall) == pytest.approx(RIM - gallery.temperature - flows.outer_hotter, rel=1e-3)


def test_jets_at_the_very_edge_have_no_plate_before_them() -> None:
    """In the side there is none, and in the top the less, the nearer the edge they are."""
    side = replace(
        CHAMBER, burner=replace(BRASS, jets=replace(BRASS.jets, direction="side", ring_diameter=None, height=25e-3))
    )
    assert derive(side).walls.plate == 0.0
    rings = [
        derive(vary(CHAMBER, {"burner.jets.ring_diameter": ring * 1e-3})).walls for ring in (40.0, 50.0, 60.0, 65.0)
    ]
    ways = [walls.plate for walls in rings]
    assert ways == sorted(ways, reverse=True)
    assert ways[-1] == pytest.approx(2.5e-3, rel=0.05)  # nearly flat there
    whole = [walls.rim_capacity + walls.dry_capacity for walls in rings]
    assert whole == pytest.approx([whole[0]] * 4, rel=1e-12)


def test_half_of_the_inner_wall_carries_what_crosses_the_plate() -> None:
    """Each side of the inner wall has half of its thickness, and half of the plate's: ln(D/d)/(pi k t) before it."""
    p = derive(COVERED)
    flows = steady(COVERED, p)
    gallery, _ = cold(COVERED, p)
    sheet = COVERED.burner.material.conductivity * COVERED.burner.wall_thickness
    inner = 62e-3 - 2.0 * (0.1e-3 + 4.5e-3)
    plate = math.log(62e-3 / inner) / (math.pi * sheet)
    wall = (45e-3 - gallery.level) / (0.5 * sheet * math.pi * inner)
    drop = RIM - gallery.temperature - flows.gallery_hotter
    assert flows.gallery_inner * (plate + wall) == pytest.approx(drop, rel=1e-9)


def test_a_flame_over_the_well_heats_the_inner_edge_itself() -> None:
    """No heat then crosses the plate to the inner wall; a pot that covers the well brings that back."""
    bare = replace(COVERED, pot=None)
    assert derive(bare).walls.inner_plate == 0.0
    assert derive(COVERED).walls.inner_plate == pytest.approx(4.5e-3, rel=0.1)


def power(setup: Setup, **changes: float) -> float:
    """Power of the jets when a third of the charge is left, with some numbers of the walls changed [W]."""
    start = ready(setup)
    walls: Walls = replace(start.parameters.walls, **changes)
    start = start._replace(parameters=replace(start.parameters, walls=walls))
    result = told(setup, start, march_compiled(start, DEFAULT_RTOL, keeps=True), DEFAULT_RTOL)
    course = [result.flows(at) for at in result.time.tolist()]
    now = next(k for k, flows in enumerate(course) if flows.gallery.volume < setup.charge.volume / 3.0)
    assert course[now].fire.wick_power < 1.0
    return course[now].fire.jet_power


def test_the_worse_a_metal_conducts_the_more_its_plate_takes_of_the_power() -> None:
    """Copper feeds its liquid as well from jets far in as from jets at the edge, stainless steel does not."""
    left = [
        power(setup) / power(setup, plate=0.0) for setup in (vary(OVER_POT, {"burner.metal": m}) for m in CONDUCTIVITY)
    ]
    assert 1.0 > left[0] > left[1] > left[2] > left[3] > 0.0
