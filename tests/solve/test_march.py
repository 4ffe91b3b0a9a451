"""The march where it is hard: rejected steps, a second try, refusals in words, and what cuts a burn off."""

import math
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest

import burnsim
import burnsim.solve.march as march_room
from burnsim.errors import SolverError
from burnsim.model.balances.flows import balances, settled
from burnsim.model.balances.pot import pot_temperature
from burnsim.model.balances.state import Regime, pack, place, state_size, tallies_size, unpack
from burnsim.solve.march import LOCATED, March, locate
from burnsim.solve.results.account import account, instants, temperatures_at
from burnsim.solve.rosenbrock import Step
from burnsim.solve.run import marched, ready
from burnsim.units import plain

WEEKEND = burnsim.load(Path(__file__).parents[2] / "examples" / "weekend_double_wall.toml")
SOON = 8.0
"""Of the burn: the primer burns and nothing has happened yet [s]."""


@pytest.fixture
def soon(monkeypatch: pytest.MonkeyPatch) -> None:
    """Cut every burn off early."""
    monkeypatch.setattr(march_room, "HORIZON", SOON)


def course() -> March:
    return marched(ready(WEEKEND), 1e-4)


@pytest.mark.usefixtures("soon")
def test_a_burn_that_is_cut_off_says_so() -> None:
    result = burnsim.burn(WEEKEND)
    assert result.ended == "horizon"
    assert result.duration == pytest.approx(SOON)
    assert result.milestones.burnout.time is None
    assert not result.milestones.burnout.happened
    assert result.milestones.burnout.reason == "flames still stood after 8 s"
    text = {verdict.code: plain(verdict.text) for verdict in result.verdicts}
    assert text["cut off"] == "The run was cut off at 8 s with flames still standing."


def test_flames_that_come_and_go_end_the_run(monkeypatch: pytest.MonkeyPatch) -> None:
    """With two changes allowed the third ends it; no flame need be out by then."""
    monkeypatch.setattr(march_room, "MOST_SWITCHES", 2)
    small = burnsim.vary(WEEKEND, {"charge.volume": "12 ml"})
    result = burnsim.burn(small)
    assert result.ended == "flutter"
    assert sum(1 for event in result.course.events if event.name != "lit") >= 3
    (verdict,) = [plain(verdict.text) for verdict in result.verdicts if verdict.code == "flutter"]
    assert verdict.endswith(f"the run was ended at {result.duration:.0f} s.")


@pytest.mark.usefixtures("soon")
def test_a_march_of_too_many_steps_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(march_room, "MOST_STEPS", 4)
    with pytest.raises(SolverError, match=r"^more than 4 steps at \d+(\.\d+)? s$"):
        burnsim.burn(WEEKEND)
    found = burnsim.outcomes([WEEKEND], engine="plain")
    assert isinstance(found[0], burnsim.Failure)
    assert found[0].setup is WEEKEND
    assert found[0].reason.startswith("more than 4 steps at ")


def failing(real: Callable[..., Any], longest: float) -> Callable[..., Any]:
    """Attempts whose error is no number where a step is longer than this [s]."""

    def attempt(slope: Any, y: Any, f: Any, jac: Any, h: float, mass: Any) -> Any:
        after, error, curve = real(slope, y, f, jac, h, mass)
        return after, error * math.nan if h > longest else error, curve

    return attempt


@pytest.mark.usefixtures("soon")
def test_a_step_whose_error_is_no_number_is_tried_shorter(monkeypatch: pytest.MonkeyPatch) -> None:
    longest = 0.11  # below the first step of a phase
    plain = course()
    monkeypatch.setattr(march_room, "attempt", failing(march_room.attempt, longest))
    found = course()
    lengths = [step.length for phase in found.phases for step in phase.steps]
    assert max(lengths) <= longest
    assert found.rejected > plain.rejected
    assert found.ended == "horizon"
    whole = state_size(1)
    end, wanted = (one.phases[-1].steps[-1].after[:whole] for one in (found, plain))
    assert end == pytest.approx(wanted, rel=1e-3, abs=1e-6)


@pytest.mark.usefixtures("soon")
def test_where_no_step_is_short_enough_the_march_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    """At the first point the slots' speed is at its root already: a second try would be the same."""
    monkeypatch.setattr(march_room, "attempt", failing(march_room.attempt, 0.0))
    with pytest.raises(SolverError, match=r"^no step is short enough at 0 s$"):
        burnsim.burn(WEEKEND)


