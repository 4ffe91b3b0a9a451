"""Predictions against distributions that are known exactly, by a stand-in for burning; some real ones; three bands."""

import json
import math
from pathlib import Path

import numpy as np
import pytest
from scipy.special import ndtri
from scipy.stats import binom, norm

import burnsim
from burnsim import BANDS, Factors, Failure, InputError, SolverError, analyse_sensitivity, predict, vary
from burnsim.model.description.factors import CORRELATIONS, LIMITS
from burnsim.studies.bench.conditions import Conditions
from burnsim.studies.bench.log import parse_bench_log
from burnsim.studies.bench.synthetic import synthesise_log
from burnsim.studies.calibrate.factors_file import load_factors, save_factors
from burnsim.studies.calibrate.posterior import (
    NORMAL_90,
    correlation_of,
    joined,
    make_prior,
    posterior_of,
    root,
    set_factors,
)
from burnsim.studies.calibrate.repeats import PACE, SCATTER
from burnsim.studies.predict.prediction import quantile, share
from burnsim.units import plain
from tests.studies.stand_in import design, engine, log_factor

SPREAD = {name: math.log(band.high / band.low) / (2.0 * NORMAL_90) for name, band in BANDS.items()}


TIE = CORRELATIONS["flame_to_rim", "entrainment"].value


def boil_by_pot(setup):
    return {"boil": 600.0 / setup.factors.flame_to_pot, "burnout": 2000.0}


def test_quantiles_are_those_of_the_known_distribution() -> None:
    found = predict(design(), n=2048, engine=engine(boil_by_pot))
    middle = 600.0 / math.exp(make_prior().mean[make_prior().names.index("flame_to_pot")])
    for one in found.quantiles("boil"):
        exact = middle * math.exp(norm.ppf(one.level) * SPREAD["flame_to_pot"])
        assert one.low is not None
        assert one.high is not None
        assert one.low < exact < one.high
        assert one.value == pytest.approx(exact, rel=0.01)


def test_factors_of_one_experiment_are_drawn_together_each_within_its_band() -> None:
    found = predict(design(), n=4096, engine=engine(boil_by_pot))
    logs = np.log(found.drawn)
    tied = correlation_of(tuple(BANDS))
    assert found.names == tuple(f"factors.{name}" for name in BANDS)
    assert np.corrcoef(logs.T) == pytest.approx(tied, abs=0.01)
    for name, row in zip(BANDS, logs.T, strict=True):
        band = BANDS[name]
        middle = 0.5 * math.log(band.low * band.high)
        assert make_prior().band()[name] == (pytest.approx(band.low), pytest.approx(band.high))
        quantiles = middle + norm.ppf([0.05, 0.25, 0.5, 0.75, 0.95]) * SPREAD[name]
        assert np.quantile(row, [0.05, 0.25, 0.5, 0.75, 0.95]) == pytest.approx(quantiles, abs=0.02 * SPREAD[name])


def test_without_correlations_each_factor_is_drawn_on_its_own(monkeypatch) -> None:
    """To the last bit: the inverse of the normal distribution at its own points, held within what is allowed.

    A pair leaves all others alone.
    """
    points = np.random.default_rng(3).random((256, len(BANDS)))
    tied = make_prior().draw(points)
    monkeypatch.setattr("burnsim.studies.calibrate.posterior.CORRELATIONS", {})
    before = make_prior()
    alone = np.exp(np.array(before.mean) + ndtri(points) * before.spread())
    assert np.array_equal(before.matrix(), np.diag(np.square(list(SPREAD.values()))))
    alone = np.clip(alone, *np.array([LIMITS[name] for name in BANDS]).T)
    assert np.array_equal(before.draw(points), alone)
    moved = [not np.array_equal(*columns) for columns in zip(tied.T, alone.T, strict=True)]
    assert [name for name, one in zip(BANDS, moved, strict=True) if one] == [pair[1] for pair in CORRELATIONS]


