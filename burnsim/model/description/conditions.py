"""Frozen descriptions of pot, charge and site."""

import contextlib
import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, ClassVar, Literal

from burnsim.bounds import within
from burnsim.constants import ZERO_CELSIUS
from burnsim.errors import InputError
from burnsim.model.description.fields import (
    Description,
    Given,
    a_flag,
    a_metal,
    a_part,
    check_fields,
    quantity,
    quoted,
    usual,
    whole_number,
    word,
)
from burnsim.model.description.geometry import pot_capacity
from burnsim.model.description.tables import read_fuel
from burnsim.substances.blend import Blend, density
from burnsim.substances.grounds import NAMES as GROUNDS
from burnsim.substances.grounds import GroundName
from burnsim.substances.metals import Metal
from burnsim.substances.substance import T20
from burnsim.units import parse
from burnsim.units.reading import weighed
from burnsim.units.writing import spelt

Rest = Literal["full ring", "bumps", "stand"]

RESTS: tuple[Rest, ...] = ("full ring", "bumps", "stand")
TALLEST_BUMP = 6e-3  # that can be pressed or folded at a rim [m]; common practice, no source
COLDEST, WARMEST = 250.15, 323.15  # at which fuel is poured in [K]
WEIGHED = ("volume", "primer")
"""Fields of a charge for which a mass may be given."""
STEEPEST = math.radians(30.0)  # no pot stays on a steeper stand [rad]


@dataclass(frozen=True)
class Pot(Description):
    """A pot and the water in it.

    Parameters
    ----------
    diameter, height
        Outside diameter and height [m].
    water
        Volume of water [m3].
    water_temperature
        Start temperature of the water [K]; default none: that of the air.
    wall_thickness
        Thickness of wall and bottom [m], default 0.6e-3.
    metal
        Name of the metal, default "aluminium".
    lid
        Whether a lid is on, default true.
    rest
        "full ring" (flat on the rim, the default), "bumps" (on a few bumps of the rim) or "stand" (on a stand
        of its own).
    bumps
        Number of bumps, default 3; counts for "bumps" only.
    gap
        Height of the pot's bottom above the rim on bumps or a stand [m], default 1e-3; not used for
        "full ring". An open well breathes through it; below some 2 mm no flame lives over the well, which then
        only vents.

    >>> Pot(diameter=0.14, height=0.09, water=0.5e-3).rest
    'full ring'
    """

    PATH: ClassVar[str] = "pot"

    diameter: float = field(metadata=quantity("length", 20e-3, 0.6, "outside diameter", "measure across the bottom"))
    height: float = field(metadata=quantity("length", 10e-3, 0.6, "height of the wall", "measure bottom to brim"))
    water: float = field(
        metadata=quantity("volume", 1e-6, 0.05, "volume of water", "leave [pot] out to burn without a pot")
    )
    water_temperature: float | None = usual(
        None, "temperature", ZERO_CELSIUS, 375.15, "start temperature of the water",
        "give liquid water, from freezing up to its boiling point at the site",
    )  # fmt: skip
    wall_thickness: float = usual(0.6e-3, "length", 0.05e-3, 0.02, "thickness of the wall", "measure at the brim")
    metal: str | Metal = field(default="aluminium", metadata=a_metal("metal of the pot"))
    lid: bool = field(default=True, metadata=a_flag("whether a lid is on"))
    rest: Rest = field(default="full ring", metadata=word(RESTS, "what the pot stands on"))
    bumps: int = field(default=3, metadata=whole_number(3, 60, "number of bumps", "a pot needs 3 to stand"))
    gap: float = usual(
        1e-3, "length", 0.05e-3, 0.2, "height of the bottom above the rim", 'for no gap use rest = "full ring"'
    )

    if TYPE_CHECKING:

        def __init__(
            self,
            diameter: Given,
            height: Given,
            water: Given,
            water_temperature: Given | None = None,
            wall_thickness: Given = 0.6e-3,
            metal: str | Metal = "aluminium",
            lid: bool = True,
            rest: Rest = "full ring",
            bumps: int = 3,
            gap: Given = 1e-3,
        ) -> None: ...

    @property
    def above_rim(self) -> float:
        """Height of the bottom above the rim [m]; 0 where it stands on the whole of it."""
        return 0.0 if self.rest == "full ring" else self.gap

    @property
    def too_tall_for_bumps(self) -> bool:
        """Whether the gap is more than bumps of a rim can be raised by."""
        return self.gap > TALLEST_BUMP

    def __post_init__(self) -> None:
        super().__post_init__()
        _check_pot(self)


class Weighed(float):
    """A volume of fuel at 20 degC [m3] that remembers the mass which was given for it [kg]."""

    mass: float

    @classmethod
    def of(cls, mass: float, density: float) -> "Weighed":
        """That of a mass [kg] of a density [kg/m3]."""
        made = cls(mass / density)
        made.mass = mass
        return made


