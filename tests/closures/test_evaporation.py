"""Evaporation: Stefan's tube solved independently, film burning, open water by Shah's formula."""

import math

import pytest

from burnsim.closures.evaporation import (
    condensing_rate,
    film_burning_flux,
    spalding_number,
    stefan_flux,
    water_diffusivity,
    water_evaporation,
    wind_transfer,
)


def test_stefan_flux_solves_the_diffusion_equation():
    """N (1 - y) = -c D dy/dz, integrated numerically from the surface, must end at the bulk fraction."""
    from scipy.integrate import solve_ivp

    c, d, thickness, y0, y1 = 38.0, 1.3e-5, 0.02, 0.7, 0.1
    flux = stefan_flux(d, thickness, c, y0, y1)
    path = solve_ivp(lambda z, y: -flux * (1.0 - y) / (c * d), (0.0, thickness), [y0], rtol=1e-10, atol=1e-12)
    assert path.y[0, -1] == pytest.approx(y1, rel=1e-6)


def test_stefan_flux_is_odd_when_the_ends_change_places():
    assert stefan_flux(1e-5, 0.01, 40.0, 0.6, 0.1) == pytest.approx(-stefan_flux(1e-5, 0.01, 40.0, 0.1, 0.6))


def test_stefan_flux_of_a_dilute_vapour_is_fick():
    assert stefan_flux(1e-5, 0.01, 40.0, 1e-5, 0.0) == pytest.approx(40.0 * 1e-5 * 1e-5 / 0.01, rel=1e-4)


def test_stefan_flux_is_capped_at_the_boiling_point():
    assert stefan_flux(1e-5, 0.01, 40.0, 1.5, 0.0) == stefan_flux(1e-5, 0.01, 40.0, 0.999, 0.0)


def test_stefan_flux_knows_no_shares_below_none_and_is_capped_at_both_ends():
    assert stefan_flux(1e-5, 0.01, 40.0, -0.2, 0.5) == stefan_flux(1e-5, 0.01, 40.0, 0.0, 0.5)
    assert stefan_flux(1e-5, 0.01, 40.0, 0.5, -0.2) == stefan_flux(1e-5, 0.01, 40.0, 0.5, 0.0)
    assert stefan_flux(1e-5, 0.01, 40.0, 0.0, 1.5) == stefan_flux(1e-5, 0.01, 40.0, 0.0, 0.999)


def test_a_surface_that_the_flame_cannot_keep_hot_has_no_transfer_number():
    assert spalding_number(2e7, 6.5, 1e6, 1000.0, 298.0, 298.0 + 2e7 / 6.5 / 1000.0 + 1.0, 0.0) == 0.0


def test_radiation_lowers_the_transfer_number():
    arguments = (19.94e6, 6.47, 1.2e6, 1000.0, 298.0, 338.0)
    assert spalding_number(*arguments, 0.2) == pytest.approx(0.8 * spalding_number(*arguments, 0.0), rel=0.02)


def test_film_burning_without_blowing_is_h_b_over_cp():
    assert film_burning_flux(10.0, 1000.0, 1e-4) == pytest.approx(10.0 * 1e-4 / 1000.0, rel=1e-3)
    assert film_burning_flux(10.0, 1000.0, -1.0) == 0.0


@pytest.mark.parametrize("celsius", [40.0, 60.0, 80.0, 90.0, 95.0])
def test_open_water_by_shah(celsius):
    """Shah 2002, E = 35 rho_w (rho_r - rho_w)^(1/3) (W_w - W_r) kg/m2/h: within a factor 1.5.

    Air of 20 degC and 50 %, vapour pressures by CoolProp. Form from memory, unverified; rho_w is that of
    the dry air.
    """
    from CoolProp.CoolProp import PropsSI

    p, room, surface = 101325.0, 293.15, celsius + 273.15
    p_surface = PropsSI("P", "T", surface, "Q", 0, "Water")
    p_room = 0.5 * PropsSI("P", "T", room, "Q", 0, "Water")
    w_surface, w_room = (0.62198 * x / (p - x) for x in (p_surface, p_room))
    dry_surface = (p - p_surface) / (287.05 * surface)
    dry_room = (p - p_room) / (287.05 * room)
    moist_surface, moist_room = dry_surface * (1.0 + w_surface), dry_room * (1.0 + w_room)
    shah = 35.0 * dry_surface * (moist_room - moist_surface) ** (1.0 / 3.0) * (w_surface - w_room)
    ours = 3600.0 * water_evaporation(surface, p_surface / p, room, p_room / p, p)
    assert math.log(ours / shah) == pytest.approx(0.0, abs=math.log(1.5))


