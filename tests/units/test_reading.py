"""Quantities at the edge: what people write becomes the right SI float, and nothing else passes."""

import math
import unicodedata
from fractions import Fraction
from itertools import pairwise

import numpy as np
import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from burnsim.errors import InputError
from burnsim.units import DIMENSIONS, format_time, parse, plain
from burnsim.units.reading import DRILLS, _words

PINT = pint.UnitRegistry(non_int_type=Fraction)
INCH = 0.0254  # exact, international yard and pound agreement 1959
POUND = 0.45359237  # exact, same
GALLON = 231 * INCH**3  # US gallon, NIST Handbook 44 appendix C
IMPERIAL_GALLON = 4.54609e-3  # exact, UK Weights and Measures Act 1985


@pytest.mark.parametrize(
    ("text", "dimension", "value"),
    [
        ("30 ml", "volume", 30e-6),
        ("30ml", "volume", 30e-6),
        ("0.6 l", "volume", 0.6e-3),
        ("5 cm³", "volume", 5e-6),
        ("5 cm^3", "volume", 5e-6),
        ("5 cc", "volume", 5e-6),
        ("1 fl oz", "volume", GALLON / 128),
        ("12 fl. oz.", "volume", 12 * GALLON / 128),
        ("2 cup", "volume", 2 * GALLON / 16),
        ("2 cups", "volume", 2 * GALLON / 16),
        ("1/2 cup", "volume", GALLON / 32),
        ("1 pint", "volume", GALLON / 8),
        ("1 qt", "volume", GALLON / 4),
        ("2 tbsp", "volume", GALLON / 128),
        ("1 tsp", "volume", GALLON / 768),
        ("1 imp pint", "volume", IMPERIAL_GALLON / 8),
        ("1 imp fl oz", "volume", IMPERIAL_GALLON / 160),
        ("2 3/8 in", "length", 2.375 * INCH),
        ("1 1/2 inch", "length", 1.5 * INCH),
        ("1-1/2 in.", "length", 1.5 * INCH),
        ("1½ in", "length", 1.5 * INCH),
        ("3/8 in", "length", 0.375 * INCH),
        ('2 3/8"', "length", 2.375 * INCH),
        ("10 mil", "length", 0.010 * INCH),
        ("3 ft", "length", 36 * INCH),
        ("100 um", "length", 1e-4),
        ("100 µm", "length", 1e-4),
        ("30 MM", "length", 0.03),
        ("12 oz", "mass", 12 * POUND / 16),
        ("2 lb", "mass", 2 * POUND),
        ("250 g", "mass", 0.25),
        ("64 degF", "temperature", 273.15 + (64 - 32) / 1.8),
        ("64 °F", "temperature", 273.15 + (64 - 32) / 1.8),
        ("68 F", "temperature", 293.15),
        ("20 degC", "temperature", 293.15),
        ("20 C", "temperature", 293.15),
        ("20 ℃", "temperature", 293.15),
        ("-40 degF", "temperature", 233.15),
        ("−5 degC", "temperature", 268.15),
        ("300 K", "temperature", 300.0),
        ("10 degC", "temperature difference", 10.0),
        ("18 degF", "temperature difference", 10.0),
        ("5 km/h", "velocity", 5 / 3.6),
        ("5 km per h", "velocity", 5 / 3.6),
        ("10 mph", "velocity", 10 * 5280 * 12 * INCH / 3600),
        ("10 knots", "velocity", 10 * 1852 / 3600),
        ("1013.25 hPa", "pressure", 101325.0),
        ("1 atm", "pressure", 101325.0),
        ("500 Pa", "pressure", 500.0),
        ("500 W", "power", 500.0),
        ("1.2 kW", "power", 1200.0),
        ("20 mg/s", "mass flow", 2e-5),
        ("6 g/min", "mass flow", 1e-4),
        ("12 cm2", "area", 12e-4),
        ("1 sq in", "area", INCH**2),
        ("180 deg", "angle", math.pi),
        ("90°", "angle", math.pi / 2),
        ("5 min", "time", 300.0),
        ("5 min 12 s", "time", 312.0),
        ("1.5 h", "time", 5400.0),
        ("95 %", "fraction", 0.95),
        ("95%", "fraction", 0.95),
        ("0.95", "fraction", 0.95),
        ("120 %", "number", 1.2),
        ("1e-3", "number", 1e-3),
        ("1e-3 m", "length", 1e-3),
    ],
)
def test_reads_what_people_write(text: object, dimension: str, value: float) -> None:
    assert parse(text, dimension) == pytest.approx(value, rel=1e-12, abs=0.0)


