"""Descriptions: what can be built passes, what cannot is refused with field, range and remedy."""

import ast
import inspect
import math
import pickle
from collections.abc import Callable
from dataclasses import MISSING, FrozenInstanceError, fields, replace
from functools import partial

import pytest
from hypothesis import given
from hypothesis import strategies as st

from burnsim.errors import InputError
from burnsim.model.description import geometry
from burnsim.model.description.burner import Burner
from burnsim.model.description.conditions import Charge, Pot, Site
from burnsim.model.description.factors import BANDS, Factors
from burnsim.model.description.fields import spec_of
from burnsim.model.description.parts import FeedSlots, Jets, Notches, Wick
from burnsim.model.description.screen import Screen
from burnsim.model.description.setup import Setup
from burnsim.model.description.vary import paths, vary
from burnsim.substances.blend import blend
from burnsim.units import DIMENSIONS

JETS = Jets(count=26, diameter=1e-3, height=39e-3)
DOUBLE = Burner(
    "double wall",
    outer_diameter=62e-3,
    height=45e-3,
    gallery_gap=4.5e-3,
    jets=JETS,
    feed_slots=FeedSlots(),
    wick=Wick(),
)
SEALED = Burner("sealed chamber", outer_diameter=70e-3, height=30e-3, jets=Jets(16, 0.9e-3, direction="top"))
CUP = Burner("open cup", outer_diameter=65e-3, height=25e-3)
POT = Pot(diameter=0.14, height=0.09, water=0.6e-3, water_temperature=285.15, rest="bumps")
SETUP = Setup(DOUBLE, Charge(blend("methanol"), volume=37e-6, primer=3e-6), POT)


def refusal(make: Callable[[], object]) -> InputError:
    with pytest.raises(InputError) as caught:
        make()
    return caught.value


