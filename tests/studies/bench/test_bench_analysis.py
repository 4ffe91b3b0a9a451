"""Figures of a bench log, against worked examples, exact curves and random sampling; readings that cannot be."""

import math
import re

import numpy as np
import pytest

from burnsim import InputError, blend
from burnsim.report.bench import repeats_text
from burnsim.studies.bench.analysis import analyse
from burnsim.studies.bench.builds import burns_needed, compare, power_of_test
from burnsim.studies.bench.design import apply_conditions
from burnsim.studies.bench.formula import compute_efficiency, reference_time
from burnsim.studies.bench.log import parse_bench_log
from burnsim.studies.bench.smooth import outliers, smooth
from burnsim.studies.fuels.spirit import heating_value
from burnsim.units import plain
from tests.studies.calibrate.test_calibrate import BURN
from tests.studies.stand_in import design


def test_efficiency_worked_by_hand() -> None:
    """0.500 kg of water from 15 to 100 degC, 20 g evaporated, 16.0 g of spirit of 26.8 MJ/kg.

    Water 0.500*4186*85 = 177 905 J, steam 0.020*2 257 000 = 45 140 J, together 223 045 J; fuel 0.016*26.8e6 =
    428 800 J; efficiency 0.520161. Errors: water 5 g 85*4186*0.005/428800 = 0.0041489; rise 0.6 K 0.5*4186*0.6/428800 =
    0.0029286; steam 1 g: 2257/428800 = 0.0052635; fuel 0.4 g: 0.520161*0.4/16 = 0.0130040; heating value 1 %:
    0.0052016. Squares: 1.7213e-5 + 0.8577e-5 + 2.7705e-5 + 16.9105e-5 + 2.7057e-5 = 24.9657e-5, root 0.015801.
    """
    found = compute_efficiency(
        water=0.5, rise=85.0, evaporated=0.02, fuel=0.016, heating_value=26.8e6,
        u_water=0.005, u_rise=0.6, u_evaporated=0.001, u_fuel=0.4e-3, u_heating_value=0.268e6,
    )  # fmt: skip
    assert found.value == pytest.approx(0.520161, abs=1e-6)
    assert found.error == pytest.approx(0.015801, abs=1e-6)
    assert found.parts["mass of fuel"] == pytest.approx(0.0130040, abs=1e-6)


def test_propagated_error_is_that_of_random_sampling() -> None:
    random = np.random.default_rng(5)
    n = 200_000
    heat = (0.5 + 0.005 * random.standard_normal(n)) * 4186.0 * (85.0 + 0.6 * random.standard_normal(n))
    heat += (0.02 + 0.001 * random.standard_normal(n)) * 2257e3
    spent = (0.016 + 0.2e-3 * random.standard_normal(n)) * (26.8e6 + 0.268e6 * random.standard_normal(n))
    found = compute_efficiency(
        water=0.5, rise=85.0, evaporated=0.02, fuel=0.016, heating_value=26.8e6,
        u_water=0.005, u_rise=0.6, u_evaporated=0.001, u_fuel=0.2e-3, u_heating_value=0.268e6,
    )  # fmt: skip
    assert found.error == pytest.approx(float(np.std(heat / spent)), rel=0.01)


def test_efficiency_refuses_what_makes_no_sense() -> None:
    for changes in ({"fuel": 0.0}, {"water": -1.0}, {"rise": 0.0}, {"heating_value": math.nan}):
        given = {"water": 0.5, "rise": 80.0, "evaporated": 0.0, "fuel": 0.01, "heating_value": 2e7} | changes
        with pytest.raises(InputError):
            compute_efficiency(**given)


def test_reference_time_by_hand() -> None:
    """0.6 kg from 10 to 97 degC in 600 s after a lag of 40 s: 40 + 560*(0.5*79.97)/(0.6*87) = 468.95 s."""
    found = reference_time(boil=600.0, lag=40.0, water=0.6, start=283.15, boiling_point=370.15)
    assert found.value == pytest.approx(40.0 + 560.0 * 0.5 * 79.97 / (0.6 * 87.0), abs=1e-9)
    assert reference_time(boil=30.0, lag=40.0, water=0.6, start=283.15, boiling_point=370.15).value is None


