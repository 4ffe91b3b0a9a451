"""Design searches in words and as plain values."""

import math
from collections.abc import Iterator, Sequence, Set

from burnsim.model.at_site import poured_density
from burnsim.report.designs.figures import amount_told, figure_told
from burnsim.report.designs.sweep import LOADS
from burnsim.report.fields import DRILLED, field_text
from burnsim.report.values import Keys, named
from burnsim.studies.predict.prediction import FIGURES, share
from burnsim.studies.search.objectives import Limit
from burnsim.studies.search.run import Checked, Search
from burnsim.studies.search.trial import Candidate
from burnsim.units.drills import drill_name
from burnsim.units.writing import format_time, plain, shown, with_unit

COLUMNS = {
    "bloom": "bloom",
    "boil": "boil",
    "boil_fuel": "fuel to boil",
    "efficiency_to_boil": "efficiency",
    "burnout": "burn-out",
}
FRONT_ROWS = 8
LONG = 4  # letters of minutes, above which a limit is told in minutes and seconds
FEW = 3  # best designs below which it is told what the others break
FINE = 1e-3  # a saving below this share of the objective is within what a search leaves to find


WORKS = (
    "works: lights, blooms, boils, neither quenches nor spills, stays below its pressure limit, does not light back "
    "or melt"
)


def _key(limit: Limit) -> str:
    """A limit as a key that can be typed: without the signs and spaces of print."""
    return plain(limit_text(limit))


def _candidate(found: Search, one: Candidate) -> dict[str, object]:
    return {
        "changes": one.changes,
        "figures": {name: one.figures.get(name) for name in FIGURES},
        "edge": _edge(found, one),
        "feasible": one.feasible,
        "reason": one.reason,
        "kept": _kept(found, one.kept, one.draws) if one.draws else None,
        "together": _counted(one.together, one.draws) if one.draws else None,
        "verdicts": {code: hits / max(one.draws, 1) for code, hits in one.verdicts},
    }


def _edge(found: Search, one: Candidate) -> list[str]:
    """Fields that have the lowest or the highest value that was free."""
    return [path for path, value in one.changes.items() if value in found.ends.get(path, ())]


def _kept(found: Search, kept: Sequence[int], burns: int) -> dict[str, object]:
    """By limit: how many burns keep it, of how many, and the share's interval of 95 % confidence."""
    return {_key(limit): _counted(hits, burns) for limit, hits in zip(found.limits, kept, strict=True)}


def _counted(hits: int, burns: int) -> dict[str, object]:
    known = share(hits, burns) if burns else None
    span = {} if known is None else {"share": known.value, "low": known.low, "high": known.high}
    return {"kept": hits, "burns": burns, **span}


PRICE: Keys = {"limit": lambda price: _key(price.limit), "objective_without": "without", "saving": "saving"}
SEARCH: Keys = {
    **named("objective maximise draws designs drawn feasible impossible burns evaluations"),
    "limits": lambda found: [_key(limit) for limit in found.limits],
    "best": lambda found: [_candidate(found, one) for one in found.best],
    "nearest": lambda found: None if found.nearest is None else _candidate(found, found.nearest),
    "trade_off": lambda found: {"figures": found.trade_off, "designs": [_candidate(found, one) for one in found.front]},
    "broken": lambda found: dict(zip(map(_key, found.limits), found.broken, strict=True)),
    "prices": ("prices", PRICE),
    "checked": lambda found: [
        {
            "changes": one.candidate.changes,
            "kept": _kept(found, one.kept, len(one.prediction.solved)),
            "together": _counted(one.together, len(one.prediction.solved)),
        }
        for one in found.checked
    ],
}


def poured(found: Search) -> float | None:
    """Density at which a mass of fuel is told as the volume poured in [kg/m3]; None where designs differ in it."""
    designs = (*found.best, *found.front, *([] if found.nearest is None else [found.nearest]))
    apart = {"charge.fuel", "charge.temperature", "site.air_temperature"}
    return None if any(apart & set(one.changes) for one in designs) else poured_density(found.base)


