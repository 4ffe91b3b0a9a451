"""The command line: what goes to stdout and to stderr, and exit codes 0, 1 and 2 without a traceback."""

import csv
import json
import os
import subprocess
import sys
import warnings
from dataclasses import dataclass, replace
from pathlib import Path
from typing import NamedTuple

import numpy as np
import pytest
from numpy.typing import NDArray

import burnsim
from burnsim import cli
from burnsim.errors import InputError
from burnsim.model.description.files import load
from burnsim.model.description.setup import Setup
from burnsim.report.cautions import METHANOL_CAUTION, PRESSURE_CAUTION
from burnsim.studies import batches
from burnsim.units import plain

ROOT = Path(__file__).parents[2]
EXAMPLES = sorted((ROOT / "examples").glob("*.toml"))
DESIGN = ROOT / "examples" / "weekend_double_wall.toml"
CUP = ROOT / "examples" / "garden_open_cup.toml"
KEYS = {
    "bloom_s",
    "boil_s",
    "burnout_s",
    "spill_s",
    "water_max_K",
    "fuel_to_boil_ml",
    "efficiency_to_boil",
    "power_median_W",
    "power_max_W",
    "mass_residual",
    "energy_residual",
    "verdicts",
}


class Instant(NamedTuple):
    time: float | None
    reason: str


class Instants(NamedTuple):
    bloom: Instant
    boil: Instant
    burnout: Instant
    spill: Instant
    primer_out: Instant
    quench: Instant


@dataclass(frozen=True)
class StandIn:
    """A burn made up for the faces alone: no physics."""

    setup: Setup
    time: NDArray[np.float64]
    milestones: Instants
    water_max = 360.0
    verdicts = ()

    def series(self, name: str) -> NDArray[np.float64]:
        if name == "rim_temperature":
            return np.full_like(self.time, np.nan)
        return 300.0 + 0.1 * self.time

    def summary(self, units: str = "si") -> str:
        return "made-up summary\n"

    def to_dict(self) -> dict[str, object]:
        return {"bloom_s": 20.0, "boil_s": None}


def stand_in(setup: Setup) -> StandIn:
    never = Instant(None, "made up")
    return StandIn(
        setup,
        np.linspace(0.0, 600.0, 61),
        Instants(Instant(20.0, ""), never, Instant(600.0, ""), never, never, never),
    )


