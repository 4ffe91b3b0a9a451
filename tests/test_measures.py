"""Units of a person: against defined conversions (NIST SP 811), and in texts."""

import pytest

from burnsim.errors import InputError
from burnsim.measures import in_both, in_si_only, in_system, measure, written
from burnsim.units import parse


@pytest.mark.parametrize(
    ("dimension", "text"),
    [
        ("temperature", "64 degF"),
        ("volume", "1.5 fl oz"),
        ("length", "2.5 in"),
        ("pressure", "2 inH2O"),
        ("mass", "3 oz"),
    ],
)
def test_it_is_the_inverse_of_reading(dimension: str, text: str) -> None:
    unit = measure(dimension, "us")
    assert unit.unit == text.partition(" ")[2]
    assert unit.of(parse(text, dimension)) == pytest.approx(float(text.split(maxsplit=1)[0]), rel=1e-6)


def test_texts() -> None:
    assert in_system("boils at 100 degC", "us") == "boils at 212 degF"
    assert in_system("37 ml at 5.0 m/s, 1500 m up", "us") == "1.25 fl oz at 16.4 ft/s, 4921 ft up"
    assert in_system("7.5 W/m2/K, 3 min, 12 kJ, 26 jets", "us") == "7.5 W/m2/K, 3 min, 12 kJ, 26 jets"
    assert in_system("37 ml", "si") == "37 ml"
    assert written(1e-3, "length", "us") == "0.039 in"
    with pytest.raises(InputError, match="did you mean 'us'"):
        in_system("37 ml", "uss")


def test_areas_and_amounts_in_both() -> None:
    assert in_system("at least 645.16 mm2, each 2.00 mm wide", "us") == "at least 1 in2, each 0.08 in wide"
    assert measure("area", "us").of(0.0254**2) == pytest.approx(1.0)
    told = f"no more than {in_both(43.95e-6)}"
    assert in_system(told, "us") == "no more than 1.49 fl oz"  # not what the rounded millilitres would give
    assert in_si_only(told) in ("no more than 44.0 ml", "no more than 43.9 ml")
    assert in_system(told, "si") == told