IMPOSSIBLE: list[tuple[str, str, Callable[[], object]]] = [
    ("burner.gallery_gap", "29.8 mm", lambda: replace(DOUBLE, gallery_gap=35e-3)),
    ("burner.gallery_gap", "0.3 mm", lambda: replace(DOUBLE, gallery_gap=-1e-3)),
    ("burner.gallery_gap", "missing", lambda: replace(DOUBLE, gallery_gap=None)),
    ("burner.jets", "missing", lambda: replace(DOUBLE, jets=None)),
    ("burner.feed_slots", "missing", lambda: replace(DOUBLE, feed_slots=None)),
    ("burner.jets", "missing", lambda: replace(SEALED, jets=None)),
    ("burner.feed_slots", "sealed chamber", lambda: replace(SEALED, feed_slots=FeedSlots())),
    ("burner.relief", "sealed chamber", lambda: replace(SEALED, relief=Notches(3, 3e-3, 1e-3))),
    ("burner.gallery_gap", "sealed chamber", lambda: replace(SEALED, gallery_gap=3e-3)),
    ("burner.jets", "open cup", lambda: replace(CUP, jets=replace(JETS, height=20e-3))),
    ("burner.feed_slots", "open cup", lambda: replace(CUP, feed_slots=FeedSlots())),
    ("burner.jets.height", "above the rim", lambda: replace(DOUBLE, jets=replace(JETS, height=44.6e-3))),
    ("burner.jets.height", "below the floor", lambda: replace(DOUBLE, jets=replace(JETS, height=0.4e-3))),
    ("burner.jets.height", "missing", lambda: replace(DOUBLE, jets=replace(JETS, height=None))),
    ("burner.jets.height", "30 mm", lambda: replace(SEALED, jets=Jets(16, 0.9e-3, 20e-3, direction="top"))),
    ("burner.jets.count", "overlap", lambda: replace(DOUBLE, jets=replace(JETS, count=195))),
    ("burner.jets.count", "multiples of 3", lambda: replace(DOUBLE, jets=replace(JETS, rows=3))),
    ("burner.jets.ring_diameter", "top jets", lambda: replace(DOUBLE, jets=replace(JETS, ring_diameter=5e-2))),
    (
        "burner.jets.ring_diameter",
        "outside the top",
        lambda: replace(DOUBLE, jets=Jets(26, 1e-3, direction="top", ring_diameter=40e-3)),
    ),
    ("burner.feed_slots.height", "45 mm", lambda: replace(DOUBLE, feed_slots=FeedSlots(height=50e-3))),
    ("burner.feed_slots.width", "no wall", lambda: replace(DOUBLE, feed_slots=FeedSlots(50, 4e-3, 2e-3))),
    ("burner.relief.depth", "45 mm", lambda: replace(DOUBLE, relief=Notches(3, 3e-3, 46e-3))),
    ("charge.volume", "a bare number is in SI", lambda: Charge(blend("ethanol"), volume=30.0)),
    ("burner.relief.width", "no rim", lambda: replace(DOUBLE, relief=Notches(50, 5e-3, 1e-3))),
    ("burner.wick.height", "45 mm", lambda: replace(DOUBLE, wick=Wick(height=50e-3))),
    ("burner.wall_thickness", "no room", lambda: Burner("open cup", 10e-3, 25e-3, wall_thickness=5e-3)),
    ("burner.rim_width", "31 mm", lambda: replace(DOUBLE, rim_width=40e-3)),
    ("burner.metal", "aluminium", lambda: replace(DOUBLE, metal="alumnium")),
    ("burner.kind", "double wall", lambda: replace(DOUBLE, kind="dubble wall")),  # type: ignore[arg-type]
    ("pot.wall_thickness", "15 mm", lambda: Pot(diameter=30e-3, height=0.05, water=1e-6, wall_thickness=15e-3)),
    ("pot.water", "holds", lambda: replace(POT, water=1.5e-3)),
    ("pot.water", "1 ml", lambda: replace(POT, water=0.0)),
    ("pot.water_temperature", "0 degC", lambda: replace(POT, water_temperature=273.0)),
    ("pot.bumps", "3", lambda: replace(POT, bumps=2)),
    ("pot.lid", "true or false", lambda: replace(POT, lid=1)),  # type: ignore[arg-type]
    ("pot.diameter", "into the well", lambda: replace(SETUP, pot=replace(POT, diameter=52e-3, water=50e-6))),
    ("charge.volume", "holds", lambda: replace(SETUP, charge=Charge(blend("methanol"), 140e-6))),
    ("charge.volume", "0.1 ml", lambda: Charge(blend("methanol"), 0.0)),
    ("charge.fuel", "neither the name", lambda: Charge(3, 30e-6)),  # type: ignore[arg-type]
    ("charge.primer", "wick", lambda: replace(SETUP, burner=replace(DOUBLE, wick=None))),
    ("site.humidity", "from 0 to 1", lambda: Site(humidity=50.0)),
    ("site.altitude", "6000 m", lambda: Site(altitude=9000.0)),
    ("factors.entrainment", "0.1", lambda: Factors(entrainment=0.0)),
    ("burner", "Burner", lambda: replace(SETUP, burner=None)),  # type: ignore[arg-type]
    ("pressure_limit", "Pa", lambda: replace(SETUP, pressure_limit=-1.0)),
    ("name", "text", lambda: replace(SETUP, name=3)),  # type: ignore[arg-type]
]


@pytest.mark.parametrize(("field", "words", "make"), IMPOSSIBLE, ids=[f"{f}-{w}" for f, w, _ in IMPOSSIBLE])
def test_what_cannot_be_built_is_refused(field: str, words: str, make: Callable[[], object]) -> None:
    error = refusal(make)
    assert error.field == field
    assert words in str(error)
    assert error.remedy


