"""The kinds of burner, each told by what it has: nothing else in the package asks for a kind by its name.

And what a burner of any kind is drawn with, before it is checked: geometry and checks ask that.
"""

from dataclasses import dataclass, field
from typing import ClassVar, Literal, NamedTuple

from burnsim.model.description.fields import Description, a_metal, a_part, quantity, usual, word
from burnsim.model.description.parts import FeedSlots, Jets, Notches, Wick
from burnsim.substances.metals import Metal

Kind = Literal["double wall", "sealed chamber", "open cup"]


class KindTraits(NamedTuple):
    """What makes up a burner of one kind."""

    has_gallery: bool  # a chamber from which the jets open
    has_well: bool  # an open centre, from which vapour leaves for the open air unless a pot covers it
    needs: tuple[str, ...] = ()  # fields of `Burner` that must be given
    refuses: tuple[str, ...] = ()  # fields of `Burner` that do not belong to it


TRAITS: dict[Kind, KindTraits] = {
    "double wall": KindTraits(has_gallery=True, has_well=True, needs=("gallery_gap", "jets", "feed_slots")),
    "sealed chamber": KindTraits(
        has_gallery=True, has_well=False, needs=("jets",), refuses=("gallery_gap", "feed_slots", "relief")
    ),
    "open cup": KindTraits(has_gallery=False, has_well=True, refuses=("gallery_gap", "jets", "feed_slots")),
}
"""A sealed chamber is all gallery, an open cup all well; an inner wall parts the two where a burner has both."""

KINDS: tuple[Kind, ...] = tuple(TRAITS)


@dataclass(frozen=True)
class Shape(Description):
    """The fields of a `Burner`, and what its kind has."""

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
        None, "length", 0.3e-3, 0.1, "clear width between the walls",
        "keep the inner wall narrower than the outer and measure the clear width between them",
    )  # fmt: skip
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
