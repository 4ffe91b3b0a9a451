"""Convection against the `ht` library, and the symmetries of each law."""

import pytest

from burnsim.closures.convection import (
    churchill_bernstein,
    churchill_chu_plate,
    gap_coefficient,
    layer_transfer,
    mixed_coefficient,
    plate_down,
    plate_up,
    rayleigh_number,
    stagnation_disc,
    vertical_wall,
    wall_draught,
    wind_coefficient,
)


@pytest.mark.parametrize("rayleigh", [1.0, 1e3, 1e6, 1e9, 1e11])
@pytest.mark.parametrize("prandtl", [0.7, 5.0])
def test_upright_wall_by_library(rayleigh, prandtl):
    """Churchill & Chu 1975 in the `ht` library."""
    from ht import Nu_vertical_plate_Churchill

    library = Nu_vertical_plate_Churchill(Pr=prandtl, Gr=rayleigh / prandtl)
    assert churchill_chu_plate(rayleigh, prandtl) == pytest.approx(library, rel=1e-4)


@pytest.mark.parametrize("reynolds", [50.0, 1e3, 3e4, 1e6])
def test_cylinder_by_library(reynolds):
    """Churchill & Bernstein 1977 in the `ht` library."""
    from ht import Nu_cylinder_Churchill_Bernstein

    library = Nu_cylinder_Churchill_Bernstein(Re=reynolds, Pr=0.7)
    assert churchill_bernstein(reynolds, 0.7) == pytest.approx(library, rel=1e-4)


@pytest.mark.parametrize("length", [0.02, 0.05, 0.3])
def test_plates_by_library(length):
    """McAdams 1954 in the `ht` library, air properties by CoolProp."""
    from CoolProp.CoolProp import PropsSI
    from ht import Nu_horizontal_plate_McAdams

    surface, room = 360.0, 293.0
    film = 0.5 * (surface + room)
    k, pr, mu, rho = (PropsSI(x, "T", film, "P", 101325.0, "Air") for x in ("L", "PRANDTL", "V", "D"))
    grashof = 9.80665 / film * (surface - room) * length**3 * (rho / mu) ** 2
    up = Nu_horizontal_plate_McAdams(Pr=pr, Gr=grashof, buoyancy=True) * k / length
    down = Nu_horizontal_plate_McAdams(Pr=pr, Gr=grashof, buoyancy=False) * k / length
    assert plate_up(length, surface, room) == pytest.approx(up, rel=0.08)  # the two branches meet at another Ra
    assert plate_down(length, surface, room) == pytest.approx(down, rel=0.01)


def test_rayleigh_number_by_equation_of_state():
    """Air by CoolProp."""
    from CoolProp.CoolProp import PropsSI

    film = 700.0
    k, cp, mu, rho = (PropsSI(x, "T", film, "P", 9e4, "Air") for x in ("L", "C", "V", "D"))
    expected = 9.80665 * 600.0 / film * 0.05**3 * rho**2 * cp / (mu * k)
    assert rayleigh_number(0.05, 1000.0, 400.0, 9e4) == pytest.approx(expected, rel=0.01)


@pytest.mark.parametrize("law", [vertical_wall, plate_up, plate_down])
def test_hot_gas_on_a_cold_wall_is_as_a_hot_wall_in_cold_gas(law):
    assert law(0.05, 400.0, 1300.0) == law(0.05, 1300.0, 400.0)


@pytest.mark.parametrize("law", [vertical_wall, plate_up, plate_down])
def test_no_difference_of_temperature_leaves_conduction(law):
    assert 0.0 < law(0.05, 300.0, 300.0) < 1.0


@pytest.mark.parametrize("law", [vertical_wall, plate_up, plate_down])
def test_thin_air_cools_less(law):
    assert law(0.1, 370.0, 290.0, 6e4) < law(0.1, 370.0, 290.0)


def test_flame_on_a_centimetre_of_wall():
    """A flame-bathed thin wall takes 20 to 60 W/m2/K (common practice, no source)."""
    assert 15.0 < vertical_wall(0.01, 450.0, 1500.0) < 60.0


