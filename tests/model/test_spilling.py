"""Liquid and froth at the jets: Torricelli's law without vapour, one mixture with it, and nothing from below them."""

from dataclasses import astuple, replace
from itertools import pairwise
from math import pi, sqrt
from pathlib import Path

import pytest
from burners import burnt

import burnsim
from burnsim.model.balances.chambers import liquid
from burnsim.model.balances.flows import balances, derivatives
from burnsim.model.balances.spilling import Spill, froth, overflow, spill
from burnsim.model.balances.state import Regime, state_size, unpack_tallies
from burnsim.model.description.geometry import capacity_below_jets
from burnsim.model.description.vary import vary
from burnsim.model.parameters.derive import derive, first_state
from burnsim.units import plain

WEEKEND = burnsim.load(Path(__file__).parents[2] / "examples" / "weekend_double_wall.toml")
P = derive(WEEKEND)
NONE = Spill(0.0, 0.0, 0.0)
EDGE = 38.5e-3
HOLES = 26 * pi / 4.0 * 1e-6  # [m2]
GRAVITY, GAS_CONSTANT = 9.80665, 8.314462618
BOILING = 337.7  # of methanol [K]
ML = 1e-6


def filled(level: float, superheat: float = 0.0):
    """The gallery's liquid at a level, so many kelvin above its bubble point."""
    moles = P.gallery.area * level / 42.8e-6
    one = liquid((moles,), 0.0, 0.0, P.gallery, P)
    for _ in range(80):  # of moles and heat
        wanted = BOILING + superheat - one.temperature
        heat = 0.0 if one.capacity <= 0.0 else heat_of(one) + wanted * one.capacity
        moles *= level / one.level
        one = liquid((moles,), heat, 0.0, P.gallery, P)
    assert one.level == pytest.approx(level, rel=1e-9)
    return one


def heat_of(body) -> float:
    return body.moles * body.enthalpy + P.gallery.metal * (body.temperature - 298.15)


def vapour_at(speed: float, body) -> float:
    """Moles of vapour a second that rise through the gallery at a superficial speed."""
    return speed * P.site.pressure * P.gallery.area / (GAS_CONSTANT * body.temperature)


@pytest.mark.parametrize("gauge", [0.0, 40.0, 400.0])
def test_clear_liquid_leaves_by_torricelli(gauge):
    """2 mm above the edge of 1 mm holes, all covered: u = sqrt(2 (g h + p/rho)/K)."""
    body = filled(EDGE + 2e-3)
    found = spill(body, 0.0, gauge, 1.0, P)
    by_hand = HOLES * sqrt(2.0 * (GRAVITY * (body.level - EDGE) + gauge / body.density) / P.jets.outlet.inertial_loss)
    assert found.flow == pytest.approx(by_hand, rel=1e-9)
    assert found.rate == pytest.approx(by_hand * body.density / 0.0320419, rel=1e-4)
    assert found.heat == pytest.approx(found.rate * body.enthalpy, rel=1e-12)


@pytest.mark.parametrize("speed", [0.02, 0.05, 0.3])
@pytest.mark.parametrize("gauge", [0.0, 100.0])
def test_froth_leaves_as_one_mixture(speed, gauge):
    """Mass flux sqrt(2 rho_m (g rho_m h + p)/K) with 1/rho_m = x/rho_v + (1 - x)/rho_l; liquid is its share 1 - x."""
    body = filled(EDGE)
    vapour = vapour_at(speed, body)
    top = froth(body, vapour, P)
    assert top.level > EDGE + 1e-3
    heavy, light = body.density, P.site.pressure * 0.0320419 / (GAS_CONSTANT * body.temperature)
    rise = 1.53 * (0.0191 * GRAVITY * (heavy - light) / heavy**2) ** 0.25  # methanol at its boiling point: 19 mN/m
    void = speed / (1.2 * speed + rise)
    quality = void * light / (void * light + (1.0 - void) * heavy)
    mixed = 1.0 / (quality / light + (1.0 - quality) / heavy)
    drive = GRAVITY * mixed * (top.level - EDGE) + gauge
    flux = sqrt(2.0 * mixed * drive / P.jets.outlet.inertial_loss)
    assert spill(body, vapour, gauge, 1.0, P).flow == pytest.approx(HOLES * flux * (1.0 - quality) / heavy, rel=0.01)


@pytest.mark.parametrize("speed", [0.02, 0.2])
def test_the_void_at_the_top_is_that_of_the_height(speed):
    """One more thin layer of liquid, with its own vapour, raises the froth by its thickness over 1 - void."""
    thin, thick = filled(30e-3), filled(30.003e-3)
    vapour = vapour_at(speed, thin)
    above = froth(thick, vapour * thick.level / thin.level, P)
    below = froth(thin, vapour, P)
    rise = (above.level - below.level) / (thick.level - thin.level)
    assert 1.0 / (1.0 - below.void) == pytest.approx(rise, rel=1e-3)
    assert below.void > 0.05


