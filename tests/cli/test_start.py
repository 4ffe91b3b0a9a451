"""`burnsim start`: tables, JSON, picture, axes, and bad input."""

import json
import re
from pathlib import Path

import pytest

from burnsim import cli
from burnsim.cli.values import span
from burnsim.errors import InputError
from burnsim.units import plain

ROOT = Path(__file__).parents[2]
CUP = ROOT / "examples" / "garden_open_cup.toml"
AXES = ["--ambient=20degC:25degC:5", "--altitude=0m"]


def test_tables_and_cautions(capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["start", str(CUP), *AXES]) == 0
    out, err = capsys.readouterr()
    assert "Does it light?" in out
    assert "Minutes to boil" in out
    assert "Cautions" in out
    assert err == "burnsim: burning in 2 places ...\n"


def test_json_and_picture(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    picture = tmp_path / "start.png"
    assert (
        cli.main(["start", str(CUP), "--ambient=-20degC", "--altitude=0m:500m:500", "--json", "--plot", str(picture)])
        == 0
    )
    result = json.loads(plain(capsys.readouterr().out))
    assert result["altitudes_m"] == [0.0, 500.0]
    assert result["air_temperatures_K"] == [pytest.approx(253.15)]
    assert [[cell["verdict"] for cell in row] for row in result["cells"]] == [["never lights"], ["never lights"]]
    assert "flash point" in result["cells"][0][0]["reason"]
    assert picture.stat().st_size > 1000


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["--ambient=cold"], "--ambient"),
        (["--ambient=-15:25:5"], "no unit"),
        (["--ambient=-15degC:25degC"], "first:last:step"),
        (["--ambient=-15degC:25degF:5"], "more than one unit"),
        (["--ambient=25degC:-15degC:5"], "step"),
        (["--altitude=0m:4000m:0"], "step"),
        (["--altitude=0m:4000m:1"], "4001 values"),
        (["--altitude=20km"], "site.altitude"),
        (["--most-primer", "3 ml"], "wick"),
        (["--plot", "picture.txt"], "not a picture format"),
    ],
)
def test_bad_input_is_exit_2(arguments: list[str], words: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["start", str(CUP), *arguments]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert words in err


@pytest.mark.parametrize(
    ("text", "dimension", "values"),
    [
        ("0m:4000m:1000", "length", [0.0, 1000.0, 2000.0, 3000.0, 4000.0]),
        ("0:1:0.4km", "length", None),
        ("0 : 1 : 0.4 km", "length", None),
        ("0km:1km:0.4km", "length", [0.0, 400.0, 800.0]),
        ("5 degF:50 degF:45", "temperature", [258.15, 283.15]),
        ("1000m:0m:-500", "length", [1000.0, 500.0, 0.0]),
        ("\N{MINUS SIGN}5degC:5degC:5", "temperature", [268.15, 273.15, 278.15]),
        ("0.1:0.3:0.1", "fraction", [0.1, 0.2, 0.3]),
        ("0 m, 1500 m", "length", [0.0, 1500.0]),
    ],
)
def test_axes(text: str, dimension: str, values: list[float] | None) -> None:
    if values is None:
        with pytest.raises(InputError):
            span(text, dimension, "--x")
    else:
        assert span(text, dimension, "--x") == pytest.approx(values, abs=1e-9)


def test_a_range_that_begins_below_zero_needs_no_equals_sign(capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["start", str(CUP), "--ambient", "-20degC", "--altitude", "0m", "--json"]) == 0
    result = json.loads(plain(capsys.readouterr().out))
    assert result["air_temperatures_K"] == [pytest.approx(253.15)]


def test_the_water_follows_the_air_unless_told(monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever the design says: it is for another day."""
    from burnsim.studies.start.grid import with_water

    asked = []

    def kept(setup, *_, water, **__):
        asked.append(with_water(setup, water).pot.water_temperature)
        raise InputError("made up", None, "is enough", "stop")

    monkeypatch.setattr("burnsim.studies.start.grid.map_starts", kept)
    design = str(ROOT / "examples" / "weekend_double_wall.toml")
    assert "water_temperature" in Path(design).read_text(encoding="utf-8")
    for options in ([], ["--water", "5 degC"]):
        assert cli.main(["start", design, *options]) == 2
    assert asked == [None, pytest.approx(278.15)]


def test_a_design_for_freezing_air_can_be_mapped(capsys: pytest.CaptureFixture[str]) -> None:
    """Its own air is for another day: no place stands in it, and the water of none is as cold."""
    frost = ["--set", "site.air_temperature=-10 degC", "--set", "pot.water_temperature=4 degC"]
    assert cli.main(["start", str(CUP), *frost, "--ambient", "-20degC,10degC", "--altitude", "0m", "--json"]) == 0
    result = json.loads(capsys.readouterr().out)
    assert result["air_temperatures_K"] == [pytest.approx(253.15), pytest.approx(283.15)]


def test_the_usual_axes_are_round_in_each_system(capsys: pytest.CaptureFixture[str]) -> None:
    for units, unit in (("si", "m"), ("us", "ft")):
        assert cli.main(["start", str(CUP), "--units", units]) == 0
        told = plain(capsys.readouterr().out)
        heights = re.findall(rf"^ +(\d+) {unit} ", told, re.MULTILINE)
        assert heights
        assert all(int(height) % 1000 == 0 for height in heights), heights


@pytest.mark.parametrize(
    ("text", "remedy"),
    [("25degC:-15degC:5", "write -15degC:25degC:5"), ("0degC:20degC:-5", "write 0degC:20degC:5")],
)
def test_a_step_that_leads_away_is_told_how_to_turn(text: str, remedy: str) -> None:
    with pytest.raises(InputError, match=remedy):
        span(text, "temperature", "--ambient")


@pytest.mark.parametrize("text", ["105 degC", "-20 degC"])
def test_water_that_is_not_liquid_is_refused_by_its_option(text: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["start", str(ROOT / "examples" / "weekend_double_wall.toml"), "--water", text]) == 2
    assert "--water" in plain(capsys.readouterr().err)
