"""Design search against problems with known answers, by a stand-in for burning."""

import math
from pathlib import Path

import numpy as np
import pytest

from burnsim import InputError, search, vary
from burnsim.studies.calibrate.posterior import posterior_of
from burnsim.studies.predict.prediction import share
from burnsim.studies.search.file import read_search
from burnsim.studies.search.space import drill_sizes, read_free
from burnsim.substances.blend import density
from burnsim.units import parse, plain
from burnsim.units.table import INCH
from tests.studies.stand_in import design, engine, log_factor

FREE = {"burner.jets.count": (12, 40), "burner.jets.diameter": {"low": "0.7 mm", "high": "1.3 mm", "drills": "metric"}}


def rule(setup):
    """More area of jets boils faster and takes more fuel; the least fuel is at 24 jets of 1.00 mm."""
    count, width = setup.burner.jets.count, setup.burner.jets.diameter * 1e3
    fuel = 0.02 + 1e-5 * (count - 24) ** 2 + 0.05 * (width - 1.0) ** 2
    return {"fuel": fuel, "boil": 900.0 - 10.0 * count * width**2, "codes": ["flare"] * (count * width**2 > 36.0)}


BURN = engine(rule)


def test_the_known_best_is_found_with_whole_numbers_and_drills() -> None:
    found = search(design(), FREE, "boil_fuel", draws=0, evaluations=1200, engine=BURN)
    best = found.best[0]
    assert best.changes == {"burner.jets.count": 24, "burner.jets.diameter": pytest.approx(1.0e-3)}
    assert isinstance(best.changes["burner.jets.count"], int)
    assert found.burns == found.designs - found.impossible  # every design is burnt once
    for one in found.front:
        steps = one.changes["burner.jets.diameter"] / 0.05e-3
        assert steps == pytest.approx(round(steps), abs=1e-6)


def test_a_best_design_at_the_end_of_what_was_free_is_told() -> None:
    """The best of 12 to 40 jets are 24; of 12 to 20 they are as many as are free. Number drills have their names."""
    holes = {"low": "0.9 mm", "high": "1.1 mm", "drills": "number"}
    for most, starred in ((40, False), (20, True)):
        free = {"burner.jets.count": (12, most), "burner.jets.diameter": holes}
        found = search(design(), free, "boil_fuel", draws=0, evaluations=600, engine=BURN)
        told = plain(found.summary())
        assert ("burner.jets.count" in found.to_dict()["best"][0]["edge"]) is starred
        assert (f"burner.jets.count = {most}*" in told) is starred
        assert ("* the lowest or highest that was free" in told) is starred
        assert "burner.jets.diameter = 0.9906 mm (#61 drill)" in told
        assert "* the lowest" not in told.split("Best")[0]


def test_the_best_design_is_given_back() -> None:
    found = search(design(), FREE, "boil_fuel", draws=0, evaluations=60, engine=BURN)
    assert found.setup_at() == vary(design(), found.best[0].changes)
    with pytest.raises(InputError, match="is not among the best"):
        found.setup_at(len(found.best))


def test_a_limit_binds_and_its_price_is_right() -> None:
    """Boil within 540 s takes count*width^2 >= 36; the best on that edge is found by trying all."""
    found = search(
        design(),
        FREE,
        "boil_fuel",
        limits={"boil": (None, "540 s"), "bloom": (None, 45.0)},
        draws=0,
        evaluations=1600,
        engine=BURN,
    )
    every = [(count, width) for count in range(12, 41) for width in np.arange(0.70, 1.3001, 0.05)]
    fuel = [0.02 + 1e-5 * (c - 24) ** 2 + 0.05 * (w - 1.0) ** 2 for c, w in every if 900.0 - 10.0 * c * w**2 <= 540.0]
    assert found.best[0].figures["boil_fuel"] == pytest.approx(min(fuel), rel=1e-9)
    costs = {price.limit.name: price.saving for price in found.prices}
    assert costs["boil"] == pytest.approx(min(fuel) - 0.02, rel=1e-6)
    assert costs["bloom"] == 0.0
    assert plain(found.summary()).count("costs nothing by itself") == 1
    assert "  each of the others costs nothing by itself" in plain(found.summary())
    poured = min(fuel) / density(design().charge.fuel, design().site.air_temperature) / parse("1 fl oz", "volume")
    ounces = f"fuel to boil {poured:.2f} fl oz"
    width = float(found.best[0].changes["burner.jets.diameter"]) / INCH
    assert ounces in plain(found.summary("us"))
    assert f"burner.jets.diameter = {width:.4g} in" in plain(found.summary("us"))
    assert " mm" not in plain(found.summary("us"))


