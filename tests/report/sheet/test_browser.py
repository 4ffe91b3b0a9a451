"""The sheet in a real browser: it fits a phone, is readable there, fetches nothing and prints cleanly."""

import re
import shutil
import subprocess
from pathlib import Path

import pytest

from burnsim.report.sheet import Findings
from burnsim.report.sheet.content import make_sheet
from burnsim.report.sheet.html import html_sheet

pypdf = pytest.importorskip("pypdf")

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
PHONE = 360  # width of a small phone [CSS pixels]
LEAST = 8.5  # size of the letters in a picture [CSS pixels]


def chromium(*arguments: str, folder: Path) -> "subprocess.CompletedProcess[str]":
    assert CHROMIUM is not None
    return subprocess.run(
        [
            CHROMIUM, "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
            "--disable-background-networking", "--disable-component-update", "--disable-sync",
            "--disable-dev-shm-usage", "--allow-file-access-from-files", "--enable-logging=stderr",
            f"--user-data-dir={folder / 'profile'}", *arguments,
        ],
        capture_output=True, text=True, timeout=120, check=True,
    )  # fmt: skip


MEASURE = """<!DOCTYPE html><html><body style="margin:0">
<iframe id="f" src="s.html" width="%d" height="900" style="border:0"></iframe><script>
document.getElementById("f").onload = (event) => {
  const page = event.target.contentDocument, wide = [];
  for (const one of page.querySelectorAll("body *")) {
    const right = one.getBoundingClientRect().right;
    if (!one.closest(".scroll") && !one.closest("svg") && right > %d + 1) wide.push(one.tagName);
  }
  const small = [...page.querySelectorAll("p, li, td, th")].map((one) => parseFloat(getComputedStyle(one).fontSize));
  const letters = [...page.querySelectorAll("svg text")].map((one) => {
    const svg = one.closest("figure svg");
    return parseFloat(getComputedStyle(one).fontSize) * svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
  });
  const scrolled = [...page.querySelectorAll(".scroll")].filter((one) => one.scrollWidth > one.clientWidth + 1);
  document.body.dataset.found = [page.documentElement.scrollWidth, wide.length, Math.min(...small), letters.length,
    Math.min(...letters), scrolled.length,
    page.querySelectorAll("figure svg").length,
    event.target.contentWindow.performance.getEntriesByType("resource").length].join(" ");
};
</script></body></html>"""


@pytest.mark.skipif(CHROMIUM is None, reason="no Chromium on this machine")
class TestBrowser:
    def test_it_fits_a_phone_without_errors_or_requests(self, whole: Findings, tmp_path: Path) -> None:
        (tmp_path / "s.html").write_text(html_sheet(make_sheet(whole.burn.setup, whole)), encoding="utf-8")
        (tmp_path / "frame.html").write_text(MEASURE % (PHONE, PHONE), encoding="utf-8")
        run = chromium(
            "--virtual-time-budget=4000", "--dump-dom", (tmp_path / "frame.html").as_uri(),
            folder=tmp_path,
        )  # fmt: skip
        found = re.search(r'data-found="([^"]+)"', run.stdout)
        assert found, run.stdout[-500:]
        width, sticking_out, smallest, letters, least, scrolled, drawn, fetched = map(float, found[1].split())
        assert width <= PHONE
        assert sticking_out == 0
        assert smallest >= 12.0
        assert letters > 50  # the pictures' words are words
        assert least >= LEAST
        assert scrolled == 0  # no table is wider than the phone
        assert drawn == 3
        assert "CONSOLE" not in run.stderr
        assert fetched == 0

    def test_it_prints_cleanly(self, whole: Findings, tmp_path: Path) -> None:
        page = tmp_path / "s.html"
        page.write_text(html_sheet(make_sheet(whole.burn.setup, whole)), encoding="utf-8")
        printed = tmp_path / "printed.pdf"
        chromium(f"--print-to-pdf={printed}", "--no-pdf-header-footer", page.as_uri(), folder=tmp_path)
        pages = pypdf.PdfReader(printed).pages
        assert 2 <= len(pages) <= 4
        texts = [one.extract_text() for one in pages]
        assert all(len(text.split()) > 20 for text in texts)
        assert "Bench log" in texts[-1]
        assert "Predicted" in texts[0]
