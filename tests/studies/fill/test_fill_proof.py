"""What burns prove: a burner that went out, or never lit, has shown nothing of its load."""

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

import burnsim
from burnsim import find_fill_limit, find_relief, vary
from burnsim.report.fill import no_limit, own_load, pour_words, row_words, rows
from burnsim.solve.results.spill import MECHANISMS
from burnsim.studies.fill import limit as fill
from burnsim.studies.fill import margins, relief
from burnsim.studies.fill.limit import burning_limit
from burnsim.studies.fill.record import Limit, Margin
from burnsim.studies.fill.spill_runs import Proof, Seen, look, proof, turn
from burnsim.units import plain, written
from tests.burners import burnt

EXAMPLES = Path(__file__).parents[3] / "examples"
WEEKEND = burnsim.load(EXAMPLES / "weekend_double_wall.toml")
ML = 1e-6
LIT = Seen(20e-3, None, False, True, "")
OUT = LIT._replace(quenched=True)
UNLIT = LIT._replace(lit=False)
DARK = LIT._replace(bloomed=False)


def seen(load: float, room: float, out_above: float) -> Seen:
    """A made-up law: 38 mm of clearance fall to none at `room`; above `out_above` the jets go out."""
    return Seen(38e-3 * (1.0 - load / room), None, load > out_above, True, "")


def law(room: float, out_above: float):
    return lambda setups, engine="auto": [seen(setup.charge.volume, room, out_above) for setup in setups]


@pytest.mark.parametrize(
    ("one", "fate"),
    [(LIT, ""), (OUT, "its jets go out"), (DARK, "its jets never light"), (UNLIT, "it never lights")],
)
def test_what_befell_a_burn(one, fate):
    assert one.fate == fate
    assert one.stayed_lit == (fate == "")
    assert not LIT._replace(reason="no step is short enough", clearance=math.nan).stayed_lit


def test_a_spirit_that_has_boiled_off_its_water_proves_its_load():
    """Every burn of a watery spirit ends on its water; that shows no less of the load than an empty burner."""
    [watery] = look([vary(WEEKEND, {"charge.fuel": "2-propanol 70"})])
    assert watery.stayed_lit
    assert watery.clearance > 0.0


def test_the_largest_load_that_stayed_lit():
    burns = {1.0: UNLIT, 2.0: LIT, 3.0: LIT._replace(clearance=2e-3), 4.0: DARK, 5.0: OUT, 6.0: LIT}
    assert proof(burns, 5.0, 3e-3) == Proof(3.0, 2.0, "its jets never light", 4.0)
    assert proof(burns, 5.0, 0.0) == Proof(3.0, 3.0, "its jets never light", 4.0)
    assert proof(burns, 6.0, 3e-3) == Proof(6.0, 6.0, "")
    assert proof(burns, 1.0, 3e-3) == Proof(None, None, "it never lights", 1.0)
    assert proof(burns, None, 3e-3) == Proof(None, None, "")


def test_no_load_is_proven_from_the_least_on_that_exceeds_the_pressure():
    over = LIT._replace(pressed=True)
    told = "its pressure exceeds the stated limit"
    assert proof({1.0: LIT, 2.0: LIT, 3.0: over, 4.0: LIT, 5.0: OUT}, 5.0, 3e-3) == Proof(2.0, 2.0, told, 3.0)
    assert proof({1.0: over._replace(quenched=True), 2.0: LIT}, 2.0, 3e-3) == Proof(None, None, told, 1.0)
    assert proof({1.0: LIT, 2.0: OUT, 3.0: over}, 3.0, 3e-3) == Proof(1.0, 1.0, "its jets go out", 2.0)


def test_a_burn_that_all_but_spills_proves_nothing_of_loads_that_went_out():
    """Nearer to the jets than the head, it shows no load that keeps the head; those below went out."""
    near = LIT._replace(clearance=1e-3)
    assert proof({1.0: LIT, 2.0: OUT, 3.0: near}, 3.0, 3e-3) == Proof(1.0, 1.0, "its jets go out", 2.0)
    assert proof({1.0: OUT, 2.0: near}, 2.0, 3e-3) == Proof(None, None, "its jets go out", 1.0)
    assert proof({1.0: LIT, 2.0: near, 3.0: OUT, 4.0: near}, 4.0, 3e-3) == Proof(2.0, 1.0, "its jets go out", 3.0)


