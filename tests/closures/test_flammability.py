"""Flammable limits, and the temperatures at which the liquids reach them."""

from collections.abc import Callable
from math import log10

import chemicals
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from burnsim.closures import flammability as fl
from burnsim.closures.flammability import limit_sum
from burnsim.errors import InputError
from burnsim.substances.blend import blend, fuel_record
from burnsim.substances.catalogue import SUBSTANCES
from burnsim.substances.equilibrium import partial_pressures

FIRE = {n: s.fire for n, s in SUBSTANCES.items() if s.fire is not None}
RADIANT = {n: fire.radiant_share for n, fire in FIRE.items()}
LOWER_LIMIT = {n: fl.NEVER if s.fire is None else s.fire.lower_limit for n, s in SUBSTANCES.items()}
UPPER_LIMIT = {n: fl.NEVER if s.fire is None else s.fire.upper_limit for n, s in SUBSTANCES.items()}
CAS = {"methanol": "67-56-1", "ethanol": "64-17-5", "2-propanol": "67-63-0", "acetone": "67-64-1"}
IEC, NFPA = "IEC 60079-20-1 (2010)", "NFPA 497 (2008)"
P0 = 101325.0


def over(spec: str) -> tuple[Callable[[float], tuple[float, ...]], tuple[str, ...]]:
    """Partial pressures over a liquid as a function of temperature, and the names of its components."""
    fuel = blend(spec)
    rec = fuel_record(fuel)
    return (lambda T: partial_pressures(fuel.mole_fractions, T, rec)), fuel.components


def limits(table: dict[str, float], names: tuple[str, ...]) -> tuple[float, ...]:
    return tuple(table[name] for name in names)


@pytest.mark.parametrize("name", CAS)
def test_limits_are_those_of_the_standard(name: str) -> None:
    assert LOWER_LIMIT[name] == chemicals.LFL(CASRN=CAS[name], method=IEC)
    assert UPPER_LIMIT[name] == chemicals.UFL(CASRN=CAS[name], method=IEC)


def test_the_other_standard_differs_as_noted() -> None:
    lower = {n: chemicals.LFL(CASRN=c, method=NFPA) for n, c in CAS.items()}
    upper = {n: chemicals.UFL(CASRN=c, method=NFPA) for n, c in CAS.items()}
    assert lower == {**{n: LOWER_LIMIT[n] for n in CAS}, "ethanol": 0.033}
    assert upper == {**{n: UPPER_LIMIT[n] for n in CAS}, "acetone": 0.128}


@pytest.mark.parametrize("name", CAS)
def test_flash_points(name: str) -> None:
    """Closed cups, IEC 60079-20-1 and NFPA 497 as carried by `chemicals`: within 3 K of the nearer one."""
    pressures, names = over(name)
    flash = fl.flash_temperature(pressures, limits(LOWER_LIMIT, names), P0)
    published = [chemicals.T_flash(CAS[name], method) for method in (IEC, NFPA)]
    assert flash is not None
    assert min(abs(flash - T) for T in published) < 3.0


def saturation_temperature(name: str, pressure: float) -> float:
    """Boiling point from CoolProp; 2-propanol, which it lacks, by Poling's Antoine equation (`chemicals`)."""
    if name == "2-propanol":
        row = chemicals.vapor_pressure.Psat_data_AntoinePoling.loc[CAS[name]]
        return float(row["B"] / (row["A"] - log10(pressure)) - row["C"])
    from CoolProp.CoolProp import PropsSI  # here, for it takes seconds

    return float(PropsSI("T", "P", pressure, "Q", 0, name.capitalize()))


@pytest.mark.parametrize("name", CAS)
def test_pure_fuels_reach_their_limits_where_another_library_says(name: str) -> None:
    pressures, names = over(name)
    flash = fl.flash_temperature(pressures, limits(LOWER_LIMIT, names), P0)
    rich = fl.flash_temperature(pressures, limits(UPPER_LIMIT, names), P0)
    assert flash == pytest.approx(saturation_temperature(name, LOWER_LIMIT[name] * P0), abs=1.0)
    assert rich == pytest.approx(saturation_temperature(name, UPPER_LIMIT[name] * P0), abs=1.0)


