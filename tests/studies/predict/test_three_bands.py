"""Three bands told apart: the mean of this build, its next burn, and another build to the same drawing."""

import json
import math
from pathlib import Path

import numpy as np
import pytest
from scipy.stats import norm

from burnsim.errors import InputError
from burnsim.studies.bench.conditions import Conditions
from burnsim.studies.bench.log import parse_bench_log
from burnsim.studies.bench.synthetic import synthesise_log
from burnsim.studies.calibrate.factors_file import load_factors, save_factors
from burnsim.studies.calibrate.posterior import make_prior, posterior_of
from burnsim.studies.calibrate.repeats import PACE, SCATTER
from burnsim.studies.predict.prediction import predict
from burnsim.units import plain
from tests.studies.stand_in import design, engine, log_factor

SURE = posterior_of(["flame_to_pot", "wall_thickness"], [0.0, 0.0], np.diag([1e-8, 1e-8]))


def by_wall(setup):
    return {"boil": 600.0 * math.exp(log_factor(setup, "wall_thickness")), "burnout": 2000.0}


def width(found, of):
    low, high = found.quantiles("boil", (0.05, 0.95), of)
    return high.value - low.value


def test_the_next_burn_scatters_about_the_mean_as_repeats_do() -> None:
    """A mean that is known exactly: pace, scatter, seeing and clock add in squares."""
    found = predict(design(), n=4096, posterior=SURE, engine=engine(by_wall))
    u = Conditions()
    spread = math.hypot(600.0 * PACE, 600.0 * SCATTER["boil"], u.u_boil, u.u_clock)
    assert width(found, "mean") < 1.0
    assert width(found, "next") == pytest.approx(2.0 * norm.ppf(0.95) * spread, rel=0.04)


def test_next_burns_are_those_of_logs() -> None:
    """What is predicted of repeats has the spread that synthetic logs have."""
    logs = [parse_bench_log(synthesise_log(design(), seed=seed, engine=engine(by_wall))) for seed in range(400)]
    boils = [log.boil.time for log in logs]
    found = predict(design(), n=2048, posterior=SURE, engine=engine(by_wall)).values("boil", "next")
    assert np.std(found) == pytest.approx(np.std(boils), rel=0.12)


def test_a_slower_pace_of_repeats_is_kept_with_what_is_learnt() -> None:
    calm = posterior_of(SURE.names, SURE.mean, SURE.matrix(), pace=0.0)
    assert width(predict(design(), n=512, posterior=calm, engine=engine(by_wall)), "next") < 70.0


def test_another_build_has_walls_of_its_own() -> None:
    found = predict(design(), n=1024, posterior=SURE, engine=engine(by_wall))
    wall = make_prior(names=["wall_thickness"]).spread()[0]
    spread = 600.0 * math.hypot(wall, PACE, SCATTER["boil"], Conditions().u_boil / 600.0)
    assert width(found, "another") == pytest.approx(2.0 * norm.ppf(0.95) * spread, rel=0.06)
    assert found.other is not None
    nothing = predict(design(), n=64, engine=engine(by_wall))
    assert nothing.other is None
    assert width(nothing, "another") == width(nothing, "next")
    with pytest.raises(InputError, match="mean, next, another"):
        found.quantiles("boil", (0.5,), "median")


def test_the_water_of_the_next_burn_keeps_its_pace() -> None:
    found = predict(design(), n=512, posterior=SURE, engine=engine(lambda setup: {"burnout": 2000.0}))
    (time, mean), (_, after) = (found.water_quantiles((0.05, 0.95), of=of) for of in ("mean", "next"))
    k = int(np.argmin(abs(time - 400.0)))
    assert mean[1, k] - mean[0, k] < 0.01
    # 85 K over 580 s from 20 s on: the water at 400 s lags as the course does
    assert after[1, k] - after[0, k] == pytest.approx(2.0 * norm.ppf(0.95) * PACE * time[k] * 85.0 / 580.0, rel=0.1)


def test_words_and_values_tell_the_three_apart() -> None:
    found = predict(design(), n=256, posterior=SURE, engine=engine(by_wall))
    text = plain(found.summary())
    for words in ("mean of this build", "its next burn", "another build", "differ by 3 % in pace"):
        assert words in text
    boil = found.to_dict()["figures"]["boil"]
    ends = [boil[key][-1]["value"] for key in ("quantiles", "quantiles_next_burn", "quantiles_another_build")]
    assert ends == sorted(ends)
    json.dumps(found.to_dict(), allow_nan=False)


def test_a_file_keeps_sizes_pace_and_draws(tmp_path: Path) -> None:
    names, mean = ["entrainment", "pot.gap"], [0.1, -0.2]
    belief = posterior_of(names, mean, np.array([[0.04, -0.03], [-0.03, 0.09]]), {"pot.gap": 0.5}, 0.05)
    belief = belief.with_draws(np.random.default_rng(1).multivariate_normal(mean, belief.matrix(), 50))
    save_factors(belief, tmp_path / "factors.toml")
    assert load_factors(tmp_path / "factors.toml") == belief
    drawn = np.log(belief.draw(np.random.default_rng(2).random((2000, 2))))
    assert set(map(tuple, drawn.round(6).tolist())) == set(belief.draws)
    other = belief.for_new_build()
    assert other.drawn == ("entrainment",)
    assert other.band()["pot.gap"] == pytest.approx((1.0 / 1.5, 1.5))
    assert abs(np.corrcoef(np.log(other.draw(np.random.default_rng(3).random((4000, 2)))).T)[0, 1]) < 0.06
