"""Blends: what is in the bottle, and the hot-loop record made from it.

A volume fraction is a fraction of the volumes before mixing at 20 degC. A bottle's label counts the finished liquid's
volume instead, which has shrunk: `bottle.py` turns one into the other.
"""

import warnings
from collections.abc import Mapping
from dataclasses import dataclass, replace
from difflib import get_close_matches
from functools import lru_cache
from math import isfinite, sqrt
from types import MappingProxyType
from typing import Literal

from burnsim.constants import ATMOSPHERE, DATUM
from burnsim.errors import InputError, ValidityWarning
from burnsim.substances.equilibrium import bubble_temperature, vapour_composition
from burnsim.substances.fuel import FuelRecord, liquid_volume
from burnsim.substances.substance import T20
from burnsim.substances.tables import AQUEOUS, SUBSTANCES, WILSON

Basis = Literal["volume", "mass", "mole"]

NAMES: tuple[str, ...] = tuple(SUBSTANCES)

ALIASES: Mapping[str, str] = MappingProxyType(
    {
        "methyl alcohol": "methanol",
        "ethyl alcohol": "ethanol",
        "isopropanol": "2-propanol",
        "propan-2-ol": "2-propanol",
        "isopropyl alcohol": "2-propanol",
        "propanone": "acetone",
    }
)

READY: Mapping[str, Mapping[str, float]] = MappingProxyType(
    {
        "methanol": {"methanol": 1.0},
        "ethanol": {"ethanol": 1.0},
        "2-propanol": {"2-propanol": 1.0},
        "acetone": {"acetone": 1.0},
        "ethanol 95": {"ethanol": 0.95, "water": 0.05},
        "methylated spirit": {"ethanol": 0.90, "methanol": 0.05, "water": 0.05},
        "2-propanol 91": {"2-propanol": 0.91, "water": 0.09},
        "2-propanol 70": {"2-propanol": 0.70, "water": 0.30},
        "methanol 90": {"methanol": 0.90, "water": 0.10},
    }
)
"""Plain names and their recipes by volume. Methylated spirit differs by country and maker: this is a usual
composition (common practice, no source)."""

_TOLERANCE = 1e-3
LABEL = " bottle"
"""Ends a spirit whose per cent is meant as a bottle's label counts it."""

_ACETONE = (
    "acetone with an alcohol and water: vapour pressures may be 40 % off, boiling points 3 K; "
    "leave out the smallest of the three to see what it changes"
)


NEAR = 0.75  # likeness from which a misspelt name is guessed; "kerosene" and "butanol" are other liquids


@dataclass(frozen=True)
class Blend:
    """A fuel: components (water last), their mole fractions, and the recipe in words."""

    name: str
    components: tuple[str, ...]
    mole_fractions: tuple[float, ...]
    recipe: str


def _component(name: str) -> str:
    key = " ".join(str(name).lower().split())
    key = ALIASES.get(key, key)
    if key in SUBSTANCES:
        return key
    near = get_close_matches(key, [*NAMES, *ALIASES], n=1, cutoff=NEAR)
    hint = f"did you mean {near[0]!r}? " if near else ""
    raise InputError("fuel component", name, "is not a known substance", f"{hint}use one of {', '.join(NAMES)}")


def _fraction(name: str, value: object) -> float:
    text = value
    scale = 1.0
    if isinstance(text, str):
        text = text.strip()
        if text.endswith("%"):
            text, scale = text[:-1], 0.01
    try:
        if isinstance(text, bool) or not isinstance(text, (int, float, str)):
            raise TypeError
        number = float(text) * scale
    except (TypeError, ValueError):
        raise InputError(f"fraction of {name}", value, "is not a number", 'write 0.95 or "95 %"') from None
    if not isfinite(number) or number < 0.0 or number > 1.0:
        raise InputError(f"fraction of {name}", value, "is outside 0 to 1", 'write 0.95 or "95 %"')
    return number


