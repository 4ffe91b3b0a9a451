"""The public faces of the laws, and that every raw law stays finite for any finite input."""

import inspect
import math
import warnings
from importlib import import_module
from random import Random

import numpy as np
import pytest

from burnsim import closures
from burnsim.closures._validity import checked, closure
from burnsim.errors import ValidityWarning

LAWS = [(room, name) for room, names in closures._MODULES.items() for name in names]
PAIRS = {"product_heat", "air_heat", "y", "limits"}
AWKWARD = (0.0, -0.0, 5e-324, 1e-300, 1e-9, 0.5, 1.0, 2.0, 1e3, 1e12)
DRAWS = 1500


def any_number(random):
    """An awkward number, one of any size, or one of an ordinary size; of either sign."""
    kind = random.randrange(5)
    if kind == 0:
        size = random.choice(AWKWARD)
    elif kind == 1:
        size = 10.0 ** random.uniform(-300.0, 12.0)
    else:
        size = random.uniform(0.0, (1e12, 1e3, 1.0)[kind - 2])
    return random.choice((size, size, -size))


def raw(room, name):
    return getattr(import_module(f"burnsim.closures.{room}"), name)


@pytest.mark.parametrize(("room", "name"), LAWS)
def test_every_law_is_finite_for_any_finite_input(room, name):
    law = raw(room, name)
    names = list(inspect.signature(law).parameters)
    random = Random(1)
    for _ in range(DRAWS):
        args = [(any_number(random), any_number(random)) if n in PAIRS else any_number(random) for n in names]
        result = law(*args)
        for value in result if isinstance(result, tuple) else (result,):
            assert type(value) is float
            assert math.isfinite(value), (name, args)


@pytest.mark.parametrize(("room", "name"), LAWS)
def test_every_law_states_its_units_and_sources(room, name):
    text = inspect.getdoc(raw(room, name))
    for word in ("Parameters", "Returns", "References", ">>>", "["):
        assert word in text, f"{room}.{name} lacks {word}"


@pytest.mark.parametrize(("room", "name"), LAWS)
def test_faces_agree_with_the_raw_law_in_the_middle_of_the_range(room, name):
    law = raw(room, name)
    face = getattr(closures, name)
    args = []
    for parameter in inspect.signature(law).parameters.values():
        low, high = vars(law).get("validity", {}).get(parameter.name, (0.25, 0.75))
        args.append((0.4, 0.3) if parameter.name in PAIRS else low + 0.4 * (high - low))
    with warnings.catch_warnings():
        warnings.simplefilter("error", ValidityWarning)
        assert face(*args) == law(*args)


def test_arrays_in_arrays_out_by_broadcasting():
    ra = np.array([[1e4], [1e6]])
    pr = np.array([0.7, 5.0, 10.0])
    result = closures.churchill_chu_plate(ra, pr)
    assert result.shape == (2, 3)
    assert result[1, 2] == closures.churchill_chu_plate(1e6, 10.0)
    assert isinstance(closures.churchill_chu_plate(1e6, 0.7), float)


def test_several_results_become_several_arrays():
    reach, rise = closures.jet_flame_reach(0.01, np.array([0.0, 0.3, 30.0]), 40.0)
    assert reach.shape == rise.shape == (3,)
    assert reach[0] == 0.0
    assert reach[2] == pytest.approx(0.01, rel=1e-3)


def test_a_tuple_is_a_record_and_is_not_broadcast():
    heat = (1000.0, 0.0)
    result = closures.gas_temperature(np.array([0.0, 1e5]), 0.5, heat, heat, 300.0)
    assert result == pytest.approx([300.0, 400.0])


def test_an_empty_array_gives_an_empty_array():
    assert closures.flame_tip(np.array([])).shape == (0,)


def test_warning_names_argument_value_and_range():
    with pytest.warns(ValidityWarning, match=r"plate: prandtl = 0\.001 is outside 0\.01 to 1000"):
        closures.churchill_chu_plate(1e6, 0.001)
    with pytest.warns(ValidityWarning, match="rayleigh"):
        closures.churchill_chu_plate(np.array([1e6, 1e15]), 0.7)


def test_nan_is_outside_every_range():
    with pytest.warns(ValidityWarning, match="nan"):
        closures.flame_tip(float("nan"))


def test_both_ends_of_the_range_are_inside():
    @closure(x=(0.0, 1.0))
    def law(x: float) -> float:
        return x

    with warnings.catch_warnings():
        warnings.simplefilter("error")
        assert checked(law)([0.0, 1.0]).tolist() == [0.0, 1.0]


def test_closure_returns_the_same_function():
    def law(x: float) -> float:
        return x

    assert closure(x=(0.0, 1.0))(law) is law


def test_closure_refuses_unknown_arguments_and_empty_ranges():
    def law(x: float) -> float:
        return x

    with pytest.raises(TypeError, match="no argument 'z'"):
        closure(z=(0.0, 1.0))(law)
    with pytest.raises(ValueError, match="empty"):
        closure(x=(1.0, 0.0))(law)


def test_wrong_number_of_arguments_is_an_error():
    with pytest.raises(TypeError):
        closures.flame_tip()
    with pytest.raises(TypeError):
        closures.flame_tip(1.0, 2.0)


def test_unknown_law_is_an_attribute_error():
    with pytest.raises(AttributeError, match="no law"):
        _ = closures.churchill
