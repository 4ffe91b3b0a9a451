"""Combustion records: consistent, quick, refused when senseless, and safely kept on disk."""

import json
import math
import os
import subprocess
import sys
import threading
import time
from dataclasses import fields
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from burnsim.closures import _record_store as store
from burnsim.closures import combustion as co
from burnsim.closures.flammability import NEVER, RADIANT_FRACTION
from burnsim.closures.stoichiometry import DRY_AIR
from burnsim.constants import ARGON, CARBON_DIOXIDE, NITROGEN, OXYGEN
from burnsim.errors import InputError
from burnsim.substances.tables import SUBSTANCES

FUELS = ("methanol", "ethanol", "2-propanol", "acetone")
WET = ("ethanol", "water"), (0.86, 0.14), (42.45e3, 43.99e3)


@pytest.fixture(autouse=True)
def own_cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Give every test a cache folder of its own, and an empty memory."""
    folder = tmp_path / "cache"
    monkeypatch.setenv("BURNSIM_CACHE", str(folder))
    co._remembered.cache_clear()
    return folder


def latent(names: tuple[str, ...]) -> tuple[float, ...]:
    return tuple(SUBSTANCES[name].vapour_heat[0] for name in names)


def record(names: tuple[str, ...], fractions: tuple[float, ...]) -> co.CombustionRecord:
    return co.combustion_record(names, fractions, latent(names))


# what a record holds


def test_water_neither_burns_nor_needs_air() -> None:
    rec = co.combustion_record(*WET)
    assert (rec.higher_heating_value[1], rec.air_moles[1]) == (0.0, 0.0)
    assert rec.heating_value[1] < 0.0, "water leaves as a gas and takes its latent heat along"
    assert (rec.lower_limit[1], rec.upper_limit[1]) == (NEVER, NEVER)


def test_record_is_floats_and_tuples_only() -> None:
    def plain(value: object) -> bool:
        return type(value) is float or (isinstance(value, tuple) and all(map(plain, value)))

    rec = co.combustion_record(*WET)
    values = [getattr(rec, field.name) for field in fields(rec)]
    assert plain(tuple(values))
    assert [len(x) for x in values[:8]] == [2, 2, 2, 2, 2, 4, 2, 2]


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
    for name in ("heating_value", "higher_heating_value", "air_moles", "lower_limit", "upper_limit"):
        assert getattr(mixed, name)[1] == getattr(alone, name)[0], name


def test_acetone_is_not_propylene_oxide() -> None:
    """Propylene oxide, Cantera's C3H6O, has 123 kJ/mol more."""
    lower, _ = co.heating_values(("acetone",), (0.0,))
    burnt = 3 * co._enthalpy("CO2", 298.15) + 3 * co._enthalpy("H2O", 298.15)
    assert lower[0] < -93.7e3 - burnt - 100e3


@pytest.mark.parametrize("name", FUELS)
def test_flame_temperature_polynomial(name: str) -> None:
    """Against Cantera at every twentieth of water, as stated: 5 K to 0.5, 10 K to 0.7, 40 K at 0.8."""
    rec = record((name,), (1.0,))
    ratio = SUBSTANCES[name].molar_mass / SUBSTANCES["water"].molar_mass
    for k in range(17):
        s = k / 20
        w = s / (1.0 - s) * ratio
        names, shares = (name, "water"), (1.0 / (1.0 + w), w / (1.0 + w))
        vapour = sum(x * co._vapour_enthalpy(n, 330.0) for x, n in zip(shares, names, strict=True))
        T = co._equilibrium(names, shares, 1.0, vapour, 298.15, 101325.0)
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
    assert RADIANT_FRACTION["methanol"][0] < rec.radiant_fraction < RADIANT_FRACTION["acetone"][0]
    assert record(("ethanol", "water"), (0.5, 0.5)).radiant_fraction == pytest.approx(RADIANT_FRACTION["ethanol"][0])


fuels = st.lists(st.floats(0.01, 1.0), min_size=5, max_size=5).map(lambda v: tuple(x / sum(v) for x in v))


