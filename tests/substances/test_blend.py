"""Recipes: what a name or a mapping picks, conversions of fractions, and errors that say what to do."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from burnsim.errors import InputError
from burnsim.substances.blend import blend, composition, density, fuel_record, molar_mass, moles
from burnsim.substances.recipe import READY


@pytest.mark.parametrize("name", READY)
def test_a_ready_name_is_its_recipe_by_volume(name):
    made = composition(blend(name), "volume")
    assert made == pytest.approx(dict(READY[name]))
    assert sum(blend(name).mole_fractions) == pytest.approx(1.0)


def test_water_stands_last_whatever_the_order():
    assert blend({"water": 0.05, "ethanol": 0.95}) == blend({"ethanol": 0.95, "water": 0.05})
    assert blend({"water": "5 %", "ethanol": "95 %"}).components == ("ethanol", "water")


@pytest.mark.parametrize(
    ("words", "mapping"),
    [
        ("ethanol 80", {"ethanol": 0.8, "water": 0.2}),
        ("Isopropanol 70 %", {"2-propanol": 0.7, "water": 0.3}),
        ("ethanol 90 %, methanol 5 %, water 5 %", {"ethanol": 0.9, "methanol": 0.05, "water": 0.05}),
        ("propanone", {"acetone": 1.0}),
        ("ETHANOL  95", {"ethanol": 0.95, "water": 0.05}),
    ],
)
def test_words_say_the_same_as_a_mapping(words, mapping):
    assert blend(words).mole_fractions == pytest.approx(blend(mapping).mole_fractions)
    assert blend(words).components == blend(mapping).components


def test_basis_changes_what_fractions_mean():
    half = {"ethanol": 0.5, "water": 0.5}
    assert blend(half, "mole").mole_fractions == pytest.approx((0.5, 0.5))
    by_mass = blend(half, "mass").mole_fractions[0]
    assert by_mass == pytest.approx(18.015 / (18.015 + 46.068), rel=1e-3)  # molar masses, IUPAC
    by_volume = blend(half, "volume")
    assert composition(by_volume, "mass")["ethanol"] == pytest.approx(789.2 / (789.2 + 998.2), abs=1e-3)


@given(st.floats(0.01, 0.98), st.floats(0.0, 1.0), st.sampled_from(["volume", "mass", "mole"]))
def test_fractions_survive_the_round_trip(a, share, basis):
    rest = 1.0 - a
    recipe = {"ethanol": a, "acetone": rest * share, "water": rest * (1.0 - share)}
    made = blend(recipe, basis)
    got = composition(made, basis)
    for name, value in recipe.items():
        assert got.get(name, 0.0) == pytest.approx(value, abs=2e-9)
    for values in (made.mole_fractions, *(composition(made, basis).values() for basis in ("mass", "volume"))):
        assert sum(values) == pytest.approx(1.0)


def test_moles_weigh_what_the_volume_weighs():
    fuel = blend("2-propanol 70")
    n = moles(fuel, 40e-6, 298.15)
    masses = fuel_record(fuel).molar_mass
    weight = sum(a * m for a, m in zip(n, masses, strict=True))
    assert weight == pytest.approx(40e-6 * density(fuel, 298.15))
    assert weight == pytest.approx(sum(n) * molar_mass(fuel))


@pytest.mark.parametrize(
    ("spec", "basis", "says"),
    [
        ("ethanl 95", "volume", "ethanol 95"),
        ("petrol", "volume", "ethanol"),
        ({"etanol": 1.0}, "volume", "ethanol"),
        ({"ethanol": 0.9}, "volume", "sum"),
        ({"ethanol": 0.9, "water": 0.2}, "volume", "sum"),
        ({"ethanol": 1.2, "water": -0.2}, "volume", "outside 0 to 1"),
        ({"ethanol": float("nan"), "water": 0.2}, "volume", "outside 0 to 1"),
        ({"ethanol": True}, "volume", "not a number"),
        ({"ethanol": "much"}, "volume", "not a number"),
        ({"ethanol": 0.5, "ethyl alcohol": 0.5}, "volume", "twice"),
        ("ethanol 50, ethanol 50", "volume", "twice"),
        ({"water": 1.0}, "volume", "water"),
        ("water", "volume", "water"),
        ({"ethanol": 1.0}, "weight", "basis"),
        ("methylated spirit", "mass", "by volume"),
        ("ethanol %", "volume", "without a number"),
        (7, "volume", "neither"),
        ("", "volume", "not a known fuel"),
    ],
)
def test_errors_name_what_is_wrong(spec, basis, says):
    with pytest.raises(InputError, match=says):
        blend(spec, basis)


def test_mixing_law_ends_at_the_pure_liquids():
    for name in ("methanol", "ethanol", "2-propanol", "acetone"):
        pure, damp = blend(name), blend({name: 1.0 - 1e-6, "water": 1e-6}, "mole")
        a, b = fuel_record(pure), fuel_record(damp)
        assert b.ln_viscosity == pytest.approx(a.ln_viscosity, rel=1e-4)
        assert b.surface_tension == pytest.approx(a.surface_tension, rel=1e-3)
        assert density(damp) == pytest.approx(density(pure), rel=1e-5)


def test_thin_blend_has_the_transport_of_its_parts():
    rec = fuel_record(blend("methylated spirit"))
    pure = [fuel_record(blend(n)) for n in ("methanol", "ethanol")]
    low, high = sorted(r.diffusivity for r in pure)
    assert low < rec.diffusivity < max(high, 2.6e-5)
    assert min(r.critical_pressure for r in pure) < rec.critical_pressure
