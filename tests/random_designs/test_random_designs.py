"""Some hundred random designs over the documented envelope, and every one that once failed.

`python benchmarks/burn_random_designs.py` burns 20 000 of them in the same way.
"""

import pytest
from random_designs.examine import complaints
from random_designs.generator import seeded_setup
from random_designs.seeds import ONCE_FAILED


@pytest.mark.parametrize("seed", range(150))
def test_random_design(seed: int) -> None:
    assert complaints(seeded_setup(seed)) == []


@pytest.mark.parametrize("seed", ONCE_FAILED)
def test_design_that_once_failed(seed: int) -> None:
    assert complaints(seeded_setup(seed)) == []


def test_a_seed_is_a_design() -> None:
    assert seeded_setup(7) == seeded_setup(7)
    assert seeded_setup(7) != seeded_setup(8)