@settings(deadline=None)
@given(fuels, st.floats(1.0, 20.0))
def test_products_keep_every_atom(fractions: tuple[float, ...], ratio: float) -> None:
    names = tuple(co.ATOMS)
    gas = co.products(names, fractions, ratio)
    air = ratio * sum(x * a for x, a in zip(fractions, co.stoichiometric_air(names), strict=True))
    carbon, hydrogen, oxygen = (
        sum(x * co.ATOMS[n][k] for x, n in zip(fractions, names, strict=True)) for k in range(3)
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
    ("names", "fractions", "heat", "needle"),
    [
        (("etanol",), (1.0,), (4e4,), "did you mean 'ethanol'"),
        (("water",), (1.0,), (4e4,), "nothing that burns"),
        (("ethanol", "water"), (0.0, 1.0), (4e4, 4e4), "nothing that burns"),
        (("ethanol", "water"), (1.0,), (4e4, 4e4), "one share"),
        (("ethanol", "ethanol"), (0.5, 0.5), (4e4, 4e4), "each name once"),
        (("ethanol", "water"), (0.5, 0.6), (4e4, 4e4), "sum to 1"),
        (("ethanol", "water"), (1.5, -0.5), (4e4, 4e4), "sum to 1"),
        (("ethanol",), (math.nan,), (4e4,), "sum to 1"),
        (("ethanol",), (1.0,), (), "latent heat"),
        (("ethanol",), (1.0,), (-1.0,), "latent heat"),
        (("ethanol",), (1.0,), (math.inf,), "latent heat"),
    ],
)
def test_refuses_senseless_fuel(names, fractions, heat, needle) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(InputError, match=needle):
        co.combustion_record(names, fractions, heat)


@pytest.mark.parametrize("ratio", [0.99, 0.0, -1.0, math.nan, math.inf])
def test_refuses_too_little_air(ratio: float) -> None:
    with pytest.raises(InputError, match="air_ratio"):
        co.products(("ethanol",), (1.0,), ratio)


@pytest.mark.parametrize("changes", [(0.1, 300.0, 1e5), (2.5, 300.0, 1e5), (1.0, 100.0, 1e5), (1.0, 300.0, 0.0)])
def test_refuses_flames_out_of_range(changes: tuple[float, float, float]) -> None:
    with pytest.raises(InputError, match="out of range"):
        co.adiabatic_flame_temperature(("ethanol",), (1.0,), *changes)


# what is kept on disk


def only_file(folder: Path) -> Path:
    files = list(folder.iterdir())
    assert len(files) == 1
    return files[0]


def again() -> co.CombustionRecord:
    co._remembered.cache_clear()
    return co.combustion_record(*WET)


