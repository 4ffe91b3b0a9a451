"""The content of a sheet: the design to scale, its prediction, limits, fuels, ledger, doubts, cautions and a form."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from burnsim import plots
from burnsim.model.description.factors import BANDS, CORRELATIONS
from burnsim.model.description.setup import Setup
from burnsim.report.bench import beside_cells, beside_notes
from burnsim.report.burn import highest_power, milestones
from burnsim.report.cautions import cautions
from burnsim.report.fields import on_wick, site_text, water_text
from burnsim.report.sheet.answers import answers, band_text, fill_block
from burnsim.report.sheet.bench_log import bench_form
from burnsim.report.sheet.blocks import Block, Break, Bullets, Fold, Heading, Pair, Picture, Sheet, Table, Words
from burnsim.report.sheet.findings import SKIPPED, Findings
from burnsim.report.sheet.risks import warnings_of
from burnsim.solve import Burn
from burnsim.studies.bench.design import apply_conditions
from burnsim.studies.predict.beside import beside
from burnsim.studies.predict.prediction import FIGURES
from burnsim.units import format_time, told, written
from burnsim.units.writing import MINUS

if TYPE_CHECKING:
    from matplotlib.axes import Axes

ASSUMPTIONS = (
    "One temperature for each compartment, but for cold liquid that flows into a gallery; one for the rim; one ring of "
    "equal jets; sheet metal as thick as drawn.",
    "Burner and fuel start at the charge's temperature, pot and water at that of the water; the match comes at 0 s.",
    "Not modelled: soot, how much carbon monoxide, gusts, dents, leaks of seams, ice and snow in the pot.",
)
UNFITTED = (
    "No factor is fitted to any burn: times and power may well be a third off, and a verdict near its threshold "
    "may fall on the wrong side. The factors below say how far each input may stray."
)
FITTED = "Some factors of this design differ from 1, see below; the rest may stray within their bands."
DASH = "\N{EN DASH}"  # where there is no figure


def make_sheet(setup: Setup, findings: Findings, *, units: str = "si") -> Sheet:
    """Put a sheet together from a design and what `find` found of it."""
    burn = findings.burn
    name = setup.name or "Burner"
    section = Picture(
        "section", f"Cross-section of {name} to scale, with its measures",
        lambda ax: plots.section(setup, ax, dimensions=True, units=units), 7.2, 4.5, (3.4, 3.6), (9.6, 4.7),
    )  # fmt: skip
    curves = Picture(
        "burn", f"Temperatures, power and fuel left over the burn of {name}",
        lambda ax: plots.burn(burn, ax, units=units), 7.2, 3.9, (3.6, 4.4), (9.6, 5.0),
    )  # fmt: skip
    watch = (
        Heading("What to know about this burn"),
        Bullets(tuple(told(text, units) for text in warnings_of(burn, findings.prediction))),
    )
    care = (Heading("Cautions"), Bullets(cautions([setup])))
    blocks: tuple[Block, ...] = (
        answers(findings, units),
        section,
        curves,
        Pair(watch, care),
        Break(),
        Fold(
            "Figures, and how much may be loaded",
            (Pair(tuple(_predicted(findings, units)), tuple(fill_block(findings, units)), 0.5),),
        ),
        Fold("Other fuels in this burner, same charge", tuple(_fuels(findings, units))),
        Fold("Where the heat goes, and what may come of it", tuple(_energy(findings, units))),
        Fold("What is assumed and not known", tuple(_doubts(findings, units))),
        *_measured(findings, units),
        Break(),
        Fold("Bench log", tuple(bench_form(burn, units))),
    )
    return Sheet(name, _subtitle(setup, units), blocks)


def _subtitle(setup: Setup, units: str) -> str:
    burner, charge, pot = setup.burner, setup.charge, setup.pot
    parts = [
        f"{burner.kind}, {burner.metal}",
        f"{written(charge.volume, 'volume', units)} of {charge.fuel.name}"
        + (f" and {on_wick(charge.primer, units)} on the wick" if charge.primer > 0.0 else ""),
    ]
    if pot is not None:
        start = pot.water_temperature or setup.site.air_temperature
        water = water_text(pot.water, units)
        parts.append(f"{water} of water at {written(start, 'temperature', units)}, {'lid on' if pot.lid else 'no lid'}")
    parts.append(site_text(setup, units))
    return "; ".join(parts)


def _predicted(findings: Findings, units: str) -> Iterator[Block]:
    """What comes of the burn, with bands if they were looked for."""
    yield Heading("The burn in figures")
    rows = tuple(_prediction(findings.burn, units))
    found = findings.prediction
    if isinstance(found, str):
        yield Table(("", "figure"), tuple((what, text) for _, what, text in rows), (1.0, 1.2))
        neutral = all(getattr(findings.burn.setup.factors, name) == 1.0 for name in BANDS)
        yield Words(UNFITTED if neutral else FITTED, small=True)
        if found != SKIPPED:
            yield Words(f"Bands: {found}.", small=True)
        return
    banded = tuple((what, text, band_text(found, name, units)) for name, what, text in rows)
    yield Table(("", "as drawn", "9 next burns in 10"), banded, (0.95, 1.2, 1.15))
    known = (
        "what the bench logs leave open, and of this build: another one to the drawing scatters more."
        if found.other is not None
        else "the bands of the factors below. No factor is fitted to any burn, and most bands are judgement: a real "
        "burn may fall outside them."
    )
    yield Words(f"The last column is from {found.n} burns over {known} Times scatter as repeats do.", small=True)
    if found.unproven:
        dark = f"In {found.unproven} of them it goes out or never lights before it could spill"
        yield Words(f"{dark}: no proof against a spill.", small=True)


def _prediction(burn: Burn, units: str) -> Iterator[tuple[str, str, str]]:
    """Milestones and figures: the name of its bands or an empty one, what it is, and its text."""
    for name, what, time, rest in milestones(burn, units):
        yield name if name in FIGURES else "", what, f"{time}, {rest}" if time else rest
    if burn.power_median is not None:
        yield "power_median", "power, median", written(burn.power_median, "power", units)
        yield "", "power, highest", "".join(highest_power(burn, units))
    if burn.efficiency_to_boil is not None:
        yield "efficiency_to_boil", "efficiency to boil", written(burn.efficiency_to_boil, "fraction")
    if burn.water_max is not None:
        yield "water_max", "hottest water", written(burn.water_max, "temperature", units)
    if burn.setup.burner.has_gallery:
        peak = max(burn.gallery_pressure_max, burn.well_pressure_max)
        yield "gallery_pressure_max", "highest pressure", written(peak, "pressure", units)


def _fuels(findings: Findings, units: str) -> Iterator[Block]:
    fuels = findings.fuels
    if isinstance(fuels, str):
        yield Words(f"Fuels: {fuels}.", small=True)
        return
    rows = [
        (
            row.spirit.fuel.name,
            "never" if row.bloom is None else format_time(row.bloom),
            "never" if row.boil is None else format_time(row.boil),
            DASH if row.used_volume is None else written(row.used_volume, "volume", units),
            DASH if row.power is None else written(row.power, "power", units),
            DASH if row.efficiency is None else written(row.efficiency, "fraction", decimals=0),
            ", ".join(row.verdicts) or row.reasons.get("burn", "none"),
        )
        for row in fuels.rows
    ]
    head = ("fuel", "bloom", "boil", "gone by the boil", "power", "efficiency", "verdicts")
    widths = (1.3, 0.9, 1.0, 1.0, 0.7, 0.7, 2.5)
    bare = set() if fuels.setup.burner.jets is not None else {"bloom"}
    if fuels.setup.pot is None:
        bare |= {"boil", "gone by the boil", "efficiency"}
    kept = [k for k, what in enumerate(head) if what not in bare]
    yield Table(
        tuple(head[k] for k in kept),
        tuple(tuple(row[k] for k in kept) for row in rows),
        tuple(widths[k] for k in kept),
        tuple(range(1, len(kept) - 1)),
    )


def _energy(findings: Findings, units: str) -> Iterator[Block]:
    """The ledger, beside what may come of the burn if that was looked for."""
    burn, found = findings.burn, findings.prediction
    name = burn.setup.name or "Burner"
    banded = not isinstance(found, str) and bool(found.water.size)
    heat = Picture(
        "ledger", f"Where the heat of the charge of {name} goes",
        lambda ax: plots.ledger(burn, ax, title="", residual=False), 3.5 if banded else 7.2, 2.5, (3.6, 3.6),
        (4.6, 3.4) if banded else (9.6, 3.6),
    )  # fmt: skip
    left = (Heading("Where the heat goes"), heat)
    if isinstance(found, str) or not banded:
        yield from left
        return
    bands = Picture(
        "bands", "Bands of the water's temperature and of the milestones over the bands of the factors",
        lambda ax: plots.prediction(found, ax, units=units), 3.5, 2.5, (3.6, 3.2), (4.6, 3.4),
    )  # fmt: skip
    yield Pair(left, (Heading("What may come of it"), bands))


def _measured(findings: Findings, units: str) -> Iterator[Block]:
    """A bench log over the prediction for its conditions."""
    if findings.measured is None:
        return
    result, found = findings.measured

    def draw(ax: "Axes") -> None:
        figure = ax.figure
        ax.remove()
        plots.measured(result.log, found, figure.subplots(2, 1, sharex=True, height_ratios=(1.6, 1.0)), units=units)

    picture = Picture(
        "measured", "Readings of a bench log over the prediction of its burn, and what is left between", draw, 7.2, 7.0,
        (3.6, 4.6), (9.6, 6.5),
    )  # fmt: skip
    rows = beside(result.log, found)
    table = Table(("", "seen", "9 next burns in 10"), tuple(map(beside_cells, rows)), (1.0, 0.6, 1.4))
    drawn = findings.burn.setup
    said = [*beside_notes(drawn, apply_conditions(drawn, result.log), rows, units)]
    said += [told(remark, units) for remark in result.remarks]
    yield Break()
    below: list[Block] = [table] if rows else []
    if said:
        below.append(Bullets(tuple(said)))
    yield Fold("Measured beside predicted", (picture, *below))


def _doubts(findings: Findings, units: str) -> Iterator[Block]:
    """What was assumed, laws beyond their range, and how wide each factor's band is."""
    burn = findings.burn
    outside = (
        Heading("Laws used outside their range"),
        Bullets(tuple(told(text, units) for text in burn.warnings) or ("None in this burn.",)),
    )
    yield Pair((Heading("Assumed"), Bullets(ASSUMPTIONS)), outside)
    found = findings.prediction
    bands = {} if isinstance(found, str) else found.posterior.band()
    learnt = not isinstance(found, str) and found.other is not None
    yield Heading(f"Uncertain factors and their bands{' after the bench logs' if learnt else ''} (central 90\u00a0%)")
    if not isinstance(found, str) and found.posterior.note:
        yield Words(f"The factors were {found.posterior.note}.", small=True)
    rows = []
    for name, band in BANDS.items():
        low, high = bands.get(name, (band.low, band.high))
        used = getattr(burn.setup.factors, name)
        rows.append((name.replace("_", " "), *(f"{value:.2f}" for value in (used, low, high)), band.why))
    yield Table(("factor", "used", "from", "to", "why"), tuple(rows), (1.1, 0.4, 0.4, 0.4, 5.6), (1, 2, 3))
    if not learnt:
        for pair, one in CORRELATIONS.items():
            both = " and ".join(name.replace("_", " ") for name in pair)
            yield Words(f"Drawn together: {both}, correlation {f'{one.value:.2f}'.replace('-', MINUS)}.", small=True)
