"""Holes: exact limits, an independent correlation, and an independent relief-valve formula for gas."""

import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.constants import R

from burnsim.closures.orifice import (
    discharge_coefficient,
    gas_pressure,
    inertial_loss,
    laminar_loss,
    lichtarowicz_discharge,
    loss_coefficient,
    pressure_drop,
    velocity,
)

AIR = (300.0, 0.0289647, 1.4, 1.85e-5, 101325.0)  # temperature, molar mass, gamma, viscosity, pressure


def test_discharge_falls_from_short_tube_to_thin_plate():
    values = [inertial_loss(0.01 * k) for k in range(200)]
    assert all(a > b for a, b in pairwise(values))


def test_short_tube_by_the_published_shape_of_its_re_attachment():
    """Idelchik's thick-edged orifice, zeta = 1.5 + tau (from memory, unverified), within 8 %."""
    for ratio in (0.2, 0.4, 0.6, 0.8, 1.0, 1.5, 2.0):
        phi = 0.25 + 0.535 * ratio**8 / (0.05 + ratio**7)
        zeta = 1.5 + (2.4 - ratio) * 10.0**-phi
        assert inertial_loss(ratio) == pytest.approx(zeta, rel=0.08)


def test_re_attachment_falls_off_exactly_as_published():
    """Idelchik: tau ~ (2.4 - l) 10^-(0.25 + 0.535 l^8/(0.05 + l^7)) (from memory, unverified), of its value at 0."""

    def tau(ratio):
        return (2.4 - ratio) * 10.0 ** -(0.25 + 0.535 * ratio**8 / (0.05 + ratio**7))

    def detached(ratio):
        return inertial_loss(ratio) - (0.827 - 0.0085 * ratio) ** -2  # on top of a short tube's

    for ratio in (0.2, 0.5, 0.7, 0.9, 1.2, 2.0):
        assert detached(ratio) / detached(0.0) == pytest.approx(tau(ratio) / tau(0.0), rel=1e-9)


@pytest.mark.parametrize("shape", [0.0, 2.6])
@pytest.mark.parametrize("speed", [1e-3, 0.3, 0.9, 1.1, 40.0])
def test_pressure_drop_of_slow_and_fast_flow(speed, shape):
    """Without viscosity K rho u^2/2 at any speed, and of the other sign for a flow the other way."""
    for sign in (1.0, -1.0):
        drop = pressure_drop(sign * speed, 790.0, 0.0, 2e-3, shape, 44.0)
        assert drop == pytest.approx(sign * shape * 0.5 * 790.0 * speed * speed, rel=1e-14)


def test_loss_is_capped_beyond_the_longest_tube_and_below_zero():
    assert inertial_loss(50.0) == inertial_loss(10.0)
    assert inertial_loss(-1.0) == inertial_loss(0.0)
    assert laminar_loss(-1.0) == laminar_loss(0.0)


def test_long_tube_approaches_poiseuille():
    """Friction factor 64/Re over many diameters (Poiseuille 1840), by the `fluids` library."""
    from fluids import friction_laminar

    ratio, re = 2000.0, 0.5
    assert loss_coefficient(re, ratio) == pytest.approx(friction_laminar(re) * ratio, rel=1e-3)


def test_discharge_coefficient_is_the_loss_turned_round():
    assert discharge_coefficient(200.0, 0.1) ** -2 == pytest.approx(loss_coefficient(200.0, 0.1))


def test_lichtarowicz_at_high_reynolds_is_its_ultimate_value():
    """Cdu = 0.827 - 0.0085 L/d (Lichtarowicz, Duggins & Markland 1965)."""
    assert lichtarowicz_discharge(2e4, 2.0) == pytest.approx(0.81, rel=0.01)


ORDINARY = {
    "density": st.floats(0.1, 2000.0),
    "viscosity": st.floats(1e-6, 1e-2),
    "diameter": st.floats(1e-4, 1e-2),
    "ratio": st.floats(0.0, 10.0),
}


@settings(deadline=None, derandomize=True, database=None)
@given(u=st.floats(-100.0, 100.0), **ORDINARY)
def test_velocity_inverts_pressure_drop(u, density, viscosity, diameter, ratio):
    losses = inertial_loss(ratio), laminar_loss(ratio)
    drop = pressure_drop(u, density, viscosity, diameter, *losses)
    back = velocity(drop, density, viscosity, diameter, *losses)
    assert back == pytest.approx(u, rel=1e-9, abs=1e-250)


@settings(deadline=None, derandomize=True, database=None)
@given(drop=st.floats(0.0, 1e5), **ORDINARY)
def test_flow_is_odd_in_pressure(drop, density, viscosity, diameter, ratio):
    losses = inertial_loss(ratio), laminar_loss(ratio)
    forward = velocity(drop, density, viscosity, diameter, *losses)
    assert velocity(-drop, density, viscosity, diameter, *losses) == -forward


def test_pressure_drop_uses_the_loss_coefficient():
    u, rho, mu, d, ratio = 0.7, 790.0, 1.2e-3, 2e-3, 0.3
    re = rho * u * d / mu
    drop = pressure_drop(u, rho, mu, d, inertial_loss(ratio), laminar_loss(ratio))
    assert drop == pytest.approx(loss_coefficient(re, ratio) * 0.5 * rho * u * u)


