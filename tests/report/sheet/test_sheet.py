"""The sheet: what it tells is what was found, in PDF (searchable) and in HTML (self-contained, in a real browser)."""

import dataclasses
import re
import warnings
from datetime import date
from html.parser import HTMLParser
from pathlib import Path
from unittest.mock import patch

import numpy as np
import pytest
from burners import burnt

import burnsim
import burnsim.solve.results.verdicts
import burnsim.studies.calibrate.posterior
from burnsim import cli, plots
from burnsim.errors import InputError
from burnsim.report.cautions import cautions
from burnsim.report.fill import relief_words
from burnsim.report.sheet import Findings, find, save_sheet
from burnsim.report.sheet.bench_log import bench_form
from burnsim.report.sheet.blocks import Block, Fold, Form, Pair, Picture, Sheet, Table
from burnsim.report.sheet.content import make_sheet
from burnsim.report.sheet.findings import SKIPPED
from burnsim.report.sheet.html import html_sheet
from burnsim.report.sheet.risks import WORDS, warnings_of
from burnsim.solve.results.verdicts import Verdict
from burnsim.studies.fill.record import FillLimits, Limit
from burnsim.studies.fill.relief import Relief
from burnsim.studies.fuels.comparison import FuelComparison
from burnsim.studies.predict.prediction import Prediction
from burnsim.units import format_time, plain

pypdf = pytest.importorskip("pypdf")

EXAMPLES = [
    path
    for path in sorted((Path(__file__).parents[3] / "examples").glob("*.toml"))
    if "[burner]" in path.read_text(encoding="utf-8")  # designs only
]


def words_of(html: str) -> str:
    class Reader(HTMLParser):
        words = ""
        off = False

        def handle_starttag(self, tag: str, attrs: object) -> None:
            self.off = tag == "style"

        def handle_data(self, data: str) -> None:
            if not self.off:
                self.words += data + " "

    reader = Reader()
    reader.feed(html)
    return " ".join(reader.words.split())


def sheet_words(sheet: Sheet) -> str:
    """What a page of HTML tells beside its pictures, which take their time to draw."""
    with patch("burnsim.report.sheet.html.as_svg", return_value=""):
        return words_of(html_sheet(sheet))


def pdf_words(data: bytes, tmp_path: Path) -> tuple[str, int]:
    path = tmp_path / "read.pdf"
    path.write_bytes(data)
    pages = pypdf.PdfReader(path).pages
    texts = [page.extract_text() for page in pages]
    assert all(len(text) > 200 for text in texts)  # no empty page
    return " ".join(" ".join(texts).split()), len(pages)


def test_every_finding_is_told_in_both_forms(
    whole: Findings, whole_pdf: bytes, whole_html: str, tmp_path: Path
) -> None:
    setup, burn = whole.burn.setup, whole.burn
    printed, pages = pdf_words(whole_pdf, tmp_path)
    assert pages == 3
    boil = burn.milestones.boil.time
    assert boil is not None
    assert isinstance(whole.prediction, Prediction)
    ends = whole.prediction.quantiles("bloom", (0.05, 0.95), of="next")
    low, high = (plain(format_time(one.value)) for one in ends)
    for words in (printed, words_of(whole_html)):
        assert setup.name in words
        assert plain(format_time(boil)) in words
        assert f"{low} to {high}" in plain(words)  # of the next burn
        assert "in 67 % of the burns" in words
        assert "in none of the burns" in words
        assert "41.0 ml" in words
        assert "no load that was looked at spills" in words
        assert (
            "Relief for 37.0 ml, the pot flat on the rim: at least 3 square notches of 1.19 mm, 4.20 mm² in all"
            in words
        )
        assert "3 notches of 3 mm × 1.5 mm" in words
        assert "2-propanol 70" in words
        assert "flame to rim" in words
        assert "0.60 1.67" in words
        assert "water, warmed" in words  # of the ledger's picture
        assert "outside Ø 62" in words  # of the drawing
        for caution in cautions([setup]):
            assert caution[:40] in words
        for verdict in burn.verdicts:
            assert plain(verdict.text)[:40] in words
        assert "Bench log" in words


