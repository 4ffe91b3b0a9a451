"""Logs that hold three times and no reading of the water can be calibrated with."""

import math

from burnsim.studies.bench.log import parse_bench_log
from burnsim.studies.calibrate.fit import calibrate
from burnsim.studies.calibrate.posterior import make_prior, set_factors
from tests.studies.calibrate.test_calibrate import BURN, FITTED, rule
from tests.studies.stand_in import design


def test_factors_are_learnt_from_milestones_alone() -> None:
    truth = {"wick_heat": 1.3, "flame_to_rim": 0.8}
    seen = rule(set_factors(design(), truth))
    head = "\n".join(f'seen.{name} = "{time:.0f} s"' for name, time in seen.items())
    logs = [parse_bench_log(f"{head}\n", f"burn {k}") for k in range(3)]
    found = calibrate(design(), logs, factors=FITTED, starts=1, engine=BURN)
    assert not found.bad
    band = float(make_prior(names=["wick_heat"]).spread()[0])
    errors = [math.sqrt(3.0**2 + (0.1 * seen["bloom"]) ** 2 + late**2) / seen["bloom"] for late in (0.0, 2.0)]
    least, most = (
        1.0 / math.sqrt(1.0 + 3.0 * (band / error) ** 2) for error in errors
    )  # three blooms, the clock's start
    assert 0.95 * least < found.learnt[found.posterior.names.index("wick_heat")] < 1.05 * most
    for name, value in truth.items():
        k = found.posterior.names.index(name)
        assert abs(found.posterior.mean[k] - math.log(value)) < 2.0 * found.posterior.spread()[k]
        assert found.learnt[k] < 0.7
    assert "bloom" in found.summary()
