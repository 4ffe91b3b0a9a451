"""Fill limits over burns: bracketed on the model, honest about what is not monotone, and true of the burns."""

import json
import math
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from burners import burnt
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

import burnsim
from burnsim import Burner, Charge, FeedSlots, Jets, Pot, Setup, Wick, blend, find_fill_limit, find_relief, vary
from burnsim.model.balances.events import froth_level
from burnsim.solve.results.spill import MECHANISMS, Levels
from burnsim.studies.fill import limit as fill
from burnsim.studies.fill import relief, spill_runs
from burnsim.studies.fill.cold import cold_fill
from burnsim.studies.fill.limit import burning_head, burning_limit
from burnsim.studies.fill.record import Margin
from burnsim.studies.fill.relief import notched_square
from burnsim.studies.fill.spill_runs import Seen, closed, look, poor_contact
from burnsim.units import plain

WEEKEND = burnsim.load(Path(__file__).parents[3] / "examples" / "weekend_double_wall.toml")
ML = 1e-6
NONE = Margin(0.0, 0.0)
LIFTED = Levels(20e-3, 1e-3, 0.0, 15e-3, 2.5e-3, 38.5e-3, 38.5e-3, 0.0, 9e-3, 45e-3, 11e-3, 3e-3)


def kept(clearance: float, **changes: object) -> Seen:
    seen = Seen(clearance, LIFTED if clearance <= 0.0 else None, False, True, "")
    return seen._replace(**changes)


def law(rule: Callable[[Setup], Seen]) -> Callable[..., list[Seen]]:
    """A made-up law in place of burns."""
    return lambda setups, engine="auto": [rule(setup) for setup in setups]


def test_the_lowest_crossing_is_bracketed(monkeypatch):
    """On a made-up law, clearance = 38 mm (1 - V/57 ml): 57 ml spill, 3.2 mm of head are kept below 52.1 ml."""
    monkeypatch.setattr(fill, "look", law(lambda setup: kept(38e-3 * (1.0 - setup.charge.volume / (57 * ML)))))
    found = burning_limit(WEEKEND)
    head = burning_head(WEEKEND, Margin())
    assert found.spills == pytest.approx(57 * ML, abs=0.1 * ML)
    assert found.volume == pytest.approx(min(57 * ML * (1.0 - head / 38e-3), 0.9 * 57 * ML), abs=0.1 * ML)
    assert found.kept == "share"
    assert found.binding == "pressure"
    assert found.single
    assert burning_limit(WEEKEND, margin=Margin(head=6e-3, share=0.0)).volume == pytest.approx(48 * ML, abs=0.1 * ML)
    assert burning_limit(WEEKEND, margin=Margin(head=6e-3)).kept == "head"
    bare = burning_limit(WEEKEND, margin=NONE)
    assert bare.volume is not None
    assert bare.spills is not None
    assert bare.volume < 57 * ML <= bare.spills <= bare.volume + 0.1 * ML


def test_a_higher_load_that_does_not_spill_is_told(monkeypatch):
    """Spilling from 40 to 60 ml only: the lowest crossing counts, and it is said."""
    made = law(lambda setup: kept(-1e-3 if 40 * ML <= setup.charge.volume <= 60 * ML else 9e-3))
    monkeypatch.setattr(fill, "look", made)
    found = burning_limit(WEEKEND, margin=NONE)
    assert found.spills == pytest.approx(40 * ML, abs=0.1 * ML)
    assert not found.single
    assert any("lowest limit counts" in note for note in found.notes)


def test_what_cannot_be_solved_counts_as_spilling(monkeypatch):
    lost = Seen(math.nan, None, False, False, "no step is short enough")
    monkeypatch.setattr(fill, "look", law(lambda setup: lost if setup.charge.volume > 50 * ML else kept(9e-3)))
    found = burning_limit(WEEKEND, margin=NONE)
    assert found.volume == pytest.approx(50 * ML, abs=0.1 * ML)
    assert found.binding == "unsolved"
    assert any("could not be solved" in note for note in found.notes)


def test_a_burner_that_always_spills_has_no_limit(monkeypatch):
    monkeypatch.setattr(fill, "look", law(lambda _: kept(-1e-3)))
    found = find_fill_limit(WEEKEND)
    assert found.burning_vented.volume is None
    assert "even the least load" in found.burning_vented.reason
    assert found.safe is None
    json.dumps(found.to_dict(), allow_nan=False)
    assert "none" in plain(found.summary())


