"""Spirits compared in one burner: every figure against the ledgers of its burn, or against arithmetic by hand."""

import json
import pickle
from dataclasses import replace
from functools import cache
from types import SimpleNamespace

import pytest
from burners import PALM, burnt

import burnsim
from burnsim import Charge, InputError, Pot, Setup, SolverError, Verdict, blend, compare_fuels, vary
from burnsim.studies.fuels import comparison as room
from burnsim.studies.fuels.charge import LeastCharge, _least, find_least_charge, least_charges
from burnsim.studies.fuels.comparison import FuelComparison, FuelRow
from burnsim.studies.threshold import Threshold
from burnsim.units import plain

FREEZING = 273.15
ML = 1e-6
BURNER = Setup(
    PALM,
    Charge(blend("methanol"), volume=30 * ML, primer=3 * ML),
    Pot(diameter=0.14, height=0.09, water=0.4e-3, water_temperature=FREEZING + 12.0, rest="bumps", gap=1.5e-3),
    name="two cups",
)
FUELS = ("methanol", "ethanol 95", "2-propanol 70")
PRICES = {"methanol": 2.0, "Ethanol 95": 5.0}


@cache
def fixed() -> FuelComparison:
    """The setup's charge of each, without the search for the least charge, which has its own tests."""
    return compare_fuels(BURNER, FUELS, prices=PRICES, boils=7, find_least=False)


def row(name: str) -> FuelRow:
    return fixed().rows[FUELS.index(name)]


def sure(value: float | None) -> float:
    assert value is not None
    return value


def test_rows_are_the_burns_of_the_fuels() -> None:
    for name in FUELS[1:2]:
        alone = burnt(vary(BURNER, {"charge.fuel": name}))
        assert row(name).boil == alone.milestones.boil.time
        assert row(name).bloom == alone.milestones.bloom.time
        assert row(name).power == alone.power_median
        assert row(name).spirit.fuel == blend(name)


def test_methanol_blooms_first_and_takes_most() -> None:
    """Common practice, no source; energy by volume: methanol holds three quarters of what ethanol does."""
    blooms = [sure(row(name).bloom) for name in FUELS]
    assert blooms == sorted(blooms)
    grams = [sure(row(name).used) for name in FUELS[:2]]
    volumes = [sure(row(name).used) / row(name).spirit.density for name in FUELS[:2]]
    assert grams[0] > 1.1 * grams[1]
    assert volumes[0] > 1.1 * volumes[1]


@pytest.mark.parametrize("name", FUELS)
def test_what_burns_heats_the_water(name: str) -> None:
    """Efficiency times the heat of what burnt, by its carbon dioxide, warms 0.4 kg of water from 12 to 100 degC.

    Some steam comes on top, and a little vapour is lost unburnt. 2-propanol gives 30.45 MJ and 2.197 kg of carbon
    dioxide a kilogram; its water takes off less than a tenth.
    """
    one = row(name)
    per_dioxide = {"methanol": 19.93 / 1.3735, "ethanol 95": 26.8 / 1.9106, "2-propanol 70": 30.45 / 2.197}[name]
    heat = sure(one.efficiency) * sure(one.carbon_dioxide) * per_dioxide * 1e6
    assert heat >= 0.99 * 0.4 * 4187.0 * 88.0
    assert heat < 1.3 * 0.4 * 4187.0 * 88.0


@pytest.mark.parametrize("name", FUELS)
def test_carbon_dioxide_is_that_of_the_carbon_burnt(name: str) -> None:
    """At the boil the vapour of wick and jets has burnt: a little richer in alcohol than the spirit, or as rich."""
    one = row(name)
    whole = sure(one.used) * one.spirit.carbon_dioxide
    assert 0.99 * whole < sure(one.carbon_dioxide) < 1.3 * whole
    if one.spirit.water == 0.0:
        assert sure(one.carbon_dioxide) == pytest.approx(whole, rel=5e-3)


