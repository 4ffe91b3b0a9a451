"""Combustion records: consistent, quick, and refused when senseless; those of the ready fuels as shipped."""

import math
import pickle
import subprocess
import sys
import time
import tomllib
from dataclasses import fields
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from burnsim.closures import combustion as co
from burnsim.closures.flammability import NEVER
from burnsim.closures.generate import ready_text
from burnsim.closures.stoichiometry import DRY_AIR
from burnsim.constants import ARGON, CARBON_DIOXIDE, NITROGEN, OXYGEN
from burnsim.errors import InputError
from burnsim.substances.blend import blend
from burnsim.substances.catalogue import SUBSTANCES
from burnsim.substances.recipe import READY

RADIANT = {name: one.fire.radiant_share[0] for name, one in SUBSTANCES.items() if one.fire is not None}
FUELS = ("methanol", "ethanol", "2-propanol", "acetone")
WET = blend({"ethanol": 0.86, "water": 0.14}, "mole")


@pytest.fixture(autouse=True)
def empty_memory() -> None:
    """Give every test an empty memory."""
    co._known.clear()


def record(names: tuple[str, ...], fractions: tuple[float, ...]) -> co.CombustionRecord:
    return co.combustion_record(blend(dict(zip(names, fractions, strict=True)), "mole"))


# what a record holds


def test_water_neither_burns_nor_needs_air() -> None:
    rec = co.combustion_record(WET)
    assert (rec.higher_heating_value[1], rec.air_moles[1]) == (0.0, 0.0)
    assert rec.heating_value[1] < 0.0, "water leaves as a gas and takes its latent heat along"
    assert (rec.lower_limit[1], rec.upper_limit[1]) == (NEVER, NEVER)


def test_record_is_floats_and_tuples_only() -> None:
    def plain(value: object) -> bool:
        return type(value) is float or (isinstance(value, tuple) and all(map(plain, value)))

    rec = co.combustion_record(WET)
    values = [getattr(rec, field.name) for field in fields(rec)]
    assert plain(tuple(values))
    assert [len(x) for x in values[:9]] == [2, 2, 2, 2, 2, 2, 4, 2, 2]


def test_latent_heat_is_charged_once() -> None:
    """Heating value of the liquid plus latent heat is that of Cantera's gas, whatever the latent heat."""
    for h in (30e3, 42.45e3, 50e3):
        lower, _ = co.heating_values(("ethanol",), (h,))
        gas = co._species()["C2H5OH"].thermo.h(298.15) - 2 * co._species()["CO2"].thermo.h(298.15)
        gas -= 3 * co._species()["H2O"].thermo.h(298.15)
        assert lower[0] + h == pytest.approx(gas * 1e-3, rel=1e-12)


def test_a_component_does_not_change_with_its_company() -> None:
    alone = record(("ethanol",), (1.0,))
    mixed = record(("methanol", "ethanol", "water"), (0.2, 0.5, 0.3))
    for name in ("heating_value", "higher_heating_value", "air_moles", "water_moles", "lower_limit", "upper_limit"):
        assert getattr(mixed, name)[1] == getattr(alone, name)[0], name


def test_acetone_is_not_propylene_oxide() -> None:
    """Propylene oxide, Cantera's C3H6O, has 123 kJ/mol more."""
    lower, _ = co.heating_values(("acetone",), (0.0,))
    burnt = 3 * co._enthalpy("CO2", 298.15) + 3 * co._enthalpy("H2O", 298.15)
    assert lower[0] < -93.7e3 - burnt - 100e3


def test_vapour_of_acetone_warms_as_poling_says() -> None:
    """cp/R of Poling, Prausnitz and O'Connell 2001, appendix A (from memory), to 700 K; CRC's formation enthalpy."""
    cp = (5.126, 1.511e-3, 5.731e-5, -7.177e-8, 2.728e-11)
    acetone = SUBSTANCES["acetone"]
    assert co._vapour_enthalpy(acetone, 298.15) == -217.1e3
    for T in (330.0, 500.0, 700.0):
        rise = sum(8.314462618 * c * (T ** (k + 1) - 298.15 ** (k + 1)) / (k + 1) for k, c in enumerate(cp))
        assert co._vapour_enthalpy(acetone, T) + 217.1e3 == pytest.approx(rise, rel=0.02)


