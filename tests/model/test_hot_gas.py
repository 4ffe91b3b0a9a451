"""The flames' gas along the pot: signs, limits, and what resolved flames give when the burner takes what it took there.

Resolved: benchmarks/resolved/cases.toml, computed by us with a general flow solver.
"""

import math
from collections.abc import Iterator
from dataclasses import fields, replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jet_flames import HEAT, LIT, NEED, ROOM, fire_of, parameters, pot_of
from resolved.cases import Case, read
from resolved.ours import flows_of

from burnsim.closures.layer import SHEET_DRAWN
from burnsim.model.balances.flows import Flows
from burnsim.model.balances.pot.flows import PotFlows, pot_flows
from burnsim.model.balances.pot.way import HotGas, along_pot, heat_given, heat_slopes, heating_of, hot_gas
from burnsim.model.description.conditions import Pot, Site

WATER = 0.6  # in the pot [kg]
LIKE_IT = 47.0  # heat to the side of the resolved burner where it was not recorded, as of its like [W]


def gas(pot: Pot, power: float = 500.0, temperature: float = 330.0, site: Site = ROOM) -> HotGas:
    p = parameters(pot, site)
    thrust = power / HEAT * 1.2 * power / 500.0  # 26 holes of 1 mm
    return hot_gas(heating_of(fire_of(power, 0.1 * power, thrust), 998.2 * pot.water, temperature, p), p)


def share(pot: Pot, power: float = 500.0, temperature: float = 330.0) -> float:
    """Of the flames' heat [%]."""
    found = gas(pot, power, temperature)
    return 100.0 * (found.bottom + found.wall) / power


# signs


@pytest.mark.parametrize("power", [300.0, 500.0, 1000.0, 1700.0])
def test_a_taller_pot_takes_more(power: float) -> None:
    """Its dry wall is a fin: 1 mm of aluminium 55 mm above the water is 90 % efficient (Harper and Brown 1922)."""
    shares = [share(pot_of(height=h, water=0.5e-3, wall_thickness=1e-3), power) for h in (0.06, 0.09, 0.15, 0.25)]
    assert shares == sorted(shares)


def test_a_dry_wall_counts_for_its_metal_and_its_thickness() -> None:
    """m L of the fin: copper before aluminium before steel, thick before thin; a wet wall does not mind."""

    def tall(metal: str, wall: float, water: float = 0.3e-3) -> float:
        return gas(pot_of(metal=metal, wall_thickness=wall, water=water), 1000.0).wall

    assert tall("copper", 1e-3) > tall("aluminium", 1e-3) > tall("aluminium", 0.4e-3) > tall("stainless steel", 0.4e-3)
    bare, full = tall("titanium", 0.3e-3), tall("titanium", 0.3e-3, 1.8e-3)
    assert full > 1.2 * bare
    assert tall("copper", 0.3e-3, 1.8e-3) == pytest.approx(full, rel=0.01)


def test_a_fuller_pot_takes_more() -> None:
    shares = [share(pot_of(water=w * 1e-3, metal="stainless steel")) for w in (0.1, 0.3, 0.6, 1.2)]
    assert shares == sorted(shares)


@pytest.mark.parametrize("power", [500.0, 1000.0])
def test_a_wider_pot_takes_more(power: float) -> None:
    """Resolved at 500 W: 68, 77 and 82 % for 90, 140 and 200 mm. Published for gas rings, too (from memory)."""
    shares = [share(pot_of(diameter=d, water=0.3e-3, gap=1.5e-3), power) for d in (0.09, 0.14, 0.20, 0.30)]
    assert shares == sorted(shares)


def test_strong_flames_lose_more_under_a_small_pot() -> None:
    """Published for gas rings: efficiency falls with power, the more the smaller the pan (from memory, unverified)."""
    small, wide = pot_of(diameter=0.10, water=0.5e-3), pot_of(diameter=0.20, water=2e-3)
    assert share(small, 500.0) > share(small, 1000.0) > share(small, 1700.0) > share(small, 2500.0)
    assert share(small, 500.0) - share(small, 2000.0) > share(wide, 500.0) - share(wide, 2000.0)


