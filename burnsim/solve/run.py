"""One burn: from a setup to its result."""

from dataclasses import replace
from typing import NamedTuple

import numpy as np

from burnsim.errors import InputError
from burnsim.model.balances import Flows, balances
from burnsim.model.derive import derive, first_state
from burnsim.model.description import Setup
from burnsim.model.events import froth_level
from burnsim.model.kettle import LAST_WATER
from burnsim.model.parameters import Parameters
from burnsim.model.state import Flames, State, Tallies, pack, state_size, tallies_size, unpack, unpack_tallies
from burnsim.solve.ignition import Lighting, lighting
from burnsim.solve.ledger import energy_ledger, mass_ledger
from burnsim.solve.march import March, march
from burnsim.solve.result import Burn, Course, Milestone, Milestones
from burnsim.solve.series import fuel_left, total_power
from burnsim.solve.validity import out_of_range
from burnsim.solve.verdicts import verdicts

EVEN_INSTANTS = 401
SHORT_BURN = 20.0  # after bloom and primer: too little for a median or a share [s]
LOOSEST, TIGHTEST = 1e-2, 1e-9


def burn(setup: Setup, *, rtol: float = 3e-4) -> Burn:
    """Simulate one burn, from match to burn-out.

    Parameters
    ----------
    setup : what burns, under what, where
    rtol : relative tolerance of a step, 1e-9 to 1e-2

    Returns
    -------
    Burn

    Raises
    ------
    InputError
        If `rtol` is out of range.
    SolverError
        If the integration breaks down.
    """
    if not TIGHTEST <= rtol <= LOOSEST:
        raise InputError("rtol", rtol, f"is out of range; allowed {TIGHTEST:g} to {LOOSEST:g}", "leave it out for 3e-4")
    p = derive(setup)
    first = first_state(setup, p)
    spark = lighting(setup, p)
    course = march(p, first, None if spark.time is None else (spark.time, spark.flames), rtol)
    return assemble(setup, p, first, spark, course, rtol)


class Sample(NamedTuple):
    """A burn at the ends of its steps."""

    time: list[float]
    vector: list[list[float]]
    flames: list[Flames]
    flows: list[Flows]


def sampled(p: Parameters, first: State, course: March) -> Sample:
    """Flat states, flames and flows at the match and at the end of every step."""
    time = [0.0]
    vector = [pack(first) + [0.0] * tallies_size(p.components)]
    flames = [Flames(0.0, 0.0, 0.0)]
    for phase in course.phases:
        for end, step in zip(phase.ends, phase.steps, strict=True):
            time.append(end)
            vector.append(step.after.tolist())
            flames.append(phase.flames)
    flows = [balances(unpack(y, p.components), lit, p) for y, lit in zip(vector, flames, strict=True)]
    return Sample(time, vector, flames, flows)


def _burnt_mass(tallies: Tallies, p: Parameters) -> float:
    return sum(tallies.burnt[i] * p.fuel.molar_mass[i] for i in range(p.components))


def _median_power(sample: Sample, bloom: float | None, primer_out: float | None) -> float | None:
    """Median of the heat release over even instants from bloom and the end of the primer on; None if that is short."""
    start = max(bloom or 0.0, primer_out or 0.0)
    end = sample.time[-1]
    if end - start < SHORT_BURN:
        return None
    powers = [total_power(flows) for flows in sample.flows]
    grid = np.linspace(start, end, EVEN_INSTANTS)
    return float(np.median(np.interp(grid, sample.time, powers)))


def _fed_back(sample: Sample) -> float | None:
    """Share of the heat of jets and well that reaches the fuel, once the primer is out."""
    fed, made, lasted = 0.0, 0.0, 0.0
    for k in range(1, len(sample.time)):
        flows = sample.flows[k]
        length = sample.time[k] - sample.time[k - 1]
        if flows.flames.wick > 0.0:
            continue
        walls = flows.walls
        lasted += length
        fed += length * (walls.outer_foot + walls.gallery_inner + walls.well_inner + flows.pool.heat)
        made += length * (flows.fire.jet_power + flows.fire.vent_power)
    return fed / made if made > 0.0 and lasted > 3.0 * SHORT_BURN else None


