"""Design files: examples read as meant, and every kind of bad input gives one clear error."""

import os
from pathlib import Path

import pytest

from burnsim.errors import InputError
from burnsim.model.description.files import LARGEST_FILE, load
from burnsim.model.description.setup import Setup
from burnsim.substances.blend import blend
from burnsim.units import plain

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))

GOOD = """
name = "test"
[burner]
kind = "double wall"
outer_diameter = "62 mm"
height = "45 mm"
gallery_gap = "4.5 mm"
[burner.jets]
count = 26
diameter = "1.0 mm"
height = "39 mm"
[burner.feed_slots]
[burner.wick]
[charge]
fuel = "methanol"
volume = "37 ml"
primer = "2 ml"
[pot]
diameter = "14 cm"
height = "9 cm"
water = "0.6 l"
water_temperature = "12 degC"
[site]
air_temperature = "20 degC"
[factors]
entrainment = 1.1
"""


def read(tmp_path: Path, text: str) -> Setup:
    path = tmp_path / "design.toml"
    path.write_text(text, encoding="utf-8")
    return load(path)


def refusal(tmp_path: Path, old: str, new: str) -> InputError:
    assert GOOD.count(old) == 1
    with pytest.raises(InputError) as caught:
        read(tmp_path, GOOD.replace(old, new))
    return caught.value


def test_there_is_an_example_of_every_kind() -> None:
    setups = [load(path) for path in EXAMPLES]
    assert {setup.burner.kind for setup in setups} == {"double wall", "sealed chamber", "open cup"}
    rests = {setup.pot.rest for setup in setups if setup.burner.kind == "double wall" and setup.pot is not None}
    assert "stand" in rests
    assert rests & {"bumps", "full ring"}
    assert all(setup.name for setup in setups)


def test_quantities_reach_the_setup_in_si(tmp_path: Path) -> None:
    setup = read(tmp_path, GOOD)
    assert setup.burner.outer_diameter == pytest.approx(0.062)
    assert setup.burner.jets is not None
    assert setup.burner.jets.height == pytest.approx(0.039)
    assert setup.burner.feed_slots is not None
    assert setup.burner.feed_slots.count == 4
    assert setup.charge.volume == pytest.approx(37e-6)
    assert setup.charge.fuel == blend("methanol")
    assert setup.pot is not None
    assert setup.pot.water == pytest.approx(0.6e-3)
    assert setup.pot.water_temperature == pytest.approx(285.15)
    assert setup.factors.entrainment == 1.1


def test_units_of_the_trade(tmp_path: Path) -> None:
    text = (
        GOOD.replace('"62 mm"', '"2 3/8 in"')
        .replace('"37 ml"', '"1 fl oz"')
        .replace('"0.6 l"', '"2 cup"')
        .replace('"12 degC"', '"64 degF"')
    )
    setup = read(tmp_path, text)
    assert setup.burner.outer_diameter == pytest.approx(2.375 * 0.0254)
    assert setup.charge.volume == pytest.approx(29.57e-6, rel=1e-3)  # US fluid ounce
    assert setup.pot is not None
    assert setup.pot.water == pytest.approx(2 * 236.6e-6, rel=1e-3)  # US cup
    assert setup.pot.water_temperature == pytest.approx((64 - 32) / 1.8 + 273.15)


def test_bare_numbers_are_si(tmp_path: Path) -> None:
    assert read(tmp_path, GOOD.replace('"62 mm"', "0.062")) == read(tmp_path, GOOD)


def test_fuel_by_recipe(tmp_path: Path) -> None:
    recipe = '{ basis = "mass", ethanol = "95 %", water = 0.05 }'
    fuel = read(tmp_path, GOOD.replace('"methanol"', recipe)).charge.fuel
    assert fuel.mole_fractions == pytest.approx(blend({"ethanol": 0.95, "water": 0.05}, "mass").mole_fractions)


