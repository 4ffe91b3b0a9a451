"""Hostile quantities: a finite number comes out, or an error that names the field, quickly."""

import math
import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from burnsim.errors import InputError
from burnsim.units import parse

DIMENSIONS = ("length", "volume", "temperature", "velocity", "pressure", "fraction", "angle", "mass", "time")
UNITS = (
    "mm",
    "in",
    "ml",
    "fl oz",
    "degC",
    "degF",
    "K",
    "m/s",
    "kPa",
    "%",
    "deg",
    "g",
    "oz",
    "min",
    "s",
    "drill",
    "''",
    '"',
)
PIECES = (
    *UNITS,
    "#",
    "/",
    ".",
    ",",
    " ",
    "-",
    "+",
    "e",
    "E",
    "1",
    "0",
    "00",
    "9" * 40,
    "½",
    "⅜",
    "²",
    "٣",
    "−",
    "\u00a0",
    "\u202e",
    "\x00",
    "nan",
    "inf",
    "1_0",
    "0x1",
    "1e",
    "e5",
    "1 1/2",
    "3/0",
    "\n",
    "(",
    ")",
    "*",
    "**",
    "_",
    "µ",
    "μ",
)


def read(text: object, dimension: str) -> None:
    refusal = None
    try:
        value = parse(text, dimension, "field")  # type: ignore[arg-type]
    except InputError as error:
        refusal, value = error, 0.0
    assert refusal is None or refusal.field == "field"
    assert "\n" not in str(refusal)
    assert isinstance(value, float)
    assert math.isfinite(value)


@settings(max_examples=1500, derandomize=True)
@given(parts=st.lists(st.sampled_from(PIECES), max_size=7), dimension=st.sampled_from(DIMENSIONS))
def test_put_together_from_pieces(parts: list[str], dimension: str) -> None:
    read("".join(parts), dimension)


@settings(max_examples=500, derandomize=True)
@given(text=st.text(max_size=20), dimension=st.sampled_from(DIMENSIONS))
def test_any_text(text: str, dimension: str) -> None:
    read(text, dimension)


@settings(max_examples=300, derandomize=True)
@given(
    value=st.one_of(
        st.floats(), st.integers(), st.booleans(), st.none(), st.lists(st.floats(), max_size=2), st.binary()
    )
)
def test_anything_else(value: object) -> None:
    for dimension in DIMENSIONS:
        read(value, dimension)


@pytest.mark.parametrize(
    "text",
    [
        "1" * 100_000 + " mm",
        "1e" + "9" * 5000 + " mm",
        "1/" * 50_000 + " mm",
        " " * 100_000 + "mm",
        "1 " * 50_000,
        "(" * 50_000,
        "1e400 mm",
        "1e-400 mm",
        "1" + "0" * 4000 + "/1" + "0" * 4000 + " mm",
    ],
)
def test_long_texts_take_no_time(text: str) -> None:
    began = time.perf_counter()
    read(text, "length")
    assert time.perf_counter() - began < 2.0