@pytest.mark.parametrize(
    ("text", "value"), [("0.9 mm", 0.0009), ("4.5 mm", 0.0045), ("62 mm", 0.062), ("0.1 mm", 0.0001)]
)
def test_decimal_text_gives_the_nearest_float(text: object, value: float) -> None:
    assert parse(text, "length") == value


def test_psi_and_mercury() -> None:
    """NIST SP 811 appendix B: psi 6894.757 Pa, conventional mmHg 133.3224 Pa, inHg 3386.389 Pa."""
    assert parse("1 psi", "pressure") == pytest.approx(6894.757, abs=5e-4)
    assert parse("1 mmHg", "pressure") == pytest.approx(133.3224, abs=5e-5)
    assert parse("1 inHg", "pressure") == pytest.approx(3386.389, abs=5e-4)


@pytest.mark.parametrize(
    "text", ["#65 drill", "#65", "no. 65 drill", "No 65", "drill 65", "drill #65", "#65 drill bit"]
)
def test_drill_numbers(text: object) -> None:
    assert parse(text, "length") == pytest.approx(0.0350 * INCH, rel=1e-12)


def test_drill_table() -> None:
    """Metric sizes of handbook tables of number drills (from memory, unverified), to 0.01 mm."""
    metric = {
        1: 5.79, 10: 4.91, 20: 4.09, 30: 3.26, 40: 2.49, 50: 1.78, 53: 1.51, 60: 1.02, 70: 0.71, 76: 0.51, 80: 0.34,
    }  # fmt: skip
    for number, size in metric.items():
        assert parse(f"#{number} drill", "length") * 1e3 == pytest.approx(size, abs=0.006), number
    sizes = [int(size) for size in DRILLS.split()]
    assert len(sizes) == 80
    assert all(a > b for a, b in pairwise(sizes))


@pytest.mark.parametrize(
    ("text", "dimension", "needle"),
    [
        ("30 mm", "volume", "is a length, not a volume"),
        ("12 oz", "volume", "fl oz"),
        ("12 fl oz", "mass", "is a volume, not a mass"),
        ("30 mil", "volume", "is a length"),
        ("5 m", "time", "is a length"),
        ("20 degC", "angle", "is a temperature"),
        ("20 degrees", "temperature", "is an angle"),
        ("5 min 12 mm", "time", "is a length"),
        ("#65 drill", "volume", "drill number"),
        ("95 %", "volume", "is a fraction"),
        ("30 millilitrs", "volume", "'millilitres'"),
        ("64 degG", "temperature", "did you mean"),
        ("3 Mm", "length", "'mm'"),
        ("3 mW", "power", "unknown unit"),
        ("3 MW", "power", "unknown unit"),
        ("22 ga", "length", "gauge"),
        ("#0 drill", "length", "#1 to #80"),
        ("#81", "length", "#1 to #80"),
        ("30", "volume", "has no unit"),
        ("", "length", "is empty"),
        ("   ", "length", "is empty"),
        ("mm", "length", "does not begin with a number"),
        ("nan mm", "length", "not a finite"),
        ("inf", "length", "not a finite"),
        ("-inf mm", "length", "not a finite"),
        ("1e400 mm", "length", "not a finite"),
        ("1e999999999 mm", "length", "not a reasonable"),
        ("2 3/0 in", "length", "divides by zero"),
        ("1,5 mm", "length", "comma"),
        ("1,000 ml", "volume", "comma"),
        ("1.2.3 mm", "length", "number"),
        ("2 3 in", "length", "cannot be read"),
        ("10² mm", "length", "cannot be read"),
        ("1.5/2 in", "length", "number"),
        ("1_000 mm", "length", "unknown unit"),
        ("0x10 mm", "length", "unknown unit"),
        ("30 ml; rm", "volume", "unknown unit"),
        ("9" * 81, "length", "80 characters"),
        ("-300 degC", "temperature", "absolute zero"),
        ("-1 K", "temperature", "absolute zero"),
        (-1.0, "temperature", "absolute zero"),
        (math.nan, "length", "not a finite"),
        (math.inf, "length", "not a finite"),
        (10**400, "length", "not a finite"),
        (True, "length", "neither"),
        (np.True_, "length", "neither"),
        (None, "length", "neither"),
        (b"30 mm", "length", "neither"),
        ([30.0], "length", "neither"),
        (1j, "number", "neither"),
    ],
)
def test_refuses_with_field_and_example(text: object, dimension: str, needle: str) -> None:
    with pytest.raises(InputError) as caught:
        parse(text, dimension, "burner.part")
    assert caught.value.field == "burner.part"
    assert needle in str(caught.value)
    if needle not in ("gauge", "#1 to #80", "comma", "fl oz"):
        assert repr(DIMENSIONS[dimension].example) in caught.value.remedy