def assemble(setup: Setup, p: Parameters, first: State, spark: Lighting, course: March, rtol: float) -> Burn:
    """Read the result off an integrated course.

    Parameters
    ----------
    setup, p, first : description, parameters and first state
    spark : what the match did
    course : the integration
    rtol : its tolerance
    """
    n = p.components
    sample = sampled(p, first, course)
    size = state_size(n)
    final = unpack(sample.vector[-1], n)
    tallies = unpack_tallies(sample.vector[-1][size:], n)
    times: dict[str, float] = {}
    for event in course.events:
        times.setdefault(event.name, event.time)
    burnout = course.events[-1].time if course.ended == "burnt out" else None
    water_max = None
    if setup.pot is not None:
        wet = [
            f.pot_temperature
            for f, y in zip(sample.flows, sample.vector, strict=True)
            if unpack(y, n).water > LAST_WATER
        ]
        water_max = max(wet, default=sample.flows[0].pot_temperature)

    def state_near(time: float) -> tuple[State, Tallies]:
        for phase in course.phases:
            for step in phase.steps:
                if step.start <= time <= step.start + step.length + 1e-9:
                    y = step.at(time).tolist()
                    return unpack(y, n), unpack_tallies(y[size:], n)
        return final, tallies

    def mark(time: float | None, reason: str) -> Milestone:
        if time is None:
            return Milestone(None, reason, None)
        return Milestone(time, "", _burnt_mass(state_near(time)[1], p))

    bloom_time = times.get("jets_lit")
    quench_time = _quench(setup, p, course, sample)
    reasons = _reasons(setup, p, spark, course, sample, water_max)
    milestones = Milestones(
        mark(times.get("primer_out"), reasons["primer_out"]),
        mark(bloom_time, reasons["bloom"]),
        mark(times.get("boil"), reasons["boil"]),
        mark(burnout, reasons["burnout"]),
        mark(times.get("spill"), reasons["spill"]),
        mark(quench_time, reasons["quench"]),
    )
    start_fuel = fuel_left(first, p)
    heating = sum(setup.charge.fuel.mole_fractions[i] * p.fire.heating_value[i] for i in range(n)) / sum(
        setup.charge.fuel.mole_fractions[i] * p.fuel.molar_mass[i] for i in range(n)
    )

    def efficiency(state: State) -> float | None:
        used = start_fuel - fuel_left(state, p)
        if setup.pot is None or used <= 1e-9:
            return None
        water = p.kettle.water_heat
        start = first.pot_heat / (first.water * water + p.kettle.metal)
        now = state.pot_heat / (state.water * water + p.kettle.metal)
        gone = first.water - state.water
        h0, slope = p.kettle.steam_heat
        latent = h0 + slope * now - water * now
        return (first.water * water * (now - start) + gone * latent) / (used * heating)

    to_boil = None
    if milestones.boil.time is not None:
        to_boil = efficiency(state_near(milestones.boil.time)[0])
    time = np.array(sample.time)
    time.flags.writeable = False
    burn_course = Course(
        course.phases,
        course.events,
        course.ended,
        course.evaluations,
        len(sample.time) - 1,
        course.rejected,
        course.forced,
        rtol,
    )
    result = Burn(
        setup,
        p,
        burn_course,
        time,
        milestones,
        (),
        mass_ledger(first, final, tallies, p),
        energy_ledger(first, final, tallies, p),
        to_boil,
        efficiency(final),
        _median_power(sample, bloom_time, times.get("primer_out")),
        water_max,
        max(f.gas.gallery_pressure for f in sample.flows),
        max(f.gas.well_pressure for f in sample.flows),
        max(froth_level(f, p) for f in sample.flows),
        _fed_back(sample),
        out_of_range(p, sample.vector, sample.flames, sample.time),
    )
    return replace(result, verdicts=verdicts(result, sample.flows))


def _quench(setup: Setup, p: Parameters, course: March, sample: Sample) -> float | None:
    """When the jets went out for good with fuel left to burn; None if they ran dry or never lit."""
    out = [e.time for e in course.events if e.name == "jets_out"]
    lit = [e.time for e in course.events if e.name == "jets_lit"]
    if not out or (lit and lit[-1] > out[-1]):
        return None
    k = min(range(len(sample.time)), key=lambda j: abs(sample.time[j] - out[-1]))
    left = sample.flows[k].gallery.volume + sample.flows[k].well.volume
    return out[-1] if left > max(0.15 * setup.charge.volume, 2.0 * p.gallery.film_volume) else None


def _reasons(
    setup: Setup, p: Parameters, spark: Lighting, course: March, sample: Sample, water_max: float | None
) -> dict[str, str]:
    """Why each milestone did not happen, should it not have."""
    never = spark.reason
    flows = sample.flows
    peak = max(f.fire.jet_potential for f in flows)
    hottest = max(f.gallery.temperature for f in flows)
    richest = max(f.fire.jet_limit for f in flows)
    if never:
        bloom = never
    elif setup.burner.jets is None:
        bloom = "an open cup has no jets"
    elif richest < 1.0:
        bloom = (
            f"the gas from the jets stayed too lean to burn: the gallery reached only {hottest - 273.15:.0f} degC "
            f"before the pilot flame was gone"
        )
    else:
        bloom = (
            f"the vapour at each jet reached {peak:.2g} W, and {p.jets.light_power:.2g} W light it, before the "
            f"pilot flame was gone; the gallery reached {hottest - 273.15:.0f} degC"
        )
    if setup.pot is None:
        boil = "there is no pot"
    elif never:
        boil = never
    elif water_max is not None:
        boil = (
            f"the water reached {water_max - 273.15:.1f} degC and boils at {p.kettle.boiling_point - 273.15:.1f} degC"
        )
    else:
        boil = "the water is gone"
    spill = never or "no jets to spill from"
    if setup.burner.jets is not None and not never:
        froth = max(froth_level(f, p) for f in flows)
        spill = f"froth rose to {froth * 1e3:.1f} mm; the jets begin at {p.jets.lower_edge * 1e3:.1f} mm"
    return {
        "primer_out": never or "no primer was lit",
        "bloom": bloom,
        "boil": boil,
        "burnout": never or f"flames still stood after {sample.time[-1]:.0f} s",
        "spill": spill,
        "quench": "the jets never lit"
        if not any(e.name == "jets_lit" for e in course.events)
        else "the jets burnt until the fuel was gone",
    }
