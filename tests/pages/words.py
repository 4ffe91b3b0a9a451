"""Where the words of a PDF's pages lie, as poppler reads them."""

import re
import shutil
import subprocess
from html import unescape
from pathlib import Path
from typing import NamedTuple

import numpy as np
import pytest

PDFTOTEXT = shutil.which("pdftotext")
ASCENT, DESCENT = 0.75, 0.25  # how far letters reach above and below their line, accents apart [em]
LEADING = 0.3  # share of a box's height that letters of one line may lend to the next


class Word(NamedTuple):
    """A word and its box, from the upper left corner of the page [points]."""

    text: str
    left: float
    top: float
    right: float
    bottom: float


class Page(NamedTuple):
    """Words of a page [points]."""

    width: float
    height: float
    words: tuple[Word, ...]

    def outside(self, margin: float = 9.0) -> list[str]:
        """Words that are nearer to the page's edge than a margin."""
        return [
            one.text for one in self.words
            if min(one.left, one.top, self.width - one.right, self.height - one.bottom) < margin
        ]  # fmt: skip

    def overlapping(self) -> list[tuple[str, str]]:
        """Pairs of words that lie upon each other."""
        left, top, right, bottom = np.array([one[1:] for one in self.words]).reshape(-1, 4).T
        height, wide = bottom - top, 0.3
        low = LEADING * np.minimum.outer(height, height)
        beside = left < right[:, None] - wide
        above = top < bottom[:, None] - low
        upon = np.argwhere(np.triu(beside & beside.T & above & above.T, 1))
        return [(self.words[one].text, self.words[other].text) for one, other in upon]


def words_of(path: Path) -> list[Page]:
    """Each page of a PDF; the test is skipped where poppler is not installed."""
    if PDFTOTEXT is None:
        pytest.skip("no pdftotext on this machine")
    text = subprocess.run([PDFTOTEXT, "-bbox", str(path), "-"], check=True, capture_output=True, text=True).stdout
    pages = []
    for head, body in re.findall(r"<page ([^>]*)>(.*?)</page>", text, flags=re.DOTALL):
        width, height = (float(value) for value in re.findall(r'="([\d.]+)"', head))
        words = (
            Word(unescape(word), *map(float, re.findall(r'="(-?[\d.]+)"', box)))
            for box, word in re.findall(r"<word ([^>]*)>(.*?)</word>", body)
        )
        pages.append(Page(width, height, tuple(words)))
    return pages
