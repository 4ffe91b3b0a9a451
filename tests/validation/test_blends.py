"""Blends against published equilibrium, density, viscosity and surface-tension data."""

import pytest

from burnsim.substances import fuel
from burnsim.substances.blend import blend, density, fuel_record
from burnsim.substances.equilibrium import bubble_temperature, vapour_composition

P = 101325.0
KELVIN = 273.15


def in_celsius(T):
    return T - KELVIN


def azeotrope(first, second, low, high):
    """Mole fraction of the first and temperature [K] where vapour and liquid agree, by bisection."""
    rec = fuel_record(blend({first: 0.5, second: 0.5}, "mole"))
    index = blend({first: 0.5, second: 0.5}, "mole").components.index(first)

    def state(x):
        z = (x, 1.0 - x) if index == 0 else (1.0 - x, x)
        T = bubble_temperature(z, P, rec)
        return vapour_composition(z, T, rec)[index] - x, T

    assert state(low)[0] > 0.0 > state(high)[0]
    for _ in range(60):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if state(middle)[0] > 0.0 else (low, middle)
    return middle, state(middle)[1]


def by_mass(x, first, second):
    a, b = (fuel_record(blend(n)).molar_mass[0] if n != "water" else 0.0180153 for n in (first, second))
    return 100.0 * x * a / (x * a + (1.0 - x) * b)


def test_ethanol_and_water_azeotrope():
    # Evans (1916), as quoted by handbooks: 95.6 mass %, 78.17 degC
    x, T = azeotrope("ethanol", "water", 0.6, 0.98)
    assert by_mass(x, "ethanol", "water") == pytest.approx(95.6, abs=0.3)
    assert in_celsius(T) == pytest.approx(78.17, abs=0.2)


def test_2_propanol_and_water_azeotrope():
    # CRC Handbook and Lange's Handbook: 87.7 to 87.9 mass %, 80.4 degC (from memory, unverified)
    x, T = azeotrope("2-propanol", "water", 0.4, 0.95)
    assert by_mass(x, "2-propanol", "water") == pytest.approx(87.8, abs=0.6)
    assert in_celsius(T) == pytest.approx(80.4, abs=0.3)


def test_acetone_and_methanol_azeotrope():
    # handbooks: acetone mole fraction 0.80, 55.5 degC (from memory, unverified)
    x, T = azeotrope("acetone", "methanol", 0.3, 0.98)
    assert x == pytest.approx(0.80, abs=0.03)
    assert in_celsius(T) == pytest.approx(55.5, abs=0.5)


def test_no_azeotrope_of_methanol_and_water():
    rec = fuel_record(blend("methanol 90"))
    for x in (0.02, 0.2, 0.5, 0.8, 0.98):
        T = bubble_temperature((x, 1.0 - x), P, rec)
        assert vapour_composition((x, 1.0 - x), T, rec)[0] > x


@pytest.mark.parametrize(
    ("x", "y", "celsius"),
    # Carey and Lewis (1932), Ind. Eng. Chem. 24, 882; the first point as published, the others from memory,
    # unverified
    [(0.0721, 0.3891, 89.0), (0.1238, 0.4704, 85.3), (0.2337, 0.5445, 82.7), (0.3273, 0.5826, 81.5),
     (0.5079, 0.6564, 79.8), (0.6763, 0.7385, 78.74)],
)  # fmt: skip
def test_ethanol_and_water_equilibrium(x, y, celsius):
    rec = fuel_record(blend("ethanol 95"))
    T = bubble_temperature((x, 1.0 - x), P, rec)
    assert in_celsius(T) == pytest.approx(celsius, abs=1.0)
    assert vapour_composition((x, 1.0 - x), T, rec)[0] == pytest.approx(y, abs=0.02)


@pytest.mark.parametrize(
    ("x", "y", "celsius"),
    # methanol and water at 1 atm, Perry's Handbook (from memory, unverified)
    [(0.10, 0.418, 87.7), (0.20, 0.579, 81.7), (0.40, 0.729, 75.3), (0.60, 0.825, 71.2), (0.80, 0.915, 67.6)],
)
def test_methanol_and_water_equilibrium(x, y, celsius):
    rec = fuel_record(blend("methanol 90"))
    T = bubble_temperature((x, 1.0 - x), P, rec)
    assert in_celsius(T) == pytest.approx(celsius, abs=1.0)
    assert vapour_composition((x, 1.0 - x), T, rec)[0] == pytest.approx(y, abs=0.02)


