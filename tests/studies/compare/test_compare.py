"""Real designs side by side, and which change did it, against games whose shares are known exactly."""

import math
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

import burnsim
from burnsim import InputError
from burnsim.studies.calibrate.posterior import NORMAL_90, posterior_of, set_factors
from burnsim.studies.compare import DesignComparison
from burnsim.studies.compare.causes import Causes, causes, changed, choices, chosen, flips, groups, shapley
from burnsim.studies.compare.paired import Draws, burn_drawn, difference, drawn, gathered
from burnsim.units import plain
from tests.studies.stand_in import design, engine, outcome

CUP = burnsim.Burner("open cup", "60 mm", "30 mm")
POT = burnsim.Pot("10 cm", "8 cm", "40 ml", rest="stand", gap="30 mm")
SETUP = burnsim.Setup(CUP, burnsim.Charge("ethanol", "6 ml"), POT, name="cup")


@pytest.fixture(scope="module")
def found() -> DesignComparison:
    other = burnsim.vary(SETUP, {"pot.water": "60 ml", "site.air_temperature": "25 degC", "name": "more water"})
    return burnsim.compare([SETUP, other], n=8, workers=1)


def test_a_design_differs_from_itself_by_nothing() -> None:
    same = burnsim.compare([SETUP, burnsim.vary(SETUP, {"name": "twin"})], n=8, workers=1)
    [against] = same.against
    assert against.changes == {}
    assert all(one.whole in (0.0, None) and one.parts == () for one in against.causes)
    assert against.flips == ()
    for one in against.paired.values():
        assert one.typical in (0.0, None)
        assert not one.sure
    assert "A and B do not differ" in same.summary()


def test_more_water_boils_later_and_warmer_sooner(found) -> None:
    [against] = found.against
    [boil] = [one for one in against.causes if one.figure == "boil"]
    shares = {part.paths: part.share for part in boil.parts}
    assert set(shares) == {("pot.water",), ("site.air_temperature",)}
    assert shares[("pot.water",)] > 0.0 > shares[("site.air_temperature",)]
    assert sum(shares.values()) == pytest.approx(boil.whole, rel=1e-9)
    times = [burn.milestones.boil.time for burn in found.burns]
    assert boil.whole == pytest.approx(times[1] - times[0], abs=0.2)
    assert against.paired["boil"].sure


def test_the_words_hold_both_designs_and_the_causes(found) -> None:
    text = plain(found.summary())
    assert "A  cup" in text
    assert "B  more water" in text
    for words in (
        "water boils",
        "Where the heat went",
        "Verdicts",
        "Which change made B differ from A",
        ": yes",
    ):
        assert words in text
    assert "pressure" not in text  # a cup has no jets
    assert plain(found.summary("us")) != text
    assert found.to_dict()["against_first"][0]["causes"]["boil"]["method"] == "Shapley"
    assert len(found.to_dataframe()) == 2


def test_nothing_is_told_of_the_jets_of_a_cup() -> None:
    """No pressure of the jets is compared with that of a burner without jets, from either side."""
    jets = design()
    for pair in ([SETUP, jets], [jets, SETUP]):
        found = burnsim.compare(pair, n=8, workers=1)
        pressures = [one["figures"]["gallery_pressure_max"] for one in found.to_dict()["designs"]]
        assert [pressure is None for pressure in pressures] == [setup is SETUP for setup in pair]
        text = plain(found.summary())
        told, certain = text.split("more than what is unknown?")
        assert "highest pressure" in told
        assert "highest pressure" not in certain
    more = burnsim.vary(jets, {"burner.jets.count": 20})
    assert "highest pressure" in plain(burnsim.compare([jets, more], n=8, workers=1).summary()).split("unknown?")[1]


def test_a_spirit_by_another_name_is_the_same() -> None:
    drawn = burnsim.vary(SETUP, {"charge.fuel": "methylated spirit"})
    recipes = {"ethanol 90 %, methanol 5 %, water 5 %": set(), "ethanol 91 %, methanol 4 %, water 5 %": {"charge.fuel"}}
    for recipe, differ in recipes.items():
        assert changed(drawn, burnsim.vary(SETUP, {"charge.fuel": recipe})).keys() == differ


def test_burns_and_files_are_taken_and_names_told_apart(tmp_path: Path) -> None:
    path = tmp_path / "cup.toml"
    SETUP.save(path)
    three = burnsim.compare([burnsim.burn(SETUP), path, SETUP], n=0)
    assert three.names == ("cup", "cup (2)", "cup (3)")
    assert three.draws is None
    assert [one.changes for one in three.against] == [{}, {}]


