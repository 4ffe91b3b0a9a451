"""Heating values, flame temperature and burnt gas of the fuels. The one room that imports Cantera.

What the integration needs is a `CombustionRecord`, made once per blend and kept in the user's cache folder.
Heating values count from LIQUID fuel at 298.15 K to gaseous products at 298.15 K, so that the latent heat is
charged once.
"""

from dataclasses import dataclass, fields
from functools import lru_cache
from importlib.util import find_spec
from math import isfinite
from pathlib import Path
from typing import Any

from burnsim.bounds import at_least, at_most
from burnsim.closures._record_store import content_key, fetch, keep
from burnsim.closures.flammability import LOWER_LIMIT, RADIANT_FRACTION, UPPER_LIMIT
from burnsim.closures.stoichiometry import (
    ATOMS,
    DRY_AIR,
    Products,
    checked_fuel,
    known,
    mean,
    products,
    stoichiometric_air,
)
from burnsim.constants import ARGON, ATMOSPHERE, CARBON_DIOXIDE, DATUM, GAS_CONSTANT, NITROGEN, OXYGEN
from burnsim.errors import InputError
from burnsim.substances.tables import SUBSTANCES

WATER_CONDENSATION = 44.003e3
"""Latent heat of water at 298.15 K [J/mol]; Active Thermochemical Tables, as carried by `chemicals`."""

__all__ = [
    "ATOMS",
    "CombustionRecord",
    "Products",
    "adiabatic_flame_temperature",
    "combustion_record",
    "heating_values",
    "product_enthalpy",
    "products",
    "stoichiometric_air",
]

_SPECIES = {"methanol": "CH3OH", "ethanol": "C2H5OH", "2-propanol": "C3H8O,2propanol", "water": "H2O"}
_PRODUCTS = ("N2", "O2", "Ar", "CO2", "H2O", "CO", "H2", "OH", "H", "O", "NO")
_ACETONE_FORMATION = -217.1e3  # gas at 298.15 K [J/mol]; CRC Handbook, as carried by `chemicals`
_ACETONE_CP = (5.126, 1.511e-3, 5.731e-5, -7.177e-8, 2.728e-11)  # cp/R, 200..1000 K; Poling 2001, appendix A
_FUEL_TEMPERATURE = 330.0  # of the vapour in `flame_temperature` [K]
_HOTTEST = 2000.0  # end of the fitted heat capacities [K]
_RECIPE = 3  # raise it when a record means something new


@dataclass(frozen=True, slots=True)
class CombustionRecord:
    """Combustion of one blend as numbers; one entry per component where plural. th = T - 298.15 K."""

    heating_value: tuple[
        float, ...
    ]  # lower, liquid at 298.15 K to gases at 298.15 K [J/mol]; water: less its latent heat
    higher_heating_value: tuple[float, ...]  # [J/mol]; water 0
    air_moles: tuple[float, ...]  # stoichiometric dry air per mole; water 0
    lower_limit: tuple[float, ...]  # lower flammable limit, mole fraction in air; water 1e9
    upper_limit: tuple[float, ...]
    flame_temperature: tuple[float, ...]  # sum c_k s^k [K], s = water mass fraction of the vapour, 0 to 0.8
    product_heat: tuple[float, float]  # burnt gas without excess air, a*th + b*th^2/2 [J/kg], to 2000 K
    air_heat: tuple[float, float]  # the same for dry air
    radiant_fraction: float