def test_residue_of_weak_propanol_is_watery() -> None:
    """It is charged with 35 % of water by mass, and most of what is left is water."""
    one = row("2-propanol 70")
    assert one.spirit.water == pytest.approx(0.352, abs=0.005)
    assert sure(one.residue_water) > 0.5
    assert sure(one.residue) > 3 * ML
    assert sure(row("methanol").residue) < 0.5 * ML
    assert row("methanol").residue_water == 0.0


@pytest.mark.parametrize("name", FUELS)
def test_residue_weighs_what_the_ledger_says(name: str) -> None:
    one = row(name)
    assert one.burn is not None
    mass = one.burn.mass.left
    assert 750.0 < mass / sure(one.residue) < 1000.0
    assert abs(one.burn.mass.component_residual) < 1e-9


@pytest.mark.parametrize("name", FUELS)
def test_a_spirit_has_the_efficiency_of_its_burn(name: str) -> None:
    one = row(name)
    assert one.burn is not None
    assert one.efficiency == one.burn.efficiency_to_boil


def test_flames_are_those_of_the_verdicts() -> None:
    for one in fixed().rows:
        assert 3e-3 < sure(one.flame) < 80e-3
        assert 0.0 <= sure(one.flame_beyond) <= 1.0
        assert ("flames past the pot" in one.verdicts) == (sure(one.flame_beyond) > 0.05)


def test_what_is_carried_and_what_it_costs() -> None:
    one = row("methanol")
    assert sure(one.carried) == pytest.approx(7.0 * sure(one.used))
    assert sure(one.carried_volume) == pytest.approx(sure(one.carried) / one.spirit.density)
    assert sure(one.cost) == pytest.approx(2.0 * 1e3 * sure(one.carried_volume))
    assert row("ethanol 95").cost is not None
    assert row("2-propanol 70").cost is None
    assert row("2-propanol 70").reasons["cost"] == "no price was given"


def test_text_and_values() -> None:
    text = plain(fixed().summary())
    for name in FUELS:
        assert name in text
    assert "7 boils" in text
    assert max(len(line) for line in text.splitlines() if not line.startswith("  - ")) <= 120
    values = json.loads(json.dumps(fixed().to_dict(), allow_nan=False))
    assert [one["fuel"] for one in values["fuels"]] == list(FUELS)
    assert values["fuels"][0]["boil_s"] == row("methanol").boil
    assert values["fuels"][0]["fuel_to_boil_g"] == pytest.approx(1e3 * sure(row("methanol").used))


def test_it_is_frozen_and_pickles() -> None:
    again = pickle.loads(pickle.dumps(fixed()))
    assert again.to_dict() == fixed().to_dict()
    with pytest.raises(AttributeError):
        fixed().boils = 2  # type: ignore[misc]


def test_what_does_not_happen_is_none_with_a_reason() -> None:
    starved = vary(BURNER, {"charge.primer": 0.2 * ML})
    one = compare_fuels(starved, ["ethanol"], prices={"ethanol": 1.0}, find_least=False).rows[0]
    for name in ("bloom", "boil", "used", "power", "efficiency", "flame", "carbon_dioxide", "carried", "cost"):
        assert getattr(one, name) is None, name
        assert one.reasons[name], name
    text = plain(compare_fuels(starved, ["ethanol"], find_least=False).summary())
    assert "never" in text
    assert "To carry" not in text


def test_a_run_that_breaks_down_keeps_its_place(monkeypatch: pytest.MonkeyPatch) -> None:
    def breaks(setup: Setup) -> burnsim.Burn:
        raise SolverError("made up")

    monkeypatch.setattr(room, "burn_whole", breaks)
    result = compare_fuels(BURNER, ["ethanol"], find_least=False)
    assert result.rows[0].boil is None
    assert result.rows[0].reasons["boil"] == "the run failed: made up"
    assert "ethanol: the run failed: made up" in plain(result.summary())
    json.dumps(result.to_dict(), allow_nan=False)


def test_the_least_charge_boils_and_less_does_not() -> None:
    small = vary(BURNER, {"charge.fuel": "ethanol", "pot.water": 0.25e-3})
    found = least_charges([small], most=17 * ML, points=2, tolerance=4 * ML)[0]
    assert found.volume is not None
    assert found.steady
    boils = [
        burnt(vary(small, {"charge.volume": volume})).milestones.boil.time
        for volume in (found.volume, found.volume - 4 * ML)
    ]
    assert boils[0] is not None
    assert boils[1] is None


