"""What is asked of the solver, and the blocks of cells in which it is asked."""

from collections.abc import Callable
from dataclasses import dataclass
from math import degrees, isclose, pi, sqrt

from burnsim.errors import InputError

WEDGE = 5.0  # angle of the wedge that is solved where nothing changes round the axis [deg]
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

    Jets stand in for a ring-shaped slot in the side, or are `top_jets` holes in the closed top: one in its middle, or
    several on a ring, as squares of the area of round holes. A pool burns on the burner's whole top or, with a
    `well_radius`, in an open well, `ullage` below the rim; with jets besides, as far below as the lower wall ends.
    """

    gap: float | None = 1.5e-3  # rim to pot; None: no pot
    jets: float = 0.0
    top_jets: int = 0  # how many; none: a slot in the side
    jet_diameter: float = 1e-3  # of one of them
    jet_ring: float = 25e-3  # radius of the circle on which several lie
    wick: float = 0.0
    pool: float = 0.0
    well_radius: float | None = None
    ullage: float = 0.0
    square: int = 0  # 1: the well is square, of the same area, and solved in three dimensions
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

    def __post_init__(self) -> None:
        level = BURNER_HEIGHT - LOW_WALL_TOP
        if self.well_radius is not None and self.jets > 0.0 and not isclose(self.ullage, level):
            raise InputError(
                "ullage",
                f"{1e3 * self.ullage:g} mm",
                f"puts the surface of a well inside jets where no row of cells begins; allowed: {1e3 * level:g} mm",
                f"ask for {1e3 * level:g} mm, or leave the jets out",
            )
        well = self.pool > 0.0 and self.well_radius is not None and self.ullage > 0.0
        if self.square and not (well and self.gap is None and self.jets <= 0.0 and self.wick <= 0.0):
            raise InputError(
                "square",
                str(self.square),
                "is for a pool in a well below its rim by itself, in open air; allowed: no pot, no jets and no wick",
                "give pool, well_radius and ullage, and gap none",
            )
        alone = self.jets > 0.0 and self.wick <= 0.0 and self.pool <= 0.0 and self.well_radius is None
        if self.top_jets > 0 and not alone:
            raise InputError(
                "top_jets",
                str(self.top_jets),
                "can only be solved by themselves; allowed: jets above 0 W, no wick, no pool and no well",
                "give jets a power, and leave the others out",
            )

    @property
    def mouths(self) -> float:
        """Area through which the jets' vapour leaves [m2]."""
        return self.top_jets * pi / 4.0 * self.jet_diameter**2 if self.top_jets else SLOT_AREA

    @property
    def sectors(self) -> float:
        """Of those that are solved, as many as make the whole ring."""
        if self.square:
            return 1.0
        cuts = around(self)
        return 360.0 / (cuts[-1].end - cuts[0].start)


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


def around(question: Question) -> list[Block]:
    """Cells round the axis, by angle [deg]: a wedge, or half a pitch of top jets from the middle of one.

    The middle of what is solved lies along an axis; where cells do not, the solver needs `inverse.cpp`.
    """
    if question.top_jets < 2:
        return [Block("wedge", -0.5 * WEDGE, 0.5 * WEDGE, 1)]
    number = counted(question)
    start, end = -90.0 / question.top_jets, 90.0 / question.top_jets
    edge = start + degrees(half_side(question) / question.jet_ring)
    return [Block("hole", start, edge, number(2)), Block("between", edge, end, number(9), 4.0)]


def half_side(question: Question) -> float:
    """Half of the side of a square that is as large as a top jet [m]."""
    return 0.25 * sqrt(pi) * question.jet_diameter


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
    if question.top_jets > 0:
        return [
            Block("lowWall", 0.0, 30e-3, number(9), 0.5),
            Block("below", 30e-3, SLOT_HEIGHT, number(6)),
            Block("rimSide", SLOT_HEIGHT, BURNER_HEIGHT, number(6), 0.5),
            *above_rim(question),
        ]
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
            Block("mouth", low, high, 1),
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
    along_side = [Block("potSide", bottom, top, number(27), 5.5), Block("above", top, top + 60e-3, number(12), 1.5)]
    if question.top_jets > 0:
        middle = BURNER_HEIGHT + 0.5 * question.gap
        even = number(question.gap / 1.15e-3)
        return [
            Block("gap", BURNER_HEIGHT, middle, even, 3.0),
            Block("gap", middle, bottom, even, 0.4),
            *along_side,
        ]
    wide = question.gap > 2e-3
    pool = question.pool > 0.0
    cells = number(max(22, question.gap / 1.2e-3)) if pool else max(number(5), number(question.gap / 0.75e-3))
    return [
        Block("gap", BURNER_HEIGHT, bottom, cells, 0.5 if wide and not pool else 1.0),
        *along_side,
    ]


def outward(question: Question) -> list[Block]:
    """Blocks from the axis to the open side; the first lie over the burner, the last outside the pot."""
    number = counted(question)
    middle = min(MIDDLE, 0.5 * (BURNER_RADIUS + question.pot_radius))
    even = max(number(6), number((question.pot_radius - middle) / 0.85e-3))
    outside = Block("outside", question.pot_radius, question.pot_radius + 110e-3, number(36), 9.0)
    if question.top_jets > 0:
        return [
            *top_plate(question),
            Block("flame", BURNER_RADIUS, middle, number(14), 2.0),
            Block("under", middle, question.pot_radius, even),
            outside,
        ]
    well = question.well_radius
    if well is None:
        inside = [Block("burner", 0.0, BURNER_RADIUS, number(18), 0.4)]
    else:
        inside = [Block("well", 0.0, well, number(26), 0.4), Block("burner", well, BURNER_RADIUS, number(5))]
    return [
        *inside,
        Block("flame", BURNER_RADIUS, middle, number(28 * (middle - BURNER_RADIUS) / 14e-3), 2.5),
        Block("under", middle, question.pot_radius, even),
        outside,
    ]


def top_plate(question: Question) -> list[Block]:
    """Blocks from the axis to the edge of a burner with top jets."""
    number = counted(question)
    if question.top_jets == 1:
        hole = 0.5 * question.jet_diameter
        return [Block("hole", 0.0, hole, number(8)), Block("burner", hole, BURNER_RADIUS, number(44), 7.0)]
    low, high = question.jet_ring - half_side(question), question.jet_ring + half_side(question)
    return [
        Block("burner", 0.0, low, number(22), 0.15),
        Block("hole", low, high, number(5)),
        Block("burner", high, BURNER_RADIUS, number(12), 2.5),
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
