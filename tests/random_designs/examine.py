"""Burn a design and say everything that is wrong with what came of it."""

import math
from collections.abc import Iterator
from dataclasses import asdict
from typing import Any, NamedTuple

import numpy as np
from CoolProp.HumidAirProp import HAPropsSI

from burnsim.model.balances.events import DRY
from burnsim.model.balances.state import tallies_size, unpack, unpack_tallies
from burnsim.model.description.setup import Setup
from burnsim.model.parameters.record import Parameters
from burnsim.solve.compile.engine import at_hand, march_compiled
from burnsim.solve.results.account import Account
from burnsim.solve.results.outcome import Outcome, judge
from burnsim.solve.run import DEFAULT_RTOL, marched, ready
from burnsim.substances.equilibrium import bubble_temperature

CLOSED = 1e-6
"""Most that a ledger may be open, as a share of what was charged."""

ROUNDING = 1e-9
"""Less than nothing by so much is rounding [kg, mol, W, m]."""

INTERPOLATED = 0.05
"""States at events and at the end lie inside a step: they are good to rtol times this share of the charge, which is the
integrator's own tolerance for an amount."""

HOTTEST_FLAME = 2300.0  # adiabatic, of spirits in air; metal melts long before, and a verdict says so [K]
DRIER = 1.5
"""How far below the wet bulb of a library evaporation may bring water [K]: vapour diffuses a tenth faster than heat."""


class Burnt(NamedTuple):
    """A burn with all that its march saw."""

    setup: Setup
    parameters: Parameters
    account: Account
    outcome: Outcome


def burnt(setup: Setup, rtol: float = DEFAULT_RTOL, *, compiled: bool | None = None) -> Burnt:
    """Burn as `burnsim.burn_many` does, but keep the account for inspection; by default compiled if that is at hand."""
    start = ready(setup)
    p, _, spark = start
    if compiled is None:
        compiled = at_hand(p.components)
    if spark.time is not None and compiled:
        seen = march_compiled(start, rtol).account
    else:
        seen = marched(start, rtol).account
    return Burnt(setup, p, seen, judge(setup, start, seen, rtol))


def complaints(setup: Setup, rtol: float = DEFAULT_RTOL, *, compiled: bool | None = None) -> list[str]:
    """Everything that is wrong with a design's burn, in words; an exception is one of them."""
    try:
        run = burnt(setup, rtol, compiled=compiled)
        return [*_numbers(run), *_ledgers(run), *_bounds(run), *_milestones(run), *_verdicts(run)]
    except Exception as error:  # whatever it is, it is a finding
        return [f"{type(error).__name__}: {error}"]


def _numbers(run: Burnt) -> Iterator[str]:
    """Nothing may be infinite or no number."""
    if not np.all(np.isfinite(run.account.snapshots)):
        yield "a snapshot is not finite"
    if not np.all(np.isfinite(run.account.time)):
        yield "a time is not finite"
    if np.any(np.diff(run.account.time) < 0.0):
        yield "time runs backward"
    for vector in (run.account.last, *(moment.vector for moment in run.account.moments)):
        if not np.all(np.isfinite(vector)):
            yield "a state is not finite"
    kept = {k: v for k, v in vars(run.outcome).items() if k not in ("setup", "verdicts")}
    yield from (f"{path} is {value}" for path, value in _floats("", kept) if not math.isfinite(value))


def _floats(path: str, value: Any) -> Iterator[tuple[str, float]]:
    if isinstance(value, float):
        yield path, value
    elif isinstance(value, dict):
        for key, inner in value.items():
            yield from _floats(f"{path}.{key}", inner)
    elif hasattr(value, "_asdict"):
        yield from _floats(path, value._asdict())
    elif isinstance(value, tuple):
        for k, inner in enumerate(value):
            yield from _floats(f"{path}[{k}]", inner)
    elif hasattr(value, "__dataclass_fields__"):
        yield from _floats(path, asdict(value))


def _ledgers(run: Burnt) -> Iterator[str]:
    mass, energy = run.outcome.mass, run.outcome.energy
    for name, residual in (
        ("mass", mass.residual),
        ("component", mass.component_residual),
        ("energy", energy.residual),
    ):
        if not abs(residual) < CLOSED:
            yield f"the ledger of {name} is open by {residual:.2g}"
    for name, part in mass._asdict().items():
        if not name.endswith("residual") and part < -INTERPOLATED * run.outcome.rtol * mass.charged:
            yield f"mass.{name} is {part:.3g} kg"


def wet_bulb(setup: Setup, pressure: float) -> float:
    """Temperature to which the room's air can bring water by evaporation, by a library of humid air [K]."""
    site = setup.site
    return float(HAPropsSI("B", "T", site.air_temperature, "P", pressure, "R", min(site.humidity, 1.0)))