def test_below_the_edge_nothing_leaves():
    body = filled(EDGE - 1e-3)
    assert spill(body, 0.0, 300.0, 1.0, P) == NONE
    calm = vapour_at(0.001, body)
    assert froth(body, calm, P).level < EDGE
    assert spill(body, calm, 300.0, 1.0, P) == NONE


def test_vapour_of_cold_liquid_makes_no_froth():
    """Below the onset of boiling vapour only evaporates from the surface: the law of clear liquid."""
    body = filled(EDGE + 2e-3, -P.bubble_subcooling - 1.0)
    assert froth(body, vapour_at(0.01, body), P).void == 0.0
    assert astuple(spill(body, vapour_at(0.01, body), 50.0, 1.0, P)) == pytest.approx(
        astuple(spill(body, 0.0, 50.0, 1.0, P)), rel=1e-12
    )


def test_it_begins_smoothly():
    """As the froth rises past the edge the flow grows from nothing, and its slope with it."""
    body = filled(EDGE - 1e-3)
    speeds = [0.001 * 1.01**k for k in range(600)]
    heights = [froth(body, vapour_at(speed, body), P).level - EDGE for speed in speeds]
    flows = [spill(body, vapour_at(speed, body), 100.0, 1.0, P).flow for speed in speeds]
    full = HOLES * sqrt(2.0 * (GRAVITY * heights[-1] + 100.0 / 300.0) / P.jets.outlet.inertial_loss)
    first = next(k for k, flow in enumerate(flows) if flow > 0.0)
    assert heights[first - 1] <= 0.0 < heights[first]
    assert flows[first] < 1e-2 * max(flows)
    assert max(flows) < full
    steps = [abs(b - a) for a, b in pairwise(flows)]
    assert max(steps) < 0.05 * max(flows)


def test_what_leaves_is_in_every_balance():
    """Moles lost to gallery and well turn up in the tallies, and so does the heat of what spills."""
    start = first_state(vary(WEEKEND, {"charge.volume": 107 * ML}), P)
    hot = filled(EDGE, 1.0)
    state = replace(start, gallery=(hot.moles,), gallery_heat=heat_of(hot), air=0.0)
    flows = balances(state, Regime(0.0, 1.0, 0.0, spilling=1.0), P)
    slopes = derivatives(flows, P)
    tallies = unpack_tallies(slopes[state_size(1) :], 1)
    boiled = replace(flows, gas=replace(flows.gas, spill_flow=0.0, spill_rate=0.0, spill_heat=0.0))
    without = derivatives(boiled, P)
    before = unpack_tallies(without[state_size(1) :], 1)
    assert froth(flows.gallery, flows.gas.gallery_vapour, P).level > EDGE >= flows.gallery.level
    assert flows.gas.spill_rate > 0.0
    assert slopes[0] - without[0] == pytest.approx(before.spilled[0] - tallies.spilled[0], rel=1e-9)
    assert tallies.spilled[0] == pytest.approx(flows.gas.spill_rate, rel=1e-12)
    heat = flows.gas.spill_rate * (flows.gallery.enthalpy + P.fire.heating_value[0])
    assert tallies.spilled_heat - before.spilled_heat == pytest.approx(heat, rel=1e-9)


@pytest.mark.parametrize("load", [106.5, 110.0])
def test_froth_at_the_jets_leaves_in_a_burn(load):
    """Only froth reaches them, never clear liquid; its liquid leaves, and both ledgers close."""
    run = burnt(vary(WEEKEND, {"charge.volume": load * ML}))
    assert run.milestones.spill.time is not None
    assert float(run.series("gallery_level").max()) < EDGE
    assert run.mass.spilled > 0.0
    assert abs(run.mass.residual) < 1e-9
    assert abs(run.energy.residual) < 1e-9
    text = next(plain(verdict.text) for verdict in run.verdicts if verdict.code == "spills")
    assert " 0.0 ml run out" not in text


def test_nothing_leaves_before_it_has_begun():
    """A trial state beyond the edge, in a step that began below it, must not spill."""
    body = filled(EDGE + 2e-3)
    assert spill(body, 0.0, 100.0, 0.0, P) == NONE
    assert overflow(body, 0.0, P) == NONE


def test_what_is_poured_beyond_the_jets_leaves_before_the_match_takes():
    """Cold spirit takes the match some seconds; what stands above the jets has begun to run out by then."""
    full = capacity_below_jets(WEEKEND.burner) + 2.0 * ML
    design = vary(WEEKEND, {"charge.fuel": "ethanol", "charge.volume": full, "charge.temperature": "-5 degC"})
    result = burnt(design)
    names = [event.name for event in result.course.events]
    assert names.index("spill") < names.index("lit")
    assert result.milestones.spill.time == 0.0
    assert result.mass.spilled > 0.0
    assert abs(result.mass.residual) < 1e-9
