"""Steps and cliffs by a stand-in for burning, whose cliffs are known exactly; signs of a real one."""

import math

import pytest

import burnsim
from burnsim import InputError
from burnsim.report.designs.levers import step_text
from burnsim.studies.levers.levers import OBJECTIVES
from burnsim.studies.levers.steps import FINE, ladders, stretches
from burnsim.units import parse, plain
from tests.studies.stand_in import design, engine

BASE = burnsim.vary(design(), {"pot.rest": "bumps", "pot.gap": "1.5 mm"})
QUENCH = 0.831e-3  # diameter of the jets below which the stand-in's jets go out
LEAST = 21


def rule(setup: burnsim.Setup) -> dict[str, object]:
    """Boils sooner with more and wider jets; quenches below a diameter; never blooms with few jets."""
    jets = setup.burner.jets
    assert jets is not None
    if jets.count < LEAST:
        return {"bloom": None, "boil": None, "codes": ["never blooms", "no boil"]}
    if jets.diameter < QUENCH:
        return {"boil": None, "codes": ["quenched", "no boil"]}
    power = jets.count * jets.diameter**2 / (26 * 1e-6) * setup.factors.flame_to_pot
    return {"boil": 600.0 / power, "fuel": 0.02 * math.sqrt(power)}


class Counted:
    """An engine that counts what it burns."""

    def __init__(self) -> None:
        self.burns = 0
        self.seen: list[burnsim.Setup] = []

    def __call__(self, setups, water_at=()):
        self.burns += len(setups)
        self.seen += setups
        return engine(rule)(setups, water_at)


def test_a_cliff_is_where_it_says() -> None:
    found = burnsim.find_levers(BASE, n=8, engine=Counted())
    by = {(one.path, one.name): one for one in found.cliffs}
    quench = by["burner.jets.diameter", "quench"]
    assert not quench.fallen
    assert quench.far < QUENCH <= quench.near
    assert quench.near - quench.far <= 0.75e-3 * FINE * 1.01
    assert quench.share == pytest.approx(0.169, abs=0.006)
    bloom = by["burner.jets.count", "no bloom"]
    assert (bloom.near, bloom.far) == (LEAST, LEAST - 1)
    assert not any(one.name in ("spill", "lift-off") for one in found.cliffs)


def test_a_design_that_fails_is_told_the_nearest_drill_that_mends_it() -> None:
    bad = burnsim.vary(BASE, {"burner.jets.diameter": "0.7 mm"})
    found = burnsim.find_levers(bad, n=8, drills=["0.6 mm", "0.7 mm", "0.75 mm", "0.9 mm", "1.2 mm"], engine=Counted())
    assert (found.works, found.risks["quench"]) == (0.0, 1.0)
    assert found.advice[0].path == "burner.jets.diameter"
    assert found.advice[0].value == pytest.approx(0.9e-3)
    assert found.advice[0].works == 1.0
    assert set(found.advice[0].lost) == {"quenched", "no boil"}
    assert "works in 100 % instead of 0 %" in plain(found.summary())
    [edge] = [one for one in found.cliffs if one.fallen and one.name == "quench"]
    assert edge.near < QUENCH <= edge.far


def test_a_chamber_above_its_pressure_limit_does_not_work_however_soon_it_boils() -> None:
    """Its chamber is above its limit below a diameter of the jets: more jets boil sooner, and mend nothing."""

    def pressed(setup: burnsim.Setup) -> dict[str, object]:
        return rule(setup) | {"codes": ["pressure"] if setup.burner.jets.diameter < 0.9e-3 else []}

    found = burnsim.find_levers(burnsim.vary(BASE, {"burner.jets.diameter": "0.85 mm"}), n=8, engine=engine(pressed))
    assert (found.works, found.risks["over-pressure"]) == (0.0, 1.0)
    assert {one.path for one in found.advice} == {"burner.jets.diameter"}
    assert all("pressure" in one.lost for one in found.advice)
    assert any(one.name == "over-pressure" and one.fallen for one in found.cliffs)


