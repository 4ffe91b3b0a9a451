"""Heat in the top plate on its way from the jets' flames to the liquid."""

import math
from dataclasses import replace

import numpy as np
import pytest
from burners import BRASS, DEFAULT_RTOL, PALM
from numpy.typing import NDArray
from scipy.integrate import solve_bvp, trapezoid
from scipy.optimize import brentq

from burnsim.model.balances.chambers import Liquid, liquid
from burnsim.model.balances.flows import balances, derivatives
from burnsim.model.balances.state import Regime, unpack
from burnsim.model.balances.walls import WallFlows, wall_flows, waterline
from burnsim.model.balances.wick import WickFlame
from burnsim.model.description.burner import Burner
from burnsim.model.description.conditions import Charge, Pot
from burnsim.model.description.parts import Jets
from burnsim.model.description.setup import Setup
from burnsim.model.description.vary import vary
from burnsim.model.parameters.derive import derive, first_state
from burnsim.model.parameters.record import Parameters, Walls
from burnsim.model.parameters.walls import plate_share
from burnsim.solve.compile.engine import march_compiled
from burnsim.solve.run import ready, told
from burnsim.substances.blend import blend

ML = 1e-6
RIM = 480.0  # [K]
OUT = Regime(0.0, 0.0, 0.0)
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
        return wall_flows(gallery, well, RIM, RIM, dry, NO_WICK, p)

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
    wall = (30e-3 - waterline(gallery, p.gallery)) / (sheet * math.pi * 70e-3)
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
    wall = (45e-3 - waterline(gallery, p.gallery)) / (0.5 * sheet * math.pi * inner)
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
    """Copper feeds its liquid as well from jets far in as from jets at the edge, stainless steel does not.

    By conduction alone: what radiates down goes another way.
    """
    metals = [vary(OVER_POT, {"burner.metal": metal}) for metal in CONDUCTIVITY]
    left = [power(setup, emissivity=0.0) / power(setup, emissivity=0.0, plate=0.0) for setup in metals]
    assert 1.0 > left[0] > left[1] > left[2] > left[3] > 0.0


def test_the_plate_radiates_to_the_liquid_as_a_disc_over_a_disc() -> None:
    """Incropera and DeWitt, tables 13.2 and section 13.3.5 (from memory), with numbers of a can 70 mm wide."""
    setup = vary(CHAMBER, {"burner.metal": "steel"})
    radius = 35e-3 - 0.3e-3
    p = derive(setup)
    p = replace(p, walls=replace(p.walls, underside=math.pi * radius**2))  # as hot all over
    flows = steady(setup, p)
    gallery, _ = cold(setup, p)
    distance = 30e-3 - gallery.level
    ratio = 2.0 + (distance / radius) ** 2
    view = 0.5 * (ratio - math.sqrt(ratio**2 - 4.0))
    resistance = 0.4 / 0.6 + 2.0 / (1.0 + view) + 0.1 / 0.9
    wanted = 5.670374e-8 * math.pi * radius**2 * (RIM**4 - gallery.temperature**4) / resistance
    assert flows.underside == pytest.approx(wanted, rel=1e-6)
    assert flows.into_gallery == pytest.approx(flows.outer_foot + wanted, rel=1e-6)


def test_the_plate_of_a_double_wall_is_a_strip_over_a_strip() -> None:
    p = derive(COVERED)
    flows = steady(COVERED, p)
    gallery, _ = cold(COVERED, p)
    depth = (45e-3 - gallery.level) / 4.5e-3
    view = math.sqrt(1.0 + depth**2) - depth
    bright = COVERED.burner.material.emissivity
    resistance = (1.0 - bright) / bright + 2.0 / (1.0 + view) + 0.1 / 0.9
    area = math.pi * (61.8e-3 - 4.5e-3) * 4.5e-3
    wanted = 5.670374e-8 * area * (RIM**4 - gallery.temperature**4) / resistance
    assert flows.underside == pytest.approx(wanted, rel=1e-6)
    assert flows.underside < 0.02 * flows.into_gallery


def test_nothing_shines_on_nothing_nor_from_a_mirror() -> None:
    """No exchange with a gallery that has run dry, from a plate without emissivity, or in an open cup."""
    p = derive(CHAMBER)
    first = first_state(CHAMBER, p)
    dry = liquid((0.0,), 0.0, 0.0, p.gallery, p)
    assert wall_flows(dry, dry, RIM, RIM, 400.0, NO_WICK, p).underside == 0.0
    mirror = replace(p, walls=replace(p.walls, emissivity=0.0))
    assert steady(CHAMBER, mirror).underside == 0.0
    assert steady(CHAMBER, p).underside > 0.0
    wet = liquid(first.gallery, first.gallery_heat, 0.0, p.gallery, p)
    assert wall_flows(wet, wet, wet.temperature, wet.temperature, wet.temperature, NO_WICK, p).underside == 0.0
    cup = Setup(Burner("open cup", outer_diameter=65e-3, height=25e-3), Charge(blend("ethanol"), volume=40 * ML))
    q = derive(cup)
    pool = liquid(first_state(cup, q).well, 0.0, 0.0, q.well, q)
    assert wall_flows(pool, pool, RIM, RIM, 400.0, NO_WICK, q).underside == 0.0


