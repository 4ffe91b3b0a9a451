"""The compiled march: the same text gives the same numbers, and the same burns as plain Python."""

import dataclasses
import random
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

import burnsim
from burnsim.errors import InputError
from burnsim.model.balances.flows import balances, derivatives
from burnsim.model.balances.state import Regime, pack, tallies_size, unpack
from burnsim.model.description.setup import Setup
from burnsim.solve.compile import engine
from burnsim.solve.compile.layout import layout, packed
from burnsim.solve.compile.specialise import written_out
from burnsim.solve.march import run
from burnsim.solve.run import marched, ready
from burnsim.solve.sizes import rule_of
from burnsim.solve.stepper import ARRAYS
from tests.solve.written_text import python_of

ROOT = Path(__file__).parents[2]
DESIGNS = sorted((ROOT / "examples").glob("*.toml"))
SAME = 1e-9
"""The same operations in the same order give the same numbers to the last bit; so much is left to other processors."""
BY_COMPONENTS = {1: "weekend_double_wall", 2: "porch_open_well", 3: "workshop_sealed_chamber"}


def load(name: str) -> Setup:
    return burnsim.load(ROOT / "examples" / f"{name}.toml")


@pytest.mark.parametrize("components", [1, 2, 3])
def test_the_written_text_gives_the_very_same_slopes(components: int) -> None:
    start = ready(load(BY_COMPONENTS[components]))
    p = start.parameters
    text = python_of(run, components)
    balances_of, slopes = text["model_balances_flows_balances"], text["solve_march_slopes"]
    unpacked, standing = text["model_balances_state_unpack"], text["solve_march_regime_of"]
    rule = rule_of(1e-3, start.first, p, ARRAYS)
    record = np.rec.array(packed(p))[0]
    y = np.array(pack(start.first) + [0.0] * tallies_size(components))
    rates = np.empty(len(y))
    draw = random.Random(7)
    for regime in (Regime(1.0, 0.0, 0.0), Regime(1.0, 1.0, 0.0), Regime(0.0, 1.0, 1.0)):
        for _ in range(3):
            moved = y * np.array([draw.uniform(0.9, 1.1) for _ in y])
            flows = balances_of(unpacked(moved, components), standing(np.array(regime)), record)
            slopes(flows, record, rates, rule)
            plain = derivatives(balances(unpack(moved.tolist(), components), regime, p), p)
            assert rates.tolist() == pytest.approx(plain, rel=1e-13, abs=1e-300)


def test_the_record_holds_every_parameter() -> None:
    p = ready(load("weekend_double_wall")).parameters
    record = packed(p)[0]
    assert layout(p).dtype.names == tuple(field.name for field in dataclasses.fields(p))
    assert record["components"] == 1
    assert record["fuel"]["water_index"] == -1
    assert record["walls"]["rim_capacity"] == p.walls.rim_capacity
    assert record["fuel"]["liquid_heat"].tolist() == [list(row) for row in p.fuel.liquid_heat]


def test_what_cannot_be_compiled_is_named() -> None:
    def strange(x: float) -> float:
        return next(v for v in (x, x) if v > 0.0)

    with pytest.raises(TypeError, match="strange, line"):
        written_out(strange, 1)


def varied(count: int) -> list[Setup]:
    """Designs about the example of one component, so that one compiled march serves them all."""
    base = load("weekend_double_wall")
    draw = random.Random(11)
    made = []
    while len(made) < count:
        try:
            made.append(
                burnsim.vary(
                    base,
                    {
                        "burner.jets.count": draw.randint(14, 36),
                        "burner.jets.diameter": draw.uniform(0.7e-3, 1.3e-3),
                        "charge.volume": draw.uniform(15e-6, 45e-6),
                        "charge.primer": draw.uniform(1e-6, 4e-6),
                        "site.air_temperature": draw.uniform(270.0, 305.0),
                        "pot.rest": draw.choice(["bumps", "stand"]),
                    },
                )
            )
        except InputError:
            continue
    return made


@pytest.fixture(scope="module")
def both() -> list[tuple[burnsim.Outcome, burnsim.Outcome]]:
    setups = varied(12)
    fast = burnsim.burn_many(setups, engine="compiled", water_at=(60.0, 240.0))
    slow = burnsim.burn_many(setups, engine="plain", water_at=(60.0, 240.0))
    pairs = []
    for one, other in zip(fast, slow, strict=True):
        assert isinstance(one, burnsim.Outcome)
        assert isinstance(other, burnsim.Outcome)
        pairs.append((one, other))
    return pairs


def test_compiled_and_plain_burns_agree(both: list[tuple[burnsim.Outcome, burnsim.Outcome]]) -> None:
    for fast, slow in both:
        assert fast.ended == slow.ended
        assert [verdict.code for verdict in fast.verdicts] == [verdict.code for verdict in slow.verdicts]
        for one, other in zip(fast.milestones, slow.milestones, strict=True):
            assert (one.time is None) == (other.time is None)
            if one.time is not None:
                assert one.time == pytest.approx(other.time, rel=SAME)
        for one, other in zip(fast.water_at, slow.water_at, strict=True):
            assert one == (other if other is None else pytest.approx(other, rel=SAME))


def test_compiled_ledgers_close() -> None:
    for found in burnsim.burn_many(varied(12), engine="compiled", rtol=1e-5):
        assert isinstance(found, burnsim.Outcome)
        assert abs(found.mass.residual) < 1e-9
        assert abs(found.energy.residual) < 1e-9


def test_order_of_the_designs_changes_nothing() -> None:
    setups = varied(5)
    forth = burnsim.burn_many(setups, engine="compiled")
    back = burnsim.burn_many(setups[::-1], engine="compiled")[::-1]
    for one, other in zip(forth, back, strict=True):
        assert isinstance(one, burnsim.Outcome)
        assert dataclasses.astuple(one)[1:4] == dataclasses.astuple(other)[1:4]


def test_a_burn_that_never_lights_needs_no_march() -> None:
    setup = burnsim.vary(load("weekend_double_wall"), {"charge.primer": 0.0})
    (result,) = burnsim.burn_many([setup], engine="compiled")
    assert isinstance(result, burnsim.Outcome)
    assert result.ended == "never lit"


def test_choices_are_checked() -> None:
    with pytest.raises(InputError, match="engine"):
        burnsim.burn_many([], engine="fast")  # type: ignore[arg-type]
    with pytest.raises(InputError, match="rise"):
        burnsim.burn_many([], water_at=(2.0, 1.0))
    with pytest.raises(InputError, match="weekend"):
        burnsim.burn_many(["weekend"])


def test_the_account_is_that_of_the_plain_march() -> None:
    start = ready(load("weekend_double_wall"))
    assert start.spark.time is not None
    plain = marched(start, 1e-4).account
    fast = engine.march_compiled(start, 1e-4).account
    assert [moment.name for moment in fast.moments] == [moment.name for moment in plain.moments]
    for one, other in zip(fast.moments, plain.moments, strict=True):
        assert list(one.snapshot) == pytest.approx(list(other.snapshot), rel=SAME)
    assert fast.time == pytest.approx(plain.time, rel=SAME)


def test_a_warm_process_does_not_compile() -> None:
    burnsim.burn_many([load("weekend_double_wall")], engine="compiled")
    code = "import burnsim; burnsim.burn_many([burnsim.load('examples/weekend_double_wall.toml')], engine='compiled')"
    again = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    assert "compiling" not in again.stderr
