"""The hot functions of a fuel: finite for any trial state, and consistent with each other."""

import math
import subprocess
import sys
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from burnsim.substances import equilibrium, fuel
from burnsim.substances.blend import blend, fuel_record
from burnsim.substances.recipe import READY

RECORDS = {name: fuel_record(blend(name)) for name in READY}
SIZES = {name: len(RECORDS[name].molar_mass) for name in READY}

wild = st.floats(-1e6, 1e6, allow_nan=False)
trial_moles = st.floats(-2.0, 2.0)


@pytest.mark.parametrize("name", READY)
@given(data=st.data())
def test_every_trial_state_gives_finite_numbers(name, data):
    rec, n = RECORDS[name], SIZES[name]
    x = tuple(data.draw(trial_moles) for _ in range(n))
    T = data.draw(wild)
    values = [
        *equilibrium.partial_pressures(x, T, rec),
        *equilibrium.activity_coefficients(x, T, rec),
        *equilibrium.vapour_composition(x, T, rec),
        fuel.liquid_volume(x, T, rec),
        fuel.liquid_heat_capacity(x, T, rec),
        fuel.temperature_from_enthalpy(data.draw(wild), x, data.draw(st.floats(0.0, 50.0)), rec),
        fuel.viscosity(T, rec),
        fuel.surface_tension(T, rec),
        fuel.vapour_viscosity(T, rec),
        fuel.vapour_conductivity(T, rec),
        fuel.diffusivity(T, 101325.0, rec),
        *(fuel.liquid_enthalpy(c, T) for c in rec.liquid_heat),
        *(fuel.vapour_enthalpy(c, T) for c in rec.vapour_heat),
        *(fuel.gas_heat_capacity(c, T, data.draw(wild)) for c in rec.gas_heat_capacity),
    ]
    assert all(math.isfinite(v) for v in values)


@pytest.mark.parametrize("name", READY)
def test_transport_stays_positive_for_trial_temperatures(name):
    rec = RECORDS[name]
    for T in (-1e5, 0.0, 150.0, 300.0, 1500.0, 1e5):
        assert fuel.viscosity(T, rec) > 0.0
        assert fuel.surface_tension(T, rec) > 0.0
        assert fuel.vapour_viscosity(T, rec) > 0.0
        assert fuel.vapour_conductivity(T, rec) > 0.0
        assert fuel.diffusivity(T, 101325.0, rec) > 0.0


@pytest.mark.parametrize("name", READY)
def test_gas_heat_capacity_stays_positive_for_trial_temperatures(name):
    """Liquids are tried between 180 and 1200 K, the rim between 180 and 1800 K."""
    for c in RECORDS[name].gas_heat_capacity:
        for low in (180.0, 300.0, 1200.0):
            for high in (180.0, 700.0, 1800.0):
                assert fuel.gas_heat_capacity(c, low, high) > 20.0


@pytest.mark.parametrize("name", [n for n in READY if SIZES[n] > 1])
@given(data=st.data())
def test_volume_rises_with_every_component(name, data):
    rec, n = RECORDS[name], SIZES[name]
    base = [data.draw(trial_moles) for _ in range(n)]
    i = data.draw(st.integers(0, n - 1))
    more = list(base)
    more[i] += 1e-3
    assert fuel.liquid_volume(tuple(more), 320.0, rec) > fuel.liquid_volume(tuple(base), 320.0, rec)


def test_volume_of_nothing_is_nothing():
    for name, rec in RECORDS.items():
        assert fuel.liquid_volume((0.0,) * SIZES[name], 300.0, rec) == 0.0


@pytest.mark.parametrize("name", READY)
def test_volume_is_proportional_to_amount(name):
    rec, x = RECORDS[name], blend(name).mole_fractions
    one = fuel.liquid_volume(x, 320.0, rec)
    assert fuel.liquid_volume(tuple(1e-9 * v for v in x), 320.0, rec) == pytest.approx(1e-9 * one, rel=1e-12)


