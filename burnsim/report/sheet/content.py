"""The content of a sheet: the design to scale, its prediction, limits, fuels, ledger, doubts, cautions and a form."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from burnsim import plots
from burnsim.model.description.factors import BANDS
from burnsim.report.burn import poured
from burnsim.report.cautions import cautions
from burnsim.report.fields import site_text, water_text
from burnsim.report.sheet.bench_form import bench_form
from burnsim.report.sheet.blocks import Block, Break, Bullets, Heading, Pair, Picture, Sheet, Table, Words
from burnsim.report.sheet.fill_block import fill_block
from burnsim.report.sheet.findings import SKIPPED, Findings
from burnsim.report.sheet.risks import warnings_of
from burnsim.units import format_time, told, written
from burnsim.units.writing import with_unit

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from burnsim.model.description.setup import Setup
    from burnsim.solve import Burn
    from burnsim.solve.results.milestones import Milestone

ASSUMPTIONS = (
    "One temperature for each compartment, one for the rim; one ring of equal jets; sheet metal as thick as drawn.",
    "Burner and fuel start at the charge's temperature, pot and water at that of the water; the match comes at 0 s.",
    "Not modelled: soot and carbon monoxide, screens and draughts, dents, leaks of seams, ice and snow in the pot.",
)
DASH = "-"  # where there is no figure


def make_sheet(setup: "Setup", findings: Findings, *, units: str = "si") -> Sheet:
    """Put a sheet together.

    Parameters
    ----------
    setup : the design
    findings : from `find`
    units : "si" or "us"

    Returns
    -------
    Sheet
    """
    burn = findings.burn
    name = setup.name or "Burner"
    section = Picture(
        "section",
        f"Cross-section of {name} to scale, with its measures",
        lambda ax: plots.section(setup, ax, dimensions=True, units=units),
        3.8,
        3.7,
        (3.1, 3.3),
    )
    curves = Picture(
        "burn",
        f"Temperatures, power and fuel left over the burn of {name}",
        lambda ax: plots.burn(burn, ax, units=units),
        5.8,
        3.1,
        (3.5, 3.4),
    )
    heat = Picture(
        "ledger",
        f"Where the heat of the charge of {name} goes",
        lambda ax: plots.ledger(burn, ax, title=""),
        4.6,
        3.0,
        (3.6, 3.6),
    )
    blocks: tuple[Block, ...] = (
        Pair((Heading("The design, to scale"), section), tuple(_predicted(findings, units)), 0.54),
        curves,
        Heading("What to know about this burn"),
        Bullets(tuple(told(text, units) for text in warnings_of(burn, findings.prediction))),
        Heading("Cautions"),
        Bullets(cautions(setup.burner.has_gallery, setup.charge.fuel.components)),
        Pair((Heading("Where the heat goes"), heat), tuple(fill_block(findings, units)), 0.55),
        *_fuels(findings, units),
        *_doubts(findings, units),
        *_measured(findings, units),
        *_factors(setup),
        Break(),
        *bench_form(setup, units),
    )
    return Sheet(name, _subtitle(setup, units), blocks)


def _subtitle(setup: "Setup", units: str) -> str:
    burner, charge, pot = setup.burner, setup.charge, setup.pot
    parts = [
        f"{burner.kind}, {burner.metal}",
        f"{written(charge.volume, 'volume', units)} of {charge.fuel.name}"
        + (f" and {written(charge.primer, 'volume', units)} on the wick" if charge.primer > 0.0 else ""),
    ]
    if pot is not None:
        start = pot.water_temperature or setup.site.air_temperature
        water = water_text(pot.water, units)
        parts.append(f"{water} of water at {written(start, 'temperature', units)}, {'lid on' if pot.lid else 'no lid'}")
    parts.append(site_text(setup, units))
    return "; ".join(parts)


def _predicted(findings: Findings, units: str) -> Iterator[Block]:
    """What comes of the burn, with bands if they were looked for."""
    from burnsim.report.sheet.bands import band_text

    yield Heading("Predicted")
    rows = tuple(_prediction(findings.burn, units))
    found = findings.prediction
    if isinstance(found, str):
        yield Table(("", "figure"), tuple((what, text) for _, what, text in rows), (1.0, 1.2))
        yield from _doubt(findings.burn)
        if found != SKIPPED:
            yield Words(f"Bands: {found}.", small=True)
        return
    banded = tuple((what, text, band_text(found, name, units)) for name, what, text in rows)
    yield Table(("", "as drawn", "9 cases in 10"), banded, (0.95, 1.2, 1.15))
    yield Words(
        f"The last column is from {found.n} burns over the bands of the factors below. No factor is fitted "
        "to any burn, and the bands are judgement: a real burn may fall outside them.",
        small=True,
    )


def _prediction(burn: "Burn", units: str) -> Iterator[tuple[str, str, str]]:
    """Milestones and figures: the name of its bands or an empty one, what it is, and its text."""
    marks = burn.milestones
    if marks.vapour.happened:
        yield "", "vapour at the jets", _milestone(burn, marks.vapour, units)
    if burn.setup.burner.jets is not None:
        yield "bloom", "jets light (bloom)", _milestone(burn, marks.bloom, units)
    if burn.setup.burner.wick is not None:
        yield "", "primer out", _milestone(burn, marks.primer_out, units)
    if burn.setup.pot is not None:
        yield "boil", "water boils", _milestone(burn, marks.boil, units)
    yield "burnout", "last flame out", _milestone(burn, marks.burnout, units)
    if burn.setup.burner.jets is not None:
        spill = marks.spill
        yield (
            "spill",
            "spill",
            format_time(spill.time) if spill.time is not None else f"no: {told(spill.reason, units)}",
        )
    if burn.power_median is not None:
        yield "power_median", "power, median", written(burn.power_median, "power", units)
    if burn.efficiency_to_boil is not None:
        yield "efficiency_to_boil", "efficiency to boil", written(burn.efficiency_to_boil, "fraction")
    if burn.water_max is not None:
        yield "water_max", "hottest water", written(burn.water_max, "temperature", units)
    if burn.setup.burner.has_gallery:
        peak = max(burn.gallery_pressure_max, burn.well_pressure_max)
        yield "gallery_pressure_max", "highest pressure", written(peak, "pressure", units)
    worst = max(abs(burn.mass.residual), abs(burn.energy.residual))
    yield "", "ledgers close to", f"{max(worst, 1e-15):.0e} of the charge"


def _milestone(burn: "Burn", mark: "Milestone", units: str) -> str:
    if mark.time is None:
        return f"never: {told(mark.reason, units)}"
    fuel = poured(burn, mark.fuel) or 0.0
    return f"{format_time(mark.time)}, {written(fuel, 'volume', units)} burnt"


def _doubt(burn: "Burn") -> Iterator[Block]:
    neutral = all(getattr(burn.setup.factors, name) == 1.0 for name in BANDS)
    text = (
        "No factor is fitted to any burn: times and power may well be a third off, and a verdict near its threshold "
        "may fall on the wrong side. The factors below say how far each input may stray."
        if neutral
        else "Some factors of this design differ from 1, see below; the rest may stray within their bands."
    )
    yield Words(text, small=True)


def _fuels(findings: Findings, units: str) -> Iterator[Block]:
    """Ready fuels side by side."""
    yield Heading("Other fuels in this burner, same charge")
    fuels = findings.fuels
    if isinstance(fuels, str):
        yield Words(f"Fuels: {fuels}.", small=True)
        return
    rows = []
    jets, pot = fuels.setup.burner.jets is not None, fuels.setup.pot is not None
    for row in fuels.rows:
        used = row.used_volume
        rows.append(
            (
                row.spirit.fuel.name,
                _when(row.bloom, jets, with_unit(f"{row.bloom or 0.0:.0f}", "s")),
                _when(row.boil, pot, format_time(row.boil or 0.0)),
                DASH if used is None else written(used, "volume", units),
                DASH if row.power is None else written(row.power, "power", units),
                DASH if row.efficiency is None else written(row.efficiency, "fraction", decimals=0),
                ", ".join(row.verdicts) or row.reasons.get("burn", "none"),
            )
        )
    head = ("fuel", "bloom", "boil", "gone by the boil", "power", "efficiency", "verdicts")
    yield Table(head, tuple(rows), (1.3, 0.7, 1.0, 1.1, 0.7, 0.8, 2.5))


def _when(time: float | None, sought: bool, text: str) -> str:
    """A time, "never", or a dash where there is nothing to wait for."""
    if time is not None:
        return text
    return "never" if sought else DASH


def _bands(findings: Findings, units: str) -> Iterator[Block]:
    """Picture of what may come of the burn."""
    found = findings.prediction
    if isinstance(found, str) or not found.water.size:
        return
    yield Heading("What may come of it")
    yield Picture(
        "bands",
        "Bands of the water's temperature and of the milestones over the bands of the factors",
        lambda ax: plots.prediction(found, ax, units=units),
        4.4,
        2.4,
        (3.4, 2.9),
    )


def _measured(findings: Findings, units: str) -> Iterator[Block]:
    """A bench log over the prediction for its conditions."""
    if findings.measured is None:
        return
    result, found = findings.measured

    def draw(ax: "Axes") -> None:
        figure = ax.figure
        ax.remove()
        plots.measured(result.log, found, figure.subplots(2, 1, sharex=True, height_ratios=(1.6, 1.0)), units=units)

    yield Heading("Measured beside predicted")
    yield Picture("measured", "Readings of a bench log over the prediction of its burn, and what is left between",
                  draw, 5.8, 4.6, (3.5, 4.6))  # fmt: skip
    if result.remarks:
        yield Bullets(tuple(told(remark, units) for remark in result.remarks))


def _doubts(findings: Findings, units: str) -> Iterator[Block]:
    """What may come of the burn, if it was looked for, beside what was assumed."""
    bands, assumed = tuple(_bands(findings, units)), tuple(_assumptions(findings.burn, units))
    if bands:
        yield Pair(bands, assumed, 0.6)
    else:
        yield from assumed


def _assumptions(burn: "Burn", units: str) -> Iterator[Block]:
    yield Heading("Assumed")
    yield Bullets(ASSUMPTIONS)
    yield Heading("Laws used outside their range")
    yield Bullets(tuple(told(text, units) for text in burn.warnings) or ("None in this burn.",))


def _factors(setup: "Setup") -> Iterator[Block]:
    yield Heading("Uncertain factors and their bands (central 90 %)")
    rows = tuple(
        (name.replace("_", " "), f"{getattr(setup.factors, name):.3g}", f"{band.low:g} to {band.high:g}", band.why)
        for name, band in BANDS.items()
    )
    yield Table(("factor", "used", "band", "why"), rows, (1.1, 0.4, 0.9, 5.6))
