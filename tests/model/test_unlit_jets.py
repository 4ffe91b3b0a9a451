"""Vapour of jets too weak to hold flames, beside a flame that stands over the open well."""

from functools import cache
from itertools import pairwise
from pathlib import Path

import burners
import pytest

import burnsim
from burnsim.model.balances.flows import Flows
from burnsim.model.balances.streams import ring_closed
from burnsim.model.description.setup import Setup
from burnsim.model.description.vary import vary
from burnsim.model.parameters.derive import derive
from burnsim.solve.results.result import Burn

PORCH = burnsim.load(Path(__file__).parents[2] / "examples" / "porch_open_well.toml")


def steel(jets: int) -> Setup:
    """A thin steel burner high up, on watery 2-propanol: many jets then give little each."""
    return vary(
        PORCH,
        {
            "burner.metal": "steel",
            "burner.wall_thickness": 0.15e-3,
            "burner.gallery_gap": 11.7e-3,
            "burner.jets.count": jets,
            "charge.fuel": "2-propanol 70",
            "site.altitude": 2500.0,
            "factors.quench_flow": 1.5,
        },
    )


@cache
def burnt(jets: int) -> Burn:
    return burners.burnt(steel(jets))


def beside(jets: int) -> Flows:
    """An instant at which the well burns and the jets give vapour and do not."""
    flows = burnt(jets).flows(900.0)
    assert flows.regime.well == 1.0
    assert flows.regime.jets == 0.0
    assert flows.fire.jet_potential * jets > 50.0
    return flows


def test_vapour_that_passes_a_strong_flame_burns_in_it_and_heats_the_pot() -> None:
    flows = beside(48)
    fire = flows.fire
    assert fire.jets_burn > 0.9
    assert fire.jet_power == pytest.approx(fire.jets_burn * 48 * fire.jet_potential)
    assert fire.at_jets == fire.jets_to_rim == fire.jet_thrust == 0.0
    run = burnt(48)
    assert run.mass.unburnt < 0.02 * run.mass.charged
    assert max(abs(run.mass.residual), abs(run.energy.residual)) < 1e-6


def test_more_jets_that_give_less_each_do_not_lose_the_charge() -> None:
    """Beyond some number no jet holds a flame: the well's burns what all give, and only the rim gets less heat."""
    lit, unlit = burnt(20).milestones, burnt(48).milestones
    assert lit.bloom.time is not None
    assert unlit.bloom.time is None
    assert lit.boil.time is not None
    assert unlit.boil.time is not None
    assert lit.boil.time < unlit.boil.time < 2.0 * lit.boil.time


def test_the_farther_the_flame_the_less_it_catches() -> None:
    """Jets lower on the wall, or a wider gallery: the vapour meets the flame thinned by more air. So does wind."""
    near = derive(PORCH).jets.layer_air
    for change in ({"burner.jets.height": 20e-3}, {"burner.gallery_gap": 12e-3}, {"site.wind": 1.0}):
        assert derive(vary(PORCH, change)).jets.layer_air > 1.1 * near


def test_jets_that_fill_the_ring_hold_by_its_length() -> None:
    """Jets closer than flames stand off merge: half as many again need a third less each."""
    few, many = (derive(vary(PORCH, {"burner.jets.count": n, "burner.jets.diameter": 0.3e-3})).jets for n in (260, 390))
    assert many.hold_power / few.hold_power == pytest.approx(260.0 / 390.0, rel=0.05)
    usual = derive(PORCH).jets
    assert usual.light_power / usual.hold_power == many.light_power / many.hold_power


def test_jets_let_less_air_through_to_a_well_the_stronger_they_are() -> None:
    """Next to all while their flames are weak; resolved, next to none at 1000 W under a pot 30 mm above."""
    p = derive(PORCH)
    per_watt = 1.0 / 25e6  # of the vapour [kg/s]
    closed = [ring_closed(power * per_watt, 8.4 * power * per_watt, p) for power in range(1001)]
    assert closed[0] == 0.0
    assert closed == sorted(closed)
    assert closed[50] < 0.15
    assert 0.95 * p.jets.closing < closed[1000] < p.jets.closing
    assert max(b - a for a, b in pairwise(closed)) < 0.01  # without a step


def test_more_room_above_weak_jets_lets_more_air_past_their_tips() -> None:
    shares = [ring_closed(4e-6, 34e-6, derive(vary(PORCH, {"pot.gap": gap}))) for gap in (20e-3, 30e-3, 50e-3, 100e-3)]
    assert shares == sorted(shares, reverse=True)
    assert shares[-1] < 0.7 * shares[0]