@pytest.fixture
def made_up(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(batches, "burn_whole", stand_in)


@pytest.mark.usefixtures("made_up")
class TestFaces:
    def test_summary_and_cautions_on_stdout_progress_on_stderr(self, capsys: pytest.CaptureFixture[str]) -> None:
        assert cli.main(["burn", str(DESIGN)]) == 0
        out, err = capsys.readouterr()
        assert out.startswith("made-up summary")
        assert METHANOL_CAUTION in out
        assert PRESSURE_CAUTION in out
        assert "carbon monoxide" in out
        assert "burning weekend double wall" in err

    def test_json_is_one_object(self, capsys: pytest.CaptureFixture[str]) -> None:
        assert cli.main(["burn", str(DESIGN), "--json"]) == 0
        assert json.loads(plain(capsys.readouterr().out)) == {"bloom_s": 20.0, "boil_s": None}

    def test_json_refuses_what_is_no_json(
        self, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
    ) -> None:
        monkeypatch.setattr(StandIn, "to_dict", lambda self: {"boil_s": float("nan")})
        assert cli.main(["burn", str(DESIGN), "--json"]) == 1
        assert "the run failed" in plain(capsys.readouterr().err)

    @pytest.mark.parametrize("suffix", [".png", ".svg", ".pdf"])
    def test_plot(self, tmp_path: Path, suffix: str) -> None:
        picture = tmp_path / f"burn{suffix}"
        assert cli.main(["burn", str(DESIGN), "--plot", str(picture)]) == 0
        assert picture.stat().st_size > 1000

    @pytest.mark.parametrize("design", EXAMPLES, ids=lambda path: path.stem)
    def test_series(self, tmp_path: Path, design: Path) -> None:
        path = tmp_path / "burn.csv"
        assert cli.main(["burn", str(design), "--series", str(path)]) == 0
        with path.open(newline="", encoding="utf-8") as stream:
            rows = list(csv.DictReader(stream))
        assert len(rows) == 61
        assert float(rows[10]["time_s"]) == 100.0
        assert float(rows[10]["water_temperature_K"]) == pytest.approx(310.0)
        assert rows[10]["rim_temperature_K"] == ""  # not a number stays out
        assert ("gallery_temperature_K" in rows[0]) == (load(design).burner.kind != "open cup")

    @pytest.mark.parametrize(
        ("option", "name", "words"),
        [
            ("--plot", "burn.xyz", "not a picture format"),
            ("--plot", "burn", "not a picture format"),
            ("--plot", "none/burn.png", "no directory"),
            ("--series", "none/burn.csv", "no directory"),
            ("--series", ".", "is a directory"),
            ("--series", "burn.json", "allowed: .csv"),
        ],
    )
    def test_output_that_cannot_be_written(
        self, tmp_path: Path, capsys: pytest.CaptureFixture[str], option: str, name: str, words: str
    ) -> None:
        assert cli.main(["burn", str(DESIGN), option, str(tmp_path / name)]) == 2
        out, err = capsys.readouterr()
        assert out == ""
        assert option in err
        assert words in err

    def test_output_that_fails_while_written(self, capsys: pytest.CaptureFixture[str]) -> None:
        if not Path("/dev/full").exists():
            pytest.skip("no /dev/full here")
        assert cli.main(["burn", str(DESIGN), "--series", "/dev/full"]) == 2
        assert "cannot be written" in plain(capsys.readouterr().err)


def test_a_failing_run_is_exit_1(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    def fail(setup: Setup) -> StandIn:
        raise ArithmeticError("made up")

    monkeypatch.setattr(batches, "burn_whole", fail)
    assert cli.main(["burn", str(DESIGN)]) == 1
    out, err = capsys.readouterr()
    assert out == ""
    assert "the run failed: ArithmeticError: made up" in err


def test_bad_input_found_late_is_exit_2(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    def refuse(setup: Setup) -> StandIn:
        raise InputError("charge.fuel", "x", "made up", "made up too")

    monkeypatch.setattr(batches, "burn_whole", refuse)
    assert cli.main(["burn", str(DESIGN)]) == 2
    assert "charge.fuel" in plain(capsys.readouterr().err)


def test_warnings_are_lines_on_stderr(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    def warn(setup: Setup) -> StandIn:
        warnings.warn("beyond its range", burnsim.ValidityWarning, stacklevel=1)
        return stand_in(setup)

    monkeypatch.setattr(batches, "burn_whole", warn)
    with warnings.catch_warnings():
        warnings.simplefilter("always")
        assert cli.main(["burn", str(DESIGN), "--json"]) == 0
    out, err = capsys.readouterr()
    assert "burnsim: warning: beyond its range\n" in err
    assert json.loads(out)


def test_check_tells_what_stands_for_what_is_left_out(capsys: pytest.CaptureFixture[str]) -> None:
    """And that a wick does not hold its primer, before anything is burnt."""
    much = ("--set", "charge.primer=20 ml", "--set", "pot.water_temperature=none")
    assert cli.main(["check", str(ROOT / "examples" / "weekend_double_wall.toml"), *much]) == 0
    out = " ".join(capsys.readouterr().out.split())
    assert "water_temperature that of the air" in out
    assert "too much primer" in out
    assert "not given" not in out


@pytest.mark.parametrize("design", EXAMPLES, ids=lambda path: path.stem)
def test_check_prints_what_was_understood(design: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["check", str(design)]) == 0
    out, err = capsys.readouterr()
    assert err == ""
    setup = load(design)
    assert setup.name in out
    assert setup.charge.fuel.recipe in out
    assert "holds to the rim" in out
    for table in ("[burner]", "[charge]", "[pot]", "[site]", "[factors]"):
        assert table in out


@pytest.mark.parametrize(
    ("rest", "used"), [("full ring", set()), ("bumps", {"bumps", "gap"}), ("stand", {"gap"})],
)  # fmt: skip
def test_check_tells_what_counts_for_nothing(rest: str, used: set[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["check", str(DESIGN), "--set", f"pot.rest={rest}"]) == 0
    rows = dict(line.split(maxsplit=1) for line in capsys.readouterr().out.splitlines() if line.startswith("  "))
    assert {name for name in ("bumps", "gap") if "not used" not in rows[name]} == used


@pytest.mark.parametrize(("height", "covered"), [("11.8 mm", True), ("13 mm", False)])
def test_check_tells_of_a_wick_that_lies_over_the_jets(
    height: str, covered: bool, capsys: pytest.CaptureFixture[str]
) -> None:
    """A band of 12 mm, jets of 1 mm: their lower edge 11.3 or 12.5 mm above a floor of 0.1 mm."""
    changes = ["--set", f"burner.jets.height={height}", "--set", "burner.wick.height=12 mm"]
    assert cli.main(["check", str(DESIGN), *changes]) == 0
    assert ("wick too high" in capsys.readouterr().out) is covered


@pytest.mark.parametrize(("gap", "tall"), [("6 mm", False), ("7 mm", True)])
def test_bumps_that_cannot_be_raised_are_told(gap: str, tall: bool, capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["check", str(DESIGN), "--set", f"pot.gap={gap}"]) == 0
    assert ("bumps too tall" in capsys.readouterr().out) is tall


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"", "empty"),
        (b"what is this", "not TOML"),
        (b"\xff\xfe", "UTF-8"),
        (b"[burner]\nkind = 'open cup'\nouter_diametre = '60 mm'", "did you mean 'outer_diameter'"),
    ],
    ids=["empty", "prose", "binary", "misspelt"],
)
@pytest.mark.parametrize("command", ["burn", "check"])
def test_bad_files_are_exit_2_with_one_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], command: str, content: bytes, words: str
) -> None:
    path = tmp_path / "design.toml"
    path.write_bytes(content)
    assert cli.main([command, str(path)]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert words in err
    assert str(path) in err


def test_a_directory_and_a_missing_file_are_exit_2(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["burn", str(tmp_path)]) == 2
    assert "is a directory" in plain(capsys.readouterr().err)
    assert cli.main(["burn", str(tmp_path / "none.toml")]) == 2
    assert "does not exist" in plain(capsys.readouterr().err)


@pytest.mark.parametrize("arguments", [[], ["burn"], ["fry", "x.toml"], ["burn", "x.toml", "--jsn"]])
def test_a_wrong_command_is_exit_2(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as caught:
        cli.main(arguments)
    assert caught.value.code == 2
    assert "usage" in plain(capsys.readouterr().err)


def process(*arguments: str, **environment: str) -> "subprocess.CompletedProcess[str]":
    return subprocess.run(
        [sys.executable, "-m", "burnsim", *arguments],
        capture_output=True,
        text=True,
        check=False,
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT), "MPLBACKEND": "Agg", **environment},
    )


