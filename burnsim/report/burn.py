"""A burn as a bench note for people, as plain values for scripts, and its curves as comma-separated values."""

import csv
import math
from collections.abc import Iterator
from typing import TextIO

from burnsim.model.at_site import poured_density
from burnsim.model.parameters.derive import derive
from burnsim.report.fields import charge_text, factors_text, site_text
from burnsim.report.values import Keys
from burnsim.solve.results.milestones import Milestone
from burnsim.solve.results.outcome import Outcome, jets_edge
from burnsim.solve.results.result import Burn
from burnsim.solve.results.series import SERIES, TIME, hidden_series
from burnsim.solve.results.verdicts import ENDS_EARLY
from burnsim.studies.fill.limit import at_rest, burning_head
from burnsim.studies.fill.record import USUAL
from burnsim.studies.sweep.columns import behind_jets, spill_margin
from burnsim.units import format_time, told, written

HEAT = {
    "water": "water, warmed", "pot_metal": "pot metal", "steam": "steam", "pot_loss": "lost from the pot",
    "flue": "flue gas", "radiated": "radiated away", "burner_loss": "lost from the burner", "burner": "burner, warmed",
    "unburnt": "unburnt vapour", "fuel_water": "water in the fuel", "spilled": "spilled", "left": "fuel left",
}  # fmt: skip
"""Where heat goes, by the field of the ledger."""
LEAST_PRESSURE = 0.05  # below it a pressure is written as 0.0 [Pa]


def poured(burn: Outcome, mass: float | None) -> float | None:
    """A mass of the charge [kg] as the volume that was poured [m3]."""
    return None if mass is None else mass / poured_density(burn.setup)


VERDICT = {"code": "code", "text": "text"}
BURN: Keys = {
    "name": "setup.name", "primer_out_s": "milestones.primer_out.time", "vapour_s": "milestones.vapour.time",
    "bloom_s": "milestones.bloom.time", "boil_s": "milestones.boil.time", "burnout_s": "milestones.burnout.time",
    "spill_s": "milestones.spill.time", "quench_s": "milestones.quench.time", "water_max_K": "water_max",
    "efficiency_to_boil": "efficiency_to_boil", "efficiency": "efficiency", "power_median_W": "power_median",
    "power_max_W": "power_max",
    "heat_fed_back": "heat_fed_back", "gallery_pressure_max_Pa": behind_jets("gallery_pressure_max"),
    "well_pressure_max_Pa": "well_pressure_max", "froth_max_mm": behind_jets("froth_max"),
    "mass_residual": "mass.residual", "energy_residual": "energy.residual", "mass_kg": "mass",
    "energy_J": "energy", "rtol": "rtol", "fuel_to_boil_ml": lambda burn: poured(burn, burn.milestones.boil.fuel),
    "reasons": lambda burn: {
        name: mark.reason for name, mark in burn.milestones._asdict().items() if mark.time is None
    },
    "verdicts": ("verdicts", VERDICT), "validity": lambda burn: burn.warnings if isinstance(burn, Burn) else None,
}  # fmt: skip


def burn_text(burn: Outcome, units: str = "si") -> str:
    """The burn in words and a few figures."""
    setup = burn.setup
    lines = [setup.name or "Burn", f"{charge_text(setup, units)}; {site_text(setup, units)}", "", "Milestones"]
    for _, name, time, rest in milestones(burn, units):
        lines.append(f"  {name:<20} {f'{time:>12}   {rest:>14}' if time else rest}")
    lines += ["", "Figures", *(f"  {what:<21} {figure:>9}{more}" for what, figure, more in _figures(burn, units))]
    lines += ["", "Where the heat of the charge went", *_heat_lines(burn)]
    worst = max(abs(burn.mass.residual), abs(burn.energy.residual))
    lines += ["", f"The ledgers of mass and energy close to better than {max(10.0 * worst, 1e-9):.0e}."]
    if burn.verdicts:
        lines += ["", "Verdicts", *(f"  - {told(verdict.text, units)}" for verdict in burn.verdicts)]
    if isinstance(burn, Burn) and burn.warnings:
        lines += ["", "Laws used outside their range", *(f"  - {told(text, units)}" for text in burn.warnings)]
    otherwise = (
        ". Until the model has learnt from a bench log, times and power may well be a\n"
        "third off, and jets that barely hold may go out: burnsim predict tells how likely."
    )
    return "\n".join([*lines, "", factors_text(setup, otherwise)])


def _figures(burn: Outcome, units: str) -> Iterator[tuple[str, str, str]]:
    """What it is, its figure, and what else is to be said of it."""
    if burn.power_median is not None:
        yield "power, median", written(burn.power_median, "power", units), ""
        if isinstance(burn, Burn):
            yield "power, highest", *highest_power(burn, units)
    if burn.heat_fed_back is not None:
        yield "fed back to the fuel", written(burn.heat_fed_back, "fraction"), ""
    if burn.efficiency_to_boil is not None:
        fuel = written(poured(burn, burn.milestones.boil.fuel) or 0.0, "volume", units)
        yield "efficiency to boil", written(burn.efficiency_to_boil, "fraction"), f", on {fuel}"
    if burn.efficiency is not None:
        yield "efficiency, whole", written(burn.efficiency, "fraction"), ""
    elif burn.setup.pot is not None:
        yield "efficiency, whole", "undefined", ": the fire gives too little, or the air warms the water too"
    if burn.water_max is not None:
        yield "hottest water", written(burn.water_max, "temperature", units, 1), ""
    p = burn.parameters if isinstance(burn, Burn) else derive(burn.setup)
    if burn.setup.burner.jets is not None:
        edge = told(jets_edge(burn.setup, p), units)
        yield "highest froth", written(burn.froth_max, "length", units), f"; jets begin at {edge}"
        peak = written(burn.gallery_pressure_max, "pressure", units)
        yield "highest pressure", peak, " in the chamber of the jets"
    covered = p.well.present > 0.0 and p.vent.open <= 0.0
    if covered and burn.well_pressure_max >= LEAST_PRESSURE:
        yield "highest pressure", written(burn.well_pressure_max, "pressure", units), " in the well"


