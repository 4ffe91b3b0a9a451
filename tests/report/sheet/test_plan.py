"""The plan: one page whose figures are the design's, and which speaks of nothing that the design lacks."""

import re
from math import pi
from pathlib import Path

import pytest
from pages.make_pages import designs
from pages.words import words_of

import burnsim
from burnsim import cli
from burnsim.errors import InputError
from burnsim.model.description import geometry
from burnsim.report.cautions import GLASS_CAUTION, METHANOL_CAUTION, PRESSURE_CAUTION, is_glass
from burnsim.report.paper import PAPERS
from burnsim.report.sheet.blocks import Block, Bullets, Pair, Table, Words
from burnsim.report.sheet.plan import GLASSWORK, make_plan
from burnsim.substances.metals import METALS
from burnsim.units import plain

pypdf = pytest.importorskip("pypdf")

DESIGNS = designs()
EXAMPLE = str(Path(__file__).parents[3] / "examples" / "weekend_double_wall.toml")


def lines_of(blocks: tuple[Block, ...]) -> list[str]:
    """Every line of tables and bullets."""
    found: list[str] = []
    for block in blocks:
        if isinstance(block, Pair):
            found += lines_of((*block.left, *block.right))
        elif isinstance(block, Table):
            found += [" | ".join(row) for row in block.rows]
        elif isinstance(block, Bullets):
            found += block.lines
    return [plain(line) for line in found]


@pytest.mark.parametrize("name", DESIGNS)
@pytest.mark.parametrize("paper", PAPERS)
def test_a_plan_is_one_page_whose_words_stay_apart(tmp_path: Path, name: str, paper: str) -> None:
    burnsim.papers.save_plan(DESIGNS[name], tmp_path / "p.pdf", paper=paper, units="us" if paper == "letter" else "si")
    [page] = words_of(tmp_path / "p.pdf")
    assert page.outside() == []
    assert page.overlapping() == []
    told = pypdf.PdfReader(tmp_path / "p.pdf").metadata
    assert told is not None
    assert told.title == f"{DESIGNS[name].name}: plan"
    assert told.creation_date is not None
    assert told.creation_date.year >= 2026


def test_a_plan_sends_its_reader_to_the_warnings_of_the_burn() -> None:
    """It burns nothing, and so warns of no pressure, no lack of air and no quench."""
    words = [block.text for block in make_plan(DESIGNS["weekend_double_wall"]).blocks if isinstance(block, Words)]
    assert any("read what burnsim burn warns of before you build" in text for text in words)


def test_figures_are_the_designs() -> None:
    lines = lines_of(make_plan(DESIGNS["weekend_double_wall"]).blocks)
    assert "cup | Ø 62.00 mm x 45.10 mm high | a cup of aluminium, 0.10 mm" in lines
    flat, wick = pi * (62.0 - 2 * 0.1 - 2 * 4.5 - 0.1), pi * (62.0 + 2.0)  # bent about the middle of the sheet
    assert any(line.startswith("inner wall") and f"flat {flat:.2f} mm" in line for line in lines)
    assert any(line.startswith("primer wick") and f"{wick:.2f} mm x 12.00 mm" in line for line in lines)
    assert "jets | 39.10 mm | 39.00 mm" in lines
    room = pi / 4.0 * (61.8**2 - 52.8**2 + 52.6**2) * 38.5 * 1e-3  # gallery and well up to the jets [ml]
    assert any(f"about {room:.0f} ml reach" in line for line in lines)
    fewer = burnsim.vary(DESIGNS["weekend_double_wall"], {"burner.jets.count": 17, "burner.jets.diameter": "1.2 mm"})
    assert any("17 jets of Ø 1.20 mm" in line for line in lines_of(make_plan(fewer).blocks))


