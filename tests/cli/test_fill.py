"""`burnsim fill`: the note, the JSON and the pictures, on a made-up law in place of burns."""

import json
import math
import re
from collections.abc import Sequence
from pathlib import Path

import pytest

from burnsim.cli import main
from burnsim.errors import InputError
from burnsim.model.description.setup import Setup
from burnsim.solve.results.spill import Levels
from burnsim.studies.calibrate.factors_file import save_factors
from burnsim.studies.calibrate.posterior import posterior_of
from burnsim.studies.fill import limit as fill
from burnsim.studies.fill import margins, relief, spill_odds
from burnsim.studies.fill.spill_runs import Seen
from burnsim.units import plain

EXAMPLES = Path(__file__).parents[2] / "examples"
WEEKEND = str(EXAMPLES / "weekend_double_wall.toml")
LIFTED = Levels(22e-3, 1.2e-3, 0.9e-3, 12.4e-3, 2e-3, 38.5e-3, 38.5e-3, 0.0, 9e-3, 45e-3, 11e-3, 3e-3)


def law(setups: Sequence[Setup], engine: str = "auto") -> list[Seen]:
    """38 mm of room; 70 ml spill with the well sealed, 100 ml with notches of 1 mm2 or bumps, in between by area."""
    found = []
    for setup in setups:
        notch = setup.burner.relief
        area = notch.count * notch.width * notch.depth if notch else 0.0
        flat = setup.pot is not None and setup.pot.rest == "full ring"
        room = 100e-6 if not flat else 70e-6 + 30e-6 * min(area / 1e-6, 1.0)
        clearance = 38e-3 * (1.0 - setup.charge.volume / room)
        found.append(Seen(clearance, LIFTED if clearance <= 0.0 else None, False, True, ""))
    return found


@pytest.fixture(autouse=True)
def _made_up(monkeypatch):
    for room in (fill, relief, margins, spill_odds):
        monkeypatch.setattr(room, "look", law)


def test_the_note(capsys):
    assert main(["fill", WEEKEND, "--tilt", "5"]) == 0
    told = capsys.readouterr()
    out = plain(told.out)
    assert "cold, tilted 5deg" in out
    assert re.match(r"weekend double wall: pour at most [\d.]+ ml \([\d.]+ fl oz\) of methanol with this pot on", out)
    assert out.splitlines()[0].endswith("the well's pressure pushes the liquid over into the gallery.")
    assert "3 mm of head or 10 % of the volume" in out
    assert "pushes the liquid over into the gallery" in told.out
    assert "Never refill a hot or lit burner" in told.out
    assert "burning" in told.err


def test_the_json(capsys):
    assert main(["fill", WEEKEND, "--json", "--odds", "50"]) == 0
    table = json.loads(capsys.readouterr().out)
    wanted = {"cold_level_ml", "cold_tilted_ml", "burning_vented_ml", "burning_sealed_ml", "binding", "relief_area_mm2"}
    assert wanted <= table.keys()
    assert table["spills_ml"]["burning_sealed"] == pytest.approx(70.0, abs=0.1)
    assert table["burning_sealed_ml"] == pytest.approx(63.0, abs=0.1)  # a tenth less; the head would leave 64.0
    assert table["burning_vented_ml"] == pytest.approx(90.0, abs=0.2)
    assert table["binding"]["burning_sealed"] == "pressure"
    assert table["relief_area_mm2"] == 0.0  # 37 ml
    assert table["spill_probability"]["value"] == 0.0
    assert 0.0 < table["spill_probability"]["high"] < 0.1
    assert table["tilt_deg"] == 0.0  # as the design stands
    assert table["cold_tilted_ml"] is None


def test_a_slope_that_is_asked_for_is_that_of_every_burn(tmp_path, monkeypatch, capsys):
    """Limits, relief, map and odds; and the answer is that of a design that is said to stand there."""
    seen: dict[str, list[float]] = {}

    def watched(name: str):
        def look(setups, engine="auto"):
            seen.setdefault(name, []).extend(math.degrees(setup.site.tilt) for setup in setups)
            pairs = zip(setups, law(setups), strict=True)
            lower = [one.clearance - 0.05 * setup.site.tilt for setup, one in pairs]
            return [Seen(room, LIFTED if room <= 0.0 else None, False, True, "") for room in lower]

        return look

    for room in (fill, relief, margins, spill_odds):
        monkeypatch.setattr(room, "look", watched(room.__name__))
    leaning = tmp_path / "leaning.toml"
    leaning.write_text(Path(WEEKEND).read_text(encoding="utf-8").replace("[site]", '[site]\ntilt = "12 deg"'), "utf-8")
    told = []
    for command in ([str(leaning)], [WEEKEND, "--tilt", "12"]):
        assert main(["fill", *command, "--json", "--odds", "200", "--map", str(tmp_path / "map.png")]) == 0
        told.append(json.loads(plain(capsys.readouterr().out)))
    assert told[0] == told[1]
    assert told[1]["tilt_deg"] == pytest.approx(12.0)
    odds = seen.pop("burnsim.studies.fill.spill_odds")
    assert min(odds) > 7.0  # five standard deviations of the hand below
    assert len(seen) == 3
    assert {round(degrees, 9) for name in seen for degrees in seen[name]} == {12.0}
    assert main(["fill", WEEKEND, "--json"]) == 0
    level = json.loads(plain(capsys.readouterr().out))
    for limit in ("burning_vented_ml", "burning_sealed_ml", "safe_ml"):
        assert told[1][limit] < level[limit]


