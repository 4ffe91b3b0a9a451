"""A template as one SVG drawing at true size."""

from collections.abc import Sequence
from html import escape
from math import fsum

from burnsim.plots.letters import STACK, font_css, wrapped
from burnsim.report.template.drawing import CUT, DRILL, FOLD, MARK, TEXT, Circle, Item, Label, Line, Piece
from burnsim.report.template.pages import LEADING, NAME, TITLE, WORDS, title_height, title_width

MARGIN, GAP = 8.0, 8.0  # round the drawing, between pieces [mm]
WIDE = 180.0  # of words, at least [mm]
STROKES = {CUT: "0.35", DRILL: "0.18", MARK: "0.13", FOLD: "0.25;stroke-dasharray:4 1 0.8 1", TEXT: "0.13"}
"""Width of each layer's lines, and their dashes if it has any [mm]."""
ANCHORS = {"left": "start", "middle": "middle", "right": "end"}


def svg_template(name: str, lines: Sequence[str], pieces: Sequence[Piece]) -> str:
    """Write the pieces below each other, one group each, in millimetres (y down, as SVG has it)."""
    wide = max([piece.width for piece in pieces] + [title_width(piece) for piece in pieces] + [WIDE])
    title = wrapped(name, wide, NAME[0], "bold")
    words = [part for line in lines for part in wrapped(line, wide, WORDS[0])]
    head = MARGIN + NAME[1] * len(title) + WORDS[1] * len(words) + GAP
    width = wide + 2.0 * MARGIN
    height = head + fsum(piece.height + title_height(piece) + GAP for piece in pieces) + MARGIN - GAP
    labels = [item.text for piece in pieces for item in piece.items if isinstance(item, Label)]
    shown = name + "".join([*lines, *(line for piece in pieces for line in piece.title), *labels])
    rules = [f".{layer}{{fill:none;stroke:#000;stroke-width:{stroke}}}" for layer, stroke in STROKES.items()]
    out = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width:.4f}mm" height="{height:.4f}mm" '
        f'viewBox="0 0 {width:.4f} {height:.4f}" font-family="{STACK}">',
        f"<title>{escape(name)}, 1 unit = 1 mm</title>",
        f"<style>{font_css(shown)}{''.join(rules)}</style>",
    ]
    y = MARGIN - 1.2
    for parts, (size, leading), weight in ((title, NAME, "bold"), (words, WORDS, "normal")):
        for part in parts:
            y += leading
            out.append(_line(MARGIN, y, part, size, weight))
    top = head
    for piece in pieces:
        out.append(f'<g id="{piece.name}">')
        foot = top + title_height(piece) + piece.height
        out += [
            _line(MARGIN, top + LEADING * (k + 1) - 0.6, line, TITLE, "normal" if k else "bold")
            for k, line in enumerate(piece.title)
        ]
        out += [_element(item, MARGIN, foot) for item in piece.items]
        out.append("</g>")
        top = foot + GAP
    return "\n".join([*out, "</svg>", ""])


def _line(x: float, y: float, text: str, size: float, weight: str) -> str:
    return f'<text x="{x:.4f}" y="{y:.4f}" font-size="{size:g}" font-weight="{weight}">{escape(text)}</text>'


def _element(item: Item, right: float, foot: float) -> str:
    """One item, its origin at (right, foot) with y down."""
    if isinstance(item, Circle):
        centre = f'cx="{right + item.x:.4f}" cy="{foot - item.y:.4f}"'
        return f'<circle class="{item.layer}" {centre} r="{item.diameter / 2.0:.4f}"/>'
    if isinstance(item, Line):
        points = " ".join(f"{right + x:.4f},{foot - y:.4f}" for x, y in item.points)
        dashed = ' stroke-dasharray="1.6 1"' if item.dashed else ""
        return f'<{"polygon" if item.closed else "polyline"} class="{item.layer}"{dashed} points="{points}"/>'
    x, y = right + item.x, foot - item.y
    turn = f' transform="rotate({-item.turn:g} {x:.4f} {y:.4f})"' if item.turn else ""
    place = f'x="{x:.4f}" y="{y:.4f}" font-size="{item.size:.3g}" text-anchor="{ANCHORS[item.align]}"'
    return f"<text {place}{turn}>{escape(item.text)}</text>"