@pytest.mark.parametrize("name", READY)
@given(T=st.floats(250.0, 380.0), capacity=st.floats(0.0, 30.0), scale=st.floats(1e-4, 3.0))
def test_temperature_from_enthalpy_inverts_the_enthalpy(name, T, capacity, scale):
    rec = RECORDS[name]
    n = tuple(scale * v for v in blend(name).mole_fractions)
    h = [fuel.liquid_enthalpy(c, T) for c in rec.liquid_heat]
    U = sum(a * b for a, b in zip(n, h, strict=True)) + capacity * (T - 298.15)
    assert fuel.temperature_from_enthalpy(U, n, capacity, rec) == pytest.approx(T, abs=1e-7)


@pytest.mark.parametrize("name", READY)
def test_heat_capacity_is_the_slope_of_enthalpy(name):
    rec, x = RECORDS[name], blend(name).mole_fractions
    for T in (270.0, 310.0, 350.0):
        up, down = ([fuel.liquid_enthalpy(c, T + d) for c in rec.liquid_heat] for d in (0.01, -0.01))
        slope = sum(v * (a - b) for v, a, b in zip(x, up, down, strict=True)) / 0.02
        assert fuel.liquid_heat_capacity(x, T, rec) == pytest.approx(slope, rel=1e-8)


@pytest.mark.parametrize("name", READY)
def test_vapour_pressure_rises_over_every_trial_temperature(name):
    for c in RECORDS[name].ln_vapour_pressure:
        values = [equilibrium.vapour_pressure(c, float(T)) for T in range(180, 601)]
        assert all(a < b for a, b in pairwise(values))


def test_pure_component_is_ideal_exactly():
    rec = RECORDS["ethanol"]
    assert equilibrium.activity_coefficients((1.0,), 330.0, rec) == (1.0,)
    expected = equilibrium.vapour_pressure(rec.ln_vapour_pressure[0], 330.0)
    assert equilibrium.partial_pressures((1.0,), 330.0, rec) == (expected,)


def test_pure_end_of_a_blend_is_the_pure_component():
    rec = RECORDS["methylated spirit"]
    for i in range(3):
        x = tuple(1.0 if j == i else 0.0 for j in range(3))
        assert equilibrium.activity_coefficients(x, 330.0, rec)[i] == pytest.approx(1.0, abs=1e-10)


@given(x=st.floats(0.0, 1.0), T=st.floats(280.0, 375.0))
def test_two_component_branch_equals_the_general_one(x, T):
    two = fuel_record(blend({"methanol": 0.5, "water": 0.5}))
    three = fuel_record(blend({"methanol": 0.4, "ethanol": 0.1, "water": 0.5}))
    a = equilibrium.partial_pressures((x, 1.0 - x), T, two)
    b = equilibrium.partial_pressures((x, 0.0, 1.0 - x), T, three)
    assert (a[0], a[1]) == pytest.approx((b[0], b[2]), rel=1e-9, abs=1e-6)


@given(x=st.floats(0.02, 0.98), T=st.floats(290.0, 370.0))
def test_activity_coefficients_obey_gibbs_and_duhem(x, T):
    for name in ("ethanol 95", "2-propanol 70", "methanol 90"):
        rec, d = RECORDS[name], 1e-5
        up = equilibrium.activity_coefficients((x + d, 1.0 - x - d), T, rec)
        down = equilibrium.activity_coefficients((x - d, 1.0 - x + d), T, rec)
        slopes = [(math.log(a) - math.log(b)) / (2.0 * d) for a, b in zip(up, down, strict=True)]
        assert x * slopes[0] + (1.0 - x) * slopes[1] == pytest.approx(0.0, abs=1e-5)


@pytest.mark.parametrize("name", READY)
def test_bubble_temperature_brings_the_asked_pressure(name):
    rec, x = RECORDS[name], blend(name).mole_fractions
    for p in (3e4, 7e4, 101325.0, 1.2e5):
        T = equilibrium.bubble_temperature(x, p, rec)
        assert equilibrium.bubble_pressure(x, T, rec) == pytest.approx(p, rel=1e-9)


def test_record_needs_neither_thermo_nor_scipy_nor_numpy():
    code = (
        "import sys; from burnsim.substances.blend import blend, fuel_record;"
        "fuel_record(blend('ethanol 95'));"
        "print([m for m in ('thermo', 'chemicals', 'scipy', 'numpy') if m in sys.modules])"
    )
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert out.stdout.strip() == "[]"


def test_record_is_cached():
    assert fuel_record(blend("ethanol 95")) is fuel_record(blend("ethanol 95"))
