"""The named series of a burn, with their units and how each is read from the flows of an instant."""

from collections.abc import Callable
from typing import NamedTuple

from burnsim.model.balances.events import froth_level
from burnsim.model.balances.flows import Flows
from burnsim.model.balances.state import State
from burnsim.model.description.setup import Setup
from burnsim.model.parameters.record import Parameters
from burnsim.solve.results.outcome import fuel_left
from burnsim.solve.results.snapshot import total_power, water_share


class Series(NamedTuple):
    """One curve: its unit, what it is, and how it is read."""

    unit: str
    meaning: str
    pick: Callable[[Flows, State, Parameters], float] | None  # None: time itself


TIME = "time"

SERIES: dict[str, Series] = {
    TIME: Series("s", "time from the match", None),
    "water_temperature": Series("K", "water in the pot", lambda f, s, p: f.pot_temperature),
    "gallery_temperature": Series("K", "liquid in the gallery", lambda f, s, p: f.gallery.temperature),
    "well_temperature": Series("K", "liquid in the well", lambda f, s, p: f.well.temperature),
    "rim_temperature": Series("K", "rim of the burner", lambda f, s, p: f.rim_temperature),
    "collar_temperature": Series("K", "wall just below side jets", lambda f, s, p: f.collar_temperature),
    "power": Series("W", "heat released by all flames", lambda f, s, p: total_power(f)),
    "jet_power": Series("W", "heat released by the jets' vapour", lambda f, s, p: f.fire.jet_power),
    "wick_power": Series("W", "heat released at the wick", lambda f, s, p: f.fire.wick_power),
    "well_power": Series("W", "heat released over the well or its notches", lambda f, s, p: f.fire.vent_power),
    "fuel_left": Series("kg", "liquid in burner and wick", lambda f, s, p: fuel_left(s, p)),
    "water_mass": Series("kg", "water in the pot", lambda f, s, p: s.water),
    "dew": Series("kg", "water condensed on the pot's outside", lambda f, s, p: s.dew),
    "gallery_level": Series("m", "liquid in the gallery above the floor", lambda f, s, p: f.gallery.level),
    "well_level": Series("m", "liquid in the well above the floor", lambda f, s, p: f.well.level),
    "froth_level": Series("m", "froth in the gallery above the floor", lambda f, s, p: froth_level(f, p)),
    "gallery_pressure": Series("Pa", "gauge pressure in the gallery", lambda f, s, p: f.gas.gallery_pressure),
    "well_pressure": Series("Pa", "gauge pressure in the well", lambda f, s, p: f.gas.well_pressure),
    "jet_velocity": Series("m/s", "gas leaving a jet", lambda f, s, p: f.fire.exit_velocity),
    "flame_length": Series("m", "flame on one jet", lambda f, s, p: f.fire.flame_length),
    "heat_to_burner": Series(
        "W",
        "flames to rim, walls and liquid",
        lambda f, s, p: (
            f.fire.jets_to_rim
            + f.fire.wick_to_rim
            + f.fire.edge_to_rim
            + f.walls.wick_to_wall
            + f.walls.wick_to_liquid
            + f.pool.heat
        ),
    ),
    "heat_to_pot": Series(
        "W",
        "gas, dew, radiation, rim and a covered well's vapour to the pot",
        lambda f, s, p: f.pot.bottom + f.pot.wall + f.pot.dew_heat + f.pot.radiation + f.pot.contact + f.gas.reflux,
    ),
    "flue": Series("W", "carried off by the gas", lambda f, s, p: f.pot.flue),
    "gas_temperature": Series("K", "gas that meets the pot", lambda f, s, p: f.pot.gas_temperature),
    "excess_air": Series("1", "air drawn in over the air needed, less one", lambda f, s, p: f.pot.excess_air),
    "gallery_water": Series(
        "1",
        "mole fraction of water in the gallery's liquid",
        lambda f, s, p: water_share(f.gallery.fractions, p),
    ),
}
"""Every series of a burn by its name, with its unit in SI ("1" for a share) and what it is."""


def hidden_series(setup: Setup) -> frozenset[str]:
    """Name the series that mean nothing for the kind of burner or without a pot."""
    burner = setup.burner
    gallery = ("gallery_temperature", "gallery_level", "gallery_pressure", "gallery_water", "froth_level")
    lacking = (
        (setup.pot is None, ("water_temperature", "water_mass", "heat_to_pot")),
        (not burner.has_gallery, (*gallery, "jet_power", "jet_velocity", "flame_length")),
        (not burner.has_well, ("well_temperature", "well_level", "well_pressure", "well_power")),
        (burner.wick is None, ("wick_power",)),
    )
    return frozenset(name for lacks, names in lacking if lacks for name in names)
