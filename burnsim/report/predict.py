"""Predictions in words and as plain values."""

import tomllib
from collections.abc import Iterator
from importlib.resources import files

from burnsim.model.at_site import poured_density
from burnsim.model.description.setup import Setup
from burnsim.report.designs.figures import TITLES, decimals
from burnsim.solve.results.verdicts import CODES
from burnsim.studies.calibrate.repeats import MILESTONES, SCATTER
from burnsim.studies.predict.prediction import FIGURES, LEVELS, UNITS, Of, Prediction, Quantile, Share
from burnsim.studies.predict.sobol import Sensitivity
from burnsim.units import format_time, measure

ROWS = ("boil_fuel", "efficiency_to_boil", "efficiency", "power_median", "spill_margin", "gallery_pressure_max")
"""Figures that have a row of quantiles each, below the milestones."""
KINDS: dict[Of, str] = {"mean": "mean of this build", "next": "its next burn", "another": "another build"}
"""What a band is of, as people say it."""

RISKS = ("never lit", "never blooms", "quenched", "no boil", "spills", "flames past the pot", "light-back", "pressure")
"""Verdicts whose chance is always among the values; in words, every one that strikes is told."""


def prediction_dict(found: Prediction) -> dict[str, object]:
    """A prediction; None where nothing can be said.

    All is of the mean of this build, but for the quantiles of the milestones of its next burn and of another build.
    """
    figures: dict[str, dict[str, object]] = {}
    for name in FIGURES:
        kinds: dict[str, Of] = {"quantiles": "mean"}
        if name in MILESTONES:
            kinds |= {"quantiles_next_burn": "next", "quantiles_another_build": "another"}
        figures[name] = {"units": UNITS[name], "happens": found.happens(name)}
        figures[name] |= {key: found.quantiles(name, of=of) or None for key, of in kinds.items()}
    time, water = found.water_quantiles()
    seen = {code for codes in found.codes for code in codes}
    return {
        "name": found.setup.name,
        "burns": found.n,
        "failures": len(found.failures),
        "seed": found.seed,
        "factors": {name: {"low": low, "high": high} for name, (low, high) in found.posterior.band().items()},
        "tolerances": found.tolerances,
        "pace_of_repeats": found.posterior.pace,
        "learnt_of_this_build": found.other is not None,
        "figures": figures,
        "verdicts": {code: _chance(found, code) for code in (*RISKS, *sorted(seen - set(RISKS)))},
        "spill_unproven": found.unproven,
        "levels": LEVELS,
        "time_s": time,
        "water_K": water,
    }


def sensitivity_text(found: Sensitivity, units: str = "si", most: int = 4) -> str:
    """Which unknown matters, in words: so many factors for each figure."""
    width = max(18, *map(len, found.names))
    lines = [f"Which unknown matters (total Sobol index with its 90 % interval, {found.burns} burns)"]
    for name in found.figures:
        shares = found.shares(name)
        if not shares:
            lines.append(f"  {TITLES[name]}: does not vary")
            continue
        lines.append(f"  {TITLES[name]}")
        lines += [
            f"    {factor:<{width}} {100.0 * total:>4.0f} %  ({100.0 * low:.0f} to {100.0 * high:.0f})"
            for factor, total, low, high in shares[:most]
        ]
    lines.append("  A milestone counts as 1/(1 + time/median time): 0 if it never happens.")
    if found.failures:
        lines.append(f"  {found.failures} burns could not be solved and count as average.")
    return "\n".join(lines)


def sensitivity_dict(found: Sensitivity) -> dict[str, object]:
    """Sobol indices; None for a figure that does not vary."""
    table: dict[str, object] = {}
    parts = ("first", "first_band", "total", "total_band")
    for k, figure in enumerate(found.figures):
        known = {name: {part: getattr(found, part)[k, j] for part in parts} for j, name in enumerate(found.names)}
        table[figure] = known if found.ranked(figure) else None
    return {"burns": found.burns, "failures": found.failures, "figures": table}


