"""A sheet as one self-contained page of HTML: no scripts, nothing fetched, readable on a phone, fit to print."""

from html import escape, unescape

from burnsim.plots.letters import STACK, font_css
from burnsim.report.sheet.blocks import Block, Bullets, Form, Heading, Pair, Picture, Sheet, Table, Words
from burnsim.report.sheet.pictures import as_svg

STACKED = 4  # columns from which a row is told line by line on a phone
STYLE = """\
:root { color-scheme: light; }
* { box-sizing: border-box; }
body { margin: 0 auto; padding: 1.2rem; max-width: 60rem; color: #111; background: #fff;
  font: 1rem/1.4 %s; font-variant-numeric: tabular-nums; }
h1 { font-size: 1.5rem; margin: 0; } h2 { font-size: 1.05rem; margin: 1.3rem 0 0.4rem; border-bottom: 1px solid #111; }
p { margin: 0.4rem 0; } .small, figcaption { font-size: 0.8rem; color: #333; }
ul, ol { margin: 0.3rem 0; padding-left: 1.2rem; } li { margin: 0.15rem 0; }
.pair { display: flex; flex-wrap: wrap; gap: 0 1.5rem; } .pair > div { min-width: min(100%, 21rem); }
figure { margin: 0.5rem 0; }
figure svg { display: block; width: 100%; max-width: calc(1.4 * var(--size)); height: auto; margin: 0 auto; }
.scroll { overflow-x: auto; } table { border-collapse: collapse; width: 100%; font-size: 0.85rem; }
th, td { text-align: left; vertical-align: top; padding: 0.15rem 0.6rem 0.15rem 0; border-bottom: 1px solid #bbb; }
th { border-bottom: 1.5px solid #111; } .form td { height: 1.7rem; border: 1px solid #888; }
.fields { display: grid; grid-template-columns: repeat(auto-fill, minmax(15rem, 1fr)); gap: 0.5rem 1.2rem; }
.fields div { border-bottom: 1px solid #888; min-height: 1.7rem; display: flex; justify-content: space-between; }
.fields span:last-child { color: #333; }
@media screen and (max-width: 34rem) { .stack thead { position: absolute; left: -99rem; }
  .stack tr { display: block; padding: 0.3rem 0; border-bottom: 1.5px solid #111; }
  .stack td { display: flex; gap: 0.6rem; border-bottom: 0; padding: 0.05rem 0; }
  .stack td::before { content: attr(data-head); flex: 0 0 8.5rem; color: #333; }
  .stack td:first-child { font-weight: bold; } .stack td:first-child::before { content: none; } }
@media print { @page { margin: 12mm; } :root { font-size: 8pt; }
  body { max-width: none; padding: 0; line-height: 1.25; }
  h2 { margin-top: 0.7rem; break-after: avoid; } figure, tr, li, .pair { break-inside: avoid; }
  .pair { flex-wrap: nowrap; } .pair > div { min-width: 0; } .break { break-before: page; }
  .scroll { overflow: visible; }
  .form td { height: 5.2mm; } .fields { grid-template-columns: repeat(3, 1fr); }
  figure { margin: 0.2rem 0; } figure svg { max-width: var(--size); }
  .ledger svg, .bands svg { max-width: calc(0.78 * var(--size)); }
  th, td { padding-top: 0.05rem; padding-bottom: 0.05rem; } }
"""


def html_sheet(sheet: Sheet) -> str:
    """Write a sheet as HTML.

    Parameters
    ----------
    sheet : its blocks
    """
    body = "\n".join(_block(block) for block in sheet.blocks)
    style = font_css(unescape(body) + sheet.title) + STYLE.replace("%s", STACK)
    return (
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f'<link rel="icon" href="data:,">\n<title>{escape(sheet.title)}</title>\n<style>{style}</style>\n</head>\n'
        f"<body>\n<h1>{escape(sheet.title)}</h1>\n<p>{_told(sheet.subtitle)}</p>\n{body}\n</body>\n</html>\n"
    )


def _told(text: str) -> str:
    """A text for HTML, no number parted from its unit at the end of a line."""
    return escape(text.replace("fl oz", "fl\N{NO-BREAK SPACE}oz"))


def _block(block: Block) -> str:
    match block:
        case Heading():
            out = f"<h2>{escape(block.text)}</h2>"
        case Words():
            out = f'<p class="small">{_told(block.text)}</p>' if block.small else f"<p>{_told(block.text)}</p>"
        case Bullets():
            tag = "ol" if block.numbered else "ul"
            out = f"<{tag}>" + "".join(f"<li>{_told(line)}</li>" for line in block.lines) + f"</{tag}>"
        case Table():
            out = _table(block)
        case Picture():
            size = f"--size: {block.narrow[0]}in"
            head = f'class="{block.name}" role="img" aria-label="{escape(block.alt)}" style="{size}"'
            out = f"<figure {head}>{as_svg(block)}</figure>"
        case Pair():
            sides = ((block.left, block.share), (block.right, 1.0 - block.share))
            parts = (
                f'<div style="flex: {100.0 * share:.0f} 1 0">' + "\n".join(_block(one) for one in side) + "</div>"
                for side, share in sides
            )
            out = '<div class="pair">' + "".join(parts) + "</div>"
        case Form():
            out = _form(block)
        case _:
            out = '<div class="break"></div>'
    return out


def _table(table: Table) -> str:
    head = "".join(f'<th scope="col">{escape(cell)}</th>' for cell in table.head)
    rows = "".join(
        "<tr>"
        + "".join(
            f'<td data-head="{escape(what)}">{_told(cell)}</td>' for what, cell in zip(table.head, row, strict=True)
        )
        + "</tr>"
        for row in table.rows
    )
    wide = ' class="stack"' if len(table.head) >= STACKED else ""
    return f'<div class="scroll"><table{wide}><thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table></div>'


def _form(form: Form) -> str:
    fields = "".join(
        f"<div><span>{escape(what)}</span><span>{_told(beside)}</span></div>" for what, beside in form.fields
    )
    head = "".join(f'<th scope="col">{escape(cell)}</th>' for cell in form.columns)
    row = "<tr>" + "<td></td>" * len(form.columns) + "</tr>"
    table = f'<table class="form"><thead><tr>{head}</tr></thead><tbody>{row * form.rows}</tbody></table>'
    return f'<div class="fields">{fields}</div><p></p><div class="scroll">{table}</div>'
