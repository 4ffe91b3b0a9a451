"""How much water a spirit may hold: the answer is checked by burning on either side of it."""

from functools import cache

import burners
import pytest
from burners import BRASS

import burnsim
from burnsim import Burner, Charge, InputError, Pot, Setup, blend, vary
from burnsim.studies.fuels.water_limit import GOES_OUT, WaterLimit, find_water_limits
from burnsim.substances.blend import watered
from burnsim.units import plain

ML = 1e-6
COARSE = 0.05
SEALED = Setup(
    BRASS,
    Charge(blend("ethanol"), volume=25 * ML, primer=4 * ML),
    Pot(diameter=0.16, height=0.10, water=0.25e-3, water_temperature=288.15, rest="stand", gap=25e-3),
)


@cache
def limit() -> WaterLimit:
    return find_water_limits(SEALED, ["ethanol 95"], points=4, tolerance=COARSE)[0]


def burnt(water: float) -> burnsim.Burn:
    return burners.burnt(vary(SEALED, {"charge.fuel": watered(blend("ethanol 95"), water)}))


def test_it_blooms_up_to_the_limit_and_not_beyond() -> None:
    share = limit().blooms
    assert share is not None
    assert burnt(share).milestones.bloom.time is not None
    beyond = burnt(share + COARSE).milestones.bloom
    assert beyond.time is None
    assert limit().reasons["blooms"]


def test_it_boils_up_to_the_limit_and_not_beyond() -> None:
    share = limit().boils
    assert share is not None
    assert burnt(share).milestones.boil.time is not None
    assert burnt(share + COARSE).milestones.boil.time is None


def test_the_fire_lasts_less_far_than_it_lights() -> None:
    """Where the jets never light the charge is left, so that it cannot last; heat left decides."""
    found = limit()
    assert found.blooms is not None
    assert found.lasts is not None
    assert found.lasts <= found.blooms
    ledger = burnt(found.lasts).energy
    assert ledger.left <= GOES_OUT * ledger.charged


def test_its_own_water_is_counted() -> None:
    found = limit()
    assert found.water == pytest.approx(0.05)
    assert found.blooms is not None
    assert 0.05 < found.blooms < 0.9


def test_it_is_told_in_words_and_values() -> None:
    text = plain(limit().summary())
    assert text.startswith("ethanol 95: blooms")
    assert "(a bottle of " in text
    shares = {round(value, 3) for value in (limit().blooms, limit().lasts, limit().boils)}
    assert text.count("of water (") == len(shares)  # what holds for two limits is told once
    assert text.endswith("near it flames are feeble and water stays behind: keep well below")
    values = limit().to_dict()
    assert values["blooms_to_water_volume_fraction"] == limit().blooms
    assert values["fuel"] == "ethanol 95"


def test_a_spirit_that_fails_as_it_is_says_why() -> None:
    starved = vary(SEALED, {"charge.primer": 0.2 * ML})
    found = find_water_limits(starved, ["ethanol"], points=2, tolerance=0.9)[0]
    assert found.blooms is found.lasts is found.boils is None
    assert "never blooms" in plain(found.summary())


def test_refuses() -> None:
    cup = Setup(Burner("open cup", outer_diameter=60e-3, height=30e-3), Charge(blend("ethanol"), volume=20 * ML))
    with pytest.raises(InputError, match="jets"):
        find_water_limits(cup, ["ethanol"])
    with pytest.raises(InputError, match="nearly all water"):
        find_water_limits(SEALED, ["ethanol 8"])
