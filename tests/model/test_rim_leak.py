"""The gap that vapour finds under a pot flat on a plain rim: one flatness sets it and the joint's mean gap."""

from itertools import product
from math import pi
from pathlib import Path

import pytest

import burnsim
from burnsim import vary
from burnsim.model.description.factors import LIMITS
from burnsim.model.parameters.derive import derive
from burnsim.model.parameters.pot import rim_gap, rim_leak

WEEKEND = burnsim.load(Path(__file__).parents[2] / "examples" / "weekend_double_wall.toml")
FLAT = vary(WEEKEND, {"pot.rest": "full ring"})


def test_vapour_finds_no_wider_gap_than_heat_does() -> None:
    """No hydraulic gap exceeds the mean one (R. W. Zimmerman, G. S. Bodvarsson 1996, from memory)."""
    for contact, leak in product(LIMITS["rim_contact"], LIMITS["rim_leak"]):
        joint = vary(FLAT, {"factors.rim_contact": contact, "factors.rim_leak": leak})
        assert 0.0 < rim_leak(joint) <= rim_gap(joint) * (1.0 + 1e-12)


def test_the_leak_passes_what_a_slit_between_plates_does() -> None:
    """Laminar slit: Q = b h^3 dp/(12 mu l); a gap half as wide passes an eighth, whichever factor halves it."""
    burner = FLAT.burner
    around = pi * burner.outer_diameter
    usual = derive(FLAT).vent.outlet.leak
    assert usual == pytest.approx(around * rim_leak(FLAT) ** 3 / (12.0 * burner.rim_width), rel=1e-12)
    for change in ({"factors.rim_contact": 2.0}, {"factors.rim_leak": 0.5}):
        assert derive(vary(FLAT, change)).vent.outlet.leak == pytest.approx(usual / 8.0, rel=1e-9)


def test_a_pot_that_stands_clear_has_no_such_leak() -> None:
    assert rim_leak(WEEKEND) == 0.0
    assert rim_leak(vary(WEEKEND, {"pot": None})) == 0.0
    assert derive(WEEKEND).vent.outlet.leak == 0.0
