"""Some hundred random designs over the documented envelope, and every one that once failed.

`python benchmarks/burn_random_designs.py` burns 20 000 of them in the same way.
"""

import pytest
from random_designs.examine import complaints
from random_designs.generator import seeded_setup
from random_designs.seeds import FAILING, ONCE_FAILED, TOO_LONG


@pytest.mark.parametrize("seed", [seed for seed in range(150) if seed not in {**FAILING, **TOO_LONG}])
def test_random_design(seed: int) -> None:
    assert complaints(seeded_setup(seed)) == []


@pytest.mark.parametrize("seed", ONCE_FAILED)
def test_design_that_once_failed(seed: int) -> None:
    assert complaints(seeded_setup(seed)) == []


@pytest.mark.parametrize(
    "seed", [pytest.param(k, marks=pytest.mark.xfail(strict=True, reason=why)) for k, why in FAILING.items()]
)
def test_design_that_fails(seed: int) -> None:
    assert complaints(seeded_setup(seed)) == []


def test_a_seed_is_a_design() -> None:
    assert seeded_setup(7) == seeded_setup(7)
    assert seeded_setup(7) != seeded_setup(8)