def test_forbidden_verdicts_stay_away() -> None:
    found = search(design(), FREE, "boil", forbid=["flare"], draws=0, evaluations=1200, engine=BURN)
    assert found.best
    for one in found.best:
        assert one.changes["burner.jets.count"] * (one.changes["burner.jets.diameter"] * 1e3) ** 2 <= 36.0 + 1e-9


def test_the_verdicts_of_the_best_are_told_though_none_was_forbidden() -> None:
    def rule_of_all(setup):
        return rule(setup) | {"codes": ["smothered"] + ["flare"] * (log_factor(setup, "boiling_onset") > 0.0)}

    for draws, told in (
        (0, "warned of: 'smothered'"),
        (64, "warned of: 'smothered' in 64 of 64 burns, 'flare' in 32"),
    ):
        found = search(design(), FREE, "boil", draws=draws, evaluations=1200, engine=engine(rule_of_all))
        assert dict(found.best[0].verdicts)["smothered"] == max(draws, 1)
        assert told in plain(found.summary())
        assert ", mostly warned of 'smothered'" in plain(found.summary())
        assert found.to_dict()["best"][0]["verdicts"]["smothered"] == 1.0


def test_the_front_trades_and_holds_no_worse_design() -> None:
    found = search(design(), FREE, "boil_fuel", draws=0, evaluations=1200, engine=BURN)
    boils = [one.figures["boil"] for one in found.front]
    fuels = [one.figures["boil_fuel"] for one in found.front]
    assert len(boils) > 5
    assert boils == sorted(boils)
    assert fuels == sorted(fuels, reverse=True)


def test_wishes_that_cannot_be_met_are_told() -> None:
    found = search(design(), FREE, "boil_fuel", limits={"boil": (None, 60.0)}, evaluations=800, engine=BURN)
    assert found.best == ()
    assert found.nearest is not None
    assert "no design" in plain(found.summary())
    assert found.to_dict()["best"] == []


def unsure(setup):
    """The same with the boil uncertain by one factor, and a flare where another is high."""
    told = rule(setup)
    flares = math.log(setup.burner.jets.count / 30.0) + log_factor(setup, "entrainment") > 0.0
    return told | {
        "boil": told["boil"] * math.exp(log_factor(setup, "flame_to_pot")),
        "codes": ["flare"] * flares,
    }


UNSURE = {"limits": {"boil": (None, 700.0)}, "engine": engine(unsure)}


def test_a_limit_is_kept_in_nine_of_ten_burns_unless_another_share_is_asked_for() -> None:
    """Fresh draws, which had no part in the choice, say so; a plain burn at the edge is kept in about half of them."""
    by_share = {}
    for asked in (0.7, 0.9):
        found = search(design(), FREE, "boil_fuel", share=asked, check=1024, few=1, evaluations=5000, **UNSURE)
        assert found.best[0].draws == 64
        assert found.best[0].kept[0] >= asked * 64
        by_share[asked] = found.checked[0].kept[0] / 1024
        assert by_share[asked] > asked - 0.06
    assert by_share[0.7] < 0.85
    nominal = search(design(), FREE, "boil_fuel", draws=0, check=1024, few=1, evaluations=2000, **UNSURE)
    assert nominal.checked[0].kept[0] / 1024 < 0.7


def test_the_price_of_a_chance_is_found_among_other_limits() -> None:
    """Without the limit on the boil the best takes 20 g, for sure; the others cost nothing."""
    limits = {"boil": (None, 700.0), "bloom": (None, 45.0), "burnout": (100.0, None)}
    found = search(design(), FREE, "boil_fuel", limits=limits, evaluations=3000, engine=engine(unsure))
    boil, *others = found.prices
    assert boil.without == pytest.approx(0.02, rel=2e-3)
    assert boil.saving == pytest.approx(found.best[0].figures["boil_fuel"] - 0.02, rel=0.05)
    assert boil.saving > 1e-4
    assert all(price.saving < 2e-5 for price in others)


