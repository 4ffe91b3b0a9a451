"""What bench logs say, in words and as plain values."""

import math
from collections.abc import Iterator, Sequence

from burnsim.constants import ZERO_CELSIUS
from burnsim.model import Setup
from burnsim.report.designs.compare import value_text
from burnsim.report.designs.figures import TITLES
from burnsim.report.fields import shown_change
from burnsim.report.values import keyed
from burnsim.studies.bench.analysis import BenchResult
from burnsim.studies.bench.builds import Comparison, Repeats, compare, pool_repeats
from burnsim.studies.bench.formula import Efficiency, Figure
from burnsim.studies.bench.log import Sighting
from burnsim.studies.calibrate.repeats import MILESTONES
from burnsim.studies.compare.causes import changed
from burnsim.studies.predict.beside import Beside
from burnsim.units import Quantity, Text, format_time, measure, told, written
from burnsim.units.writing import MINUS

FIGURES = {
    "boil time, reference conditions": ("boil_reference", "s"),
    "efficiency to boil": ("efficiency_to_boil", "%"),
    "efficiency, whole burn": ("efficiency", "%"),
    "steady power into the water": ("power_steady", "W"),
}
"""Figures that are compared between burns, with the attribute that holds each and its unit."""


BESIDE = "Beside the prediction (central 90 % of next burns"


def repeats_text(results: Sequence[BenchResult]) -> str:
    """Repeats and builds compared, in words; empty for a single log."""
    if len(results) < 2:
        return ""
    lines = ["Repeats and builds"]
    for title, (name, unit) in FIGURES.items():
        groups, pairs = _compared(results, name)
        if not groups:
            continue
        scale = 100.0 if unit == "%" else 1.0
        lines.append(f"  {title} [{unit}]")
        for group in groups:
            spread = "" if group.spread is None else f", spread {scale * group.spread:.3g}"
            error = "" if group.error is None else f" ± {scale * group.error:.2g}"
            burns = "1 burn" if group.burns == 1 else f"{group.burns} burns"
            lines.append(f"    {group.build:<14} {scale * group.mean:.4g}{error}{spread} ({burns})")
        lines += [f"    {pair.text}" for pair in pairs]
    return "\n".join(lines)


def bench_dict(result: BenchResult) -> dict[str, object]:
    """What one bench log says; None where the log lacks something, with the reason beside it."""
    log = result.log
    found: dict[str, object] = {"name": log.name, "build": log.build, "source": log.source}
    for mark in (*MILESTONES, "spill"):
        seen: Sighting = getattr(log, mark)
        found[f"{mark}_s"], found[f"{mark}_happened"] = seen.time, seen.happened
    found["boiling_point_K"] = result.boiling_point
    units = {"start": "K", "boil_reference": "s", "lag": "s", "rate": "K_per_s", "power_steady": "W"}
    for name, unit in units.items():
        figure: Figure = getattr(result, name)
        found |= {f"{name}_{unit}": figure.value, f"{name}_error_{unit}": figure.error}
        if figure.value is None:
            found[f"{name}_reason"] = figure.reason
    for name in ("efficiency_to_boil", "efficiency"):
        share: Efficiency | None = getattr(result, name)
        if share is None:
            found |= {name: None, f"{name}_error": None, f"{name}_reason": result.missing[name]}
        else:
            found |= {name: share.value, f"{name}_error": share.error, f"{name}_error_parts": share.parts}
    for name, curve, unit in (("power", result.power, "W"), ("fuel_rate", result.fuel_rate, "kg_per_s")):
        keys = {"time_s": "time", unit: "slope", f"error_{unit}": "slope_error"}
        found[name] = None if curve is None else keyed(curve, keys)
    return found | {"remarks": result.remarks}


def readings(result: BenchResult) -> list[dict[str, object]]:
    """A row for each reading; the power into the water beside those at which it is known."""
    power = result.power
    known: dict[float, tuple[float | None, float | None]] = {}
    if power is not None:
        known = dict(zip(power.time, zip(power.slope, power.slope_error, strict=True), strict=True))
    rows = []
    for row in result.log.readings:
        watts, error = known.get(row.time, (None, None)) if row.water is not None else (None, None)
        keys = {"time_s": "time", "water_K": "water", "mass_kg": "mass", "note": "note"}
        rows.append(keyed(row, keys) | {"power_W": watts, "power_error_W": error})
    return rows


def repeats_dict(results: Sequence[BenchResult]) -> dict[str, object]:
    """Repeats and builds compared."""
    found: dict[str, object] = {}
    for name, _ in FIGURES.values():
        groups, pairs = _compared(results, name)
        if groups:
            named = [pair._asdict() | {"first": pair.first.build, "second": pair.second.build} for pair in pairs]
            found[name] = {"builds": groups, "comparisons": named}
    return found


def _compared(results: Sequence[BenchResult], name: str) -> tuple[list[Repeats], list[Comparison]]:
    builds: dict[str, list[float]] = {}
    for result in results:
        figure = getattr(result, name)
        if figure is not None and figure.value is not None:
            builds.setdefault(result.log.build or "(build not named)", []).append(figure.value)
    named = list(builds.items())
    pairs = [compare(*named[k], *named[m]) for k in range(len(named)) for m in range(k + 1, len(named))]
    return [pool_repeats(build, values) for build, values in named], pairs