def test_probabilities_are_the_known_ones() -> None:
    def rule(setup):
        spills = log_factor(setup, "boiling_onset") > SPREAD["boiling_onset"]
        never = log_factor(setup, "wick_heat") < -2.0 * SPREAD["wick_heat"]
        return {"codes": ["spills"] * spills, "bloom": None if never else 20.0}

    found = predict(design(), n=2048, engine=engine(rule))
    spill = found.probability("spills")
    assert spill.low < norm.sf(1.0) < spill.high
    assert spill.value == pytest.approx(norm.sf(1.0), abs=0.01)
    assert found.happens("bloom").value == pytest.approx(1.0 - norm.cdf(-2.0), abs=0.01)
    assert found.probability("lift-off").high > 0.0  # none in 2048 is not never
    assert len(found.quantiles("spill")) == 0
    assert found.below("bloom", "20 s") == found.below("bloom", 20.0) == found.happens("bloom")
    assert found.below("bloom", "1/4 min").value == 0.0
    with pytest.raises(InputError, match="limit = '20 ml' is a volume, not a time"):
        found.below("bloom", "20 ml")
    with pytest.raises(InputError, match=r"code = 'quench' is not a verdict.*did you mean 'quenched'"):
        found.probability("quench")  # else it would never come


def test_every_verdict_that_strikes_is_told() -> None:
    found = predict(design(), n=64, engine=engine(lambda setup: {"codes": ["smothered", "rim melts"]}))
    told = [line.split("  ")[1].strip() for line in plain(found.summary()).splitlines() if "100.0 % (" in line]
    assert told[-2:] == ["smothered", "rim melts"]


def test_burns_that_never_light_or_go_out_are_told_beside_the_spills() -> None:
    """A quarter never lights, and so does not boil either; a quarter goes out; neither proves that nothing spills."""
    seen = iter(range(10**6))

    def rule(setup):
        k = next(seen) % 4
        return {"codes": [["never lit"], ["quenched"], [], []][k], "boil": None if k == 0 else 600.0}

    found = predict(design(), n=64, engine=engine(rule))
    assert found.unproven == pytest.approx(32, abs=1)  # one burn more is made for the times of the curve
    told = plain(found.summary())
    assert f"In {found.unproven} of the 64 burns it goes out or never lights before it could spill: no proof" in told
    no_boil = next(line for line in told.splitlines() if line.startswith("  no boil"))
    assert "25.0 %" in no_boil
    assert found.to_dict()["verdicts"]["no boil"]["value"] == pytest.approx(0.25)


def test_bands_converge_and_are_the_same_for_a_seed() -> None:
    burn = engine(boil_by_pot)
    first, again = (predict(design(), n=256, seed=7, engine=burn).quantiles("boil") for _ in range(2))
    assert first == again
    assert predict(design(), n=256, seed=8, engine=burn).quantiles("boil") != first
    widths = []
    for n in (64, 256, 1024):
        median = predict(design(), n=n, engine=burn).quantiles("boil", [0.5])[0]
        assert median.low is not None
        assert median.high is not None
        widths.append(median.high - median.low)
    assert widths[0] / widths[1] == pytest.approx(2.0, rel=0.35)  # as one over the root of n
    assert widths[1] / widths[2] == pytest.approx(2.0, rel=0.35)


def test_tolerances_of_sizes_are_drawn_about_the_drawing() -> None:
    def rule(setup):
        return {"boil": 1e6 * setup.charge.volume}

    found = predict(design(), n=1024, tolerances={"charge.volume": 0.1}, engine=engine(rule))
    low, middle, high = (one.value for one in found.quantiles("boil", [0.05, 0.5, 0.95]))
    assert middle == pytest.approx(37.0, rel=0.01)
    assert (low, high) == (pytest.approx(37.0 / 1.1, rel=0.01), pytest.approx(37.0 * 1.1, rel=0.01))
    refused = {"charge.fuel.name": 0.1, "burner.relief.width": 0.1, "charge.volume": 2.0, "factors.entrainment": 0.1}
    for path, width in (refused | {"charge.volum": 0.1}).items():
        with pytest.raises(InputError, match=path.replace(".", r"\.")):
            predict(design(), tolerances={path: width}, engine=engine(rule))
    flat = vary(design(), {"pot.rest": "full ring"})
    with pytest.raises(InputError, match=r"pot\.gap has no size in this design"):
        predict(flat, tolerances={"pot.gap": 0.5}, engine=engine(rule))


