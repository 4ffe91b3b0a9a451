"""Pages of a template: pieces on shelves, and pieces larger than a page cut into tiles that overlap."""

from collections.abc import Sequence
from math import ceil
from typing import NamedTuple

from burnsim.plots.letters import text_width
from burnsim.report.template.drawing import Piece

MARGIN = 10.0  # that no printer needs wider, common practice, no source [mm]
FOOTER = 14.0  # scale bar and page number [mm]
JOIN = 12.0  # overlap of neighbouring tiles [mm]
GAP = 6.0  # between pieces [mm]
NAME, WORDS = (4.8, 6.0), (2.9, 4.2)  # letters and leading of the name at the top, of the words below it [mm]
TITLE, LEADING = 2.8, 3.8  # letters of a piece's title, from line to line [mm]


class Tile(NamedTuple):
    """A piece, or a window of one, on a page: the page's (left, bottom) shows the piece's (x, y) [mm]."""

    piece: Piece
    page: int
    left: float
    bottom: float
    x: float
    y: float
    width: float
    height: float
    column: int
    columns: int
    row: int
    rows: int


class Sheet(NamedTuple):
    """A page, landscape [mm]."""

    name: str
    width: float
    height: float

    @property
    def room(self) -> tuple[float, float]:
        """Width and height free for pieces [mm]."""
        return self.width - 2.0 * MARGIN, self.height - 2.0 * MARGIN - FOOTER


def cuts(length: float, room: float) -> tuple[tuple[float, float], ...]:
    """Windows (start, length) that cover a length, none longer than the room; neighbours overlap by `JOIN`.

    >>> cuts(100.0, 120.0), cuts(192.0, 112.0)
    (((0.0, 100.0),), ((0.0, 102.0), (90.0, 102.0)))
    """
    if length <= room:
        return ((0.0, length),)
    count = ceil((length - JOIN) / (room - JOIN))
    step = (length - JOIN) / count
    return tuple((k * step, step + JOIN) for k in range(count))


def title_height(piece: Piece) -> float:
    """Room that a piece's title takes above it [mm]."""
    return LEADING * len(piece.title) + 1.0


def title_width(piece: Piece) -> float:
    """Length of the longest line of a piece's title [mm], with room to tell of parts."""
    return max(text_width(line, TITLE, "regular" if k else "bold") for k, line in enumerate(piece.title))


class _Shelf(NamedTuple):
    """A row of pieces on a page, with what is free to the right of them [mm]."""

    page: int
    top: float
    height: float
    left: float


def paginate(pieces: Sequence[Piece], sheet: Sheet, head: float) -> tuple[Tile, ...]:
    """Place pieces beside and below each other, each on the first shelf of a page that has room.

    A head is taken at the top of the first page [mm]. The tiles come in the order of the pages.
    """
    wide, high = sheet.room
    shelves: list[_Shelf] = []
    free = [high - head]  # of each page, below its shelves
    tiles: list[Tile] = []
    for piece in pieces:
        title = title_height(piece)
        columns, rows = cuts(piece.width, wide), cuts(piece.height, high - title)
        for row, (y, height) in enumerate(rows):
            for column, (x, width) in enumerate(columns):
                taken, deep = max(width, title_width(piece)), height + title
                k = next((k for k, one in enumerate(shelves) if one.left + taken <= wide and one.height >= deep), None)
                if k is None:
                    page = next((page for page, room in enumerate(free) if room >= deep), len(free))
                    if page == len(free):
                        free.append(high)
                    k = len(shelves)
                    shelves.append(_Shelf(page, free[page], deep, 0.0))
                    free[page] -= deep + GAP
                shelf = shelves[k]
                shelves[k] = shelf._replace(left=shelf.left + taken + GAP)
                bottom = MARGIN + FOOTER + shelf.top - deep
                tiles.append(
                    Tile(piece, shelf.page, MARGIN + shelf.left, bottom, x, y, width, height, column, len(columns), row,
                         len(rows))
                )  # fmt: skip
    return tuple(sorted(tiles, key=lambda tile: tile.page))