def test_a_verdict_is_a_chance_too() -> None:
    """Many jets boil fast; how many, the share of burns that may flare decides."""
    burn = engine(unsure)
    counts = []
    for allowed in ({"flare": 0.4}, ["flare"]):
        found = search(design(), FREE, "boil", forbid=allowed, evaluations=4000, engine=burn)
        counts.append(found.best[0].changes["burner.jets.count"])
        assert found.best[0].kept[0] >= (64 * 0.6 if isinstance(allowed, dict) else 64 * 0.9)
    assert counts[1] < counts[0]


def quenching(setup):
    """Fewer jets take less fuel, and go out in more of the draws: with 30 and more in a twentieth, with 16 in half."""
    count = setup.burner.jets.count
    out = log_factor(setup, "quench_flow") > 0.048 * (count - 16)
    return {
        "fuel": 0.02 + 1e-4 * count, "boil": None if out else 600.0, "codes": ["quenched", "no boil"] if out else [],
    }  # fmt: skip


FEWER = {"burner.jets.count": (16, 40)}


def test_a_design_that_goes_out_in_many_draws_is_not_picked_though_nothing_is_limited() -> None:
    """The plain burn of every design boils, and the least fuel is at 16 jets, of which half of all burns go out."""
    burn = engine(quenching)
    any_design = search(design(), FEWER, "boil_fuel", works=0, evaluations=1500, engine=burn)
    assert any_design.best[0].changes["burner.jets.count"] < 20
    found = search(design(), FEWER, "boil_fuel", evaluations=1500, engine=burn)
    assert found.best
    for one in found.best:
        assert one.draws == 64
        assert one.kept == (one.together,)
        assert one.together >= 61  # nineteen of twenty
        assert dict(one.verdicts).get("quenched", 0) == 64 - one.together
    text = plain(found.summary())
    assert "works: lights, blooms, boils" in text
    assert "in 95 % of burns" in text
    assert f"kept: works in {found.best[0].together} of 64 burns" in text
    assert "works" in {price.limit.name for price in found.prices}


def test_the_answer_counts_the_burns_that_do_all_that_was_asked_at_once() -> None:
    """A limit is broken where one factor is high, the other where another is: together they are kept more seldom."""

    def burn(setup):
        codes = ["flare"] * (log_factor(setup, "entrainment") > 0.1)
        codes += ["smothered"] * (log_factor(setup, "flame_to_pot") > 0.1)
        return {"codes": codes, "fuel": 0.02 + 1e-4 * setup.burner.jets.count}

    found = search(
        design(), FEWER, "boil_fuel", forbid={"flare": 0.5, "smothered": 0.5}, check=64, evaluations=1500,
        engine=engine(burn),
    )  # fmt: skip
    one, check = found.best[0], found.checked[0]
    assert one.kept[2] == 64
    assert max(one.kept[0] + one.kept[1] - 64, 0) <= one.together < min(one.kept[:2])
    assert f"kept: all that was asked in {one.together} of 64 burns" in plain(found.summary())
    assert f"checked by other burns: all that was asked in {check.together} of 64 burns" in plain(found.summary())
    assert found.to_dict()["best"][0]["together"]["kept"] == one.together


def test_where_no_design_does_its_work_the_nearest_is_told_over_all_draws() -> None:
    found = search(design(), {"burner.jets.count": (16, 20)}, "boil_fuel", evaluations=900, engine=engine(quenching))
    assert found.best == ()
    assert found.burns <= found.evaluations
    assert found.nearest is not None
    assert found.nearest.draws == 64
    assert found.nearest.changes["burner.jets.count"] == 20
    text = plain(found.summary())
    assert f"breaks: works, kept in {found.nearest.kept[0]} of 64 burns" in text
    assert "not in 95 %" in text
    assert "kept: works" not in text
    assert "works = 0.9" in plain(found.summary())


