"""The sheet in a real browser: it fits a phone, is readable there, fetches nothing and prints cleanly."""

import json
import re
import shutil
import subprocess
from html import unescape
from pathlib import Path

import pytest

pypdf = pytest.importorskip("pypdf")

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
PHONE, SCREEN = 360, 740  # width and height of a small phone [CSS pixels]
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
const light = (name) => {
  const parts = name.match(/[0-9.]+/g).slice(0, 3).map((part) => part / 255);
  const [r, g, b] = parts.map((part) => part <= 0.03928 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4);
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
};
document.getElementById("f").onload = (event) => {
  const page = event.target.contentDocument, wide = [];
  const folded = page.querySelector("details") ? page.querySelector("details").getBoundingClientRect().top : 0;
  for (const one of page.querySelectorAll("details")) one.open = true;
  const shown = (one) => one.getBoundingClientRect().width > 0;
  for (const one of page.querySelectorAll("body *")) {
    const right = one.getBoundingClientRect().right;
    if (!one.closest(".scroll") && !one.closest("svg") && right > %d + 1) wide.push(one.tagName);
  }
  const words = [...page.querySelectorAll("p, li, td, th, dt, dd, h1, h2, summary, footer")].filter(shown);
  const small = words.map((one) => parseFloat(getComputedStyle(one).fontSize));
  const drawn = [...page.querySelectorAll("svg text")].filter(shown);
  const letters = drawn.map((one) => {
    const svg = one.closest("figure svg");
    return parseFloat(getComputedStyle(one).fontSize) * svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
  });
  const clear = [...words.map((one) => [one, "color"]), ...drawn.map((one) => [one, "fill"])].map(([one, what]) => {
    let ground = one;
    while (ground !== page.body && getComputedStyle(ground).backgroundColor === "rgba(0, 0, 0, 0)")
      ground = ground.parentElement;
    const pair = [getComputedStyle(one)[what], getComputedStyle(ground).backgroundColor].map(light);
    return (Math.max(...pair) + 0.05) / (Math.min(...pair) + 0.05);
  });
  const scrolled = [...page.querySelectorAll(".scroll")].filter((one) => one.scrollWidth > one.clientWidth + 1);
  document.body.dataset.found = JSON.stringify({
    width: page.documentElement.scrollWidth, "sticking out": wide.length, smallest: Math.min(...small),
    letters: letters.length, "least letters": Math.min(...letters), scrolled: scrolled.length,
    drawn: [...page.querySelectorAll("figure svg")].filter(shown).length, folded: folded,
    contrast: Math.min(...clear), ground: light(getComputedStyle(page.body).backgroundColor),
    charts: Math.min(...[...page.querySelectorAll("body > figure svg")].filter(shown)
      .map((one) => one.getBoundingClientRect().width / page.body.clientWidth)),
    fetched: event.target.contentWindow.performance.getEntriesByType("resource").length,
  });
};
</script></body></html>"""
DARK = "--blink-settings=preferredColorScheme=0"
FULL = 0.9  # share of the page's width that a chart takes at least


@pytest.fixture(scope="session")
def page(whole_html: str, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A sheet as a page."""
    path = tmp_path_factory.mktemp("browser") / "s.html"
    path.write_text(whole_html, encoding="utf-8")
    return path


def measured(page: Path, width: int, *options: str) -> dict[str, float]:
    """What a browser finds on a sheet of a width; no word may come on its console."""
    folder = page.parent
    (folder / "frame.html").write_text(MEASURE % (width, width), encoding="utf-8")
    run = chromium(
        f"--window-size={width},900", "--virtual-time-budget=4000", *options, "--dump-dom",
        (folder / "frame.html").as_uri(), folder=folder,
    )  # fmt: skip
    found = re.search(r'data-found="([^"]+)"', run.stdout)
    assert found, run.stdout[-500:]
    assert "CONSOLE" not in run.stderr
    read: dict[str, float] = json.loads(unescape(found[1]))
    return read


@pytest.mark.skipif(CHROMIUM is None, reason="no Chromium on this machine")
class TestBrowser:
    @pytest.mark.parametrize("options", [(), (DARK,)], ids=["light", "dark"])
    @pytest.mark.parametrize("width", [PHONE, 1280])
    def test_it_fits_and_is_readable_without_errors_or_requests(
        self, page: Path, width: int, options: tuple[str, ...]
    ) -> None:
        found = measured(page, width, *options)
        assert found["width"] <= width
        assert found["sticking out"] == 0
        assert found["smallest"] >= 12.0
        assert found["letters"] > 50  # the pictures' words are words
        assert found["least letters"] >= LEAST
        assert found["scrolled"] == 0  # no table is wider than the page
        assert found["drawn"] == 4
        assert found["fetched"] == 0
        assert found["charts"] > FULL
        assert 0 < found["folded"] <= 4 * SCREEN
        assert (found["ground"] < 0.1) == bool(options)
        assert found["contrast"] >= 4.5

    def test_it_prints_cleanly(self, page: Path, tmp_path: Path) -> None:
        printed = tmp_path / "printed.pdf"
        chromium(f"--print-to-pdf={printed}", "--no-pdf-header-footer", page.as_uri(), folder=tmp_path)
        pages = pypdf.PdfReader(printed).pages
        assert 2 <= len(pages) <= 4
        texts = [one.extract_text() for one in pages]
        assert all(len(text.split()) > 20 for text in texts)
        assert "Bench log" in texts[-1]
        assert "boils in" in texts[0]
        assert "Other fuels" in " ".join(texts)  # folds are open on paper
