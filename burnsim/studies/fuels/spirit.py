"""A spirit on paper: what follows from its composition alone, without a burner."""

from collections.abc import Mapping
from typing import NamedTuple

from burnsim.closures.combustion import combustion_record
from burnsim.closures.flammability import NEVER, flash_temperature
from burnsim.constants import AIR_MOLAR_MASS, ATMOSPHERE
from burnsim.errors import InputError
from burnsim.substances.blend import Blend, blend, density, find_strength, fuel_record, molar_mass
from burnsim.substances.equilibrium import bubble_temperature, partial_pressures, vapour_pressure

CARBON_MASS = 12.011e-3
CARBON_DIOXIDE_MASS = 44.009e-3
"""Molar masses [kg/mol]; IUPAC abridged atomic weights."""


class Spirit(NamedTuple):
    """What a spirit is worth on paper."""

    fuel: Blend
    density: float  # at 20 degC [kg/m3]
    strength: float  # per cent by volume on a bottle, as a share
    water: float  # mass fraction
    heating_value: float  # lower, of the whole liquid [J/kg]
    heating_value_volume: float  # the same [J/m3]
    air: float  # stoichiometric, mass of air per mass of spirit
    carbon_dioxide: float  # of all its carbon, mass per mass of spirit
    free_carbon: float  # mass share of carbon that carries no oxygen: how readily it soots
    carbon_per_hydrogen: float  # atoms, water's hydrogen left out
    boils: float  # bubble point at the pressure [K]
    flash: float | None  # in a closed cup [K]; None if not between 220 and 400 K


def describe_spirit(fuel: str | Mapping[str, float] | Blend, pressure: float = ATMOSPHERE) -> Spirit:
    """What a spirit is worth, from its composition alone.

    Parameters
    ----------
    fuel : a name, a recipe by volume before mixing, or a blend
    pressure : of the air [Pa], 3e4 to 1.2e5

    Notes
    -----
    How readily a spirit soots is told by its carbon that carries no oxygen, as a share of the spirit's mass, water
    included. A carbon bound to an oxygen leaves as carbon monoxide and builds no soot; hence none from methanol, some
    from ethanol, and more from 2-propanol and acetone. It ranks spirits; it does not say how black a pot gets.

    The flash point follows from those of the pure spirits: over the blend, the partial pressures of its spirits, each
    over the vapour pressure that it has alone at its own flash point, sum to 1. Of ethanol in water it reads within
    3 K of closed cups from 10 mass % upward, and 4 K low at 5 %.

    References
    ----------
    C. K. Westbrook, W. J. Pitz, H. J. Curran 2006, J. Phys. Chem. A 110, 6912: carbon bound to oxygen is kept from soot
    precursors (from memory, unverified). Flash point: H.-J. Liaw et al. 2002, J. Loss Prev. Process Ind. 15, 429, after
    Le Chatelier (from memory, unverified).

    >>> spirit = describe_spirit("ethanol")
    >>> round(spirit.heating_value / 1e6, 1), round(spirit.carbon_dioxide, 2), round(spirit.free_carbon, 2)
    (26.8, 1.91, 0.26)
    """
    check_pressure(pressure)
    fuel = blend(fuel)
    record = fuel_record(fuel)
    x = fuel.mole_fractions
    fire = combustion_record(fuel)
    mass = molar_mass(fuel)
    heating = heating_value(fuel)
    dense = density(fuel)
    parts = [(share, *one.atoms) for one, share in zip(fuel.substances, x, strict=True) if one.fire is not None]
    carbon = sum(share * c for share, c, _, _ in parts)
    free = sum(share * (c - o) for share, c, _, o in parts)
    strong = find_strength(fuel)
    return Spirit(
        fuel=fuel, density=dense, strength=strong.bottle, water=1.0 - strong.mass, heating_value=heating,
        heating_value_volume=heating * dense,
        air=sum(a * b for a, b in zip(x, fire.air_moles, strict=True)) * AIR_MOLAR_MASS / mass,
        carbon_dioxide=carbon * CARBON_DIOXIDE_MASS / mass, free_carbon=free * CARBON_MASS / mass,
        carbon_per_hydrogen=carbon / sum(share * h for share, _, h, _ in parts),
        boils=bubble_temperature(x, pressure, record), flash=closed_cup(fuel, pressure),
    )  # fmt: skip


def check_pressure(pressure: float) -> None:
    """Refuse what no place has as its air's pressure [Pa]."""
    if not 3e4 <= pressure <= 1.2e5:
        problem = "is out of range; allowed 3e4 to 1.2e5 Pa"
        raise InputError("pressure", pressure, problem, "give the site's air pressure")


def heating_value(fuel: Blend) -> float:
    """Lower heating value of a liquid fuel, its water counted [J/kg].

    >>> from burnsim.substances.blend import blend
    >>> round(heating_value(blend("methanol")) / 19.9e6, 2)  # handbooks: about 19.9 MJ/kg
    1.0
    """
    record = combustion_record(fuel)
    return sum(x * h for x, h in zip(fuel.mole_fractions, record.heating_value, strict=True)) / molar_mass(fuel)


def closed_cup(fuel: Blend, pressure: float = ATMOSPHERE) -> float | None:
    """Flash point of a blend in a closed cup in air of 1e4 to 2e5 Pa, by the rule of `describe_spirit` [K].

    None if it is not between 220 and 400 K.

    >>> from burnsim.substances.blend import blend
    >>> round(closed_cup(blend("ethanol")), 2), closed_cup(blend("ethanol 95")) > 287.0
    (286.15, True)
    """
    record = fuel_record(fuel)
    limits = tuple(
        [
            NEVER if one.fire is None else vapour_pressure(one.ln_vapour_pressure, one.fire.flash_point) / ATMOSPHERE
            for one in fuel.substances
        ]
    )
    return flash_temperature(lambda T: partial_pressures(fuel.mole_fractions, T, record), limits, pressure)