def bench_lines(result: BenchResult, units: str = "si", by_model: Figure | None = None) -> Iterator[str]:
    """One bench log in words; `by_model` is its boil time under reference conditions by `predict_reference`."""
    degrees, cool = measure("temperature", units), ZERO_CELSIUS + 20.0
    log = result.log
    yield log.name + (f", build {log.build}" if log.build else "") + (f", {log.date}" if log.date else "")
    if log.note:
        yield log.note
    yield f"{len(log.readings)} rows, {len(log.water()[0])} readings of the water"
    yield ""
    yield "Seen"
    for mark in MILESTONES:
        seen: Sighting = getattr(log, mark)
        when = "not noted" if seen.happened is None else "never" if not seen.happened else "seen, without a time"
        yield f"  {TITLES[mark]:<32} {format_time(seen.time) if seen.time is not None else when:>12}"
    if log.spill.happened:
        yield f"  {'spill':<32} {format_time(log.spill.time) if log.spill.time is not None else 'yes':>12}"
    yield ""
    yield "Figures, with standard uncertainty"
    start = result.start
    if start.value is not None:
        start = Figure(degrees.of(start.value), (start.error or 0.0) / degrees.size)
    yield f"  {f'water at the start [{degrees.unit}]':<32} {_figure(start)}"
    yield f"  {f'boiling point at the site [{degrees.unit}]':<32} {degrees.of(result.boiling_point):.1f}"
    yield f"  {'boil, reference conditions [s]':<32} {_figure(result.boil_reference)}"
    if by_model is not None:
        yield f"  {'scaled by the model instead [s]':<32} {_figure(by_model)}"
        calm = written(cool, "temperature", units)
        yield f"  {'':<32} by the ratio of the model's times, with calm air of {calm} there: it tests nothing"
    yield f"  {'lag of heating after bloom [s]':<32} {_figure(result.lag)}"
    if result.lag.value is not None and result.lag.value < 0.0:
        yield f"  {'':<32} below 0: the primer's flame warms the water first"
    apart = measure("temperature difference", units)
    yield f"  {f'steady heating [{apart.unit}/min]':<32} {_figure(result.rate, 60.0 / apart.size)}"
    yield f"  {'steady power into the water [W]':<32} {_figure(result.power_steady)}"
    for name, title in (("efficiency_to_boil", "efficiency to boil [%]"), ("efficiency", "efficiency, whole burn [%]")):
        share: Efficiency | None = getattr(result, name)
        if share is None:
            yield f"  {title:<32} none: {result.missing[name]}"
            continue
        yield f"  {title:<32} {_figure(Figure(share.value, share.error), 100.0)}"
        largest = max(share.parts, key=lambda part: share.parts[part])
        yield f"  {'':<32} most of the uncertainty: {largest}"
    if result.power is not None:
        top = int(result.power.slope.argmax())
        peak = Figure(float(result.power.slope[top]), float(result.power.slope_error[top]))
        yield f"  {'highest power into the water [W]':<32} {_figure(peak)} at {format_time(result.power.time[top])}"
    if result.fuel_rate is not None:
        middle = float(result.fuel_rate.slope.mean())
        yield f"  {'mean fuel rate [mg/s]':<32} {1e6 * middle:.1f}"
    half = Quantity(0.5, "mass", 0)
    reference = Text(
        "{} of water from {} to the boil at sea level, power as it was", half, Quantity(cool, "temperature")
    )
    yield f"  Reference conditions: {told(reference, units)}."
    if result.remarks:
        yield ""
        yield "Worth a look"
        for remark in result.remarks:
            yield f"- {told(remark, units)}"


def beside_lines(design: Setup, burnt: Setup, rows: Sequence[Beside], n: int, units: str = "si") -> Iterator[str]:
    """A log's milestones beside so many burns of what was `burnt`, the design under the log's conditions."""
    yield ""
    yield f"{BESIDE}, of {n})"
    for row in rows:
        title, seen, band = beside_cells(row)
        yield f"  {title:<32} {seen:>12}   {band}"
    yield from (f"- {line}" for line in beside_notes(design, burnt, rows, units))


def beside_cells(row: Beside) -> tuple[str, str, str]:
    """A milestone, when it was seen, and the band of the next burn."""
    seen = "never" if row.seen is None else format_time(row.seen)
    band = "never" if row.low is None or row.high is None else f"{format_time(row.low)} to {format_time(row.high)}"
    if (share := f"{100.0 * row.happens:.0f}") not in ("0", "100"):
        band += f", in {share}\u00a0% of them"
    return TITLES[row.mark], seen, f"{band}: outside" if row.outside else band


def beside_notes(design: Setup, burnt: Setup, rows: Sequence[Beside], units: str = "si") -> Iterator[str]:
    """What a log states otherwise than the design, and a question where milestones lie outside."""
    changes = [
        f"{path} {shown_change(value_text(path, before, units), value_text(path, after, units))}"
        for path, (before, after) in changed(design, burnt).items()
    ]
    if changes:
        yield f"otherwise than drawn: {'; '.join(changes)}"
    if outside := sum(row.outside for row in rows):
        chance = ", as one in ten does by chance" if outside == 1 else ""
        yield (
            f"{outside} of {len(rows)} outside{chance}. Is it noted right, and is {design.name or 'this'} the design "
            "that was burnt, with these sizes and this spirit? If so, burnsim calibrate looks for what explains it."
        )


def beside_dict(rows: Sequence[Beside]) -> dict[str, object]:
    """The same as plain values."""
    return {row.mark: row._asdict() | {"outside": row.outside} for row in rows}


def _figure(figure: Figure, scale: float = 1.0) -> str:
    """A value with its error, to the decimals that the error warrants."""
    if figure.value is None:
        return f"none: {figure.reason}"
    value, error = scale * figure.value, scale * (figure.error or 0.0)
    if error <= 0.0:
        return f"{value:.4g}".replace("-", MINUS)
    decimals = max(1 - math.floor(math.log10(error)), 0)
    return f"{value:.{decimals}f} ± {error:.{decimals}f}".replace("-", MINUS)
