"""Combustion of the fuels against formation enthalpies, pool fire data and other flame temperatures."""

import cantera
import chemicals
import pytest
from CoolProp.CoolProp import PropsSI

from burnsim.closures import combustion as co
from burnsim.closures.stoichiometry import AIR_MOLAR_MASS, OXYGEN
from burnsim.substances.tables import SUBSTANCES

CAS = {"methanol": "67-56-1", "ethanol": "64-17-5", "2-propanol": "67-63-0", "acetone": "67-64-1"}
MASS = {name: chemicals.MW(cas) * 1e-3 for name, cas in CAS.items()}


def values(name: str) -> tuple[float, float]:
    """Lower and higher heating value [J/kg]."""
    lower, higher = co.heating_values((name,), (SUBSTANCES[name].vapour_heat[0],))
    return lower[0] / MASS[name], higher[0] / MASS[name]


@pytest.mark.parametrize("name", CAS)
def test_heating_values_from_formation_enthalpies(name: str) -> None:
    """Liquid formation enthalpies of the CRC Handbook, as carried by `chemicals`; 0.5 %."""
    carbon, hydrogen, _ = co.ATOMS[name]
    liquid = chemicals.Hfl(CAS[name], "CRC")
    dioxide = chemicals.Hfg("124-38-9", "CRC")
    vapour, water = chemicals.Hfg("7732-18-5", "CRC"), chemicals.Hfl("7732-18-5", "CRC")
    lower = (liquid - carbon * dioxide - hydrogen / 2 * vapour) / MASS[name]
    higher = (liquid - carbon * dioxide - hydrogen / 2 * water) / MASS[name]
    assert values(name) == pytest.approx((lower, higher), rel=0.005)


@pytest.mark.parametrize("name", CAS)
@pytest.mark.parametrize("method", ["ATCT_G", "CRC"])
def test_gas_formation_enthalpies(name: str, method: str) -> None:
    """Active Thermochemical Tables and CRC Handbook, as carried by `chemicals`; 0.1 % of the heat."""
    allowed = 1e-3 * values(name)[0] * MASS[name]
    assert co._vapour_enthalpy(name, 298.15) == pytest.approx(chemicals.Hfg(CAS[name], method), abs=allowed)


def test_acetone_data_are_those_named() -> None:
    """Formation enthalpy of CRC and heat capacity of Poling, as carried by `chemicals`."""
    assert chemicals.Hfg(CAS["acetone"], "CRC") == co._ACETONE_FORMATION
    row = chemicals.heat_capacity.Cp_data_Poling.loc[CAS["acetone"]]
    assert [float(row[f"a{k}"]) for k in range(5)] == pytest.approx(co._ACETONE_CP, rel=1e-12)


@pytest.mark.parametrize(
    ("name", "cp"), [("methanol", 44.1), ("ethanol", 65.6), ("2-propanol", 89.3), ("acetone", 74.5)]
)
def test_vapour_heat_capacities(name: str, cp: float) -> None:
    """Ideal gas at 298.15 K [J/mol/K], CRC Handbook (from memory, unverified); 1 %."""
    slope = (co._vapour_enthalpy(name, 299.15) - co._vapour_enthalpy(name, 297.15)) / 2.0
    assert slope == pytest.approx(cp, rel=0.01)


def test_methanol_heating_value_of_pool_fire_data() -> None:
    """19.94 MJ/kg, NIST MaCFP methanol pool fires."""
    assert values("methanol")[0] == pytest.approx(19.94e6, rel=0.005)


@pytest.mark.parametrize("name", CAS)
def test_air_from_formula(name: str) -> None:
    """Stoichiometry by `chemicals` for 20.95 % of oxygen in dry air."""
    carbon, hydrogen, oxygen = co.ATOMS[name]
    atoms = chemicals.simple_formula_parser(chemicals.search_chemical(CAS[name]).formula)
    assert atoms == {"C": carbon, "H": hydrogen, "O": oxygen}
    coefficients = chemicals.combustion_stoichiometry(atoms)
    assert co.stoichiometric_air((name,))[0] == pytest.approx(-coefficients["O2"] / 0.2095, rel=1e-12)


@pytest.mark.parametrize(
    ("name", "ratio", "volume_percent"),
    [("methanol", 6.47, 12.3), ("ethanol", 9.00, 6.53), ("2-propanol", 10.35, 4.45), ("acetone", 9.52, 4.98)],
)
def test_air_fuel_ratio(name: str, ratio: float, volume_percent: float) -> None:
    """Handbook air-fuel ratios by mass and stoichiometric vapour shares (ethanol 9.0, methanol 6.5); 1 %."""
    air = co.stoichiometric_air((name,))[0]
    assert air * AIR_MOLAR_MASS / MASS[name] == pytest.approx(ratio, rel=0.01)
    assert 100.0 / (1.0 + air) == pytest.approx(volume_percent, rel=0.01)