def test_every_quantity_refuses_what_is_no_finite_number() -> None:
    for part in (
        JETS,
        FeedSlots(),
        Notches(3, 3e-3, 1e-3),
        Wick(),
        DOUBLE,
        POT,
        SETUP.charge,
        Site(),
        Factors(),
        SETUP,
    ):
        for field in fields(part):
            spec = spec_of(field)
            if spec.dimension in {"choice", "metal", "flag", "text", "part"}:
                continue
            path = f"{part.PATH}.{field.name}" if part.PATH else field.name
            for bad in (math.nan, math.inf, -math.inf, True, "1 parsec", [1.0], 10**400):
                assert refusal(partial(replace, part, **{field.name: bad})).field == path
            if spec.dimension == "count":
                assert refusal(partial(replace, part, **{field.name: 3.5})).field == path
                continue
            for bad in (spec.low - 1e-3 * max(abs(spec.low), 1.0), spec.high * 1.001 + 1e-3):
                assert "allowed from" in refusal(partial(replace, part, **{field.name: bad})).problem


def test_water_temperature_is_held_against_the_boiling_point_of_the_site() -> None:
    # Water boils near 90.0 degC at 3 km: US Standard Atmosphere 1976 and the steam tables.
    hot = replace(POT, water_temperature=273.15 + 91.0)
    replace(SETUP, pot=hot)
    error = refusal(lambda: replace(SETUP, pot=hot, site=Site(altitude=3000.0)))
    assert error.field == "pot.water_temperature"
    assert "boiling" in error.problem


def test_ice_in_the_pot_is_refused_when_taken_from_the_air() -> None:
    error = refusal(lambda: replace(SETUP, pot=replace(POT, water_temperature=None), site=Site(263.15)))
    assert error.field == "pot.water_temperature"
    assert "from the air" in error.remedy


def test_top_jets_under_a_pot_flat_on_the_rim_are_refused() -> None:
    charge = Charge(blend("ethanol"), 20e-6)
    error = refusal(lambda: Setup(SEALED, charge, replace(POT, rest="full ring")))
    assert error.field == "pot.rest"
    Setup(SEALED, charge, replace(POT, rest="stand"))


def test_a_burner_that_does_not_work_is_no_error() -> None:
    replace(SETUP, charge=Charge(blend("ethanol"), 0.2e-6))  # hardly any fuel
    replace(SETUP, charge=Charge(blend("ethanol"), 130e-6))  # level above the jets: spills at once
    replace(SETUP, pot=replace(POT, rest="full ring"))  # well closed


def test_descriptions_are_frozen_hashable_and_pickle() -> None:
    with pytest.raises(FrozenInstanceError):
        DOUBLE.height = 1.0  # type: ignore[misc]
    assert pickle.loads(pickle.dumps(SETUP)) == SETUP
    assert hash(SETUP) == hash(replace(SETUP))


def test_whole_numbers_become_floats() -> None:
    site = Site(air_temperature=300, wind=2)
    assert isinstance(site.air_temperature, float)
    assert isinstance(site.wind, float)


def test_every_factor_has_a_band_about_one_and_a_reason() -> None:
    assert set(BANDS) == {field.name for field in fields(Factors)}
    for band in BANDS.values():
        assert band.low < 1.0 < band.high
        assert math.sqrt(band.low * band.high) == pytest.approx(1.0, abs=0.01)  # lognormal about 1
        assert band.why.endswith(".")


def test_every_default_stands_in_the_docstring() -> None:
    for part in (JETS, FeedSlots(), Wick(), DOUBLE, POT, SETUP.charge, Site(), SETUP):
        words = type(part).__doc__ or ""
        for field in fields(part):
            if isinstance(field.default, float) and field.default not in (0.0, 1.0):
                written = {f"{field.default}", f"{field.default * 1e3:g}e-3", f"{field.default * 1e6:g}e-6"}
                assert any(text in words for text in written), f"{type(part).__name__}.{field.name}"