@pytest.mark.parametrize("setup", [CHAMBER, COVERED])
def test_what_leaves_the_plate_below_enters_the_liquid(setup: Setup) -> None:
    """The rates of rim and gallery differ from those of a mirror by one flow, with opposite signs."""
    p = derive(setup)
    mirror = replace(p, walls=replace(p.walls, emissivity=0.0))
    first = first_state(setup, p)
    warm = RIM - 298.15
    hot = replace(first, collar_heat=p.collar.capacity * warm, rim_heat=p.walls.rim_capacity * warm)
    flows = balances(hot, OUT, p)
    rates = [unpack(derivatives(balances(hot, OUT, q), q), p.components) for q in (p, mirror)]
    assert flows.walls.underside > 0.1
    assert rates[0].rim_heat - rates[1].rim_heat == pytest.approx(-flows.walls.underside, rel=1e-9)
    assert rates[0].gallery_heat - rates[1].gallery_heat == pytest.approx(flows.walls.underside, rel=1e-9)


def test_the_worse_a_metal_conducts_the_more_its_plate_gives_by_radiation() -> None:
    """Alike in emissivity, steel and stainless steel stand far hotter than copper before their walls feed as much."""
    metals = [vary(OVER_POT, {"burner.metal": metal}) for metal in CONDUCTIVITY]
    gained = [power(setup, emissivity=0.5) / power(setup, emissivity=0.0) for setup in metals]
    assert 1.0 < gained[0] < gained[1] < gained[2] < gained[3]


@pytest.mark.parametrize(
    ("metal", "hot"), [("copper", 430.0), ("brass", 530.0), ("steel", 590.0), ("stainless steel", 650.0)]
)
def test_a_plate_that_its_jets_feed_radiates_as_its_own_temperatures_say(metal: str, hot: float) -> None:
    """Both sides of the ring of jets solved as a sheet that radiates from both faces to what is at 350 K.

    d(k t r dT/dr)/dr = 2 eps sigma r (T^4 - T_cold^4); at the edge the wall goes on, down to the liquid.
    """
    setup = vary(CHAMBER, {"burner.metal": metal})
    sheet, bright = CONDUCTIVITY[metal] * 0.3e-3, setup.burner.material.emissivity
    ring, edge, cool = 25e-3, 34.7e-3, 350.0
    wall = 30e-3 - 20e-6 / (math.pi * edge**2)

    def flux(temperature: NDArray[np.float64] | float) -> NDArray[np.float64]:
        return np.asarray(2.0 * bright * 5.670374e-8 * (temperature**4 - cool**4))

    def slopes(r: NDArray[np.float64], y: NDArray[np.float64]) -> NDArray[np.float64]:
        return np.array([y[1] / (sheet * r), r * flux(y[0])])

    def fed(low: NDArray[np.float64], high: NDArray[np.float64]) -> NDArray[np.float64]:
        return np.array([low[1], high[0] - hot])

    def leaving(low: NDArray[np.float64], high: NDArray[np.float64]) -> NDArray[np.float64]:
        return np.array([low[0] - hot, high[1] + sheet * edge * (high[0] - cool) / wall])

    radiated = 0.0
    for ends, low, high in ((fed, 1e-5, ring), (leaving, ring, edge)):
        r = np.linspace(low, high, 400)
        found = solve_bvp(slopes, ends, r, np.array([np.full(400, hot), np.zeros(400)]), tol=1e-6)
        assert found.success
        radiated += float(trapezoid(r * flux(found.sol(r)[0]), r))
    share = radiated / (0.5 * edge**2 * float(flux(hot)))
    assert plate_share(setup) == pytest.approx(share, rel=0.12)
    assert share < 0.9


def test_a_plate_that_is_fed_at_its_edge_and_conducts_well_radiates_all_over() -> None:
    side = Jets(16, 0.9e-3, 25e-3)
    thick = replace(BRASS, metal="copper", wall_thickness=1e-3, jets=side)
    assert plate_share(replace(CHAMBER, burner=thick)) == pytest.approx(1.0, abs=0.02)
    assert plate_share(COVERED) == 1.0
