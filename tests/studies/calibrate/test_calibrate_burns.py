"""Calibration with the model itself, burn by burn: the factors behind synthetic logs are found again."""

import math
from pathlib import Path

import burnsim
from burnsim.studies.calibrate.posterior import make_prior

TRUTH = {"flame_to_pot": 0.85, "wick_heat": 1.25}
DESIGN = burnsim.load(Path(__file__).parents[3] / "examples" / "weekend_double_wall.toml")


def test_factors_behind_synthetic_logs_are_found_again() -> None:
    """Two logs of one build; the model is burnt for every trial, and all its factors are free.

    Each factor lies within 3.3 standard deviations (999 in 1000) of the truth. The boil of a second design, which no
    log has seen, lies in its band of 98 %, and that is narrower than without the logs.
    """
    unknown = burnsim.calibration.set_factors(DESIGN, TRUTH)
    logs = [
        burnsim.bench.parse(burnsim.bench.synthesise_log(unknown, seed=seed, every=60.0, name=f"log {seed}"))
        for seed in (11, 12)
    ]
    found = burnsim.calibrate(DESIGN, logs, starts=1, workers=1)
    assert not found.bad
    for name, mean, spread in zip(found.posterior.names, found.posterior.mean, found.posterior.spread(), strict=True):
        off = (mean - math.log(TRUTH.get(name, 1.0))) / spread
        assert abs(off) < 3.3, (name, off)
    k = found.posterior.names.index("flame_to_rim")
    assert found.posterior.spread()[k] < 0.55 * make_prior(names=["flame_to_rim"]).spread()[0]
    second = burnsim.vary(DESIGN, {"pot.water": "0.5 l"})
    truth = burnsim.burn(burnsim.calibration.set_factors(second, TRUTH)).milestones.boil.time
    after, before = (
        burnsim.predict(second, n=128, seed=1, posterior=posterior, workers=1).quantiles("boil", (0.01, 0.99))
        for posterior in (found.posterior, None)
    )
    assert truth is not None
    assert after[0].value < truth < after[1].value
    assert after[1].value / after[0].value < before[1].value / before[0].value
