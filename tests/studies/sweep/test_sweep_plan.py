"""Plans: the right designs in the right order, from any number on; what cannot be read is refused."""

import itertools

import numpy as np
import pytest
from burners import PALM
from hypothesis import given
from hypothesis import strategies as st

from burnsim import Blend, Charge, InputError, Notches, Pot, Setup, blend
from burnsim.studies.arrays import unit_points
from burnsim.studies.sweep.plan import digest, make_plan

DIAMETER, COUNT, FUEL = "burner.jets.diameter", "burner.jets.count", "charge.fuel"


BASE = Setup(PALM, Charge("methanol", "37 ml"), Pot("14 cm", "8 cm", "0.6 l", rest="bumps"))


def test_grid_is_the_product_of_its_axes() -> None:
    plan = make_plan(BASE, {COUNT: [12, 14, 16], FUEL: ["methanol", "ethanol 95"], DIAMETER: ["0.5 mm", 0.001]})
    fuels = [blend("methanol"), blend("ethanol 95")]
    wanted = [
        dict(zip((COUNT, FUEL, DIAMETER), row, strict=True))
        for row in itertools.product([12, 14, 16], fuels, [0.0005, 0.001])
    ]
    assert plan.shape == (3, 2, 2)
    assert plan.changes(0, plan.size) == wanted


@given(cut=st.integers(0, 24))
def test_designs_do_not_depend_on_where_a_chunk_begins(cut: int) -> None:
    plan = make_plan(BASE, {COUNT: range(12, 18), DIAMETER: [1e-3, 2e-3], "pot.lid": [True, False]})
    assert plan.changes(0, cut) + plan.changes(cut, 24) == plan.changes(0, 24)


def test_a_million_designs_cost_nothing_until_they_are_made() -> None:
    heights = np.linspace(30e-3, 40e-3, 1000)
    plan = make_plan(BASE, {"burner.jets.height": heights, "burner.outer_diameter": np.linspace(60e-3, 70e-3, 1000)})
    assert plan.size == 1_000_000
    assert sum(axis.values.nbytes for axis in plan.axes) == 16_000
    (last,) = plan.changes(999_999, 1_000_000)
    assert last == {"burner.jets.height": 40e-3, "burner.outer_diameter": 70e-3}


def test_an_altitude_is_a_length() -> None:
    assert make_plan(BASE, {"site.altitude": [0.0, "5000 ft"]}).axes[0].attrs["units"] == "m"


def test_pairs() -> None:
    plan = make_plan(BASE, {COUNT: [12, 14], "pot.lid": [True, False]}, "paired")
    assert plan.changes(0, 2) == [{COUNT: 12, "pot.lid": True}, {COUNT: 14, "pot.lid": False}]
    assert plan.dims == ("design",)
    with pytest.raises(InputError, match="do not pair up"):
        make_plan(BASE, {COUNT: [12, 14], "pot.lid": [True]}, "paired")


@pytest.mark.parametrize("mode", ["sobol", "halton", "latin hypercube"])
def test_samples_fill_their_ranges(mode: str) -> None:
    values = {COUNT: (12, 15), DIAMETER: ("0.5 mm", "1.2 mm"), FUEL: ["methanol", "ethanol", "ethanol 95"]}
    plan = make_plan(BASE, values, mode, samples=192, seed=3)
    counts, diameters, fuels = (axis.values for axis in plan.axes)
    for values_of_one, distinct in ((counts, 4), (np.array([fuel.name for fuel in fuels]), 3)):
        share = np.unique(values_of_one, return_counts=True)[1] / 192
        assert len(share) == distinct
        np.testing.assert_allclose(share, 1.0 / distinct, atol=0.05)  # chance alone would stray by 0.03
    assert 0.5e-3 <= diameters.min() < 0.51e-3
    assert 1.19e-3 < diameters.max() <= 1.2e-3
    again = make_plan(BASE, values, mode, samples=192, seed=3)
    assert plan.changes(0, 192) == again.changes(0, 192)
    assert plan.changes(0, 192) != make_plan(BASE, values, mode, samples=192, seed=4).changes(0, 192)


