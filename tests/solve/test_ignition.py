"""The match: what it lights, and what holds a flame (common practice, no source)."""

from pathlib import Path

import pytest
from burners import burnt

import burnsim
from burnsim.model.description.vary import vary
from burnsim.model.parameters.derive import derive
from burnsim.solve.ignition import flash_point, lighting

EXAMPLES = Path(__file__).parents[2] / "examples"
DOUBLE = burnsim.load(EXAMPLES / "weekend_double_wall.toml")
OPEN = burnsim.load(EXAMPLES / "porch_open_well.toml")


def test_a_primer_of_spirit_lights_at_once() -> None:
    found = lighting(DOUBLE, derive(DOUBLE))
    assert found.time == 0.0
    assert (found.regime.wick, found.regime.jets, found.regime.well) == (1.0, 0.0, 0.0)


@pytest.mark.parametrize("change", [{"charge.fuel": "ethanol 8"}, {"charge.primer": "0.05 ml"}])
def test_a_primer_whose_flame_would_die_at_once_does_not_light(change: dict[str, str]) -> None:
    result = burnt(vary(DOUBLE, change))
    assert result.ended == "never lit"
    assert result.milestones.primer_out.time is None
    assert "too watery or too little" in result.milestones.burnout.reason
    assert {verdict.code for verdict in result.verdicts} == {"never lit"}


def test_what_lights_burns_some_of_its_primer() -> None:
    for fuel in ("ethanol 15", "ethanol 20", "ethanol 40"):
        result = burnt(vary(DOUBLE, {"charge.fuel": fuel}))
        if result.ended != "never lit":
            assert (result.milestones.burnout.fuel or 0.0) > 0.1 * DOUBLE.charge.primer * 800.0


def test_without_a_primer_the_match_goes_to_an_open_well() -> None:
    bare = vary(OPEN, {"charge.primer": "0 ml"})
    found = lighting(bare, derive(bare))
    assert found.time is not None
    assert (found.regime.wick, found.regime.well) == (0.0, 1.0)


def test_flash_points_of_two_places_differ() -> None:
    """Thinner air, lower flash point: less vapour is enough."""
    low, high = (vary(DOUBLE, {"site.altitude": altitude}) for altitude in ("0 m", "3000 m"))
    below, above = flash_point(low, derive(low)), flash_point(high, derive(high))
    assert below is not None
    assert above is not None
    assert above < below - 3.0