def test_a_pot_that_puts_jets_out_hides_no_limit_of_the_design_itself(monkeypatch):
    """Flat on a plain rim, the design is the burner with its well sealed: one limit, told once.

    The cold pot puts the jets out above 50 ml; one that hardly cools the rim does not, and shows all up to the spill.
    """

    def cooled(setups, engine="auto"):
        return [
            seen(setup.charge.volume, 100 * ML, 50 * ML if setup.factors.rim_contact >= 1.0 else math.inf)
            for setup in setups
        ]

    monkeypatch.setattr(fill, "look", cooled)
    found = find_fill_limit(vary(WEEKEND, {"pot.rest": "full ring"}))
    assert found.burning_vented.proven == found.sealed.proven == pytest.approx(90 * ML, abs=0.2 * ML)
    assert "burning_sealed" not in rows(found)
    assert "the cold pot puts the jets out" in found.summary()
    monkeypatch.setattr(fill, "look", lambda setups, engine="auto": [OUT for _ in setups])
    assert find_fill_limit(vary(WEEKEND, {"pot.rest": "full ring"})).safe is None


def test_a_steeper_stand_holds_less_under_a_flat_pot():
    """Whole burns of 24 jets in a taller cup, the pot flat on its rim: it goes out at most loads as it is."""
    cup = {"burner.height": "50 mm", "burner.jets.height": "42 mm", "charge.fuel": "ethanol 95"}
    setup = vary(WEEKEND, {**cup, "pot.rest": "full ring"})
    safe = [find_fill_limit(setup, tilt=f"{tilt} deg", engine="compiled").safe for tilt in (0, 5, 10)]
    assert safe[0] > safe[1] > safe[2] > 0.0


def test_loads_that_stay_lit_beside_the_spill_alone_change_nothing(monkeypatch):
    """Its jets go out from 50 ml on; whether they light again just below the spill, the same load is safe."""
    told = []
    for again in (98 * ML, math.inf):
        monkeypatch.setattr(
            fill,
            "look",
            lambda setups, engine="auto", again=again: [
                seen(load, 100 * ML, 50 * ML)._replace(quenched=50 * ML < load < again)
                for load in (setup.charge.volume for setup in setups)
            ],
        )
        told.append(find_fill_limit(vary(WEEKEND, {"pot": None, "charge.volume": 10 * ML})).safe)
    assert told[0] == told[1]
    assert 44 * ML < told[0] <= 45 * ML


def test_a_chamber_above_its_pressure_limit_has_no_safe_load():
    """Eight narrow jets, whose burn warns of the pressure: no load may be told as safe to pour."""
    chamber = vary(
        EXAMPLES / "workshop_sealed_chamber.toml", {"burner.jets.diameter": "0.35 mm", "burner.jets.count": 8}
    )
    assert "pressure" in [verdict.code for verdict in burnt(chamber).verdicts]
    found = find_fill_limit(chamber, scan=5)
    assert found.safe is None
    assert "pressure exceeds the stated limit" in plain(found.summary().splitlines()[0])


def test_a_map_calls_no_load_safe_above_those_that_stayed_lit(monkeypatch):
    """It spills from 100 ml with any relief, but its jets go out above 50 ml: what is told as safe stays below."""
    for module in (margins, fill):
        monkeypatch.setattr(module, "look", law(100 * ML, 50 * ML))
    found = margins.map_spills(WEEKEND, areas=(0.0, 1e-6))
    assert found.dark.any()
    assert found.spills == pytest.approx([100 * ML] * 2, abs=0.2 * ML)
    assert np.all((found.keeps > 30 * ML) & (found.keeps <= 0.9 * 50 * ML))


def test_a_turn_is_the_worst_one():
    rooms = {1.0: 20e-3, 2.0: 10e-3, 3.0: 12e-3, 4.0: 18e-3, 5.0: 9e-3, 6.0: -1e-3, 7.0: math.nan, 8.0: math.inf}
    found = turn({load: LIT._replace(clearance=room) for load, room in rooms.items()})
    assert found is not None
    smaller, nearer, larger, farther = (part.value for part in found.parts)
    assert (smaller, larger) == (2.0, 4.0)
    assert (nearer, farther) == (10e-3, 18e-3)
    falling = {load: LIT._replace(clearance=20e-3 - 1e-3 * load) for load in rooms}
    assert turn(falling) is None
    assert turn({}) is None


