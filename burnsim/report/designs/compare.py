"""Designs side by side, in words and as plain values."""

import math
from collections.abc import Iterator, Sequence
from string import ascii_uppercase

from burnsim.model.at_site import poured_density
from burnsim.report.burn import HEAT, VERDICT
from burnsim.report.designs.figures import TITLES, change_told, differs, figure_told
from burnsim.report.fields import factors_text, field_text
from burnsim.report.values import Keys, keyed, named
from burnsim.studies.bench.log import Sighting
from burnsim.studies.calibrate.repeats import MILESTONES
from burnsim.studies.compare.causes import Cause, Causes, is_part
from burnsim.studies.compare.comparison import FIGURES, Against, DesignComparison
from burnsim.studies.compare.paired import PairedDifference
from burnsim.studies.predict.prediction import UNITS, figure_of
from burnsim.substances.blend import Blend
from burnsim.units import told
from burnsim.units.writing import MINUS

CAUSED = ("bloom", "boil", "boil_fuel", "water_max")
"""Figures whose difference is shared out in words; the hottest water only where there is no boil to compare."""
SMALL = 0.02  # share of a difference below which a cause is left out of the words
METHOD = "by Shapley's value: the mean of what a change does, over all orders in which they are made"
ALONE = "each change alone; what is left comes of changes together"
WORDS = {
    "bloom": ("sooner", "later"), "boil": ("sooner", "later"), "burnout": ("sooner", "later"),
    "boil_fuel": ("less", "more"),
}  # fmt: skip


def letters(found: DesignComparison) -> str:
    """A letter for each design, in their order."""
    return ascii_uppercase[: len(found.names)]


def compare_lines(found: DesignComparison, units: str = "si") -> Iterator[str]:
    """Designs side by side in words."""
    marks = letters(found)
    yield from (f"{mark}  {name}" for mark, name in zip(marks, found.names, strict=True))
    for mark, against in zip(marks[1:], found.against, strict=True):
        yield ""
        if not against.changes:
            yield f"{marks[0]} and {mark} do not differ."
            continue
        yield f"{'What differs':<32}{marks[0]:>18}{mark:>18}"
        for path, pair in against.changes.items():
            one, two = (value_text(path, value, units) for value in pair)
            yield f"  {path:<30}{one:>18}  {two:>16}"
    heads = [*marks, *(f"{mark} {MINUS} {marks[0]}" for mark in marks[1:])]
    setups = [burn.setup for burn in found.burns]
    same = all(setup.charge.fuel == setups[0].charge.fuel for setup in setups)
    volume = poured_density(setups[0]) if same else None  # fuels that differ are told by mass
    for title, names in (("Milestones", MILESTONES), ("Figures", [name for name in FIGURES if name not in MILESTONES])):
        yield ""
        yield _row(title, heads)
        for name in names:
            figures = [figure_of(burn, name) for burn in found.burns]
            values = [None if math.isnan(figure) else figure for figure in figures]
            if all(value is None for value in values):
                continue
            told_values = [figure_told(name, value, units, volume) for value in values]
            gaps = [change_told(name, gap, units, volume) for gap in _gaps(values)]
            yield _row(f"  {TITLES[name]}", [*told_values, *gaps])
        if title == "Milestones":
            yield from _seen(found)
    yield ""
    yield _row("Where the heat went [kJ]", heads)
    largest = max(burn.energy.charged for burn in found.burns)
    for name, words in {"charged": "charged", **HEAT}.items():
        heat = [float(getattr(burn.energy, name)) / 1e3 for burn in found.burns]
        if max(map(abs, heat)) * 1e3 > 5e-4 * largest:
            cells = [_kilojoules(one) for one in heat] + [_kilojoules(one - heat[0], "+") for one in heat[1:]]
            yield _row(f"  {words}", cells)
    yield ""
    yield from _verdicts(found, marks, units)
    for mark, against in zip(marks[1:], found.against, strict=True):
        yield from _pair(found, against, mark, units, volume)
    yield ""
    yield factors_text(found.burns[0].setup, "; a difference of two similar designs is surer than either figure.")


def _gaps(values: Sequence[float | None]) -> list[float | None]:
    """How far all others are from the first."""
    first = values[0]
    return [None if value is None or first is None else value - first for value in values[1:]]


def _row(title: str, cells: Sequence[str]) -> str:
    return f"{title:<26}" + "".join(f"{cell:>14}" for cell in cells)


def _kilojoules(value: float, sign: str = "") -> str:
    number = round(value, 1) + 0.0
    return f"{number:{sign if number else ''}.1f}".replace("-", MINUS)


def value_text(path: str, value: object, units: str = "si") -> str:
    """The value of a field that differs [SI]; of a whole part, whether there is one."""
    if isinstance(value, bool):
        return str(value).lower()
    return "as described" if is_part(value) else field_text(path, value, units)


def _seen(found: DesignComparison) -> Iterator[str]:
    """Milestones on the bench, below those of the model."""
    if not any(found.logs):
        return
    for name in MILESTONES:
        sights: list[Sighting | None] = [None if log is None else getattr(log, name) for log in found.logs]
        times = [None if one is None else one.time for one in sights]
        if any(time is not None for time in times):
            cells = [figure_told(name, time) for time in times] + [change_told(name, gap) for gap in _gaps(times)]
            yield _row(f"  bench: {TITLES[name]}", cells)


