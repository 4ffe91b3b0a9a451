"""A load that people pour by holds under a tight fit of pot and rim: the leak's gap is a guess."""

from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest

import burnsim
from burnsim import BANDS, Setup, find_fill_limit, vary
from burnsim.model.parameters.pot import rim_leak
from burnsim.studies.fill.record import FillLimits
from burnsim.studies.fill.spill_runs import closed, look, poor_contact
from burnsim.units import plain

WEEKEND = burnsim.load(Path(__file__).parents[3] / "examples" / "weekend_double_wall.toml")
ML = 1e-6
LOW = BANDS["rim_leak"].low


def flat(load: float, leak: float) -> Setup:
    return vary(WEEKEND, {"pot.rest": "full ring", "charge.volume": load, "factors.rim_leak": leak})


@cache
def limits() -> FillLimits:
    return find_fill_limit(WEEKEND, engine="compiled")


def test_the_load_to_pour_holds_under_a_tight_fit() -> None:
    """Neither at the tight end of the leak's band, nor with the least mean gap of `rim_contact`'s band as well."""
    safe = limits().safe
    assert safe is not None
    tightest = LOW / BANDS["rim_contact"].high
    burns = [flat(safe, leak) for leak in (1.0, 0.85, LOW, tightest)]
    assert all(one.clearance > 0.0 for one in look([*burns, *map(poor_contact, burns)]))


def test_the_sealed_limit_is_that_at_the_tight_end() -> None:
    """The load that just spills spills there, and under the usual leak it does not."""
    spills = limits().burning_sealed.spills
    assert spills is not None
    tight, usual = look([flat(spills, LOW), flat(spills, 1.0)])
    assert tight.clearance <= 0.0 < usual.clearance


@pytest.mark.parametrize("load", [25.0, 35.0, 50.0, 65.0])
def test_a_tighter_fit_never_allows_more(load: float) -> None:
    """What spills at one leak spills at all tighter ones, and without a spill the froth only comes nearer."""
    seen = [one.clearance for one in look([flat(load * ML, leak) for leak in (1.0, 0.85, 0.7, 0.55, 0.4)])]
    assert all(tighter <= wider + 0.3e-3 for wider, tighter in pairwise(seen))


def test_a_pot_of_poor_contact_fits_as_tightly() -> None:
    shut = closed(WEEKEND)
    assert not isinstance(shut, str)
    assert rim_leak(poor_contact(shut)) == pytest.approx(rim_leak(shut), rel=1e-12)
    assert rim_leak(shut) == pytest.approx(LOW * rim_leak(flat(37 * ML, 1.0)), rel=1e-12)


def test_it_is_told_that_the_gap_is_a_guess() -> None:
    text = plain(limits().summary())
    assert "the gap that vents the well is a guess" in text
    assert "as tight as the band of rim_leak allows" in text
