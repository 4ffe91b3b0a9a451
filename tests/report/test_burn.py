"""The bench note: what says nothing is left out, and a tilted stand is named."""

from pathlib import Path

from burners import burnt

import burnsim
from burnsim.model.description import geometry
from burnsim.report.fields import site_text
from burnsim.solve.results.outcome import told_apart
from burnsim.units import plain

EXAMPLES = Path(__file__).parents[2] / "examples"


def cup(**changes: object) -> str:
    """The note of a small double wall, burnt out soon."""
    jets = {"count": 20, "diameter": "1 mm", "height": "15 mm"}
    burner = {"kind": "double wall", "outer_diameter": "50 mm", "height": "20 mm", "gallery_gap": "4 mm",
              "jets": jets, "feed_slots": {}, "wick": {}}  # fmt: skip
    charge = {"fuel": "methanol", "volume": "3 ml", "primer": "1 ml"}
    setup = burnsim.Setup.from_dict({"burner": burner, "charge": charge})
    return plain(burnt(burnsim.vary(setup, changes)).summary())


def test_an_open_well_has_no_pressure_to_tell() -> None:
    note = cup()
    assert "in the chamber of the jets" in note
    assert "in the well" not in note


def test_a_cup_has_neither_pressure_nor_froth_behind_jets() -> None:
    found = {
        name: burnt(burnsim.load(EXAMPLES / f"{name}.toml")).to_dict()
        for name in ("garden_open_cup", "porch_open_well")
    }
    for key in ("gallery_pressure_max_Pa", "froth_max_mm"):
        assert found["garden_open_cup"][key] is None
        assert found["porch_open_well"][key] > 0.0


def test_a_tilted_stand_names_both_edges() -> None:
    level, tilted = cup(), cup(**{"site.tilt": 0.05})
    assert "jets begin at 14.5 mm\n" in level
    [line] = [line for line in tilted.splitlines() if "highest froth" in line]
    # 14.5 mm less tan(0.05) of the radius inside the wall, 24.9 mm: no corner of the gallery is dry
    assert line.endswith("jets begin at 14.5 mm, which a mean level of 13.3 mm reaches on this tilt")
    [spill] = [line for line in tilted.splitlines() if line.startswith("  spill ")]
    assert spill.endswith("the jets begin at 14.5 mm, which a mean level of 13.3 mm reaches on this tilt")
    [spill] = [line for line in level.splitlines() if line.startswith("  spill ")]
    assert spill.endswith("the jets begin at 14.5 mm")


def test_two_figures_are_told_with_the_digits_that_part_them() -> None:
    assert told_apart(2.391, 2.412) == ("2.39", "2.41")
    assert told_apart(0.5, 2.4) == ("0.5", "2.4")
    assert told_apart(2.4, 2.4) == ("2.4", "2.4")


def test_a_flare_of_the_primer_is_told() -> None:
    """The liquid boils hard while the wick still burns: several times the median, which alone would hide it."""
    burn = burnt(burnsim.load(Path(__file__).parents[2] / "examples" / "weekend_double_wall.toml"))
    assert burn.power_median is not None
    assert burn.series("power").max() > 3.0 * burn.power_median
    [line] = [line for line in plain(burn.summary()).splitlines() if "power, highest" in line]
    assert f"{burn.series('power').max():.0f} W" in line
    assert line.endswith(" s, with the primer's flame")


def test_milestones_stand_in_the_order_in_which_they_happen() -> None:
    burn = burnt(burnsim.load(Path(__file__).parents[2] / "examples" / "weekend_double_wall.toml"))
    told = plain(burn.summary()).split("Milestones\n")[1].split("\n\n")[0].splitlines()
    names = ["vapour at the jets", "jets light (bloom)", "primer out", "water boils", "last flame out", "spill"]
    assert [line[2:].split("  ")[0].strip() for line in told] == names