@pytest.mark.usefixtures("soon")
def test_where_steps_fail_the_speed_in_the_slots_is_set_at_its_root(monkeypatch: pytest.MonkeyPatch) -> None:
    """An accepted step leaves the speed as near to its root as the tolerance asks; the second try begins at it."""
    real = march_room._accepted
    tried: list[tuple[float, Any, float]] = []

    def stumble(problem: Any, flows: Any, y: Any, f: Any, time: float, h: float, idle: Any) -> Any:
        if time > 3.0 and len(tried) < 2:
            tried.append((time, y.copy(), h))
            if len(tried) == 1:
                raise SolverError("no step is short enough")
        return real(problem, flows, y, f, time, h, idle)

    monkeypatch.setattr(march_room, "_accepted", stumble)
    start = ready(WEEKEND)
    found = marched(start, 1e-3)
    (first, before, _), (second, after, length) = tried
    assert found.ended == "horizon"
    assert second == first
    assert length <= march_room.FIRST_STEP
    n = start.parameters.components
    speed = place("slot_speed", n)
    assert after[:speed].tolist() == before[:speed].tolist()
    assert after[speed + 1 :].tolist() == before[speed + 1 :].tolist()
    flows = balances(unpack(before.tolist(), n), Regime(1.0, 0.0, 0.0), start.parameters)
    assert after[speed] != before[speed]
    assert after[speed] == settled(flows, start.parameters).slots.speed


class Watch:
    """One guard over the time, which is the only component of the state."""

    def __init__(self, guard: Callable[[float], float]) -> None:
        self.guard = guard

    def guards(self, y: list[float]) -> tuple[float, ...]:
        return (self.guard(y[0]),)


CLOCK = Step(2.0, 4.0, np.array([2.0]), np.array([6.0]), np.zeros((2, 1)))
"""A step from 2 to 6 s, over which the state is the time."""


@pytest.mark.parametrize("root", [2.0001, 3.3, 5.9])
@pytest.mark.parametrize("shape", [lambda t: t, lambda t: t**3, lambda t: math.copysign(abs(t) ** 0.5, t)])
def test_a_guard_is_located_just_past_its_zero(root: float, shape: Callable[[float], float]) -> None:
    watch = Watch(lambda t: shape(t - root))
    found = locate(watch, CLOCK, 0, 2.0, 6.0, shape(2.0 - root), shape(6.0 - root))  # type: ignore[arg-type]
    assert root <= found <= root + LOCATED


@pytest.mark.parametrize(("steep", "most"), [(1.0, 10), (3.0, 42), (8.0, 42), (30.0, 42)])
@pytest.mark.parametrize("root", [2.3, 4.1, 5.5])
def test_a_guard_is_located_in_few_evaluations(root: float, steep: float, most: int) -> None:
    """Bisection takes 22; what is all but flat on one side of its zero may take 20 more."""
    asked: list[float] = []

    def guard(t: float) -> float:
        asked.append(t)
        return math.expm1(steep * (t - root))

    ends = math.expm1(steep * (2.0 - root)), math.expm1(steep * (6.0 - root))
    found = locate(Watch(guard), CLOCK, 0, 2.0, 6.0, *ends)  # type: ignore[arg-type]
    assert root <= found <= root + LOCATED
    assert len(asked) <= most


@pytest.mark.usefixtures("soon")
def test_the_account_tells_when_something_happened_first() -> None:
    start = ready(WEEKEND)
    found = marched(start, 1e-3)
    seen = account(start.parameters, instants(start.parameters, start.first, found), found)
    assert seen.first_time("lit") == start.spark.time
    assert seen.first_time("boil") is None
    assert len(seen.last) == len(pack(start.first)) + tallies_size(start.parameters.components)


@pytest.mark.usefixtures("soon")
def test_the_water_is_asked_at_any_time_of_the_march() -> None:
    """As the solution inside the steps has it, whether or not a step ends there; nothing after the end."""
    start = ready(WEEKEND)
    p = start.parameters
    found = marched(start, 1e-3)
    steps = [step for phase in found.phases for step in phase.steps]
    within = steps[3].start + 0.3 * steps[3].length
    asked = (0.0, within, within, SOON, SOON + 0.01, 1e6)
    kept = temperatures_at(asked, p, found)
    assert kept[0] == pytest.approx(WEEKEND.pot.water_temperature if WEEKEND.pot else None, abs=1e-9)
    inside = unpack(steps[3].at(within).tolist(), p.components)
    assert kept[1] == kept[2] == pot_temperature(inside.water, inside.pot_heat, p)
    last = unpack(steps[-1].after.tolist(), p.components)
    assert kept[3] == pytest.approx(pot_temperature(last.water, last.pot_heat, p), abs=1e-9)
    assert kept[4:] == (None, None)


@pytest.mark.parametrize(
    "name", ["weekend_double_wall", "workshop_sealed_chamber", "porch_open_well", "garden_open_cup"]
)
def test_sights_of_the_march_are_those_that_its_steps_give(name: str) -> None:
    start = ready(burnsim.load(Path(__file__).parents[2] / "examples" / f"{name}.toml"))
    found = marched(start, 1e-2)
    at = instants(start.parameters, start.first, found)
    taken = account(start.parameters, at, found)
    again = account(start.parameters, at._replace(sights=[None] * len(at.time)), found)
    assert sum(seen is not None for seen in at.sights) > len(at.time) - 10
    assert taken.sights.tolist() == again.sights.tolist()
