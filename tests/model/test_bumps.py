"""A pot stands as high over the rim's bumps as they were built."""

from dataclasses import replace
from pathlib import Path

import pytest

import burnsim
from burnsim.model.parameters.derive import derive

DESIGN = burnsim.load(Path(__file__).parents[2] / "examples/weekend_double_wall.toml")


@pytest.mark.parametrize("built", [0.75, 1.33])
def test_bumps_as_built_are_bumps_drawn_so_high(built):
    gap = DESIGN.pot.gap
    assert derive(burnsim.vary(DESIGN, {"factors.bump_height": built})) == derive(
        burnsim.vary(DESIGN, {"pot.gap": built * gap})
    )


@pytest.mark.parametrize("rest", ["stand", "full ring"])
def test_a_pot_that_stands_on_no_bumps_has_none_to_be_built(rest):
    setup = replace(DESIGN, pot=replace(DESIGN.pot, rest=rest))
    assert derive(burnsim.vary(setup, {"factors.bump_height": 1.5})) == derive(setup)


def test_bumps_as_built_stay_within_what_a_gap_may_be():
    low = replace(DESIGN, pot=replace(DESIGN.pot, gap=0.05e-3))
    assert derive(burnsim.vary(low, {"factors.bump_height": 0.5})) == derive(low)


def test_a_gap_beside_a_full_ring_counts_for_nothing() -> None:
    """A pot that stands on the whole rim has none."""
    ring = {"pot.rest": "full ring"}
    near, far = (derive(burnsim.vary(DESIGN, {**ring, "pot.gap": gap})) for gap in (0.5e-3, 10e-3))
    assert near == far
