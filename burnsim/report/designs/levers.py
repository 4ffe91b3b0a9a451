"""What to change in a design, in words and as plain values."""

import math
from collections.abc import Iterator

from burnsim.model.at_site import poured_density
from burnsim.report.designs.compare import PAIRED, value_text
from burnsim.report.designs.figures import TITLES, change_told, differs, figure_told
from burnsim.report.fields import factors_text, shown_change
from burnsim.report.values import Keys, keyed, named
from burnsim.studies.levers.levers import CLEAR, OBJECTIVES, Levers, Step
from burnsim.studies.levers.steps import CLIFFS, DRILLED, FAILS, Cliff
from burnsim.studies.predict.prediction import figure_of
from burnsim.studies.sweep.plan import spec_at
from burnsim.units import told
from burnsim.units.drills import drill_name, inches, ruled
from burnsim.units.writing import MINUS, NBSP, with_unit

AIMS = {
    "boil": "a sooner boil",
    "fuel": "less fuel by the boil",
    "efficiency": "a higher efficiency to the boil",
    "bloom": "a sooner bloom",
    "spill": "more room below the jets",
}
HEADS = {"boil": "boil", "fuel": "fuel", "efficiency": "efficiency", "bloom": "bloom", "spill": "room below jets"}
MOST_ADVICE, MOST_FIERY = 6, 3
TOLD = 0.03  # share of the draws by which a step must work more or less often for it to be told
MOST_CLIFFS = 10
LEGEND = """\
Median over the draws of the change that a step makes; * where nineteen draws of twenty agree on its sign.
works: blooms, boils, neither quenches nor spills, stays below its pressure limit, does not light back or melt,
and has air for all its flames, in so many of the draws."""


def step_text(one: Step, units: str = "si") -> str:
    """A step: the field, its value, and the value after it, as a workshop reads them."""
    return f"{one.path} {_change(one.path, one.now, one.value, units)}"


def _change(path: str, now: object, then: object, units: str) -> str:
    """A value and what it becomes; in US units lengths are fractions of an inch, and number drills have their names."""
    if units != "us" or not isinstance(now, float) or not isinstance(then, float):
        return shown_change(value_text(path, now, units), value_text(path, then, units))
    if spec_at(path).dimension != "length":
        return shown_change(value_text(path, now, units), value_text(path, then, units))
    before, after = inches(now).removesuffix(f"{NBSP}in"), inches(then)
    if path == DRILLED:
        before = drill_name(now) or before
        after = f"{name}, {ruled(then, 3)}" if (name := drill_name(then)) else after
    return f"{before} \N{RIGHTWARDS ARROW} {after}"


def levers_lines(found: Levers, units: str = "si") -> Iterator[str]:
    """What to change in words."""
    volume = poured_density(found.setup)
    yield f"{found.setup.name or 'burner'}: what to change for {AIMS[found.objective]}"
    name = OBJECTIVES[found.objective].figure
    value = figure_of(found.own, name)
    if not math.isnan(value):
        yield f"  now: {TITLES[name]} {figure_told(name, value, units, volume)}"
    failing = [verdict for verdict in found.own.verdicts if verdict.code in FAILS]
    yield from (f"  now: {told(verdict.text, units)}" for verdict in failing)
    risks = ", ".join(f"{cliff} {percent(share)}" for cliff, share in found.risks.items() if share > 0.0)
    seen = f" ({risks})" if risks else ""
    yield f"  works in {percent(found.works)} of {found.n} draws of what is not known{seen}"
    yield ""
    yield from _advice(found, units, volume)
    yield ""
    yield f"{'One step of each field':<50}" + "".join(f"{HEADS[word]:>16}" for word in OBJECTIVES) + f"{'works':>8}"
    for one in (*found.ways, *found.steps):
        yield from _step(one, found, units, volume)
    yield LEGEND
    yield ""
    yield "How far the cliffs are, the factors at their middle"
    yield from _cliffs(found, units)
    yield ""
    yield "A step leaves all else as it is. What several steps do together is told by burnsim compare."
    yield factors_text(found.setup, ".")


