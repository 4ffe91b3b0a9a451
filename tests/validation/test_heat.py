"""Flame and heat laws against published and independently computed values, source beside each."""

import math

import pytest

from burnsim.closures import (
    boiling,
    contact,
    convection,
    evaporation,
    flame,
)

ALCOHOLS = [
    # air per fuel [mol/mol], lower heating value of the vapour [J/mol], boiling point [K]
    ("methanol", 7.14, 676.2e3, 337.7),
    ("ethanol", 14.28, 1277.6e3, 351.4),
]


@pytest.mark.parametrize(("name", "air", "heat", "temperature"), ALCOHOLS)
def test_flame_length_per_watt(name, air, heat, temperature):
    """0.37 to 0.38 mm a watt for alcohol vapours (Roper 1977): within 5 %."""
    moles_per_watt = 1.0 / heat
    flow = moles_per_watt * 8.314462618 * temperature / 101325.0
    length = flame.roper_length(flow, air, temperature, 293.15)
    assert length == pytest.approx(0.375e-3, rel=0.05), name


def test_flame_of_propane():
    """Flame of 50 mm: 1.55 cm3/s, 133 W (Turns, worked example, square port, from memory.

    Unverified): within 3 %.
    """
    flow = 0.05 / flame.roper_length(1.0, 23.8, 300.0, 300.0)  # the length grows with the flow
    assert flow == pytest.approx(1.55e-6, rel=0.03)
    power = flow * 101325.0 * 44.1e-3 / (8.314462618 * 300.0) * 46.36e6
    assert power == pytest.approx(133.0, rel=0.06)  # 3 % of flow, and 3 % of his rounded density


SPALDING = [
    # heating value, air-fuel ratio, latent heat and heat capacity of the liquid, boiling point, B published
    ("methanol", 19.94e6, 6.47, 1101e3, 2535.0, 337.7, 2.5),
    ("ethanol", 26.82e6, 9.00, 849.6e3, 2434.0, 351.5, 2.9),
    ("2-propanol", 30.45e6, 10.35, 665e3, 2582.0, 355.4, 3.4),
    ("acetone", 28.54e6, 9.52, 501e3, 2143.0, 329.2, 5.1),
]


@pytest.mark.parametrize(("name", "heat", "ratio", "latent", "cp_liquid", "boiling_point", "published"), SPALDING)
def test_spalding_number(name, heat, ratio, latent, cp_liquid, boiling_point, published):
    """Quintiere, Fundamentals of Fire Phenomena (from memory, unverified), air of 25 degC.

    No radiation: within 6 %.
    """
    gasification = latent + cp_liquid * (boiling_point - 298.15)
    b = evaporation.spalding_number(heat, ratio, gasification, 1000.0, 298.15, boiling_point, 0.0)
    assert b == pytest.approx(published, rel=0.06), name


def test_burning_band_of_methanol():
    """A wick band burns 12 to 18 g/m2/s (common practice, no source): film theory, 30 % of the middle."""
    b = evaporation.spalding_number(19.94e6, 6.47, 1.2e6, 1200.0, 293.0, 337.7, 0.1)
    h = convection.vertical_wall(0.012, 337.7, 1500.0)
    assert evaporation.film_burning_flux(h, 1200.0, b) == pytest.approx(15e-3, rel=0.30)


def test_side_wall_of_a_pot():
    """100 degC in air of 20 degC, 0.1 m high: Nu 25, h 7.2 W/m2/K.

    By the `ht` library and CoolProp; within 10 %.
    """
    from CoolProp.CoolProp import PropsSI
    from ht import Nu_vertical_plate_Churchill

    film = 333.15
    k, pr, mu, rho = (PropsSI(x, "T", film, "P", 101325.0, "Air") for x in ("L", "PRANDTL", "V", "D"))
    nusselt = Nu_vertical_plate_Churchill(Pr=pr, Gr=9.80665 / film * 80.0 * 0.1**3 * (rho / mu) ** 2)
    h = convection.vertical_wall(0.1, 373.15, 293.15)
    assert h == pytest.approx(nusselt * k / 0.1, rel=0.01)
    assert h == pytest.approx(7.2, rel=0.10)
    assert h * 0.1 / k == pytest.approx(25.0, rel=0.10)


@pytest.mark.parametrize(("celsius", "published"), [(60.0, 3.0), (80.0, 8.7), (90.0, 14.0), (95.0, 17.6)])
def test_open_water(celsius, published):
    """Still air of 20 degC and 50 %, kg/m2/h (Shah 2002): within a factor 1.5.

    Vapour pressures by CoolProp.
    """
    from CoolProp.CoolProp import PropsSI

    surface = celsius + 273.15
    y = PropsSI("P", "T", surface, "Q", 0, "Water") / 101325.0
    y_air = 0.5 * PropsSI("P", "T", 293.15, "Q", 0, "Water") / 101325.0
    ours = 3600.0 * evaporation.water_evaporation(surface, y, 293.15, y_air, 101325.0)
    assert math.log(ours / published) == pytest.approx(0.0, abs=math.log(1.5))


@pytest.mark.parametrize(("gap", "published"), [(10e-6, 3600.0), (25e-6, 1100.0), (100e-6, 275.0)])
def test_joint_of_aluminium_in_air(gap, published):
    """Incropera & DeWitt table 3.1 for 10 micrometres (from memory, unverified).

    Wider gaps by conduction: factor 2.
    """
    assert math.log(contact.gap_conductance(gap, 0.0263) / published) == pytest.approx(0.0, abs=math.log(2.0))


def test_boiling_ethanol():
    """Cooper 1984 at 10 kW/m2: a superheat of about 6 K (by the `ht` library), within 30 %."""
    from ht import Cooper

    h = Cooper(P=101325.0, Pc=6.268e6, MW=46.069, q=1e4)
    c = boiling.cooper_coefficient(101325.0 / 6.268e6, 46.069)
    assert boiling.cooper_heat_flux(1e4 / h, c) == pytest.approx(1e4, rel=0.02)
    assert 1e4**0.33 / c == pytest.approx(6.0, rel=0.30)


def test_flame_bathed_thin_wall():
    """20 to 60 W/m2/K at an effective 1200 to 1500 K (common practice, no source)."""
    for gas in (1200.0, 1500.0):
        film = convection.air_conductivity(0.5 * (gas + 450.0))
        for standoff in (1.5e-3, 2e-3, 3e-3):
            bathing = film / standoff
            draught = convection.vertical_wall(0.010, 450.0, gas)
            assert 20.0 < convection.mixed_coefficient(bathing, draught) < 60.0


def test_gas_under_a_pot():
    """10 to 30 W/m2/K on a pot's bottom (common practice, no source): a stream of 62 mm at some 1 m/s."""
    for speed in (0.7, 1.0, 1.5):
        assert 10.0 < convection.stagnation_disc(speed, 0.062, 800.0) < 30.0
