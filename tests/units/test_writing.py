"""Quantities and texts as people read them: against defined conversions (NIST SP 811)."""

import io
import pickle

import pytest

from burnsim.errors import InputError
from burnsim.plots.letters import text_width, wrapped
from burnsim.units import Quantity, Text, format_time, measure, parse, plain, told, written
from burnsim.units.table import DIMENSIONS, SYSTEMS
from burnsim.units.writing import NBSP, shown


@pytest.mark.parametrize(
    ("dimension", "text"),
    [
        ("temperature", "64 °F"),
        ("volume", "1.5 fl oz"),
        ("length", "2.5 in"),
        ("pressure", "2 inH2O"),
        ("mass", "3 oz"),
        ("area", "0.25 in²"),
        ("wind speed", "10 mph"),
    ],
)
def test_it_is_the_inverse_of_reading(dimension: str, text: str) -> None:
    unit = measure(dimension, "us")
    assert unit.unit == text.partition(" ")[2]
    assert unit.of(parse(text, dimension)) == pytest.approx(float(text.split(maxsplit=1)[0]), rel=1e-6)


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("dimension", [name for name in DIMENSIONS if name not in ("number", "fraction")])
def test_what_is_written_can_be_read_back(dimension: str, system: str) -> None:
    """Signs, no-break spaces and all; in ASCII too."""
    text = shown(287.65, dimension, system, 12)
    assert parse(text, dimension) == pytest.approx(287.65, rel=1e-9)
    assert parse(plain(text), dimension) == pytest.approx(287.65, rel=1e-9)


def test_no_line_ends_inside_a_time() -> None:
    assert format_time(587.0) == f"9{NBSP}min{NBSP}47{NBSP}s"
    room = 1.5 * text_width("water boils at", 10.0)
    assert [plain(line) for line in wrapped(f"water boils at {format_time(587.0)}", room, 10.0)] == [
        "water boils at", "9 min 47 s",
    ]  # fmt: skip


def test_a_text_is_told_in_other_units_without_losing_digits() -> None:
    edge = Text("{} up", Quantity(1500.0, "altitude"))
    text = Text("boils at {}, {}; {} jets of {}", Quantity(373.15, "temperature"), edge, 26, Quantity(1e-3, "length"))
    assert plain(text) == "boils at 100 degC, 1500 m up; 26 jets of 1.0 mm"
    assert plain(told(text, "us")) == "boils at 212 degF, 4920 ft up; 26 jets of 0.039 in"  # height to tens of feet
    assert plain(Text("{}", Quantity(43.95e-6, "volume")).told("us")) == "1.49 fl oz"  # from 44.0 ml it would be 1.49
    assert plain(Text("{}", Quantity(0.45e-6, "area", 2)).told("us")) == "0.000698 in2"
    assert pickle.loads(pickle.dumps(text)).told("us") == text.told("us")


def test_a_plain_string_stays_as_it_is() -> None:
    assert told("there is no pot", "us") == "there is no pot"
    with pytest.raises(InputError, match="units = 'uss' is not known"):
        told("there is no pot", "uss")


def test_a_number_and_its_unit_are_not_parted() -> None:
    assert written(30e-6, "volume") == f"30.0{NBSP}ml"
    assert written(-1e-3, "length") == f"\N{MINUS SIGN}1.0{NBSP}mm"


def test_a_terminal_that_cannot_show_signs_gets_ascii() -> None:
    raw = io.BytesIO()
    stream = io.TextIOWrapper(raw, encoding="ascii", errors="burnsim")
    stream.write(f"20{NBSP}°C, 3{NBSP}mm² × 2 ± 1, \N{MINUS SIGN}5 → 6, Ж")
    stream.flush()
    assert raw.getvalue() == b"20 degC, 3 mm2 x 2 +- 1, -5 -> 6, \\u0416"
