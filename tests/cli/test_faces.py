"""Commands that make files to begin with, completion, units and colour."""

import argparse
import json
import os
import re
import shlex
import shutil
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest
from argcomplete import CompletionFinder
from burners import burnt

import burnsim
from burnsim import cli
from burnsim.cli.colour import painted, wants_colour, with_headings
from burnsim.errors import InputError
from burnsim.io.designs import DESIGNS, design_text
from burnsim.model.description.setup import Setup
from burnsim.studies import batches
from burnsim.studies.search.objectives import IDLE
from burnsim.units import plain

DESIGN = str(Path(__file__).parents[2] / "examples" / "weekend_double_wall.toml")


class TestNew:
    @pytest.mark.parametrize("kind", DESIGNS)
    def test_each_kind_burns_and_boils(self, kind: str, tmp_path: Path) -> None:
        path = tmp_path / "my_burner.toml"
        assert cli.main(["new", str(path), "--kind", kind]) == 0
        setup = burnsim.load(path)
        assert setup.name == "my burner"
        assert setup.burner.kind == ("double wall" if kind == "open well" else kind)
        burn = burnt(setup, 1e-3)
        assert burn.milestones.boil.time is not None
        assert not {"never lit", "flare", "primer runs off"} & {verdict.code for verdict in burn.verdicts}
        assert setup.burner.jets is None or burn.milestones.bloom.time is not None

    @pytest.mark.parametrize("kind", DESIGNS)
    def test_each_kind_does_its_work_whatever_is_not_known(self, kind: str, tmp_path: Path) -> None:
        """A beginner's first design neither melts nor fails in more than one of twenty draws of the factors."""
        path = tmp_path / "my_burner.toml"
        path.write_text(design_text(kind), encoding="utf-8")
        fit = [code.isdisjoint(IDLE) for code in burnsim.predict(path, n=64, workers=1).codes]
        assert sum(fit) >= 0.95 * len(fit)

    @pytest.mark.parametrize("kind", DESIGNS)
    def test_every_setting_that_is_left_out_may_be_taken_in(self, kind: str) -> None:
        text = design_text(kind)
        left_out = re.findall(r"^#(?=\S)", text, flags=re.MULTILINE)
        assert len(left_out) >= 8
        whole = tomllib.loads(re.sub(r"^#(?=\S)", "", text, flags=re.MULTILINE))
        assert Setup.from_dict(whole) is not None
        for line in text.splitlines():
            assert len(line) <= 120

    def test_it_does_not_write_over_a_file_unasked(self, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
        path = tmp_path / "mine.toml"
        path.write_text("mine", encoding="utf-8")
        assert cli.main(["new", str(path)]) == 2
        assert path.read_text(encoding="utf-8") == "mine"
        assert "--force" in plain(capsys.readouterr().err)
        assert cli.main(["new", str(path), "--force"]) == 0
        assert burnsim.load(path).name == "mine"
        assert cli.main(["new", str(tmp_path / "no" / "such.toml")]) == 2

    def test_names_that_would_break_the_file(self) -> None:
        assert tomllib.loads(design_text("open cup", 'a"b\\c'))["name"] == "abc"
        with pytest.raises(InputError, match="did you mean 'open cup'"):
            design_text("opencup")


def subparsers() -> dict[str, argparse.ArgumentParser]:
    """The parser of every command, by its name."""
    [choices] = [one.choices for one in cli.build_parser()._actions if isinstance(one, argparse._SubParsersAction)]
    return dict(choices)


class TestCompletion:
    @pytest.mark.parametrize(
        ("line", "offered"),
        [
            ("burnsim temp", {"template"}),
            ("burnsim burn --u", {"--units"}),
            ("burnsim burn x.toml --units ", {"si", "us"}),
            ("burnsim completion f", {"fish"}),
            ("burnsim new x.toml --kind open", {"open well", "open cup"}),
        ],
    )
    def test_what_may_follow(self, line: str, offered: set[str]) -> None:
        *words, begun = line.split(" ")
        found = CompletionFinder(cli.build_parser())._get_completions(words, begun, "", None)
        assert {word.strip().replace("\\", "") for word in found} == offered

    def test_bash_asks_the_command(self, tmp_path: Path) -> None:
        bash = shutil.which("bash")
        if bash is None:
            pytest.skip("no bash on this machine")
        (tmp_path / "burnsim").write_text(f'#!/bin/sh\nexec {sys.executable} -m burnsim "$@"\n', encoding="utf-8")
        (tmp_path / "burnsim").chmod(0o755)
        code = """eval "$(burnsim completion bash)"; COMP_WORDS=(burnsim burn --u); COMP_CWORD=2
            COMP_LINE="burnsim burn --u" COMP_POINT=16 COMP_TYPE=9; _python_argcomplete burnsim
            printf '%s\\n' "${COMPREPLY[@]}\""""
        path = f"{tmp_path}:{os.environ['PATH']}"
        run = subprocess.run(
            [bash, "-c", code], capture_output=True, text=True, check=True, env={**os.environ, "PATH": path}
        )
        assert run.stdout.split() == ["--units"]

    @pytest.mark.parametrize("shell", ["zsh", "fish"])
    def test_a_script_for_other_shells(self, shell: str, capsys: pytest.CaptureFixture[str]) -> None:
        assert cli.main(["completion", shell]) == 0
        assert "burnsim" in capsys.readouterr().out


class Terminal:
    def isatty(self) -> bool:
        return True


class TestColour:
    def test_only_on_a_terminal_that_wants_it(self, monkeypatch: pytest.MonkeyPatch) -> None:
        terminal = Terminal()
        monkeypatch.delenv("NO_COLOR", raising=False)
        monkeypatch.setenv("TERM", "xterm")
        assert wants_colour(terminal)  # type: ignore[arg-type]
        assert painted("bad", "red", terminal) == "\x1b[31mbad\x1b[0m"  # type: ignore[arg-type]
        note = with_headings("Milestones\n  bloom: 3 s\nA line with a colon: no heading", terminal)  # type: ignore[arg-type]
        assert note.startswith("\x1b[1mMilestones\x1b[0m\n  bloom")
        assert note.count("\x1b[1m") == 1
        monkeypatch.setenv("NO_COLOR", "1")
        assert painted("bad", "red", terminal) == "bad"  # type: ignore[arg-type]
        monkeypatch.delenv("NO_COLOR")
        monkeypatch.setenv("TERM", "dumb")
        assert not wants_colour(terminal)  # type: ignore[arg-type]

    def test_none_in_a_pipe(self, capsys: pytest.CaptureFixture[str]) -> None:
        assert cli.main(["check", DESIGN]) == 0
        assert cli.main(["check", "none.toml"]) == 2
        out, err = capsys.readouterr()
        assert "\x1b" not in out + err


class TestUnits:
    def test_check_in_either_system_and_as_json(self, capsys: pytest.CaptureFixture[str]) -> None:
        assert cli.main(["check", DESIGN, "--units", "us"]) == 0
        out = plain(capsys.readouterr().out)
        rows = dict(line.split(maxsplit=1) for line in out.splitlines() if line.startswith("  "))
        assert rows["outer_diameter"] == "2.441 in"  # 62 mm
        assert rows["rim_width"] == "0.03937 in"  # 1 mm: thin metal is not rounded away
        assert "1.251 fl oz" in out  # 37 ml
        assert not re.search(r"\d (mm|ml|degC)\b", out)
        assert cli.main(["check", DESIGN, "--units", "us", "--set", 'burner.jets.diameter="#60 drill"']) == 0
        assert "0.04 in, a #60 drill\n" in plain(capsys.readouterr().out)
        assert cli.main(["check", DESIGN, "--json"]) == 0
        assert Setup.from_dict(json.loads(plain(capsys.readouterr().out))) == burnsim.load(DESIGN)

    def test_burn(self, capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        monkeypatch.setattr(batches, "burn_whole", burnt)
        picture = tmp_path / "burn.svg"
        assert cli.main(["burn", DESIGN, "--units", "us", "--plot", str(picture)]) == 0
        out = plain(capsys.readouterr().out)
        assert "water at 54 degF" in out
        assert not re.search(r"\d (mm|ml|degC)\b", out)
        assert "carbon monoxide" in out
        assert picture.stat().st_size > 1000


def test_help_has_an_example_of_each_command(capsys: pytest.CaptureFixture[str]) -> None:
    parser = cli.build_parser()
    assert "start here" in parser.format_help()
    commands = list(subparsers())
    assert len(commands) > 10
    for name in commands:
        with pytest.raises(SystemExit) as left:
            cli.main([name, "--help"])
        assert left.value.code == 0
        shown = capsys.readouterr().out
        assert "examples:" in shown, name
        assert "burnsim " + name in shown.partition("examples:")[2], name


@pytest.mark.parametrize("command", list(subparsers()))
def test_examples_of_the_help_are_understood(command: str) -> None:
    """Every line of an example parses, with the names of files that it stands with."""
    parser = cli.build_parser()
    told = re.sub(r"\\\n\s*", " ", str(subparsers()[command].epilog).partition("examples:")[2])
    lines = [line[line.index("burnsim ") :] for line in told.splitlines() if "burnsim " in line]
    assert lines
    for line in lines:
        words = re.split(r" {2,}| [|>] ", line)[0]  # what it does, or where it goes, follows
        parser.parse_args(shlex.split(words)[1:])


@pytest.mark.parametrize("argument", ["--altitude=0m:20000m:10000", "--ambient=-95degC:25degC:10"])
def test_a_span_that_leaves_a_field_is_refused_in_its_own_words(
    argument: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert cli.main(["start", DESIGN, argument]) == 2
    said = plain(capsys.readouterr().err)
    option, _, text = argument.partition("=")
    assert f"bad input: {option} = {text!r} reaches" in said
    assert "allowed from" in said
    assert "bare number" not in said
    assert "burning" not in said


class TestBlame:
    """Bad input of an option names the option, and not the design file; it comes before any burn."""

    @pytest.mark.parametrize(
        ("line", "told"),
        [
            ("fuels {} --fuels whisky", "--fuels = 'whisky' is not a known fuel"),
            ("fuels {} --fuels ,", "--fuels = ',' names no spirit"),
            ("fuels {} --boils 0", "--boils = 0 is not"),
            ("predict {} -n 3", "--burns = '3' is not a whole number from 8"),
            ("predict {} -n 1000000", "--burns = '1000000' is not a whole number from 8 to 131072"),
            ("predict {} --tolerance pot.gap=2mm", "= 'pot.gap=2mm' gives '2mm', which is no share: write the half"),
            ("predict {} --tolerance burner.kind=3%", "--tolerance burner.kind = 0.03 is"),
            ("sweep {} --vary burner.jets.cuont=1:3:1", "--vary burner.jets.cuont is not a field"),
            ("sweep {} --vary charge.fuel=milk", "--vary charge.fuel = 'milk' is not a known fuel"),
            ("sweep {} --vary burner.jets.count=20 --workers 0", "--workers = 0 is not"),
            ("sweep {} --vary burner.jets.count=20 --out a.txt", "--out = 'a.txt' is neither"),
            ("start {} --altitude 3", "--altitude = '3' has no unit"),
            ("start {} --most-primer=-1ml", "--most-primer = '-1ml' is out of range; allowed from 0"),
            ("template {} -o t.pdf --paper-thickness 1m", "--paper-thickness = '1000 mm' is out of range"),
            ("sheet {} -o t.doc", "is not a format that can be written; allowed: .pdf, .html"),
            ("search {}", "is a design, not a search"),
        ],
    )
    def test_it_names_the_option(
        self, line: str, told: str, capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        monkeypatch.chdir(tmp_path)
        assert cli.main(line.format(DESIGN).split()) == 2
        out, err = capsys.readouterr()
        assert out == ""
        assert told in err
        assert "bad input in" not in err
        assert "burning" not in err
        assert list(tmp_path.iterdir()) == []

    @pytest.mark.parametrize(
        ("line", "guess"),
        [("brun x.toml", "burn"), ("new x.toml --kind opencup", "open cup"), ("fules x.toml", "fuels")],
    )
    def test_a_misspelt_word_is_guessed(self, line: str, guess: str, capsys: pytest.CaptureFixture[str]) -> None:
        with pytest.raises(SystemExit) as stopped:
            cli.main(line.split())
        assert stopped.value.code == 2
        assert f"did you mean {guess!r}?" in plain(capsys.readouterr().err)

    def test_every_command_stands_beside_its_help(self) -> None:
        lines = cli.build_parser().format_help().splitlines()
        for command in subparsers():
            assert any(line.split()[:1] == [command] and len(line.split()) > 1 for line in lines), command


class TestBar:
    def test_a_bar_on_a_terminal_only(
        self, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
    ) -> None:
        line = ["fuels", DESIGN, "--fuels", "methanol", "--quick"]
        assert cli.main(line) == 0
        plain = capsys.readouterr()
        assert "#" not in plain.err
        monkeypatch.setattr(sys.stderr, "isatty", lambda: True, raising=False)
        assert cli.main(line) == 0
        shown = capsys.readouterr()
        assert "] 1 burn " in shown.err
        assert "[##" in shown.err
        assert shown.out == plain.out