def combustion_record(
    components: tuple[str, ...], mole_fractions: tuple[float, ...], latent_heat: tuple[float, ...]
) -> CombustionRecord:
    """Combustion of a blend as a flat record for the integration, from memory or disk when made before.

    Parameters
    ----------
    components : of the blend, names as in `ATOMS`.
    mole_fractions : of the liquid charge [-].
    latent_heat : of each component at 298.15 K [J/mol]; the `vapour_heat[i][0]` of the fuel record, so that
        vapour burns with the energy that evaporating took plus that of the liquid.

    Returns
    -------
    CombustionRecord. Flame temperatures are of the equilibrium, stoichiometric, dry air at 298.15 K, vapour
    at 330 K, 1 atm, organics in the proportion of the charge; the cubic holds within 5 K to s = 0.5, 10 K to
    0.7 and 40 K at 0.8. Enthalpies are of complete products and hold within 1 %.

    >>> rec = combustion_record(("methanol",), (1.0,), (37.5e3,))
    >>> round(rec.heating_value[0] / 32.042e-3 / 1e6, 1)  # 19.94 MJ/kg in NIST's pool fire data
    19.9

    Sources
    -------
    Cantera's `nasa_gas.yaml` (NASA Lewis polynomials). Acetone, which is not in it: formation enthalpy of the
    CRC Handbook, heat capacity of Poling, Prausnitz, O'Connell 2001, appendix A (both as carried by
    `chemicals`). Limits and radiant share: see `burnsim.closures.flammability`.
    """
    components, fractions = checked_fuel(components, mole_fractions)
    latent = tuple([float(h) for h in latent_heat])
    if len(latent) != len(components) or not all(isfinite(h) and 0.0 < h < 2e5 for h in latent):
        raise InputError(
            "latent_heat",
            latent_heat,
            "is not one molar latent heat per component, above 0 and below 200000 J/mol",
            "give fuel_record(blend).vapour_heat[i][0]",
        )
    return _remembered(components, fractions, latent)


