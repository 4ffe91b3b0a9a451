"""Blends: what is in the bottle, and the hot-loop record made from it.

A volume fraction of a recipe (`blend` with basis "volume") is one of the volumes before mixing at 20 degC. A bottle's
label counts the pure spirit, measured alone, in 100 volumes of the finished liquid, both at 20 degC. Alcohol and water
shrink on mixing: 95 ml of ethanol and 5 ml of water make less than 100 ml. So a recipe is slightly stronger than a
bottle of the same figure; `bottle` and `find_strength` turn one into the other. For methanol and 2-propanol the same
definition is taken (common practice, no source).

Source: OIML R 22 (1973), International alcoholometric tables: definition of alcoholic strength by volume.
"""

import os
import warnings
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from types import MappingProxyType
from typing import NamedTuple

from burnsim.constants import DATUM
from burnsim.errors import InputError, ValidityWarning, is_number
from burnsim.substances.catalogue import SUBSTANCES, component_order
from burnsim.substances.data_file import Table, is_path, read_data
from burnsim.substances.fuel import FuelRecord, liquid_volume
from burnsim.substances.fuel_file import substance_from
from burnsim.substances.mixture import mixture_record
from burnsim.substances.recipe import (
    BASES,
    LABEL,
    READY,
    Basis,
    blend_parts,
    fraction,
    known_component,
    shares_in_words,
)  # fmt: skip
from burnsim.substances.substance import T20, Substance
from burnsim.units import parse

_TOLERANCE = 1e-3
ROUNDING = 1e-12
_ACETONE = (
    "acetone with an alcohol and water: vapour pressures may be 40 % off, boiling points 3 K; "
    "leave out the smallest of the three to see what it changes"
)
MOST_NESTED = 8
"""Files of blends that may name each other in a row."""

BOTTLE_TOLERANCE = 1e-13
"""Width at which the search for the recipe behind a label stops, as a share of the volume."""


@dataclass(frozen=True)
class Blend:
    """A fuel: components (water last), their mole fractions, and the recipe in words."""

    name: str
    components: tuple[str, ...]
    mole_fractions: tuple[float, ...]
    recipe: str = field(compare=False)
    own: tuple[Substance, ...] = field(default=(), repr=False)
    """Components from a user's own files, which the package does not carry."""

    @property
    def substances(self) -> tuple[Substance, ...]:
        """Records of the components, in their order."""
        own = {one.name: one for one in self.own}
        return tuple([own.get(name) or SUBSTANCES[name] for name in self.components])


def _pure(one: Substance) -> Blend:
    return Blend(one.name, (one.name,), (1.0,), one.name, (one,) if one.data else ())


def _per_mole(part: Blend, basis: str) -> float:
    """What one mole measures on a basis, at 20 degC: kg, m3 or 1."""
    if basis == "mole":
        return 1.0
    if basis == "mass":
        return molar_mass(part)
    if len(part.components) == 1:
        v0, v1, v2 = part.substances[0].molar_volume
        th = T20 - DATUM
        return v0 + v1 * th + v2 * th * th
    return liquid_volume(part.mole_fractions, T20, _record(part))


def _check_basis(basis: str) -> None:
    if basis not in BASES:
        raise InputError("basis", basis, "is not a known basis", "use volume, mass or mole")


