"""Water, air and metals against published tables and a reference library."""

import math

import pytest

from burnsim.substances import air, water
from burnsim.substances.metals import METALS


@pytest.mark.parametrize(("T", "p"), [(300.0, 0.353658941e-2), (500.0, 0.263889776e1), (600.0, 0.123443146e2)])
def test_vapour_pressure_meets_the_verification_values(T, p):
    # IAPWS-IF97, table 35 [MPa]
    assert water.vapour_pressure(T) == pytest.approx(1e6 * p, rel=1e-8)


@pytest.mark.parametrize(("p", "T"), [(0.1, 0.372755919e3), (1.0, 0.453035632e3), (10.0, 0.584149488e3)])
def test_boiling_point_meets_the_verification_values(p, T):
    # IAPWS-IF97, table 36 [MPa -> K]
    assert water.boiling_point(1e6 * p) == pytest.approx(T, rel=1e-8)


@pytest.mark.parametrize("T", [275.0, 293.15, 313.15, 333.15, 353.15, 373.12])
def test_water_meets_the_reference_library(T):
    CP = pytest.importorskip("CoolProp.CoolProp")  # IAPWS-95, computed here
    assert water.vapour_pressure(T) == pytest.approx(CP.PropsSI("P", "T", T, "Q", 0, "Water"), rel=1e-3)
    assert water.liquid_density(T) == pytest.approx(CP.PropsSI("D", "T", T, "Q", 0, "Water"), rel=1e-3)
    latent = CP.PropsSI("H", "T", T, "Q", 1, "Water") - CP.PropsSI("H", "T", T, "Q", 0, "Water")
    assert water.latent_heat(T) == pytest.approx(latent, rel=5e-3)
    assert water.liquid_heat_capacity(T) == pytest.approx(CP.PropsSI("C", "T", T, "Q", 0, "Water"), rel=1e-2)
    assert water.viscosity(T) == pytest.approx(CP.PropsSI("V", "T", T, "Q", 0, "Water"), rel=5e-2)
    assert water.surface_tension(T) == pytest.approx(CP.PropsSI("I", "T", T, "Q", 0, "Water"), rel=5e-3)


@pytest.mark.parametrize(("t", "sigma"), [(20.0, 72.75), (60.0, 66.24), (100.0, 58.91)])
def test_surface_tension_meets_the_release(t, sigma):
    # IAPWS R1-76, table 1 (from memory, unverified) [mN/m]; its own uncertainty is 0.5 %
    assert 1e3 * water.surface_tension(273.15 + t) == pytest.approx(sigma, rel=2e-3)


def test_heat_to_boil_one_kilogram():
    # common steam tables: 419.1 - 83.9 kJ/kg
    rise = water.liquid_enthalpy(373.12) - water.liquid_enthalpy(293.15)
    assert rise == pytest.approx(335.2e3, rel=0.01)


def test_enthalpies_differ_by_the_latent_heat():
    for T in (280.0, 330.0, 373.0):
        assert water.vapour_enthalpy(T) - water.liquid_enthalpy(T) == pytest.approx(water.latent_heat(T))
    assert water.liquid_enthalpy(298.15) == 0.0


@pytest.mark.parametrize(("z", "p"), [(1000.0, 89.88), (2000.0, 79.50), (3000.0, 70.12), (4000.0, 61.66)])
def test_altitude_pressures(z, p):
    # U.S. Standard Atmosphere (1976), table I
    assert air.pressure_at_altitude(z) == pytest.approx(1e3 * p, rel=2e-4)


@pytest.mark.parametrize(("z", "boils"), [(1000.0, 96.7), (2000.0, 93.3), (3000.0, 90.0), (4000.0, 86.6)])
def test_water_boils_lower_on_a_mountain(z, boils):
    # steam tables at the pressures of the standard atmosphere
    assert water.boiling_point(air.pressure_at_altitude(z)) - 273.15 == pytest.approx(boils, abs=0.1)