@pytest.fixture(scope="module")
def whole_us(whole: Findings) -> str:
    return html_sheet(make_sheet(whole.burn.setup, whole, units="us"))


def test_us_units_throughout(whole_us: str) -> None:
    words = words_of(whole_us)
    assert "1.25 fl oz of methanol" in words  # 37 ml
    assert "68 °F" in words
    assert "1.38 fl oz" in words  # 41 ml
    assert "degC" not in words
    assert "°C" not in words
    ounces_alone = re.sub(r"fl oz \([\d.]+ ml\)", "", words)  # what to pour stands in both
    assert not re.search(r"\d ml\b", ounces_alone)


def test_what_was_not_found_is_said(whole: Findings, tmp_path: Path) -> None:
    poor = Findings(whole.burn, SKIPPED, "made up: it broke", SKIPPED, "made up: no band")
    words = sheet_words(make_sheet(whole.burn.setup, poor))
    assert "made up: it broke" in words
    assert "made up: no band" in words
    assert "third off" in words
    assert "9 next burns in 10" not in words


def flat(blocks: tuple[Block, ...]) -> tuple[Block, ...]:
    """All blocks in their order, those in pairs and folds in place of what holds them."""
    found: list[Block] = []
    for block in blocks:
        if isinstance(block, Pair):
            found += flat((*block.left, *block.right))
        elif isinstance(block, Fold):
            found += flat(block.blocks)
        else:
            found.append(block)
    return tuple(found)


def pictures(blocks: tuple[Block, ...]) -> tuple[Picture, ...]:
    """All pictures of a sheet, in their order."""
    return tuple(block for block in flat(blocks) if isinstance(block, Picture))


def test_pictures_and_form(whole: Findings) -> None:
    sheet = make_sheet(whole.burn.setup, whole)
    assert [picture.name for picture in pictures(sheet.blocks)] == ["section", "burn", "ledger", "log"]
    assert all(picture.alt for picture in pictures(sheet.blocks))
    [form] = [block for block in flat(sheet.blocks) if isinstance(block, Form)]
    assert form.columns[0] == "time"
    assert [plain(cell) for cell in form.rows[:3]] == ["0 min", "1 min", "2 min"]
    burnout = whole.burn.milestones.burnout.time
    assert burnout is not None
    assert float(plain(form.rows[-1]).split()[0]) * 60.0 > burnout
    [fuels] = [block for block in flat(sheet.blocks) if isinstance(block, Table) and block.head[0] == "fuel"]
    assert [row[0] for row in fuels.rows] == ["methanol", "2-propanol 70"]


@pytest.mark.parametrize(("units", "top"), [("si", 95.0), ("us", 203.0)])
def test_bands_of_the_water_are_drawn_in_the_units_asked_for(whole: Findings, units: str, top: float) -> None:
    from matplotlib.figure import Figure

    told = whole.prediction
    assert isinstance(told, Prediction)
    water = np.linspace(285.15, 368.15, 4) + np.zeros((9, 1))  # to 95 degC, 203 degF
    told = dataclasses.replace(told, time=np.linspace(0.0, 600.0, 4), water=water)
    sheet = make_sheet(whole.burn.setup, whole._replace(prediction=told), units=units)
    [bands] = [picture for picture in pictures(sheet.blocks) if picture.name == "bands"]
    ax = Figure().subplots()
    bands.draw(ax)
    [median] = [line for line in ax.get_lines() if line.get_label() == "median"]
    assert np.asarray(median.get_ydata())[-1] == pytest.approx(top)
    assert plain(ax.get_ylabel()) == f"water [{'degC' if units == 'si' else 'degF'}]"


