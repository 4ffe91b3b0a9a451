"""What differs, and which change did it, against games whose shares are known exactly."""

import math
from collections.abc import Callable

import pytest

import burnsim
from burnsim.studies.compare.causes import Causes, causes, choices, chosen, flips, shapley
from burnsim.studies.compare.changed import changed, groups
from burnsim.studies.compare.paired import burn_drawn, difference, gathered
from tests.studies.stand_in import design, engine, outcome

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


def test_a_figure_that_only_some_draws_have_is_counted() -> None:
    burns = [outcome(BASE, boil=500.0)] * 3 + [outcome(BASE, boil=None, codes=["no boil"])] + [outcome(MORE)] * 4
    draws = gathered(burns, 2)  # type: ignore[arg-type]
    found = difference(draws, "boil", 0, 1)
    assert (found.both, found.first_only, found.second_only, found.draws) == (3, 0, 1, 4)
    assert not found.happening_differs
    many = gathered([outcome(BASE, boil=None)] * 6 + [outcome(MORE)] * 6, 2)  # type: ignore[arg-type]
    assert difference(many, "boil", 0, 1).happening_differs  # 2/2^6 = 3 %
    assert draws.share(0, frozenset({"no boil"})) == 0.25