def test_water_condenses_on_a_cold_surface():
    assert water_evaporation(278.15, 0.0086, 293.15, 0.0161, 101325.0) < 0.0


def test_water_neither_evaporates_nor_condenses_in_its_own_saturated_air():
    assert water_evaporation(293.15, 0.0231, 293.15, 0.0231, 101325.0) == 0.0


@pytest.mark.parametrize(
    ("surface", "room", "humidity", "pressure"),
    [
        (333.15, 293.15, 0.5, 101325.0),
        (368.15, 328.15, 0.6, 101325.0),
        (353.15, 328.15, 0.6, 101325.0),
        (353.15, 283.15, 0.3, 72e3),
        (343.15, 273.15, 0.8, 60e3),
        (278.15, 293.15, 0.7, 101325.0),  # condenses: the moist gas at the surface is the heavier
        (283.15, 308.15, 0.8, 70e3),
    ],
)
def test_open_water_by_the_analogy_with_properties_of_others(surface, room, humidity, pressure):
    """Sherwood number as the Nusselt number of `ht`; vapour pressure, moist and dry air by CoolProp: within 2 %.

    Diffusivity: 0.2178 cm2/s at 0 degC, exponent 1.81 (W. J. Massman 1998, Atmos. Environ. 32, 1111; from memory): 2 %
    less than ours, 1.3 % of the flux. Where the gas at the surface is the heavier the draught is a ten-thousandth.
    """
    from CoolProp.CoolProp import HAPropsSI, PropsSI
    from ht import Nu_horizontal_plate_McAdams

    plate = 10.0  # [m]; drops out where the flow is turbulent
    film = 0.5 * (surface + room)
    p_surface = PropsSI("P", "T", surface, "Q", 0, "Water")
    p_room = humidity * PropsSI("P", "T", room, "Q", 0, "Water")
    there, far = (
        1.0 / HAPropsSI("Vha", "T", T, "P", pressure, "psi_w", p / pressure)
        for T, p in ((surface, p_surface), (room, p_room))
    )
    mean = 0.5 * (there + far)
    viscosity = PropsSI("V", "T", film, "P", pressure, "Air") / mean
    diffusivity = 0.2178e-4 * (film / 273.15) ** 1.81 * 101325.0 / pressure
    grashof = 9.80665 * max((far - there) / mean, 1e-4) * plate**3 / viscosity**2
    sherwood = Nu_horizontal_plate_McAdams(Pr=viscosity / diffusivity, Gr=grashof, buoyancy=True)
    vapour = (p_surface / surface - p_room / room) * 0.018015 / 8.31446
    ours = water_evaporation(surface, p_surface / pressure, room, p_room / pressure, pressure)
    assert ours == pytest.approx(sherwood * diffusivity / plate * vapour, rel=0.02)


def test_shares_of_vapour_end_at_none_and_all():
    """Above its boiling point the surface is nothing but vapour, and there is no air drier than dry."""
    for beyond, end in (((1.27, -0.3), (1.0, 0.0)), ((-0.1, 1.2), (0.0, 1.0))):
        found, exact = (water_evaporation(380.0, y[0], 293.15, y[1], 101325.0) for y in (beyond, end))
        assert found == exact


def test_condensing_through_a_film_solves_its_equation():
    """Only the vapour passes, N (1 - Y) = rho D dY/dz from the wall outwards: integrated, it ends at the gas."""
    from scipy.integrate import solve_ivp

    exchange, y_gas, y_wall = 0.011, 0.22, 0.03
    rate = condensing_rate(exchange, y_gas, y_wall, 1.0)
    path = solve_ivp(lambda z, y: rate * (1.0 - y) / exchange, (0.0, 1.0), [y_wall], rtol=1e-10, atol=1e-12)
    assert path.y[0, -1] == pytest.approx(y_gas, rel=1e-6)
    assert condensing_rate(exchange, y_wall, y_gas, 1.0) == pytest.approx(-rate, rel=1e-12)