def test_nothing_is_proven_above_what_stayed_lit(monkeypatch):
    """It spills from 100 ml, but its jets go out above 50 ml: the largest lit load of the scan, less a tenth."""
    monkeypatch.setattr(fill, "look", law(100 * ML, 50 * ML))
    found = find_fill_limit(vary(WEEKEND, {"pot": None}))
    limit = found.burning_vented
    assert limit.volume == pytest.approx(90 * ML, abs=0.2 * ML)
    assert limit.stayed_lit is not None
    assert 44 * ML < limit.stayed_lit <= 50 * ML
    assert limit.proven == pytest.approx(0.9 * limit.stayed_lit)
    assert limit.dark == "its jets go out"
    assert found.safe == limit.proven
    plain = found.to_dict()
    assert plain["stayed_lit_ml"]["burning_vented"] == pytest.approx(limit.stayed_lit / ML)
    assert plain["proven_ml"]["burning_vented"] == plain["safe_ml"] == pytest.approx(limit.proven / ML)
    assert plain["unproven"] == {"burning_vented": "its jets go out"}
    first, *table = found.summary().splitlines()
    most, ounces = (written(limit.proven, "volume", units, toward=-1) for units in ("si", "us"))
    assert f"pour at most {most} ({ounces}) of methanol without a pot on a level stand, because" in first
    assert f"its jets go out above {written(limit.stayed_lit, 'volume', toward=-1)}, before it can spill" in first
    row = next(line for line in table if "whole burn, as designed" in line)
    assert most in row
    assert "nothing is known of more" in row
    assert f"pour at most {ounces} ({most}) of" in found.summary("us")


def test_the_margin_of_head_counts_for_lit_burns_only(monkeypatch):
    """30 mm are kept below 21 ml; no share is asked for, so burns that went out far above do not matter."""
    monkeypatch.setattr(fill, "look", law(100 * ML, 50 * ML))
    found = burning_limit(WEEKEND, margin=Margin(30e-3, 0.0))
    assert found.volume == pytest.approx(100 * ML * 8.0 / 38.0, abs=0.2 * ML)
    assert found.dark == ""
    assert found.proven == found.volume


def test_a_burner_that_stays_lit_is_proven(monkeypatch):
    monkeypatch.setattr(fill, "look", law(100 * ML, 1.0))
    found = burning_limit(WEEKEND)
    assert found.dark == ""
    assert found.proven == found.volume
    assert found.monotone
    assert found.stayed_lit == pytest.approx(100 * ML, abs=0.2 * ML)


def test_one_that_never_lights_has_no_safe_load(monkeypatch):
    monkeypatch.setattr(fill, "look", lambda setups, engine="auto": [UNLIT for _ in setups])
    found = find_fill_limit(vary(WEEKEND, {"pot": None}))
    assert found.burning_vented.proven is None
    assert found.safe is None
    assert "no load of methanol without a pot on a level stand is known to be safe" in plain(found.summary())
    assert "because it never lights, whatever load was looked at" in plain(found.summary())


def test_a_scan_that_turns_back_is_told(monkeypatch):
    """36 ml stay 8 mm below the jets and 60 ml 16 mm, though none of them spills."""

    def back(setups, engine="auto"):
        loads = [setup.charge.volume / ML for setup in setups]
        return [LIT._replace(clearance=(26e-3 if load > 40 else 30e-3) - 0.2e-3 * load) for load in loads]

    monkeypatch.setattr(fill, "look", back)
    assert burning_limit(WEEKEND).monotone
    monkeypatch.setattr(
        fill,
        "look",
        lambda setups, engine="auto": [
            LIT._replace(clearance=8e-3 if setup.charge.volume < 40 * ML else 16e-3) for setup in setups
        ],
    )
    found = burning_limit(WEEKEND)
    assert not found.monotone
    assert any("8.0 mm below the jets" in plain(note) and "16.0 mm" in plain(note) for note in found.notes)


def test_relief_is_not_known_for_a_load_that_goes_out(monkeypatch):
    monkeypatch.setattr(relief, "look", lambda setups, engine="auto": [OUT for _ in setups])
    found = find_relief(WEEKEND, 60 * ML)
    assert found.area is None
    assert found.notches is None
    assert found.dark == "its jets go out"
    assert plain(found.summary()).startswith("not known: its jets go out")


def test_relief_with_which_it_stays_lit(monkeypatch):
    """It never spills, but goes out with less than 1 mm2 of notches: that much is known to do."""

    def choked(setups, engine="auto"):
        notches = [setup.burner.relief for setup in setups]
        return [LIT if notch and notch.count * notch.width * notch.depth >= 1e-6 else OUT for notch in notches]

    monkeypatch.setattr(relief, "look", choked)
    found = find_relief(WEEKEND, 60 * ML)
    assert found.area is not None
    assert 1e-6 <= found.area <= 1.021e-6
    assert "nothing is proven" in plain(found.reason)


def test_the_map_marks_what_went_out(monkeypatch):
    monkeypatch.setattr(margins, "look", law(100 * ML, 50 * ML))
    monkeypatch.setattr(fill, "look", law(100 * ML, 50 * ML))
    found = burnsim.fill.map_spills(WEEKEND, [20 * ML, 60 * ML, 110 * ML], (0.0, 1e-6))
    assert found.dark is not None
    assert found.dark.tolist() == [[False, True, False]] * 2