def test_a_note_tells_factors_that_are_not_1() -> None:
    cup = {"kind": "open cup", "outer_diameter": "60 mm", "height": "30 mm"}
    table = {"burner": cup, "charge": {"fuel": "ethanol", "volume": "0.5 ml"}}
    assert "No factor is fitted to any burn." in burnsim.burn(table).summary()
    words = burnsim.burn(burnsim.vary(table, {"factors.entrainment": 1.2})).summary()
    assert "Factors that are not 1: entrainment 1.2." in words
    assert "No factor is fitted" not in words


def test_a_drop_of_water_boils_at_its_boiling_point() -> None:
    """Water that boils and dries up within a step of the account was as hot as the boil, and is told in millilitres."""
    note = cup(pot={"diameter": "10 cm", "height": "8 cm", "water": "1 ml", "water_temperature": "12 degC"})
    assert "; 1.0 ml of water at 12 degC" in note
    assert "water boils  " in note
    assert "never: the water" not in note
    [line] = [line for line in note.splitlines() if "hottest water" in line]
    assert line.split()[2:] == ["100.0", "degC"]


def test_what_is_nothing_has_no_sign_and_what_is_not_defined_is_said() -> None:
    cold = {"diameter": "10 cm", "height": "8 cm", "water": "0.3 l", "water_temperature": "0 degC"}
    note = cup(pot=cold, **{"charge.fuel": "2-propanol", "charge.primer": "0 ml", "site.air_temperature": "-0.01 degC"})
    assert "-0 degC" not in note
    assert "-0.0" not in note
    assert "efficiency, whole     undefined" in note


def test_the_head_tells_wind_screen_and_ground() -> None:
    weekend = burnsim.load(Path(__file__).parents[2] / "examples" / "weekend_double_wall.toml")
    windy = burnsim.vary(weekend, {"site.wind": 1.0, "site.ground": "wood"})
    assert plain(site_text(windy, "si")) == "air 20 degC, 0 m, wind 1.0 m/s, floor on wood"
    screened = burnsim.vary(windy, {"screen": {"height": "15 cm", "clearance": "1 cm"}})
    assert plain(site_text(screened, "si")).endswith(", behind a windscreen, floor on wood")
    assert ", wind 2.2 mph, " in plain(site_text(windy, "us"))
    assert "floor" not in plain(site_text(burnsim.vary(windy, {"site.ground": "nothing"}), "us"))


def test_a_load_that_all_but_spills_is_not_told_to_stay_in() -> None:
    """What `fill` does not allow is named in the note: the head that it keeps while boiling, and its load at rest."""
    chamber, cup = (burnsim.load(EXAMPLES / f"{name}.toml") for name in ("workshop_sealed_chamber", "garden_open_cup"))
    safe = burnsim.find_fill_limit(chamber).safe
    for one, load, told in (
        (chamber, 0.97 * safe, None), (chamber, 1.03 * safe, "burnsim fill keeps 3.1 mm free below them: pour less"),
        (cup, 0.97 * geometry.capacity(cup.burner), "but at rest burnsim fill allows"),
    ):  # fmt: skip
        note = plain(burnt(burnsim.vary(one, {"charge.volume": load})).summary())
        [spill] = [line for line in note.splitlines() if line.startswith("  spill ")]
        assert spill.startswith("  spill                no: ")
        assert "pour less" not in spill if told is None else told in spill


def test_a_burn_that_goes_out_does_not_tell_that_it_does_not_spill() -> None:
    """Most of the charge is left: the froth of a whole burn was not seen."""
    weekend = burnsim.load(Path(__file__).parents[2] / "examples" / "weekend_double_wall.toml")
    cold = {"charge.fuel": "ethanol 95", "burner.rim_width": "2 mm", "pot.rest": "full ring"}
    cold["pot.water_temperature"] = "1 degC"
    out = burnt(burnsim.vary(weekend, cold))
    assert "quenched" in [verdict.code for verdict in out.verdicts]
    assert "it ends too early to tell of a spill" in out.summary()
    assert "too early" not in burnt(weekend).summary()
