"""Search files: what to search, as TOML."""

import os
from collections.abc import Mapping
from pathlib import Path
from typing import Any, NamedTuple

from burnsim.errors import InputError, unknown
from burnsim.io.text_file import read_toml

KEYS = {
    "design": str, "objective": str, "maximise": bool, "share": float, "works": float, "draws": int, "check": int,
    "few": int, "evaluations": int, "seed": int, "trade_off": list, "set": dict, "free": dict, "limits": dict,
    "forbid": dict,
}  # fmt: skip
KINDS = {
    str: "a text", bool: "true or false", int: "a whole number", float: "a number", list: "a list", dict: "a table",
}  # fmt: skip


class Plan(NamedTuple):
    """What a search file asks for."""

    design: Path
    changes: Mapping[str, object]  # made to the design before the search
    asked: dict[str, Any]  # what `search` is given, by the names of its arguments


def read_search(path: str | os.PathLike[str]) -> Plan:
    """Read a search file.

    Parameters
    ----------
    path : TOML with `design` (a file, from where this one lies), `objective`, tables [free], [limits], [forbid], [set],
        and the numbers of `search`

    Raises
    ------
    InputError
        For a file that cannot be read, and keys that make no sense.
    """
    table, name = read_toml(path, "search file", 'write key = "value" lines'), os.fspath(path)
    if "burner" in table:
        raise InputError("file", name, "is a design, not a search", 'name it in a search file: design = "my.toml"')
    for key, value in table.items():
        if key not in KEYS:
            raise unknown(key, value, KEYS, "is not a known key", "leave it out", word=key)
        kinds = (int, float) if KEYS[key] is float else (KEYS[key],)
        if not isinstance(value, kinds) or (isinstance(value, bool) and bool not in kinds):
            raise InputError(key, value, f"is not {KINDS[KEYS[key]]}", "see examples/search/least_fuel.toml")
    for key in ("design", "objective", "free"):
        if key not in table:
            raise InputError(key, None, "is missing", f"add {key} = ..." if key != "free" else "add the table [free]")
    axes = table.get("trade_off", ["boil", "boil_fuel"])
    if len(axes) != 2 or not all(isinstance(axis, str) for axis in axes):
        raise InputError("trade_off", axes, "is not two figures", 'write trade_off = ["boil", "boil_fuel"]')
    design, changes = Path(name).parent / table.pop("design"), table.pop("set", {})
    return Plan(design, changes, table | {"trade_off": tuple(axes)})
