"""What the package carries: one data file for each pure substance, metal, wick and ready blend."""

from collections.abc import Iterator, Mapping
from types import MappingProxyType

from burnsim.substances.data_file import DATA, Table, read_data
from burnsim.substances.fuel_file import substance_from
from burnsim.substances.substance import Substance


def tables(folder: str) -> Iterator[Table]:
    """Tables of the package's data files of a kind."""
    for path in sorted((DATA / folder).glob("*.toml")):
        yield read_data(path)


def component_order(one: Substance) -> tuple[bool, float, str]:
    """Key by which a blend sorts its components: by molar mass, water last.

    >>> [one.name for one in sorted(SUBSTANCES.values(), key=component_order)]
    ['methanol', 'ethanol', 'acetone', '2-propanol', 'water']
    """
    return one.fire is None, one.molar_mass, one.name


def _read() -> tuple[dict[str, Substance], dict[str, str]]:
    found: dict[str, Substance] = {}
    aliases: dict[str, str] = {}
    for table in tables("fuels"):
        one = substance_from(table)
        found[one.name] = one
        aliases |= dict.fromkeys(table.texts("other_names"), one.name)
    return {one.name: one for one in sorted(found.values(), key=component_order)}, aliases


_SUBSTANCES, _ALIASES = _read()
SUBSTANCES: Mapping[str, Substance] = MappingProxyType(_SUBSTANCES)
"""Pure substances by name, in the order in which a blend lists them."""

ALIASES: Mapping[str, str] = MappingProxyType(_ALIASES)
"""Other names of them."""
