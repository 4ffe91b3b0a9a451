"""The mesh of a square well in three dimensions: air comes down one side of it and gas rises on the other."""

from itertools import product
from math import pi, sqrt

from resolved.generator.layout import BURNER_HEIGHT, BURNER_RADIUS, Question
from resolved.generator.mesh import Mesh

DOMAIN = 95e-3  # half of its width [m]
NEAR, TOP = 70e-3, 170e-3  # height above the rim of the finer cells, and of the domain [m]
INSIDE = 2.5e-3  # cell in the well [m]; taller ones above and wider ones beside

Face = tuple[int, int, int, int]


def counted(length: float, cell: float) -> int:
    """How many cells of a size fill a length."""
    return max(2, round(length / cell))


def square_mesh(question: Question) -> Mesh:
    """Blocks of a square well of the area of the round one that is asked for, in a square burner, in open air."""
    assert question.well_radius is not None
    cell = INSIDE * 0.75 / question.refine
    half = 0.5 * sqrt(pi) * question.well_radius
    burner, foot = BURNER_RADIUS, BURNER_HEIGHT - question.ullage
    places = [-DOMAIN, -burner, -half, half, burner, DOMAIN]
    wide, rim = counted(DOMAIN - burner, 2.8 * cell), counted(burner - half, 1.6 * cell)
    cells = [wide, rim, counted(2.0 * half, cell), rim, wide]
    ratios = [0.25, 1.0, 1.0, 1.0, 4.0]
    heights = [0.0, foot, BURNER_HEIGHT, BURNER_HEIGHT + NEAR, BURNER_HEIGHT + TOP]
    layers = [
        counted(foot, 2.4 * cell),
        counted(question.ullage, 0.85 * cell),
        counted(NEAR, 1.12 * cell),
        counted(TOP - NEAR, 2.4 * cell),
    ]
    rises = [0.5, 1.0, 1.0, 3.0]
    mesh = Mesh(sides="none")
    known: dict[tuple[int, int, int], int] = {}

    def vertex(i: int, j: int, k: int) -> int:
        if (i, j, k) not in known:
            known[i, j, k] = len(mesh.vertices)
            mesh.vertices.append((places[i], places[j], heights[k]))
        return known[i, j, k]

    def hollow(i: int, j: int, k: int) -> bool:
        return (i, j, k) == (2, 2, 1)

    def solid(i: int, j: int, k: int) -> bool:
        return k <= 1 and 1 <= i <= 3 and 1 <= j <= 3 and not hollow(i, j, k)

    def patch(i: int, j: int, k: int, down: bool, inside: bool) -> str | None:
        """Name of what lies beyond a face, whose other side is this block."""
        if not (0 <= i < len(cells) and 0 <= j < len(cells)):
            return "outer"
        if k < 0 or k >= len(layers):
            return "floor" if k < 0 else "top"
        if not solid(i, j, k):
            return None
        if down:
            return "surface" if inside else "rimTop"
        return "innerWall" if inside else "rimSide"

    for i, j, k in product(range(len(cells)), range(len(cells)), range(len(layers))):
        if solid(i, j, k):
            continue
        f = [vertex(i, j, k), vertex(i + 1, j, k), vertex(i + 1, j + 1, k), vertex(i, j + 1, k)]
        f += [vertex(i, j, k + 1), vertex(i + 1, j, k + 1), vertex(i + 1, j + 1, k + 1), vertex(i, j + 1, k + 1)]
        mesh.blocks.append(
            f"hex ({' '.join(map(str, f))}) ({cells[i]} {cells[j]} {layers[k]}) "
            f"simpleGrading ({ratios[i]:g} {ratios[j]:g} {rises[k]:g})"
        )
        mesh.cells += cells[i] * cells[j] * layers[k]
        around: dict[tuple[int, int, int], Face] = {
            (i - 1, j, k): (f[0], f[4], f[7], f[3]),
            (i + 1, j, k): (f[1], f[2], f[6], f[5]),
            (i, j - 1, k): (f[0], f[1], f[5], f[4]),
            (i, j + 1, k): (f[3], f[7], f[6], f[2]),
            (i, j, k - 1): (f[0], f[3], f[2], f[1]),
            (i, j, k + 1): (f[4], f[5], f[6], f[7]),
        }
        for beside, face in around.items():
            name = patch(*beside, down=beside[2] < k, inside=hollow(i, j, k))
            if name is not None:
                mesh.patches.setdefault(name, []).append(face)
    return mesh