def test_a_first_burn_loads_what_stays_in_the_burner(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Of 125 ml some runs out before the match, as the burn itself says: neither plan nor check may pass that over."""
    over = burnsim.vary(DESIGNS["weekend_double_wall"], {"charge.volume": "125 ml", "charge.primer": "20 ml"})
    assert "fire at the foot" in [verdict.code for verdict in burnsim.burn(over).verdicts]
    [line] = [line for line in lines_of(make_plan(over).blocks) if line.startswith("First burn")]
    load, primer = map(float, re.findall(r"([\d.]+) ml (?:of|more)", line)[:2])
    assert "Not the 125.0 ml of the design" in line
    tried = burnsim.burn(burnsim.vary(over, {"charge.volume": f"{load} ml", "charge.primer": f"{primer} ml"}))
    assert {"spills", "fire at the foot", "primer runs off"}.isdisjoint(verdict.code for verdict in tried.verdicts)
    assert load == pytest.approx(0.25 * 125.0, abs=0.1)
    brim = burnsim.vary(over, {"charge.volume": "125 ml", "burner.jets.height": "8 mm"})
    [line] = [line for line in lines_of(make_plan(brim).blocks) if line.startswith("First burn")]
    load = float(re.search(r"([\d.]+) ml of", line)[1])
    assert load * 1e-6 < geometry.capacity_below_jets(brim.burner) < 0.25 * 125e-6
    over.save(tmp_path / "over.toml")
    for path, more in ((str(tmp_path / "over.toml"), True), (EXAMPLE, False)):
        assert cli.main(["check", path]) == 0
        assert ("too much fuel" in capsys.readouterr().out) is more


def test_water_that_tries_a_burner_comes_up_to_its_lowest_opening(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Jets begin at 38.5 mm of 45 mm; a notch of 10 mm lies below them, and holds 35/45 of what the rim does."""
    notches = {"count": 3, "width": "3 mm", "depth": "1.5 mm"}
    base = DESIGNS["weekend_double_wall"]
    for depth, share, where in (("1.5 mm", 38.5 / 45.0, "the lowest jets"), ("10 mm", 35.0 / 45.0, "the notches")):
        setup = burnsim.vary(base, {"burner.relief": notches | {"depth": depth}})
        steps = lines_of(make_plan(setup).blocks)
        [line] = [line for line in steps if line.startswith("Pour in water")]
        assert f"reach {where}. Nothing may seep out below." in line
        held = float(re.search(r"about ([\d.]+) ml", line)[1]) * 1e-6
        assert held == pytest.approx(share * geometry.capacity(setup.burner), abs=0.6e-6)
        assert "Close the gallery at the rim, round the notches too: vapour may leave by the jets alone." in steps
        setup.save(tmp_path / "notched.toml")
        assert cli.main(["check", str(tmp_path / "notched.toml")]) == 0
        assert ("notches too deep" in capsys.readouterr().out) is (depth == "10 mm")


def test_no_wick_is_tied_over_the_jets() -> None:
    low = burnsim.vary(DESIGNS["weekend_double_wall"], {"burner.jets.height": "8 mm", "charge.volume": "10 ml"})
    [line] = [line for line in lines_of(make_plan(low).blocks) if line.startswith("Tie the wick")]
    assert line.endswith("Lower than drawn, or it lies over the jets.")
    assert "Lower than drawn" not in " ".join(lines_of(make_plan(DESIGNS["weekend_double_wall"]).blocks))


@pytest.mark.parametrize("name", DESIGNS)
def test_a_plan_speaks_of_what_is_there(name: str) -> None:
    setup = DESIGNS[name]
    burner, lines = setup.burner, lines_of(make_plan(setup).blocks)
    text = " ".join(line for line in lines if line != plain(PRESSURE_CAUTION))
    for word, there in (
        ("jets", burner.jets is not None), ("slots", burner.feed_slots is not None), ("wick", burner.wick is not None),
        ("notches", burner.relief is not None), ("plug", not burner.has_well), ("inner wall", burner.has_inner_wall),
    ):  # fmt: skip
        assert (word in text) == there, word
    assert (plain(PRESSURE_CAUTION) in lines) == burner.has_gallery
    assert (plain(METHANOL_CAUTION) in lines) == ("methanol" in setup.charge.fuel.components)


@pytest.mark.parametrize(
    ("changes", "burner", "any_glass"),
    [({"burner.metal": "glass"}, True, True), ({"pot.metal": "glass"}, False, True), ({}, False, False)],
)
def test_glass_is_cautioned_of(changes: dict[str, object], burner: bool, any_glass: bool) -> None:
    lines = lines_of(make_plan(burnsim.vary(DESIGNS["weekend_double_wall"], changes)).blocks)
    assert (plain(GLASSWORK) in lines) == burner
    assert (plain(GLASS_CAUTION) in lines) == any_glass


@pytest.mark.parametrize("name", sorted(METALS))
def test_metals_are_told_from_glass(name: str) -> None:
    assert is_glass(name) == (name == "glass")


def test_us_units_are_fractions_and_drill_numbers() -> None:
    text = " ".join(lines_of(make_plan(DESIGNS["inches"], "us").blocks))
    assert "cup | Ø 2 5/8 in" in text
    assert "#65" in text
    assert not re.search(r"\d mm apart", text)


def test_command(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for ending in ("pdf", "html"):
        target = tmp_path / f"p.{ending}"
        assert cli.main(["plan", EXAMPLE, "-o", str(target), "--units", "us", "--paper", "letter"]) == 0
        assert target.stat().st_size > 10_000
    assert "<ol>" in (tmp_path / "p.html").read_text(encoding="utf-8")
    assert cli.main(["plan", EXAMPLE, "-o", str(tmp_path / "p.txt")]) == 2
    assert ".pdf" in capsys.readouterr().err
    with pytest.raises(InputError, match="letter"):
        burnsim.papers.save_plan(DESIGNS["small"], tmp_path / "p.pdf", paper="leter")
    with pytest.raises(InputError, match=r"\.html"):
        burnsim.papers.save_plan(DESIGNS["small"], tmp_path / "p.svg")
