"""Folders that cannot be written, full disks and command lines that make no sense: nothing is left half-written."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from burnsim.errors import InputError
from burnsim.io.text_file import output, whole_file

ROOT = Path(__file__).parents[2]
CUP = str(ROOT / "examples" / "garden_open_cup.toml")
FULL = pytest.mark.skipif(not Path("/dev/full").exists(), reason="no full device here")


@FULL
@pytest.mark.parametrize("option", ["--series"])
def test_full_disk(option: str, ask: Any, folder: Path) -> None:
    answer = ask("burn", CUP, option, "/dev/full")
    assert answer.code == 2
    assert "No space left" in answer.err


@FULL
@pytest.mark.parametrize("words", [["check", CUP], ["check", CUP, "--json"]])
def test_full_disk_behind_stdout(words: list[str]) -> None:
    with Path("/dev/full").open("w") as full:
        run = subprocess.run(
            [sys.executable, "-m", "burnsim", *words],
            check=False,
            stdout=full,
            stderr=subprocess.PIPE,
            text=True,
            cwd=ROOT,
        )
    assert run.returncode == 1
    assert "Traceback" not in run.stderr
    assert "No space left" in run.stderr


def test_a_failure_leaves_the_old_file(folder: Path) -> None:
    path = folder / "kept.txt"
    path.write_text("old", encoding="utf-8")

    def write() -> None:
        with output("--plot", str(path)) as place:
            Path(place).write_text("half", encoding="utf-8")
            raise OSError(28, "No space left on device")

    with pytest.raises(InputError, match="No space left"):
        write()
    assert path.read_text(encoding="utf-8") == "old"
    assert [one.name for one in folder.iterdir() if "rough" in one.name] == []
    with output("--plot", str(path)) as place:
        Path(place).write_text("new", encoding="utf-8")
    assert path.read_text(encoding="utf-8") == "new"


def test_a_link_is_followed(folder: Path) -> None:
    real, link = folder / "real.txt", folder / "link.txt"
    real.write_text("old", encoding="utf-8")
    link.symlink_to(real)
    with whole_file(link) as place:
        place.write_text("new", encoding="utf-8")
    assert link.is_symlink()
    assert real.read_text(encoding="utf-8") == "new"


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="nothing is forbidden to this user")
def test_a_folder_that_cannot_be_written(ask: Any, folder: Path) -> None:
    shut = folder / "shut"
    shut.mkdir(mode=0o500)
    answer = ask("burn", CUP, "--series", str(shut / "a.csv"))
    assert answer.code == 2
    assert "permission denied" in answer.err.lower()


def test_a_process_killed_while_writing_leaves_the_old_file(folder: Path) -> None:
    path = folder / "old.csv"
    path.write_text("old", encoding="utf-8")
    code = (
        "import sys, time\nfrom burnsim.io.text_file import whole_file\n"
        "with whole_file(sys.argv[1]) as rough:\n    rough.write_text('half')\n"
        "    print('half', flush=True)\n    time.sleep(60)"
    )
    with subprocess.Popen([sys.executable, "-c", code, str(path)], stdout=subprocess.PIPE, cwd=ROOT) as run:
        assert run.stdout is not None
        assert run.stdout.readline().strip() == b"half"
        run.send_signal(signal.SIGKILL)
        run.wait(30)
    assert path.read_text(encoding="utf-8") == "old"
    for rough in folder.glob(".*rough*"):
        rough.unlink()


WORDS = st.sampled_from(
    [
        "burn",
        "check",
        "sheet",
        "template",
        "predict",
        "sweep",
        "bench",
        "fill",
        "fuels",
        "start",
        "new",
        "completion",
        "--json",
        "--plot",
        "--series",
        "--units",
        "--vary",
        "--out",
        "-o",
        "--odds",
        "--boils",
        "--prices",
        "--fuels",
        "--altitude",
        "--ambient",
        "--tilt",
        "--head",
        "--share",
        "--factors",
        "--design",
        "--kind",
        "--paper",
        "us",
        "-1",
        "nan",
        "1e999",
        "99999999999999999999",
        "",
        "=",
        "a=b",
        "--",
        "-",
        "\x00",
        "\n",
        "../..",
        "/",
        "burner.jets.count=1:1e9:1",
        "burner.jets.count=9:1:-1",
        "site.wind=nan:inf:3",
        "charge.fuel=,,,",
        "no/such.toml",
        "*.toml",
        "-h",
        "--help",
        "--version",
        "bash",
    ]
)


@settings(max_examples=250, suppress_health_check=list(HealthCheck), derandomize=True)
@given(words=st.lists(WORDS, max_size=6))
def test_command_lines_without_a_design(words: list[str], ask: Any, folder: Path) -> None:
    """None of these burns anything; all are answered at once."""
    began = time.perf_counter()
    ask(*words)
    assert time.perf_counter() - began < 20.0
    for made in folder.iterdir():
        if made.is_file() and made.suffix != ".txt":
            made.unlink()


@pytest.mark.parametrize("word", ["\n", "a\nb", "\r", "\x1b[2J", "\u2028"])
def test_what_was_typed_is_told_on_one_line(word: str, ask: Any) -> None:
    """A new line in a word must not make the message end elsewhere, nor an escape reach the terminal."""
    for words in (["burn", "burn", word], [word], ["burn", "no.toml", "--units", word]):
        answer = ask(*words)
        assert answer.code == 2
        assert repr(word)[1:-1] in answer.err.splitlines()[-1].replace("\\\\", "\\")
        assert "\x1b" not in answer.err


OPTIONS: list[list[str]] = [
    ["fill", "--tilt", "nan"],
    ["fill", "--tilt", "95"],
    ["fill", "--head", "1e999 mm"],
    ["fill", "--share", "-5 %"],
    ["fill", "--odds", "-3"],
    ["fuels", "--prices", "methanol=nan"],
    ["fuels", "--prices", "=,=,="],
    ["fuels", "--fuels", "kerosene"],
    ["fuels", "--boils", "0"],
    ["start", "--altitude", "0 m:1e9 m:1000000000"],
    ["start", "--ambient", "-400 degC"],
    ["start", "--most-primer", "nan ml"],
    ["predict", "--burns", "99999999999999999999"],
    ["predict", "--burns", "x"],
    ["predict", "--factors", CUP],
    ["predict", "--seed", "-1"],
    ["sweep", "--vary", "burner.height=1mm:2m:1000000000"],
    ["sweep", "--vary", "burner.height=1mm:nan:3"],
    ["sweep", "--vary", "__class__=1"],
    ["sweep", "--vary", "burner.height=10mm:20mm:3", "--samples", "-4"],
    ["sweep", "--vary", "burner.height=10mm,20mm", "--workers", "-4"],
    ["sweep", "--vary", "burner.height=10mm,20mm", "--out", "a.exe"],
    ["template", "-o", "a.exe"],
    ["sheet", "-o", "a.exe"],
    ["burn", "--plot", CUP],
    ["burn", "--plot", "no/such/folder/a.png"],
    ["burn", "--series", "."],
]


@pytest.mark.parametrize("words", OPTIONS, ids=" ".join)
def test_options_that_make_no_sense(words: list[str], ask: Any, folder: Path) -> None:
    command, *rest = words
    before = sorted(path.name for path in folder.iterdir())
    assert ask(command, CUP, *rest).code == 2
    assert sorted(path.name for path in folder.iterdir()) == before
