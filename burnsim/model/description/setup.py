"""Frozen description of a whole setup: burner, charge, pot, site and uncertain factors.

Constructors take SI floats only (metres, cubic metres, kelvins, pascals). Quantities as people write them,
such as "30 ml", are for design files, `setup_from_dict` and `vary`. A description checks itself; it computes
nothing else.
"""

from dataclasses import dataclass, field
from typing import ClassVar

from burnsim.constants import ZERO_CELSIUS
from burnsim.errors import InputError
from burnsim.model.description import geometry
from burnsim.model.description.burner import Burner
from burnsim.model.description.conditions import Charge, Pot, Site
from burnsim.model.description.factors import Factors
from burnsim.model.description.fields import a_part, a_text, check_fields, quantity, quoted
from burnsim.substances.air import pressure_at_altitude
from burnsim.substances.water import boiling_point
from burnsim.units.writing import spelt


@dataclass(frozen=True)
class Setup:
    """All that decides a burn.

    Parameters
    ----------
    burner, charge
        What burns.
    pot
        Default none: the burner burns in the open.
    site, factors
        Default `Site()` and `Factors()`.
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
    name: str = field(default="", metadata=a_text("what to call it"))
    pressure_limit: float = field(
        default=2000.0,
        metadata=quantity("pressure", 1.0, 2e5, "gauge pressure above which to warn", "leave it out for 2000 Pa"),
    )

    def __post_init__(self) -> None:
        check_fields(self, self.PATH)
        _check_setup(self)


def _check_setup(setup: "Setup") -> None:
    """Raise `InputError` where burner, charge, pot and site do not go together."""
    _check_charge(setup)
    if setup.pot is not None:
        _check_water(setup.pot, setup)
        _check_rest(setup.pot, setup.burner)


def _check_charge(setup: "Setup") -> None:
    holds = geometry.capacity(setup.burner)
    if setup.charge.volume > holds:
        raise InputError(
            "charge.volume",
            quoted(setup.charge.volume, "volume"),
            f"is more than the burner holds; allowed up to {spelt(holds, 'volume')}",
            "load less fuel or draw a larger burner",
        )
    if setup.charge.primer > 0.0 and setup.burner.wick is None:
        raise InputError(
            "charge.primer",
            quoted(setup.charge.primer, "volume"),
            "has no wick to go on; allowed without a wick: 0 ml",
            "describe burner.wick, or leave the primer out",
        )


def _check_water(pot: Pot, setup: "Setup") -> None:
    boils = boiling_point(pressure_at_altitude(setup.site.altitude))
    given = pot.water_temperature is not None
    start = pot.water_temperature if pot.water_temperature is not None else setup.site.air_temperature
    if ZERO_CELSIUS <= start <= boils:
        return
    what = "is below freezing" if start < ZERO_CELSIUS else "is above the boiling point at the site"
    raise InputError(
        "pot.water_temperature",
        quoted(start, "temperature"),
        f"{what}; allowed from 0 degC to {spelt(boils, 'temperature')}",
        "give liquid water" if given else "it was taken from the air: give pot.water_temperature",
    )


def _check_rest(pot: Pot, burner: Burner) -> None:
    if pot.rest == "stand":
        return
    well = geometry.well_diameter(burner)
    if pot.diameter <= well:
        raise InputError(
            "pot.diameter",
            quoted(pot.diameter, "length"),
            f"would drop into the well; allowed above {spelt(well, 'length')}",
            'use a wider pot, or pot.rest = "stand"',
        )
    if pot.rest == "full ring" and burner.jets is not None and burner.jets.direction == "top":
        raise InputError(
            "pot.rest",
            pot.rest,
            "closes the top jets, which lie under the pot; allowed with top jets: 'bumps', 'stand'",
            'use pot.rest = "bumps" or "stand", or side jets',
        )
