"""Heating values, flame temperature and burnt gas of the fuels. The one room that imports Cantera.

What the integration needs is a `CombustionRecord`. Those of the ready fuels are generated into the package
(`burnsim.closures.generate`, which a test repeats); for any other blend Cantera is asked once a process.

Heating values count from liquid fuel at 298.15 K to gaseous products at 298.15 K. So the latent heat is charged once,
and water in the charge has a lower heating value of minus its latent heat: a 70 % spirit is not flattered, and a charge
that is nearly all water has a negative one. Efficiencies use the same number.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from hashlib import sha256
from pathlib import Path
from typing import Any

from burnsim.bounds import at_least, at_most
from burnsim.closures.flammability import NEVER
from burnsim.closures.stoichiometry import (
    DRY_AIR,
    Component,
    Products,
    checked_fuel,
    known,
    mean,
    products,
    stoichiometric_air,
)
from burnsim.constants import ARGON, ATMOSPHERE, CARBON_DIOXIDE, DATUM, NITROGEN, OXYGEN
from burnsim.errors import InputError
from burnsim.io.text_file import parse_toml, read_text
from burnsim.substances.blend import Blend, blend
from burnsim.substances.catalogue import SUBSTANCES
from burnsim.substances.substance import Substance

WATER_CONDENSATION = 44.003e3
"""Latent heat of water at 298.15 K [J/mol]; Active Thermochemical Tables, as carried by `chemicals`."""

__all__ = [
    "CombustionRecord",
    "Products",
    "adiabatic_flame_temperature",
    "combustion_record",
    "heating_values",
    "product_enthalpy",
    "products",
    "stoichiometric_air",
]

_PRODUCTS = ("N2", "O2", "Ar", "CO2", "H2O", "CO", "H2", "OH", "H", "O", "NO")
_FUEL_TEMPERATURE = 330.0  # of the vapour in `flame_temperature` [K]
_HOTTEST = 2000.0  # end of the fitted heat capacities [K]
CARRIED = Path(__file__).parent / "ready_records.toml"
MOST_KNOWN = 4096
"""Records that a process keeps; a sweep over recipes asks for a new one with every design."""


@dataclass(frozen=True, slots=True)
class CombustionRecord:
    """Combustion of one blend as numbers; one entry per component where plural. th = T - 298.15 K."""

    # lower, liquid at 298.15 K to gases at 298.15 K [J/mol]; water: less its latent heat
    heating_value: tuple[float, ...]
    higher_heating_value: tuple[float, ...]  # [J/mol]; water 0
    air_moles: tuple[float, ...]  # stoichiometric dry air per mole; water 0
    water_moles: tuple[float, ...]  # water vapour in the burnt gas per mole; water 1
    lower_limit: tuple[float, ...]  # lower flammable limit, mole fraction in air; water 1e9
    upper_limit: tuple[float, ...]
    flame_temperature: tuple[float, ...]  # sum c_k s^k [K], s = water mass fraction of the vapour, 0 to 0.8
    product_heat: tuple[float, float]  # burnt gas without excess air, a*th + b*th^2/2 [J/kg], to 2000 K
    air_heat: tuple[float, float]  # the same for dry air
    radiant_fraction: float


Key = tuple[tuple[Substance, ...], tuple[float, ...]]
Records = tuple[tuple[Key, CombustionRecord], ...]
_known: dict[Key, CombustionRecord] = {}


def combustion_record(fuel: Blend) -> CombustionRecord:
    """Combustion of a blend as a flat record for the integration; Cantera is asked for what is not known yet.

    Parameters
    ----------
    fuel : a blend

    Returns
    -------
    CombustionRecord. Flame temperatures are of the equilibrium, stoichiometric, dry air at 298.15 K, vapour
    at 330 K, 1 atm, organics in the proportion of the charge; the cubic holds within 5 K to s = 0.5, 10 K to
    0.7 and 40 K at 0.8. Enthalpies are of complete products and hold within 1 %. Vapour burns with the energy of the
    liquid plus that which evaporating it took, by the latent heat of the same records.

    >>> from burnsim.substances.blend import blend
    >>> rec = combustion_record(blend("methanol"))
    >>> round(rec.heating_value[0] / 32.042e-3 / 1e6, 1)  # 19.94 MJ/kg in NIST's pool fire data
    19.9

    References
    ----------
    Cantera's `nasa_gas.yaml` (NASA Lewis polynomials); formation enthalpies of what is not in it, limits and radiant
    shares: the data files of the fuels.
    """
    key = fuel.substances, fuel.mole_fractions
    made = _known.get(key)
    if made is None:
        made = _carried().get(key) or computed_record(fuel)
        if len(_known) >= MOST_KNOWN:
            _known.clear()
        _known[key] = made
    return made


def heating_values(
    components: Sequence[Component], latent_heat: Sequence[float]
) -> tuple[tuple[float, ...], tuple[float, ...]]:
    r"""Lower and higher heating value of each liquid at 298.15 K.

    Parameters
    ----------
    components : names or records.
    latent_heat : of each at 298.15 K [J/mol].

    Returns
    -------
    (lower, higher) [J/mol], products gaseous or with liquid water. Water releases nothing, and since it leaves as a gas
    its lower value is minus its latent heat: a watery spirit's lower heating value is that of the whole liquid.

    Notes
    -----
    .. math:: \mathrm{LHV} = h_f(\text{fuel, gas}) - h_{fg} - n_C\, h_f(\mathrm{CO_2})
        - \tfrac{n_H}{2} h_f(\mathrm{H_2O, gas})

    >>> lower, higher = heating_values(("ethanol", "water"), (42.4e3, 44.0e3))
    >>> round(lower[0] / 46.068e-3 / 1e6, 1), round(higher[0] / 46.068e-3 / 1e6, 1)  # handbooks: 26.8, 29.7
    (26.8, 29.7)
    >>> lower[1], higher[1]
    (-44000.0, 0.0)
    """
    lower = []
    higher = []
    for one, latent in zip(known(components), latent_heat, strict=True):
        carbon, hydrogen, _ = one.atoms
        if carbon == 0:
            lower.append(-latent)
            higher.append(0.0)
            continue
        burnt = carbon * _enthalpy("CO2", DATUM) + 0.5 * hydrogen * _enthalpy("H2O", DATUM)
        value = _vapour_enthalpy(one, DATUM) - latent - burnt
        lower.append(value)
        higher.append(value + 0.5 * hydrogen * WATER_CONDENSATION)
    return tuple(lower), tuple(higher)


def product_enthalpy(gas: Products, T: float) -> float:
    """Enthalpy of burnt gas above 298.15 K, water as vapour [J/kg], at T [K], 200 to 3000.

    >>> product_enthalpy(products(("ethanol",), (1.0,)), 298.15)
    0.0
    """
    names = ("CO2", "H2O", "O2", "N2", "Ar")
    moved = [gas[k] * (_enthalpy(names[k], T) - _enthalpy(names[k], DATUM)) for k in range(5) if gas[k] > 0.0]
    return sum(moved) / gas.molar_mass


def adiabatic_flame_temperature(
    components: Sequence[Component],
    mole_fractions: Sequence[float],
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
    fuels, fractions = checked_fuel(components, mole_fractions)
    bounds = (
        ("equivalence_ratio", equivalence_ratio, 0.3, 1.8),
        ("T", T, 250.0, 380.0 if liquid else 700.0),
        ("pressure", pressure, 1e3, 1e6),
    )
    for field, value, low, high in bounds:
        if not low <= value <= high:
            raise InputError(field, value, f"is out of range; allowed {low:g} to {high:g}", "choose one inside")
    enthalpy = 0.0
    for one, x in zip(fuels, fractions, strict=True):
        if liquid:
            a, b = one.liquid_heat
            above = (T - DATUM) * (a + 0.5 * b * (T - DATUM)) - one.vapour_heat[0]
            enthalpy += x * (_vapour_enthalpy(one, DATUM) + above)
        else:
            enthalpy += x * _vapour_enthalpy(one, T)
    return _equilibrium(fuels, fractions, equivalence_ratio, enthalpy, T, pressure)


def _equilibrium(
    fuels: tuple[Substance, ...],
    fractions: tuple[float, ...],
    ratio: float,
    fuel_enthalpy: float,
    T_air: float,
    pressure: float,
) -> float:
    """Temperature at equilibrium of one mole of fuel of given enthalpy [J/mol] burnt with air at T_air."""
    import cantera

    air = mean(stoichiometric_air(fuels), fractions) / ratio
    moles = [mean([one.atoms[k] for one in fuels], fractions) for k in range(3)]
    start = {"C": moles[0] + CARBON_DIOXIDE * air, "H": moles[1], "O": moles[2] + 2.0 * (OXYGEN + CARBON_DIOXIDE) * air}
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


def _flame_polynomial(fuels: tuple[Substance, ...], fractions: tuple[float, ...]) -> tuple[float, ...]:
    """Fit the adiabatic flame temperature along the water mass fraction, watery ends counting less."""
    import numpy as np

    organics = tuple([one for one in fuels if one.fire is not None])
    weights = [x for one, x in zip(fuels, fractions, strict=True) if one.fire is not None]
    total = sum(weights)
    mass = mean([one.molar_mass for one in organics], [w / total for w in weights])
    steam = SUBSTANCES["water"]
    nodes = np.linspace(0.0, 0.8, 17)
    temperatures = []
    for s in nodes.tolist():
        water = s / (1.0 - s) * mass / steam.molar_mass
        shares = (*(w / total / (1.0 + water) for w in weights), water / (1.0 + water))
        vapours = (*organics, steam)
        enthalpy = mean([_vapour_enthalpy(one, _FUEL_TEMPERATURE) for one in vapours], shares)
        temperatures.append(_equilibrium(vapours, shares, 1.0, enthalpy, DATUM, ATMOSPHERE))
    fit = np.polynomial.Polynomial.fit(nodes, temperatures, 3, w=1.0 - nodes)
    return tuple(fit.convert().coef.tolist())


def _heat_fit(gas: Products) -> tuple[float, float]:
    """Fit a and b of h = a*th + b*th^2/2 [J/kg], least squares of the relative error from 300 K to 2000 K."""
    th = [k * (_HOTTEST - DATUM) / 40 for k in range(1, 41)]
    mean = [product_enthalpy(gas, DATUM + t) / t for t in th]
    centre, level = sum(th) / len(th), sum(mean) / len(mean)
    slope = sum((t - centre) * (m - level) for t, m in zip(th, mean, strict=True)) / sum((t - centre) ** 2 for t in th)
    return level - slope * centre, 2.0 * slope


@cache
def _carried() -> dict[Key, CombustionRecord]:
    """Records of the ready fuels, as far as they were made from the substances of now."""
    found: dict[Key, CombustionRecord] = {}
    for name, one in parse_toml(read_text(CARRIED)).items():
        fuel = blend(name)
        if one.pop("of") == fingerprint(fuel):
            rows: dict[str, Any] = {
                key: tuple(value) if isinstance(value, list) else value for key, value in one.items()
            }
            found[fuel.substances, fuel.mole_fractions] = CombustionRecord(**rows)
    return found


def fingerprint(fuel: Blend) -> str:
    """Short hash of what a blend's record is made from, apart from Cantera."""
    return sha256(repr((fuel.substances, fuel.mole_fractions, DRY_AIR)).encode()).hexdigest()[:16]


