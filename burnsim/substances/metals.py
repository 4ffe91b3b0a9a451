"""Metals of thin cups and pots, and glass."""

import os
from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

from burnsim.errors import InputError
from burnsim.substances.catalogue import tables
from burnsim.substances.data_file import Table, read_data


class Metal(NamedTuple):
    """Properties near 350 K. Emissivity is for a used, dull surface."""

    density: float  # [kg/m3]
    conductivity: float  # [W/m/K]
    heat_capacity: float  # [J/kg/K]
    emissivity: float  # [-]
    melting_point: float  # [K], solidus of an alloy, softening point of a glass
    source: str
    name: str

    def __str__(self) -> str:
        """Return its name."""
        return self.name


RANGES: Mapping[str, tuple[str, float, float]] = {
    "density": ("kg/m3", 500.0, 25000.0),
    "conductivity": ("W/m/K", 0.05, 2500.0),
    "heat_capacity": ("J/kg/K", 50.0, 3000.0),
    "emissivity": ("-", 0.01, 1.0),
    "melting_point": ("K", 450.0, 4000.0),
}


def metal_from(table: Table) -> Metal:
    """Make a metal of its file's table."""
    table.text("kind", 'write kind = "metal"', among=("metal",))
    table.refuse_unknown(("kind", "name", "note", *RANGES))
    name = table.text("name", "give the name by which designs call it")
    found = {key: table.number(key, *limits) for key, limits in RANGES.items()}
    source = "; ".join(f"{key}: {one.source} ({one.status})" for key, one in found.items())
    return Metal(**{key: one.value for key, one in found.items()}, source=source, name=name)


def metal_of_table(content: Mapping[str, object], field: str) -> Metal:
    """A metal from its numbers in SI, as `metal_table` writes them; `field` is what holds it, for errors."""
    table = Table(field, "", content)
    table.refuse_unknown(Metal._fields)
    values = {key: table.bare_number(key, low, high, unit) for key, (unit, low, high) in RANGES.items()}
    source, name = table.text("source", "say where its numbers come from"), table.text("name", "give its name")
    return Metal(**values, source=source, name=name)


def metal_table(metal: str | Metal) -> str | dict[str, object]:
    """What a design keeps of a metal: its name, or all its numbers if it is one of the user's own."""
    if isinstance(metal, str) or METALS.get(metal.name) == metal:
        return str(metal)
    return metal._asdict()


def read_metal(path: str | os.PathLike[str]) -> Metal:
    """Read the data file of a metal of your own.

    Parameters
    ----------
    path : of a TOML file with kind = "metal"

    Raises
    ------
    InputError
        Names the file, the field, its value, what is allowed, and what to do.
    """
    return metal_from(read_data(path, "metal"))


METALS: Mapping[str, Metal] = MappingProxyType({m.name: m for m in (metal_from(t) for t in tables("metals"))})
"""Metals by name. "aluminium" is the alloy of drink cans, the usual stock for thin cups."""


def metal_of(given: str | Metal) -> Metal:
    """Look up a metal by its name; one of your own is handed on.

    >>> metal_of("copper").conductivity
    401.0
    """
    if isinstance(given, Metal):
        return given
    if given not in METALS:
        raise InputError("metal", given, "is not known; allowed: " + ", ".join(METALS), "or read_metal(path) one")
    return METALS[given]
