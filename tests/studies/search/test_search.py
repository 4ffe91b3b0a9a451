"""Design search against problems with known answers, by a stand-in for burning."""

import math

import numpy as np
import pytest

from burnsim.errors import InputError
from burnsim.model.description.vary import vary
from burnsim.report.search import search_dict, search_text
from burnsim.studies.search.run import search
from burnsim.studies.search.space import drill_sizes, read_free
from burnsim.units import plain
from burnsim.units.table import INCH, OUNCE
from tests.studies.stand_in import design, engine, log_factor

FREE = {"burner.jets.count": (12, 40), "burner.jets.diameter": {"low": "0.7 mm", "high": "1.3 mm", "drills": "metric"}}


def rule(setup):
    """More area of jets boils faster and takes more fuel; the least fuel is at 24 jets of 1.00 mm."""
    count, width = setup.burner.jets.count, setup.burner.jets.diameter * 1e3
    fuel = 0.02 + 1e-5 * (count - 24) ** 2 + 0.05 * (width - 1.0) ** 2
    return {"fuel": fuel, "boil": 900.0 - 10.0 * count * width**2, "codes": ["spills"] * (count * width**2 > 36.0)}


BURN = engine(rule)


def test_the_known_best_is_found_with_whole_numbers_and_drills() -> None:
    found = search(design(), FREE, "boil_fuel", evaluations=600, engine=BURN)
    best = found.best[0]
    assert best.changes == {"burner.jets.count": 24, "burner.jets.diameter": pytest.approx(1.0e-3)}
    assert isinstance(best.changes["burner.jets.count"], int)
    assert found.burns == found.evaluations - found.impossible  # every design is burnt once
    for one in found.front:
        steps = one.changes["burner.jets.diameter"] / 0.05e-3
        assert steps == pytest.approx(round(steps), abs=1e-6)


def test_the_best_design_is_given_back() -> None:
    found = search(design(), FREE, "boil_fuel", evaluations=60, engine=BURN)
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
        evaluations=800,
        engine=BURN,
    )
    every = [(count, width) for count in range(12, 41) for width in np.arange(0.70, 1.3001, 0.05)]
    fuel = [0.02 + 1e-5 * (c - 24) ** 2 + 0.05 * (w - 1.0) ** 2 for c, w in every if 900.0 - 10.0 * c * w**2 <= 540.0]
    assert found.best[0].figures["boil_fuel"] == pytest.approx(min(fuel), rel=1e-9)
    costs = {price.limit.name: price.saving for price in found.prices}
    assert costs["boil"] == pytest.approx(min(fuel) - 0.02, rel=1e-6)
    assert costs["bloom"] == 0.0
    assert "costs nothing" in plain(search_text(found))
    ounces = f"fuel to boil {min(fuel) / OUNCE:.3f} oz"
    width = float(found.best[0].changes["burner.jets.diameter"]) / INCH
    assert ounces in plain(search_text(found, "us"))
    assert f"burner.jets.diameter = {width:.4g} in" in plain(search_text(found, "us"))
    assert " mm" not in plain(search_text(found, "us"))


def test_forbidden_verdicts_stay_away() -> None:
    found = search(design(), FREE, "boil", forbid=["spills"], evaluations=600, engine=BURN)
    assert found.best
    for one in found.best:
        assert one.changes["burner.jets.count"] * (one.changes["burner.jets.diameter"] * 1e3) ** 2 <= 36.0 + 1e-9


def test_the_front_trades_and_holds_no_worse_design() -> None:
    found = search(design(), FREE, "boil_fuel", evaluations=600, engine=BURN)
    boils = [one.figures["boil"] for one in found.front]
    fuels = [one.figures["boil_fuel"] for one in found.front]
    assert len(boils) > 5
    assert boils == sorted(boils)
    assert fuels == sorted(fuels, reverse=True)


def test_wishes_that_cannot_be_met_are_told() -> None:
    found = search(design(), FREE, "boil_fuel", limits={"boil": (None, 60.0)}, evaluations=200, engine=BURN)
    assert found.best == ()
    assert found.nearest is not None
    assert "no design" in plain(search_text(found))
    assert search_dict(found)["best"] == []


def test_draws_make_a_robust_choice() -> None:
    """With the boil uncertain, a design that keeps the limit in nine of ten has margin over the nominal one."""

    def unsure(setup):
        plain = rule(setup)
        return plain | {"boil": plain["boil"] * math.exp(log_factor(setup, "flame_to_pot"))}

    settings = {"limits": {"boil": (None, 700.0)}, "evaluations": 300, "engine": engine(unsure)}
    nominal = search(design(), FREE, "boil_fuel", check=256, **settings)
    robust = search(design(), FREE, "boil_fuel", draws=16, check=256, **settings)
    assert robust.checked[0].kept[0] > 0.82
    assert robust.checked[0].kept[0] > nominal.checked[0].kept[0]
    assert robust.best[0].figures["boil_fuel"] >= nominal.best[0].figures["boil_fuel"]
    assert "kept in" in plain(search_text(robust))


def test_equal_seeds_give_equal_searches() -> None:
    first, again = (search(design(), FREE, "boil_fuel", evaluations=120, seed=4, engine=BURN) for _ in range(2))
    assert first.best == again.best
    assert first.evaluations == again.evaluations


def test_designs_that_cannot_be_built_are_passed_over() -> None:
    free = {"burner.jets.height": ("20 mm", "60 mm")}  # the burner is 45 mm high
    found = search(design(), free, "boil_fuel", evaluations=80, engine=BURN)
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
        (FREE, {"evaluations": 3}, "40"),
        (FREE, {"objective": "cost"}, "figure"),
    ],
)
def test_wishes_that_make_no_sense_are_refused(free: object, wishes: dict[str, object], says: str) -> None:
    with pytest.raises(InputError, match=says):
        search(design(), free, wishes.pop("objective", "boil_fuel"), engine=BURN, **wishes)
