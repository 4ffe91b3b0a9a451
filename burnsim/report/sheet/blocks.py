"""What a sheet is made of: blocks that the pages in PDF and in HTML both set in their own way."""

from collections.abc import Callable
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from matplotlib.axes import Axes


class Heading(NamedTuple):
    """A heading over what follows."""

    text: str


class Words(NamedTuple):
    """A paragraph; `small` for remarks."""

    text: str
    small: bool = False


class Bullets(NamedTuple):
    """Short lines, one under the other; `numbered` where their order counts."""

    lines: tuple[str, ...]
    numbered: bool = False


class Table(NamedTuple):
    """Rows under a head; `widths` are the columns' shares of the width."""

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    widths: tuple[float, ...]


class Picture(NamedTuple):
    """A picture: how to draw it on axes, its size [in] and what it shows, for those who cannot see it.

    `narrow` is its size on a screen, which may be a phone's: as wide as letters of a readable size allow.
    """

    name: str
    alt: str
    draw: "Callable[[Axes], object]"
    width: float
    height: float
    narrow: tuple[float, float]


class Form(NamedTuple):
    """Lines and rows to fill in by hand."""

    fields: tuple[tuple[str, str], ...]  # what, and what is printed beside the blank (a unit, or a given value)
    columns: tuple[str, ...]
    rows: int


class Pair(NamedTuple):
    """Blocks beside each other, where there is room; `share` of the width for the left ones."""

    left: "tuple[Block, ...]"
    right: "tuple[Block, ...]"
    share: float = 0.5


class Break(NamedTuple):
    """A new page."""


Block = Heading | Words | Bullets | Table | Picture | Form | Pair | Break


class Sheet(NamedTuple):
    """A whole sheet."""

    title: str
    subtitle: str
    blocks: tuple[Block, ...]
    foot: str = "a prediction, no permission"


def pictures(blocks: "tuple[Block, ...]") -> "tuple[Picture, ...]":
    """All pictures of a sheet, in their order."""
    found: list[Picture] = []
    for block in blocks:
        if isinstance(block, Picture):
            found.append(block)
        elif isinstance(block, Pair):
            found += [*pictures(block.left), *pictures(block.right)]
    return tuple(found)
