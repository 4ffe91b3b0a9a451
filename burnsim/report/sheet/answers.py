"""What a sheet answers: boils in, on how much, pour at most, watch for; bands and loads in words."""

from collections.abc import Iterator

from burnsim.model.at_site import poured_density
from burnsim.report.burn import poured
from burnsim.report.fields import on_wick, share_text
from burnsim.report.fill import at_most, kept_words, lowest, notes, own_load, pour_words, relief_words, told_rows
from burnsim.report.sheet.blocks import Answer, Answers, Block, Heading, Table, Words
from burnsim.report.sheet.findings import Findings
from burnsim.report.sheet.risks import GRAVE, first_warning
from burnsim.solve.results.verdicts import ENDS_EARLY
from burnsim.studies.predict.prediction import FIGURES, Prediction
from burnsim.units import format_time, told, written

ENDS = (0.05, 0.95)


def answers(findings: Findings, units: str = "si") -> Answers:
    """What a person wants to know first."""
    return Answers((_when(findings, units), _fuel(findings, units), _load(findings, units), _watch(findings, units)))


def _band(findings: Findings, name: str, units: str) -> tuple[str, ...]:
    """The band of a figure in the next burn of this build, if bands were looked for."""
    found = findings.prediction
    if isinstance(found, str):
        return ()
    band, _, share = band_text(found, name, units).partition(", ")
    if share:
        return share, f"9 in 10 of those: {band}"
    return (f"9 in 10 burns: {band}" if found.quantiles(name) else band,)


def _when(findings: Findings, units: str) -> Answer:
    burn = findings.burn
    boils = burn.setup.pot is not None
    mark = burn.milestones.boil if boils else burn.milestones.burnout
    band = _band(findings, "boil" if boils else "burnout", units)
    if mark.time is None:
        return Answer("boils in", "never", (told(mark.reason, units), *band))
    return Answer("boils in" if boils else "burns for", format_time(mark.time), band)


def _fuel(findings: Findings, units: str) -> Answer:
    burn = findings.burn
    charge, boil = burn.setup.charge, burn.milestones.boil
    given = f"{written(charge.volume, 'volume', units)} of {charge.fuel.name} poured in"
    if charge.primer > 0.0:
        given += f", {on_wick(charge.primer, units)} on the wick"
    used = poured(burn, boil.fuel)
    if "never lit" in {verdict.code for verdict in burn.verdicts}:
        return Answer("burnt in all", "nothing", (given, "it does not light"))
    if used is None:
        burnt = poured(burn, burn.milestones.burnout.fuel)
        if burn.setup.pot is not None and burnt is not None:
            return Answer("burnt in all", written(burnt, "volume", units), (given, "the water does not boil on it"))
        whole = written(charge.volume + charge.primer, "volume", units)
        return Answer("on how much", whole, (given, "wick and charge together"))
    return Answer("on how much", written(used, "volume", units), (*_band(findings, "boil_fuel", units), given))


def _load(findings: Findings, units: str) -> Answer:
    fill = findings.fill
    if isinstance(fill, str):
        return Answer("pour at most", "not known", (fill,))
    own = own_load(fill, units)
    where = "on a level stand" if fill.tilt <= 0.0 else f"on a slope of {written(fill.tilt, 'angle')}"
    if fill.safe is None:
        return Answer("pour at most", "none", (f"no load is known to be safe {where}", *((own,) if own else ())))
    other = at_most(fill.safe, "si" if units == "us" else "us")
    below = own or ("with the margin that is kept" if fill.setup.pot is None else "under this pot, the margin kept")
    return Answer("pour at most", at_most(fill.safe, units), (f"({other}) {where}", below))


def _watch(findings: Findings, units: str) -> Answer:
    """A grave verdict of the burn as drawn; else that it goes out; else a load that is not known to be safe; else what
    may befall most. A burn that goes out proves nothing of its load: what is known of it stands beside `pour at most`.
    """
    fill, drawn = findings.fill, {verdict.code for verdict in findings.burn.verdicts}
    what, how = first_warning(findings.burn, findings.prediction)
    harmless = not drawn.intersection(GRAVE) and ENDS_EARLY.isdisjoint(drawn)
    if harmless and not isinstance(fill, str) and (own := own_load(fill, units)):
        what, how = "more fuel than is proven safe" if lowest(fill)[1].dark else "too much fuel loaded", own
    return Answer("watch for", what, (how,))


def band_text(found: Prediction, name: str, units: str) -> str:
    """Central 90 % of a figure in the next burn of this build, and in how many burns it has a value if not in all."""
    if not name:
        return ""
    share = found.happens(name).value
    ends = found.quantiles(name, ENDS, of="next")
    if not ends:
        return "in none of the burns"
    low, high = (_figure(found, name, one.value, units) for one in ends)
    text = low if low == high else f"{low} to {high}"
    return text if share >= 1.0 else f"{text}, in {share_text(share)} of the burns"


def _figure(found: Prediction, name: str, value: float, units: str) -> str:
    dimension = FIGURES[name]
    if dimension == "time":
        return format_time(value)
    if dimension == "mass":  # of fuel: told as the volume that was poured
        return written(value / poured_density(found.setup), "volume", units)
    return written(value, dimension, units, 0 if dimension == "fraction" else None)


def fill_block(findings: Findings, units: str) -> Iterator[Block]:
    """Fill limits and relief, or in words why there are none."""
    yield Heading("How much may be loaded")
    fill, relief = findings.fill, findings.relief
    if isinstance(fill, str):
        yield Words(f"Fill limits: {fill}.", small=True)
    else:
        answer = pour_words(fill, units)
        yield Words(f"{answer[0].upper()}{answer[1:]}.")
        if own := own_load(fill, units):
            yield Words(own)
        yield Table(("", "safe up to", "what becomes of more"), tuple(told_rows(fill, units)), (1.0, 0.65, 1.7), (1,))
        yield from (Words(f"{note}.", small=True) for note in (kept_words(fill, units), *notes(fill, units)))
    if isinstance(relief, str):
        yield Words(f"Relief: {relief}.", small=True)
    elif findings.burn.setup.burner.has_inner_wall:
        yield Words(relief_words(relief, units))