def heating_log(noise: float, seed: int, every: float = 20.0, head: str = "") -> str:
    """A straight line from 15 degC at 60 s up to 100 degC at 560 s, 0.17 K/s, with noise."""
    random = np.random.default_rng(seed)
    rows = []
    for time in np.arange(0.0, 561.0, every):
        value = 15.0 + max(time - 60.0, 0.0) * 0.17 + noise * random.standard_normal()
        rows.append(f"{time:.0f}, {value:.6f}")
    return head + "---\ntime [s], water [degC]\n" + "\n".join(rows)


HEAD = """[charge]
fuel = "methanol"
volume = "30 ml"
used_to_boil = "20 ml"
[pot]
water_mass = "500 g"
water_temperature = "15 degC"
[site]
altitude = "0 m"
[seen]
bloom = "0:45"
boil = "9:20"
burnout = "14:00"
"""


def test_figures_of_a_known_line() -> None:
    found = analyse(parse_bench_log(heating_log(0.0, 0, head=HEAD)))
    assert found.rate.value == pytest.approx(0.17, rel=1e-6)
    assert found.lag.value == pytest.approx(15.0, abs=1e-3)
    assert found.power_steady.value == pytest.approx(500e-3 * 4186.0 * 0.17, rel=0.003)
    assert found.power is not None
    inner = (found.power.time > 150.0) & (found.power.time < 500.0)
    assert found.power.slope[inner] == pytest.approx(0.5 * 4186.0 * 0.17, rel=0.005)
    # to the boil: 0.5*4186*85 J over 20 ml of methanol of 792 kg/m3 and 19.9 MJ/kg
    assert found.efficiency_to_boil is not None
    assert found.efficiency_to_boil.value == pytest.approx(0.5 * 4186.0 * 85.0 / (20e-6 * 792.0 * 19.9e6), rel=0.01)
    assert found.efficiency is None  # it boiled and the water was not weighed
    assert "weighed" in found.missing["efficiency"]


def test_slope_errors_say_how_the_slope_scatters() -> None:
    """Over many noisy logs the spread of the slopes is the stated error, and the 90 % band covers nine in ten."""
    time = np.arange(0.0, 600.0, 20.0)
    random = np.random.default_rng(11)
    slopes, errors = [], []
    for _ in range(80):
        curve = smooth(time, 15.0 + 0.14 * time + 0.3 * random.standard_normal(len(time)), 0.3)
        assert curve is not None
        slopes.append(curve.slope[15])
        errors.append(curve.slope_error[15])
    inside = np.abs(np.array(slopes) - 0.14) < 1.645 * np.array(errors)
    assert 0.80 < inside.mean() < 0.98  # 90 % of 80, within three standard errors
    assert np.mean(slopes) == pytest.approx(0.14, abs=4.0 * np.std(slopes) / math.sqrt(80.0))


def test_few_readings_have_no_smooth_curve_and_a_stray_is_found() -> None:
    assert smooth(np.arange(4.0), np.arange(4.0), 0.1) is None
    time = np.arange(0.0, 300.0, 20.0)
    value = 15.0 + 0.15 * time
    assert outliers(time, value, 0.3) == []
    value[7] += 9.0
    assert outliers(time, value, 0.3) == [7]


def test_impossible_figures_are_remarked() -> None:
    head = HEAD.replace('"20 ml"', '"6 ml"')
    found = analyse(parse_bench_log(heating_log(0.1, 1, head=head)))
    assert any("cannot be" in remark for remark in found.remarks)


def test_fuel_rate_of_a_weighed_burn() -> None:
    rows = "\n".join(f"{t}, {15 + 0.1 * t}, {400.0 - 0.02 * t}" for t in range(0, 600, 30))
    head = HEAD.replace('used_to_boil = "20 ml"\n', "")
    found = analyse(parse_bench_log(head + "---\ntime [s], water [degC], mass [g]\n" + rows))
    assert found.fuel_rate is not None
    assert found.fuel_rate.slope == pytest.approx(20e-6, rel=1e-3)
    assert found.efficiency_to_boil is not None
    assert found.efficiency_to_boil.value == pytest.approx(
        0.5 * 4186.0 * 85.0 / (0.02e-3 * 560.0 * heating_value(blend("methanol"))), rel=0.01
    )