def test_a_log_goes_to_the_design_of_its_build(tmp_path: Path) -> None:
    other = burnsim.vary(SETUP, {"name": "twin"})
    text = burnsim.bench.synthesise_log(other, seed=1, every=30.0, name="saturday", build="twin")
    path = tmp_path / "saturday.csv"
    path.write_text(text, encoding="utf-8")
    log = burnsim.bench.read(path)
    assert [one is None for one in burnsim.compare([SETUP, other], logs=[path], n=0).logs] == [True, False]
    assert burnsim.compare([SETUP, other], logs=[log, log], n=0).logs == (log, log)
    with pytest.raises(InputError, match=r"build 'twin' in .*saturday.csv; the designs are"):
        burnsim.compare([SETUP, burnsim.vary(SETUP, {"name": "third"})], logs=[log], n=0)


@pytest.mark.parametrize(
    ("designs", "field"), [([SETUP], "designs"), (SETUP, "designs"), ([SETUP] * 7, "designs"), ([SETUP, 3], "setup")]
)
def test_what_cannot_be_compared_is_refused(designs: object, field: str) -> None:
    with pytest.raises(InputError) as caught:
        burnsim.compare(designs, n=0)  # type: ignore[arg-type]
    assert caught.value.field == field


BASE = design()
MORE = burnsim.vary(
    BASE, {"burner.jets.count": 30, "burner.jets.diameter": "1.1 mm", "charge.volume": "35 ml", "pot.gap": "2 mm"}
)


def caused(boil: Callable[[burnsim.Setup], float | None], other: burnsim.Setup = MORE) -> Causes:
    changes = {path: pair[1] for path, pair in changed(BASE, other).items()}
    parts = groups(BASE, changes)
    return causes("boil", parts, [outcome(one, boil=boil(one)) for one in chosen(BASE, changes, parts)])


def test_what_differs_is_every_changed_field_and_nothing_else() -> None:
    assert changed(BASE, burnsim.vary(BASE, {"name": "another"})) == {}
    found = changed(BASE, MORE)
    assert list(found) == ["burner.jets.count", "burner.jets.diameter", "charge.volume", "pot.gap"]
    assert found["burner.jets.count"] == (26, 30)
    without = burnsim.vary(BASE, {"pot": None, "charge.fuel": "ethanol"})
    assert set(changed(BASE, without)) == {"pot", "charge.fuel"}
    assert burnsim.vary(BASE, {path: pair[1] for path, pair in changed(BASE, without).items()}) == without


def test_fields_that_cannot_be_changed_alone_are_one_cause() -> None:
    """A cup as low as its jets were cannot be built before the jets are lower."""
    lower = burnsim.vary(BASE, {"burner.height": "38 mm", "burner.jets.height": "34 mm", "charge.volume": "30 ml"})
    changes = {path: pair[1] for path, pair in changed(BASE, lower).items()}
    assert groups(BASE, changes) == (("burner.height", "burner.jets.height"), ("charge.volume",))


def test_shares_sum_to_the_whole_difference() -> None:
    """By Shapley's axiom of efficiency, whatever the interactions."""

    def boil(setup: burnsim.Setup) -> float:
        jets = setup.burner.jets
        assert jets is not None
        assert setup.pot is not None
        return (
            400.0 / (jets.count * jets.diameter**2 * 1e6) * math.exp(setup.pot.gap * 100.0) + 1e6 * setup.charge.volume
        )

    found = caused(boil)
    assert found.shared
    assert found.whole == pytest.approx(boil(MORE) - boil(BASE), rel=1e-12)
    assert sum(part.share or 0.0 for part in found.parts) == pytest.approx(found.whole, rel=1e-12)
    assert sum(part.alone or 0.0 for part in found.parts) + (found.remainder or 0.0) == pytest.approx(found.whole)
    assert found.remainder != pytest.approx(0.0, abs=0.1)  # count and diameter interact


def test_changes_that_do_not_interact_share_what_each_does_alone() -> None:
    found = caused(lambda one: 500.0 - one.burner.jets.count + 1e6 * one.charge.volume)  # type: ignore[union-attr]
    shares = {part.paths[0]: part.share for part in found.parts}
    assert shares["burner.jets.count"] == pytest.approx(-4.0)
    assert shares["charge.volume"] == pytest.approx(-2.0)
    assert shares["pot.gap"] == pytest.approx(0.0, abs=1e-9)
    assert found.remainder == pytest.approx(0.0, abs=1e-9)
    assert all(part.alone == pytest.approx(part.share, abs=1e-9) for part in found.parts)


def test_two_changes_that_work_only_together_share_alike() -> None:
    values = {one: float(len(one) == 2) for one in choices(2)}
    assert shapley(values, 2) == pytest.approx([0.5, 0.5])


def test_shares_are_those_of_a_published_game() -> None:
    """The worked example of `vShapley` in InventorymodelPackage (CRAN), after Shapley 1953: 5/6, 1/3, 5/6."""
    game = {(): 0, (0,): 1, (1,): 1, (2,): 1, (0, 1): 1, (0, 2): 2, (1, 2): 1, (0, 1, 2): 2}
    values = {frozenset(choice): float(value) for choice, value in game.items()}
    assert shapley(values, 3) == pytest.approx([0.8333333, 0.3333333, 0.8333333], abs=1e-7)