def search_lines(found: Search, units: str = "si") -> Iterator[str]:
    """A search in words."""
    aim = f"{'most' if found.maximise else 'least'} {found.objective.replace('_', ' ')}"
    yield f"{found.base.name or 'burner'}: {aim}" + (", with" if found.limits else "")
    for limit in found.limits:
        chance = f", in {_percent(limit.share)} of burns" if found.draws else ""
        yield f"  {WORKS if limit.name == 'works' else limit_text(limit, units)}{chance}"
    drawn = f", {found.drawn} of them over up to {found.draws} draws of what is not known" if found.draws else ""
    yield f"{found.designs} designs tried{drawn}: {found.burns} burns of at most {found.evaluations}"
    often = " in so many of their draws" if found.draws and found.limits else ""
    kept = "keeps" if found.feasible == 1 else "keep"
    yield f"{found.feasible} {kept} every limit{often}, {found.impossible} cannot be built or burnt"
    yield ""
    if not found.best:
        yield from _in_vain(found, units)
        return
    yield "Best"
    for k, one in enumerate(found.best):
        yield from _shown(found, one, units)
        yield from _kept_lines(found, one, one.draws, "kept", units)
        if k < len(found.checked):
            check = found.checked[k]
            yield from _kept_lines(found, check, len(check.prediction.solved), "checked by other burns", units)
    yield from _beyond(found, found.best)
    if len(found.best) < FEW:
        yield from _why_not(found, units)
    if found.prices:
        yield ""
        yield "What each limit costs"
        costs = [(price, _saving(found, price.saving, price.without, units)) for price in found.prices]
        costly = [f"  {limit_text(price.limit, units)}: {cost}" for price, cost in costs if cost != FREE]
        yield from costly
        if len(costly) < len(costs):
            rest = "the other" if len(costs) - len(costly) == 1 else "each of the others"
            yield f"  {rest if costly else 'each'} {FREE}"
    yield from _front_lines(found, units)
    if "charge.volume" in found.best[0].changes:
        yield ""
        yield LOADS
    yield ""
    if found.draws:
        yield f"Figures are medians of {found.draws} burns; in brackets the share of all burns, with 95 % confidence."
    else:
        yield "Limits are kept by the plain burn alone: where one binds, about half of real burns break it."


def _in_vain(found: Search, units: str) -> Iterator[str]:
    """What comes nearest where no design keeps every limit, and what may help."""
    yield "There is no design among them that keeps every limit. Nearest comes:"
    if found.nearest is not None:
        yield from _shown(found, found.nearest, units)
        yield from _broken_lines(found, found.nearest, units)
        yield from _beyond(found, [found.nearest])
    yield from _why_not(found, units)
    if found.nearest is not None:
        yield f"Widen what is free, or ease what is broken, say with {_eased(found, found.nearest, units)}."


def _broken_lines(found: Search, one: Candidate, units: str) -> Iterator[str]:
    """Which limits a design breaks, in how many of its burns it keeps them all the same, and what it keeps."""
    broken = {limit for limit, mark in zip(found.limits, one.violations, strict=True) if mark > 0.0}
    hits = dict(zip(found.limits, one.kept, strict=True)) if one.draws else {}
    for limit in found.limits:
        if limit in broken:
            seldom = f", kept in {_in_burns(hits[limit], one.draws)}, not in {_percent(limit.share)}" if hits else ""
            yield f"    breaks: {limit_text(limit, units)}{seldom}"
    yield from _kept_lines(found, one, one.draws, "kept", units, broken)


def _why_not(found: Search, units: str) -> Iterator[str]:
    """Which limits the other designs break, how near the best of them comes, and how more are looked at."""
    looked = found.drawn or found.designs
    parts = []
    for limit, many, value in zip(found.limits, found.broken, found.reached, strict=True):
        if not many:
            continue
        kept_away = limit.codes and limit.name != "works"
        text = f"{many} break '{f'no {limit.name}' if kept_away else limit_text(limit, units)}'"
        if limit.name == "works":
            text += f" ({', '.join(f'{code} {count}' for code, count in found.stopped)})"
        if not limit.codes and limit.excess(value) > 0.0 and not math.isnan(value):
            nearest = figure_told(limit.name, value, units, poured(found))
            text += f" (the nearest of all that were tried: {nearest})"
        parts.append(text)
    if parts:
        which = "burnt over the draws" if found.drawn else "tried"
        yield f"Of the {looked} designs that were {which}, {', '.join(parts)}."
    if found.drawn and found.drawn < found.designs:
        yield (
            f"The other {found.designs - found.drawn} had a plain burn alone: more burns, which --evaluations allows, "
            "burn more of them over the draws."
        )


def _eased(found: Search, one: Candidate, units: str) -> str:
    """How a search file eases the first limit that a design breaks."""
    broken = next(limit for limit, mark in zip(found.limits, one.violations, strict=True) if mark > 0.0)
    if broken.name == "works":
        return f"works = {0.9 if broken.share > 0.9 else 0.8} (0: any design)"
    value = one.figures.get(broken.name, math.nan)
    if not broken.codes and math.isnan(value):
        return f"another design to begin with: the one above has no figure of {broken.name.replace('_', ' ')}"
    if not broken.codes and broken.excess(value) > 0.0:
        reached = figure_told(broken.name, value, units, poured(found))
        half = " in every second burn" if found.draws else ""
        return f"a limit on {broken.name.replace('_', ' ')} that can be met: the design above has {reached}{half}"
    if not found.draws:
        return "a wider limit"
    return "a smaller share of the burns, share = 0.8" if not broken.codes else f"{broken.name!r} = 0.2 in [forbid]"


def _kept_lines(
    found: Search, one: Candidate | Checked, burns: int, word: str, units: str, broken: Set[Limit] = frozenset()
) -> Iterator[str]:
    """How many burns do all that was asked, and how many keep each limit, those that all keep in one line.

    Limits that the design breaks are told elsewhere.
    """
    if not burns:
        return
    if len(one.kept) > 1 and one.together < burns:
        yield f"    {word}: all that was asked in {_in_burns(one.together, burns)}"
    for limit, hits in zip(found.limits, one.kept, strict=True):
        if hits < burns and limit not in broken:
            yield f"    {word}: {limit_text(limit, units)} in {_in_burns(hits, burns)}"
    if every := one.kept.count(burns):
        what = "every limit" if every == len(one.kept) else "the other limit" + ("s" if every > 1 else "")
        yield f"    {word}: {what} in {_in_burns(burns, burns)}"


