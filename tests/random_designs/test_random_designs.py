"""Some hundred random designs over the documented envelope, and every one that once failed.

`python benchmarks/attack.py` burns thousands of them in the same way.
"""

import math
import warnings
from collections.abc import Callable

import pytest
from random_designs.examine import burnt, complaints
from random_designs.generator import seeded_setup
from random_designs.seeds import (
    ONCE_FAILED,
    ONCE_FAILED_TIGHT,
    ONCE_FAILED_WIDE,
    PEAK_ONCE_OFF,
    PEAK_ONCE_OFF_WIDE,
    PEAK_OUT_OF_NOTHING_WIDE,
)
from random_designs.wide import wide_setup

from burnsim.model.description.setup import Setup


@pytest.mark.parametrize("seed", range(150))
def test_random_design(seed: int) -> None:
    assert complaints(seeded_setup(seed)) == []


@pytest.mark.filterwarnings("ignore::burnsim.errors.ValidityWarning")
@pytest.mark.parametrize("seed", range(40))
def test_design_at_the_edges(seed: int) -> None:
    assert complaints(wide_setup(seed), compiled=True) == []


def test_the_edges_are_reached() -> None:
    with warnings.catch_warnings(action="ignore"):
        setups = [wide_setup(seed) for seed in range(300)]
    assert {len(setup.charge.fuel.components) for setup in setups} == {1, 2, 3, 4, 5}
    assert min(s.burner.feed_slots.height for s in setups if s.burner.feed_slots) < 0.15e-3
    assert max(s.burner.relief.depth for s in setups if s.burner.relief) > 10e-3
    assert max(setup.site.wind for setup in setups) == 10.0
    assert max(setup.site.tilt for setup in setups) > math.radians(25.0)
    assert sum(setup.pot is None for setup in setups) > 50
    assert sum(setup.burner.wick is None for setup in setups) > 50
    water = [s.pot.water_temperature for s in setups if s.pot and s.pot.water_temperature]
    assert min(water) < 273.3
    assert max(water) > 370.0


@pytest.mark.parametrize("seed", ONCE_FAILED)
def test_design_that_once_failed(seed: int) -> None:
    assert complaints(seeded_setup(seed)) == []


@pytest.mark.parametrize("seed", ONCE_FAILED_TIGHT)
def test_design_that_once_failed_at_a_tight_tolerance(seed: int) -> None:
    assert complaints(seeded_setup(seed), 1e-8, compiled=True) == []
    steps = [len(burnt(seeded_setup(seed), rtol, compiled=True).account.time) for rtol in (1e-6, 1e-8)]
    assert steps[1] < 10.0 * steps[0]  # of order 4 it would be 3.2 times as many


@pytest.mark.filterwarnings("ignore::burnsim.errors.ValidityWarning")
@pytest.mark.parametrize("seed", ONCE_FAILED_WIDE)
def test_design_at_the_edges_that_once_failed(seed: int) -> None:
    assert complaints(wide_setup(seed), ONCE_FAILED_WIDE[seed][0], compiled=True) == []


@pytest.mark.filterwarnings("ignore::burnsim.errors.ValidityWarning")
@pytest.mark.parametrize(
    ("design", "seed"),
    [
        *((seeded_setup, seed) for seed in PEAK_ONCE_OFF),
        *((wide_setup, seed) for seed in PEAK_ONCE_OFF_WIDE),
    ],
)
def test_highest_pressure_is_that_of_a_fine_march(design: Callable[[int], Setup], seed: int) -> None:
    found, fine = (burnt(design(seed), rtol, compiled=True).account.peaks[:2] for rtol in (1e-3, 1e-6))
    assert found == pytest.approx(fine, rel=0.01, abs=0.01)


@pytest.mark.filterwarnings("ignore::burnsim.errors.ValidityWarning")
@pytest.mark.parametrize("seed", PEAK_OUT_OF_NOTHING_WIDE)
def test_no_pressure_comes_out_of_nothing(seed: int) -> None:
    found, fine = (burnt(wide_setup(seed), rtol, compiled=True).account.peaks for rtol in (1e-3, 1e-6))
    assert found[0] == pytest.approx(fine[0], rel=0.05)
    assert found[2] == pytest.approx(fine[2], rel=0.05)


def test_a_seed_is_a_design() -> None:
    assert seeded_setup(7) == seeded_setup(7)
    assert seeded_setup(7) != seeded_setup(8)