def _parse(spec: str) -> Mapping[str, float]:
    """The recipe behind a ready name, a pure substance, "ethanol 95" or a list with per cents."""
    text = " ".join(spec.lower().split())
    if text in READY:
        return READY[text]
    if text.endswith(LABEL):
        from burnsim.substances.bottle import label_recipe  # which is made of blends

        return label_recipe(text.removesuffix(LABEL))
    recipe: dict[str, float] = {}
    for part in text.split(","):
        words = part.replace("%", " % ").split()
        percent = len(words) > 1 and words[-1] == "%"
        if percent:
            words = words[:-1]
        number = None
        if len(words) > 1:
            try:
                number = float(words[-1])
            except ValueError:
                number = None
        if percent and number is None:
            raise InputError("fuel", spec, "has a % sign without a number", 'write "ethanol 95 %, water 5 %"')
        name = " ".join(words if number is None else words[:-1])
        known = ALIASES.get(name, name)
        if known not in SUBSTANCES:
            near = get_close_matches(text, [*READY, *NAMES, *ALIASES], n=1, cutoff=NEAR)
            hint = f"did you mean {near[0]!r}? " if near else ""
            raise InputError("fuel", spec, "is not a known fuel", f"{hint}use one of {', '.join(READY)}, or a recipe")
        if known in recipe:
            raise InputError("fuel", spec, f"names {known} twice", "name each component once")
        recipe[known] = 1.0 if number is None else _fraction(known, f"{number} %")
    if len(recipe) == 1:
        only, share = next(iter(recipe.items()))
        if share < 1.0 and only != "water":
            recipe["water"] = 1.0 - share
    return recipe


def _volume_20(name: str) -> float:
    v0, v1, v2 = SUBSTANCES[name].molar_volume
    th = T20 - DATUM
    return v0 + v1 * th + v2 * th * th


def _per_mole(name: str, basis: str) -> float:
    """What one mole measures on this basis: kg, m3 or 1."""
    if basis == "mole":
        return 1.0
    return SUBSTANCES[name].molar_mass if basis == "mass" else _volume_20(name)


def _check_basis(basis: str) -> None:
    if basis not in ("volume", "mass", "mole"):
        raise InputError("basis", basis, "is not a known basis", "use volume, mass or mole")


def blend(spec: str | Mapping[str, float] | Mapping[str, str], basis: Basis = "volume") -> Blend:
    """Make a blend.

    Parameters
    ----------
    spec : a ready name ("ethanol 95"), a substance and its per cent ("ethanol 80", the rest water), the same as a
        bottle's label counts it ("ethanol 95 bottle"), a recipe
        in words ("ethanol 90 %, methanol 5 %, water 5 %"), or a mapping of names to
        fractions (0.95 or "95 %") [-]
    basis : what the fractions are of, "volume" (before mixing at 20 degC), "mass" or "mole" [-]; the ready
        name "methylated spirit" is by volume only

    Returns
    -------
    The blend, its components in a fixed order with water last, fractions below 1e-9 left out.

    Raises
    ------
    InputError for an unknown name, a fraction outside 0 to 1, fractions that do not sum to 1 within 0.001,
    or water alone.

    >>> blend("ethanol 95").components
    ('ethanol', 'water')
    >>> [round(x, 3) for x in blend({"ethanol": 0.5, "water": 0.5}, "mass").mole_fractions]
    [0.281, 0.719]
    """
    _check_basis(basis)
    if isinstance(spec, str):
        recipe: dict[str, float] = dict(_parse(spec))
        name = " ".join(spec.split())
        fixed = name.lower() in READY or name.lower().endswith(LABEL)
        if fixed and len(recipe) > 1 and basis != "volume" and not name[-1].isdigit():
            raise InputError("basis", basis, f"does not suit {name!r}, a recipe by volume", 'use "volume"')
    elif isinstance(spec, Mapping):
        recipe = {}
        for key, value in spec.items():
            known = _component(key)
            if known in recipe:
                raise InputError("fuel component", key, f"names {known} twice", "name each component once")
            recipe[known] = _fraction(known, value)
        name = ""
    else:
        raise InputError(
            "fuel", spec, "is neither a name nor a mapping", 'write "ethanol 95" or {"ethanol": 0.95, ...}'
        )
    total = sum(recipe.values())
    if abs(total - 1.0) > _TOLERANCE:
        raise InputError(
            "fuel fractions",
            total,
            "is the sum, but it must be 1 within 0.001",
            "give every component, water too",
        )
    parts = {n: recipe[n] / total for n in NAMES if recipe.get(n, 0.0) > 1e-9}
    if set(parts) <= {"water"}:
        raise InputError("fuel", spec, "is only water, which does not burn", "name at least one alcohol or acetone")
    moles = {n: share / _per_mole(n, basis) for n, share in parts.items()}
    amount = sum(moles.values())
    words = ", ".join(f"{n} {100 * share:.4g} %" for n, share in parts.items())
    text = f"{words} by {basis}" if len(parts) > 1 else next(iter(parts))
    return Blend(name or text, tuple(parts), tuple(m / amount for m in moles.values()), text)