def test_the_rule_least_burns_the_least_charge(monkeypatch: pytest.MonkeyPatch) -> None:
    found = LeastCharge(18 * ML, "", 100 * ML, True, ())
    monkeypatch.setattr(room, "least_charges", lambda setups, most=None: [found for _ in setups])
    one = compare_fuels(vary(BURNER, {"pot.water": 0.25e-3}), ["ethanol"], charge="least", boils=3).rows[0]
    assert one.charge == 18 * ML
    assert one.burn is not None
    assert one.burn.setup.charge.volume == 18 * ML
    assert sure(one.carried) == pytest.approx(3.0 * one.burn.mass.charged)


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"fuels": []}, "fuels"),
        ({"fuels": ["whisky"]}, "fuel"),
        ({"boils": 0}, "boils"),
        ({"boils": 1.5}, "boils"),
        ({"charge": "most"}, "charge"),
        ({"prices": {"methanl": 1.0}}, "prices"),
        ({"prices": {"methanol": -1.0}}, "price"),
        ({"prices": {"methanol": float("nan")}}, "price"),
    ],
    ids=str,
)
def test_refuses(changes: dict[str, object], field: str) -> None:
    arguments: dict[str, object] = {"fuels": ["methanol"], **changes}
    with pytest.raises(InputError, match=field):
        compare_fuels(BURNER, **arguments)  # type: ignore[arg-type]


def test_least_charge_refuses() -> None:
    with pytest.raises(InputError, match="pot"):
        least_charges([vary(BURNER, {"pot": None})])
    with pytest.raises(InputError, match="most"):
        least_charges([BURNER], most=1.0)
    with pytest.raises(InputError, match="allowed from 1 ml to"):
        find_least_charge(BURNER, most="1 l")


def test_why_a_larger_charge_does_not_boil_is_told() -> None:
    """Four charges: too little, enough, one whose jets go out, one that boils again."""

    def came(boil: float | None, *verdicts: Verdict) -> SimpleNamespace:
        mark = SimpleNamespace(time=boil, reason="the water reached 60.0 degC")
        return SimpleNamespace(milestones=SimpleNamespace(boil=mark), verdicts=verdicts)

    quenched = Verdict("quenched", "The jets go out at 79 s with fuel left: made up.")
    burns = {10 * ML: came(None), 20 * ML: came(600.0), 70 * ML: came(None, quenched), 90 * ML: came(500.0)}
    tried = tuple((volume, one.milestones.boil.time is not None) for volume, one in burns.items())
    found = Threshold(20 * ML, 10 * ML, False, tried)
    least = _least(found, 90 * ML, burns)  # type: ignore[arg-type]
    assert not least.steady
    assert least.unsteady == quenched.text
    told = " ".join(plain(replace(fixed(), rows=(replace(row("methanol"), least=least),)).summary()).split())
    assert "70.0 ml do not boil the water, 20.0 ml do. With 70.0 ml: The jets go out at 79 s with fuel left" in told
    burns[70 * ML] = came(None)
    assert _least(found, 90 * ML, burns).unsteady == (  # type: ignore[arg-type]
        "The water does not boil: the water reached 60.0 degC."
    )
    burns[70 * ML] = came(550.0)
    assert _least(found, 90 * ML, burns).unsteady == ""  # type: ignore[arg-type]


def test_a_spirit_of_the_users_own_is_compared_with_the_ready_ones() -> None:
    own = blend({"ethanol": 0.7, "methanol": 0.25, "water": 0.05})
    found = compare_fuels(vary(BURNER, {"charge.fuel": own, "charge.volume": "3 ml"}), find_least=False)
    assert [row.spirit.fuel for row in found.rows] == [own, *map(blend, burnsim.fuels.READY)]
    ready = compare_fuels(vary(BURNER, {"charge.fuel": "ethanol 95", "charge.volume": "3 ml"}), find_least=False)
    assert [row.spirit.fuel.name for row in ready.rows] == list(burnsim.fuels.READY)
