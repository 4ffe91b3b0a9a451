"""The kinds of burner, each told by what it has: nothing else in the package asks for a kind by its name."""

from typing import Literal, NamedTuple

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
