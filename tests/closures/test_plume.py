"""Plumes: entrainment from the published profile, mixing by an independent equation of state."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from burnsim.closures import counterflow, plume
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


def test_no_draught_without_heat() -> None:
    assert plume.opening_draught(2.0, 1.5, 1.2, 293.15, 293.15) == 0.0


def test_two_layers_rub_on_their_plates_and_on_each_other() -> None:
    """The equation of the two layers integrated from the rim, where gas fills nothing, to the axis, where it fills all.

    Viscosities of air by CoolProp at 345 K; of 1500 K by Sutherland's law (its tables end before).
    """
    from CoolProp.CoolProp import PropsSI
    from scipy.integrate import quad

    cool = PropsSI("V", "T", 345.0, "P", 101325.0, "Air") / PropsSI("D", "T", 345.0, "P", 101325.0, "Air")
    hot = 1.458e-6 * 1500.0**1.5 / (1500.0 + 110.4)
    density = 101325.0 / (287.05 * 1500.0)
    slip = cool / (hot / density)
    share = quad(lambda x: 1.0 / (x**-3 + slip * (1.0 - x) ** -3), 0.0, 1.0)[0]
    assert pytest.approx(share, rel=0.03) == plume.LAYER_EXCHANGE
    one_layer = quad(lambda x: 1.0 / x**-3, 0.0, 1.0)[0]
    alone = math.pi * density * (1.02 - density) * 9.80665 * 0.02**4 * one_layer / (3.0 * hot)
    assert plume.layer_draught(0.02, 1.02, density, hot) == pytest.approx(alone * share / one_layer, rel=0.03)


def test_a_flame_down_in_a_vessel_heats_its_wall_as_resolved_flames_do() -> None:
    """Square well of 46 mm, 25 mm deep, wall at 350 K: 62 W of a flame of 300 W, resolved in three dimensions.

    Two thirds of the mouth are filled by its gas, which carries 0.17 W/K; the rest is air.
    """
    conductance = plume.vessel_conductance(0.025, 4.0 * 0.046 / math.pi, 0.0578, 9.1e8)
    gas = 0.65 * conductance
    served = 0.17 * (1.0 - math.exp(-gas / 0.17)) * (2226.0 - 350.0)
    cooled = (conductance - gas) * (350.0 - 293.0)
    assert served - cooled == pytest.approx(62.0, rel=0.2)


def test_gas_that_fills_a_mouth_leaves_the_rest_to_air() -> None:
    """In the well that was resolved in three dimensions its gas fills 0.64 to 0.67 of the mouth."""
    assert counterflow.light_share(1.2, 0.235, 1.15) == pytest.approx(0.65, abs=0.04)
    assert counterflow.light_share(1.2, 1.2, 1.0) == pytest.approx(0.5)


def test_air_for_a_well_as_resolved_flames_take_it() -> None:
    """Air for 260 to 317 W came down into that well, under flames of 500 and 800 W, in three dimensions."""
    air = counterflow.exchange_flow(0.052, 0.025, 1.2, 0.235, 1.15)
    assert 260.0 <= 3.07e6 * air <= 317.0


@pytest.mark.parametrize("own", [0.01, 0.3, 2.0])
@pytest.mark.parametrize("vapour", [0.0, 0.5, 0.9, 3.0])
def test_a_flame_takes_air_until_all_that_it_has_taken_is_just_flammable(own: float, vapour: float) -> None:
    """The largest root, by a library's bracketing."""
    from scipy.optimize import brentq
    from scipy.special import erf

    part = brentq(lambda y: y - own - vapour * erf(y), own, own + vapour + 1e-9, xtol=1e-14)
    assert plume.flame_catch(own, vapour) == pytest.approx(erf(part), rel=1e-9)


def test_a_layer_burns_without_help_where_it_is_flammable_at_the_wall() -> None:
    """Slope of the error function at 0: 2/sqrt(pi)."""
    lean, rich = (share * math.sqrt(math.pi) / 2.0 for share in (0.99, 1.5))
    assert plume.flame_catch(1e-12, lean) < 1e-9
    assert plume.flame_catch(1e-12, rich) > 0.8
    assert plume.flame_catch(0.0, rich) == 0.0


def test_vapour_spreads_into_the_layer_of_a_wall_as_by_finite_differences() -> None:
    """Diffusion marched through air whose speed grows with the root of the height, no vapour through the wall."""
    import numpy as np

    height, top, d = 0.01, 0.1, 1.5e-5
    dy = 1e-5
    y = (np.arange(800) + 0.5) * dy
    c = np.zeros_like(y)
    c[0] = 1.0
    time, step = 0.0, 0.2 * dy * dy / d
    while time < 2.0 * height / top:  # of flight, dx/U
        c[1:-1] += step * d / dy**2 * (c[2:] - 2.0 * c[1:-1] + c[:-2])
        c[0] += step * d / dy**2 * (c[1] - c[0])
        time += step
    deep = float(np.interp(math.exp(-1.0), (c / c[0])[::-1], y[::-1]))
    assert plume.vapour_layer(height, top, d, 1.2) == pytest.approx(1.2 * top * deep, rel=0.01)
