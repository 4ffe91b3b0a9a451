"""Heat between gallery and well: our law beside two liquids that are solved, with the thin wall between them.

The wall between is heated at the waterline, as a flame-bathed inner wall does it, and the surface of the well is kept
60 K warmer than its liquid at first, as its flame keeps it. One may expect that such a surface warms the gallery. It
does not: its skin stays thin, while the gallery, which is narrow and heated from both sides, is warmer than the well at
every height but the uppermost millimetres.
"""

import math

import pytest
from burners import burnt
from liquid_slab import Passed, beside

from burnsim import Setup, load
from burnsim.model.description.geometry import well_diameter
from burnsim.solve.run import ready

PORCH = "examples/porch_open_well.toml"
DEPTH = 15e-3  # of liquid at first [m]


@pytest.fixture(scope="module")
def porch() -> Setup:
    """A double wall with an open well, which heats its gallery from the well's flame alone."""
    return load(PORCH)


@pytest.fixture(scope="module")
def solved() -> Passed:
    """Gallery and well of such a burner, solved over half a minute.

    Some 24 W come down its outer wall and 17 W down its inner one. A round well is as wide as its area over its
    perimeter.
    """
    return beside((6e-3, 13.5e-3), DEPTH, (115.0, 97.0), 60.0, 30.0, step=4e-3)


def test_a_burning_well_is_warmed_by_its_gallery(solved: Passed, porch: Setup) -> None:
    """The solved liquids say in which direction the heat goes, and so do ours."""
    assert solved.across > 0.0
    assert solved.first > solved.second
    burn = burnt(porch)
    for at in (20.0, 40.0, 70.0):
        assert burn.flows(at).walls.divider > 0.0


def test_gallery_and_well_exchange_heat_as_solved(solved: Passed, porch: Setup) -> None:
    """By the difference of their means, within a third."""
    law = ready(porch).parameters.walls.divider / (math.pi * well_diameter(porch.burner))
    assert law * DEPTH * (solved.first - solved.second) == pytest.approx(solved.across, rel=0.33)


def test_two_solved_liquids_keep_all_heat() -> None:
    """Without a hot surface, what is put in is in the liquids and their walls."""
    found = beside((6e-3, 13.5e-3), DEPTH, (115.0, 97.0), None, 4.0, step=4e-3)
    stored = 780.0 * 2600.0 * DEPTH * (6e-3 * found.first + 13.5e-3 * found.second)
    in_walls = 2.0 * 243.0 * DEPTH * max(found.wall, found.outer)
    assert stored < 4.0 * (115.0 + 97.0) < stored + in_walls
