"""A new setup from an old one with some fields changed, each named by its dotted path."""

from collections.abc import Iterator, Mapping
from dataclasses import fields, replace
from functools import cache
from typing import Any

from burnsim.errors import InputError, guess
from burnsim.model.description.fields import dotted, spec_of
from burnsim.model.description.files import Design, as_setup
from burnsim.model.description.parts import wick_material
from burnsim.model.description.setup import Setup
from burnsim.model.description.tables import read_field
from burnsim.substances.blend import Blend


def vary(setup: Design, changes: Mapping[str, object]) -> Setup:
    """Change fields of a setup; all changes take hold together, and the old setup stays as it was.

    Parameters
    ----------
    setup
        Where to start: a setup, or what stands for one.
    changes
        Dotted path to new value: SI floats, quantity texts ("0.8 mm"), the name or table of a fuel, or a
        whole part such as `Pot(...)` or None.

    Returns
    -------
    Setup

    Raises
    ------
    InputError
        For anything but a setup and a mapping, a path that does not exist (with the nearest one), a part that the
        setup does not have, or a value that its field refuses.

    >>> cup = {"kind": "open cup", "outer_diameter": "60 mm", "height": "30 mm"}
    >>> setup = Setup.from_dict({"burner": cup, "charge": {"fuel": "ethanol", "volume": "20 ml"}})
    >>> vary(setup, {"charge.volume": "15 ml", "site.wind": 1.0}).site.wind
    1.0
    """
    setup = as_setup(setup)
    if not isinstance(changes, Mapping):
        raise InputError("changes", changes, "is not a mapping", 'write {"charge.volume": "30 ml"}')
    for path, value in changes.items():
        check_path(path, value)
        for other in changes:
            if path.startswith(f"{other}."):
                raise InputError(path, value, f"is changed together with the whole {other}", "change only one of them")
    changed: Setup = _changed(setup, changes, "")
    return changed


def check_path(path: object, value: object = None) -> None:
    """Refuse a dotted path that no setup has; `value` is what was given for it."""
    if path not in paths():
        remedy = guess(path, paths(), "use a dotted path such as 'burner.jets.diameter'")
        raise InputError(str(path), value, "is not a field of a setup", remedy)


def value_at(setup: Setup, path: str) -> Any:
    """What a setup has at a dotted path [SI]; None where it has no such part, or nothing there.

    >>> cup = {"kind": "open cup", "outer_diameter": "60 mm", "height": "30 mm"}
    >>> setup = Setup.from_dict({"burner": cup, "charge": {"fuel": "ethanol", "volume": "20 ml"}})
    >>> value_at(setup, "burner.height"), value_at(setup, "pot.gap")
    (0.03, None)
    """
    part: Any = setup
    for name in path.split("."):
        part = None if part is None else getattr(part, name)
    return part


@cache
def paths() -> tuple[str, ...]:
    """List every dotted path that `vary` knows.

    >>> "burner.jets.diameter" in paths()
    True
    """
    return tuple(_paths(Setup, ""))


def _paths(kind: type, prefix: str) -> Iterator[str]:
    for field in fields(kind):
        path = dotted(prefix, field.name)
        yield path
        nested = spec_of(field).part
        if nested is not None and nested is not Blend:
            yield from _paths(nested, path)


def _changed(record: Any, changes: Mapping[str, object], prefix: str) -> Any:
    new: dict[str, Any] = {}
    under = dotted(prefix, "")
    touched = {key.removeprefix(under).partition(".")[0] for key in changes if key.startswith(under)}
    for field in (one for one in fields(record) if one.name in touched):
        path = under + field.name
        if path in changes:
            new[field.name] = read_field(spec_of(field), changes[path], path)
            if path == "burner.wick.material" and changes[path] is not None:  # what else is changed counts
                record = replace(record, material=wick_material(new.pop(field.name), path))
            continue
        value = getattr(record, field.name)
        if value is None:
            inside = next(key for key in changes if key.startswith(f"{path}."))
            problem = f"cannot be changed: this setup has no {path}"
            raise InputError(inside, changes[inside], problem, f"give the whole {path!r} first")
        new[field.name] = _changed(value, changes, path)
    return replace(record, **new)