def prediction_lines(found: Prediction, units: str = "si") -> Iterator[str]:
    """A prediction in words."""
    yield f"{found.setup.name or 'burner'}: {found.n} burns, seed {found.seed}"
    if found.tolerances:
        yield "tolerances: " + ", ".join(f"{path} ±{100 * width:g}\u00a0%" for path, width in found.tolerances.items())
    yield ""
    yield f"Milestones{'':<16} {'happens':>16} {'5 %':>11} {'median':>11} {'95 %':>11}"
    kinds = {of: words for of, words in KINDS.items() if of != "another" or found.other is not None}
    lacks = _lacks(found.setup)
    for name in [name for name in MILESTONES if name not in lacks]:
        yield f"  {TITLES[name]:<24} {_percent(found.happens(name)):>16}"
        for of, words in kinds.items():
            yield f"    {words:<22} {'':>16} {_times(found.quantiles(name, (0.05, 0.5, 0.95), of))}"
    scatter = [f"{100 * share:g}\u00a0% ({name.replace('burnout', 'burn-out')})" for name, share in SCATTER.items()]
    yield (
        f"  Repeats are taken to differ by {100 * found.posterior.pace:g}\u00a0% in pace and by {', '.join(scatter)} "
        "besides, as timed with a stopwatch."
    )
    if found.other is None:
        yield "  Nothing is learnt of this build yet: another one to this drawing has the band of the next burn."
    held = tomllib.loads(files("burnsim.report").joinpath("coverage.toml").read_text(encoding="utf-8"))
    bloom, boil, burnout = held["next"]
    yield (
        f"  On {held['benches']} benches that were made up, the next burn's band held bloom, boil and burn-out in "
        f"{bloom}, {boil} and {burnout}\u00a0%; no measured burn has been tried."
    )
    yield ""
    yield f"Figures, mean of this build{'':<16} {'5 %':>11} {'median':>11} {'95 %':>11}"
    for name in [name for name in ROWS if name not in lacks]:
        three = found.quantiles(name, (0.05, 0.5, 0.95))
        mass = FIGURES[name] == "mass"  # of fuel: told as the volume that was poured
        dimension, per = ("volume", poured_density(found.setup)) if mass else (FIGURES[name], 1.0)
        unit = measure(dimension, units)
        if three:
            told = " ".join(f"{unit.of(one.value / per):>11.{decimals(dimension, units)}f}" for one in three)
            yield f"  {f'{TITLES[name]} [{unit.unit}]':<41} {told}"
    yield ""
    yield "Probabilities for the mean of this build (95 % interval of the sampling)"
    always = {"never blooms", "no boil", "spills"} - lacks
    for code in dict.fromkeys((*RISKS, *CODES)):
        chance = _chance(found, code)
        if chance.value > 0.0 or code in always:
            yield f"  {code:<24} {_percent(chance)}"
    if found.unproven:
        yield (
            f"  In {found.unproven} of the {found.n} burns it goes out or never lights before it could spill: no proof "
            "against a spill. `burnsim fill` tells how much may be loaded."
        )
    yield ""
    yield "Quantiles are among the burns in which it happens."
    for name in ("boil", "bloom"):
        if three := found.quantiles(name, (0.05, 0.5, 0.95)):  # a bound that the sample cannot give is said so
            told = ", ".join(f"{100 * one.level:g} % {_edge(one.low)} to {_edge(one.high)}" for one in three)
            yield f"Sampling error (95 %) of the quantiles of the {name}: {told}."
            break
    if found.failures:
        yield f"{len(found.failures)} burns could not be solved and are left out, the first: {found.failures[0]}"


def _lacks(setup: Setup) -> frozenset[str]:
    """Figures and verdicts that mean nothing for a design: without jets none light, without a pot no water boils."""
    jets = () if setup.burner.jets is not None else ("bloom", "gallery_pressure_max", "never blooms")
    return frozenset((*jets, *(() if setup.pot is not None else ("boil", "no boil"))))


def _chance(found: Prediction, code: str) -> Share:
    """Probability of a verdict; a burn that never lights does not boil its water either, though no verdict says so."""
    if code != "no boil" or found.setup.pot is None:
        return found.probability(code)
    boils = found.happens("boil")
    return Share(1.0 - boils.value, 1.0 - boils.high, 1.0 - boils.low)


def _edge(value: float | None) -> str:
    return "unknown" if value is None else format_time(value)


def _times(three: tuple[Quantile, ...]) -> str:
    if not three:
        return "never in this sample"
    return " ".join(f"{format_time(one.value):>11}" for one in three)


def _percent(chance: Share) -> str:
    return f"{100 * chance.value:.1f} % ({100 * chance.low:.1f}-{100 * chance.high:.1f})"