def test_unknown_dimension() -> None:
    with pytest.raises(InputError, match="did you mean 'length'"):
        parse("3 mm", "lenght")


@pytest.mark.parametrize("number", [3, 3.0, np.float64(3.0), np.int64(3), Fraction(3)])
def test_a_number_is_si(number: float) -> None:
    result = parse(number, "length")
    assert result == 3.0
    assert type(result) is float


@pytest.mark.parametrize("dimension", DIMENSIONS)
def test_the_example_of_each_dimension_is_right(dimension: str) -> None:
    assert parse(DIMENSIONS[dimension].example, dimension) > 0.0


@pytest.mark.parametrize(("dimension", "name"), [(d, name) for d, kind in DIMENSIONS.items() for name in kind.words])
def test_every_unit_is_as_large_as_that_of_pint(dimension: str, name: str) -> None:
    """Pint refuses to convert between dimensions, so a unit in the wrong place fails here."""
    si = DIMENSIONS[dimension].si
    zero, seven = (PINT.Quantity(Fraction(number), name).to(si).magnitude for number in (0, 7))
    for word in DIMENSIONS[dimension].words[name][1].split(";"):
        assert _words(dimension)[word][1] == zero
        assert parse(f"7 {word}", dimension) == float(seven)
        assert unicodedata.normalize("NFKC", word) == word


def test_words_of_a_dimension_are_not_shared() -> None:
    for kind in DIMENSIONS.values():
        words = [w for _, listed in kind.words.values() for w in listed.split(";")]
        assert len(words) == len(set(words))
        folded = {w.casefold(): n for n, (_, listed) in kind.words.items() for w in listed.split(";") if len(w) > 2}
        for name, (_, listed) in kind.words.items():
            assert all(folded[w.casefold()] == name for w in listed.split(";") if len(w) > 2)


finite = st.floats(min_value=-1e9, max_value=1e9, allow_nan=False)


@settings(deadline=None)
@given(finite, st.sampled_from([d for d in DIMENSIONS if d != "temperature"]), st.data())
def test_number_and_unit_round_trip(number: float, dimension: str, data: st.DataObject) -> None:
    word = data.draw(st.sampled_from(sorted(_words(dimension))))
    factor, _ = _words(dimension)[word]
    expected = float(Fraction(repr(number)) * factor)
    for text in (f"{number!r} {word}", f"{number!r}{word}", f"  {number!r}   {word} "):
        assert parse(text, dimension) == expected


@settings(deadline=None)
@given(st.integers(0, 500), st.integers(0, 63), st.sampled_from([2, 4, 8, 16, 32, 64]))
def test_mixed_fractions(whole: int, over: int, under: int) -> None:
    assert parse(f"{whole} {over}/{under} in", "length") == pytest.approx((whole + over / under) * INCH, rel=1e-12)


@settings(deadline=None)
@given(st.floats(-459.0, 3000.0))
def test_fahrenheit_and_celsius_agree(degrees: float) -> None:
    assert parse(f"{degrees!r} degF", "temperature") == pytest.approx(
        parse(f"{(degrees - 32.0) / 1.8!r} degC", "temperature"), abs=1e-9
    )


@settings(deadline=None)
@given(st.text(max_size=90), st.sampled_from(list(DIMENSIONS)))
def test_any_text_is_read_or_refused(text: object, dimension: str) -> None:
    try:
        value = parse(text, dimension)
    except InputError:
        return
    assert math.isfinite(value)


@settings(deadline=None)
@given(st.integers(0, 200_000))
def test_format_time_is_read_back(seconds: int) -> None:
    assert parse(format_time(float(seconds)), "time") == seconds


def test_format_time() -> None:
    assert plain(format_time(312.4)) == "5 min 12 s"
    assert plain(format_time(-75.0)) == "-1 min 15 s"
    with pytest.raises(InputError):
        format_time(math.nan)