@pytest.mark.parametrize("temperature", ["0 degC", "20 degC"])
def test_the_proven_load_burns_to_its_end(temperature):
    """On real burns: the load that stayed lit did, and a limit is called unproven just where its own burn went out."""
    setup = vary(WEEKEND, {"site.air_temperature": temperature, "pot.water_temperature": temperature})
    limit = burning_limit(setup, margin=Margin(0.0, 0.0), scan=5, tolerance=10 * ML)
    assert limit.volume is not None
    assert limit.stayed_lit is not None
    top, proven = look([vary(setup, {"charge.volume": load}) for load in (limit.volume, limit.stayed_lit)])
    assert proven.stayed_lit
    assert proven.clearance > 0.0
    assert top.stayed_lit == (limit.dark == "")
    assert limit.proven == (limit.stayed_lit if limit.dark else limit.volume)


@pytest.mark.parametrize("units", ["si", "us"])
def test_taking_off_what_is_told_leaves_no_more_than_is_safe(units):
    """Both figures as told, not as they are: one is rounded down, so the other must be rounded up."""
    limits = find_fill_limit(vary(WEEKEND, {"pot": None}), engine="compiled", scan=3)
    safe = limits.safe
    for load in (100e-6, 100.04e-6, 99.96e-6):
        over = replace(limits, setup=vary(limits.setup, {"charge.volume": load}))
        told_load, told_more = (float(part.split()[0]) for part in plain(own_load(over, units))[17:].split(": "))
        most = float(plain(written(safe, "volume", units, toward=-1)).split()[0])
        assert told_load - told_more <= most + 1e-9
        assert most + told_more - told_load < (0.11 if units == "si" else 0.011)


def test_the_own_load_of_the_design_counts_for_what_it_proves(monkeypatch):
    """Its jets go out above 50 ml: found to half a millilitre, and nearer where the design's own load is."""
    monkeypatch.setattr(fill, "look", law(100 * ML, 50 * ML))
    scanned = burning_limit(vary(WEEKEND, {"pot": None, "charge.volume": 10 * ML})).stayed_lit
    assert 49.5 * ML < scanned < 49.99 * ML
    assert 49.99 * ML <= burning_limit(vary(WEEKEND, {"pot": None, "charge.volume": 49.99 * ML})).stayed_lit <= 50 * ML
    assert burning_limit(vary(WEEKEND, {"pot": None, "charge.volume": 60 * ML})).stayed_lit == scanned


def test_a_load_above_the_safe_one_is_told(monkeypatch):
    monkeypatch.setattr(fill, "look", law(100 * ML, 50 * ML))
    for load, told in ((30e-6, False), (47e-6, True)):
        found = find_fill_limit(vary(WEEKEND, {"pot": None, "charge.volume": load}))
        assert found.safe < 47e-6
        assert (f"The design loads {written(load, 'volume')}" in found.summary()) is told


def test_what_does_not_apply_is_not_called_none():
    found = find_relief(burnsim.load(Path(__file__).parents[3] / "examples" / "garden_open_cup.toml"))
    assert not found.applies
    assert plain(found.summary()).startswith("does not apply: an open cup")
    assert no_limit(Limit(None, None, None, "an open cup has no gallery")) == "does not apply"
    assert no_limit(Limit(None, None, None, fill.DARK)) == "not known"
    assert no_limit(Limit(None, 1e-6, "swell", "it froths over")) == "none"


def test_the_answer_stands_on_the_limit_that_decides(monkeypatch):
    """No row of the table tells a load of which another line says that nothing is known."""
    monkeypatch.setattr(fill, "look", law(100 * ML, 50 * ML))
    found = find_fill_limit(vary(WEEKEND, {"pot": None}))
    dark = replace(found, burning_sealed=Limit(None, None, None, fill.DARK))
    assert pour_words(dark, "si").endswith("; not with the pot flat on the rim, where nothing is known")
    lit = replace(found, burning_vented=replace(found.burning_vented, dark="", proven_to=None))
    assert lit.safe == found.burning_vented.volume
    swells = f"in the burn {MECHANISMS['swell']}"
    whys = {"swell": swells, "overfill": "more fills it above the edge", "tilt": MECHANISMS["tilt"]}
    for binding, why in whys.items():
        first = replace(lit.burning_vented, binding=binding, reason=MECHANISMS[binding])
        assert pour_words(replace(lit, burning_vented=first), "si").endswith(f", because {why}")
    cold = replace(found, burning_vented=replace(found.burning_vented, dark="it never lights", proven_to=None))
    assert "in the burn it never lights" not in pour_words(cold, "si")
    for one in (found, dark, lit):
        for limit in rows(one).values():
            load, _ = row_words(limit, "si")
            assert load == limit.proven
            assert load is None or one.safe <= load
        lines = one.summary().splitlines()
        assert len(set(filter(None, lines))) == len(list(filter(None, lines)))
