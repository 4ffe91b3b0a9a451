"""Fields changed for a run, several designs at once, cautions once a terminal, defaults in the help."""

import argparse
import json
from pathlib import Path

import pytest

import burnsim
from burnsim import cli
from burnsim.cli.cautions import POINTER, print_cautions
from burnsim.report.cautions import ALL_CAUTIONS, CAUTIONS, METHANOL_CAUTION, PRESSURE_CAUTION
from burnsim.units import plain

EXAMPLES = Path(__file__).parents[2] / "examples"
DESIGN, CUP = str(EXAMPLES / "weekend_double_wall.toml"), str(EXAMPLES / "garden_open_cup.toml")
WITHOUT_A_DESIGN = {"new", "cautions", "completion"}


def commands() -> dict[str, argparse.ArgumentParser]:
    (found,) = (one for one in cli.build_parser()._actions if isinstance(one, argparse._SubParsersAction))
    return dict(found.choices)


def test_every_option_with_a_value_tells_its_default() -> None:
    for name, command in commands().items():
        for option in command._actions:
            if option.option_strings and option.nargs != 0 and not option.required:
                assert "default" in str(option.help), (name, option.option_strings)


def test_every_command_that_reads_a_design_takes_set() -> None:
    for name, command in commands().items():
        has = any("--set" in option.option_strings for option in command._actions)
        assert has == (name not in WITHOUT_A_DESIGN), name


@pytest.mark.parametrize(
    ("given", "field", "value"),
    [
        (
            "charge.volume=25 g",
            ("charge", "volume"),
            pytest.approx(0.025 / 791.4, rel=2e-3),
        ),  # CRC: 0.7914 g/ml
        ("pot=none", ("pot",), None),
        ("burner.jets.count=20", ("burner", "jets", "count"), 20),
        ("pot.lid=no", ("pot", "lid"), False),
        ("pot.metal=steel", ("pot", "metal"), "steel"),
        ('burner.relief={count=3, width="3 mm", depth="1 mm"}', ("burner", "relief", "width"), 0.003),
        ("charge.fuel=ethanol 90 %, water 10 %", ("charge", "fuel"), "ethanol 90 %, water 10 %"),
    ],
)
def test_set_changes_a_field_for_the_run(
    given: str, field: tuple[str, ...], value: object, capsys: pytest.CaptureFixture[str]
) -> None:
    assert cli.main(["check", DESIGN, "--json", "--set", given]) == 0
    found = json.loads(capsys.readouterr().out)
    for name in field:
        found = found.get(name) if isinstance(found, dict) else None
    assert found == value


@pytest.mark.parametrize(
    ("given", "words"),
    [
        ("charge.volume", "is not PATH=VALUE"),
        ("charge.volum=3 ml", "did you mean 'charge.volume'"),
        ("burner.jets.count=many", "write it like 24"),
        ("burner.relief={count=3", "is not a table"),
        ("charge.volume=9 l", "--set charge.volume = '9000 ml' is out of range"),
    ],
)
def test_what_set_cannot_read_is_told_of_the_option(given: str, words: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["check", DESIGN, "--set", given]) == 2
    said = plain(capsys.readouterr().err)
    assert words in said
    assert "bad input: --set" in said


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ('pot.gap="9 in"', "pot.gap = '9 in' is out of range; allowed from 0.0019685 in to 7.874 in"),
        ('site.air_temperature="500 degF"', "'500 degF' is out of range; allowed from -9.4 degF to 122 degF"),
    ],
)
def test_errors_speak_in_the_units_that_were_asked_for(
    given: str, told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert cli.main(["check", DESIGN, "--units", "us", "--set", given]) == 2
    assert told in plain(capsys.readouterr().err)
    assert cli.main(["check", DESIGN, "--set", 'pot.gap="9 in"']) == 2
    assert "'228.6 mm'" in plain(capsys.readouterr().err)


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["fuels", DESIGN, "--fuels", "methanol", "--quick", "--prices", "acetone=2"], "input: --prices = 'acetone'"),
        (["compare", DESIGN], "bad input: FILE = "),
    ],
)  # fmt: skip
def test_bad_input_is_told_of_where_it_was_given(
    words: list[str], told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """The design file has no fault here: it is not named as if it had."""
    assert cli.main(words) == 2
    assert told in plain(capsys.readouterr().err)


def test_an_option_that_a_command_lacks_is_told_with_those_that_it_has(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        cli.main(["template", DESIGN, "-o", "holes.pdf", "--units", "us"])
    said = capsys.readouterr().err
    assert "burnsim template: error: unrecognized arguments: --units us" in said
    assert "--paper-thickness" in said


def test_a_part_that_a_kind_cannot_have_is_named_in_words(capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["check", CUP, "--set", 'burner.jets={count=12, diameter="1 mm", height="15 mm"}']) == 2
    said = plain(capsys.readouterr().err)
    assert "--set burner.jets does not belong to a burner of kind 'open cup'" in said
    assert "Jets(" not in said


def test_several_designs_burn_at_once_and_cautions_come_once(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    few = ["--set", "charge.volume=1 ml"]
    assert cli.main(["burn", CUP, DESIGN, *few, "--plot", str(tmp_path / "both.png")]) == 0
    out = capsys.readouterr().out
    assert [out.count(one) for one in (*CAUTIONS, PRESSURE_CAUTION, METHANOL_CAUTION)] == [1] * (len(CAUTIONS) + 2)
    assert out.count("Milestones") == 2
    assert out.index("Milestones") < out.rindex("Milestones") < out.index(CAUTIONS[0])
    assert (tmp_path / "both.png").stat().st_size > 10_000
    assert cli.main(["burn", CUP, DESIGN, *few, "--json"]) == 0
    assert [one["name"] for one in json.loads(capsys.readouterr().out)] == ["garden open cup", "weekend double wall"]
    assert cli.main(["burn", CUP, DESIGN, "--series", "x.csv"]) == 2


def test_a_terminal_shows_cautions_in_full_once_and_never_none(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("BURNSIM_CACHE", str(tmp_path / "cache"))
    monkeypatch.setattr("sys.stdout.isatty", lambda: True, raising=False)

    def shown(chamber: bool, *components: str) -> str:
        print_cautions([burnsim.load(DESIGN if chamber else CUP)], components)
        return capsys.readouterr().out

    first = shown(True, "ethanol")
    assert all(one in first for one in (*CAUTIONS, PRESSURE_CAUTION))
    assert shown(True, "ethanol").strip() == shown(False, "ethanol").strip() == POINTER
    assert METHANOL_CAUTION in shown(True, "methanol")  # one that was not yet shown: all in full
    assert shown(True, "methanol").strip() == POINTER
    monkeypatch.setattr("sys.stdout.isatty", lambda: False, raising=False)
    assert CAUTIONS[0] in shown(True, "methanol")  # what goes into a file is whole
    monkeypatch.setattr("sys.stdout.isatty", lambda: True, raising=False)
    (tmp_path / "plain").write_text("", encoding="utf-8")
    monkeypatch.setenv("BURNSIM_CACHE", str(tmp_path / "plain"))
    assert CAUTIONS[0] in shown(True, "methanol")  # where nothing can be kept


def test_cautions_are_a_command(capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["cautions"]) == 0
    out = capsys.readouterr().out
    assert all(one in out for one in ALL_CAUTIONS)