def composition(fuel: Blend, basis: Basis = "volume") -> dict[str, float]:
    """Fractions of the components [-] by volume (before mixing at 20 degC), mass or mole.

    >>> round(composition(blend("ethanol 95"), "mass")["ethanol"], 3)
    0.938
    """
    _check_basis(basis)
    amounts = {n: x * _per_mole(n, basis) for n, x in zip(fuel.components, fuel.mole_fractions, strict=True)}
    total = sum(amounts.values())
    return {n: a / total for n, a in amounts.items()}


def mole_fractions(fuel: Blend) -> tuple[float, ...]:
    """Mole fractions [-] in the order of the components."""
    return fuel.mole_fractions


def mass_fractions(fuel: Blend) -> tuple[float, ...]:
    """Mass fractions [-] in the order of the components."""
    return tuple(composition(fuel, "mass").values())


def volume_fractions(fuel: Blend) -> tuple[float, ...]:
    """Fractions [-] of the volumes before mixing at 20 degC, in the order of the components."""
    return tuple(composition(fuel, "volume").values())


def molar_mass(fuel: Blend) -> float:
    """Mean molar mass of a blend [kg/mol].

    >>> round(molar_mass(blend("ethanol")), 5)
    0.04607
    """
    return sum(x * SUBSTANCES[n].molar_mass for n, x in zip(fuel.components, fuel.mole_fractions, strict=True))


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


def _vapour_mixture(y: tuple[float, ...], names: tuple[str, ...], T: float) -> tuple[float, float]:
    """Viscosity [Pa s] by Wilke and conductivity [W/m/K] by Wassiljewa with Mason and Saxena at T [K]."""
    th = T - DATUM
    mu = [SUBSTANCES[n].vapour_viscosity[0] + SUBSTANCES[n].vapour_viscosity[1] * th for n in names]
    k = [SUBSTANCES[n].vapour_conductivity[0] + SUBSTANCES[n].vapour_conductivity[1] * th for n in names]
    mass = [SUBSTANCES[n].molar_mass for n in names]
    total_mu = total_k = 0.0
    for i in range(len(names)):
        weight = sum(
            y[j]
            * (1.0 + sqrt(mu[i] / mu[j]) * (mass[j] / mass[i]) ** 0.25) ** 2
            / sqrt(8.0 * (1.0 + mass[i] / mass[j]))
            for j in range(len(names))
        )
        total_mu += y[i] * mu[i] / weight
        total_k += y[i] * k[i] / weight
    return total_mu, total_k


def _wilson(first: str, second: str) -> tuple[float, float]:
    """Lambda of the ordered pair at 298.15 K and its slope [1/K]."""
    if first == second:
        return 1.0, 0.0
    if (first, second) in WILSON:
        pair = WILSON[first, second]
        return pair[0], pair[2]
    pair = WILSON[second, first]
    return pair[1], pair[3]


