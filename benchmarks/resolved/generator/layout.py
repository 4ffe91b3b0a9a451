"""What is asked of the solver, and the blocks of cells in which it is asked."""

from collections.abc import Callable
from dataclasses import dataclass
from math import pi

WEDGE = 5.0  # angle of the wedge that is solved [deg]
RING = 360.0 / WEDGE  # wedges in a whole ring
SLOT_AREA = 26 * pi / 4.0 * 1e-3**2  # that of 26 holes of 1 mm [m2]
BURNER_RADIUS, SLOT_HEIGHT, BURNER_HEIGHT = 31e-3, 39e-3, 45e-3  # [m]
POT_SIDE = 60e-3  # [m]
WICK_TOP, LOW_WALL_TOP = 12e-3, 20e-3  # [m]
ROOM_TEMPERATURE = 293.0  # [K]
SURFACE_TEMPERATURES = {"methanol": 338.0, "ethanol": 351.0}  # of a burning wick or pool [K]
SLOT_TEMPERATURE = 400.0  # of the vapour [K]
MIDDLE = 45e-3  # radius where cells begin to be even [m]


@dataclass(frozen=True, kw_only=True)
class Question:
    """A flame under a pot: lengths in metres, powers in watts, temperatures in kelvins.

    A pool burns on the burner's whole top or, with a `well_radius`, in an open well, `ullage` below the rim; with jets
    besides, only as far below as the lower wall ends.
    """

    gap: float | None = 1.5e-3  # rim to pot; None: no pot
    jets: float = 0.0
    wick: float = 0.0
    pool: float = 0.0
    well_radius: float | None = None
    ullage: float = 0.0
    pedestal: float = 0.0  # height of a smooth adiabatic foot on which the burner stands, away from the table
    fuel: str = "methanol"
    pot_radius: float = 70e-3
    pot_temperature: float = 330.0
    rim_temperature: float = 500.0
    high_wall_temperature: float = 500.0
    low_wall_temperature: float | None = None  # None: no heat passes there
    refine: float = 0.75
    courant: float = 0.6
    seconds: float = 1.5


@dataclass(frozen=True)
class Block:
    """A run of cells along one axis: `ratio` is that of the last cell's width to the first's."""

    name: str
    start: float
    end: float
    cells: int
    ratio: float = 1.0


def counted(question: Question) -> Callable[[float], int]:
    """Rounds a number of cells after refining; at least two."""
    return lambda cells: max(2, round(cells * question.refine))


def well_blocks(question: Question) -> list[Block]:
    """Blocks from the foot of a burner with an open well up to its rim: one boundary at the surface of the pool."""
    number = counted(question)
    surface = surface_of(question)
    inside = number(question.ullage / 1e-3)
    return [Block("lowWall", 0.0, surface, number(9), 0.6), Block("rimSide", surface, BURNER_HEIGHT, inside)]


def upward(question: Question) -> list[Block]:
    """Blocks from the foot of the burner to the top of the domain; their names are those of the patches beside them."""
    number = counted(question)
    if question.well_radius is not None and question.jets <= 0.0:
        return [*well_blocks(question), *above_rim(question)]
    width = SLOT_AREA / (2.0 * pi * BURNER_RADIUS)
    low, high = SLOT_HEIGHT - 0.5 * width, SLOT_HEIGHT + 0.5 * width
    if question.wick > 0.0:
        foot = [Block("pedestal", -question.pedestal, 0.0, number(24), 0.1)] if question.pedestal > 0.0 else []
        found = [
            *foot,
            Block("wick", 0.0, WICK_TOP, number(16), 2.0),
            Block("lowWall", WICK_TOP, LOW_WALL_TOP, number(9)),
        ]
    else:
        found = [Block("lowWall", 0.0, LOW_WALL_TOP, number(9), 0.4)]
    if question.jets > 0.0:
        found += [
            Block("highWall", LOW_WALL_TOP, 30e-3, number(9), 0.7),
            Block("below", 30e-3, low, number(13), 0.2),
            Block("slot", low, high, 1),
            Block("rimSide", high, BURNER_HEIGHT, number(12), 4.0),
        ]
    else:
        found += [
            Block("highWall", LOW_WALL_TOP, 30e-3, number(10)),
            Block("below", 30e-3, SLOT_HEIGHT, number(9), 0.8),
            Block("rimSide", SLOT_HEIGHT, BURNER_HEIGHT, number(9), 0.7),
        ]
    return [*found, *above_rim(question)]


def surface_of(question: Question) -> float:
    """Height of the burning surface in an open well, else of the rim [m]."""
    return BURNER_HEIGHT if question.well_radius is None else BURNER_HEIGHT - question.ullage


def above_rim(question: Question) -> list[Block]:
    """Blocks from the rim to the top of the domain."""
    number = counted(question)
    if question.gap is None:
        return [Block("free", BURNER_HEIGHT, 0.3, number(90), 4.0)]
    bottom = BURNER_HEIGHT + question.gap
    top = bottom + POT_SIDE
    wide = question.gap > 2e-3
    pool = question.pool > 0.0
    cells = number(max(22, question.gap / 1.2e-3)) if pool else max(number(5), number(question.gap / 0.75e-3))
    return [
        Block("gap", BURNER_HEIGHT, bottom, cells, 0.5 if wide and not pool else 1.0),
        Block("potSide", bottom, top, number(27), 5.5),
        Block("above", top, top + 60e-3, number(12), 1.5),
    ]


def outward(question: Question) -> list[Block]:
    """Blocks from the axis to the open side; the first lie over the burner, the last outside the pot."""
    number = counted(question)
    middle = min(MIDDLE, 0.5 * (BURNER_RADIUS + question.pot_radius))
    even = max(number(6), number((question.pot_radius - middle) / 0.85e-3))
    well = question.well_radius
    if well is None:
        inside = [Block("burner", 0.0, BURNER_RADIUS, number(18), 0.4)]
    else:
        inside = [Block("well", 0.0, well, number(26), 0.4), Block("burner", well, BURNER_RADIUS, number(5))]
    return [
        *inside,
        Block("flame", BURNER_RADIUS, middle, number(28 * (middle - BURNER_RADIUS) / 14e-3), 2.5),
        Block("under", middle, question.pot_radius, even),
        Block("outside", question.pot_radius, question.pot_radius + 110e-3, number(36), 9.0),
    ]


def edges(blocks: list[Block]) -> list[float]:
    """Where the cells of a run of blocks begin and end [m]."""
    found = [blocks[0].start]
    for block in blocks:
        if block.cells == 1:
            found.append(block.end)
            continue
        growth = block.ratio ** (1.0 / (block.cells - 1))
        widths = [growth**k for k in range(block.cells)]
        scale = (block.end - block.start) / sum(widths)
        for width in widths:
            found.append(found[-1] + scale * width)
        found[-1] = block.end
    return found