def test_water_bands_end_with_the_burns() -> None:
    found = predict(design(), n=128, engine=engine(boil_by_pot))
    time, water = found.water_quantiles()
    assert time[-1] <= 2000.0
    assert (np.diff(water, axis=0) >= 0.0).all()
    assert water.max() <= 373.15 + 1e-9


def test_failures_are_told_or_stop_the_prediction() -> None:
    burn = engine(boil_by_pot)

    def some(setups, water_at=()):
        burnt = list(zip(setups, burn(setups, water_at), strict=True))
        return [Failure(setup, "too stiff") if k % 50 == 7 else one for k, (setup, one) in enumerate(burnt)]

    found = predict(design(), n=128, engine=some)
    assert found.n == 125
    assert "3 burns could not be solved" in plain(found.summary())

    def many(setups, water_at=()):
        return [Failure(s, "too stiff") for s in setups]

    with pytest.raises(SolverError, match="too stiff"):
        predict(design(), n=64, engine=many)


def test_intervals_cover_as_they_claim() -> None:
    random = np.random.default_rng(1)
    hits = [0, 0]
    for _ in range(400):
        sample = random.standard_normal(60)
        upper = quantile(sample, 0.75)
        chance = share(int((sample > 1.0).sum()), 60)
        assert upper is not None
        assert upper.low is not None
        assert upper.high is not None
        hits[0] += upper.low <= norm.ppf(0.75) <= upper.high
        hits[1] += chance.low <= norm.sf(1.0) <= chance.high
    for hit in hits:  # 95 % claimed; Wilson's interval covers 93 to 97 % by discreteness
        assert binom.cdf(hit, 400, 0.93) > 1e-3
    assert quantile(np.arange(10.0), 0.99).high is None
    assert quantile(np.empty(0), 0.5) is None


def test_sobol_indices_of_a_known_sum() -> None:
    """Of a ln f1 + b ln f2 they are a^2 s1^2 and b^2 s2^2 over their sum."""

    def rule(setup):
        return {"efficiency": 1.0 + 0.3 * log_factor(setup, "entrainment") - 0.2 * log_factor(setup, "rim_contact")}

    found = analyse_sensitivity(design(), n=512, figures=("efficiency", "power_median"), engine=engine(rule))
    parts = {"entrainment": (0.3 * SPREAD["entrainment"]) ** 2, "rim_contact": (0.2 * SPREAD["rim_contact"]) ** 2}
    whole = sum(parts.values())
    for j, name in enumerate(found.names):
        exact = sum(part for factor, part in parts.items() if factor in name.split(" and ")) / whole
        assert found.first[0, j] == pytest.approx(exact, abs=0.04)
        assert found.total[0, j] == pytest.approx(exact, abs=0.04)
    assert found.ranked("efficiency")[0][0] == "rim_contact"
    assert found.ranked("power_median") == []
    assert "does not vary" in plain(found.summary())
    assert found.to_dict()["figures"]["power_median"] is None
    with pytest.raises(InputError, match="power of two"):
        analyse_sensitivity(design(), n=100, engine=engine(rule))
    tied = posterior_of(["entrainment", "rim_contact"], [0.0, 0.0], np.array([[0.1, 0.05], [0.05, 0.1]]))
    with pytest.raises(InputError, match="hang together"):
        analyse_sensitivity(design(), n=64, posterior=tied, engine=engine(rule))