class TestGeometry:
    """Against areas worked out by hand."""

    def test_double_wall(self) -> None:
        # inside of outer wall 61.8 mm, inner wall 52.8 mm outside and 52.6 mm inside
        gallery = math.pi / 4.0 * (61.8e-3**2 - 52.8e-3**2)
        well = math.pi / 4.0 * 52.6e-3**2
        assert geometry.gallery_area(DOUBLE) == pytest.approx(gallery)
        assert geometry.well_area(DOUBLE) == pytest.approx(well)
        assert geometry.capacity(DOUBLE) == pytest.approx((gallery + well) * 45e-3)
        assert geometry.capacity_below_jets(DOUBLE) == pytest.approx((gallery + well) * 38.5e-3)

    def test_one_compartment(self) -> None:
        disc = math.pi / 4.0 * 69.8e-3**2
        assert geometry.gallery_area(SEALED) == pytest.approx(disc)
        assert geometry.well_area(SEALED) == 0.0
        assert geometry.gallery_area(CUP) == 0.0
        assert geometry.well_area(CUP) == pytest.approx(math.pi / 4.0 * 64.8e-3**2)
        assert geometry.capacity_below_jets(CUP) == geometry.capacity(CUP)

    def test_holes(self) -> None:
        assert geometry.jet_area(DOUBLE) == pytest.approx(26 * math.pi / 4.0 * 1e-6)
        assert geometry.slot_area(DOUBLE) == pytest.approx(32e-6)
        assert geometry.notch_area(replace(DOUBLE, relief=Notches(3, 3e-3, 2e-3))) == pytest.approx(18e-6)
        assert geometry.notch_area(DOUBLE) == 0.0
        # a hexagon's side is its circle's radius
        assert geometry.jet_pitch(replace(DOUBLE, jets=replace(JETS, count=6))) == pytest.approx(31e-3)
        assert geometry.jet_pitch(replace(DOUBLE, jets=replace(JETS, count=1))) == math.inf

    def test_rows(self) -> None:
        rows = replace(DOUBLE, jets=Jets(24, 1e-3, 39e-3, rows=2))
        assert geometry.jet_heights(rows) == pytest.approx((39e-3, 41e-3))
        assert geometry.lowest_jet_edge(rows) == pytest.approx(38.5e-3)
        top = replace(DOUBLE, jets=Jets(24, 0.5e-3, direction="top", rows=2))
        assert sum(geometry.jet_rings(top)) / 2.0 == pytest.approx(57.3e-3)  # middle of the gallery
        assert refusal(lambda: replace(rows, jets=Jets(24, 1e-3, 43e-3, rows=2))).field == "burner.jets.height"

    def test_wick_and_pot(self) -> None:
        assert geometry.wick_capacity(DOUBLE) == pytest.approx(math.pi * 63.5e-3 * 1.5e-3 * 12e-3 * 0.8)
        holds = geometry.pot_capacity(POT.diameter, POT.height, POT.wall_thickness)
        assert holds == pytest.approx(math.pi / 4.0 * 0.1388**2 * 0.0894)

    @given(count=st.integers(1, 400), diameter=st.floats(0.2e-3, 6e-3))
    def test_the_stated_limit_of_overlapping_jets_is_the_limit(self, count: int, diameter: float) -> None:
        if count == 1 or 62e-3 * math.sin(math.pi / count) > diameter:
            replace(DOUBLE, jets=Jets(count, diameter, 39e-3))
            return
        error = refusal(lambda: replace(DOUBLE, jets=Jets(count, diameter, 39e-3)))
        assert error.field == "burner.jets.count"
        most = int(error.problem.rsplit(" ", 1)[1])
        assert most < count
        replace(DOUBLE, jets=Jets(most, diameter, 39e-3))
        assert refusal(lambda: replace(DOUBLE, jets=Jets(most + 1, diameter, 39e-3)))


