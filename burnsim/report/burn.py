"""A burn as a bench note for people and as plain values for scripts."""

import math

from burnsim.constants import ZERO_CELSIUS
from burnsim.measures import in_system
from burnsim.solve.results.milestones import Milestone
from burnsim.solve.results.outcome import jets_edge
from burnsim.solve.results.result import Burn
from burnsim.substances.blend import density
from burnsim.units import format_time

LEAST_PRESSURE = 0.05  # below it a pressure is written as 0.0 [Pa]


def millilitres(burn: Burn, mass: float | None) -> float | None:
    """A mass of the charge as the volume that was poured [ml]."""
    if mass is None:
        return None
    temperature = burn.setup.charge.temperature or burn.setup.site.air_temperature
    return mass / density(burn.setup.charge.fuel, temperature) * 1e6


def burn_dict(burn: Burn) -> dict[str, object]:
    """Milestones, figures, ledgers and verdicts; keys carry their unit, None where it did not happen.

    Parameters
    ----------
    burn : a result
    """
    marks = burn.milestones
    return {
        "name": burn.setup.name,
        "primer_out_s": marks.primer_out.time,
        "vapour_s": marks.vapour.time,
        "bloom_s": marks.bloom.time,
        "boil_s": marks.boil.time,
        "burnout_s": marks.burnout.time,
        "spill_s": marks.spill.time,
        "quench_s": marks.quench.time,
        "water_max_K": burn.water_max,
        "fuel_to_boil_ml": millilitres(burn, marks.boil.fuel),
        "efficiency_to_boil": burn.efficiency_to_boil,
        "efficiency": burn.efficiency,
        "power_median_W": burn.power_median,
        "heat_fed_back": burn.heat_fed_back,
        "gallery_pressure_max_Pa": burn.gallery_pressure_max,
        "well_pressure_max_Pa": burn.well_pressure_max,
        "froth_max_mm": burn.froth_max * 1e3,
        "mass_residual": burn.mass.residual,
        "energy_residual": burn.energy.residual,
        "mass_kg": burn.mass._asdict(),
        "energy_J": burn.energy._asdict(),
        "reasons": {name: mark.reason for name, mark in marks._asdict().items() if mark.time is None},
        "verdicts": [{"code": verdict.code, "text": verdict.text} for verdict in burn.verdicts],
        "validity": list(burn.warnings),
        "rtol": burn.rtol,
    }


def burn_text(burn: Burn, units: str = "si") -> str:
    """The burn in words and a few figures.

    Parameters
    ----------
    burn : a result
    units : "si" or "us"
    """
    return in_system(_note(burn), units)


def _note(burn: Burn) -> str:
    setup = burn.setup
    lines = [setup.name or "Burn", _charge_line(burn), ""]
    lines += ["Milestones"]
    lines += _told_milestones(burn)
    lines += ["", "Figures"]
    if burn.power_median is not None:
        lines.append(f"  power, median         {burn.power_median:6.0f} W")
    if burn.heat_fed_back is not None:
        lines.append(f"  fed back to the fuel  {100.0 * burn.heat_fed_back:6.1f} %")
    if burn.efficiency_to_boil is not None:
        fuel = millilitres(burn, burn.milestones.boil.fuel) or 0.0
        lines.append(f"  efficiency to boil    {100.0 * burn.efficiency_to_boil:6.1f} %, on {fuel:.1f} ml")
    if burn.efficiency is not None:
        lines.append(f"  efficiency, whole     {100.0 * burn.efficiency:6.1f} %")
    if burn.water_max is not None:
        lines.append(f"  hottest water         {burn.water_max - ZERO_CELSIUS:6.1f} degC")
    if setup.burner.jets is not None:
        edge = jets_edge(burn.setup, burn.parameters)
        lines.append(f"  highest froth         {burn.froth_max * 1e3:6.1f} mm; jets begin at {edge}")
        lines.append(f"  highest pressure      {burn.gallery_pressure_max:6.1f} Pa in the chamber of the jets")
    covered = burn.parameters.well.present > 0.0 and burn.parameters.vent.open <= 0.0
    if covered and burn.well_pressure_max >= LEAST_PRESSURE:
        lines.append(f"  highest pressure      {burn.well_pressure_max:6.1f} Pa in the well")
    lines += ["", "Where the heat of the charge went", *_heat_lines(burn)]
    worst = max(abs(burn.mass.residual), abs(burn.energy.residual))
    lines += ["", f"The ledgers of mass and energy close to better than {max(10.0 * worst, 1e-9):.0e}."]
    if burn.verdicts:
        lines += ["", "Verdicts", *(f"  - {verdict.text}" for verdict in burn.verdicts)]
    if burn.warnings:
        lines += ["", "Laws used outside their range", *(f"  - {text}" for text in burn.warnings)]
    lines += [
        "",
        "No factor is fitted to any burn. Until the model has learnt from a bench log, times and power may well be a",
        "third off; burnsim.BANDS lists the uncertain factors and how far each may stray.",
    ]
    return "\n".join(lines)