def heating_values(
    components: tuple[str, ...], latent_heat: tuple[float, ...]
) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Lower and higher heating value of each liquid at 298.15 K.

    Parameters
    ----------
    components : names as in `ATOMS`.
    latent_heat : of each at 298.15 K [J/mol].

    Returns
    -------
    (lower, higher) [J/mol], products gaseous or with liquid water. Water releases nothing, and since it leaves as a gas
    its lower value is minus its latent heat: a watery spirit's lower heating value is that of the whole liquid.

    Notes
    -----
    LHV = h_f(fuel gas) - latent - C h_f(CO2) - H/2 h_f(H2O gas).

    >>> lower, higher = heating_values(("ethanol", "water"), (42.4e3, 44.0e3))
    >>> round(lower[0] / 46.068e-3 / 1e6, 1), round(higher[0] / 46.068e-3 / 1e6, 1)  # handbooks: 26.8, 29.7
    (26.8, 29.7)
    >>> lower[1], higher[1]
    (-44000.0, 0.0)
    """
    lower = []
    higher = []
    for name, latent in zip(known(components), latent_heat, strict=True):
        carbon, hydrogen, _ = ATOMS[name]
        if carbon == 0:
            lower.append(-latent)
            higher.append(0.0)
            continue
        burnt = carbon * _enthalpy("CO2", DATUM) + 0.5 * hydrogen * _enthalpy("H2O", DATUM)
        value = _vapour_enthalpy(name, DATUM) - latent - burnt
        lower.append(value)
        higher.append(value + 0.5 * hydrogen * WATER_CONDENSATION)
    return tuple(lower), tuple(higher)


def product_enthalpy(gas: Products, T: float) -> float:
    """Enthalpy of burnt gas above 298.15 K, water as vapour [J/kg], at T [K], 200 to 3000.

    >>> product_enthalpy(products(("ethanol",), (1.0,)), 298.15)
    0.0
    """
    return _gas_enthalpy(gas, T) / gas.molar_mass


def adiabatic_flame_temperature(
    components: tuple[str, ...],
    mole_fractions: tuple[float, ...],
    equivalence_ratio: float = 1.0,
    T: float = DATUM,
    pressure: float = ATMOSPHERE,
    liquid: bool = False,
) -> float:
    """Adiabatic flame temperature in dry air, at chemical equilibrium.

    Parameters
    ----------
    components, mole_fractions : of the fuel.
    equivalence_ratio : fuel over stoichiometric fuel, 0.3 to 1.8 [-].
    T : of fuel and air [K], 250 to 700 (liquid: to 380).
    pressure : [Pa].
    liquid : the fuel enters as liquid, and its evaporation cools the flame.

    Returns
    -------
    Temperature [K].

    >>> hot = adiabatic_flame_temperature(("methanol",), (1.0,))
    >>> 2200.0 < hot < 2250.0, adiabatic_flame_temperature(("methanol",), (1.0,), liquid=True) < hot - 50.0
    (True, True)
    """
    components, fractions = checked_fuel(components, mole_fractions)
    bounds = (
        ("equivalence_ratio", equivalence_ratio, 0.3, 1.8),
        ("T", T, 250.0, 380.0 if liquid else 700.0),
        ("pressure", pressure, 1e3, 1e6),
    )
    for field, value, low, high in bounds:
        if not low <= value <= high:
            raise InputError(field, value, f"is out of range; allowed {low:g} to {high:g}", "choose one inside")
    enthalpy = 0.0
    for name, x in zip(components, fractions, strict=True):
        if liquid:
            a, b = SUBSTANCES[name].liquid_heat
            above = (T - DATUM) * (a + 0.5 * b * (T - DATUM)) - SUBSTANCES[name].vapour_heat[0]
            enthalpy += x * (_vapour_enthalpy(name, DATUM) + above)
        else:
            enthalpy += x * _vapour_enthalpy(name, T)
    return _equilibrium(components, fractions, equivalence_ratio, enthalpy, T, pressure)


def _equilibrium(
    components: tuple[str, ...],
    fractions: tuple[float, ...],
    ratio: float,
    fuel_enthalpy: float,
    T_air: float,
    pressure: float,
) -> float:
    """Temperature at equilibrium of one mole of fuel of given enthalpy [J/mol] burnt with air at T_air."""
    import cantera

    air = mean(stoichiometric_air(components), fractions) / ratio
    moles = [mean([ATOMS[name][k] for name in components], fractions) for k in range(3)]
    start = {
        "C": moles[0] + CARBON_DIOXIDE * air,
        "H": moles[1],
        "O": moles[2] + 2.0 * (OXYGEN + CARBON_DIOXIDE) * air,
    }
    carbon_dioxide = at_most(start["C"], at_least(start["O"] - start["C"] - 0.5 * start["H"], 0.0))
    carbon_monoxide = start["C"] - carbon_dioxide
    left = start["O"] - start["C"] - carbon_dioxide
    water = at_most(0.5 * start["H"], left)
    gas = cantera.Solution(thermo="ideal-gas", species=[_species()[name] for name in _PRODUCTS])
    amounts = {
        "CO2": carbon_dioxide,
        "CO": carbon_monoxide,
        "H2O": water,
        "H2": 0.5 * start["H"] - water,
        "O2": 0.5 * (left - water),
        "N2": NITROGEN * air,
        "Ar": ARGON * air,
    }
    gas.TPX = 2000.0, pressure, amounts
    mass = sum(amounts.values()) * gas.mean_molecular_weight * 1e-3
    shares = (("O2", OXYGEN), ("N2", NITROGEN), ("Ar", ARGON), ("CO2", CARBON_DIOXIDE))
    air_enthalpy = sum(share * _enthalpy(name, T_air) for name, share in shares)
    gas.HP = (fuel_enthalpy + air * air_enthalpy) / mass, pressure
    gas.equilibrate("HP")
    return float(gas.T)


def _flame_polynomial(components: tuple[str, ...], fractions: tuple[float, ...]) -> tuple[float, ...]:
    """Fit the adiabatic flame temperature along the water mass fraction, watery ends counting less."""
    import numpy as np

    organics = tuple([name for name in components if name != "water"])
    weights = [x for name, x in zip(components, fractions, strict=True) if name != "water"]
    total = sum(weights)
    mass = mean([SUBSTANCES[name].molar_mass for name in organics], [w / total for w in weights])
    nodes = np.linspace(0.0, 0.8, 17)
    temperatures = []
    for s in nodes.tolist():
        water = s / (1.0 - s) * mass / SUBSTANCES["water"].molar_mass
        shares = (*(w / total / (1.0 + water) for w in weights), water / (1.0 + water))
        names = (*organics, "water")
        enthalpy = mean([_vapour_enthalpy(name, _FUEL_TEMPERATURE) for name in names], shares)
        temperatures.append(_equilibrium(names, shares, 1.0, enthalpy, DATUM, ATMOSPHERE))
    fit = np.polynomial.Polynomial.fit(nodes, temperatures, 3, w=1.0 - nodes)
    return tuple(fit.convert().coef.tolist())


def _heat_fit(gas: Products) -> tuple[float, float]:
    """Fit a and b of h = a*th + b*th^2/2 [J/kg], least squares of the relative error from 300 K to 2000 K."""
    th = [k * (_HOTTEST - DATUM) / 40 for k in range(1, 41)]
    mean = [product_enthalpy(gas, DATUM + t) / t for t in th]
    centre, level = sum(th) / len(th), sum(mean) / len(mean)
    slope = sum((t - centre) * (m - level) for t, m in zip(th, mean, strict=True)) / sum((t - centre) ** 2 for t in th)
    return level - slope * centre, 2.0 * slope


_ROWS = tuple(field.name for field in fields(CombustionRecord) if field.name != "radiant_fraction")


@lru_cache(maxsize=256)
def _remembered(
    components: tuple[str, ...], fractions: tuple[float, ...], latent: tuple[float, ...]
) -> CombustionRecord:
    """Record from the disk, or computed and put there."""
    n = len(components)
    key = content_key(_edition(), components, fractions, latent)
    rows = fetch(key, (n, n, n, n, n, 4, 2, 2, 1))
    if rows is None:
        made = _computed(components, fractions, latent)
        keep(key, [*(getattr(made, name) for name in _ROWS), (made.radiant_fraction,)])
        return made
    c = [tuple(row) for row in rows]
    return CombustionRecord(c[0], c[1], c[2], c[3], c[4], c[5], (c[6][0], c[6][1]), (c[7][0], c[7][1]), c[8][0])


@lru_cache(maxsize=1)
def _edition() -> str:
    """What a record depends on beside the blend: Cantera's version, the tables and the code itself."""
    try:
        code = Path(__file__).read_text(encoding="utf-8")
    except OSError:
        code = ""
    tables = (LOWER_LIMIT, UPPER_LIMIT, RADIANT_FRACTION, ATOMS, DRY_AIR, SUBSTANCES)
    return content_key(_cantera_version(), _RECIPE, code, tables)


