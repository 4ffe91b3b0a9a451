"""Plain tables (as a design file holds them) to descriptions and back.

A quantity is a text with its unit ("30 ml", "2 3/8 in", "64 degF") or a bare number in SI. Unknown keys are
refused with the nearest known one.
"""

import contextlib
import json
import math
import warnings
from collections.abc import Mapping
from dataclasses import MISSING, fields, is_dataclass, replace
from typing import TYPE_CHECKING, Any, TypeVar

from burnsim.errors import InputError, unknown
from burnsim.model.description.fields import Spec, allowed, dotted, own_material, read_quantity, spec_of
from burnsim.model.description.parts import Wick, wick_material
from burnsim.substances.blend import Blend, blend, blend_with
from burnsim.substances.data_file import is_path
from burnsim.substances.metals import Metal, metal_of_table, metal_table, read_metal
from burnsim.substances.recipe import BASES, READY, Basis
from burnsim.units import DIMENSIONS, parse
from burnsim.units.reading import is_quantity, weighed
from burnsim.units.writing import spelt

if TYPE_CHECKING:
    from _typeshed import DataclassInstance

Part = TypeVar("Part", bound="DataclassInstance")


def read_part(kind: type[Part], table: object, path: str) -> Part:
    """Read one description of a kind from its table; `path` names the table in errors."""
    if not isinstance(table, Mapping):
        remedy = f"write it as a table, [{path or 'burner'}]"
        raise InputError(path or "design", table, "is not a table of keys", remedy)
    if kind is Wick and "material" in table:
        table = _with_material(table, path)
    known = {field.name: field for field in fields(kind)}
    for key, value in table.items():
        if key not in known:
            raise unknown(dotted(path, str(key)), value, known, "is not a known key", "leave it out", word=key)
    values: dict[str, Any] = {}
    for name, field in known.items():
        full = dotted(path, name)
        if name in table:
            values[name] = read_field(spec_of(field), table[name], full)
        elif field.default is MISSING and field.default_factory is MISSING:
            raise _missing_key(spec_of(field), full)
    return kind(**values)


def read_field(spec: Spec, raw: object, path: str) -> object:
    """Turn the raw value of one field (text with unit, number, table) into what the description holds."""
    if raw is None and spec.optional:
        return None
    if spec.dimension in DIMENSIONS and (isinstance(raw, str) or is_quantity(raw)):
        by_mass = spec.weighed and weighed(raw) is not None
        return raw if by_mass else read_quantity(raw, spec, path)  # what weighs so much is for the charge to tell
    if spec.dimension in DIMENSIONS and not DIMENSIONS[spec.dimension].bare and isinstance(raw, (int, float)):
        _check_bare(raw, spec, path)
    if spec.dimension == "metal" and (isinstance(raw, Mapping) or (isinstance(raw, str) and is_path(raw))):
        return own_material(read_metal, raw, path) if isinstance(raw, str) else metal_of_table(raw, path)
    if spec.part is Blend:
        return read_fuel(raw, path)
    if spec.part is not None and not isinstance(raw, spec.part):
        return read_part(spec.part, raw, path)
    return raw


def _check_bare(raw: float, spec: Spec, path: str) -> None:
    """Refuse a bare number that is out of range in SI: most likely its unit was forgotten."""
    if isinstance(raw, bool) or not math.isfinite(raw) or spec.low <= raw <= spec.high:
        return
    problem = f"is a bare number and so in SI, {spelt(raw, spec.dimension)}; {allowed(spec)}"
    raise InputError(path, raw, problem, f"write its unit, like {DIMENSIONS[spec.dimension].example!r}")


def read_fuel(raw: object, path: str = "charge.fuel") -> Blend:
    """Read a fuel: a blend, the name of a ready one, or a table of shares by name with an optional `basis`.

    >>> read_fuel({"basis": "volume", "ethanol": "95 %", "water": "5 %"}).components
    ('ethanol', 'water')
    """
    if isinstance(raw, Blend):
        return raw
    if isinstance(raw, str):
        return _blended(raw, "volume", path)
    if not isinstance(raw, Mapping):
        raise InputError(
            path, raw, "is neither the name of a fuel nor a table of shares",
            'write "ethanol 95", or { ethanol = "95 %", water = "5 %" }; ready fuels: ' + ", ".join(READY),
        )  # fmt: skip
    basis = raw.get("basis", "volume")
    if basis not in BASES:
        raise unknown(f"{path}.basis", basis, BASES, otherwise="bottles state shares by volume", show=repr)
    shares: dict[str, float] = {}
    for name, share in raw.items():
        if name in ("basis", "name", "own"):
            continue
        if isinstance(share, bool) or not isinstance(share, (str, int, float)):
            problem = "is not a share; allowed from 0 to 1, or from 0 % to 100 %"
            raise InputError(f"{path}.{name}", share, problem, 'write 0.95 or "95 %"')
        shares[str(name)] = _share(share, f"{path}.{name}")
    called = raw.get("name")
    if called is not None and (not isinstance(called, str) or not called.strip()):
        raise InputError(f"{path}.name", called, "is not a text", "write a name in quotes, or leave it out")
    made = _blended(shares, basis, path, raw.get("own"))
    return made if called is None else replace(made, name=called)


