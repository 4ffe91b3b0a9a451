"""How much may be loaded, and the relief that the load needs, as blocks of a sheet; the words are the studies'."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from burnsim.report.sheet.blocks import Block, Heading, Table, Words
from burnsim.units import told, written

if TYPE_CHECKING:
    from burnsim.report.sheet.findings import Findings
    from burnsim.studies.fill.record import FillLimits
    from burnsim.studies.fill.relief import Relief


def fill_block(findings: "Findings", units: str) -> Iterator[Block]:
    """Fill limits and relief, or in words why there are none."""
    yield Heading("How much may be loaded")
    fill, relief = findings.fill, findings.relief
    if isinstance(fill, str):
        yield Words(f"Fill limits: {fill}.", small=True)
    else:
        yield from _limits(fill, units)
    if isinstance(relief, str):
        yield Words(f"Relief: {relief}.", small=True)
    else:
        yield Words(relief_words(relief, units))


def _limits(fill: "FillLimits", units: str) -> Iterator[Block]:
    from burnsim.report.fill import kept_words, no_limit, notes, own_load, pour_words, row_name, row_words, rows

    answer = pour_words(fill, units)
    yield Words(f"{answer[0].upper()}{answer[1:]}.")
    own = own_load(fill)
    if own:
        yield Words(told(own, units))
    table = []
    for name, limit in rows(fill).items():
        load, why = row_words(limit, units)
        safe = no_limit(limit) if load is None else written(load, "volume", units)
        table.append((row_name(fill, name), safe, why))
    yield Table(("", "safe up to", "what becomes of more"), tuple(table), (1.0, 0.65, 1.7), (1,))
    yield Words(f"{kept_words(fill, units)}.", small=True)
    for note in notes(fill, units):
        yield Words(f"{note}.", small=True)


def relief_words(relief: "Relief", units: str) -> str:
    """The relief as a sentence, with the size of its notches in the units asked for."""
    load = written(relief.load, "volume", units)
    return f"Relief for {load}, the pot flat on the rim: {relief.summary(units)}."