def _cantera_version() -> str:
    """Version of the installed Cantera by the name of its metadata folder, without importing it."""
    place = find_spec("cantera")
    if place is not None and place.origin is not None:
        beside = Path(place.origin).parent.parent
        found = sorted(folder.name for folder in beside.glob("[cC]antera-*-info"))
        if found:
            return " ".join(found)
    from importlib.metadata import PackageNotFoundError, version  # slow to import

    try:
        return version("cantera")
    except PackageNotFoundError:
        return "unknown"


def _computed(components: tuple[str, ...], fractions: tuple[float, ...], latent: tuple[float, ...]) -> CombustionRecord:
    lower, higher = heating_values(components, latent)
    shares = [x * value for x, value in zip(fractions, higher, strict=True)]
    radiant = sum(s * RADIANT_FRACTION[c][0] for s, c in zip(shares, components, strict=True) if c != "water")
    return CombustionRecord(
        lower,
        higher,
        stoichiometric_air(components),
        tuple([LOWER_LIMIT[name] for name in components]),
        tuple([UPPER_LIMIT[name] for name in components]),
        _flame_polynomial(components, fractions),
        _heat_fit(products(components, fractions)),
        _heat_fit(DRY_AIR),
        radiant / sum(shares),
    )


@lru_cache(maxsize=1)
def _species() -> dict[str, Any]:
    """Species of Cantera's NASA file. Its `C3H6O` is propylene oxide and is not used."""
    import cantera

    wanted = {*_PRODUCTS, *_SPECIES.values()}
    return {s.name: s for s in cantera.Species.list_from_file("nasa_gas.yaml") if s.name in wanted}


def _enthalpy(species: str, T: float) -> float:
    """Molar enthalpy of a gas, formation included [J/mol]."""
    return float(_species()[species].thermo.h(T)) * 1e-3


def _gas_enthalpy(gas: Products, T: float) -> float:
    names = ("CO2", "H2O", "O2", "N2", "Ar")
    return sum(gas[k] * (_enthalpy(names[k], T) - _enthalpy(names[k], DATUM)) for k in range(5) if gas[k] > 0.0)


def _vapour_enthalpy(name: str, T: float) -> float:
    """Molar enthalpy of a fuel's vapour as an ideal gas, formation included [J/mol]."""
    if name != "acetone":
        return _enthalpy(_SPECIES[name], T)
    rise = sum(c * (T ** (k + 1) - DATUM ** (k + 1)) / (k + 1) for k, c in enumerate(_ACETONE_CP))
    return _ACETONE_FORMATION + GAS_CONSTANT * rise
