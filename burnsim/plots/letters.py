"""The letters of every page and picture: one open sans, Source Sans Pro, whose figures are all of one width.

Its licence (SIL Open Font License 1.1) lets documents carry it: PDF and SVG take the letters that they show with them.
"""

from functools import lru_cache
from pathlib import Path
from typing import Any, Literal

Weight = Literal["regular", "bold", "italic"]

FAMILY = "Source Sans Pro"
STACK = f"'{FAMILY}', 'Source Sans 3', 'DejaVu Sans', Verdana, sans-serif"
"""What a page of HTML or SVG asks for, by preference."""

FILES: dict[Weight, str] = {
    "regular": "SourceSansPro-Regular.ttf",
    "bold": "SourceSansPro-Bold.ttf",
    "italic": "SourceSansPro-It.ttf",
}
CSS: dict[Weight, str] = {"regular": "font-weight:400", "bold": "font-weight:700"}
"""The weights that a page of HTML takes along."""


def face(weight: Weight = "regular") -> Path:
    """Where the file of a weight lies (TrueType).

    >>> face("bold").name
    'SourceSansPro-Bold.ttf'
    """
    import font_source_sans_pro

    return Path(font_source_sans_pro.font_directory) / FILES[weight]


@lru_cache(maxsize=1)
def known_to_matplotlib() -> None:
    """Make the weights known to matplotlib, once."""
    from matplotlib.font_manager import fontManager

    for weight in FILES:
        fontManager.addfont(face(weight))


def font_css(text: str) -> str:
    """Rules `@font-face` that carry the letters of a text, and those of plain English, with the page."""
    kept = "".join(sorted({*text, *map(chr, range(32, 127))}))
    return "".join(_rule(weight, kept) for weight in CSS)


@lru_cache(maxsize=16)
def _rule(weight: Weight, letters: str) -> str:
    from base64 import b64encode
    from io import BytesIO

    from fontTools.subset import Options, Subsetter
    from fontTools.ttLib import TTFont

    keeper: Any = Subsetter(Options(layout_features=["kern", "liga"], hinting=False, notdef_outline=True))
    keeper.populate(text=letters)
    stream = BytesIO()
    with TTFont(face(weight), recalcTimestamp=False, lazy=True) as font:  # most of its tables are left out unread
        keeper.subset(font)
        font.flavor = "woff"
        font.save(stream)
    data = b64encode(stream.getvalue()).decode("ascii")
    return f"@font-face{{font-family:'{FAMILY}';{CSS[weight]};src:url(data:font/woff;base64,{data}) format('woff')}}\n"


def text_width(text: str, size: float, weight: Weight = "regular") -> float:
    """Length of a line of words, in the unit of its size, that of the letters' em.

    >>> text_width("100", 2.0)  # figures are 0.497 em wide
    2.982
    """
    known, usual = _widths(weight)
    return size * sum(known.get(ord(letter), usual) for letter in text) / 1000.0


@lru_cache(maxsize=3)
def _widths(weight: Weight) -> tuple[dict[int, int], int]:
    from fontTools.ttLib import TTFont

    font = TTFont(face(weight))
    advances = font["hmtx"].metrics
    return {code: advances[glyph][0] for code, glyph in font.getBestCmap().items()}, advances[".notdef"][0]


def wrapped(text: str, room: float, size: float, weight: Weight = "regular") -> list[str]:
    """A text in lines that fit a room, in the unit of the size; a word that is longer is cut, no-break spaces hold.

    >>> wrapped("two short words", 8.0, 2.0)
    ['two short', 'words']
    """
    lines: list[str] = []
    for word in text.split(" "):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width(longer, size, weight) <= room:
            lines[-1] = longer
        else:
            lines.append(shortened(word, room, size, weight))
    return lines


def shortened(text: str, room: float, size: float, weight: Weight = "regular") -> str:
    """A text, or as much of its beginning as fits a room, in the unit of the size, with an ellipsis.

    >>> shortened("a very long name", 8.0, 2.0)
    'a very l…'
    """
    if text_width(text, size, weight) <= room:
        return text
    while text and text_width(text + "…", size, weight) > room:
        text = text[:-1].rstrip()
    return text + "…"


def pushed_apart(places: list[float], step: float, ceiling: float) -> list[float]:
    """Where lines of words come to stand: near their places, lowest first, a step apart or more, none above a ceiling.

    >>> pushed_apart([0.0, 1.0, 9.0], 2.0, 8.0)
    [0.0, 2.0, 8.0]
    """
    found: list[float] = []
    for place in places:
        found.append(max(place, found[-1] + step) if found else place)
    for k in range(len(found) - 1, -1, -1):
        found[k] = min(found[k], ceiling)
        ceiling = found[k] - step
    return found