def _verdicts(found: DesignComparison, marks: str, units: str) -> Iterator[str]:
    by_code: dict[str, dict[str, str]] = {}
    for mark, burn in zip(marks, found.burns, strict=True):
        for verdict in burn.verdicts:
            by_code.setdefault(verdict.code, {})[mark] = told(verdict.text, units)
    yield "Verdicts"
    if not by_code:
        yield "  none"
    for who in by_code.values():
        for text in dict.fromkeys(who.values()):
            yield f"  - {', '.join(mark for mark in who if who[mark] == text)}: {text}"


def _pair(found: DesignComparison, against: Against, mark: str, units: str, volume: float | None) -> Iterator[str]:
    first = letters(found)[0]
    if not against.changes:
        return
    shown = [one for one in against.causes if one.figure in CAUSED and differs(one.figure, one.whole, units, volume)]
    if any(one.figure == "boil" for one in shown):
        shown = [one for one in shown if one.figure != "water_max"]
    if len(against.groups) > 1 and shown:
        yield ""
        yield f"Which change made {mark} differ from {first}"
        for one in shown:
            yield f"  {TITLES[one.figure]}: {change_told(one.figure, one.whole, units, volume)}"
            yield from _causes(one, units, volume)
        yield f"  ({METHOD if shown[0].shared else ALONE})"
    if against.flips:
        yield ""
        yield "What brings or removes a verdict"
        for flip in against.flips:
            ways = " or ".join(" + ".join(group) for group in flip.by)
            yield f"  '{flip.code}' {'comes with' if flip.comes else 'goes with'} {ways}"
    if against.paired and found.draws is not None:
        yield ""
        yield f"Is {mark} {MINUS} {first} more than what is unknown?  ({found.draws.n} draws, the same for both)"
        for name, pair in against.paired.items():
            yield from _certainty(name, pair, first, mark, units, volume)


def _causes(one: Causes, units: str, volume: float | None) -> Iterator[str]:
    def size(part: Cause) -> float:
        value = part.share if part.share is not None else part.alone
        return -abs(value or 0.0)

    whole = abs(one.whole or 0.0)
    least = SMALL * max(whole, *(-size(part) for part in one.parts))
    left_out = 0
    for part in sorted(one.parts, key=size):
        if part.alone is not None and -size(part) < least:
            left_out += 1
            continue
        share = change_told(one.figure, part.share if one.shared else part.alone, units, volume)
        alone = "never comes" if part.alone is None else change_told(one.figure, part.alone, units, volume)
        told_alone = f"   alone {alone}" if one.shared or part.alone is None else ""
        yield f"    {' + '.join(part.paths):<44}{share:>14}{told_alone}"
    if left_out:
        yield "    " + ("the other does" if left_out == 1 else f"the other {left_out} do") + " next to nothing"
    if not one.shared and differs(one.figure, one.remainder, units, volume):
        yield f"    {'together only':<44}{change_told(one.figure, one.remainder, units, volume):>14}"


def _certainty(
    name: str, one: PairedDifference, first: str, mark: str, units: str, volume: float | None
) -> Iterator[str]:
    title = TITLES[name]
    if name in MILESTONES and (one.first_only or one.second_only):
        has = one.both + one.first_only, one.both + one.second_only
        sure = "yes" if one.happening_differs else "not told apart"
        yield f"  {title:<24}in {has[0]} of {one.draws} draws of {first}, in {has[1]} of {mark}: {sure}"
    if one.low is None or one.high is None or not differs(name, one.typical, units, volume):
        return
    low, high = (change_told(name, end.value, units, volume) for end in (one.low, one.high))
    less, more = WORDS.get(name, ("lower", "higher"))
    lower = (one.typical or 0.0) < 0.0
    agree = one.below if lower else one.both - one.below
    sure = "yes" if one.sure else "not told apart"
    yield f"  {title:<24}{low:>13} to {high:<13} {less if lower else more} in {agree} of {one.both}: {sure}"


def _plain(path: str, value: object) -> object:
    """The value of a field; a whole part in words."""
    whole = value is not None and not isinstance(value, bool | int | float | str | Blend)
    return value_text(path, value) if whole else value


DESIGN: Keys = {
    "figures": lambda burn: {key: figure_of(burn, key) for key in FIGURES}, "energy_J": "energy", "mass_kg": "mass",
    "verdicts": ("verdicts", VERDICT),
}  # fmt: skip
LOG: Keys = {"name": "name", **{f"{mark}_s": f"{mark}.time" for mark in MILESTONES}}
CAUSES: Keys = {
    "whole": "whole", "method": lambda cause: "Shapley" if cause.shared else "one at a time", "parts": "parts",
    "interaction": "remainder",
}  # fmt: skip
PAIRED: Keys = {
    "low": "low.value", "middle": "middle.value", "high": "high.value",
    **named("below both first_only second_only draws sure"),
}  # fmt: skip
AGAINST: Keys = {
    "changes": lambda one: {path: [_plain(path, end) for end in pair] for path, pair in one.changes.items()},
    "causes": lambda one: {cause.figure: keyed(cause, CAUSES) for cause in one.causes}, "flips": "flips",
    "paired": lambda one: {name: keyed(pair, PAIRED) for name, pair in one.paired.items()},
}  # fmt: skip
COMPARISON: Keys = {
    "designs": lambda found: [
        {"name": name, **keyed(burn, DESIGN), "bench": None if log is None else keyed(log, LOG)}
        for name, burn, log in zip(found.names, found.burns, found.logs, strict=True)
    ],
    "against_first": ("against", AGAINST), "draws": "draws.n",
    "units": lambda _: {name: UNITS[name] for name in FIGURES},
}  # fmt: skip
