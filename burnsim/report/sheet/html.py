"""A sheet as one self-contained page of HTML: no scripts, nothing fetched, light and dark, on a phone and in print."""

import re
from colorsys import hls_to_rgb, rgb_to_hls
from datetime import date
from html import escape, unescape
from importlib.resources import files

from burnsim.plots.letters import STACK, font_css
from burnsim.report.sheet.blocks import (
    Answers,
    Block,
    Bullets,
    Fold,
    Form,
    Heading,
    Pair,
    Picture,
    Sheet,
    Table,
    Words,
    held,
)
from burnsim.report.sheet.pictures import as_svg

STACKED = 4  # columns from which a row is told line by line on a phone
DARKEST, LIGHTEST = 0.09, 0.93  # lightness on a dark screen of what is white and black on paper
COLOUR = re.compile(r"(?<=[: ])#[0-9a-f]{6}(?=[;\"])")


def html_sheet(sheet: Sheet) -> str:
    """Write a sheet as HTML."""
    body = _blocks(sheet.blocks)
    colours = sorted(set(COLOUR.findall(body)))
    body = COLOUR.sub(lambda one: f"var(--{one[0][1:]})", body)  # so that a dark screen can have others
    style = (files("burnsim.report.sheet") / "sheet.css").read_text(encoding="utf-8")
    light, dark = ("".join(f"--{one[1:]}:{shade(one)};" for one in colours) for shade in (str, dimmed))
    palette = f":root{{{light}}}\n@media screen and (prefers-color-scheme: dark){{:root{{{dark}}}}}\n"
    style = font_css(unescape(body) + sheet.title) + palette + style.replace("%s", STACK)
    return (
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        '<meta name="color-scheme" content="light dark">\n<meta name="generator" content="burnsim">\n'
        f'<meta name="dcterms.created" content="{date.today().isoformat()}">\n'
        f'<link rel="icon" href="data:,">\n<title>{escape(sheet.title)}</title>\n<style>{style}</style>\n</head>\n'
        f"<body>\n<h1>{escape(sheet.title)}</h1>\n<p>{_told(sheet.subtitle)}</p>\n{body}\n"
        f"<footer>{escape(sheet.foot[:1].upper() + sheet.foot[1:])}.</footer>\n</body>\n</html>\n"
    )


def dimmed(colour: str) -> str:
    """A colour, "#rrggbb", for a dark screen: the hue stays, light and dark change places.

    >>> dimmed("#ffffff"), dimmed("#000000")
    ('#171717', '#ededed')
    """
    red, green, blue = (int(colour[k : k + 2], 16) / 255.0 for k in (1, 3, 5))
    hue, lightness, saturation = rgb_to_hls(red, green, blue)
    turned = hls_to_rgb(hue, LIGHTEST + (DARKEST - LIGHTEST) * lightness, saturation)
    return "#" + "".join(f"{round(255.0 * part):02x}" for part in turned)


def _told(text: str) -> str:
    return escape(held(text))


def _blocks(blocks: tuple[Block, ...]) -> str:
    return "\n".join(_block(one) for one in blocks)


def _block(block: Block) -> str:
    match block:
        case Heading():
            out = f"<h2>{escape(block.text)}</h2>"
        case Words():
            out = f'<p class="small">{_told(block.text)}</p>' if block.small else f"<p>{_told(block.text)}</p>"
        case Bullets():
            tag = "ol" if block.numbered else "ul"
            out = f"<{tag}>" + "".join(f"<li>{_told(line)}</li>" for line in block.lines) + f"</{tag}>"
        case Answers():
            out = '<dl class="answers">' + "".join(_answer(*one) for one in block.answers) + "</dl>"
        case Table():
            out = _table(block)
        case Picture():
            drawn = "".join(
                f'<div class="{"narrow" if narrow else "wide"}">{as_svg(block, narrow=narrow, ground=False)}</div>'
                for narrow in (False, True)
            )
            out = f'<figure class="{block.name}" role="img" aria-label="{escape(block.alt)}">{drawn}</figure>'
        case Pair():
            sides = ((block.left, block.share), (block.right, 1.0 - block.share))
            parts = (f'<div style="flex: {100.0 * share:.0f} 1 0">{_blocks(side)}</div>' for side, share in sides)
            out = '<div class="pair">' + "".join(parts) + "</div>"
        case Form():
            out = _form(block)
        case Fold():
            out = f"<details><summary>{escape(block.heading)}</summary>\n{_blocks(block.blocks)}</details>"
        case _:
            out = '<div class="break"></div>'
    return out


def _answer(question: str, answer: str, below: tuple[str, ...]) -> str:
    lines = "".join(f'<dd class="small">{_told(line)}</dd>' for line in below)
    words = "" if answer[:1].isdigit() else ' class="words"'
    return f"<div><dt>{escape(question)}</dt><dd{words}>{_told(answer)}</dd>{lines}</div>"


def _table(table: Table) -> str:
    def kind(k: int) -> str:
        return ' class="right"' if k in table.right else ""

    head = "".join(f'<th scope="col"{kind(k)}>{escape(cell)}</th>' for k, cell in enumerate(table.head))
    heads = [f'<td{kind(k)} data-head="{escape(what)}">' for k, what in enumerate(table.head)]
    rows = "".join(
        "<tr>" + "".join(f"{tag}{_told(cell)}</td>" for tag, cell in zip(heads, row, strict=True)) + "</tr>"
        for row in table.rows
    )
    wide = ' class="stack"' if len(table.head) >= STACKED else ""
    wide += f' style="font-size: {0.85 * table.size:.3g}rem"' if table.size != 1.0 else ""
    return f'<div class="scroll"><table{wide}><thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table></div>'


def _form(form: Form) -> str:
    fields = "".join(
        f"<div><span>{escape(what)}</span><span>{_told(beside)}</span></div>" for what, beside in form.fields
    )
    head = "".join(f'<th scope="col">{escape(cell)}</th>' for cell in form.columns)
    empty = "<td></td>" * (len(form.columns) - 1)
    half = (len(form.rows) + 1) // 2
    rows = [f"<tr><td>{_told(cell)}</td>{empty}</tr>" for cell in form.rows]
    tables = "".join(
        f'<table class="form"><thead><tr>{head}</tr></thead><tbody>{"".join(part)}</tbody></table>'
        for part in (rows[:half], rows[half:])
    )
    return f'<div class="fields">{fields}</div><div class="pair forms">{tables}</div>'
