"""What people write for a fuel: names, per cents and recipes in words, as shares of known names."""

import re
from collections.abc import Mapping
from difflib import get_close_matches
from functools import cache
from math import isfinite
from types import MappingProxyType
from typing import Literal, get_args

from burnsim.errors import InputError
from burnsim.substances.catalogue import ALIASES, SUBSTANCES, tables
from burnsim.substances.data_file import DATA, Table, read_data

LABEL = " bottle"
"""Ends a spirit whose per cent is meant as a bottle's label counts it."""

NEAR = 0.75  # likeness from which a misspelt name is guessed; "kerosene" and "butanol" are other liquids
_PER_CENT = re.compile(r"\b\d+(\.\d+)?( ?%|(?= |$))")
BLEND_KEYS = ("kind", "name", "by", "note", "source", "status", "parts")
Basis = Literal["volume", "mass", "mole"]
BASES: tuple[Basis, ...] = get_args(Basis)


def blend_parts(table: Table) -> tuple[str, str, dict[str, float]]:
    """Name, basis and shares of a blend's data file; the shares sum to 1 within 0.001."""
    table.text("kind", 'write kind = "blend"', among=("blend",))
    table.refuse_unknown(BLEND_KEYS)
    name = table.text("name", "give the name by which recipes call it")
    by = table.text("by", "bottles state shares by volume", among=BASES)
    table.source_and_status()
    parts = table.sub_table("parts", "give the share of each part, [parts]")
    return name, by, {key: parts.number_like(key, fraction) for key in parts.content}


def fraction(name: str, value: object) -> float:
    """Share of a component: a number from 0 to 1, or a text with per cent."""
    given = value
    scale = 1.0
    if isinstance(given, str):
        given = given.strip()
        if given.endswith("%"):
            given, scale = given[:-1], 0.01
    if isinstance(given, dict) and list(given) == ["toml"]:  # a path without quotes is a table in a table
        raise InputError(f"fraction of {name}", value, "is not a number", f'put the path in quotes: "{name}.toml"')
    try:
        if isinstance(given, bool) or not isinstance(given, (int, float, str)):
            raise TypeError
        number = float(given) * scale
    except (TypeError, ValueError):
        raise InputError(f"fraction of {name}", value, "is not a number", 'write 0.95 or "95 %"') from None
    if not isfinite(number) or number < 0.0 or number > 1.0:
        raise InputError(f"fraction of {name}", value, "is outside 0 to 1", 'write 0.95 or "95 %"')
    return number


def _ready() -> dict[str, Mapping[str, float]]:
    """Pure fuels, then ready blends by name."""
    found: dict[str, Mapping[str, float]] = {name: {name: 1.0} for name, one in SUBSTANCES.items() if one.fire}
    for table in tables("blends"):
        name, by, parts = blend_parts(table)
        if by != "volume":
            raise InputError(table.field("by"), by, "does not suit a ready blend", 'write by = "volume"')
        found[name] = parts
    return found


READY: Mapping[str, Mapping[str, float]] = MappingProxyType(_ready())
"""Plain names and their recipes by volume. Methylated spirit differs by country and maker: this is a usual
composition (common practice, no source)."""


@cache
def hints() -> Mapping[str, str]:
    """What to do about names that are sold but say too little, or name no spirit at all."""
    table = read_data(DATA / "hints.toml")
    found: dict[str, str] = {}
    for key in table.content:
        entry = table.sub_table(key, "")
        names = entry.content["names"]
        assert isinstance(names, list)  # a file of the package
        found |= dict.fromkeys(names, entry.text("hint", "say what to do"))
    return found


def unknown_spirit(field: str, given: str, problem: str, allowed: str) -> InputError:
    """Make the error for a name that is not known: its hint, the nearest name, or the list.

    A per cent beside a name that has a hint changes nothing about that: "70% isopropyl".
    """
    key = " ".join(given.lower().split())
    for part in key.split(","):
        name = " ".join(_PER_CENT.sub(" ", part).split())
        if name in hints():
            return InputError(field, given, "does not say what is in it", hints()[name])
        before = _PER_CENT.match(part.strip())
        rest = part.strip()[before.end() :].strip() if before else ""
        if before and (rest in READY or rest in SUBSTANCES or rest in ALIASES):
            behind = f"{rest} {before[0].rstrip(' %')} %"
            return InputError(field, given, "has a number before the name", f"write per cents behind it: {behind!r}")
    near = get_close_matches(key, [*READY, *SUBSTANCES, *ALIASES], n=1, cutoff=NEAR)
    hint = f"did you mean {near[0]!r}? " if near else ""
    return InputError(field, given, problem, f"{hint}use one of {allowed}")


def known_component(name: object) -> str:
    """Name of a substance or of a ready blend, by which a recipe may call its part."""
    key = " ".join(str(name).lower().split())
    key = ALIASES.get(key, key)
    if key in SUBSTANCES or key in READY:
        return key
    raise unknown_spirit("fuel component", str(name), "is not a known substance", ", ".join(SUBSTANCES))


def shares_in_words(spec: str) -> Mapping[str, float]:
    """Read a ready name, a substance and its per cent, or a list with per cents, as shares by name."""
    words_of = " ".join(spec.lower().split())
    if words_of in READY:
        return READY[words_of]
    recipe: dict[str, float] = {}
    for part in words_of.split(","):
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
        if known not in SUBSTANCES and (known not in READY or number is None):
            raise unknown_spirit("fuel", spec, "is not a known fuel", f"{', '.join(READY)}, or a recipe")
        if known in recipe:
            raise InputError("fuel", spec, f"names {known} twice", "name each component once")
        recipe[known] = 1.0 if number is None else fraction(known, f"{number} %")
    if len(recipe) == 1:
        only, share = next(iter(recipe.items()))
        if share < 1.0 and only != "water":
            recipe["water"] = 1.0 - share
    return recipe