def _share(raw: str | float, path: str) -> float:
    """Read one share of a blend; an error names its component and the allowed range."""
    try:
        share = parse(raw, "fraction", path)
    except InputError as error:
        raise InputError(path, raw, f"{error.problem}; allowed from 0 to 1", error.remedy) from None
    if not 0.0 <= share <= 1.0:
        raise InputError(path, raw, "is out of range; allowed from 0 to 1", 'write 0.95 or "95 %"')
    return share


def _blended(spec: str | Mapping[str, float], basis: Basis, path: str, own: object = None) -> Blend:
    if own is not None and not (isinstance(own, Mapping) and all(isinstance(one, Mapping) for one in own.values())):
        raise InputError(f"{path}.own", own, "is not a table of fuels' data", f"write each under [{path}.own.NAME]")
    try:
        if own is None or isinstance(spec, str):
            return blend(spec, basis)
        return blend_with(own, spec, basis, f"{path}.own")
    except InputError as error:
        if str(error.field).startswith(path):
            raise
        if ".toml" in str(error.field):
            raise InputError(f"{path}: {error.field}", error.value, error.problem, error.remedy) from None
        raise InputError(path, error.value, error.problem, error.remedy) from None


def _with_material(table: Mapping[str, object], path: str) -> Mapping[str, object]:
    """A wick's table with what its material's file says in the place of the file; what the table says itself counts."""
    file = table["material"]
    if isinstance(file, str) and not is_path(file) and {"porosity", "pore_radius"} <= set(table):
        return table  # the name of one whose numbers stand here
    found = wick_material(file, f"{path}.material")
    return {"porosity": found.porosity, "pore_radius": found.pore_radius, **table, "material": found.name}


def _missing_key(spec: Spec, path: str) -> InputError:
    table, _, name = path.rpartition(".")
    where = f"under [{table}]" if table else "to the design"
    if spec.dimension in DIMENSIONS or spec.dimension == "count":
        span = f"; {allowed(spec)}"
    elif spec.choices:
        span = "; allowed: " + ", ".join(map(repr, spec.choices))
    else:
        span = ""
    what = f"add the table [{path}]" if spec.part not in (None, Blend) else f"add {name} = ... {where}"
    return InputError(path, None, f"is missing ({spec.doc}){span}", what)


def table_of(record: "DataclassInstance") -> dict[str, object]:
    """Write a description as nested plain tables in SI, without the fields that are none; `read_part` reads it back."""
    values = ((field.name, getattr(record, field.name)) for field in fields(record))
    return {name: table_value(value) for name, value in values if value is not None}


def table_value(value: object) -> object:
    """What a design file has in place of a fuel, a metal or a part; any other value as it is."""
    if isinstance(value, Blend):
        return fuel_table(value)
    if isinstance(value, Metal):
        return metal_table(value)
    return table_of(value) if is_dataclass(value) and not isinstance(value, type) else value


def fuel_table(fuel: Blend) -> str | dict[str, object]:
    """A fuel as `read_fuel` reads it back: the name of a ready one, or its mole fractions.

    Of a substance of the user's own stands there all that its file says, so that the file is not needed any more.
    """
    if not is_path(fuel.name):
        with warnings.catch_warnings(), contextlib.suppress(InputError):  # its name may be one of its own
            warnings.simplefilter("ignore")
            if blend(fuel.name) == fuel:
                return fuel.name
    shares = dict(zip(fuel.components, fuel.mole_fractions, strict=True))
    own = {"own": {one.name: json.loads(one.data) for one in fuel.own}} if fuel.own else {}
    return {"name": fuel.name, "basis": "mole", **shares, **own}