class TestVary:
    def test_changes_hold_together_and_leave_the_old_setup(self) -> None:
        new = vary(
            SETUP,
            {
                "burner.jets.diameter": 0.8e-3,
                "burner.jets.height": "20 mm",
                "burner.height": "25 mm",  # alone, this would leave the jets above the rim
                "charge.fuel": "ethanol",
                "site.altitude": "1500 m",
                "pot.lid": False,
            },
        )
        assert new.burner.jets == Jets(26, 0.8e-3, 20e-3)
        assert new.burner.height == pytest.approx(25e-3)
        assert new.charge.fuel == blend("ethanol")
        assert new.site.altitude == 1500.0
        assert new.pot is not None
        assert not new.pot.lid
        assert SETUP.burner.jets == JETS

    def test_whole_parts(self) -> None:
        assert vary(SETUP, {"pot": None}).pot is None
        assert vary(SETUP, {"burner.relief": {"count": 3, "width": "3 mm", "depth": "1 mm"}}).burner.relief == Notches(
            3, 3e-3, 1e-3
        )
        assert vary(SETUP, {"burner.wick": Wick(height=8e-3)}).burner.wick == Wick(height=8e-3)

    def test_nothing_changed(self) -> None:
        assert vary(SETUP, {}) == SETUP

    @pytest.mark.parametrize(
        ("changes", "field", "words"),
        [
            ({"burner.jets.diametr": 1e-3}, "burner.jets.diametr", "burner.jets.diameter"),
            ({"jets": 3}, "jets", ""),
            ({"burner.relief.depth": 1e-3}, "burner.relief.depth", "no burner.relief"),
            ({"pot": None, "pot.water": 1e-3}, "pot.water", "only one"),
            ({"burner.jets.diameter": "30 ml"}, "burner.jets.diameter", ""),
            ({"burner.jets.count": 3.5}, "burner.jets.count", "whole"),
            ({"burner": None}, "burner", ""),
            ({"charge.fuel": "water"}, "charge.fuel", ""),
            ({"charge.volume": math.nan}, "charge.volume", "finite"),
        ],
    )
    def test_refusals(self, changes: dict[str, object], field: str, words: str) -> None:
        error = refusal(lambda: vary(SETUP, changes))
        assert error.field == field
        assert words in str(error)

    def test_every_path_of_a_full_setup_can_be_set_to_its_own_value(self) -> None:
        full = replace(SETUP, burner=replace(DOUBLE, relief=Notches(3, 3e-3, 1e-3)), screen=Screen(0.1, 15e-3))
        for path in paths():
            value: object = full
            for name in path.split("."):
                value = getattr(value, name)
            assert vary(full, {path: value}) == full


@pytest.mark.parametrize("burner", [DOUBLE, SEALED, CUP], ids=lambda burner: burner.kind)
def test_tables_round_trip(burner: Burner) -> None:
    setup = Setup(burner, Charge(blend("methylated spirit"), 20e-6), replace(POT, rest="stand"), name="round trip")
    assert Setup.from_dict(setup.to_dict()) == setup


def test_a_home_made_blend_round_trips_in_its_fractions() -> None:
    fuel = blend({"ethanol": 0.8, "2-propanol": 0.1, "water": 0.1})
    setup = replace(SETUP, charge=Charge(fuel, 20e-6))
    again = Setup.from_dict(setup.to_dict()).charge.fuel
    assert again.components == fuel.components
    assert again.mole_fractions == pytest.approx(fuel.mole_fractions, rel=1e-12)


def test_a_whole_count_may_come_as_a_float_of_a_table():
    """A row of a data frame holds 24.0."""
    assert replace(JETS, count=24.0) == replace(JETS, count=24)
    assert type(replace(JETS, count=24.0).count) is int
    for wrong in (24.5, math.inf, math.nan):
        with pytest.raises(InputError, match="not a whole number"):
            replace(JETS, count=wrong)


@pytest.mark.parametrize("kind", [Burner, Charge, FeedSlots, Jets, Notches, Pot, Screen, Site, Wick])
def test_type_checkers_are_told_the_fields_as_they_are(kind):
    """The constructor that type checkers read has each field, its default, and a quantity as a number or a text."""
    tree = ast.parse(inspect.getsource(kind))
    [told] = [one for one in ast.walk(tree) if isinstance(one, ast.FunctionDef) and one.name == "__init__"]
    names = [argument.arg for argument in told.args.args[1:]]
    assert names == [one.name for one in fields(kind)]
    own = [one.default for one in fields(kind) if one.default is not MISSING]
    assert [ast.literal_eval(default) for default in told.args.defaults] == own
    for argument, one in zip(told.args.args[1:], fields(kind), strict=True):
        quantity = one.metadata["dimension"] in DIMENSIONS
        assert ("Given" in ast.unparse(argument.annotation)) == quantity
        assert ("None" in ast.unparse(argument.annotation)) == (one.default is None)