@pytest.mark.filterwarnings(
    "ignore::DeprecationWarning",
    "ignore::SyntaxWarning",
    "ignore::ResourceWarning",
    "ignore::pytest.PytestUnraisableExceptionWarning",
)
@pytest.mark.parametrize("name", ["ethanol 95", "2-propanol 91", "2-propanol 70", "methanol 90"])
def test_bubble_points_meet_unifac(name):
    """Dortmund UNIFAC and library vapour pressures (not those of the tables), solved here."""
    thermo = pytest.importorskip("thermo")
    from thermo.unifac import DOUFIP2016, DOUFSG, UNIFAC

    groups = {
        "methanol": {15: 1},
        "ethanol": {1: 1, 2: 1, 14: 1},
        "2-propanol": {1: 2, 3: 1, 81: 1},
        "water": {16: 1},
    }
    cas = {"methanol": "67-56-1", "ethanol": "64-17-5", "2-propanol": "67-63-0", "water": "7732-18-5"}
    made = blend(name)
    curves = [thermo.VaporPressure(CASRN=cas[n]) for n in made.components]

    def total(T):
        model = UNIFAC.from_subgroups(
            T,
            list(made.mole_fractions),
            [groups[n] for n in made.components],
            version=1,
            interaction_data=DOUFIP2016,
            subgroups=DOUFSG,
        )
        parts = zip(made.mole_fractions, model.gammas(), curves, strict=True)
        return sum(x * g * c.calculate(T, "DIPPR_PERRY_8E") for x, g, c in parts)

    low, high = 320.0, 380.0
    for _ in range(50):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if total(middle) < P else (low, middle)
    assert bubble_temperature(made.mole_fractions, P, fuel_record(made)) == pytest.approx(low, abs=0.5)


# OIML R 22 (1973), density of ethanol and water at 20 degC [kg/m3], powers of the mass fraction (from
# memory). The tables use the same formula for their fit: this checks the fit and the ends, the reference
# library checks the formula.
OIML = (998.20123, -192.9769495, 389.1238958, -1668.103923, 13522.15441, -88292.78388,
        306287.4042, -613838.1234, 747017.2998, -547846.1354, 223446.0334, -39032.85426)  # fmt: skip


def test_alcohol_table_coefficients_end_at_the_pure_liquids():
    assert OIML[0] == pytest.approx(998.20, abs=0.01)
    assert sum(OIML) == pytest.approx(789.24, abs=0.01)


@pytest.mark.parametrize("percent", range(5, 101, 5))
def test_ethanol_and_water_density_meets_the_alcohol_tables(percent):
    w = percent / 100.0
    expected = sum(c * w**k for k, c in enumerate(OIML))
    made = blend({"ethanol": w, "water": 1.0 - w}, "mass") if w < 1.0 else blend("ethanol")
    assert density(made) == pytest.approx(expected, rel=3e-3)


@pytest.mark.parametrize(("percent", "name", "code"), [
    (p, n, c) for n, c in (("ethanol", "MEA"), ("methanol", "MMA")) for p in (10, 20, 30, 40, 50, 58)
])  # fmt: skip
@pytest.mark.parametrize("celsius", [20.0, 30.0, 40.0])
def test_aqueous_density_and_viscosity_meet_the_reference_library(percent, name, code, celsius):
    # secondary coolants of the library: Melinder's data, independent of ours
    CP = pytest.importorskip("CoolProp.CoolProp")
    w, T = percent / 100.0, KELVIN + celsius
    fluid = f"INCOMP::{code}[{w}]"
    made = blend({name: w, "water": 1.0 - w}, "mass")
    assert density(made, T) == pytest.approx(CP.PropsSI("D", "T", T, "P", 1e6, fluid), rel=5e-3)
    viscosity = CP.PropsSI("V", "T", T, "P", 1e6, fluid)
    assert fuel.viscosity(T, fuel_record(made)) == pytest.approx(viscosity, rel=0.10)


def test_ideal_mixing_would_fail():
    """The excess volume matters: 40 mass per cent of ethanol contracts by about 3.5 %."""
    w = 0.4
    ideal = 1.0 / (w / 789.24 + (1.0 - w) / 998.20)
    made = density(blend({"ethanol": w, "water": 1.0 - w}, "mass"))
    assert made / ideal - 1.0 == pytest.approx(0.035, abs=0.01)


@pytest.mark.parametrize(
    ("name", "percent", "value"),
    # 50 ml and 50 ml of ethanol and water make about 96.4 ml (textbooks, from memory, unverified)
    [("ethanol", 50, 96.4)],
)
def test_contraction_on_mixing(name, percent, value):
    made = blend({name: percent / 100.0, "water": 1.0 - percent / 100.0}, "volume")
    before = percent / 100.0 * 789.24 + (1.0 - percent / 100.0) * 998.20
    assert 100.0 * before / density(made) == pytest.approx(value, abs=0.4)


@pytest.mark.parametrize(
    ("name", "mass_percent", "value"),
    # Vazquez, Alvarez and Navaza (1995), J. Chem. Eng. Data 40, 611, at 25 degC (from memory, unverified)
    # [mN/m]. The tables are fitted to the same data: this checks the form of the law.
    [("ethanol", 40, 30.16), ("ethanol", 80, 23.82), ("ethanol", 90, 22.72), ("2-propanol", 50, 24.26),
     ("2-propanol", 90, 21.69), ("methanol", 50, 32.86), ("methanol", 90, 23.93)],
)  # fmt: skip
def test_surface_tension_of_aqueous_alcohols(name, mass_percent, value):
    made = blend({name: mass_percent / 100.0, "water": 1.0 - mass_percent / 100.0}, "mass")
    assert 1e3 * fuel.surface_tension(298.15, fuel_record(made)) == pytest.approx(value, rel=0.04)
