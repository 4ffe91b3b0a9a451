"""Errors: one clear sentence, the parts at hand, and safe to send between processes."""

import copy
import pickle
from collections.abc import Callable

import pytest

from burnsim.errors import BurnsimError, InputError, SolverError, ValidityWarning, nearest


def test_input_error_is_one_sentence_with_its_parts() -> None:
    error = InputError("burner.jets.diameter", 0.5, "is out of range; allowed 0.2 mm to 5 mm", "give '0.9 mm'")
    assert str(error) == "burner.jets.diameter = 0.5 is out of range; allowed 0.2 mm to 5 mm: give '0.9 mm'"
    assert (error.field, error.value) == ("burner.jets.diameter", 0.5)
    assert (error.problem, error.remedy) == ("is out of range; allowed 0.2 mm to 5 mm", "give '0.9 mm'")


def test_missing_value_is_not_shown() -> None:
    assert str(InputError("burner.height", None, "is missing", "add it")) == "burner.height is missing: add it"


def test_long_value_is_cut() -> None:
    words = str(InputError("name", "x" * 10_000, "is too long", "shorten it"))
    assert len(words) < 150
    assert words.endswith("is too long: shorten it")


def test_value_that_cannot_be_shown_does_not_hide_the_error() -> None:
    class Sulky:
        def __repr__(self) -> str:
            raise RuntimeError("no")

    assert str(InputError("field", Sulky(), "is odd", "mend it")).endswith("is odd: mend it")


@pytest.mark.parametrize("clone", [copy.copy, copy.deepcopy, lambda e: pickle.loads(pickle.dumps(e))])
def test_errors_survive_copying_and_pickling(clone: Callable[[Exception], Exception]) -> None:
    error = clone(InputError("pot.water", -1.0, "is below 0", "give a volume"))
    assert type(error) is InputError
    assert (error.field, error.value, error.problem, error.remedy) == (
        "pot.water",
        -1.0,
        "is below 0",
        "give a volume",
    )
    assert str(error) == "pot.water = -1.0 is below 0: give a volume"
    solver = clone(SolverError("stopped at 3 s"))
    assert (type(solver), str(solver)) == (SolverError, "stopped at 3 s")


def test_family() -> None:
    assert issubclass(InputError, BurnsimError)
    assert issubclass(InputError, ValueError)
    assert issubclass(SolverError, BurnsimError)
    assert not issubclass(SolverError, ValueError)
    assert issubclass(ValidityWarning, UserWarning)


@pytest.mark.parametrize(
    ("word", "choices", "found"),
    [
        ("etanol", ["methanol", "ethanol", "water"], "ethanol"),
        ("ETHANOL", ["methanol", "ethanol"], "ethanol"),
        ("double_wall", ["open cup", "double wall"], "double wall"),
        ("gallery-gap", ["gallery_gap", "height"], "gallery_gap"),
        ("boil_time", ["bloom", "boil", "boil_fuel", "boil_volume"], "boil"),
        ("boil_fuels", ["boil", "boil_fuel"], "boil_fuel"),  # a slip of one letter is nearer
        ("water_temp", ["water", "water_temperature"], "water_temperature"),  # and so is the whole of a short form
        ("pot_water_volume", ["pot", "pot_water", "spill"], "pot_water"),
        ("zzz", ["methanol", "water"], None),
        ("water", [], None),
        ("", ["water"], None),
    ],
)
def test_nearest(word: str, choices: list[str], found: str | None) -> None:
    assert nearest(word, choices) == found


def test_nearest_takes_any_iterable() -> None:
    assert nearest("watr", iter({"water": 1, "air": 2})) == "water"
