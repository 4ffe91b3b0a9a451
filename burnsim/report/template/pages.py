"""Pages of a template: pieces on shelves, and pieces larger than a page cut into tiles that overlap."""

from collections.abc import Sequence
from math import ceil
from typing import NamedTuple

from burnsim.report.template.drawing import Piece

MARGIN = 10.0  # that no printer needs wider, common practice, no source [mm]
FOOTER = 14.0  # scale bar and page number [mm]
JOIN = 12.0  # overlap of neighbouring tiles [mm]
GAP, TITLE = 6.0, 5.0  # between pieces, of a piece's title [mm]


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


def paginate(pieces: Sequence[Piece], sheet: Sheet, head: float) -> tuple[Tile, ...]:
    """Place pieces on pages from the top down, in their order.

    Parameters
    ----------
    pieces : what to place
    sheet : size of the pages
    head : taken at the top of the first page [mm]

    Returns
    -------
    tuple of Tile
        In the order of the pages.
    """
    wide, high = sheet.room
    tiles: list[Tile] = []
    page, free = 0, high - head
    for piece in pieces:
        columns = cuts(piece.width, wide)
        rows = cuts(piece.height, high - TITLE)
        for row, (y, height) in enumerate(rows):
            for column, (x, width) in enumerate(columns):
                if height + TITLE > free:
                    page, free = page + 1, high
                bottom = MARGIN + FOOTER + free - TITLE - height
                tiles.append(
                    Tile(piece, page, MARGIN, bottom, x, y, width, height, column, len(columns), row, len(rows))
                )
                free -= height + TITLE + GAP
    return tuple(tiles)
