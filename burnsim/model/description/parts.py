"""Frozen descriptions of a burner's parts: jets, feed slots, relief notches and wick."""

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, ClassVar, Literal

from burnsim.errors import InputError
from burnsim.model.description.fields import (
    Description,
    Given,
    a_text,
    own_material,
    quantity,
    usual,
    whole_number,
    word,
)
from burnsim.substances.data_file import is_path
from burnsim.substances.materials import WickMaterial, read_wick_material

Direction = Literal["side", "top"]

DIRECTIONS: tuple[Direction, ...] = ("side", "top")


@dataclass(frozen=True)
class Jets(Description):
    """Ring (or rows) of small holes.

    Parameters
    ----------
    count
        Number of jets, all rows together.
    diameter
        Diameter of each jet [m].
    height
        Height of the centres of the lowest row above the floor [m]; default none: needed for side jets, the
        burner's height for top jets. Further rows lie two diameters apart: above it at the side, inside it on
        top.
    direction
        "side" (outward through the outer wall, the default) or "top" (upward).
    ring_diameter
        Top jets only: diameter of the outermost circle of jets [m]; default none: the rows lie about the
        middle of the gallery of a double-wall burner, or from three quarters of the outside diameter of a
        sealed chamber inward.
    rows
        Number of rows, default 1; the jets share them evenly.

    >>> Jets(count=26, diameter=1.0e-3, height=39e-3).direction
    'side'
    """

    PATH: ClassVar[str] = "burner.jets"

    count: int = field(metadata=whole_number(1, 400, "number of jets, all rows together", "count the holes"))
    diameter: float = field(
        metadata=quantity("length", 0.1e-3, 10e-3, "diameter of a jet", "measure the drill or pin that makes it")
    )
    height: float | None = usual(
        None, "length", 0.1e-3, 0.5, "height of the jets above the floor", "measure from the floor"
    )
    direction: Direction = field(default="side", metadata=word(DIRECTIONS, "where the jets point"))
    ring_diameter: float | None = usual(
        None, "length", 1e-3, 0.5, "diameter of the circle of top jets", "measure across the ring"
    )
    rows: int = field(default=1, metadata=whole_number(1, 6, "number of rows", "use 1 for a single ring"))

    if TYPE_CHECKING:

        def __init__(
            self,
            count: int,
            diameter: Given,
            height: Given | None = None,
            direction: Direction = "side",
            ring_diameter: Given | None = None,
            rows: int = 1,
        ) -> None: ...


@dataclass(frozen=True)
class FeedSlots(Description):
    """Openings at the foot of the inner wall: count 4, width 4e-3 m and height 2e-3 m by default.

    >>> FeedSlots().count
    4
    """

    PATH: ClassVar[str] = "burner.feed_slots"

    count: int = field(default=4, metadata=whole_number(1, 100, "number of slots", "count the openings"))
    width: float = usual(4e-3, "length", 0.2e-3, 0.1, "width of a slot", "measure along the wall")
    height: float = usual(2e-3, "length", 0.1e-3, 0.1, "height of a slot", "measure up from the floor")

    if TYPE_CHECKING:

        def __init__(self, count: int = 4, width: Given = 4e-3, height: Given = 2e-3) -> None: ...


@dataclass(frozen=True)
class Notches(Description):
    """Relief notches at the rim that vent the well under a pot: count, width [m] and depth [m], no defaults.

    >>> Notches(count=3, width=3e-3, depth=1e-3).depth
    0.001
    """

    PATH: ClassVar[str] = "burner.relief"

    count: int = field(metadata=whole_number(1, 100, "number of notches", "leave [burner.relief] out for none"))
    width: float = field(metadata=quantity("length", 0.1e-3, 0.1, "width of a notch", "measure along the rim"))
    depth: float = field(metadata=quantity("length", 0.1e-3, 0.05, "depth of a notch", "measure down from the rim"))

    if TYPE_CHECKING:

        def __init__(self, count: int, width: Given, depth: Given) -> None: ...


@dataclass(frozen=True)
class Wick(Description):
    """Band of absorbent round the outside foot.

    Parameters
    ----------
    height
        Height of the band [m], default 12e-3.
    thickness
        Thickness of the band [m], default 1.5e-3.
    porosity
        Share of its volume that spirit fills [-], default 0.8.
    pore_radius
        Radius of its pores [m], default 60e-6.
    material
        Name of what it is made of, default none. The path of its data file, or what `read_wick_material` made of one,
        in place of porosity and radius.

    >>> Wick().height
    0.012
    """

    PATH: ClassVar[str] = "burner.wick"

    height: float = usual(12e-3, "length", 1e-3, 0.1, "height of the band", "measure up from the foot")
    thickness: float = usual(1.5e-3, "length", 0.1e-3, 0.02, "thickness of the band", "measure it uncrushed")
    porosity: float = usual(
        0.8, "fraction", 0.1, 0.99, "share of the band that spirit fills", "0.8 suits fibre and felt"
    )
    pore_radius: float = usual(60e-6, "length", 1e-6, 1e-3, "radius of the pores", "60e-6 m suits fibre and felt")
    material: str | WickMaterial | None = field(default=None, metadata=a_text("what it is made of", optional=True))

    if TYPE_CHECKING:

        def __init__(
            self,
            height: Given = 12e-3,
            thickness: Given = 1.5e-3,
            porosity: Given = 0.8,
            pore_radius: Given = 60e-6,
            material: str | WickMaterial | None = None,
        ) -> None: ...

    def __post_init__(self) -> None:
        given = self.material
        if isinstance(given, WickMaterial) or (isinstance(given, str) and is_path(given)):
            found = wick_material(given, f"{self.PATH}.material")
            known = {"porosity": found.porosity, "pore_radius": found.pore_radius, "material": found.name}
            for name, value in known.items():
                object.__setattr__(self, name, value)
        super().__post_init__()


def wick_material(given: object, path: str) -> WickMaterial:
    """A wick's material as `read_wick_material` made it, or from the path of its file."""
    if isinstance(given, WickMaterial):
        return given
    if not isinstance(given, str) or not is_path(given):
        raise InputError(path, given, "is not the path of a data file", 'write material = "felt.toml"')
    return own_material(read_wick_material, given, path)
