"""The solver's mesh: a wedge or sector of blocks round the axis, with burner and pot cut out."""

from dataclasses import dataclass, field
from itertools import product
from math import cos, radians, sin

from resolved.generator.layout import Block, edges

Face = tuple[int, int, int, int]
OPEN = ("top", "outer")
"""Patches through which air comes and gas goes."""
SIDES = ("front", "back")
"""Planes on both sides of the wedge or sector."""


@dataclass
class Mesh:
    """Vertices, blocks of cells and named patches of the boundary."""

    vertices: list[tuple[float, float, float]] = field(default_factory=list)
    blocks: list[str] = field(default_factory=list)
    patches: dict[str, list[Face]] = field(default_factory=dict)
    cells: int = 0
    sides: str = "wedge"  # the solver's kind of the planes on both sides


def build(up: list[Block], out: list[Block], around: list[Block], surface: float, pot: bool) -> Mesh:
    """Lay out the wedge or sector, in layers of one cell round the axis.

    Parameters
    ----------
    up, out, around : blocks along the axis, away from it and round it
    surface : height of what burns in a well, where one of the blocks begins [m]
    pot : whether the blocks beside a pot are cut out
    """
    mesh = Mesh()
    rim = [block.name for block in up].index("rimSide")
    walls = [block.name for block in out].index("flame")  # blocks of the burner lie inside of it
    well = out[0].name == "well"
    lowest = min(range(len(up)), key=lambda i: abs(up[i].start - surface))  # row above the burning surface
    heights = [up[0].start] + [block.end for block in up]
    radii = [out[0].start] + [block.end for block in out]
    angles = [radians(angle) for angle in edges(around)]
    layers = len(angles) - 1
    mesh.sides = "wedge" if layers == 1 else "symmetryPlane"
    places: dict[tuple[int, int, int], int] = {}

    def solid(i: int, j: int) -> bool:
        hollow = well and j == 0 and lowest <= i <= rim
        inside_burner = j < walls and i <= rim and not hollow
        inside_pot = pot and up[i].name in ("potSide", "above") and j < len(out) - 1
        return inside_burner or inside_pot

    def vertex(i: int, j: int, k: int) -> int:
        key = (i, j, k if j > 0 else 0)
        if key not in places:
            places[key] = len(mesh.vertices)
            mesh.vertices.append((radii[j] * cos(angles[k]), radii[j] * sin(angles[k]), heights[i]))
        return places[key]

    def patch(name: str, face: Face) -> None:
        mesh.patches.setdefault(name, []).append(face)

    def plate(i: int, j: int, k: int) -> str:
        """What lies below a block that stands on the burner."""
        if out[j].name == "hole" and k < around[0].cells:
            return "mouth"
        return "surface" if i <= rim else "rimTop"

    def lay(i: int, j: int, k: int) -> None:
        row, column = up[i], out[j]
        corners = [(i, j, k), (i, j + 1, k), (i, j + 1, k + 1), (i, j, k + 1)]
        corners += [(i + 1, *corner[1:]) for corner in corners]
        f = [vertex(*corner) for corner in corners]
        mesh.blocks.append(
            f"hex ({' '.join(map(str, f))}) ({column.cells} 1 {row.cells}) "
            f"simpleGrading ({column.ratio:.8g} 1 {row.ratio:.8g})"
        )
        mesh.cells += column.cells * row.cells
        if k == 0:
            patch("front", (f[0], f[1], f[5], f[4]))
        if k == layers - 1:
            patch("back", (f[3], f[7], f[6], f[2]))
        if j == len(out) - 1:
            patch("outer", (f[1], f[2], f[6], f[5]))
        if i == 0:
            patch("floor", (f[0], f[3], f[2], f[1]))
        elif solid(i - 1, j):
            patch(plate(i, j, k), (f[0], f[3], f[2], f[1]))
        if i == len(up) - 1:
            patch("top", (f[4], f[5], f[6], f[7]))
        elif solid(i + 1, j):
            patch("potBottom", (f[4], f[5], f[6], f[7]))
        if j < len(out) - 1 and i <= rim and solid(i, j + 1):
            patch("innerWall", (f[1], f[2], f[6], f[5]))
        if j > 0 and solid(i, j - 1):
            patch(row.name, (f[0], f[4], f[7], f[3]))

    for i, j, k in product(range(len(up)), range(len(out)), range(layers)):
        if not solid(i, j):
            lay(i, j, k)
    return mesh


def kind(patch: str, sides: str) -> str:
    """The solver's kind of a patch; heat to a burning surface is only noted for walls."""
    if patch in SIDES:
        return sides
    return "patch" if patch in (*OPEN, "mouth") else "wall"


def dictionary(mesh: Mesh) -> str:
    """The mesh as the solver's mesher reads it."""
    lines = ["scale 1;", "vertices", "("]
    lines += [f"({x:.9g} {y:.9g} {z:.9g})" for x, y, z in mesh.vertices]
    lines += [");", "blocks", "(", *mesh.blocks, ");", "edges();", "boundary", "("]
    for name, faces in mesh.patches.items():
        written = " ".join("(" + " ".join(map(str, face)) + ")" for face in faces)
        lines.append(f"{name} {{type {kind(name, mesh.sides)}; faces ({written});}}")
    return "\n".join([*lines, ");", "mergePatchPairs();", ""])