@pytest.mark.parametrize("spec", ["ethanol 95", "methylated spirit", "2-propanol 91", "2-propanol 70", "methanol 90"])
def test_blends_flash_a_little_warmer_than_the_pure_alcohol(spec: str) -> None:
    pressures, names = over(spec)
    flash = fl.flash_temperature(pressures, limits(LOWER_LIMIT, names), P0)
    rich = fl.flash_temperature(pressures, limits(UPPER_LIMIT, names), P0)
    assert flash is not None
    assert rich is not None
    y = tuple(p / P0 for p in pressures(flash))
    assert limit_sum(y, limits(LOWER_LIMIT, names)) == pytest.approx(1.0, abs=1e-8)
    assert 278.0 < flash < 295.0
    assert flash + 20.0 < rich < 330.0


def test_watered_ethanol_flashes_later() -> None:
    flashes = []
    for share in (1.0, 0.95, 0.7, 0.4):
        spec = {"ethanol": share, "water": 1.0 - share} if share < 1.0 else {"ethanol": 1.0}
        fuel = blend(spec)
        rec = fuel_record(fuel)
        found = fl.flash_temperature(
            lambda T, f=fuel, r=rec: partial_pressures(f.mole_fractions, T, r), limits(LOWER_LIMIT, fuel.components), P0
        )
        assert found is not None
        flashes.append(found)
    assert flashes == sorted(flashes)


def test_flash_point_falls_with_altitude() -> None:
    pressures, names = over("ethanol")
    lower = limits(LOWER_LIMIT, names)
    high, low = (fl.flash_temperature(pressures, lower, p) for p in (61660.0, P0))
    assert high is not None
    assert low is not None
    assert 4.0 < low - high < 12.0


@settings(deadline=None)
@given(st.floats(0.01, 0.3), st.floats(0.5, 10.0), st.floats(2e4, 1.5e5))
def test_crossing_is_exact(limit: float, slope: float, pressure: float) -> None:
    """A straight vapour pressure has a known crossing."""
    found = fl.flash_temperature(lambda T: (slope / 1e3 * pressure * (T - 240.0),), (limit,), pressure)
    crossing = 240.0 + limit * 1e3 / slope
    if crossing > 400.0:
        assert found is None
    else:
        assert found == pytest.approx(crossing, abs=1e-6)


def test_none_when_it_never_happens() -> None:
    assert fl.flash_temperature(lambda T: (3000.0,), (fl.NEVER,), P0) is None
    assert fl.flash_temperature(lambda T: (9e4,), (0.03,), P0) is None


@pytest.mark.parametrize(("limit", "pressure"), [(0.0, P0), (-1.0, P0), (float("nan"), P0), (0.03, 0.0), (0.03, 1e7)])
def test_refuses(limit: float, pressure: float) -> None:
    with pytest.raises(InputError):
        fl.flash_temperature(lambda T: (1e3,), (limit,), pressure)


def test_shares_of_radiation_lie_in_their_bands() -> None:
    for default, low, high in RADIANT.values():
        assert low < default < high
    pool = {"methanol": 0.22, "ethanol": 0.26, "acetone": 0.31}  # NIST MaCFP, pools of 0.3 m
    for name, value in pool.items():
        assert RADIANT[name][0] == pytest.approx(value / 2)


def test_burning_velocity_of_a_mixture_lies_between_its_parts_and_ignores_water() -> None:
    names = ("methanol", "2-propanol", "water")
    mixed = fl.mixed_burning_velocity(names, (0.4, 0.4, 0.2))
    assert FIRE["2-propanol"].burning_velocity < mixed < FIRE["methanol"].burning_velocity
    assert fl.mixed_burning_velocity(names, (0.5, 0.0, 0.5)) == pytest.approx(FIRE["methanol"].burning_velocity)
    with pytest.raises(InputError):
        fl.mixed_burning_velocity(names, (0.0, 0.0, 1.0))