@pytest.mark.parametrize("code", ["smothered", "flames past the pot"])
def test_no_step_is_told_that_takes_the_air_from_the_flames(code: str) -> None:
    """A wider gap boils sooner here, and from 1.7 mm on flames lack air: they make carbon monoxide."""

    def starved(setup: burnsim.Setup) -> dict[str, object]:
        found, gap = rule(setup), setup.pot.gap
        return found | {"boil": found["boil"] and found["boil"] * 1.5e-3 / gap, "codes": [code] if gap > 1.7e-3 else []}

    found = burnsim.find_levers(BASE, n=8, engine=engine(starved))
    assert found.works == 1.0
    [wider] = [one for one in found.steps if one.path == "pot.gap" and one.value > one.now]
    assert (wider.works, wider.gained) == (0.0, (code,))
    assert wider.gain("boil") > 0.0
    assert all(one.path != "pot.gap" for one in found.advice)
    [edge] = [one for one in found.cliffs if one.name == "lack of air"]
    assert edge.near <= 1.7e-3 < edge.far
    over = burnsim.find_levers(burnsim.vary(BASE, {"pot.gap": "2 mm"}), n=8, engine=engine(starved))
    assert (over.works, over.risks["lack of air"]) == (0.0, 1.0)


@pytest.mark.parametrize("code", ["flare", "primer runs off"])
def test_no_step_is_told_that_brings_fire_where_none_is_wanted(code: str) -> None:
    """More primer boils sooner here, and from half a millilitre more on it runs off, or flares."""
    held = BASE.charge.primer

    def primed(setup: burnsim.Setup) -> dict[str, object]:
        found, more = rule(setup), setup.charge.primer - held
        sooner = found["boil"] and found["boil"] - 1e7 * more
        return found | {"boil": sooner, "codes": [*found.get("codes", []), *([code] if more > 0.2e-6 else [])]}

    found = burnsim.find_levers(BASE, n=8, engine=engine(primed))
    [more] = [one for one in found.steps if one.path == "charge.primer" and one.value > one.now]
    assert (more.works, more.gained) == (1.0, (code,))
    assert more.gain("boil") > 0.0
    assert all(one.path != "charge.primer" for one in found.advice)


def test_no_step_feeds_a_fire_that_is_there() -> None:
    """The primer runs off already: no more of it, and no smaller wick, however much sooner that boils."""
    held = BASE.charge.primer

    def primed(setup: burnsim.Setup) -> dict[str, object]:
        found, more = rule(setup), setup.charge.primer - held
        thicker = setup.burner.wick.thickness - BASE.burner.wick.thickness
        sooner = found["boil"] and found["boil"] - 1e7 * more + 1e4 * thicker
        return found | {"boil": sooner, "codes": [*found.get("codes", []), "primer runs off"]}

    found = burnsim.find_levers(BASE, n=8, engine=engine(primed))
    [more] = [one for one in found.steps if one.path == "charge.primer" and one.value > one.now]
    assert more.gained == ()
    assert more.gain("boil") > 0.0
    assert all(one.path != "charge.primer" and not one.path.startswith("burner.wick.") for one in found.advice)


def test_a_way_out_that_flares_is_told_apart() -> None:
    """A stand mends the design here, and a flare comes with it: it is no advice, but the reader learns of it."""

    def standing(setup: burnsim.Setup) -> dict[str, object]:
        return rule(setup) | (
            {"codes": ["flare"]} if setup.pot.rest == "stand" else {"boil": None, "codes": ["no boil"]}
        )

    found = burnsim.find_levers(BASE, n=8, engine=engine(standing))
    assert all(one.path != "pot.rest" for one in found.advice)
    assert [(one.path, one.value) for one in found.fiery] == [("pot.rest", "stand")]
    told = plain(found.summary())
    assert "brings fire where none is wanted: prime with less" in told
    assert "pot.rest bumps \N{RIGHTWARDS ARROW} stand: works in 100 % instead of 0 %, 'flare' comes" in told


