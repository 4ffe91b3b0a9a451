"""Frozen description of a burner."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from burnsim.model.description.checks import check_burner
from burnsim.model.description.kinds import Shape
from burnsim.substances.metals import Metal, metal_of

if TYPE_CHECKING:
    from burnsim.model.description.fields import Given
    from burnsim.model.description.kinds import Kind
    from burnsim.model.description.parts import FeedSlots, Jets, Notches, Wick


@dataclass(frozen=True)
class Burner(Shape):
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

    if TYPE_CHECKING:

        def __init__(
            self,
            kind: Kind,
            outer_diameter: Given,
            height: Given,
            wall_thickness: Given = 0.1e-3,
            metal: str | Metal = "aluminium",
            gallery_gap: Given | None = None,
            rim_width: Given = 1e-3,
            jets: Jets | None = None,
            feed_slots: FeedSlots | None = None,
            relief: Notches | None = None,
            wick: Wick | None = None,
            emissivity: Given | None = None,
        ) -> None: ...

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
