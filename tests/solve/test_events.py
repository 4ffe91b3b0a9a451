"""Events: located where their guards cross zero, and followed by what their names say."""

from dataclasses import replace
from functools import cache
from pathlib import Path

import burners
import pytest

import burnsim
from burnsim.closures.flame import warm_quench_power
from burnsim.model.balances.events import CHANGES, EVENTS, NEVER, REGIME_EVENTS, guards
from burnsim.model.balances.flows import balances
from burnsim.model.balances.state import Regime, flames_standing
from burnsim.model.description.burner import Burner
from burnsim.model.description.conditions import Charge, Pot
from burnsim.model.description.parts import Jets, Wick
from burnsim.model.description.setup import Setup
from burnsim.model.description.vary import vary
from burnsim.solve.events import WAYS, between
from burnsim.solve.results.result import Burn
from burnsim.substances.blend import blend

ROOT = Path(__file__).parents[2] / "examples"
ML = 1e-6


def switch(event: str, regime: Regime) -> Regime:
    """The regime after an event."""
    entry, value = CHANGES.get(event, ("wick", regime.wick))
    return regime._replace(**{entry: value})


def setups() -> dict[str, Setup]:
    double = burnsim.load(ROOT / "weekend_double_wall.toml")
    return {
        "bloom and boil": double,
        "open well": burnsim.load(ROOT / "porch_open_well.toml"),
        "sealed": burnsim.load(ROOT / "workshop_sealed_chamber.toml"),
        "cup": burnsim.load(ROOT / "garden_open_cup.toml"),
        "primer too small": vary(double, {"charge.primer": 0.3 * ML}),
        "overfilled": vary(double, {"charge.volume": 125 * ML}),
        "quench": vary(
            double,
            {
                "pot.rest": "full ring",
                "pot.water_temperature": 274.15,
                "factors.rim_contact": 3.0,
                "factors.quench_flow": 2.0,
            },
        ),
    }


SETUPS = setups()


@cache
def run(name: str) -> Burn:
    return burnsim.burn(SETUPS[name], rtol=1e-4)


@pytest.mark.parametrize("name", list(SETUPS))
def test_each_event_lies_at_its_guards_zero(name: str) -> None:
    """Within 1e-6 of zero and negative just before; or above zero from the start of the phase in which it came."""
    result = run(name)
    p = result.parameters
    regime, since = Regime(0.0, 0.0, 0.0), 0.0
    located = 0
    for event in result.course.events:
        if event.name == "lit":
            regime = next(phase.regime for phase in result.course.phases if flames_standing(phase.regime) > 0.0)
            since = event.time
            continue
        k = EVENTS.index(event.name)
        guard = guards(balances(result.state(event.time)[0], regime, p), p)[k]
        if event.time - since < 1e-6:
            assert guard >= -1e-6, event
        else:
            assert abs(guard) < 1e-6, event
            before = max(event.time - 1e-3, 0.5 * (since + event.time))
            assert guards(balances(result.state(before)[0], regime, p), p)[k] < 0.0, event
            located += 1
        if event.name in REGIME_EVENTS:
            regime, since = switch(event.name, regime), event.time
    assert located >= 1


@pytest.mark.parametrize("name", list(SETUPS))
def test_no_guard_is_passed_unseen(name: str) -> None:
    """At every step's end no flame's guard stands above zero, and each milestone's has come with its event."""
    result = run(name)
    seen: dict[str, float] = {}
    for event in result.course.events:
        seen.setdefault(event.name, event.time)
    for phase in result.course.phases:
        for step in phase.steps:
            for time in (step.start + 0.5 * step.length, step.start + step.length):
                flows = replace(result.flows(time), regime=phase.regime)
                for kind, guard in zip(EVENTS, guards(flows, result.parameters), strict=True):
                    if kind in REGIME_EVENTS:
                        assert guard < 1e-6, (kind, time)
                    elif guard > 1e-6:
                        assert seen[kind] <= time, (kind, time)


@pytest.mark.parametrize("name", list(SETUPS))
def test_flames_switch_as_named(name: str) -> None:
    result = run(name)
    changes = [event for event in result.course.events if event.name in REGIME_EVENTS or event.name == "lit"]
    assert changes[0].name == "lit"
    phases = [phase.regime for phase in result.course.phases]
    assert phases[0] == Regime(0.0, 0.0, 0.0)
    regime = next(f for f in phases if flames_standing(f) > 0.0)
    sequence = [regime]
    for event in changes[1:]:
        regime = switch(event.name, regime)
        sequence.append(regime)
    distinct = [f for k, f in enumerate(phases) if k == 0 or f != phases[k - 1]]
    burning = [k for k, f in enumerate(sequence) if flames_standing(f) > 0.0]
    assert distinct[1:] == [sequence[k] for k in burning if k == 0 or sequence[k] != sequence[k - 1]]
    if result.ended == "burnt out":
        assert flames_standing(sequence[-1]) == 0.0


