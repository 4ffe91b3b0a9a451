"""A template as one SVG drawing at true size."""

from html import escape
from math import fsum
from typing import TYPE_CHECKING

from burnsim.plots.letters import STACK, font_css
from burnsim.report.template.drawing import CUT, DRILL, FOLD, GUIDE, SCALE, TEXT, Circle, Item, Label, Line, Piece

if TYPE_CHECKING:
    from collections.abc import Sequence

MARGIN, GAP, TITLE = 8.0, 8.0, 5.0  # round the drawing, between pieces, of a piece's title [mm]
STROKES = {CUT: (0.35, ""), DRILL: (0.18, ""), GUIDE: (0.13, "1.6 1.0"), FOLD: (0.25, "4 1 0.8 1")}
STROKES |= {TEXT: (0.13, ""), SCALE: (0.3, "")}
"""Width of each layer's lines and their dashes [mm]."""
ANCHORS = {"left": "start", "middle": "middle", "right": "end"}


def svg_template(name: str, lines: "Sequence[str]", pieces: "Sequence[Piece]") -> str:
    """Write the pieces below each other, one group each, in millimetres (y down, as SVG has it).

    Parameters
    ----------
    name : of the design
    lines : words under the name
    pieces : what to draw
    """
    head = MARGIN + 8.0 + 4.2 * len(lines)
    longest = max([len(line) for line in lines] + [1]) * 1.55
    width = max([piece.width for piece in pieces] + [longest]) + 2.0 * MARGIN
    height = head + fsum(piece.height + TITLE + GAP for piece in pieces) + MARGIN
    out = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width:.4f}mm" height="{height:.4f}mm" '
        f'viewBox="0 0 {width:.4f} {height:.4f}" font-family="{STACK}">',
        f"<title>{escape(name)}: drilling template, 1 unit = 1 mm</title>",
        _style(name + "".join(lines)),
        f'<text x="{MARGIN}" y="{MARGIN + 4}" font-size="4.5" font-weight="bold">'
        f"{escape(name)}: drilling template</text>",
    ]
    out += [
        f'<text x="{MARGIN}" y="{MARGIN + 10 + 4.2 * k:.2f}" font-size="2.8">{escape(line)}</text>'
        for k, line in enumerate(lines)
    ]
    top = head
    for piece in pieces:
        out.append(
            f'<g id="{piece.name}"><text x="{MARGIN}" y="{top + 3:.4f}" font-size="3">{escape(piece.title)}</text>'
        )
        foot = top + TITLE + piece.height
        out += [_element(item, MARGIN, foot) for item in piece.items]
        out.append("</g>")
        top = foot + GAP
    return "\n".join([*out, "</svg>", ""])


def _style(text: str) -> str:
    rules = [font_css(text)]
    for layer, (width, dash) in STROKES.items():
        dashes = f";stroke-dasharray:{dash}" if dash else ""
        rules.append(f".{layer}{{fill:none;stroke:#000;stroke-width:{width}{dashes}}}")
    return "<style>" + "".join(rules) + "</style>"


def _element(item: Item, right: float, foot: float) -> str:
    """One item, its origin at (right, foot) with y down."""
    if isinstance(item, Circle):
        centre = f'cx="{right + item.x:.4f}" cy="{foot - item.y:.4f}"'
        return f'<circle class="{item.layer}" {centre} r="{item.diameter / 2.0:.4f}"/>'
    if isinstance(item, Line):
        points = " ".join(f"{right + x:.4f},{foot - y:.4f}" for x, y in item.points)
        return f'<{"polygon" if item.closed else "polyline"} class="{item.layer}" points="{points}"/>'
    return _words(item, right + item.x, foot - item.y)


def _words(label: Label, x: float, y: float) -> str:
    turn = f' transform="rotate({-label.turn:g} {x:.4f} {y:.4f})"' if label.turn else ""
    return (
        f'<text x="{x:.4f}" y="{y:.4f}" font-size="{label.size:.3g}" text-anchor="{ANCHORS[label.align]}"{turn}>'
        f"{escape(label.text)}</text>"
    )
