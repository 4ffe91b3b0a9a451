"""Sizes in doubt: learnt beside the factors, named when they explain a misfit, and never learnt from a bad fit."""

import math

import numpy as np
import pytest

import burnsim
from burnsim import InputError, blend, calibrate, predict
from burnsim.studies.bench.log import parse_bench_log
from burnsim.studies.bench.synthetic import synthesise_log
from burnsim.studies.calibrate.posterior import make_prior, posterior_of, set_factors
from burnsim.studies.calibrate.sizes import of_strength
from burnsim.substances.blend import find_strength
from burnsim.units import plain
from tests.studies.stand_in import design, engine, log_factor

DRAWN = burnsim.vary(design(), {"pot.rest": "bumps", "pot.gap": "1.5 mm"})


def rule(setup):
    """The gap slows bloom and hastens burn-out, which the heat to the pot, the only factor, does not."""
    gap = math.log(setup.pot.gap / 1.5e-3)
    bloom = 30.0 * math.exp(1.5 * gap)
    return {
        "bloom": bloom,
        "boil": bloom + 600.0 * math.exp(0.1 * gap - log_factor(setup, "flame_to_pot")),
        "burnout": bloom + 1000.0 * math.exp(-0.4 * gap),
    }


BURN = engine(rule)


def logs(built, count):
    return [parse_bench_log(synthesise_log(built, seed=seed, name=f"log {seed}", engine=BURN)) for seed in range(count)]


WRONG = logs(burnsim.vary(DRAWN, {"pot.gap": 2.5e-3}), 2)


def test_a_size_in_doubt_is_learnt() -> None:
    found = calibrate(DRAWN, WRONG, factors=["flame_to_pot"], tolerances={"pot.gap": 0.7}, engine=BURN)
    assert not found.bad
    k = found.posterior.names.index("pot.gap")
    assert abs(found.posterior.mean[k] - math.log(2.5 / 1.5)) < 2.6 * found.posterior.spread()[k]
    made = predict(DRAWN, n=64, posterior=found.posterior, engine=BURN)
    true = rule(burnsim.vary(DRAWN, {"pot.gap": 2.5e-3}))["bloom"]
    low, high = made.quantiles("bloom", (0.01, 0.99))
    assert low.value < true < high.value
    # another build has a gap of its own, as wide as its tolerance about the drawing
    low, high = made.other.quantiles("bloom", (0.05, 0.95))
    assert low.value < 30.0 / 1.7 < 30.0 * 1.7 < high.value


def test_a_bad_fit_names_the_size_and_tells_no_factor() -> None:
    found = calibrate(DRAWN, WRONG, factors=["flame_to_pot"], engine=BURN)
    assert found.bad
    first = found.explanations[0]
    assert first.path == "pot.gap"
    assert first.ratio == pytest.approx(2.5 / 1.5, rel=0.15)
    assert first.chance > 0.01
    assert [one.path for one in found.explanations] == ["pot.gap"]  # the rule feels no other size
    text = plain(found.summary())
    assert "pot.gap" in text
    assert "larger than drawn" in text
    assert "flame_to_pot" not in text  # nothing is printed as if learnt
    assert found.to_dict()["factors"]["flame_to_pot"]["high"] is None


def test_a_right_size_is_not_blamed() -> None:
    found = calibrate(DRAWN, logs(set_factors(DRAWN, {"flame_to_pot": 1.1}), 2), factors=["flame_to_pot"], engine=BURN)
    assert not found.bad
    assert found.explanations == ()


def test_no_band_leaves_what_a_factor_may_be() -> None:
    wide = posterior_of(["entrainment"], [0.0], np.array([[2000.0]]))
    assert wide.band()["entrainment"] == (0.1, 10.0)  # and not 1e32


def test_what_is_no_size_is_refused() -> None:
    for path in ("pot.rest", "factors.entrainment", "burner.jets.count", "pot.gapp"):
        with pytest.raises(InputError, match=path.replace(".", r"\.")):
            calibrate(DRAWN, WRONG, tolerances={path: 0.1}, engine=BURN)


def test_strength_of_the_spirit() -> None:
    """An opened bottle: a tenth less alcohol by mass; never more than pure, and always with water as a component."""
    weak = of_strength(blend("ethanol 95"), 0.9)
    both = [find_strength(one).mass for one in (weak, blend("ethanol 95"))]
    assert both[0] / both[1] == pytest.approx(0.9, abs=1e-9)
    assert of_strength(blend("methanol"), 1.2).components == ("methanol", "water")
    assert make_prior(names=(), tolerances={"charge.fuel": 0.05}).band()["charge.fuel"] == pytest.approx(
        (1 / 1.05, 1.05)
    )