def test_factors_that_hang_together_have_one_index() -> None:
    """Of a ln f1 + b ln f2 with correlation r it is a^2 s1^2 + b^2 s2^2 + 2 a b r s1 s2 over the whole variance."""

    def rule(setup):
        pair = 0.5 * log_factor(setup, "flame_to_rim") + 0.8 * log_factor(setup, "entrainment")
        return {"efficiency": 1.0 + pair + 0.1 * log_factor(setup, "rim_contact")}

    found = analyse_sensitivity(design(), n=1024, figures=("efficiency",), engine=engine(rule))
    assert found.burns == 1024 * (len(BANDS) + 1)  # one group less than factors
    one, other, alone = 0.5 * SPREAD["flame_to_rim"], 0.8 * SPREAD["entrainment"], 0.1 * SPREAD["rim_contact"]
    pair = one**2 + other**2 + 2.0 * TIE * one * other
    exact = {"flame_to_rim and entrainment": pair, "rim_contact": alone**2}
    for j, name in enumerate(found.names):
        for index in (found.first, found.total):
            assert index[0, j] == pytest.approx(exact.get(name, 0.0) / sum(exact.values()), abs=0.03)
    assert "    flame_to_rim and entrainment  " in plain(found.summary())


def test_a_size_in_doubt_has_its_index_too() -> None:
    known = make_prior(names=["entrainment"], tolerances={"charge.volume": 0.1})
    burn = engine(lambda setup: {"efficiency": 1e4 * setup.charge.volume})
    found = analyse_sensitivity(design(), n=1024, figures=("efficiency",), posterior=known, engine=burn)
    assert found.ranked("efficiency")[0][:2] == ("charge.volume", pytest.approx(1.0, abs=0.05))


def test_a_milestone_at_once_or_never_does_not_outweigh_the_rest() -> None:
    """Bloom hangs on the wick alone, but for a few burns that light at once and a few that never do."""

    def rule(setup):
        wick = log_factor(setup, "wick_heat")
        late = None if wick < -2.2 * SPREAD["wick_heat"] else 20.0 * math.exp(-wick)
        return {"bloom": 0.0 if wick > 2.2 * SPREAD["wick_heat"] else late}

    found = analyse_sensitivity(design(), n=1024, figures=("bloom",), engine=engine(rule))
    (name, total, low, high), *rest = found.ranked("bloom")
    assert name == "wick_heat"
    assert total == pytest.approx(1.0, abs=0.1)
    assert low <= total <= high
    assert all(abs(other[1]) < 0.05 for other in rest)


def test_a_belief_is_drawn_as_it_says() -> None:
    matrix = np.array([[0.04, -0.03], [-0.03, 0.09]])
    posterior = posterior_of(["entrainment", "flame_to_pot"], [0.1, -0.2], matrix)
    points = np.random.default_rng(0).random((40_000, 2))
    logs = np.log(posterior.draw(points))
    assert np.cov(logs.T) == pytest.approx(matrix, abs=0.002)
    assert logs.mean(axis=0) == pytest.approx([0.1, -0.2], abs=0.01)
    both = joined(posterior, make_prior())
    assert set(both.names) == set(BANDS)
    assert both.band()["entrainment"] == posterior.band()["entrainment"]
    with pytest.raises(InputError, match="entrainment"):
        make_prior(names=["entranment"])


TIED = np.array([[0.17**2, -0.5 * 0.17 * 0.08, 0.0], [-0.5 * 0.17 * 0.08, 0.08**2, 0.0], [0.0, 0.0, 0.03**2]])


def test_what_is_learnt_of_one_factor_tells_of_another_that_hangs_with_it() -> None:
    """The first alone is measured, 0.3 with an error of 0.1: the exact posterior of all is that of Kalman."""
    names, mean = ["flame_to_rim", "entrainment", "discharge"], np.array([0.02, -0.01, 0.03])
    gain = TIED[:, 0] / (TIED[0, 0] + 0.1**2)
    after, matrix = mean + gain * (0.3 - mean[0]), TIED - np.outer(gain, TIED[0])
    learnt = posterior_of(names[:1], after[:1].tolist(), matrix[:1, :1])
    both = joined(learnt, posterior_of(names, mean.tolist(), TIED))
    assert both.names == tuple(names)
    assert both.mean == pytest.approx(after, abs=1e-12)
    assert both.matrix() == pytest.approx(matrix, abs=1e-12)
    assert both.groups() == ((0, 1), (2,))


