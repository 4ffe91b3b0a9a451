"""Which curves mean something for a kind of burner."""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from burnsim.solve import Burn

WATER = ("water_temperature", "water_mass", "heat_to_pot")
GALLERY = ("gallery_temperature", "gallery_level", "gallery_pressure", "gallery_water", "froth_level")
JETS = ("jet_power", "jet_velocity", "flame_length")
WELL = ("well_temperature", "well_level", "well_pressure", "well_power")


def hidden_series(burn: "Burn") -> frozenset[str]:
    """Name the series that mean nothing for the kind of burner or without a pot."""
    burner = burn.setup.burner
    hidden: set[str] = set()
    if burn.setup.pot is None:
        hidden.update(WATER)
    if not burner.has_gallery:
        hidden.update(GALLERY + JETS)
    if not burner.has_well:
        hidden.update(WELL)
    if burner.wick is None:
        hidden.add("wick_power")
    return frozenset(hidden)
