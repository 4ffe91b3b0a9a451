"""Frozen description of a whole setup: burner, charge, pot, site and uncertain factors."""

import os
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import ClassVar

from burnsim.answers import Drawn, Told
from burnsim.constants import ZERO_CELSIUS
from burnsim.errors import InputError
from burnsim.io.text_file import write_atomically
from burnsim.model.description import geometry
from burnsim.model.description.burner import Burner
from burnsim.model.description.conditions import Charge, Pot, Site
from burnsim.model.description.design_file import design_text
from burnsim.model.description.factors import Factors
from burnsim.model.description.fields import Description, a_part, a_text, quoted, usual
from burnsim.model.description.screen import Screen
from burnsim.model.description.tables import read_part, table_of
from burnsim.substances.air import pressure_at_altitude
from burnsim.substances.water import boiling_point
from burnsim.units.writing import spelt


@dataclass(frozen=True, repr=False)
class Setup(Description, Told, Drawn):
    """All that decides a burn.

    Parameters
    ----------
    burner, charge
        What burns.
    pot
        Default none: the burner burns in the open.
    site, factors
        Default `Site()` and `Factors()`.
    screen
        Default none: no windscreen.
    name
        What to call it, default "".
    pressure_limit
        Gauge pressure in a compartment above which a verdict warns [Pa], default 2000.0.
    """

    PATH: ClassVar[str] = ""

    burner: Burner = field(metadata=a_part(Burner, "the burner"))
    charge: Charge = field(metadata=a_part(Charge, "the fuel"))
    pot: Pot | None = field(default=None, metadata=a_part(Pot, "the pot", optional=True))
    site: Site = field(default=Site(), metadata=a_part(Site, "where it burns"))
    factors: Factors = field(default=Factors(), metadata=a_part(Factors, "uncertain inputs"))
    screen: Screen | None = field(default=None, metadata=a_part(Screen, "the windscreen", optional=True))
    name: str = field(default="", metadata=a_text("what to call it"))
    pressure_limit: float = usual(
        2000.0, "pressure", 1.0, 2e5, "gauge pressure above which to warn", "leave it out for 2000 Pa"
    )

    def __repr__(self) -> str:
        """Name, kind of burner, fuel and water, in one line."""
        charge = f"{spelt(self.charge.volume, 'volume')} of {self.charge.fuel.name}"
        water = f", {spelt(self.pot.water, 'volume')} of water" if self.pot is not None else ", no pot"
        return f"<Setup {self.name!r}: {self.burner.kind}, {charge}{water}>"

    def __post_init__(self) -> None:
        if isinstance(self.charge, Charge) and isinstance(self.site, Site):
            object.__setattr__(self, "charge", self.charge.settled(self.site.air_temperature))
        super().__post_init__()
        _check_setup(self)

    @classmethod
    def from_dict(cls, table: Mapping[str, object]) -> "Setup":
        """Read a whole setup from nested tables.

        Parameters
        ----------
        table
            Keys `burner` and `charge` are needed; `pot`, `site`, `factors`, `screen`, `name` and `pressure_limit` are
            not. Inside, the keys are the field names of `Burner`, `Charge`, `Pot`, `Site`, `Factors` and `Screen`.
            `charge.fuel` is the name of a ready blend, or a table of shares by name with an optional `basis`
            ("volume", "mass" or "mole") and `name`. The path of a data file of one's own, "pear_spirit.toml", stands
            for a fuel, for a share's name, for a metal, or for `burner.wick.material`.

        Returns
        -------
        Setup

        Raises
        ------
        InputError
            Names the key, its value, the allowed range and the remedy.

        >>> cup = {"kind": "open cup", "outer_diameter": "60 mm", "height": "30 mm"}
        >>> setup = Setup.from_dict({"burner": cup, "charge": {"fuel": "ethanol", "volume": "20 ml"}})
        >>> setup.burner.outer_diameter
        0.06
        """
        return read_part(cls, table, "")

    def to_dict(self) -> dict[str, object]:
        """Write it as nested plain tables in SI, which `from_dict` reads back to an equal setup.

        Fields that are none are left out. A fuel that is not known by its name is written as its mole fractions.
        """
        return table_of(self)

    def save(self, path: str | os.PathLike[str], *, units: str = "si") -> None:
        """Write it as a design file with a remark beside every field; `burnsim.load` reads it back to an equal setup.

        Parameters
        ----------
        path : of the file; one that is there is replaced
        units : "si" or "us"

        Raises
        ------
        InputError
            If it cannot be written.
        """
        write_atomically(path, design_text(self, units))


def _check_setup(setup: Setup) -> None:
    """Raise `InputError` where burner, charge, pot and site do not go together."""
    _check_charge(setup)
    if setup.pot is not None:
        _check_water(setup.pot, setup)
        _check_rest(setup.pot, setup.burner)
    _check_screen(setup)


def _check_charge(setup: Setup) -> None:
    holds = geometry.capacity(setup.burner)
    poured, primer = setup.charge.volume, setup.charge.primer
    if poured > holds:
        problem = f"is more than the burner holds; allowed up to {spelt(holds, 'volume')}"
        raise InputError("charge.volume", quoted(poured, "volume"), problem, "load less fuel or draw a larger burner")
    if primer > 0.0 and setup.burner.wick is None:
        problem = "has no wick to go on; allowed without a wick: 0 ml"
        remedy = "describe burner.wick, or leave the primer out"
        raise InputError("charge.primer", quoted(primer, "volume"), problem, remedy)


def _check_water(pot: Pot, setup: Setup) -> None:
    boils = boiling_point(pressure_at_altitude(setup.site.altitude))
    given = pot.water_temperature
    start = setup.site.air_temperature if given is None else given
    if not ZERO_CELSIUS <= start <= boils:
        what = "is below freezing" if start < ZERO_CELSIUS else "is above the boiling point at the site"
        span = f"allowed from {spelt(ZERO_CELSIUS, 'temperature')} to {spelt(boils, 'temperature')}"
        remedy = "it was taken from the air: give pot.water_temperature" if given is None else "give liquid water"
        raise InputError("pot.water_temperature", quoted(start, "temperature"), f"{what}; {span}", remedy)


def _check_rest(pot: Pot, burner: Burner) -> None:
    if pot.rest == "stand":
        return
    well = geometry.well_diameter(burner)
    if pot.diameter <= well:
        problem = f"would drop into the well; allowed above {spelt(well, 'length')}"
        remedy = 'use a wider pot, or pot.rest = "stand"'
        raise InputError("pot.diameter", quoted(pot.diameter, "length"), problem, remedy)
    if pot.rest == "full ring" and burner.jets is not None and burner.jets.direction == "top":
        problem = "closes the top jets, which lie under the pot; allowed with top jets: 'bumps', 'stand'"
        raise InputError("pot.rest", pot.rest, problem, 'use pot.rest = "bumps" or "stand", or side jets')


def _check_screen(setup: Setup) -> None:
    screen = setup.screen
    if screen is None or setup.pot is None:
        return
    least = 0.5 * (setup.burner.outer_diameter - setup.pot.diameter)
    if screen.clearance <= least:
        problem = f"is less than the burner stands out from under the pot; allowed above {spelt(least, 'length')}"
        remedy = "put the windscreen farther from the pot"
        raise InputError("screen.clearance", quoted(screen.clearance, "length"), problem, remedy)
