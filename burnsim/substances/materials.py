"""Materials of one's own: fuels, blends, metals and wicks from TOML files, one by one or a folder at once."""

import os
from collections.abc import Callable, Mapping
from pathlib import Path
from types import MappingProxyType
from typing import NamedTuple

from burnsim.errors import InputError
from burnsim.substances.blend import Blend, blend
from burnsim.substances.data_file import read_data
from burnsim.substances.metals import METALS, Metal, read_metal

__all__ = ["METALS", "WickMaterial", "read_materials", "read_metal", "read_wick_material"]


def __dir__() -> list[str]:
    """List the public names."""
    return __all__


class WickMaterial(NamedTuple):
    """What a band of absorbent is made of."""

    porosity: float  # share of its volume that spirit fills
    pore_radius: float  # [m]
    source: str
    name: str


def read_wick_material(path: str | os.PathLike[str]) -> WickMaterial:
    """Read the data file of a wick's material.

    Parameters
    ----------
    path : of a TOML file with kind = "wick"

    Raises
    ------
    InputError
        Names the file, the field, its value, what is allowed, and what to do.
    """
    table = read_data(path, "wick")
    table.refuse_unknown(("kind", "name", "note", "porosity", "pore_radius"))
    table.text("kind", 'write kind = "wick"', among=("wick",))
    name = table.text("name", "give the name of the material")
    porosity = table.number("porosity", "-", 0.1, 0.99)
    radius = table.number("pore_radius", "m", 1e-6, 1e-3)
    source = f"porosity: {porosity.source} ({porosity.status}); pore_radius: {radius.source} ({radius.status})"
    return WickMaterial(porosity.value, radius.value, source, name)


READERS: Mapping[str, Callable[[Path], Blend | Metal | WickMaterial]] = {
    "fuel": blend, "blend": blend, "metal": read_metal, "wick": read_wick_material,
}  # fmt: skip
"""What reads a file of each kind."""


def read_materials(folder: str | os.PathLike[str]) -> Mapping[str, Blend | Metal | WickMaterial]:
    """Read every material in a folder.

    Parameters
    ----------
    folder : with TOML files of fuels, blends, metals and wicks; designs and files that are not TOML are left alone

    Returns
    -------
    Mapping by the names in the files, to be given to `Charge`, `Burner` and `Pot`: a fuel as a `Blend`, a metal as a
    `Metal`, a wick's material as a `WickMaterial`.

    Raises
    ------
    InputError
        For a folder that cannot be read, a file that makes no sense, or a name given twice.
    """
    place = Path(folder)
    if not place.is_dir():
        raise InputError("materials", os.fspath(folder), "is not a folder", "give a folder with TOML files in it")
    found: dict[str, Blend | Metal | WickMaterial] = {}
    for path in sorted(place.glob("*.toml")):
        table = read_data(path)
        if "burner" in table.content:  # a design
            continue
        remedy = f"write one of {', '.join(READERS)}, or keep what is no material in another folder"
        kind = table.text("kind", remedy, among=tuple(READERS))
        one = READERS[kind](path)
        if one.name in found:
            raise InputError(f"{path.name}: name", one.name, "is the name of another file there too", "rename one")
        found[one.name] = one
    return MappingProxyType(found)
