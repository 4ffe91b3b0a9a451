"""What is asked of the flow solver: meshes as large as what they stand for, and questions that it can answer."""

from math import pi

import pytest
from resolved.generator.layout import BURNER_RADIUS, Question, around, outward, surface_of, upward
from resolved.generator.mesh import Mesh, build
from resolved.generator.square import square_mesh

from burnsim.errors import InputError


def mesh_of(question: Question) -> Mesh:
    return build(upward(question), outward(question), around(question), surface_of(question), question.gap is not None)


def area(mesh: Mesh, patch: str) -> float:
    """Of a level patch [m2]."""
    found = 0.0
    for face in mesh.patches[patch]:
        corners = [mesh.vertices[k] for k in face]
        after = corners[1:] + corners[:1]
        found += 0.5 * abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(corners, after, strict=True)))
    return found


@pytest.mark.parametrize("count", [1, 16, 24])
def test_top_jets_leave_holes_of_their_size_and_the_whole_top_is_there(count):
    question = Question(gap=25e-3, jets=500.0, top_jets=count, jet_diameter=1.2e-3)
    mesh = mesh_of(question)
    holes = question.sectors * area(mesh, "mouth")
    assert holes == pytest.approx(count * pi / 4.0 * 1.2e-3**2, rel=2e-3)
    assert holes + question.sectors * area(mesh, "rimTop") == pytest.approx(pi * BURNER_RADIUS**2, rel=2e-3)
    assert mesh.sides == ("wedge" if count == 1 else "symmetryPlane")


def test_a_sector_is_half_a_pitch_with_its_middle_along_an_axis():
    question = Question(gap=25e-3, jets=500.0, top_jets=20)
    assert question.sectors == pytest.approx(40.0)
    assert around(question)[0].start == pytest.approx(-around(question)[-1].end)


def test_a_well_inside_jets_lies_where_a_row_of_cells_begins():
    with pytest.raises(InputError, match=r"ullage = '20 mm' .*allowed: 25 mm: ask for 25 mm"):
        Question(jets=450.0, pool=90.0, well_radius=26e-3, ullage=20e-3)
    assert "surface" in mesh_of(Question(jets=450.0, pool=90.0, well_radius=26e-3, ullage=25e-3)).patches


def test_top_jets_are_asked_by_themselves():
    with pytest.raises(InputError, match="top_jets"):
        Question(jets=500.0, top_jets=16, pool=100.0)


def test_a_square_well_is_as_wide_as_the_round_one_that_is_asked_for():
    """Its surface, the rim about it, and every wall that it has; every face of the mesh has one name."""
    question = Question(gap=None, pool=500.0, well_radius=26e-3, ullage=25e-3, square=1)
    mesh = square_mesh(question)
    assert area(mesh, "surface") == pytest.approx(pi * 26e-3**2, rel=1e-6)
    assert area(mesh, "surface") + area(mesh, "rimTop") == pytest.approx((2.0 * BURNER_RADIUS) ** 2, rel=1e-6)
    assert {*mesh.patches} == {"surface", "rimTop", "innerWall", "rimSide", "floor", "top", "outer"}
    assert len(mesh.patches["innerWall"]) == 4
    assert question.sectors == 1.0


def test_a_square_well_is_asked_by_itself():
    with pytest.raises(InputError, match="square = '1' is for a pool in a well"):
        Question(gap=30e-3, pool=500.0, well_radius=26e-3, ullage=25e-3, square=1)