def test_what_only_some_burns_bring_is_warned_of(whole: Findings) -> None:
    told = whole.prediction
    assert isinstance(told, Prediction)
    calm = dataclasses.replace(whole.burn, verdicts=())
    codes = [frozenset({"never blooms", "no boil"})] * 2 + [frozenset({"no boil"})] + [frozenset()] * 6
    struck = dataclasses.replace(told, codes=tuple(codes))
    words = sheet_words(make_sheet(calm.setup, whole._replace(burn=calm, prediction=struck)))
    assert "in 22 % of the 9 burns, the jets never light" in words
    assert "in 33 % of the 9 burns, the water does not boil" in words
    assert "Nothing to warn of" not in words
    first, second = warnings_of(calm, struck)
    assert "33 %" in first  # what strikes most burns comes first
    assert "22 %" in second
    drawn = dataclasses.replace(calm, verdicts=(Verdict("no boil", "The water does not boil: made up."),))
    assert [text[:24] for text in warnings_of(drawn, struck)] == [
        "The water does not boil:",
        "Not as drawn, but in 22 ",
    ]
    assert "not looked at" in warnings_of(calm, SKIPPED)[0]
    assert "Nothing to warn of" in warnings_of(calm, told)[0]


def test_every_verdict_that_the_model_gives_has_its_words() -> None:
    source = Path(burnsim.solve.results.verdicts.__file__).read_text(encoding="utf-8")
    codes = set(re.findall(r'(?:Verdict|_told)\(\s*"([a-z -]+)"', source))
    assert len(codes) > 10
    assert codes - set(WORDS) == {"primer runs off"}  # follows from the charge alone, whatever the factors


def test_the_bands_say_where_and_why_they_thin_out_and_end(whole: Findings) -> None:
    from matplotlib.figure import Figure

    told = whole.prediction
    assert isinstance(told, Prediction)
    time = np.linspace(0.0, 600.0, 7)
    water = np.linspace(285.15, 368.15, 7) + np.zeros((9, 1))
    water[:3, 2:] = np.nan  # a third has ended by 200 s
    water[3:6, 5:] = np.nan  # two thirds by 500 s
    ax = Figure().subplots()
    plots.prediction(dataclasses.replace(told, time=time, water=water), ax)
    title = " ".join(plain(ax.get_title()).split())  # three burns of nine never boil
    low, middle, high = (plain(format_time(one.value)) for one in told.quantiles("boil", (0.05, 0.5, 0.95), "next"))
    assert f"boils in 67 % of burns; those in {middle}, nine in ten of them in {low} to {high}" in title
    [median] = [line for line in ax.get_lines() if line.get_label() == "median"]
    assert np.asarray(median.get_xdata())[-1] == pytest.approx(400.0 / 60.0)
    [mark] = [line for line in ax.get_lines() if line.get_label() == "_some have ended"]
    assert np.asarray(mark.get_xdata()) == pytest.approx(200.0 / 60.0)
    told_of = lambda ax: " ".join(plain(ax.figure.axes[1].get_xlabel()).split())  # noqa: E731 - the panel below
    assert "33 % of the burns have ended; bands of the rest, until half have" in told_of(ax)
    ax = Figure().subplots()
    plots.prediction(dataclasses.replace(told, time=time, water=np.full((9, 7), 300.0)), ax)
    assert told_of(ax) == "time [min]"
    at_once = np.where(time < 350.0, 300.0, np.nan) + np.zeros((9, 1))
    ax = Figure().subplots()
    plots.prediction(dataclasses.replace(told, time=time, water=at_once), ax)
    assert "end where most burns have ended" in told_of(ax)