def test_a_step_that_works_more_often_and_lets_primer_run_off_is_told_apart() -> None:
    """A lower wick mends half of the draws and holds less: no advice, though the design itself fails in none."""

    def lower(setup: burnsim.Setup) -> dict[str, object]:
        less = setup.burner.wick.height < BASE.burner.wick.height
        out = not less and setup.factors.quench_flow > 1.0
        return rule(setup) | {"codes": ["primer runs off"] * less + ["quenched", "no boil"] * out}

    found = burnsim.find_levers(BASE, n=16, engine=engine(lower))
    assert not found.own.verdicts
    assert 0.2 < found.works < 0.8
    assert all(one.path != "burner.wick.height" for one in found.advice)
    assert [(one.path, one.works) for one in found.fiery] == [("burner.wick.height", 1.0)]


def test_sheets_are_sought_from_half_to_twice_as_all_fields() -> None:
    [wall] = [one for one in ladders(BASE, None, None) if one.path == "burner.wall_thickness"]
    assert all(0.5 - 1e-9 <= value / wall.now <= 2.0 + 1e-9 for value in (*wall.lower, *wall.higher))


def test_cliffs_of_the_jets_are_sought_from_a_quarter_to_four_times() -> None:
    def far(setup: burnsim.Setup) -> dict[str, object]:
        jets = setup.burner.jets
        return {"codes": ["spills"] if jets.count > 70 else ["light-back"] if jets.diameter > 2.7e-3 else []}

    found = burnsim.find_levers(BASE, n=8, engine=engine(far))
    by = {(one.path, one.name): (one.near, one.far) for one in found.cliffs}
    assert by["burner.jets.count", "spill"] == (70, 71)
    assert by["burner.jets.diameter", "light-back"] == pytest.approx((2.7e-3, 2.7e-3), abs=3e-3 * FINE * 1.01)
    assert "jets from a quarter to four times" in plain(found.summary())


def test_a_field_that_can_be_no_less_is_followed_to_its_end() -> None:
    """From 0.3 mm to the least jet of 0.1 mm, 0.3 - (0.3 - 0.1) is a little less than that."""
    fine = burnsim.vary(BASE, {"burner.jets.diameter": "0.3 mm"})
    side = next(one for one in stretches(ladders(fine, None, None)) if one.end == 1e-4)
    assert 0.3e-3 + 1.0 * (1e-4 - 0.3e-3) < 1e-4
    assert side.value(1.0) == 1e-4
    assert burnsim.find_levers(fine, n=8, engine=Counted()).steps


def test_jets_in_rows_are_followed_row_by_row() -> None:
    """Two rows of twelve: between 24 and 6 lies no odd number of jets, in the steps or on the way to a cliff."""
    rows = burnsim.vary(BASE, {"burner.jets": {"count": 24, "diameter": "1 mm", "height": "34 mm", "rows": 2}})
    asked = Counted()
    found = burnsim.find_levers(rows, n=8, engine=asked)
    cliff = next(one for one in found.cliffs if (one.path, one.name) == ("burner.jets.count", "no bloom"))
    assert (cliff.near, cliff.far) == (22.0, 20.0)  # it takes 21
    assert all(one.value % 2 == 0 for one in found.steps if one.path == "burner.jets.count")


def test_steps_from_a_metric_size_land_on_the_rule() -> None:
    """A wick of 12 mm is no step of an inch rule: the next marks are, and they are told as fractions."""
    setup = burnsim.vary(BASE, {"burner.wick.height": "12 mm", "burner.jets.diameter": "#60 drill"})
    found = burnsim.find_levers(setup, n=8, units="us", engine=Counted())
    marks = [one.value * 32.0 / 25.4e-3 for one in found.steps if one.path == "burner.wick.height"]
    assert marks == pytest.approx([round(mark) for mark in marks], abs=1e-6)
    assert marks
    told = {plain(step_text(one, "us")) for one in found.steps}
    assert {"burner.wick.height 0.472 → 7/16 in", "burner.wick.height 0.472 → 1/2 in"} <= told
    assert "burner.jets.diameter #60 → #58, 0.042 in" in told