@pytest.mark.parametrize("gauge", [5.0, 50.0, 500.0, 5e3, 3e4, 8e4, 1.5e5, 4e5])
def test_gas_flow_against_relief_valve_formula(gauge):
    """API 520 sizing of gas relief, subcritical and critical, by the `fluids` library (ideal nozzle, Kd = 1).

    Below about 100 Pa the library's formula loses digits itself, hence 1 %.
    """
    from fluids.safety_valve import API520_A_g

    temperature, molar_mass, gamma, viscosity, pressure = AIR
    diameter = 1e-3
    per_area = 1.0 / API520_A_g(
        m=1.0, T=temperature, Z=1.0, MW=molar_mass * 1e3, k=gamma, P1=pressure + gauge, P2=pressure, Kd=1.0
    )
    flow = per_area * math.pi / 4.0 * diameter**2
    ours = gas_pressure(flow, diameter, 1.0, 0.0, temperature, molar_mass, gamma, viscosity, pressure)
    if gauge > 9e4:  # choked: the flow follows the upstream pressure
        assert pressure + ours == pytest.approx(pressure + gauge, rel=0.005)
    else:
        assert ours == pytest.approx(gauge, rel=0.01)


def test_gas_flow_chokes_at_the_critical_pressure():
    """Critical pressure ratio by the `fluids` library."""
    from fluids import P_critical_flow

    temperature, molar_mass, gamma, viscosity, pressure = AIR
    area = math.pi / 4.0 * 1e-6
    sonic = pressure * math.sqrt(gamma * molar_mass / (R * temperature)) * math.sqrt(0.5 * (gamma + 1.0))
    flow = area * sonic
    below, at, above = (
        gas_pressure(flow * f, 1e-3, 1.0, 0.0, temperature, molar_mass, gamma, viscosity, pressure)
        for f in (1.0 - 1e-7, 1.0, 1.0 + 1e-7)
    )
    assert P_critical_flow(pressure + at, gamma) == pytest.approx(pressure, rel=1e-9)
    assert above - at == pytest.approx(at - below, rel=1e-3)  # the slope is continuous too
    for more in (1.005, 1.02, 1.05, 3.0):  # choked: the upstream pressure follows the flow
        choked = gas_pressure(flow * more, 1e-3, 1.0, 0.0, temperature, molar_mass, gamma, viscosity, pressure)
        assert pressure + choked == pytest.approx(more * (pressure + at), rel=1e-9)


@pytest.mark.parametrize("flow", [1e-15, 1e-9, 1e-8, 1e-7, 5e-7])
def test_small_gas_flow_is_the_flow_of_constant_density(flow):
    temperature, molar_mass, gamma, viscosity, pressure = AIR
    losses = inertial_loss(0.1), laminar_loss(0.1)
    density = pressure * molar_mass / (R * temperature)
    u = flow / (density * math.pi / 4.0 * 1e-6)
    gauge = gas_pressure(flow, 1e-3, *losses, temperature, molar_mass, gamma, viscosity, pressure)
    assert gauge == pytest.approx(pressure_drop(u, density, viscosity, 1e-3, *losses), rel=1e-4)


def test_gas_flow_is_odd_and_zero_at_zero():
    temperature, molar_mass, gamma, viscosity, pressure = AIR
    losses = inertial_loss(0.1), laminar_loss(0.1)
    forward = gas_pressure(1e-6, 1e-3, *losses, temperature, molar_mass, gamma, viscosity, pressure)
    assert gas_pressure(-1e-6, 1e-3, *losses, temperature, molar_mass, gamma, viscosity, pressure) == -forward
    assert gas_pressure(0.0, 1e-3, *losses, temperature, molar_mass, gamma, viscosity, pressure) == 0.0


@settings(deadline=None, derandomize=True, database=None)
@given(flow=st.floats(1e-12, 1e-3), factor=st.floats(1.001, 10.0))
def test_gas_pressure_rises_with_flow(flow, factor):
    losses = inertial_loss(0.1), laminar_loss(0.1)
    assert gas_pressure(flow * factor, 1e-3, *losses, *AIR) > gas_pressure(flow, 1e-3, *losses, *AIR)


@pytest.mark.parametrize("gamma", [1.05, 1.13, 1.4])
@pytest.mark.parametrize("gauge", [1.0, 100.0, 700.0, 990.0, 1010.0, 1500.0])
def test_gas_pressure_inverts_the_isentropic_nozzle(gamma, gauge):
    """The exact flow of an ideal nozzle at this pressure gives the pressure back, by the series and beyond it."""
    temperature, molar_mass, _, viscosity, pressure = AIR
    ratio = math.expm1((gamma - 1.0) / gamma * math.log1p(gauge / pressure))
    mach = math.sqrt(2.0 / (gamma - 1.0) * ratio)
    area = math.pi / 4.0 * 1e-6
    speed_of_sound_flow = area * pressure * math.sqrt(gamma * molar_mass / (R * temperature))
    flow = speed_of_sound_flow * mach * math.sqrt(1.0 + 0.5 * (gamma - 1.0) * mach * mach)
    ours = gas_pressure(flow, 1e-3, 1.0, 0.0, temperature, molar_mass, gamma, viscosity, pressure)
    assert ours == pytest.approx(gauge, rel=5e-13)