def _in_burns(hits: int, burns: int) -> str:
    known = share(hits, burns)
    return f"{hits} of {burns} burns ({100 * known.low:.0f} to {with_unit(f'{100 * known.high:.0f}', '%')})"


def _percent(value: float) -> str:
    return with_unit(f"{100 * value:.3g}", "%")


def _front_lines(found: Search, units: str) -> Iterator[str]:
    first, second = found.trade_off
    if len(found.front) < 2:
        return
    yield ""
    yield f"What can be had: {first.replace('_', ' ')} against {second.replace('_', ' ')}"
    rows, volume = len(found.front), poured(found)
    for k in sorted({round(j * (rows - 1) / (FRONT_ROWS - 1)) for j in range(FRONT_ROWS)}):
        one = found.front[k]
        changes = one.changes.items()
        what = ", ".join(f"{path.split('.')[-1]} {field_text(path, value, units)}" for path, value in changes)
        told = [figure_told(name, one.figures[name], units, volume) for name in (first, second)]
        mostly = [f"'{code}'" for code, hits in one.verdicts if 2 * hits >= max(one.draws, 1)]
        often = f", all that was asked in {one.together} of {one.draws} burns" if one.draws and found.limits else ""
        warned = f", mostly warned of {', '.join(mostly)}" if mostly else ""
        yield f"  {told[0]:>12} {told[1]:>10}   {what}{often}{warned}"


FREE = "costs nothing by itself"


def _saving(found: Search, saving: float | None, without: float | None, units: str) -> str:
    if saving is None or without is None:
        return "not known"
    if saving <= FINE * max(abs(without), 1e-12):
        return FREE
    better, volume = "more" if found.maximise else "less", poured(found)
    amount = amount_told(found.objective, saving, units, volume)
    if FIGURES[found.objective] == "time":
        amount = with_unit(f"{saving:.1f}", "s")
    return f"without it {amount} {better} ({figure_told(found.objective, without, units, volume)})"


def _shown(found: Search, one: Candidate, units: str) -> Iterator[str]:
    edge = _edge(found, one)
    fields = [_field(path, value, units) + "*" * (path in edge) for path, value in one.changes.items()]
    yield "  " + ", ".join(fields)
    if one.reason:
        yield f"    {one.reason}"
        return
    names = dict.fromkeys((*COLUMNS, found.objective, *(limit.name for limit in found.limits if not limit.codes)))
    volume = poured(found)
    told = [
        f"{COLUMNS.get(name, name.replace('_', ' '))} {figure_told(name, one.figures[name], units, volume)}"
        for name in names
        if not math.isnan(one.figures.get(name, math.nan))
    ]
    yield "    " + ", ".join(told)
    if one.verdicts:
        often = f" of {one.draws} burns"
        warned = [f"'{code}'" + (f" in {hits}{often}" if one.draws > 1 else "") for code, hits in one.verdicts]
        yield f"    warned of: {', '.join(warned)}"


def _field(path: str, value: object, units: str) -> str:
    """A field and its value; a hole that a number drill makes has its name in any units."""
    drill = drill_name(value) if units == "si" and path == DRILLED and isinstance(value, float) else ""
    return f"{path} = {field_text(path, value, units)}" + (f" ({drill} drill)" if drill else "")


def _beyond(found: Search, shown: Sequence[Candidate]) -> Iterator[str]:
    if any(_edge(found, one) for one in shown):
        yield "  * the lowest or highest that was free: better ones may lie beyond"


def limit_text(limit: Limit, units: str = "si") -> str:
    """A limit of a search.

    >>> from burnsim.units import plain
    >>> plain(limit_text(Limit("boil", None, 720.0, frozenset(), 0.9)))
    'boil at most 12 min'
    >>> limit_text(Limit("spills", None, None, frozenset({"spills"}), 0.99))
    "no 'spills'"
    """
    if limit.name == "works":
        return limit.name
    if limit.codes:
        return f"no '{limit.name}'"
    parts = [f"at least {_end_text(limit.name, limit.least, units)}"] if limit.least is not None else []
    parts += [f"at most {_end_text(limit.name, limit.most, units)}"] if limit.most is not None else []
    return f"{limit.name.replace('_', ' ')} " + " and ".join(parts)


def _end_text(name: str, value: float, units: str) -> str:
    """The end of a limit, with the digits that it was set with."""
    if FIGURES[name] == "time":
        minutes = f"{value / 60.0:g}"
        if value < 120.0:
            return with_unit(f"{value:g}", "s")
        return with_unit(minutes, "min") if len(minutes) <= LONG else format_time(value)
    return shown(value, FIGURES[name], units)
