"""The pages of a sheet: three, each full, words apart and inside, and no residual of the solver on them."""

import re
from pathlib import Path

import pytest
from burners import burnt
from pages.make_pages import designs, units_of
from pages.words import words_of

from burnsim.report.paper import PAPERS
from burnsim.report.sheet import Findings
from burnsim.report.sheet.content import make_sheet
from burnsim.report.sheet.findings import SKIPPED
from burnsim.report.sheet.pdf import pdf_sheet

pypdf = pytest.importorskip("pypdf")

FULL = 0.88  # of a page's height, at which its last words stand at least


def check(path: Path) -> None:
    pages = words_of(path)
    assert len(pages) == 3
    for k, page in enumerate(pages, 1):
        assert page.outside() == []
        assert page.overlapping() == []
        assert " ".join(word.text for word in page.words).endswith(f"page {k} of 3")
        body = [word for word in page.words if word.bottom < page.height - 36.0]  # without the foot
        assert max(word.bottom for word in body) > FULL * page.height
    text = " ".join(word.text for page in pages for word in page.words)
    assert not re.search(r"\de[-−]\d", text)
    assert not re.search(r"residual|ledgers close|unaccounted", text)


def test_a_whole_sheet(whole: Findings, whole_pdf: bytes, tmp_path: Path) -> None:
    letter = pdf_sheet(make_sheet(whole.burn.setup, whole, units="us"), PAPERS["letter"])
    for data in (whole_pdf, letter):
        (tmp_path / "s.pdf").write_bytes(data)
        check(tmp_path / "s.pdf")


@pytest.mark.parametrize("name", designs())
def test_every_design(name: str, tmp_path: Path) -> None:
    setup = designs()[name]
    units = units_of(name)
    short = Findings(burnt(setup), SKIPPED, SKIPPED, SKIPPED)
    sheet = make_sheet(setup, short, units=units)
    (tmp_path / "s.pdf").write_bytes(pdf_sheet(sheet, PAPERS["letter" if units == "us" else "a4"]))
    check(tmp_path / "s.pdf")


def test_what_the_file_says_of_itself(whole: Findings, whole_pdf: bytes, tmp_path: Path) -> None:
    (tmp_path / "s.pdf").write_bytes(whole_pdf)
    reader = pypdf.PdfReader(tmp_path / "s.pdf")
    assert reader.metadata.title == whole.burn.setup.name
    assert reader.metadata.creation_date.year > 2000
    pictures = [form.get_object() for page in reader.pages for form in page["/Resources"]["/XObject"].values()]
    holders = [*reader.pages, *pictures]
    fonts = [font.get_object() for one in holders for font in one["/Resources"]["/Font"].values()]
    assert {font["/Subtype"] for font in fonts} == {"/TrueType", "/Type0"}  # of the pages, and of the pictures
    for font in fonts:
        inner = font["/DescendantFonts"][0].get_object() if "/DescendantFonts" in font else font
        assert "SourceSans" in inner["/BaseFont"]
        assert "/FontFile2" in inner["/FontDescriptor"].get_object()  # a TrueType subset
        assert re.match(r"/[A-Z]{6}\+", font["/BaseFont"])