def _bounds(run: Burnt) -> Iterator[str]:
    """No negative amount, and no temperature that the site, the fuel or a flame cannot make."""
    p = run.parameters
    n = p.components
    site = run.setup.site
    charged = sum(fuel_moles(run))
    slack = ROUNDING + INTERPOLATED * run.outcome.rtol * charged
    for vector in (run.account.last, *(moment.vector for moment in run.account.moments)):
        state, tallies = unpack(vector, n), unpack_tallies(vector[-tallies_size(n) :], n)
        amounts = {
            "gallery": min(state.gallery),
            "well": min(state.well),
            "wick": state.wick,
            "air": state.air,
            "water": state.water,
            "burnt": min(tallies.burnt),
            "unburnt": min(tallies.unburnt),
            "spilled": min(tallies.spilled),
        }
        name = min(amounts, key=lambda key: amounts[key])
        if amounts[name] < -slack:
            yield f"{name} falls to {amounts[name]:.3g} mol of {charged:.3g} charged"
            break
    for name in ("power", "wick_power", "jet_power", "water", "volume", "froth", "gallery_level"):
        low = float(run.account.column(name).min())
        if low < -ROUNDING:
            yield f"{name} falls to {low:.3g}"
    water = site.air_temperature
    if run.setup.pot is not None and run.setup.pot.water_temperature is not None:
        water = run.setup.pot.water_temperature
    coldest = min(site.air_temperature, run.setup.charge.temperature or 400.0, water)
    gauge = max(run.outcome.gallery_pressure_max, run.outcome.well_pressure_max, 0.0)
    pure = [tuple(float(i == k) for i in range(n)) for k in range(n)]
    boils = max(bubble_temperature(x, p.site.pressure + gauge, p.fuel) for x in pure)
    wet = run.account.column("gallery_level") * p.gallery.area > DRY * p.gallery.film_volume
    rim, gallery = run.account.column("rim_temperature"), run.account.column("gallery_temperature")
    spans = [
        ("rim_temperature", rim, coldest - 40.0, HOTTEST_FLAME),
        ("collar_temperature", run.account.column("collar_temperature"), coldest - 40.0, HOTTEST_FLAME),
        ("gallery_temperature", gallery[wet], coldest - 40.0, boils + 60.0),
        ("gallery_temperature, dry", gallery[~wet], coldest - 40.0, max(boils + 60.0, float(rim.max()))),
    ]
    if run.setup.pot is not None:
        held = run.account.column("pot_temperature")[run.account.column("water") > 1e-3]
        dried = min(coldest, wet_bulb(run.setup, p.site.pressure)) - DRIER
        spans.append(("pot_temperature", held, dried, p.pot.boiling_point + 0.5))
    for name, values, low, high in spans:
        if len(values) and not (low < values.min() and values.max() < high):
            yield f"{name} spans {values.min():.1f} to {values.max():.1f} K; bounds {low:.1f} to {high:.1f} K"
    warmed = run.outcome.energy.pot_loss < 0.0  # by a room warmer than the water, which the standard formula counts in
    if run.outcome.efficiency is not None and run.outcome.efficiency > 1.0 and not warmed:
        yield f"efficiency is {run.outcome.efficiency:.3f}"


def fuel_moles(run: Burnt) -> tuple[float, ...]:
    """What was charged, all of it [mol of each component]."""
    n = run.parameters.components
    state, tallies = unpack(run.account.last, n), unpack_tallies(run.account.last[-tallies_size(n) :], n)
    wick = run.parameters.wick.fractions
    return tuple(
        state.gallery[i]
        + state.well[i]
        + state.wick * wick[i]
        + tallies.burnt[i]
        + tallies.unburnt[i]
        + tallies.spilled[i]
        for i in range(n)
    )


def _milestones(run: Burnt) -> Iterator[str]:
    marks = run.outcome.milestones
    for name, mark in marks._asdict().items():
        if mark.time is None:
            if not mark.reason.strip() or mark.fuel is not None:
                yield f"{name} did not happen, without a reason"
        elif mark.reason or mark.fuel is None or not -1e-9 <= mark.fuel <= run.outcome.mass.charged * (1.0 + 1e-9):
            yield f"{name} happened, with {mark}"
        elif not 0.0 <= mark.time <= run.outcome.duration + 1e-9:
            yield f"{name} at {mark.time} s of {run.outcome.duration} s"
    if marks.burnout.time is not None:
        for name, mark in marks._asdict().items():
            if mark.time is not None and mark.time > marks.burnout.time + 1e-9:
                yield f"{name} after burn-out"
    if marks.quench.time is not None and (marks.bloom.time is None or marks.quench.time <= marks.bloom.time):
        yield "quenched before bloom"
    times = [moment.time for moment in run.account.moments]
    if times != sorted(times):
        yield "events out of order"


def _verdicts(run: Burnt) -> Iterator[str]:
    """Whatever fails is said in words."""
    marks, outcome = run.outcome.milestones, run.outcome
    codes = {verdict.code for verdict in outcome.verdicts}
    if any(not verdict.text.strip() for verdict in outcome.verdicts):
        yield "a verdict without words"
    lit = outcome.ended != "never lit"
    wanted = [
        ("never lit", not lit),
        ("never blooms", lit and run.setup.burner.jets is not None and marks.bloom.time is None),
        ("no boil", lit and run.setup.pot is not None and marks.boil.time is None),
        ("spills", marks.spill.time is not None),
    ]
    if marks.quench.time is not None and len(codes & {"quenched", "water left"}) != 1:
        yield "quenched, and not one verdict of it"
    yield from (f"no verdict {code!r}" for code, due in wanted if due and code not in codes)
    if marks.burnout.time is None and not codes & {"never lit", "cut off", "flutter"}:
        yield "no burn-out and no verdict why"
    if outcome.ended == "flutter":
        yield "flutter: the flames go on and off without end"