# Incropera and DeWitt, table A.4 (from memory, unverified): T, viscosity e-7, conductivity e-3, cp
AIR_TABLE = [
    (250.0, 159.6, 22.3, 1006.0),
    (300.0, 184.6, 26.3, 1007.0),
    (400.0, 230.1, 33.8, 1014.0),
    (600.0, 305.8, 46.9, 1051.0),
    (800.0, 369.8, 57.3, 1099.0),
    (1000.0, 424.4, 66.7, 1141.0),
]


@pytest.mark.parametrize(("T", "mu", "k", "cp"), AIR_TABLE)
def test_air_meets_a_textbook_table(T, mu, k, cp):
    assert air.viscosity(T) == pytest.approx(1e-7 * mu, rel=0.03)
    assert air.conductivity(T) == pytest.approx(1e-3 * k, rel=0.03)
    assert air.heat_capacity(T) == pytest.approx(cp, rel=0.01)


@pytest.mark.parametrize("T", [250.0, 300.0, 500.0, 800.0, 1200.0, 1600.0, 2000.0])
def test_air_meets_the_reference_library(T):
    CP = pytest.importorskip("CoolProp.CoolProp")
    # heat capacity and density are independent of it; viscosity and conductivity are fits to it
    assert air.heat_capacity(T) == pytest.approx(CP.PropsSI("C", "T", T, "P", 101325.0, "Air"), rel=5e-3)
    assert air.density(T, 101325.0) == pytest.approx(CP.PropsSI("D", "T", T, "P", 101325.0, "Air"), rel=2e-3)
    assert air.viscosity(T) == pytest.approx(CP.PropsSI("V", "T", T, "P", 101325.0, "Air"), rel=2e-3)
    assert air.conductivity(T) == pytest.approx(CP.PropsSI("L", "T", T, "P", 101325.0, "Air"), rel=2e-3)


def test_damp_air():
    # saturation pressure at 20 degC, steam tables: 2339 Pa
    assert air.vapour_mole_fraction(293.15, 1.0, 101325.0) == pytest.approx(2339.0 / 101325.0, rel=1e-3)
    assert air.vapour_mole_fraction(293.15, 0.0, 101325.0) == 0.0
    assert air.vapour_mole_fraction(373.15, 1.0, 5e4) == 1.0
    assert air.moist_density(293.15, 1.0, 101325.0) < air.density(293.15, 101325.0)


@pytest.mark.parametrize("T", [-1e5, 0.0, 100.0, 273.15, 1000.0, 1e5])
def test_trial_temperatures_stay_finite(T):
    for f in (water.vapour_pressure, water.liquid_density, water.viscosity, water.surface_tension,
              air.viscosity, air.conductivity, air.heat_capacity, air.prandtl):  # fmt: skip
        assert math.isfinite(f(T))
        assert f(T) >= 0.0
    assert water.vapour_diffusivity(T, 1e5) > 0.0
    assert air.density(T, 1e5) > 0.0


@pytest.mark.parametrize("p", [-1e5, 0.0, 1.0, 1e5, 1e9])
def test_trial_pressures_stay_finite(p):
    assert 200.0 < water.boiling_point(p) < 648.0


@pytest.mark.parametrize("name", METALS)
def test_metals_are_metals(name):
    metal = METALS[name]
    assert 2000.0 < metal.density < 20000.0
    assert 5.0 < metal.conductivity < 430.0
    assert 0.0 < metal.emissivity < 1.0
    assert metal.source
    # Dulong and Petit: 3R a mole of atoms, 25 J/mol/K, within a quarter
    atom = {"aluminium": 26.98, "pure aluminium": 26.98, "copper": 63.55, "brass": 64.1, "titanium": 47.87}
    assert metal.heat_capacity * atom.get(name, 55.85) / 1e3 == pytest.approx(25.0, rel=0.25)