def test_every_design_is_burnt_over_the_same_draws() -> None:
    seen: dict[tuple[int, float], list[float]] = {}

    def burn(setups, water_at=()):
        for one in setups:
            key = (one.burner.jets.count, one.burner.jets.diameter)
            seen.setdefault(key, []).append(one.factors.flame_to_pot)
        return UNSURE["engine"](setups, water_at)

    found = search(design(), FREE, "boil_fuel", limits=UNSURE["limits"], draws=32, evaluations=1000, engine=burn)
    full = {
        tuple(sorted(factors[1:])) for factors in seen.values() if len(factors) == 33
    }  # the first is the plain burn
    assert found.drawn > 3
    assert len(full) == 1
    assert len(set(next(iter(full)))) == 32


def test_the_search_of_the_guide_finds_a_design_that_keeps_every_limit() -> None:
    """With a third of the burns that its file allows, and on one core."""
    plan = read_search(Path(__file__).parents[3] / "examples" / "search" / "least_fuel.toml")
    found = search(vary(plan.design, plan.changes), **plan.asked | {"evaluations": 1000}, workers=1)
    assert found.feasible >= 1
    assert found.best


@pytest.mark.parametrize(("draws", "check"), [(0, 0), (16, 0), (16, 64)])
def test_evaluations_count_every_burn(draws: int, check: int) -> None:
    burnt = []

    def burn(setups, water_at=()):
        burnt.append(len(setups))
        return UNSURE["engine"](setups, water_at)

    settings = {"limits": UNSURE["limits"], "forbid": ["flare"], "draws": draws, "check": check}
    found = search(design(), FREE, "boil_fuel", evaluations=700, engine=burn, **settings)
    assert found.burns == sum(burnt) <= found.evaluations == 700
    assert f"{sum(burnt)} burns of at most 700" in plain(found.summary())
    with pytest.raises(InputError, match="too few for 64 draws"):
        search(design(), FREE, "boil_fuel", evaluations=600, engine=burn)


def test_the_answer_says_in_how_many_burns_each_limit_is_kept_and_how_sure_that_is() -> None:
    limits = {"boil": {"most": "11.5 min", "share": 0.8}, "bloom": (None, 45.0)}
    found = search(design(), FREE, "boil_fuel", limits=limits, evaluations=3000, engine=engine(unsure))
    text = plain(found.summary())
    kept = found.best[0].kept[0]
    known = share(kept, 64)
    assert "boil at most 11.5 min, in 80 % of burns" in text
    assert (
        f"kept: boil at most 11.5 min in {kept} of 64 burns ({100 * known.low:.0f} to {100 * known.high:.0f} %)" in text
    )
    told = found.to_dict()["best"][0]["kept"]
    assert {plain(name) for name in told} == {"boil at most 11.5 min", "bloom at most 45 s", "works"}
    assert told[next(iter(told))] == {
        "kept": kept, "burns": 64, "share": known.value, "low": known.low, "high": known.high,
    }  # fmt: skip


def test_the_front_shows_designs_that_differ() -> None:
    """A gap that changes nothing but the last digit fills no front, and sizes come in steps that can be made."""

    def burn(setup):
        told = rule(setup)
        return told | {"boil": told["boil"] - 1e3 * setup.pot.gap, "fuel": told["fuel"] + 1e-3 * setup.pot.gap}

    free = {**FREE, "pot.gap": ("1 mm", "4 mm")}
    found = search(design(), free, "boil_fuel", draws=0, evaluations=2000, engine=engine(burn))
    rows = np.array([[one.figures["boil"], one.figures["boil_fuel"]] for one in found.front])
    assert 4 < len(rows) <= 10
    apart = np.abs(np.diff(rows, axis=0)) / rows.max(axis=0)
    assert apart.max(axis=1).min() > 0.0099  # a hundredth
    for one in found.front:
        assert one.changes["pot.gap"] / 0.5e-3 == pytest.approx(round(one.changes["pot.gap"] / 0.5e-3), abs=1e-6)


