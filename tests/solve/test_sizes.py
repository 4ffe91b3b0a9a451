"""What the integrator leaves out, because nothing depends on it."""

from itertools import product
from pathlib import Path

import pytest

import burnsim
from burnsim.model.balances import balances, derivatives
from burnsim.model.state import Regime, pack, state_size, unpack
from burnsim.solve import sizes
from burnsim.solve.run import marched, ready
from burnsim.solve.sizes import idle_states, nudges, scales

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))
WEEKEND = burnsim.load(Path(__file__).parents[2] / "examples" / "weekend_double_wall.toml")


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_no_flow_depends_on_an_idle_state(path: Path) -> None:
    """Moved a little or a lot it changes no slope, whatever burns."""
    p, first, _ = ready(burnsim.load(path))
    least = nudges(scales(first, p), p)
    for wick, jets, well in product((0.0, 1.0), repeat=3):
        regime = Regime(wick, jets, well)
        slopes = derivatives(balances(first, regime, p), p)
        for place, move in product(idle_states(regime, p), (1e-3, 1.0)):
            y = pack(first)
            y[place] += move * least[place]
            assert derivatives(balances(unpack(y, p.components), regime, p), p) == slopes, place


def test_compartments_and_pot_that_are_not_there_are_idle() -> None:
    bare = burnsim.load(next(path for path in EXAMPLES if "open_cup" in path.stem))
    p = ready(bare).parameters
    assert {0, 2 * p.components, 2 * p.components + 4} <= idle_states(Regime(0.0, 0.0, 1.0), p)
    assert len(idle_states(Regime(1.0, 1.0, 1.0), ready(WEEKEND).parameters)) == 0
    assert max(idle_states(Regime(0.0, 1.0, 0.0), ready(WEEKEND).parameters)) < state_size(1)


def test_the_last_of_the_air_has_a_column_by_formula_and_changes_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    """With every column by differences the same burn comes out, to what the tolerance leaves."""
    found = marched(ready(WEEKEND), 1e-5)
    monkeypatch.setattr(sizes, "AIR_GONE", 0.0)
    whole = marched(ready(WEEKEND), 1e-5)
    assert found.evaluations < whole.evaluations
    assert [event.name for event in found.events] == [event.name for event in whole.events]
    for event, same in zip(found.events, whole.events, strict=True):
        assert event.time == pytest.approx(same.time, abs=2e-3)