class TestProcess:
    """The real command, in its own process."""

    def test_version(self) -> None:
        assert process("--version").stdout.strip() == f"burnsim {burnsim.__version__}"

    def test_no_traceback_on_bad_input(self, tmp_path: Path) -> None:
        run = process("burn", str(tmp_path))
        assert run.returncode == 2
        assert run.stdout == ""
        assert "Traceback" not in run.stderr
        assert len(run.stderr.splitlines()) == 1

    def test_narrow_terminal_encoding(self, tmp_path: Path) -> None:
        path = tmp_path / "design.toml"
        path.write_text('name = "caf\N{LATIN SMALL LETTER E WITH ACUTE}"\n' + CUP.read_text().split("\n", 2)[2])
        run = process("check", str(path), PYTHONIOENCODING="ascii", PYTHONUTF8="0", LC_ALL="C")
        assert run.returncode == 0
        assert "caf\\xe9" in run.stdout

    @pytest.mark.skipif(os.name == "nt", reason="needs a POSIX shell")
    def test_a_reader_that_leaves_makes_no_noise(self) -> None:
        command = f"{sys.executable} -m burnsim check {DESIGN} | true; echo ${{PIPESTATUS[0]}}"
        for _ in range(3):
            run = subprocess.run(
                ["bash", "-c", command],
                capture_output=True,
                text=True,
                check=True,
                cwd=ROOT,
                env={**os.environ, "PYTHONPATH": str(ROOT)},
            )
            assert run.stderr == ""
            assert run.stdout.strip() in {"0", "1"}

    def test_full_disk(self) -> None:
        if not Path("/dev/full").exists():
            pytest.skip("no /dev/full here")
        with open("/dev/full", "w", encoding="utf-8") as full:
            run = subprocess.run(
                [sys.executable, "-m", "burnsim", "check", str(DESIGN)],
                stdout=full,
                stderr=subprocess.PIPE,
                text=True,
                check=False,
                cwd=ROOT,
                env={**os.environ, "PYTHONPATH": str(ROOT)},
            )
        assert run.returncode == 1
        assert "Traceback" not in run.stderr
        assert "No space" in run.stderr


@pytest.mark.parametrize("design", EXAMPLES, ids=lambda path: path.stem)
def test_every_example_burns(design: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    picture, curves = tmp_path / "burn.png", tmp_path / "burn.csv"
    assert cli.main(["burn", str(design), "--json", "--plot", str(picture), "--series", str(curves)]) == 0
    result = json.loads(capsys.readouterr().out)
    assert set(result) >= KEYS
    assert abs(result["mass_residual"]) < 1e-6
    assert abs(result["energy_residual"]) < 1e-6
    assert picture.stat().st_size > 1000
    with curves.open(newline="", encoding="utf-8") as stream:
        assert len(list(csv.DictReader(stream))) > 10


class TestPlot:
    def test_it_returns_the_axes_it_was_given(self) -> None:
        from matplotlib.figure import Figure

        ax = Figure().subplots()
        assert burnsim.plots.burn(stand_in(load(DESIGN)), ax=ax) is ax
        assert plain(ax.figure.axes[-1].get_xlabel()) == "time [min]"
        assert plain(ax.get_ylabel()) == "temperature [degC]"
        water = next(line for line in ax.get_lines() if line.get_label() == "water")
        assert np.asarray(water.get_ydata())[0] == pytest.approx(300.0 - 273.15)
        words = [plain(text.get_text()) for text in ax.texts]
        assert {"bloom 20 s", "burn-out 10 min 0 s"} <= set(words)
        assert not any(word.startswith("boil") for word in words)  # it never came
        for panel in ax.figure.axes:
            lines = [line for line in panel.get_lines() if not str(line.get_label()).startswith("_")]
            styles = [(line.get_linestyle(), line.get_marker()) for line in lines]
            assert len(styles) == len(set(styles))  # told apart without colour

    def test_without_a_pot_there_is_no_water(self) -> None:
        from matplotlib.figure import Figure

        setup = replace(load(CUP), pot=None)
        ax = burnsim.plots.burn(stand_in(setup), ax=Figure().subplots())
        labels = {line.get_label() for line in ax.get_lines()}
        assert "water" not in labels
        assert "fuel in the gallery" not in labels