def test_margins_from_the_command_line(capsys):
    assert main(["fill", WEEKEND, "--json", "--head", "0 mm", "--share", "0 %", "--tilt", "0.1 rad"]) == 0
    table = json.loads(capsys.readouterr().out)
    assert table["burning_sealed_ml"] == pytest.approx(70.0, abs=0.1)
    assert table["tilt_deg"] == pytest.approx(math.degrees(0.1))
    assert table["kept"]["burning_sealed"] == ""


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["--tilt", "45"], "--tilt = '45' is out of range"),
        (["--tilt", "steep"], "--tilt"),
        (["--tilt", "nan"], "--tilt"),
        (["--head", "3 ml"], "--head"),
        (["--share", "95 %"], "--share"),
        (["--plot", "levels.xyz"], "--plot"),
        (["--odds", "3"], "--odds"),
        (["--notch-width", "3 ml"], "--notch-width"),
        (["--notch-depth", "0 mm"], "--notch-depth"),
        (["--notch-depth", "7 mm"], "--notch-depth = '7 mm' reaches down to the jets; allowed below 6.5 mm"),
    ],
)
def test_bad_input(arguments, words, capsys):
    assert main(["fill", WEEKEND, *arguments]) == 2
    told = capsys.readouterr()
    assert words in plain(told.err)
    assert told.out == ""


def test_it_burns_with_learnt_factors(tmp_path, monkeypatch, capsys):
    """A factor of 0.5 halves, in this made-up law, the room of every burn: limits, relief and odds."""

    def halved(setups, engine="auto"):
        pairs = zip(setups, law(setups), strict=True)
        left = [38e-3 - (38e-3 - seen.clearance) / setup.factors.wick_heat for setup, seen in pairs]
        return [Seen(one, LIFTED if one <= 0.0 else None, False, True, "") for one in left]

    for room in (fill, relief, margins, spill_odds):
        monkeypatch.setattr(room, "look", halved)
    learnt = tmp_path / "learnt.toml"
    save_factors(posterior_of(["wick_heat"], [math.log(0.5)], [[0.01]]), learnt)
    found = []
    for options in ([], ["--factors", str(learnt)]):
        assert main(["fill", WEEKEND, "--json", "--odds", "400", *options]) == 0
        found.append(json.loads(plain(capsys.readouterr().out)))
    usual, with_learnt = found
    for name in ("burning_vented_ml", "burning_sealed_ml"):
        assert with_learnt[name] == pytest.approx(0.5 * usual[name], abs=0.2)
    assert with_learnt["cold_level_ml"] == usual["cold_level_ml"]  # no factor fills it
    assert usual["relief_area_mm2"] == 0.0
    assert with_learnt["relief_area_mm2"] > 0.0  # 37 ml of 35 ml that spill
    assert with_learnt["spill_probability"]["value"] > usual["spill_probability"]["value"]


def test_a_missing_factors_file_is_named(tmp_path, capsys):
    assert main(["fill", WEEKEND, "--factors", str(tmp_path / "none.toml")]) == 2
    told = capsys.readouterr()
    assert "none.toml" in told.err
    assert told.out == ""


def test_the_pictures(tmp_path, capsys):
    levels, mapped = tmp_path / "levels.png", tmp_path / "map.svg"
    assert main(["fill", WEEKEND, "--plot", str(levels), "--map", str(mapped)]) == 0
    assert levels.stat().st_size > 10_000
    assert mapped.read_text(encoding="utf-8").lstrip().startswith("<?xml")
    assert plain(capsys.readouterr().err).count("picture saved") == 2


@pytest.mark.parametrize("name", ["garden_open_cup", "porch_open_well", "workshop_sealed_chamber"])
def test_every_kind_of_burner(name, tmp_path, capsys):
    picture = tmp_path / "levels.png"
    assert main(["fill", str(EXAMPLES / f"{name}.toml"), "--plot", str(picture)]) == 0
    assert picture.exists()
    said = plain(capsys.readouterr().out)
    assert "whole burn" in said
    assert ("Relief" in said) == (name == "porch_open_well")  # neither an open cup nor a sealed chamber has one


def test_the_map_is_of_the_pot_that_the_answer_is_for(tmp_path, monkeypatch, capsys):
    """Where the pot as it is puts no jets out, the answer is for that pot, and its map too."""
    asked = []
    monkeypatch.setattr(margins, "map_spills", lambda *_, **how: asked.append(how["warm"]) or _no_map())
    assert main(["fill", WEEKEND, "--map", str(tmp_path / "map.png")]) == 0
    monkeypatch.setattr(
        fill, "look", lambda *given: [seen._replace(quenched=seen.clearance < 9e-3) for seen in law(*given)]
    )
    assert main(["fill", WEEKEND, "--map", str(tmp_path / "map.png")]) == 0
    assert asked == [False, True]


