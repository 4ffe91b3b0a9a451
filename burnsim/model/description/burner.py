"""Frozen description of a burner.

A quantity is a text with its unit ("0.9 mm"), a quantity of pint or a number in SI, which is what it becomes. A
description checks itself; it computes nothing else.
"""

from dataclasses import dataclass, field
from typing import ClassVar

from burnsim.model.description.checks import check_burner
from burnsim.model.description.fields import Description, a_metal, a_part, quantity, usual, word
from burnsim.model.description.kinds import KINDS, TRAITS, Kind
from burnsim.model.description.parts import FeedSlots, Jets, Notches, Wick
from burnsim.substances.metals import Metal, metal_of


@dataclass(frozen=True)
class Burner(Description):
    """A burner on paper.

    Parameters
    ----------
    kind
        "double wall", "sealed chamber" or "open cup".
    outer_diameter
        Outside diameter [m].
    height
        Floor to rim, inside [m].
    wall_thickness
        Thickness of every wall and of the floor [m], default 0.1e-3.
    metal
        Name of the metal, default "aluminium".
    gallery_gap
        Double wall only: clear width between the walls [m]; default none.
    rim_width
        Width of the flat of the rim on which a pot rests [m], default 1e-3.
    jets
        Default none: needed by a double wall and by a sealed chamber.
    feed_slots
        Default none: needed by a double wall, only allowed there.
    relief
        Default none: a pot flat on the rim then closes the well. Not for a sealed chamber.
    wick
        Primer wick, default none.
    emissivity
        Of its surfaces [-]; default that of the metal, bare and dull.

    Raises
    ------
    InputError
        Names the field that cannot be built, its value, the allowed range and the remedy.

    >>> Burner("open cup", outer_diameter=60e-3, height=30e-3).metal
    'aluminium'
    """

    PATH: ClassVar[str] = "burner"

    kind: Kind = field(metadata=word(KINDS, "how the burner is built"))
    outer_diameter: float = field(
        metadata=quantity("length", 10e-3, 0.3, "outside diameter", "measure across the outside")
    )
    height: float = field(metadata=quantity("length", 5e-3, 0.3, "floor to rim", "measure the depth inside"))
    wall_thickness: float = usual(
        0.1e-3, "length", 0.02e-3, 5e-3, "wall thickness", "drawn drink cups have about 0.1 mm"
    )
    metal: str | Metal = field(default="aluminium", metadata=a_metal("metal of walls and floor"))
    gallery_gap: float | None = usual(
        None,
        "length",
        0.3e-3,
        0.1,
        "clear width between the walls",
        "keep the inner wall narrower than the outer and measure the clear width between them",
    )
    rim_width: float = usual(1e-3, "length", 0.05e-3, 0.05, "flat of the rim", "measure the contact width")
    jets: Jets | None = field(default=None, metadata=a_part(Jets, "the ring of small holes", optional=True))
    feed_slots: FeedSlots | None = field(
        default=None, metadata=a_part(FeedSlots, "openings at the foot of the inner wall", optional=True)
    )
    relief: Notches | None = field(default=None, metadata=a_part(Notches, "notches at the rim", optional=True))
    wick: Wick | None = field(default=None, metadata=a_part(Wick, "primer wick", optional=True))
    emissivity: float | None = usual(
        None, "fraction", 0.02, 1.0, "emissivity of its surfaces", "leave it out for bare metal; paint has about 0.9"
    )

    def __post_init__(self) -> None:
        super().__post_init__()
        check_burner(self)

    @property
    def material(self) -> Metal:
        """The metal, with the emissivity of the burner's surfaces.

        A burner's flames radiate to its wall as much as the wall absorbs, which is what it emits (Kirchhoff): a painted
        cup takes more from its flames, and loses more to the room.

        >>> Burner("open cup", outer_diameter=60e-3, height=30e-3, emissivity=0.9).material.emissivity
        0.9
        """
        metal = metal_of(self.metal)
        return metal if self.emissivity is None else metal._replace(emissivity=self.emissivity)

    @property
    def has_gallery(self) -> bool:
        """Whether it has a chamber from which jets open."""
        return TRAITS[self.kind].has_gallery

    @property
    def has_well(self) -> bool:
        """Whether its centre is open."""
        return TRAITS[self.kind].has_well

    @property
    def has_inner_wall(self) -> bool:
        """Whether a wall parts its gallery from its well."""
        return self.has_gallery and self.has_well
