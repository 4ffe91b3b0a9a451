"""README and guide hold what the library does: their Python runs, their design reads, commands and bands are right."""

import re
import tomllib
from pathlib import Path

import pytest

import burnsim
from burnsim.model.description.setup import Setup
from burnsim.report.cautions import CAUTIONS, METHANOL_CAUTION
from burnsim.studies.bench.columns import KINDS
from burnsim.studies.bench.conditions import MILESTONES, TABLES, TEXTS
from burnsim.studies.bench.log import parse_bench_log
from burnsim.units import plain

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
GUIDE = (ROOT / "examples" / "README.md").read_text(encoding="utf-8")


def block(language: str, page: str = README) -> str:
    found: list[str] = re.findall(rf"```{language}\n(.*?)```", page, flags=re.DOTALL)
    return found[0]


def test_its_python_runs(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    monkeypatch.chdir(ROOT)
    exec(compile(block("python"), "README.md", "exec"), {})
    lines = plain(capsys.readouterr().out).splitlines()
    assert len(lines) == 6
    assert all(line.split()[0] in {"20", "26", "32"} for line in lines[3:])


def test_its_design_reads() -> None:
    setup = Setup.from_dict(tomllib.loads(block("toml", GUIDE)))
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
        assert re.search(rf"^\| `{name}` \| {band.low:g} to {band.high:g} \| ", GUIDE, flags=re.MULTILINE), name
        assert band.why in GUIDE


def test_it_states_every_correlation() -> None:
    for (name, other), one in burnsim.calibration.CORRELATIONS.items():
        words = f"`{name}` and `{other}` are drawn together, with a correlation of {one.value:.2f} "
        assert words in " ".join(GUIDE.split()), name


def test_the_guide_tells_how_often_bands_held_as_predictions_do() -> None:
    held = tomllib.loads((ROOT / "burnsim" / "report" / "coverage.toml").read_text(encoding="utf-8"))
    cells = [", ".join(map(str, held[band])) + " %" for band in ("mean", "next", "another")]
    assert f"| {' | '.join(cells)} |" in plain(GUIDE)
    assert f"| of {held['benches']} benches," in GUIDE


def test_the_guide_tells_every_key_of_a_bench_log() -> None:
    table = GUIDE.partition("| key | what it holds |")[2].partition("\n\n")[0]
    keys = {f"{name}.{key}" for name, items in TABLES.items() for key in items}
    keys |= {f"seen.{key}" for key in MILESTONES} | {f"columns.{key}" for key in KINDS} | {"clock.match", *TEXTS}
    assert set(re.findall(r"`([a-z_.]+)`", "".join(row.split("|")[1] for row in table.splitlines()[1:] if row))) == keys
    log = parse_bench_log(block("", GUIDE.partition("## What did the bench say?")[2]))
    assert log.boil.time == 560.0
    assert log.conditions.water_volume == pytest.approx(2 * 236.588e-6, rel=1e-4)


def test_it_names_every_ready_fuel() -> None:
    section = " ".join(GUIDE.partition("Ready fuels:")[2].partition("`burnsim.fuels.READY`")[0].split())
    assert set(section.replace('"', "").rstrip("; ").split(", ")) == set(burnsim.fuels.READY)


def test_it_cautions() -> None:
    text = " ".join(README.split())
    for caution in (*CAUTIONS[:2], *CAUTIONS[3:], METHANOL_CAUTION):
        assert caution in text
    assert "never in a tent, vehicle or closed room" in text


def test_its_commands_exist() -> None:
    for command in block("sh").split():
        if command.startswith("examples/"):
            assert (ROOT / command).is_file()
    for path in re.findall(r"`(examples/[\w.]+)`", README):
        assert (ROOT / path).is_file()


def test_it_is_short_and_the_guide_shows_what_is_there() -> None:
    assert len(README.splitlines()) <= 200
    for page, folder in ((README, ROOT), (GUIDE, ROOT / "examples")):
        for path in re.findall(r"\]\(([\w./-]+)(?:#[\w-]+)?\)", page):
            assert (folder / path).is_file(), path
    titles = [line.lstrip("# ") for line in GUIDE.splitlines() if line.startswith("#")]
    headings = {re.sub(r"[^\w -]", "", title).lower().replace(" ", "-") for title in titles}
    for anchor in re.findall(r"\]\(#([\w-]+)\)", GUIDE):
        assert anchor in headings, anchor
    for script in re.findall(r"`(\w+\.py)`", GUIDE):
        assert (ROOT / "examples" / script).is_file(), script