def _no_map():
    raise InputError("setup", "it", "has no map here", "none")


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("workshop_sealed_chamber", "a sealed chamber has no relief"),
        ("garden_open_cup", "an open cup has no gallery"),
    ],
)
def test_a_map_needs_a_well_that_can_be_closed(name, words, tmp_path, monkeypatch, capsys):
    """It is refused before anything is burnt."""
    burnt = []
    for room in (fill, relief):
        monkeypatch.setattr(room, "look", lambda setups, engine="auto": burnt.extend(setups) or law(setups))
    assert main(["fill", str(EXAMPLES / f"{name}.toml"), "--json", "--map", str(tmp_path / "map.png")]) == 2
    told = capsys.readouterr()
    assert words in plain(told.err)
    assert "leave out --map" in told.err
    assert burnt == []


def test_without_a_map_the_rest_is_told(tmp_path, monkeypatch, capsys):
    """That nothing lights under a flat pot is known only once it is burnt: the numbers are printed without the map."""
    monkeypatch.setattr(margins, "look", lambda setups, engine="auto": [one._replace(lit=False) for one in law(setups)])
    picture = tmp_path / "map.png"
    assert main(["fill", WEEKEND, "--json", "--map", str(picture)]) == 0
    told = capsys.readouterr()
    assert json.loads(told.out)["burning_vented_ml"] == pytest.approx(90.0, abs=0.2)
    assert "no map: weekend double wall" in told.err
    assert "never lights" in told.err
    assert not picture.exists()


def test_notches_of_a_given_file(tmp_path, capsys):
    """80 ml spill below 1/3 mm2, and 4.0 mm of head more: 1 mm2 and 0.5 mm2 notches in number."""
    design = tmp_path / "full.toml"
    design.write_text(Path(WEEKEND).read_text(encoding="utf-8").replace('"37 ml"', '"80 ml"'), encoding="utf-8")
    counts = {}
    for width, depth in (("1 mm", "1 mm"), ("1 mm", "0.25 mm")):
        assert main(["fill", str(design), "--json", "--notch-width", width, "--notch-depth", depth]) == 0
        table = json.loads(capsys.readouterr().out)
        counts[depth] = table["relief_notches"]
        assert table["relief_notch_mm"] == pytest.approx([float(width.split()[0]), float(depth.split()[0])])
        area = table["relief_area_mm2"]
        assert counts[depth] == math.ceil(area / math.prod(table["relief_notch_mm"]))
    assert counts["0.25 mm"] > counts["1 mm"] >= 1
    assert main(["fill", str(design), "--notch-depth", "80 mm"]) == 2
    assert "depth" in plain(capsys.readouterr().err)


def test_us_units_by_one_switch(tmp_path, capsys):
    assert main(["fill", WEEKEND]) == 0
    metric = plain(capsys.readouterr().out)
    assert main(["fill", WEEKEND, "--units", "us", "--plot", str(tmp_path / "levels.png")]) == 0
    told = plain(capsys.readouterr().out)
    first, rest = plain(told).split("\n", 1)
    assert re.search(r"pour at most [\d.]+ fl oz \([\d.]+ ml\)", first)  # the one amount that stands in both
    assert not re.search(r"\d (ml|mm|degC)\b", rest)
    [cold] = [line for line in told.splitlines() if line.startswith("  cold, level")]
    [same] = [line for line in metric.splitlines() if line.startswith("  cold, level")]
    ounces = float(re.search(r"([\d.]+) fl oz", cold)[1])
    exact = fill.find_fill_limit(WEEKEND).cold_level.volume * 1e6  # [ml]; a load that may be poured is rounded down
    assert exact - 0.1 < float(re.search(r"([\d.]+) ml", same)[1]) <= exact
    assert exact - 0.2958 < ounces * 29.5735 <= exact
    assert cold.index("fl oz") + 5 == same.index(" ml") + 3  # the column keeps its end
    assert "0.118 in of head" in told  # 3 mm
    [chain] = [
        line for line in told.splitlines() if line.startswith("Whole burn, as designed") and "just spills" in line
    ]
    parts, _, rest = chain.partition("just spills; what is left by then: ")[2].partition(" = ")
    total = sum(float(number) for number in re.findall(r"[+-]?\d+\.\d+", parts))
    assert total == pytest.approx(float(rest.split(" in")[0]), abs=0.03)  # all parts are in inches, as their sum is


@pytest.mark.parametrize(
    ("option", "text", "allowed"),
    [("--share", "150", "0 to 90 %"), ("--share", "95 %", "0 to 90 %"), ("--head", "1 m", "0 to 100 mm")],
)
def test_a_margin_that_cannot_be_is_refused_in_its_own_words(option, text, allowed, capsys):
    assert main(["fill", WEEKEND, option, text]) == 2
    said = plain(capsys.readouterr().err)
    assert option in said
    assert allowed in said
    assert "Margin" not in said