def test_steps_in_us_units_are_those_of_a_us_bench() -> None:
    """Marks of a ruler in 64ths of an inch, number drills, sheets in thousandths, hundredths of a fluid ounce."""
    number = {round(parse(f"#{k} drill", "length") / 25.4e-6) for k in range(1, 81)}
    steps = burnsim.find_levers(BASE, n=8, units="us", engine=Counted()).steps
    seen = set()
    for one in (one for one in steps if isinstance(one.value, float)):
        seen.add(one.path)
        inches = one.value / 25.4e-3
        if one.path == "burner.jets.diameter":
            assert round(1e3 * inches) in number
        elif one.path == "burner.wall_thickness":
            assert 1e3 * inches == pytest.approx(round(1e3 * inches))
        elif one.path.startswith("charge"):
            ounces = one.value / parse("0.01 fl oz", "volume")
            assert ounces == pytest.approx(round(ounces))
        else:
            marks = 64.0 * inches
            assert abs(one.value - one.now) > 0.1e-3
            assert marks == pytest.approx(round(marks))
    assert {"burner.jets.diameter", "burner.wall_thickness", "charge.volume", "pot.gap", "burner.height"} <= seen
    with pytest.raises(InputError, match="units = 'imperial' is not known"):
        burnsim.find_levers(BASE, units="imperial", engine=Counted())


def test_no_thinner_wall_is_told_to_a_chamber_that_may_burst() -> None:
    """The stand-in's pressure falls with the wall's thickness, as less heat comes down; whether it holds is unknown."""

    def pressed(setup: burnsim.Setup) -> dict[str, object]:
        return rule(setup) | {"codes": ["pressure"] if setup.burner.wall_thickness > 0.12e-3 else []}

    found = burnsim.find_levers(burnsim.vary(BASE, {"burner.wall_thickness": "0.15 mm"}), n=8, engine=engine(pressed))
    thinner = next(one for one in found.steps if one.path == "burner.wall_thickness" and one.value < 0.15e-3)
    assert thinner.works == 1.0 > found.works
    assert thinner not in found.advice


def test_a_count_is_told_as_a_whole_number() -> None:
    [line] = [line for line in plain(burnsim.find_levers(BASE, n=8, engine=Counted()).summary()).splitlines()
              if line.startswith("  no bloom")]  # fmt: skip
    assert f"burner.jets.count 26 → {LEAST - 1} (" in line


def test_only_what_the_user_has_is_tried() -> None:
    burner = Counted()
    burnsim.find_levers(BASE, n=8, drills=["0.9 mm", "#60 drill"], sheets=["0.1 mm"], engine=burner)
    steps = {path: one for one in ladders(BASE, ["0.9 mm", "#60 drill"], ["0.1 mm"]) for path in [one.path]}
    assert steps["burner.jets.diameter"].lower == pytest.approx((0.9e-3,))
    assert steps["burner.jets.diameter"].higher == pytest.approx((1.016e-3,))
    assert "burner.wall_thickness" not in steps
    assert {one.burner.wall_thickness for one in burner.seen} == {0.1e-3}


def test_a_windscreen_is_a_lever_where_there_is_one() -> None:
    assert not any(one.path.startswith("screen") for one in ladders(BASE, None, None))
    screened = burnsim.vary(BASE, {"screen": burnsim.Screen(height="12 cm", clearance="10 mm")})
    [clearance] = [one for one in ladders(screened, None, None) if one.path == "screen.clearance"]
    assert clearance.higher[0] == pytest.approx(15e-3)


