"""The four answers at the head of a sheet: boils in, on how much, pour at most, watch for."""

from typing import TYPE_CHECKING

from burnsim.report.burn import poured
from burnsim.report.fill import own_load
from burnsim.report.sheet.bands import band_text
from burnsim.report.sheet.blocks import Answer, Answers
from burnsim.report.sheet.risks import GRAVE, first_warning
from burnsim.units import format_time, told, written

if TYPE_CHECKING:
    from burnsim.report.sheet.findings import Findings


def answers(findings: "Findings", units: str = "si") -> Answers:
    """What a person wants to know first."""
    return Answers((_when(findings, units), _fuel(findings, units), _load(findings, units), _watch(findings, units)))


def _band(findings: "Findings", name: str, units: str) -> tuple[str, ...]:
    """The band of a figure in the next burn of this build, if bands were looked for."""
    found = findings.prediction
    if isinstance(found, str):
        return ()
    band, _, share = band_text(found, name, units).partition(", ")
    return (f"9 in 10 burns: {band}" if found.quantiles(name) else band, *((share,) if share else ()))


def _when(findings: "Findings", units: str) -> Answer:
    burn = findings.burn
    boils = burn.setup.pot is not None
    mark = burn.milestones.boil if boils else burn.milestones.burnout
    band = _band(findings, "boil" if boils else "burnout", units)
    if mark.time is None:
        return Answer("boils in", "never", (told(mark.reason, units), *band))
    return Answer("boils in" if boils else "burns for", format_time(mark.time), band)


def _fuel(findings: "Findings", units: str) -> Answer:
    burn = findings.burn
    charge, boil = burn.setup.charge, burn.milestones.boil
    given = f"{written(charge.volume, 'volume', units)} of {charge.fuel.name} poured in"
    if charge.primer > 0.0:
        given += f", {written(charge.primer, 'volume', units)} on the wick"
    used = poured(burn, boil.fuel)
    if used is None:
        whole = written(charge.volume + charge.primer, "volume", units)
        return Answer("on how much", whole, (given, "wick and charge together"))
    return Answer("on how much", written(used, "volume", units), (*_band(findings, "boil_fuel", units), given))


def _load(findings: "Findings", units: str) -> Answer:
    fill = findings.fill
    if isinstance(fill, str):
        return Answer("pour at most", "not known", (fill,))
    own = told(own_load(fill), units)
    where = "on a level stand" if fill.tilt <= 0.0 else f"on a slope of {written(fill.tilt, 'angle')}"
    if fill.safe is None:
        return Answer("pour at most", "none", (f"no load is known to be safe {where}", *((own,) if own else ())))
    other = written(fill.safe, "volume", "si" if units == "us" else "us")
    below = own or ("with the margin that is kept" if fill.setup.pot is None else "under this pot, the margin kept")
    return Answer("pour at most", written(fill.safe, "volume", units), (f"({other}) {where}", below))


def _watch(findings: "Findings", units: str) -> Answer:
    """A grave verdict of the burn as drawn; else a load that is not known to be safe; else what may befall most."""
    fill, drawn = findings.fill, {verdict.code for verdict in findings.burn.verdicts}
    own = "" if isinstance(fill, str) else told(own_load(fill), units)
    if own and not drawn.intersection(GRAVE):
        return Answer("watch for", "too much fuel loaded", (own,))
    what, how = first_warning(findings.burn, findings.prediction)
    return Answer("watch for", what, (how,))