def _liquid_transport(
    names: tuple[str, ...], x: tuple[float, ...]
) -> tuple[tuple[float, float, float], tuple[float, float]]:
    """ln viscosity (quadratic in u) and surface tension (linear in th) of the liquid charge.

    Viscosity: Grunberg and Nissan form, ln mu = sum x ln mu_i + x_w x_o G(z) (1 + fade (u - u0)), several
    organics weighted by their share. Surface tension: Connors and Wright (1989), Anal. Chem. 61, 194,
    sigma = sigma_w - (1 + b x_w / (1 - a x_w)) x_o (sigma_w - sigma_o); organics among themselves by mole
    fraction.
    """
    pure = [SUBSTANCES[n] for n in names]
    c0, c1, c2 = (sum(f * s.ln_viscosity[k] for f, s in zip(x, pure, strict=True)) for k in range(3))
    xw = x[names.index("water")] if "water" in names else 0.0
    xo = 1.0 - xw
    organics = [(n, f / xo) for n, f in zip(names, x, strict=True) if n != "water"]
    s0, s1 = (sum(f * SUBSTANCES[n].surface_tension[k] for n, f in organics) for k in range(2))
    if xw > 0.0:
        z = xw - xo
        u0 = 1000.0 / DATUM
        for n, f in organics:
            pair = AQUEOUS[n]
            excess = f * xw * xo * sum(g * z**k for k, g in enumerate(pair.excess_ln_viscosity))
            c0 += excess * (1.0 - pair.viscosity_fade * u0)
            c1 += excess * pair.viscosity_fade
        a, b = (sum(f * AQUEOUS[n].surface_shape[k] for n, f in organics) for k in range(2))
        share = (1.0 + b * xw / (1.0 - a * xw)) * xo
        w0, w1 = SUBSTANCES["water"].surface_tension
        s0, s1 = w0 - share * (w0 - s0), w1 - share * (w1 - s1)
    return (c0, c1, c2), (s0, s1)


@lru_cache(maxsize=256)
def _record(names: tuple[str, ...], x: tuple[float, ...]) -> FuelRecord:
    pure = [SUBSTANCES[n] for n in names]
    water = names.index("water") if "water" in names else -1
    excess = (0.0, 0.0, 0.0, 0.0)
    if water >= 0:
        dry = 1.0 - x[water]
        shares = [(AQUEOUS[n].excess_volume, f / dry) for n, f in zip(names, x, strict=True) if n != "water"]
        e0, e1, e2, e3 = (sum(f * a[k] for a, f in shares) for k in range(4))
        excess = (e0, e1, e2, e3)
    ln_viscosity, surface_tension = _liquid_transport(names, x)
    rec = FuelRecord(
        molar_mass=tuple(s.molar_mass for s in pure),
        ln_vapour_pressure=tuple(s.ln_vapour_pressure for s in pure),
        wilson_0=tuple(tuple(_wilson(i, j)[0] for j in names) for i in names),
        wilson_1=tuple(tuple(_wilson(i, j)[1] for j in names) for i in names),
        liquid_heat=tuple(s.liquid_heat for s in pure),
        vapour_heat=tuple(s.vapour_heat for s in pure),
        gas_heat_capacity=tuple(s.gas_heat_capacity for s in pure),
        molar_volume=tuple(s.molar_volume for s in pure),
        excess_volume=excess,
        water_index=water,
        ln_viscosity=ln_viscosity,
        surface_tension=surface_tension,
        vapour_viscosity=(0.0, 0.0),
        vapour_conductivity=(0.0, 0.0),
        diffusivity=0.0,
        critical_pressure=sum(f * s.critical_pressure for f, s in zip(x, pure, strict=True)),
    )
    y = vapour_composition(x, bubble_temperature(x, ATMOSPHERE, rec), rec)
    (mu0, k0), (mu1, k1) = (_vapour_mixture(y, names, T) for T in (DATUM, DATUM + 75.0))
    return replace(
        rec,
        vapour_viscosity=(mu0, (mu1 - mu0) / 75.0),
        vapour_conductivity=(k0, (k1 - k0) / 75.0),
        diffusivity=1.0 / sum(f / s.diffusivity for f, s in zip(y, pure, strict=True)),
    )


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
    return _record(fuel.components, fuel.mole_fractions)
