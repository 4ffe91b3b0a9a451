"""The README holds what the library does: its Python runs, its design reads, its commands and bands are right."""

import re
import tomllib
from pathlib import Path

import pytest

import burnsim
from burnsim.model.description.tables import setup_from_dict
from burnsim.report.cautions import CAUTIONS, METHANOL_CAUTION
from burnsim.units import plain

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")


def block(language: str, nth: int = 0) -> str:
    found: list[str] = re.findall(rf"```{language}\n(.*?)```", README, flags=re.DOTALL)
    return found[nth]


def test_its_python_runs(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    monkeypatch.chdir(ROOT)
    exec(compile(block("python"), "README.md", "exec"), {})
    lines = plain(capsys.readouterr().out).splitlines()
    assert len(lines) == 6
    assert all(line.split()[0] in {"20", "26", "32"} for line in lines[3:])


def test_its_design_reads() -> None:
    setup = setup_from_dict(tomllib.loads(block("toml")))
    assert setup.pot is not None
    assert setup.pot.water == pytest.approx(2 * 236.588e-6, rel=1e-4)  # US cup, NIST Handbook 44
    assert setup.charge.fuel == burnsim.blend("ethanol 95")


def test_its_note_has_the_lines_of_a_real_one() -> None:
    """Same labels in the same order; figures may move with the physics."""

    def labels(note: str) -> list[str]:
        return [re.split(r" {2,}|: ", line.strip())[0] for line in note.splitlines() if line.startswith("  ")]

    shown = block("text")
    real = plain(burnsim.burn(burnsim.load(ROOT / "examples" / "weekend_double_wall.toml")).summary())
    assert labels(shown) == labels(real)


def test_it_states_every_band() -> None:
    for name, band in burnsim.BANDS.items():
        assert re.search(rf"^\| `{name}` \| {band.low:g} to {band.high:g} \| ", README, flags=re.MULTILINE), name
        assert band.why in README


def test_it_names_every_ready_fuel() -> None:
    section = " ".join(README.partition("Ready fuels:")[2].partition("`burnsim.fuels.READY`")[0].split())
    assert set(section.replace('"', "").rstrip("; ").split(", ")) == set(burnsim.fuels.READY)


def test_it_cautions() -> None:
    text = " ".join(README.split())
    for caution in (*CAUTIONS[:2], *CAUTIONS[3:], METHANOL_CAUTION):
        assert caution in text
    assert "never in a tent, vehicle or closed room" in text


def test_its_commands_exist() -> None:
    for command in block("sh", 0).split():
        if command.startswith("examples/"):
            assert (ROOT / command).is_file()
    for path in re.findall(r"`(examples/[\w.]+)`", README):
        assert (ROOT / path).is_file()
