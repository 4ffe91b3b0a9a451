"""What the finish of a burner's surfaces does: a painted wall takes up what flames radiate, and radiates itself."""

from dataclasses import replace
from pathlib import Path

import pytest

import burnsim
from burnsim.model.parameters.derive import derive
from tests.burners import burnt

BARE = burnsim.load(Path(__file__).parents[2] / "examples" / "weekend_double_wall.toml")
PAINTED = replace(BARE, burner=replace(BARE.burner, emissivity=0.9))
"""Paints of any colour emit 0.88 to 0.97 of what a black body does (F. P. Incropera, D. P. DeWitt, table A.11; from
memory)."""


def test_a_surface_absorbs_what_it_emits() -> None:
    """Kirchhoff's law for a grey surface: both parts of the exchange go as the emissivity."""
    bare, painted = derive(BARE), derive(PAINTED)
    more = 0.9 / BARE.burner.material.emissivity
    assert painted.jets.absorptivity == pytest.approx(more * bare.jets.absorptivity)
    assert painted.walls.rim_emission == pytest.approx(more * bare.walls.rim_emission)
    assert painted.gallery.loss > bare.gallery.loss
    assert replace(painted.gallery, loss=bare.gallery.loss) == bare.gallery


def test_a_painted_burner_burns_stronger_under_a_near_pot() -> None:
    """Its jets' flames are far hotter than its wall: it gains more than it radiates away."""
    bare, painted = burnt(BARE).power_median, burnt(PAINTED).power_median
    assert bare is not None
    assert painted is not None
    assert painted > bare


def test_a_design_keeps_its_finish(tmp_path: Path) -> None:
    path = tmp_path / "painted.toml"
    PAINTED.save(path)
    assert burnsim.load(path) == PAINTED
    BARE.save(path)
    assert "emissivity" not in path.read_text(encoding="utf-8")
