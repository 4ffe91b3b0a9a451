"""Whole burns against the same laws assembled a second way: pressures as states, a general stiff solver.

What the quasi-steady pressure of the library costs: less than 2 % of any milestone.
"""

from functools import cache
from pathlib import Path

import pytest
from burners import burnt
from cross_check.absolute_pressures import Course, cross_check

import burnsim
from burnsim.solve.results.result import Burn

EXAMPLES = Path(__file__).parents[2] / "examples"
DESIGNS: dict[str, dict[str, object]] = {
    "weekend_double_wall": {},
    "workshop_sealed_chamber": {"charge.fuel": "ethanol"},
}
MARKS = ("bloom", "boil", "burnout")


@cache
def both(name: str) -> tuple[Burn, Course]:
    setup = burnsim.vary(burnsim.load(EXAMPLES / f"{name}.toml"), DESIGNS[name])
    return burnt(setup), cross_check(setup, 1e-4)


def time(burn: Burn, mark: str) -> float:
    found: float | None = getattr(burn.milestones, mark).time
    assert found is not None
    return found


@pytest.mark.parametrize("mark", MARKS)
@pytest.mark.parametrize("name", DESIGNS)
def test_milestones_within_two_per_cent(name: str, mark: str) -> None:
    burn, course = both(name)
    assert time(burn, mark) == pytest.approx(getattr(course, mark), rel=0.02)


@pytest.mark.parametrize("mark", MARKS[1:])
@pytest.mark.parametrize("name", DESIGNS)
def test_from_bloom_on_within_two_per_cent(name: str, mark: str) -> None:
    burn, course = both(name)
    assert course.bloom is not None
    since = getattr(course, mark) - course.bloom
    assert time(burn, mark) - time(burn, "bloom") == pytest.approx(since, rel=0.02)


@pytest.mark.parametrize("name", DESIGNS)
def test_the_second_assembly_closes_its_own_ledger(name: str) -> None:
    _, course = both(name)
    assert abs(course.lost) < 1e-4


@pytest.mark.parametrize("name", DESIGNS)
def test_highest_pressures_agree(name: str) -> None:
    burn, course = both(name)
    assert burn.gallery_pressure_max == pytest.approx(course.gauge_max, rel=0.03)
