"""Boiling: Cooper's law by an independent library, superheat by equations of state."""

import pytest

from burnsim.closures.boiling import cooper_coefficient, cooper_heat_flux, superheat


@pytest.mark.parametrize(
    ("critical_pressure", "molar_mass"), [(8.1035e6, 32.042), (6.268e6, 46.069), (22.064e6, 18.015)]
)
@pytest.mark.parametrize("excess", [0.1, 0.9, 2.0, 6.0, 15.0])
def test_cooper_by_library(critical_pressure, molar_mass, excess):
    """Cooper 1984 as the `ht` library evaluates it, h at a given superheat."""
    from ht import Cooper

    h = Cooper(P=101325.0, Pc=critical_pressure, MW=molar_mass, Te=excess)
    c = cooper_coefficient(101325.0 / critical_pressure, molar_mass)
    assert cooper_heat_flux(excess, c) == pytest.approx(h * excess, rel=0.01)


def test_no_flux_without_superheat():
    c = cooper_coefficient(0.016, 46.0)
    assert cooper_heat_flux(0.0, c) == 0.0
    assert cooper_heat_flux(-5.0, c) == 0.0
    assert cooper_heat_flux(-5.0, -c) == 0.0


def test_near_its_critical_point_a_liquid_boils_as_at_095_of_it():
    assert cooper_coefficient(1.2, 46.0) == cooper_coefficient(0.95, 46.0) > cooper_coefficient(0.9, 46.0)


@pytest.mark.parametrize("fluid", ["Methanol", "Ethanol", "Acetone", "Water"])
@pytest.mark.parametrize("excess", [-3.0, 0.05, 1.0])
def test_superheat_by_equation_of_state(fluid, excess):
    """True distance to the boiling point by CoolProp's equations of state: within 10 %.

    The vapour is taken as an ideal gas; its compressibility (0.94 to 0.985 at the boiling point) is the
    error.
    """
    from CoolProp.CoolProp import PropsSI

    p = 101325.0
    boiling = PropsSI("T", "P", p, "Q", 0, fluid)
    t = boiling + excess
    latent = PropsSI("HMOLAR", "P", p, "Q", 1, fluid) - PropsSI("HMOLAR", "P", p, "Q", 0, fluid)
    bubble = PropsSI("P", "T", t, "Q", 0, fluid)
    assert superheat(bubble, p, t, latent) == pytest.approx(excess, rel=0.10)