def _charge_line(burn: Burn) -> str:
    setup = burn.setup
    text = f"{setup.charge.volume * 1e6:.1f} ml of {setup.charge.fuel.name}"
    if setup.charge.primer > 0.0:
        text += f" + {setup.charge.primer * 1e6:.1f} ml on the wick"
    if setup.pot is not None:
        start = setup.pot.water_temperature or setup.site.air_temperature
        text += f"; {setup.pot.water * 1e3:.2f} l of water at {start - ZERO_CELSIUS:.0f} degC"
    return text + f"; air {setup.site.air_temperature - ZERO_CELSIUS:.0f} degC, {setup.site.altitude:.0f} m"


def _told_milestones(burn: Burn) -> list[str]:
    """A line for every milestone that a burn of this kind can have, in the order of time."""
    setup = burn.setup
    marks = burn.milestones
    told = []
    if setup.burner.jets is not None:
        if marks.vapour.happened:
            told.append(("vapour at the jets", marks.vapour, "never"))
        told.append(("jets light (bloom)", marks.bloom, "never"))
    if setup.burner.wick is not None and setup.charge.primer > 0.0:
        told.append(("primer out", marks.primer_out, "never"))
    if setup.pot is not None:
        told.append(("water boils", marks.boil, "never"))
    told += [("last flame out", marks.burnout, "never"), ("spill", marks.spill, "no")]
    told.sort(key=lambda one: math.inf if one[1].time is None else one[1].time)
    return [_milestone(burn, *one) for one in told]


def _milestone(burn: Burn, name: str, mark: "Milestone", otherwise: str = "never") -> str:
    if mark.time is None:
        return f"  {name:<20} {otherwise}: {mark.reason}"
    fuel = millilitres(burn, mark.fuel) or 0.0
    return f"  {name:<20} {format_time(mark.time):>12}   {fuel:5.1f} ml burnt"


def _heat_lines(burn: Burn) -> list[str]:
    ledger = burn.energy
    rows = (
        ("water, warmed", ledger.water),
        ("pot metal", ledger.pot_metal),
        ("steam", ledger.steam),
        ("lost from the pot", ledger.pot_loss),
        ("flue gas", ledger.flue),
        ("radiated away", ledger.radiated),
        ("lost from the burner", ledger.burner_loss),
        ("burner, warmed", ledger.burner),
        ("unburnt vapour", ledger.unburnt),
        ("water in the fuel", ledger.fuel_water),
        ("spilled", ledger.spilled),
        ("fuel left", ledger.left),
    )
    lines = [f"  charged               {ledger.charged / 1e3:8.1f} kJ"]
    for name, joules in rows:
        if abs(joules) > 5e-4 * abs(ledger.charged):
            lines.append(f"  {name:<21} {joules / 1e3:8.1f} kJ {100.0 * joules / abs(ledger.charged):6.1f} %")
    return lines
