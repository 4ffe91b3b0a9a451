"""The least primer: the answer is checked by burning on either side of it."""

from functools import cache

import pytest
from burners import PALM, burnt

from burnsim import Burner, Charge, Failure, InputError, Pot, Setup, blend, find_primer, map_starts, vary
from burnsim.studies.start.primer import Primer, primers_needed, shortfall
from burnsim.units import plain

FREEZING = 273.15
ML = 1e-6
BURNER = Setup(
    PALM,
    Charge(blend("ethanol"), volume=30 * ML, primer=3 * ML),
    Pot(diameter=0.14, height=0.09, water=0.3e-3, water_temperature=FREEZING + 12.0, rest="bumps", gap=1.5e-3),
)
COARSE = 0.25 * ML


@cache
def needed(celsius: float) -> Primer:
    return primers_needed(
        [vary(BURNER, {"site.air_temperature": FREEZING + celsius})], least=0.0, points=3, tolerance=COARSE
    )[0]


def test_it_starts_with_it_and_not_without() -> None:
    found = needed(20.0)
    assert found.volume is not None
    assert found.outcome is not None
    assert found.reason == ""
    with_it, without = (
        burnt(vary(BURNER, {"charge.primer": primer, "site.air_temperature": FREEZING + 20.0}))
        for primer in (found.volume, found.volume - COARSE)
    )
    assert shortfall(with_it, "hold") == ""
    assert with_it.milestones.bloom.time == pytest.approx(found.bloom, rel=0.02)
    assert shortfall(without, "hold") != ""


def test_every_larger_primer_starts_too() -> None:
    found = needed(20.0)
    assert found.volume is not None
    assert found.steady
    assert all(answer == (primer >= found.volume) for primer, answer in found.tried)


def test_the_cold_takes_more() -> None:
    """Common practice, no source: a cold burner wants more primer; a palm-sized one 1 to 3 ml at room temperature."""
    warm, cold = needed(20.0).volume, needed(-10.0).volume
    assert warm is not None
    assert cold is not None
    assert cold > warm
    assert 0.3 * ML < warm < 3.0 * ML


def test_none_is_told_with_its_reason() -> None:
    found = find_primer(vary(BURNER, {"charge.fuel": "ethanol 15"}), most=1.0 * ML, tolerance=ML)
    assert found.volume is None
    assert found.outcome is not None
    assert found.outcome.setup.charge.primer == found.most == 1.0 * ML
    assert found.bloom is None
    assert "light it" in plain(found.reason) or "lean" in plain(found.reason) or "flash point" in plain(found.reason)


def test_a_failed_run_is_no_start() -> None:
    assert "made up" in shortfall(Failure(BURNER, "made up"), "bloom")


def test_refuses() -> None:
    with pytest.raises(InputError, match="goal"):
        find_primer(BURNER, goal="boil")  # type: ignore[arg-type]
    with pytest.raises(InputError, match="most"):
        find_primer(BURNER, most=1.0)
    with pytest.raises(InputError, match="most = '200 ml' is out of range"):
        find_primer(BURNER, most="200 ml")
    with pytest.raises(InputError, match="most_primer = '3 mm'"):
        map_starts(BURNER, ["20 degC"], ["0 m"], most_primer="3 mm")
    bare = vary(BURNER, {"charge.primer": 0.0, "burner.wick": None})
    with pytest.raises(InputError, match="wick"):
        find_primer(bare)
    cup = Setup(Burner("open cup", outer_diameter=60e-3, height=30e-3), Charge(blend("ethanol"), volume=20 * ML))
    with pytest.raises(InputError, match="jets"):
        find_primer(cup)
