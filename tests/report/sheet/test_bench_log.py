"""An empty bench log: written for a design, filled in by hand, read back."""

import re
from pathlib import Path
from typing import Any

import pytest
from burners import burnt

import burnsim
from burnsim.cli import main
from burnsim.errors import InputError
from burnsim.report.sheet.bench_log import ASKED, blank_log
from burnsim.studies.bench.conditions import MILESTONES, TABLES, TEXTS
from burnsim.studies.bench.design import apply_conditions
from burnsim.studies.bench.log import parse_bench_log, read_bench_log

EXAMPLES = sorted((Path(__file__).parents[3] / "examples").glob("*.toml"))


@pytest.fixture(scope="module", params=EXAMPLES, ids=lambda path: path.stem)
def design(request: pytest.FixtureRequest) -> burnsim.Setup:
    return burnsim.load(request.param)


@pytest.mark.parametrize("units", ["si", "us"])
def test_its_head_is_the_design(design: burnsim.Setup, units: str) -> None:
    found = burnt(design)
    text = blank_log(design, found, units)
    with pytest.raises(InputError, match="has no readings"):
        parse_bench_log(text)
    log = parse_bench_log(text.replace('#burnout = ""', "burnout = 12:00"))
    again = apply_conditions(design, log)
    assert again.charge.fuel == design.charge.fuel
    assert again.charge.volume == pytest.approx(design.charge.volume, rel=1e-4)
    assert again.site.altitude == pytest.approx(design.site.altitude, rel=1e-4, abs=1e-6)
    minutes = [row.time / 60.0 for row in log.readings]
    assert minutes == list(range(len(minutes)))
    if found.milestones.burnout.time is not None:
        assert minutes[-1] * 60.0 > found.milestones.burnout.time


def test_every_line_that_is_left_out_may_be_taken_in(design: burnsim.Setup) -> None:
    values = {
        "date": "2026-11-28", "mass": "300 g", "left": "1 ml", "used_to_boil": "10 ml", "water_mass": "1 kg",
        "water_left_mass": "0.9 kg", "pressure": "990 hPa", "match": "0:00", "bloom": "0:30", "boil": "9:00",
        "burnout": "15:00", "spill": "never", "build": "no. 2", "note": "calm",
    }  # fmt: skip
    text = blank_log(design, burnt(design))
    for key in re.findall(r"^#(\w+) = ", text, flags=re.MULTILINE):
        text = re.sub(rf"^#{key} = \"[^\"]*\"", f"{key} = {values[key]}", text, flags=re.MULTILINE)
    log = parse_bench_log(text.replace("5:00,", "5:00, 50", 1))
    assert log.burnout.time == 900.0
    assert log.build == "no. 2"


def test_the_command_writes_it_once(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "saturday.csv"
    command = ["log", str(EXAMPLES[0]), "-o", str(out)]
    assert main(command) == 0
    assert "burnsim bench" in capsys.readouterr().err
    text = out.read_text(encoding="utf-8")
    assert "Never refill a hot or lit burner" in text
    out.write_text(text.replace("2:00,", "2:00, 31.5", 1), encoding="utf-8")
    assert main(command) == 2  # what was filled in is not written over
    assert "--force" in capsys.readouterr().err
    assert read_bench_log(out).water()[0].tolist() == [120.0]
    assert main([*command, "--force"]) == 0


def test_a_filled_log_comes_into_the_sheet(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    predict = burnsim.predict

    def few(setup: burnsim.Setup, *, n: int, **rest: Any) -> Any:
        return predict(setup, n=8, **rest)

    monkeypatch.setattr("burnsim.studies.predict.prediction.predict", few)
    design = next(path for path in EXAMPLES if path.stem == "weekend_double_wall")
    log, sheet = tmp_path / "saturday.csv", tmp_path / "sheet.html"
    assert main(["log", str(design), "-o", str(log)]) == 0
    text = log.read_text(encoding="utf-8")
    for minute, told in enumerate((12, 21, 30, 39, 48, 20, 66, 75, 84)):
        text = text.replace(f"\n{minute}:00,", f"\n{minute}:00, {told}", 1)
    text = text.replace('#boil = ""', 'boil = "40:00"', 1)
    log.write_text(text, encoding="utf-8")
    assert main(["sheet", str(design), "--short", "--log", str(log), "-o", str(sheet)]) == 0
    page = sheet.read_text(encoding="utf-8")
    assert "Measured beside predicted" in page
    assert "measured less median [K]" in page
    assert ": outside" in page
    assert "is weekend double wall the design that was burnt" in page
    assert re.search(r"line \d+: 20\.0\W*°C strays far from its neighbours", page)


def test_what_is_asked_for_is_what_a_log_may_hold() -> None:
    """One list serves the form on paper and the file; a log that fills it in is read."""
    known = {*TEXTS, *(f"seen.{name}" for name in MILESTONES)}
    known |= {f"{table}.{name}" for table, names in TABLES.items() for name in names}
    assert {one.key for one in ASKED} <= known
    assert len({one.key for one in ASKED}) == len(ASKED)
    titles = [one.title for one in ASKED if one.title]
    assert len(set(titles)) == len(titles)
