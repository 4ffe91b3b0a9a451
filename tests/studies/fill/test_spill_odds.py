"""How likely a design spills: the sampling, its error and what it counts."""

import math
from pathlib import Path

import numpy as np
import pytest

import burnsim
from burnsim import BANDS
from burnsim.model.description.factors import CORRELATIONS
from burnsim.studies.fill import spill_odds
from burnsim.studies.fill.spill_odds import Hand, estimate_spill_odds, sampled
from burnsim.studies.fill.spill_runs import Seen
from burnsim.studies.predict.prediction import share
from burnsim.units import plain

EXAMPLES = Path(__file__).parents[3] / "examples"
WEEKEND = burnsim.load(EXAMPLES / "weekend_double_wall.toml")


@pytest.mark.parametrize(("hits", "trials"), [(0, 10), (1, 20), (13, 40), (400, 400), (37, 1000)])
def test_ends_of_wilsons_interval_are_1_96_standard_errors_off(hits, trials):
    """By the standard error that a true share at that end would have; 0 and 1 end it where all or none did."""
    found = share(hits, trials)
    for end in (found.low, found.high):
        if 0.0 < end < 1.0:
            assert abs(hits / trials - end) == pytest.approx(1.96 * math.sqrt(end * (1.0 - end) / trials), rel=1e-4)
    assert (found.low == 0.0, found.high == 1.0) == (hits == 0, hits == trials)


def test_probability_of_a_made_up_law(monkeypatch):
    """Spills when the load passes 37 ml: half of normal errors do."""

    def law(setups, engine="auto"):
        return [Seen(37e-6 - setup.charge.volume, None, False, True, "") for setup in setups]

    monkeypatch.setattr(spill_odds, "look", law)
    found = estimate_spill_odds(WEEKEND, 2000, seed=1)
    assert found.probability == pytest.approx(0.5, abs=4.0 * found.error)
    assert found.error == pytest.approx(math.sqrt(0.25 / 2000), rel=0.01)
    assert found.low < 0.5 < found.high
    assert found.samples == 2000
    assert sum(found.leads.values()) == round(found.probability * 2000)
    assert estimate_spill_odds(WEEKEND, 2000, seed=1) == found
    assert "% of 2000 sampled burns" in plain(found.summary())


def test_burns_that_fail_count_on_neither_side(monkeypatch):
    def law(setups, engine="auto"):
        return [Seen(math.nan if k % 4 == 0 else 1e-3, None, False, True, "") for k, _ in enumerate(setups)]

    monkeypatch.setattr(spill_odds, "look", law)
    found = estimate_spill_odds(WEEKEND, 40)
    assert (found.samples, found.failed, found.probability) == (30, 10, 0.0)
    assert "10 more could not be solved" in plain(found.summary())
    monkeypatch.setattr(
        spill_odds, "look", lambda setups, engine="auto": [Seen(math.nan, None, False, False, "x")] * 10
    )
    with pytest.raises(burnsim.InputError, match="no sample"):
        estimate_spill_odds(WEEKEND, 10)


def test_burns_that_end_before_they_could_spill_prove_nothing(monkeypatch):
    """One in four spills, one in two goes out: of those that tell, half spill."""
    fates = [
        Seen(-1e-3, None, False, True, ""), Seen(9e-3, None, True, True, ""),
        Seen(9e-3, None, True, True, ""), Seen(9e-3, None, False, True, ""),
    ]  # fmt: skip
    monkeypatch.setattr(spill_odds, "look", lambda setups, engine="auto": [fates[k % 4] for k in range(len(setups))])
    found = estimate_spill_odds(WEEKEND, 40)
    assert (found.probability, found.telling, found.unproven) == (0.25, 20, {"its jets go out": 20})
    told = plain(found.summary())
    assert "20 of them prove nothing" in told
    assert "Of the other 20, 50.0 % spill" in told
    monkeypatch.setattr(spill_odds, "look", lambda setups, engine="auto": fates[1:2] * len(setups))
    told = plain(estimate_spill_odds(WEEKEND, 40).summary())
    assert "How likely it spills once it burns is not known" in told
    title = estimate_spill_odds(WEEKEND, 40).plot().get_title()
    assert "none of 40 burns tells if it spills" in title


def test_factors_are_sampled_within_their_bands():
    source = np.random.default_rng(3)
    drawn = [sampled(WEEKEND, source) for _ in range(3000)]
    for name, band in BANDS.items():
        values = np.array([getattr(one.factors, name) for one in drawn])
        inside = np.mean((values > band.low) & (values < band.high))
        assert inside == pytest.approx(0.9, abs=0.03), name
        assert np.median(np.log(values)) == pytest.approx(math.log(math.sqrt(band.low * band.high)), abs=0.05), name
    for pair, one in CORRELATIONS.items():
        both = np.log([[getattr(burner.factors, name) for name in pair] for burner in drawn])
        assert np.arctanh(np.corrcoef(both.T)[0, 1]) == pytest.approx(np.arctanh(one.value), abs=3.0 / math.sqrt(2997))
    tilts = np.array([one.site.tilt for one in drawn])
    assert math.sqrt(np.mean(tilts**2) / 2.0) == pytest.approx(math.radians(1.0), rel=0.05)  # one degree each way
    loads = np.array([one.charge.volume for one in drawn])
    assert loads.std() / loads.mean() == pytest.approx(0.03, rel=0.05)


@pytest.mark.parametrize(
    "name", ["weekend_double_wall", "porch_open_well", "workshop_sealed_chamber", "garden_open_cup"]
)
def test_every_kind_of_burner_can_be_sampled(name):
    """Even by a clumsy hand: what is drawn can still be built."""
    setup = burnsim.load(EXAMPLES / f"{name}.toml")
    clumsy = Hand(0.5, 10e-3, 3e-3, 0.9, math.radians(20.0))
    source = np.random.default_rng(0)
    assert len({sampled(setup, source, clumsy) for _ in range(200)}) == 200


def test_too_few_samples_are_refused():
    with pytest.raises(burnsim.InputError, match="samples"):
        estimate_spill_odds(WEEKEND, 5)
