"""The primer's flame in the balances: what it burns, whom it wraps, and what bloom means."""

from dataclasses import replace
from functools import cache
from pathlib import Path

import burners
import pytest

import burnsim
from burnsim.model.balances.chambers import Liquid
from burnsim.model.balances.flows import balances
from burnsim.model.balances.state import Regime
from burnsim.model.balances.wick import wick_flame
from burnsim.model.description.vary import vary
from burnsim.model.parameters.derive import derive, first_state
from burnsim.solve.results.result import Burn

EXAMPLES = Path(__file__).parents[2] / "examples"


@cache
def burnt(**changes: object) -> Burn:
    setup = burnsim.load(EXAMPLES / "weekend_double_wall.toml")
    return burners.burnt(vary(setup, {name.replace("__", "."): value for name, value in changes.items()}))


def behind(temperature: float, level: float) -> Liquid:
    """Liquid behind the wick."""
    setup = burnsim.load(EXAMPLES / "weekend_double_wall.toml")
    p = derive(setup)
    body = balances(first_state(setup, p), Regime(0.0, 0.0, 0.0), p).gallery
    return replace(body, temperature=temperature, level=level)


@pytest.mark.parametrize("fuel", ["methanol", "ethanol"])
def test_jets_bloom_when_the_wicks_flame_has_shrunk_below_them(fuel: str) -> None:
    """A wick of 12 mm wraps jets at 39 mm (resolved flames end at 41 mm and more); its vapour burns there unseen."""
    burn = burnt(charge__fuel=fuel)
    marks = burn.milestones
    assert marks.vapour.time is not None
    assert marks.bloom.time is not None
    assert marks.primer_out.time is not None
    assert marks.vapour.time + 5.0 < marks.bloom.time < marks.primer_out.time
    flows = burn.flows(marks.bloom.time - 2.0)
    assert flows.wick.tip > burn.parameters.jets.mouth
    assert flows.fire.jets_burn > 0.99
    assert flows.fire.jet_power > 100.0
    assert flows.fire.jets_to_rim == 0.0
    tip = burn.flows(marks.bloom.time).wick.tip
    assert tip == pytest.approx(burn.parameters.jets.mouth, rel=1e-3)


def test_a_low_flame_wraps_nobody() -> None:
    """A band of 3 mm burns too little to reach the jets: they bloom as soon as they give vapour enough."""
    marks = burnt(
        burner__wick__height="3 mm", burner__wick__thickness="6 mm", site__air_temperature="40 degC"
    ).milestones
    assert marks.vapour.time is not None
    assert marks.bloom.time == pytest.approx(marks.vapour.time, abs=1e-5)


def test_cold_liquid_behind_the_wick_takes_heat_from_its_burning() -> None:
    """Film theory: each watt that passes through costs less than a watt's worth of vapour, and more than a third."""
    p = derive(burnsim.load(EXAMPLES / "weekend_double_wall.toml"))
    warm, cold = (wick_flame(p.wick.capacity, behind(t, 20e-3), 1.0, p) for t in (p.wick.boiling_point, 293.0))
    assert warm.heat_to_liquid == 0.0
    assert 5.0 < cold.heat_to_liquid < 15.0
    latent = 1.2e6 * p.wick.mass
    assert 0.33 < (warm.rate - cold.rate) * latent / cold.heat_to_liquid < 1.0
    half = wick_flame(p.wick.capacity, behind(293.0, 0.5 * p.wick.height), 1.0, p)
    assert half.heat_to_liquid == pytest.approx(0.5 * cold.heat_to_liquid)


def test_a_full_flame_gives_the_wall_all_that_its_layer_conducts() -> None:
    """The bound by its own heat takes a hundredth at most, and all from a flame that dies."""
    p = derive(burnsim.load(EXAMPLES / "weekend_double_wall.toml"))
    full, last = (wick_flame(share * p.wick.capacity, behind(330.0, 13e-3), 1.0, p) for share in (1.0, 0.01))
    assert full.bound > 0.99
    assert last.rate < 0.05 * full.rate
    assert last.bound < 0.9


def test_one_factor_for_the_heat_to_band_and_wall() -> None:
    """Both are carried by one layer of gas: a band that gets a fifth more burns about as much faster."""
    setup = burnsim.load(EXAMPLES / "weekend_double_wall.toml")
    usual, more = (derive(vary(setup, {"factors.wick_heat": factor})).wick for factor in (1.0, 1.2))
    assert more.wall_coefficient / usual.wall_coefficient == pytest.approx(1.2)
    assert more.film_rate / usual.film_rate == pytest.approx(1.2, rel=0.02)
