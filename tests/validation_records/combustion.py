"""Combustion of the fuels against formation enthalpies, pool fire data and other flame temperatures."""

from collections.abc import Iterator
from functools import cache, partial

from validation_records.record import LIBRARY, MEMORY, PUBLISHED, Record

from burnsim.closures import combustion as co
from burnsim.constants import AIR_MOLAR_MASS, OXYGEN
from burnsim.substances.catalogue import SUBSTANCES

ROOM = "combustion"
CAS = {"methanol": "67-56-1", "ethanol": "64-17-5", "2-propanol": "67-63-0", "acetone": "67-64-1"}
AIR = {"O2": 0.20939, "N2": 0.780878, "AR": 0.009332, "CO2": 0.0004}  # CIPM-2007


def mass(name: str) -> float:
    return SUBSTANCES[name].molar_mass


@cache
def ours(name: str) -> tuple[float, float]:
    """Lower and higher heating value [MJ/kg]."""
    lower, higher = co.heating_values((name,), (SUBSTANCES[name].vapour_heat[0],))
    return 1e-6 * lower[0] / mass(name), 1e-6 * higher[0] / mass(name)


def formed(name: str, lower: bool) -> float:
    """Heating value from liquid formation enthalpies [MJ/kg]."""
    import chemicals

    carbon, hydrogen, _ = SUBSTANCES[name].atoms
    water = chemicals.Hfg("7732-18-5", "CRC") if lower else chemicals.Hfl("7732-18-5", "CRC")
    heat = chemicals.Hfl(CAS[name], "CRC") - carbon * chemicals.Hfg("124-38-9", "CRC") - hydrogen / 2 * water
    return 1e-6 * float(heat) / (chemicals.MW(CAS[name]) * 1e-3)


def gas_formation(name: str, method: str) -> float:
    import chemicals

    return 1e-3 * float(chemicals.Hfg(CAS[name], method))


def library_air(name: str) -> float:
    import chemicals

    atoms = chemicals.simple_formula_parser(chemicals.search_chemical(CAS[name]).formula)
    return float(-chemicals.combustion_stoichiometry(atoms)["O2"] / AIR["O2"])


def other_flame(name: str, liquid: bool) -> float:
    """Stoichiometric flame by the formation enthalpy of CRC and the species of GRI-Mech 3.0 [K]."""
    import cantera
    import chemicals

    gas = cantera.Solution("gri30.yaml", transport_model=None)
    carbon, hydrogen, oxygen = SUBSTANCES[name].atoms
    air = (carbon + hydrogen / 4 - oxygen / 2) / AIR["O2"]
    amounts = {"CO2": carbon + AIR["CO2"] * air, "H2O": hydrogen / 2, "N2": AIR["N2"] * air, "AR": AIR["AR"] * air}
    gas.TPX = 2000.0, 101325.0, amounts
    total = sum(amounts.values()) * gas.mean_molecular_weight * 1e-3
    formation = chemicals.Hfl(CAS[name], "CRC") if liquid else chemicals.Hfg(CAS[name], "CRC")
    gas.HP = formation / total, 101325.0
    gas.equilibrate("HP")
    return float(gas.T)


def gri_methanol(phi: float) -> float:
    import cantera

    gas = cantera.Solution("gri30.yaml", transport_model=None)
    gas.TP = 298.15, 101325.0
    gas.set_equivalence_ratio(phi, "CH3OH", AIR)
    gas.equilibrate("HP")
    return float(gas.T)


def burnt_gas(T: float) -> tuple[float, float]:
    """Enthalpy of lean burnt gas above 298.15 K, by CoolProp in the limit of no pressure, and ours [kJ/kg]."""
    from CoolProp.CoolProp import PropsSI

    gas = co.products(("ethanol",), (1.0,), 2.0)
    names = ("CarbonDioxide", "Water", "Oxygen", "Nitrogen", "Argon")
    total = 0.0
    for y, name in zip(gas[:5], names, strict=True):
        total += y * (PropsSI("HMOLAR", "T", T, "P", 1.0, name) - PropsSI("HMOLAR", "T", 298.15, "P", 1.0, name))
    return 1e-3 * total / gas.molar_mass, 1e-3 * co.product_enthalpy(gas, T)


def air_mass() -> float:
    from CoolProp.CoolProp import PropsSI

    return float(PropsSI("M", "Air"))


def evaporation(name: str) -> float:
    """Formation enthalpy of gas less liquid: Active Thermochemical Tables where they hold both, else CRC [kJ/mol]."""
    import chemicals

    table = "ATCT" if "ATCT_L" in chemicals.reaction.Hfl_methods(CAS[name]) else ""
    liquid = chemicals.Hfl(CAS[name], "ATCT_L" if table else "CRC")
    return 1e-3 * float(chemicals.Hfg(CAS[name], "ATCT_G" if table else "CRC") - liquid)


def vapour_cp(name: str) -> float:
    return (co._vapour_enthalpy(SUBSTANCES[name], 299.15) - co._vapour_enthalpy(SUBSTANCES[name], 297.15)) / 2.0


