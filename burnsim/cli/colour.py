"""Colour on a terminal: only there, and never when NO_COLOR asks for none (no-color.org) or the terminal is dumb."""

import os
import re
from typing import TextIO

STYLES = {"bold": "1", "red": "31", "yellow": "33", "dim": "2"}
SECTION = re.compile(r"^(?! )(?P<words>[A-Z][^.:]*)$", re.MULTILINE)  # a line of words that heads a block


def wants_colour(stream: TextIO) -> bool:
    """Whether a stream is a terminal whose user has not refused colour."""
    if os.environ.get("NO_COLOR") or os.environ.get("TERM") == "dumb":
        return False
    try:
        return stream.isatty()
    except (AttributeError, ValueError):
        return False


def painted(text: str, style: str, stream: TextIO) -> str:
    """A text in a style, if the stream takes colour."""
    return f"\x1b[{STYLES[style]}m{text}\x1b[0m" if wants_colour(stream) else text


def with_headings(text: str, stream: TextIO) -> str:
    """A note whose headings are bold, if the stream takes colour."""
    if not wants_colour(stream):
        return text
    return SECTION.sub(lambda match: painted(match["words"], "bold", stream), text)