@dataclass(frozen=True)
class Charge(Description):
    """The fuel: what it is, what is poured in and what goes on the wick.

    Parameters
    ----------
    fuel
        A `Blend`, or what `blend` makes one of: "ethanol 95".
    volume
        Volume poured into the burner, at the charge's temperature [m3]. A mass, "25 g", may stand for it, here and for
        the primer: it becomes the volume that weighs so much, at the charge's temperature; where that is the air's,
        as soon as the charge is part of a `Setup`.
    primer
        Volume poured onto the wick [m3], default 0.0.
    temperature
        Start temperature of fuel and burner [K]; default none: that of the air. A refill of a hot burner cannot be
        described.
    """

    PATH: ClassVar[str] = "charge"

    fuel: Blend = field(metadata=a_part(Blend, "what is burnt"))
    volume: float = field(
        metadata=quantity("volume", 0.1e-6, 2e-3, "volume poured into the burner", "measure or weigh it", weighed=True)
    )
    primer: float = usual(0.0, "volume", 0.0, 0.1e-3, "volume poured onto the wick", "use 0 for none", weighed=True)
    temperature: float | None = usual(
        None, "temperature", COLDEST, WARMEST, "start temperature of the fuel",
        "never heat spirit before use, and never pour it into hot metal, which this cannot describe; leave it out to "
        "start at the air's temperature",
    )  # fmt: skip

    if TYPE_CHECKING:

        def __init__(
            self,
            fuel: Blend | str | Mapping[str, float | str],
            volume: Given,
            primer: Given = 0.0,
            temperature: Given | None = None,
        ) -> None: ...

    def __post_init__(self) -> None:
        object.__setattr__(self, "fuel", read_fuel(self.fuel, f"{self.PATH}.fuel"))
        _check_charge(self)

    def settled(self, temperature: float) -> "Charge":
        """The same with the volume of what was weighed.

        Parameters
        ----------
        temperature : of the fuel where the charge states none, that of the air [K]
        """
        masses = {name: one.mass for name in WEIGHED if isinstance(one := getattr(self, name), Weighed)}
        if not masses:
            return self
        rho = density(self.fuel, temperature)
        return replace(self, **{name: mass / rho for name, mass in masses.items()})  # type: ignore[arg-type]  # volumes


@dataclass(frozen=True)
class Site(Description):
    """Where it burns: air_temperature 293.15 K, altitude 0.0 m, humidity 0.5, wind 0.0 m/s, tilt 0.0 rad by default.

    Its `ground` is what a flat floor stands on: "nothing" (the default: on legs, or a floor that is domed),
    "insulation", "wood", "soil" or "stone".

    >>> Site(altitude=2000.0).humidity
    0.5
    """

    PATH: ClassVar[str] = "site"

    air_temperature: float = usual(
        293.15, "temperature", 250.15, 323.15, "temperature of the air", 'write it like "20 degC" or "68 degF"'
    )
    altitude: float = usual(
        0.0, "altitude", -430.0, 6000.0, "height above the sea", "give the height of the site, such as '1500 m'"
    )
    humidity: float = usual(0.5, "fraction", 0.0, 1.0, "relative humidity", 'write 0.5 or "50 %"')
    wind: float = usual(
        0.0, "wind speed", 0.0, 10.0, "wind at the burner's height",
        "give the wind outside the windscreen, at its height",
    )  # fmt: skip
    tilt: float = usual(0.0, "angle", 0.0, STEEPEST, "tilt of the stand", "level the stand, or write it like '5 deg'")
    ground: GroundName = field(default="nothing", metadata=word(GROUNDS, "what the flat floor stands on"))

    if TYPE_CHECKING:

        def __init__(
            self,
            air_temperature: Given = 293.15,
            altitude: Given = 0.0,
            humidity: Given = 0.5,
            wind: Given = 0.0,
            tilt: Given = 0.0,
            ground: GroundName = "nothing",
        ) -> None: ...


def _check_charge(charge: Charge) -> None:
    """Check every field; what was weighed becomes a volume that keeps its mass until its temperature is known."""
    path = Charge.PATH
    start = T20
    with contextlib.suppress(InputError):  # what cannot be a temperature is refused below
        start = T20 if charge.temperature is None else parse(charge.temperature, "temperature")
    given = {name: getattr(charge, name) for name in WEIGHED}
    masses = {
        name: mass
        for name, one in given.items()
        if (mass := one.mass if isinstance(one, Weighed) else weighed(one)) is not None
    }
    rho = density(charge.fuel, within(start, COLDEST, WARMEST))
    for name, mass in masses.items():
        object.__setattr__(charge, name, mass / rho)
    try:
        check_fields(charge, path)
    except InputError as error:
        name = error.field.removeprefix(f"{path}.")
        if name not in masses:
            raise
        poured = f"is weighed, {spelt(masses[name] / rho, 'volume')} of {charge.fuel.name}, which {error.problem}"
        raise InputError(error.field, given[name], poured, error.remedy) from None
    if charge.temperature is None:
        for name, mass in masses.items():
            object.__setattr__(charge, name, Weighed.of(mass, rho))


def _check_pot(pot: Pot) -> None:
    """Raise `InputError` for a pot smaller than its own wall, or for more water than it holds."""
    if 2.0 * pot.wall_thickness >= pot.diameter or pot.wall_thickness >= pot.height:
        problem = f"leaves no room inside the pot; allowed below {spelt(min(pot.diameter / 2.0, pot.height), 'length')}"
        remedy = "make the wall thinner or the pot larger"
        raise InputError("pot.wall_thickness", quoted(pot.wall_thickness, "length"), problem, remedy)
    brim = pot_capacity(pot.diameter, pot.height, pot.wall_thickness)
    if pot.water > brim:
        problem = f"is more than the pot holds; allowed up to {spelt(brim, 'volume')}"
        raise InputError("pot.water", quoted(pot.water, "volume"), problem, "use less water or a larger pot")