def test_steps_have_the_sign_of_the_law_and_are_ranked_by_it() -> None:
    found = burnsim.find_levers(BASE, n=16, engine=Counted())
    by = {(one.path, one.value): one for one in found.steps}
    for better, worse in ((("burner.jets.count", 27), ("burner.jets.count", 25)),):
        assert by[better].gain("boil") > 0.0 > by[worse].gain("boil")
        assert by[better].changes["boil"].sure
        assert by[better].gain("fuel") < 0.0 < by[worse].gain("fuel")
    assert "\n  1. burner.jets.diameter 1 \N{RIGHTWARDS ARROW} 1.05 mm: boil -" in plain(found.summary())
    assert "; costs fuel +" in plain(found.summary())  # the stand-in burns more for more power
    gains = [one.gain("boil") for one in found.steps]
    assert gains == sorted(gains, reverse=True)
    assert found.steps[0].path == "burner.jets.diameter"  # one drill is worth more than one jet: 10 % against 4 %
    assert by["burner.wick.height", 11e-3].gain("boil") == 0.0
    assert not by["burner.wick.height", 11e-3].changes["boil"].sure
    assert burnsim.find_levers(BASE, "fuel", n=8, engine=Counted()).steps[0].value < BASE.burner.jets.diameter


def test_burns_are_bounded() -> None:
    burner = Counted()
    n = 8
    found = burnsim.find_levers(BASE, n=n, engine=burner)
    drawn = n * (1 + len(found.steps) + len(found.ways))
    sides = 2 * len(ladders(BASE, None, None))
    assert burner.burns - drawn - 1 - len(found.steps) - len(found.ways) <= 15 * sides


@pytest.mark.parametrize("objective", OBJECTIVES)
def test_each_objective_has_its_words(objective: str) -> None:
    found = burnsim.find_levers(BASE, objective, n=8, engine=Counted())
    text = plain(found.summary())
    assert text.splitlines()[0].startswith("stand-in: what to change for")
    assert "no bloom" in text
    assert found.to_dict()["objective"] == objective
    assert len(found.to_dataframe()) == len(found.steps)


def test_what_makes_no_sense_is_refused() -> None:
    for asked, field in (
        ({"objective": "boild"}, "objective"),
        ({"drills": ["9 kg"]}, "drills"),
        ({"drills": "1 mm"}, "drills"),
        ({"drills": ["60"]}, "drills"),
        ({"n": 3}, "n"),
    ):
        with pytest.raises(InputError) as caught:
            burnsim.find_levers(BASE, engine=Counted(), **asked)
        assert caught.value.field == field
    with pytest.raises(InputError, match=r"'60' has no unit: did you mean '#60 drill'\?"):
        burnsim.find_levers(BASE, engine=Counted(), drills=["0.9 mm", "60"])
    with pytest.raises(InputError, match="needs a pot"):
        burnsim.find_levers(burnsim.vary(BASE, {"pot": None}), engine=Counted())


@pytest.mark.parametrize(("gap", "tried"), [("6 mm", {"full ring", "bumps"}), ("7 mm", {"full ring"})])
def test_no_bumps_are_tried_that_cannot_be_raised(gap: str, tried: set[str]) -> None:
    found = burnsim.find_levers(burnsim.vary(BASE, {"pot.rest": "stand", "pot.gap": gap}), n=8, engine=Counted())
    assert {one.value for one in found.steps if one.path == "pot.rest"} == tried


def test_a_cold_pot_on_the_whole_rim_is_told_to_stand_on_bumps() -> None:
    """Bumps cut the contact that takes the rim's heat: what every builder does first. Common practice, no source."""
    winter = {"pot.water_temperature": "1 degC", "site.air_temperature": "5 degC"}
    cold = burnsim.vary(BASE, {"pot.rest": "full ring", **winter})
    found = burnsim.find_levers(cold, n=8, workers=1)
    assert found.works < 0.5
    assert {one.path for one in found.advice[:2]} == {"pot.rest"}


def test_without_a_pot_what_can_be_asked_is_told() -> None:
    with pytest.raises(InputError, match=r'describe \[pot\], or choose "bloom" or "spill"'):
        burnsim.find_levers(burnsim.vary(BASE, {"pot": None}), n=8, engine=Counted())
