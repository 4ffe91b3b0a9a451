"""`burnsim compare` and `burnsim levers`: what they print, save and refuse."""

import json
import math
from pathlib import Path

import numpy as np
import pytest

import burnsim
from burnsim import cli
from burnsim.studies.calibrate.factors_file import save_factors
from burnsim.studies.calibrate.posterior import posterior_of
from burnsim.studies.levers.levers import OBJECTIVES
from burnsim.units import plain

CUP = burnsim.Burner("open cup", "60 mm", "30 mm")
POT = burnsim.Pot("10 cm", "8 cm", "40 ml", rest="stand", gap="30 mm")
SETUP = burnsim.Setup(CUP, burnsim.Charge("ethanol", "6 ml"), POT, name="cup")


@pytest.fixture
def design(tmp_path: Path) -> str:
    path = tmp_path / "cup.toml"
    SETUP.save(path)
    return str(path)


def test_compare_with_one_field_changed(design: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    picture = tmp_path / "both.png"
    command = ["compare", design, "--but", "pot.water=50 ml", "-n", "0", "--plot", str(picture)]
    assert cli.main(command) == 0
    text = plain(capsys.readouterr().out)
    assert "pot.water" in text
    assert "B - A" in text
    assert picture.stat().st_size > 10_000
    assert cli.main([*command[:-2], "--json"]) == 0
    table = json.loads(capsys.readouterr().out)
    first, second = (one["figures"]["boil"] for one in table["designs"])
    assert table["against_first"][0]["causes"]["boil"]["whole"] == pytest.approx(second - first, abs=0.2)


def test_factors_that_were_learnt_are_told(design: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    learnt = tmp_path / "learnt.toml"
    save_factors(posterior_of(["flame_to_pot"], [math.log(0.9)], np.array([[1e-4]]), {}), learnt)
    command = ["compare", design, "--but", "pot.water=50 ml", "-n", "0"]
    for factors, told in (([], "No factor is fitted"), (["--factors", str(learnt)], "not 1: flame_to_pot 0.9.")):
        assert cli.main([*command, *factors]) == 0
        out = plain(capsys.readouterr().out)
        assert told in out
        assert bool(factors) is ("No factor is fitted" not in out)


def test_set_changes_all_designs(design: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["compare", design, design, "--set", "pot.water=50 ml", "-n", "0", "--json"]) == 0
    table = json.loads(capsys.readouterr().out)
    assert table["against_first"][0]["changes"] == {}


def test_levers_prints_steps_and_cliffs(design: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    picture = tmp_path / "levers.png"
    assert cli.main(["levers", design, "--sheets", "0.1 mm", "-n", "8", "--plot", str(picture)]) == 0
    text = plain(capsys.readouterr().out)
    for words in ("cup: what to change for a sooner boil", "charge.volume 6", "How far the cliffs are", "What to do"):
        assert words in text
    assert "wall_thickness" not in text
    assert picture.stat().st_size > 10_000


@pytest.mark.parametrize(
    ("command", "complaint"),
    [
        ("compare {}", "FILE = "),
        ("compare {} {} -n 3", "--draws = 3"),
        ("compare {} {} --but pot.water", "--but = 'pot.water'"),
        ("levers {} --for bloom", "--for = 'bloom' needs jets"),
        ("levers {} --drills 9kg", "--drills"),
    ],
)
def test_bad_input_is_told_of_its_option(
    command: str, complaint: str, design: str, capsys: pytest.CaptureFixture[str]
) -> None:
    parts = [design if part == "{}" else part for part in command.split(" ")]
    assert cli.main(parts) == 2
    assert complaint in plain(capsys.readouterr().err)


def test_what_a_step_may_be_for_is_told_at_once(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit, match="2"):
        cli.main(["levers", "not_there.toml", "--for", "soup"])
    told = capsys.readouterr().err
    assert "invalid choice: 'soup'" in told
    assert all(word in told for word in OBJECTIVES)
