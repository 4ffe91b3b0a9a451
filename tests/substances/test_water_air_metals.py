"""Water, air and metals against published tables and a reference library."""

import math

import pytest

from burnsim.substances import air, water
from burnsim.substances.metals import METALS


def test_enthalpies_differ_by_the_latent_heat():
    for T in (280.0, 330.0, 373.0):
        assert water.vapour_enthalpy(T) - water.liquid_enthalpy(T) == pytest.approx(water.latent_heat(T))
    assert water.liquid_enthalpy(298.15) == 0.0


def test_damp_air():
    # saturation pressure at 20 degC, steam tables: 2339 Pa
    assert air.vapour_mole_fraction(293.15, 1.0, 101325.0) == pytest.approx(2339.0 / 101325.0, rel=1e-3)
    assert air.vapour_mole_fraction(293.15, 0.0, 101325.0) == 0.0
    assert air.vapour_mole_fraction(373.15, 1.0, 5e4) == 1.0


@pytest.mark.parametrize("T", [-1e5, 0.0, 100.0, 273.15, 1000.0, 1e5])
def test_trial_temperatures_stay_finite(T):
    for f in (water.vapour_pressure, water.liquid_density, water.viscosity, water.surface_tension,
              air.viscosity, air.conductivity, air.heat_capacity, air.prandtl):  # fmt: skip
        assert math.isfinite(f(T))
        assert f(T) >= 0.0
    assert air.density(T, 1e5) > 0.0


@pytest.mark.parametrize("p", [-1e5, 0.0, 1.0, 1e5, 1e9])
def test_trial_pressures_stay_finite(p):
    assert 200.0 < water.boiling_point(p) < 648.0


@pytest.mark.parametrize("name", [name for name in METALS if name != "glass"])
def test_metals_are_metals(name):
    metal = METALS[name]
    assert 2000.0 < metal.density < 20000.0
    assert 5.0 < metal.conductivity < 430.0
    assert 0.0 < metal.emissivity < 1.0
    assert metal.source
    # Dulong and Petit: 3R a mole of atoms, 25 J/mol/K, within a quarter
    atom = {"aluminium": 26.98, "pure aluminium": 26.98, "copper": 63.55, "brass": 64.1, "titanium": 47.87}
    assert metal.heat_capacity * atom.get(name, 55.85) / 1e3 == pytest.approx(25.0, rel=0.25)


def test_glass_is_the_poor_conductor():
    """Borosilicate 3.3 conducts some 1.2 W/m/K (ISO 3585; from memory), a tenth of stainless steel or less."""
    glass = METALS["glass"]
    assert glass.conductivity == pytest.approx(1.2, abs=0.2)
    assert glass.conductivity < 0.1 * min(metal.conductivity for name, metal in METALS.items() if name != "glass")
