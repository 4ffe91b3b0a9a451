"""A pour card as a page, to be read at arm's length: a table for each spirit and altitude."""

import os
from collections.abc import Iterator

from burnsim.report.cautions import cautions
from burnsim.report.fields import water_text
from burnsim.report.fill import kept_words
from burnsim.report.paper import PAGES, whereto
from burnsim.report.pour import LESS, cells, components, heads, meaning, reasons, short
from burnsim.report.sheet.blocks import Block, Bullets, Heading, Sheet, Table, Words
from burnsim.report.sheet.write import save_pages
from burnsim.studies.fill.card import PourCard, PourPlace
from burnsim.units import written

LETTERS = (0.8, 2.4)  # least and largest, as a share of those of a sheet
LARGER = 1.5  # letters of the tables, as a share of what is usual in a table


def save_pour_card(card: PourCard, path: str | os.PathLike[str], *, units: str = "si", paper: str = "a4") -> None:
    """Write a pour card as a page to hang beside the burner.

    Parameters
    ----------
    card : of `burnsim.fill.make_pour_card`
    path : where to; ends in .pdf or .html (one file that holds everything)
    units : "si" or "us"
    paper : "a4" or "letter", for PDF

    Raises
    ------
    InputError
        For another ending, paper or system of units.
    """
    target, size = whereto(path, PAGES, paper)
    save_pages(make_card(card, units), target, size)


def make_card(card: PourCard, units: str = "si") -> Sheet:
    """Put a card together: one page of large letters."""
    setup = card.setup
    name = setup.name or "burner"
    parts = [f"{setup.burner.kind}, {setup.burner.metal}"]
    if setup.pot is not None:
        parts.append(f"for {water_text(setup.pot.water, units)} of water, {'lid on' if setup.pot.lid else 'no lid'}")
    blocks: tuple[Block, ...] = (
        *_tables(card, units),
        Words(meaning(card)),
        Heading("Why no more"),
        Bullets(tuple(reasons(card, units, short=True))),
        Words(f"{kept_words(card.places[0].limits[0], units)}. {LESS}", small=True),
        Heading("Cautions"),
        Bullets(cautions([setup], components(card))),
    )
    return Sheet(f"{name}: what to pour", "; ".join(parts), blocks, letters=LETTERS)


def _tables(card: PourCard, units: str) -> Iterator[Block]:
    """Primer, charge and largest loads in air of every temperature: a table for each spirit and altitude."""
    groups: dict[str, list[PourPlace]] = {}
    for place in card.places:
        site = place.setup.site
        title = f"{place.setup.charge.fuel.name}, at {written(site.altitude, 'altitude', units)}"
        groups.setdefault(title, []).append(place)
    head = heads(card, units)
    bare = {"spirit", "altitude"}  # stand in the heading
    if card.setup.pot is None:
        bare |= {"water", "boils on"}
    if card.setup.burner.wick is None:
        bare.add("primer")
    kept = [k for k, what in enumerate(head) if what not in bare]
    starred = False
    for title, places in groups.items():
        rows = [tuple(cells(card, place, units)[k] for k in kept) for place in places]
        starred = starred or any("*" in cell for row in rows for cell in row)
        yield Heading(title)
        named = tuple(head[k] for k in kept)
        columns = zip(*rows, strict=True)
        widths = tuple(3.0 + max(map(len, (*cell, *what.split()))) for what, cell in zip(named, columns, strict=True))
        yield Table(named, tuple(rows), widths, tuple(range(len(kept))), LARGER)
    if starred:
        yield Words(f"* {short(card)}.")