def test_a_log_that_says_little_gives_reasons() -> None:
    found = analyse(parse_bench_log("time [s], water [degC]\n0, 15\n60, 16"))
    for figure in (found.boil, found.boil_reference, found.lag, found.rate):
        assert figure.value is None
        assert figure.reason
    assert set(found.missing) == {"efficiency", "efficiency_to_boil"}
    assert "none:" in plain(found.summary())
    assert found.to_dict()["efficiency"] is None


def test_text_in_us_units() -> None:
    rows = "\n".join(f"{30 * k}, {20 + 4 * k if k <= 15 else 80 + 0 * k}" for k in range(18))
    found = analyse(parse_bench_log('seen.boil = "8 min"\n---\ntime [s], water [degC]\n' + rows))
    text = plain(found.summary("us"))
    start = re.compile(r"water at the start \[\w+\] +([\d.]+) \+- ([\d.]+)")
    si, us = ([float(one) for one in start.search(words).groups()] for words in (plain(found.summary()), text))
    assert us == pytest.approx([1.8 * si[0] + 32.0, 1.8 * si[1]], abs=0.15)
    assert re.search(r"boiling point at the site \[degF\] +212\.0", text)
    assert "from 68 degF to the boil" in text
    off = re.compile(r"thermometer shows -([\d.]+) (K|degF) off")
    (kelvins, _), (degrees, unit) = off.search(plain(found.summary())).groups(), off.search(text).groups()
    assert unit == "degF"
    assert float(degrees) == pytest.approx(1.8 * float(kelvins), abs=0.05)
    assert "degC" not in text


def test_needed_burns_are_those_of_cohens_table() -> None:
    """Cohen, Statistical Power Analysis (1988), table 2.4.1, two-sided 0.05, power 0.80, from memory, unverified.

    The table rounds 393.4 for d = 0.2 down to 393; at least 0.80 takes the next whole number.
    """
    for effect, burns in ((0.2, 394), (0.5, 64), (0.8, 26), (1.0, 17)):
        assert burns_needed(effect, 1.0, 1.0) == burns


def test_power_is_the_share_of_tests_that_find_the_difference() -> None:
    random = np.random.default_rng(3)
    hits = 0
    for _ in range(300):
        one, other = random.normal(0.0, 1.0, 6), random.normal(2.0, 1.6, 6)
        differs = compare("A", one.tolist(), "B", other.tolist()).differs
        hits += bool(differs)
    expected = power_of_test(2.0, 1.0, 1.6, 6)
    assert hits / 300 == pytest.approx(expected, abs=4.0 * math.sqrt(expected * (1.0 - expected) / 300))


def test_comparison_says_when_it_cannot_tell() -> None:
    close = compare("A", [600.0, 620.0, 605.0], "B", [610.0, 625.0, 600.0])
    assert close.differs is False
    assert close.burns_needed is not None
    assert close.burns_needed > 3
    far = compare("A", [600.0, 605.0, 602.0], "B", [700.0, 705.0, 699.0])
    assert far.differs is True
    assert far.low is not None
    assert 90.0 < far.low < far.difference
    assert compare("A", [600.0], "B", [700.0]).differs is None
    assert compare("A", [600.0, 600.0], "B", [700.0, 700.0]).differs is None


def test_repeats_are_grouped_by_build() -> None:
    logs = [
        analyse(parse_bench_log(f'build = "{build}"\n' + heating_log(0.2, seed, head=HEAD)))
        for seed, build in enumerate("AABB")
    ]
    text = plain(repeats_text(logs))
    assert "A " in text
    assert "(2 burns)" in text
    assert plain(repeats_text(logs[:1])) == ""