def test_a_spill_that_the_cold_pot_hides_is_searched_with_a_warm_one(monkeypatch):
    """Jets that the pot puts out spill nothing: so the sealed limit is looked at again with poor contact."""

    def rule(setup: Setup) -> Seen:
        flat = setup.pot is not None and setup.pot.rest == "full ring"
        warm = setup.factors.rim_contact < 1.0
        room = 45 * ML if flat and warm else 100 * ML
        return kept(30e-3 * (1.0 - setup.charge.volume / room), quenched=flat and not warm)

    monkeypatch.setattr(fill, "look", law(rule))
    found = find_fill_limit(WEEKEND, margin=NONE)
    assert found.burning_sealed.volume == pytest.approx(100 * ML, abs=0.1 * ML)
    assert found.burning_sealed_warm is not None
    assert found.burning_sealed_warm.volume == pytest.approx(45 * ML, abs=0.1 * ML)
    assert found.safe == found.burning_sealed_warm.volume
    plain = found.to_dict()
    keys = {"cold_level_ml", "cold_tilted_ml", "burning_vented_ml", "burning_sealed_ml", "binding", "safe_ml"}
    assert keys <= plain.keys()
    assert plain["burning_sealed_warm_ml"] == pytest.approx(45.0, abs=0.1)
    assert plain["burning_sealed_ml"] == plain["burning_sealed_warm_ml"]
    assert plain["burning_sealed_cold_ml"] == pytest.approx(100.0, abs=0.1)
    text = found.summary()
    assert "the lower limit of both is told" in text
    assert text.count("whole burn, well sealed") == 1
    assert "100.0 ml" not in text.splitlines()[0]


@pytest.mark.parametrize("degrees", [5.0, 12.0])
def test_the_tilt_asked_for_drives_every_limit(degrees):
    """On real burns: the same limits as of a design whose site has it, and each of a burn lower than on the level."""
    chamber = burnsim.load(Path(__file__).parents[3] / "examples" / "workshop_sealed_chamber.toml")
    tilt = math.radians(degrees)
    asked = find_fill_limit(chamber, tilt=tilt, scan=5)
    assert asked == find_fill_limit(vary(chamber, {"site.tilt": tilt}), scan=5)
    assert asked.tilt == tilt
    level = find_fill_limit(chamber, scan=5)
    assert level.tilt == 0.0
    assert asked.burning_vented.volume < level.burning_vented.volume
    assert asked.safe <= min(asked.cold_tilted.volume, asked.burning_vented.volume)


def test_a_slope_of_the_site_can_be_asked_away():
    leaning = vary(WEEKEND, {"site.tilt": "5 deg"})
    assert find_fill_limit(leaning, tilt=0.0, scan=3).setup == vary(WEEKEND, {"site.tilt": 0.0})


def test_sealed_is_the_lower_of_two_pots(monkeypatch):
    """Whichever pot lets it spill first counts; one that is lower only since it went out is proven by the other."""
    monkeypatch.setattr(fill, "look", lambda setups, engine="auto": [kept(9e-3) for _ in setups])
    found = find_fill_limit(WEEKEND)

    def sealed(cold: fill.Limit, warm: fill.Limit | None) -> fill.Limit:
        return replace(found, burning_sealed=cold, burning_sealed_warm=warm).sealed

    lower, higher = fill.Limit(45e-6, 50e-6, "pressure", ""), fill.Limit(90e-6, 99e-6, "swell", "")
    assert sealed(lower, None) is lower
    assert sealed(higher, lower) is lower
    out = replace(lower, dark="its jets go out", stayed_lit=20e-6, proven_to=18e-6)
    assert sealed(out, higher).volume == lower.volume
    assert sealed(out, higher).proven == lower.volume
    both = sealed(out, replace(higher, dark="its jets go out", proven_to=30e-6))
    assert (both.volume, both.proven) == (lower.volume, 30e-6)
    none = fill.Limit(None, 2e-6, "pressure", "")
    assert sealed(none, higher) is none
    assert sealed(higher, none) is none
    assert sealed(fill.Limit(None, None, None, "no pot"), lower) is lower


def test_what_cannot_be_sealed_says_why():
    assert "no pot" in str(closed(vary(WEEKEND, {"pot": None})))
    cup = burnsim.load(Path(__file__).parents[3] / "examples" / "garden_open_cup.toml")
    assert "no gallery" in str(closed(cup))
    top = vary(WEEKEND, {"burner.jets": Jets(20, 1e-3, direction="top"), "pot.rest": "bumps"})
    assert "closes the top jets" in str(closed(top))
    chamber = burnsim.load(Path(__file__).parents[3] / "examples" / "workshop_sealed_chamber.toml")
    assert closed(chamber) is chamber