@pytest.mark.parametrize("power", [300.0, 500.0])
def test_weak_flames_lose_by_distance(power: float) -> None:
    """Resolved: 79, 71 and 60 % of 500 W at 1.5, 10 and 25 mm; at 300 W 74, 58 and 45."""
    near, *far = [gas(pot_of(gap=g), power) for g in (1.5e-3, 10e-3, 25e-3, 50e-3)]
    heats = [one.bottom + one.wall for one in (near, *far)]
    assert heats == sorted(heats, reverse=True)


def test_strong_flames_hardly_mind_the_distance() -> None:
    """Resolved: 61, 61 and 60 % of 1700 W at 1.5, 10 and 25 mm: their air is short near by, and far they thin out."""
    shares = [share(pot_of(gap=g, water=1.2e-3), 1700.0) for g in (1.5e-3, 10e-3, 25e-3)]
    assert max(shares) - min(shares) < 5.0


def test_share_falls_by_a_tenth_of_a_point_for_each_kelvin_of_the_pot() -> None:
    """Resolved: 82, 77 and 73 % at 276, 330 and 373 K, so 0.1 points a kelvin."""
    cold, warm, hot = (share(pot_of(gap=1.5e-3), 500.0, t) for t in (276.0, 330.0, 373.0))
    assert 0.05 < (cold - warm) / 54.0 < 0.17
    assert 0.05 < (warm - hot) / 43.0 < 0.17


def test_flames_draw_more_air_the_longer_their_way_and_the_weaker_they_are() -> None:
    airs = [gas(pot_of(gap=g)).excess_air for g in (1.5e-3, 10e-3, 25e-3)]
    assert airs == sorted(airs)
    airs = [gas(pot_of(gap=1.5e-3), power).excess_air for power in (1700.0, 1000.0, 500.0, 300.0)]
    assert airs == sorted(airs)
    assert gas(pot_of(), site=Site(air_temperature=293.15, wind=1.0)).excess_air > gas(pot_of()).excess_air


# limits


@settings(deadline=None, derandomize=True, database=None)
@given(
    power=st.floats(1.0, 5000.0),
    gap=st.sampled_from([1e-3, 10e-3, 50e-3]),
    water=st.floats(0.0, 2.0),
    temperature=st.floats(293.15, 1200.0),
)
def test_pot_and_gas_keep_within_what_there_is(power: float, gap: float, water: float, temperature: float) -> None:
    """No more heat than the gas has, none from gas colder than the pot."""
    p = parameters(pot_of(gap=gap))
    found = hot_gas(heating_of(fire_of(power, 0.1 * power), water, temperature, p), p)
    assert found.bottom >= 0.0
    assert found.wall >= 0.0
    assert found.bottom + found.wall <= 0.9 * power
    assert 0.0 <= found.flame_beyond <= 1.0
    assert math.isfinite(found.temperature)
    assert found.excess_air > -1.0


def test_what_burns_at_the_edge_has_found_its_air_there() -> None:
    """The gas at the edge is no warmer than the air drawn in by then can make it."""
    for power in (500.0, 1700.0, 5000.0):
        found = gas(pot_of(gap=1.5e-3), power)
        air = min(1.0 + found.excess_air, 1.0)  # share of the vapour for which there is air
        drawn = (1.0 + found.excess_air) * NEED * power / HEAT
        hottest = air * power / (1300.0 * (drawn + power / HEAT))  # too little heat capacity: too warm
        assert found.temperature - 293.15 < 1.35 * hottest