def test_a_change_that_alone_stops_the_boil_has_no_effect_of_its_own() -> None:
    found = caused(lambda one: None if one.charge.volume < 36e-6 and one.burner.jets.count < 30 else 500.0)  # type: ignore[union-attr]
    by = {part.paths[0]: part for part in found.parts}
    assert by["charge.volume"].alone is None
    assert not found.shared
    assert found.whole == pytest.approx(0.0)


def test_of_many_changes_each_is_burnt_alone() -> None:
    assert [len(choices(count)) for count in (1, 2, 6, 7)] == [2, 4, 64, 9]
    assert all(math.isnan(one) for one in shapley({}, 7))


def test_a_verdict_is_traced_to_the_change_that_brings_it() -> None:
    changes = {path: pair[1] for path, pair in changed(BASE, MORE).items()}
    parts = groups(BASE, changes)

    def codes(one: burnsim.Setup) -> tuple[str, ...]:
        assert one.burner.jets is not None
        wide, many = one.burner.jets.diameter > 1.05e-3, one.burner.jets.count > 28
        return (*(["light-back"] if wide else []), *(["quenched"] if not (wide and many) else []))

    found = {
        flip.code: flip
        for flip in flips(parts, [outcome(one, codes=codes(one)) for one in chosen(BASE, changes, parts)])
    }
    assert found["light-back"].comes
    assert found["light-back"].by == (("burner.jets.diameter",),)
    assert not found["quenched"].comes
    assert found["quenched"].by == (("burner.jets.count", "burner.jets.diameter"),)


def test_paired_draws_tell_apart_what_the_bands_do_not() -> None:
    """Each boil is uncertain by a factor of 1.26; the second is a tenth sooner in every draw."""

    def rule(setup: burnsim.Setup) -> dict[str, object]:
        sooner = 0.9 if setup.charge.volume < 36e-6 else 1.0
        return {"boil": 600.0 * sooner / setup.factors.flame_to_pot}

    draws = burn_drawn([BASE, MORE, BASE], 64, 0, None, engine(rule))  # type: ignore[arg-type]
    boil = draws.figures["boil"]
    assert boil[1] == pytest.approx(0.9 * boil[0], rel=1e-12)
    assert boil[0].min() < 0.9 * 600.0 < 600.0 / 0.9 < boil[0].max()
    found = difference(draws, "boil", 0, 1)
    assert (found.below, found.both, found.sure) == (64, 64, True)
    assert found.typical == pytest.approx(-60.0, rel=0.05)
    same = difference(draws, "boil", 0, 2)
    assert same.low is not None
    assert (same.low.value, same.typical, same.sure) == (0.0, 0.0, False)


def test_a_sign_is_sure_where_nineteen_draws_in_twenty_agree_on_it() -> None:
    """Of 31 draws that takes 30: the 95 % quantile lies half-way between the 29th and the 30th, and may not decide."""
    for higher, sure in ((0, True), (1, True), (2, False), (29, False), (30, True)):
        gaps = (
            np.where(np.arange(31) < higher, 0.1, -1.0) if higher < 16 else np.where(np.arange(31) < higher, 1.0, -0.1)
        )
        boil = np.stack([np.full(31, 600.0), 600.0 + gaps])
        draws = Draws({"boil": boil}, ((frozenset(),) * 31,) * 2, np.ones((2, 31), dtype=bool))
        assert difference(draws, "boil", 0, 1).sure is sure, higher


def test_sizes_that_were_learnt_are_drawn_about_what_was_learnt() -> None:
    """A gap of 2 mm that was calibrated to half as much again, within 10 %: 3 mm, as the design that is given has."""
    spread = math.log(1.1) / NORMAL_90
    learnt = posterior_of(["pot.gap"], [math.log(1.5)], np.array([[spread**2]]), {"pot.gap": 0.5})
    built = set_factors(burnsim.vary(MORE, {"pot.rest": "stand"}), learnt.median())
    gaps = [one.pot.gap for one in drawn([built], 256, 0, learnt) if one.pot is not None]
    assert np.quantile(gaps, (0.05, 0.5, 0.95)) == pytest.approx([3e-3 / 1.1, 3e-3, 3e-3 * 1.1], rel=0.005)


def test_a_figure_that_only_some_draws_have_is_counted() -> None:
    burns = [outcome(BASE, boil=500.0)] * 3 + [outcome(BASE, boil=None, codes=["no boil"])] + [outcome(MORE)] * 4
    draws = gathered(burns, 2)  # type: ignore[arg-type]
    found = difference(draws, "boil", 0, 1)
    assert (found.both, found.first_only, found.second_only, found.draws) == (3, 0, 1, 4)
    assert not found.happening_differs
    many = gathered([outcome(BASE, boil=None)] * 6 + [outcome(MORE)] * 6, 2)  # type: ignore[arg-type]
    assert difference(many, "boil", 0, 1).happening_differs  # 2/2^6 = 3 %
    assert draws.share(0, frozenset({"no boil"})) == 0.25
