"""Readings that no burner could have made are told with their line; a corner of the curve is none of them."""

import re

import numpy as np
import pytest

from burnsim.studies.bench.analysis import analyse
from burnsim.studies.bench.log import parse_bench_log
from burnsim.studies.bench.smooth import strays
from burnsim.units import plain
from tests.studies.calibrate.test_calibrate import BURN
from tests.studies.stand_in import design

HEAD = """charge.fuel = methanol
charge.volume = 30 ml
pot.water = 0.5 l
pot.water_temperature = 15 degC
site.altitude = 0 m
"""
WARMING = "0, 15\n2, 33\n4, 51\n6, 69\n8, 87\n"  # 0.15 K/s: 314 W
MINUTES = "---\ntime [min], water [degC]\n"


def remarks(text: str) -> list[str]:
    """Of a design whose flames give 500 W."""
    return [plain(one) for one in analyse(parse_bench_log(text), design(), BURN).remarks]


def test_a_good_log_is_not_doubted() -> None:
    assert remarks(HEAD + "seen.bloom = 0:20\nseen.boil = 9:30\nseen.burnout = 17:00\n" + MINUTES + WARMING) == []


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (
            HEAD + MINUTES.replace("min", "s") + WARMING,
            r"line 9: since line 8 the water would take 18\d+ W, .*give 500 W",
        ),
        (
            HEAD + MINUTES.replace("min", "h") + "0, 15\n1, 33\n2, 51\n",
            "line 10: from the first reading on .* 10 W only",
        ),
        (
            HEAD + MINUTES + WARMING.replace("0, 15", "0, 25"),
            r"line 8: 25\.0 degC at the match, but .*line 4: pot\.water_t",
        ),
        (
            HEAD + MINUTES + WARMING + "9, 96\n10, 104",
            r"line 14: 104\.0 degC is hotter than water gets at the site, 100\.0",
        ),
        (
            HEAD + MINUTES + WARMING + "9, 9",
            r"line 13: 9\.0 degC is colder than the water was at the match, 15\.0 degC",
        ),
        (
            HEAD.replace("30 ml", "5 ml") + MINUTES + WARMING,
            r"line 12: .* has taken 151 kJ, more than the .*line 2: charge.v",
        ),
        (HEAD + "seen.burnout = 2:30\n---\n", "burn-out at 2.5 min: to burn all its fuel"),
    ],
)
def test_what_cannot_be_is_told_with_its_line(text: str, said: str) -> None:
    found = remarks(text)
    assert any(re.search(said, one) for one in found), found


def test_a_scale_that_loses_more_than_the_fuel_or_gains() -> None:
    head = HEAD + "---\ntime [min], mass [g]\n"
    (lost,) = remarks(head + "0, 300\n5, 290\n10, 270")
    assert lost.startswith("line 10: by then the scale has lost 30.0 g, and no more than 2")
    (gained,) = remarks(head + "0, 300\n5, 290\n10, 296")
    assert gained.startswith("line 10: the scale gains 6.0 g")


def test_the_plateau_of_the_boil_is_no_outlier() -> None:
    """Readings once a minute: the corner lies 4.5 K off the middle of its neighbours."""
    time = np.arange(0.0, 900.0, 60.0)
    value = np.minimum(15.0 + 0.15 * time, 97.0)
    value += 0.05 * np.random.default_rng(1).standard_normal(len(time))
    assert strays(time, value, 0.3) == []
    value[4] += 9.0
    assert strays(time, value, 0.3) == [4]
    value[12] -= 9.0  # a true stray on the plateau is one still
    assert strays(time, value, 0.3) == [4, 12]


def test_plain_noise_hardly_ever_strays() -> None:
    """Six deviations: no more than one false alarm in a hundred logs of 45 readings, whatever noise was stated."""
    random = np.random.default_rng(0)
    time = np.arange(0.0, 900.0, 20.0)
    alarms = sum(len(strays(time, 0.15 * time + 0.3 * random.standard_normal(45), 0.05)) for _ in range(1000))
    assert alarms <= 10