def blend(
    spec: str | os.PathLike[str] | Mapping[str, float] | Mapping[str, str] | Blend, basis: Basis = "volume"
) -> Blend:
    """Make a blend.

    Parameters
    ----------
    spec : a ready name ("ethanol 95"), a substance and its per cent ("ethanol 80", the rest water), the same as a
        bottle's label counts it ("ethanol 95 bottle"), a recipe in words ("ethanol 90 %, methanol 5 %, water 5 %"), a
        mapping of names to fractions (0.95 or "95 %") [-], or the path of a data file of your own, which ends in
        ".toml"; parts of a recipe may be ready blends and such files too. A blend is handed on as it is.
    basis : what the fractions are of, "volume" (before mixing at 20 degC), "mass" or "mole" [-]; the ready
        name "methylated spirit" is by volume only

    Returns
    -------
    The blend, its components in a fixed order with water last, fractions below 1e-9 left out.

    Raises
    ------
    InputError for an unknown name, a fraction outside 0 to 1, fractions that do not sum to 1 within 0.001,
    water alone, or a file that makes no sense.

    >>> blend("ethanol 95").components
    ('ethanol', 'water')
    >>> [round(x, 3) for x in blend({"ethanol": 0.5, "water": 0.5}, "mass").mole_fractions]
    [0.281, 0.719]
    >>> blend({"methylated spirit": 0.5, "ethanol": 0.5}).components
    ('methanol', 'ethanol', 'water')
    """
    _check_basis(basis)
    if isinstance(spec, Blend):
        return spec
    if isinstance(spec, os.PathLike) or (isinstance(spec, str) and is_path(spec)):
        return _from_file(os.fspath(spec), Path(), 0)
    if isinstance(spec, str):
        name = " ".join(spec.split())
        labelled = name.lower().endswith(LABEL)
        recipe = label_recipe(name.lower().removesuffix(LABEL)) if labelled else shares_in_words(spec)
        fixed = name.lower() in READY or labelled
        if fixed and len(recipe) > 1 and basis != "volume" and not name[-1].isdigit():
            raise InputError("basis", basis, f"does not suit {name!r}, a recipe by volume", 'use "volume"')
        return _recipe(recipe, basis, name, Path(), 0)
    if isinstance(spec, Mapping):
        return _recipe(spec, basis, "", Path(), 0)
    raise InputError("fuel", spec, "is neither a name nor a mapping", 'write "ethanol 95" or {"ethanol": 0.95, ...}')


def blend_with(own: Mapping[str, Mapping[str, object]], shares: Mapping[str, float], basis: Basis, field: str) -> Blend:
    """Make a blend of shares by name, some of them of substances of the user's own, told as their data files do.

    Errors of these name the field that holds them.
    """
    found = {name: substance_from(Table(f"{field}.{name}", "", one), SUBSTANCES) for name, one in own.items()}
    for name, one in found.items():
        if one.name != name:
            raise InputError(f"{field}.{name}: name", one.name, "is not the name of its table", "make them alike")
    return _recipe(shares, basis, "", Path(), 0, found)


def mixed(parts: Sequence[tuple[Substance, float]], basis: Basis = "volume") -> Blend:
    """Mix pure substances by shares that sum to 1; as `blend`, for those who have their records."""
    return _mix([(_pure(one), share) for one, share in parts], basis, "")


def _recipe(
    shares: Mapping[str, object],
    basis: str,
    name: str,
    folder: Path,
    depth: int,
    own: Mapping[str, Substance] = MappingProxyType({}),
) -> Blend:
    """Blend of the parts that a recipe names; paths in it count from a folder."""
    parts: list[tuple[Blend, float]] = []
    for key, value in shares.items():
        part = _pure(own[key]) if key in own else _part(key, folder, depth)
        if any(part.name == other.name for other, _ in parts):
            raise InputError("fuel component", key, f"names {part.name} twice", "name each component once")
        parts.append((part, fraction(part.name, value)))
    return _mix(parts, basis, name)


def _part(key: object, folder: Path, depth: int) -> Blend:
    """What a recipe calls its part: a file's path, a substance or a ready blend."""
    if isinstance(key, str) and is_path(key):
        return _from_file(key, folder, depth)
    known = known_component(key)
    return _pure(SUBSTANCES[known]) if known in SUBSTANCES else blend(known)


def _mix(parts: Sequence[tuple[Blend, float]], basis: str, name: str) -> Blend:
    total = sum(share for _, share in parts)
    if abs(total - 1.0) > _TOLERANCE:
        problem = "is the sum, but it must be 1 within 0.001"
        raise InputError("fuel fractions", round(total, 6), problem, "give every component, water too")
    total = 1.0 if abs(total - 1.0) < ROUNDING else total
    there = [(part, share / total) for part, share in parts if share / total > 1e-9]
    if all(len(part.components) == 1 for part, _ in there):
        there.sort(key=lambda given: component_order(given[0].substances[0]))
    found: dict[str, Substance] = {}
    amounts: dict[str, float] = {}
    for part, share in there:
        moles = share / _per_mole(part, basis)
        for one, x in zip(part.substances, part.mole_fractions, strict=True):
            if found.setdefault(one.name, one) != one:
                raise InputError("fuel component", one.name, "stands for two different liquids", "rename yours")
            amounts[one.name] = amounts.get(one.name, 0.0) + moles * x
    if all(one.fire is None for one in found.values()):
        given = name or {part.name: share for part, share in there}
        raise InputError("fuel", given, "is only water, which does not burn", "name at least one alcohol or acetone")
    names = sorted(found, key=lambda n: component_order(found[n]))
    amount = sum(amounts[n] for n in names)
    amount = 1.0 if abs(amount - 1.0) < ROUNDING else amount  # mole fractions that were written are read as they were
    words = ", ".join(f"{part.name} {100 * share:.4g} %" for part, share in there)
    recipe = f"{words} by {basis}" if len(there) > 1 else there[0][0].name
    own = tuple(found[n] for n in names if found[n].data)
    return Blend(name or recipe, tuple(names), tuple(amounts[n] / amount for n in names), recipe, own)