@pytest.mark.parametrize(
    "matrix", [TIED, np.ones((3, 3)), np.diag([0.04, 0.0, 0.01])], ids=["", "singular", "diagonal"]
)
def test_a_root_of_a_covariance_gives_it_back(matrix) -> None:
    assert root(matrix) @ root(matrix).T == pytest.approx(matrix, abs=1e-14)  # of rounding


def test_a_factor_that_hangs_with_none_keeps_to_its_own_points() -> None:
    points = np.random.default_rng(0).random((64, 3))
    names = ["flame_to_rim", "entrainment", "discharge"]
    tied, alone = (posterior_of(names, [0.0] * 3, matrix).draw(points) for matrix in (TIED, np.diag(np.diag(TIED))))
    assert np.array_equal(tied[:, [0, 2]], alone[:, [0, 2]])
    assert not np.isclose(tied[:, 1], alone[:, 1]).any()


def test_draws_that_are_kept_take_along_what_hangs_with_them() -> None:
    """Kept draws of the first follow no normal distribution; the second lies about its regression line on them."""
    names = ["flame_to_rim", "entrainment", "discharge"]
    random = np.random.default_rng(4)
    kept = 0.3 * random.choice([-1.0, 1.0], (128, 1)) + 0.02 * random.standard_normal((128, 1))
    learnt = posterior_of(names[:1], [0.0], np.array([[0.09]])).with_draws(kept)
    both = joined(learnt, posterior_of(names, [0.0, 0.1, 0.0], TIED))
    first, second, third = np.log(both.draw(random.random((20_000, 3)))).T
    left = second - 0.1 + 0.5 * 0.08 / 0.17 * first
    assert set(np.round(first, 6)) == {row[0] for row in learnt.draws}
    assert left.mean() == pytest.approx(0.0, abs=0.002)
    assert left.std() == pytest.approx(0.08 * math.sqrt(0.75), rel=0.02)
    assert np.corrcoef(np.stack([first, left, third])) == pytest.approx(np.eye(3), abs=0.02)


def test_calibrated_factors_shrink_the_bands() -> None:
    tight = posterior_of(["flame_to_pot"], [math.log(0.9)], np.array([[1e-4]]))
    narrow = predict(design(), n=256, posterior=tight, engine=engine(boil_by_pot)).quantiles("boil", [0.05, 0.5, 0.95])
    assert narrow[1].value == pytest.approx(600.0 / 0.9, rel=1e-3)
    assert narrow[2].value - narrow[0].value == pytest.approx(2.0 * NORMAL_90 * 0.01 * 600.0 / 0.9, rel=0.05)


def test_another_build_gets_its_own_holes() -> None:
    names = ["entrainment", "hole_diameter"]
    learnt = posterior_of(names, [0.2, 0.03], np.array([[0.01, 1e-4], [1e-4, 1e-4]]))
    other = learnt.for_new_build()
    assert other.band()["entrainment"] == learnt.band()["entrainment"]
    assert other.band()["hole_diameter"] == pytest.approx(make_prior(names=names).band()["hole_diameter"])
    assert len(other.groups()) == 2


def test_factors_file_round_trip_and_refusals(tmp_path: Path) -> None:
    posterior = posterior_of(["entrainment", "flame_to_pot"], [0.1, -0.2], np.array([[0.04, -0.03], [-0.03, 0.09]]))
    file = tmp_path / "factors.toml"
    save_factors(posterior, file, note='from "porch" 1')
    assert load_factors(file) == posterior
    assert [path.name for path in tmp_path.iterdir()] == ["factors.toml"]
    text = file.read_text(encoding="utf-8")
    for old, new, says in (
        ("version = 1", "version = 2", "version"),
        ("burnsim factors", "other", "not a factors file"),
        ('names = ["entrainment"', 'names = ["entranment"', "entrainment"),
        ("entrainment = 1.1", "entrainment = 1.7", "disagrees"),
        ("mean = [0.1,", "mean = [", "do not go together|does not go"),
        ("note =", "nots =", "known key"),
        ("[logarithms]", "[logarithm", "not TOML"),
    ):
        assert old in text
        (tmp_path / "bad.toml").write_text(text.replace(old, new), encoding="utf-8")
        with pytest.raises(InputError, match=says):
            load_factors(tmp_path / "bad.toml")
    with pytest.raises(InputError, match="cannot be written"):
        save_factors(posterior, tmp_path / "nowhere" / "factors.toml")