def _advice(found: Levers, units: str, volume: float) -> Iterator[str]:
    yield "What to do"
    name = OBJECTIVES[found.objective].figure
    advice = [
        one
        for one in found.advice
        if one.works > found.works + CLEAR or differs(name, one.changes[found.objective].typical, units, volume)
    ]
    if not advice:
        yield "  No single step that can be built helps surely; look at two together, or at another kind of burner."
    for k, one in enumerate(advice[:MOST_ADVICE], start=1):
        change = one.changes[found.objective]
        parts = []
        if change.low is not None and change.high is not None and change.sure:
            low, high = (change_told(name, end.value, units, volume) for end in (change.low, change.high))
            parts.append(f"{HEADS[found.objective]} {low} to {high}")
        if abs(one.works - found.works) > TOLD:
            parts.append(f"works in {percent(one.works)} instead of {percent(found.works)}")
        parts += [f"'{code}' goes" for code in one.lost] + [f"'{code}' comes" for code in one.gained]
        yield f"  {k}. {step_text(one, units)}: {', '.join(parts)}{_costs(one, found.objective, units, volume)}"
    if found.fiery:
        yield "  Works more often, but brings fire where none is wanted: prime with less, and ask again"
    for one in found.fiery[:MOST_FIERY]:
        works = f"works in {percent(one.works)} instead of {percent(found.works)}"
        comes = ", ".join(f"'{code}' comes" for code in one.gained)
        yield f"  - {step_text(one, units)}: {works}, {comes}"
    if found.objective == "efficiency":
        yield "  The standard formula counts steam as useful: a lid that is taken off raises it, and costs fuel."


def _costs(one: Step, objective: str, units: str, volume: float) -> str:
    """What a step surely makes worse, other than its objective."""
    worse = [
        f"{HEADS[word]} {change_told(other.figure, one.changes[word].typical, units, volume)}"
        for word, other in OBJECTIVES.items()
        if word != objective
        and one.changes[word].sure
        and (one.gain(word) or 0.0) < 0.0
        and differs(other.figure, one.changes[word].typical, units, volume)
    ]
    return f"; costs {', '.join(worse)}" if worse else ""


def _step(one: Step, found: Levers, units: str, volume: float) -> Iterator[str]:
    cells = []
    for word, objective in OBJECTIVES.items():
        change = one.changes[word]
        middle = change.typical
        mark = "*" if change.sure and differs(objective.figure, middle, units, volume) else " "
        cells.append(change_told(objective.figure, middle, units, volume) + mark)
    if any(cell[0] in f"+{MINUS}" for cell in cells) or one.works != found.works:
        yield f"  {step_text(one, units):<48}" + "".join(f"{cell:>16}" for cell in cells) + f"{percent(one.works):>8}"


def _cliffs(found: Levers, units: str) -> Iterator[str]:
    """Cliffs that lie at one place stand in one line."""
    by_place: dict[tuple[str, float, bool], list[Cliff]] = {}
    for one in found.cliffs:
        by_place.setdefault((one.path, one.far, one.fallen), []).append(one)
    for same in list(by_place.values())[:MOST_CLIFFS]:
        one, names = same[0], ", ".join(cliff.name for cliff in same)
        share = f" ({percent(one.share)})" if one.now else ""
        change = _change(one.path, one.now, float(f"{one.far:.3g}"), units)
        yield f"  {'out of ' + names if one.fallen else names:<26}{one.path} {change}{share}"
    if len(by_place) > MOST_CLIFFS:
        more = len(by_place) - MOST_CLIFFS
        yield f"  {more} more, which {'lies' if more == 1 else 'lie'} farther off"
    if none := [name for name in CLIFFS if all(one.name != name for one in found.cliffs)]:
        jets = ", jets from a quarter to four times" if found.setup.burner.jets is not None else ""
        yield f"  none, each field from half its value to twice{jets}: {', '.join(none)}"


def percent(share: float) -> str:
    """A share in whole per cent."""
    return with_unit(f"{100.0 * share:.0f}", "%")


STEP: Keys = {
    **named("path now value works gained lost"),
    "changes": lambda step: {word: keyed(change, PAIRED) for word, change in step.changes.items()},
}
LEVERS: Keys = {
    "name": "setup.name", **named("objective works risks"), "draws": "n",
    "figures": lambda found: {word: figure_of(found.own, one.figure) for word, one in OBJECTIVES.items()},
    "cliffs": lambda found: [one._asdict() | {"distance": one.distance} for one in found.cliffs],
    "advice": ("advice", STEP), "fiery": ("fiery", STEP), "steps": ("steps", STEP), "ways": ("ways", STEP),
}  # fmt: skip
