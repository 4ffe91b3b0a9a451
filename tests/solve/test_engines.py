"""The choice of engines, and what happens where there is no compiler, no cache folder, or no solution."""

import itertools
import threading
from collections import Counter
from collections.abc import Callable
from pathlib import Path

import pytest

import burnsim
from burnsim.errors import SolverError
from burnsim.model.description.setup import Setup
from burnsim.solve import engines
from burnsim.solve.arguments import ENDS, FAILURES
from burnsim.solve.compile import engine
from burnsim.solve.controller import most_steps
from burnsim.solve.march import NOW
from burnsim.solve.results.outcome import Start
from burnsim.solve.run import ready

WEEKEND = burnsim.load(Path(__file__).parents[2] / "examples" / "weekend_double_wall.toml")
DARK = burnsim.vary(WEEKEND, {"charge.primer": 0.0})
MANY = engines.WORTH_COMPILING


class Compiler:
    """Stands in for the compiler: it counts calls, and may fail."""

    def __init__(self, error: Exception | None = None) -> None:
        self.error = error
        self.made: list[int] = []

    def __call__(self, start: Start, stop: Callable[[], bool] | None = None) -> None:
        if self.error is not None:
            raise self.error
        self.made.append(start.parameters.components)


def cold(monkeypatch: pytest.MonkeyPatch, compiler: Compiler, warm: bool = False) -> None:
    """A process that has compiled nothing, with or without machine code in its cache."""
    monkeypatch.setattr(engine, "at_hand", lambda components: warm or components in compiler.made)
    monkeypatch.setattr(engine, "compile_for", compiler)
    monkeypatch.setattr(engines, "_plain", Counter())


def test_few_burns_take_machine_code_only_where_it_lies_ready(monkeypatch: pytest.MonkeyPatch) -> None:
    compiler = Compiler()
    cold(monkeypatch, compiler)
    assert not engines.compiled("auto", 1)
    assert engines.prepare([WEEKEND], MANY - 1) == "auto"
    assert compiler.made == []
    assert engines.prepare([WEEKEND], MANY) == "compiled"
    assert engines.compiled("auto", 1)
    assert not engines.compiled("auto", 2)
    cold(monkeypatch, Compiler(), warm=True)
    assert engines.compiled("auto", 2)


def test_an_engine_that_is_named_is_taken(monkeypatch: pytest.MonkeyPatch) -> None:
    cold(monkeypatch, Compiler())
    assert engines.compiled("compiled", 1)
    cold(monkeypatch, Compiler(), warm=True)
    assert not engines.compiled("plain", 1)


def test_each_kind_of_fuel_is_compiled_once(monkeypatch: pytest.MonkeyPatch) -> None:
    compiler = Compiler()
    cold(monkeypatch, compiler)
    other = burnsim.vary(WEEKEND, {"charge.fuel": "ethanol 95"})
    assert engines.prepare([WEEKEND, other, WEEKEND], MANY) == "compiled"
    assert compiler.made == [1, 2]
    assert engines.prepare([other], MANY) == "compiled"
    assert compiler.made == [1, 2]


def test_a_burn_that_nothing_lights_compiles_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    compiler = Compiler()
    cold(monkeypatch, compiler)
    assert engines.prepare([DARK], MANY) == "compiled"
    assert compiler.made == []


def test_without_a_compiler_burns_run_plain_with_a_warning(monkeypatch: pytest.MonkeyPatch) -> None:
    cold(monkeypatch, Compiler(OSError("no room on the disk\nat all")))
    with pytest.warns(RuntimeWarning, match=r"cannot be compiled here \(OSError: no room on the disk\); plain Python"):
        assert engines.prepare([WEEKEND], MANY) == "plain"


def test_after_a_few_plain_burns_the_march_is_compiled_behind_their_back(monkeypatch: pytest.MonkeyPatch) -> None:
    compiler = Compiler()
    cold(monkeypatch, compiler)
    start = ready(WEEKEND)
    for _ in range(engines.WORTH_BEHIND - 1):
        engines.burnt_plain(start)
    assert compiler.made == []
    for _ in range(3):
        engines.burnt_plain(start)
    for thread in threading.enumerate():
        if thread.name == "burnsim compiles":
            thread.join()
    assert compiler.made == [1]


def test_what_fails_behind_their_back_disturbs_nobody(monkeypatch: pytest.MonkeyPatch) -> None:
    cold(monkeypatch, Compiler(OSError("no room")))
    engines._compile_behind(ready(WEEKEND))


@pytest.mark.parametrize("code", sorted(FAILURES))
def test_the_compiled_march_says_what_the_plain_one_would(monkeypatch: pytest.MonkeyPatch, code: int) -> None:
    arguments = engine._arguments(ready(WEEKEND), 1e-4, ())
    why = FAILURES[code].format(int(most_steps(1e-4)))

    def fails(address: int) -> int:
        arguments.clock[NOW] = 12.25
        return code

    monkeypatch.setattr(engine, "_arguments", lambda start, rtol, asked, keeps: arguments)
    monkeypatch.setattr(engine, "compiled_run", lambda start: fails)
    with pytest.raises(SolverError, match=f"^{why} at 12.25 s$"):
        engine.march_compiled(ready(WEEKEND), 1e-4)
    (found,) = burnsim.burn_many([WEEKEND], engine="compiled")
    assert isinstance(found, burnsim.Failure)
    assert found.reason == f"{why} at 12.25 s"


def test_every_end_of_the_compiled_march_has_its_words() -> None:
    assert not set(ENDS) & set(FAILURES)
    for one, other in itertools.combinations([*ENDS.values(), *FAILURES.values()], 2):
        assert one != other


def test_nothing_lit_is_no_march() -> None:
    with pytest.raises(SolverError, match="nothing was lit"):
        engine.march_compiled(ready(DARK), 1e-4)


def test_compiling_can_be_left_between_two_steps(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr(engine, "_folder", lambda: tmp_path)  # nobody else compiles there
    monkeypatch.setattr(engine, "_entries", {})
    monkeypatch.setattr(engine, "at_hand", lambda components: False)
    asked: list[int] = []

    def stop() -> bool:
        asked.append(1)
        return len(asked) == 2

    engine.compile_for(ready(WEEKEND), stop)
    assert asked == [1, 1]
    assert engine._entries == {}


def test_what_another_process_has_compiled_meanwhile_is_taken(monkeypatch: pytest.MonkeyPatch) -> None:
    found = iter((False, True))
    monkeypatch.setattr(engine, "at_hand", lambda components: next(found))
    monkeypatch.setattr(engine, "written_out", lambda *given: pytest.fail("compiled a second time"))
    engine.compile_for(ready(WEEKEND))
    assert list(found) == []


def test_many_setups_of_several_fuels_are_held_in_order() -> None:
    setups: list[Setup] = [DARK, burnsim.vary(DARK, {"charge.fuel": "ethanol 95"})]
    found = burnsim.burn_many(setups)
    assert [one.setup for one in found] == setups
    assert [one.ended for one in found if isinstance(one, burnsim.Outcome)] == ["never lit", "never lit"]
