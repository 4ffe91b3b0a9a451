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
CSS: dict[Weight, str] = {
    "regular": "font-weight:400",
    "bold": "font-weight:700",
    "italic": "font-weight:400;font-style:italic",
}
ASCENT, DESCENT = 0.75, 0.25
"""How far letters reach above and below their line, accents apart [em]."""


def face(weight: Weight = "regular") -> Path:
    """Where the file of a weight lies (TrueType).

    Parameters
    ----------
    weight : "regular", "bold" or "italic"

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


def font_css(text: str, weights: tuple[Weight, ...] = ("regular", "bold")) -> str:
    """Rules `@font-face` that carry the letters of a text, and those of plain English, with the page.

    Parameters
    ----------
    text : what will be shown
    weights : which of them
    """
    kept = "".join(sorted({*text, *map(chr, range(32, 127))}))
    return "".join(_rule(weight, kept) for weight in weights)


@lru_cache(maxsize=16)
def _rule(weight: Weight, letters: str) -> str:
    from base64 import b64encode
    from io import BytesIO

    from fontTools.subset import Options, Subsetter
    from fontTools.ttLib import TTFont

    font = TTFont(face(weight), recalcTimestamp=False)
    keeper: Any = Subsetter(Options(layout_features=["kern", "liga"], hinting=False, notdef_outline=True))
    keeper.populate(text=letters)
    keeper.subset(font)
    font.flavor = "woff"
    stream = BytesIO()
    font.save(stream)
    data = b64encode(stream.getvalue()).decode("ascii")
    return f"@font-face{{font-family:'{FAMILY}';{CSS[weight]};src:url(data:font/woff;base64,{data}) format('woff')}}\n"