def test_bloom_then_primer_out_then_burnout() -> None:
    names = [event.name for event in run("bloom and boil").course.events]
    assert names.index("jets_lit") < names.index("primer_out") < names.index("boil") < names.index("jets_out")


def test_primer_out_before_bloom_ends_the_burn() -> None:
    result = run("primer too small")
    names = [event.name for event in result.course.events]
    assert "jets_lit" not in names
    assert names[-1] == "primer_out"
    assert result.milestones.burnout.time == pytest.approx(result.course.events[-1].time)
    assert result.milestones.bloom.time is None
    assert "never blooms" in {verdict.code for verdict in result.verdicts}


def test_cold_pot_quenches_the_jets() -> None:
    """The jets go out with most of the fuel left; their guard is the power that holds a flame, or the lean limit."""
    result = run("quench")
    assert result.milestones.quench.time is not None
    assert "quenched" in {verdict.code for verdict in result.verdicts}
    assert result.mass.left > 0.3 * result.mass.charged
    regime = Regime(0.0, 1.0, 0.0)
    flows = balances(result.state(result.milestones.quench.time)[0], regime, result.parameters)
    weak = flows.fire.jet_potential / warm_quench_power(result.parameters.jets.hold_power, flows.rim_temperature)
    assert min(weak, flows.fire.jet_limit) <= 1.0 + 1e-6
    assert flows.pot.contact > flows.walls.outer_foot


def test_well_goes_out_dry_and_ends_the_cup() -> None:
    result = run("cup")
    names = [event.name for event in result.course.events]
    assert names[-2:] == ["well_dry", "well_out"]
    assert result.ended == "burnt out"
    assert result.mass.left < 0.01 * result.mass.charged


def test_overfilled_burner_spills_at_once() -> None:
    result = run("overfilled")
    assert result.milestones.spill.time == 0.0
    assert result.mass.spilled > 0.0
    assert "spills" in {verdict.code for verdict in result.verdicts}


def test_what_cannot_happen_has_no_guard() -> None:
    """Without a pilot nothing is lit; an open cup has no jets; a sealed chamber no well."""
    for name in SETUPS:
        result = run(name)
        flows = result.flows(float(result.time[-1]))
        dark = guards(replace(flows, regime=Regime(0.0, 0.0, 0.0)), result.parameters)
        for event in REGIME_EVENTS - {"boil", "spill"}:
            assert dark[EVENTS.index(event)] == NEVER, event
        once = Regime(0.0, 0.0, 0.0, boiling=1.0, spilling=1.0)
        begun = guards(replace(flows, regime=once), result.parameters)
        assert begun[EVENTS.index("boil")] == begun[EVENTS.index("spill")] == NEVER  # it happens once
    cup = run("cup")
    flows = cup.flows(10.0)
    lit = guards(replace(flows, regime=Regime(0.0, 0.0, 1.0)), cup.parameters)
    assert lit[EVENTS.index("jets_lit")] == NEVER
    lip = cup.setup.burner.height
    assert lit[EVENTS.index("spill")] == pytest.approx((flows.well.level - lip) / lip)  # over the rim


@pytest.mark.parametrize("comes", [0.02, 0.1, 0.2, 0.3, 0.36])
def test_a_moment_between_two_guards_is_found_in_a_step(comes: float) -> None:
    """One guard comes and another goes before the step's middle, or both after it: their lesser is a tent."""
    for goes in (0.49, 0.4, 0.3, 0.2, 0.1, 0.03):
        if not comes < 0.75 * goes:
            continue

        def lesser(s: float, end: float = goes) -> float:
            return min(3.0 * (s - comes), 0.5 * (end - s))

        def mirrored(s: float, end: float = goes) -> float:
            return lesser(1.0 - s, end)

        for guard in (lesser, mirrored):
            assert max(guard(0.0), guard(0.5), guard(1.0)) < 0.0
            places = [between(way, guard(0.0), guard(0.5), guard(1.0)) for way in range(WAYS)]
            assert max(guard(place) for place in places) > 0.0


def test_jets_that_can_light_for_a_moment_do_at_any_tolerance() -> None:
    """For half a second the primer's flame leaves the jets enough vapour and still reaches them, inside one step."""
    chamber = Burner(
        "sealed chamber", 53.1e-3, 23.5e-3, 0.2e-3, jets=Jets(32, 0.71e-3, 14.9e-3), wick=Wick(9.9e-3, 2e-3)
    )
    pot = Pot(0.14, 0.09, 0.4e-3, rest="bumps", gap=5.6e-3)
    setup = Setup(chamber, Charge(blend("ethanol"), 29.6 * ML, 3.52 * ML), pot)
    coarse, fine = (burners.burnt(setup, rtol).bloom.time for rtol in (1e-3, 1e-6))
    assert coarse is not None
    assert coarse == pytest.approx(fine, abs=0.05)