def test_the_fill_table_tells_what_the_study_tells(whole: Findings) -> None:
    setup, fill = whole.burn.setup, whole.fill
    assert isinstance(fill, FillLimits)
    assert "tilted" not in sheet_words(make_sheet(setup, whole))  # its stand is level
    leaning = dataclasses.replace(fill, setup=burnsim.vary(setup, {"site.tilt": 0.087}))
    assert "cold, tilted 4.98deg" in plain(sheet_words(make_sheet(setup, whole._replace(fill=leaning))))
    warm = Limit(
        33e-6, 37e-6, "push", "made up", "head", notes=("some burns went out",), dark="the jets went out",
        proven_to=29e-6, stayed_lit=32e-6,
    )  # fmt: skip
    warmed = dataclasses.replace(fill, burning_sealed_warm=warm)
    words = plain(sheet_words(make_sheet(setup, whole._replace(fill=warmed))))
    why = "the jets went out above 32.0 ml, before it can spill, so nothing is known of more"
    assert f"29.0 ml {why}" in words  # what is proven
    assert "33.0 ml" not in words
    answer = "Pour at most 29.0 ml (0.98 fl oz) of methanol with this pot on a level stand, because should the pot"
    assert f"{answer} close the well, {why}" in words
    assert "cold pot puts the jets out" in words
    assert "some burns went out." in words
    assert "cold pot puts" not in sheet_words(make_sheet(setup, whole))


def test_fuels_agree_with_the_study_and_what_cannot_be_has_no_column(whole: Findings) -> None:
    fuels = whole.fuels
    assert isinstance(fuels, FuelComparison)

    def table(found: Findings) -> Table:
        blocks = flat(make_sheet(found.burn.setup, found).blocks)
        [one] = [block for block in blocks if isinstance(block, Table) and block.head[0] == "fuel"]
        return one

    methanol, weak = (dict(zip(table(whole).head, row, strict=True)) for row in table(whole).rows)
    compared = fuels.to_dict()["fuels"]
    assert isinstance(compared, list)
    gone = plain(methanol["gone by the boil"])
    assert gone == f"{compared[0]['fuel_to_boil_ml']:.1f} ml"
    assert gone == "20.2 ml"  # 16 g at 0.791 g/ml
    assert plain(weak["gone by the boil"]) == "-"
    assert weak["boil"] == "never"
    cup = burnsim.load(next(path for path in EXAMPLES if "open_cup" in path.stem))
    dark = tuple(dataclasses.replace(row, bloom=None) for row in fuels.rows)
    assert "bloom" not in table(whole._replace(fuels=FuelComparison(cup, "fixed", 1, dark))).head
    unlit = FuelComparison(whole.burn.setup, "fixed", 1, dark)
    assert [row[1] for row in table(whole._replace(fuels=unlit)).rows] == ["never", "never"]


def test_relief_is_asked_of_the_study_whatever_the_pot_rests_on(monkeypatch: pytest.MonkeyPatch) -> None:
    setup = burnsim.load(next(path for path in EXAMPLES if "open_well" in path.stem))
    assert setup.pot is not None
    assert setup.pot.rest == "stand"
    told = Relief(None, None, 3e-3, 1.5e-3, 25e-6, "it never lights: made up", True, False)
    for name in ("fill.limit.find_fill_limit", "fuels.comparison.compare_fuels", "predict.prediction.predict"):
        monkeypatch.setattr(f"burnsim.studies.{name}", lambda *_, **__: "made up")
    monkeypatch.setattr("burnsim.studies.fill.relief.find_relief", lambda _, **__: told)
    found = find(setup)
    assert found.relief is told
    assert relief_words(told, "si").endswith("the pot flat on the rim: none to be had: it never lights: made up.")


def test_no_number_is_parted_from_its_unit_in_html(whole_us: str) -> None:
    cells = re.findall(r"<td[^>]*>([^<]*)</td>", whole_us)
    assert sum("fl\N{NO-BREAK SPACE}oz" in cell for cell in cells) > 5
    assert not [cell for cell in cells if re.search(r"\d (fl|ml|W|s|min|degF)\b|fl oz", cell)]