def test_molar_mass_of_air() -> None:
    """28.9652 g/mol, Lemmon et al. 2000, the value in CoolProp."""
    assert pytest.approx(PropsSI("M", "Air"), rel=1e-3) == AIR_MOLAR_MASS


@pytest.mark.parametrize("name", CAS)
def test_heat_per_oxygen(name: str) -> None:
    """13.1 MJ per kg of oxygen, Huggett 1980 (from memory, unverified); 5 %."""
    oxygen = co.stoichiometric_air((name,))[0] * OXYGEN * 31.9988e-3 / MASS[name]
    assert values(name)[0] / oxygen == pytest.approx(13.1e6, rel=0.05)


def other_flame_temperature(formation: float, atoms: tuple[int, int, int]) -> float:
    """Stoichiometric flame of a fuel of given formation enthalpy [J/mol], by the species of GRI-Mech 3.0."""
    gas = cantera.Solution("gri30.yaml", transport_model=None)
    carbon, hydrogen, oxygen = atoms
    air = (carbon + hydrogen / 4 - oxygen / 2) / 0.2095
    amounts = {"CO2": carbon, "H2O": hydrogen / 2, "N2": 0.7811 * air, "AR": 0.0094 * air}
    gas.TPX = 2000.0, 101325.0, amounts
    mass = sum(amounts.values()) * gas.mean_molecular_weight * 1e-3
    gas.HP = formation / mass, 101325.0
    gas.equilibrate("HP")
    return float(gas.T)


@pytest.mark.parametrize("name", CAS)
@pytest.mark.parametrize("liquid", [False, True])
def test_flame_temperature_by_another_mechanism(name: str, liquid: bool) -> None:
    """Formation enthalpies of CRC (`chemicals`) and the thermodynamic data of GRI-Mech 3.0; 5 K."""
    formation = chemicals.Hfl(CAS[name], "CRC") if liquid else chemicals.Hfg(CAS[name], "CRC")
    other = other_flame_temperature(formation, co.ATOMS[name])
    assert co.adiabatic_flame_temperature((name,), (1.0,), liquid=liquid) == pytest.approx(other, abs=5.0)


@pytest.mark.parametrize("phi", [0.6, 0.8, 1.2, 1.5])
def test_methanol_flames_lean_and_rich(phi: float) -> None:
    """GRI-Mech 3.0 has methanol of its own; 5 K."""
    gas = cantera.Solution("gri30.yaml", transport_model=None)
    gas.TP = 298.15, 101325.0
    gas.set_equivalence_ratio(phi, "CH3OH", {"O2": 0.2095, "N2": 0.7811, "AR": 0.0094})
    gas.equilibrate("HP")
    assert co.adiabatic_flame_temperature(("methanol",), (1.0,), phi) == pytest.approx(gas.T, abs=5.0)


def test_enthalpy_of_air_and_burnt_gas_by_another_library() -> None:
    """CoolProp's reference equations of state in the limit of no pressure; 0.5 %."""
    for T in (400.0, 800.0, 1200.0, 1600.0):
        gas = co.products(("ethanol",), (1.0,), 2.0)
        names = ("CarbonDioxide", "Water", "Oxygen", "Nitrogen", "Argon")
        total = 0.0
        for y, name in zip(gas[:5], names, strict=True):
            rise = [PropsSI("HMOLAR", "T", t, "P", 1.0, name) for t in (T, 298.15)]
            total += y * (rise[0] - rise[1])
        assert co.product_enthalpy(gas, T) == pytest.approx(total / gas.molar_mass, rel=0.005)


@pytest.mark.parametrize("name", CAS)
def test_latent_heat_is_that_of_the_handbooks(name: str) -> None:
    """Formation enthalpies of gas less liquid, the datum of the heating values; 1.5 %.

    Active Thermochemical Tables where they hold both, else CRC, as carried by `chemicals`. (For methanol CRC
    has 38.2 kJ/mol, the tables 37.7.)
    """
    liquid = chemicals.Hfl(CAS[name], "ATCT_L" if "ATCT_L" in chemicals.reaction.Hfl_methods(CAS[name]) else "CRC")
    gas = chemicals.Hfg(CAS[name], "ATCT_G" if "ATCT_L" in chemicals.reaction.Hfl_methods(CAS[name]) else "CRC")
    assert SUBSTANCES[name].vapour_heat[0] == pytest.approx(gas - liquid, rel=0.015)
