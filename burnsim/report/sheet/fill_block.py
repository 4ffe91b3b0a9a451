"""How much may be loaded, and the relief that the load needs, as blocks of a sheet; the words are the studies'."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from burnsim.report.sheet.blocks import Block, Heading, Table, Words
from burnsim.units import told, written
from burnsim.units.writing import shown

if TYPE_CHECKING:
    from burnsim.report.sheet.findings import Findings
    from burnsim.studies.fill.record import FillLimits, Limit
    from burnsim.studies.fill.relief import Relief


def fill_block(findings: "Findings", units: str) -> Iterator[Block]:
    """Fill limits and relief, or in words why there are none.

    Parameters
    ----------
    findings : of a design
    units : "si" or "us"
    """
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
    from burnsim.report.fill import NAMES, limits, no_limit, own_load, safe_words, sealed_note

    named = limits(fill)
    rows = []
    for name, limit in named.items():
        label = NAMES[name]
        if name == "cold_tilted":
            label += f" {shown(fill.tilt, 'angle', digits=3)}"
        safe = no_limit(limit) if limit.volume is None else written(limit.volume, "volume", units)
        rows.append((label, safe, told(limit.reason, units) + _doubt(limit, units)))
    safe = "none" if fill.safe is None else written(fill.safe, "volume", units)
    label, why = safe_words(fill)
    rows.append((label, safe, why))
    yield Table(("", "safe up to", "what spills first"), tuple(rows), (1.1, 0.7, 1.5))
    own = own_load(fill)
    if own:
        yield Words(told(own, units))
    yield Words(f"Margin kept: {told(fill.margin.in_words(), units)}.", small=True)
    if fill.burning_sealed_warm is not None:
        yield Words(sealed_note(fill.burning_sealed_warm))
    noted: dict[str, list[str]] = {}
    for name, limit in named.items():
        for note in limit.notes:
            noted.setdefault(note, []).append(NAMES[name])
    for note, names in noted.items():
        yield Words(f"{', '.join(names).capitalize()}: {told(note, units)}.", small=True)


def _doubt(limit: "Limit", units: str) -> str:
    """Above which load the limit is unproven, because burns went out."""
    if not limit.dark:
        return ""
    above = "" if limit.proven is None else f" above {written(limit.proven, 'volume', units)}"
    return f"; unproven{above}: {limit.dark}"


def relief_words(relief: "Relief", units: str) -> str:
    """The relief as a sentence, with the size of its notches in the units asked for.

    Parameters
    ----------
    relief : of `relief_needed`
    units : "si" or "us"
    """
    load = written(relief.load, "volume", units)
    return f"Relief for {load}, the pot flat on the rim: {relief.summary(units)}."