def test_factors_of_the_design_are_the_middle() -> None:
    changed = set_factors(design(), {"flame_to_pot": 0.8})
    found = predict(changed, n=256, engine=engine(boil_by_pot))
    assert found.quantiles("boil", [0.5])[0].value == pytest.approx(600.0 / 0.8, rel=0.01)
    assert Factors().flame_to_pot == 1.0


def test_bad_numbers_are_refused() -> None:
    for wrong in ({"n": 4}, {"n": 2.5}, {"seed": -1}, {"n": True}):
        with pytest.raises(InputError):
            predict(design(), engine=engine(boil_by_pot), **wrong)


def test_a_real_prediction_holds_the_single_burn(tmp_path: Path) -> None:
    setup = burnsim.vary(design(), {"site.air_temperature": 293.15, "pot.rest": "bumps"})
    found = predict(setup, n=8, workers=1)
    single = burnsim.burn(found.setup).milestones.boil.time
    assert single is not None
    boils = found.figures["boil"]
    assert np.nanmin(boils) < single < np.nanmax(boils)
    table = found.to_dict()
    assert table["burns"] == 8
    assert "Milestones" in plain(found.summary())


def test_drawn_burns_are_as_exact_as_their_bands_need() -> None:
    """Their looser tolerance moves no milestone by a fiftieth of its band."""
    setup = burnsim.load(Path(__file__).parents[3] / "examples" / "weekend_double_wall.toml")
    found = predict(setup, n=16, seed=3, workers=1)
    for k, row in enumerate(found.drawn.tolist()):
        exact = burnsim.burn_many([burnsim.vary(setup, dict(zip(found.names, row, strict=True)))])[0]
        assert not isinstance(exact, Failure)
        for name in ("bloom", "boil", "burnout"):
            low, high = (one.value for one in found.quantiles(name, (0.05, 0.95)))
            time = getattr(exact.milestones, name).time
            assert (time is None) == math.isnan(found.figures[name][k]), name
            assert time is None or abs(found.figures[name][k] - time) < 0.02 * (high - low), name


def test_text_in_either_system_of_units() -> None:
    found = predict(design(), n=64, engine=engine(boil_by_pot))
    [si] = [line.split() for line in plain(found.summary()).splitlines() if "fuel burnt by the boil [ml]" in line]
    [us] = [
        line.split() for line in plain(found.summary("us")).splitlines() if "fuel burnt by the boil [fl oz]" in line
    ]
    poured = 20.0 / 0.7913  # g of methanol at 20 degC; CRC Handbook, from memory, within 0.3 %
    assert float(si[-1]) == pytest.approx(poured, abs=0.003 * poured + 0.05)
    assert float(us[-1]) == pytest.approx(poured / 29.5735, abs=0.003 * poured / 29.5735 + 0.005)
    text = plain(found.summary("us"))
    assert "froth below the jets [in]" in text
    assert "highest pressure, jets [inH2O]" in text
    with pytest.raises(InputError, match="did you mean 'us'"):
        plain(found.summary("usa"))


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


def test_what_a_design_lacks_is_not_told_to_never_happen() -> None:
    """An open cup has no jets to light, a burner without a pot no water to boil."""
    cup = vary(design(), {"burner": {"kind": "open cup", "outer_diameter": "60 mm", "height": "30 mm"},
                          "charge.primer": "0 ml"})  # fmt: skip
    bare = vary(design(), {"pot": None})
    for setup, lacking in ((cup, ("bloom", "highest pressure, jets")), (bare, ("water boils", "no boil"))):
        text = predict(setup, n=8, engine=engine(lambda one: {})).summary()
        assert not [line for line in text.splitlines() for words in lacking if line.startswith("  ") and words in line
                    and "differ by" not in line and "made up" not in line]  # fmt: skip