def test_a_learnt_build_is_not_taken_for_another_that_is_searched() -> None:
    """Calibration made holes of one build narrow; another build of the drawing has its own, with the prior's width."""
    known = posterior_of(["hole_diameter", "flame_to_pot"], [0.0, 0.1], np.diag([1e-8, 1e-8]))
    spread: dict[str, list[float]] = {"hole_diameter": [], "flame_to_pot": []}

    def burn(setups, water_at=()):
        for one in setups:
            for name, values in spread.items():
                values.append(log_factor(one, name))
        return BURN(setups, water_at)

    search(design(), FREE, "boil_fuel", draws=16, evaluations=400, posterior=known, engine=burn)
    assert np.std(spread["hole_diameter"]) > 10 * np.std(spread["flame_to_pot"])


def test_equal_seeds_give_equal_searches() -> None:
    first, again = (
        search(design(), FREE, "boil_fuel", evaluations=120, seed=4, draws=8, engine=BURN) for _ in range(2)
    )
    assert first.best == again.best
    assert (first.designs, first.burns) == (again.designs, again.burns)


def test_designs_that_cannot_be_built_are_passed_over() -> None:
    free = {"burner.jets.height": ("20 mm", "60 mm")}  # the burner is 45 mm high
    found = search(design(), free, "boil_fuel", draws=0, evaluations=80, engine=BURN)
    assert found.impossible > 0
    assert found.best[0].changes["burner.jets.height"] < 45e-3


def test_choices_and_steps() -> None:
    free = {
        "charge.fuel": ["methanol", "ethanol 95"],
        "charge.volume": {"low": "20 ml", "high": "30 ml", "step": "5 ml"},
    }
    first, second = read_free(design(), free)
    assert [one.name for one in first.choices] == ["methanol", "ethanol 95"]
    assert second.choices == (pytest.approx(20e-6), pytest.approx(25e-6), pytest.approx(30e-6))
    assert drill_sizes(0.5e-3, 0.6e-3, "number") == tuple(sorted(drill_sizes(0.5e-3, 0.6e-3, "number")))


def test_ranges_without_a_step_go_in_sizes_that_can_be_made() -> None:
    free = {
        "burner.jets.diameter": ("0.9 mm", "1.02 mm"),
        "pot.gap": ("1 mm", "3 mm"),
        "burner.gallery_gap": ("4 mm", "4.6 mm"),
        "charge.volume": ("20 ml", "40 ml"),
        "burner.jets.count": (12, 14),
    }
    jets, gap, gallery, volume, count = read_free(design(), free)
    assert jets.choices == pytest.approx((0.9e-3, 0.95e-3, 1.0e-3))  # drills
    assert gap.choices == pytest.approx((1e-3, 1.5e-3, 2e-3, 2.5e-3, 3e-3))
    assert gallery.choices == pytest.approx([4e-3 + k * 1e-4 for k in range(7)])
    assert volume.choices[:2] == pytest.approx((20e-6, 20.5e-6))
    assert (count.choices, count.low, count.high) == ((), 12.0, 14.0)


@pytest.mark.parametrize(
    "raw", [("16 g", "24 g"), {"low": "16 g", "high": "24 g", "step": "0.8 g"}, ["16 g", "20 g", "24 g"]]
)
def test_a_charge_may_be_searched_by_its_mass(raw: object) -> None:
    (found,) = read_free(design(), {"charge.volume": raw})
    heavy = density(design().charge.fuel, design().site.air_temperature)
    assert (found.choices[0], found.choices[-1]) == pytest.approx((0.016 / heavy, 0.024 / heavy), rel=0.01)
    with pytest.raises(InputError, match="goes with one fuel only"):
        read_free(design(), {"charge.volume": raw, "charge.fuel": ["methanol", "ethanol 95"]})


def test_a_search_file_sets_the_share(tmp_path: Path) -> None:
    file = tmp_path / "s.toml"
    file.write_text('design = "d.toml"\nobjective = "boil"\nshare = 0.8\n[free]\n"pot.gap" = ["1 mm", "2 mm"]\n')
    assert read_search(file).asked["share"] == 0.8
    file.write_text(file.read_text().replace("0.8", "true"))
    with pytest.raises(InputError, match="not a number"):
        read_search(file)


