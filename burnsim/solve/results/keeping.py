"""A burn in a file and back, number for number: its records as JSON, its course as arrays, no code of any kind.

A file belongs to the version that wrote it: what a later one would make of old records is not the same burn.
"""

import json
import os
import zipfile
from collections.abc import Iterable, Mapping
from dataclasses import fields, is_dataclass
from importlib import import_module
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from burnsim.errors import InputError
from burnsim.io.text_file import whole_file
from burnsim.solve.recorder import Phase, Step
from burnsim.units.writing import Text

FORMAT = "burnsim burn 1"
HEAD = "head"
Arrays = dict[str, NDArray[Any]]


def save(burn: Any, path: str | os.PathLike[str]) -> None:
    """Write a burn into a file; an `InputError` if it cannot be written."""
    arrays: Arrays = {}
    packed = {field.name: _packed(getattr(burn, field.name), arrays) for field in fields(burn)}
    head = json.dumps({"format": FORMAT, "version": _version(), "burn": packed}, ensure_ascii=False)
    try:
        with whole_file(path) as rough, Path(rough).open("wb") as stream:
            written: dict[str, Any] = {HEAD: np.frombuffer(head.encode(), dtype=np.uint8), **arrays}
            np.savez_compressed(stream, **written)
    except OSError as error:
        raise InputError(
            "file", os.fspath(path), f"cannot be written: {error.strerror or error}", "choose another place"
        ) from None


def read(path: str | os.PathLike[str]) -> dict[str, Any]:
    """The fields of the burn in a file that `save` wrote.

    An `InputError` if it cannot be read, is not one, or another version wrote it.
    """
    name = os.fspath(path)
    again = "burn its design again, and save that"
    try:
        with np.load(name, allow_pickle=False) as whole:
            arrays = {key: whole[key] for key in whole.files}
        head = json.loads(arrays.pop(HEAD).tobytes().decode())
        told, version = head["format"], head["version"]
    except OSError as error:
        raise InputError("file", name, f"cannot be read: {error.strerror or error}", "check the path") from None
    except (ValueError, KeyError, TypeError, EOFError, zipfile.BadZipFile):
        raise InputError("file", name, "is not a saved burn", "give a file that Burn.save wrote") from None
    if told != FORMAT or version != _version():
        raise InputError("file", name, f"was written by burnsim {version}, and this is {_version()}", again)
    try:
        return {key: _unpacked(value, arrays) for key, value in head["burn"].items()}
    except (KeyError, TypeError, ValueError, AttributeError, ImportError) as error:
        raise InputError("file", name, f"does not fit this version: {error}", again) from None


def _version() -> str:
    version: str = import_module(__name__.partition(".")[0]).__version__
    return version


def _packed(value: object, arrays: Arrays) -> Any:
    """A value as JSON can hold it; arrays go beside."""
    if isinstance(value, float):
        return float(value)
    if isinstance(value, Text):
        return {"text": [value.template, *_each(value.parts, arrays)]}
    if value is None or isinstance(value, bool | int | str):
        return value
    if isinstance(value, np.ndarray):
        name = f"a{len(arrays)}"
        arrays[name] = value
        return {"array": name}
    return _record(value, arrays)


def _each(values: Iterable[object], arrays: Arrays) -> list[Any]:
    return [_packed(one, arrays) for one in values]


def _record(value: object, arrays: Arrays) -> dict[str, Any]:
    """A record as its kind and its fields; the steps of a phase as one array for each of theirs."""
    if isinstance(value, Phase):
        rows = (np.array([getattr(step, name) for step in value.steps]) for name in Step._fields)
        return {"phase": [_packed(value.regime, arrays), *_each(rows, arrays)]}
    if isinstance(value, tuple) and not hasattr(value, "_fields"):
        return {"tuple": _each(value, arrays)}
    kind = type(value)
    named = {name: _packed(getattr(value, name), arrays) for name in _names(kind)}
    return {"kind": f"{kind.__module__}:{kind.__qualname__}", "of": named}


def _unpacked(value: Any, arrays: Arrays) -> Any:
    if not isinstance(value, Mapping):
        return value
    if "text" in value:
        return Text(*(_unpacked(one, arrays) for one in value["text"]))
    if "array" in value:
        array = arrays[value["array"]]
        array.flags.writeable = False
        return array
    if "phase" in value:
        regime, *columns = (_unpacked(one, arrays) for one in value["phase"])
        steps = zip(columns[0].tolist(), columns[1].tolist(), *columns[2:], strict=True)
        return Phase(regime, tuple(Step(*row) for row in steps))
    if "tuple" in value:
        return tuple([_unpacked(one, arrays) for one in value["tuple"]])
    module, _, name = value["kind"].partition(":")
    if not module.startswith(__name__.partition(".")[0] + "."):
        raise ValueError(f"{value['kind']} is no record of this package")
    kind = getattr(import_module(module), name)
    if list(value["of"]) != _names(kind):
        raise ValueError(f"{name} has other fields now")
    return kind(*(_unpacked(one, arrays) for one in value["of"].values()))


def _names(kind: Any) -> list[str]:
    """The fields of a record."""
    if isinstance(kind, type) and is_dataclass(kind):
        return [field.name for field in fields(kind)]
    if isinstance(kind, type) and issubclass(kind, tuple) and hasattr(kind, "_fields"):
        return list(kind._fields)
    raise TypeError(f"{kind!r} is no record")
