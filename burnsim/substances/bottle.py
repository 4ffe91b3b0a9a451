"""What a bottle's per cent by volume means, and the blend that is in it.

A label counts the pure spirit, measured alone, in 100 volumes of the finished liquid, both at 20 degC. Alcohol and
water shrink on mixing, so 95 ml of ethanol and 5 ml of water make less than 100 ml, and more than 5 ml of water belong
to a bottle marked 95 %. A recipe by volumes before mixing (`blend` with basis "volume") is therefore slightly stronger
than a bottle of the same figure. For methanol and 2-propanol the same definition is taken (common practice, no source).

Source: OIML R 22 (1973), International alcoholometric tables: definition of alcoholic strength by volume.
"""

from dataclasses import replace
from typing import NamedTuple

from burnsim.errors import InputError
from burnsim.substances.blend import Blend, blend, composition, mixed, molar_mass, molar_volume
from burnsim.substances.catalogue import SUBSTANCES
from burnsim.substances.recipe import LABEL

EVEN = 1e-13
"""Width at which the search for a recipe stops."""


class Strength(NamedTuple):
    """How strong a spirit is, by every way of counting; all that is not water counts as spirit."""

    bottle: float  # volume of spirit alone in the volume of the finished liquid, at 20 degC
    before_mixing: float  # volume of spirit in the sum of the volumes before mixing
    mass: float  # mass fraction
    mole: float  # mole fraction
    contraction: float  # volume lost on mixing, of the sum of the volumes before
    density: float  # of the finished liquid at 20 degC [kg/m3]


def strength(fuel: Blend) -> Strength:
    """Strength of a spirit, as a bottle counts it and otherwise.

    Parameters
    ----------
    fuel : a blend

    Returns
    -------
    Strength

    50 ml of ethanol and 50 ml of water make 96.4 ml (textbooks), and so 52 % on a bottle:

    >>> half = strength(blend("ethanol 50"))
    >>> abs(half.contraction - 0.036) < 0.002, round(half.bottle, 2)
    (True, 0.52)
    """
    known = {one.name: one for one in fuel.substances}
    alone = sum(x * molar_volume(mixed([(known[n], 1.0)])) for n, x in _spirits(fuel))
    mole = sum(x for _, x in _spirits(fuel))
    finished = molar_volume(fuel)
    before = alone / sum(composition(fuel, "volume")[n] for n, _ in _spirits(fuel))
    mass = sum(composition(fuel, "mass")[n] for n, _ in _spirits(fuel))
    return Strength(alone / finished, alone / before, mass, mole, 1.0 - finished / before, molar_mass(fuel) / finished)


def bottled(spirit: str | Blend, share: float) -> Blend:
    """The blend in a bottle that is marked with a per cent by volume, the rest water.

    Parameters
    ----------
    spirit : name of the spirit ("ethanol"), or a recipe whose own water is left out of account
    share : of the label, 0.05 to 1 [-]

    Returns
    -------
    Blend

    Raises
    ------
    InputError
        For an unknown spirit, or a share out of range.

    95 % on the label are 92.4 % by mass (alcohol tables) and 94 % by the volumes before mixing:

    >>> made = strength(bottled("ethanol", 0.95))
    >>> round(made.bottle, 6), round(made.mass, 3), round(made.before_mixing, 2)
    (0.95, 0.924, 0.94)
    """
    if isinstance(share, bool) or not isinstance(share, int | float) or not 0.05 <= share <= 1.0:
        raise InputError("share", share, "is out of range; allowed 0.05 to 1", "write 0.95 for 95 % on the label")
    given = blend(spirit) if isinstance(spirit, str) else spirit
    base = watered(given, 0.0)
    low, high = 0.0, 1.0 - 0.5 * share
    while high - low > EVEN:
        middle = 0.5 * (low + high)
        low, high = (middle, high) if strength(watered(base, middle)).bottle > share else (low, middle)
    made = watered(base, 0.5 * (low + high) if share < 1.0 else 0.0)
    return replace(made, name=f"{given.name} {100.0 * share:.4g}{LABEL}")


def label_recipe(text: str) -> dict[str, float]:
    """Recipe by the volumes before mixing of what a label says.

    Parameters
    ----------
    text : spirit and per cent, such as "ethanol 95 %"

    Returns
    -------
    dict of share by component

    Raises
    ------
    InputError
        Without a per cent, or for one out of range.

    >>> [round(share, 3) for share in label_recipe("ethanol 95").values()]
    [0.939, 0.061]
    """
    words = text.replace("%", " ").split()
    try:
        share = float(words[-1]) / 100.0
    except (IndexError, ValueError):
        raise InputError("fuel", text + LABEL, "has no per cent", 'write it like "ethanol 95 bottle"') from None
    return composition(bottled(" ".join(words[:-1]), share), "volume")


def watered(fuel: Blend, water: float) -> Blend:
    """The same spirit with another share of water.

    Parameters
    ----------
    fuel : a blend
    water : share of all the volumes before mixing at 20 degC, 0 to 0.99 [-]

    Returns
    -------
    Blend, whose spirits keep their proportion.

    Raises
    ------
    InputError
        For a share out of range.

    >>> watered(blend("ethanol 95"), 0.3).recipe
    'ethanol 70 %, water 30 % by volume'
    >>> watered(blend("methylated spirit"), 0.0).recipe
    'methanol 5.263 %, ethanol 94.74 % by volume'
    """
    if isinstance(water, bool) or not isinstance(water, int | float) or not 0.0 <= water <= 0.99:
        raise InputError("water", water, "is out of range; allowed 0 to 0.99", "write 0.3 for 30 % by volume")
    shares = {n: v for n, v in composition(fuel, "volume").items() if n != "water"}
    total = sum(shares.values())
    known = {one.name: one for one in fuel.substances}
    recipe = [(known[n], (1.0 - water) * v / total) for n, v in shares.items()]
    if water > 0.0:
        recipe.append((SUBSTANCES["water"], water))
    made = mixed(recipe)
    if made.components == fuel.components and made.recipe == fuel.recipe:
        return fuel
    return made


def _spirits(fuel: Blend) -> list[tuple[str, float]]:
    """Names and mole fractions of all that is not water."""
    return [(n, x) for n, x in zip(fuel.components, fuel.mole_fractions, strict=True) if n != "water"]