@pytest.mark.parametrize("needed", [0.0, 0.05, 0.1, 0.3, 0.6, 0.9, 1.5])
@pytest.mark.parametrize("power", [300.0, 1000.0])
def test_a_pot_takes_no_more_than_finds_air_below_its_top(needed: float, power: float) -> None:
    """Behind a screen that lets in so much of the air needed; within 2 %, what has not burnt there heats nothing."""
    p = parameters(pot_of(gap=1.5e-3))
    fire = fire_of(power)
    p = replace(p, way=replace(p.way, most_spread=(max(needed * fire.air_mass, 1e-9) / SHEET_DRAWN) ** 2))
    found = hot_gas(heating_of(fire, WATER, 300.0, p), p)
    assert found.bottom + found.wall <= 1.02 * (1.0 - found.flame_beyond) * power + 1e-6
    assert found.excess_air <= needed - 1.0 + 1e-4
    more = replace(p, way=replace(p.way, most_spread=(1.1 * max(needed, 0.1) * fire.air_mass / SHEET_DRAWN) ** 2))
    beyond = hot_gas(heating_of(fire, WATER, 300.0, more), more).flame_beyond
    assert beyond <= found.flame_beyond


def test_flames_past_a_small_pot_are_told_and_go_up_the_flue() -> None:
    """A pan of 6 cm over 2 kW: a part of the vapour finds its air only above; no heat is lost from the books."""
    small = pot_of(diameter=0.065, height=0.02, water=0.04e-3, gap=1.5e-3)
    p = parameters(small)
    fire = fire_of(2000.0)
    found = pot_flows(fire, 0.04, 0.0, 330.0, 400.0, LIT, p)
    assert found.flame_beyond > 0.2
    assert found.bottom + found.wall + found.flue == pytest.approx(fire.gas_heat, rel=1e-12)
    wide = pot_flows(fire_of(500.0), 0.8, 0.0, 330.0, 400.0, LIT, parameters(pot_of()))
    assert wide.flame_beyond == 0.0


@settings(max_examples=60, derandomize=True)
@given(
    power=st.floats(20.0, 2500.0),
    water=st.floats(0.05, 0.9),
    temperature=st.floats(280.0, 400.0),
    gap=st.floats(3e-3, 40e-3),
    wind=st.sampled_from([0.0, 1.5]),
    pool=st.floats(0.01, 0.9),
)
def test_slopes_of_the_heat_given_are_those_of_difference_quotients(
    power: float, water: float, temperature: float, gap: float, wind: float, pool: float
) -> None:
    p = parameters(pot_of(gap=round(gap, 3)), replace(ROOM, wind=wind))
    thrust = power / HEAT * 1.2 * power / 500.0
    at = heating_of(replace(fire_of(power, 0.1 * power, thrust), wick_power=0.1 * power), water, temperature, p)
    at = replace(at, pool=pool)
    found = heat_slopes(at, p)
    for field in fields(at):
        size = getattr(at, field.name)
        ways = [replace(at, **{field.name: size * (1.0 + side)}) for side in (-2e-5, -1e-5, 1e-5, 2e-5)]
        far_low, low, high, far_high = [heat_given(way, p) for way in ways]
        backward, forward = (low - far_low) / (1e-5 * size), (far_high - high) / (1e-5 * size)
        bent = abs(forward - backward)  # at a corner the slope is that of either side
        middle = (high - low) / (2e-5 * size)
        assert getattr(found, field.name) == pytest.approx(middle, rel=1e-4, abs=bent + 1e-7 * power / abs(size))


POOLS = [case for case in read() if case.sheet is not None]


@pytest.mark.parametrize("case", POOLS, ids=lambda case: case.name)
def test_a_pools_sheet_is_drawn_in_as_resolved(case: Case) -> None:
    """Far below a pot, and not near one; `TURNED` was read off three of these."""
    _, p, flows = flows_of(case)
    passed = along_pot(heating_of(flows.fire, WATER, flows.pot_temperature, p), p)
    assert case.sheet is not None
    assert passed.radius == pytest.approx(min(case.sheet, p.way.ring / (2.0 * math.pi)), abs=5e-3)