@pytest.mark.parametrize("schmidt", [0.5, 0.6, 0.9])
def test_vapour_passes_a_laminar_layer_as_heat_does_but_for_its_diffusivity(schmidt):
    """Along a plate in an even stream: slope of the field at the wall by Pohlhausen's integral of Blasius's profile."""
    from scipy.integrate import cumulative_trapezoid, solve_ivp, trapezoid

    eta = [0.002 * k for k in range(5001)]
    profile = solve_ivp(
        lambda _, f: (f[1], f[2], -0.5 * f[0] * f[2]),
        (0.0, 10.0),
        (0.0, 0.0, 0.33206),
        t_eval=eta,
        rtol=1e-9,
        atol=1e-10,
    )
    shear = cumulative_trapezoid(profile.y[0], eta, initial=0.0)

    def slope(number: float) -> float:
        return 1.0 / float(trapezoid([math.exp(-0.5 * number * one) for one in shear], eta))

    # Lewis 1 brings the same as heat: flux of vapour over flux of heat is the slopes' ratio times the diffusivities'
    exact = slope(schmidt) / schmidt / (slope(0.7) / 0.7)
    dilute = condensing_rate(1.0, 1e-6, 0.0, 0.7 / schmidt) / condensing_rate(1.0, 1e-6, 0.0, 1.0)
    assert dilute == pytest.approx(exact, rel=0.02)


@pytest.mark.parametrize("temperature", [600.0, 1100.0, 1500.0])
def test_diffusivity_of_water_vapour_in_hot_gas_by_cantera(temperature):
    """Of H2O in N2 by the transport data of the GRI mechanism, within 6 %.

    At 298 K that gives 2.24e-5 m2/s, 12 % below what is measured (2.5 to 2.6e-5), which ours meets.
    """
    import cantera

    gas = cantera.Solution("gri30.yaml", transport_model="mixture-averaged")
    gas.TPX = temperature, 101325.0, "N2:0.99, H2O:0.01"
    theirs = gas.binary_diff_coeffs[gas.species_index("H2O"), gas.species_index("N2")]
    assert water_diffusivity(temperature, 101325.0) == pytest.approx(theirs, rel=0.06)


def test_wind_over_a_disc_is_a_plate_along_every_chord():
    """Laminar plates of `ht` as long as the disc's chords, with Sc for Pr; air by CoolProp: within 2 %."""
    from CoolProp.CoolProp import PropsSI
    from ht import Nu_horizontal_plate_laminar_Baehr
    from scipy.integrate import quad

    width, wind, film, pressure = 0.14, 1.5, 320.0, 90e3
    kinematic = PropsSI("V", "T", film, "P", pressure, "Air") / PropsSI("D", "T", film, "P", pressure, "Air")
    diffusivity = water_diffusivity(film, pressure)

    def along(y: float) -> float:
        chord = 2.0 * math.sqrt(0.25 * width**2 - y**2)
        sherwood = Nu_horizontal_plate_laminar_Baehr(Re=wind * chord / kinematic, Pr=kinematic / diffusivity)
        return sherwood * diffusivity  # mean over the chord, times its length

    mean = 2.0 * quad(along, 0.0, 0.4999999 * width)[0] / (0.25 * math.pi * width**2)
    assert wind_transfer(wind, width, film, pressure) == pytest.approx(mean, rel=0.02)


def test_wind_over_a_basin_by_carrier():
    """Carrier 1918, as ASHRAE has it for pools: 0.0782 V (p_w - p_a)/Y kg/m2/s in kPa and kJ/kg (from memory).

    That is 4.5 mm/s for each metre a second, on tanks and pools of some metres; a basin of one metre within a tenth.
    """
    film, latent = 300.0, 2430.0
    carrier = 0.0782e-3 / latent / (0.018015 / (8.31446 * film))
    assert wind_transfer(1.0, 1.0, film, 101325.0) == pytest.approx(carrier, rel=0.1)


def test_still_water_and_a_gale_are_the_ends_of_the_blend():
    state = (333.15, 0.1966, 293.15, 0.0116, 101325.0)
    still = water_evaporation(*state)
    assert water_evaporation(*state, 0.0) == still
    assert wind_transfer(0.0, 0.14, 310.0, 101325.0) == 0.0
    vapour = 101325.0 * 0.018015 / 8.31446 * (state[1] / state[0] - state[3] / state[2])
    for transfer in (0.3, 1.0):
        assert water_evaporation(*state, transfer) == pytest.approx(transfer * vapour, rel=1e-4)
    flux = [water_evaporation(*state, 1e-3 * k) for k in range(30)]
    assert flux == sorted(flux)
    assert flux[1] < 1.01 * still  # a breath does not count


def test_wind_carries_four_times_as_much_at_sixteen_times_its_speed():
    slow, fast = (wind_transfer(v, 0.14, 310.0, 101325.0) for v in (0.25, 4.0))
    assert fast == pytest.approx(4.0 * slow, rel=1e-9)