@pytest.mark.parametrize(
    ("free", "wishes", "says"),
    [
        ({}, {}, "nothing to change"),
        ({"burner.jets.cuont": (1, 2)}, {}, "burner.jets.count"),
        ({"burner.jets.count": (40, 12)}, {}, "low below high"),
        ({"burner.jets.count": (12.5, 40)}, {}, "whole number"),
        ({"burner.jets.count": {"low": 12, "high": 40, "drills": "metric"}}, {}, "not a hole"),
        ({"burner.jets.diameter": {"low": "0.7 mm", "high": "1 mm", "drills": "metrik"}}, {}, "metric"),
        ({"burner.relief.width": (1e-3, 2e-3)}, {}, "relief"),
        ({"charge.fuel": ["methanol"]}, {}, "neither"),
        (FREE, {"limits": {"boyl": (None, 60.0)}}, "'boil'"),
        (FREE, {"limits": {"boil": (60.0, 50.0)}}, "least below most"),
        (FREE, {"limits": {"boil": (None, "60 ml")}}, "not a time"),
        (FREE, {"forbid": ["spils"]}, "'spills'"),
        (FREE, {"forbid": {"spills": 2.0}}, "probability"),
        (FREE, {"share": 90}, "share of the burns"),
        (FREE, {"works": 95}, "share of the burns"),
        (FREE, {"limits": {"boil": {"most": 60.0, "share": 0.0}}}, "share of the burns"),
        (FREE, {"draws": 3}, "too few"),
        (FREE, {"evaluations": 3}, "40"),
        (FREE, {"objective": "cost"}, "figure"),
    ],
)
def test_wishes_that_make_no_sense_are_refused(free: object, wishes: dict[str, object], says: str) -> None:
    with pytest.raises(InputError, match=says):
        search(design(), free, wishes.pop("objective", "boil_fuel"), engine=BURN, **wishes)


def test_a_limit_that_is_none_is_told_as_a_file_writes_it() -> None:
    with pytest.raises(InputError, match=r"limits.bloom = '1 min' is no limit: give \{ most = "):
        search(design(), FREE, "boil_fuel", limits={"bloom": "1 min"}, evaluations=800, engine=BURN)


def test_the_answer_says_what_the_other_designs_break() -> None:
    """No design boils within 500 s, and those of few jets go out in too many of their burns."""
    limits = {"boil": (None, 500.0)}
    found = search(design(), FEWER, "boil_fuel", limits=limits, evaluations=900, engine=engine(quenching))
    assert found.best == ()
    assert found.broken[0] == found.drawn
    assert found.reached[0] == 600.0
    assert dict(found.stopped).get("quenched", 0) == found.broken[1] > 0
    text = plain(found.summary())
    assert f"{found.drawn} break 'boil at most 8 min 20 s' (the nearest of all that were tried: 10 min 0 s)" in text
    assert f"{found.broken[1]} break 'works' (no boil {found.broken[1]}, quenched {found.broken[1]})" in text
    assert "a limit on boil that can be met: the design above has 10 min 0 s" in text


def test_the_picture_of_a_search_in_vain_shows_the_nearest() -> None:
    limits = {"boil": (None, 500.0)}
    found = search(design(), FEWER, "boil_fuel", limits=limits, evaluations=900, engine=engine(quenching))
    ax = found.plot()
    assert any(line.get_label().startswith("nearest, breaks: boil at most") for line in ax.get_lines())
    low, high = ax.get_xlim()
    assert low <= 10.0 <= high


def test_limits_among_the_values_can_be_typed() -> None:
    found = search(
        design(), FEWER, "boil_fuel", limits={"boil": (None, 720.0)}, evaluations=900, engine=engine(quenching)
    )
    assert found.to_dict()["limits"][0] == "boil at most 12 min"
    assert found.to_dict()["broken"]["boil at most 12 min"] == found.broken[0]


def test_a_search_over_loads_says_that_it_proves_none_safe() -> None:
    loads = {"charge.volume": ("30 ml", "40 ml")}
    for free, told in ((loads, True), (FEWER, False)):
        found = search(design(), free, "boil_fuel", works=0, draws=0, evaluations=100, engine=engine(quenching))
        assert ("burnsim fill tells how much" in found.summary()) is told