def _from_file(path: str, folder: Path, depth: int) -> Blend:
    """Blend of a user's file: a pure fuel, or a recipe."""
    full = Path(os.path.abspath(folder / Path(path.strip()).expanduser()))
    if depth > MOST_NESTED:
        raise InputError("file", path, "names blends that name each other", "break the circle")
    table = read_data(full, "fuel")
    if table.text("kind", 'write kind = "fuel" or "blend"', among=("fuel", "blend")) == "fuel":
        one = substance_from(table, SUBSTANCES)
        return _mix([(_pure(one), 1.0)], "mole", "")
    name, by, parts = blend_parts(table)
    try:
        return _recipe(parts, by, name, full.parent, depth + 1)
    except InputError as error:
        if error.field.startswith((table.file, "file")) or ".toml: " in error.field:
            raise
        raise InputError(f"{table.file}: {error.field}", error.value, error.problem, error.remedy) from None


def composition(fuel: Blend, basis: Basis = "volume") -> dict[str, float]:
    """Fractions of the components [-] by volume (before mixing at 20 degC), mass or mole.

    >>> round(composition(blend("ethanol 95"), "mass")["ethanol"], 3)
    0.938
    """
    _check_basis(basis)
    parts = zip(fuel.substances, fuel.mole_fractions, strict=True)
    amounts = {one.name: x * _per_mole(_pure(one), basis) for one, x in parts}
    total = sum(amounts.values())
    return {n: a / total for n, a in amounts.items()}


def molar_mass(fuel: Blend) -> float:
    """Mean molar mass of a blend [kg/mol].

    >>> round(molar_mass(blend("ethanol")), 5)
    0.04607
    """
    return sum(x * s.molar_mass for s, x in zip(fuel.substances, fuel.mole_fractions, strict=True))


def molar_volume(fuel: Blend, T: float = T20) -> float:
    """Volume of one mole of liquid blend with mixing contraction [m3/mol] at T [K], 250 to 380."""
    return liquid_volume(fuel.mole_fractions, T, fuel_record(fuel))


def density(fuel: Blend, T: float = T20) -> float:
    """Density of a liquid blend with mixing contraction [kg/m3] at T [K], 250 to 380.

    >>> round(density(blend("ethanol")), 0)  # tables: 789.2 at 20 degC
    789.0
    """
    return molar_mass(fuel) / molar_volume(fuel, T)


def moles(fuel: Blend, volume: float, T: float = T20) -> tuple[float, ...]:
    """Moles of each component [mol] in a volume [m3] of liquid blend at T [K], 250 to 380.

    >>> [round(n, 2) for n in moles(blend("methanol"), 30e-6)]  # 30 ml of 0.791 g/ml and 32.04 g/mol
    [0.74]
    """
    amount = volume / molar_volume(fuel, T)
    return tuple(x * amount for x in fuel.mole_fractions)


def fuel_record(fuel: Blend) -> FuelRecord:
    """The hot-loop record of a blend; cached by composition.

    Vapour transport is that of the vapour over the charge at its boiling point at 101325 Pa: viscosity by
    Wilke, conductivity by Wassiljewa with the Mason and Saxena factors, diffusivity in air by Blanc's law.

    Acetone together with an alcohol and water warns (`ValidityWarning`): pairs alone do not describe that
    mixture, and its vapour pressure may be 40 % off.

    >>> fuel_record(blend("ethanol 95")).water_index
    1
    """
    if len(fuel.components) > 2 and "acetone" in fuel.components and "water" in fuel.components:
        warnings.warn(_ACETONE, ValidityWarning, stacklevel=2)
    return _record(fuel)