@pytest.mark.parametrize("mode", ["sobol", "halton", "latin hypercube"])
def test_points_are_those_that_the_mode_names(mode: str) -> None:
    from scipy.stats import qmc

    named = {"sobol": qmc.Sobol, "halton": qmc.Halton, "latin hypercube": qmc.LatinHypercube}[mode]
    wanted = named(3, seed=np.random.default_rng(5)).random(64)
    np.testing.assert_array_equal(unit_points(mode, 3, 64, 5), wanted)


def test_none_parts_and_flags_are_values_too() -> None:
    notches = Notches(3, 3e-3, 1e-3)
    plan = make_plan(BASE, {"burner.relief": [None, notches], "pot.water_temperature": [None, "20 degC"]})
    assert [row["burner.relief"] for row in plan.changes(0, 4)] == [None, None, notches, notches]
    assert [row["pot.water_temperature"] for row in plan.changes(0, 4)] == [None, 293.15, None, 293.15]
    assert plan.axes[0].labels.tolist()[0] == "none"


def test_fuels_are_read_once() -> None:
    plan = make_plan(BASE, {FUEL: ["ethanol", {"ethanol": 0.9, "water": 0.1}]})
    assert all(isinstance(row[FUEL], Blend) for row in plan.changes(0, 2))
    assert plan.axes[0].labels.tolist()[0] == "ethanol"


def test_digests_tell_sweeps_apart() -> None:
    plans = [
        make_plan(BASE, {COUNT: [12, 14]}),
        make_plan(BASE, {COUNT: [12, 15]}),
        make_plan(BASE, {COUNT: [12, 14]}, "paired"),
        make_plan(BASE, {FUEL: ["methanol"]}),
        make_plan(BASE, {FUEL: ["ethanol"]}),
    ]
    assert len({digest(plan, {"rtol": 1e-4}) for plan in plans} | {digest(plans[0], {"rtol": 1e-5})}) == 6
    assert digest(plans[0], {"rtol": 1e-4}) == digest(make_plan(BASE, {COUNT: [12, 14]}), {"rtol": 1e-4})


@pytest.mark.parametrize(
    ("values", "field", "hint"),
    [
        ({"burner.jets.cout": [1]}, "burner.jets.cout", "burner.jets.count"),
        ({"burner.relief.count": [1]}, "burner.relief.count", "has no burner.relief"),
        ({"burner.jets": [None], COUNT: [1]}, COUNT, "together with the whole burner.jets"),
        ({FUEL: ["etanol"]}, FUEL, "did you mean 'ethanol'"),
        ({FUEL: "ethanol"}, FUEL, "square brackets"),
        ({"burner.metal": ["aluminum"]}, "burner.metal", "did you mean 'aluminium'"),
        ({"pot.lid": ["yes"]}, "pot.lid", "true or false"),
        ({DIAMETER: ["1 ml"]}, DIAMETER, "not a length"),
        ({DIAMETER: [float("nan")]}, DIAMETER, "not a finite number"),
        ({DIAMETER: [None]}, DIAMETER, "not a finite number"),
        ({DIAMETER: [1e-3, "1 mm"]}, DIAMETER, "given twice"),
        ({COUNT: [12.5]}, COUNT, "not a whole number"),
        ({COUNT: []}, COUNT, "has no values"),
        ({COUNT: 12}, COUNT, "square brackets"),
        ({}, "values", "no field"),
    ],
)
def test_what_cannot_be_read_is_refused(values: dict[str, list[object]], field: str, hint: str) -> None:
    with pytest.raises(InputError, match=hint) as caught:
        make_plan(BASE, values)
    assert caught.value.field == field


@pytest.mark.parametrize(
    ("values", "mode", "samples", "hint"),
    [
        ({COUNT: (12, 20)}, "sobol", None, "not a number of designs"),
        ({COUNT: (20, 12)}, "sobol", 8, "low below high"),
        ({COUNT: (12, 14, 16)}, "halton", 8, "low below high"),
        ({COUNT: [12, 20]}, "grid", 8, "does not go with"),
        ({COUNT: [12, 20]}, "sobel", 8, "did you mean 'sobol'"),
    ],
)
def test_modes(values: dict[str, list[object]], mode: str, samples: int | None, hint: str) -> None:
    with pytest.raises(InputError, match=hint):
        make_plan(BASE, values, mode, samples)
