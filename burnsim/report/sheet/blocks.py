"""What a sheet is made of: blocks that the pages in PDF and in HTML both set in their own way."""

from collections.abc import Callable
from typing import TYPE_CHECKING, NamedTuple

from burnsim.units.writing import NBSP

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


class Answer(NamedTuple):
    """A question, its answer in large letters, and short lines below it, the band first."""

    question: str
    answer: str
    below: tuple[str, ...]


class Answers(NamedTuple):
    """Answers in boxes side by side."""

    answers: tuple[Answer, ...]


class Table(NamedTuple):
    """Rows under a head; `widths` are the columns' shares of the width, `right` the columns of figures.

    Figures of a column have one number of decimals and stand at its right end, so that their points are in line.
    """

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    widths: tuple[float, ...]
    right: tuple[int, ...] = ()
    size: float = 1.0  # of its letters, as a share of what is usual in a table


class Picture(NamedTuple):
    """A picture: how to draw it on axes, its size on paper [in] and what it shows, for those who cannot see it.

    On paper its height gives way, that the page is full. `narrow` is its size on a phone, `wide` on a screen.
    """

    name: str
    alt: str
    draw: "Callable[[Axes], object]"
    width: float
    height: float
    narrow: tuple[float, float]
    wide: tuple[float, float] = (9.6, 4.2)


class Form(NamedTuple):
    """Lines and rows to fill in by hand."""

    fields: tuple[tuple[str, str], ...]  # what, and what is printed beside the blank (a unit, or a given value)
    columns: tuple[str, ...]
    rows: tuple[str, ...]  # what is printed in the first column


class Pair(NamedTuple):
    """Blocks beside each other, where there is room; `share` of the width for the left ones."""

    left: "tuple[Block, ...]"
    right: "tuple[Block, ...]"
    share: float = 0.5


class Fold(NamedTuple):
    """Blocks under a heading that a screen shows when they are asked for; paper shows all."""

    heading: str
    blocks: "tuple[Block, ...]"


class Break(NamedTuple):
    """A new page."""


Block = Heading | Words | Bullets | Answers | Table | Picture | Form | Pair | Fold | Break


class Sheet(NamedTuple):
    """A whole sheet; its letters on paper are as large as a page holds, within a share of the usual size."""

    title: str
    subtitle: str
    blocks: tuple[Block, ...]
    foot: str = "a prediction, no permission"
    letters: tuple[float, float] = (0.82, 1.12)


def pages(blocks: "tuple[Block, ...]") -> "tuple[tuple[Block, ...], ...]":
    """The blocks of each page."""
    found: list[tuple[Block, ...]] = [()]
    for block in blocks:
        if isinstance(block, Break):
            found.append(())
        else:
            found[-1] += (block,)
    return tuple(found)


def held(text: str) -> str:
    """A text in which no line ends between a number and its unit."""
    return text.replace("fl oz", f"fl{NBSP}oz").replace(" %", f"{NBSP}%")
