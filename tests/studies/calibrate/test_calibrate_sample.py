"""Sampling agrees with the Gaussian about the best fit where the problem is nearly linear."""

import numpy as np
import pytest

pytest.importorskip("emcee")

from burnsim.studies.calibrate.fit import calibrate
from burnsim.studies.calibrate.walkers import sample_factors
from tests.studies.calibrate.test_calibrate import BURN, bench
from tests.studies.stand_in import design


def test_sampling_and_least_squares_agree() -> None:
    logs = [bench({"flame_to_rim": 1.1}, seed) for seed in (21, 22)]
    names = ["flame_to_pot", "flame_to_rim"]
    fitted = calibrate(design(), logs, factors=names, engine=BURN)
    drawn = sample_factors(design(), logs, factors=names, steps=150, engine=BURN)
    assert 0.15 < drawn.acceptance < 0.9
    far = (np.array(drawn.posterior.mean) - np.array(fitted.posterior.mean)) / fitted.posterior.spread()
    assert np.abs(far).max() < 0.5
    assert drawn.posterior.spread() == pytest.approx(fitted.posterior.spread(), rel=0.35)
