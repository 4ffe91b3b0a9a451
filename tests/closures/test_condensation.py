"""Bubbles that condense: against heat that diffuses round a shrinking sphere, solved, and limits."""

from itertools import pairwise
from math import pi, sqrt

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.special import erfc

from burnsim.closures.condensation import condensed_share, detached_bubble

DIFFUSIVITY = 9e-8
DIAMETER = 2e-3


def resolved_share(jakob: float, reduced: float) -> float:
    """Share of a sphere of vapour gone by a time over that in which it would collapse under a flat wall.

    Radii by the sphere's first one R, times by R^2/diffusivity. The liquid follows the wall without a change of its
    volume, so that a shell keeps its volume y = (r^3 - R^3)/3 from there: dT/dt = d/dy(r^4 dT/dy), dR/dt = Ja dT/dr.
    """
    end = reduced * pi / (4.0 * jakob * jakob)
    start = 1e-4 * end
    reach = 12.0 * sqrt(end)
    edges = ((1.0 + reach * np.linspace(0.0, 1.0, 401) ** 2) ** 3 - 1.0) / 3.0
    middles = 0.5 * (edges[1:] + edges[:-1])
    first = 1.0 - 2.0 * jakob * sqrt(start / pi)

    def slopes(_: float, state: np.ndarray) -> np.ndarray:
        radius, warm = state[0], state[1:]
        inside = (radius**3 + 3.0 * edges[:-1]) ** (4.0 / 3.0)
        steps = np.concatenate(([middles[0]], np.diff(middles)))
        flows = inside * np.diff(np.concatenate(([1.0], warm))) / steps
        flows = np.append(flows, 0.0)
        return np.concatenate(([jakob * flows[0] / radius**2], np.diff(flows) / np.diff(edges)))

    apart = (1.0 + 3.0 * middles) ** (1.0 / 3.0) - 1.0
    begun = np.concatenate(([first], erfc(0.5 * apart / sqrt(start))))
    with np.errstate(invalid="ignore"):  # SciPy's BDF subtracts rows of its table before they are filled
        found = solve_ivp(slopes, (start, end), begun, method="BDF", rtol=1e-6)
    assert found.success
    return float(1.0 - found.y[0][-1] ** 3)


@pytest.mark.parametrize("jakob", [20.0, 60.0, 120.0])
@pytest.mark.parametrize("reduced", [0.01, 0.1, 0.5])
def test_condenses_nearly_as_a_sphere_at_rest_does(jakob: float, reduced: float) -> None:
    lasting = pi * DIAMETER**2 / (16.0 * jakob**2 * DIFFUSIVITY)
    found = condensed_share(jakob, DIFFUSIVITY, DIAMETER, reduced * lasting)
    resolved = resolved_share(jakob, reduced)
    assert found == pytest.approx(resolved, rel=0.12)
    assert found > resolved - 0.01


def test_the_flat_wall_is_that_of_a_half_space() -> None:
    """At first: heat k T/sqrt(pi a t) into a half space, as in any text on conduction, over latent heat of the sphere.

    Methanol of 30 degC, tables: 782 kg/m3, 2540 J/kg/K, 0.20 W/m/K; vapour at 338 K 1.16 kg/m3, 1.10 MJ/kg.
    """
    density, heat, conductivity, colder, time = 782.0, 2540.0, 0.20, 34.6, 1e-5
    diffusivity = conductivity / (density * heat)
    jakob = density * heat * colder / (1.16 * 1.10e6)
    passed = 2.0 * conductivity * colder * sqrt(time / (pi * diffusivity)) * pi * DIAMETER**2
    held = 1.16 * 1.10e6 * pi / 6.0 * DIAMETER**3
    assert condensed_share(jakob, diffusivity, DIAMETER, time) == pytest.approx(passed / held, rel=0.12)
    assert jakob == pytest.approx(54.0, rel=0.02)


def test_nothing_condenses_in_liquid_at_its_boiling_point_and_all_in_deep_cold() -> None:
    assert condensed_share(0.0, DIFFUSIVITY, DIAMETER, 1.0) == 0.0
    assert condensed_share(-5.0, DIFFUSIVITY, DIAMETER, 1.0) == 0.0
    assert condensed_share(50.0, DIFFUSIVITY, DIAMETER, 0.0) == 0.0
    assert condensed_share(1e-6, DIFFUSIVITY, DIAMETER, 0.1) < 1e-5
    assert condensed_share(55.0, DIFFUSIVITY, DIAMETER, 0.06) == 1.0


def test_the_colder_and_the_longer_the_more_without_a_step() -> None:
    for shares in (
        [condensed_share(0.05 * k, DIFFUSIVITY, 3e-3, 0.05) for k in range(600)],
        [condensed_share(20.0, DIFFUSIVITY, 3e-3, 1e-4 * k) for k in range(600)],
    ):
        assert all(before <= after for before, after in pairwise(shares))
        assert shares[0] == 0.0
        assert shares[-1] == 1.0
        assert max(after - before for before, after in pairwise(shares[1:])) < 0.06


def test_a_bubble_leaves_when_it_lifts_more_than_its_edge_holds() -> None:
    """Force by force, for water over a hole of 1 mm."""
    diameter = detached_bubble(0.072, 998.0, 1e-3)
    assert 998.0 * 9.80665 * pi / 6.0 * diameter**3 == pytest.approx(0.072 * pi * 1e-3, rel=1e-12)
    assert detached_bubble(0.022, 789.0, 2e-3) < diameter
