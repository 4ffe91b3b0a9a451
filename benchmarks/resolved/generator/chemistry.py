"""Species, one-step reaction and heating value of a fuel's vapour, from Cantera's polynomials."""

from dataclasses import dataclass
from functools import cache

import cantera

SPECIES = {"methanol": "CH3OH", "ethanol": "C2H5OH"}
OXYGEN_IN_AIR = 0.233010  # mass fraction
SUTHERLAND = (1.458e-6, 110.4)  # of air, for every species [kg/m/s/K^0.5, K]
NITROGEN_PER_OXYGEN = 3.76
BASE = ("O2", "N2", "CO2", "H2O")


@dataclass(frozen=True)
class Reaction:
    """What one mole of a fuel's vapour burns with and to."""

    species: str
    oxygen: float  # [mol/mol]
    carbon_dioxide: float
    water: float
    molar_mass: float  # [kg/mol]
    heating_value: float  # of the vapour at 298.15 K, water as vapour [J/kg]
    air_mass: float  # that it needs [kg/kg]


@cache
def gases() -> dict[str, cantera.Species]:
    """Species of the flames by name."""
    wanted = {*BASE, *SPECIES.values()}
    return {one.name: one for one in cantera.Species.list_from_file("nasa_gas.yaml") if one.name in wanted}


@cache
def reaction(fuel: str) -> Reaction:
    """One-step burning of a fuel's vapour."""
    name = SPECIES[fuel]
    atoms = gases()[name].composition
    carbon, hydrogen, oxygen = atoms["C"], atoms["H"], atoms["O"]
    needed = carbon + 0.25 * hydrogen - 0.5 * oxygen

    def enthalpy(species: str) -> float:
        return float(gases()[species].thermo.h(298.15)) / 1e3

    mass = gases()[name].molecular_weight / 1e3
    heat = enthalpy(name) - carbon * enthalpy("CO2") - 0.5 * hydrogen * enthalpy("H2O")
    air = needed * gases()["O2"].molecular_weight / 1e3 / OXYGEN_IN_AIR
    return Reaction(name, needed, carbon, 0.5 * hydrogen, mass, heat / mass, air / mass)


def equation(fuel: str) -> str:
    """The reaction as the solver reads it."""
    made = reaction(fuel)
    inert = f"{NITROGEN_PER_OXYGEN * made.oxygen:g}N2"
    return f"{made.species} + {made.oxygen:g}O2 + {inert} = {made.carbon_dioxide:g}CO2 + {made.water:g}H2O + {inert}"


def thermo(fuel: str) -> str:
    """Heat capacities and viscosities as the solver reads them."""
    written = []
    for name in (*BASE, SPECIES[fuel]):
        species = gases()[name]
        middle, *coefficients = species.thermo.coeffs[:15]
        high, low = coefficients[:7], coefficients[7:14]
        curves = [" ".join(f"{value:.9e}" for value in values) for values in (high, low)]
        written.append(
            f"{name} {{specie {{molWeight {species.molecular_weight:.6g};}}\n"
            f"thermodynamics {{Tlow 200; Thigh 6000; Tcommon {middle:g};\n"
            f"highCpCoeffs ({curves[0]});\nlowCpCoeffs ({curves[1]});}}\n"
            f"transport {{As {SUTHERLAND[0]:g}; Ts {SUTHERLAND[1]:g};}}}}"
        )
    return "\n".join(written)