def _record(fuel: Blend) -> FuelRecord:
    return mixture_record(fuel.substances, fuel.mole_fractions, SUBSTANCES["water"])


class Strength(NamedTuple):
    """How strong a spirit is, by every way of counting; all that is not water counts as spirit."""

    bottle: float  # volume of spirit alone in the volume of the finished liquid, at 20 degC
    before_mixing: float  # volume of spirit in the sum of the volumes before mixing
    mass: float  # mass fraction
    mole: float  # mole fraction
    contraction: float  # volume lost on mixing, of the sum of the volumes before
    density: float  # of the finished liquid at 20 degC [kg/m3]


def find_strength(fuel: Blend | str) -> Strength:
    """Strength of a spirit, as a bottle counts it and otherwise.

    50 ml of ethanol and 50 ml of water make 96.4 ml (textbooks), and so 52 % on a bottle.

    Parameters
    ----------
    fuel : a blend, or what `blend` reads

    >>> half = find_strength("ethanol 50")
    >>> abs(half.contraction - 0.036) < 0.002, round(half.bottle, 2)
    (True, 0.52)
    """
    fuel = blend(fuel)
    spirits = [(s, x) for s, x in zip(fuel.substances, fuel.mole_fractions, strict=True) if s.name != "water"]
    by_volume, by_mass = composition(fuel, "volume"), composition(fuel, "mass")
    alone = sum(x * molar_volume(mixed([(s, 1.0)])) for s, x in spirits)
    mole = sum(x for _, x in spirits)
    finished = molar_volume(fuel)
    before = alone / sum(by_volume[s.name] for s, _ in spirits)
    mass = sum(by_mass[s.name] for s, _ in spirits)
    return Strength(alone / finished, alone / before, mass, mole, 1.0 - finished / before, molar_mass(fuel) / finished)


def bottle(spirit: str | Blend, share: float | str) -> Blend:
    """The blend in a bottle that is marked with a per cent by volume, the rest water.

    95 % on the label are 92.4 % by mass (alcohol tables) and 94 % by the volumes before mixing.

    Parameters
    ----------
    spirit : name of the spirit ("ethanol"), or a recipe whose own water is left out of account
    share : of the label, 0.05 to 1 [-], or a text such as "95 %"

    >>> made = find_strength(bottle("ethanol", 0.95))
    >>> round(made.bottle, 6), round(made.mass, 3), round(made.before_mixing, 2)
    (0.95, 0.924, 0.94)
    """
    share = parse(share, "fraction", "share")
    if not 0.05 <= share <= 1.0:
        raise InputError("share", share, "is out of range; allowed 0.05 to 1", "write 0.95 for 95 % on the label")
    given = blend(spirit)
    base = watered(given, 0.0)
    low, high = 0.0, 1.0 - 0.5 * share
    while high - low > BOTTLE_TOLERANCE:
        middle = 0.5 * (low + high)
        low, high = (middle, high) if find_strength(watered(base, middle)).bottle > share else (low, middle)
    made = watered(base, 0.5 * (low + high) if share < 1.0 else 0.0)
    return replace(made, name=f"{given.name} {100.0 * share:.4g}{LABEL}")


def label_recipe(text: str) -> dict[str, float]:
    """Recipe by the volumes before mixing, share by component, of what a label says: spirit and per cent.

    >>> [round(share, 3) for share in label_recipe("ethanol 95").values()]
    [0.939, 0.061]
    """
    words = text.replace("%", " ").split()
    try:
        share = float(words[-1]) / 100.0
    except (IndexError, ValueError):
        raise InputError("fuel", text + LABEL, "has no per cent", 'write it like "ethanol 95 bottle"') from None
    return composition(bottle(" ".join(words[:-1]), share), "volume")


def watered(fuel: Blend, water: float) -> Blend:
    """The same spirits in the same proportion with another share of water.

    It is a share of all the volumes before mixing at 20 degC, 0 to 0.99 [-].

    >>> watered(blend("ethanol 95"), 0.3).recipe
    'ethanol 70 %, water 30 % by volume'
    >>> watered(blend("methylated spirit"), 0.0).recipe
    'methanol 5.263 %, ethanol 94.74 % by volume'
    """
    if not is_number(water) or not 0.0 <= water <= 0.99:
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
