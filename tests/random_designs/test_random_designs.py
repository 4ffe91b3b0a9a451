"""Some hundred random designs over the documented envelope, and every one that once failed.

`python benchmarks/burn_random_designs.py` burns 20 000 of them in the same way.
"""

import pytest
from random_designs.examine import burnt, complaints
from random_designs.generator import seeded_setup
from random_designs.seeds import ONCE_FAILED, ONCE_FAILED_TIGHT


@pytest.mark.parametrize("seed", range(150))
def test_random_design(seed: int) -> None:
    assert complaints(seeded_setup(seed)) == []


@pytest.mark.parametrize("seed", ONCE_FAILED)
def test_design_that_once_failed(seed: int) -> None:
    assert complaints(seeded_setup(seed)) == []


@pytest.mark.parametrize("seed", ONCE_FAILED_TIGHT)
def test_design_that_once_failed_at_a_tight_tolerance(seed: int) -> None:
    assert complaints(seeded_setup(seed), 1e-8, compiled=True) == []
    steps = [len(burnt(seeded_setup(seed), rtol, compiled=True).account.time) for rtol in (1e-6, 1e-8)]
    assert steps[1] < 10.0 * steps[0]  # of order 4 it would be 3.2 times as many


def test_a_seed_is_a_design() -> None:
    assert seeded_setup(7) == seeded_setup(7)
    assert seeded_setup(7) != seeded_setup(8)
