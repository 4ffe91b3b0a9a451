"""Where the standard efficiency is defined, and the hottest water of a pot that holds next to none."""

from dataclasses import replace
from pathlib import Path

import pytest
from burners import burnt

import burnsim
from burnsim.model.description.vary import vary
from burnsim.solve.results.outcome import efficiency
from burnsim.solve.run import ready

EXAMPLES = Path(__file__).parents[2] / "examples"
WEEKEND = burnsim.load(EXAMPLES / "weekend_double_wall.toml")


@pytest.mark.parametrize("share", [0.3, 0.999, 1.001, 5.0])
def test_water_that_takes_up_more_than_the_fuel_gave_has_no_efficiency(share: float) -> None:
    """A tenth of the fuel is gone, and the water warmed by a share of its heating value: by hand, m c dT/(m LHV)."""
    assert WEEKEND.pot is not None
    p, first, _ = ready(WEEKEND)
    gone = sum(first.gallery[i] * 0.1 * p.fire.heating_value[i] for i in range(p.components))
    held = first.water * p.pot.water_heat
    warmed = first.pot_heat + share * gone * (1.0 + p.pot.metal / held)
    now = replace(first, gallery=tuple(0.9 * moles for moles in first.gallery), pot_heat=warmed)
    found = efficiency(WEEKEND, p, first, now)
    if share > 1.0:
        assert found is None
    else:
        assert found == pytest.approx(share, rel=1e-9)


def test_the_last_drop_that_boils_is_the_hottest_water() -> None:
    run = burnt(vary(WEEKEND, {"pot.water": "1 ml"}))
    assert run.milestones.boil.time is not None
    assert run.water_max == pytest.approx(373.12, abs=0.1)  # the boiling point at 101 325 Pa