def records() -> Iterator[Record]:
    crc = "formation enthalpies of the CRC Handbook, by chemicals"
    for name in CAS:
        for k, what in enumerate(("lower", "higher")):
            yield Record(
                ROOM,
                f"{what} heating value, liquid fuel",
                name,
                "MJ/kg",
                partial(formed, name, k == 0),
                lambda n=name, k=k: ours(n)[k],
                0.005,
                "relative",
                crc,
                LIBRARY,
            )
        for method, source in (("ATCT_G", "Active Thermochemical Tables, by chemicals"), ("CRC", crc)):
            yield Record(
                ROOM,
                "formation enthalpy of the vapour",
                f"{name}, {method[:4]}",
                "kJ/mol",
                partial(gas_formation, name, method),
                lambda n=name: 1e-3 * co._vapour_enthalpy(SUBSTANCES[n], 298.15),
                mass(name) * formed(name, True),
                "absolute",
                source,
                LIBRARY,
            )
        yield Record(
            ROOM,
            "latent heat from formation enthalpies",
            name,
            "kJ/mol",
            partial(evaporation, name),
            lambda n=name: 1e-3 * SUBSTANCES[n].vapour_heat[0],
            0.015,
            "relative",
            "Active Thermochemical Tables or CRC, by chemicals",
            LIBRARY,
        )
        yield Record(
            ROOM,
            "air for complete burning, from the formula",
            name,
            "mol/mol",
            partial(library_air, name),
            lambda n=name: co.stoichiometric_air((n,))[0],
            1e-9,
            "relative",
            "chemicals, 20.939 % oxygen (CIPM-2007)",
            LIBRARY,
        )
        yield Record(
            ROOM,
            "heat per kilogram of oxygen",
            name,
            "MJ/kg",
            13.1,
            lambda n=name: ours(n)[0] * mass(n) / (co.stoichiometric_air((n,))[0] * OXYGEN * 31.9988e-3),
            0.05,
            "relative",
            "Huggett 1980",
            MEMORY,
        )
        for liquid in (False, True):
            yield Record(
                ROOM,
                "adiabatic flame temperature",
                f"{name}, {'liquid' if liquid else 'vapour'}",
                "K",
                partial(other_flame, name, liquid),
                lambda n=name, q=liquid: co.adiabatic_flame_temperature((n,), (1.0,), liquid=q),
                5.0,
                "absolute",
                "GRI-Mech 3.0 species and CRC enthalpies",
                LIBRARY,
            )
    yield Record(
        ROOM,
        "lower heating value of methanol in pool fires",
        "",
        "MJ/kg",
        19.94,
        lambda: ours("methanol")[0],
        0.005,
        "relative",
        "NIST MaCFP",
        PUBLISHED,
    )
    for name, cp in (("methanol", 44.1), ("ethanol", 65.6), ("2-propanol", 89.3), ("acetone", 74.5)):
        yield Record(
            ROOM,
            "heat capacity of the vapour at 298 K",
            name,
            "J/mol/K",
            cp,
            partial(vapour_cp, name),
            0.01,
            "relative",
            "CRC Handbook",
            MEMORY,
        )
    for name, ratio, share in (
        ("methanol", 6.47, 12.3),
        ("ethanol", 9.00, 6.53),
        ("2-propanol", 10.35, 4.45),
        ("acetone", 9.52, 4.98),
    ):
        yield Record(
            ROOM,
            "air-fuel ratio by mass",
            name,
            "kg/kg",
            ratio,
            lambda n=name: co.stoichiometric_air((n,))[0] * AIR_MOLAR_MASS / mass(n),
            0.01,
            "relative",
            "handbooks",
            MEMORY,
        )
        yield Record(
            ROOM,
            "stoichiometric share of vapour",
            name,
            "%",
            share,
            lambda n=name: 100.0 / (1.0 + co.stoichiometric_air((n,))[0]),
            0.01,
            "relative",
            "handbooks",
            MEMORY,
        )
    for phi in (0.6, 0.8, 1.2, 1.5):
        yield Record(
            ROOM,
            "flame temperature of methanol, lean and rich",
            f"phi {phi:g}",
            "K",
            partial(gri_methanol, phi),
            lambda p=phi: co.adiabatic_flame_temperature(("methanol",), (1.0,), p),
            5.0,
            "absolute",
            "GRI-Mech 3.0",
            LIBRARY,
        )
    for T in (400.0, 800.0, 1200.0, 1600.0):
        yield Record(
            ROOM,
            "enthalpy of burnt gas",
            f"{T:g} K",
            "kJ/kg",
            lambda T=T: burnt_gas(T)[0],
            lambda T=T: burnt_gas(T)[1],
            0.005,
            "relative",
            "CoolProp",
            LIBRARY,
        )
    yield Record(
        ROOM,
        "molar mass of air",
        "",
        "kg/mol",
        air_mass,
        lambda: AIR_MOLAR_MASS,
        1e-3,
        "relative",
        "Lemmon et al. 2000, in CoolProp",
        LIBRARY,
    )
