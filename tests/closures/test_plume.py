"""Plumes: entrainment from the published profile, mixing by an independent equation of state."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from burnsim.closures import plume
from burnsim.closures.plume import gas_temperature


@settings(deadline=None, derandomize=True, database=None)
@given(
    temperature=st.floats(300.0, 2500.0),
    share=st.floats(0.0, 1.0),
    ambient=st.floats(240.0, 320.0),
    slope=st.floats(-0.05, 0.4),
)
def test_temperature_inverts_the_enthalpy(temperature, share, ambient, slope):
    product, air = (1150.0, slope), (1005.0, 0.15)

    def enthalpy(heat, t):
        return heat[0] * (t - 298.15) + heat[1] * (t - 298.15) ** 2 / 2.0

    def mixed(t):
        return share * enthalpy(product, t) + (1.0 - share) * enthalpy(air, t)

    rise = mixed(temperature) - mixed(ambient)
    assert gas_temperature(rise, share, product, air, ambient) == pytest.approx(temperature, rel=1e-9)


def test_hot_air_by_equation_of_state():
    """Enthalpies of air by CoolProp, its heat capacity fitted by a straight line.

    Within 2 % of the rise up to 1800 K.
    """
    import numpy as np
    from CoolProp.CoolProp import PropsSI

    grid = np.linspace(300.0, 1800.0, 31)
    h = [PropsSI("H", "T", t, "P", 101325.0, "Air") - PropsSI("H", "T", 298.15, "P", 101325.0, "Air") for t in grid]
    th = grid - 298.15
    a, b = np.linalg.lstsq(np.column_stack([th, th**2 / 2.0]), np.array(h), rcond=None)[0]
    heat = (float(a), float(b))
    for t in (500.0, 900.0, 1300.0, 1800.0):
        rise = PropsSI("H", "T", t, "P", 101325.0, "Air") - PropsSI("H", "T", 293.15, "P", 101325.0, "Air")
        assert gas_temperature(rise, 0.3, heat, heat, 293.15) - 293.15 == pytest.approx(t - 293.15, rel=0.02)


def test_no_enthalpy_leaves_ambient_and_a_deficit_stays_finite():
    heat = (1005.0, 0.2)
    assert gas_temperature(0.0, 0.3, heat, heat, 283.0) == pytest.approx(283.0)
    assert gas_temperature(-1e9, 0.3, heat, heat, 283.0) == 50.0


def test_free_sheet_stream_function_solves_its_similarity_equations() -> None:
    """The coefficient of `flame_sheet_entrainment` comes from the boundary-layer equations, solved here by scipy."""
    from scipy.integrate import solve_bvp

    prandtl = 0.7

    def slopes(_: np.ndarray, y: np.ndarray) -> np.ndarray:
        f, speed, shear, heat, flux = y
        return np.array([speed, shear, -3 * f * shear + 2 * speed**2 - heat, flux, -3 * prandtl * f * flux])

    def ends(inner: np.ndarray, outer: np.ndarray) -> np.ndarray:
        return np.array([inner[0], inner[2], inner[3] - 1.0, outer[1], outer[3]])

    x = np.linspace(0.0, 20.0, 400)
    guess = np.array([0.7 * (1 - np.exp(-x)), 0.7 * np.exp(-x), 0 * x, np.exp(-x), -np.exp(-x)])
    found = solve_bvp(slopes, ends, x, guess, tol=1e-7, max_nodes=100000)
    assert found.status == 0
    assert pytest.approx(found.y[0, -1], rel=1e-3) == plume.SHEET_STREAM


def test_flame_sheet_draws_with_three_quarters_power_of_height() -> None:
    low = plume.flame_sheet_entrainment(0.02, 1500.0, 293.15, 101325.0)
    high = plume.flame_sheet_entrainment(0.04, 1500.0, 293.15, 101325.0)
    assert high / low == pytest.approx(2.0**0.75, rel=1e-9)
    assert plume.flame_sheet_entrainment(0.0, 1500.0, 293.15, 101325.0) == 0.0
    assert plume.flame_sheet_entrainment(0.02, 293.15, 293.15, 101325.0) == 0.0
    thin = plume.flame_sheet_entrainment(0.02, 1500.0, 293.15, 70000.0)
    assert thin / low == pytest.approx((70.0 / 101.325) ** 0.5, rel=1e-6)


def test_no_draught_without_heat() -> None:
    assert plume.opening_draught(2.0, 1.5, 1.2, 293.15, 293.15) == 0.0