@pytest.mark.parametrize("name", FUELS)
def test_flame_temperature_polynomial(name: str) -> None:
    """Against Cantera at every twentieth of water, as stated: 5 K to 0.5, 10 K to 0.7, 40 K at 0.8."""
    rec = record((name,), (1.0,))
    ratio = SUBSTANCES[name].molar_mass / SUBSTANCES["water"].molar_mass
    for k in range(17):
        s = k / 20
        w = s / (1.0 - s) * ratio
        shares = (1.0 / (1.0 + w), w / (1.0 + w))
        pure = (SUBSTANCES[name], SUBSTANCES["water"])
        vapour = sum(x * co._vapour_enthalpy(one, 330.0) for x, one in zip(shares, pure, strict=True))
        T = co._equilibrium(pure, shares, 1.0, vapour, 298.15, 101325.0)
        fit = sum(c * s**j for j, c in enumerate(rec.flame_temperature))
        assert fit == pytest.approx(T, abs=5.0 if s <= 0.5 else 10.0 if s <= 0.7 else 40.0)


@pytest.mark.parametrize("name", FUELS)
def test_heat_of_gases_is_within_one_percent(name: str) -> None:
    rec = record((name,), (1.0,))
    for gas, (a, b) in ((co.products((name,), (1.0,)), rec.product_heat), (DRY_AIR, rec.air_heat)):
        for T in range(310, 2001, 10):
            th = T - 298.15
            assert a * th + b * th * th / 2 == pytest.approx(co.product_enthalpy(gas, T), rel=0.01)


def test_water_in_the_fuel_cools_the_flame() -> None:
    temperatures = [co.adiabatic_flame_temperature(("ethanol", "water"), (1 - x, x)) for x in (0.0, 0.2, 0.5, 0.8)]
    assert temperatures == sorted(temperatures, reverse=True)
    assert len(set(temperatures)) == 4


def test_flame_is_hottest_a_little_rich() -> None:
    at = {phi: co.adiabatic_flame_temperature(("methanol",), (1.0,), phi) for phi in (0.3, 0.6, 1.0, 1.05, 1.4, 1.8)}
    assert max(at, key=lambda phi: at[phi]) in (1.0, 1.05)
    assert at[0.3] < at[0.6] < at[1.0]
    assert at[1.8] < at[1.4] < at[1.05]


def test_lean_cold_flame_agrees_with_complete_combustion() -> None:
    """At phi 0.4 nothing dissociates: the equilibrium is the energy balance of complete products."""
    T = co.adiabatic_flame_temperature(("ethanol",), (1.0,), 0.4)
    gas = co.products(("ethanol",), (1.0,), 2.5)
    lower, _ = co.heating_values(("ethanol",), (0.0,))
    assert co.product_enthalpy(gas, T) * gas.molar_mass * gas.moles == pytest.approx(lower[0], rel=2e-3)


def test_radiant_fraction_of_a_blend_lies_between_its_fuels() -> None:
    rec = record(("methanol", "acetone", "water"), (0.4, 0.3, 0.3))
    assert RADIANT["methanol"] < rec.radiant_fraction < RADIANT["acetone"]
    assert record(("ethanol", "water"), (0.5, 0.5)).radiant_fraction == pytest.approx(RADIANT["ethanol"])


fuels = st.lists(st.floats(0.01, 1.0), min_size=5, max_size=5).map(lambda v: tuple(x / sum(v) for x in v))


@settings(deadline=None)
@given(fuels, st.floats(1.0, 20.0))
def test_products_keep_every_atom(fractions: tuple[float, ...], ratio: float) -> None:
    names = tuple(SUBSTANCES)
    gas = co.products(names, fractions, ratio)
    air = ratio * sum(x * a for x, a in zip(fractions, co.stoichiometric_air(names), strict=True))
    carbon, hydrogen, oxygen = (
        sum(x * SUBSTANCES[n].atoms[k] for x, n in zip(fractions, names, strict=True)) for k in range(3)
    )
    assert sum(gas[:5]) == pytest.approx(1.0)
    assert gas.carbon_dioxide * gas.moles == pytest.approx(carbon + CARBON_DIOXIDE * air)
    assert 2 * gas.water * gas.moles == pytest.approx(hydrogen)
    assert (2 * gas.carbon_dioxide + gas.water + 2 * gas.oxygen) * gas.moles == pytest.approx(
        oxygen + 2 * (OXYGEN + CARBON_DIOXIDE) * air
    )
    assert (gas.nitrogen + gas.argon) * gas.moles == pytest.approx((NITROGEN + ARGON) * air)
    masses = (44.0095e-3, 18.0153e-3, 31.9988e-3, 28.0134e-3, 39.948e-3)
    assert gas.molar_mass == pytest.approx(sum(y * m for y, m in zip(gas[:5], masses, strict=True)), rel=1e-4)


# refusals


@pytest.mark.parametrize(
    ("names", "fractions", "needle"),
    [
        (("etanol",), (1.0,), "did you mean 'ethanol'"),
        (("water",), (1.0,), "nothing that burns"),
        (("ethanol", "water"), (0.0, 1.0), "nothing that burns"),
        (("ethanol", "water"), (1.0,), "one share"),
        (("ethanol", "ethanol"), (0.5, 0.5), "each name once"),
        (("ethanol", "water"), (0.5, 0.6), "sum to 1"),
        (("ethanol", "water"), (1.5, -0.5), "sum to 1"),
        (("ethanol",), (math.nan,), "sum to 1"),
    ],
)
def test_refuses_senseless_fuel(names, fractions, needle) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(InputError, match=needle):
        co.products(names, fractions)


