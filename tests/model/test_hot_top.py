"""How much hotter than its mean a heated liquid is on top: our law beside liquid that is solved."""

import pytest
from liquid_slab import Slab, solved

from burnsim.model.balances.pressure import HOT_TOP

CASES = {
    "aluminium": Slab(gap=6e-3, depth=15e-3, conductance=0.03, heat=60.0),
    "brass": Slab(gap=6e-3, depth=15e-3, conductance=0.12, heat=60.0),
    "steel": Slab(gap=6e-3, depth=15e-3, conductance=2.4e-3, heat=30.0),
    "heated evenly": Slab(gap=6e-3, depth=15e-3, conductance=0.0, heat=60.0),
}


@pytest.mark.parametrize("name", CASES)
def test_the_top_of_a_heated_liquid_is_as_hot_as_the_law_says(name: str) -> None:
    """Within a third after 15 s, over walls from foil of steel to brass of 1 mm, heated at the waterline or evenly."""
    found = solved(CASES[name], 15.0)
    assert found.top - found.mean == pytest.approx(HOT_TOP * (found.wall - found.mean), rel=0.33)
    assert found.top - found.mean > 5.0


def test_the_solver_keeps_all_heat_that_is_put_in() -> None:
    """What has been put in is in the liquid and its wall."""
    slab = CASES["heated evenly"]
    found = solved(slab, 5.0)
    put_in = slab.heat * 5.0
    stored = slab.spirit.stored * slab.gap * slab.depth * found.mean
    in_wall = slab.wall_capacity * slab.depth * found.wall  # at most: the wall is hottest at the waterline
    assert stored < put_in < stored + in_wall