def known_records(fuels: Iterable[Blend]) -> Records:
    """Records of some blends, to be sent to other processes for `remember`."""
    return tuple({(fuel.substances, fuel.mole_fractions): combustion_record(fuel) for fuel in fuels}.items())


def remember(records: Records) -> None:
    """Take over records that another process has asked Cantera for."""
    _known.update(records)


def computed_record(fuel: Blend) -> CombustionRecord:
    """Combustion of a blend, by Cantera."""
    fuels, fractions = fuel.substances, fuel.mole_fractions
    lower, higher = heating_values(fuels, [one.vapour_heat[0] for one in fuels])
    shares = [x * value for x, value in zip(fractions, higher, strict=True)]
    radiant = sum(s * one.fire.radiant_share[0] for s, one in zip(shares, fuels, strict=True) if one.fire is not None)
    return CombustionRecord(
        lower,
        higher,
        stoichiometric_air(fuels),
        tuple([0.5 * one.atoms[1] for one in fuels]),
        tuple([NEVER if one.fire is None else one.fire.lower_limit for one in fuels]),
        tuple([NEVER if one.fire is None else one.fire.upper_limit for one in fuels]),
        _flame_polynomial(fuels, fractions),
        _heat_fit(products(fuels, fractions)),
        _heat_fit(DRY_AIR),
        radiant / sum(shares),
    )


@lru_cache(maxsize=1)
def _species() -> dict[str, Any]:
    """Species of Cantera's NASA file. Its `C3H6O` is propylene oxide and is not used."""
    import cantera

    return {s.name: s for s in cantera.Species.list_from_file("nasa_gas.yaml")}


def _enthalpy(species: str, T: float) -> float:
    """Molar enthalpy of a gas, formation included [J/mol]."""
    return float(_species()[species].thermo.h(T)) * 1e-3


def _vapour_enthalpy(fuel: Substance, T: float) -> float:
    """Molar enthalpy of a fuel's vapour as an ideal gas, formation included [J/mol]."""
    if fuel.flame_gas is not None:
        if fuel.flame_gas not in _species():
            problem, remedy = "is not in Cantera's nasa_gas.yaml", "give constants.formation_enthalpy"
            raise InputError("flame_gas", fuel.flame_gas, problem, remedy)
        return _enthalpy(fuel.flame_gas, T)
    c0, c1, c2 = fuel.gas_heat_capacity
    th = T - DATUM
    return (fuel.formation_enthalpy or 0.0) + th * (c0 + th * (c1 / 2.0 + th * c2 / 3.0))