def test_jets_rise_straight_from_their_ring() -> None:
    p = parameters(pot_of(gap=30e-3))
    passed = along_pot(heating_of(fire_of(500.0, 50.0), WATER, 330.0, p), p)
    assert passed.radius == pytest.approx(p.way.ring / (2.0 * math.pi), rel=1e-12)


def test_heat_is_smooth_in_all_that_moves() -> None:
    """No jump or kink to speak of: second differences over fine steps stay small."""

    p = parameters(pot_of(gap=1.5e-3))

    def by_power(power: float) -> float:
        found = hot_gas(heating_of(fire_of(power, 0.1 * power), 0.8, 330.0, p), p)
        return found.bottom + found.wall

    def by_water(water: float) -> float:
        return hot_gas(heating_of(fire_of(700.0, 70.0), water, 330.0, p), p).wall

    def by_warmth(temperature: float) -> float:
        found = hot_gas(heating_of(fire_of(700.0, 70.0), 0.8, temperature, p), p)
        return found.bottom + found.wall

    for one, low, high in ((by_power, 5.0, 3000.0), (by_water, 0.0, 2.0), (by_warmth, 270.0, 1500.0)):
        values = [low + (high - low) * k / 1500 for k in range(1501)]
        found = [one(value) for value in values]
        span = max(found) - min(found)
        seconds = [abs(found[k + 1] - 2.0 * found[k] + found[k - 1]) for k in range(1, 1500)]
        assert max(seconds) < 2e-3 * span


# resolved flames


def asked() -> Iterator[Case]:
    for case in read():
        if case.gap is not None and case.judged and case.share is not None:
            yield case


def given_the_burners_share(case: Case) -> tuple[float, Flows, PotFlows]:
    """Our pot's share [%] when the burner takes what it took in the resolved case, so that only our gas is asked."""
    _, p, flows = flows_of(case)
    taken = case.wall_heat
    if taken is None:
        taken = LIKE_IT if case.pool <= 0.0 and case.top_jets == 0 else 0.0
    through_gap = -min(case.rim_top or (-12.0 if case.gap < 3e-3 and not case.pool else 0.0), 0.0)
    if case.burner is not None:  # with the closed top, that gives across the gap what the pot is counted to take
        taken += through_gap
    elif case.rim_top is not None and case.top_jets < 2:  # a ring's has been counted
        taken += max(case.rim_top, 0.0)
    taken += case.surface or 0.0
    fire = replace(flows.fire, gas_heat=flows.fire.content - taken)
    water = 998.2 * 0.999 * 0.25 * math.pi * (case.pot_diameter - 2e-4) ** 2 * 0.06
    found = pot_flows(fire, water, 0.0, case.pot_temperature, 500.0, flows.regime, p)
    return 100.0 * (found.bottom + found.wall + through_gap) / fire.content, flows, found


def test_pots_share_of_resolved_flames() -> None:
    """Within 5 points in 85 % of the settled cases, where the resolved shares are themselves known to 5."""
    misses = []
    cases = list(asked())
    for case in cases:
        ours, _, _ = given_the_burners_share(case)
        if abs(ours - (case.share or 0.0)) > 5.0:
            misses.append((case.name, case.share, round(ours, 1)))
    assert len(cases) > 20
    assert len(misses) <= 0.15 * len(cases), misses


def test_bottom_and_side_of_resolved_flames() -> None:
    """Which part takes it: 23 % of 1700 W goes to the bottom and 38 % to the side, 65 and 14 % of 500 W."""
    for case in asked():
        if case.bottom is None or case.side is None or case.set != "slot":
            continue
        _, _, found = given_the_burners_share(case)
        side = case.side / (case.bottom + case.side)
        assert found.wall / (found.wall + found.bottom) == pytest.approx(side, abs=0.12), case.name
