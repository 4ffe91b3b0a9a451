"""What the integrator leaves out, because nothing depends on it."""

from dataclasses import replace
from itertools import product
from pathlib import Path

import pytest

import burnsim
from burnsim.model.balances.flows import balances, derivatives
from burnsim.model.balances.state import Regime, pack, place, unpack
from burnsim.model.description.setup import Setup
from burnsim.solve.results.outcome import Start
from burnsim.solve.run import marched, ready
from burnsim.solve.sizes import rest, rule_of, scales, spent
from burnsim.solve.stepper import LISTS

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))
WEEKEND = burnsim.load(Path(__file__).parents[2] / "examples" / "weekend_double_wall.toml")
SETUPS = [*map(burnsim.load, EXAMPLES), replace(WEEKEND, pot=None)]


def idle_states(regime: Regime, start: Start) -> set[int]:
    """Places of the states that are idle."""
    rule = rule_of(1e-3, start.first, start.parameters, LISTS)
    idle = [0.0] * rule.size
    rest(idle, list(regime), rule)
    return {k for k, one in enumerate(idle) if one > 0.0}


@pytest.mark.parametrize("setup", SETUPS, ids=[*(path.stem for path in EXAMPLES), "without a pot"])
def test_no_flow_depends_on_an_idle_state(setup: Setup) -> None:
    """Moved a little or by its whole scale it changes no slope, whatever burns."""
    start = ready(setup)
    p, first, _ = start
    size = scales(first, p)
    for wick, jets, well in product((0.0, 1.0), repeat=3):
        regime = Regime(wick, jets, well)
        slopes = derivatives(balances(first, regime, p), p)
        for k, move in product(idle_states(regime, start), (1e-6, 1.0)):
            y = pack(first)
            y[k] += move * size[k]
            assert derivatives(balances(unpack(y, p.components), regime, p), p) == slopes, k


def test_compartments_wick_and_pot_that_are_not_there_are_idle() -> None:
    p = ready(WEEKEND)
    assert idle_states(Regime(1.0, 1.0, 1.0), p) == set()
    assert idle_states(Regime(0.0, 1.0, 0.0), p) == {place("wick", 1)}
    potless = ready(replace(WEEKEND, pot=None))
    assert idle_states(Regime(1.0, 1.0, 1.0), potless) == {place(name, 1) for name in ("water", "pot_heat", "dew")}
    cup = ready(next(setup for setup in SETUPS if setup.burner.kind == "open cup"))
    n = cup.parameters.components
    gone = {place(name, n) for name in ("gallery_heat", "chill", "hot_top", "collar_heat", "air")}
    assert idle_states(Regime(1.0, 0.0, 1.0), cup) == {*range(n), *gone}


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_no_flow_depends_on_air_that_is_spent(path: Path) -> None:
    """Its column by differences is nothing at all wherever a march leaves it out."""
    start = ready(burnsim.load(path))
    p = start.parameters
    air = place("air", p.components)
    met = 0
    for phase in [phase for rtol in (1e-2, 1e-3) for phase in marched(start, rtol).phases]:
        for step in phase.steps:
            y = step.after.tolist()
            slopes = derivatives(balances(unpack(y, p.components), phase.regime, p), p)
            if y[air] < -1e-12 and spent(y[air], slopes[air]):
                met += 1
                y[air] *= 0.5
                assert derivatives(balances(unpack(y, p.components), phase.regime, p), p) == slopes
    assert met > 0 or p.gallery.present * p.well.present <= 0.0  # a chamber's air may stay a hair above nothing