def highest_power(burn: Burn, units: str = "si") -> tuple[str, str]:
    """The highest power of all flames, and when it comes: most burners flare up while the primer still burns."""
    k = int(burn.series("power").argmax())
    primed = burn.setup.charge.primer > 0.0 and float(burn.series("wick_power")[k]) > 0.0
    flare = ", with the primer's flame" if primed else ""
    return written(burn.power_max, "power", units), f", at {format_time(float(burn.time[k]))}{flare}"


def key_figures(burn: Outcome) -> Iterator[tuple[str, str]]:
    """Milestones and figures in SI, each with its name."""
    for _, name, time, rest in milestones(burn, "si"):
        yield name, f"{time}, {rest}" if time else rest
    for what, figure, more in _figures(burn, "si"):
        yield what, figure + more


UNTOLD = "; it ends too early to tell of a spill"
"""What goes with no spill of a burn that went out with fuel left, or never lit."""
MILESTONES = {
    "vapour": "vapour at the jets", "bloom": "jets light (bloom)", "primer_out": "primer out", "boil": "water boils",
    "burnout": "last flame out", "spill": "spill",
}  # fmt: skip


def milestones(burn: Outcome, units: str) -> list[tuple[str, str, str, str]]:
    """Every milestone that a burn of this kind can have, in the order of time: field, name, time, fuel burnt by then.

    Of one that does not come, there is no time, and in place of the fuel why.
    """
    setup, marks = burn.setup, burn.milestones
    shown = {
        "vapour": setup.burner.jets is not None and marks.vapour.happened, "bloom": setup.burner.jets is not None,
        "primer_out": setup.burner.wick is not None and setup.charge.primer > 0.0, "boil": setup.pot is not None,
    }  # fmt: skip
    rows: list[tuple[str, Milestone]] = [(name, getattr(marks, name)) for name in MILESTONES if shown.get(name, True)]
    codes = {verdict.code for verdict in burn.verdicts}
    found = []
    for name, mark in sorted(rows, key=lambda one: math.inf if one[1].time is None else one[1].time):
        if mark.time is None:
            rest = f"{'no' if name == 'spill' else 'never'}: {told(mark.reason, units)}"
            if name == "spill" and setup.burner.jets is not None and not ENDS_EARLY.isdisjoint(codes):
                rest += UNTOLD
            elif name == "spill":
                rest += _near_spill(burn, units)
        else:
            rest = f"{written(poured(burn, mark.fuel) or 0.0, 'volume', units)} burnt"
        found.append((name, MILESTONES[name], "" if mark.time is None else format_time(mark.time), rest))
    return found


def _near_spill(burn: Outcome, units: str) -> str:
    """What goes with no spill of a load that leaves less room than `burnsim fill` keeps: there the sign is not sure."""
    setup = burn.setup
    most = at_rest(setup, setup.site.tilt).volume or 0.0
    head, room = burning_head(setup, USUAL), spill_margin(burn)
    if setup.charge.volume > most:
        return f"; but at rest burnsim fill allows {written(most, 'volume', units, toward=-1)} at most: pour less"
    if room is not None and room < head:
        return f"; but burnsim fill keeps {written(head, 'length', units)} free below them: pour less"
    return ""


def _heat_lines(burn: Outcome) -> list[str]:
    ledger = burn.energy
    lines = [f"  charged               {ledger.charged / 1e3:8.1f}\u00a0kJ"]
    for field, name in HEAT.items():
        joules = float(getattr(ledger, field))
        if abs(joules) > 5e-4 * abs(ledger.charged):
            share = 100.0 * joules / abs(ledger.charged)
            kilojoules = round(joules / 1e3, 1) + 0.0  # no minus where nothing is left
            lines.append(f"  {name:<21} {kilojoules:8.1f}\u00a0kJ {round(share, 1) + 0.0:6.1f}\u00a0%")
    return lines


def write_series(burn: Burn, stream: TextIO) -> None:
    """Write each series that means something for the burner, a line a moment, to a file opened with `newline=""`."""
    hidden = hidden_series(burn.setup)
    names = [name for name in SERIES if name not in hidden]
    headings = [name if SERIES[name].unit == "1" else f"{name}_{SERIES[name].unit}" for name in names]
    values = [burn.time if name == TIME else burn.series(name) for name in names]
    writer = csv.writer(stream)
    writer.writerow(headings)
    for row in zip(*values, strict=True):
        writer.writerow([f"{value:.7g}" if math.isfinite(value) else "" for value in map(float, row)])