def test_stagnation_point_against_the_exact_similarity_solution():
    """Axisymmetric stagnation flow (Homann) solved here for air's Pr, with the velocity gradient U/D.

    Nu/Re^0.5 within 1 % in hot air.
    """
    import numpy as np
    from CoolProp.CoolProp import PropsSI
    from scipy.integrate import solve_bvp

    k, pr, mu, rho = (PropsSI(x, "T", 600.0, "P", 101325.0, "Air") for x in ("L", "PRANDTL", "V", "D"))
    far = 8.0
    x = np.linspace(0.0, far, 200)

    def rhs(_, y):
        f, f1, f2, _t, t1 = y
        return np.vstack([f1, f2, -2.0 * f * f2 - 1.0 + f1**2, t1, -2.0 * pr * f * t1])

    def ends(a, b):
        return np.array([a[0], a[1], a[3], b[1] - 1.0, b[3] - 1.0])

    guess = np.vstack([x, np.tanh(x), np.exp(-x), np.tanh(x), np.exp(-x)])
    exact = solve_bvp(rhs, ends, x, guess, tol=1e-6).y[4, 0]
    nusselt = stagnation_disc(1.0, 0.1, 600.0) * 0.1 / k
    assert nusselt / (rho * 1.0 * 0.1 / mu) ** 0.5 == pytest.approx(exact, rel=0.01)


def test_stagnation_disc_grows_as_the_root_of_velocity():
    assert stagnation_disc(2.0, 0.1, 600.0) == pytest.approx(2.0**0.5 * stagnation_disc(1.0, 0.1, 600.0))
    assert stagnation_disc(0.0, 0.1, 600.0) == 0.0


def test_wind_vanishes_with_the_air_and_adds_by_cubes():
    assert wind_coefficient(0.0, 0.14, 310.0) == 0.0
    for h in (0.3, 5.0):
        assert mixed_coefficient(h, 0.0) == pytest.approx(h)
        assert mixed_coefficient(0.0, h) == pytest.approx(h)
    assert mixed_coefficient(5.0, 5.0) == pytest.approx(5.0 * 2.0 ** (1.0 / 3.0))


def test_gap_is_half_of_the_plate_spacing_law():
    """Nu 7.541 by the hydraulic diameter, twice the gap (Shah & London 1978)."""
    assert gap_coefficient(4e-3, 0.05) * 8e-3 / 0.05 == pytest.approx(7.541, rel=1e-3)


def test_draught_along_a_warm_wall_by_its_similarity_equations() -> None:
    """f''' + 3 f f'' - 2 f'^2 + h = 0, h'' + 3 Pr f h' = 0 with Ostrach's f''(0) = 0.6760, h'(0) = -0.5046 at Pr 0.72.

    u = 2 sqrt(g beta dT x) f'.
    """
    from scipy.integrate import solve_ivp

    def slopes(_, y):
        return [y[1], y[2], 2.0 * y[1] ** 2 - 3.0 * y[0] * y[2] - y[3], y[4], -3.0 * 0.72 * y[0] * y[4]]

    found = solve_ivp(slopes, (0.0, 4.0), [0.0, 0.0, 0.6760, 1.0, -0.5046], rtol=1e-8, max_step=0.02)
    buoyancy = 9.80665 * 127.0 / 356.5 * 0.02
    assert wall_draught(0.02, 420.0, 293.0) == pytest.approx(2.0 * max(found.y[1]) * buoyancy**0.5, rel=0.01)
    assert wall_draught(0.02, 290.0, 293.0) == 0.0


def test_layer_between_level_surfaces() -> None:
    """Still: conduction. Deep: Globe and Dropkin 1959, 0.069 Ra^(1/3) Pr^0.074; water at Ra 1e8, Pr 5: 36 by hand."""
    assert layer_transfer(0.0, 0.7) == pytest.approx(1.0, rel=1e-12)
    assert layer_transfer(1e8, 5.0) == pytest.approx(36.1, rel=2e-3)
    assert layer_transfer(-1e5, 0.7) == pytest.approx(1.0, rel=1e-12)


@pytest.mark.parametrize("rayleigh", [5e3, 2e4, 1e5, 1e6])
def test_layer_by_library(rayleigh: float) -> None:
    """Hollands 1975 in the `ht` library, for plates without side walls: up to a half more where it begins to turn."""
    from ht.conv_free_enclosed import Nu_Nusselt_Rayleigh_Hollands

    library = Nu_Nusselt_Rayleigh_Hollands(0.7, rayleigh / 0.7)
    assert 0.62 * library <= layer_transfer(rayleigh, 0.7) <= 1.05 * library