BAD: list[tuple[str, str, str, str]] = [
    # what to replace, with what, the field named, words of the message
    ('height = "45 mm"', 'hieght = "45 mm"', "burner.hieght", "did you mean 'height'"),
    ("[site]", "[sight]", "sight", "did you mean 'site'"),
    ("entrainment", "entrainmet", "factors.entrainmet", "did you mean 'entrainment'"),
    ('height = "45 mm"', "", "burner.height", "missing"),
    ('fuel = "methanol"', "", "charge.fuel", "missing"),
    ("count = 26", "", "burner.jets.count", "missing"),
    ('volume = "37 ml"', 'volume = "37 mm"', "charge.volume", "is a length, not a volume; allowed from 0.1 ml"),
    ('volume = "37 ml"', 'volume = "37"', "charge.volume", "no unit"),
    ('volume = "37 ml"', 'volume = "30 degC"', "charge.volume", "30 degC"),
    ('height = "45 mm"', 'height = "45 ml"', "burner.height", "45 ml"),
    ('"12 degC"', '"12 mm"', "pot.water_temperature", "12 mm"),
    ('"37 ml"', "nan", "charge.volume", "nan"),
    ('"37 ml"', "inf", "charge.volume", "inf"),
    ('"37 ml"', '"nan ml"', "charge.volume", "nan"),
    ('"37 ml"', '"inf ml"', "charge.volume", "inf"),
    ('"37 ml"', '"-37 ml"', "charge.volume", "allowed from 0.1 ml"),
    ('"37 ml"', '"0 ml"', "charge.volume", "allowed from 0.1 ml"),
    ('"37 ml"', "true", "charge.volume", "not a number"),
    ('"37 ml"', '["37 ml"]', "charge.volume", "not a number"),
    ('"37 ml"', "2020-01-01", "charge.volume", "not a number"),
    ('"37 ml"', '""', "charge.volume", ""),
    ('"37 ml"', '"300 ml"', "charge.volume", "holds"),
    ("count = 26", "count = 3.5", "burner.jets.count", "whole"),
    ("count = 26", 'count = "26"', "burner.jets.count", "whole"),
    ("count = 26", "count = true", "burner.jets.count", "whole"),
    ("count = 26", "count = 195", "burner.jets.count", "overlap"),
    ("count = 26", "count = 0", "burner.jets.count", "from 1"),
    ('"62 mm"', '"0 mm"', "burner.outer_diameter", "from 10 mm"),
    ('"4.5 mm"', '"40 mm"', "burner.gallery_gap", "well"),
    ('"4.5 mm"', '"-1 mm"', "burner.gallery_gap", "inner wall narrower than the outer"),
    ('"39 mm"', '"45 mm"', "burner.jets.height", "above the rim"),
    ('"39 mm"', '"0.2 mm"', "burner.jets.height", "below the floor"),
    ('"14 cm"', '"14 cm"\nwall_thickness = "20 mm"\nlid = "yes"', "pot.lid", "true or false"),
    ('"9 cm"', '"1 cm"\nwall_thickness = "11 mm"', "pot.wall_thickness", "no room"),
    ('"0.6 l"', '"2 l"', "pot.water", "holds"),
    ('"12 degC"', '"-1 degC"', "pot.water_temperature", "0 degC"),
    ('"12 degC"', '"101 degC"', "pot.water_temperature", "from 0 degC"),
    ('"methanol"', '"water"', "charge.fuel", "water"),
    ('"methanol"', '"methanool"', "charge.fuel", "methanol"),
    ('"methanol"', '{ ethanol = "90 %", water = "5 %" }', "charge.fuel", "sum"),
    ('"methanol"', '{ ethanoll = "95 %", water = "5 %" }', "charge.fuel", "ethanol"),
    ('"methanol"', '{ ethanol = true, water = "5 %" }', "charge.fuel.ethanol", "share"),
    ('"methanol"', '{ basis = "weight", ethanol = 1.0 }', "charge.fuel.basis", "'mass'"),
    ('"methanol"', "7", "charge.fuel", "neither"),
    ('"methanol"', '["methanol"]', "charge.fuel", "neither"),
    ("[burner.wick]", "", "charge.primer", "wick"),
    ("[burner.feed_slots]", "", "burner.feed_slots", "missing"),
    ("[burner.wick]", "[[burner.wick]]", "burner.wick", "table"),
    ('name = "test"', "name = 5", "name", "text"),
    ('name = "test"', "[other]", "other", "not a known key"),
    ('kind = "double wall"', 'kind = "doublewall"', "burner.kind", "did you mean 'double wall'"),
    ('kind = "double wall"', 'kind = "open cup"', "burner.gallery_gap", "open cup"),
    ('kind = "double wall"', "kind = [1]", "burner.kind", "allowed"),
]


@pytest.mark.parametrize(("old", "new", "field", "words"), BAD, ids=[f"{field}={new}" for _, new, field, _ in BAD])
def test_bad_input_names_field_and_remedy(tmp_path: Path, old: str, new: str, field: str, words: str) -> None:
    error = refusal(tmp_path, old, new)
    assert error.field == field
    assert words in str(error)
    assert error.remedy


def test_missing_tables(tmp_path: Path) -> None:
    with pytest.raises(InputError, match=r"add the table \[charge\]"):
        read(tmp_path, '[burner]\nkind = "open cup"\nouter_diameter = "60 mm"\nheight = "30 mm"\n')


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"not toml at all", "not TOML"),
        (b"", "empty"),
        (b"name = 'x'\nname = 'y'\n", "has name twice, again in line 2"),
        (b"\xff\xfe\x00binary", "UTF-8"),
        (b"name = '\xe9'", "UTF-8"),
        (b"count = " + b"9" * 5000, "not TOML"),
        (b"a = " + b"[" * 20000, "TOML"),
        (b"#" * (LARGEST_FILE + 1), "larger"),
    ],
    ids=["prose", "empty", "twice", "binary", "latin-1", "huge number", "deep", "large"],
)
def test_unreadable_content(tmp_path: Path, content: bytes, words: str) -> None:
    path = tmp_path / "design.toml"
    path.write_bytes(content)
    with pytest.raises(InputError) as caught:
        load(path)
    assert caught.value.field == "file"
    assert words in plain(str(caught.value))
    assert plain(str(caught.value)).count("file = ") == 1


def test_missing_file_directory_and_odd_names(tmp_path: Path) -> None:
    with pytest.raises(InputError, match=r"^file = [^:]* does not exist: check the path$"):
        load(tmp_path / "nothing.toml")
    with pytest.raises(InputError, match="is a directory"):
        load(tmp_path)
    with pytest.raises(InputError, match="cannot be read"):
        load("a\0b.toml")


@pytest.mark.skipif(os.name == "nt" or os.geteuid() == 0, reason="needs file permissions that bind")
def test_forbidden_file(tmp_path: Path) -> None:
    path = tmp_path / "design.toml"
    path.write_text(GOOD, encoding="utf-8")
    path.chmod(0)
    with pytest.raises(InputError, match="cannot be read"):
        load(path)


def test_byte_order_mark_and_windows_lines_are_fine(tmp_path: Path) -> None:
    path = tmp_path / "design.toml"
    path.write_bytes(b"\xef\xbb\xbf" + GOOD.replace("\n", "\r\n").encode())
    assert load(path) == read(tmp_path, GOOD)


def test_a_search_file_is_told_from_a_design() -> None:
    with pytest.raises(InputError, match="is a search, not a design: give it to `burnsim search`"):
        load(Path(__file__).parents[2] / "examples" / "search" / "least_fuel.toml")