def test_an_open_cup_has_a_form_without_wick_and_jets() -> None:
    cup, wall = (burnsim.load(next(path for path in EXAMPLES if part in path.stem)) for part in ("cup", "double_wall"))

    def fields(setup: burnsim.Setup) -> list[str]:
        return [name for block in bench_form(burnt(setup)) if isinstance(block, Form) for name, _ in block.fields]

    assert set(fields(wall)) - set(fields(cup)) == {"primer on the wick", "bloom: all jets lit"}


def test_html_is_one_file_that_fetches_nothing(whole_html: str) -> None:
    html = whole_html
    urls = re.findall(r'(?:src=|href=|url\()\s*["\']?([^"\')\s>]+)', html)
    assert all(url.startswith(("#", "data:")) for url in urls), urls
    assert "<script" not in html
    assert "@import" not in html
    assert f'<meta name="dcterms.created" content="{date.today().isoformat()}">' in html
    for name in ("html", "title", "h1"):
        assert html.count(f"<{name}") == 1
    ids = re.findall(r'\bid="([^"]+)"', html)
    assert len(ids) == len(set(ids))
    targets = re.findall(r'(?:href="|url\()#([^")]+)', html)
    assert set(targets) <= set(ids)
    assert 'name="viewport"' in html


@pytest.mark.parametrize("design", [one for one in EXAMPLES if "double" not in one.stem and "well" not in one.stem],
                         ids=lambda path: path.stem)  # fmt: skip
def test_a_found_sheet_without_a_warning(design: Path, tmp_path: Path) -> None:
    """Whole sheets where few burns are enough; `.ci/run` makes those of all examples, `test_pages.py` short ones."""
    setup = burnsim.load(design)
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        findings = find(setup, burns=8)  # so few burns only widen what is said of the bands
        save_sheet(setup, tmp_path / "s.pdf", findings=findings, paper="letter")
        save_sheet(setup, tmp_path / "s.html", findings=findings, units="us")
    reader = pypdf.PdfReader(tmp_path / "s.pdf")
    box = reader.pages[0].mediabox
    assert (float(box.width), float(box.height)) == pytest.approx((612.0, 792.0), abs=0.1)
    missing = [name for name, found in findings._asdict().items() if isinstance(found, str)]
    assert missing == []  # nothing broke down
    assert len(reader.pages) == 3
    words = " ".join(" ".join(page.extract_text() for page in reader.pages).split())
    for part in ("9 next burns in 10", "Pour at most", "2-propanol 70", "What may come of it"):
        assert part in words
    assert ("Relief for" in words) == setup.burner.has_inner_wall
    assert "does not apply" not in words
    assert setup.name in words_of((tmp_path / "s.html").read_text(encoding="utf-8"))


def test_command(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    design = next(str(path) for path in EXAMPLES if "open_cup" in path.stem)
    assert cli.main(["sheet", design, "-o", str(tmp_path / "s.html"), "--short"]) == 0
    out, err = capsys.readouterr()
    assert out == ""
    assert "burning the design" in err
    assert cli.main(["sheet", design, "-o", str(tmp_path / "s.docx"), "--short"]) == 2
    assert ".html" in plain(capsys.readouterr().err)
    with pytest.raises(InputError, match="did you mean 'letter'"):
        save_sheet(burnsim.load(design), tmp_path / "s.pdf", paper="leter")


def test_a_sheet_tells_from_which_logs_its_factors_are(whole: Findings, whole_html: str) -> None:
    told = whole.prediction
    noted = dataclasses.replace(told.posterior, note="learnt from saturday.csv")
    learnt = dataclasses.replace(told, posterior=noted)
    page = html_sheet(make_sheet(whole.burn.setup, whole._replace(prediction=learnt)))
    assert "The factors were learnt from saturday.csv." in page
    assert "The factors were" not in whole_html