@pytest.mark.parametrize("ratio", [0.99, 0.0, -1.0, math.nan, math.inf])
def test_refuses_too_little_air(ratio: float) -> None:
    with pytest.raises(InputError, match="air_ratio"):
        co.products(("ethanol",), (1.0,), ratio)


@pytest.mark.parametrize("changes", [(0.1, 300.0, 1e5), (2.5, 300.0, 1e5), (1.0, 100.0, 1e5), (1.0, 300.0, 0.0)])
def test_refuses_flames_out_of_range(changes: tuple[float, float, float]) -> None:
    with pytest.raises(InputError, match="out of range"):
        co.adiabatic_flame_temperature(("ethanol",), (1.0,), *changes)


# where records come from


@pytest.mark.parametrize("name", READY)
def test_shipped_records_are_what_cantera_says(name: str) -> None:
    fuel = blend(name)
    shipped = co._carried()[fuel.substances, fuel.mole_fractions]
    fresh = co.computed_record(fuel)
    for field in fields(fresh):
        assert getattr(shipped, field.name) == pytest.approx(getattr(fresh, field.name), rel=1e-9), field.name


def test_the_shipped_file_is_what_the_generator_writes() -> None:
    shipped, fresh = (tomllib.loads(text) for text in (co.CARRIED.read_text(encoding="utf-8"), ready_text()))
    assert list(shipped) == list(fresh) == list(READY)
    for name in READY:
        assert shipped[name].keys() == fresh[name].keys()
        assert shipped[name]["of"] == fresh[name]["of"], "the substances have changed: run burnsim.closures.generate"


def test_a_record_of_other_substances_is_not_believed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    stale = tmp_path / "records.toml"
    text = co.CARRIED.read_text(encoding="utf-8")
    stale.write_text(text.replace(co.fingerprint(blend("methanol")), "0" * 16), encoding="utf-8")
    monkeypatch.setattr(co, "CARRIED", stale)
    co._carried.cache_clear()
    try:
        assert len(co._carried()) == len(READY) - 1
        assert co.combustion_record(blend("methanol")) == co.computed_record(blend("methanol"))
    finally:
        co._carried.cache_clear()


def test_cantera_is_asked_once_a_process_for_any_other_blend(monkeypatch: pytest.MonkeyPatch) -> None:
    asked = []
    compute = co.computed_record
    monkeypatch.setattr(co, "computed_record", lambda fuel: asked.append(fuel.name) or compute(fuel))
    other = blend({"ethanol": 0.83, "water": 0.17})
    assert co.combustion_record(other) is co.combustion_record(blend({"water": 0.17, "ethanol": 0.83}))
    co.combustion_record(blend("ethanol 95"))
    assert asked == [other.name]


def test_a_worker_takes_over_what_another_process_knows(monkeypatch: pytest.MonkeyPatch) -> None:
    other = blend({"ethanol": 0.82, "water": 0.18})
    sent = pickle.loads(pickle.dumps(co.known_records([other, other])))
    assert len(sent) == 1
    co._known.clear()
    monkeypatch.setattr(co, "computed_record", lambda fuel: pytest.fail("asked again"))
    co.remember(sent)
    assert co.combustion_record(pickle.loads(pickle.dumps(other))) == sent[0][1]


def test_memory_does_not_grow_without_end(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(co, "MOST_KNOWN", 2)
    for name in ("methanol", "ethanol", "acetone"):
        co.combustion_record(blend(name))
    assert len(co._known) <= 2


def test_nothing_is_written_to_the_cache_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("BURNSIM_CACHE", str(tmp_path / "cache"))
    co.combustion_record(blend({"ethanol": 0.81, "water": 0.19}))
    assert not (tmp_path / "cache").exists()


# how long it takes, and what it loads


def test_cantera_is_loaded_late_and_only_when_needed() -> None:
    code = (
        "import sys; from burnsim.closures.combustion import combustion_record; "
        "from burnsim.substances.blend import blend; "
        "combustion_record(blend('ethanol 95')); print('cantera' in sys.modules); "
        "combustion_record(blend('ethanol 82')); print('cantera' in sys.modules)"
    )
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert out.stdout.split() == ["False", "True"]


def test_memory_is_quick() -> None:
    co.combustion_record(WET)
    start = time.perf_counter()
    for _ in range(100):
        co.combustion_record(WET)
    assert time.perf_counter() - start < 0.1
