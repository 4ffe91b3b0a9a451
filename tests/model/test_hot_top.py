"""How much hotter than its mean a heated liquid is on top: our law beside liquid that is solved."""

import pytest
from liquid_slab import Slab, Spirit, solved

from burnsim.model.balances.pressure import BUBBLE_SUBCOOLING, HOT_TOP, bubble_share

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


METHANOL = Spirit(conductivity=0.19, density=765.0, capacity=2650.0, viscosity=5.2e-7, expansion=1.25e-3)


def boiling(depth: float, conductance: float, heat: float) -> Slab:
    """A gallery of methanol that starts 44.5 K below its boiling point."""
    return Slab(
        gap=4.5e-3, depth=depth, conductance=conductance, heat=heat, spirit=METHANOL, boils=44.5, columns=24, rows=30
    )


BOILING = {
    "weak": (boiling(12e-3, 0.016, 130.0), 35.0),
    "shallow": (boiling(6e-3, 0.016, 130.0), 18.0),
    "strong": (boiling(12e-3, 0.016, 300.0), 10.0),
    "thick wall": (boiling(12e-3, 0.05, 130.0), 35.0),
}


@pytest.mark.parametrize("name", BOILING)
def test_a_heated_liquid_boils_on_top_as_the_law_says(name: str) -> None:
    """The share of its heat that leaves as vapour, within a tenth of all of it, while half or so of it does."""
    slab, seconds = BOILING[name]
    found = solved(slab, seconds)
    assert slab.boils is not None
    onset = BUBBLE_SUBCOOLING + HOT_TOP * (found.wall - found.mean)
    assert 0.2 < found.boiled < 0.8
    assert bubble_share(slab.boils - found.mean, onset) == pytest.approx(found.boiled, abs=0.1)
