"""Slopes written out from a law's text: against difference quotients, and exactly where they are known."""

import inspect
from dataclasses import dataclass, replace
from math import cbrt, cosh, erf, exp, log, sqrt

import pytest

from burnsim.bounds import at_least, at_most
from burnsim.slopes import slopes_of


@dataclass
class Point:
    x: float
    y: float
    idle: float


@dataclass
class Pair:
    one: float
    other: float


WEIGHTS = (0.5, 2.0)


def swapped(pair: Pair) -> Pair:
    return Pair(one=pair.other, other=pair.one)


def ramp(x: float) -> float:
    if x <= 0.0:
        return 0.0
    return x * x if x < 1.0 else 2.0 * x - 1.0


def winding(at: Point, scale: float) -> float:
    """Everything that a law may be made of."""
    total = 0.0
    pair = swapped(Pair(one=at.x, other=scale * at.y))
    for k in range(2):
        weight = WEIGHTS[k] * scale
        total += weight * pair.one * exp(-at.x) + ramp(pair.other * WEIGHTS[1 - k])
        if total > 3.0:
            total = sqrt(total) + erf(at.y)
            extra = cbrt(at.x) - log(at.y)
        else:
            extra = cosh(at.x) / at.y
        total -= extra
    return -(total**3) + at_least(at_most(at.x, 2.0), -1.0) * at.y**at.x


def quotient(law, at, name, *others):  # type: ignore[no-untyped-def]
    step = 1e-6 * max(abs(getattr(at, name)), 1e-3)
    up, down = [replace(at, **{name: getattr(at, name) + side * step}) for side in (1.0, -1.0)]
    return (law(up, *others) - law(down, *others)) / (2.0 * step)


@pytest.mark.parametrize("x", [-0.7, 0.3, 0.9, 1.7, 2.4])
@pytest.mark.parametrize("y", [0.2, 0.8, 1.9])
@pytest.mark.parametrize("scale", [0.6, 1.4])
def test_slopes_are_those_of_difference_quotients(x: float, y: float, scale: float) -> None:
    at = Point(x, y, 3.0)
    found = slopes_of(winding, Point)(at, scale)
    for name in ("x", "y"):
        assert getattr(found, name) == pytest.approx(quotient(winding, at, name, scale), rel=1e-6, abs=1e-6)
    assert found.idle == 0.0


def root(at: Point) -> float:
    return sqrt(at.x) + cbrt(at.y)


def test_where_a_root_has_no_slope_there_is_none() -> None:
    assert slopes_of(root, Point)(Point(0.0, 0.0, 0.0)) == Point(0.0, 0.0, 0.0)


def unknown(at: Point) -> float:
    while at.x > 0.0:
        return 1.0
    return 0.0


def test_what_cannot_be_written_out_is_refused_when_it_is_asked_for() -> None:
    slopes = slopes_of(unknown, Point)
    for _ in range(2):
        with pytest.raises(TypeError, match="has no slopes"):
            slopes(Point(1.0, 1.0, 0.0))


def test_the_text_can_be_read_before_it_is_run_and_after() -> None:
    slopes = slopes_of(root, Point)
    text = inspect.getsource(slopes)
    assert "sqrt(" in text
    assert slopes(Point(4.0, 0.0, 0.0)).x == slopes(Point(4.0, 0.0, 0.0)).x == 0.25
    assert inspect.getsource(slopes) == text