def test_the_smallest_relief_is_bracketed(monkeypatch):
    """On a made-up law, pushed-up head = 20 mm (0.5 mm2/area)^2 over 15 mm of room, 3 mm kept: 0.645 mm2."""

    def rule(setup: Setup) -> Seen:
        notch = setup.burner.relief
        area = notch.count * notch.width * notch.depth if notch else 1e-9
        return kept(15e-3 - min(20e-3 * (0.5e-6 / area) ** 2, 16e-3))

    monkeypatch.setattr(relief, "look", law(rule))
    head = burning_head(WEEKEND, Margin())
    found = find_relief(WEEKEND, 60 * ML, width=1e-3, depth=0.3e-3)
    least = 0.5e-6 * math.sqrt(20e-3 / (15e-3 - head))
    assert found.area is not None
    assert least <= found.area <= 1.021 * least
    assert found.notches == math.ceil(least / 0.3e-6)
    assert found.single
    assert MECHANISMS["pressure"] in plain(found.reason)
    assert "of 1 mm x 0.3 mm" in plain(found.summary())


def test_no_relief_needed_and_none_that_helps(monkeypatch):
    monkeypatch.setattr(relief, "look", lambda setups, engine="auto": [kept(30e-3) for _ in setups])
    assert find_relief(WEEKEND).area == 0.0
    monkeypatch.setattr(relief, "look", lambda setups, engine="auto": [kept(-1e-3) for _ in setups])
    found = find_relief(WEEKEND)
    assert found.area is None
    assert "do not help" in plain(found.reason)
    assert find_relief(vary(WEEKEND, {"pot": None})).area is None


def test_what_never_lights_under_a_flat_pot_has_no_sealed_limit(monkeypatch):
    made = law(lambda setup: kept(20e-3, lit=setup.pot is not None and setup.pot.rest != "full ring"))
    monkeypatch.setattr(fill, "look", made)
    monkeypatch.setattr(relief, "look", made)
    found = find_fill_limit(WEEKEND)
    assert found.burning_sealed.volume is None
    assert "never lights under a pot flat on the rim" in found.burning_sealed.reason
    assert found.safe == min(found.cold_level.volume, found.burning_vented.volume)
    asked = find_relief(WEEKEND)
    assert asked.area is None
    assert "never lights" in asked.reason


def test_notches_of_an_area():
    for area in (0.03e-6, 0.2e-6, 4e-6):
        notch = notched_square(WEEKEND, area).burner.relief
        assert notch is not None
        assert notch.count * notch.width * notch.depth == pytest.approx(area)
    assert notched_square(WEEKEND, 0.0).burner.relief is None


def test_less_relief_leaves_less_clearance():
    """The same load under a flat pot that hardly cools the rim, with ever smaller notches, down to none."""
    shut = closed(vary(WEEKEND, {"charge.volume": 45 * ML}))
    assert not isinstance(shut, str)
    areas = (2e-6, 0.5e-6, 0.25e-6, 0.0)
    found = look([notched_square(poor_contact(shut), area) for area in areas])
    assert all(one.stayed_lit for one in found)  # more than this puts its jets out before the well is under pressure
    seen = [one.clearance for one in found]
    assert seen == sorted(seen, reverse=True)
    assert len({round(clearance * 1e3, 2) for clearance in seen[:3]}) == 3
    assert seen[0] > seen[-1] + 5e-3


def test_a_narrower_gallery_swells_more():
    """The same jets and load over 1.5 mm and 6 mm of gallery: its froth rises by a greater share."""

    def share(gap: float) -> float:
        run = burnt(vary(WEEKEND, {"burner.gallery_gap": gap, "charge.volume": 30 * ML}))
        swells = []
        for time in run.time.tolist():
            flows = run.flows(time)
            if flows.gallery.level > 3e-3:
                swells.append(froth_level(flows, run.parameters) / flows.gallery.level - 1.0)
        return max(swells)

    narrow, wide = share(1.5e-3), share(6e-3)
    assert narrow > 1.5 * wide > 0.0


def test_smaller_jets_raise_the_chamber_pressure_by_the_square_of_their_area():
    """p A^2/m^2 T stays within a sixth while the area falls by half: what is left is viscosity's and density's."""

    def resistance(diameter: float) -> tuple[float, float]:
        run = burnt(vary(WEEKEND, {"burner.jets.diameter": diameter}))
        pressures = run.series("gallery_pressure")
        gas = run.flows(float(run.time[int(pressures.argmax())])).gas
        flow = gas.jet_flow * gas.jet_mass
        return float(pressures.max()), gas.gallery_pressure * diameter**4 / (flow**2 * gas.jet_temperature)

    wide, narrow = resistance(1.0e-3), resistance(0.7e-3)
    assert narrow[0] > 2.0 * wide[0]
    assert narrow[1] == pytest.approx(wide[1], rel=1.0 / 6.0)