def test_second_time_comes_from_disk_unchanged(own_cache: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    first = co.combustion_record(*WET)
    assert only_file(own_cache).suffix == ".json"
    monkeypatch.setattr(co, "_computed", lambda *_: pytest.fail("computed again"))
    second = again()
    assert second == first
    assert type(second) is co.CombustionRecord


@pytest.mark.parametrize(
    "text",
    [
        "",
        "{",
        "null",
        "[]",
        '"x"',
        "{}",
        '{"rows": 3}',
        "[" * 100_000,
        '{"key": 1, "sum": 2, "rows": [[1.0]]}',
    ],
)
def test_corrupt_file_is_recomputed_and_mended(own_cache: Path, text: str) -> None:
    first = co.combustion_record(*WET)
    file = only_file(own_cache)
    sound = file.read_text()
    file.write_text(text)
    assert again() == first
    assert file.read_text() == sound


def test_bytes_that_are_no_text_are_recomputed(own_cache: Path) -> None:
    first = co.combustion_record(*WET)
    only_file(own_cache).write_bytes(b"\xff\xfe\x00\x80")
    assert again() == first


@pytest.mark.parametrize("damage", [1.0, math.nan, math.inf, "1.0", True, None])
def test_a_changed_number_is_noticed(own_cache: Path, damage: object) -> None:
    first = co.combustion_record(*WET)
    file = only_file(own_cache)
    kept = json.loads(file.read_text())
    kept["rows"][0][0] = damage
    file.write_text(json.dumps(kept))
    assert again() == first


def test_a_file_of_another_key_is_not_believed(own_cache: Path) -> None:
    co.combustion_record(*WET)
    other = only_file(own_cache).read_text()
    only_file(own_cache).unlink()
    first = record(("methanol", "water"), (0.5, 0.5))
    only_file(own_cache).write_text(other)
    co._remembered.cache_clear()
    assert record(("methanol", "water"), (0.5, 0.5)) == first


def test_every_input_has_its_own_file(own_cache: Path) -> None:
    names, fractions, heat = WET
    co.combustion_record(names, fractions, heat)
    co.combustion_record(names, (0.85, 0.15), heat)
    co.combustion_record(names, fractions, (42.46e3, 43.99e3))
    co.combustion_record(("methanol", "water"), fractions, heat)
    assert len(list(own_cache.iterdir())) == 4


def test_another_cantera_has_another_file(own_cache: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    co.combustion_record(*WET)
    monkeypatch.setattr(co, "_cantera_version", lambda: "99.0")
    co._edition.cache_clear()
    again()
    monkeypatch.undo()
    co._edition.cache_clear()
    assert len(list(own_cache.iterdir())) == 2


def test_version_is_that_of_cantera() -> None:
    import cantera

    assert cantera.__version__ in co._cantera_version()


def test_version_without_a_metadata_folder_beside_it_is_asked_for(monkeypatch: pytest.MonkeyPatch) -> None:
    from importlib import metadata

    monkeypatch.setattr(co, "find_spec", lambda name: None)
    assert co._cantera_version() == metadata.version("cantera")

    def missing(name: str) -> str:
        raise metadata.PackageNotFoundError(name)

    monkeypatch.setattr(metadata, "version", missing)
    assert co._cantera_version() == "unknown"


def test_records_have_an_edition_even_where_the_code_cannot_be_read(monkeypatch: pytest.MonkeyPatch) -> None:
    known = co._edition()
    monkeypatch.setattr(co, "__file__", "/nowhere/combustion.pyc")
    other = co._edition.__wrapped__()
    assert len(other) == len(known)
    assert other != known


@pytest.mark.parametrize("number", [math.nan, math.inf])
def test_a_record_that_is_not_finite_is_not_believed(own_cache: Path, number: float) -> None:
    store.keep("k", [[1.0, 2.0]])
    assert store.fetch("k", [2]) == [[1.0, 2.0]]
    store.keep("k", [[1.0, number]])  # whole, with the right sum
    assert store.fetch("k", [2]) is None


def test_folder_that_cannot_be_made_is_passed_over(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    blocker = tmp_path / "file"
    blocker.write_text("not a folder")
    monkeypatch.setenv("BURNSIM_CACHE", str(blocker / "cache"))
    assert again().heating_value[0] > 1e6
    assert blocker.read_text() == "not a folder"


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root may write anywhere")
def test_read_only_folder_is_passed_over(own_cache: Path) -> None:
    own_cache.mkdir()
    own_cache.chmod(0o500)
    try:
        assert again().heating_value[0] > 1e6
    finally:
        own_cache.chmod(0o700)


def test_write_that_fails_half_way_leaves_nothing(own_cache: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(self: Path, target: Path) -> None:
        raise PermissionError(target)

    monkeypatch.setattr(Path, "replace", refuse)
    assert again().heating_value[0] > 1e6
    assert list(own_cache.iterdir()) == []


def test_where_the_cache_is(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert store.cache_folder() == tmp_path / "cache"
    monkeypatch.delenv("BURNSIM_CACHE")
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "xdg"))
    assert store.cache_folder() == tmp_path / "xdg" / "burnsim"
    monkeypatch.setenv("HOME", str(tmp_path / "home"))
    for useless in ("relative", ""):
        monkeypatch.setenv("XDG_CACHE_HOME", useless)
        assert store.cache_folder() == tmp_path / "home" / ".cache" / "burnsim"


def test_no_home_no_cache(monkeypatch: pytest.MonkeyPatch) -> None:
    def homeless() -> Path:
        raise RuntimeError("no home")

    monkeypatch.delenv("BURNSIM_CACHE")
    monkeypatch.delenv("XDG_CACHE_HOME", raising=False)
    monkeypatch.setattr(Path, "home", homeless)
    assert store.cache_folder() is None
    assert again().heating_value[0] > 1e6


def test_many_writers_at_once(own_cache: Path) -> None:
    rows = [[1.0, 2.0], [3.0]]
    key = store.content_key("many")
    seen = []

    def work() -> None:
        for _ in range(30):
            store.keep(key, rows)
            seen.append(store.fetch(key, (2, 1)))

    threads = [threading.Thread(target=work) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert seen == [rows] * 120
    assert len(list(own_cache.iterdir())) == 1


def test_wrong_lengths_are_refused() -> None:
    key = store.content_key("short")
    store.keep(key, [[1.0, 2.0]])
    assert store.fetch(key, (2,)) == [[1.0, 2.0]]
    assert store.fetch(key, (3,)) is None
    assert store.fetch(key, (2, 1)) is None


# how long it takes, and what it loads


def test_cantera_is_loaded_late_and_only_when_needed(own_cache: Path) -> None:
    code = (
        "import sys, time; from burnsim.closures.combustion import combustion_record; "
        "t = time.perf_counter(); "
        f"combustion_record(*{WET!r}); print('cantera' in sys.modules, time.perf_counter() - t)"
    )
    runs = []
    for _ in range(2):
        out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
        loaded, seconds = out.stdout.split()
        runs.append((loaded, float(seconds)))
    assert [loaded for loaded, _ in runs] == ["True", "False"]
    assert runs[1][1] < 0.2  # 0.005 s on an idle machine


def test_memory_is_quick() -> None:
    co.combustion_record(*WET)
    start = time.perf_counter()
    for _ in range(100):
        co.combustion_record(*WET)
    assert time.perf_counter() - start < 0.1
