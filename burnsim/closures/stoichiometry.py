"""Atoms, air and burnt gas: the arithmetic of complete combustion."""

from collections.abc import Sequence
from math import isfinite
from typing import NamedTuple

from burnsim.constants import AIR_MOLAR_MASS, ARGON, CARBON_DIOXIDE, NITROGEN, OXYGEN
from burnsim.errors import InputError, unknown
from burnsim.substances.catalogue import SUBSTANCES
from burnsim.substances.substance import Substance

Component = str | Substance
"""A component of a fuel: the name of one that the package carries, or its record."""


class Products(NamedTuple):
    """Burnt gas of complete combustion; mole fractions."""

    carbon_dioxide: float
    water: float
    oxygen: float
    nitrogen: float
    argon: float
    molar_mass: float  # [kg/mol]
    moles: float  # of gas per mole of fuel


DRY_AIR = Products(CARBON_DIOXIDE, 0.0, OXYGEN, NITROGEN, ARGON, AIR_MOLAR_MASS, 1.0)


def stoichiometric_air(components: Sequence[Component]) -> tuple[float, ...]:
    """Dry air that burns one mole of each component.

    Parameters
    ----------
    components : names or records.

    Returns
    -------
    Moles of air per mole [-], :math:`(n_C + n_H/4 - n_O/2) / 0.20939`; 0 for water.

    Methanol needs 1.5 moles of oxygen and ethanol 3:

    >>> [round(a, 2) for a in stoichiometric_air(("methanol", "ethanol", "water"))]
    [7.16, 14.33, 0.0]
    """
    return tuple([(c + h / 4 - o / 2) / OXYGEN for c, h, o in (one.atoms for one in known(components))])


def products(components: Sequence[Component], mole_fractions: Sequence[float], air_ratio: float = 1.0) -> Products:
    r"""Burnt gas of a blend along its dilution by dry air, complete combustion.

    Parameters
    ----------
    components, mole_fractions : of the vapour that burns.
    air_ratio : air over stoichiometric air, 1 or more [-].

    Returns
    -------
    Products.

    :math:`\mathrm{CH_3OH + 3\, O_2 \to CO_2 + 2\, H_2O + 1.5\, O_2}`:

    >>> gas = products(("methanol",), (1.0,), 2.0)
    >>> round(gas.oxygen / gas.water, 9), round(gas.water / gas.carbon_dioxide, 2)  # air brings some CO2 of its own
    (0.75, 1.99)
    """
    fuels, fractions = checked_fuel(components, mole_fractions)
    if not (isfinite(air_ratio) and air_ratio >= 1.0):
        raise InputError("air_ratio", air_ratio, "is not 1 or more", "give 1 for just enough air, 2 for twice as much")
    need = mean(stoichiometric_air(fuels), fractions)
    air = air_ratio * need
    carbon_dioxide = mean([one.atoms[0] for one in fuels], fractions) + CARBON_DIOXIDE * air
    water = mean([one.atoms[1] / 2 for one in fuels], fractions)
    oxygen = OXYGEN * (air - need)
    total = carbon_dioxide + water + oxygen + (NITROGEN + ARGON) * air
    mass = mean([one.molar_mass for one in fuels], fractions) + air * AIR_MOLAR_MASS
    return Products(
        carbon_dioxide / total,
        water / total,
        oxygen / total,
        NITROGEN * air / total,
        ARGON * air / total,
        mass / total,
        total,
    )


def known(components: Sequence[Component]) -> tuple[Substance, ...]:
    """Records of components; a name must be one that the package carries."""
    found = []
    for one in components:
        if not isinstance(one, Substance) and one not in SUBSTANCES:
            raise unknown("components", one, SUBSTANCES)
        found.append(one if isinstance(one, Substance) else SUBSTANCES[one])
    return tuple(found)


def checked_fuel(
    components: Sequence[Component], mole_fractions: Sequence[float]
) -> tuple[tuple[Substance, ...], tuple[float, ...]]:
    """Check components and mole fractions of a fuel that can burn; the fractions come back as floats."""
    fuels = known(components)
    names = [one.name for one in fuels]
    fractions = tuple([float(x) for x in mole_fractions])
    if len(names) != len(fractions) or len(set(names)) != len(names):
        problem = f"is not one share for each of {', '.join(names)}"
        remedy = f"give {len(set(names))} shares, and each name once"
        raise InputError("mole_fractions", mole_fractions, problem, remedy)
    if not all(isfinite(x) and 0.0 <= x <= 1.0 for x in fractions) or abs(sum(fractions) - 1.0) > 1e-6:
        problem = "are not shares from 0 to 1 that sum to 1"
        raise InputError("mole_fractions", mole_fractions, problem, "divide them by their sum")
    if sum(x for one, x in zip(fuels, fractions, strict=True) if one.fire is not None) <= 0.0:
        raise InputError("components", names, "hold nothing that burns", "add an alcohol or acetone")
    return fuels, fractions


def mean(values: Sequence[float], weights: Sequence[float]) -> float:
    """Sum of values times weights.

    >>> mean((1.0, 3.0), (0.25, 0.75))
    2.5
    """
    return sum(v * w for v, w in zip(values, weights, strict=True))