def random_design(draw: st.DrawFn, kind: str) -> Setup:
    height = draw(st.floats(25e-3, 50e-3))
    place = draw(st.floats(0.55, 0.85)) * height
    jets = Jets(draw(st.integers(12, 30)), draw(st.floats(0.7e-3, 1.3e-3)), place)
    wick = Wick(height=0.25 * height, thickness=2e-3)
    wide = draw(st.floats(45e-3, 80e-3))
    if kind == "sealed chamber":
        burner = Burner("sealed chamber", wide, height, 0.2e-3, jets=jets, wick=wick)
    else:
        gap = draw(st.floats(2.0e-3, 7e-3))
        burner = Burner(
            "double wall", wide, height, 0.15e-3, gallery_gap=gap, jets=jets, feed_slots=FeedSlots(), wick=wick
        )
    pot = Pot(0.14, 0.09, 0.4e-3, rest="bumps", gap=draw(st.floats(1e-3, 3e-3)))
    fuel = draw(st.sampled_from(("methanol", "ethanol", "2-propanol")))
    return Setup(burner, Charge(blend(fuel), 10 * ML, 3 * ML), pot)


@pytest.mark.parametrize("kind", ["sealed chamber", "double wall"])
@settings(max_examples=12, database=None, phases=(Phase.generate,), suppress_health_check=list(HealthCheck))
@given(data=st.data())
def test_below_the_limit_never_spills_and_above_it_does(kind, data):
    """Fresh random designs with their whole burns: dry below the limit without a margin; 5 % above it some leaves.

    Where the jets stay dark from some load on, what is promised ends there.
    """
    setup = data.draw(st.composite(random_design)(kind))
    limit = burning_limit(setup, margin=NONE, scan=4, tolerance=0.02 * cold_fill(setup, 0.0).volume, engine="compiled")
    assert limit.proven is not None
    shares = (data.draw(st.floats(0.3, 0.99)), 0.999) if limit.dark else (data.draw(st.floats(0.3, 0.99)), 0.999, 1.05)
    loads = [share * limit.proven for share in shares]
    runs = burnsim.burn_many([vary(setup, {"charge.volume": load}) for load in loads], engine="compiled")
    for run in runs:
        assert isinstance(run, burnsim.Outcome)
        assert abs(run.mass.residual) < 1e-6
        assert abs(run.energy.residual) < 1e-6
    assert [run.milestones.spill.time is not None for run in runs] == [False, False, True][: len(runs)]
    assert [run.mass.spilled > 0.0 for run in runs] == [False, False, True][: len(runs)]


def test_a_load_whose_jets_stay_dark_proves_nothing_of_a_smaller_one():
    """Its primer warms it too little to swell: what is proven ends where the jets still light."""
    burner = Burner(
        "sealed chamber", 53.1e-3, 23.5e-3, 0.2e-3, jets=Jets(32, 0.71e-3, 14.9e-3), wick=Wick(9.9e-3, 2e-3)
    )
    pot = Pot(0.14, 0.09, 0.4e-3, rest="bumps", gap=5.6e-3)
    setup = Setup(burner, Charge(blend("ethanol"), 10 * ML, 1.7 * ML), pot)
    limit = burning_limit(setup, margin=NONE, scan=4, tolerance=0.02 * cold_fill(setup, 0.0).volume, engine="compiled")
    assert limit.dark == "its jets never light"
    assert limit.volume is not None
    assert limit.proven is not None
    assert limit.proven < 0.9 * limit.volume
    loads = (0.999 * limit.proven, limit.volume)
    runs = burnsim.burn_many([vary(setup, {"charge.volume": load}) for load in loads], engine="compiled")
    lit = [run.milestones.bloom.time is not None for run in runs if isinstance(run, burnsim.Outcome)]
    assert lit == [True, False]


def test_failed_burns_are_seen_as_such():
    seen = spill_runs._seen(burnsim.Failure(WEEKEND, "no step is short enough"))
    assert math.isnan(seen.clearance)
    assert not spill_runs.safe(seen, 0.0)
    assert not spill_runs.safe(seen, 3e-3)


@pytest.mark.parametrize(
    "find", [find_fill_limit, burnsim.find_relief, burnsim.fill.map_spills, burnsim.fill.make_pour_card]
)
def test_a_bare_share_is_no_margin(find):
    with pytest.raises(burnsim.InputError, match=r"margin = 0.1 is not a Margin: give burnsim.fill.Margin"):
        find(WEEKEND, margin=0.1)