DOUBTED = """charge.fuel = methanol
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
    assert remarks(DOUBTED + "seen.bloom = 0:20\nseen.boil = 9:30\nseen.burnout = 17:00\n" + MINUTES + WARMING) == []


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (
            DOUBTED + MINUTES.replace("min", "s") + WARMING,
            r"line 9: since line 8 the water would take 18\d+ W, .*give 500 W",
        ),
        (
            DOUBTED + MINUTES.replace("min", "h") + "0, 15\n1, 33\n2, 51\n",
            "line 10: from the first reading on .* 10 W only",
        ),
        (
            DOUBTED + MINUTES + WARMING.replace("0, 15", "0, 25"),
            r"line 8: 25\.0 degC at the match, but .*line 4: pot\.water_t",
        ),
        (
            DOUBTED + MINUTES + WARMING + "9, 96\n10, 104",
            r"line 14: 104\.0 degC is hotter than water gets at the site, 100\.0",
        ),
        (
            DOUBTED + MINUTES + WARMING + "9, 9",
            r"line 13: 9\.0 degC is colder than the water was at the match, 15\.0 degC",
        ),
        (
            DOUBTED + MINUTES + WARMING.replace("6, 69", "5, 51\n6, 51"),
            r"lines 10 to 12: the thermometer stands at 51\.0 degC and then shows 87\.0 degC: did it stick",
        ),
        (
            DOUBTED.replace("30 ml", "5 ml") + MINUTES + WARMING,
            r"line 12: .* has taken 151 kJ, more than the .*line 2: charge.v",
        ),
        (DOUBTED + "seen.burnout = 2:30\n---\n", "burn-out at 2.5 min: to burn all its fuel"),
    ],
)
def test_what_cannot_be_is_told_with_its_line(text: str, said: str) -> None:
    found = remarks(text)
    assert any(re.search(said, one) for one in found), found


def test_water_that_the_primer_has_warmed_does_not_tell_how_cold_it_was() -> None:
    """A row a minute, the second with the bloom: only the first is of cold water."""
    log = parse_bench_log("---\ntime [min], water [degC], note\n0, 12\n1, 22, bloom\n2, 31\n3, 40\n4, 50\n5, 59\n")
    assert analyse(log).start.value == pytest.approx(285.15)
    assert apply_conditions(design(), log).pot.water_temperature == pytest.approx(285.15)
    assert not [one for one in analyse(log).remarks if "colder" in one]
    late = parse_bench_log("---\ntime [s], water [degC]\n30, 22\n60, 31\n120, 40\n180, 49\n")
    assert analyse(late).start.reason


def test_heating_that_is_not_steady_has_no_slope() -> None:
    """A burn that goes out, and a thermometer that sticks; what comes after the burn-out does not count."""
    head = "---\ntime [min], water [degC], note\n"
    for rows in ("0, 12\n1, 20\n2, 29\n3, 38\n4, 40\n5, 39.5\n6, 39\n", "0, 14\n3, 44\n4, 44\n5, 44\n6, 44\n7, 72\n"):
        found = analyse(parse_bench_log(head + rows))
        assert found.rate.reason == found.lag.reason == "the water does not warm steadily"
    rows = "0, 12\n2, 30\n3, 38\n4, 47\n5, 56\n5.1, 56, out\n6, 55\n7, 54\n8, 53\n"
    assert analyse(parse_bench_log(head + rows)).rate.value == pytest.approx(8.7 / 60.0, rel=0.02)


def test_a_scale_that_loses_more_than_the_fuel_or_gains() -> None:
    head = DOUBTED + "---\ntime [min], mass [g]\n"
    (lost,) = remarks(head + "0, 300\n5, 290\n10, 270")
    assert lost.startswith("line 10: by then the scale has lost 30.0 g, and no more than 2")
    (gained,) = remarks(head + "0, 300\n5, 290\n10, 296")
    assert gained.startswith("line 10: the scale gains 6.0 g")


def test_the_plateau_of_the_boil_is_no_outlier() -> None:
    """Readings once a minute: the corner lies 4.5 K off the middle of its neighbours."""
    time = np.arange(0.0, 900.0, 60.0)
    value = np.minimum(15.0 + 0.15 * time, 97.0)
    value += 0.05 * np.random.default_rng(1).standard_normal(len(time))
    assert outliers(time, value, 0.3) == []
    value[4] += 9.0
    assert outliers(time, value, 0.3) == [4]
    value[12] -= 9.0  # a true stray on the plateau is one still
    assert outliers(time, value, 0.3) == [4, 12]


def test_plain_noise_hardly_ever_strays() -> None:
    """Six deviations: no more than one false alarm in a hundred logs of 45 readings, whatever noise was stated."""
    random = np.random.default_rng(0)
    time = np.arange(0.0, 900.0, 20.0)
    alarms = sum(len(outliers(time, 0.15 * time + 0.3 * random.standard_normal(45), 0.05)) for _ in range(1000))
    assert alarms <= 10
