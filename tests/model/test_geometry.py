"""Heights and circles of the jets on paper, and the levels that reach them on a stand that leans."""

from dataclasses import replace
from math import radians, tan

import pytest
from burners import BRASS, PALM

from burnsim.model.description.burner import Burner
from burnsim.model.description.geometry import (
    jet_heights,
    jet_reach,
    jet_rings,
    lip_height,
    lowest_jet_edge,
    overflow_level,
    spill_level,
)
from burnsim.model.description.parts import Jets

CUP = Burner("open cup", outer_diameter=65e-3, height=25e-3)


def test_an_open_cup_has_no_jets_and_spills_at_its_rim() -> None:
    assert jet_heights(CUP) == ()
    assert jet_rings(CUP) == ()
    assert lowest_jet_edge(CUP) == lip_height(CUP) == 25e-3
    assert spill_level(CUP, radians(3.0)) == 25e-3


def test_rows_of_jets_stand_one_above_the_other_or_inside_each_other() -> None:
    side = replace(PALM, jets=Jets(26, 1.0e-3, 35e-3, rows=2))
    assert jet_heights(side) == pytest.approx((35e-3, 37e-3))
    assert jet_rings(side) == (62e-3, 62e-3)
    top = replace(BRASS, jets=Jets(16, 0.9e-3, direction="top", ring_diameter=50e-3, rows=2))
    assert jet_heights(top) == (30e-3, 30e-3)
    outer, inner = jet_rings(top)
    assert outer == 50e-3
    assert inner < outer


def test_a_leaning_chamber_spills_at_its_outermost_jet() -> None:
    """With no corner dry the mean level is that on the axis: the edge less the reach of the jets times tan."""
    lean = radians(2.0)
    reach = 0.5 * (50e-3 + 0.9e-3)
    assert jet_reach(BRASS) == pytest.approx(reach)
    assert spill_level(BRASS, 0.0) == 30e-3
    wide = 0.5 * 69.4e-3  # the low side is then above the lid: part of the ring is full to the top
    by_hand = 30e-3 - reach * tan(lean)
    assert wide * tan(lean) + by_hand > 30e-3
    assert spill_level(BRASS, lean) < by_hand
    lower = replace(BRASS, jets=Jets(16, 0.9e-3, 20e-3))
    assert spill_level(lower, lean) == pytest.approx(20e-3 - 0.45e-3 - wide * tan(lean), rel=1e-9)


def test_a_chamber_without_a_well_runs_over_no_lip() -> None:
    assert overflow_level(BRASS, radians(2.0)) == lip_height(BRASS)
    assert overflow_level(CUP, radians(2.0)) == pytest.approx(25e-3 - 0.5 * 64.8e-3 * tan(radians(2.0)), rel=1e-9)
