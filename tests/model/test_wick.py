"""The primer's flame in the balances: what it burns, whom it wraps, and what bloom means."""

from dataclasses import replace
from functools import cache
from itertools import pairwise
from pathlib import Path

import burners
import pytest

import burnsim
from burnsim.closures.flame import warm_quench_power
from burnsim.model.balances.chambers import Liquid
from burnsim.model.balances.events import EVENTS, guards
from burnsim.model.balances.fire import FireFlows
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
def test_jets_bloom_as_the_wicks_flame_shrinks_below_them(fuel: str) -> None:
    """A wick of 12 mm wraps jets at 39 mm (resolved flames end at 41 mm and more); its vapour burns there unseen.

    They hold their own flames once what it leaves of the vapour is enough for them.
    """
    burn = burnt(charge__fuel=fuel)
    marks = burn.milestones
    assert marks.vapour.time is not None
    assert marks.bloom.time is not None
    assert marks.primer_out.time is not None
    assert marks.vapour.time + 5.0 < marks.bloom.time < marks.primer_out.time
    mouth = burn.parameters.jets.mouth
    wrapped = burn.flows(marks.vapour.time + 5.0)
    assert wrapped.wick.tip > 1.75 * mouth
    assert wrapped.fire.wrapped == wrapped.fire.jets_burn == 1.0
    assert wrapped.fire.jet_power > 100.0
    assert wrapped.fire.jets_to_rim == 0.0
    flows = burn.flows(marks.bloom.time)
    assert mouth < flows.wick.tip < 1.75 * mouth
    least = warm_quench_power(burn.parameters.jets.light_power, flows.collar_temperature)
    assert (1.0 - flows.fire.wrapped) * flows.fire.jet_potential == pytest.approx(least, rel=1e-3)


LOW = {"burner__wick__thickness": "6 mm", "site__air_temperature": "40 degC"}
"""A wick that holds all of its primer, however low it is."""


def test_a_low_flame_wraps_few() -> None:
    """The flame of a band of 4 mm ends below the jets: they bloom as soon as they give vapour enough, or nearly so."""
    burn = burnt(burner__wick__height="4 mm", **LOW)
    marks = burn.milestones
    assert marks.vapour.time is not None
    assert marks.bloom.time == pytest.approx(marks.vapour.time, abs=0.3)
    assert marks.bloom.time > marks.vapour.time
    assert burn.flows(marks.bloom.time).wick.tip < burn.parameters.jets.mouth


def test_a_flame_lights_no_jets_far_above_its_tip() -> None:
    """A band of 3 mm lights no jets at 39 mm, and the burn says why; jets that its flame reaches it lights."""
    burn = burnt(burner__wick__height="3 mm", **LOW)
    p = burn.parameters
    assert burn.vapour.time is not None
    highest = max(burn.flows(0.5 * k).wick.tip for k in range(6, 120))
    assert p.wick.kindling * highest < p.jets.mouth
    assert burn.bloom.time is None
    texts = {verdict.code: str(verdict.text) for verdict in burn.verdicts}
    assert "the wick's flame stood" in texts["never blooms"]
    assert "use a higher wick or lower jets" in texts["never blooms"]
    assert "unburnt vapour" in texts
    height = f"{0.95e3 * p.wick.kindling * highest:.1f} mm"
    assert burnt(burner__wick__height="3 mm", burner__jets__height=height, **LOW).bloom.time is not None


def test_a_wick_that_dries_before_the_vapour_comes_asks_for_more_primer() -> None:
    """Its flame wrapped the jets at first; once they gave vapour it had shrunk below them."""
    burn = burnt(charge__primer="0.45 ml")
    assert burn.flows(3.0).wick.tip > burn.parameters.jets.mouth
    assert burn.vapour.time is not None
    assert burn.bloom.time is None
    assert "prime with more" in str(burn.bloom.reason)


def test_nothing_jumps_where_the_tip_passes_the_jets() -> None:
    """Bands of 4 to 6.4 mm, flames of 33 to 53 mm, beside jets at 39 mm: the boil comes gradually later."""
    heights = [4.0 + 0.2 * k for k in range(13)]
    boils = [burnt(burner__wick__height=f"{h:.1f} mm", **LOW).boil.time for h in heights]
    later = [b - a for a, b in pairwise(boils)]
    assert all(0.0 < step < 10.0 for step in later)
    assert max(abs(b - a) for a, b in pairwise(later)) < 1.0


def test_vapour_of_a_covered_well_is_lit_by_a_flame_that_reaches_the_rim() -> None:
    """Warm fuel under a high and a low wick's flame, with jets lit and unlit."""
    burn = burnt()
    p = burn.parameters
    state = burn.state(500.0)[0]

    def fire(primer: float, jets: float) -> FireFlows:
        return balances(replace(state, wick=primer * p.wick.capacity), Regime(1.0, jets, 0.0), p).fire

    high, low = fire(1.0, 0.0), fire(0.02, 0.0)
    assert high.wick_tip > 1.75 * p.walls.top
    assert low.wick_tip < 0.7 * p.walls.top
    assert high.vent_burns > 0.9
    assert low.vent_burns == 0.0
    assert fire(0.02, 1.0).vent_burns == high.vent_burns


def test_an_open_wells_vapour_is_lit_by_a_flame_that_reaches_its_rim() -> None:
    """Flammable vapour over the well: the guard follows how far the wick's flame reaches; lit jets light it at once."""
    setup = vary(
        burnsim.load(EXAMPLES / "porch_open_well.toml"),
        {"charge.fuel": "methanol", "burner.wick": {"height": "10 mm"}, "charge.primer": "3 ml"},
    )
    p = derive(setup)
    state = first_state(setup, p)
    k = EVENTS.index("well_lit")

    def guard(primer: float, jets: float) -> float:
        regime = Regime(1.0, jets, 0.0)
        return guards(balances(replace(state, wick=primer * state.wick), regime, p), p)[k]

    assert guard(1.0, 0.0) > 0.0
    assert guard(0.02, 0.0) < 0.0
    assert guard(0.02, 1.0) > 0.0


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
